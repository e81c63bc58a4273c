package geom

import "math"

// Angle is an angle in radians. The zero value is no angle.
//
// A slope is an Angle whose positive sense is down to the rear (nose up); a
// heading is an Angle whose positive sense is rear end to the right.
type Angle float64

// Deg is one degree; 4.4*geom.Deg reads as it is said.
const Deg Angle = math.Pi / 180

// Rad returns the angle in radians.
func (a Angle) Rad() float64 { return float64(a) }

// Degrees returns the angle in degrees.
func (a Angle) Degrees() float64 { return float64(a) * (180 / math.Pi) }

// Abs returns the angle without its sense.
func (a Angle) Abs() Angle { return Angle(math.Abs(float64(a))) }

// SlopeOver returns the slope of a straight line that falls by drop (mm,
// positive downward) over a level run (mm, positive, measured rearward):
// atan(drop/run). This is the shop's "10 mm over 1250 mm".
func SlopeOver(drop, run float64) Angle { return Angle(math.Atan2(drop, run)) }
