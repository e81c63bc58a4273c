package travel

import (
	"errors"
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestLinkLengthsHoldThroughTheTravel(t *testing.T) {
	follows := parallel(t, 90)
	follows.RollFollows = true
	splayed := parallel(t, 90)
	for i := range 4 {
		splayed.Links[i].Chassis.Y *= 0.7
	}
	splayed.RollFollows = true
	rolled := triangulated(t)
	rolled.Roll = 4 * geom.Deg
	for _, c := range []struct {
		name string
		d    Links
	}{
		{"triangulated", triangulated(t)},
		{"skew", skew(t)},
		{"parallel and lateral", parallel(t, 60)},
		{"all links equal and parallel", parallel(t, 0)},
		{"roll follows", follows},
		{"splayed, roll follows", splayed},
		{"held at a roll", rolled},
	} {
		t.Run(c.name, func(t *testing.T) {
			points, err := Sweep(mustLink(t, c.d), 110, 90, 41)
			require.NoError(t, err)
			require.Len(t, points, 41)
			for _, p := range points {
				assertRigid(t, c.d.Axle, p)
				assertLengths(t, c.d.Links, p, 1e-9)
				assert.Less(t, p.Strain, 1e-9)
				if !c.d.RollFollows {
					assert.InDelta(t, c.d.Roll.Rad(), p.Motion.Roll().Rad(), 1e-12)
				}
			}
		})
	}
}

// With nothing asked for, the axle has not moved at all.
func TestRideHeightIsExact(t *testing.T) {
	for _, d := range []Links{triangulated(t), skew(t), parallel(t, 60)} {
		p, err := mustLink(t, d).At(0)
		require.NoError(t, err)
		assert.Equal(t, geom.Identity(), p.Motion)
		assert.Equal(t, d.Axle.Pinion, p.PinionAt)
		points, err := Sweep(mustLink(t, d), 90, 90, 37)
		require.NoError(t, err)
		assert.Equal(t, p, points[18])
	}
}

// A symmetrical triangulated axle moves in its own plane of symmetry, so its
// side view is a four-bar: the links keep their side-view length because their
// sideways run does not change. The four-bar is solved in closed form from the
// angle of the lower link by crossing two circles, and its rise handed to the
// linkage.
func TestAgreesWithPlanarFourBar(t *testing.T) {
	d := triangulated(t)
	l := mustLink(t, d)
	uc, ua := side(d.Links[1].Chassis), side(d.Links[1].Axle)
	lc, la := side(d.Links[3].Chassis), side(d.Links[3].Axle)
	low := la.sub(lc)
	coupler, upper := ua.sub(la), ua.sub(uc).long()
	bend := math.Copysign(1, uc.sub(la).cross(ua.sub(uc)))
	centre := side(d.Axle.Centre).sub(la)
	for i := -12; i <= 12; i++ {
		s, c := math.Sincos(float64(i) * 0.8 * math.Pi / 180)
		la2 := lc.add(low.turn(s, c))
		ua2, ok := meet(la2, coupler.long(), uc, upper, bend)
		require.True(t, ok)
		now := ua2.sub(la2)
		slope := -math.Atan2(coupler.cross(now), coupler.dot(now))
		s, c = math.Sincos(slope)
		at := la2.add(centre.turn(s, c))

		p, err := l.At(at.z - d.Axle.Centre.Z)
		require.NoError(t, err)
		assert.InDelta(t, at.x, p.Centre.X, 1e-9)
		assert.InDelta(t, 0, p.Centre.Y, 1e-9)
		assert.InDelta(t, slope, p.Motion.Slope().Rad(), 1e-12)
		assert.InDelta(t, 0, p.Motion.Heading().Rad(), 1e-12)
		assertVec(t, r3.Vec{X: la2.x, Y: 420, Z: la2.z}, p.Motion.Point(d.Links[3].Axle), 1e-9, "lower joint")
	}
}

// Equal parallel links carry the axle without turning it; with the lateral
// link level at ride, its axle end moves on a circle in the plane across.
func TestEqualParallelLinksDoNotTurnThePinion(t *testing.T) {
	d := parallel(t, 0)
	d.Links[4].Chassis.Z = d.Links[4].Axle.Z
	lat := r3.Norm(r3.Sub(d.Links[4].Chassis, d.Links[4].Axle))
	points, err := Sweep(mustLink(t, d), 120, 120, 25)
	require.NoError(t, err)
	for _, p := range points {
		assert.InDelta(t, 0, p.Motion.Slope().Rad(), 1e-12)
		assert.InDelta(t, 0, p.Motion.Heading().Rad(), 1e-12)
		assert.InDelta(t, 5, deg(geom.Slope(p.PinionAxis)), 1e-9)
		// Two spheres: dy from the lateral link, then dx from the long ones.
		dx, dy := p.Centre.X-d.Axle.Centre.X, p.Centre.Y-d.Axle.Centre.Y
		assert.InDelta(t, 650*650, (650+dx)*(650+dx)+dy*dy+p.Rise*p.Rise, 1e-6)
		assert.InDelta(t, lat*lat, dx*dx+(lat-dy)*(lat-dy)+p.Rise*p.Rise, 1e-6)
	}
}

func TestMirroredLinkageTakesTheMirroredPath(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := triangulated(t)
		jog := rapid.Float64Range(-25, 25)
		for i := range d.Links {
			k := &d.Links[i]
			k.Axle = r3.Add(k.Axle, r3.Vec{X: jog.Draw(rt, "x"), Y: jog.Draw(rt, "y"), Z: jog.Draw(rt, "z")})
		}
		d.Axle.Centre.Y = jog.Draw(rt, "centre")
		d.Roll = geom.Angle(rapid.Float64Range(-3, 3).Draw(rt, "roll")) * geom.Deg
		m := Links{Axle: d.Axle, Roll: -d.Roll}
		m.Axle.Centre, m.Axle.Pinion = mirror(d.Axle.Centre), mirror(d.Axle.Pinion)
		for _, k := range d.Links {
			m.Links = append(m.Links, Link{k.Name, mirror(k.Chassis), mirror(k.Axle)})
		}
		rise := rapid.Float64Range(-80, 80).Draw(rt, "rise")
		a, err := mustLink(t, d).At(rise)
		require.NoError(t, err)
		b, err := mustLink(t, m).At(rise)
		require.NoError(t, err)
		assertVec(t, mirror(a.Centre), b.Centre, 1e-8, "centre")
		assertVec(t, mirror(a.PinionAt), b.PinionAt, 1e-8, "pinion")
		assertVec(t, mirror(a.PinionAxis), b.PinionAxis, 1e-10, "pinion axis")
		assertLengths(t, d.Links, a, 1e-9)
	})
}

