package project

import (
	"slices"
	"strings"
)

// Asks reports whether a kind of mount asks for the value at a key of its bracket table,
// such as past or plate.foot_bend. A mount without a kind may have any.
func (k BracketKind) Asks(key string) bool {
	if k == "" {
		return true
	}
	is := func(of string) bool { return key == of || strings.HasPrefix(key, of+".") }
	for _, q := range new(MountBracket).asked(false) {
		if is(q.key) && !slices.Contains(q.asks, k) {
			return false
		}
	}
	if k.OfPlate() {
		for _, of := range []string{"perch", "gusset", "pad_plate.thickness", "pad_plate.width", "pad_plate.height", "pad_plate.gap",
			"rail_plate.thickness", "rail_plate.width", "rail_plate.height", "rail_plate.gap"} {
			if is(of) {
				return false
			}
		}
	}
	switch k {
	case BoxedPlate:
		return !is("rail_plate") && !is("bolts")
	case ClampTab:
		return !is("rail_plate") && !is("rail")
	case BoltedTab:
		return !is("weld")
	case TwinEars:
		return !is("pad_plate") && !is("perch")
	case InclinedLeg, TwoLegsInA:
		return !is("perch")
	case StraightCrossmember, DroppedCrossmember:
		return !is("rail")
	}
	return true
}
