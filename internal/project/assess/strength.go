package assess

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
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
}

// Use is the largest part of a strength that is used, and when.
type Use struct {
	Begun bool
	Of    Measure // 1 is all of it
	Case  string  // the load case that governs
}

// LegUse is the tube: axial, bending and torsion together against its yield.
type LegUse struct {
	Use
	Stress bracket.MemberStress // in that case
	At     string               // at its foot, or at its pad
}

// WeldUse is the weld group as lines.
type WeldUse struct {
	Use
	Line   bracket.WeldLine
	Stress bracket.WeldStress
}

// BoltUse is the bolt that carries most.
type BoltUse struct {
	Use
	Tighten        bracket.Tightening
	Shear, Tension float64 // N
	Check          bracket.BoltCheck
}

// engineers is said wherever a strength is.
const engineers = "Screening figure: a licensed engineer and the local rules decide."

// strength screens a bracket under every load case.
func (a *Assessment) strength(b *Bracket) {
	cases, at, why := a.mountForces(b.Name)
	if len(cases) == 0 && why == "" || !b.HasCut { // what is wrong with the leg is said already
		return
	}
	s := &b.Strength
	s.Begun = true
	if why == "" && a.Statics.TorqueWhy != "" {
		s.Why = a.Statics.TorqueWhy // the rest is worked out, and may be over already
	}
	if b.Spec.Pad.Known {
		at = b.Leg.Pad.Point
	}
	s.Leg.Begun, s.Weld.Begun, s.Bolts.Begun = true, b.Spec.Weld.Begun(), b.Spec.Bolts.Begun()
	for _, u := range []struct {
		id, title string
		use       *Use
		run       screen
		more      string
	}{
		{"bending", "leg", &s.Leg.Use, b.useLeg, "take a larger section, a shorter leg, or a foot that is straighter across"},
		{"weld", "weld", &s.Weld.Use, b.useWeld, "make the weld longer or larger, all round, or the section larger"},
		{"bolts", "bolts", &s.Bolts.Use, b.useBolts, "set the bolts farther apart, or take more of them, larger ones or a higher class"},
	} {
		if !u.use.Begun {
			continue
		}
		u.use.Of = missing(why)
		if why == "" {
			if err := u.run(cases, at); err != nil {
				u.use.Of = missing(err.Error())
			}
			u.use.Of = a.openRates(b, u.use, u.run, at)
		}
		a.useFinding(b, u.id, u.title, *u.use, u.more)
		f := &a.Findings[len(a.Findings)-1]
		f.Assumes = append(f.Assumes, a.loadAssumes()...)
		a.withoutReverse(f, func(ratio float64) (float64, bool) { return a.useInReverse(b, u.use, u.run, at, ratio) })
	}
}

func (a *Assessment) useFinding(b *Bracket, id, title string, u Use, more string) {
	f := Finding{ID: "bracket." + b.Name + "." + id, Title: b.Label + " bracket, screening use of strength: " + title}
	f.judge(u.Of, a.Build.Limit("screening_use"), false)
	if f.Status != Over && f.HasValue && b.Strength.Why != "" {
		f.unknown(b.Strength.Why)
	}
	governs := "Governed by " + u.Case + ". "
	f.Advice = advise(f, map[Status]string{
		OK:    governs + engineers,
		Tight: governs + "The spring rates are estimates, and how the mounts share the load with them: measure the rates, or " + more + ". " + engineers,
		Over:  governs + "Too weak: " + more + ". " + engineers,
	})
	a.Findings = append(a.Findings, f)
}

// useLeg looks at both ends of the leg: between them the moments run straight.
func (b *Bracket) useLeg(cases []caseForce, at r3.Vec) error {
	yield, _ := b.Spec.Strengths()
	u := &b.Strength.Leg
	foot := b.Cut
	pad := b.Cut
	pad.Rail.At = b.Cut.Pad.At // the section at the pad's cut
	for _, c := range cases {
		for _, end := range []struct {
			name string
			cut  *bracket.Cut
		}{{"at its foot", &foot}, {"at its pad", &pad}} {
			f, err := end.cut.Forces(c.Force, at)
			if err != nil {
				return err
			}
			s, err := b.Cut.Section.Screen(b.Label+" leg", f, yield, bracket.TorsionModulus)
			if err != nil {
				return err
			}
			if !u.Of.Known || s.Utilisation > u.Of.V {
				u.Of, u.Case, u.Stress, u.At = known(s.Utilisation, 0), c.Case, s, end.name
			}
		}
	}
	return nil
}

