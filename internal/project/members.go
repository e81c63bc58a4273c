package project

import "fitup/internal/project/quantity"

// MountBracket is a mount of several members, or of one of a ready kind: what all
// of them share, and the questions of the kind. Points and directions are in
// vehicle axes.
type MountBracket struct {
	Kind       BracketKind      `toml:"kind" doc:"a ready start: level arm with perch, inclined leg, two legs in an A, arm with a brace, twin ears, straight crossmember, dropped crossmember, folded angle plate, folded Z plate, folded U plate, bolted tab, boxed plate or clamp-on tab; left out where all its members are its own" how:"Look at what there is room for between pad and rail."`
	Section    string           `toml:"section" doc:"stock section of the kind's arm, legs or beam, such as SHS 60x60x4 cold or PFC 100x50x10, or sizes such as 60x60x4 or channel 100x50x5" how:"Pick it from the table." offers:"sections"`
	Brace      string           `toml:"brace" doc:"stock section of the brace, where the kind has one" how:"Pick it from the table; no wider than the arm." offers:"sections"`
	Past       quantity.LengthQ `toml:"past" doc:"how far a level arm runs past the middle of its pad, or a straight crossmember that lies on its rails past the middle of its feet, or any that ears or sockets hold past its bolts, or twin ears past the middle of their bolt, or a folded or boxed plate or a tab past the middle of its pad" min:"0" how:"Decide: at least half the plate there, for its weld; of ears and at holes one and a half holes and more." from:"the middle of the pad, the foot or the bolt, along the member"`
	Apart      quantity.LengthQ `toml:"apart" doc:"of two legs in an A, between their axes at the pad" min:"0" how:"Decide: wider than the tube, so that there is room to weld." from:"axis to axis, fore and aft"`
	Spread     quantity.LengthQ `toml:"spread" doc:"of two legs in an A, between their feet on the rail" min:"0" how:"Tape along the rail between the two places." from:"axis to axis, along the rail"`
	BraceDrop  quantity.LengthQ `toml:"brace_drop" doc:"how far the foot of a brace is below the arm" min:"0" how:"Square down the rail's face." from:"the arm's axis at the rail, down to the brace's"`
	BraceAlong quantity.LengthQ `toml:"brace_along" doc:"how far out along the arm a brace meets it" min:"0" how:"Tape along the arm from its cut at the rail." from:"the arm's cut at the rail, to where the axes meet"`
	Gap        quantity.LengthQ `toml:"gap" doc:"of twin ears: the room between them, for the isolator's sleeve" min:"0" how:"Caliper over the sleeve, end to end." from:"face to face"`
	Onto       RailFace         `toml:"onto" doc:"of a crossmember or a plate: where it stands on the rails: inside, top or underside; inside when left out" how:"Look where there is room, and from where the bolts can be reached."`
	Between    quantity.LengthQ `toml:"between" doc:"of a dropped crossmember, which may be a raised one: length of its beam from knee to knee, on the axes" min:"0" how:"Decide: as wide as what it passes under wants." from:"where the axes meet, knee to knee"`
	FootIn     quantity.LengthQ `toml:"foot_in" doc:"how far outward of a rail's inner edge the foot of a crossmember or a plate is, on its top or underside; half the rail's width when left out" min:"0" how:"Square across the rail's flange, from its inner edge." from:"the rail's inner edge, outward"`
	Fixed      FeetFixed        `toml:"fixed" doc:"of a crossmember: how its feet are fixed: held, pinned or one slides; where left out, the worse of held and pinned counts" how:"Plates with four bolts and more hold; one bolt or a pin at each end is pinned; slotted holes at one end slide."`
	BracketStand
	PadFacing  Facing           `toml:"pad_facing" doc:"which way its pad's face looks, toward the isolator: up, down, front, rear, left or right; up when left out" how:"Stand the isolator on it: which way does it stand up?"`
	PadNormal  Point            `toml:"pad_normal" doc:"the same as a direction, when it is none of those"`
	Foot       Point            `toml:"foot" doc:"where a leg's axis meets the rail, or half way between two, or the middle of a plate's foot; straight across from the pad when left out; with foot_facing any place on the face it stands on"`
	FootDrop   quantity.LengthQ `toml:"foot_drop" doc:"how far that is below the rail's top edge; half the rail's height when left out" min:"0" how:"Square down from the rail's top edge." from:"the rail's top edge, down"`
	FootFacing Facing           `toml:"foot_facing" doc:"where it stands by its own foot, on a subframe or a body without rails: which way the face there looks, toward the mount: up, down, front, rear, left or right" how:"Stand on that face: which way do you look?"`
	FootNormal Point            `toml:"foot_normal" doc:"the same as a direction, when it is none of those"`
	LeftFoot   Point            `toml:"left_foot" doc:"of a crossmember that stands on no rails: the middle of its left foot, on the face it stands on"`
	RightFoot  Point            `toml:"right_foot" doc:"of a crossmember that stands on no rails: the middle of its right foot, on the face it stands on"`
	Perch      string           `toml:"perch" doc:"name of the member on whose side the pad's plate lies flat; of the kind's arm when left out" how:"The member that the plate is laid on."`
	PadPlate   MountPlate       `toml:"pad_plate" doc:"the plate at its pad: a perch where it lies on an arm"`
	RailPlate  MountPlate       `toml:"rail_plate" doc:"the plate at each foot on the rail"`
	Pin        MountPin         `toml:"pin" doc:"the bolt through twin ears, or through each end of a crossmember that ears or sockets hold"`
	Ears       MountEars        `toml:"ears" doc:"of a crossmember: two flat bars welded to each rail, or to a rail_plate that is bolted to it, one before and one behind its end, with a bolt through all three"`
	Socket     MountSocket      `toml:"socket" doc:"of a crossmember that ends at its rails: a tube on each that the end slides into, with a bolt through both"`
	Sleeve     MountSleeve      `toml:"sleeve" doc:"of a straight crossmember that lies on its rails or under them: a tube through it at each foot, for one bolt there, in place of rail_plate"`
	Plate      MountSheet       `toml:"plate" doc:"of a kind that is plate: what it is cut and folded from"`
	Clamp      MountClamp       `toml:"clamp" doc:"of a clamp-on tab: the clamp, and the tube it goes round"`
	Gusset     MountGusset      `toml:"gusset" doc:"a plate in the corner between a member and its rail, at each of its ends there; judged by itself, and no help in what else is judged"`
	BracketMade
}

