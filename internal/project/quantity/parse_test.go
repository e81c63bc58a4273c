package quantity

import (
	"math"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Wanted values are worked out by hand from the exact inch (25.4 mm), pound
// (0.45359237 kg) and standard gravity (9.80665 m/s²), as in NIST SP 811:2008,
// appendix B (from memory), or are plain sums in fractions of an inch.
func TestParseValues(t *testing.T) {
	for _, c := range []struct {
		k    Kind
		text string
		want float64
	}{
		{Length, "412 mm", 412}, {Length, "41.2 cm", 412}, {Length, "0.412 m", 412}, {Length, "412", 412},
		{Length, "412mm", 412}, {Length, " 412  mm ", 412}, {Length, "412 MM", 412}, {Length, "+412 mm", 412},
		{Length, "16 1/4 in", 412.75}, {Length, `16-1/4"`, 412.75}, {Length, `16.25in`, 412.75}, {Length, "16 1/4 in.", 412.75},
		{Length, `1' 4 1/4"`, 412.75}, {Length, "1 ft 4 1/4 in", 412.75}, {Length, `1'4-1/4"`, 412.75}, {Length, "1ft4in", 406.4},
		{Length, "16¼ in", 412.75}, {Length, "16 ¼″", 412.75}, {Length, "¼ in", 6.35}, {Length, "1′ 4″", 406.4},
		{Length, "2 13/16 in", 71.4375}, {Length, "7/64 in", 2.778125}, {Length, "5 ft 3 3/8 in", 1609.725}, {Length, "1/32 in", 0.79375},
		{Length, "85,6", 85.6}, {Length, "85,6 mm", 85.6}, {Length, "0,412 m", 412}, {Length, "85,6254 mm", 85.6254},
		{Length, "-3 mm", -3}, {Length, "\u22123 mm", -3}, {Length, "-16 1/4 in", -412.75}, {Length, `-1' 4"`, -406.4},
		{Length, "4.12e2 mm", 412}, {Length, "5 thou", 0.127}, {Length, ".5 in", 12.7}, {Length, "0", 0}, {Length, "-0", 0},
		{Offset, "12 mm right", 12}, {Offset, "12 mm left", -12}, {Offset, "-12 mm", -12}, {Offset, "12", 12},
		{Offset, `1/2" to the left`, -12.7}, {Offset, "0 mm", 0}, {Offset, "0 mm left", 0}, {Offset, "12 left", -12},
		{Angle, "4.4 deg", 4.4 * deg}, {Angle, "4.4°", 4.4 * deg}, {Angle, "4°24'", 4.4 * deg}, {Angle, "4° 24′", 4.4 * deg},
		{Angle, `4°24'30"`, (4.4 + 30.0/3600) * deg}, {Angle, "0.0768 rad", 0.0768}, {Angle, "3 1/4 deg", 3.25 * deg}, {Angle, "4.4", 4.4 * deg},
		{Slope, "4.4 deg down to the rear", 4.4 * deg}, {Slope, "4.4° UP to the rear", -4.4 * deg}, {Slope, "4°24'down to the rear", 4.4 * deg},
		{Slope, "0 deg", 0}, {Slope, "level", 0}, {Slope, "0.0° level", 0}, {Slope, "0", 0}, {Slope, "4.4 down to the rear", 4.4 * deg},
		// 10 mm over 1250 mm is 0.458356 deg: atan(0.008) = 0.008 - 0.008³/3 + ...
		{Slope, "10 mm over 1250 mm down to the rear", 0.008 - 0.008*0.008*0.008/3 + math.Pow(0.008, 5)/5},
		{Slope, "10 over 1250 up to the rear", -(0.008 - 0.008*0.008*0.008/3 + math.Pow(0.008, 5)/5)},
		{Slope, "1/2 in over 1' 4 1/4\" up to the rear", -math.Atan(0.5 / 16.25)},
		{Heading, "0.5 deg rear to the right", 0.5 * deg}, {Heading, "0.5° rear to the left", -0.5 * deg}, {Heading, "straight", 0},
		{Mass, "320 kg", 320}, {Mass, "705 lb", 705 * 0.45359237}, {Mass, "5 lb 8 oz", 5.5 * 0.45359237}, {Mass, "1.2 t", 1200},
		{Force, "1200 N", 1200}, {Force, "1.2 kN", 1200}, {Force, "100 lbf", 444.82216152605}, {Force, "1 kgf", 9.80665},
		{Torque, "600 N m", 600e3}, {Torque, "600 Nm", 600e3}, {Torque, "600 N·m", 600e3}, {Torque, "600", 600e3},
		{Torque, "45 lb ft", 45 * 1355.817948331400}, {Torque, "45 lbf ft", 45 * 1355.817948331400}, {Torque, "45 ft lb", 45 * 1355.817948331400},
		{Torque, "45 lb-ft", 45 * 1355.817948331400}, {Torque, "45 lbf·ft", 45 * 1355.817948331400}, {Torque, "120 in lb", 120 * 112.9848290276},
		{Speed, "3000 rpm", 100 * math.Pi}, {Speed, "50 rev/s", 100 * math.Pi}, {Speed, "3000", 100 * math.Pi},
		{RoadSpeed, "90 km/h", 25000}, {RoadSpeed, "55 mph", 55 * 447.04}, {RoadSpeed, "25 m/s", 25000}, {RoadSpeed, "90 km per h", 25000},
		{Rate, "250 N/mm", 250}, {Rate, "250 kN/m", 250}, {Rate, "1400 lb/in", 1400 * 0.17512683524}, {Rate, "250 N / mm", 250},
		{Stress, "250 MPa", 250}, {Stress, "250 N/mm²", 250}, {Stress, "250 N/mm^2", 250}, {Stress, "36 ksi", 36 * 6.894757293168},
		{Stress, "210 GPa", 210e3}, {Stress, "29e6 psi", 29 * 6894.757293168},
		{Inertia, "14 kg m2", 14e6}, {Inertia, "14 kg·m²", 14e6}, {Inertia, "14 kg-m^2", 14e6}, {Inertia, "332 lb ft2", 332 * 0.45359237 * 304.8 * 304.8}, {Inertia, "5 kg mm2", 5},
		{Frequency, "12.5 Hz", 12.5}, {Frequency, "750 cpm", 12.5}, {AngularAcceleration, "400 rad/s²", 400}, {AngularAcceleration, "400 rad/s2", 400},
		{Unbalance, "300 g mm", 300}, {Unbalance, "1 oz in", 28.349523125 * 25.4}, {Density, "7850 kg/m³", 7850}, {Density, "7.85 g/cm3", 7850},
		{Density, "1 lb/in3", 27679.9047}, {Number, "3.73", 3.73}, {Number, "3.73:1", 3.73}, {Number, "70 %", 0.7}, {Number, "-0.5", -0.5},
		{Temperature, "20 °C", 20}, {Temperature, "68 F", 20}, {Temperature, "-40 °F", -40}, {Temperature, "293.15 K", 20}, {Temperature, "-5", -5},
	} {
		got, err := Parse(c.k, c.text, Metric())
		require.NoError(t, err, "%s %q", c.k, c.text)
		assert.InDelta(t, c.want, got, 1e-9*math.Abs(c.want)+1e-12, "%s %q", c.k, c.text)
	}
}

// Rows that share a definition have to agree: lb/in³ and lb/ft³ differ by 12³
// whatever the pound is, and so on.
func TestFactorsAgreeWithEachOther(t *testing.T) {
	f := func(k Kind, name string) float64 { return lookup(k, name).factor }
	assert.InEpsilon(t, 1728, f(Density, "lb/in3")/f(Density, "lb/ft3"), 1e-12)
	assert.InEpsilon(t, 12, f(Torque, "lb ft")/f(Torque, "lb in"), 1e-12)
	assert.InEpsilon(t, f(Force, "lbf"), f(Rate, "lb/in")*f(Length, "in"), 1e-12)
	assert.InEpsilon(t, f(Force, "lbf"), f(Stress, "psi")*25.4*25.4, 1e-12)
	assert.InEpsilon(t, f(RoadSpeed, "mph")*15, f(RoadSpeed, "ft/s")*22, 1e-12) // 60 mph is 88 ft/s
	assert.InEpsilon(t, 4.4482216152605, f(Force, "lbf"), 1e-15)                // lb times standard gravity, exact
}

func TestBareNumbersFollowTheFile(t *testing.T) {
	v, err := Parse(Length, "16 1/4", Inch())
	require.NoError(t, err)
	assert.InDelta(t, 412.75, v, 1e-9)
	v, err = FromNumber(Length, 2.5, Inch())
	require.NoError(t, err)
	assert.InDelta(t, 63.5, v, 1e-12)
	v, err = FromNumber(Temperature, 68, Inch())
	require.NoError(t, err)
	assert.InDelta(t, 20, v, 1e-9)
	v, err = FromNumber(Length, 7, Units{}) // nothing chosen: mm
	require.NoError(t, err)
	assert.Equal(t, 7.0, v)
}

func TestRefused(t *testing.T) {
	long := strings.Repeat("1", 200)
	for _, c := range []struct {
		k          Kind
		text, says string
	}{
		{Length, "", "nothing is written"}, {Length, "  ", "nothing is written"}, {Length, "4 kg", "unit of mass"},
		{Length, "nan", "not a size"}, {Length, "inf", "not a size"}, {Length, "-Inf", "not a size"}, {Length, "0x1F", "0x"},
		{Length, "1e400", "too big"}, {Length, "412 mm extra", `"extra" is left over after "mm"`}, {Length, "412 mm 3", "cannot follow|has no unit"},
		{Length, "412 3", "left over"}, {Length, "412 mm;", "left over"}, {Length, "mm", "does not start with a number"}, {Length, "1 000 mm", "left over"},
		{Length, "1,234.5", "more than one way"}, {Length, "1.234,5", "more than one way"}, {Length, "1,234", "1234 or as|1.234"}, {Length, "1_000", "underscore"},
		{Length, "5, 3", "comma"}, {Length, ".", "does not start"}, {Length, "1.2.3 mm", "more than one way"}, {Length, "16 5/4 in", "less than one"},
		{Length, "1/0 in", "divides by nothing"}, {Length, "16.5 1/4 in", "left over"}, {Length, "1.5' 3\"", "only the last"}, {Length, `1' 14"`, "whole ft or more"},
		{Length, `1' 4`, "has no unit"}, {Length, "4 in 1 ft", "cannot follow"}, {Length, "10-12 mm", "left over"}, {Length, "1/4.5 in", "left over"}, {Length, "- -4 mm", "does not start"},
		{Length, "101 m", "up to 100 m"}, {Length, "-101 m", "up to 100 m"}, {Length, "412 mm right", `"right" is left over`}, {Length, long, "too long"},
		{Length, "412\nmm", "left over"}, {Length, "4\x1b[31m mm", "left over"},
		{Offset, "-12 mm right", "both a sign and a direction"}, {Offset, "right", "no number"}, {Offset, "11 m", "10 m"},
		{Angle, "4°60'", "whole deg"}, {Angle, "4 mm", "unit of length"}, {Angle, "4°24'30", "has no unit"},
		{Slope, "4.4 deg", "which way"}, {Slope, "-4.4 deg", "which way"}, {Slope, "4.4", "which way"}, {Slope, "4.4 deg down", `"down" does not say clearly which way: write "down to the rear"`},
		{Slope, "-4.4 deg down to the rear", "both a sign"}, {Slope, "4 deg level", "only with 0"}, {Slope, "down to the rear", "no number"},
		{Slope, "10 mm over 1250 mm", "which way"}, {Slope, "10 mm over 1250 down to the rear", "only one"}, {Slope, "10 mm over 0 mm up to the rear", "more than 0"},
		{Slope, "10 mm over -5 mm up to the rear", "does not start"}, {Slope, "10 mm over  up to the rear", "no length|not a known unit"}, {Slope, "95 deg up to the rear", "90 deg"},
		{Slope, "10 deg over 5 mm up to the rear", "unit of angle"}, {Slope, "1 mm over 1 mm over 1 mm up to the rear", `"over" is left over`},
		{Heading, "0.5 deg", "which way"}, {Heading, "0.5 deg right", `"right" does not say clearly`}, {Heading, "0.5 deg down to the rear", "not a known unit"},
		{Mass, "-4 kg", "0 to 100 t"}, {Mass, "4 mm", "unit of length"}, {Torque, "600 N", "unit of force"}, {Speed, "90 km/h", "unit of road speed"},
		{Rate, "-1 N/mm", "0 to"}, {Number, "3 mm", "plain number has none"}, {Length, "4 mmm", "not a known unit of length"}, {Number, "3 zz", "left over"}, {Temperature, "-300 C", "-273.15"}, {Temperature, "20 °", "unit of angle"},
	} {
		_, err := Parse(c.k, c.text, Metric())
		require.Error(t, err, "%s %q", c.k, c.text)
		var pe *ParseError
		require.ErrorAs(t, err, &pe)
		assert.Equal(t, c.k, pe.Kind)
		assert.Equal(t, c.text, pe.Text)
		assert.Regexp(t, c.says, err.Error(), "%s %q", c.k, c.text)
		assert.Contains(t, err.Error(), "write it like")
		assert.NotContains(t, err.Error(), "\x1b")
	}
}

func TestErrorSentence(t *testing.T) {
	_, err := Parse(Length, "4 kg", Metric())
	assert.EqualError(t, err, `"4 kg" cannot be taken as a length: "kg" is a unit of mass, not of length; write it like 412 mm or 16 1/4 in`)
	_, err = FromNumber(Slope, 4.4, Metric())
	assert.EqualError(t, err, `"4.4" cannot be taken as a slope: it does not say which way: add "down to the rear" or "up to the rear"; write it like 4.4 deg down to the rear or 10 mm over 1250 mm up to the rear`)
	_, err = Parse(Mass, "", Metric())
	assert.EqualError(t, err, "a mass is missing: nothing is written; write it like 320 kg or 705 lb")
}

func TestFromNumberRefuses(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e300} {
		for _, k := range Kinds() {
			_, err := FromNumber(k, v, Metric())
			assert.Error(t, err, "%s %v", k, v)
		}
	}
	_, err := FromNumber(Heading, -1, Metric())
	assert.ErrorContains(t, err, "rear to the left")
	v, err := FromNumber(Slope, 0, Metric())
	assert.NoError(t, err)
	assert.Zero(t, v)
	_, err = FromNumber(Kind(200), 1, Metric())
	assert.Error(t, err)
	_, err = Parse(Kind(200), "1", Metric())
	assert.Error(t, err)
}

