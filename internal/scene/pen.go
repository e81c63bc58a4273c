package scene

import (
	"fitup/internal/assess"

	"gonum.org/v1/gonum/spatial/r2"
)

// Pen is what a flat drawing is made with: a screen's canvas, a page. Places and
// lengths are in mm, x to the right and y up; how large a mm comes out, and how
// wide, in which colour and in which letters, is the pen's own business.
type Pen interface {
	// Line joins points in turn.
	Line(points []r2.Vec, s Style)
	// Polygon joins points in turn, and the last with the first.
	Polygon(points []r2.Vec, s Style)
	// Arc goes round a centre from one angle to another, anticlockwise, rad
	// from x; a full turn or more is a circle.
	Arc(at r2.Vec, radius float64, from, to float64, s Style)
	// Sign marks a point with the sign of its role, which has the same size at
	// every scale.
	Sign(at r2.Vec, s Style)
	// Text writes a note, or as much of it as there is room for.
	Text(n Note)
}

// Style says what is drawn; the pen knows how that looks.
type Style struct {
	Role   Role
	Status assess.Status // of a joint
	Dashed bool
}

// Note is a text beside a point.
type Note struct {
	At     r2.Vec
	Texts  []string // of one meaning, the fullest first
	Beside Side
	Style  Style
}

// Side says where a note stands.
type Side uint8

// Where a note stands: beginning at its point, centred over or under it, or at
// its lower right.
const (
	Here Side = iota
	Over
	Under
	Corner
)
