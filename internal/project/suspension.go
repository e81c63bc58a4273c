package project

import (
	"fitup/internal/project/quantity"
)

// Suspension is what lets the axle of a line move. All points are where they
// stand at ride height, vehicle axes.
type Suspension struct {
	Kind  SuspensionKind   `toml:"kind" doc:"leaf, links, trailing arms or fixed (differential on the chassis, half shafts)" need:"yes"`
	Bump  quantity.LengthQ `toml:"bump" doc:"axle travel up from ride height" min:"0" how:"Tape from axle to bump stop at ride height, with what the stop gives." from:"ride height, up" need:"yes"`
	Droop quantity.LengthQ `toml:"droop" doc:"axle travel down from ride height" min:"0" how:"Frame on stands, axle hanging: how far it went down." from:"ride height, down" need:"yes"`
	Axle  Point            `toml:"axle" doc:"axle centre"`

	FixedEye     Point            `toml:"fixed_eye" doc:"leaf: the eye that turns on the chassis" in:"leaf spring"`
	Seat         Point            `toml:"seat" doc:"leaf: main leaf at the middle of its clamp" in:"leaf spring"`
	ShackleEye   Point            `toml:"shackle_eye" doc:"leaf: the eye at the shackle" in:"leaf spring"`
	ShacklePivot Point            `toml:"shackle_pivot" doc:"leaf: where the shackle turns on the chassis" in:"leaf spring"`
	Clamped      quantity.LengthQ `toml:"clamped" doc:"leaf: length of spring held by the clamps" min:"0" how:"Tape along the spring between the outer edges of the clamps." from:"edge to edge" in:"leaf spring"`
	Leaves       Leaves           `toml:"leaves" doc:"leaf: many, or one" in:"leaf spring"`
	WindUp       quantity.AngleQ  `toml:"wind_up" doc:"leaf: how far full torque turns the axle, drive one way and coast the other" min:"0" how:"Gauge on the pinion, brakes held, gentle drive and coast; or the usual 3 degrees." from:"the pinion at rest" in:"leaf spring"`

	Give quantity.LengthQ `toml:"give" doc:"links: how much each link's bushes may stretch or shorten it" min:"0" how:"Pry bar on the link and a dial gauge." from:"the link at rest"`
	Link []SuspensionLink `toml:"link" doc:"links: each link"`

	Pivot []ArmPivot `toml:"pivot" doc:"trailing arms: where they turn"`

	DifferentialIn DifferentialIn `toml:"differential_in" doc:"fixed: gearbox when it hangs on the powertrain, own case when it stands on the chassis; when left out, a transaxle's line without a propshaft has it in the gearbox"`
	HalfShaft      []HalfShaft    `toml:"half_shaft" doc:"fixed: each half shaft"`

	Part []AxlePart `toml:"part" doc:"pieces that move with the axle, for the room round them"`

	Strap      []Strap          `toml:"strap" doc:"a limiting strap between frame and axle, which ends its droop"`
	LeastDroop quantity.LengthQ `toml:"least_droop" doc:"axle travel down that straps have to leave" min:"0" how:"Decide how far a wheel is to drop before the strap holds it." from:"ride height, down"`
}

// Strap is a limiting strap, which holds a live axle where a joint of its shaft would
// bind, or its slip joint come apart, below. Points stand as at ride height, vehicle axes.
type Strap struct {
	Name    string           `toml:"name" doc:"which one: left, right, or middle" need:"yes"`
	Chassis Point            `toml:"chassis" doc:"where its upper eye is held on the frame" need:"yes"`
	Axle    Point            `toml:"axle" doc:"where its lower eye is held on the axle" need:"yes"`
	Length  quantity.LengthQ `toml:"length" doc:"between its two eyes, pulled straight; left out until it is made" min:"0" how:"Pull it straight by hand and tape from the middle of one bolt to that of the other." from:"middle of the bolt to middle of the bolt" own:"yes"`
	Stretch quantity.LengthQ `toml:"stretch" doc:"how much longer it gets under the hanging axle; nothing when left out" min:"0" how:"Hang the axle's weight on it and tape it again." from:"its length pulled straight by hand"`
}

// AxlePart is a piece of a live axle, which moves with it: its tube, its
// differential, a tie rod. Vehicle axes at ride height; its keys say its shape
// as those of a Part do.
type AxlePart struct {
	Name   string           `toml:"name" doc:"what the piece is: axle tube, differential, tie rod" need:"yes"`
	From   Point            `toml:"from" doc:"one corner of a box, or one end of a rod, where it stands at ride height"`
	To     Point            `toml:"to" doc:"the opposite corner, or the other end"`
	At     Point            `toml:"at" doc:"a point of it, or the centre of a ball"`
	Radius quantity.LengthQ `toml:"radius" doc:"of a rod or a ball" min:"0" how:"Half the diameter, by caliper or string round it." from:"its own centre line"`
	Turned Turning          `toml:"-"` // as a Part has it; an axle's is not
}

// SuspensionLink is a link between chassis and axle.
type SuspensionLink struct {
	Name    string `toml:"name" doc:"which link: upper left" need:"yes"`
	Chassis Point  `toml:"chassis" doc:"its end on the chassis" need:"yes"`
	Axle    Point  `toml:"axle" doc:"its end on the axle" need:"yes"`
}

