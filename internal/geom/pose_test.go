package geom

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// ISO 8855 order, R = Rz(yaw)·Ry(pitch)·Rx(roll), yaw 30°, pitch 10°, roll 5°,
// as the matrix is printed for that standard's z-y'-x" sequence. The matrix
// does not depend on which way the axes point on the vehicle.
func TestOrientIsTheStandardSequence(t *testing.T) {
	p := Orient(10*Deg, 30*Deg, 5*Deg, r3.Vec{})
	rows := [3][3]float64{
		{0.85286853, -0.48499054, 0.19338935},
		{0.49240388, 0.87029713, 0.01101461},
		{-0.17364818, 0.08583165, 0.98106026},
	}
	got := [3][3]float64{{p.X.X, p.Y.X, p.Z.X}, {p.X.Y, p.Y.Y, p.Z.Y}, {p.X.Z, p.Y.Z, p.Z.Z}}
	for i := range rows {
		for j := range rows[i] {
			assert.InDelta(t, rows[i][j], got[i][j], 1e-8)
		}
	}
	assert.InDelta(t, 10, p.Slope().Degrees(), 1e-12)
	assert.InDelta(t, 30, p.Heading().Degrees(), 1e-12)
	assert.InDelta(t, 5, p.Roll().Degrees(), 1e-12)

	// Rz(2)·Ry(-3) e_x
	d := Direction(-3*Deg, 2*Deg)
	assert.InDelta(t, 0.9980212, d.X, 1e-7)
	assert.InDelta(t, 0.03485167, d.Y, 1e-8)
	assert.InDelta(t, 0.05233596, d.Z, 1e-8)
}

// Two ways to one rotation: Orient against three turns about fixed axes.
func TestOrientAgainstTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-1.2, 1.2)
		s, h, r := Angle(a.Draw(t, "slope")), Angle(a.Draw(t, "heading")), Angle(a.Draw(t, "roll"))
		p := Identity()
		for _, turn := range []struct {
			axis r3.Vec
			a    Angle
		}{{r3.Vec{X: 1}, r}, {r3.Vec{Y: 1}, s}, {r3.Vec{Z: 1}, h}} {
			m, err := Turn(r3.Vec{}, turn.axis, turn.a)
			require.NoError(t, err)
			p = p.Then(m)
		}
		want := Orient(s, h, r, r3.Vec{})
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want.X, p.X)), 1e-12)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want.Y, p.Y)), 1e-12)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want.Z, p.Z)), 1e-12)
	})
}

func TestTurnKeepsItsLine(t *testing.T) {
	on := r3.Vec{X: 100, Y: -20, Z: 300}
	m, err := Turn(on, r3.Vec{Y: 1}, 10*Deg)
	require.NoError(t, err)
	got := m.Point(r3.Add(on, r3.Vec{Y: 55}))
	assert.InDelta(t, 0, r3.Norm(r3.Sub(got, r3.Add(on, r3.Vec{Y: 55}))), 1e-9)
	_, err = Turn(on, r3.Vec{}, 1)
	assert.ErrorIs(t, err, ErrNoDirection)
}

func TestSlopeOver(t *testing.T) {
	assert.InDelta(t, 0.458356, SlopeOver(10, 1250).Degrees(), 5e-7)
}

func TestBetweenNearZeroAndHalfTurn(t *testing.T) {
	u := r3.Vec{X: 1}
	v := Direction(1e-9, 0)
	assert.InDelta(t, 1e-9, Between(u, v).Rad(), 1e-18)
	assert.InDelta(t, math.Pi, Between(u, r3.Vec{X: -3}).Rad(), 1e-15)
}

func TestUnitAndFinite(t *testing.T) {
	_, err := Unit(r3.Vec{})
	assert.ErrorIs(t, err, ErrNoDirection)
	_, err = Unit(r3.Vec{X: math.Inf(1)})
	assert.ErrorIs(t, err, ErrNoDirection)
	assert.False(t, Finite(1, math.NaN()))
	assert.True(t, Finite(1, 2))
	assert.False(t, Near(math.NaN(), 0, 1))
}
