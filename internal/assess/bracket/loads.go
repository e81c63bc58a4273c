package bracket

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"fitup/internal/assess/finding"

	"gonum.org/v1/gonum/spatial/r3"
)

// Loads are what the mounts put on their brackets.
type Loads struct {
	Only   []string // the mounts whose brackets are asked for; nil for all
	Mounts []MountLoad
	// Each does n pieces of work, counted from 0, side by side; nil for one bracket after
	// the other. What is asked below is then asked by several at once.
	Each    func(n int, work func(i int))
	Open    string   // why the cases with torque are not among them, when they are not
	Assumes []string // what all of them rest on

	// InReverse returns what a reverse gear of a ratio puts on the bracket of a
	// mount, with the ends of estimated rates where open says so; false where the
	// powertrain does not stay up. It is asked at many ratios.
	InReverse func(mount string, ratio float64, open bool) (MountLoad, bool)
	// WithoutReverse turns a verdict on cases that leave reverse out into one that
	// says so; at returns the value at a ratio of reverse, with its ± where open says
	// so, and whether it is past the limit. Nil where reverse is among the cases.
	WithoutReverse func(f *finding.Finding, at func(ratio float64, open bool) (v finding.Number, over bool))
}

// MountLoad is what one mount puts on its bracket, the powertrain at rest on
// its springs.
type MountLoad struct {
	Mount string
	Why   string // why it is not known, when it is not
	// Own says that it is nothing of the powertrain's: what it rests on are Assumes alone,
	// and no torque is among it.
	Own     bool
	Assumes []string
	// Fixed says that it acts there and nowhere else, wherever the pad is.
	Fixed bool
	At    r3.Vec // where: the mount's pad, vehicle axes, mm
	Cases []Case
	// Swings are the same cases with the rates of one mount, which are estimates,
	// at the low and at the high end of what they may be.
	Swings [][2][]Case
	Rates  finding.Estimate // of which those are the ends
}

// Case is what a bracket carries in one load case.
type Case struct {
	Name  string
	Force r3.Vec // on the bracket, N, vehicle axes
}

// of is the load of the mount of that name, or why there is none.
func (l *Loads) of(mount string) MountLoad {
	for _, m := range l.Mounts {
		if m.Mount == mount {
			return m
		}
	}
	return MountLoad{Mount: mount, Why: "what the " + finding.Spoken(mount) + " mount carries is not worked out"}
}

// screen holds one strength of a bracket against forces (N, vehicle axes) that
// act at the place it was made for.
type screen struct {
	// used is the part of the strength that a force uses.
	used func(force r3.Vec) (float64, error)
	// keep takes down what is said of the force that governs.
	keep  func(force r3.Vec)
	rests []string // what the figure rests on
	// adds: two forces together use no more than the sum of what each uses alone,
	// and k times a force k times as much, k not negative.
	adds bool
	even bool // a force and its opposite use as much
}

// run finds the largest part of the strength that the cases use, with the
// uncertainty of spring rates that are estimates: how the mounts share is open by
// as much. A case that cannot be the largest is not looked at closely.
func (s *screen) run(u *Use, load *MountLoad) error {
	u.rests = s.rests
	if len(load.Cases) == 0 {
		return errNoCase
	}
	c := cases{screen: s, of: load.Cases, bound: s.bound()}
	worst, err := c.worst()
	if err != nil {
		return err
	}
	of := c.used[worst].most
	u.Case = load.Cases[worst].Name
	s.keep(load.Cases[worst].Force)
	sum := 0.0
	for _, ends := range load.Swings {
		most := of
		for _, end := range ends {
			if most, err = c.moved(end, most); err != nil {
				return err
			}
		}
		sum += (most - of) * (most - of)
	}
	u.Of = load.Rates.Spread(of, of+math.Sqrt(sum))
	return nil
}

// cases are load cases with what each uses of one strength, as closely as it had
// to be known.
type cases struct {
	screen *screen
	of     []Case
	bound  func(force r3.Vec) float64
	used   []useOfCase
}

