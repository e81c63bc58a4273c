package scene

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
)

// DXF is a drawing for a cutting table: a unit is a mm, each layer is a kind of
// work. It is written as AutoCAD release 12 has it, the widest read (Autodesk,
// DXF Reference, release 12, from memory). Lines have no types: a table follows
// what is there. Its layers are pens.
type DXF struct {
	layers []string
	body   strings.Builder
	box    r2.Box
	any    bool
}

// NewDXF returns a drawing whose layers are those, in that order.
func NewDXF(layers ...string) *DXF { return &DXF{layers: layers} }

// On is the pen of a layer, which is added where it is new. Names of layers are
// capitals and low lines.
func (d *DXF) On(layer string) Pen {
	if !slices.Contains(d.layers, layer) {
		d.layers = append(d.layers, layer)
	}
	return dxfLayer{d, layer}
}

type dxfLayer struct {
	*DXF
	name string
}

func (d *DXF) pair(code int, value string) { fmt.Fprintf(&d.body, "%3d\n%s\n", code, value) }

func (d *DXF) number(code int, v float64) { d.pair(code, dxfNumber(v)) }

func dxfNumber(v float64) string { return fmt.Sprintf("%.6f", v+0) }

func (d *DXF) place(at r2.Vec) {
	d.number(10, at.X)
	d.number(20, at.Y)
	d.number(30, 0)
	d.reach(at, at)
}

func (d *DXF) reach(lo, hi r2.Vec) {
	if !d.any {
		d.box, d.any = r2.Box{Min: lo, Max: hi}, true
		return
	}
	d.box.Min = r2.Vec{X: min(d.box.Min.X, lo.X), Y: min(d.box.Min.Y, lo.Y)}
	d.box.Max = r2.Vec{X: max(d.box.Max.X, hi.X), Y: max(d.box.Max.Y, hi.Y)}
}

// Line draws a run of lines, as one polyline.
func (l dxfLayer) Line(points []r2.Vec, _ Style) { l.run(points, 0) }

// Polygon draws a closed polyline.
func (l dxfLayer) Polygon(points []r2.Vec, _ Style) { l.run(points, 1) }

func (l dxfLayer) run(points []r2.Vec, closed int) {
	if len(points) < 2 || !finite(points...) {
		return
	}
	if len(points) == 2 {
		l.pair(0, "LINE")
		l.pair(8, l.name)
		l.place(points[0])
		l.number(11, points[1].X)
		l.number(21, points[1].Y)
		l.number(31, 0)
		l.reach(points[1], points[1])
		return
	}
	l.pair(0, "POLYLINE")
	l.pair(8, l.name)
	l.pair(66, "1")
	l.number(10, 0)
	l.number(20, 0)
	l.number(30, 0)
	l.pair(70, fmt.Sprint(closed))
	for _, p := range points {
		l.pair(0, "VERTEX")
		l.pair(8, l.name)
		l.place(p)
	}
	l.pair(0, "SEQEND")
	l.pair(8, l.name)
}

// Arc draws a circle, or a part of one; arcs of a DXF run anticlockwise.
func (l dxfLayer) Arc(at r2.Vec, radius float64, from, to float64, _ Style) {
	if !finite(at, r2.Vec{X: radius}, r2.Vec{X: from, Y: to}) {
		return
	}
	kind := "ARC"
	if math.Abs(to-from) >= 2*math.Pi {
		kind = "CIRCLE"
	}
	if to < from {
		from, to = to, from
	}
	radius = math.Abs(radius)
	l.pair(0, kind)
	l.pair(8, l.name)
	l.place(at)
	l.number(40, radius)
	if kind == "ARC" {
		l.number(50, degrees(from))
		l.number(51, degrees(to))
	}
	l.reach(r2.Sub(at, r2.Vec{X: radius, Y: radius}), r2.Add(at, r2.Vec{X: radius, Y: radius}))
}

func degrees(rad float64) float64 {
	d := math.Mod(rad*180/math.Pi, 360)
	if d < 0 {
		d += 360
	}
	return d
}

