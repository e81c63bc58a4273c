package mount

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// heldFindings says whether the halves of a mount stay together without its
// rubber, and whether it is bolted solid.
func heldFindings(m *support) []finding.Finding {
	if !m.spec.Begun() {
		return nil
	}
	hold := m.spec.Holds.Construction().Hold()
	f := finding.Finding{ID: finding.MountCaptive(m.spec.Name), Title: m.label + " mount, held when its rubber fails", Source: finding.Practice}
	f.Says = func() string { return "The " + m.label + " mount is " + hold.Verdict + "." }
	switch {
	case !hold.Known:
		f.Unknown(m.lacksHolds())
		f.Says = func() string { return "Cannot be judged yet: " + hold.Verdict + "." }
	case !hold.Captive:
		f.Status = finding.Over
	}
	if m.spec.Holds != project.SolidMount {
		return []finding.Finding{f}
	}
	return []finding.Finding{f, {ID: finding.MountSolid(m.spec.Name), Title: m.label + " mount, bolted solid",
		Status: finding.Over, Source: finding.Practice,
		Says: func() string {
			return "The " + m.label + " mount is bolted solid: " + seat.Solid.Hold().Verdict + ". Fit an isolator there."
		}}}
}

// isolatorFindings judges how the powertrain sits, rocks and shakes on its
// rubber.
func (res *Result) isolatorFindings() {
	rock := finding.Finding{ID: finding.MountsRock, Title: "mounts, turn of the powertrain under full torque (screening)"}
	rock.Judge(res.Isolators.Rock, res.p.rock, false)
	rock.Says = finding.Asked(rock, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "Full torque in the lowest gear and range does not turn the powertrain far.",
			finding.Tight: "The rates are estimates; soft rubber of that hardness could turn it further than wanted.",
			finding.Over:  "Full torque turns the powertrain too far; stiffer isolators, mounts further apart, or a torque strut.",
		}
	})
	rock.Assumes = slices.Clone(res.LoadAssumes())
	res.WithoutReverse(&rock, res.rockInReverse)
	res.fallen(&rock)
	idle := finding.Finding{ID: finding.MountsIsolation, Title: "mounts, shaking at idle that reaches the frame"}
	idle.Judge(res.Isolators.Passed, res.p.idle, false)
	idle.Says = finding.Asked(idle, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "At idle the firing pulses come well above the bounce of the powertrain on its mounts.",
			finding.Tight: "Rubber is stiffer in vibration than under weight, by how much is known only as a range; the stiff end of it lets more through than wanted.",
			finding.Over:  "The mounts pass on too much of the shaking at idle; softer isolators, or a faster idle.",
		}
	})
	if idle.HasValue {
		idle.Assumes = append(idle.Assumes, "shaking up and down alone, 5 % damping as of natural rubber where the file gives none, a stiff frame: what firing turns about the crankshaft is "+finding.MountsShakeIdle)
	}
	res.Findings = append(res.Findings, res.sagFinding(), rock, idle)
}

// sagFinding judges the mount that may sink furthest.
func (res *Result) sagFinding() finding.Finding {
	is := &res.Isolators
	worst, name := finding.Missing(is.Why), ""
	limit := res.p.sag
	reach := func(m finding.Number) float64 { // what may sink too far goes before what is sure not to
		if m.V > limit.Value {
			return math.Inf(1)
		}
		return m.V + m.Expanded()
	}
	for i, m := range is.Sag {
		if m.Known && (!worst.Known || reach(m) > reach(worst) || reach(m) == reach(worst) && m.V > worst.V) {
			worst, name = m, res.p.mounts[i].label
		}
	}
	sag := finding.Finding{ID: finding.MountsSag, Title: "mounts, most that one sinks under the weight"}
	sag.Judge(worst, limit, false)
	sag.Says = finding.Asked(sag, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "The " + name + " mount sinks most; set the powertrain that much higher, and hold the joint angles with the weight on against their limits.",
			finding.Tight: "The " + name + " mount sinks most, and its rate is an estimate; measure it with a load and a dial gauge.",
			finding.Over:  "The " + name + " mount sinks too far; a stiffer isolator there, or a harder one of the same shape.",
		}
	})
	res.fallen(&sag)
	return sag
}

// fallen turns a balance that does not exist from something missing into
// something wrong.
func (res *Result) fallen(f *finding.Finding) {
	err := res.Isolators.failed
	if !errors.Is(err, seat.ErrTips) && !errors.Is(err, seat.ErrSoft) {
		return
	}
	f.Status, f.Missing = finding.Over, ""
	f.Says = func() string { return "No balance: " + err.Error() + "." }
}

// Values lists every number of the mounts.
func (res *Result) Values(l *finding.List) {
	s, is := &res.Statics, &res.Isolators
	for i, m := range s.Mounts {
		id := "mount." + m.Spec.Name
		if m.At.Known && !IsPad(m.Spec.Name) {
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
	s.besideValues(l)
	if s.Torque.Known || is.Begun {
		l.Number("mounts.torque", quantity.Torque, s.Torque)
		l.Number("mounts.torque.gear", quantity.Torque, s.Gear)
		l.Number("mounts.torque.slip", quantity.Torque, s.Slip)
	}
	if is.Begun {
		is.values(l)
	}
}

// IsPad reports whether a mount goes by the name of one of the three pads.
func IsPad(name string) bool {
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
		m    finding.Number
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
