package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// membersStrength screens a mount of several members under every load case, solved
// as a frame.
func (r *Result) membersStrength(b *Bracket) {
	load, at := r.beginStrength(b, b.Members.Pad.Point)
	s := &b.Strength
	if load.Why == "" && b.Members.loose != nil {
		load.Why = b.Members.loose.Error()
	}
	s.Struts.Begun = true
	for _, u := range []useOf{
		{finding.BracketBending, "members", &s.Leg.Use, b.membersScreen, "take a larger section, or a shorter way from pad to rail"},
		{finding.BracketStruts, "buckling of its members", &s.Struts.Use, b.strutsScreen, "take a larger section, or a shorter member"},
		{finding.BracketWeld, "welds", &s.Weld.Use, b.jointsScreen, "make the weld larger, all round, or the section larger"},
		{finding.BracketBolts, "bolts", &s.Bolts.Use, b.feetBoltsScreen, "set the bolts farther apart, or take more of them, larger ones or a higher class"},
		{finding.PadPlateBending, "pad plate", &s.PadPlate.Use, b.perchScreen, "take a thicker pad plate, or bring what is bolted to it nearer to what carries it"},
		{finding.RailPlateBending, "rail plates", &s.RailPlate.Use, b.feetPlatesScreen, "take thicker rail plates, or bring their bolts nearer to the tube"},
	} {
		r.screened(b, u, &load, at)
	}
}

// railHolds is said of whatever rests on a rail that is not looked at.
const railHolds = "a rail that does not give way, whose own web and face under the weld are not judged"

// rests are what all figures of a mount of several members rest on.
func (b *Bracket) rests() []string {
	out := []string{railHolds}
	for i := range b.Members.Solved.Parts {
		p := &b.Members.Solved.Parts[i]
		for e := range p.Ends {
			if p.Ends[e].Kind == assembly.OnMember {
				return append(out, "the wall of a member under what is welded to it: not judged")
			}
		}
	}
	return out
}

