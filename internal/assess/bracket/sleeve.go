package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// SleeveWork are the sleeves through a crossmember, one at each foot, mm.
type SleeveWork struct {
	Count                  int
	Diameter, Wall, Length float64
	Clamp                  float64 // stress that the bolt's preload puts on it, MPa; 0 where the bolt is not known
}

// sleeved reports whether the mount stands on sleeves with a bolt through each.
func (b *Bracket) sleeved() bool {
	return b.ready.kind != nil && b.ready.kind.spec.Sleeve.Begun()
}

// Sleeves are those of a crossmember; false where it has none, or does not close.
func (b *Bracket) Sleeves() (SleeveWork, bool) {
	if b.Members == nil || !b.sleeved() {
		return SleeveWork{}, false
	}
	s := &b.ready.kind.spec.Sleeve
	w := SleeveWork{Count: len(b.Members.Feet), Diameter: s.Diameter.V(), Wall: s.Wall.V()}
	if f := b.Members.Feet; len(f) > 0 {
		p := &b.Members.Solved.Parts[f[0].Part]
		w.Length = 2 * p.Half(p.Side[f[0].End])
	}
	if b.ready.boltWhy == nil {
		if t, err := b.ready.bolt.Tighten(); err == nil {
			w.Clamp = t.Preload / w.area()
		}
	}
	return w, true
}

// SleeveRods are where the sleeves lie, from the side that the crossmember lies on through to
// the opposite one, flush with both; vehicle axes, mm.
func (b *Bracket) SleeveRods() (out []Shank) {
	w, ok := b.Sleeves()
	if !ok {
		return nil
	}
	for _, f := range b.Members.Feet {
		p := &b.Members.Solved.Parts[f.Part]
		middle := r3.Add(p.Cut.Pad.At, r3.Scale(p.Along(f.End), p.Cut.Axis))
		half := r3.Scale(w.Length/2, r3.Unit(f.Face.Normal))
		out = append(out, Shank{r3.Sub(middle, half), r3.Add(middle, half), w.Diameter})
	}
	return out
}

func (w *SleeveWork) area() float64 {
	inside := w.Diameter - 2*w.Wall
	return math.Pi / 4 * (w.Diameter*w.Diameter - inside*inside)
}

// mass of all of them, kg.
func (w *SleeveWork) mass() float64 {
	return float64(w.Count) * w.area() * w.Length * section.SteelDensity
}

// sleeveMissing is the key of what a sleeve lacks, "" for nothing.
func sleeveMissing(s *project.MountSleeve) string {
	switch {
	case !s.Begun():
	case !s.Diameter.Known():
		return "sleeve.diameter"
	case !s.Wall.Known():
		return "sleeve.wall"
	}
	return ""
}

// sleeveRoom refuses sleeves that do not fit through their crossmember, that their bolt
// does not pass or crushes, and that stand too near to an end.
func (b *Bracket) sleeveRoom() error {
	w, ok := b.Sleeves()
	if !ok {
		return nil
	}
	bad := func(format string, args ...any) error {
		return fmt.Errorf("bracket %s: "+format, append([]any{b.Label}, args...)...)
	}
	bore := w.Diameter - 2*w.Wall
	if bore <= 0 {
		return bad("a sleeve of %.1f mm with a wall of %.1f mm has no hole; check sleeve", w.Diameter, w.Wall)
	}
	for _, f := range b.Members.Feet {
		p := &b.Members.Solved.Parts[f.Part]
		if p.Shape.Kind != section.RectTube {
			return bad("a sleeve goes through a box tube, and its %s is a %s; give it rail_plate in place of sleeve", p.Name, p.Shape.Kind)
		}
		wide := p.Shape.B
		if side := p.Side[f.End]; side == geombracket.Left || side == geombracket.Right {
			wide = p.Shape.H
		}
		if room := wide - 2*p.Shape.T; w.Diameter > room {
			return bad("a sleeve of %.1f mm does not go between the walls of its %s, which stand %.1f mm apart", w.Diameter, p.Name, room)
		}
		if past := p.Ends[f.End].Past; past < geombracket.EdgeRule*w.Diameter {
			return bad("the middle of a sleeve of %.1f mm is %.1f mm from the end of its %s; at least %.1f mm is wanted: make past more", w.Diameter, past, p.Name, geombracket.EdgeRule*w.Diameter)
		}
	}
	if b.ready.boltWhy != nil {
		return nil
	}
	yield, _ := b.Spec.Strengths()
	switch d := b.ready.bolt.Thread.Diameter; {
	case bore < d:
		return bad("its bolts of %.1f mm do not go through sleeves of %.1f mm inside", d, bore)
	case w.Clamp > yield:
		return bad("its bolts clamp their sleeves with %.0f MPa, and they yield at %.0f: take a thicker wall, a smaller bolt or a lower class", w.Clamp, yield)
	}
	return nil
}

