package project

import (
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// Steering is the steering shaft, vehicle axes: from the joint at the lower end of
// the column through joints, shafts and support bearings to the joint at the input
// of the rack or box. Its first joint stands at the column, its last at the input.
type Steering struct {
	Column     Point             `toml:"column" doc:"centre of the joint at the lower end of the column" need:"yes"`
	ColumnAxis Point             `toml:"column_axis" doc:"direction of the column, from the wheel down" how:"Two points on the column, plumbed and levelled: how far the lower one lies behind, beside and above the upper one." need:"yes"`
	Input      Point             `toml:"input" doc:"centre of the joint at the input of the rack or box" need:"yes"`
	InputAxis  Point             `toml:"input_axis" doc:"direction of the input shaft, from its joint on into the rack or box" how:"Two points on the input shaft, plumbed and levelled: how far the inner one lies behind, beside and above the outer one." need:"yes"`
	Straight   quantity.AngleQ   `toml:"straight_ahead" doc:"how far the ears of the column's own yoke are turned from upright with the wheels straight ahead, clockwise as the driver sees it; upright when left out" how:"Wheels straight ahead, gauge on the ears of the yoke at the column's end." from:"upright, seen along the column"`
	Shorten    quantity.LengthQ  `toml:"shorten" doc:"how far all of it has to be able to shorten, for a body that moves on its frame and in a crash" min:"0" exact:"yes" how:"The figure of the column's maker or of local rules." from:"as it is fitted"`
	Gap        quantity.LengthQ  `toml:"gap" doc:"room wanted to the powertrain as built; limits.gap when left out" min:"0" how:"Decide: what heat, tools and movement want." from:"the shaft's surface"`
	GapRocked  quantity.LengthQ  `toml:"gap_rocked" doc:"room wanted with the powertrain sagged and rocked; limits.gap_rocked when left out" min:"0" how:"Decide: what must be left when all moves." from:"the shaft's surface"`
	Joints     []SteeringJoint   `toml:"joint" doc:"its joints, from the column on; the first stands at the column, the last at the input"`
	Shafts     []SteeringShaft   `toml:"shaft" doc:"its shafts between two joints, from the column on"`
	Bearings   []SteeringBearing `toml:"bearing" doc:"a support bearing, on the shaft that passes there"`
}

// SteeringJoint is one joint of the steering shaft, in order from the column.
type SteeringJoint struct {
	Kind     JointKind       `toml:"kind" doc:"cardan, double cardan or constant velocity; cardan when left out"`
	At       Point           `toml:"at" doc:"its centre; not for the first, which stands at the column, and the last, which stands at the input"`
	MaxAngle quantity.AngleQ `toml:"max_angle" doc:"largest angle its maker allows; limits.steering_joint when left out" min:"0" exact:"yes" how:"The maker's figure for the joint." from:"the straight joint"`
}

// OfKind is the joint's kind: a Cardan joint where the file does not say.
func (j SteeringJoint) OfKind() JointKind {
	if j.Kind == "" {
		return Cardan
	}
	return j.Kind
}

// SteeringShaft is one shaft between two joints, in order from the column.
type SteeringShaft struct {
	Diameter   quantity.LengthQ `toml:"diameter" doc:"its outside diameter" min:"0" how:"Caliper over the shaft where it is thickest." from:"outside to outside"`
	Phase      Phase            `toml:"phase" doc:"its two yokes: in phase, or crossed" how:"Look along the shaft: the ears in one plane, or a quarter turn apart."`
	YokeOffset quantity.AngleQ  `toml:"yoke_offset" doc:"its lower yoke against its upper one, clockwise looking down it from the column" how:"Gauge on the ears of either end, looking from the column." from:"the upper yoke"`
	Teeth      quantity.NumberQ `toml:"teeth" doc:"teeth of the spline on which one of its yokes can be set over; left out where neither can" min:"0" exact:"yes" how:"Count them." from:"none"`
	SlipClosed quantity.LengthQ `toml:"slip_closed" doc:"joint to joint with its slip joint home, or fully collapsed" min:"0" how:"Push it home and tape between joint centres." from:"joint centre to joint centre"`
	SlipOpen   quantity.LengthQ `toml:"slip_open" doc:"joint to joint at the least engagement allowed" min:"0" how:"Draw it out to the least engagement and tape between joint centres." from:"joint centre to joint centre"`
}

// Yoke returns the yoke offset of the shaft, and false where the file does not say
// how its yokes stand.
func (s SteeringShaft) Yoke() (geom.Angle, bool) {
	if v, ok := s.YokeOffset.Get(); ok {
		return geom.Angle(v), true
	}
	switch s.Phase {
	case InPhase:
		return 0, true
	case Crossed:
		return 90 * geom.Deg, true
	}
	return 0, false
}

// SteeringBearing is a support bearing that lets a shaft turn and slide and holds it
// sideways.
type SteeringBearing struct {
	At Point `toml:"at" doc:"its centre, on the shaft's axis" need:"yes"`
}

// Given reports whether anything stands in the table of the steering shaft.
func (s *Steering) Given() bool {
	return s.Column.given() || s.ColumnAxis.given() || s.Input.given() || s.InputAxis.given() ||
		s.Straight.Known() || s.Shorten.Known() || s.Gap.Known() || s.GapRocked.Known() ||
		len(s.Joints)+len(s.Shafts)+len(s.Bearings) > 0
}

// Shaft returns shaft i from the column, an empty one where the file has none.
func (s *Steering) Shaft(i int) SteeringShaft {
	if i < len(s.Shafts) {
		return s.Shafts[i]
	}
	return SteeringShaft{}
}

// Unended says why the joints of the file are not all of them yet, "" when they are:
// one joint between two places, or a last one that stands somewhere else than at the
// input.
func (s *Steering) Unended() string {
	n := len(s.Joints)
	switch {
	case n == 1 && s.Column.Known && s.Input.Known && r3.Norm(r3.Sub(s.Input.At, s.Column.At)) > leastShaft:
		return "steering.joint is one, and column and input are two places: the next [[steering.joint]] is not in the file yet"
	case n > 1 && s.Joints[n-1].At.given():
		return fmt.Sprintf("the last joint stands at steering.input, and steering.joint[%d].at gives it another place: the next [[steering.joint]] is not in the file yet, or this one's place is to be left out", n-1)
	}
	return ""
}

// JointAt returns where joint i stands, and the path of what says so.
func (s *Steering) JointAt(i int) (Point, string) {
	switch {
	case i == 0:
		return s.Column, "steering.column"
	case i == len(s.Joints)-1:
		return s.Input, "steering.input"
	}
	return s.Joints[i].At, fmt.Sprintf("steering.joint[%d].at", i)
}

// Places returns all places and directions of the steering shaft with their paths.
func (s *Steering) Places() map[string]Point {
	out := map[string]Point{"steering.column": s.Column, "steering.column_axis": s.ColumnAxis, "steering.input": s.Input, "steering.input_axis": s.InputAxis}
	for i, j := range s.Joints {
		out[fmt.Sprintf("steering.joint[%d].at", i)] = j.At
	}
	for i, x := range s.Bearings {
		out[fmt.Sprintf("steering.bearing[%d].at", i)] = x.At
	}
	return out
}

// leastShaft is how near two joint centres are one place, mm.
const leastShaft = 1

// checkSteering finds a steering shaft that cannot be.
func (b *binder) checkSteering(build *Build, root *tomltext.Node) {
	s := &build.Steering
	n := root.Child("steering")
	if n == nil {
		return
	}
	for _, d := range []struct {
		key string
		p   Point
	}{{"column_axis", s.ColumnAxis}, {"input_axis", s.InputAxis}} {
		if c := n.Child(d.key); c != nil && d.p.Known && r3.Norm(d.p.At) < geom.Tiny {
			b.fault(c.Pos, c.Path, "a direction is three numbers that are not all 0")
		}
	}
	if list := n.Child("shaft"); list != nil && len(s.Shafts) > 0 && len(s.Joints) > 0 && len(s.Shafts) >= len(s.Joints) {
		b.fault(list.Pos, list.Path, "a steering shaft of %d joints has %d shafts between them; %d [[steering.shaft]] were read", len(s.Joints), len(s.Joints)-1, len(s.Shafts))
	}
	for i, j := range s.Joints {
		b.checkSteeringJoint(entryOf(n.Child("joint"), i), i, j)
	}
	for i, x := range s.Shafts {
		b.checkSteeringShaft(entryOf(n.Child("shaft"), i), x)
	}
	b.checkSteeringRun(n, s)
}

// entryOf is entry i of a list, nil where there is none.
func entryOf(list *tomltext.Node, i int) *tomltext.Node {
	if list == nil || i >= len(list.Children) {
		return list
	}
	return list.Children[i]
}

func (b *binder) checkSteeringJoint(n *tomltext.Node, i int, j SteeringJoint) {
	if n == nil {
		return
	}
	if v, ok := j.MaxAngle.Get(); ok && (v == 0 || geom.Angle(v) >= 90*geom.Deg) {
		at := n.Child("max_angle")
		b.fault(at.Pos, at.Path, "read %s; a universal joint works at more than 0 and less than 90 degrees, most of them at 30 to 35 at the most", describe(at))
	}
	if at := n.Child("at"); at != nil && i == 0 {
		b.fault(at.Pos, at.Path, "the first joint stands at steering.column; give its place there")
	}
}

func (b *binder) checkSteeringShaft(n *tomltext.Node, x SteeringShaft) {
	if n == nil {
		return
	}
	if v, ok := x.YokeOffset.Get(); ok && (x.Phase == Crossed || x.Phase == InPhase && v != 0) {
		b.fault(n.Pos, n.Path, "phase is %q and yoke_offset gives the yokes as well: leave one of them out", x.Phase)
	}
	if v, ok := x.Teeth.Get(); ok && (v != math.Trunc(v) || v < 4 || v > 200) {
		at := n.Child("teeth")
		b.fault(at.Pos, at.Path, "read %s; a spline has 4 to 200 whole teeth, those of steering shafts usually 17 to 48; leave it out where no yoke can be set over", describe(at))
	}
	if c, o := x.SlipClosed, x.SlipOpen; c.Known() && o.Known() && o.V() <= c.V() {
		at := n.Child("slip_open")
		b.fault(at.Pos, at.Path, "slip_open has to be longer than slip_closed")
	}
	if v, ok := x.Diameter.Get(); ok && v == 0 {
		at := n.Child("diameter")
		b.fault(at.Pos, at.Path, "a shaft has a diameter above 0")
	}
}

// checkSteeringRun looks at the places one after another: shafts of no length, and
// directions that turn back.
func (b *binder) checkSteeringRun(n *tomltext.Node, s *Steering) {
	var places []r3.Vec
	var nodes []*tomltext.Node
	for i := range s.Joints {
		p, path := s.JointAt(i)
		if !p.Known {
			return
		}
		at := n
		if c := b.nodeAt(n, path); c != nil {
			at = c
		}
		places, nodes = append(places, p.At), append(nodes, at)
	}
	var ways []r3.Vec
	for i := 1; i < len(places); i++ {
		d := r3.Sub(places[i], places[i-1])
		if r3.Norm(d) < leastShaft {
			b.fault(nodes[i].Pos, nodes[i].Path, "joint %d stands where joint %d does, so the shaft between them has no length; check the two places", i+1, i)
			return
		}
		ways = append(ways, d)
	}
	b.checkTurns(n, s, ways)
}

// checkTurns refuses a direction that is given the wrong way round.
func (b *binder) checkTurns(n *tomltext.Node, s *Steering, ways []r3.Vec) {
	if len(ways) == 0 {
		return
	}
	back := func(p Point, way r3.Vec) bool { return p.Known && r3.Norm(p.At) >= geom.Tiny && r3.Dot(p.At, way) <= 0 }
	if back(s.ColumnAxis, ways[0]) {
		c := n.Child("column_axis")
		b.fault(c.Pos, c.Path, "the column points away from the next joint, so the joint at its end would work past 90 degrees; the direction is from the wheel down")
	}
	if back(s.InputAxis, ways[len(ways)-1]) {
		c := n.Child("input_axis")
		b.fault(c.Pos, c.Path, "the input shaft points back to the joint before it, so its joint would work past 90 degrees; the direction is from its joint on into the rack or box")
	}
	for i := 1; i < len(ways); i++ {
		if r3.Dot(ways[i-1], ways[i]) <= 0 {
			at := entryOf(n.Child("joint"), i)
			b.fault(at.Pos, at.Path, "joint %d would work past 90 degrees; check its place and those of the joints beside it", i+1)
		}
	}
}

// nodeAt finds what stands at a path that begins with the steering table.
func (b *binder) nodeAt(n *tomltext.Node, path string) *tomltext.Node {
	switch path {
	case "steering.column":
		return n.Child("column")
	case "steering.input":
		return n.Child("input")
	}
	var i int
	if _, err := fmt.Sscanf(path, "steering.joint[%d].at", &i); err == nil {
		if e := entryOf(n.Child("joint"), i); e != nil {
			return e.Child("at")
		}
	}
	return nil
}
