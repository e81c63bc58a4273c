package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// flatOf is a direction in the plane of a pose.
func flatOf(pose geom.Pose, d r3.Vec) r2.Vec {
	o := pose.OwnDir(d)
	return r2.Unit(r2.Vec{X: o.X, Y: o.Y})
}

// lying is a member that lies on a plate with one side: the stretch of it that they
// share.
type lying struct {
	along  r2.Vec  // the member's axis in the plate's plane
	lo, hi float64 // from where to where along it, from the plate's middle, mm
	half   float64 // of how wide they touch, mm
}

func (l *lying) at(along, across float64) r2.Vec {
	return r2.Add(r2.Scale(along, l.along), r2.Scale(across, r2.Vec{X: -l.along.Y, Y: l.along.X}))
}

// corners are those of what the two share, once around.
func (l *lying) corners() []r2.Vec {
	return []r2.Vec{l.at(l.lo, -l.half), l.at(l.hi, -l.half), l.at(l.hi, l.half), l.at(l.lo, l.half)}
}

// edges are those along the member: what is welded.
func (l *lying) edges() [][]r2.Vec {
	c := l.corners()
	return [][]r2.Vec{{c[0], c[1]}, {c[3], c[2]}}
}

// onPlate is how a member lies on a plate with a side: the plate's middle is along mm
// from its first cut.
func onPlate(p *assembly.Part, side geombracket.Side, s project.LegPlate, pose geom.Pose, along float64) lying {
	wide := p.Shape.B / 2
	if side == geombracket.Left || side == geombracket.Right {
		wide = p.Shape.H / 2
	}
	l := lying{along: flatOf(pose, p.Cut.Axis)}
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
	l.lo, l.hi = max(-reach(l.along), -along), min(reach(l.along), p.Cut.Length-along)
	l.half = min(wide, reach(l.at(0, 1)))
	return l
}

// perched is how the pad's plate lies on a member, and the frame of the plate's
// underside about the pad.
func (b *Bracket) perched() (p *assembly.Part, pose geom.Pose, l lying, err error) {
	a, s := b.Members, b.Spec.PadPlate
	for i := range a.Solved.Parts {
		if a.Solved.Parts[i].Name == a.Solved.Perch {
			p = &a.Solved.Parts[i]
		}
	}
	switch {
	case s.Width.V() == 0:
		return p, pose, l, lacking("mount." + b.ready.made + ".bracket.pad_plate.width")
	case s.Height.V() == 0:
		return p, pose, l, lacking("mount." + b.ready.made + ".bracket.pad_plate.height")
	case round(p.Shape):
		return p, pose, l, fmt.Errorf("bracket %s: its pad plate lies on the %s, which is round; take a box tube or a flat bar", b.Label, p.Name)
	}
	n := r3.Unit(a.Pad.Normal)
	under := r3.Sub(a.Pad.Point, r3.Scale(s.Thickness.V()+s.Gap.V(), n))
	if pose, err = geombracket.FacePose(b.Label+" pad plate", geombracket.Face{Point: under, Normal: n}, r3.Vec{}); err != nil {
		return p, pose, l, err
	}
	side, looks := p.Looking(n)
	if !p.Cut.HasSide(side) {
		return p, pose, l, fmt.Errorf("bracket %s: its pad plate lies on the open %s side of the %s; turn that member by its roll", b.Label, side, p.Name)
	}
	middle := r3.Add(p.Cut.Pad.At, r3.Scale(a.Solved.PerchAlong, p.Cut.Axis))
	off := r3.Sub(r3.Sub(under, middle), r3.Scale(p.Half(side), looks))
	if geom.Between(looks, n) > 0.05*geom.Deg || r3.Norm(off) > 1 {
		return p, pose, l, fmt.Errorf("bracket %s: its pad plate does not lie flat on the %s: they are %.1f mm and %.1f° apart; move the %s under it", b.Label, p.Name,
			r3.Norm(off), geom.Between(looks, n).Degrees(), p.Name)
	}
	return p, pose, onPlate(p, side, s, pose, a.Solved.PerchAlong), nil
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
	where := u.atBolt(pose)
	if stud {
		where = func(r3.Vec) string { return "" }
	}
	return u.named(u.plateScreen(rests, true, true, func(force r3.Vec) (worst geombracket.PlateBending, err error) {
		for k, q := range acts {
			load := geombracket.Load{Force: pose.OwnDir(force), At: q}
			if stud {
				worst = bentMore(worst, bends[0].Under(studPull(load, size)), k == 0)
				continue
			}
			shares, err := pattern.Share(nil, load)
			if err != nil {
				return worst, inOneRow(err)
			}
			for i, s := range shares {
				worst = bentMore(worst, bends[i].Under(s.Tension), k == 0 && i == 0)
			}
		}
		return worst, nil
	}), where), nil
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
		p, _, l, err := b.perched()
		if err != nil {
			return nil, 0, err
		}
		err = add(l.corners(), p.Shape)
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
