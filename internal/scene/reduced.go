package scene

import "gonum.org/v1/gonum/spatial/r2"

// Reduced is a pen that draws smaller by a factor, such as 0.05 for 1:20, with
// places moved by To afterwards, mm of the page. Signs and letters keep their
// size.
type Reduced struct {
	Pen Pen
	By  float64
	To  r2.Vec
}

func (p Reduced) at(q r2.Vec) r2.Vec { return r2.Add(r2.Scale(p.By, q), p.To) }

func (p Reduced) all(points []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(points))
	for i, q := range points {
		out[i] = p.at(q)
	}
	return out
}

// Line draws a run of lines.
func (p Reduced) Line(points []r2.Vec, s Style) { p.Pen.Line(p.all(points), s) }

// Polygon draws a closed run of lines.
func (p Reduced) Polygon(points []r2.Vec, s Style) { p.Pen.Polygon(p.all(points), s) }

// Arc draws a circle, or a part of one.
func (p Reduced) Arc(at r2.Vec, radius float64, from, to float64, s Style) {
	p.Pen.Arc(p.at(at), p.By*radius, from, to, s)
}

// Sign marks a point.
func (p Reduced) Sign(at r2.Vec, s Style) { p.Pen.Sign(p.at(at), s) }

// Text writes a note.
func (p Reduced) Text(n Note) {
	n.At = p.at(n.At)
	p.Pen.Text(n)
}
