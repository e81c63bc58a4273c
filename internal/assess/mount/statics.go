package mount

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Statics are the loads on the mounts: those of the powertrain come to rest on
// its springs in each case. Where the springs are not all known, only what
// three mounts carry upward at rest is. They are empty when the file says
// nothing of the powertrain's weight.
type Statics struct {
	Body    finding.Maybe[seat.Body]
	Mounts  []MountLoads
	Cases   []LoadCase // at rest first; it alone when Partial says why
	Basis   string     // what settled how the mounts share, in a sentence
	Why     string     // why no load is worked out, when none is
	Partial string     // why only the upward loads at rest are, when only they are
	DriveTorque

	Springs []seat.Isolator // what they rest on; nil when Partial
	Swings  []Swing         // one for each mount whose rates are open
}

// Index is the place of the mount of that name in Mounts, -1 for none.
func (s *Statics) Index(name string) int {
	for i, m := range s.Mounts {
		if m.Spec.Name == name {
			return i
		}
	}
	return -1
}

// MountLoads is what one mount carries.
type MountLoads struct {
	Spec  project.Mount
	Label string                // left front
	At    finding.Maybe[r3.Vec] // its pad, vehicle axes
	// Force is what the mount does to the powertrain in each case, N, vehicle
	// axes; Z is the weight it carries, negative where it is pulled up. Of a
	// partial answer only Z is known.
	Force []r3.Vec
	Least int // the case in which it carries least
	Most  int // and most
}

// statics works out what the mounts carry. It says nothing before the file
// gives the powertrain's mass or where it balances.
func (res *Result) statics() {
	s := &res.Statics
	p := res.in.Build.Powertrain
	for _, m := range res.in.Build.CarryingMounts() {
		l := MountLoads{Spec: m, Label: finding.Spoken(m.Name)}
		switch {
		case !m.At.Known:
			l.At.Why = m.PadPath() + " is not in the file yet"
		case !res.in.Pose.Known:
			l.At.Why = res.in.Pose.Why
		default:
			l.At = finding.Maybe[r3.Vec]{V: res.in.Pose.V.Point(m.At.At), Known: true}
		}
		s.Mounts = append(s.Mounts, l)
	}
	res.body()
	if !p.Mass.Known() && !p.CentreOfMass.Known {
		return
	}
	if s.Body.Known {
		res.driveTorque()
	}
	if !res.in.Carried {
		return
	}
	if err := res.mountLoads(); err != nil {
		s.Why = err.Error()
		s.Cases = nil
		for i := range s.Mounts {
			s.Mounts[i].Force = nil
		}
	}
	for i := range s.Mounts {
		res.liftFinding(i)
	}
}

func (res *Result) body() {
	p, b := res.in.Build.Powertrain, &res.Statics.Body
	switch {
	case !p.Mass.Known():
		b.Why = "powertrain.mass is not in the file yet"
	case p.Mass.V() == 0:
		b.Why = "powertrain.mass is 0; it must be more"
	case !p.CentreOfMass.Known:
		b.Why = "powertrain.centre_of_mass is not in the file yet"
	case !res.in.Pose.Known:
		b.Why = res.in.Pose.Why
	default:
		b.V, b.Known = seat.Body{Mass: p.Mass.V(), Centre: res.in.Pose.V.Point(p.CentreOfMass.At)}, true
	}
}

// mountLoads fills in the force on every mount in every case.
func (res *Result) mountLoads() error {
	s := &res.Statics
	if !s.Body.Known {
		return errors.New(s.Body.Why)
	}
	for _, m := range s.Mounts {
		if !m.At.Known {
			return errors.New(m.At.Why)
		}
	}
	each, why := res.rates(s.Mounts)
	if why == "" {
		why = sharedSolid(s.Mounts, each)
	}
	if why == "" {
		err := res.settledLoads(each)
		if err == nil {
			return nil
		}
		why = err.Error()
	}
	return res.weightsAtRest(why)
}

// sharedSolid says which mounts share a load by the stiffness of brackets that
// the file does not give. One alone holds its point whatever its bracket gives,
// beside rubber.
func sharedSolid(mounts []MountLoads, each []IsolatorRates) string {
	var names, keys []string
	for i, r := range each {
		if r.Solid && !r.Bracket {
			names = append(names, mounts[i].Label)
			keys = append(keys, "mount."+mounts[i].Spec.Name)
		}
	}
	if len(names) < 2 {
		return ""
	}
	return "the " + strings.Join(names, " and the ") + " mount are bolted solid and share the load by the stiffness of their brackets; give rate_up, rate_across and rate_along of " +
		strings.Join(keys, " and ") + ", measured on the bracket with a load and a dial gauge"
}

