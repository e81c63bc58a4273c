package seat

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var pads = Supports{
	LeftFront:  r3.Vec{Y: -310, Z: -80},
	RightFront: r3.Vec{Y: 310, Z: -80},
	Rear:       r3.Vec{X: 1250, Z: -80},
}

// matrixAbout is a rotation built from Rodrigues' formula with plain matrices,
// a second way to the same motion that shares no code with geom.
func matrixAbout(axis r3.Vec, angle float64) *mat.Dense {
	n := math.Sqrt(axis.X*axis.X + axis.Y*axis.Y + axis.Z*axis.Z)
	x, y, z := axis.X/n, axis.Y/n, axis.Z/n
	k := mat.NewDense(3, 3, []float64{0, -z, y, z, 0, -x, -y, x, 0})
	var k2, r mat.Dense
	k2.Mul(k, k)
	k.Scale(math.Sin(angle), k)
	k2.Scale(1-math.Cos(angle), &k2)
	r.Add(mat.NewDense(3, 3, []float64{1, 0, 0, 0, 1, 0, 0, 0, 1}), k)
	r.Add(&r, &k2)
	return &r
}

func turnPoint(m *mat.Dense, about, p r3.Vec) r3.Vec {
	var out mat.VecDense
	out.MulVec(m, mat.NewVecDense(3, []float64{p.X - about.X, p.Y - about.Y, p.Z - about.Z}))
	return r3.Vec{X: about.X + out.AtVec(0), Y: about.Y + out.AtVec(1), Z: about.Z + out.AtVec(2)}
}

func assertVec(t require.TestingT, want, got r3.Vec, tol float64, msg ...any) {
	assert.InDelta(t, want.X, got.X, tol, msg...)
	assert.InDelta(t, want.Y, got.Y, tol, msg...)
	assert.InDelta(t, want.Z, got.Z, tol, msg...)
}

// A rise of 10 mm over a level run of 1250 mm is atan(10/1250) = 0.458356°.
func TestTenOverTwelveFifty(t *testing.T) {
	level := Placement{LeftFront: 300, RightFront: 300, Rear: 300}
	before, err := pads.Pose(level)
	require.NoError(t, err)
	rise := geom.SlopeOver(-10, 1250) // up to the rear
	assert.InDelta(t, -0.458356, rise.Degrees(), 5e-7)

	raised, err := pads.Solve(level, Tilt, rise.Rad())
	require.NoError(t, err)
	after, err := pads.Pose(raised)
	require.NoError(t, err)
	assert.InDelta(t, 0.458356, (before.Slope() - after.Slope()).Degrees(), 5e-7)

	// The same motion by a matrix about the line through the front supports.
	hinge := before.Point(pads.LeftFront)
	m := matrixAbout(r3.Sub(before.Point(pads.RightFront), hinge), -math.Atan2(10, 1250))
	for _, own := range []r3.Vec{pads.LeftFront, pads.RightFront, pads.Rear, {X: 1400, Z: 25}, {X: -400, Y: 50, Z: -250}} {
		assertVec(t, turnPoint(m, hinge, before.Point(own)), after.Point(own), 1e-9)
	}

	// When the supports stand 1250 mm apart in plan with the rear 10 mm high,
	// the slope is the same.
	run := pads
	run.Rear.X = math.Hypot(1250, 10)
	up := level
	up.Rear += 10
	pose, err := run.Pose(up)
	require.NoError(t, err)
	assert.InDelta(t, -0.458356, pose.Slope().Degrees(), 5e-7)

	// When the pads are 1250 mm apart on the powertrain itself, the rise is the
	// opposite side over the hypotenuse: 0.000015° more.
	pose, err = pads.Pose(up)
	require.NoError(t, err)
	assert.InDelta(t, math.Asin(10.0/1250)*180/math.Pi, -pose.Slope().Degrees(), 1e-10)
}

func drawSupports(t *rapid.T) Supports {
	w := rapid.Float64Range(200, 500)
	jig := rapid.Float64Range(-60, 60)
	return Supports{
		LeftFront:  r3.Vec{X: jig.Draw(t, "lx"), Y: -w.Draw(t, "ly"), Z: jig.Draw(t, "lz")},
		RightFront: r3.Vec{X: jig.Draw(t, "rx"), Y: w.Draw(t, "ry"), Z: jig.Draw(t, "rz")},
		Rear:       r3.Vec{X: rapid.Float64Range(700, 1600).Draw(t, "bx"), Y: jig.Draw(t, "by"), Z: jig.Draw(t, "bz")},
	}
}

