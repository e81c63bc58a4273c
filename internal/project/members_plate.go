package project

import (
	"slices"

	"fitup/internal/project/quantity"
)

// MountSheet is the plate that a mount is cut and folded from.
type MountSheet struct {
	Thickness  quantity.LengthQ `toml:"thickness" doc:"of the plate" min:"0" how:"Caliper on the edge." from:"face to face" need:"yes"`
	Width      quantity.LengthQ `toml:"width" doc:"of the plate, along its bends" min:"0" how:"Tape or caliper." from:"edge to edge" need:"yes"`
	Radius     quantity.LengthQ `toml:"radius" doc:"inside every bend; the plate's thickness when left out" min:"0" how:"A radius gauge in a bend that the same tools made." from:"none"`
	K          quantity.NumberQ `toml:"k" doc:"place of the neutral line in a bend, as a part of the thickness; 0.41 when left out" min:"0" exact:"yes" how:"Bend a strip of known length and see what it grew." from:"the inside of the bend"`
	FootBend   quantity.LengthQ `toml:"foot_bend" doc:"from the middle of its foot to its bend" min:"0" how:"Decide: room for the bolt's head beside the bend." from:"the middle of the foot's holes, to the middle of the thickness of what stands on it"`
	FootEnd    quantity.LengthQ `toml:"foot_end" doc:"from the middle of its foot to the foot's free end" min:"0" how:"Decide: one and a half holes and more past the last hole." from:"the middle of the foot's holes, to the plate's edge"`
	FootToward Facing           `toml:"foot_toward" doc:"which way the free end of its foot looks: up, down, front, rear, left or right; away from the pad when left out, and down of an angle plate on an upright face" how:"Look where there is room for its bolts."`
	PadBend    quantity.LengthQ `toml:"pad_bend" doc:"of a Z or U: from the middle of its pad to the bend" min:"0" how:"Decide: room for what stands on the pad." from:"the middle of the pad, to the middle of the thickness of what carries it"`
}

// The kinds that are plate.
const (
	FoldedAngle BracketKind = "folded angle plate"
	FoldedZ     BracketKind = "folded Z plate"
	FoldedU     BracketKind = "folded U plate"
	BoltedTab   BracketKind = "bolted tab"
)

var plateKinds = []BracketKind{FoldedAngle, FoldedZ, FoldedU, BoltedTab}

// OfPlate reports whether the kind is cut and folded from plate and has no members.
func (k BracketKind) OfPlate() bool { return slices.Contains(plateKinds, k) }

// ofPlate refuses what does not go with a kind that is plate.
func (s *MountBracket) ofPlate(members bool, fault func(key, format string, args ...any)) {
	for _, q := range []struct {
		key string
		q   quantity.Gettable
	}{
		{"plate.thickness", &s.Plate.Thickness}, {"plate.width", &s.Plate.Width}, {"plate.radius", &s.Plate.Radius}, {"plate.k", &s.Plate.K},
		{"plate.foot_bend", &s.Plate.FootBend}, {"plate.foot_end", &s.Plate.FootEnd}, {"plate.pad_bend", &s.Plate.PadBend},
	} {
		if v, ok := q.q.Get(); ok && v == 0 {
			fault(q.key, "has %s = 0; want more", q.key)
		}
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
	tab, bends := s.Kind == BoltedTab, s.Kind == FoldedZ || s.Kind == FoldedU
	switch {
	case members:
		fault("kind", "%s and has members too; a plate has none: leave them out, or take another kind", kind)
	case s.Perch != "":
		fault("perch", "%s, which carries its pad itself; leave perch out", kind)
	case s.Gusset.Begun():
		fault("gusset", "%s, and a gusset stands on a member; leave it out", kind)
	case tab && (s.Plate.FootBend.Known() || s.Plate.Radius.Known() || s.Plate.K.Known() || s.Plate.FootToward != ""):
		fault("plate", "%s, which is flat; leave foot_bend, foot_toward, radius and k out", kind)
	case s.Plate.PadBend.Known() && !bends:
		fault("plate.pad_bend", "%s, which has no second bend; leave pad_bend out", kind)
	case s.Onto != "" && s.OwnFoot():
		fault("onto", "stands by its own foot, and onto is a side of a rail; leave it out")
	case s.FootIn.Known() && (s.Onto == "" || s.Onto == OnInside):
		fault("foot_in", "stands on the inside of its rail, and foot_in counts on its top or underside; leave it out, or give onto")
	case s.FootDrop.Known() && s.Onto != "" && s.Onto != OnInside:
		fault("foot_drop", "stands on the %s of its rail, and foot_drop counts on its inside; leave it out", string(s.Onto))
	}
}
