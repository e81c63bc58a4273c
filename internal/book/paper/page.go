// Package paper is what is printed on: pages of strokes and texts in mm, y up,
// with the faces that they are set in, and their writing as PDF and SVG. It
// knows nothing of a build.
package paper

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// Letters is the size of the type of a drawing's texts, mm.
const Letters = 3.0

// Page is a page as it is drawn: what was drawn on it, in turn. It is a
// scene.Pen; its lower left corner is at 0, 0.
type Page struct {
	Wide, High float64 // mm
	Marks      []Bookmark
	Lost       bool // a sign was met that the face does not have
	steps      []step
}

// Bookmark is an entry of the document's outline.
type Bookmark struct {
	Text  string
	Level int
}

// Brush is what a page is painted with: a document's page.
type Brush interface {
	scene.Pen
	// Type writes a text whose first letter's lower left corner is at a place.
	Type(at r2.Vec, text string, size float64, bold bool)
	// Clip leaves out what is drawn outside a box, until Unclip.
	Clip(box r2.Box)
	Unclip()
}

type step struct {
	do   func(Brush)
	text string
}

func (p *Page) add(do func(Brush), format string, args ...any) {
	p.steps = append(p.steps, step{do, fmt.Sprintf(format, args...)})
}

// Line draws a run of lines.
func (p *Page) Line(points []r2.Vec, s scene.Style) {
	if len(points) > 1 && finite(points...) {
		p.add(func(b Brush) { b.Line(points, s) }, "line%s %s", look(s), places(points))
	}
}

// Polygon draws a closed run of lines.
func (p *Page) Polygon(points []r2.Vec, s scene.Style) {
	if len(points) > 1 && finite(points...) {
		p.add(func(b Brush) { b.Polygon(points, s) }, "polygon%s %s", look(s), places(points))
	}
}

// Arc draws a circle, or a part of one.
func (p *Page) Arc(at r2.Vec, radius float64, from, to float64, s scene.Style) {
	if finite(at, r2.Vec{X: radius}, r2.Vec{X: from, Y: to}) {
		p.add(func(b Brush) { b.Arc(at, radius, from, to, s) }, "arc%s %s %.2f %.3f %.3f", look(s), places([]r2.Vec{at}), radius, from, to)
	}
}

// Sign draws a joint's ring, or a cross.
func (p *Page) Sign(at r2.Vec, s scene.Style) {
	if finite(at) {
		p.add(func(b Brush) { b.Sign(at, s) }, "sign%s %s", look(s), places([]r2.Vec{at}))
	}
}

// Text writes a note in the letters of a drawing.
func (p *Page) Text(n scene.Note) {
	if !n.Clear {
		p.Type(n.At, n.Text, Letters, false)
		return
	}
	if n.Text == "" || !finite(n.At) {
		return
	}
	var lost bool
	n.Text, lost = Regular().Settle(n.Text)
	p.Lost = p.Lost || lost
	p.add(func(b Brush) { b.Text(n) }, "note %s %q", places([]r2.Vec{n.At}), n.Text)
}

// Type writes a text in letters of a size, mm.
func (p *Page) Type(at r2.Vec, text string, size float64, bold bool) {
	if text == "" || !finite(at) {
		return
	}
	text, lost := Regular().Settle(text)
	p.Lost = p.Lost || lost
	weight := ""
	if bold {
		weight = " bold"
	}
	p.add(func(b Brush) { b.Type(at, text, size, bold) }, "type%s %.1f %s %q", weight, size, places([]r2.Vec{at}), text)
}

// Clip leaves out what is drawn outside a box, until Unclip.
func (p *Page) Clip(box r2.Box) {
	p.add(func(b Brush) { b.Clip(box) }, "clip %s", places([]r2.Vec{box.Min, box.Max}))
}

// Unclip ends Clip.
func (p *Page) Unclip() { p.add(func(b Brush) { b.Unclip() }, "unclip") }

// Play draws the page once more, with a brush.
func (p *Page) Play(b Brush) {
	for _, s := range p.steps {
		s.do(b)
	}
}

// String is what was drawn, a line each.
func (p *Page) String() string {
	var out strings.Builder
	fmt.Fprintf(&out, "page %g by %g\n", p.Wide, p.High)
	for _, s := range p.steps {
		out.WriteString(s.text + "\n")
	}
	return out.String()
}

// SVG is the page as a drawing of its own, true to size.
func (p *Page) SVG() string {
	svg := scene.NewSVG(r2.Box{Max: r2.Vec{X: p.Wide, Y: p.High}})
	p.Play(svg)
	return svg.String()
}

func look(s scene.Style) string {
	out := ""
	if w := scene.LineWidth(s.Role); w != scene.ThinLine {
		out += fmt.Sprintf(" %g", w)
	}
	if d := scene.Dash(s.Kind); d != nil {
		out += fmt.Sprint(" ", d)
	}
	return out
}

func places(points []r2.Vec) string {
	var out []string
	for _, q := range points {
		out = append(out, fmt.Sprintf("%.2f,%.2f", q.X+0, q.Y+0))
	}
	return strings.Join(out, " ")
}

func finite(points ...r2.Vec) bool {
	for _, q := range points {
		if v := q.X + q.Y; math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
