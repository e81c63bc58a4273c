package project

import (
	"math"
	"slices"

	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// MountSheet is the plate that a mount is cut and folded, or welded, from.
type MountSheet struct {
	Thickness  quantity.LengthQ `toml:"thickness" doc:"of the plate; of a boxed plate that of its upper plate and the one underneath" min:"0" how:"Caliper on the edge." from:"face to face" need:"yes"`
	Width      quantity.LengthQ `toml:"width" doc:"of the plate, along its bends; across a boxed plate, or a tab on a clamp" min:"0" how:"Tape or caliper." from:"edge to edge" need:"yes"`
	Radius     quantity.LengthQ `toml:"radius" doc:"inside every bend; the plate's thickness when left out" min:"0" how:"A radius gauge in a bend that the same tools made." from:"none"`
	K          quantity.NumberQ `toml:"k" doc:"place of the neutral line in a bend, as a part of the thickness; 0.41 when left out" min:"0" exact:"yes" how:"Bend a strip of known length and see what it grew." from:"the inside of the bend"`
	FootBend   quantity.LengthQ `toml:"foot_bend" doc:"from the middle of its foot to its bend" min:"0" how:"Decide: room for the bolt's head beside the bend." from:"the middle of the foot's holes, to the middle of the thickness of what stands on it"`
	FootEnd    quantity.LengthQ `toml:"foot_end" doc:"from the middle of its foot to the foot's free end" min:"0" how:"Decide: one and a half holes and more past the last hole." from:"the middle of the foot's holes, to the plate's edge"`
	FootToward Facing           `toml:"foot_toward" doc:"which way the free end of its foot looks: up, down, front, rear, left or right; away from the pad when left out, and down of an angle plate on an upright face" how:"Look where there is room for its bolts."`
	PadBend    quantity.LengthQ `toml:"pad_bend" doc:"of a Z or U: from the middle of its pad to the bend" min:"0" how:"Decide: room for what stands on the pad." from:"the middle of the pad, to the middle of the thickness of what carries it"`

	SideThickness quantity.LengthQ `toml:"side_thickness" doc:"of a boxed plate: of its two sides; its thickness when left out" min:"0" how:"Caliper on the edge." from:"face to face"`
	FootDepth     quantity.LengthQ `toml:"foot_depth" doc:"of a boxed plate: how deep it is at its foot, over its upper plate and the one underneath" min:"0" how:"Decide: the deeper the stiffer; no deeper than the rail is high." from:"the upper face, square to it, at the rail"`
	EndDepth      quantity.LengthQ `toml:"end_depth" doc:"of a boxed plate: how deep it is at its free end; as at its foot when left out" min:"0" how:"Decide: room for a spanner under the pad." from:"the upper face, square to it, at the free end"`
	Inset         quantity.LengthQ `toml:"inset" doc:"of a boxed plate: how far its sides are set in from the edges of its upper plate; the size of its corner fillets when left out" min:"0" how:"Decide: at least the fillet's size, which lies on it." from:"the upper plate's edge, inward"`
	Seam          quantity.LengthQ `toml:"seam" doc:"of a boxed plate: leg size of the fillets along its four corners; weld.size when left out" min:"0" how:"Fillet gauge; no more than the thinner part is thick." from:"the root of the joint"`
}

// MountClamp is the clamp of a tab that goes round a tube: a sleeve split lengthwise.
type MountClamp struct {
	Tube     quantity.LengthQ `toml:"tube" doc:"outside diameter of the tube it goes round" min:"0" how:"Caliper over the tube, paint off." from:"outside to outside" need:"yes"`
	From     Point            `toml:"from" doc:"one place on that tube's axis" need:"yes"`
	To       Point            `toml:"to" doc:"another, as far from it as can be" need:"yes"`
	Wall     quantity.LengthQ `toml:"wall" doc:"of the clamp's two halves" min:"0" how:"Caliper on the edge." from:"inside to outside" need:"yes"`
	Length   quantity.LengthQ `toml:"length" doc:"of the clamp, along the tube" min:"0" how:"Tape along the tube." from:"end to end" need:"yes"`
	Count    quantity.NumberQ `toml:"count" doc:"bolts that draw it together, on both sides of the tube; 4 when left out" min:"0" exact:"yes" how:"Count them." from:"none"`
	Friction quantity.NumberQ `toml:"friction" doc:"between the clamp and the tube; 0.2, bare steel as it is rolled, when left out" min:"0" exact:"yes" how:"0.2 of bare and dry steel (EN 1090-2, class D, from memory); less of paint, zinc or oil." from:"a joint that slides by itself"`
}

// Begun reports whether the file says anything of the clamp.
func (c *MountClamp) Begun() bool {
	return c.Tube.Known() || c.From.Known || c.To.Known || c.Wall.Known() || c.Length.Known() || c.Count.Known() || c.Friction.Known()
}

// The kinds that are plate.
const (
	FoldedAngle BracketKind = "folded angle plate"
	FoldedZ     BracketKind = "folded Z plate"
	FoldedU     BracketKind = "folded U plate"
	BoltedTab   BracketKind = "bolted tab"
	BoxedPlate  BracketKind = "boxed plate"
	ClampTab    BracketKind = "clamp-on tab"
)

var (
	foldedKinds = []BracketKind{FoldedAngle, FoldedZ, FoldedU}
	stripKinds  = append(slices.Clone(foldedKinds), BoltedTab) // of one strip, folded or flat
	plateKinds  = append(slices.Clone(stripKinds), BoxedPlate, ClampTab)
)

// OfPlate reports whether the kind is cut from plate and has no members.
func (k BracketKind) OfPlate() bool { return slices.Contains(plateKinds, k) }

// ofPlate refuses what does not go with a kind that is plate.
func (s *MountBracket) ofPlate(members bool, fault func(key, format string, args ...any)) {
	for _, q := range []struct {
		key string
		q   quantity.Gettable
	}{
		{"plate.thickness", &s.Plate.Thickness}, {"plate.width", &s.Plate.Width}, {"plate.radius", &s.Plate.Radius}, {"plate.k", &s.Plate.K},
		{"plate.foot_bend", &s.Plate.FootBend}, {"plate.foot_end", &s.Plate.FootEnd}, {"plate.pad_bend", &s.Plate.PadBend},
		{"plate.side_thickness", &s.Plate.SideThickness}, {"plate.foot_depth", &s.Plate.FootDepth}, {"plate.end_depth", &s.Plate.EndDepth}, {"plate.seam", &s.Plate.Seam},
		{"clamp.tube", &s.Clamp.Tube}, {"clamp.wall", &s.Clamp.Wall}, {"clamp.length", &s.Clamp.Length}, {"clamp.friction", &s.Clamp.Friction},
	} {
		if v, ok := q.q.Get(); ok && v == 0 {
			fault(q.key, "has %s = 0; want more", q.key)
		}
	}
	if n, ok := s.Clamp.Count.Get(); ok && (n < 2 || n > 16 || math.Mod(n, 2) != 0) {
		fault("clamp.count", "has a clamp with %g bolts; want as many on either side of the tube: 2, 4 or more", n)
	}
	if s.Clamp.From.Known && s.Clamp.To.Known && r3.Norm(r3.Sub(s.Clamp.From.At, s.Clamp.To.At)) < 1 {
		fault("clamp.to", "goes round a tube without length; want its two places apart")
	}
	if k, ok := s.Plate.K.Get(); ok && k > 1 {
		fault("plate.k", "has a K factor of %g; want a part of the thickness, 0.33 to 0.5 of steel", k)
	}
	if s.Kind.OfPlate() {
		s.onlyPlate(members, fault)
	}
}

// onlyPlate refuses what a kind that is plate cannot have.
func (s *MountBracket) onlyPlate(members bool, fault func(key, format string, args ...any)) {
	kind := "is of the kind \"" + string(s.Kind) + "\""
	for _, x := range []struct {
		key   string
		given bool
	}{
		{"pad_plate.thickness", s.PadPlate.Thickness.Known()}, {"pad_plate.width", s.PadPlate.Width.Known()}, {"pad_plate.height", s.PadPlate.Height.Known()}, {"pad_plate.gap", s.PadPlate.Gap.Known()},
		{"rail_plate.thickness", s.RailPlate.Thickness.Known()}, {"rail_plate.width", s.RailPlate.Width.Known()}, {"rail_plate.height", s.RailPlate.Height.Known()}, {"rail_plate.gap", s.RailPlate.Gap.Known()},
	} {
		if x.given {
			fault(x.key, "%s, which has no plate of its own there: pad_plate and rail_plate say only which holes it has; leave %s out", kind, x.key)
		}
	}
	welded := s.Kind == BoxedPlate || s.Kind == ClampTab
	switch {
	case members:
		fault("kind", "%s and has members too; a plate has none: leave them out, or take another kind", kind)
	case s.Perch != "":
		fault("perch", "%s, which carries its pad itself; leave perch out", kind)
	case s.Gusset.Begun():
		fault("gusset", "%s, and a gusset stands on a member; leave it out", kind)
	case welded && s.RailPlate != MountPlate{}:
		fault("rail_plate", "%s, which is welded at its foot and has no holes there; leave rail_plate out", kind)
	case s.Kind == BoxedPlate && s.Bolts.Begun():
		fault("bolts", "%s, which is welded to what it stands on; leave bolts out, or take a level arm with perch on a rail plate", kind)
	case s.Kind == ClampTab && s.Rail != "":
		fault("rail", "%s, which stands on a tube and on no rail; leave rail out", kind)
	case s.Onto != "" && s.OwnFoot():
		fault("onto", "stands by its own foot, and onto is a side of a rail; leave it out")
	case s.FootIn.Known() && (s.Onto == "" || s.Onto == OnInside):
		fault("foot_in", "stands on the inside of its rail, and foot_in counts on its top or underside; leave it out, or give onto")
	case s.FootDrop.Known() && s.Onto != "" && s.Onto != OnInside:
		fault("foot_drop", "stands on the %s of its rail, and foot_drop counts on its inside; leave it out", string(s.Onto))
	}
}
