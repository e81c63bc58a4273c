// Package mount is the powertrain on its mounts: what torque turns it, what
// each mount carries, how far it sinks, rocks and shakes on its isolators, where
// it can stand, and what the swap does to the axles.
package mount

import (
	"errors"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Input is what loads and isolators follow from with the powertrain at one place.
type Input struct {
	Pose finding.Maybe[geom.Pose] // of the powertrain as built, vehicle axes
	// Carried asks for what the mounts carry and how far they give, with the
	// findings. Without it there is only where the powertrain can stand.
	Carried bool
	// Angles are the joint angles of a line, rad, with the powertrain's own frame
	// at a pose in vehicle axes. Without it those with the weight on are left out.
	Angles func(l project.Line, pose geom.Pose) ([]geom.Angle, error)
	// Line is the line whose angles are asked for, Mount the mount whose load is, and
	// then nothing is said of where the powertrain can stand; "" for all.
	Line, Mount string
	// Together asks only for how the powertrain gives on all of them: sag, rock, shaking.
	Together bool
}

// Result is what the mounts carry and how the powertrain stands on them.
type Result struct {
	Statics   Statics
	Isolators Isolators
	Findings  []finding.Finding

	p       *Prepared
	in      Input
	pull    *pull
	shaft   r3.Vec     // along which the drive leaves, of length 1; to the right of a transaxle
	hung    *seat.Hung // the powertrain on its springs, nil when hungErr
	hungErr error
	ends    [][2]*seat.Hung // with the rates of one mount at the ends of what they may be, by Prepared.ends
}

// At works out the loads on the mounts and lets the powertrain down on its
// isolators at one place.
func (p *Prepared) At(in Input) *Result {
	res := &Result{p: p, in: in, pull: &pull{low: 1}}
	res.place()
	res.placeHeld()
	res.hang()
	res.statics()
	if in.Carried && !in.Together && in.Mount == "" {
		res.besideFindings()
	}
	if in.Mount == "" {
		res.isolators()
	}
	return res
}

// place finds pads and centre of mass.
func (res *Result) place() {
	s, pose := &res.Statics, res.in.Pose
	s.Mounts = make([]MountLoads, len(res.p.mounts))
	for i := range s.Mounts {
		m := &res.p.mounts[i]
		l := &s.Mounts[i]
		l.Spec, l.Label = &m.spec, m.label
		switch {
		case !m.spec.At.Known:
			l.At.Why = m.spec.NoPad()
		case !pose.Known:
			l.At.Why = pose.Why
		default:
			l.At.V, l.At.Known = pose.V.Point(m.spec.At.At), true
		}
	}
	t, b := res.p.build.Powertrain, &s.Body
	switch {
	case !t.Mass.Known():
		b.Why = "powertrain.mass is not in the file yet"
	case t.Mass.V() == 0:
		b.Why = "powertrain.mass is 0; it must be more"
	case !t.CentreOfMass.Known:
		b.Why = "powertrain.centre_of_mass is not in the file yet"
	case !pose.Known:
		b.Why = pose.Why
	default:
		b.V, b.Known = seat.Body{Mass: t.Mass.V(), Centre: pose.V.Point(t.CentreOfMass.At)}, true
	}
}

// hang puts the powertrain on its springs, and on those with one mount's rates at
// the ends of what they may be.
func (res *Result) hang() {
	s, p := &res.Statics, res.p
	if !s.Body.Known {
		res.hungErr = errors.New(s.Body.Why)
		return
	}
	for i := range s.Mounts {
		if !s.Mounts[i].At.Known {
			res.hungErr = errors.New(s.Mounts[i].At.Why)
			return
		}
	}
	if p.ratesWhy != "" {
		res.hungErr = errors.New(p.ratesWhy)
		return
	}
	if p.axesErr != nil {
		res.hungErr = p.axesErr
		return
	}
	if res.hung, res.hungErr = res.hangWith(middleRates); res.hungErr != nil {
		return
	}
	res.ends = make([][2]*seat.Hung, len(p.ends))
	for k, e := range p.ends {
		for end, rates := range [2]seat.Rates{e.low, e.high} {
			if res.ends[k][end], res.hungErr = res.hung.With(e.mount, rates); res.hungErr != nil {
				res.hung = nil
				return
			}
		}
	}
}

// pad is where mount i stands, vehicle axes, mm.
func (res *Result) pad(i int) r3.Vec { return res.Statics.Mounts[i].At.V }