// ArmPivot is where a trailing arm turns on the chassis.
type ArmPivot struct {
	Name string `toml:"name" doc:"which arm: left" need:"yes"`
	At   Point  `toml:"at" doc:"where it turns on the chassis" need:"yes"`
}

// HalfShaft is a shaft from a differential to a wheel.
type HalfShaft struct {
	Name      string           `toml:"name" doc:"which one: left" need:"yes"`
	Output    Point            `toml:"output" doc:"centre of its inner joint, powertrain's own frame, when the differential hangs on the powertrain"`
	Inner     Point            `toml:"inner" doc:"centre of its inner joint, when the differential stands on the chassis"`
	Outer     Point            `toml:"outer" doc:"centre of its outer joint" need:"yes"`
	PivotA    Point            `toml:"pivot_a" doc:"front pivot of the arm that carries the wheel"`
	PivotB    Point            `toml:"pivot_b" doc:"rear pivot of that arm"`
	Ball      Point            `toml:"ball" doc:"its ball joint; left out when the arm carries the hub rigidly"`
	Lock      quantity.AngleQ  `toml:"lock" doc:"how far its wheel steers either way; 0 deg for a wheel that does not" min:"0" how:"Turn plates or chalk on the floor: the wheel at full lock either way." from:"straight ahead"`
	InnerMax  quantity.AngleQ  `toml:"inner_max" doc:"largest angle of the inner joint; 23 deg when left out" min:"0" how:"The maker's figure." from:"the straight joint"`
	OuterMax  quantity.AngleQ  `toml:"outer_max" doc:"largest angle of the outer joint; 47 deg when left out" min:"0" how:"The maker's figure." from:"the straight joint"`
	PlungeIn  quantity.LengthQ `toml:"plunge_in" doc:"how far it can shorten from ride height, when the differential stands on the chassis" min:"0" how:"Push the inner joint home from where it stands at ride height." from:"ride height"`
	PlungeOut quantity.LengthQ `toml:"plunge_out" doc:"how far it can lengthen from ride height, when the differential stands on the chassis" min:"0" how:"Draw the inner joint out from where it stands at ride height." from:"ride height"`
	Closed    quantity.LengthQ `toml:"plunge_closed" doc:"joint centre to joint centre with the inner joint pushed home" min:"0" how:"Inner joint pushed home: tape between joint centres." from:"joint centre to joint centre"`
	Open      quantity.LengthQ `toml:"plunge_open" doc:"joint centre to joint centre with the inner joint drawn out as far as it may" min:"0" how:"Inner joint drawn out as far as it may: tape between joint centres." from:"joint centre to joint centre"`
	Outside   quantity.LengthQ `toml:"outside" doc:"outside diameter of the shaft, for the room round it" min:"0" how:"Caliper over the shaft." from:"outside to outside"`
}

// SuspensionKind is a kind of suspension, as the file spells it.
type SuspensionKind string

// Leaves is the make of a leaf spring, as the file spells it.
type Leaves string

// DifferentialIn is what a fixed differential is carried by, as the file spells
// it.
type DifferentialIn string

// The words the file uses.
const (
	LeafSprings  SuspensionKind = "leaf"
	LinkAxle     SuspensionKind = "links"
	TrailingArms SuspensionKind = "trailing arms"
	FixedDiff    SuspensionKind = "fixed"

	ManyLeaves Leaves = "many"
	OneLeaf    Leaves = "one"

	DiffInGearbox DifferentialIn = "gearbox"
	DiffInOwnCase DifferentialIn = "own case"
)

// Words lists the kinds of suspension.
func (SuspensionKind) Words() []string {
	return []string{string(LeafSprings), string(LinkAxle), string(TrailingArms), string(FixedDiff)}
}

// Words lists the makes of a leaf spring.
func (Leaves) Words() []string { return []string{string(ManyLeaves), string(OneLeaf)} }

// Words lists what a fixed differential can be carried by.
func (DifferentialIn) Words() []string { return []string{string(DiffInGearbox), string(DiffInOwnCase)} }

// Direct reports whether half shafts leave the powertrain for the wheels, with
// no propshaft between: a fixed differential that hangs on the powertrain, on a
// line of which the file gives no joint, shaft or pinion.
func (b *Build) Direct(l Line) bool { return b.Hung(l) && !b.propshaft(l) }

// Hung reports whether the line's differential hangs on the powertrain and
// moves with it.
func (b *Build) Hung(l Line) bool {
	s := l.Suspension
	switch {
	case s.Kind != "" && s.Kind != FixedDiff:
		return false
	case s.DifferentialIn != "":
		return s.DifferentialIn == DiffInGearbox
	}
	return b.Powertrain.Layout == Transaxle && !b.propshaft(l)
}

// propshaft reports whether the file says anything of a line's propshaft.
func (b *Build) propshaft(l Line) bool {
	return l.Output.Known || l.OutputSlope.Known() || l.OutSpacer.Known() || l.First.Slope.Known() || l.First.Heading.Known() ||
		len(l.Joints) > 0 || len(l.Shafts) > 0 ||
		l.Pinion.At.Known || l.Pinion.Slope.Known() || l.Pinion.Heading.Known() ||
		b.readOf(l)
}
