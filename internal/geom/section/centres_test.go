package section

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A channel of even thickness is balanced where its rectangles say, and its shear
// centre lies e = 3b²/(h + 6b) behind the middle of its web, b and h on the middle
// lines (Gere, Mechanics of Materials, shear centres of thin walls, from memory). That
// of an angle lies where the middle lines of its legs meet.
func TestCentres(t *testing.T) {
	c, s, err := Shape{Name: "C", Kind: Channel, H: 100, B: 60, T: 5, Flange: 5}.Centres()
	require.NoError(t, err)
	assert.InDelta(t, 18.214286-30, c.X, 1e-5)
	assert.InDelta(t, 0, c.Y, 1e-9)
	b, h := 57.5, 95.0
	assert.InDelta(t, 2.5-3*b*b/(h+6*b)-30, s.X, 0.01)
	assert.InDelta(t, 0, s.Y, 1e-9)

	c, s, err = Shape{Name: "L", Kind: Angle, H: 50, B: 50, T: 5, Root: 7}.Centres()
	require.NoError(t, err)
	assert.InDelta(t, 14.0-25, c.X, 0.05, "cx 1.40 cm, section tables of equal angles")
	assert.InDelta(t, c.X, c.Y, 1e-6)
	assert.InDelta(t, 2.5-25, s.X, 0.01)
	assert.InDelta(t, 2.5-25, s.Y, 0.01)

	for _, q := range []Shape{{Kind: RectTube, B: 40, H: 60, T: 3}, {Kind: RoundTube, H: 40, T: 3}, {Kind: FlatBar, B: 6, H: 50}} {
		c, s, err := q.Centres()
		require.NoError(t, err)
		assert.Zero(t, c)
		assert.Zero(t, s)
	}
	_, _, err = Shape{Kind: Channel, H: 100}.Centres()
	require.Error(t, err)
}

// The least second moment of an angle is about its own skew axis: 1.8584 cm⁴ of the
// L 40x40x4 with its fillets.
func TestLeast(t *testing.T) {
	e, err := Find("leg", "L 40x40x4")
	require.NoError(t, err)
	p, err := e.Properties()
	require.NoError(t, err)
	assert.InDelta(t, 1.8584e4, p.Least(), 5)
	tube := Properties{Iy: 3, Iz: 2}
	assert.InDelta(t, 2, tube.Least(), 1e-12)
}