// Every accepted example in an error has to be readable itself.
func TestExamplesParse(t *testing.T) {
	for _, k := range Kinds() {
		for _, ex := range strings.Split(k.info().example, " or ") {
			_, err := Parse(k, ex, Metric())
			assert.NoError(t, err, "%s %q", k, ex)
		}
	}
}

// Every spelling of every row is found, and no spelling belongs to two rows
// of one family.
func TestUnitTable(t *testing.T) {
	for i := range rows {
		r := &rows[i]
		for _, n := range append(strings.Split(r.also, ","), r.name) {
			if n == "" {
				continue
			}
			assert.Same(t, r, lookup(r.kind, n), "%s %q", r.kind, n)
			v, err := Parse(r.kind, "1 "+n, Metric())
			require.NoError(t, err, "%s %q", r.kind, n)
			assert.InEpsilon(t, 1+r.toInternal(1), 1+v, 1e-12, "%s %q", r.kind, n)
		}
	}
}

func TestUnitFor(t *testing.T) {
	u, err := UnitFor(Length, "inches")
	require.NoError(t, err)
	assert.Equal(t, "in", u.Name())
	_, err = UnitFor(Length, "kg")
	assert.EqualError(t, err, `"kg" is not a unit of length; use one of mm, cm, m, in, ft, thou, um`)
	_, err = UnitFor(Angle, "arcmin")
	assert.ErrorContains(t, err, "deg, rad, mrad")
	_, err = UnitFor(Mass, " ")
	assert.ErrorContains(t, err, "empty")
	_, err = UnitFor(Number, "x")
	assert.ErrorContains(t, err, "no unit to choose")
	for _, k := range Kinds() {
		for _, all := range []Units{Metric(), Inch(), {}} {
			if k.info().family == Number {
				continue
			}
			got, err := UnitFor(k, UnitName(k, all))
			require.NoError(t, err)
			assert.Equal(t, all.For(k), got)
			assert.Equal(t, got, Units{}.With(k, got).For(k))
		}
	}
	assert.Equal(t, Metric(), Metric().With(Mass, named(Length, "mm")), "a unit of the wrong kind changes nothing")
}

// What is looked up as it is spelled is what its folded spelling finds, and plain
// text is what the slow way makes of it.
func TestQuickWaysFindTheSame(t *testing.T) {
	for kind, index := range unitIndex {
		for name, row := range index {
			assert.Same(t, row, index[foldUnit(name)], "%v %q", Kind(kind), name)
		}
	}
	assert.Nil(t, lookup(kindCount, "mm"))
	slow := func(s string) string {
		s = replacements.Replace(strings.ReplaceAll(s, "\x00", "\uFFFD"))
		s = strings.ReplaceAll(s, "\x00", " ")
		return strings.Trim(strings.Map(func(r rune) rune {
			if r == '\t' || unicode.Is(unicode.Zs, r) {
				return ' '
			}
			return r
		}, s), " ")
	}
	plain := 0
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.StringMatching(`[ -~\t'½°]{0,12}`)).Draw(rt, "text")
		require.Equal(rt, slow(s), normalise(s))
		if isPlain(s) {
			plain++
		}
	})
	assert.Positive(t, plain)
}
