package pickup

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/travel"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// With nothing that holds it an axle leans about its middle, by hand.
func TestAnAxleThatNothingHoldsLeansAboutItsMiddle(t *testing.T) {
	l := Leaning{Left: r3.Vec{Y: -700}, Right: r3.Vec{Y: 700}}
	near := geom.Identity()
	near.At.Z = 10
	s, err := l.At(near, 60, -40)
	require.NoError(t, err)
	sin := -100.0 / 1400
	cos := math.Sqrt(1 - sin*sin)
	for _, p := range []r3.Vec{l.Left, l.Right, {Y: -500, Z: 50}, {X: 40, Z: -30}} {
		want := r3.Vec{X: p.X, Y: cos*p.Y - sin*p.Z, Z: sin*p.Y + cos*p.Z + 10}
		assert.InDelta(t, 0, apart(want, s.Point(Hub, p)), 1e-6)
	}
	assert.InDelta(t, 60, s.Wheel.Z, 1e-7)
	_, err = l.At(near, 1000, -400)
	require.ErrorContains(t, err, "leans")
	_, err = Leaning{Left: l.Right, Right: l.Left}.At(near, 1, 0)
	require.Error(t, err)
}

// Four links leave an axle free to rise and to lean: then it stands where the linkage of
// the travel model, which goes by another solver, has it at that rise and lean, and no
// bush gives.
func TestAnAxleOnFourLinksLeansAsTheLinkageDoes(t *testing.T) {
	links := []travel.Link{
		{Name: "lower left", Chassis: r3.Vec{X: -600, Y: -420, Z: -40}, Axle: r3.Vec{X: -20, Y: -440, Z: -70}},
		{Name: "lower right", Chassis: r3.Vec{X: -600, Y: 420, Z: -40}, Axle: r3.Vec{X: -20, Y: 440, Z: -70}},
		{Name: "upper left", Chassis: r3.Vec{X: -450, Y: -400, Z: 100}, Axle: r3.Vec{X: -10, Y: -120, Z: 110}},
		{Name: "upper right", Chassis: r3.Vec{X: -450, Y: 400, Z: 100}, Axle: r3.Vec{X: -10, Y: 120, Z: 110}},
	}
	axle := travel.Axle{Pinion: r3.Vec{X: -100}, PinionAxis: r3.Vec{X: 1}}
	level, err := travel.NewLinkage(travel.Links{Axle: axle, Links: links})
	require.NoError(t, err)
	l := Leaning{Left: r3.Vec{Y: -720}, Right: r3.Vec{Y: 720}}
	for _, k := range links {
		l.Rods = append(l.Rods, Span{Chassis: k.Chassis, End: k.Axle})
	}
	near, err := level.At(15)
	require.NoError(t, err)
	s, err := l.At(near.Motion, 70, -40)
	require.NoError(t, err)
	for _, x := range l.Rods {
		assert.InDelta(t, x.At(nil), x.At(&s), 1e-5)
	}
	assert.InDelta(t, 70, s.Point(Hub, l.Left).Z, 1e-6)
	assert.InDelta(t, -40, s.Point(Hub, l.Right).Z, 1e-6)
	m := s.Motion[Hub]
	there, err := travel.NewLinkage(travel.Links{Axle: axle, Links: links, Roll: m.Roll()})
	require.NoError(t, err)
	// The linkage's rise is that of the axle's middle.
	at, err := there.At(m.Point(r3.Vec{}).Z)
	require.NoError(t, err)
	for _, p := range []r3.Vec{l.Left, l.Right, {X: -100}} {
		assert.InDelta(t, 0, apart(at.Motion.Point(p), m.Point(p)), 1e-3)
	}
}

// Two arms that are one with the axle, in bushes on one line across, have to give when it
// leans: no other stand near there has them give less in all, by the squares of it.
func TestBushesGiveAsLittleAsTheyCan(t *testing.T) {
	l := Leaning{Left: r3.Vec{Y: -700}, Right: r3.Vec{Y: 700}, Pivots: []r3.Vec{{X: -800, Y: -350}, {X: -800, Y: 350}},
		Rods: []Span{{Chassis: r3.Vec{X: 100, Y: -450, Z: 20}, End: r3.Vec{X: 100, Y: 450}}}}
	s, err := l.At(geom.Identity(), 50, -50)
	require.NoError(t, err)
	give := func(p geom.Pose) (sum float64) {
		for _, at := range l.Pivots {
			sum += r3.Norm2(r3.Sub(p.Point(at), at))
		}
		d := apart(l.Rods[0].Chassis, p.Point(l.Rods[0].End)) - l.Rods[0].At(nil)
		return sum + d*d
	}
	least := give(s.Motion[Hub])
	assert.Greater(t, least, 100.0, "35 mm apart at each of two bushes, shared with the axle's own turn")
	// What leaves both wheels' heights: along, aside, and turned about the upright axis and
	// about the line through both wheel centres.
	through := r3.Sub(s.Point(Hub, l.Right), s.Point(Hub, l.Left))
	for _, h := range []float64{-1e-3, 1e-3} {
		for _, m := range []geom.Pose{
			{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}, At: r3.Vec{X: h * 100}},
			{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}, At: r3.Vec{Y: h * 100}},
			turned(t, r3.Vec{}, r3.Vec{Z: 1}, h),
			turned(t, s.Point(Hub, l.Left), through, h),
		} {
			assert.GreaterOrEqual(t, give(s.Motion[Hub].Then(m)), least-1e-4)
		}
	}
}

func turned(t *testing.T, on, axis r3.Vec, by float64) geom.Pose {
	t.Helper()
	m, err := geom.Turn(on, axis, geom.Angle(by))
	require.NoError(t, err)
	return m
}
