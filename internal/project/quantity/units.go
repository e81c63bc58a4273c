package quantity

import (
	"fmt"
	"math"
	"strings"
)

// Conversion factors. The inch, pound and standard gravity are exact by
// definition (NIST SP 811:2008, appendix B, from memory; unit symbols after
// ISO 80000-3 and -4).
const (
	inch = 25.4              // mm
	foot = 12 * inch         // mm
	lb   = 0.45359237        // kg
	g0   = 9.80665           // m/s²
	lbf  = lb * g0           // N, 4.4482216152605 exactly
	oz   = lb / 16           // kg
	psi  = lbf / inch / inch // MPa
	mph  = 5280 * foot / 3600
	rpm  = 2 * math.Pi / 60 // rad/s
	deg  = math.Pi / 180    // rad
)

// unitRow is one unit. internal = (shown + add) * factor.
type unitRow struct {
	kind   Kind
	name   string // plain name, used in files and in JSON
	screen string // as printed after a number, with its own space if it takes one
	factor float64
	add    float64
	digits int    // usual decimals on a screen
	also   string // other accepted spellings, separated by commas
	next   string // the smaller unit that may follow it: feet then inches
	per    float64
	part   bool // only inside a compound or by choice, never a file's own unit
}

// rows is the one table of units: to add a unit, add a row. Spellings are
// matched without regard to case, to the sign between factors ("lb-ft",
// "lb·ft", "lb.ft") or to a closing full stop; see foldUnit. The first row of
// a kind is the fallback for a Units value that leaves it out.
var rows = []unitRow{
	{kind: Length, name: "mm", screen: " mm", factor: 1, digits: 1, also: "millimetre,millimetres,millimeter,millimeters"},
	{kind: Length, name: "cm", screen: " cm", factor: 10, digits: 2, also: "centimetre,centimetres,centimeter,centimeters"},
	{kind: Length, name: "m", screen: " m", factor: 1000, digits: 4, also: "metre,metres,meter,meters"},
	{kind: Length, name: "in", screen: " in", factor: inch, digits: 3, also: `",inch,inches`},
	{kind: Length, name: "ft", screen: " ft", factor: foot, digits: 4, also: "',foot,feet", next: "in", per: 12},
	{kind: Length, name: "thou", screen: " thou", factor: inch / 1000, digits: 0, also: "mil,mils"},
	{kind: Length, name: "um", screen: " µm", factor: 0.001, digits: 0, also: "µm,micron,microns"},

	{kind: Angle, name: "deg", screen: "°", factor: deg, digits: 1, also: "°,degree,degrees", next: "arcmin", per: 60},
	{kind: Angle, name: "rad", screen: " rad", factor: 1, digits: 4, also: "radian,radians"},
	{kind: Angle, name: "mrad", screen: " mrad", factor: 0.001, digits: 1},
	{kind: Angle, name: "arcmin", screen: "'", factor: deg / 60, digits: 0, also: "',min,minute,minutes", next: "arcsec", per: 60, part: true},
	{kind: Angle, name: "arcsec", screen: `"`, factor: deg / 3600, digits: 0, also: `",sec,second,seconds`, part: true},

	{kind: Mass, name: "kg", screen: " kg", factor: 1, digits: 1, also: "kilogram,kilograms,kilo,kilos"},
	{kind: Mass, name: "g", screen: " g", factor: 0.001, digits: 0, also: "gram,grams"},
	{kind: Mass, name: "t", screen: " t", factor: 1000, digits: 3, also: "tonne,tonnes"},
	{kind: Mass, name: "lb", screen: " lb", factor: lb, digits: 1, also: "lbs,pound,pounds", next: "oz", per: 16},
	{kind: Mass, name: "oz", screen: " oz", factor: oz, digits: 1, also: "ounce,ounces"},

	{kind: Force, name: "N", screen: " N", factor: 1, digits: 0, also: "newton,newtons"},
	{kind: Force, name: "kN", screen: " kN", factor: 1000, digits: 3},
	{kind: Force, name: "daN", screen: " daN", factor: 10, digits: 1},
	{kind: Force, name: "lbf", screen: " lbf", factor: lbf, digits: 0, also: "lb,lbs"},
	{kind: Force, name: "kgf", screen: " kgf", factor: g0, digits: 1},

	{kind: Torque, name: "N m", screen: " N m", factor: 1000, digits: 0, also: "nm"},
	{kind: Torque, name: "N mm", screen: " N mm", factor: 1, digits: 0, also: "nmm"},
	{kind: Torque, name: "kN m", screen: " kN m", factor: 1e6, digits: 3, also: "knm"},
	{kind: Torque, name: "lb ft", screen: " lb ft", factor: lbf * foot, digits: 0, also: "lbf ft,ft lb,ft lbf,lbft,ftlb,lbs ft,ft lbs,lbfft"},
	{kind: Torque, name: "lb in", screen: " lb in", factor: lbf * inch, digits: 0, also: "lbf in,in lb,in lbf,lbin,inlb,lbs in,in lbs,lbfin"},
	{kind: Torque, name: "kgf m", screen: " kgf m", factor: g0 * 1000, digits: 1, also: "kgfm,m kgf"},

	{kind: Speed, name: "rpm", screen: " rpm", factor: rpm, digits: 0, also: "rev/min,r/min"},
	{kind: Speed, name: "rad/s", screen: " rad/s", factor: 1, digits: 1, also: "rad/sec"},
	{kind: Speed, name: "rev/s", screen: " rev/s", factor: 2 * math.Pi, digits: 2, also: "rps,r/s"},

	{kind: RoadSpeed, name: "km/h", screen: " km/h", factor: 1e6 / 3600.0, digits: 0, also: "kmh,kph,kmph"},
	{kind: RoadSpeed, name: "mph", screen: " mph", factor: mph, digits: 0, also: "mi/h"},
	{kind: RoadSpeed, name: "m/s", screen: " m/s", factor: 1000, digits: 1},
	{kind: RoadSpeed, name: "ft/s", screen: " ft/s", factor: foot, digits: 1, also: "fps"},
	{kind: RoadSpeed, name: "mm/s", screen: " mm/s", factor: 1, digits: 0},

	{kind: Rate, name: "N/mm", screen: " N/mm", factor: 1, digits: 0},
	{kind: Rate, name: "kN/m", screen: " kN/m", factor: 1, digits: 0},
	{kind: Rate, name: "N/m", screen: " N/m", factor: 0.001, digits: 0},
	{kind: Rate, name: "kN/mm", screen: " kN/mm", factor: 1000, digits: 3},
	{kind: Rate, name: "lb/in", screen: " lb/in", factor: lbf / inch, digits: 0, also: "lbf/in,lbs/in"},
	{kind: Rate, name: "kgf/mm", screen: " kgf/mm", factor: g0, digits: 1},

	{kind: Stress, name: "MPa", screen: " MPa", factor: 1, digits: 0, also: "n/mm2"},
	{kind: Stress, name: "GPa", screen: " GPa", factor: 1000, digits: 1},
	{kind: Stress, name: "kPa", screen: " kPa", factor: 0.001, digits: 0},
	{kind: Stress, name: "Pa", screen: " Pa", factor: 1e-6, digits: 0, also: "n/m2"},
	{kind: Stress, name: "psi", screen: " psi", factor: psi, digits: 0, also: "lbf/in2,lb/in2"},
	{kind: Stress, name: "ksi", screen: " ksi", factor: 1000 * psi, digits: 1},

	{kind: Frequency, name: "Hz", screen: " Hz", factor: 1, digits: 1, also: "hertz"},
	{kind: Frequency, name: "kHz", screen: " kHz", factor: 1000, digits: 3},
	{kind: Frequency, name: "cpm", screen: " cpm", factor: 1.0 / 60, digits: 0, also: "cycles/min"},

	{kind: AngularAcceleration, name: "rad/s2", screen: " rad/s²", factor: 1, digits: 0, also: "rad/sec2"},
	{kind: AngularAcceleration, name: "deg/s2", screen: " deg/s²", factor: deg, digits: 0, also: "°/s2,deg/sec2"},

	{kind: Unbalance, name: "g mm", screen: " g mm", factor: 1, digits: 0, also: "gmm"},
	{kind: Unbalance, name: "g cm", screen: " g cm", factor: 10, digits: 1, also: "gcm"},
	{kind: Unbalance, name: "kg mm", screen: " kg mm", factor: 1000, digits: 3, also: "kgmm"},
	{kind: Unbalance, name: "oz in", screen: " oz in", factor: oz * 1000 * inch, digits: 2, also: "ozin,in oz"},

	{kind: Density, name: "kg/m3", screen: " kg/m³", factor: 1, digits: 0},
	{kind: Density, name: "g/cm3", screen: " g/cm³", factor: 1000, digits: 3, also: "kg/dm3"},
	{kind: Density, name: "lb/in3", screen: " lb/in³", factor: lb / (inch * inch * inch) * 1e9, digits: 4},
	{kind: Density, name: "lb/ft3", screen: " lb/ft³", factor: lb / (foot * foot * foot) * 1e9, digits: 1},

	{kind: Number, name: "", screen: "", factor: 1, digits: 2, also: ":1"},
	{kind: Number, name: "%", screen: " %", factor: 0.01, digits: 1, also: "percent", part: true},

	{kind: Temperature, name: "C", screen: " °C", factor: 1, digits: 0, also: "°c,deg c,degc,celsius"},
	{kind: Temperature, name: "F", screen: " °F", factor: 5.0 / 9, add: -32, digits: 0, also: "°f,deg f,degf,fahrenheit"},
	{kind: Temperature, name: "K", screen: " K", factor: 1, add: absoluteMin, digits: 0, also: "kelvin"},

	{kind: Inertia, name: "kg m2", screen: " kg m²", factor: 1e6, digits: 1},
	{kind: Inertia, name: "kg cm2", screen: " kg cm²", factor: 100, digits: 0},
	{kind: Inertia, name: "kg mm2", screen: " kg mm²", factor: 1, digits: 0},
	{kind: Inertia, name: "lb ft2", screen: " lb ft²", factor: lb * foot * foot, digits: 0, also: "lbm ft2"},
	{kind: Inertia, name: "lb in2", screen: " lb in²", factor: lb * inch * inch, digits: 0, also: "lbm in2"},
}

