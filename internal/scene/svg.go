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
	clips        int
}

// NewSVG returns a pen for the page given, in the mm of the drawing.
func NewSVG(page r2.Box) *SVG { return &SVG{page: page} }

// Sizes on paper, mm.
const (
	letters = 3.0 // height of the type
	// ThinLine is the width of whatever is not to stand out.
	ThinLine = 0.2
	signSize = 1.0 // arms of a cross, radius of a joint's ring
)

// lineWidths are those of what is to stand out, mm.
var lineWidths = map[Role]float64{RoleBody: 0.35, RoleLeg: 0.35, RoleShaft: 0.35}

// dashes are strokes and gaps of the types of line, mm; half of those of ISO
// 128-2 (from memory), for drawings as small as these.
var dashes = map[Kind][]float64{Dashed: {2, 1}, Chain: {6, 0.75, 0.5, 0.75}, Phantom: {6, 0.75, 0.5, 0.75, 0.5, 0.75}}

// LineWidth is how wide the lines of a role are on paper, mm.
func LineWidth(r Role) float64 {
	if w, ok := lineWidths[r]; ok {
		return w
	}
	return ThinLine
}

// Dash is the strokes and gaps of a type of line on paper, mm in turn; nil for
// an unbroken one. It is not to be changed.
func Dash(k Kind) []float64 { return dashes[k] }

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
func (p *SVG) Sign(at r2.Vec, s Style) { DrawSign(p, at, s) }

// DrawSign draws a sign as paper has it: a joint's ring, or a cross.
func DrawSign(p Pen, at r2.Vec, s Style) {
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
	broken := ""
	if n.Clear {
		broken = ` paint-order="stroke" stroke="white" stroke-width="1"`
	}
	fmt.Fprintf(&p.texts, "<text x=\"%.3f\" y=\"%.3f\"%s>%s</text>\n", p.x(n.At), p.y(n.At), broken, escape.Replace(project.Printable(n.Text)))
}

// Type writes a text in letters of a size, mm.
func (p *SVG) Type(at r2.Vec, text string, size float64, bold bool) {
	if text == "" || !finite(at) {
		return
	}
	weight := ""
	if bold {
		weight = ` font-weight="bold"`
	}
	fmt.Fprintf(&p.texts, "<text x=\"%.3f\" y=\"%.3f\" font-size=\"%g\"%s>%s</text>\n", p.x(at), p.y(at), size, weight, escape.Replace(project.Printable(text)))
}

// Clip leaves out lines outside a box, until Unclip.
func (p *SVG) Clip(box r2.Box) {
	p.clips++
	size := r2.Sub(box.Max, box.Min)
	fmt.Fprintf(&p.lines, "<clipPath id=\"clip%d\"><rect x=\"%.3f\" y=\"%.3f\" width=\"%.3f\" height=\"%.3f\"/></clipPath>\n<g clip-path=\"url(#clip%d)\">\n",
		p.clips, box.Min.X-p.page.Min.X, p.page.Max.Y-box.Max.Y, size.X, size.Y, p.clips)
}

// Unclip ends Clip.
func (p *SVG) Unclip() { p.lines.WriteString("</g>\n") }

// String returns the drawing as a document.
func (p *SVG) String() string {
	size := r2.Sub(p.page.Max, p.page.Min)
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%.3fmm" height="%.3fmm" viewBox="0 0 %.3f %.3f">
<g fill="none" stroke="black" stroke-width="%g">
%s</g>
<g font-family="sans-serif" font-size="%g">
%s</g>
</svg>
`, size.X, size.Y, size.X, size.Y, ThinLine, p.lines.String(), letters, p.texts.String())
}

func (p *SVG) x(at r2.Vec) float64 { return at.X - p.page.Min.X }
func (p *SVG) y(at r2.Vec) float64 { return p.page.Max.Y - at.Y }

// look is how a line differs from the thin one.
func look(s Style) string {
	out := ""
	if w, ok := lineWidths[s.Role]; ok {
		out += fmt.Sprintf(` stroke-width="%g"`, w)
	}
	if dash := dashes[s.Kind]; dash != nil {
		out += ` stroke-dasharray="` + strings.Trim(fmt.Sprint(dash), "[]") + `"`
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