// useOfCase is what one case uses at most.
type useOfCase struct {
	most  float64
	exact bool // it uses just that
}

// exactly works out what a case uses.
func (c *cases) exactly(i int) (float64, error) {
	if c.used[i].exact {
		return c.used[i].most, nil
	}
	v, err := c.screen.used(c.of[i].Force)
	c.used[i] = useOfCase{v, true}
	return v, err
}

// worst returns the first of the cases that use most.
func (c *cases) worst() (int, error) {
	c.used = make([]useOfCase, len(c.of))
	order := make([]int, len(c.of))
	for i, x := range c.of {
		c.used[i].most, order[i] = c.bound(x.Force), i
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(c.used[k].most, c.used[i].most) })
	worst := -1
	for _, i := range order {
		if worst >= 0 && c.used[i].most < c.used[worst].most {
			break // nor can those after it
		}
		v, err := c.exactly(i)
		if err != nil {
			return 0, err
		}
		if worst < 0 || v > c.used[worst].most || v == c.used[worst].most && i < worst {
			worst = i
		}
	}
	return worst, nil
}

// moved returns the largest use of the same cases with other forces, if it is
// more than most.
func (c *cases) moved(to []Case, most float64) (float64, error) {
	for i, x := range to {
		if i < len(c.of) {
			more := c.bound(r3.Sub(x.Force, c.of[i].Force))
			if slack*c.used[i].most+more < most {
				continue
			}
			if v, err := c.exactly(i); err != nil {
				return 0, err
			} else if slack*v+more < most {
				continue
			}
		}
		v, err := c.screen.used(x.Force)
		if err != nil {
			return 0, err
		}
		most = max(most, v)
	}
	return most, nil
}

// slack is what a search for the worst place may fall short by, and more.
const slack = 1.001

// bound returns the most that a force can use, from what the six directions use;
// without an answer, anything.
func (s *screen) bound() func(force r3.Vec) float64 {
	anything := func(r3.Vec) float64 { return math.Inf(1) }
	if !s.adds {
		return anything
	}
	var per [3][2]float64
	for i, e := range [3]r3.Vec{{X: unitForce}, {Y: unitForce}, {Z: unitForce}} {
		for k, sign := range [2]float64{1, -1} {
			if k == 1 && s.even {
				per[i][1] = per[i][0]
				continue
			}
			v, err := s.used(r3.Scale(sign, e))
			if err != nil {
				return anything
			}
			per[i][k] = slack * v / unitForce
		}
	}
	return func(f r3.Vec) float64 {
		sum := 0.0
		for i, v := range [3]float64{f.X, f.Y, f.Z} {
			sum += max(v*per[i][0], -v*per[i][1])
		}
		return sum
	}
}

// unitForce is the force whose use is asked for in each direction, N: of the size
// of those that act.
const unitForce = 1000

// errNoCase says that nothing was held against a strength.
var errNoCase = errors.New("no load case is worked out")

// useInReverse is the part of a strength that a reverse gear of that ratio
// uses, and whether that is past the limit.
func (r *Result) useInReverse(mount string, s screen, ratio float64, open bool) (finding.Number, bool) {
	load, ok := r.loads.InReverse(mount, ratio, open)
	if !ok || s.used == nil {
		return finding.Missing("the powertrain does not stay up on its mounts"), true
	}
	most := func(cases []Case) (most float64, err error) {
		for _, c := range cases {
			v, err := s.used(c.Force)
			if err != nil {
				return 0, err
			}
			most = max(most, v)
		}
		return most, nil
	}
	of, err := most(load.Cases)
	sum := 0.0
	for _, ends := range load.Swings {
		further := of
		for _, end := range ends {
			if v, wrong := most(end); wrong != nil {
				err = wrong
			} else {
				further = max(further, v)
			}
		}
		sum += (further - of) * (further - of)
	}
	if err != nil {
		return finding.Missing(err.Error()), true
	}
	return load.Rates.Spread(of, of+math.Sqrt(sum)), of > r.ready.use.Value
}
