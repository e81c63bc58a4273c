package scene

import (
	"fitup/internal/assess"

	"gonum.org/v1/gonum/spatial/r2"
)

// Pen is what a drawing is made with: a screen's canvas, a page. Places and
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
	// Text writes a note.
	Text(n Note)
}

// Style says what is drawn; the pen knows how that looks.
type Style struct {
	Role   Role
	Status assess.Status // of a joint, or of a gap that has a verdict
	Judged bool          // Status is a verdict
	Kind   Kind
	Lit    bool // what the cursor is on
}

// Kind is a type of line, by its number in ISO 128-2 (from memory).
type Kind uint8

// The types of line.
const (
	Continuous Kind = iota // 01: what is seen
	Dashed                 // 02: hidden edges of what the cursor is on; a surface without an end, cut off here
	Chain                  // 04, long-dashed dotted: a centre line
	Phantom                // 05, long-dashed double-dotted: what stands before the rest, and where something stood
)

// Note is a text that begins at a place, its lower left corner.
type Note struct {
	At    r2.Vec
	Text  string
	Style Style
	Clear bool // on paper, lines under it are broken off so that it can be read (ISO 129-1)
}
