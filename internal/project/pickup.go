package project

import "fitup/internal/project/quantity"

// Pickup is what holds the two wheels of one axle to the frame, as far as it is needed
// to weld brackets in the right place: arms, towers, rods and the anti-roll bar. All
// points are where they stand at ride height, vehicle axes.
type Pickup struct {
	Name    string           `toml:"*"`
	Carried Carried          `toml:"carried" doc:"what carries its wheels: arms (a lower and an upper one each), strut, trailing arm, or axle" how:"Look from the wheel inward." need:"yes"`
	Line    string           `toml:"line" doc:"axle: the line whose suspension moves it, such as rear; when left out its rods do" offers:"lines"`
	Bump    quantity.LengthQ `toml:"bump" doc:"wheel travel up from ride height, the bump stop squeezed flat" min:"0" how:"Jack the wheel up from ride height, spring out, until the stop is squeezed flat." from:"ride height, up" need:"yes"`
	Droop   quantity.LengthQ `toml:"droop" doc:"wheel travel down from ride height" min:"0" how:"Frame on stands, wheel hanging: how far its centre went down." from:"ride height, down" need:"yes"`
	Caster  quantity.AngleQ  `toml:"caster" doc:"how far the upper end of the steering axis is to lean to the rear" how:"The maker's figure for these knuckles or this axle." from:"upright, seen from the side"`
	Left    PickupSide       `toml:"left" doc:"what stands on the left"`
	Right   PickupSide       `toml:"right" doc:"what stands on the right"`
	Bar     PickupBar        `toml:"bar" doc:"the anti-roll bar"`
	Note    string           `toml:"note" doc:"anything worth knowing" own:"yes"`
}

// PickupSide is what holds one wheel.
type PickupSide struct {
	Wheel       Point          `toml:"wheel" doc:"wheel centre" need:"yes"`
	Load        quantity.MassQ `toml:"load" doc:"what this wheel carries at ride height, without what moves up and down with it" min:"0" how:"Scales under the wheel, less wheel, hub, brake and half of its arms." from:"empty scales"`
	PivotA      Point          `toml:"pivot_a" doc:"lower arm, or the trailing arm: one pivot on the frame" in:"arms"`
	PivotB      Point          `toml:"pivot_b" doc:"its other pivot; of a lower link with a tension or radius rod that is one with it, where the rod's bush stands" in:"arms"`
	Ball        Point          `toml:"ball" doc:"lower ball joint, or the lower end of a king pin" in:"arms"`
	UpperPivotA Point          `toml:"upper_pivot_a" doc:"upper arm: one pivot on the frame" in:"arms"`
	UpperPivotB Point          `toml:"upper_pivot_b" doc:"upper arm: its other pivot" in:"arms"`
	UpperBall   Point          `toml:"upper_ball" doc:"upper ball joint; of a strut the middle of its upper mount, of a king pin its upper end" in:"arms"`
	TieInner    Point          `toml:"tie_inner" doc:"tie rod: inner joint, wheels straight ahead" in:"arms"`
	TieOuter    Point          `toml:"tie_outer" doc:"tie rod: outer joint" in:"arms"`
	Spring      PickupSpring   `toml:"spring" doc:"its coil spring"`
	Damper      PickupDamper   `toml:"damper" doc:"its damper"`
	Tower       PickupTower    `toml:"tower" doc:"the post on the frame that the spring's upper end stands under or at"`
	Rods        []PickupRod    `toml:"rod" doc:"a tension rod, radius rod or link from frame to arm or axle"`
}

// PickupSpring is a coil spring between the frame and what moves with the wheel.
type PickupSpring struct {
	Kind     SpringKind       `toml:"kind" doc:"coil (its ends are its two seats), or coil-over (its ends are the eyes of its damper)" how:"Look." need:"yes"`
	On       Moves            `toml:"on" doc:"what its lower end is on: lower arm, upper arm, hub or axle; lower arm, hub of a strut, or axle when left out" how:"Look."`
	Lower    Point            `toml:"lower" doc:"middle of its lower seat, or lower eye" need:"yes"`
	Upper    Point            `toml:"upper" doc:"middle of its upper seat, or upper eye; worked out from length and lean when left out"`
	Length   quantity.LengthQ `toml:"length" doc:"from its lower end to its upper one at ride height, where upper is to be found" min:"0" how:"The spring's length under its load, or the maker's length of the damper at ride height." from:"end to end"`
	LeanBack quantity.AngleQ  `toml:"lean_back" doc:"how far its top leans to the rear, seen from the side; negative is to the front, upright when left out" how:"Decide; gauge on the spring as it is mocked up." from:"upright"`
	LeanIn   quantity.AngleQ  `toml:"lean_in" doc:"how far its top leans to the centre line, seen from the front; negative is outward, upright when left out" how:"Decide; gauge on the spring as it is mocked up." from:"upright"`
	Coil     quantity.LengthQ `toml:"coil" doc:"coil-over: length of the coil itself at ride height; from free, rate and load when left out" min:"0" how:"Tape between the spring's two perches at ride height." from:"perch to perch"`
	Free     quantity.LengthQ `toml:"free" doc:"length of the coil unloaded" min:"0" how:"Stand it on the bench and tape it." from:"end to end"`
	Rate     quantity.RateQ   `toml:"rate" doc:"its rate" min:"0" how:"The maker's figure, or known weights on it and a tape." from:"the spring unloaded"`
	Diameter quantity.LengthQ `toml:"diameter" doc:"outer diameter of the coil, for the room round it" min:"0" how:"Caliper over the coil." from:"outside to outside"`
	Solid    quantity.LengthQ `toml:"solid" doc:"length of the coil with all its turns touching" min:"0" how:"The maker's figure; or turns times wire diameter, ends ground or not as they are." from:"end to end"`
}