// Sign draws a ring or a cross.
func (l dxfLayer) Sign(at r2.Vec, s Style) { DrawSign(l, at, s) }

// Text writes a note.
func (l dxfLayer) Text(n Note) {
	if n.Text == "" || !finite(n.At) {
		return
	}
	l.pair(0, "TEXT")
	l.pair(8, l.name)
	l.place(n.At)
	l.number(40, dxfLetters)
	l.pair(1, dxfText(n.Text))
	l.pair(7, "STANDARD")
}

// dxfLetters is the height of capitals, by which a DXF has its letters, mm; a face has
// them by the size of its type.
const dxfLetters = 0.73 * letters

// dxfText spells a text as release 12 can: ASCII with three signs of its own,
// and other signs by their number in Unicode.
func dxfText(text string) string {
	const longest = 250 // signs in a line, of 255 that are allowed
	var b strings.Builder
	for _, r := range strings.ReplaceAll(project.Printable(text), "%%", "% %") {
		s := string(r)
		switch {
		case r == '⌀':
			s = "%%c"
		case r == '±':
			s = "%%p"
		case r == '°':
			s = "%%d"
		case r == '×':
			s = "x"
		case r > 0xFFFF:
			s = "?"
		case r >= 0x7F:
			s = fmt.Sprintf(`\U+%04X`, r)
		}
		if b.Len()+len(s) > longest {
			break
		}
		b.WriteString(s)
	}
	return b.String()
}

// String returns the drawing as a document.
func (d *DXF) String() string {
	body := d.body.String()
	head := &DXF{}
	head.pair(0, "SECTION")
	head.pair(2, "HEADER")
	for _, v := range []struct {
		name  string
		code  int
		value string
	}{{"$ACADVER", 1, "AC1009"}, {"$INSUNITS", 70, "4"}, {"$MEASUREMENT", 70, "1"}} {
		head.pair(9, v.name)
		head.pair(v.code, v.value)
	}
	for i, at := range []r2.Vec{d.box.Min, d.box.Max} {
		head.pair(9, []string{"$EXTMIN", "$EXTMAX"}[i])
		head.number(10, at.X)
		head.number(20, at.Y)
		head.number(30, 0)
	}
	head.pair(0, "ENDSEC")
	head.pair(0, "SECTION")
	head.pair(2, "TABLES")
	head.lineTypes()
	head.pair(0, "TABLE")
	head.pair(2, "LAYER")
	head.pair(70, fmt.Sprint(len(d.layers)+1))
	for i, name := range append([]string{"0"}, d.layers...) {
		head.pair(0, "LAYER")
		head.pair(2, name)
		head.pair(70, "0")
		head.pair(62, fmt.Sprint(7-i%7))
		head.pair(6, "CONTINUOUS")
	}
	head.pair(0, "ENDTAB")
	head.style()
	head.pair(0, "ENDSEC")
	head.pair(0, "SECTION")
	head.pair(2, "ENTITIES")
	return head.body.String() + body + "  0\nENDSEC\n  0\nEOF\n"
}

func (d *DXF) lineTypes() {
	d.pair(0, "TABLE")
	d.pair(2, "LTYPE")
	d.pair(70, "1")
	d.pair(0, "LTYPE")
	d.pair(2, "CONTINUOUS")
	d.pair(70, "0")
	d.pair(3, "Solid line")
	d.pair(72, "65")
	d.pair(73, "0")
	d.number(40, 0)
	d.pair(0, "ENDTAB")
}

func (d *DXF) style() {
	d.pair(0, "TABLE")
	d.pair(2, "STYLE")
	d.pair(70, "1")
	d.pair(0, "STYLE")
	d.pair(2, "STANDARD")
	d.pair(70, "0")
	d.number(40, 0)
	d.number(41, 1)
	d.number(50, 0)
	d.pair(71, "0")
	d.number(42, dxfLetters)
	d.pair(3, "txt")
	d.pair(4, "")
	d.pair(0, "ENDTAB")
}