// membersScreen looks along every member of the frame.
func (b *Bracket) membersScreen(at r3.Vec) (screen, error) {
	a := b.Members
	yield, _ := b.Spec.Strengths()
	worst := func(force r3.Vec) (s frame.Stress, part int, along float64, err error) {
		res, err := a.frame.Under(force, at)
		if err != nil {
			return s, 0, 0, err
		}
		for i := range a.Solved.Parts {
			got, x, err := a.frame.Stress(res, i)
			if err != nil {
				return s, 0, 0, err
			}
			if i == 0 || got.Equivalent > s.Equivalent {
				s, part, along = got, i, x
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
	case assembly.Rail:
		return "at the rail"
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
		res, err := a.frame.Under(force, at)
		if err != nil {
			return 0, 0, err
		}
		for i := range a.Solved.Parts {
			got, err := a.frame.Strut(res, i, yield)
			if err != nil {
				return 0, 0, err
			}
			if got > used {
				used, part = got, i
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

// joint is a weld of a mount of several members, and what it carries.
type joint struct {
	legWeld
	wall  float64
	pulls func(res *frame.Result, force, at r3.Vec) geombracket.Load
}

// joints are the welds at the ends of the members, those on the rail first, and that
// of a plate that lies on one.
func (b *Bracket) joints() ([]joint, error) {
	a := b.Members
	var feet, rest []joint
	for i := range a.Solved.Parts {
		p := &a.Solved.Parts[i]
		for e := range p.Ends {
			end := &p.Ends[e]
			if end.Kind == assembly.Square || end.Ball {
				continue
			}
			thin := wallOf(p.Shape)
			j := joint{wall: thin}
			j.at = p.Name + ", " + endWords(p, e)
			plate := 0.0
			switch end.Kind {
			case assembly.Rail:
				plate = b.Spec.RailPlate.Thickness.V()
			case assembly.Pad:
				if plate = b.Spec.PadPlate.Thickness.V(); plate == 0 {
					continue
				}
			case assembly.OnMember:
				plate = wallOf(a.Solved.Parts[p.Host[e]].Shape)
			case assembly.Square:
			}
			if plate > 0 {
				thin = min(thin, plate)
			}
			c := p.Cut.Pad
			if e == 1 {
				c = p.Cut.Rail
			}
			var err error
			if j.pose, err = geombracket.FacePose(b.Label+" weld", geombracket.Face{Point: c.At, Normal: c.Normal}, r3.Vec{}); err != nil {
				return nil, err
			}
			j.group = geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(thin))}
			if j.group.Runs, j.group.Bows, err = b.weldRuns(p.Cut.Edge(e == 1, j.pose), round(p.Shape)); err != nil {
				return nil, err
			}
			part, which := i, e
			j.pulls = func(res *frame.Result, _, _ r3.Vec) geombracket.Load {
				where, push := a.frame.AtEnd(res, part, which)
				return geombracket.Load{Force: j.pose.OwnDir(push.Force), At: j.pose.Own(where), Moment: j.pose.OwnDir(push.Moment)}
			}
			if end.Kind == assembly.Rail {
				feet = append(feet, j)
			} else {
				rest = append(rest, j)
			}
		}
	}
	all := append(feet, rest...)
	if a.Solved.Perch != "" {
		j, err := b.perchWeld()
		if err != nil {
			return nil, err
		}
		all = append(all, j)
	}
	for i := range all {
		var err error
		if all[i].ready, err = all[i].group.Ready(); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// perchWeld is that of a pad's plate that lies on a member: along both edges of the
// side it lies on, or its own edges where it is narrower.
func (b *Bracket) perchWeld() (joint, error) {
	j := joint{}
	p, pose, lo, hi, half, err := b.perched()
	if err != nil {
		return j, err
	}
	s := b.Spec.PadPlate
	j.at, j.pose, j.wall = "pad plate, on the "+p.Name, pose, wallOf(p.Shape)
	j.group = geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(min(s.Thickness.V(), j.wall)))}
	along := flatOf(pose, p.Cut.Axis)
	side := r2.Vec{X: -along.Y, Y: along.X}
	for _, k := range [2]float64{-1, 1} {
		off := r2.Scale(k*half, side)
		j.group.Runs = append(j.group.Runs, []r2.Vec{r2.Add(off, r2.Scale(lo, along)), r2.Add(off, r2.Scale(hi, along))})
	}
	j.pulls = func(_ *frame.Result, force, at r3.Vec) geombracket.Load {
		return geombracket.Load{Force: pose.OwnDir(force), At: pose.Own(at)}
	}
	return j, nil
}

// flatOf is a direction in the plane of a pose.
func flatOf(pose geom.Pose, d r3.Vec) r2.Vec {
	o := pose.OwnDir(d)
	return r2.Unit(r2.Vec{X: o.X, Y: o.Y})
}

// perched is how the pad's plate lies on a member: the frame of the plate's underside
// about the pad, from where to where along the member they touch, from the pad, and
// half of how wide, mm.
func (b *Bracket) perched() (p *assembly.Part, pose geom.Pose, lo, hi, half float64, err error) {
	a, s := b.Members, b.Spec.PadPlate
	for i := range a.Solved.Parts {
		if a.Solved.Parts[i].Name == a.Solved.Perch {
			p = &a.Solved.Parts[i]
		}
	}
	switch {
	case s.Width.V() == 0:
		return p, pose, 0, 0, 0, lacking("mount." + b.ready.made + ".bracket.pad_plate.width")
	case s.Height.V() == 0:
		return p, pose, 0, 0, 0, lacking("mount." + b.ready.made + ".bracket.pad_plate.height")
	}
	n := r3.Unit(a.Pad.Normal)
	under := r3.Sub(a.Pad.Point, r3.Scale(s.Thickness.V()+s.Gap.V(), n))
	if pose, err = geombracket.FacePose(b.Label+" pad plate", geombracket.Face{Point: under, Normal: n}, r3.Vec{}); err != nil {
		return p, pose, 0, 0, 0, err
	}
	side, best := geombracket.Top, math.Inf(-1)
	sides := map[geombracket.Side]r3.Vec{geombracket.Top: p.Cut.V, geombracket.Bottom: r3.Scale(-1, p.Cut.V),
		geombracket.Right: p.Cut.U, geombracket.Left: r3.Scale(-1, p.Cut.U)}
	for k := geombracket.Bottom; k <= geombracket.Right; k++ {
		if v := r3.Dot(sides[k], n); v > best {
			side, best = k, v
		}
	}
	high, wide := p.Shape.H/2, p.Shape.B/2
	if side == geombracket.Left || side == geombracket.Right {
		high, wide = wide, high
	}
	if round(p.Shape) {
		return p, pose, 0, 0, 0, fmt.Errorf("bracket %s: its pad plate lies on the %s, which is round; take a box tube or a flat bar", b.Label, p.Name)
	}
	middle := r3.Add(p.Cut.Pad.At, r3.Scale(a.Solved.PerchAlong, p.Cut.Axis))
	off := r3.Sub(r3.Sub(under, middle), r3.Scale(high, sides[side]))
	if geom.Between(sides[side], n) > 0.05*geom.Deg || r3.Norm(off) > 1 {
		return p, pose, 0, 0, 0, fmt.Errorf("bracket %s: its pad plate does not lie flat on the %s: they are %.1f mm and %.1f° apart; move the %s under it", b.Label, p.Name,
			r3.Norm(off), geom.Between(sides[side], n).Degrees(), p.Name)
	}
	along := flatOf(pose, p.Cut.Axis)
	reach := func(d r2.Vec) float64 { // of the plate from its middle along a direction
		x, y := math.Inf(1), math.Inf(1)
		if v := math.Abs(d.X); v > 1e-9 {
			x = s.Width.V() / 2 / v
		}
		if v := math.Abs(d.Y); v > 1e-9 {
			y = s.Height.V() / 2 / v
		}
		return min(x, y)
	}
	lo = max(-reach(along), -a.Solved.PerchAlong)
	hi = min(reach(along), p.Cut.Length-a.Solved.PerchAlong)
	return p, pose, lo, hi, min(wide, reach(r2.Vec{X: -along.Y, Y: along.X})), nil
}

// jointsScreen holds every weld of the mount.
func (b *Bracket) jointsScreen(at r3.Vec) (screen, error) {
	if !b.Spec.Weld.Size.Known() {
		return screen{}, lacking("mount." + b.ready.made + ".bracket.weld.size")
	}
	welds, err := b.joints()
	if err != nil {
		return screen{}, err
	}
	if len(welds) == 0 {
		return screen{}, fmt.Errorf("%w: it has no welds: all its ends are on ball joints", errMissing)
	}
	strength, err := b.ready.weldStrength, b.ready.weldWhy
	if err != nil {
		return screen{}, err
	}
	yield, _ := b.Spec.Strengths()
	worst := func(force r3.Vec) (used float64, stress geombracket.WeldStress, weld int, byWall bool, err error) {
		res, err := b.Members.frame.Under(force, at)
		if err != nil {
			return 0, stress, 0, false, err
		}
		for i := range welds {
			w := &welds[i]
			load := w.pulls(res, force, at)
			s, err := w.ready.Stress(load, strength)
			if err != nil {
				return 0, s, i, false, err
			}
			beside, err := w.ready.Beside(load, w.wall)
			if err != nil {
				return 0, s, i, false, err
			}
			beside /= yield
			if v := max(s.Utilisation, beside); i == 0 || v > used {
				used, stress, weld, byWall = v, s, i, beside > s.Utilisation
			}
		}
		return used, stress, weld, byWall, nil
	}
	line := welds[0].ready.Line()
	rests := append(b.rests(), "a fillet fused over its whole throat, of one size at every joint")
	if b.Spec.PadPlate.Thickness.V() == 0 {
		rests = append(rests, "the weld at its pad is not looked at: mount."+b.ready.made+".bracket.pad_plate is not in the file")
	}
	if b.hasBall() {
		rests = append(rests, "pins and lugs of its ball joints: not judged")
	}
	return screen{
		adds: true, even: true, rests: rests,
		used: func(force r3.Vec) (float64, error) {
			used, _, _, _, err := worst(force)
			return used, err
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Weld
			_, s, i, byWall, _ := worst(force)
			u.Line, u.Stress, u.At, u.Counted, u.ByWall = line, s, welds[i].at, welds[i].group.Leg, byWall
		},
	}, nil
}

func (b *Bracket) hasBall() bool {
	for i := range b.Members.Solved.Parts {
		for _, e := range b.Members.Solved.Parts[i].Ends {
			if e.Ball {
				return true
			}
		}
	}
	return false
}

// footLoad is what a foot hands to the rail, in a frame of the rail's face about the
// middle of its plate.
func (b *Bracket) footLoad(res *frame.Result, f *Foot, pose geom.Pose) geombracket.Load {
	where, push := b.Members.frame.AtEnd(res, f.Part, f.End)
	// What acts on the member there is the rail's answer; the plate carries its opposite.
	return geombracket.Load{Force: r3.Scale(-1, pose.OwnDir(push.Force)), At: pose.Own(where), Moment: r3.Scale(-1, pose.OwnDir(push.Moment))}
}

func (b *Bracket) footPose(f *Foot) (geom.Pose, error) {
	return geombracket.FacePose(b.Label+" foot", f.Face, r3.Vec{})
}

// feetBoltsScreen divides what each foot carries among the bolts of its plate.
func (b *Bracket) feetBoltsScreen(at r3.Vec) (screen, error) {
	held, err := b.heldByBolts("bracket")
	if err != nil {
		return screen{}, err
	}
	poses, err := b.feetPoses()
	if err != nil {
		return screen{}, err
	}
	check := func(force r3.Vec) (worst boltLoad, err error) {
		res, err := b.Members.frame.Under(force, at)
		if err != nil {
			return worst, err
		}
		for k := range b.Members.Feet {
			shares, err := held.pattern.Share(nil, b.footLoad(res, &b.Members.Feet[k], poses[k]))
			if err != nil {
				return worst, err
			}
			got, err := held.hardest(shares)
			if err != nil {
				return worst, err
			}
			if k == 0 || got.check.Governs > worst.check.Governs {
				worst = got
			}
		}
		return worst, nil
	}
	return held.screen(b.rests(), check), nil
}

func (b *Bracket) feetPoses() ([]geom.Pose, error) {
	poses := make([]geom.Pose, len(b.Members.Feet))
	for i := range b.Members.Feet {
		var err error
		if poses[i], err = b.footPose(&b.Members.Feet[i]); err != nil {
			return nil, err
		}
	}
	return poses, nil
}

// feetPlatesScreen bends the plate at each foot: between tube and bolts, or welded
// down along its edges.
func (b *Bracket) feetPlatesScreen(at r3.Vec) (screen, error) {
	a, s := b.Members, b.Spec.RailPlate
	poses, err := b.feetPoses()
	if err != nil {
		return screen{}, err
	}
	type bends struct {
		places []geombracket.PlateBending
		bolts  geombracket.ReadyPattern
		group  geombracket.ReadyWeld
		along  []r2.Vec
	}
	feet := make([]bends, len(a.Feet))
	for k := range a.Feet {
		f := &a.Feet[k]
		p := &a.Solved.Parts[f.Part]
		plate, err := b.plateOn("rail", s, s.Height.V()/2, geombracket.OnFace(poses[k], p.Cut.Outline(f.End == 1, around/4)), p.Shape.Kind)
		if err != nil {
			return screen{}, err
		}
		if b.bolted() {
			if feet[k].bolts, feet[k].places, err = b.boltPlaces("rail", s, plate); err != nil {
				return screen{}, err
			}
			continue
		}
		runs, bows, err := b.weldRuns(p.Cut.Edge(f.End == 1, poses[k]), round(p.Shape))
		if err != nil {
			return screen{}, err
		}
		if feet[k].group, err = (geombracket.WeldGroup{Name: b.Label, Leg: 1, Runs: runs, Bows: bows}).Ready(); err != nil {
			return screen{}, err
		}
		feet[k].along = feet[k].group.Places(stripStep)
		for _, q := range feet[k].along {
			got, err := plate.Strip(q, 0)
			if err != nil {
				return screen{}, err
			}
			feet[k].places = append(feet[k].places, got)
		}
	}
	rests, even := "a rail that backs the plates wherever they are pressed on", false
	if !b.bolted() {
		rests, even = "rail plates that are welded down along all their edges", true
	}
	return b.Strength.RailPlate.plateScreen(rests, true, even, func(force r3.Vec) (worst geombracket.PlateBending, err error) {
		res, err := a.frame.Under(force, at)
		if err != nil {
			return worst, err
		}
		for k := range feet {
			load := b.footLoad(res, &a.Feet[k], poses[k])
			var pulls []float64
			if b.bolted() {
				shares, err := feet[k].bolts.Share(nil, load)
				if err != nil {
					return worst, err
				}
				for _, s := range shares {
					pulls = append(pulls, max(0, s.Tension))
				}
			} else {
				forces, err := feet[k].group.Forces(nil, load, feet[k].along)
				if err != nil {
					return worst, err
				}
				for _, f := range forces {
					pulls = append(pulls, f.Z)
				}
			}
			for i, v := range pulls {
				worst = bentMore(worst, feet[k].places[i].Under(v), k == 0 && i == 0)
			}
		}
		return worst, nil
	}), nil
}

// perchScreen bends the pad's plate under the isolator, from whichever of what
// carries it is nearest.
func (b *Bracket) perchScreen(at r3.Vec) (screen, error) {
	a, s, u := b.Members, b.Spec.PadPlate, &b.Strength.PadPlate
	pose, err := geombracket.FacePose(b.Label+" pad plate", a.Pad, r3.Vec{})
	if err != nil {
		return screen{}, err
	}
	plates, size, err := b.carriers(pose)
	if err != nil {
		return screen{}, err
	}
	places := make([]r2.Vec, 0, 4)
	stud := s.Across.Or(1) <= 1 && s.High.Or(1) <= 1 && s.PitchAcross.V() == 0 && s.PitchHigh.V() == 0
	pattern := geombracket.ReadyPattern{}
	if stud {
		places = append(places, r2.Vec{})
	} else {
		if err := b.ready.pitches("pad", s); err != nil {
			return screen{}, err
		}
		places = boltsOf(s)
		if pattern, err = (geombracket.BoltPattern{Name: b.Label, At: places}).Ready(); err != nil {
			return screen{}, err
		}
	}
	bends := make([]geombracket.PlateBending, len(places))
	for i, q := range places {
		others := append(append([]r2.Vec{}, places[:i]...), places[i+1:]...)
		for k := range plates {
			got, err := plates[k].Bend(q, 1, others)
			if err != nil {
				return screen{}, err
			}
			if k == 0 || got.Utilisation < bends[i].Utilisation {
				bends[i] = got
			}
		}
	}
	acts := []r3.Vec{pose.Own(at)}
	if off := b.Spec.Standing.Or(0) / 2; math.Abs(acts[0].Z) < off {
		q := acts[0]
		acts = []r3.Vec{{X: q.X, Y: q.Y, Z: -off}, {X: q.X, Y: q.Y, Z: off}}
	}
	rests := "an isolator bolted to the pad plate as the file has its bolts"
	if stud {
		rests = "an isolator with one stud in the middle of the pad plate"
	}
	return u.plateScreen(rests, true, true, func(force r3.Vec) (worst geombracket.PlateBending, err error) {
		for k, q := range acts {
			load := geombracket.Load{Force: pose.OwnDir(force), At: q}
			if stud {
				worst = bentMore(worst, bends[0].Under(studPull(load, size)), k == 0)
				continue
			}
			shares, err := pattern.Share(nil, load)
			if err != nil {
				return worst, err
			}
			for i, s := range shares {
				worst = bentMore(worst, bends[i].Under(s.Tension), k == 0 && i == 0)
			}
		}
		return worst, nil
	}), nil
}

// carriers are the pad's plate with each of what carries it, and the least width of
// those, mm.
func (b *Bracket) carriers(pose geom.Pose) (plates []geombracket.EndPlate, size float64, err error) {
	a, s := b.Members, b.Spec.PadPlate
	size = math.Inf(1)
	add := func(tube []r2.Vec, shape section.Shape) error {
		e, err := b.plateOn("pad", s, s.Height.V()/2, tube, shape.Kind)
		plates = append(plates, e)
		size = min(size, shape.H)
		if shape.B > 0 {
			size = min(size, shape.B)
		}
		return err
	}
	if a.Solved.Perch != "" {
		p, on, lo, hi, half, err := b.perched()
		if err != nil {
			return nil, 0, err
		}
		along := flatOf(on, p.Cut.Axis)
		side := r2.Vec{X: -along.Y, Y: along.X}
		at := func(x, y float64) r2.Vec { return r2.Add(r2.Scale(x, along), r2.Scale(y, side)) }
		err = add([]r2.Vec{at(lo, -half), at(hi, -half), at(hi, half), at(lo, half)}, p.Shape)
		return plates, size, err
	}
	for i := range a.Solved.Parts {
		p := &a.Solved.Parts[i]
		for e := range p.Ends {
			if p.Ends[e].Kind == assembly.Pad {
				if err := add(geombracket.OnFace(pose, p.Cut.Outline(e == 1, around/4)), p.Shape); err != nil {
					return nil, 0, err
				}
			}
		}
	}
	return plates, size, nil
}
