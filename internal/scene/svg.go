package scene

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
)

// SVG is a pen for paper: a mm of the drawing is a mm of the page when it is
// printed at 100 % (W3C, Scalable Vector Graphics 1.1). Lines are black; what
// is no number is left out.
type SVG struct {
	page         r2.Box
	lines, texts strings.Builder
}

// NewSVG returns a pen for the page given, in the mm of the drawing.
func NewSVG(page r2.Box) *SVG { return &SVG{page: page} }

// Sizes on paper, mm.
const (
	letters  = 3.0 // height of the type
	thinLine = 0.2
	signSize = 1.0 // arms of a cross, radius of a joint's ring
)

// lineWidths are those of what is to stand out, mm.
var lineWidths = map[Role]float64{RoleBody: 0.35, RoleLeg: 0.35, RoleShaft: 0.35}

// dashes are strokes and gaps of the types of line, mm; half of those of ISO
// 128-2 (from memory), for drawings as small as these.
var dashes = map[Kind]string{Dashed: "2 1", Chain: "6 0.75 0.5 0.75", Phantom: "6 0.75 0.5 0.75 0.5 0.75"}

// Line draws a run of lines.
func (p *SVG) Line(points []r2.Vec, s Style) { p.path(points, "", s) }

// Polygon draws a closed run of lines.
func (p *SVG) Polygon(points []r2.Vec, s Style) { p.path(points, " Z", s) }

func (p *SVG) path(points []r2.Vec, end string, s Style) {
	if len(points) < 2 || !finite(points...) {
		return
	}
	var d strings.Builder
	for i, at := range points {
		sep := " L"
		if i == 0 {
			sep = "M"
		}
		fmt.Fprintf(&d, "%s%.3f %.3f", sep, p.x(at), p.y(at))
	}
	fmt.Fprintf(&p.lines, "<path d=\"%s%s\"%s/>\n", d.String(), end, look(s))
}

// Arc draws a circle, or a part of one.
func (p *SVG) Arc(at r2.Vec, radius float64, from, to float64, s Style) {
	if !finite(at, r2.Vec{X: radius}, r2.Vec{X: from, Y: to}) {
		return
	}
	if to-from >= 2*math.Pi {
		fmt.Fprintf(&p.lines, "<circle cx=\"%.3f\" cy=\"%.3f\" r=\"%.3f\"%s/>\n", p.x(at), p.y(at), math.Abs(radius), look(s))
		return
	}
	on := func(a float64) r2.Vec {
		sin, cos := math.Sincos(a)
		return r2.Add(at, r2.Vec{X: radius * cos, Y: radius * sin})
	}
	long, sweep := 0, 0 // y runs down on the page, so anticlockwise is a sweep of 0
	if math.Abs(to-from) > math.Pi {
		long = 1
	}
	if to < from {
		sweep = 1
	}
	a, b := on(from), on(to)
	fmt.Fprintf(&p.lines, "<path d=\"M%.3f %.3f A%.3f %.3f 0 %d %d %.3f %.3f\"%s/>\n",
		p.x(a), p.y(a), math.Abs(radius), math.Abs(radius), long, sweep, p.x(b), p.y(b), look(s))
}

// Sign draws a joint's ring, or a cross.
func (p *SVG) Sign(at r2.Vec, s Style) {
	s.Kind = Continuous
	if s.Role == RoleJoint {
		p.Arc(at, signSize, 0, 2*math.Pi, s)
		return
	}
	p.Line([]r2.Vec{{X: at.X - signSize, Y: at.Y}, {X: at.X + signSize, Y: at.Y}}, s)
	p.Line([]r2.Vec{{X: at.X, Y: at.Y - signSize}, {X: at.X, Y: at.Y + signSize}}, s)
}

// Text writes a note.
func (p *SVG) Text(n Note) {
	if n.Text == "" || !finite(n.At) {
		return
	}
	fmt.Fprintf(&p.texts, "<text x=\"%.3f\" y=\"%.3f\">%s</text>\n", p.x(n.At), p.y(n.At), escape.Replace(project.Printable(n.Text)))
}

// String returns the drawing as a document.
func (p *SVG) String() string {
	size := r2.Sub(p.page.Max, p.page.Min)
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%.3fmm" height="%.3fmm" viewBox="0 0 %.3f %.3f">
<g fill="none" stroke="black" stroke-width="%g">
%s</g>
<g font-family="sans-serif" font-size="%g">
%s</g>
</svg>
`, size.X, size.Y, size.X, size.Y, thinLine, p.lines.String(), letters, p.texts.String())
}

func (p *SVG) x(at r2.Vec) float64 { return at.X - p.page.Min.X }
func (p *SVG) y(at r2.Vec) float64 { return p.page.Max.Y - at.Y }

// look is how a line differs from the thin one.
func look(s Style) string {
	out := ""
	if w, ok := lineWidths[s.Role]; ok {
		out += fmt.Sprintf(` stroke-width="%g"`, w)
	}
	if dash := dashes[s.Kind]; dash != "" {
		out += ` stroke-dasharray="` + dash + `"`
	}
	return out
}

var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

func finite(points ...r2.Vec) bool {
	for _, p := range points {
		if v := p.X + p.Y; math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
