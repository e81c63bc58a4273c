package assess

import (
	"errors"
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// heldFindings says whether the halves of a mount stay together without its
// rubber, and whether it is bolted solid.
func (a *Assessment) heldFindings(m MountLoads) {
	if !m.Spec.Begun() {
		return
	}
	hold := m.Spec.Holds.Construction().Hold()
	f := Finding{ID: "mount." + m.Spec.Name + ".captive", Title: m.Label + " mount, held when its rubber fails", Source: finding.Practice}
	switch {
	case !hold.Known:
		f.Unknown("mount." + m.Spec.Name + ".holds is not in the file yet")
		f.Says = finding.Say("Cannot be judged yet: " + hold.Verdict + ".")
	case !hold.Captive:
		f.Status = Over
		f.Says = finding.Say("The " + m.Label + " mount is " + hold.Verdict + ".")
	default:
		f.Says = finding.Say("The " + m.Label + " mount is " + hold.Verdict + ".")
	}
	a.Findings = append(a.Findings, f)
	if m.Spec.Holds != project.SolidMount {
		return
	}
	a.Findings = append(a.Findings, Finding{ID: "mount." + m.Spec.Name + ".solid", Title: m.Label + " mount, bolted solid",
		Status: Over, Source: finding.Practice,
		Says: finding.Say("The " + m.Label + " mount is bolted solid: " + seat.Solid.Hold().Verdict + ". Fit an isolator there.")})
}

// isolatorFindings judges how the powertrain sits, rocks and shakes on its
// rubber.
func (a *Assessment) isolatorFindings() {
	is := &a.Isolators
	worst, name := finding.Missing(is.Why), ""
	limit := a.Build.Limit("sag")
	reach := func(m Number) float64 { // what may sink too far goes before what is sure not to
		if m.V > limit.Value {
			return math.Inf(1)
		}
		return m.V + m.Expanded()
	}
	for i, m := range is.Sag {
		if m.Known && (!worst.Known || reach(m) > reach(worst) || reach(m) == reach(worst) && m.V > worst.V) {
			worst, name = m, a.Statics.Mounts[i].Label
		}
	}
	sag := Finding{ID: "mounts.sag", Title: "mounts, most that one sinks under the weight"}
	sag.Judge(worst, limit, false)
	sag.Says = finding.Say(finding.Advise(sag, map[Status]string{
		OK:    "The " + name + " mount sinks most; set the powertrain that much higher, and hold the joint angles with the weight on against their limits.",
		Tight: "The " + name + " mount sinks most, and its rate is an estimate; measure it with a load and a dial gauge.",
		Over:  "The " + name + " mount sinks too far; a stiffer isolator there, or a harder one of the same shape.",
	}))
	a.fallen(&sag)
	rock := Finding{ID: "mounts.rock", Title: "mounts, turn of the powertrain under full torque (screening)"}
	rock.Judge(is.Rock, a.Build.Limit("rock"), false)
	rock.Says = finding.Say(finding.Advise(rock, map[Status]string{
		OK:    "Full torque in the lowest gear and range does not turn the powertrain far.",
		Tight: "The rates are estimates; soft rubber of that hardness could turn it further than wanted.",
		Over:  "Full torque turns the powertrain too far; stiffer isolators, mounts further apart, or a torque strut.",
	}))
	rock.Assumes = a.loadAssumes()
	a.withoutReverse(&rock, a.rockInReverse)
	a.fallen(&rock)
	idle := Finding{ID: "mounts.isolation", Title: "mounts, shaking at idle that reaches the frame"}
	idle.Judge(is.Passed, a.Build.Limit("isolation"), false)
	idle.Says = finding.Say(finding.Advise(idle, map[Status]string{
		OK:    "At idle the firing pulses come well above the bounce of the powertrain on its mounts.",
		Tight: "Rubber is stiffer in vibration than under weight, by how much is known only as a range; the stiff end of it lets more through than wanted.",
		Over:  "The mounts pass on too much of the shaking at idle; softer isolators, or a faster idle.",
	}))
	a.Findings = append(a.Findings, sag, rock, idle)
}

// rockInReverse is how far a reverse gear of that ratio turns the powertrain,
// rad, and whether that is too far.
func (a *Assessment) rockInReverse(ratio float64) (float64, bool) {
	c, err := a.gearCase("reverse", "reverse", -ratio*max(1, a.Statics.low))
	if err != nil {
		return 0, true
	}
	springs, err := a.springs(a.Isolators.Each, middleRates)
	if err != nil {
		return 0, true
	}
	got, err := seat.Settle(a.Statics.Body.V, springs, c.load)
	if err != nil {
		return 0, true // it does not stay up
	}
	turn := turnBetween(a.Isolators.poses[1].Pose, a.Pose.V.Then(got.Motion)).Rad()
	return turn, turn > a.Build.Limit("rock").Value
}

// fallen turns a balance that does not exist from something missing into
// something wrong.
func (a *Assessment) fallen(f *Finding) {
	err := a.Isolators.failed
	if !errors.Is(err, seat.ErrTips) && !errors.Is(err, seat.ErrSoft) {
		return
	}
	f.Status, f.Missing = Over, ""
	f.Says = finding.Say("No balance: " + err.Error() + ".")
}

// values lists every number of the mounts.
func (s *Statics) values(is *Isolators, l *finding.List) {
	for i, m := range s.Mounts {
		id := "mount." + m.Spec.Name
		if m.At.Known && !isPad(m.Spec.Name) {
			l.Point(id+".at", m.At.V)
		}
		for c, f := range m.Force {
			name := id + ".load." + s.Cases[c].ID
			if s.Partial == "" {
				l.Add(name+".along", quantity.Force, f.X)
				l.Add(name+".across", quantity.Force, f.Y)
			}
			l.Add(name+".up", quantity.Force, f.Z)
		}
		if len(m.Force) > 0 && s.Partial == "" {
			l.Add(id+".load.least", quantity.Force, m.Force[m.Least].Z)
			l.Add(id+".load.most", quantity.Force, m.Force[m.Most].Z)
		}
		if i < len(is.Each) {
			is.Each[i].values(id, l)
		}
		if i < len(is.Sag) {
			l.Number(id+".sag", quantity.Length, is.Sag[i])
			l.Uncertainty(id+".sag", quantity.Length, is.Sag[i])
		}
	}
	if s.Torque.Known || is.Begun {
		l.Number("mounts.torque", quantity.Torque, s.Torque)
		l.Number("mounts.torque.gear", quantity.Torque, s.Gear)
		l.Number("mounts.torque.slip", quantity.Torque, s.Slip)
	}
	if is.Begun {
		is.values(l)
	}
}

func isPad(name string) bool {
	for _, n := range project.PadNames() {
		if n == name {
			return true
		}
	}
	return false
}

func (r IsolatorRates) values(id string, l *finding.List) {
	if r.Solid {
		return
	}
	for _, x := range []struct {
		key            string
		mid, low, high float64
	}{{"along", r.Rates.X, r.Low.X, r.High.X}, {"across", r.Rates.Y, r.Low.Y, r.High.Y}, {"up", r.Rates.Z, r.Low.Z, r.High.Z}} {
		l.Add(id+".rate."+x.key, quantity.Rate, x.mid)
		if r.Estimated {
			l.Add(id+".rate."+x.key+".low", quantity.Rate, x.low)
			l.Add(id+".rate."+x.key+".high", quantity.Rate, x.high)
		}
	}
}

func (is *Isolators) values(l *finding.List) {
	for _, x := range []struct {
		name string
		kind quantity.Kind
		m    Number
	}{
		{"mounts.sag.drop", quantity.Length, is.Drop},
		{"mounts.sag.tilt", quantity.Slope, is.Tilt},
		{"mounts.sag.slope", quantity.Slope, is.Slope},
		{"mounts.sag.roll", quantity.Angle, is.Roll},
		{"mounts.rock.angle", quantity.Angle, is.Rock},
		{"mounts.bounce", quantity.Frequency, is.Bounce},
		{"mounts.firing", quantity.Frequency, is.Firing},
		{"mounts.passed", quantity.Number, is.Passed},
	} {
		l.Number(x.name, x.kind, x.m)
		l.Uncertainty(x.name, x.kind, x.m)
	}
	for _, line := range is.Loaded {
		for i, m := range line.Joints {
			name := "line." + line.Line + ".joint." + strconv.Itoa(i+1) + ".angle.loaded"
			l.Number(name, quantity.Angle, m)
			l.Uncertainty(name, quantity.Angle, m)
		}
	}
}