// useWeld treats the weld between tube and rail as lines in the rail's plane.
// A saddle's weld is taken as the flat ring of the tube's outside.
func (b *Bracket) useWeld(cases []caseForce, at r3.Vec) error {
	if !b.Spec.Weld.Size.Known() {
		return lacking("mount." + b.Name + ".leg.weld.size")
	}
	pose, err := bracket.FacePose(b.Label+" weld", bracket.Face{Point: b.Cut.Rail.At, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return err
	}
	runs, err := b.weldRuns(pose)
	if err != nil {
		return err
	}
	group := bracket.WeldGroup{Name: b.Label, Leg: b.Spec.Weld.Size.V(), Runs: runs}
	u := &b.Strength.Weld
	if u.Line, err = group.Line(); err != nil {
		return err
	}
	strength, err := bracket.CodeWeld(b.Label+" weld", b.weldTensile(), b.betaW())
	if err != nil {
		return err
	}
	for _, c := range cases {
		s, err := group.Stress(bracket.Load{Force: pose.OwnDir(c.Force), At: pose.Own(at)}, strength)
		if err != nil {
			return err
		}
		if !u.Of.Known || s.Utilisation > u.Of.V {
			u.Of, u.Case, u.Stress = known(s.Utilisation, 0), c.Case, s
		}
	}
	return nil
}

func (b *Bracket) weldTensile() float64 {
	_, tensile := b.Spec.Strengths()
	return b.Spec.Weld.Tensile.Or(tensile)
}

// betaW is the correlation factor of EN 1993-1-8, table 4.1, for the grade
// whose tensile strength is at least that of the weaker part: a steel beyond
// S355 has 1.0.
func (b *Bracket) betaW() float64 {
	const s235, s275, s355 = 360, 430, 510 // MPa, EN 1993-1-1, table 3.1, the highest printed
	switch fu := b.weldTensile(); {
	case fu <= s235:
		return 0.8
	case fu <= s275:
		return 0.85
	case fu <= s355:
		return 0.9
	}
	return 1
}

func (b *Bracket) weldRuns(pose geom.Pose) ([][]r2.Vec, error) {
	round := b.Leg.Shape.Kind == bracket.RoundTube || b.Leg.Shape.Kind == bracket.RoundBar
	runs := b.Spec.Weld.Runs
	if runs == "" || runs == project.AllRound {
		n := 3
		if round {
			n = 10
		}
		pts := bracket.OnFace(pose, b.Cut.Outline(true, n))
		return [][]r2.Vec{append(pts, pts[0])}, nil
	}
	if round {
		return nil, fmt.Errorf("the weld of the %s leg: a round tube has no sides; it is welded all round", b.Label)
	}
	u, v := b.Leg.Shape.B/2, b.Leg.Shape.H/2
	corner := func(u, v float64) r2.Vec {
		_, to := b.Cut.Line(u, v)
		p := r3.Add(b.Cut.Pad.At, r3.Add(r3.Scale(to, b.Cut.Axis), r3.Add(r3.Scale(u, b.Cut.U), r3.Scale(v, b.Cut.V))))
		return bracket.OnFace(pose, []r3.Vec{p})[0]
	}
	if runs == project.TopAndBottom {
		return [][]r2.Vec{{corner(-u, v), corner(u, v)}, {corner(-u, -v), corner(u, -v)}}, nil
	}
	return [][]r2.Vec{{corner(-u, -v), corner(-u, v)}, {corner(u, -v), corner(u, v)}}, nil
}

// useBolts divides the load among the bolts of the rail plate.
func (b *Bracket) useBolts(cases []caseForce, at r3.Vec) error {
	p := b.Spec.RailPlate
	bolt, err := b.bolt()
	if err != nil {
		return err
	}
	u := &b.Strength.Bolts
	if u.Tighten, err = bolt.Tighten(); err != nil {
		return err
	}
	pose, err := bracket.FacePose(b.Label+" bolts", bracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal}, r3.Vec{})
	if err != nil {
		return err
	}
	pattern := bracket.BoltPattern{Name: b.Label, At: boltsOf(p)}
	joint := bracket.BoltJoint{}
	if w := b.RailPlate; w != nil && len(w.Plate.Holes) > 0 {
		_, joint.Fu = b.Spec.Strengths()
		joint.Plate, joint.Hole = p.Thickness.V(), p.Hole.V()
		joint.End = w.Figures.Edge + joint.Hole/2 // the least of all, both ways: on the safe side
		joint.Side = joint.End
	}
	for _, c := range cases {
		shares, err := pattern.Share(bracket.Load{Force: pose.OwnDir(c.Force), At: pose.Own(at)})
		if err != nil {
			return err
		}
		for _, s := range shares {
			joint.Shear, joint.Tension = math.Hypot(s.Shear.X, s.Shear.Y), max(0, s.Tension)
			got, err := bolt.Check(joint)
			if err != nil {
				return err
			}
			if !u.Of.Known || got.Governs > u.Of.V {
				u.Of, u.Case, u.Check = known(got.Governs, 0), c.Case, got
				u.Shear, u.Tension = joint.Shear, joint.Tension
			}
		}
	}
	return nil
}

