package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A fraction without a unit is read off a rule in inches. In a metric file it is
// asked about, and with its unit it is taken.
func TestBareFraction(t *testing.T) {
	for _, text := range []string{"16 3/8", "16-3/8", "3/8", "16⅜", "-16 3/8"} {
		for _, k := range []Kind{Length, Offset} {
			_, err := Parse(k, text, Metric())
			require.Error(t, err, text)
			assert.Contains(t, err.Error(), "a bare number here is in mm: say which")
		}
	}
	for text, want := range map[string]float64{"16 3/8 in": 415.925, "16 3/8 mm": 16.375, "415.925": 415.925} {
		v, err := Parse(Length, text, Metric())
		require.NoError(t, err, text)
		assert.InDelta(t, want, v, 1e-9)
	}
	v, err := Parse(Length, "16 3/8", Inch())
	require.NoError(t, err)
	assert.InDelta(t, 415.925, v, 1e-9)
	_, err = Parse(Slope, "3/8 over 12 down to the rear", Metric())
	assert.NoError(t, err, "two lengths in one unit, whichever it is")
	_, err = Parse(Number, "3/4", Metric())
	assert.NoError(t, err)
}

func TestForeign(t *testing.T) {
	for text, want := range map[string]bool{"150 mm": true, "15 cm": true, "5 7/8 in": false, "5.9": false, "1 ft 4 in": false, `5.9"`: false, "no size": false} {
		assert.Equal(t, want, Foreign(Length, text, Inch()), text)
	}
	assert.True(t, Foreign(Length, "6 in", Metric()))
	assert.False(t, Foreign(Slope, "10 mm over 100 mm down to the rear", Inch()))
}

func TestSizes(t *testing.T) {
	for _, c := range []struct {
		text string
		u    Units
		want []float64
	}{
		{"2x2x3/16", Inch(), []float64{50.8, 50.8, 4.7625}},
		{"2 X 2 × 3/16 in", Metric(), []float64{50.8, 50.8, 4.7625}},
		{"1 3/4 x .120", Inch(), []float64{44.45, 3.048}},
		{`1 3/4" x .120"`, Metric(), []float64{44.45, 3.048}},
		{"50x50x3", Metric(), []float64{50, 50, 3}},
		{"SHS 50x50x3", Metric(), nil}, {"", Metric(), nil}, {"412", Metric(), nil}, {"tube", Metric(), nil},
	} {
		got, err := Sizes(c.text, c.u)
		require.NoError(t, err, c.text)
		require.Len(t, got, len(c.want), c.text)
		assert.InDeltaSlice(t, c.want, got, 1e-9, c.text)
	}
	_, err := Sizes("2x2x3/16", Metric())
	assert.ErrorContains(t, err, "inches", "half of it in mm would be a tube nobody has")
	_, err = Parse(Length, "1 3/4 x .120", Inch())
	assert.ErrorContains(t, err, "more than one size: write each under its own key")
}

func TestRestate(t *testing.T) {
	for in, want := range map[string]string{
		"its foot stands 5.1 mm off the face":            "its foot stands 0.201 in off the face",
		"a wall of 3 mm does not fit a side of 2 mm":     "a wall of 0.118 in does not fit a side of 0.079 in",
		"at station 100 mm, off its end (0 to 254 mm)":   "at station 3.937 in, off its end (0 to 10 in)",
		"a corner at -12.7, 25.4 mm is not usable":       "a corner at -0.5, 1 in is not usable",
		"not 20 by 30 mm; SHS 60x60x4 cold, 12 rpm, 3 m": "not 0.787 by 1.181 in; SHS 60x60x4 cold, 12 rpm, 3 m",
	} {
		assert.Equal(t, want, Restate(in, Inch()))
		assert.Equal(t, in, Restate(in, Metric()))
	}
}
