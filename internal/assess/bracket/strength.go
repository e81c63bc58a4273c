package bracket

import (
	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
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
	Pin                 PinUse      // of twin ears
	Struts              StrutUse    // of a mount of several members
	Fixings             []FixingUse // of a crossmember: its feet held, and pinned
	// Gives is how far the pad of a mount that is plate goes in the case that bends it
	// most, mm.
	Gives finding.Number
	Seams SeamUse // of a boxed plate
	// Gusset is that of a mount of several members.
	Gusset GussetUse
	Grip   GripUse // of a tab on a clamp
}

// Use is the largest part of a strength that is used, and when.
type Use struct {
	Begun bool
	Of    finding.Number // 1 is all of it
	Case  string         // the load case that governs
	At    string         // where, in words; "" where there is one place
	rests []string
}

// governs says in which case most is used, and where.
func (u *Use) governs() string {
	if u.At != "" {
		return "Governed by " + u.Case + ": " + u.At + ". "
	}
	return "Governed by " + u.Case + ". "
}

// LegUse is the tube: axial, bending and torsion together against its yield.
type LegUse struct {
	Use
	Stress section.MemberStress // in that case
}

// StrutUse is the member that is nearest to buckling: At says which.
type StrutUse struct{ Use }

// WeldUse is the weld group as lines.
type WeldUse struct {
	Use
	Line    geombracket.WeldLine // at the foot
	Stress  geombracket.WeldStress
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
	switch {
	case b.Members != nil:
		r.membersStrength(b)
		return
	case b.Plates != nil:
		r.plateStrength(b)
		return
	}
	if !b.HasCut { // what is wrong with the leg is said already
		return
	}
	load, at := r.beginStrength(b, b.Leg.Pad.Point)
	if side, err := r.railSide(b, b.Leg.Pad.Point); err == nil && !b.Spec.Header.Known() {
		b.past, b.holesPast = r.pastEdges(b, side, geombracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal})
	}
	s := &b.Strength
	for _, u := range []useOf{
		{finding.BracketBending, "leg", &s.Leg.Use, b.legScreen, "take a larger section, a shorter leg, or a foot that is straighter across"},
		{finding.BracketWeld, "weld", &s.Weld.Use, b.weldScreen, "make the weld longer or larger, all round, or the section larger"},
		{finding.BracketBolts, "bolts", &s.Bolts.Use, b.boltScreen, "set the bolts farther apart, or take more of them, larger ones or a higher class"},
		{finding.PadPlateBending, "pad plate", &s.PadPlate.Use, b.padPlateScreen, "take a thicker pad plate, or bring what is bolted to it nearer to the tube"},
		{finding.RailPlateBending, "rail plate", &s.RailPlate.Use, b.railPlateScreen, "take a thicker rail plate, or bring its bolts nearer to the tube"},
	} {
		r.screened(b, u, &load, at)
	}
}

// beginStrength gives a bracket's load and where it acts, which is its pad's middle
// where the file has that, and says which of its strengths are looked at.
func (r *Result) beginStrength(b *Bracket, pad r3.Vec) (MountLoad, r3.Vec) {
	load := r.loads.of(b.Name)
	at, s := load.At, &b.Strength
	s.Begun = true
	if load.Why == "" && !load.Own && r.loads.Open != "" {
		s.Why = r.loads.Open // the rest is worked out, and may be over already
	}
	if b.Spec.Pad.Known && !load.Fixed {
		at = pad
	}
	s.Leg.Begun, s.Weld.Begun = true, true
	s.Bolts.Begun = b.bolted() || r.ready.boltedOn
	s.PadPlate.Begun = b.Spec.PadPlate != project.LegPlate{}
	s.Bolts.Begun = s.Bolts.Begun || b.sleeved()
	s.RailPlate.Begun = !b.sleeved() && s.Bolts.Begun || b.Spec.RailPlate != project.LegPlate{}
	return load, at
}