func drawPlacement(t *rapid.T) Placement {
	h := rapid.Float64Range(150, 350)
	return Placement{
		LeftFront: h.Draw(t, "lf"), RightFront: h.Draw(t, "rf"), Rear: h.Draw(t, "rear"),
		Setback: rapid.Float64Range(-300, 900).Draw(t, "setback"),
		Offset:  rapid.Float64Range(-80, 80).Draw(t, "offset"),
		Heading: geom.Angle(rapid.Float64Range(-0.2, 0.2).Draw(t, "heading")),
	}
}

func TestPoseIsRigidAndReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := drawSupports(t), drawPlacement(t)
		pose, err := s.Pose(p)
		require.NoError(t, err)
		got := s.Placement(pose)
		assert.InDelta(t, p.LeftFront, got.LeftFront, 1e-9)
		assert.InDelta(t, p.RightFront, got.RightFront, 1e-9)
		assert.InDelta(t, p.Rear, got.Rear, 1e-9)
		assert.InDelta(t, p.Setback, got.Setback, 1e-9)
		assert.InDelta(t, p.Offset, got.Offset, 1e-9)
		assert.InDelta(t, p.Heading.Rad(), got.Heading.Rad(), 1e-12)

		assert.InDelta(t, 1, r3.Dot(r3.Cross(pose.X, pose.Y), pose.Z), 1e-12, "right-handed and orthonormal")
		a, b := s.LeftFront, r3.Vec{X: 1300, Y: 20, Z: 40}
		assert.InDelta(t, r3.Norm(r3.Sub(a, b)), r3.Norm(r3.Sub(pose.Point(a), pose.Point(b))), 1e-9)
		assertVec(t, b, pose.Own(pose.Point(b)), 1e-9)
	})
}

// Every row: typing what it reads changes nothing, typing another value makes
// it read that value, and the rows that do not belong to the motion stay.
func TestEveryRowSolves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, p := drawSupports(t), drawPlacement(t)
		r := Row(rapid.IntRange(0, int(rowCount)-1).Draw(t, "row"))
		v, err := s.Value(p, r)
		require.NoError(t, err)
		same, err := s.Solve(p, r, v)
		require.NoError(t, err)
		assert.InDelta(t, p.Rear, same.Rear, 1e-7)
		assert.InDelta(t, p.LeftFront, same.LeftFront, 1e-7)

		d := rapid.Float64Range(-20, 20).Draw(t, "by")
		if r == Tilt || r == Heading {
			d *= 0.002
		}
		q, err := s.Solve(p, r, v+d)
		require.NoError(t, err)
		got, err := s.Value(q, r)
		require.NoError(t, err)
		assert.InDelta(t, v+d, got, 1e-9)
		if r == Tilt {
			assert.Equal(t, [5]float64{p.LeftFront, p.RightFront, p.Setback, p.Offset, p.Heading.Rad()},
				[5]float64{q.LeftFront, q.RightFront, q.Setback, q.Offset, q.Heading.Rad()})
		}
		if r == Lift {
			before, _ := s.Pose(p)
			after, _ := s.Pose(q)
			assertVec(t, r3.Add(before.At, r3.Vec{Z: d}), after.At, 1e-9)
			assertVec(t, before.X, after.X, 1e-12)
		}
	})
}

func TestRefusesImpossibleSupports(t *testing.T) {
	line := Supports{LeftFront: r3.Vec{X: 0}, RightFront: r3.Vec{X: 500}, Rear: r3.Vec{X: 1000}}
	_, err := line.Pose(Placement{})
	assert.ErrorIs(t, err, ErrInLine)
	_, err = Supports{}.Pose(Placement{})
	assert.ErrorIs(t, err, ErrInLine)
	_, err = pads.Pose(Placement{RightFront: 900})
	assert.ErrorIs(t, err, ErrSteep)
	_, err = pads.Solve(Placement{}, Rear, 5000)
	assert.ErrorIs(t, err, ErrSteep)
	_, err = pads.Solve(Placement{}, Tilt, 85*geom.Deg.Rad())
	assert.Error(t, err)
	_, err = pads.Solve(Placement{}, Rear, math.NaN())
	assert.Error(t, err)
	_, err = pads.Solve(Placement{}, Row(99), 1)
	assert.Error(t, err)
	under := Supports{LeftFront: r3.Vec{Y: -300}, RightFront: r3.Vec{Y: 300}, Rear: r3.Vec{Z: -400}}
	_, err = under.Solve(Placement{Rear: -400}, Tilt, 3*geom.Deg.Rad())
	if err == nil {
		q, e := under.Solve(Placement{Rear: -400}, Tilt, 3*geom.Deg.Rad())
		require.NoError(t, e)
		v, e := under.Value(q, Tilt)
		require.NoError(t, e)
		assert.InDelta(t, 3*geom.Deg.Rad(), v, 1e-9)
	}
}