// PickupDamper is a damper with its bump stop.
type PickupDamper struct {
	On       Moves            `toml:"on" doc:"what its lower end is on, as for the spring" how:"Look."`
	Lower    Point            `toml:"lower" doc:"middle of its lower eye; of a coil-over its spring's when left out"`
	Upper    Point            `toml:"upper" doc:"middle of its upper eye; of a coil-over its spring's when left out"`
	Closed   quantity.LengthQ `toml:"closed" doc:"from eye to eye pushed home" min:"0" how:"Off the vehicle and without its bump stop, push it home and tape." from:"eye to eye"`
	Open     quantity.LengthQ `toml:"open" doc:"from eye to eye drawn out" min:"0" how:"Off the vehicle, draw it out and tape." from:"eye to eye"`
	Diameter quantity.LengthQ `toml:"diameter" doc:"outer diameter of its tube, for the room round it; not asked where a coil-over's spring stands round it" min:"0" how:"Caliper over the tube." from:"outside to outside"`
	Stop     quantity.LengthQ `toml:"stop" doc:"from eye to eye where the bump stop first touches" min:"0" how:"Push it in by hand until the stop touches and tape." from:"eye to eye"`
}

// PickupTower is the post of a spring on the frame.
type PickupTower struct {
	Foot     Point            `toml:"foot" doc:"where the middle of the post stands on the rail" need:"yes"`
	Stack    quantity.LengthQ `toml:"stack" doc:"from the spring's upper end on along the spring to where the post is cut; negative where the cut is below that end" how:"Measure seat, isolator and plate; or the bracket that holds the eye." from:"the spring's upper end, on along the spring" need:"yes"`
	Diameter quantity.LengthQ `toml:"diameter" doc:"of its post, over the corners of a square one, for the room round it" min:"0" how:"Caliper over the post, corner to corner." from:"outside to outside"`
	Stands   Point            `toml:"stands" doc:"where the middle of its cut stands now, tacked"`
}

// PickupRod is a rod between the frame and what moves with the wheel.
type PickupRod struct {
	Name     string           `toml:"name" doc:"which rod: tension rod, upper link, lateral rod; the same name on either side" need:"yes"`
	On       Moves            `toml:"on" doc:"what its moving end is on: lower arm, upper arm, hub or axle; lower arm or axle when left out" how:"Look."`
	Chassis  Point            `toml:"chassis" doc:"middle of its joint or bush on the frame" need:"yes"`
	End      Point            `toml:"end" doc:"middle of its joint, bush or bolts at the moving end" need:"yes"`
	Diameter quantity.LengthQ `toml:"diameter" doc:"of the rod where it is thickest, for the room round it" min:"0" how:"Caliper over the rod." from:"outside to outside"`
	Rigid    bool             `toml:"rigid" doc:"axle: whether it is fixed to the axle so that the axle turns with it, as a radius rod without a joint there" how:"Look: a joint or a bush at the axle, or a clamp."`
	Alone    bool             `toml:"alone" doc:"whether it has no fellow on the other side, as a lateral rod" how:"Look."`
	Give     quantity.LengthQ `toml:"give" doc:"how much longer or shorter its bushes let it become; limits.rod_give when left out" min:"0" exact:"yes" how:"The maker's figure; nothing for spherical joints." from:"as it is fitted"`
	MaxAngle quantity.AngleQ  `toml:"max_angle" doc:"how far its joint or bush on the frame may be turned either way; limits.rod_joint when left out" min:"0" exact:"yes" how:"The maker's figure." from:"as it is fitted"`
}

