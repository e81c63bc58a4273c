package quantity

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A ± stands behind its number and before the direction, in its unit. Wanted
// values are by hand, from the exact inch and degree.
func TestParseStated(t *testing.T) {
	for _, c := range []struct {
		k       Kind
		text    string
		v, half float64
	}{
		{Length, "1182 ± 1", 1182, 1}, {Length, "1182 mm ± 1", 1182, 1}, {Length, "1182 ± 1 mm", 1182, 1}, {Length, "1182 mm ± 1 mm", 1182, 1},
		{Length, "1182mm±1", 1182, 1}, {Length, "1182 +- 1", 1182, 1}, {Length, "1182 mm +/- 1.5", 1182, 1.5}, {Length, "1182 mm +\u22121", 1182, 1},
		{Length, "1.182 m ± 1 mm", 1182, 1}, {Length, "118,2 cm ± 0,1", 1182, 1}, {Length, "-64 mm ± 2", -64, 2}, {Length, "0 ± 2 mm", 0, 2},
		{Length, "16 1/4 in ± 1/16", 412.75, 25.4 / 16}, {Length, `16-1/4" ± 1/16"`, 412.75, 25.4 / 16}, {Length, `1' 4 1/4" ± 1/16"`, 412.75, 25.4 / 16},
		{Offset, "12 mm ± 1 right", 12, 1}, {Offset, "12 ± 1 mm left", -12, 1}, {Offset, "-12 mm ± 1", -12, 1},
		{Angle, "4°24' ± 6'", 4.4 * deg, 0.1 * deg}, {Angle, "4.4° ± 0.1", 4.4 * deg, 0.1 * deg},
		{Slope, "4.8 deg ± 0.2 down to the rear", 4.8 * deg, 0.2 * deg}, {Slope, "4.8 ± 0.2 deg up to the rear", -4.8 * deg, 0.2 * deg},
		{Slope, "4.8 +- 0.2 down to the rear", 4.8 * deg, 0.2 * deg}, {Slope, "0 deg ± 0.2 level", 0, 0.2 * deg}, {Slope, "0 deg ± 0.2", 0, 0.2 * deg},
		{Heading, "0.5 deg ± 0.2 rear to the left", -0.5 * deg, 0.2 * deg}, {Mass, "320 kg ± 5", 320, 5}, {Torque, "45 lb ft ± 2", 45 * lbf * foot, 2 * lbf * foot},
		{Rate, "400 N/mm ± 60", 400, 60}, {Number, "3.73 ± 0.01", 3.73, 0.01}, {Number, "70 % ± 2", 0.7, 0.02}, {Number, "70 % ± 2 %", 0.7, 0.02},
		{Temperature, "68 °F ± 9", 20, 5}, {Length, "412 mm", 412, 0},
	} {
		got, err := ParseStated(c.k, c.text, Metric())
		require.NoError(t, err, "%s %q", c.k, c.text)
		assert.InDelta(t, c.v, got.V, 1e-9*(1+c.v*c.v), "%s %q", c.k, c.text)
		assert.InDelta(t, c.half, got.Half, 1e-9*(1+c.half), "%s %q", c.k, c.text)
		_, err = Parse(c.k, c.text, Metric())
		if c.half > 0 {
			require.ErrorContains(t, err, "no ± is taken here", c.text)
		}
		again, _ := Respell(c.k, got.V, c.text, false, Metric())
		assert.Equal(t, c.text, again, "the same value keeps its ±")
		again, _ = Respell(c.k, got.V*0.75+0.01, c.text, false, Metric())
		assert.False(t, HasBound(again), "%q: the ± was of another value", again)
	}
	got, err := ParseStated(Length, "16 1/4 ± 1/16", Inch())
	require.NoError(t, err)
	assert.InDelta(t, 25.4/16, got.Half, 1e-12)
	text, _ := Respell(Length, 1183, "1182 ± 1 mm", false, Inch())
	assert.Equal(t, "1183 mm", text, "the unit behind the ± was the number's")
	text, _ = Respell(Slope, -5*deg, "4.8 deg ± 0.2 down to the rear", false, Metric())
	assert.Equal(t, "5 deg up to the rear", text)
}

