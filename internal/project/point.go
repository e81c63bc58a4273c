package project

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// MeasuredPoint is a point of the vehicle as it was measured: from what one can
// reach, how far to the rear, to the right and up. Where it lies is worked out
// from that and never written. One that has nothing but its name is placed by
// something else, or not yet.
type MeasuredPoint struct {
	Name    string         `toml:"*"`
	From    string         `toml:"from" doc:"what it was measured from: a point such as point.rail_lr, rails.left.top, rails.right.top, floor, or the face of a part such as chassis.bonnet or chassis.crossmember.rear; the vehicle's zero when left out" offers:"datums"`
	Station Coordinate     `toml:"station" doc:"how far to the rear of that; from the vehicle's zero where that has no station" how:"Tape along the vehicle, each repeat taken anew." from:"what the point was measured from"`
	Offset  SideCoordinate `toml:"offset" doc:"how far to the right of that; from the centre line where that has no offset" how:"Tape square to the vehicle, each repeat taken anew." from:"what the point was measured from"`
	Height  Coordinate     `toml:"height" doc:"how far above that; from the vehicle's zero where that has no height" how:"Level and tape, or plumb line, each repeat taken anew." from:"what the point was measured from"`
	With    string         `toml:"with" doc:"the tool of all three, such as tool.tape; a ± behind a number comes before it" offers:"tools"`
	Note    string         `toml:"note" doc:"anything worth knowing" lines:"yes" own:"yes"`
}

// Path is the point's name where a point is wanted: point.pinion.
func (m MeasuredPoint) Path() string { return pointPrefix + m.Name }

const pointPrefix = "point."

// Coordinate is one coordinate as it was measured: once, perhaps with a ±, or
// each repeat. The zero value is not known.
type Coordinate struct {
	Repeats []float64 // mm
	half    float64
}

// SideCoordinate is a coordinate across the vehicle, right positive.
type SideCoordinate struct{ Coordinate }

// Kind is what a coordinate measures.
func (Coordinate) Kind() quantity.Kind { return quantity.Length }

// Kind is what a coordinate across the vehicle measures.
func (SideCoordinate) Kind() quantity.Kind { return quantity.Offset }

// Get returns the mean of the repeats (mm), and whether there is one.
func (c Coordinate) Get() (mean float64, known bool) {
	for _, v := range c.Repeats {
		mean += v / float64(len(c.Repeats))
	}
	return mean, len(c.Repeats) > 0
}

// HalfWidth returns the half-width of the ± that was typed (mm), and whether one
// was. Repeats have none.
func (c Coordinate) HalfWidth() (half float64, stated bool) { return c.half, c.half > 0 }

func (c *Coordinate) set(repeats []float64, half float64) {
	*c = Coordinate{Repeats: repeats, half: half}
}

// repeated is a pointer to a coordinate of either kind.
type repeated interface {
	Kind() quantity.Kind
	set(repeats []float64, half float64)
}

// PlacedPoint is where a measured point lies, and what that rests on.
type PlacedPoint struct {
	Name    string
	At      r3.Vec // vehicle axes, mm
	Known   bool
	Why     string   // what it lacks, where it is not known
	Terms   []Term   // what was measured on the way to it
	Assumes []string // what was taken for granted
	Waits   string   // the point that the survey has to place first, such as point.rail_lf; "" for none
}

// Term is one thing that was measured on the way to a point.
type Term struct {
	Path    string    // of the value in the text, such as point.pinion.station
	Dir     r3.Vec    // how the point moves with it, per mm
	Value   float64   // mm; the mean of repeats
	Repeats []float64 // each as it was measured; nil for a number of its own
	Half    float64   // half-width of the ± that was typed, mm; 0 where none was
	Tool    string    // what it was measured with, such as tool.tape; "" where that was not said
	Survey  bool      // the survey places it: Path is of a coordinate of a point, such as point.rail_lf.station
}

