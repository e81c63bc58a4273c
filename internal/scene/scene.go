// Package scene is the build as a drawing: solids, lines, marks and dimensions in
// vehicle axes, made from an assessment, and what is seen of them in a view. It
// works out no trade numbers. Screens and documents bring a pen.
package scene

import (
	"fitup/internal/assess"
	"fitup/internal/geom/clear"
	"fitup/internal/project/quantity"
	"fitup/internal/scene/hidden"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// Role says what a line or mark of the drawing stands for.
type Role uint8

// The roles, from background to foreground.
const (
	RoleGround Role = iota
	RoleGhost       // where something stood before the last change
	RoleRail
	RoleWheel
	RoleChassis
	RoleBody
	RoleLeg
	RoleAxis
	RoleShaft
	RolePad
	RoleJoint
	RoleLeader // from a name to what it names
	RoleDimension
	RoleFrame // scale bar and axes of the drawing
	RolePaper // on paper only: an edge to cut along, a length to measure
)

// Scene is the build in vehicle axes, mm.
type Scene struct {
	Parts      []Part
	Seams      []Seam
	Marks      []Mark
	Dimensions []Dimension
	Swings     []Swing       // the ways in which the powertrain swings
	swinging   []clear.Shape // its pieces, which do
	Ground     assess.Number // its height
	Body       r3.Box        // the room of the powertrain; nothing where it is not placed
}

// Part is a thing that is drawn: a solid, a ball, or a run of lines.
type Part struct {
	ID    string // what it is called by findings; see Lit
	Name  string // what it is called on the drawing; "" for none
	Role  Role
	Solid *solid.Solid
	Ball  *hidden.Ball
	Line  []r3.Vec // a run of lines; of a rod its axis, by which it is drawn where it is too thin
	Thick float64  // of such a rod, mm
	Kind  Kind
	Asked bool // drawn only while the cursor is on it
	Plain bool // a line that nothing hides, such as the centre line of a shaft
	// Side is for what belongs to a view along one axis: 'x' for a section across
	// the vehicle, 'y' for what is known only as it is seen from its side.
	Side byte
}

// Seam is where the surfaces of two parts cross.
type Seam struct {
	Part int // one of them
	Line [2]r3.Vec
}

// Mark is a point with a name; a joint carries its line, counted from 0, its
// angle and its verdict.
type Mark struct {
	ID     string
	Role   Role
	At     r3.Vec
	Label  string
	Line   int
	Angle  assess.Number
	Status assess.Status
}

// Dimension is a length or an angle that can be drawn where it is. Angle tells
// one from the other: a length runs from From to To; an angle is at From,
// between the directions Way and Other, about the axis About, as far out as Out.
type Dimension struct {
	ID         string
	From, To   r3.Vec
	Angle      bool
	Way, Other r3.Vec
	About      r3.Vec
	Out        float64
	Minor      bool // drawn only when it is asked for, and not with all others
	Across     bool // with all others only where one looks along the vehicle
	Gap        bool // a gap: drawn where it is, whichever way it lies
	Fine       bool // drawn with its lines however short it is
	Value      assess.Number
	Kind       quantity.Kind
	Of         string // what the figure is, in a word or two: "below rail"
	Status     assess.Status
	Verdict    bool // Status is a verdict on it
}

// Of returns the scene of an assessed build.
func Of(a *assess.Assessment) *Scene {
	s := &Scene{}
	s.vehicle(a)
	s.steering(a)
	s.pickups(a)
	s.subframes(a)
	s.exhaust(a)
	s.packings(a)
	s.held(a)
	if a.Pose.Known {
		s.powertrain(a)
	}
	for i := range a.Brackets {
		s.bracket(&a.Brackets[i])
	}
	for i := range a.Lines {
		s.line(a, i)
	}
	if a.Pose.Known {
		s.swings(a)
	}
	s.seams()
	s.dimensions(a)
	return s
}

// add adds a part, unless it is nothing.
func (s *Scene) add(p Part) {
	if p.Solid != nil || p.Ball != nil || len(p.Line) > 1 {
		s.Parts = append(s.Parts, p)
	}
}

// made is a solid to point to; nil where it encloses nothing.
func made(x solid.Solid, ok bool) *solid.Solid {
	if !ok {
		return nil
	}
	return &x
}

// brought tells what the vehicle brings along from what is fitted into it: the
// one is looked through where it stands before the other.
func (r Role) brought() bool {
	return r == RoleRail || r == RoleWheel || r == RoleChassis || r == RoleGround
}

// layer is what a role may hide.
func (r Role) layer() hidden.Layer {
	if r.brought() {
		return hidden.Back
	}
	return hidden.Front
}

// apart tells what stands apart from others of its kind, or goes on in them.
func (r Role) apart() bool { return r == RoleRail || r == RoleWheel || r == RoleLeg || r == RoleShaft }

// seams finds where solids of one layer run into each other.
func (s *Scene) seams() {
	rooms := make([]r3.Box, len(s.Parts))
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Solid != nil {
			rooms[i] = p.Solid.Room()
		}
	}
	for i := range s.Parts {
		a := &s.Parts[i]
		for j := i + 1; a.Solid != nil && j < len(s.Parts); j++ {
			b := &s.Parts[j]
			if b.Solid == nil || !solid.Meet(rooms[i], rooms[j]) || a.Role.layer() != b.Role.layer() || a.Role == b.Role && a.Role.apart() {
				continue
			}
			for _, l := range solid.Seam(a.Solid, b.Solid) {
				s.Seams = append(s.Seams, Seam{i, l})
			}
		}
	}
}
