package shaft

import (
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Compound cases, derived from first principles: the axis vectors and the
// angles were computed by two independent methods.
func TestCompoundAngles(t *testing.T) {
	three := r3.Vec{X: 0.998629535, Z: -0.052335956} // 3° down to the rear
	for _, c := range []struct {
		name string
		line Line
		want []float64
	}{
		{"parallel ends, offset pinion", Line{
			In:     three,
			Joints: []r3.Vec{{X: 1500, Z: 350}, {X: 2700, Y: -60, Z: 270}},
			Out:    three,
		}, []float64{2.969737, 2.969737}},
		{"pinion turned too", Line{
			In:     three,
			Joints: []r3.Vec{{X: 1500, Z: 350}, {X: 2700, Y: -60, Z: 270}},
			Out:    r3.Vec{X: 0.999619261, Y: 0.008723545, Z: -0.026176948},
		}, []float64{2.969737, 4.075902}},
		{"two-piece", Line{
			In:     geom.Direction(2.5*geom.Deg, 0),
			Joints: []r3.Vec{{X: 1450, Z: 380}, {X: 2350, Z: 345}, {X: 3300, Y: -45, Z: 250}},
			Out:    geom.Direction(2*geom.Deg, 0),
		}, []float64{0.272953, 4.405481, 4.586988}},
	} {
		t.Run(c.name, func(t *testing.T) {
			axes, err := c.line.Axes()
			require.NoError(t, err)
			got, err := Angles(axes)
			require.NoError(t, err)
			require.Len(t, got, len(c.want))
			for i := range got {
				assert.InDelta(t, c.want[i], got[i].Degrees(), 1e-6)
			}
		})
	}
}

func TestRefusesWhatCannotTurn(t *testing.T) {
	for _, c := range []struct {
		name  string
		line  Line
		joint int
		want  error
	}{
		{"centres coincide", Line{In: r3.Vec{X: 1}, Joints: []r3.Vec{{X: 5}, {X: 5}}, Out: r3.Vec{X: 1}}, 2, ErrShort},
		{"right angle", Line{In: r3.Vec{X: 1}, Joints: []r3.Vec{{}, {Y: 500}}, Out: r3.Vec{X: 1}}, 1, ErrSquare},
		{"turned back", Line{In: r3.Vec{X: 1}, Joints: []r3.Vec{{}, {X: 500}}, Out: r3.Vec{X: -1}}, 2, ErrSquare},
		{"no first axis", Line{Joints: []r3.Vec{{}, {X: 500}}, Out: r3.Vec{X: 1}}, 1, ErrNoEnd},
		{"no last axis", Line{In: r3.Vec{X: 1}, Joints: []r3.Vec{{}, {X: 500}}}, 2, ErrNoEnd},
	} {
		t.Run(c.name, func(t *testing.T) {
			axes, err := c.line.Axes()
			if err == nil {
				_, err = Angles(axes)
			}
			var je *JointError
			require.ErrorAs(t, err, &je)
			assert.Equal(t, c.joint, je.Joint)
			assert.ErrorIs(t, err, c.want)
		})
	}
	_, err := Line{}.Axes()
	assert.Error(t, err)
	_, err = Angles(nil)
	assert.Error(t, err)
}

// The analytic sensitivity against a central difference.
func TestSensitivity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.Float64Range(-30, 30)
		s1, h1 := geom.Angle(deg.Draw(t, "s1"))*geom.Deg, geom.Angle(deg.Draw(t, "h1"))*geom.Deg
		s2, h2 := geom.Angle(deg.Draw(t, "s2"))*geom.Deg, geom.Angle(deg.Draw(t, "h2"))*geom.Deg
		u, v := geom.Direction(s1, h1), geom.Direction(s2, h2)
		if geom.Between(u, v) < 0.1*geom.Deg {
			t.Skip("the angle has a corner at zero")
		}
		const d = 1e-6
		a, b := Sensitivity(u, v)
		da := geom.Between(geom.Direction(s1+d, h1), v) - geom.Between(geom.Direction(s1-d, h1), v)
		db := geom.Between(u, geom.Direction(s2+d, h2)) - geom.Between(u, geom.Direction(s2-d, h2))
		assert.InDelta(t, da.Rad()/(2*d), a, 1e-5)
		assert.InDelta(t, db.Rad()/(2*d), b, 1e-5)
	})
}

func TestSensitivityOfStraightJoint(t *testing.T) {
	u := geom.Direction(3*geom.Deg, 0)
	a, b := Sensitivity(u, u)
	assert.Equal(t, 1.0, a)
	assert.Equal(t, -1.0, b)
}
