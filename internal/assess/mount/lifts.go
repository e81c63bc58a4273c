package mount

import (
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// liftsFrom is the pull, N, from which a mount is said to lift.
const liftsFrom = 1

// pressed returns what presses mount i together in case c, N: the weight on it,
// or what acts along its own upward axis where that leans and is less.
func (s *Statics) pressed(i, c int) finding.Number {
	least := s.Along(i, c, r3.Vec{Z: 1})
	if axis, ok := s.leans(i); ok {
		if own := s.Along(i, c, axis); own.V-own.Expanded() < least.V-least.Expanded() {
			least = own
		}
	}
	return least
}

// leans returns the upward axis of a mount that leans. One nearer to lying down
// than to standing is a link, which takes push and pull alike.
func (s *Statics) leans(i int) (r3.Vec, bool) {
	if i >= len(s.Springs) {
		return r3.Vec{}, false
	}
	z := s.Springs[i].Frame.Z
	return z, z.Z < 1-1e-9 && z.Z >= 0.5
}

// lift is what presses a mount together least.
type lift struct {
	least  finding.Number
	when   string  // the case
	surely float64 // the least with the uncertainty taken off, N
}

// lift finds the case that presses mount i together least.
func (s *Statics) lift(i int) lift {
	l := lift{least: s.pressed(i, 0), when: s.Cases[0].Name, surely: math.Inf(1)}
	for c := range s.Cases {
		p := s.pressed(i, c)
		if p.V < l.least.V {
			l.least, l.when = p, s.Cases[c].Name
		}
		l.surely = min(l.surely, p.V-p.Expanded())
	}
	return l
}

// liftFinding says whether a mount is pulled up in any case and whether it can
// hold that.
func (res *Result) liftFinding(i int) {
	s, m := &res.Statics, &res.p.mounts[i]
	f := finding.Finding{ID: m.liftsID, Title: m.liftsTitle, Kind: quantity.Force,
		Source: finding.Practice}
	if s.Why != "" {
		f.Unknown(s.Why)
		f.Says = finding.Say(finding.NotYet(f.Missing))
	} else {
		f.Assumes = slices.Clone(res.LoadAssumes())
		l := s.lift(i)
		f.Figure(l.least)
		res.judgeLift(&f, m, l)
		res.liftsInReverse(&f, i)
		f.Again(m.judgeLiftAgain)
	}
	res.Findings = append(res.Findings, f)
}

// judgeLift is the verdict on a mount by what presses it together least.
func (res *Result) judgeLift(f *finding.Finding, m *support, l lift) {
	s, units, when := &res.Statics, res.p.build.Units, l.when
	lifted := func(then string) finding.Text {
		return func() string {
			return "The powertrain pulls up on the " + m.label + " mount with " + quantity.Format(quantity.Force, -l.least.V, units, 0) + ": " + when + ". " + then
		}
	}
	lifts := l.least.V < -liftsFrom
	const look = "Look at how the mount is built, captive or bonded only, and put it in the file."
	switch {
	case lifts && m.spec.Holds == project.BondedOnly:
		f.Status = finding.Over
		f.Says = lifted("Its rubber alone holds it there; fit a captive mount, set the front mounts wider, or add a torque strut.")
	case s.Partial != "":
		f.Unknown(s.Partial)
		f.Says = finding.Say(finding.NotYet("the weight on it at rest is known; what torque, braking and cornering do to it depends on the springs, and " + s.Partial))
	case l.surely < -liftsFrom && m.spec.Holds == "":
		f.Unknown(m.lacksHolds())
		f.Says = lifted(look)
		if !lifts {
			f.Says = finding.Say("With rates at the end of their estimates it may lift. " + look)
		}
	case s.TorqueWhy != "":
		f.Unknown(s.TorqueWhy)
		f.Says = finding.Say(finding.NotYet("full torque may lift it, and " + s.TorqueWhy))
	case l.surely < -liftsFrom && m.spec.Holds == project.BondedOnly:
		f.Status = finding.Tight
		f.Says = func() string {
			return "It carries weight in every load case, least " + when + ", but the rates are estimates, and with others it may lift: its rubber alone holds it there. Measure the rates with a load and a dial gauge, or fit a captive mount."
		}
	case lifts:
		f.Says = lifted("It is held by metal; its bolts and its bracket have to take that pull.")
	default:
		f.Says = func() string { return "It carries weight in every load case; least " + when + "." }
	}
}

// judgeLiftAgain is the verdict on a mount whose least load is open further than its
// rates leave it.
func (m *support) judgeLiftAgain(f *finding.Finding) {
	switch {
	case f.Value-f.Uncertainty >= -liftsFrom:
	case m.spec.Holds == "":
		f.Unknown(m.lacksHolds())
		f.Says = finding.Say("Within its ± it may lift. Look at how the mount is built, captive or bonded only, and put it in the file.")
	case m.spec.Holds == project.BondedOnly:
		f.Status = finding.Tight
		f.Says = finding.Say("It carries weight in every load case, but by less than its ±: its rubber alone holds it there. Fit a captive mount, or make surer what it follows from.")
	}
}
