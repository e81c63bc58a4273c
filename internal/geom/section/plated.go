package section

import (
	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// Plate is a flat plate on a rail, mm. Size is how wide it is, seen along the rail;
// zero is as wide as what it lies on. No thickness is no plate.
type Plate struct{ T, Size float64 }

// Plated is a rail of a channel, a box or an angle with plates welded all round, so
// that they act with it. As seen along it with its web on the left: Outside lies on
// the back of the web, Inside on the web between the flanges, Boxed closes the open
// side over the tips of the flanges, Top and Bottom lie on the flanges. All are
// centred on what they lie on.
type Plated struct {
	Shape
	Outside, Inside, Boxed, Top, Bottom Plate
}

// Bare reports whether it has no plate.
func (p Plated) Bare() bool {
	return p.Outside.T == 0 && p.Inside.T == 0 && p.Boxed.T == 0 && p.Top.T == 0 && p.Bottom.T == 0
}

// Built puts shape and plates together. Fails where a plate does not fit what it is to
// lie on.
func (p Plated) Built() (Built, error) {
	if p.Bare() {
		return p.Shape.Built()
	}
	return p.outlined() // J by its walls: no formula of a standard is for this
}

// Check reports what Built would fail with, and works out no figure.
func (p Plated) Check() error {
	_, err := p.outlined()
	return err
}

// outlined is Built without the J of a bare shape.
func (p Plated) outlined() (Built, error) {
	b, err := p.Shape.outlined()
	if err != nil || p.Bare() {
		return b, err
	}
	if p.Kind != Channel && p.Kind != RectTube {
		return b, b.bad("plates are put on a channel or a box tube, not on a %s", p.Kind)
	}
	left, flange := p.T, p.Flange
	if p.Kind == RectTube {
		left, _, _ = p.wall()
		flange = left
	}
	mid := r2.Vec{X: p.B / 2, Y: p.H / 2}
	for _, at := range []struct {
		what   string
		plate  Plate
		full   float64 // as wide as it may be
		upside bool    // stands upright
		edge   float64 // where its face lies on what it is on
		way    float64 // which way it is from there
		wall   int     // the wall that it thickens; -1 closes the open side
	}{
		{"plate outside", p.Outside, p.H, true, 0, -1, 0},
		{"plate inside", p.Inside, p.H - 2*(flange+p.corner()), true, left, 1, 0},
		{"plate over the open side", p.Boxed, p.H, true, p.B, 1, -1},
		{"plate on top", p.Top, p.B, false, p.H, 1, 2},
		{"plate underneath", p.Bottom, p.B, false, 0, -1, 1},
	} {
		if at.plate.T == 0 {
			continue
		}
		if p.Kind == RectTube {
			if at.what == "plate inside" || at.wall < 0 {
				return b, b.bad("a box tube takes no %s", at.what)
			}
			at.wall = [3]int{0, 3, 1}[at.wall] // left, bottom, top of a tube's walls
		}
		size := at.plate.Size
		if size == 0 {
			size = at.full
		}
		if !geom.LengthOK(at.plate.T) || !(size > 0 && size <= at.full+1e-9) {
			return b, b.bad("a %s of %g by %g mm does not fit; it lies on %g mm", at.what, size, at.plate.T, at.full)
		}
		if at.wall < 0 && size < p.H-2*flange-1e-9 {
			return b, b.bad("a %s of %g mm does not reach from flange to flange; want %g mm at least", at.what, size, p.H-2*flange)
		}
		a, z := at.edge, at.edge+at.way*at.plate.T
		if a > z {
			a, z = z, a
		}
		lo, hi := r2.Vec{X: mid.X - size/2, Y: a}, r2.Vec{X: mid.X + size/2, Y: z}
		if at.upside {
			lo, hi = r2.Vec{X: a, Y: mid.Y - size/2}, r2.Vec{X: z, Y: mid.Y + size/2}
		}
		b.Regions = append(b.Regions, Region{Outer: rounded(lo, hi, 0)})
		if at.wall < 0 {
			b.closeTips(p.Shape, at.plate.T)
			continue
		}
		b.thicken(at.wall, at.plate.T, lo, hi)
	}
	return b, nil
}

// corner is the radius between web and flange, which a plate inside does not cover.
func (s Shape) corner() float64 { return max(s.Root, s.InnerRadius) }

// closeTips puts a wall over the tips of a channel's flanges, which reach to its
// middle line.
func (b *Built) closeTips(s Shape, t float64) {
	x := s.B + t/2
	b.Walls[1].B.X, b.Walls[2].B.X = x, x
	b.Walls = append(b.Walls, Wall{b.Walls[1].B, b.Walls[2].B, t})
}

// thicken makes a wall thicker by t where it lies between two places. Its middle line
// stays: the half of a plate's thickness that it moves is not counted.
func (b *Built) thicken(i int, t float64, lo, hi r2.Vec) {
	var out []Wall
	add := func(from, to r2.Vec, t float64) {
		if r2.Norm(r2.Sub(to, from)) > together {
			out = append(out, Wall{from, to, t})
		}
	}
	w := b.Walls[i]
	l := w.length()
	d := r2.Scale(1/l, r2.Sub(w.B, w.A))
	along := func(p r2.Vec) float64 { return min(max(r2.Dot(r2.Sub(p, w.A), d), 0), l) }
	from, to := along(lo), along(hi)
	if from > to {
		from, to = to, from
	}
	place := func(s float64) r2.Vec { return r2.Add(w.A, r2.Scale(s, d)) }
	switch {
	case from < together && to > l-together:
		b.Walls[i].T += t
		return
	case from < together:
		from = 0
	case to > l-together:
		to = l
	}
	if from > 0 {
		add(w.A, place(from), w.T)
	}
	start := w.A
	if from > 0 {
		start = place(from)
	}
	end := w.B
	if to < l {
		end = place(to)
	}
	add(start, end, w.T+t)
	if to < l {
		add(end, w.B, w.T)
	}
	// The first piece takes its place, so that the walls of the shape keep theirs.
	b.Walls[i] = out[0]
	b.Walls = append(b.Walls, out[1:]...)
}
