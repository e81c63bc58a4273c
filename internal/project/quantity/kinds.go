// Package quantity reads and writes measured values with units.
//
// Text is turned into numbers once, at the edge, and everything behind it
// works in one set of internal units:
//
//	Length, Offset           mm      an offset is positive to the right
//	Angle, Slope, Heading    rad     a slope is positive down to the rear,
//	                                 a heading positive rear to the right
//	Mass kg, Force N, Torque N·mm, Speed rad/s (shaft), RoadSpeed mm/s,
//	Rate N/mm, Stress MPa, Frequency Hz, AngularAcceleration rad/s²,
//	Unbalance g·mm, Density kg/m³, Number and Count 1, Temperature °C, Inertia kg·mm²
//
// Left and right are the driver's, seated.
package quantity

import (
	"math"
	"strings"
)

// Kind says what a number measures. It decides which units are accepted,
// whether a direction has to be said, and which sizes are refused.
type Kind uint8

// The kinds of quantity. Internal units are in the package comment.
const (
	Length              Kind = iota
	Offset                   // a length across the vehicle, right positive
	Angle                    // an angle without a set sense
	Slope                    // seen from the side, down to the rear positive
	Heading                  // seen from above, rear to the right positive
	Mass                     //
	Force                    //
	Torque                   //
	Speed                    // of a turning shaft
	RoadSpeed                // of the vehicle
	Rate                     // spring rate
	Stress                   // also elastic modulus
	Frequency                //
	AngularAcceleration      //
	Unbalance                // mass times radius
	Density                  //
	Number                   // a plain ratio
	Temperature              //
	Inertia                  // moment of inertia
	Count                    // how many: whole, and shown without decimals
	kindCount
)

// senses holds the words that say which way a signed kind points.
type senses struct {
	pos, neg           string // full phrase, as printed and as accepted
	shortPos, shortNeg string // one word, for a column whose heading says the rest
	zero               string // printed after a zero, "" for nothing
	must               bool   // a number other than 0 has to carry a phrase
}

// kindInfo is one row of the table of kinds.
type kindInfo struct {
	name     string // with article: "a length"
	noun     string // "length"
	family   Kind   // the kind whose units it uses
	min, max float64
	limits   string // the accepted span in words
	example  string
	bound    string  // an example with a ±
	unsure   float64 // the largest ± that is no slip; 0 for the value itself
	sense    senses
}

const (
	quarterTurn = math.Pi / 2
	absoluteMin = -273.15 // °C, absolute zero by definition of the scale
)

