package project

import (
	"slices"

	"fitup/internal/project/tomltext"
)

// MarkedEnd is which way the marked end of a gauge pointed, as the file spells
// it.
type MarkedEnd string

// The words the file uses. A gauge along an axis points to an end of it, one on
// a face square to it up or down.
const (
	MarkedFront MarkedEnd = "front"
	MarkedRear  MarkedEnd = "rear"
	MarkedLeft  MarkedEnd = "left" // of a crankshaft across
	MarkedRight MarkedEnd = "right"
	MarkedUp    MarkedEnd = "up"
	MarkedDown  MarkedEnd = "down"
)

// Words lists which way the marked end can have pointed.
func (MarkedEnd) Words() []string {
	return []string{string(MarkedFront), string(MarkedRear), string(MarkedLeft), string(MarkedRight), string(MarkedUp), string(MarkedDown)}
}

// Across reports whether it pointed to an end of what lies across the vehicle.
func (m MarkedEnd) Across() bool { return m == MarkedLeft || m == MarkedRight }

// Upright reports whether the gauge stood on end, as on a square face.
func (m MarkedEnd) Upright() bool { return m == MarkedUp || m == MarkedDown }

// ZeroSense is the sign with which an error of the gauge's zero goes into the
// slope of the axis, +1 or -1, and whether it is known. Only between readings of
// known sign does a common error of the zero cancel.
//
// A gauge whose base lies on a surface of outward normal n with its marked end
// along m turns by its error about n × m. Along the axis on top of it, n is up:
// with the marked end to the rear the error adds to the slope down to the rear,
// and with it to the front it takes off. On a square face n is the way the face
// looks: to the rear with the marked end up the turn is the other way round, and
// each of face and end turned round turns it again. On a square face with an end
// to the front or the rear, as files before this word had it, the sign is not
// known.
func (r Reading) ZeroSense() (sense float64, known bool) {
	sense = map[MarkedEnd]float64{MarkedFront: -1, MarkedLeft: -1, MarkedRear: 1, MarkedRight: 1, MarkedUp: -1, MarkedDown: 1}[r.GaugeEnd]
	switch {
	case r.InPlan() || r.GaugeEnd.Upright() != (r.On == SquareFace):
		return 0, false
	case r.On == SquareFace:
		sense *= map[End]float64{FrontEnd: -1, LeftEnd: -1, RearEnd: 1, RightEnd: 1}[r.Face]
	}
	return sense, sense != 0
}

// checkMarked holds the end of the gauge and the face it stood on against what
// it stood on.
func (b *binder) checkMarked(n *tomltext.Node, r Reading) {
	end, face := n.Child("gauge_end"), n.Child("face")
	if end != nil && r.GaugeEnd.Upright() && r.On != SquareFace {
		b.fault(end.Pos, end.Path, "the marked end points up or down on a square face; along the axis it points to the front or to the rear")
	}
	if face == nil || r.Face == "" {
		return
	}
	want := []End{FrontEnd, RearEnd}
	if LiesAcross(r.Of) {
		want = []End{LeftEnd, RightEnd}
	}
	switch {
	case r.On != SquareFace:
		b.fault(face.Pos, face.Path, "face is which way a square face looks, and this reading is not on one; want on = \"square face\", or the line left out")
	case !slices.Contains(want, r.Face):
		b.fault(face.Pos, face.Path, "a face that looks to the %s is not square to this axis; want %s or %s", r.Face, want[0], want[1])
	}
}
