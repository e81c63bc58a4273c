package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// legWeld is the weld at one end of a leg: its lines in the plane of the cut.
type legWeld struct {
	at    string
	pose  geom.Pose
	group geombracket.WeldGroup
	ready geombracket.ReadyWeld
	thin  float64 // the thinner part it joins, mm
	sides []WeldSide
}

// weldScreen treats the welds of the tube as lines in the planes of its cuts: at
// the foot, and the same fillet at the pad where there is a plate. A saddle's
// weld is taken as the flat ring of the tube's outside.
func (b *Bracket) weldScreen(at r3.Vec) (screen, error) {
	if !b.Spec.Weld.Size.Known() {
		return screen{}, lacking("mount." + b.ready.made + "." + b.ready.table + ".weld.size")
	}
	welds, err := b.legWelds()
	if err != nil {
		return screen{}, err
	}
	strength, err := b.ready.weldStrength, b.ready.weldWhy
	if err != nil {
		return screen{}, err
	}
	line := welds[0].ready.Line()
	yield, _ := b.Spec.Strengths()
	places := make([]r3.Vec, len(welds))
	for i, w := range welds {
		places[i] = w.pose.Own(at)
	}
	wall := b.wall()
	stress := func(force r3.Vec) (used float64, worst geombracket.WeldStress, weld int, byWall bool, err error) {
		for i := range welds {
			w := &welds[i]
			load := geombracket.Load{Force: w.pose.OwnDir(force), At: places[i]}
			s, err := w.ready.Stress(load, strength)
			if err != nil {
				return 0, s, i, false, err
			}
			v, beside := s.Utilisation, math.Sqrt(3)*s.PerLength/wall/yield // it is not more than this
			if beside > v {
				if beside, err = w.ready.Beside(load, wall); err != nil {
					return 0, s, i, false, err
				}
				beside /= yield
			}
			if v = max(v, beside); i == 0 || v > used {
				used, worst, weld, byWall = v, s, i, beside > s.Utilisation
			}
		}
		return used, worst, weld, byWall, nil
	}
	return screen{
		rests: b.weldRests(), adds: true, even: true,
		used: func(force r3.Vec) (float64, error) {
			used, _, _, _, err := stress(force)
			return used, err
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Weld
			_, s, i, byWall, _ := stress(force)
			u.Line, u.Stress, u.At, u.Counted, u.ByWall = line, s, welds[i].at, welds[i].group.Leg, byWall
		},
	}, nil
}

// legWelds are the welds of the leg, that at its foot first, with the fillet that
// counts.
func (b *Bracket) legWelds() ([]legWeld, error) {
	foot := legWeld{at: atFoot, thin: b.wall()}
	if t := b.Spec.RailPlate.Thickness; t.V() > 0 {
		foot.thin = min(foot.thin, t.V())
	}
	ends := []legWeld{foot}
	if t := b.Spec.PadPlate.Thickness; t.V() > 0 {
		ends = append(ends, legWeld{at: atPad, thin: min(b.wall(), t.V())})
	}
	for i := range ends {
		e := &ends[i]
		face := geombracket.Face{Point: b.Cut.Rail.At, Normal: b.Leg.Rail.Normal}
		if e.at == atPad {
			face = geombracket.Face{Point: b.Cut.Pad.At, Normal: r3.Scale(-1, b.Leg.Pad.Normal)}
		}
		var err error
		if e.pose, err = geombracket.FacePose(b.Label+" weld", face, r3.Vec{}); err != nil {
			return nil, err
		}
		e.group = geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(e.thin))}
		edge := b.Cut.Edge(e.at == atFoot, e.pose)
		if e.group.Runs, e.group.Bows, err = b.weldRuns(edge, b.round()); err != nil {
			return nil, err
		}
		e.sides = b.weldSides(&edge, b.Cut.U, b.Cut.V)
		if e.ready, err = e.group.Ready(); err != nil {
			return nil, err
		}
	}
	return ends, nil
}

// weldRuns are the lines that are welded: a side from one rounded corner to the
// next, and the corners only where it goes all round.
func (b *Bracket) weldRuns(e geombracket.EdgeLine, round bool) (runs [][]r2.Vec, bows []geombracket.Bow, err error) {
	switch r := b.Spec.Weld.Runs; {
	case r == "" || r == project.AllRound:
		bows = e.Corners
	case round:
		return nil, nil, fmt.Errorf("the weld of the %s leg: a round tube has no sides; it is welded all round", b.Label)
	}
	for _, s := range b.weldedSides() {
		if len(e.Sides[s]) > 0 {
			runs = append(runs, e.Sides[s])
		}
	}
	return runs, bows, nil
}

