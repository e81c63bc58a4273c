package mount

import (
	"errors"
	"fmt"
	"math"
	"strconv"

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

	Links   []LinkLoads
	Stops   []StopLoads
	Springs []seat.Isolator // what they rest on; nil when Partial
	Swings  []Swing         // one for each mount whose rates are open
}

// DriveTorque is the torque that turns the powertrain on its mounts: what the
// engine makes through the gears, low range included where its case hangs on
// the gearbox, or less where the wheels slip first. Several lines share it: it
// is the torque of them all together. N·mm.
type DriveTorque struct {
	TorqueWhy  string         // why there is none, when there is none
	ReverseWhy string         // why reverse is left out, when it is
	Gear       finding.Number // the largest by engine and gears
	Slip       finding.Number // at which the wheels of all lines slip
	Torque     finding.Number // the largest that acts: the smaller of the two
}

// LoadCase is one thing the mounts have to carry.
type LoadCase struct {
	ID     string // part of the names of its values: gear_1
	Name   string
	Source string
	Load   seat.Load
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
	Spec  *project.Mount
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
	s, t := &res.Statics, res.p.build.Powertrain
	if !t.Mass.Known() && !t.CentreOfMass.Known {
		return
	}
	if s.Body.Known {
		res.driveTorque()
	}
	if !res.in.Carried || res.in.Together {
		return
	}
	if err := res.mountLoads(); err != nil {
		s.Why = err.Error()
		s.Cases = nil
		for i := range s.Mounts {
			s.Mounts[i].Force = nil
		}
		for i := range s.Stops {
			s.Stops[i].Play = finding.Missing(s.Why)
		}
	}
	for i := range s.Mounts {
		if only := res.in.Mount; only == "" || only == s.Mounts[i].Spec.Name {
			res.liftFinding(i)
		}
	}
}

// driveTorque turns full torque to where the powertrain stands.
func (res *Result) driveTorque() {
	s, pose := &res.Statics, res.in.Pose.V
	res.pull, res.shaft = &res.p.pulls[0], pose.X
	if res.p.transaxle() {
		res.shaft = pose.Y
		if res.p.axleOf(s.Body.V.Centre.X) == project.TowardFront {
			res.pull = &res.p.pulls[1]
		}
	}
	u := res.pull
	if u.why == "" { // what is wrong with the way its shaft points is the same in every gear
		if _, err := res.p.drive(u.first, res.shaft).Reaction(); err != nil {
			res.pull = &pull{why: u.firstGear + ": " + err.Error(), reverseWhy: u.reverseWhy, slip: u.slip, low: u.low, first: u.first}
			res.pull.cases, res.pull.assumes = res.p.allCases(res.pull), res.p.restAssume
			u = res.pull
		}
	}
	s.DriveTorque = DriveTorque{TorqueWhy: u.why, ReverseWhy: u.reverseWhy, Slip: u.slip, Gear: finding.Missing(u.why), Torque: finding.Missing(u.why)}
	if u.why == "" {
		s.Gear = finding.Exact(u.gear)
		s.Torque = finding.Exact(math.Abs(u.most().torque))
	}
}

// mountLoads fills in the force on every mount in every case.
func (res *Result) mountLoads() error {
	s := &res.Statics
	if !s.Body.Known {
		return errors.New(s.Body.Why)
	}
	for i := range s.Mounts {
		if !s.Mounts[i].At.Known {
			return errors.New(s.Mounts[i].At.Why)
		}
	}
	why := res.p.sharedWhy
	if why == "" {
		err := res.settledLoads()
		if err == nil {
			return nil
		}
		why = err.Error()
	}
	return res.weightsAtRest(why)
}

// weightsAtRest takes what balance alone tells, where why nothing else is known.
func (res *Result) weightsAtRest(why string) error {
	s := &res.Statics
	if held := res.p.builtHeld(); held != "" {
		return fmt.Errorf("%s was fitted before the weight came down and takes a part of it, and %s", held, why)
	}
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
	for i := range s.Stops {
		s.Stops[i].Play = finding.Missing(why)
	}
	for i := range s.Mounts {
		s.Mounts[i].Force, s.Mounts[i].Least, s.Mounts[i].Most = []r3.Vec{{Z: w[i]}}, 0, 0
	}
	return nil
}

// settledLoads lets the powertrain come to rest on its springs in every case.
func (res *Result) settledLoads() error {
	s := &res.Statics
	if err := res.p.axesErr; err != nil {
		return err
	}
	s.Cases = make([]LoadCase, len(res.pull.cases))
	for c := range s.Cases {
		s.Cases[c] = res.placed(res.pull.cases[c])
	}
	if res.hungErr != nil {
		return fmt.Errorf("%s: %w", s.Cases[0].Name, res.hungErr)
	}
	s.Springs = res.p.springs(res.pad, middleRates)
	does, err := res.forces(res.hung)
	if err != nil {
		return err
	}
	force := does.pads
	if s.Swings, err = res.swingsOf(); err != nil {
		return err
	}
	s.takeHeld(does)
	s.Basis = "screening loads, by the balance of the powertrain on its springs, with powertrain and frame rigid"
	all := make([]r3.Vec, len(s.Mounts)*len(s.Cases))
	for i := range s.Mounts {
		m := &s.Mounts[i]
		m.Force, all = all[:len(s.Cases):len(s.Cases)], all[len(s.Cases):]
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

// forces returns what each mount, link and stop does to the powertrain, by case.
func (res *Result) forces(hung *seat.Hung) (carried, error) {
	cases, n := res.Statics.Cases, len(res.Statics.Mounts)
	out := carried{make([][]r3.Vec, len(cases)), make([][]seat.Tied, len(cases)), make([][]seat.Stopped, len(cases))}
	all := make([]r3.Vec, len(cases)*n)
	for c := range cases {
		out.pads[c], all = all[:n:n], all[n:]
		var err error
		if out.links[c], out.stops[c], err = hung.Beside(cases[c].Load, out.pads[c]); err != nil {
			return carried{}, fmt.Errorf("%s: %w", cases[c].Name, err)
		}
	}
	return out, nil
}

// Swing is what the forces become with the rates of one mount at the ends of
// what they may be, by case and mount.
type Swing struct {
	Low, High [][]r3.Vec
	of        finding.Estimate
	ends      [2]carried
}

func (res *Result) swingsOf() ([]Swing, error) {
	var out []Swing
	for k, e := range res.p.ends {
		if e.low == e.high {
			continue
		}
		w := Swing{of: e.of}
		for end := range w.ends {
			var err error
			if w.ends[end], err = res.forces(res.ends[k][end]); err != nil {
				return nil, err
			}
		}
		w.Low, w.High = w.ends[0].pads, w.ends[1].pads
		out = append(out, w)
	}
	return out, nil
}

// Along returns what mount i does to the powertrain along a direction in case
// c, N. Its uncertainty is what the rates that are estimates leave open, each
// mount's taken as independent of the others'.
func (s *Statics) Along(i, c int, dir r3.Vec) finding.Number {
	v := r3.Dot(s.Mounts[i].Force[c], dir)
	var few [4]finding.End
	ends := few[:0]
	for _, w := range s.Swings {
		ends = append(ends, w.of.EndsOf(v, r3.Dot(w.Low[c][i], dir), r3.Dot(w.High[c][i], dir)))
	}
	return finding.Spread(v, ends, finding.Estimate{}, v)
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
