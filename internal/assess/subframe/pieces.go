package subframe

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pieces are the pieces of all subframes as pieces of the vehicle: where they hang,
// once every corner is where it is to be; until then where they are to be, give or
// take what a corner may be off. A box that leans is taken as the box around it. One
// without a place comes without one, so that the room to it is not known.
func (r *Result) Pieces() []project.ChassisPart {
	var out []project.ChassisPart
	for _, s := range r.Each {
		pose, half, named := s.settled()
		for i, p := range s.spec.Parts {
			c := project.ChassisPart{Name: finding.NameOr(p.Name, s.called()+" part", i), Gap: p.Gap, Radius: p.Radius, Of: project.OfSubframe}
			if pose.Known {
				c.Name += named
				place(&c, p, pose.V, half)
			}
			out = append(out, c)
		}
	}
	return out
}

// settled is the pose that its pieces are judged in, how far they may be off it on
// every axis, and what is said of that behind their names.
func (s *Subframe) settled() (pose finding.Maybe[geom.Pose], half float64, named string) {
	there := s.Pose.Known && s.Set.Known
	reach := 0.0
	for _, p := range s.Points {
		if p.Corner {
			there = there && s.cornerFinding(p).Status == finding.OK
		}
		for _, m := range p.Now {
			reach = max(reach, m.Expanded())
		}
	}
	switch {
	case there:
		return s.Pose, reach, ""
	case s.Set.Known:
		return s.Set, s.build.Limit("subframe_corner").Value, ", where it is to be"
	}
	return s.Pose, reach, ", as it hangs"
}

// place puts a piece into the vehicle.
func place(c *project.ChassisPart, p project.SubframePart, pose geom.Pose, half float64) {
	put := func(q project.Point) project.Point {
		if !q.Known {
			return project.Point{}
		}
		own := max(q.Half.X, q.Half.Y, q.Half.Z) + half
		return project.Point{At: pose.Point(q.At), Known: true, Half: r3.Vec{X: own, Y: own, Z: own}}
	}
	c.From, c.To, c.At = put(p.From), put(p.To), put(p.At)
	if !p.From.Known || !p.To.Known || p.Radius.Known() {
		return
	}
	a, b := p.From.At, p.To.At
	low, high := c.From.At, c.From.At
	for corner := range 8 {
		own := a
		for k, v := range []*float64{&own.X, &own.Y, &own.Z} {
			if corner>>k&1 == 1 {
				*v = [3]float64{b.X, b.Y, b.Z}[k]
			}
		}
		at := pose.Point(own)
		low = r3.Vec{X: min(low.X, at.X), Y: min(low.Y, at.Y), Z: min(low.Z, at.Z)}
		high = r3.Vec{X: max(high.X, at.X), Y: max(high.Y, at.Y), Z: max(high.Z, at.Z)}
	}
	c.From.At, c.To.At = low, high
}
