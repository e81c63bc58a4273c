package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Intersection of two cylinders, at every 30° from the acute side: computed
// from the formula and by 3-D root finding. The square case is the classic
// √(R² − r² sin²) of sheet-metal handbooks, equal tubes at 45° give 1 ± √2.
func TestSaddleStations(t *testing.T) {
	for _, c := range []struct {
		name          string
		r, rh, phi, e float64
		want          []float64
	}{
		{"square", 20, 25, 90, 0, []float64{25, 22.91288, 18.02776, 15, 18.02776, 22.91288, 25, 22.91288, 18.02776, 15, 18.02776, 22.91288}},
		{"60°", 20, 30, 60, 0, []float64{46.18802, 42.65986, 34.05777, 25.81989, 22.51077, 22.65986, 23.09401, 22.65986, 22.51077, 25.81989, 34.05777, 42.65986}},
		{"45° and offset", 20, 30, 45, 5, []float64{61.83300, 54.06285, 38.34766, 23.45208, 18.34766, 19.42184, 21.83300, 24.51249, 28.68346, 36.74235, 48.68346, 59.15351}},
		{"equal", 1, 1, 45, 0, []float64{0: 2.414214, 3: 0, 6: 0.414214, 9: 0}},
	} {
		s := Saddle{Name: c.name, Branch: 2 * c.r, Wall: c.r / 10, Header: 2 * c.rh,
			Angle: geom.Angle(c.phi) * geom.Deg, Offset: c.e, Fit: FitOutside}
		for i, want := range c.want {
			if c.name == "equal" && i%3 != 0 {
				continue
			}
			got, err := s.At(geom.Angle(i*30) * geom.Deg)
			require.NoError(t, err)
			assert.InDelta(t, want, got, 1e-5, "%s at %d°", c.name, i*30)
		}
		if c.e != 0 {
			a, _ := s.At(60 * geom.Deg)
			b, _ := s.At(-60 * geom.Deg)
			assert.Greater(t, math.Abs(a-b), 5.0, "an offset is not the same on both sides")
		}
	}
}

func TestSaddleDepth(t *testing.T) {
	s := Saddle{Branch: 40, Wall: 2, Header: 50, Angle: 90 * geom.Deg, Fit: FitOutside}
	tm, err := s.Template(36)
	require.NoError(t, err)
	assert.InDelta(t, 10, tm.Depth, 1e-9)
	assert.InDelta(t, 40*math.Pi, tm.Around, 1e-12)
	assert.Len(t, tm.Points, 37)
	assert.Equal(t, tm.Points[0].Y, tm.Points[36].Y)
	assert.InDelta(t, tm.Around, tm.Points[36].X, 1e-12)
	assert.Zero(t, tm.Proud)

	s = Saddle{Branch: 40, Wall: 2, Header: 60, Angle: 60 * geom.Deg, Fit: FitOutside}
	tm, err = s.Template(36)
	require.NoError(t, err)
	// Lowest where √(500 + 400 c²) + 10 c is least, c = cos θ = −√(5/12): there
	// the cut is √500, so the depth is 40/sin 60° − √500. The 30° stations miss
	// it and show only 23.6773.
	assert.InDelta(t, 40/math.Sin(math.Pi/3)-math.Sqrt(500), tm.Depth, 1e-9)
	assert.InDelta(t, -math.Sqrt(5./12), math.Cos(tm.LeastAt.Rad()), 1e-6)
	assert.InDelta(t, 23.6773, tm.Points[0].Y-tm.Points[12].Y, 6e-5)
	assert.InDelta(t, 0, tm.MostAt.Rad(), 1e-6)
}

// Square on, the inside edge leaves the outside clear; at an angle the outside
// edge of the wall is in the way on the acute side unless the fit allows for it.
func TestWallThickness(t *testing.T) {
	s := Saddle{Branch: 40, Wall: 3, Header: 50, Angle: 90 * geom.Deg}
	tm, err := s.Template(72)
	require.NoError(t, err)
	assert.Zero(t, tm.Proud)
	assert.InDelta(t, math.Sqrt(625-17*17)-15, tm.Gap, 1e-9)
	assert.Contains(t, tm.Fitted, "inside edge")
	assert.InDelta(t, 2*math.Pi*20, tm.Around, 1e-9, "the paper goes around the outside")
	assert.InDelta(t, math.Sqrt(625-17*17), tm.Points[18].Y, 1e-9, "but the cut is that of the inside")

	s.Angle = 45 * geom.Deg
	tm, err = s.Template(72)
	require.NoError(t, err)
	assert.InDelta(t, 3, tm.Proud, 1e-6) // 3 mm of wall at 45°
	s.Fit = FitTouch
	touch, err := s.Template(72)
	require.NoError(t, err)
	assert.InDelta(t, 0, touch.Proud, 1e-9)
	for i := range tm.Points {
		assert.GreaterOrEqual(t, touch.Points[i].Y, tm.Points[i].Y-1e-9)
	}
}

