package clear

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// typed is what the ± typed of a piece's points leaves open of where it is, along
// the axes its points are given in; 0 where none was typed. A piece is taken to
// move as a whole, by the largest ± of any of its points.
type typed struct {
	any bool
	by  [3]uncertain.Number
}

// typedOf adds the ± typed of points to s; what they are of is what. Where the survey
// places points, by is what its errors do to them: of several the one that it is
// least sure of along an axis.
func typedOf(s *uncertain.Sources, what string, by finding.Shifts, points ...project.Point) (out typed) {
	var half [3]float64
	for _, p := range points {
		for k, h := range [3]float64{p.Half.X, p.Half.Y, p.Half.Z} {
			half[k] = max(half[k], h)
		}
	}
	for k, h := range half {
		if h > 0 && s != nil {
			out.any = true
			out.by[k] = finding.EstimateIn(s, "the ± typed of "+what).Within(0, h).Number
		}
	}
	var open [3]uncertain.Number
	for _, p := range points {
		x, y, z := by.Open(p)
		for k, n := range [3]uncertain.Number{x, y, z} {
			if n.U() > open[k].U() {
				open[k], out.any = n, true
			}
		}
	}
	for k := range open {
		out.by[k] = out.by[k].Plus(open[k])
	}
	return out
}

// stands is the powertrain's pieces in places beside the one that counts.
type stands struct {
	typed   []finding.Beside[*clear.Placed] // within the ± typed of where it stands
	shifted [3]*clear.Placed                // by nudge along each vehicle axis
}

// nudge is how far pieces are moved for what a ± of one does, mm.
const nudge = 0.01

// placeBeside puts the pieces where the ± typed can have them.
func (r *room) placeBeside() {
	for _, b := range r.in.Beside {
		r.beside.typed = append(r.beside.typed, finding.Beside[*clear.Placed]{V: r.group.At([]geom.Pose{b.V}), By: b.By})
	}
	if !r.anyTyped {
		return
	}
	for k, d := range [3]r3.Vec{{X: nudge}, {Y: nudge}, {Z: nudge}} {
		p := r.in.Pose.V
		p.At = r3.Add(p.At, d)
		r.beside.shifted[k] = r.group.At([]geom.Pose{p})
	}
}

// opened is the room that n is, with what every ± that was typed leaves open of it.
func (r *room) opened(c *piece, n clear.Near) uncertain.Number {
	var by []uncertain.Weighted
	for _, b := range r.beside.typed {
		by = append(by, b.Slope(n.Gap, b.V.First(&c.solid).Gap))
	}
	own := r.typed[n.Solid]
	if !c.typed.any && !own.any {
		return uncertain.Smooth(n.Gap, by...)
	}
	var g r3.Vec // of the room, by where the powertrain is
	for k, v := range [3]*float64{&g.X, &g.Y, &g.Z} {
		*v = (r.beside.shifted[k].First(&c.solid).Gap - n.Gap) / nudge
	}
	for k, axis := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		by = append(by, uncertain.Weighted{K: -r3.Dot(g, axis), N: c.typed.by[k]},
			uncertain.Weighted{K: r3.Dot(g, r.in.Pose.V.Dir(axis)), N: own.by[k]})
	}
	return uncertain.Smooth(n.Gap, by...)
}
