package bracket

import (
	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Strength is what a bracket uses of its strength. All of it is screening
// figures: a licensed engineer and the local rules decide.
type Strength struct {
	Begun bool // the file gives loads and this bracket has a leg
	Why   string
	Leg   LegUse
	Weld  WeldUse
	Bolts BoltUse

	PadPlate, RailPlate PlateUse
}

// Use is the largest part of a strength that is used, and when.
type Use struct {
	Begun bool
	Of    finding.Number // 1 is all of it
	Case  string         // the load case that governs
	rests []string
}

// take keeps the worst: what is used in a case, and whether it is that.
func (u *Use) take(used float64, in string) bool {
	if u.Of.Known && used <= u.Of.V {
		return false
	}
	u.Of, u.Case = finding.Known(used, 0), in
	return true
}

// LegUse is the tube: axial, bending and torsion together against its yield.
type LegUse struct {
	Use
	Stress geombracket.MemberStress // in that case
	At     string                   // at its foot, or at its pad
}

// WeldUse is the weld group as lines.
type WeldUse struct {
	Use
	Line    geombracket.WeldLine // at the foot
	Stress  geombracket.WeldStress
	At      string  // at its foot, or at its pad
	Counted float64 // leg of the fillet that counts, mm
	ByWall  bool    // the tube's wall beside the weld governs
}

// BoltUse is the bolt that carries most.
type BoltUse struct {
	Use
	Tighten        geombracket.Tightening
	Shear, Tension float64 // N
	Check          geombracket.BoltCheck
}

// engineers is said wherever a strength is.
const engineers = "Screening figure: a licensed engineer and the local rules decide."

// strength screens a bracket under every load case. A leg is there to carry, so
// what is not known of it is said, not passed over.
func (r *Result) strength(b *Bracket) {
	if !b.HasCut { // what is wrong with the leg is said already
		return
	}
	load, _ := r.in.Loads.of(b.Name)
	at := load.At
	s := &b.Strength
	s.Begun = true
	if load.Why == "" && r.in.Loads.Open != "" {
		s.Why = r.in.Loads.Open // the rest is worked out, and may be over already
	}
	if b.Spec.Pad.Known {
		at = b.Leg.Pad.Point
	}
	s.Leg.Begun, s.Weld.Begun = true, true
	s.Bolts.Begun = b.bolted() || r.in.Build.Powertrain.Fixing == project.BoltedOn
	s.PadPlate.Begun = b.Spec.PadPlate != project.LegPlate{}
	s.RailPlate.Begun = s.Bolts.Begun || b.Spec.RailPlate != project.LegPlate{}
	for _, u := range []struct {
		id, title string
		use       *Use
		run       screen
		more      string
	}{
		{"bending", "leg", &s.Leg.Use, b.useLeg, "take a larger section, a shorter leg, or a foot that is straighter across"},
		{"weld", "weld", &s.Weld.Use, b.weldScreen(), "make the weld longer or larger, all round, or the section larger"},
		{"bolts", "bolts", &s.Bolts.Use, b.useBolts, "set the bolts farther apart, or take more of them, larger ones or a higher class"},
		{"pad_plate.bending", "pad plate", &s.PadPlate.Use, b.padPlateScreen(), "take a thicker pad plate, or bring what is bolted to it nearer to the tube"},
		{"rail_plate.bending", "rail plate", &s.RailPlate.Use, b.railPlateScreen(), "take a thicker rail plate, or bring its bolts nearer to the tube"},
	} {
		if !u.use.Begun {
			continue
		}
		u.use.Of = finding.Missing(load.Why)
		if load.Why == "" {
			if err := u.run(load.Cases, at); err != nil {
				u.use.Of = finding.Missing(err.Error())
			}
			u.use.Of = b.openRates(u.use, u.run, load.Swings, at)
		}
		r.useFinding(b, u.id, u.title, *u.use, u.more)
		f := &r.Findings[len(r.Findings)-1]
		f.Assumes = append(f.Assumes, r.in.Loads.Assumes...)
		if without := r.in.Loads.WithoutReverse; without != nil {
			without(f, func(ratio float64) (float64, bool) { return r.useInReverse(b, u.use, u.run, at, ratio) })
		}
	}
}

func (r *Result) useFinding(b *Bracket, id, title string, u Use, more string) {
	f := finding.Finding{ID: "bracket." + b.Name + "." + id, Title: b.Label + " bracket, screening use of strength: " + title}
	f.Judge(u.Of, r.in.Build.Limit("screening_use"), false)
	if f.Status != finding.Over && f.HasValue && b.Strength.Why != "" {
		f.Unknown(b.Strength.Why)
	}
	governs := "Governed by " + u.Case + ". "
	f.Assumes = append(f.Assumes, u.rests...)
	f.Says = finding.Say(finding.Advise(f, map[finding.Status]string{
		finding.OK:    governs + engineers,
		finding.Tight: governs + "The spring rates are estimates, and how the mounts share the load with them: measure the rates, or " + more + ". " + engineers,
		finding.Over:  governs + "Too weak: " + more + ". " + engineers,
	}))
	r.Findings = append(r.Findings, f)
}

// useLeg looks at both ends of the leg: between them the moments run straight.
func (b *Bracket) useLeg(cases []Case, at r3.Vec) error {
	yield, _ := b.Spec.Strengths()
	u := &b.Strength.Leg
	foot := b.Cut
	pad := b.Cut
	pad.Rail.At = b.Cut.Pad.At // the section at the pad's cut
	for _, c := range cases {
		for _, end := range []struct {
			name string
			cut  *geombracket.Cut
		}{{"at its foot", &foot}, {"at its pad", &pad}} {
			f, err := end.cut.Forces(c.Force, at)
			if err != nil {
				return err
			}
			s, err := b.Cut.Section.Screen(b.Label+" leg", f, yield, geombracket.TorsionModulus)
			if err != nil {
				return err
			}
			if u.take(s.Utilisation, c.Name) {
				u.Stress, u.At = s, end.name
			}
		}
	}
	return nil
}