// useOf is one strength of a bracket that is looked at.
type useOf struct {
	id     func(mount string) string
	title  string
	use    *Use
	screen func(at r3.Vec) (screen, error)
	more   string // what would do where it is too weak
}

// screened holds one strength of a bracket against its load, which acts at a place,
// and says what it comes to.
func (r *Result) screened(b *Bracket, u useOf, load *MountLoad, at r3.Vec) {
	if !u.use.Begun {
		return
	}
	var sc screen
	u.use.Of = finding.Missing(load.Why)
	if load.Why == "" {
		var err error
		if sc, err = u.screen(at); err == nil {
			err = sc.run(u.use, load)
		}
		if err != nil {
			u.use.Of = finding.Missing(err.Error())
		}
	}
	f := r.useFinding(b, u.id(b.Name), u.title, *u.use, u.more)
	if load.Own {
		f.Assumes = append(f.Assumes, load.Assumes...)
		r.Findings = append(r.Findings, f)
		return
	}
	f.Assumes = append(f.Assumes, r.loads.Assumes...)
	if r.loads.WithoutReverse != nil {
		r.loads.WithoutReverse(&f, func(ratio float64, open bool) (finding.Number, bool) { return r.useInReverse(b.Name, sc, ratio, open) })
	}
	r.Findings = append(r.Findings, f)
}

func (r *Result) useFinding(b *Bracket, id, title string, u Use, more string) finding.Finding {
	f := finding.Finding{ID: id, Title: b.Label + " bracket, screening use of strength: " + title}
	f.Judge(u.Of, r.ready.use, false)
	if f.Status != finding.Over && f.HasValue && b.Strength.Why != "" {
		f.Unknown(b.Strength.Why)
	}
	if on := b.standsOn(); on != "" && id != finding.PadPlateBending(b.Name) {
		f.Assumes = append(f.Assumes, on)
	}
	f.Assumes = append(f.Assumes, u.rests...)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		governs := u.governs()
		unsure := "The spring rates are estimates, and how the mounts share the load with them: measure the rates, or "
		if b.ready.mount.Corner != "" || b.ready.mount.Support() {
			unsure = "It keeps its limit by less than the ± of what it rests on: measure that more closely, or "
		}
		return map[finding.Status]string{
			finding.OK:    governs + engineers,
			finding.Tight: governs + unsure + more + ". " + engineers,
			finding.Over:  governs + "Too weak: " + more + ". " + engineers,
		}
	})
	return f
}

const (
	atFoot = "at its foot"
	atPad  = "at its pad"
)

// legScreen looks at both ends of the leg: between them the moments run straight.
func (b *Bracket) legScreen(at r3.Vec) (screen, error) {
	yield, _ := b.Spec.Strengths()
	ends := [2]geombracket.Cut{b.Cut, b.Cut}
	ends[1].Rail.At = b.Cut.Pad.At // the section at the pad's cut
	part := b.Label + " leg"
	stress := func(force r3.Vec) (worst section.MemberStress, end int, err error) {
		for i := range ends {
			f, err := ends[i].Forces(force, at)
			if err != nil {
				return worst, 0, err
			}
			s, err := b.Cut.Section.Screen(part, f, yield, section.TorsionModulus)
			if err != nil {
				return worst, 0, err
			}
			if i == 0 || s.Utilisation > worst.Utilisation {
				worst, end = s, i
			}
		}
		return worst, end, nil
	}
	var rests []string
	if b.Cut.Open() {
		rests = openRests
	}
	strut := b.legStrut(yield)
	if strut != nil {
		rests = append([]string{"the leg as a strut twice as long as it is, one end free to go aside"}, rests...)
	}
	return screen{
		adds: strut == nil, even: strut == nil, rests: rests,
		used: func(force r3.Vec) (float64, error) {
			s, _, err := stress(force)
			if err != nil || strut == nil {
				return s.Utilisation, err
			}
			return max(s.Utilisation, strut(&s)), nil
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Leg
			s, end, _ := stress(force)
			u.Stress, u.At = s, [2]string{atFoot, atPad}[end]
		},
	}, nil
}
