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

// How an axis turns with its slope and its heading, against central differences.
func TestTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.Float64Range(-80, 80)
		s, h := geom.Angle(deg.Draw(t, "slope"))*geom.Deg, geom.Angle(deg.Draw(t, "heading"))*geom.Deg
		const d = 1e-6
		over := func(up, down r3.Vec) r3.Vec { return r3.Scale(1/(2*d), r3.Sub(up, down)) }
		at := geom.Direction(s, h)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(over(geom.Direction(s+d, h), geom.Direction(s-d, h)), TurnDown(at))), 1e-8)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(over(geom.Direction(s, h+d), geom.Direction(s, h-d)), TurnRight(at))), 1e-8)
	})
}