// Unit is one unit of measure. The zero value stands for the kind's usual
// metric unit.
type Unit struct{ row *unitRow }

// Name returns the plain name, such as "mm" or "deg"; "" for the zero value.
func (u Unit) Name() string {
	if u.row == nil {
		return ""
	}
	return u.row.name
}

// String is Name.
func (u Unit) String() string { return u.Name() }

// Units says, per kind, what a bare number means and how numbers are shown.
// Offsets use Length; slopes and headings use Angle.
type Units struct {
	Length, Angle, Mass, Force, Torque, Speed, RoadSpeed, Rate, Stress,
	Frequency, AngularAcceleration, Unbalance, Density, Temperature, Inertia Unit
}

// Metric returns mm, deg, kg, N, N m, rpm, km/h, N/mm, MPa, Hz, rad/s2, g mm,
// kg/m3, C and kg m2.
func Metric() Units {
	return Units{Length: named(Length, "mm"), Angle: named(Angle, "deg"), Mass: named(Mass, "kg"),
		Force: named(Force, "N"), Torque: named(Torque, "N m"), Speed: named(Speed, "rpm"),
		RoadSpeed: named(RoadSpeed, "km/h"), Rate: named(Rate, "N/mm"), Stress: named(Stress, "MPa"),
		Frequency: named(Frequency, "Hz"), AngularAcceleration: named(AngularAcceleration, "rad/s2"),
		Unbalance: named(Unbalance, "g mm"), Density: named(Density, "kg/m3"), Temperature: named(Temperature, "C"),
		Inertia: named(Inertia, "kg m2")}
}

