package wheel

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Geometry of the size marking, and the design sizes of UN Regulation No. 30
// and ISO 4000-1 with the ETRTO rolling circumference 3.05·D (from memory).
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		size                                    string
		geometric, perKm, design, rolling, roll float64
	}{
		{"205/55R16", 631.9, 503.7346, 632, 1927.6, 518.780},
		{"195/65R15", 634.5, 501.6704, 635, 1936.75, 516.329},
		{"225/45R17", 634.3, 501.8286, 634, 1933.7, 517.143},
		{"265/70R16", 777.4, 409.4544, 778, 2372.9, 421.425},
	} {
		tyre, err := Parse(c.size)
		require.NoError(t, err)
		assert.Equal(t, c.size, tyre.String())
		d, err := tyre.Diameter()
		require.NoError(t, err)
		assert.InDelta(t, c.geometric, d, 1e-9)
		round, err := tyre.Round()
		require.NoError(t, err)
		assert.InDelta(t, c.perKm, 1e6/round, 6e-5)
		d, err = tyre.Design()
		require.NoError(t, err)
		assert.InDelta(t, c.design, d, 1e-9)
		r, err := tyre.Rolling()
		require.NoError(t, err)
		assert.InDelta(t, c.rolling, r, 1e-9)
		assert.InDelta(t, c.roll, 1e6/r, 6e-4)
	}
	assert.InDelta(t, 112.75, Tyre{Section: 205, Aspect: 55, Rim: 16}.height(), 1e-12)
}

// Nominal rim diameters of ISO 4000-1 (from memory).
func TestRimDiameters(t *testing.T) {
	for code, mm := range map[int]float64{13: 330, 14: 356, 15: 381, 16: 406, 17: 432, 18: 457} {
		d, err := Tyre{Section: 200, Aspect: 50, Rim: code}.Design()
		require.NoError(t, err)
		assert.InDelta(t, mm, d-200, 1e-9, "%d", code)
	}
}

// Shaft speed at 100 km/h, axle 3.73, 205/55R16; and the shop's
// mph = rpm·D(in)/(ratio·336.135). Derived.
func TestSpeeds(t *testing.T) {
	tyre := Tyre{Section: 205, Aspect: 55, Rim: 16}
	round, err := tyre.Round()
	require.NoError(t, err)
	rolling, err := tyre.Rolling()
	require.NoError(t, err)
	n, err := ShaftSpeed(100*KmH, round, 3.73)
	require.NoError(t, err)
	assert.InDelta(t, 3131.55, n/RPM, 6e-3)
	n, err = ShaftSpeed(100*KmH, rolling, 3.73)
	require.NoError(t, err)
	assert.InDelta(t, 3225.08, n/RPM, 6e-3)

	const d = 28.0 // in
	n, err = ShaftSpeed(2500*d/(0.7*3.73*336.135)*MPH, math.Pi*d*25.4, 3.73)
	require.NoError(t, err)
	assert.InEpsilon(t, 2500/0.7, n/RPM, 2e-6)
	after, err := After(2500, 2, 2.5)
	require.NoError(t, err)
	assert.InDelta(t, 500, after, 1e-9)
}

func TestSpeedsUndoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1, 300).Draw(t, "km/h") * KmH
		c := rapid.Float64Range(1000, 4000).Draw(t, "circumference")
		axle := rapid.Float64Range(2, 7).Draw(t, "axle")
		shaft, err := ShaftSpeed(v, c, axle)
		require.NoError(t, err)
		wheel, err := After(shaft, axle)
		require.NoError(t, err)
		assert.InEpsilon(t, v/c, wheel/(2*math.Pi), 1e-12)
	})
}

func TestParse(t *testing.T) {
	size := func(w, a, r int) Tyre { return Tyre{Section: w, Aspect: a, Rim: r} }
	for text, want := range map[string]Tyre{
		"205/55R16":            size(205, 55, 16),
		"205/55 R 16":          size(205, 55, 16),
		" 205 / 55 r16 ":       size(205, 55, 16),
		"P205/55R16 91V":       size(205, 55, 16),
		"205/55ZR16 91W":       size(205, 55, 16),
		"LT265/70R16 121/118S": size(265, 70, 16),
		"195/70R15C 104/102R":  size(195, 70, 15),
		"265/70R16LT":          size(265, 70, 16),
		"632 mm":               {Measured: 632},
		"632mm":                {Measured: 632},
		"63,2 cm":              {Measured: 632},
		"25 in":                {Measured: 635},
		"25\"":                 {Measured: 635},
		"25 inch":              {Measured: 635},
	} {
		got, err := Parse(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want.Measured, got.Measured, 1e-9, text)
		want.Measured, got.Measured = 0, 0
		assert.Equal(t, want, got, text)
	}
}

