package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/fold"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// profile is a folded plate seen along its bends, while it is found.
type profile struct {
	bracket *Bracket
	spec    *project.MountBracket
	pad     geombracket.Face // looks to the isolator
	face    geombracket.Face // looks to the mount
	foot    r3.Vec
	hasFoot bool

	pose     geom.Pose // X along the foot toward the bend, Y off the face, Z along the bends
	line     []r2.Vec
	padAlong float64 // of the pad's middle, from where the middle line of its flat begins
	packing  float64
	lean     geom.Angle // of a tab's pad from the way the file says
	most     geom.Angle // how much of that is let pass
}

func (p *profile) thick() float64 { return p.spec.Plate.Thickness.V() }

func (p *profile) bad(format string, args ...any) error {
	return geom.PartFault("plate", p.bracket.Label, format, args...)
}

// Angles between the two faces up to which they count as looking the same way, and how
// far the pad may look out of the plane of the profile.
const (
	alike    = 5 * geom.Deg
	outPlane = 0.1 * geom.Deg
)

// solve finds the profile, or says why there is none.
func (p *profile) solve() error {
	n, err := geom.Unit(p.face.Normal)
	if err != nil {
		return p.bad("the face it stands on does not say which way it looks")
	}
	up, err := geom.Unit(p.pad.Normal)
	if err != nil {
		return p.bad("its pad does not say which way it looks")
	}
	if p.spec.Kind == project.BoltedTab {
		if up, err = p.ofTab(n, up); err != nil {
			return err
		}
	}
	along := r3.Cross(n, up) // the bends
	between := geom.Between(n, up)
	if between < alike || between > 180*geom.Deg-alike {
		if p.spec.Kind == project.FoldedAngle {
			return p.bad("its pad looks along the face it stands on, and an angle plate has one bend; take a folded Z plate or a folded U plate, or turn the pad")
		}
		along = r3.Sub(r3.Vec{X: 1}, r3.Scale(n.X, n)) // fore and aft
		if p.spec.Kind == project.BoltedTab {
			along = r3.Cross(n, r3.Sub(p.pad.Point, p.foot))
		}
	}
	if along, err = geom.Unit(along); err != nil {
		return p.bad("its bends would run nowhere: its pad stands straight over its foot; move one of them")
	}
	if lean := math.Asin(math.Min(1, math.Abs(r3.Dot(along, up)))); lean > outPlane.Rad() {
		return p.bad("its pad would lean %.2f° against the face it stands on, across its bends, and folds that run side by side do not make that; give the pad that lean with pad_normal, or shim it", geom.Angle(lean).Degrees())
	}
	if err := p.stand(n, along); err != nil {
		return err
	}
	return p.bends(up)
}

// ofTab is the way that the pad of a tab looks: as the face that it lies on, or the other
// way.
func (p *profile) ofTab(n, up r3.Vec) (r3.Vec, error) {
	if s := p.bracket.Spec; s.PadFacing == "" && !s.PadNormal.Known {
		up = n
	}
	if r3.Dot(n, up) < 0 {
		n = r3.Scale(-1, n)
	}
	if p.lean = geom.Between(n, up); p.lean > p.most {
		return n, p.bad("it is flat, and its pad looks %.1f° from the way the face does that it stands on; turn the pad with pad_facing or pad_normal, or take a folded angle plate", p.lean.Degrees())
	}
	p.pad.Normal = n
	return n, nil
}

// stand places the profile: which way its foot runs.
func (p *profile) stand(n, along r3.Vec) error {
	free := r3.Cross(along, n) // from the bend to the free end of the foot, or the reverse
	s := p.spec
	toward, said := s.Plate.FootToward.Vector()
	switch {
	case said:
		if math.Abs(r3.Dot(free, toward)) < 0.5 {
			return p.bad("its foot cannot run %s on a face that it lies flat on with bends that run across; leave plate.foot_toward out, or give another way", s.Plate.FootToward)
		}
	case p.hasFoot:
		toward = r3.Sub(p.foot, p.pad.Point) // away from the pad
	case math.Abs(free.Z) > 0.5:
		toward = r3.Vec{Z: -1}
	default:
		toward = r3.Sub(p.face.Point, p.pad.Point)
	}
	if r3.Dot(free, toward) < 0 {
		free = r3.Scale(-1, free)
	}
	x := r3.Scale(-1, free)
	p.pose = geom.Pose{X: x, Y: n, Z: r3.Cross(x, n)}
	off := r3.Dot(n, r3.Sub(p.pad.Point, p.face.Point))
	p.pose.At = r3.Sub(p.pad.Point, r3.Scale(off, n)) // beneath the pad's middle, on the face
	if p.hasFoot {
		if aside := p.pose.Own(p.foot).Z; math.Abs(aside) > 1 && s.Kind != project.BoltedTab {
			return p.bad("the middle of its foot lies %.1f mm beside that of its pad, along its bends; a folded strip runs straight: move the foot", math.Abs(aside))
		}
	}
	return nil
}