// MountPin is the bolt through twin ears, or through an end of a crossmember.
type MountPin struct {
	Thread  string           `toml:"thread" doc:"of the bolt, such as M12 or 1/2-13" need:"yes" offers:"threads"`
	Class   string           `toml:"class" doc:"its strength class: 8.8, 10.9, 12.9, or grade 5 or 8" how:"Read it off the bolt's head." need:"yes" offers:"classes"`
	Hole    quantity.LengthQ `toml:"hole" doc:"diameter of the holes for it" min:"0" how:"The drill's diameter." from:"edge to edge" need:"yes"`
	TorqueK quantity.NumberQ `toml:"torque_k" doc:"torque factor; 0.20, dry, when left out" min:"0" exact:"yes" how:"0.20 dry, 0.15 oiled, or what the coating's maker says." from:"a thread without friction"`
	Preload quantity.NumberQ `toml:"preload" doc:"share of the proof load; 0.75 when left out" min:"0" exact:"yes" how:"0.75 for a joint that is opened again; or the maker's share." from:"the loose bolt"`
}

// MountEars are the ears that hold an end of a crossmember.
type MountEars struct {
	Section string           `toml:"section" doc:"the flat bar they are cut from, such as Flat 60x8 or 60x8" how:"Pick it from the table; wide enough for its hole, at most as wide as the rail is high." need:"yes" offers:"sections"`
	Out     quantity.LengthQ `toml:"out" doc:"how far their bolt is from the rail; not asked where a straight crossmember runs along the rail's top or underside" min:"0" how:"Square off the rail's face; far enough for the end to clear it." from:"the rail's face, to the middle of the bolt"`
	Past    quantity.LengthQ `toml:"past" doc:"how far the ears run past their bolt" min:"0" how:"Decide: one and a half holes and more." from:"the middle of the bolt, to the ears' end" need:"yes"`
}

// Begun reports whether the file says anything of ears.
func (e *MountEars) Begun() bool { return *e != MountEars{} }

