package quantity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		k      Kind
		v      float64
		u      Units
		digits int
		want   string
		plain  string
		short  string
	}{
		{Count, 3, Metric(), UsualDigits, "3", "3", "3"},
		{Count, 3, Inch(), 9, "3", "3", "3"},
		{Length, 412, Metric(), 1, "412.0 mm", "412.0 mm", "412.0"},
		{Length, 412.75, Inch(), 2, "16.25 in", "16.25 in", "16.25"},
		{Length, -0.01, Metric(), 1, "0.0 mm", "0.0 mm", "0.0"},
		{Offset, 12, Metric(), 0, "12 mm right", "12 mm right", "12 right"},
		{Offset, -12, Metric(), 0, "12 mm left", "12 mm left", "12 left"},
		{Offset, 0, Metric(), 0, "0 mm", "0 mm", "0"},
		{Angle, 2 * deg, Metric(), 1, "2.0°", "2.0 deg", "2.0"},
		{Angle, -2 * deg, Metric(), 1, "-2.0°", "-2.0 deg", "-2.0"},
		{Slope, 4.4 * deg, Metric(), 1, "4.4° down to the rear", "4.4 deg down to the rear", "4.4 down"},
		{Slope, -4.4 * deg, Metric(), 1, "4.4° up to the rear", "4.4 deg up to the rear", "4.4 up"},
		{Slope, 0, Metric(), 1, "0.0° level", "0.0 deg level", "0.0 level"},
		{Slope, -0.01 * deg, Metric(), 1, "0.0° level", "0.0 deg level", "0.0 level"},
		{Heading, 0.5 * deg, Metric(), 1, "0.5° rear to the right", "0.5 deg rear to the right", "0.5 right"},
		{Heading, -0.5 * deg, Metric(), UsualDigits, "0.5° rear to the left", "0.5 deg rear to the left", "0.5 left"},
		{Heading, 0, Metric(), 1, "0.0° straight", "0.0 deg straight", "0.0 straight"},
		{Torque, 600e3, Metric(), 0, "600 N m", "600 N m", "600"},
		{Torque, 1355817.948331400, Inch(), 0, "1000 lb ft", "1000 lb ft", "1000"},
		{AngularAcceleration, 400, Metric(), 0, "400 rad/s²", "400 rad/s2", "400"},
		{Number, 3.73, Metric(), 2, "3.73", "3.73", "3.73"},
		{Temperature, 20, Inch(), 0, "68 °F", "68 F", "68"},
		{Length, math.NaN(), Metric(), 1, "not known", "not known", "not known"},
	} {
		assert.Equal(t, c.want, Format(c.k, c.v, c.u, c.digits))
		assert.Equal(t, c.plain, Plain(c.k, c.v, c.u, c.digits))
		assert.Equal(t, c.short, Short(c.k, c.v, c.u, c.digits))
	}
}

func TestUnitNames(t *testing.T) {
	assert.Equal(t, "mm", UnitName(Offset, Metric()))
	assert.Equal(t, "deg", UnitName(Slope, Metric()))
	assert.Equal(t, "", UnitName(Number, Metric()))
	assert.InDelta(t, 16.25, InUnit(Length, 412.75, Inch()), 1e-12)
	assert.InDelta(t, -4.4, InUnit(Slope, -4.4*deg, Metric()), 1e-12)
	assert.InDelta(t, 68, InUnit(Temperature, 20, Inch()), 1e-12)
}

// anyKind, anyUnits and anyValue draw what the properties below run over.
func anyKind(t *rapid.T) Kind { return rapid.SampledFrom(Kinds()).Draw(t, "kind") }

func anyUnits(t *rapid.T, k Kind) Units {
	var choice []Unit
	for i := range rows {
		if r := &rows[i]; r.kind == k.info().family && !r.part {
			choice = append(choice, Unit{r})
		}
	}
	return Units{}.With(k, rapid.SampledFrom(choice).Draw(t, "unit"))
}

func anyValue(t *rapid.T, k Kind) float64 {
	in := k.info()
	f := rapid.Float64Range(0, 1).Draw(t, "share")
	small := math.Pow10(-rapid.IntRange(0, 9).Draw(t, "small"))
	end := rapid.SampledFrom([]float64{in.min, in.max}).Draw(t, "end")
	return f * small * end
}

// What is printed is read back, and printed again the same.
func TestFormatIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKind(t)
		u := anyUnits(t, k)
		v := anyValue(t, k)
		digits := rapid.IntRange(-1, 4).Draw(t, "digits")
		for _, f := range []func(Kind, float64, Units, int) string{Format, Plain} {
			text := f(k, v, u, digits)
			got, err := Parse(k, text, u)
			if err != nil {
				// rounding up may leave the accepted span only at its very end
				in := k.info()
				row := u.For(k).row
				edge := math.Pow10(-max(digits, 0)) * row.factor
				require.True(t, v > in.max-edge || v < in.min+edge, "%s %q: %v", k, text, err)
				continue
			}
			require.Equal(t, text, f(k, got, u, digits))
		}
	})
}

// The parts of an inch on a rule: halves down to 1/64, in lowest terms.
func TestFraction(t *testing.T) {
	inch, mm := Inch(), Metric()
	for _, c := range []struct {
		k    Kind
		in   float64
		want string
	}{
		{Length, 16.25, "16-1/4 in"}, {Length, -11.375, "-11-3/8 in"}, {Length, 0.5, "1/2 in"}, {Length, 1.0 / 64, "1/64 in"},
		{Length, 3, "3 in"}, {Length, 0, "0 in"}, {Offset, -0.25, "1/4 in left"},
		{Length, 16.3, ""}, {Length, 1.0 / 128, ""}, {Length, math.NaN(), ""}, {Length, math.Inf(1), ""},
	} {
		got, ok := Fraction(c.k, c.in*25.4, inch)
		require.Equal(t, c.want, got, "%v", c.in)
		require.Equal(t, c.want != "", ok)
	}
	_, ok := Fraction(Length, 25.4, mm)
	require.False(t, ok)
	_, ok = Fraction(Angle, 0.5, inch)
	require.False(t, ok)
}
