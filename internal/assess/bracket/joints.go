package bracket

import (
	"fmt"

	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

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
