package scene

import (
	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// plates draws the plates of a rail's lengths and splices on it, and where its edge was
// before it was moved out.
func (s *Scene) plates(name string, r project.Rail, side float64) {
	from, to, ok := r.Span()
	h, w := r.Height.Or(0), r.Width.Or(0)
	ends, known := r.Ends()
	if !ok || !known || h <= 0 || w <= 0 {
		return
	}
	p := Part{ID: "rails." + name, Role: RoleRail}
	begin := from
	for i, l := range r.Lengths {
		if t, ok := l.Plate.Get(); ok {
			s.railPlate(p, r, side, l.Plated, [2]float64{begin, ends[i]}, t, l.PlateWide.Or(0))
		}
		if wide, ok := l.Widened.Get(); ok && wide != 0 {
			was := p
			for _, x := range []float64{begin, ends[i]} {
				q := along(r, x)
				q.Y -= side * wide
				was.Line = append(was.Line, q)
			}
			was.Kind = Phantom
			s.add(was)
		}
		begin = ends[i]
	}
	for _, x := range r.Splices {
		at, ok1 := x.At.Get()
		half := x.Length.Or(0) / 2
		if t, ok := x.Plate.Get(); ok && ok1 && half > 0 {
			where := x.Plated
			if where == "" {
				where = project.PlatedOutside
			}
			s.railPlate(p, r, side, where, [2]float64{max(at-half, from), min(at+half, to)}, t, x.PlateWide.Or(0))
		}
	}
}

// along is the place of a rail's edge at a station.
func along(r project.Rail, x float64) r3.Vec {
	points := assess.RailPoints(r)
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if x <= b.X || i == len(points)-1 {
			return r3.Add(a, r3.Scale((x-a.X)/(b.X-a.X), r3.Sub(b, a)))
		}
	}
	return r3.Vec{X: x}
}

// railPlate draws a plate from one station to another. Inside a channel it is not seen.
func (s *Scene) railPlate(p Part, r project.Rail, side float64, where project.Plating, span [2]float64, t, wide float64) {
	h, w := r.Height.V(), r.Width.V()
	faces := map[project.Plating][]project.Plating{
		project.PlatedBoth: {project.PlatedOutside}, project.PlatedTopBottom: {project.PlatedTop, project.PlatedBottom},
	}[where]
	if faces == nil {
		faces = []project.Plating{where}
	}
	for _, face := range faces {
		// From the rail's edge: outward from y to y+t, down from z to z-high.
		var y, z, thick, high float64
		upright := func(at float64) {
			if wide == 0 || wide > h {
				wide = h
			}
			y, thick, z, high = at, t, (h-wide)/2, wide
		}
		flat := func(at float64) {
			if wide == 0 || wide > w {
				wide = w
			}
			y, thick, z, high = (w-wide)/2, wide, at, t
		}
		switch face {
		case project.PlatedOutside:
			upright(w)
		case project.PlatedBoxed:
			upright(-t)
		case project.PlatedTop:
			flat(-t)
		case project.PlatedBottom:
			flat(h)
		default:
			continue
		}
		ring := func(x float64) []r3.Vec {
			q := r3.Add(along(r, x), r3.Vec{Y: side * y, Z: -z})
			out, down := r3.Vec{Y: side * thick}, r3.Vec{Z: -high}
			return []r3.Vec{q, r3.Add(q, out), r3.Add(q, r3.Add(out, down)), r3.Add(q, down)}
		}
		bar, ok := solid.Loft(ring(span[0]), ring(span[1]))
		q := p
		q.Solid = made(bar, ok)
		s.add(q)
	}
}