func (b *Bracket) bolt() (bracket.Bolt, error) {
	s, p, path := b.Spec.Bolts, b.Spec.RailPlate, "mount."+b.Name+".leg."
	switch {
	case s.Thread == "":
		return bracket.Bolt{}, lacking(path + "bolts.thread")
	case s.Class == "":
		return bracket.Bolt{}, lacking(path + "bolts.class")
	case p.Across.Or(2) > 1 && !p.PitchAcross.Known():
		return bracket.Bolt{}, lacking(path + "rail_plate.pitch_across")
	case p.High.Or(2) > 1 && !p.PitchHigh.Known():
		return bracket.Bolt{}, lacking(path + "rail_plate.pitch_high")
	}
	t, err := bracket.ParseThread(b.Label+" bolts", s.Thread)
	return bracket.Bolt{Name: b.Label, Thread: t, Class: s.Class, K: s.TorqueK.V(), Share: s.Preload.V()}, err
}

// values lists every number of a bracket's strength.
func (s *Strength) values(id string, l *valueList) {
	if !s.Begun {
		return
	}
	if u := s.Leg; u.Of.Known {
		l.add(id+".leg.stress", quantity.Stress, u.Stress.Equivalent)
		l.add(id+".leg.axial", quantity.Stress, u.Stress.Axial)
		l.add(id+".leg.bending", quantity.Stress, u.Stress.BendY+u.Stress.BendZ)
		l.add(id+".leg.torsion", quantity.Stress, u.Stress.Torsion)
		l.add(id+".leg.yield", quantity.Stress, u.Stress.Allowable)
	}
	if u := s.Weld; u.Of.Known {
		l.add(id+".weld.length", quantity.Length, u.Line.Length)
		l.add(id+".weld.throat", quantity.Stress, u.Stress.Throat)
		l.add(id+".weld.strength", quantity.Stress, u.Stress.Strength.Throat)
	}
	if u := s.Bolts; u.Of.Known {
		l.add(id+".bolts.shear", quantity.Force, u.Shear)
		l.add(id+".bolts.tension", quantity.Force, u.Tension)
		l.add(id+".bolts.parting", quantity.Number, u.Check.Parting)
	}
	if t := s.Bolts.Tighten; t.Torque > 0 {
		l.add(id+".bolts.area", quantity.Number, t.Area)
		l.add(id+".bolts.proof", quantity.Force, t.Proof)
		l.add(id+".bolts.preload", quantity.Force, t.Preload)
		l.add(id+".bolts.torque", quantity.Torque, t.Torque)
	}
}

// slug is a name as part of a dotted name.
func slug(s string) string {
	s = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, strings.ToLower(s))
	return strings.Trim(s, "_")
}