// weldedSides are the sides of a tube that are welded.
func (b *Bracket) weldedSides() []geombracket.Side {
	switch b.Spec.Weld.Runs {
	case "", project.AllRound:
		return []geombracket.Side{geombracket.Top, geombracket.Right, geombracket.Bottom, geombracket.Left}
	case project.TopAndBottom:
		return []geombracket.Side{geombracket.Top, geombracket.Bottom}
	}
	return []geombracket.Side{geombracket.Left, geombracket.Right}
}

func (b *Bracket) round() bool { return round(b.Leg.Shape) }

func round(s section.Shape) bool { return s.Kind == section.RoundTube || s.Kind == section.RoundBar }

// thinnest is the least wall of what is welded, mm.
func (b *Bracket) thinnest() float64 {
	switch {
	case b.Plates != nil:
		return b.Plates.thinnest()
	case b.Members == nil:
		return b.wall()
	}
	thin := math.Inf(1)
	for i := range b.Members.Solved.Parts {
		thin = min(thin, wallOf(b.Members.Solved.Parts[i].Shape))
	}
	return thin
}

// wall is the thickness of the leg where it is welded, mm: a tube's wall as it
// is bought, or the least size of a bar.
func (b *Bracket) wall() float64 { return wallOf(b.Leg.Shape) }

func wallOf(s section.Shape) float64 {
	switch s.Kind {
	case section.RoundBar:
		return s.H
	case section.FlatBar:
		return min(s.B, s.H)
	default:
		return s.T
	}
}

// weldRests says what the weld's figure rests on.
func (b *Bracket) weldRests() []string {
	rests := []string{"a fillet fused over its whole throat"}
	if b.Spec.PadPlate.Thickness.V() > 0 {
		rests = append(rests, "the same fillet at the pad as at the foot")
	} else {
		rests = append(rests, "the weld at its pad is not looked at: mount."+b.ready.made+"."+b.ready.table+".pad_plate is not in the file")
	}
	if b.Saddle != nil {
		rests = append(rests, "the saddle's weld as the flat ring of the tube's outside")
	}
	return rests
}

// weldTensile is the tensile strength of the weaker part of a weld, MPa.
func weldTensile(l project.Leg) float64 {
	_, tensile := l.Strengths()
	return l.Weld.Tensile.Or(tensile)
}

// betaW is the correlation factor of EN 1993-1-8, table 4.1, for the grade
// whose tensile strength is at least that of the weaker part, MPa: a steel beyond
// S355 has 1.0.
func betaW(tensile float64) float64 {
	const s235, s275, s355 = 360, 430, 510 // MPa, EN 1993-1-1, table 3.1, the highest printed
	switch fu := tensile; {
	case fu <= s235:
		return 0.8
	case fu <= s275:
		return 0.85
	case fu <= s355:
		return 0.9
	}
	return 1
}

// filletFinding holds the size of the fillet against the thinner part it joins:
// too large burns through and counts for no more, too small cracks.
func (r *Result) filletFinding(b *Bracket) {
	size, ok := b.Spec.Weld.Size.Get()
	if !ok || !b.Stands() {
		return
	}
	thin := b.thinnest()
	for _, p := range []project.LegPlate{b.Spec.PadPlate, b.Spec.RailPlate} {
		if t := p.Thickness.V(); t > 0 {
			thin = min(thin, t)
		}
	}
	f := finding.Finding{ID: finding.BracketWeldSize(b.Name), Title: b.Label + " bracket, size of the fillet"}
	most, leg := geombracket.FilletMost(thin), geombracket.FilletLeast(thin)
	said, want := "A fillet larger than the thinner part is thick (%s) burns through and pulls, and counts for no more: weld %s.", most
	if size < leg && leg <= most {
		f.JudgeAt(finding.Exact(size), leg, project.Rule{Kind: quantity.Length, Source: "AISC 360, table J2.4, from memory"}, true)
		said, want = "So small a fillet cools too fast beside %s of steel and cracks: weld %s.", leg
	} else {
		f.JudgeAt(finding.Exact(size), most, project.Rule{Kind: quantity.Length, Source: "DIN 18800-1, element 519, from memory: throat to 0.7 of the thinner part"}, false)
	}
	units := r.ready.units
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		length := func(v float64) string { return quantity.Format(quantity.Length, v, units, 1) }
		return map[finding.Status]string{
			finding.OK:   "The fillet goes with the thinner part it joins.",
			finding.Over: fmt.Sprintf(said, length(thin), length(want)),
		}
	})
	r.Findings = append(r.Findings, f)
}
