package travel

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// leafSpring has a short front half, a little arch and a rear shackle.
func leafSpring() LeafSpring {
	return LeafSpring{
		Axle:         testAxle(),
		FixedEye:     r3.Vec{X: 2430, Y: 520, Z: 330},
		Seat:         r3.Vec{X: 3000, Y: 520, Z: 300},
		ShackleEye:   r3.Vec{X: 3760, Y: 520, Z: 345},
		ShacklePivot: r3.Vec{X: 3735, Y: 520, Z: 450},
	}
}

func mustLeaf(t testing.TB, d LeafSpring) *Leaf {
	l, err := NewLeaf(d)
	require.NoError(t, err)
	return l
}

// drawIn is how far (mm) the link model draws an eye in towards the clamp when
// it is deflected by d mm across a half of length mm.
func drawIn(k Leaves, length, d float64) float64 {
	r := k.EyeRadius() * length
	return d * d / (r + math.Sqrt((r-d)*(r+d)))
}

// Three-quarter rule: SAE HS-788 (from memory); the figures were worked out
// from first principles for a half of 600 mm that bends to a circle, and differ
// from the rule only in the fourth order.
func TestDrawInOfAnEye(t *testing.T) {
	for _, c := range []struct{ d, link, circle float64 }{
		{10, 0.111125, 0.111126},
		{50, 2.786405, 2.786839},
		{100, 11.251781, 11.259057},
		{-100, 11.251781, 11.259057},
	} {
		got := drawIn(ManyLeaves, 600, c.d)
		assert.InDelta(t, c.link, got, 1e-6)
		// The circle: find its angle by halving, then the draw-in.
		lo, hi := 0.0, 1.0
		for range 80 {
			if a := (lo + hi) / 2; 600*(1-math.Cos(a))/a < math.Abs(c.d) {
				lo = a
			} else {
				hi = a
			}
		}
		circle := 600 * (1 - math.Sin(hi)/hi)
		assert.InDelta(t, c.circle, circle, 1e-6)
		assert.InDelta(t, circle, got, 0.01)
	}
	// One leaf of uniform section: 0.6 d²/L to second order, 10.0 at 100 of 600.
	assert.InDelta(t, 10, drawIn(OneLeaf, 600, 100), 0.12)
	assert.InDelta(t, 0.6/600, drawIn(OneLeaf, 600, 1), 1e-8)
	assert.Empty(t, ManyLeaves.Caution())
	assert.Contains(t, OneLeaf.Caution(), "5/6")
}

// circleSpring is the other method: the whole spring is one thin circular arc
// of unchanging length from the fixed eye to the shackle eye, its curvature the
// only unknown. It returns seat and slope for a curvature (positive: arch ends
// up).
type circleSpring struct {
	fixed, pivot         flat
	length, toSeat, link float64
	bend                 float64
}

func newCircleSpring(d LeafSpring) (circleSpring, float64) {
	f, s, e, p := side(d.FixedEye), side(d.Seat), side(d.ShackleEye), side(d.ShacklePivot)
	// Curvature of the circle through three points: 4·area over the sides.
	k := 2 * s.sub(f).cross(e.sub(s)) / (s.sub(f).long() * e.sub(s).long() * e.sub(f).long())
	arc := func(chord float64) float64 { return 2 * math.Asin(k*chord/2) / k }
	c := circleSpring{fixed: f, pivot: p, toSeat: arc(s.sub(f).long()), link: e.sub(p).long()}
	c.length = c.toSeat + arc(e.sub(s).long())
	c.bend = math.Copysign(1, p.sub(f).cross(e.sub(p)))
	return c, k
}

func (c circleSpring) at(t testing.TB, k float64) (seat flat, slope float64) {
	chord := c.length
	if k != 0 {
		chord = 2 * math.Sin(k*c.length/2) / k
	}
	eye, ok := meet(c.fixed, math.Abs(chord), c.pivot, c.link, c.bend)
	require.True(t, ok)
	way := eye.sub(c.fixed)
	start := math.Atan2(way.z, way.x) - k*c.length/2 // elevation at the fixed eye
	now := start + k*c.toSeat
	mid := start + k*c.toSeat/2
	run := c.toSeat
	if k != 0 {
		run = 2 * math.Sin(k*c.toSeat/2) / k
	}
	return c.fixed.add(flat{math.Cos(mid), math.Sin(mid)}.scale(run)), -now
}

// The link model with balanced halves against the bending circle.
func TestLeafAgreesWithABendingCircle(t *testing.T) {
	d := leafSpring()
	d.Axle.Centre = d.Seat // so that rise is the seat's
	l := mustLeaf(t, d)
	c, ride := newCircleSpring(d)
	seat0, slope0 := c.at(t, ride)
	assert.InDelta(t, d.Seat.X, seat0.x, 1e-9)
	assert.InDelta(t, d.Seat.Z, seat0.z, 1e-9)
	low, high := math.Inf(1), math.Inf(-1)
	for i := -20; i <= 20; i++ {
		seat, slope := c.at(t, ride+float64(i)*2.2e-5)
		rise := seat.z - d.Seat.Z
		low, high = min(low, rise), max(high, rise)
		p, err := l.At(rise)
		require.NoError(t, err)
		assert.InDelta(t, seat.x, p.Centre.X, 0.15, "station at %.1f", rise)
		assert.InDelta(t, (slope-slope0)*180/math.Pi, deg(p.Motion.Slope()), 0.08, "slope at %.1f", rise)
	}
	assert.Less(t, low, -80.0)
	assert.Greater(t, high, 80.0)
}

