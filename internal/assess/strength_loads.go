package assess

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"

	"gonum.org/v1/gonum/spatial/r3"
)

// caseForce is what a bracket carries in one load case.
type caseForce struct {
	Case  string
	Force r3.Vec // on the bracket, N, vehicle axes
}

// screen works out how much of a strength the load cases use at most.
type screen func(cases []caseForce, at r3.Vec) error

// mountForces returns what the mount of that name puts on its bracket in each
// load case, the powertrain at rest on its springs, and where: its pad; or why
// that is not known.
func (a *Assessment) mountForces(name string) (cases []caseForce, at r3.Vec, why string) {
	s := a.Statics
	i := s.Index(name)
	switch {
	case s.Why != "":
		return nil, at, s.Why
	case s.Partial != "":
		return nil, at, s.Partial
	case i >= 0 && len(s.Mounts[i].Force) > 0:
	case !s.Body.Known:
		return nil, at, s.Body.Why
	default:
		return nil, at, "what the " + finding.Spoken(name) + " mount carries is not worked out"
	}
	cases = make([]caseForce, 0, len(s.Mounts[i].Force))
	for c, f := range s.Mounts[i].Force {
		cases = append(cases, caseForce{s.Cases[c].Name, r3.Scale(-1, f)})
	}
	return cases, s.Mounts[i].At.V, ""
}

// probe returns the part of a strength that other loads would use, and leaves
// the bracket as it was.
func (b *Bracket) probe(u *Use, run screen, cases []caseForce, at r3.Vec) float64 {
	was := b.Strength
	defer func() { b.Strength = was }()
	u.Of = Number{}
	if err := run(cases, at); err != nil {
		return math.Inf(1)
	}
	return u.Of.V
}

// openRates is the part of a strength used with the uncertainty of spring rates
// that are estimates: how the mounts share is open by as much.
func (a *Assessment) openRates(b *Bracket, u *Use, run screen, at r3.Vec) Number {
	s := &a.Statics
	i := s.Index(b.Name)
	if i < 0 || !u.Of.Known {
		return u.Of
	}
	sum := 0.0
	for _, w := range s.Swings {
		most := u.Of.V
		for _, forces := range [][][]r3.Vec{w.Low, w.High} {
			cases := make([]caseForce, len(forces))
			for c := range forces {
				cases[c] = caseForce{s.Cases[c].Name, r3.Scale(-1, forces[c][i])}
			}
			most = max(most, b.probe(u, run, cases, at))
		}
		sum += (most - u.Of.V) * (most - u.Of.V)
	}
	return finding.Spread(u.Of.V, u.Of.V+math.Sqrt(sum))
}

// useInReverse is the part of a strength that a reverse gear of that ratio
// uses, and whether that is past the limit.
func (a *Assessment) useInReverse(b *Bracket, u *Use, run screen, at r3.Vec, ratio float64) (float64, bool) {
	s := &a.Statics
	i := s.Index(b.Name)
	loads, err := a.mounts.ReverseCases(ratio)
	if err != nil || i < 0 {
		return 0, true
	}
	var cases []caseForce
	for _, c := range loads {
		got, err := seat.Settle(s.Body.V, s.Springs, c.Load)
		if err != nil {
			return 0, true // it does not stay up
		}
		cases = append(cases, caseForce{c.Name, r3.Scale(-1, got.Pads[i].Force)})
	}
	v := b.probe(u, run, cases, at)
	return v, v > a.Build.Limit("screening_use").Value
}