// A second method: walk along a line of the branch in space and find where it
// leaves the header's cylinder.
func TestSaddleAgainstRootFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rh := rapid.Float64Range(15, 60).Draw(t, "R")
		r := rapid.Float64Range(0.3, 0.999).Draw(t, "r") * rh
		e := rapid.Float64Range(-1, 1).Draw(t, "e") * (rh - r)
		phi := rapid.Float64Range(20, 160).Draw(t, "phi") * math.Pi / 180
		s := Saddle{Branch: 2 * r, Wall: 0.1 * r, Header: 2 * rh, Angle: geom.Angle(phi), Offset: e,
			Fit: Fit(rapid.IntRange(0, 1).Draw(t, "fit"))}
		theta := rapid.Float64Range(0, 2*math.Pi).Draw(t, "theta")
		got, err := s.At(geom.Angle(theta))
		require.NoError(t, err)
		// Header along X; the branch leans to +X; its acute side faces +X.
		b := r3.Vec{X: math.Cos(phi), Z: math.Sin(phi)}
		side := r3.Vec{Y: 1}
		acute := r3.Vec{X: math.Sin(phi), Z: -math.Cos(phi)}
		if s.Fit == FitInside {
			r *= 0.9
		}
		base := r3.Add(r3.Scale(e+r*math.Sin(theta), side), r3.Scale(r*math.Cos(theta), acute))
		out := func(l float64) float64 {
			p := r3.Add(base, r3.Scale(l, b))
			return math.Hypot(p.Y, p.Z) - rh
		}
		// Start where the line is nearest the header's axis.
		from := r * math.Cos(theta) * math.Cos(phi) / math.Sin(phi)
		assert.InDelta(t, bisect(out, from, from+1000), got, 1e-6)
	})
}

func TestPlateTemplate(t *testing.T) {
	tm, err := PlateTemplate("leg", 50, 60*geom.Deg, 24)
	require.NoError(t, err)
	assert.InDelta(t, 50/math.Tan(math.Pi/3), tm.Depth, 1e-9)
	// The plane, point by point: height of the tube's line over the plate is nought.
	for _, p := range tm.Points {
		theta := p.X / 25
		x := p.Y*math.Cos(math.Pi/3) + 25*math.Cos(theta)*math.Sin(math.Pi/3)
		z := p.Y*math.Sin(math.Pi/3) - 25*math.Cos(theta)*math.Cos(math.Pi/3)
		assert.InDelta(t, 0, z, 1e-9)
		assert.LessOrEqual(t, math.Abs(x), 25/math.Sin(math.Pi/3)+1e-9, "an ellipse")
	}
	// A huge header is a plate.
	s := Saddle{Branch: 50, Wall: 1, Header: 1e6, Angle: 60 * geom.Deg, Fit: FitOutside}
	sd, err := s.Template(24)
	require.NoError(t, err)
	assert.InDelta(t, tm.Depth, sd.Depth, 1e-3)

	_, err = PlateTemplate("leg", 0, 1, 24)
	assert.ErrorContains(t, err, "leg")
	_, err = PlateTemplate("leg", 50, 0.01, 24)
	assert.ErrorContains(t, err, "leg")
	_, err = PlateTemplate("leg", 50, 1, 3)
	assert.ErrorContains(t, err, "leg")
}

func TestSaddlesRefused(t *testing.T) {
	good := Saddle{Name: "crossmember", Branch: 40, Wall: 2, Header: 50, Angle: 90 * geom.Deg}
	for want, change := range map[string]func(*Saddle){
		"hangs over": func(s *Saddle) { s.Offset = -5.1 },
		"meet at":    func(s *Saddle) { s.Angle = 0 },
		"wall":       func(s *Saddle) { s.Wall = 20 },
		"diameters":  func(s *Saddle) { s.Header = math.NaN() },
		"not known":  func(s *Saddle) { s.Fit = 7 },
	} {
		s := good
		change(&s)
		_, err := s.Template(36)
		require.ErrorContains(t, err, want)
		require.ErrorContains(t, err, "crossmember")
		_, err = s.At(0)
		assert.Error(t, err)
	}
	hair := good
	hair.Offset, hair.Branch = 7e-15, 60.3 // rounding of two axes that meet
	_, err := hair.Template(36)
	require.ErrorContains(t, err, "offset 0.00 and branch radius 30.15 are more than the header's radius 25.00")
	_, err = good.Template(1e6)
	assert.ErrorContains(t, err, "points")
	_, err = good.At(geom.Angle(math.NaN()))
	assert.Error(t, err)
	good.Offset = 5 // exactly flush is still full contact
	_, err = good.Template(36)
	assert.NoError(t, err)
}

func BenchmarkSaddleTemplate(b *testing.B) {
	s := Saddle{Branch: 40, Wall: 2, Header: 50, Angle: 1, Offset: 2}
	for b.Loop() {
		if _, err := s.Template(180); err != nil {
			b.Fatal(err)
		}
	}
}
