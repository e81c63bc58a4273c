package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/assembly"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// membersStrength screens a mount of several members under every load case, solved
// as a frame.
func (r *Result) membersStrength(b *Bracket) {
	load, at := r.beginStrength(b, b.Members.Pad.Point)
	s := &b.Strength
	if !b.ready.kind.spec.LeftFoot.Known {
		for i := range b.Members.Feet {
			f := &b.Members.Feet[i]
			plate, holes := r.pastEdges(b, f.Side, f.Face)
			b.past, b.holesPast = max(b.past, plate), max(b.holesPast, holes)
		}
	}
	if load.Why == "" && b.Members.loose != nil {
		load.Why = b.Members.loose.Error()
	}
	s.Gusset.Begun = len(b.Members.Sheets) > 0
	s.Struts.Begun, s.Pin.Begun = true, b.pinned() || b.Members.Solved.Jointed()
	if b.Members.Solved.Jointed() && !b.bolted() { // welded to the rails, and bolted beside those
		s.Bolts.Begun, s.RailPlate.Begun = false, b.Spec.RailPlate != project.LegPlate{}
	}
	if load.Why == "" {
		if err := b.showFixings(&load, at); err != nil {
			load.Why = err.Error()
		}
	}
	for _, u := range b.memberUses() {
		r.screened(b, u, &load, at)
	}
}

// memberUses are the strengths that are looked at of a mount of several members.
func (b *Bracket) memberUses() []useOf {
	s := &b.Strength
	return []useOf{
		{finding.BracketBending, "members", &s.Leg.Use, b.membersScreen, "take a larger section, or a shorter way from pad to rail"},
		{finding.BracketStruts, "buckling of its members", &s.Struts.Use, b.strutsScreen, "take a larger section, or a shorter member"},
		{finding.BracketWeld, "welds", &s.Weld.Use, b.jointsScreen, "make the weld larger, all round, or the section larger"},
		{finding.BracketBolts, "bolts", &s.Bolts.Use, b.feetBoltsScreen, "set the bolts farther apart, or take more of them, larger ones or a higher class"},
		{finding.BracketPin, "through bolt", &s.Pin.Use, b.pinScreen, "take a larger bolt or thicker ears, or more metal round its holes"},
		{finding.BracketGusset, "gussets", &s.Gusset.Use, b.gussetScreen, "make the gusset's fillets larger or its edges longer, or the gusset thicker"},
		{finding.PadPlateBending, "pad plate", &s.PadPlate.Use, b.perchScreen, "take a thicker pad plate, or bring what is bolted to it nearer to what carries it"},
		{finding.RailPlateBending, "rail plates", &s.RailPlate.Use, b.feetPlatesScreen, "take thicker rail plates, or bring their bolts nearer to the tube"},
	}
}

// What is said of whatever rests on something that is not looked at: a rail, a round
// crossmember, a tube in a clamp, or wherever its own foot stands.
const (
	railHolds  = "a rail that does not give way, whose own web and face under the foot are not judged"
	crossHolds = "a crossmember that does not give way, whose wall under the leg is not judged"
	clampHolds = "a tube that does not give way, whose wall under the clamp is not judged"
	ownHolds   = "a subframe or body that does not give way where it stands; what is under its feet is not judged"
)

// standsOn says what of that all its figures rest on; "" of what has no foot.
func (b *Bracket) standsOn() string {
	switch k := b.ready.kind; {
	case b.Members != nil && (k.spec.OwnFoot() || k.spec.LeftFoot.Known), b.Plates != nil && b.Plates.Clip == nil && k.spec.OwnFoot():
		return ownHolds
	case b.Plates != nil && b.Plates.Clip != nil:
		return clampHolds
	case b.Saddle != nil:
		return crossHolds
	case b.HasCut, b.Members != nil, b.Plates != nil:
		return railHolds
	}
	return ""
}

// openRests are what a channel or an angle rests on beyond what a tube does.
var openRests = []string{
	"channels and angles twisted about their shear centre after St Venant; what their held ends keep from warping is not judged",
	"a flange that does not bend by itself under what stands or lies on it: not judged",
	"no weld counted inside a channel or an angle",
	"turning and bending together of a pressed channel or angle, and buckling of its flanges: not judged",
}

// restsOnFixing is said of a crossmember, by how its feet are fixed.
func (b *Bracket) restsOnFixing() string {
	switch b.ready.kind.spec.Fixed {
	case project.FixedHeld:
		return "feet that hold against every turn"
	case project.FixedPinned:
		return "feet that are pinned"
	case project.FixedSlides:
		return "feet that are pinned, one of them free to slide across the vehicle, whichever of them is worse"
	}
	if b.sleeved() {
		return "feet that are pinned: one bolt at each"
	}
	return "feet that hold or feet that are pinned, whichever is worse: mount." + b.ready.made + ".bracket.fixed says which"
}

// rests are what all figures of a mount of several members rest on, besides what it
// stands on.
func (b *Bracket) rests() (out []string) {
	switch {
	case b.ready.kind.spec.Held():
		out = append(out, b.heldRests()...)
	case b.ready.kind.spec.Kind.Crosses():
		out = append(out, b.restsOnFixing())
		if p := b.packing(); p > 0 && b.sleeved() {
			out = append(out, "solid packing under its sleeves, at least as wide as they are")
		} else if p > 0 {
			out = append(out, "solid packing under its feet, as large as their plates")
		}
	}
	for i := range b.Members.Solved.Parts {
		if b.Members.Solved.Parts[i].Cut.Open() {
			out = append(out, openRests...)
			break
		}
	}
	return append(out, b.notJudged()...)
}

