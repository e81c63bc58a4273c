package mount

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
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

// liftFinding says whether a mount is pulled up in any case and whether it can
// hold that.
func (res *Result) liftFinding(i int) {
	s, m := &res.Statics, res.Statics.Mounts[i]
	f := finding.Finding{ID: "mount." + m.Spec.Name + ".lifts", Title: m.Label + " mount, least load (screening; below 0 it lifts)", Kind: quantity.Force,
		Source: finding.Practice}
	defer func() { res.Findings = append(res.Findings, f) }()
	if s.Why != "" {
		f.Unknown(s.Why)
		f.Says = finding.Say(finding.NotYet(f.Missing))
		return
	}
	f.Assumes = res.LoadAssumes()
	least, at, surely := s.pressed(i, 0), 0, math.Inf(1) // surely: with the uncertainty taken off
	for c := range s.Cases {
		p := s.pressed(i, c)
		if p.V < least.V {
			least, at = p, c
		}
		surely = min(surely, p.V-p.Expanded())
	}
	f.Figure(least)
	defer res.liftsInReverse(&f, i)
	when, pull := s.Cases[at].Name, quantity.Format(quantity.Force, -least.V, res.in.Build.Units, 0)
	lifted := fmt.Sprintf("The powertrain pulls up on the %s mount with %s: %s. ", m.Label, pull, when)
	lifts := least.V < -liftsFrom
	switch {
	case lifts && m.Spec.Holds == project.BondedOnly:
		f.Status = finding.Over
		f.Says = finding.Say(lifted + "Its rubber alone holds it there; fit a captive mount, set the front mounts wider, or add a torque strut.")
	case s.Partial != "":
		f.Unknown(s.Partial)
		f.Says = finding.Say(finding.NotYet("the weight on it at rest is known; what torque, braking and cornering do to it depends on the springs, and " + s.Partial))
	case surely < -liftsFrom && m.Spec.Holds == "":
		f.Unknown("mount." + m.Spec.Name + ".holds is not in the file yet")
		f.Says = finding.Say(lifted + "Look at how the mount is built, captive or bonded only, and put it in the file.")
		if !lifts {
			f.Says = finding.Say("With rates at the end of their estimates it may lift. Look at how the mount is built, captive or bonded only, and put it in the file.")
		}
	case s.TorqueWhy != "":
		f.Unknown(s.TorqueWhy)
		f.Says = finding.Say(finding.NotYet("full torque may lift it, and " + s.TorqueWhy))
	case surely < -liftsFrom && m.Spec.Holds == project.BondedOnly:
		f.Status = finding.Tight
		f.Says = finding.Say("It carries weight in every load case, least " + when + ", but the rates are estimates, and with others it may lift: its rubber alone holds it there. Measure the rates with a load and a dial gauge, or fit a captive mount.")
	case lifts:
		f.Says = finding.Say(lifted + "It is held by metal; its bolts and its bracket have to take that pull.")
	default:
		f.Says = finding.Say("It carries weight in every load case; least " + when + ".")
	}
}

// liftsInReverse says that reverse is left out, where it is.
func (res *Result) liftsInReverse(f *finding.Finding, i int) {
	s, hold := &res.Statics, res.Statics.Mounts[i].Spec.Holds
	if s.ReverseWhy == "" || s.Partial != "" || f.Status == finding.Over || f.Status == finding.NotKnown {
		return
	}
	if hold == project.Captive || hold == project.SolidMount { // it holds whatever pulls; how much does is open
		f.Unknown(s.ReverseWhy)
		f.Says = finding.Say(finding.NotYet("reverse may pull harder on it, and " + s.ReverseWhy))
		return
	}
	res.WithoutReverse(f, func(ratio float64) (float64, bool) {
		v := res.pressedInReverse(i, ratio)
		return v, v < -liftsFrom
	})
	if f.Status == finding.Over && hold == "" {
		f.Unknown("mount." + s.Mounts[i].Spec.Name + ".holds is not in the file yet")
	}
}

// pressedInReverse is the least that presses mount i together with a reverse
// gear of that ratio, N.
func (res *Result) pressedInReverse(i int, ratio float64) float64 {
	s := &res.Statics
	cases, err := res.ReverseCases(ratio)
	if err != nil {
		return math.Inf(-1)
	}
	least := math.Inf(1)
	for _, c := range cases {
		got, err := seat.Settle(s.Body.V, s.Springs, c.Load)
		if err != nil {
			return math.Inf(-1) // it does not stay up
		}
		least = min(least, got.Pads[i].Force.Z)
		if axis, ok := s.leans(i); ok {
			least = min(least, r3.Dot(got.Pads[i].Force, axis))
		}
	}
	return least
}
