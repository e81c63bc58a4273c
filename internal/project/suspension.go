package project

import "fitup/internal/project/quantity"

// Suspension is what lets the axle of a line move. All points are where they
// stand at ride height, vehicle axes.
type Suspension struct {
	Kind  SuspensionKind   `toml:"kind" doc:"leaf, links, trailing arms or fixed (differential on the chassis, half shafts)"`
	Bump  quantity.LengthQ `toml:"bump" doc:"axle travel up from ride height" min:"0"`
	Droop quantity.LengthQ `toml:"droop" doc:"axle travel down from ride height" min:"0"`
	Axle  Point            `toml:"axle" doc:"axle centre"`

	FixedEye     Point            `toml:"fixed_eye" doc:"leaf: the eye that turns on the chassis"`
	Seat         Point            `toml:"seat" doc:"leaf: main leaf at the middle of its clamp"`
	ShackleEye   Point            `toml:"shackle_eye" doc:"leaf: the eye at the shackle"`
	ShacklePivot Point            `toml:"shackle_pivot" doc:"leaf: where the shackle turns on the chassis"`
	Clamped      quantity.LengthQ `toml:"clamped" doc:"leaf: length of spring held by the clamps" min:"0"`
	Leaves       Leaves           `toml:"leaves" doc:"leaf: many, or one"`
	WindUp       quantity.AngleQ  `toml:"wind_up" doc:"leaf: how far full torque turns the axle, drive one way and coast the other" min:"0"`

	Give quantity.LengthQ `toml:"give" doc:"links: how much each link's bushes may stretch or shorten it" min:"0"`
	Link []SuspensionLink `toml:"link"`

	Pivot []ArmPivot `toml:"pivot"`

	HalfShaft []HalfShaft `toml:"half_shaft"`
}

// SuspensionLink is a link between chassis and axle.
type SuspensionLink struct {
	Name    string `toml:"name" doc:"which link: upper left"`
	Chassis Point  `toml:"chassis" doc:"its end on the chassis"`
	Axle    Point  `toml:"axle" doc:"its end on the axle"`
}

// ArmPivot is where a trailing arm turns on the chassis.
type ArmPivot struct {
	Name string `toml:"name" doc:"which arm: left"`
	At   Point  `toml:"at" doc:"where it turns on the chassis"`
}

// HalfShaft is a shaft from a differential on the chassis to a wheel.
type HalfShaft struct {
	Name      string           `toml:"name" doc:"which one: left"`
	Inner     Point            `toml:"inner" doc:"centre of its inner joint"`
	Outer     Point            `toml:"outer" doc:"centre of its outer joint"`
	PivotA    Point            `toml:"pivot_a" doc:"front pivot of the arm that carries the wheel"`
	PivotB    Point            `toml:"pivot_b" doc:"rear pivot of that arm"`
	Ball      Point            `toml:"ball" doc:"its ball joint; left out when the arm carries the hub rigidly"`
	InnerMax  quantity.AngleQ  `toml:"inner_max" doc:"largest angle of the inner joint; 23 deg when left out" min:"0"`
	OuterMax  quantity.AngleQ  `toml:"outer_max" doc:"largest angle of the outer joint; 47 deg when left out" min:"0"`
	PlungeIn  quantity.LengthQ `toml:"plunge_in" doc:"how far it can shorten from ride height" min:"0"`
	PlungeOut quantity.LengthQ `toml:"plunge_out" doc:"how far it can lengthen from ride height" min:"0"`
}

// SuspensionKind is a kind of suspension, as the file spells it.
type SuspensionKind string

// Leaves is the make of a leaf spring, as the file spells it.
type Leaves string

// The words the file uses.
const (
	LeafSprings  SuspensionKind = "leaf"
	LinkAxle     SuspensionKind = "links"
	TrailingArms SuspensionKind = "trailing arms"
	FixedDiff    SuspensionKind = "fixed"

	ManyLeaves Leaves = "many"
	OneLeaf    Leaves = "one"
)

// Words lists the kinds of suspension.
func (SuspensionKind) Words() []string {
	return []string{string(LeafSprings), string(LinkAxle), string(TrailingArms), string(FixedDiff)}
}

// Words lists the makes of a leaf spring.
func (Leaves) Words() []string { return []string{string(ManyLeaves), string(OneLeaf)} }
