package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

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
