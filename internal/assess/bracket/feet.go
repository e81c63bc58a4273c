package bracket

import (
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

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