// A sweep carries on from the last point; At starts at ride height each time.
func TestSweepAgreesWithAt(t *testing.T) {
	l := mustLink(t, skew(t))
	points, err := Sweep(l, 100, 70, 18)
	require.NoError(t, err)
	for _, p := range points {
		q, err := l.At(p.Rise)
		require.NoError(t, err)
		assertVec(t, q.Centre, p.Centre, 1e-8, "centre")
		assertVec(t, q.PinionAxis, p.PinionAxis, 1e-10, "axis")
	}
}

// A rise that is next to nothing is as good as any other.
func TestTinyRise(t *testing.T) {
	d := triangulated(t)
	d.Roll = 1.4 * geom.Deg
	l := mustLink(t, d)
	level, err := l.At(0)
	require.NoError(t, err)
	for _, rise := range []float64{5e-324, 1e-39, -1e-12, 1e-5} {
		p, err := l.At(rise)
		require.NoError(t, err)
		assertVec(t, level.Centre, p.Centre, 2e-5, "centre")
	}
	tr := l.track()
	for _, rise := range []float64{1e-39, 1e-30, 1e-6, 30} {
		_, err = tr.to(rise)
		require.NoError(t, err)
	}
}

// The derivative of the lengths against central differences, and the sign of
// its determinant by another factoring.
func TestDerivativeAndSign(t *testing.T) {
	d := parallel(t, 90)
	d.RollFollows = true
	l := mustLink(t, d)
	s := newSolver(l)
	q := coords{3, -7, 11, -5, 9}
	s.stand(q, 40, 0)
	jac := append([]float64(nil), s.jac...)
	sign := s.factor()
	det, wantSign := mat.LogDet(mat.NewDense(5, 5, append([]float64(nil), jac...)))
	assert.Equal(t, wantSign, sign)
	assert.False(t, math.IsInf(det, 0))
	for k := range 5 {
		const h = 1e-3
		hi, lo := q, q
		hi[k] += h
		lo[k] -= h
		s.stand(hi, 40, 0)
		up := append([]float64(nil), s.left...)
		s.stand(lo, 40, 0)
		for i := range 5 {
			assert.InDelta(t, (up[i]-s.left[i])/(2*h), jac[i*5+k], 1e-7)
		}
	}
}

