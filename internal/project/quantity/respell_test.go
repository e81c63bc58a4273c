package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestRespell(t *testing.T) {
	slope := func(rise, run float64) float64 { return math.Atan(rise / run) }
	for _, c := range []struct {
		k    Kind
		v    float64
		old  string
		bare bool
		want string
		stay bool
	}{
		{Length, 413.5, "412 mm", false, "413.5 mm", false},
		{Length, 413.5, "412mm", false, "413.5mm", false},
		{Length, 413.5, "0.412 m", false, "0.4135 m", false},
		{Length, 413.5, "41,2 cm", false, "41,35 cm", false},
		{Length, 85.625, "85,6", false, "85,6250", false},
		{Length, -3, "+3 mm", false, "-3 mm", false},
		{Length, 4, "+3 mm", false, "+4 mm", false},
		{Length, 414.3375, "16 1/4 in", false, "16 5/16 in", false},
		{Length, 414.3375, `16-1/4"`, false, `16-5/16"`, false},
		{Length, 431.8, `16-1/4"`, false, `17"`, false},
		{Length, 9.525, `1/4"`, false, `3/8"`, false},
		{Length, 34.925, `1/4"`, false, `1 3/8"`, false},
		{Length, 412, "16 1/4 in", false, "16.220472 in", false},
		{Length, 412.75, "16 in", false, "16.25 in", false},
		{Length, 414.3375, `1' 4 1/4"`, false, `1' 4 5/16"`, false},
		{Length, 609.6, `1'4 1/4"`, false, `2'0"`, false},
		{Length, 414.02, "1 ft 4 1/4 in", false, "1 ft 4.3 in", false},
		{Length, -414.3375, `1' 4 1/4"`, false, `-1' 4 5/16"`, false},
		{Length, 412.30000000000007, "412", true, "412.3", true},
		{Length, 413, "412.0", true, "413.0", true},
		{Length, -413, "412", true, "-413", true},
		{Length, 413, "412", false, "413", false},
		{Length, 412, "412.000 mm", false, "412.000 mm", false},
		{Length, 412, "412.000", true, "412.000", true},
		{Length, 413, "rubbish", false, "413 mm", false},
		{Offset, -5, "12 mm right", false, "5 mm left", false},
		{Offset, -5, "12 mm to the left", false, "5 mm to the left", false},
		{Offset, 0, "12 mm right", false, "0 mm", false},
		{Offset, -5, "0 mm", false, "5 mm left", false},
		{Offset, -5, "-12 mm", false, "-5 mm", false},
		{Offset, 5, "-12 mm", false, "5 mm", false},
		{Offset, 5, "12 mm", false, "5 mm", false},
		{Offset, -5, "12 mm", false, "5 mm left", false},
		{Offset, -5, "12", true, "-5", true},
		{Angle, 4.5 * deg, "4.4°", false, "4.5°", false},
		{Angle, 4.5 * deg, "4°24'", false, "4°30'", false},
		{Angle, 5 * deg, `4°24'30"`, false, `5°0'0"`, false},
		{Angle, (4.5 + 6.25/3600) * deg, `4° 24' 30"`, false, `4° 30' 6.25"`, false},
		{Angle, 3.75 * deg, "3 1/4 deg", false, "3 3/4 deg", false},
		{Slope, 4.5 * deg, "4.4 deg down to the rear", false, "4.5 deg down to the rear", false},
		{Slope, -4.5 * deg, "4.4 deg down to the rear", false, "4.5 deg up to the rear", false},
		{Slope, 0, "4.4° down to the rear", false, "0°", false},
		{Slope, 0, "level", false, "level", false},
		{Slope, 2 * deg, "level", false, "2 deg down to the rear", false},
		{Slope, 2 * deg, "0.0° level", false, "2° down to the rear", false},
		{Slope, 2 * deg, "0", true, "2 deg down to the rear", false},
		{Slope, 0, "0", true, "0", true},
		{Slope, slope(12, 1250), "10 mm over 1250 mm down to the rear", false, "12 mm over 1250 mm down to the rear", false},
		{Slope, -slope(12.5, 1250), "10 over 1250 down to the rear", false, "12.5 over 1250 up to the rear", false},
		{Slope, slope(0.75, 48), "1/2 in over 4 ft up to the rear", false, "3/4 in over 4 ft down to the rear", false},
		{Slope, 0, "10 mm over 1250 mm down to the rear", false, "0 mm over 1250 mm", false},
		{Heading, -deg, "0.5 deg rear to the right", false, "1 deg rear to the left", false},
		{Torque, 50 * lbf * foot, "45 lb-ft", false, "50 lb-ft", false},
		{Stress, 210500, "210 GPa", false, "210.5 GPa", false},
		{AngularAcceleration, 300, "400 rad/s2", false, "300 rad/s2", false},
		{Number, 4.1, "3.73:1", false, "4.1:1", false},
		{Mass, 6.25 * lb, "5 lb 8 oz", false, "6 lb 4 oz", false},
		{Temperature, -20, "20 °F", false, "-4 °F", false},
		{Temperature, 10, "-4 F", false, "50 F", false},
	} {
		got, stay := Respell(c.k, c.v, c.old, c.bare, Metric())
		assert.Equal(t, c.want, got, "%s %v like %q", c.k, c.v, c.old)
		assert.Equal(t, c.stay, stay, "%s %v like %q", c.k, c.v, c.old)
	}
	got, bare := Respell(Length, math.NaN(), "412", true, Metric())
	assert.Equal(t, "412", got)
	assert.True(t, bare)
}