// Inch returns in, deg, lb, lbf, lb ft, rpm, mph, lb/in, ksi, Hz, rad/s2,
// oz in, lb/in3, F and lb ft2.
func Inch() Units {
	return Units{Length: named(Length, "in"), Angle: named(Angle, "deg"), Mass: named(Mass, "lb"),
		Force: named(Force, "lbf"), Torque: named(Torque, "lb ft"), Speed: named(Speed, "rpm"),
		RoadSpeed: named(RoadSpeed, "mph"), Rate: named(Rate, "lb/in"), Stress: named(Stress, "ksi"),
		Frequency: named(Frequency, "Hz"), AngularAcceleration: named(AngularAcceleration, "rad/s2"),
		Unbalance: named(Unbalance, "oz in"), Density: named(Density, "lb/in3"), Temperature: named(Temperature, "F"),
		Inertia: named(Inertia, "lb ft2")}
}

// For returns the unit that numbers of kind k are written in, never the zero
// Unit.
func (u Units) For(k Kind) Unit {
	f := k.info().family
	if p := u.field(f); p != nil && p.row != nil {
		return *p
	}
	for i := range rows {
		if rows[i].kind == f {
			return Unit{&rows[i]}
		}
	}
	return Unit{&unitRow{kind: f, factor: 1}}
}

