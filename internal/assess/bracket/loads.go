package bracket

import (
	"math"

	"fitup/internal/assess/finding"

	"gonum.org/v1/gonum/spatial/r3"
)

// Loads are what the mounts put on their brackets.
type Loads struct {
	Mounts  []MountLoad
	Open    string   // why the cases with torque are not among them, when they are not
	Assumes []string // what all of them rest on

	// InReverse returns what a reverse gear of a ratio puts on the bracket of a
	// mount; false where the powertrain does not stay up. It is asked at many
	// ratios.
	InReverse func(mount string, ratio float64) ([]Case, bool)
	// WithoutReverse turns a verdict on cases that leave reverse out into one that
	// says so; at returns the value at a ratio of reverse, and whether it is past
	// the limit. Nil where reverse is among the cases.
	WithoutReverse func(f *finding.Finding, at func(ratio float64) (v float64, over bool))
}

// MountLoad is what one mount puts on its bracket, the powertrain at rest on
// its springs.
type MountLoad struct {
	Mount string
	Why   string // why it is not known, when it is not
	At    r3.Vec // where: the mount's pad, vehicle axes, mm
	Cases []Case
	// Swings are the same cases with the rates of one mount, which are estimates,
	// at the low and at the high end of what they may be.
	Swings [][2][]Case
}

// Case is what a bracket carries in one load case.
type Case struct {
	Name  string
	Force r3.Vec // on the bracket, N, vehicle axes
}

// of is the load of the mount of that name; false where there is none.
func (l *Loads) of(mount string) (MountLoad, bool) {
	for _, m := range l.Mounts {
		if m.Mount == mount {
			return m, true
		}
	}
	return MountLoad{Mount: mount, Why: "what the " + finding.Spoken(mount) + " mount carries is not worked out"}, false
}

// screen works out how much of a strength the load cases use at most.
type screen func(cases []Case, at r3.Vec) error

// probe returns the part of a strength that other loads would use, and leaves
// the bracket as it was.
func (b *Bracket) probe(u *Use, run screen, cases []Case, at r3.Vec) float64 {
	was := b.Strength
	defer func() { b.Strength = was }()
	u.Of = finding.Number{}
	if err := run(cases, at); err != nil {
		return math.Inf(1)
	}
	return u.Of.V
}

// openRates is the part of a strength used with the uncertainty of spring rates
// that are estimates: how the mounts share is open by as much.
func (b *Bracket) openRates(u *Use, run screen, swings [][2][]Case, at r3.Vec) finding.Number {
	if !u.Of.Known {
		return u.Of
	}
	sum := 0.0
	for _, w := range swings {
		most := u.Of.V
		for _, cases := range w {
			most = max(most, b.probe(u, run, cases, at))
		}
		sum += (most - u.Of.V) * (most - u.Of.V)
	}
	return finding.Spread(u.Of.V, u.Of.V+math.Sqrt(sum))
}

// useInReverse is the part of a strength that a reverse gear of that ratio
// uses, and whether that is past the limit.
func (r *Result) useInReverse(b *Bracket, u *Use, run screen, at r3.Vec, ratio float64) (float64, bool) {
	cases, ok := r.in.Loads.InReverse(b.Name, ratio)
	if !ok {
		return 0, true
	}
	v := b.probe(u, run, cases, at)
	return v, v > r.in.Build.Limit("screening_use").Value
}
