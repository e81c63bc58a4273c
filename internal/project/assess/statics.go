package assess

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Statics are the loads on the mounts, the powertrain rigid and nothing giving
// yet. They are empty when the file says nothing of the powertrain's weight.
type Statics struct {
	Body      Measured[seat.Body]
	Mounts    []MountLoads
	Cases     []LoadCase // at rest first
	Basis     string     // what settled how the mounts share, in a sentence
	Why       string     // why no load is worked out, when none is
	TorqueWhy string     // why the cases of full torque are left out, when they are
	Torque    Measure    // largest torque that turns the powertrain on its mounts, N·mm
	rocking   seat.Load  // the case it is from
}

// MountLoads is what one mount carries.
type MountLoads struct {
	Spec  project.Mount
	Label string           // left front
	At    Measured[r3.Vec] // its pad, vehicle axes
	// Force is what the mount does to the powertrain in each case, N, vehicle
	// axes; Z is the weight it carries, negative where it is pulled up.
	Force []r3.Vec
	Least int // the case in which it carries least
	Most  int // and most
}

// LoadCase is one thing the mounts have to carry.
type LoadCase struct {
	ID   string // part of the names of its values: gear_1
	Name string
	load seat.Load
}

// mountLabel is the name of a mount as it is said.
func mountLabel(name string) string { return strings.ReplaceAll(name, "_", " ") }

// statics works out what the mounts carry. It says nothing before the file
// gives the powertrain's mass or where it balances.
func (a *Assessment) statics() {
	s := &a.Statics
	p := a.Build.Powertrain
	for _, m := range a.Build.CarryingMounts() {
		l := MountLoads{Spec: m, Label: mountLabel(m.Name)}
		switch {
		case !m.At.Known:
			l.At.Why = m.PadPath() + " is not in the file yet"
		case !a.Pose.Known:
			l.At.Why = a.Pose.Why
		default:
			l.At = Measured[r3.Vec]{V: a.Pose.V.Point(m.At.At), Known: true}
		}
		s.Mounts = append(s.Mounts, l)
	}
	a.body()
	if !p.Mass.Known() && !p.CentreOfMass.Known {
		return
	}
	if err := a.shareLoads(); err != nil {
		s.Why = err.Error()
		s.Cases = nil
		for i := range s.Mounts {
			s.Mounts[i].Force = nil
		}
	}
	for _, m := range s.Mounts {
		a.liftFinding(m)
	}
}

func (a *Assessment) body() {
	p, b := a.Build.Powertrain, &a.Statics.Body
	switch {
	case !p.Mass.Known():
		b.Why = "powertrain.mass is not in the file yet"
	case p.Mass.V() == 0:
		b.Why = "powertrain.mass is 0; it must be more"
	case !p.CentreOfMass.Known:
		b.Why = "powertrain.centre_of_mass is not in the file yet"
	case !a.Pose.Known:
		b.Why = a.Pose.Why
	default:
		b.V, b.Known = seat.Body{Mass: p.Mass.V(), Centre: a.Pose.V.Point(p.CentreOfMass.At)}, true
	}
}