// PickupBar is an anti-roll bar with its two drop links.
type PickupBar struct {
	On       Moves            `toml:"on" doc:"what its links hold: lower arm, upper arm, hub or axle; lower arm or axle when left out" how:"Look."`
	Diameter quantity.LengthQ `toml:"diameter" doc:"of the bar, for the room round it and what twists it" min:"0" how:"Caliper over the bar." from:"outside to outside"`
	Left     PickupBarSide    `toml:"left" doc:"its left half"`
	Right    PickupBarSide    `toml:"right" doc:"its right half"`
}

// PickupBarSide is one half of an anti-roll bar.
type PickupBarSide struct {
	Bush Point `toml:"bush" doc:"middle of its bush on the frame" need:"yes"`
	Arm  Point `toml:"arm" doc:"end of its arm: the joint of the drop link there" need:"yes"`
	Link Point `toml:"link" doc:"the drop link's other joint, on what moves" need:"yes"`
}

// Carried is what carries a wheel, as the file spells it.
type Carried string

// SpringKind is what the ends of a spring are, as the file spells it.
type SpringKind string

// Moves is a body that moves with a wheel, as the file spells it.
type Moves string

// The words the file uses.
const (
	ByArms        Carried = "arms"
	ByStrut       Carried = "strut"
	ByTrailingArm Carried = "trailing arm"
	ByAxle        Carried = "axle"

	Coil     SpringKind = "coil"
	CoilOver SpringKind = "coil-over"

	OnLowerArm Moves = "lower arm"
	OnUpperArm Moves = "upper arm"
	OnHub      Moves = "hub"
	OnAxle     Moves = "axle"
)

// Words lists what can carry a wheel.
func (Carried) Words() []string {
	return []string{string(ByArms), string(ByStrut), string(ByTrailingArm), string(ByAxle)}
}

// Words lists what the ends of a spring can be.
func (SpringKind) Words() []string { return []string{string(Coil), string(CoilOver)} }

// Words lists what moves with a wheel.
func (Moves) Words() []string {
	return []string{string(OnLowerArm), string(OnUpperArm), string(OnHub), string(OnAxle)}
}

// Allows reports whether a wheel that is carried so has that body.
func (c Carried) Allows(on Moves) bool {
	switch on {
	case OnUpperArm:
		return c == ByArms
	case OnHub:
		return c == ByArms || c == ByStrut
	case OnAxle:
		return c == ByAxle
	}
	return on == "" || c != ByAxle
}

// Pickup returns the pick-ups of that name; nil for none.
func (b *Build) Pickup(name string) *Pickup {
	for i := range b.Pickups {
		if b.Pickups[i].Name == name {
			return &b.Pickups[i]
		}
	}
	return nil
}

// Sides are the two sides, left first, as the file calls them.
func (p *Pickup) Sides() [2]*PickupSide { return [2]*PickupSide{&p.Left, &p.Right} }

// Sides are the two halves, left first.
func (b *PickupBar) Sides() [2]*PickupBarSide { return [2]*PickupBarSide{&b.Left, &b.Right} }

// SideName is the word for side i of two, left first.
func SideName(i int) string { return [2]string{"left", "right"}[i] }

// Path is where what is said of a side stands in the file.
func (p *Pickup) Path(side int) string { return "pickup." + p.Name + "." + SideName(side) }

// Given reports whether the file has something of the spring.
func (s *PickupSpring) Given() bool {
	return s.Kind != "" || s.On != "" || s.Lower.given() || s.Upper.given() || s.Length.Known() || s.LeanBack.Known() || s.LeanIn.Known() ||
		s.Coil.Known() || s.Free.Known() || s.Rate.Known() || s.Solid.Known() || s.Diameter.Known()
}

// Given reports whether the file has something of the damper.
func (d *PickupDamper) Given() bool {
	return d.On != "" || d.Lower.given() || d.Upper.given() || d.Closed.Known() || d.Open.Known() || d.Stop.Known() || d.Diameter.Known()
}

// Given reports whether the file has something of the tower.
func (t *PickupTower) Given() bool {
	return t.Foot.given() || t.Stack.Known() || t.Stands.given() || t.Diameter.Known()
}

// Given reports whether the file has something of the bar.
func (b *PickupBar) Given() bool {
	for _, s := range b.Sides() {
		if s.Bush.given() || s.Arm.given() || s.Link.given() {
			return true
		}
	}
	return b.On != "" || b.Diameter.Known()
}

// Named returns the rod of that name, and its place in the list; nil for none.
func (s *PickupSide) Named(name string) (*PickupRod, int) {
	for i := range s.Rods {
		if s.Rods[i].Name == name {
			return &s.Rods[i], i
		}
	}
	return nil, -1
}