// kinds is indexed by Kind. The limits only catch slips (a wrong unit, a
// doubled digit); they are far outside anything a road vehicle needs.
var kinds = [kindCount]kindInfo{
	Length: {name: "a length", noun: "length", family: Length, min: -1e5, max: 1e5,
		limits: "up to 100 m", example: "412 mm or 16 1/4 in", bound: "412 mm ± 1", unsure: 250},
	Offset: {name: "an offset", noun: "offset", family: Length, min: -1e4, max: 1e4,
		limits: "up to 10 m to either side", example: "12 mm right or 1/2 in left", bound: "12 mm ± 1 right", unsure: 250,
		sense: senses{pos: "right", neg: "left", shortPos: "right", shortNeg: "left"}},
	Angle: {name: "an angle", noun: "angle", family: Angle, min: -4 * math.Pi, max: 4 * math.Pi,
		limits: "up to two full turns", example: "4.4 deg or 4°24'", bound: "4.4 deg ± 0.2", unsure: 10 * deg},
	Slope: {name: "a slope", noun: "slope", family: Angle, min: -quarterTurn, max: quarterTurn,
		limits: "up to 90 deg", example: "4.4 deg down to the rear or 10 mm over 1250 mm up to the rear", bound: "4.4 deg ± 0.2 down to the rear", unsure: 10 * deg,
		sense: senses{pos: "down to the rear", neg: "up to the rear", shortPos: "down", shortNeg: "up", zero: "level", must: true}},
	Heading: {name: "a heading", noun: "heading", family: Angle, min: -quarterTurn, max: quarterTurn,
		limits: "up to 90 deg", example: "0.5 deg rear to the right", bound: "0.5 deg ± 0.2 rear to the right", unsure: 10 * deg,
		sense: senses{pos: "rear to the right", neg: "rear to the left", shortPos: "right", shortNeg: "left", zero: "straight", must: true}},
	Mass: {name: "a mass", noun: "mass", family: Mass, min: 0, max: 1e5,
		limits: "0 to 100 t", example: "320 kg or 705 lb", bound: "320 kg ± 10"},
	Force: {name: "a force", noun: "force", family: Force, min: -1e7, max: 1e7,
		limits: "up to 10 000 kN", example: "1200 N or 270 lbf", bound: "1200 N ± 50"},
	Torque: {name: "a torque", noun: "torque", family: Torque, min: -1e9, max: 1e9,
		limits: "up to 1000 kN m", example: "600 N m or 45 lb ft", bound: "600 N m ± 20"},
	Speed: {name: "a shaft speed", noun: "shaft speed", family: Speed, min: -1e5 * rpm, max: 1e5 * rpm,
		limits: "up to 100 000 rpm", example: "3000 rpm", bound: "3000 rpm ± 50"},
	RoadSpeed: {name: "a road speed", noun: "road speed", family: RoadSpeed, min: -1e9 / 3600, max: 1e9 / 3600,
		limits: "up to 1000 km/h", example: "90 km/h or 55 mph", bound: "90 km/h ± 2"},
	Rate: {name: "a spring rate", noun: "spring rate", family: Rate, min: 0, max: 1e7,
		limits: "0 to 10 000 kN/mm", example: "250 N/mm or 1400 lb/in", bound: "250 N/mm ± 40"},
	Stress: {name: "a stress", noun: "stress", family: Stress, min: -2e6, max: 2e6,
		limits: "up to 2000 GPa", example: "250 MPa or 36 ksi", bound: "250 MPa ± 10"},
	Frequency: {name: "a frequency", noun: "frequency", family: Frequency, min: 0, max: 1e6,
		limits: "0 to 1000 kHz", example: "12.5 Hz", bound: "12.5 Hz ± 0.5"},
	AngularAcceleration: {name: "an angular acceleration", noun: "angular acceleration", family: AngularAcceleration,
		min: -1e7, max: 1e7, limits: "up to 10 000 000 rad/s²", example: "400 rad/s2", bound: "400 rad/s2 ± 20"},
	Unbalance: {name: "an unbalance", noun: "unbalance", family: Unbalance, min: 0, max: 1e9,
		limits: "0 to 1000 kg m", example: "300 g mm or 0.4 oz in", bound: "300 g mm ± 20"},
	Density: {name: "a density", noun: "density", family: Density, min: 0, max: 3e4,
		limits: "0 to 30 000 kg/m³", example: "7850 kg/m3", bound: "7850 kg/m3 ± 50"},
	Number: {name: "a number", noun: "number", family: Number, min: -1e9, max: 1e9,
		limits: "up to 1 000 000 000", example: "3.73", bound: "3.73 ± 0.01"},
	Temperature: {name: "a temperature", noun: "temperature", family: Temperature, min: absoluteMin, max: 3000,
		limits: "-273.15 to 3000 °C", example: "20 C or 68 F", bound: "20 C ± 2", unsure: 100},
	Inertia: {name: "a moment of inertia", noun: "moment of inertia", family: Inertia, min: 0, max: 1e12,
		limits: "0 to 1 000 000 kg m²", example: "12 kg m2 or 285 lb ft2", bound: "12 kg m2 ± 1"},
	Count: {name: "a count", noun: "count", family: Number, min: 0, max: 1e9,
		limits: "0 to 1 000 000 000", example: "4", bound: "4 ± 1"},
}

// Long reports whether k is a length, of whatever sense.
func (k Kind) Long() bool { return k.info().family == Length }

// valid reports whether k is one of the kinds above.
func (k Kind) valid() bool { return k < kindCount }

// info returns the row of k; an unknown kind is treated as a plain number.
func (k Kind) info() *kindInfo {
	if !k.valid() {
		k = Number
	}
	return &kinds[k]
}

// String returns the plain name of the kind, such as "road speed".
func (k Kind) String() string {
	if !k.valid() {
		return "unknown kind"
	}
	return kinds[k].noun
}

// NeedsDirection reports whether a value of this kind other than 0 has to say
// which way it points, so that a bare number is refused.
func (k Kind) NeedsDirection() bool { return k.info().sense.must }

// Signed reports whether a value of this kind is printed with a direction.
func (k Kind) Signed() bool { return k.info().sense.pos != "" }

// inRange reports whether v (internal units) is a size this kind can have. The
// ends give way by a millionth, so that a limit may be written rounded in any
// unit; an end at 0 does not.
func (in *kindInfo) inRange(v float64) bool {
	const slack = 1e-6
	return v >= in.min-slack*math.Abs(in.min) && v <= in.max+slack*math.Abs(in.max)
}

// Named returns the plain name of the kind with its article: "a road speed".
func (k Kind) Named() string { return k.info().name }

// Example returns how a value of this kind may be written, with its unit.
func (k Kind) Example() string {
	first, _, _ := strings.Cut(k.info().example, " or ")
	return first
}