// oldTexts are spellings of every style, to respell into.
var oldTexts = map[Kind][]string{
	Length: {"412 mm", "41,2 cm", "0.412 m", "16 1/4 in", `16-1/4"`, `1' 4 1/4"`, "1 ft 4.5 in", "5 thou", "-3", "+3 mm", "1 um", "x"},
	Offset: {"12 mm right", `1/2" left`, "-12 mm", "0", "3", "+4 mm", `1' 4" to the right`},
	Angle:  {"4.4 deg", "4°24'", `4°24'30"`, "0.07 rad", "3 1/4 deg", "3,5°"},
	Slope: {"4.4 deg down to the rear", "4°24' up to the rear", "level", "0°", "10 mm over 1250 mm down to the rear",
		`1/2" over 4 ft up to the rear`, "1,5 over 1000 up to the rear"},
	Heading: {"0.5° rear to the left", "straight", "0 deg", "3 mm over 1 m rear to the right"},
	Mass:    {"320 kg", "5 lb 8 oz", "705 lb", "1,2 t"}, Number: {"3.73", "3.73:1", "70 %", "3,73"}, Torque: {"45 lb-ft", "600 Nm"},
	Temperature: {"20 C", "-40 °F", "300 K"},
}

// What Respell writes reads back as the value, to the finest decimal of the
// unit shown or 1e-9 of the value, and respelling that changes nothing.
func TestRespellReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKind(t)
		u := anyUnits(t, k)
		v := anyValue(t, k)
		old := rapid.SampledFrom(append([]string{""}, oldTexts[k]...)).Draw(t, "old")
		bare := rapid.Bool().Draw(t, "bare")
		text, stay := Respell(k, v, old, bare, u)
		got, err := Parse(k, text, u)
		require.NoError(t, err)
		if stay {
			require.True(t, bare)
			require.NotContains(t, text, " ")
		}
		row := u.For(k).row
		slack := 1e-6 * row.factor
		if _, r, err := parse(k, old, u); !stay && err == nil && len(r.terms) > 0 {
			_, s := r.respell(k, v, u)
			slack = max(slack, s)
		}
		require.InDelta(t, v, got, slack+1e-9*math.Abs(v), "%s like %q: %q", k, old, text)
		again, _ := Respell(k, got, text, stay, u)
		require.Equal(t, text, again)
	})
}

// Multiples of 1/64 in keep their fraction and come back exactly.
func TestRespellKeepsFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Int64Range(1, 64*3000).Draw(t, "n")
		v := float64(n) / 64 * inch
		old := rapid.SampledFrom([]string{"16 1/4 in", `16-1/4"`, `1' 4 1/4"`}).Draw(t, "old")
		text, _ := Respell(Length, v, old, false, Inch())
		require.NotContains(t, text, ".")
		got, err := Parse(Length, text, Inch())
		require.NoError(t, err)
		require.InEpsilon(t, v, got, 1e-14)
	})
}