// Links that are level and equal in side view carry the axle without turning
// it on a circle of their side-view length, up to where they stand upright.
func TestBindIsFoundWhereTheLinksEnd(t *testing.T) {
	ul, ur := pair(r3.Vec{X: 2480, Y: 430, Z: 470}, r3.Vec{X: 2970, Y: 120, Z: 470})
	ll, lr := pair(r3.Vec{X: 2480, Y: 120, Z: 260}, r3.Vec{X: 2970, Y: 430, Z: 260})
	l := mustLink(t, Links{Axle: testAxle(), Links: named(ul, ur, ll, lr)})
	p, err := l.At(480)
	require.NoError(t, err)
	assert.InDelta(t, 2480+math.Sqrt(490*490-480*480), p.Motion.Point(ll.Axle).X, 1e-8)
	for _, way := range []float64{1, -1} {
		_, err = l.At(way * 600)
		var bind *BindError
		require.ErrorAs(t, err, &bind)
		assert.InDelta(t, way*490, bind.Rise, 0.011)
		assert.LessOrEqual(t, math.Abs(bind.Rise), 490.0)
	}
	points, err := Sweep(l, 100, 600, 71)
	require.Error(t, err)
	require.NotEmpty(t, points)
	assert.Equal(t, -100.0, points[0].Rise)
	assert.InDelta(t, 490, points[len(points)-1].Rise, 10.001)
	assert.Contains(t, err.Error(), "of bump")
}

// The five lengths of splayed links and a lateral link do not agree at no
// roll: rigid they bind, with some give they strain, and letting the roll
// follow takes the strain away.
func TestSplayedLinksWithALateralLink(t *testing.T) {
	d := parallel(t, 90)
	for i := range 4 {
		d.Links[i].Chassis.Y *= 0.6
	}
	l := mustLink(t, d)
	_, err := l.At(80)
	var bind *BindError
	require.ErrorAs(t, err, &bind)
	assert.Contains(t, err.Error(), "give in their bushes")
	assert.Less(t, bind.Rise, 80.0)

	d.Give = 3
	p, err := mustLink(t, d).At(80)
	require.NoError(t, err)
	assert.Greater(t, p.Strain, 1e-6)
	assert.Less(t, p.Strain, 3.0)
	assert.InDelta(t, 0, p.Motion.Roll().Rad(), 1e-12)

	d.Give, d.RollFollows = 0, true
	q, err := mustLink(t, d).At(80)
	require.NoError(t, err)
	assert.Less(t, q.Strain, 1e-9)
	assert.NotZero(t, q.Motion.Roll())
	assert.InDelta(t, q.Centre.X, p.Centre.X, 3)
}

// Where links lie fore and aft, holding the roll at nothing and letting it
// follow are the same.
func TestRollThatFollowsStaysLevelOnSymmetricalLinks(t *testing.T) {
	d := parallel(t, 90)
	held, err := mustLink(t, d).At(70)
	require.NoError(t, err)
	d.RollFollows = true
	free, err := mustLink(t, d).At(70)
	require.NoError(t, err)
	assert.InDelta(t, 0, free.Motion.Roll().Rad(), 1e-10)
	assertVec(t, held.PinionAt, free.PinionAt, 1e-8, "pinion")
}

