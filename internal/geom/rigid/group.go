package rigid

import (
	"slices"

	"fitup/internal/geom"
	"fitup/internal/geom/tape"

	"gonum.org/v1/gonum/spatial/r3"
)

// Part is one of several things that were measured together: a rigid body of six unknowns,
// or a point, which has a place and does not turn: three.
type Part struct {
	Reference r3.Vec // own frame, mm; of a point 0
	Start     geom.Pose
	Point     bool
}

// Group is several bodies and points, with what was measured between them and the vehicle,
// and between each other. The unknowns are those of its parts, one after the other.
type Group struct {
	Parts    []Part
	Measures []Measure
}

// First is the first unknown of a part; of one behind the last how many there are.
func (g *Group) First(part int) int {
	n := 0
	for _, p := range g.Parts[:part] {
		n += p.unknowns()
	}
	return n
}

func (p *Part) unknowns() int {
	if p.Point {
		return Heading
	}
	return Unknowns
}

// Poses are those of its parts by the unknowns x.
func (g *Group) Poses(x []float64) []geom.Pose {
	out := make([]geom.Pose, len(g.Parts))
	for i := range g.Parts {
		p := &g.Parts[i]
		if p.Point {
			out[i] = geom.Identity()
			out[i].At = r3.Vec{X: x[Back], Y: x[Right], Z: x[Up]}
		} else {
			out[i] = Body{Reference: p.Reference}.pose(x)
		}
		x = x[p.unknowns():]
	}
	return out
}

// Problem is the group ready to be fitted, from where its parts start.
func (g *Group) Problem() tape.Problem {
	var p tape.Problem
	for i := range g.Parts {
		of := &g.Parts[i]
		p.Start = append(p.Start, Body{Reference: of.Reference}.At(of.Start)[:of.unknowns()]...)
	}
	for i := range g.Measures {
		p.Observations = append(p.Observations, g.Observe(&g.Measures[i]))
	}
	return p
}

// Observe is a measurement as an observation of the group's unknowns.
func (g *Group) Observe(m *Measure) tape.Observation {
	return tape.Observation{Name: m.Name, Value: m.Value, Sigma: m.Sigma, Of: among{g, m}}
}

// SteppedAll are the poses of all parts with one of the unknowns a step more, and as much
// less.
type SteppedAll struct {
	More, Less []geom.Pose
	Step       float64 // mm or rad
}

// Steps are those of each of the unknowns at x, in their order.
func (g *Group) Steps(x []float64) []SteppedAll {
	x = slices.Clone(x[:g.First(len(g.Parts))])
	out := make([]SteppedAll, 0, len(x))
	for i := range g.Parts {
		for u := range g.Parts[i].unknowns() {
			at, step := len(out), 1e-3
			if u >= Heading {
				step = 1e-6
			}
			was := x[at]
			s := SteppedAll{Step: step}
			x[at] = was + step
			s.More = g.Poses(x)
			x[at] = was - step
			s.Less = g.Poses(x)
			x[at] = was
			out = append(out, s)
		}
	}
	return out
}

// Turns reports whether an unknown is an angle, and no place.
func (g *Group) Turns(unknown int) bool {
	for i := range g.Parts {
		n := g.Parts[i].unknowns()
		if unknown < n {
			return unknown >= Heading
		}
		unknown -= n
	}
	return false
}

// among is what a measurement would show of a group.
type among struct {
	g *Group
	m *Measure
}

// At implements tape.Function.
func (s among) At(x []float64) float64 { return s.m.Shown(s.g.Poses(x)...) }

// Partials implements tape.Function.
func (s among) Partials(x []float64, add func(unknown int, d float64)) {
	poses := s.g.Poses(x)
	reference := func(part int) r3.Vec { return s.g.Parts[part].Reference }
	s.m.partials(poses, reference, func(part, u int, d float64) {
		if u < s.g.Parts[part].unknowns() { // a point does not turn
			add(s.g.First(part)+u, d)
		}
	})
}