// With returns u with the unit of kind k (or of its family) replaced. A unit
// of another family, or a kind without a choice of unit, changes nothing.
func (u Units) With(k Kind, unit Unit) Units {
	f := k.info().family
	if p := u.field(f); p != nil && (unit.row == nil || unit.row.kind == f) {
		*p = unit
	}
	return u
}

// field returns the member of u that belongs to a family; nil for Number.
func (u *Units) field(family Kind) *Unit {
	switch family {
	case Length:
		return &u.Length
	case Angle:
		return &u.Angle
	case Mass:
		return &u.Mass
	case Force:
		return &u.Force
	case Torque:
		return &u.Torque
	case Speed:
		return &u.Speed
	case RoadSpeed:
		return &u.RoadSpeed
	case Rate:
		return &u.Rate
	case Stress:
		return &u.Stress
	case Frequency:
		return &u.Frequency
	case AngularAcceleration:
		return &u.AngularAcceleration
	case Unbalance:
		return &u.Unbalance
	case Density:
		return &u.Density
	case Temperature:
		return &u.Temperature
	case Inertia:
		return &u.Inertia
	}
	return nil
}

// UnitFor finds the unit called name for a file's table of units. The error
// lists the names that are accepted.
func UnitFor(k Kind, name string) (Unit, error) {
	in := k.info()
	if in.family == Number {
		return Unit{}, fmt.Errorf("%s has no unit to choose", in.name)
	}
	if r := lookup(in.family, name); r != nil && !r.part {
		return Unit{r}, nil
	}
	what := fmt.Sprintf("%s is not a unit of %s", quoted(name), in.noun)
	if strings.TrimSpace(name) == "" {
		what = "the unit of " + in.noun + " is empty"
	}
	return Unit{}, fmt.Errorf("%s; use one of %s", what, accepted(in.family))
}

// accepted lists the unit names of a family in table order.
func accepted(family Kind) string {
	return strings.Join(UnitNames(family), ", ")
}

// unitIndex finds rows by family and spelling, folded or as the table has it.
// Filled once, then only read.
var unitIndex = indexUnits(rows)

func indexUnits(table []unitRow) (ix [kindCount]map[string]*unitRow) {
	for i := range table {
		r := &table[i]
		if ix[r.kind] == nil {
			ix[r.kind] = map[string]*unitRow{}
		}
		for _, n := range append(strings.Split(r.also, ","), r.name) {
			if folded := foldUnit(n); folded != "" {
				ix[r.kind][n], ix[r.kind][folded] = r, r
			}
		}
	}
	return ix
}

// lookup finds a unit of a family by any accepted spelling, or nil. Nearly every
// unit is spelled as the table has it, and folding takes longer than all else.
func lookup(family Kind, name string) *unitRow {
	if !family.valid() {
		return nil
	}
	if r := unitIndex[family][name]; r != nil {
		return r
	}
	return unitIndex[family][foldUnit(name)]
}

// named is lookup for names known to be in the table.
func named(k Kind, name string) Unit { return Unit{lookup(k, name)} }

var unitSigns = strings.NewReplacer("²", "2", "³", "3", "^", "", "·", " ", "⋅", " ", "*", " ", "-", " ", ".", " ")

// foldUnit brings the ways of writing one unit together: case, spaces, the
// sign between two factors, raised digits and a closing full stop.
func foldUnit(s string) string {
	if isFolded(s) {
		return s
	}
	s = strings.ToLower(normalise(s))
	s = unitSigns.Replace(s)
	s = strings.Join(strings.Fields(s), " ")
	for _, slash := range []string{" per ", " / ", " /", "/ "} {
		s = strings.ReplaceAll(s, slash, "/")
	}
	if s == ": 1" {
		s = ":1"
	}
	return s
}

// isFolded reports whether s plainly is as foldUnit has it: small letters and digits.
func isFolded(s string) bool {
	for i := range len(s) {
		if c := s[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}

func (r *unitRow) toInternal(x float64) float64 { return (x + r.add) * r.factor }
func (r *unitRow) toShown(v float64) float64    { return v/r.factor - r.add }
