package mount

import (
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// Prepared is what of a build the loads on the mounts follow from wherever the
// powertrain stands: rates, full torque, the cases, what the shaking at idle comes
// to. It is not written after it is made.
type Prepared struct {
	build  *project.Build
	round  finding.Number // the largest circumference of the driven tyres, mm
	mounts []support

	each      []IsolatorRates // of the mounts; nil when ratesWhy
	ratesWhy  string
	sharedWhy string     // why it is not known how they share a load
	axesErr   error      // why a mount has no axes
	ends      []openRate // of the mounts whose rates are not given
	begun     bool       // the file says something of a mount's rubber
	solid     bool       // no mount gives

	all      finding.Estimate // of the rates of all mounts together
	vibrates finding.Estimate // of how far rubber stiffens in vibration
	heavier  finding.Estimate // of moments of inertia that are estimated

	held            []finding.Finding
	restAssume      []string // what loads rest on beside torque
	pulls           [2]pull  // to the rear, and of a transaxle at the front
	shaking         shaking
	sag, rock, idle project.Rule
	ride, mismatch  project.Rule
}

// support is a mount that carries.
type support struct {
	spec  project.Mount
	label string        // left front
	id    string        // mount.left_front
	built seat.Isolator // at no place yet, with no rates

	liftsID, liftsTitle string
}

// holdsAll reports whether it holds whatever pulls at it.
func (m *support) holdsAll() bool {
	return m.spec.Holds == project.Captive || m.spec.Holds == project.SolidMount
}

func (m *support) lacksHolds() string { return m.id + ".holds is not in the file yet" }

// openRate is a mount whose rates are not given, and what they may be.
type openRate struct {
	mount     int
	low, high seat.Rates
	estimated bool // by its rubber; else it is a solid mount with a stout bracket
	of        finding.Estimate
}

// Prepare makes a build ready; where the powertrain stands in it does not matter.
// round is the largest circumference of its driven tyres, mm.
// What the estimates of rates may be off by is added to s; all is that of the
// rates together.
func Prepare(b *project.Build, round finding.Number, s *uncertain.Sources, all finding.Estimate) *Prepared {
	p := &Prepared{build: b, round: round, solid: true, all: all, vibrates: finding.EstimateIn(s, "how far rubber stiffens in vibration"), heavier: finding.EstimateIn(s, "the moments of inertia, estimated"),
		sag: b.Limit("sag"), rock: b.Limit("rock"), idle: b.Limit("isolation"), ride: b.Limit("ride_height"), mismatch: b.Limit("mismatch")}
	carrying := b.CarryingMounts()
	p.mounts = make([]support, 0, len(carrying))
	for _, m := range carrying {
		s := support{spec: m, label: finding.Spoken(m.Name), id: "mount." + m.Name, liftsID: finding.MountLifts(m.Name)}
		s.liftsTitle = s.label + " mount, least load (screening; below 0 it lifts)"
		var err error
		if s.built, err = m.Isolator(s.label, r3.Vec{}, seat.Rates{}); err != nil && p.axesErr == nil {
			p.axesErr = err
		}
		p.mounts = append(p.mounts, s)
		p.begun = p.begun || m.Rubber() && m.Holds != project.SolidMount
		p.solid = p.solid && m.Holds == project.SolidMount
		p.held = append(p.held, heldFindings(&s)...)
	}
	p.restAssume = p.solidAssumes()
	if p.each, p.ratesWhy = p.rates(); p.ratesWhy == "" {
		p.ends = p.openRates(s)
	}
	if p.sharedWhy = p.ratesWhy; p.sharedWhy == "" {
		p.sharedWhy = p.sharedSolid()
	}
	if b.Powertrain.Mass.Known() || b.Powertrain.CentreOfMass.Known {
		p.pulls[0] = p.pullWith(p.slipTorque(project.TowardRear))
		if p.transaxle() {
			p.pulls[1] = p.pullWith(p.slipTorque(project.TowardFront))
		}
	}
	if p.begun {
		p.shaking = p.shake(nil)
	}
	return p
}

// rates returns the rates of every mount, or what is missing of them.
func (p *Prepared) rates() ([]IsolatorRates, string) {
	out := make([]IsolatorRates, len(p.mounts))
	for i := range p.mounts {
		var why string
		if out[i], why = ratesOf(p.mounts[i].spec); why != "" {
			return nil, why
		}
	}
	if why := heldLacks(p.build); why != "" {
		return nil, why
	}
	return out, ""
}

// stoutBracket is the stiffness, N/mm, below which no bracket is taken to be
// that has a solid mount: 1 mm under 5 kN (common practice, no source).
const stoutBracket = 5e3

func (p *Prepared) openRates(s *uncertain.Sources) []openRate {
	var out []openRate
	for i, r := range p.each {
		of := func(what string) finding.Estimate {
			return finding.EstimateIn(s, what+" of the "+p.mounts[i].label+" mount")
		}
		switch {
		case r.Estimated:
			out = append(out, openRate{i, r.Low, r.High, true, of("the estimated rates")})
		case r.Solid && !r.Bracket:
			out = append(out, openRate{i, seat.Rates{X: stoutBracket, Y: stoutBracket, Z: stoutBracket}, r.High, false, of("the bracket")})
		}
	}
	return out
}

// estimated reports whether the rates of some mount are estimates.
func (p *Prepared) estimated() bool {
	return slices.ContainsFunc(p.ends, func(e openRate) bool { return e.estimated })
}

// sharedSolid says which mounts share a load by the stiffness of brackets that
// the file does not give. One alone holds its point whatever its bracket gives,
// beside rubber.
func (p *Prepared) sharedSolid() string {
	var names, keys []string
	for i, r := range p.each {
		if r.Solid && !r.Bracket {
			names = append(names, p.mounts[i].label)
			keys = append(keys, p.mounts[i].id)
		}
	}
	if len(names) < 2 {
		return ""
	}
	return "the " + strings.Join(names, " and the ") + " mount are bolted solid and share the load by the stiffness of their brackets; give rate_up, rate_across and rate_along of " +
		strings.Join(keys, " and ") + ", measured on the bracket with a load and a dial gauge"
}

// solidAssumes says what loads on the mounts rest on beside the torque.
func (p *Prepared) solidAssumes() (out []string) {
	for _, l := range p.build.Lines {
		if l.ReductionIn == project.InOwnCase && l.Reduction.Or(1) != 1 {
			out = append(out, "what turns the "+l.Name+" line's case on its own mounts is not worked out")
		}
	}
	if c := &p.build.Powertrain.Case; c.Turns() && c.Turned.Or(0) != 0 && !c.Weighed() {
		out = append(out, caseStays)
	}
	for i := range p.mounts {
		if m := &p.mounts[i]; m.spec.Holds == project.SolidMount && !m.spec.RateUp.Known() {
			out = append(out, "the bracket of the "+m.label+" mount gives less than 1 mm under 5 kN")
		}
	}
	return slices.Clip(out)
}

// springs are the isolators at pads, vehicle axes, mm, in the rates that pick takes
// of each.
func (p *Prepared) springs(at func(i int) r3.Vec, pick func(IsolatorRates) seat.Rates) []seat.Isolator {
	out := make([]seat.Isolator, len(p.mounts))
	for i := range out {
		out[i] = p.mounts[i].built
		out[i].Frame.At, out[i].Rates = at(i), pick(p.each[i])
	}
	return out
}

func middleRates(r IsolatorRates) seat.Rates { return r.Rates }
func lowRates(r IsolatorRates) seat.Rates    { return r.Low }
func highRates(r IsolatorRates) seat.Rates   { return r.High }