// To first order a flat spring with an upright shackle turns its seat by
// -rise (b - a)/(a b), up to the rear (nose down) in bump for a short front.
func TestSeatTurnToFirstOrder(t *testing.T) {
	for _, h := range []struct{ a, b float64 }{{500, 700}, {600, 600}, {700, 550}} {
		d := leafSpring()
		d.FixedEye = r3.Vec{X: 3000 - h.a, Z: 300}
		d.ShackleEye = r3.Vec{X: 3000 + h.b, Z: 300}
		d.ShacklePivot = r3.Vec{X: 3000 + h.b, Z: 420}
		for _, k := range []Leaves{ManyLeaves, OneLeaf} {
			d.Leaves = k
			p, err := mustLeaf(t, d).At(0.1)
			require.NoError(t, err)
			assert.InDelta(t, -0.1*(h.b-h.a)/(h.a*h.b), p.Motion.Slope().Rad(), 1e-7)
		}
	}
}

// Turned end for end, with the shackle in front, the spring does the same
// backwards.
func TestFrontShackleIsTheMirrorImage(t *testing.T) {
	d := leafSpring()
	d.Axle.Centre.X = d.Seat.X
	m := d
	turn := func(v r3.Vec) r3.Vec { v.X = 2*d.Seat.X - v.X; return v }
	m.FixedEye, m.ShackleEye, m.ShacklePivot = turn(d.FixedEye), turn(d.ShackleEye), turn(d.ShacklePivot)
	rapid.Check(t, func(rt *rapid.T) {
		rise := rapid.Float64Range(-90, 90).Draw(rt, "rise")
		a, err := mustLeaf(t, d).At(rise)
		require.NoError(t, err)
		b, err := mustLeaf(t, m).At(rise)
		require.NoError(t, err)
		assertVec(t, turn(a.Centre), b.Centre, 1e-9, "centre")
		assert.InDelta(t, -a.Motion.Slope().Rad(), b.Motion.Slope().Rad(), 1e-12)
	})
}

// Links and shackle keep their lengths; both halves change curvature alike.
func TestLeafKeepsLengthsAndBalance(t *testing.T) {
	for _, k := range []Leaves{ManyLeaves, OneLeaf} {
		d := leafSpring()
		d.Leaves, d.Clamped = k, 110
		l := mustLeaf(t, d)
		points, err := Sweep(l, 100, 100, 41)
		require.NoError(t, err)
		require.Len(t, points, 41)
		for _, p := range points {
			assertRigid(t, d.Axle, p)
			s, err := l.Shape(p.Rise)
			require.NoError(t, err)
			assert.InDelta(t, s.SlopeChange.Rad(), p.Motion.Slope().Rad(), 1e-12)
			assertVec(t, r3.Vec{X: s.Seat.X, Y: 520, Z: s.Seat.Z}, p.Motion.Point(d.Seat), 1e-9, "seat")
			pin := func(h half) flat {
				return side(p.Motion.Point(r3.Vec{X: d.Seat.X + h.pin.x, Z: d.Seat.Z + h.pin.z}))
			}
			assert.InDelta(t, l.fixed.link, pin(l.fixed).sub(side(d.FixedEye)).long(), 1e-9)
			assert.InDelta(t, l.shackled.link, pin(l.shackled).sub(side(s.ShackleEye)).long(), 1e-9)
			assert.InDelta(t, l.shackle, side(s.ShackleEye).sub(side(d.ShacklePivot)).long(), 1e-9)
			a, b := l.fixed.length, l.shackled.length
			assert.InDelta(t, s.FixedHalf/(a*a), s.ShackledHalf/(b*b), 1e-12)
			if p.Rise != 0 {
				assert.Equal(t, p.Rise < 0, s.FixedHalf > 0, "in bump the ends bend down")
			}
		}
		assert.InDelta(t, k.EyeRadius()*l.fixed.length, l.fixed.link, 1e-9)
		assert.InDelta(t, k.EyeRadius()*l.shackled.length, l.shackled.link, 1e-9)
	}
}

func TestLeafRideHeightIsExact(t *testing.T) {
	d := leafSpring()
	p, err := mustLeaf(t, d).At(0)
	require.NoError(t, err)
	assert.Equal(t, geom.Identity(), p.Motion)
	assert.Equal(t, d.Axle.Pinion, p.PinionAt)
	s, err := mustLeaf(t, d).Shape(0)
	require.NoError(t, err)
	assertVec(t, r3.Vec{X: 3760, Z: 345}, s.ShackleEye, 1e-9, "eye")
	assert.InDelta(t, 0, s.FixedHalf, 1e-10)
	assert.InDelta(t, 0, s.ShackledHalf, 1e-10)
}

