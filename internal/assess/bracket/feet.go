package bracket

import (
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// footLoad is what a foot hands to the rail, in a frame of the rail's face about the
// middle of its plate.
func (b *Bracket) footLoad(x underLoad, f *Foot, pose geom.Pose) geombracket.Load {
	var out geombracket.Load
	for _, e := range f.ends() {
		where, push := x.frame.AtEnd(x.res, e[0], e[1])
		// What acts on the member there is the rail's answer; the plate carries its opposite.
		one := geombracket.Load{Force: r3.Scale(-1, pose.OwnDir(push.Force)), At: pose.Own(where), Moment: r3.Scale(-1, pose.OwnDir(push.Moment))}
		if len(f.Also) == 0 {
			return one
		}
		out.Force = r3.Add(out.Force, one.Force)
		out.Moment = r3.Add(out.Moment, r3.Add(one.Moment, r3.Cross(one.At, one.Force)))
	}
	return out
}

func (b *Bracket) footPose(f *Foot) (geom.Pose, error) {
	return geombracket.FacePose(b.Label+" foot", f.Face, r3.Vec{})
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

// outlines are what stands on a foot's plate, each once around.
func (b *Bracket) outlines(f *Foot, pose geom.Pose) (out [][]r2.Vec) {
	for _, e := range f.ends() {
		p := &b.Members.Solved.Parts[e[0]]
		if p.Ends[e[1]].Kind == assembly.Lies {
			l := onPlate(p, p.Side[e[1]], b.Spec.RailPlate, pose, p.Along(e[1]))
			out = append(out, l.corners())
			continue
		}
		out = append(out, geombracket.OnFace(pose, p.Cut.Outline(e[1] == 1, around/4)))
	}
	return out
}

// feetBoltsScreen divides what each foot carries among the bolts of its plate.
func (b *Bracket) feetBoltsScreen(at r3.Vec) (screen, error) {
	if b.sleeved() {
		return b.sleeveBoltsScreen(at)
	}
	held, err := b.heldByBolts("bracket")
	if err != nil {
		return screen{}, err
	}
	poses, err := b.feetPoses()
	if err != nil {
		return screen{}, err
	}
	held.named = b.boltNamed(poses)
	check := func(force r3.Vec) (boltLoad, error) {
		return b.worstAtFeet(force, at, poses, func(_ *Foot, _ geom.Pose, load geombracket.Load) (boltLoad, error) {
			shares, _, err := held.seat.Share(nil, load)
			if err != nil {
				return boltLoad{}, err
			}
			return held.hardest(shares)
		})
	}
	return held.screen(append(b.rests(), held.prying()), check), nil
}

// boltNamed says which bolt of which foot one is; poses are those of the feet, nil where
// each has one bolt.
func (b *Bracket) boltNamed(poses []geom.Pose) func(boltLoad) string {
	return func(l boltLoad) string {
		if poses == nil {
			return b.footWords(l.foot)
		}
		return b.footWords(l.foot) + ", " + boltWords(poses[l.foot], l.place)
	}
}

// footWords name a foot: by its member, and where that stands.
func (b *Bracket) footWords(k int) string {
	f := &b.Members.Feet[k]
	p := &b.Members.Solved.Parts[f.Part]
	name := p.Name
	if len(f.Also) > 0 {
		name = strings.Replace(name, assembly.FrontEar, "ears", 1)
	}
	return name + ", " + endWords(p, f.End)
}

// worstAtFeet is the bolt that carries most for what it can, at any foot and in any way
// that its feet may be held, under a force at the pad. carries says it of one foot, by
// the load of its face.
func (b *Bracket) worstAtFeet(force, at r3.Vec, poses []geom.Pose, carries func(f *Foot, pose geom.Pose, load geombracket.Load) (boltLoad, error)) (worst boltLoad, err error) {
	all, err := b.Members.under(force, at)
	if err != nil {
		return worst, err
	}
	for i, x := range all {
		for k := range b.Members.Feet {
			f := &b.Members.Feet[k]
			got, err := carries(f, poses[k], b.footLoad(x, f, poses[k]))
			if err != nil {
				return worst, err
			}
			if i == 0 && k == 0 || got.check.Governs > worst.check.Governs {
				worst = got
				worst.foot = k
			}
		}
	}
	return worst, nil
}

// footPlate is the plate at a foot, ready to be bent: by its bolts, or along its weld.
type footPlate struct {
	places []geombracket.PlateBending
	bolts  pressed
	group  geombracket.ReadyWeld
	along  []r2.Vec // places of the weld; nil where it is bolted
}

func (b *Bracket) footPlate(f *Foot, pose geom.Pose) (out footPlate, err error) {
	s, p := b.Spec.RailPlate, &b.Members.Solved.Parts[f.Part]
	var plates []geombracket.EndPlate
	for _, outline := range b.outlines(f, pose) {
		plate, err := b.plateOn("rail", s, s.Height.V()/2, outline, p.Shape.Kind)
		if err != nil {
			return out, err
		}
		plates = append(plates, plate)
	}
	plate := plates[0]
	if b.bolted() {
		out.bolts, err = b.railBolts(plates, "bracket")
		return out, err
	}
	group := geombracket.WeldGroup{Name: b.Label, Leg: 1}
	for _, e := range f.ends() {
		p := &b.Members.Solved.Parts[e[0]]
		if p.Ends[e[1]].Kind == assembly.Lies {
			l := onPlate(p, p.Side[e[1]], s, pose, p.Along(e[1]))
			group.Runs = append(group.Runs, l.edges()...)
			continue
		}
		runs, bows, err := b.weldRuns(p.Cut.Edge(e[1] == 1, pose), round(p.Shape))
		if err != nil {
			return out, err
		}
		group.Runs, group.Bows = append(group.Runs, runs...), append(group.Bows, bows...)
	}
	if out.group, err = group.Ready(); err != nil {
		return out, err
	}
	out.along = out.group.Places(stripStep)
	for _, q := range out.along {
		got, err := plate.Strip(q, 0)
		if err != nil {
			return out, err
		}
		out.places = append(out.places, got)
	}
	return out, nil
}

// bent is how a foot's plate is bent most under a load.
func (p *footPlate) bent(load geombracket.Load) (worst geombracket.PlateBending, err error) {
	if p.along == nil {
		return p.bolts.bent(load)
	}
	forces, err := p.group.Forces(nil, load, p.along)
	for i, f := range forces {
		worst = bentMore(worst, p.places[i].Under(f.Z), i == 0)
	}
	return worst, err
}

// feetPlatesScreen bends the plate at each foot: between tube and bolts, or welded
// down along its edges.
func (b *Bracket) feetPlatesScreen(at r3.Vec) (screen, error) {
	a := b.Members
	poses, err := b.feetPoses()
	if err != nil {
		return screen{}, err
	}
	feet := make([]footPlate, len(a.Feet))
	for k := range a.Feet {
		if feet[k], err = b.footPlate(&a.Feet[k], poses[k]); err != nil {
			return screen{}, err
		}
	}
	rests, even := "a rail that backs the plates wherever they are pressed on", false
	if len(feet) > 0 && feet[0].bolts.seat.InOneRow() {
		rests = oneRowPries
	}
	if !b.bolted() {
		rests, even = "rail plates that are welded down along all their edges", true
	}
	most := func(force r3.Vec) (worst geombracket.PlateBending, foot int, err error) {
		all, err := a.under(force, at)
		if err != nil {
			return worst, 0, err
		}
		for i, x := range all {
			for k := range feet {
				got, err := feet[k].bent(b.footLoad(x, &a.Feet[k], poses[k]))
				if err != nil {
					return worst, 0, err
				}
				if i == 0 && k == 0 || got.Utilisation > worst.Utilisation {
					worst, foot = got, k
				}
			}
		}
		return worst, foot, nil
	}
	u := &b.Strength.RailPlate
	bending := u.plateScreen(rests, true, even, func(force r3.Vec) (geombracket.PlateBending, error) {
		worst, _, err := most(force)
		return worst, err
	})
	bending.rests = append(b.rests(), bending.rests...)
	return u.named(bending, func(force r3.Vec) string {
		worst, foot, _ := most(force)
		if b.bolted() {
			return b.footWords(foot) + ", " + plateWords(poses[foot], worst)
		}
		return b.footWords(foot)
	}), nil
}