// bends find the corners of the profile.
func (p *profile) bends(up r3.Vec) error {
	t, s := p.thick(), &p.spec.Plate
	o := p.pose.OwnDir(up)
	normal := r2.Unit(r2.Vec{X: o.X, Y: o.Y})
	pad := p.pose.Own(p.pad.Point)
	middle := r2.Sub(r2.Vec{X: pad.X, Y: pad.Y}, r2.Scale(t/2, normal)) // under the pad's middle, in the plate
	way := r2.Vec{X: -normal.Y, Y: normal.X}
	foot := p.pose.Own(p.foot).X
	past := p.spec.Past.V()
	switch p.spec.Kind {
	case project.FoldedAngle:
		corner := r2.Vec{Y: t / 2}
		if math.Abs(way.Y) < 0.05 {
			return p.bad("its pad looks almost the way its face does; take a folded Z plate")
		}
		corner.X = middle.X + (t/2-middle.Y)/way.Y*way.X
		out := r2.Sub(middle, corner)
		if r2.Norm(out) < 1 {
			return p.bad("the middle of its pad lies in its bend, so nothing carries it; move the pad off the face")
		}
		start := corner.X - s.FootBend.V() - s.FootEnd.V()
		p.padAlong = r2.Norm(out)
		p.line = []r2.Vec{{X: start, Y: t / 2}, corner, r2.Add(middle, r2.Scale(past, r2.Unit(out)))}
		return nil
	case project.BoltedTab:
		return p.flat(normal, middle, foot, past)
	}
	first := r2.Vec{X: foot + s.FootBend.V(), Y: t / 2}
	best := math.Inf(1)
	for _, out := range []r2.Vec{way, r2.Scale(-1, way)} {
		second := r2.Sub(middle, r2.Scale(s.PadBend.V(), out))
		web := r2.Sub(second, first)
		if r2.Norm(web) < 1 {
			continue
		}
		web = r2.Unit(web)
		turn := [2]float64{math.Atan2(web.Y, web.X), math.Atan2(r2.Cross(web, out), r2.Dot(web, out))}
		if same := turn[0]*turn[1] > 0; same != (p.spec.Kind == project.FoldedU) {
			continue
		}
		if all := math.Abs(turn[0]) + math.Abs(turn[1]); all < best {
			best = all
			p.padAlong = s.PadBend.V()
			p.line = []r2.Vec{{X: first.X - s.FootBend.V() - s.FootEnd.V(), Y: t / 2}, first, second, r2.Add(middle, r2.Scale(past, out))}
		}
	}
	if p.line == nil {
		other := project.FoldedU
		if p.spec.Kind == project.FoldedU {
			other = project.FoldedZ
		}
		return p.bad("a %s does not close between that foot and that pad; take a %s, change plate.pad_bend or plate.foot_bend, or turn the foot with plate.foot_toward", p.spec.Kind, other)
	}
	return nil
}

// flat is the profile of a tab.
func (p *profile) flat(normal, middle r2.Vec, foot, past float64) error {
	t := p.thick()
	// What its pad carries stands on the far side of the tab, or on the near one.
	p.packing = middle.Y - t/2
	if normal.Y < 0 {
		p.packing = -p.packing
	}
	if p.packing < -0.05 {
		return p.bad("what it carries would lie %.1f mm inside it: its pad's face is that far behind the tab's; move the pad, or take a folded Z plate", -p.packing)
	}
	if p.packing < 0.05 {
		p.packing = 0
	}
	if !(middle.X-foot > 1) {
		return p.bad("its pad lies over the middle of its foot, so it has no length")
	}
	p.padAlong = middle.X - foot + p.spec.Plate.FootEnd.V()
	p.line = []r2.Vec{{X: foot - p.spec.Plate.FootEnd.V(), Y: t / 2}, {X: middle.X + past, Y: t / 2}}
	return nil
}

// holes are those of its foot and of its pad.
func (p *profile) holes() (out []fold.Hole) {
	add := func(flat int, along float64, end string, m *project.MountPlate) {
		if d, ok := m.Hole.Get(); ok {
			for _, q := range gridOf(end, m) {
				out = append(out, fold.Hole{Flat: flat, Along: along + q.Y, Across: q.X, Diameter: d})
			}
		}
	}
	add(0, p.spec.Plate.FootEnd.V(), "rail_plate", &p.spec.RailPlate)
	add(len(p.line)-2, p.padAlong, "pad_plate", &p.spec.PadPlate)
	return out
}

// padFace is the face of a bracket's pad, which looks to the isolator.
func (r *Result) padFace(b *Bracket) (geombracket.Face, error) {
	s := b.Spec
	at, err := r.legPad(b, s.Standing.Or(0))
	if err != nil {
		return geombracket.Face{}, err
	}
	f := geombracket.Face{Point: at, Normal: r3.Vec{Z: 1}}
	switch {
	case s.PadNormal.Known:
		f.Normal = s.PadNormal.At
	case s.PadFacing != "":
		f.Normal, _ = s.PadFacing.Vector()
	}
	if _, err := geom.Unit(f.Normal); err != nil {
		return f, fmt.Errorf("bracket %s: its pad does not say which way it looks", b.Label)
	}
	return f, nil
}