// notJudged are the places of a mount of several members that no figure of it looks at,
// beside what it stands on: each is said with every one of them.
func (b *Bracket) notJudged() (out []string) {
	if len(b.Members.Sheets) > 0 {
		out = append(out, "no help of its gussets, which are judged by themselves; the wall of a member under a gusset and at its toe: not judged, and a crack begins there: weld round the toes")
	}
	if b.sleeved() {
		out = append(out, "its sleeves welded all round on both sides of the tube; those welds, and the tube beside their holes: not judged")
	}
	if b.hasBall() {
		out = append(out, "pins and lugs of its ball joints: not judged")
	}
	var coped, branch, knee bool
	for i := range b.Members.Solved.Parts {
		p := &b.Members.Solved.Parts[i]
		for e := range p.Ends {
			coped = coped || p.Copes[e] != nil
			branch = branch || p.Ends[e].Kind == assembly.OnMember
			knee = knee || p.Ends[e].Kind == assembly.Mitre
			if p.Name == b.Members.Solved.Perch && wallOf(p.Shape) == p.Shape.T && e == 0 {
				out = append(out, "the wall of the "+p.Name+" under the pad's plate: not judged")
			}
		}
	}
	if coped {
		out = append(out, "coped ends bevelled inside until they touch all round, their weld as the flat ring of the saw's cut before them")
	}
	if branch {
		out = append(out, "the wall of a member under what is welded to it: not judged")
	}
	if knee {
		out = append(out, "knees without a plate between the two tubes: how their walls give way there is not judged")
	}
	return out
}

// membersScreen looks along every member of the frame.
func (b *Bracket) membersScreen(at r3.Vec) (screen, error) {
	a := b.Members
	yield, _ := b.Spec.Strengths()
	worst := func(force r3.Vec) (s frame.Stress, part int, along float64, err error) {
		all, err := a.under(force, at)
		if err != nil {
			return s, 0, 0, err
		}
		for k, x := range all {
			for i := range a.Solved.Parts {
				got, where, err := x.frame.Stress(x.res, i)
				if err != nil {
					return s, 0, 0, err
				}
				if k == 0 && i == 0 || got.Equivalent > s.Equivalent {
					s, part, along = got, i, where
				}
			}
		}
		return s, part, along, nil
	}
	return screen{
		adds: true, even: true, rests: b.rests(),
		used: func(force r3.Vec) (float64, error) {
			s, _, _, err := worst(force)
			return s.Equivalent / yield, err
		},
		keep: func(force r3.Vec) {
			s, part, along, _ := worst(force)
			u, p := &b.Strength.Leg, &a.Solved.Parts[part]
			u.Stress = section.MemberStress{Axial: s.Axial, BendY: math.Abs(s.BendY), BendZ: math.Abs(s.BendZ), Normal: math.Abs(s.Normal),
				Torsion: s.Torsion, Shear: s.Shear + s.Torsion, Equivalent: s.Equivalent, Allowable: yield, Utilisation: s.Equivalent / yield}
			u.At = b.placeAlong(p, along)
		},
	}, nil
}

// placeAlong names a place on a member.
func (b *Bracket) placeAlong(p *assembly.Part, along float64) string {
	for e := range p.Ends {
		if k := p.Ends[e].Kind; (k == assembly.Bolted || k == assembly.Inside) && math.Abs(along-p.Along(e)) < 1 {
			return p.Name + ", " + endWords(p, e)
		}
	}
	switch {
	case along < 1:
		return p.Name + ", " + endWords(p, 0)
	case along > p.Cut.Length-1:
		return p.Name + ", " + endWords(p, 1)
	}
	return fmt.Sprintf("%s, %.0f mm from its first cut", p.Name, along)
}

// endWords says what a member ends at.
func endWords(p *assembly.Part, e int) string {
	switch end := &p.Ends[e]; end.Kind {
	case assembly.Rail, assembly.Lies:
		if end.On != "" {
			return "on the " + end.On
		}
		return "at the rail"
	case assembly.Mitre:
		return "at its knee with the " + end.Host
	case assembly.Pin:
		return "at its bolt"
	case assembly.Bolted:
		return "at its bolt before the " + end.On
	case assembly.Inside:
		return "at its bolt in the " + end.Host
	case assembly.Pad:
		return "at the pad"
	case assembly.OnMember:
		return "on the " + end.Host
	default:
		return "at its free end"
	}
}

// strutsScreen looks at each member as a strut.
func (b *Bracket) strutsScreen(at r3.Vec) (screen, error) {
	a := b.Members
	yield, _ := b.Spec.Strengths()
	worst := func(force r3.Vec) (used float64, part int, err error) {
		all, err := a.under(force, at)
		if err != nil {
			return 0, 0, err
		}
		for _, x := range all {
			for i := range a.Solved.Parts {
				got, err := x.frame.Strut(x.res, i, yield)
				if err != nil {
					return 0, 0, err
				}
				if got > used {
					used, part = got, i
				}
			}
		}
		return used, part, nil
	}
	return screen{
		rests: append(b.rests(), "each member as a strut twice as long as it is, one end free to go aside"),
		used: func(force r3.Vec) (float64, error) {
			used, _, err := worst(force)
			return used, err
		},
		keep: func(force r3.Vec) {
			_, part, _ := worst(force)
			b.Strength.Struts.At = a.Solved.Parts[part].Name
		},
	}, nil
}