// TermHalf returns the half-width (mm) of a term and whether anything was said of
// it: its ±, or else what its tool is good for over that length and from one
// measurement to the next, where the tool says the first. Repeats that lie
// farther apart than the tool says count as they lie.
//
// Where the survey places something, that is not said here: its ± are in the survey.
func (b *Build) TermHalf(t Term) (half float64, stated bool) {
	if t.Survey {
		return 0, true
	}
	if t.Half > 0 {
		return t.Half, true
	}
	tool, ok := b.ToolNamed(t.Tool)
	if !ok {
		return 0, false
	}
	shared, known := tool.Shared(t.Value)
	spread := 0.0
	if len(t.Repeats) > 1 {
		spread = (slices.Max(t.Repeats) - slices.Min(t.Repeats)) / 2
	}
	return shared + max(tool.Repeat.Or(0), spread), known
}

// TermError returns the half-width (mm) of one error that leaves a term as open as the
// errors behind it do, and whether anything was said of it: its ± is one error already.
// What a tool is good for and how far it strays from one measurement to the next are two
// independent ones, which add by their squares, and the mean of repeats that keep to
// what the tool says of that strays less by the root of their number (JCGM 100:2008,
// 4.2.3 and 5.1.2).
func (b *Build) TermError(t Term) (half float64, stated bool) {
	bound, stated := b.TermHalf(t)
	tool, ok := b.ToolNamed(t.Tool)
	if t.Survey || t.Half > 0 || !ok {
		return bound, stated
	}
	shared, _ := tool.Shared(t.Value)
	stray := bound - shared
	if n := len(t.Repeats); n > 1 && stray <= tool.Repeat.Or(0) {
		stray /= math.Sqrt(float64(n))
	}
	return math.Hypot(shared, stray), stated
}

// HalfWidths returns the half-width of each coordinate of a placed point (mm):
// the sum of those of what it rests on, since each is a bound. It is 0, not
// stated, where nothing was said of one of them.
func (b *Build) HalfWidths(p PlacedPoint) r3.Vec {
	var sum [3]float64
	silent := [3]bool{}
	for _, t := range p.Terms {
		half, stated := b.TermHalf(t)
		for i, d := range coordinates(t.Dir) {
			sum[i] += math.Abs(d) * half
			silent[i] = silent[i] || !stated && d != 0
		}
	}
	for i := range sum {
		if silent[i] {
			sum[i] = 0
		}
	}
	return r3.Vec{X: sum[0], Y: sum[1], Z: sum[2]}
}

// PointNamed returns where the point lies that a text such as point.pinion names.
func (b *Build) PointNamed(name string) (PlacedPoint, bool) {
	name, ok := strings.CutPrefix(name, pointPrefix)
	i := slices.IndexFunc(b.Points, func(m MeasuredPoint) bool { return m.Name == name })
	if !ok || i < 0 || i >= len(b.placed) {
		return PlacedPoint{}, false
	}
	return b.placed[i], true
}

// PointPaths lists the points of the file as they are named where one is wanted.
func (b *Build) PointPaths() []string {
	out := make([]string, len(b.Points))
	for i, m := range b.Points {
		out[i] = m.Path()
	}
	return out
}

func coordinates(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

func along(axis int, v float64) r3.Vec {
	var c [3]float64
	c[axis] = v
	return r3.Vec{X: c[0], Y: c[1], Z: c[2]}
}

// TermsOf returns what the place of a point rests on, whose path is that: each of
// its numbers, or what was measured on the way to it where it is given by name.
func (b *Build) TermsOf(path string, p Point) []Term {
	if p.Ref != "" {
		placed, _ := b.PointNamed(p.Ref)
		return placed.Terms
	}
	at, half := coordinates(p.At), coordinates(p.Half)
	out := make([]Term, len(at))
	for i, d := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		out[i] = Term{Path: fmt.Sprintf("%s[%d]", path, i), Dir: d, Value: at[i], Half: half[i]}
	}
	return out
}