// MountSocket is the tube that an end of a crossmember slides into.
type MountSocket struct {
	Section string           `toml:"section" doc:"the tube, a size larger than the crossmember's and of the same kind, such as RHS 80x60x5 cold" how:"Pick it from the table: its inside just over the crossmember's outside." need:"yes" offers:"sections"`
	Out     quantity.LengthQ `toml:"out" doc:"how far its bolt is from the rail" min:"0" how:"Along the socket." from:"the rail's face, to the middle of the bolt" need:"yes"`
	Length  quantity.LengthQ `toml:"length" doc:"of the socket" min:"0" how:"Along it." from:"the rail's face, to its mouth" need:"yes"`
}

// Begun reports whether the file says anything of sockets.
func (s *MountSocket) Begun() bool { return *s != MountSocket{} }

// MountSleeve is a piece of round tube through a crossmember, square to the rail's flange:
// the bolt that holds it there runs through, and clamps the sleeve and not the crossmember.
type MountSleeve struct {
	Diameter quantity.LengthQ `toml:"diameter" doc:"of the sleeve, outside" min:"0" how:"Caliper over the tube." from:"outside to outside" need:"yes"`
	Wall     quantity.LengthQ `toml:"wall" doc:"of the sleeve; the bolt has to pass it" min:"0" how:"Caliper on the tube's end." from:"face to face" need:"yes"`
}

// Begun reports whether the file says anything of sleeves.
func (s *MountSleeve) Begun() bool { return *s != MountSleeve{} }

// MountGusset is a plate in the corner between a member and the rail.
type MountGusset struct {
	Thickness quantity.LengthQ `toml:"thickness" doc:"of the gusset" min:"0" how:"Caliper on the edge." from:"face to face" need:"yes"`
	Along     quantity.LengthQ `toml:"along" doc:"how far it reaches along the member" min:"0" how:"Tape along the member, from the corner." from:"the corner between member and rail" need:"yes"`
	Down      quantity.LengthQ `toml:"down" doc:"how far it reaches along the rail" min:"0" how:"Tape along the rail's face, from the corner." from:"the corner between member and rail" need:"yes"`
	Snipe     quantity.LengthQ `toml:"snipe" doc:"cut off its corner, to clear the weld there; twice the fillet's size when left out" min:"0" how:"Decide: enough to clear the weld." from:"the corner, along both edges"`
	On        string           `toml:"on" doc:"the member; the kind's arm, leg or beam when left out" how:"Name the member."`
	Side      GussetSide       `toml:"side" doc:"under or over the member; under when left out" how:"Look where there is room."`
	Count     quantity.NumberQ `toml:"count" doc:"one, under the middle of the member, or two, flush with its sides; one when left out" min:"0" exact:"yes" how:"Count them." from:"none"`
}

// Begun reports whether the file says anything of a gusset.
func (g *MountGusset) Begun() bool { return *g != MountGusset{} }

// GussetSide is a side of a member, as the file spells it.
type GussetSide string

// The words the file uses.
const (
	GussetUnder GussetSide = "under"
	GussetOver  GussetSide = "over"
)

// Words lists the sides that a gusset can be on.
func (GussetSide) Words() []string { return []string{string(GussetUnder), string(GussetOver)} }

// MountMember is one straight piece of a mount.
type MountMember struct {
	Name      string           `toml:"name" doc:"what it is called: arm, brace, front leg" need:"yes"`
	Section   string           `toml:"section" doc:"its stock section, such as SHS 60x60x4 cold or PFC 100x50x10, or sizes such as 60x60x4 or channel 100x50x5" how:"Pick it from the table." need:"yes" offers:"sections"`
	Ends      []string         `toml:"ends" doc:"what its first and its second end are cut to: pad, rail, square at a point, or another member such as member.arm" how:"Two words, the first end first." need:"yes"`
	From      Point            `toml:"from" doc:"where its axis begins, for a first end that is square, or off the pad's middle, or at a foot of its own"`
	To        Point            `toml:"to" doc:"where its axis ends, the same for its second end"`
	FromAlong quantity.LengthQ `toml:"from_along" doc:"how far along the member that its first end stands on the two axes meet" min:"0" how:"Tape along that member." from:"that member's first cut"`
	ToAlong   quantity.LengthQ `toml:"to_along" doc:"how far along the member that its second end stands on the two axes meet" min:"0" how:"Tape along that member." from:"that member's first cut"`
	Held      []string         `toml:"held" doc:"how its first and its second end are held: welded, or on a ball joint: ball; welded when left out" how:"Two words, the first end first."`
	Up        Point            `toml:"up" doc:"which way the section's height looks, as a direction; up when left out"`
	Roll      quantity.AngleQ  `toml:"roll" doc:"how far it is turned about its own axis from there, clockwise seen from its first end" how:"Angle gauge across the section." from:"the section standing upright"`
}