func TestStatedRefused(t *testing.T) {
	for _, c := range []struct {
		k          Kind
		text, says string
	}{
		{Length, "1182 ± 0", "no value is exact"}, {Length, "1182 ± -1", "one sign too many"}, {Length, "1182 ± +1", "one sign too many"},
		{Length, "1182 ±", "no number behind"}, {Length, "± 1", "no number before"}, {Length, "1182 ± 1 ± 2", "more than one ±"},
		{Length, "1182 ± 300", "more than 250.0 mm"}, {Length, "1182 ± 1 kg", "unit of mass"}, {Length, "1182 mm ± 1 kg", "unit of mass"},
		{Length, `1' 4" ± 1/8`, `as in ± 1/8"`}, {Length, "412 mm ± 1/16", "read off a rule in inches"}, {Length, "412 mm ± x", "does not start with a number"},
		{Length, "412 mm ± 1 2", "left over"}, {Length, "412 mm ± 5 %", "not a part of it"}, {Number, "3.73 ± 1 %", "not a part of it"},
		{Slope, "4.8 deg down to the rear ± 0.2", "the ± stands before the direction; write it like 4.4 deg ± 0.2 down to the rear"},
		{Slope, "4.8 deg ± 0.2", "does not say which way"}, {Slope, "± 0.2 down to the rear", "no number before"}, {Slope, "4.8 deg ± 11 down to the rear", "more than 10.0°"},
		{Slope, "10 mm over 1250 mm ± 1 mm down to the rear", "does not go with"}, {Slope, "4.8 mm ± 1 down to the rear", "unit of length"},
		{Offset, "12 mm right ± 1", "before the direction"}, {Mass, "320 kg ± 400", "more than the value itself"}, {Mass, "0 kg ± 1", "more than the value itself"},
		{Temperature, "20 C ± 200", "more than 100"},
	} {
		_, err := ParseStated(c.k, c.text, Metric())
		require.Error(t, err, "%s %q", c.k, c.text)
		assert.Contains(t, err.Error(), c.says, "%s %q", c.k, c.text)
		assert.Contains(t, err.Error(), "write it like "+c.k.info().bound)
	}
}

func TestBoundExamplesParse(t *testing.T) {
	for _, k := range Kinds() {
		got, err := ParseStated(k, k.info().bound, Metric())
		require.NoError(t, err, "%s", k)
		assert.Positive(t, got.Half, "%s", k)
	}
}

// Whatever unit a value and its ± are typed in, and on which of them it stands,
// they come to the same.
func TestBoundInAnyUnit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom([]Kind{Length, Angle, Mass, Torque, Rate}).Draw(t, "kind")
		u := anyUnits(t, k)
		row := u.For(k).row
		x := float64(rapid.IntRange(10, 99).Draw(t, "x")) / row.factor
		h := rapid.Float64Range(0.01, 0.09).Draw(t, "part") * x
		if k == Angle {
			x, h = x/50, h/500
		}
		num := func(v float64) string { return fmt.Sprintf("%.15f", v) }
		want := Stated{row.toInternal(x), h * row.factor}
		for _, text := range []string{
			num(x) + " " + row.name + " ± " + num(h), num(x) + " +- " + num(h) + " " + row.name, num(x) + "±" + num(h),
		} {
			got, err := ParseStated(k, text, u)
			require.NoError(t, err, text)
			require.InEpsilon(t, want.V, got.V, 1e-5, text)
			require.InEpsilon(t, want.Half, got.Half, 1e-5, text)
		}
	})
}

func TestQHalfWidth(t *testing.T) {
	var q LengthQ
	_, stated := q.HalfWidth()
	assert.False(t, stated)
	q.SetStated(Stated{412, 1})
	half, stated := q.HalfWidth()
	assert.True(t, stated && q.Known() && half == 1 && q.V() == 412)
	q.SetV(413)
	_, stated = q.HalfWidth()
	assert.False(t, stated, "the ± was of 412")
}