// sleeveBoltsScreen holds the one bolt at each foot: it carries what pulls there, what
// pushes aside, and what tips the crossmember about its own line, against the edge of the
// side that it lies on.
func (b *Bracket) sleeveBoltsScreen(at r3.Vec) (screen, error) {
	if b.ready.boltWhy != nil {
		return screen{}, b.ready.boltWhy
	}
	h := &boltsHeld{use: &b.Strength.Bolts, rests: []string{"the rail's flange under its bolts, and their washers: not judged"}}
	var err error
	if h.use.Tighten, err = b.ready.bolt.Tighten(); err != nil {
		return screen{}, err
	}
	if h.bolt, err = b.ready.bolt.Ready(geombracket.BoltJoint{}); err != nil {
		return screen{}, err
	}
	poses, err := b.feetPoses()
	if err != nil {
		return screen{}, err
	}
	h.named = b.boltNamed(nil)
	check := func(force r3.Vec) (boltLoad, error) {
		return b.worstAtFeet(force, at, poses, func(f *Foot, pose geom.Pose, load geombracket.Load) (boltLoad, error) {
			p := &b.Members.Solved.Parts[f.Part]
			shear, tension := sleeveBolt(p, f, load, flatOf(pose, p.Cut.Axis))
			got, err := h.bolt.Check(shear, tension)
			return boltLoad{check: got, shear: shear, tension: tension}, err
		})
	}
	return h.screen(append(b.rests(), "tipping about its own line held by the bolts and the edge of the side it lies on"), check), nil
}

// sleeveBolt is the shear and the tension (N) on the bolt at a foot under a load of its
// face, whose z looks to the member; along is the member's axis there.
func sleeveBolt(p *assembly.Part, f *Foot, load geombracket.Load, along r2.Vec) (shear, tension float64) {
	m := r3.Add(load.Moment, r3.Cross(load.At, load.Force))
	tips := math.Abs(m.X*along.X + m.Y*along.Y)
	half := p.Shape.B / 2
	if side := p.Side[f.End]; side == geombracket.Left || side == geombracket.Right {
		half = p.Shape.H / 2
	}
	return math.Hypot(load.Force.X, load.Force.Y), max(0, load.Force.Z) + tips/half
}

// sleeveRows are where a sleeve goes through a member, and its own sizes.
func (b *Bracket) sleeveRows(p *assembly.Part, e int, end, key string, x *assembly.End, at r3.Vec, packing float64, add adder) {
	w, _ := b.Sleeves()
	add(end+" from its cut", key+".foot_along", quantity.Length, math.Abs(r3.Dot(p.Cut.Axis, r3.Sub(x.At, at))), "along the middle of its "+p.Side[e].String()+" side to the middle of its sleeve, through the opposite side too")
	add(end+" sleeve hole", key+".sleeve", quantity.Length, w.Diameter, "its diameter, as the sleeve's outside")
	add(end+" sleeve length", key+".sleeve_length", quantity.Length, w.Length, "flush with both sides; weld it all round on both")
	add(end+" packing", key+".packing", quantity.Length, packing, "between the "+x.On+" and its sleeve")
}
