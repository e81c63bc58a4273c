package project

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// TargetAcross is the crankshaft of a transaxle that lies across the vehicle:
// the powertrain's own Y axis. A reading of the powertrain with its left or its
// right end lower is one of it.
const TargetAcross = "powertrain.across"

// AxleTarget is the reading target for the tubes of a line's axle across the vehicle: the
// axle's own Y axis. A reading of its pinion with its left or its right end lower is one of
// it. Only an axle with marks has it.
func (l *Line) AxleTarget() string { return l.PinionTarget() + acrossWord }

const acrossWord = ".across"

// LiesAcross reports whether a target lies across the vehicle: its ends are left and right.
func LiesAcross(target string) bool { return strings.HasSuffix(target, acrossWord) }

// acrossOf is the target across of what target is along; false for what has none.
func (b *Build) acrossOf(target string) (string, bool) {
	if target == TargetPowertrain && b.Powertrain.Layout == Transaxle {
		return TargetAcross, true
	}
	for i := range b.Lines {
		if l := &b.Lines[i]; target == l.PinionTarget() && len(l.Pinion.Marks) > 0 {
			return l.AxleTarget(), true
		}
	}
	return "", false
}

// AnyAcross reports whether anything lies across that a gauge can be put on.
func (b *Build) AnyAcross() bool { return slices.ContainsFunc(b.Targets(), LiesAcross) }

// Across reports whether it is an end of what lies across the vehicle.
func (e End) Across() bool { return e == LeftEnd || e == RightEnd }

// Ends lists what the lower end of a reading of that target can be called.
func (b *Build) Ends(target string) []string {
	along, across := []string{string(FrontEnd), string(RearEnd)}, []string{string(LeftEnd), string(RightEnd)}
	if LiesAcross(target) {
		return across
	}
	if _, too := b.acrossOf(target); too {
		return append(along, across...)
	}
	return along
}

// checkAcross gives readings across their target, and refuses left and right
// for what runs along the vehicle.
func (b *binder) checkAcross(build *Build, root *tomltext.Node) {
	list := root.Child("reading")
	for i := range build.Readings {
		r := &build.Readings[i]
		if list == nil || i >= len(list.Children) {
			return
		}
		n := list.Children[i]
		sideways := r.Lower.Across() || r.GaugeEnd.Across() || r.Face.Across()
		if of, ok := build.acrossOf(r.Of); ok && sideways {
			r.Of = of
		}
		across := LiesAcross(r.Of)
		switch {
		case r.Of == TargetAcross && build.Powertrain.Layout != Transaxle:
			b.fault(n.Pos, n.Path, "a crankshaft lies across with powertrain.layout = \"transaxle\" only; this one runs along the vehicle")
		case across && (r.Lower != "" && !r.Lower.Across() || r.GaugeEnd != "" && !r.GaugeEnd.Across() && !r.GaugeEnd.Upright()):
			b.fault(n.Pos, n.Path, "the ends of what lies across are left and right")
		case !across && sideways:
			b.fault(n.Pos, n.Path, "left and right are the ends of a crankshaft across, with powertrain.layout = \"transaxle\", or of an axle with marks; here they are front and rear")
		}
		if across || !sideways {
			b.checkMarked(n, *r)
		}
		if r.GaugeEnd.Across() { // what turns the gauge round counts by its sense alone
			r.GaugeEnd = map[MarkedEnd]MarkedEnd{MarkedLeft: MarkedFront, MarkedRight: MarkedRear}[r.GaugeEnd]
		}
	}
}

// Falls says a slope (rad) of what has this end lower in words: which way it
// falls.
func (e End) Falls(slope float64, u quantity.Units, decimals int) string {
	if !e.Across() {
		return quantity.Format(quantity.Slope, slope, u, decimals)
	}
	return quantity.Format(quantity.Angle, math.Abs(slope), u, decimals) + " down to the " + string(e)
}