func TestParseRefuses(t *testing.T) {
	for text, says := range map[string]string{
		"":                    "no tyre size",
		"   ":                 "no tyre size",
		"7.50-16":             "measure the outside diameter",
		"31x10.5R15":          "measure the outside diameter",
		"205/55-16":           "not a radial tyre size",
		"205/55R16 extra":     "not a radial tyre size",
		"205/55R16 91V9":      "not a radial tyre size",
		"205/55R16 91/":       "not a radial tyre size",
		"205/R16":             "not a radial tyre size",
		"205/55R":             "not a radial tyre size",
		"/55R16":              "not a radial tyre size",
		"632":                 "without a unit",
		"big ones":            "not a tyre size",
		"nan mm":              "not a tyre size",
		"-632 mm":             "not a tyre size",
		"1e3 mm":              "not a tyre size",
		"0 mm":                "not a tyre size",
		"6.3.2 mm":            "not a tyre size",
		"mm":                  "not a tyre size",
		"205R16":              "not a tyre size",
		"63 mm":               "between 250 mm and 1600 mm",
		"20/55R16":            "section width is 20 mm: 95 to 495",
		"205/5R16":            "section height is 5 % of the width: 20 to 100",
		"205/55R160":          "rim diameter is 160 in: 8 to 30",
		"205/55R16205/55R162": "not a radial tyre size",
		"12345/55R16":         "not a radial tyre size",
		"99999999999999999999999999999999999999999999999999999999999999999 mm": "letters",
	} {
		_, err := Parse(text)
		assert.ErrorContains(t, err, says, text)
	}
}

func TestRefusedTyresGiveNoFigures(t *testing.T) {
	for _, tyre := range []Tyre{
		{}, {Measured: math.NaN()}, {Measured: math.Inf(1)}, {Measured: -5},
		{Section: 205, Aspect: 55, Rim: 16, Measured: 632}, {Section: 205, Aspect: 55},
	} {
		assert.Error(t, tyre.Check())
		for _, f := range []func() (float64, error){tyre.Diameter, tyre.Design, tyre.Rolling, tyre.Round} {
			_, err := f()
			assert.Error(t, err, "%+v", tyre)
		}
	}
	for _, f := range []func() (float64, error){
		Tyre{Measured: 600}.Diameter, Tyre{Measured: 600}.Design,
	} {
		d, err := f()
		require.NoError(t, err)
		assert.InDelta(t, 600, d, 0)
	}
}

func TestSpeedsRefuse(t *testing.T) {
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		for name, f := range map[string]func() (float64, error){
			"road":  func() (float64, error) { return ShaftSpeed(bad, 2000, 4) },
			"tyre":  func() (float64, error) { return ShaftSpeed(100, bad, 4) },
			"axle":  func() (float64, error) { return ShaftSpeed(100, 2000, bad) },
			"gear":  func() (float64, error) { return After(100, 4, bad) },
			"after": func() (float64, error) { return After(bad) },
		} {
			_, err := f()
			assert.Error(t, err, "%s %g", name, bad)
		}
	}
	_, err := ShaftSpeed(1e300, 1e-300, 4)
	assert.Error(t, err)
	_, err = After(1e-300, 1e300)
	assert.Error(t, err)
}

// Whatever is read gives figures, and reads back as itself.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"205/55R16", "P205/55 R 16 91V", "LT265/70R16 121/118S", "632 mm", "24.9\"", "24,9 in", "7.50-16", "31x10.5R15", "", "″", "205/55ZR16C 9/9Z"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		tyre, err := Parse(s)
		if err != nil {
			assert.NotEmpty(t, err.Error())
			return
		}
		d, err := tyre.Diameter()
		require.NoError(t, err)
		assert.True(t, d > 150 && d < 2500, "%g", d)
		back, err := Parse(tyre.String())
		require.NoError(t, err)
		assert.Equal(t, tyre, back)
	})
}

// An old or flotation size is a tyre whose diameter has to be measured; what is
// no size at all is not.
func TestOldSizes(t *testing.T) {
	for text, old := range map[string]bool{
		"31x10.50R15": true, "7.50-16": true, "33 X 12.5 R15": true, "LT31x10.5R15": true,
		"banana": false, "big-ones": false, "1-2": false, "900x10": false, "205/55X": false, "632": false, "12x": false,
	} {
		_, err := Parse(text)
		require.Error(t, err, text)
		assert.Equal(t, old, errors.Is(err, ErrOldSize), text)
	}
}