func TestLinkageRefusals(t *testing.T) {
	with := func(f func(*Links)) Links { d := triangulated(t); f(&d); return d }
	flatPlan := parallel(t, 60)
	flatPlan.Links = flatPlan.Links[:4]
	level := parallel(t, 0)
	level.RollFollows = true
	for _, c := range []struct {
		name, want string
		d          Links
	}{
		{"short link", "upper left link: both ends at the same point", with(func(d *Links) { d.Links[0].Axle = d.Links[0].Chassis })},
		{"not a number", "lower right link, axle end: its place is not a number", with(func(d *Links) { d.Links[3].Axle.Z = nan })},
		{"metres away", "lower left link, chassis end: its place", with(func(d *Links) { d.Links[2].Chassis.X = 1e9 })},
		{"twice the same", "upper right link: it lies exactly where upper left link lies", with(func(d *Links) { d.Links[1].Chassis, d.Links[1].Axle = d.Links[0].Chassis, d.Links[0].Axle })},
		{"three links", "3 links are given", with(func(d *Links) { d.Links = d.Links[:3] })},
		{"unnamed", "link 2: both ends", with(func(d *Links) { d.Links[1] = Link{} })},
		{"roll open", "four links leave the roll open", with(func(d *Links) { d.RollFollows = true })},
		{"roll too far", "takes less than 45°", with(func(d *Links) { d.Roll = 1 })},
		{"give", "give of -1 mm", with(func(d *Links) { d.Give = -1 })},
		{"pinion backwards", "pinion axis: give it pointing to the rear", with(func(d *Links) { d.Axle.PinionAxis.X = -1 })},
		{"pinion axis", "pinion axis: it has no length", with(func(d *Links) { d.Axle.PinionAxis = r3.Vec{} })},
		{"no lateral link", "free to move sideways", flatPlan},
		{"all parallel, roll follows", "too nearly parallel to fix the roll", level},
		{"all in one plane", "free to turn its pinion", with(func(d *Links) {
			for i := range d.Links {
				d.Links[i].Chassis.Z, d.Links[i].Axle.Z = 350, 350
			}
		})},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := NewLinkage(c.d)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := mustLink(t, triangulated(t)).At(nan)
	require.ErrorContains(t, err, "not a number")
	_, err = mustLink(t, triangulated(t)).At(math.Inf(1))
	require.Error(t, err)
}

// A roll that rigid, splayed links cannot take says so at once.
func TestRollThatBinds(t *testing.T) {
	d := parallel(t, 250)
	d.Roll = 8 * geom.Deg
	_, err := NewLinkage(d)
	var bind *BindError
	require.True(t, errors.As(err, &bind))
	assert.Zero(t, bind.Rise)
	assert.Less(t, bind.Roll, d.Roll)
}

// Whatever the points, the answer is an error or finite and of right length.
func TestAnyLinksAreSafe(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		at := rapid.Custom(func(rt *rapid.T) r3.Vec {
			c := rapid.Float64Range(-800, 800)
			return r3.Vec{X: 3000 + c.Draw(rt, "x"), Y: c.Draw(rt, "y"), Z: 400 + c.Draw(rt, "z")}
		})
		d := Links{Axle: testAxle(), RollFollows: rapid.Bool().Draw(rt, "follows")}
		for range rapid.IntRange(4, 5).Draw(rt, "links") {
			d.Links = append(d.Links, Link{"", at.Draw(rt, "chassis"), at.Draw(rt, "axle")})
		}
		l, err := NewLinkage(d)
		if err != nil {
			return
		}
		points, _ := Sweep(l, 150, 150, 13)
		for _, p := range points {
			assertLengths(rt2{t, rt}, d.Links, p, 1e-9)
			assertRigid(rt2{t, rt}, d.Axle, p)
		}
	})
}

// rt2 lets the helpers fail the property rather than the test.
type rt2 struct {
	testing.TB
	rt *rapid.T
}

func (r rt2) Errorf(f string, a ...any) { r.rt.Errorf(f, a...) }
func (r rt2) Helper()                   {}

func BenchmarkFourLinkSweep41(b *testing.B) {
	l := mustLink(b, skew(b))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Sweep(l, 100, 100, 41); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFiveLinkSweep41(b *testing.B) {
	l := mustLink(b, parallel(b, 60))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Sweep(l, 100, 100, 41); err != nil {
			b.Fatal(err)
		}
	}
}