// weightsAtRest takes what balance alone tells, where why nothing else is known.
func (res *Result) weightsAtRest(why string) error {
	s := &res.Statics
	mounts := make([]seat.Mount, len(s.Mounts))
	for i, m := range s.Mounts {
		mounts[i] = seat.Mount{Name: m.Label, At: m.At.V}
	}
	w, err := seat.WeightsAtRest(s.Body.V, mounts)
	switch {
	case errors.Is(err, seat.ErrShared):
		return fmt.Errorf("%w, and %s", err, why)
	case err != nil:
		return err
	}
	s.Partial, s.Springs, s.Swings = why, nil, nil
	s.Basis = "weights at rest by the balance of three mounts; every other load needs their spring rates"
	s.Cases = []LoadCase{{ID: "rest", Name: "at rest", Load: seat.Resting()}}
	for i := range s.Mounts {
		s.Mounts[i].Force, s.Mounts[i].Least, s.Mounts[i].Most = []r3.Vec{{Z: w[i]}}, 0, 0
	}
	return nil
}

// settledLoads lets the powertrain come to rest on its springs in every case.
func (res *Result) settledLoads(each []IsolatorRates) error {
	s := &res.Statics
	var err error
	if s.Springs, err = res.springs(each, middleRates); err != nil {
		return err
	}
	s.Cases = res.loadCases()
	force, err := res.forces(s.Springs, s.Cases)
	if err != nil {
		return err
	}
	if s.Swings, err = res.swingsOf(each); err != nil {
		return err
	}
	s.Basis = "screening loads, by the balance of the powertrain on its springs, with powertrain and frame rigid"
	for i := range s.Mounts {
		m := &s.Mounts[i]
		m.Force = make([]r3.Vec, len(s.Cases))
		for c := range s.Cases {
			m.Force[c] = force[c][i]
			if m.Force[c].Z < m.Force[m.Least].Z {
				m.Least = c
			}
			if m.Force[c].Z > m.Force[m.Most].Z {
				m.Most = c
			}
		}
	}
	return nil
}

// forces returns what each mount does to the powertrain, by case and mount.
func (res *Result) forces(springs []seat.Isolator, cases []LoadCase) ([][]r3.Vec, error) {
	out := make([][]r3.Vec, len(cases))
	all := make([]r3.Vec, len(cases)*len(springs))
	hung, err := seat.Hang(res.Statics.Body.V, springs)
	for c, lc := range cases {
		var got seat.Settled
		if err == nil {
			got, err = hung.Settle(lc.Load)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", lc.Name, err)
		}
		out[c], all = all[:len(springs):len(springs)], all[len(springs):]
		for i, p := range got.Pads {
			out[c][i] = p.Force
		}
	}
	return out, nil
}

// Swing is what the forces become with the rates of one mount at the ends of
// what they may be, by case and mount.
type Swing struct{ Low, High [][]r3.Vec }

// stoutBracket is the stiffness, N/mm, below which no bracket is taken to be
// that has a solid mount: 1 mm under 5 kN (common practice, no source).
const stoutBracket = 5e3

func (res *Result) swingsOf(each []IsolatorRates) ([]Swing, error) {
	s := &res.Statics
	var out []Swing
	for i, r := range each {
		low, high := r.Low, r.High
		if r.Solid && !r.Bracket {
			low = seat.Rates{X: stoutBracket, Y: stoutBracket, Z: stoutBracket}
		}
		if low == high {
			continue
		}
		at := func(rates seat.Rates) ([][]r3.Vec, error) {
			springs := slices.Clone(s.Springs)
			springs[i].Rates = rates
			return res.forces(springs, s.Cases)
		}
		var w Swing
		var err error
		if w.Low, err = at(low); err != nil {
			return nil, err
		}
		if w.High, err = at(high); err != nil {
			return nil, err
		}
		out = append(out, w)
	}
	return out, nil
}

// Along returns what mount i does to the powertrain along a direction in case
// c, N. Its uncertainty is what the rates that are estimates leave open, each
// mount's taken as independent of the others'.
func (s *Statics) Along(i, c int, dir r3.Vec) finding.Number {
	v, sum := r3.Dot(s.Mounts[i].Force[c], dir), 0.0
	for _, w := range s.Swings {
		off := max(math.Abs(r3.Dot(w.Low[c][i], dir)-v), math.Abs(r3.Dot(w.High[c][i], dir)-v))
		sum += off * off
	}
	return finding.Spread(v, v+math.Sqrt(sum))
}

func ordinal(n int) string {
	end := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "nd"
		case 3:
			end = "rd"
		}
	}
	return strconv.Itoa(n) + end
}
