package bracket

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Body is a piece of a bracket as what else has to stay clear of it: a box, or a round
// rod along its pose's X. Vehicle axes, mm.
type Body struct {
	Name  string // arm
	Pose  geom.Pose
	Half  r3.Vec
	Round bool // Half.Y is its radius
	Stays bool // on the rail when the rest of it is taken out
}

// Crosses says that the bracket stands on both rails, in the way of what runs along the
// vehicle.
func (b *Bracket) Crosses() bool { return b.ready.kind != nil && b.ready.kind.spec.Kind.Crosses() }

// ComesOut says that it is bolted to its rails or between ears on them, and not welded in.
func (b *Bracket) ComesOut() bool {
	return b.ready.kind != nil && (b.bolted() || b.ready.kind.spec.Ears.Begun())
}

// Pad is the middle of the face that the isolator stands on, the way that looks, and how far
// the plate there reaches from it, mm; false where it is not known how the bracket stands.
func (b *Bracket) Pad() (at, up r3.Vec, reach float64, ok bool) {
	if w := b.PadPlate; w != nil {
		reach = math.Hypot(w.Spec.Width.V(), w.Spec.Height.V()) / 2
	}
	up, err := geom.Unit(r3.Scale(-1, b.Leg.Pad.Normal))
	return b.Leg.Pad.Point, up, reach, err == nil && b.Stands()
}

// Bodies are the pieces of a bracket: tubes from tip to tip, sharp at their corners, and
// plates. Nil where it is not known how it stands.
func (b *Bracket) Bodies() (out []Body) {
	plate := func(name string, w *PlateWork, face geombracket.Face) {
		if w == nil {
			return
		}
		pose, err := geombracket.FacePose("", face, r3.Vec{})
		if err != nil {
			return
		}
		half := r3.Vec{X: w.Spec.Width.V() / 2, Y: w.Spec.Height.V() / 2, Z: w.Spec.Thickness.V() / 2}
		pose.At = pose.Point(r3.Vec{Y: half.Y - w.Middle, Z: half.Z})
		out = append(out, Body{Name: name, Pose: pose, Half: half})
	}
	switch {
	case b.Members != nil:
		for i := range b.Members.Solved.Parts {
			p := &b.Members.Solved.Parts[i]
			body := tubeBody(p.Name, &p.Cut, p.Shape)
			body.Stays = p.Ends[1].Kind == assembly.Bolted && !p.Ends[1].Turns && p.Ends[0].Kind == assembly.Rail
			out = append(out, body)
		}
		plate("pad plate", b.PadPlate, geombracket.Face{Point: b.Members.Pad.Point, Normal: r3.Scale(-1, b.Members.Pad.Normal)})
		for i := range b.Members.Sheets {
			out = append(out, sheetBody(&b.Members.Sheets[i]))
		}
		for _, f := range b.Members.Feet {
			n := len(out)
			if plate("rail plate", b.RailPlate, f.Face); len(out) > n && len(f.Also) > 0 {
				out[n].Stays = b.ready.kind.spec.Ears.Begun() // with its ears
			}
		}
	case b.Plates != nil:
		out = b.plateBodies()
	case b.HasCut:
		out = append(out, tubeBody("leg", &b.Cut, b.Leg.Shape))
		plate("pad plate", b.PadPlate, geombracket.Face{Point: b.Leg.Pad.Point, Normal: b.Leg.Pad.Normal})
		plate("rail plate", b.RailPlate, geombracket.Face{Point: b.Cut.Foot, Normal: b.Leg.Rail.Normal})
	}
	return out
}

// boxRound is the box of a pose's axes round the solid between two rings, which lies
// along the first of its own edges: tight for a flat of a folded plate.
func boxRound(name string, pose geom.Pose, a, b []r3.Vec) Body {
	x := r3.Unit(r3.Sub(b[0], a[0]))
	out := Body{Name: name, Pose: geom.Pose{X: x, Z: pose.Z}}
	out.Pose.Y = r3.Cross(out.Pose.Z, x)
	lo, hi := out.Pose.Own(a[0]), out.Pose.Own(a[0])
	for _, q := range append(append([]r3.Vec{}, a...), b...) {
		o := out.Pose.Own(q)
		lo = r3.Vec{X: min(lo.X, o.X), Y: min(lo.Y, o.Y), Z: min(lo.Z, o.Z)}
		hi = r3.Vec{X: max(hi.X, o.X), Y: max(hi.Y, o.Y), Z: max(hi.Z, o.Z)}
	}
	out.Half = r3.Scale(0.5, r3.Sub(hi, lo))
	out.Pose.At = out.Pose.Point(r3.Scale(0.5, r3.Add(lo, hi)))
	return out
}

// sheetBody is the box round a flat plate.
func sheetBody(s *assembly.Sheet) Body { return flatBody(s.Name, s.Plate, s.Pose) }

// flatBody is that of a plate whose outline lies in a pose's X and Y.
func flatBody(name string, p geombracket.Plate, pose geom.Pose) Body {
	lo, hi := p.Outline[0], p.Outline[0]
	for _, q := range p.Outline {
		lo, hi = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	out := Body{Name: name, Pose: pose, Half: r3.Vec{X: (hi.X - lo.X) / 2, Y: (hi.Y - lo.Y) / 2, Z: p.Thickness / 2}}
	out.Pose.At = pose.Point(r3.Vec{X: (lo.X + hi.X) / 2, Y: (lo.Y + hi.Y) / 2})
	return out
}

func tubeBody(name string, c *geombracket.Cut, s section.Shape) Body {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, end := range []bool{false, true} {
		for _, q := range c.Outline(end, around/4) {
			d := r3.Dot(c.Axis, r3.Sub(q, c.Pad.At))
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	out := Body{Name: name, Pose: geom.Pose{X: c.Axis, Y: c.U, Z: r3.Cross(c.Axis, c.U), At: r3.Add(c.Pad.At, r3.Scale((lo+hi)/2, c.Axis))}}
	out.Half = r3.Vec{X: (hi - lo) / 2, Y: s.B / 2, Z: s.H / 2}
	if round(s) {
		out.Half.Y, out.Round = s.H/2, true
	}
	return out
}
