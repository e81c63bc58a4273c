package scene

import (
	"math"

	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Extent says how much of a scene is meant.
type Extent uint8

// The extents: everything, or what the vehicle does not bring along.
const (
	Whole Extent = iota
	Fitted
)

// Bounds is the smallest rectangle of the drawing that holds what is meant, mm;
// false where that is nothing.
func (s *Scene) Bounds(v view.View, of Extent) (r2.Box, bool) {
	b := empty()
	d := &drawing{Scene: s, Look: Look{View: v}, sight: v.Sight()}
	for i := range s.Parts {
		p := &s.Parts[i]
		if d.shows(p) && !p.Asked && (of == Whole || !p.Role.brought()) {
			b.take(d.sight, p.places()...)
		}
	}
	for _, m := range s.Marks {
		if d.marks(m) && (of == Whole || !m.Role.brought()) {
			b.take(d.sight, m.At)
		}
	}
	return b.Box, b.some()
}

// Selection is the box in vehicle axes round what an id means: the things it
// lights and the dimensions it draws; false where that is nothing.
func (s *Scene) Selection(id string) (r3.Box, bool) {
	id = s.meant(id)
	subject := Subject(id)
	b := r3.Box{Min: r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, Max: r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)}}
	take := func(points ...r3.Vec) {
		for _, p := range points {
			b.Min = r3.Vec{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y), Z: min(b.Min.Z, p.Z)}
			b.Max = r3.Vec{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y), Z: max(b.Max.Z, p.Z)}
		}
	}
	for _, x := range s.Dimensions {
		if about(x.ID, id) {
			take(x.From)
			if !x.Angle {
				take(x.To)
			}
		}
	}
	for i := range s.Parts {
		if p := &s.Parts[i]; under(p.ID, subject) && b.Min.X > b.Max.X {
			take(p.places()...)
		}
	}
	for _, m := range s.Marks {
		if under(m.ID, subject) {
			take(m.At)
		}
	}
	return b, b.Min.X <= b.Max.X
}

// Shown is how many of the dimensions of what an id means a view shows as long as
// they are.
func (s *Scene) Shown(v view.View, id string) int {
	sight, n := v.Sight(), 0
	for _, x := range s.Dimensions {
		d := r3.Sub(x.To, x.From)
		switch {
		case !about(x.ID, id):
		case x.Angle && math.Abs(sight.See(x.About).Z) >= kept, !x.Angle && r2.Norm(sight.At(d)) >= kept*r3.Norm(d):
			n++
		}
	}
	return n
}

// bounds is a rectangle in the making.
type bounds struct{ r2.Box }

func empty() bounds {
	return bounds{r2.Box{Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}}
}

func (b *bounds) take(sight view.Sight, points ...r3.Vec) {
	for _, p := range points {
		q := sight.At(p)
		b.Min = r2.Vec{X: min(b.Min.X, q.X), Y: min(b.Min.Y, q.Y)}
		b.Max = r2.Vec{X: max(b.Max.X, q.X), Y: max(b.Max.Y, q.Y)}
	}
}

func (b *bounds) some() bool { return b.Min.X <= b.Max.X }