// shareLoads fills in the force on every mount in every case.
func (a *Assessment) shareLoads() error {
	s := &a.Statics
	if !s.Body.Known {
		return errors.New(s.Body.Why)
	}
	mounts := make([]seat.Mount, len(s.Mounts))
	for i, m := range s.Mounts {
		if !m.At.Known {
			return errors.New(m.At.Why)
		}
		mounts[i] = seat.Mount{Name: m.Label, At: m.At.V}
	}
	if r, why := a.rates(s.Mounts); why == "" { // without all of them they count as alike
		for i := range mounts {
			mounts[i].Rates = r[i].Rates
		}
	}
	s.Cases = a.loadCases()
	for c, lc := range s.Cases {
		got, err := seat.ReactionsAt(s.Body.V, mounts, lc.load)
		if err != nil {
			return err
		}
		s.Basis = got.Basis.String()
		for i := range s.Mounts {
			m := &s.Mounts[i]
			m.Force = append(m.Force, got.Each[i].Force)
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

// loadCases lists what the mounts have to carry, and finds the largest torque.
func (a *Assessment) loadCases() []LoadCase {
	cases := []LoadCase{{"rest", "at rest", seat.Resting()}}
	cases = append(cases, a.torqueCases()...)
	f := func(key string) float64 { return a.Build.Load(key).Value }
	return append(cases,
		LoadCase{"braking", "braking", seat.Braking(f("braking"))},
		LoadCase{"cornering_right", "cornering right", seat.CorneringRight(f("cornering"))},
		LoadCase{"cornering_left", "cornering left", seat.CorneringRight(-f("cornering"))},
		LoadCase{"bump", "bump", seat.Bump(f("bump"))})
}

func (a *Assessment) torqueCases() []LoadCase {
	s, p := &a.Statics, a.Build.Powertrain
	drive := seat.Drive{Layout: p.Layout.Seat(), Engine: p.PeakTorque(), Final: p.Final.V(), Output: a.Pose.V.X, Opposite: p.Turns == project.OppositeTurns}
	if drive.Layout == seat.Transaxle {
		drive.Output = a.Pose.V.Y
	}
	gears, ids := gearRatios(p)
	switch {
	case !p.Torque.Known():
		s.TorqueWhy = "powertrain.torque is not in the file yet"
	case len(gears) == 0:
		s.TorqueWhy = "powertrain.gears is not in the file yet"
	case drive.Layout == seat.Transaxle && !p.Final.Known():
		s.TorqueWhy = "powertrain.final is not in the file yet"
	}
	var loads []seat.Load
	if s.TorqueWhy == "" {
		var err error
		if loads, err = seat.GearLoads(drive, gears); err != nil {
			s.TorqueWhy = err.Error()
		}
	}
	s.Torque = missing(s.TorqueWhy)
	var out []LoadCase
	for i, l := range loads {
		out = append(out, LoadCase{ids[i], l.Name, l})
		if m := r3.Norm(l.Torque); !s.Torque.Known || m > s.Torque.V {
			s.Torque, s.rocking = known(m, 0), l
		}
	}
	return out
}

func gearRatios(p project.Powertrain) (gears []seat.GearRatio, ids []string) {
	for i, g := range p.Gears {
		if v, ok := g.Get(); ok && v > 0 {
			gears = append(gears, seat.GearRatio{Name: ordinal(i+1) + " gear", Ratio: v})
			ids = append(ids, "gear_"+strconv.Itoa(i+1))
		}
	}
	if v, ok := p.Reverse.Get(); ok && v > 0 {
		gears = append(gears, seat.GearRatio{Name: "reverse", Ratio: -v})
		ids = append(ids, "reverse")
	}
	return gears, ids
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

// liftFinding says whether a mount is pulled up in any case and whether it can
// hold that.
func (a *Assessment) liftFinding(m MountLoads) {
	f := Finding{ID: "mount." + m.Spec.Name + ".lifts", Title: m.Label + " mount, least weight on it (below 0 it lifts)", Kind: quantity.Force,
		Source: practice}
	defer func() { a.Findings = append(a.Findings, f) }()
	s := a.Statics
	if s.Why != "" {
		f.unknown(s.Why)
		f.Advice = notYet(f.Missing)
		return
	}
	least := m.Force[m.Least].Z
	f.number(least, 0)
	when, pull := s.Cases[m.Least].Name, quantity.Format(quantity.Force, -least, a.Build.Units, 0)
	lifted := fmt.Sprintf("The powertrain pulls up on the %s mount with %s: %s. ", m.Label, pull, when)
	lifts := least < -liftsFrom
	switch {
	case lifts && m.Spec.Holds == project.BondedOnly:
		f.Status = Over
		f.Advice = lifted + "Its rubber alone holds it there; fit a captive mount, set the front mounts wider, or add a torque strut."
	case lifts && m.Spec.Holds == "":
		f.unknown("mount." + m.Spec.Name + ".holds is not in the file yet")
		f.Advice = lifted + "Look at how the mount is built, captive or bonded only, and put it in the file."
	case s.TorqueWhy != "":
		f.unknown(s.TorqueWhy)
		f.Advice = notYet("full torque may lift it, and " + s.TorqueWhy)
	case lifts:
		f.Advice = lifted + "It is held by metal; its bolts and its bracket have to take that pull."
	default:
		f.Advice = "It carries weight in every load case; least " + when + "."
	}
}

// liftsFrom is the pull, N, from which a mount is said to lift.
const liftsFrom = 1

// practice is the source of what the trade does without writing it down.
const practice = "common practice, no source"
