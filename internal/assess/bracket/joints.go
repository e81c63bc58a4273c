package bracket

import (
	"fmt"

	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"

	"gonum.org/v1/gonum/spatial/r3"
)

// joint is a weld of a mount of several members, and what it carries.
type joint struct {
	legWeld
	wall  float64
	pulls func(x underLoad, force, at r3.Vec) geombracket.Load
}

// underLoad is a mount of several members under a load, its feet fixed in one way.
type underLoad struct {
	frame *assembly.Frame
	res   *frame.Result
}

// under is the mount under a force at a place, with its feet fixed in each way that
// counts.
func (a *Assembly) under(force, at r3.Vec) ([]underLoad, error) {
	out := make([]underLoad, len(a.frames))
	for i, f := range a.frames {
		res, err := f.Under(force, at)
		if err != nil {
			return nil, err
		}
		out[i] = underLoad{f, res}
	}
	return out, nil
}

// joints are the welds at the ends of the members, those on the rail first, and that
// of a plate that lies on one.
func (b *Bracket) joints() ([]joint, error) {
	a := b.Members
	var feet, rest []joint
	for i := range a.Solved.Parts {
		p := &a.Solved.Parts[i]
		for e := range p.Ends {
			j, welded, err := b.jointAt(i, e)
			switch {
			case err != nil:
				return nil, err
			case !welded:
			case onRail(&p.Ends[e]):
				feet = append(feet, j)
			default:
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

// onRail says that an end stands on a rail.
func onRail(e *assembly.End) bool { return e.Kind == assembly.Rail || e.Kind == assembly.Lies }

// joinedTo is how thick what an end is welded to is there, mm; 0 where it is a rail,
// and false where nothing is welded.
func (b *Bracket) joinedTo(i, e int) (float64, bool) {
	p := &b.Members.Solved.Parts[i]
	switch end := &p.Ends[e]; {
	case end.Ball, end.Kind == assembly.Lies && b.sleeved():
		return 0, false
	case onRail(end):
		return b.Spec.RailPlate.Thickness.V(), true
	case end.Kind == assembly.Pad:
		t := b.Spec.PadPlate.Thickness.V()
		return t, t > 0
	case end.Kind == assembly.OnMember:
		return wallOf(b.Members.Solved.Parts[p.Host[e]].Shape), true
	case end.Kind == assembly.Mitre && p.Host[e] > i: // one weld for the two of them
		return wallOf(b.Members.Solved.Parts[p.Host[e]].Shape), true
	}
	return 0, false
}

// jointAt is the weld at an end of a member; false where there is none.
func (b *Bracket) jointAt(i, e int) (joint, bool, error) {
	p := &b.Members.Solved.Parts[i]
	thick, welded := b.joinedTo(i, e)
	if !welded {
		return joint{}, false, nil
	}
	j := joint{wall: wallOf(p.Shape)}
	thin := j.wall
	if thick > 0 {
		thin = min(thin, thick)
	}
	j.at = p.Name + ", " + endWords(p, e)
	j.group = geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(thin))}
	c := p.Cut.Pad
	if e == 1 {
		c = p.Cut.Rail
	}
	face := geombracket.Face{Point: c.At, Normal: c.Normal}
	if p.Ends[e].Kind == assembly.Lies {
		face = b.liesOn(p, e)
	}
	var err error
	if j.pose, err = geombracket.FacePose(b.Label+" weld", face, r3.Vec{}); err != nil {
		return j, true, err
	}
	if p.Ends[e].Kind == assembly.Lies {
		l := onPlate(p, p.Side[e], b.Spec.RailPlate, j.pose, p.Along(e))
		j.group.Runs, j.sides = l.edges(), lyingSides(&l, j.pose)
	} else {
		edge := p.Cut.Edge(e == 1, j.pose)
		if j.group.Runs, j.group.Bows, err = b.weldRuns(edge, round(p.Shape)); err != nil {
			return j, true, err
		}
		j.sides = b.weldSides(&edge, p.Cut.U, p.Cut.V)
	}
	j.pulls = func(x underLoad, _, _ r3.Vec) geombracket.Load {
		where, push := x.frame.AtEnd(x.res, i, e)
		return geombracket.Load{Force: j.pose.OwnDir(push.Force), At: j.pose.Own(where), Moment: j.pose.OwnDir(push.Moment)}
	}
	return j, true, nil
}

// liesOn is the upper face of the plate that a member lies on: where it is welded.
func (b *Bracket) liesOn(p *assembly.Part, e int) geombracket.Face {
	n := r3.Unit(p.Ends[e].Face.Normal)
	at := r3.Sub(p.Ends[e].At, r3.Scale(p.Half(p.Side[e]), n))
	return geombracket.Face{Point: at, Normal: n}
}

// perchWeld is that of a pad's plate that lies on a member: along both edges of the
// side it lies on, or its own edges where it is narrower.
func (b *Bracket) perchWeld() (joint, error) {
	j := joint{}
	p, pose, l, err := b.perched()
	if err != nil {
		return j, err
	}
	j.at, j.pose, j.wall, j.sides = "pad plate, on the "+p.Name, pose, wallOf(p.Shape), lyingSides(&l, pose)
	j.group = geombracket.WeldGroup{Name: b.Label, Leg: min(b.Spec.Weld.Size.V(), geombracket.FilletMost(min(b.Spec.PadPlate.Thickness.V(), j.wall))), Runs: l.edges()}
	j.pulls = func(_ underLoad, force, at r3.Vec) geombracket.Load {
		return geombracket.Load{Force: pose.OwnDir(force), At: pose.Own(at)}
	}
	return j, nil
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
	worst := func(force r3.Vec) (most jointUse, err error) {
		all, err := b.Members.under(force, at)
		if err != nil {
			return most, err
		}
		for k, x := range all {
			for i := range welds {
				got, err := welds[i].use(x, force, at, strength, yield)
				if err != nil {
					return most, err
				}
				if k == 0 && i == 0 || got.used > most.used {
					most = got
				}
			}
		}
		return most, nil
	}
	line := welds[0].ready.Line()
	rests := append(b.rests(), "a fillet fused over its whole throat, of one size at every joint")
	if b.Spec.PadPlate.Thickness.V() == 0 && !b.pinned() {
		rests = append(rests, "the weld at its pad is not looked at: mount."+b.ready.made+".bracket.pad_plate is not in the file")
	}
	return screen{
		adds: true, even: true, rests: rests,
		used: func(force r3.Vec) (float64, error) {
			most, err := worst(force)
			return most.used, err
		},
		keep: func(force r3.Vec) {
			u := &b.Strength.Weld
			most, _ := worst(force)
			u.Line, u.Stress, u.ByWall = line, most.stress, most.byWall
			if most.weld != nil {
				u.At, u.Counted = most.weld.at, most.weld.group.Leg
			}
		},
	}, nil
}

// jointUse is what a weld uses of its strength, or the wall beside it.
type jointUse struct {
	used   float64
	stress geombracket.WeldStress
	weld   *joint
	byWall bool
}

func (w *joint) use(x underLoad, force, at r3.Vec, strength geombracket.WeldStrength, yield float64) (jointUse, error) {
	load := w.pulls(x, force, at)
	s, err := w.ready.Stress(load, strength)
	if err != nil {
		return jointUse{}, err
	}
	beside, err := w.ready.Beside(load, w.wall)
	if err != nil {
		return jointUse{}, err
	}
	beside /= yield
	return jointUse{max(s.Utilisation, beside), s, w, beside > s.Utilisation}, nil
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
