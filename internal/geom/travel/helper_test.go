package travel

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// testAxle stands at station 3000 with its pinion 5° up to the front.
func testAxle() Axle {
	return Axle{
		Centre:     r3.Vec{X: 3000, Z: 350},
		Pinion:     r3.Vec{X: 2720, Y: -30, Z: 375},
		PinionAxis: geom.Direction(5*geom.Deg, 0),
	}
}

func pair(chassis, axle r3.Vec) (left, right Link) {
	right = Link{Chassis: chassis, Axle: axle}
	chassis.Y, axle.Y = -chassis.Y, -axle.Y
	return Link{Chassis: chassis, Axle: axle}, right
}

// named names links in the order upper, lower, lateral, left before right.
func named(links ...Link) []Link {
	for i, name := range []string{"upper left link", "upper right link", "lower left link", "lower right link", "lateral link"}[:len(links)] {
		links[i].Name = name
	}
	return links
}

// triangulated is symmetrical: lower links fore and aft, upper ones meeting
// towards the axle.
func triangulated(t testing.TB) Links {
	ul, ur := pair(r3.Vec{X: 2480, Y: 430, Z: 470}, r3.Vec{X: 2970, Y: 120, Z: 500})
	ll, lr := pair(r3.Vec{X: 2300, Y: 420, Z: 320}, r3.Vec{X: 2960, Y: 420, Z: 260})
	return Links{Axle: testAxle(), Links: named(ul, ur, ll, lr)}
}

// parallel has four links fore and aft in plan and a lateral link; the upper
// ones fall by upperFall from chassis to axle more than the lower ones.
func parallel(t testing.TB, upperFall float64) Links {
	ul, ur := pair(r3.Vec{X: 2300, Y: 430, Z: 480 + upperFall}, r3.Vec{X: 2950, Y: 430, Z: 480})
	ll, lr := pair(r3.Vec{X: 2300, Y: 430, Z: 260}, r3.Vec{X: 2950, Y: 430, Z: 260})
	lateral := Link{Chassis: r3.Vec{X: 3100, Y: 450, Z: 420}, Axle: r3.Vec{X: 3100, Y: -430, Z: 400}}
	return Links{Axle: testAxle(), Links: named(ul, ur, ll, lr, lateral)}
}

// skew has nothing symmetrical about it.
func skew(t testing.TB) Links {
	d := triangulated(t)
	d.Links[0].Chassis = r3.Add(d.Links[0].Chassis, r3.Vec{X: 30, Y: -12, Z: 25})
	d.Links[1].Axle = r3.Add(d.Links[1].Axle, r3.Vec{X: -18, Y: 40, Z: 12})
	d.Links[2].Chassis = r3.Add(d.Links[2].Chassis, r3.Vec{X: -41, Y: 17, Z: -9})
	d.Axle.Centre.Y = 8
	return d
}

func mustLink(t testing.TB, d Links) *Linkage {
	l, err := NewLinkage(d)
	require.NoError(t, err)
	return l
}

func assertVec(t testing.TB, want, got r3.Vec, tol float64, what string) {
	t.Helper()
	assert.InDelta(t, want.X, got.X, tol, what+" X")
	assert.InDelta(t, want.Y, got.Y, tol, what+" Y")
	assert.InDelta(t, want.Z, got.Z, tol, what+" Z")
}

// assertLengths checks that every link has kept its length.
func assertLengths(t testing.TB, links []Link, p Point, tol float64) {
	t.Helper()
	for _, k := range links {
		was := r3.Norm(r3.Sub(k.Axle, k.Chassis))
		is := r3.Norm(r3.Sub(p.Motion.Point(k.Axle), k.Chassis))
		assert.InDelta(t, was, is, tol, "%s at %.1f", k.Name, p.Rise)
	}
}

// assertRigid checks that the motion turns without bending and puts the axle
// centre where it was asked.
func assertRigid(t testing.TB, axle Axle, p Point) {
	t.Helper()
	m := p.Motion
	assert.InDelta(t, 1, r3.Norm(m.X), 1e-12)
	assert.InDelta(t, 1, r3.Norm(m.Y), 1e-12)
	assert.InDelta(t, 0, r3.Dot(m.X, m.Y), 1e-12)
	assertVec(t, m.Z, r3.Cross(m.X, m.Y), 1e-12, "third axis")
	assert.InDelta(t, axle.Centre.Z+p.Rise, p.Centre.Z, 1e-9)
	assertVec(t, m.Point(axle.Centre), p.Centre, 1e-9, "centre")
	assertVec(t, m.Point(axle.Pinion), p.PinionAt, 1e-9, "pinion")
	assert.InDelta(t, 1, r3.Norm(p.PinionAxis), 1e-12)
}

func mirror(v r3.Vec) r3.Vec { v.Y = -v.Y; return v }

func deg(a geom.Angle) float64 { return a.Degrees() }

var nan = math.NaN()