// Wind-up comes on top of the travel's own turn; drive lifts the nose.
func TestWindUp(t *testing.T) {
	d := leafSpring()
	free := mustLeaf(t, d)
	for _, w := range []float64{6, -3} {
		d.WindUp = geom.Angle(w) * geom.Deg
		l := mustLeaf(t, d)
		for _, rise := range []float64{-70, 0, 55} {
			a, err := free.At(rise)
			require.NoError(t, err)
			b, err := l.At(rise)
			require.NoError(t, err)
			assert.InDelta(t, w, deg(b.Motion.Slope()-a.Motion.Slope()), 1e-9)
			assert.InDelta(t, w, deg(geom.Slope(b.PinionAxis)-geom.Slope(a.PinionAxis)), 1e-9)
			assert.Equal(t, w > 0, b.PinionAt.Z > a.PinionAt.Z)
			assertRigid(t, d.Axle, b)
		}
	}
}

func TestLeafBinds(t *testing.T) {
	l := mustLeaf(t, leafSpring())
	for _, rise := range []float64{2000, -2000} {
		_, err := l.At(rise)
		var bind *BindError
		require.ErrorAs(t, err, &bind)
		_, err = l.At(bind.Rise - math.Copysign(bindTol, rise))
		require.NoError(t, err)
		// Past the bind no turn of the seat balances the halves: look at all.
		past := bind.Rise + math.Copysign(1.5*bindTol, rise)
		before, reached := 0.0, false
		for turn := -0.4; turn < 0.4; turn += 2e-6 {
			s, ok := l.stand(past, turn)
			now := l.uneven(s)
			if ok && reached {
				require.Positive(t, now*before, "balance at a turn of %g", turn)
			}
			before, reached = now, ok
		}
	}
}

func TestLeafRefusals(t *testing.T) {
	for _, c := range []struct {
		name, want string
		bad        func(*LeafSpring)
	}{
		{"seat outside", "spring seat: at station 2000.0 mm it is not between", func(d *LeafSpring) { d.Seat.X = 2000 }},
		{"eyes on one side", "not between the eyes", func(d *LeafSpring) { d.ShackleEye.X = 2500 }},
		{"no shackle", "shackle: both ends at the same point", func(d *LeafSpring) { d.ShacklePivot = d.ShackleEye }},
		{"not a number", "fixed eye: its place is not a number", func(d *LeafSpring) { d.FixedEye.Z = nan }},
		{"shackle in line", "in line with the spring", func(d *LeafSpring) {
			d.ShacklePivot = r3.Vec{X: 3900, Z: 360}
			d.ShackleEye.Z = 300
			d.FixedEye.Z = 300
			d.ShacklePivot.Z = 300
		}},
		{"sharp", "too sharp an angle", func(d *LeafSpring) { d.Seat.Z = -500 }},
		{"tiny", "halves are", func(d *LeafSpring) { d.FixedEye = r3.Vec{X: 2990, Z: 300} }},
		{"clamped", "clamped length", func(d *LeafSpring) { d.Clamped = -1 }},
		{"all clamped", "fixed eye: only", func(d *LeafSpring) { d.Clamped = 1100 }},
		{"wind-up", "wind-up: 30.0°", func(d *LeafSpring) { d.WindUp = 30 * geom.Deg }},
		{"kind", "pack of leaves or a single leaf", func(d *LeafSpring) { d.Leaves = 7 }},
		{"axle", "axle centre: its place", func(d *LeafSpring) { d.Axle.Centre.X = math.Inf(1) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := leafSpring()
			c.bad(&d)
			_, err := NewLeaf(d)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := mustLeaf(t, leafSpring()).At(nan)
	require.Error(t, err)
}

// Whatever the points, the answer is an error or finite.
func TestAnyLeafIsSafe(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.Float64Range(-700, 700)
		at := func(name string) r3.Vec {
			return r3.Vec{X: 3000 + 2*c.Draw(rt, name+" x"), Z: 300 + c.Draw(rt, name+" z")}
		}
		d := LeafSpring{
			Axle: testAxle(), FixedEye: at("fixed"), Seat: at("seat"), ShackleEye: at("eye"), ShacklePivot: at("pivot"),
			WindUp: geom.Angle(rapid.Float64Range(-8, 8).Draw(rt, "wind-up")) * geom.Deg,
		}
		l, err := NewLeaf(d)
		if err != nil {
			return
		}
		points, _ := Sweep(l, 150, 150, 13)
		for _, p := range points {
			assertRigid(rt2{t, rt}, d.Axle, p)
		}
	})
}

func BenchmarkLeafSweep41(b *testing.B) {
	l := mustLeaf(b, leafSpring())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Sweep(l, 100, 100, 41); err != nil {
			b.Fatal(err)
		}
	}
}
