package shaft

import (
	"math"

	"fitup/internal/geom"
)

// The true angle of a joint from two readings, for a joint one of whose shafts
// lies along the reference axis. Three formulas are in use, and they are not
// the same: what was read decides. All are exact for small angles. The joint
// angles of a line come from axis vectors (Angles) and need none of them.

// CompoundViews takes the angles as drawn in side view and in plan view:
// tan²β = tan²S + tan²T.
func CompoundViews(side, plan geom.Angle) (geom.Angle, error) {
	for _, a := range []geom.Angle{side, plan} {
		if _, err := loaded(0, a); err != nil {
			return 0, err
		}
	}
	return geom.Angle(math.Atan(math.Hypot(math.Tan(side.Rad()), math.Tan(plan.Rad())))), nil
}

// CompoundReadings takes what an inclinometer on the shaft reads (its slope)
// and its heading in plan: cos β = cos S·cos T.
func CompoundReadings(slope, heading geom.Angle) (geom.Angle, error) {
	for _, a := range []geom.Angle{slope, heading} {
		if _, err := loaded(0, a); err != nil {
			return 0, err
		}
	}
	d := geom.Direction(slope, heading)
	return geom.Angle(math.Atan2(math.Hypot(d.Y, d.Z), d.X)), nil
}

// CompoundShop is the shop formula, √(S²+T²): too large against either, by
// 0.02° at 5° and 5°, by 1° at 20° and 20°. Common practice, no source.
func CompoundShop(side, plan geom.Angle) (geom.Angle, error) {
	for _, a := range []geom.Angle{side, plan} {
		if _, err := loaded(0, a); err != nil {
			return 0, err
		}
	}
	return geom.Angle(math.Hypot(side.Rad(), plan.Rad())), nil
}