// BracketKind is a ready kind of mount, as the file spells it.
type BracketKind string

// RailFace is a side of a rail, as the file spells it.
type RailFace string

// FeetFixed is how the feet of a crossmember are fixed, as the file spells it.
type FeetFixed string

// The words the file uses.
const (
	LevelArm    BracketKind = "level arm with perch"
	InclinedLeg BracketKind = "inclined leg"
	TwoLegsInA  BracketKind = "two legs in an A"
	BracedArm   BracketKind = "arm with a brace"

	StraightCrossmember BracketKind = "straight crossmember"
	DroppedCrossmember  BracketKind = "dropped crossmember"
	TwinEars            BracketKind = "twin ears"

	OnInside    RailFace = "inside"
	OnTop       RailFace = "top"
	OnUnderside RailFace = "underside"

	FixedHeld   FeetFixed = "held"
	FixedPinned FeetFixed = "pinned"
	FixedSlides FeetFixed = "one slides"

	EndPad    = "pad"
	EndRail   = "rail"
	EndSquare = "square"
	OnMember  = "member."

	EndWelded = "welded"
	EndBall   = "ball"
)

// Words lists the ready kinds.
func (BracketKind) Words() []string {
	return []string{string(LevelArm), string(InclinedLeg), string(TwoLegsInA), string(BracedArm), string(TwinEars), string(StraightCrossmember), string(DroppedCrossmember),
		string(FoldedAngle), string(FoldedZ), string(FoldedU), string(BoltedTab), string(BoxedPlate), string(ClampTab)}
}

// Words lists the sides of a rail that a crossmember can stand on.
func (RailFace) Words() []string {
	return []string{string(OnInside), string(OnTop), string(OnUnderside)}
}

// Words lists the ways that feet are fixed.
func (FeetFixed) Words() []string {
	return []string{string(FixedHeld), string(FixedPinned), string(FixedSlides)}
}

// OwnFoot reports whether it stands by its own foot and facing, and not on a rail.
func (s *MountBracket) OwnFoot() bool {
	return s.Foot.Known && (s.FootFacing != "" || s.FootNormal.Known)
}

// Held reports whether ears or sockets hold the ends of a crossmember.
func (s *MountBracket) Held() bool { return s.Ears.Begun() || s.Socket.Begun() }

// Crosses reports whether the kind stands on both rails.
func (k BracketKind) Crosses() bool { return k == StraightCrossmember || k == DroppedCrossmember }

// Members are the names of the members that a kind begins with.
func (k BracketKind) Members() []string {
	switch k {
	case LevelArm:
		return []string{"arm"}
	case InclinedLeg:
		return []string{"leg"}
	case TwoLegsInA:
		return []string{"front leg", "rear leg"}
	case BracedArm:
		return []string{"arm", "brace"}
	case TwinEars:
		return []string{"front ear", "rear ear"}
	case StraightCrossmember:
		return []string{"beam"}
	case DroppedCrossmember:
		return []string{"left leg", "beam", "right leg"}
	}
	return nil
}

// Assembled reports whether the file says anything of a mount of several members is.
func (m *Mount) Assembled() bool {
	return m.Bracket.Kind != "" || m.Bracket.Section != "" || m.Bracket.Match != "" || len(m.Members) > 0
}

// HasBracket reports whether the file begins a bracket for the mount: a leg, or
// several members.
func (m *Mount) HasBracket() bool { return m.Leg.Begun() || m.Assembled() }

// AsLeg is what a bracket of several members shares with a single leg.
func (s *MountBracket) AsLeg() Leg {
	normal := s.FootNormal
	if v, ok := s.FootFacing.Vector(); ok {
		normal = Point{At: v, Known: true}
	}
	return Leg{
		BracketStand: s.BracketStand, BracketMade: s.BracketMade,
		Section: s.Section, PadFacing: s.PadFacing, PadNormal: s.PadNormal, Foot: s.Foot, FootDrop: s.FootDrop, RailNormal: normal,
		PadPlate: LegPlate{MountPlate: s.PadPlate}, RailPlate: LegPlate{MountPlate: s.RailPlate},
	}
}
