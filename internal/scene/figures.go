package scene

import (
	"math"

	"fitup/internal/scene/dimension"
	"fitup/internal/scene/label"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// figures draws the dimensions that are wanted, each where this view shows it as
// long as it is.
func (d *drawing) figures() {
	if d.tiny() {
		return
	}
	for _, x := range d.wanted(d.Lit, d.Watch, d.Sizes) {
		style := Style{Role: RoleDimension, Status: x.Status, Judged: x.Verdict, Lit: !x.Verdict}
		switch {
		case d.Sizes && x.Across && !d.along():
		case x.Angle:
			d.angle(x, style)
		default:
			d.length(x, style)
		}
	}
}

// short is how many dots a dimension has to be long to be drawn with its lines.
const short = 5

// true to nature: how much of its length a dimension has to keep in a view.
const kept = 0.99

func (d *drawing) size() dimension.Size {
	return dimension.Size{Arrow: 1.5 * d.Letter.X, Gap: d.Letter.X / 2, Over: d.Letter.X}
}

// length draws a length: a gap right where it is, another one aside of what it
// measures, where least is drawn.
func (d *drawing) length(x Dimension, s Style) {
	a, b := d.sight.At(x.From), d.sight.At(x.To)
	flat, real := r2.Norm(r2.Sub(b, a)), r3.Norm(r3.Sub(x.To, x.From))
	if !d.inside(r2.Scale(0.5, r2.Add(a, b))) || !x.Gap && flat < kept*real {
		return
	}
	if !x.Gap && flat < short*d.Dot && !(x.Fine && flat > 0) { // its lines would blot what they measure
		if !d.Sizes && !d.tagged(x) {
			d.figure(x, b, b, b, s)
		}
		return
	}
	best, cost := dimension.Line{From: a, To: b}, math.Inf(1)
	for i, aside := range d.asides(x, r2.Sub(b, a)) {
		l := dimension.Line{From: a, To: b, Aside: aside}
		if c := d.cost(l.Draw(d.size())) + i; float64(c) < cost {
			best, cost = l, float64(c)
		}
	}
	d.drawn(x, best.Draw(d.size()), s)
}

// asides are how far aside of what it measures a dimension line may lie, the
// best first.
func (d *drawing) asides(x Dimension, along r2.Vec) []r2.Vec {
	n := r2.Norm(along)
	if x.Gap || n == 0 {
		return []r2.Vec{{}}
	}
	across := r2.Vec{X: -along.Y / n, Y: along.X / n}
	unit := math.Abs(across.X)*3*d.Letter.X + math.Abs(across.Y)*1.5*d.Letter.Y
	var out []r2.Vec
	for _, k := range []float64{1, -1, 2, -2, 3.5, -3.5} {
		out = append(out, r2.Scale(k*unit, across))
	}
	return out
}

// cost is how much a dimension would be drawn over; outside the window it is
// dear.
func (d *drawing) cost(x dimension.Drawn) int {
	if !d.inside(x.Ends[0]) || !d.inside(x.Ends[1]) {
		return 1000
	}
	a, b := x.Ends[0], x.Ends[1]
	n := int(r2.Norm(r2.Sub(b, a))/d.Letter.X) + 1
	c := 0
	for i := 0; i <= n; i++ {
		col, row := d.letter(r2.Add(a, r2.Scale(float64(i)/float64(n), r2.Sub(b, a))))
		if d.sheet.Inked(col, row) {
			c += 2
		}
	}
	return c
}

// drawn draws a dimension with its figure. One that stands outside the window in
// part is drawn all the same: what is seen of it says where it leads.
func (d *drawing) drawn(x Dimension, out dimension.Drawn, s Style) {
	for _, stroke := range out.Strokes {
		d.stroke(stroke, s)
	}
	if x.Gap { // a gap may be too short to be seen
		d.pen.Sign(out.Middle, s)
	}
	d.figure(x, out.Middle, out.Ends[0], out.Ends[1], s)
}

// figure writes the figure of a dimension by the middle of its line.
func (d *drawing) figure(x Dimension, middle, from, to r2.Vec, s Style) {
	col, row := d.letter(middle)
	for _, text := range d.say.Figure(x) {
		n := d.say.Width(text)
		spots := label.Around(col, row, n, 5)
		if math.Abs(to.Y-from.Y) > math.Abs(to.X-from.X) {
			for i := range spots { // beside an upright line rather than over its end
				if spots[i].Row != row {
					spots[i].Cost += 3
				}
			}
		}
		if p, ok := d.sheet.Place(n, n/3, spots); ok {
			d.write(p.Col, p.Row, text, s)
			d.lead(p.Col, p.Row, n, middle, s)
			return
		}
	}
}

// lead draws a line from a figure to what it is of, where it had to be written so far
// away that it might be another's.
func (d *drawing) lead(col, row, n int, to r2.Vec, s Style) {
	c, r := d.letter(to)
	end := min(max(c, col), col+n-1)
	if max(abs(r-row), abs(c-end)/2) < far {
		return
	}
	from := d.middle(end, row)
	switch {
	case r > row:
		from.Y -= 0.6 * d.Letter.Y
	case r < row:
		from.Y += 0.6 * d.Letter.Y
	case c > end:
		from.X += d.Letter.X
	default:
		from.X -= d.Letter.X
	}
	s.Role = RoleLeader
	d.stroke([]r2.Vec{from, to}, s)
}

// far is how many rows a figure is away from what it is of, or twice as many columns, to
// want a line.
const far = 3

func abs(i int) int { return max(i, -i) }

// tagged leaves a dimension that is too short to be drawn to the name of the mark at its
// end, and reports whether there is one that will be written.
func (d *drawing) tagged(x Dimension) bool {
	for i, m := range d.Marks {
		if m.Role == RolePad && m.Label != "" && under(m.ID, d.subject) && d.marks(m) && r3.Norm(r3.Sub(m.At, x.To)) < 1 {
			d.tags = append(d.tags, tag{i, x})
			return true
		}
	}
	return false
}

// tag is a dimension that stands behind the name of a mark.
type tag struct {
	mark int
	of   Dimension
}

// angle draws an angle whose plane is that of the drawing.
func (d *drawing) angle(x Dimension, s Style) {
	way, other := d.sight.At(x.Way), d.sight.At(x.Other)
	apex := d.sight.At(x.From)
	if math.Abs(d.sight.See(x.About).Z) < kept || !d.inside(apex) {
		return
	}
	out := dimension.Angle{Apex: apex, From: math.Atan2(way.Y, way.X), To: math.Atan2(other.Y, other.X), Radius: x.Out}
	for out.Radius > d.Dot && !d.inside(r2.Add(apex, r2.Scale(out.Radius, way))) {
		out.Radius /= 2
	}
	d.drawn(x, out.Draw(d.size()), s)
}
