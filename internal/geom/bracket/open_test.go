package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	channel100 = section.Shape{Name: "channel", Kind: section.Channel, H: 100, B: 50, T: 5, Flange: 8}
	angle50    = section.Shape{Name: "angle", Kind: section.Angle, H: 50, B: 50, T: 5}
)

// openLeg runs rearward from a square pad to a rail whose face leans by a slope to the
// side and to the top.
func openLeg(s section.Shape, side, up float64) Leg {
	return Leg{Name: "left front", Shape: s,
		Pad: Face{r3.Vec{}, r3.Vec{X: 1}}, Rail: Face{r3.Vec{X: 300}, r3.Vec{X: -1, Y: side, Z: up}}, Axis: r3.Vec{X: 1}}
}

// The tip of a channel or an angle is where there is metal: the corner that an angle
// has not makes it no longer, worked out by hand from the slope of the cut.
func TestOpenSectionsEndWhereTheirMetalDoes(t *testing.T) {
	// Seen along +X with up at the top, right is −Y: d × V = X × Z.
	rise := math.Tan(20 * math.Pi / 180)
	c, err := openLeg(angle50, -rise, rise).Cut() // farthest along at top right, where an angle has nothing
	require.NoError(t, err)
	lines := map[string]float64{"top of the upright leg": 300 + rise*(25-20), "tip of the level leg": 300 + rise*(25-20)}
	for what, want := range lines {
		assert.InDelta(t, want, c.LongPoint, 1e-9, what)
	}
	assert.InDelta(t, 300-rise*50, c.ShortPoint, 1e-9, "the heel")
	assert.InDelta(t, c.LongPoint, c.Overall, 1e-9)
	box, err := openLeg(section.Shape{Kind: section.RectTube, B: 50, H: 50, T: 5}, -rise, rise).Cut()
	require.NoError(t, err)
	assert.InDelta(t, 300+rise*50, box.LongPoint, 1e-9)

	c, err = openLeg(channel100, -rise, 0).Cut()
	require.NoError(t, err)
	assert.InDelta(t, 300+rise*25, c.LongPoint, 1e-9, "at its flange tips")
	assert.InDelta(t, 300-rise*25, c.ShortPoint, 1e-9, "at its back")
	assert.InDelta(t, c.ShortPoint, c.Sides[Left], 1e-9)
}

// Neither is laid on the saw on a side that it has not, and no weld is counted there.
func TestOpenSidesCarryNothing(t *testing.T) {
	for _, q := range []struct {
		shape section.Shape
		open  []Side
	}{{channel100, []Side{Right}}, {angle50, []Side{Top, Right}}} {
		c, err := openLeg(q.shape, 0.3, 0.2).Cut()
		require.NoError(t, err)
		assert.True(t, c.Open())
		pose, err := FacePose("", Face{c.Rail.At, r3.Scale(-1, c.Rail.Normal)}, r3.Vec{})
		require.NoError(t, err)
		edge := c.Edge(true, pose)
		for side := Bottom; side <= Right; side++ {
			has := true
			for _, o := range q.open {
				has = has && o != side
			}
			assert.Equal(t, has, c.HasSide(side), "%s %s", q.shape.Name, side)
			assert.Equal(t, !has, c.Rail.Saw[side].Steep, "%s %s", q.shape.Name, side)
			assert.Equal(t, has, len(edge.Sides[side]) > 0, "%s %s", q.shape.Name, side)
		}
		assert.True(t, c.HasSide(c.Rail.Best))
		assert.True(t, c.HasSide(c.Rail.Roll.Down))
		area := 0.0 // the pieces together are the section on a square cut
		for _, piece := range c.Pieces(false, 2) {
			for i, p := range piece {
				n := piece[(i+1)%len(piece)]
				area += math.Abs(r3.Dot(r3.Cross(r3.Sub(p, piece[0]), r3.Sub(n, piece[0])), c.Axis)) / 2
			}
		}
		assert.InDelta(t, c.Section.Area, area, 1e-6, q.shape.Name)
	}
}

// A push through the shear centre does not twist a channel, one through the middle of
// its envelope does, and one along its centroid does not bend it.
func TestOpenSectionsBendAboutTheirTrueAxes(t *testing.T) {
	c, err := openLeg(channel100, 0, 0).Cut()
	require.NoError(t, err)
	down := r3.Vec{Z: -1000}
	f, err := c.Forces(down, c.Off(r3.Vec{}, c.ShearCentre))
	require.NoError(t, err)
	assert.InDelta(t, 0, f.Torsion, 1e-6)
	assert.InDelta(t, 300e3, math.Abs(f.MomentY), 1e-6)
	f, err = c.Forces(down, r3.Vec{})
	require.NoError(t, err)
	assert.InDelta(t, 1000*math.Abs(c.ShearCentre.X), math.Abs(f.Torsion), 1e-6)
	f, err = c.Forces(r3.Vec{X: 1000}, c.Off(r3.Vec{}, c.Centroid))
	require.NoError(t, err)
	assert.InDelta(t, 0, math.Hypot(f.MomentY, f.MomentZ), 1e-6)
	assert.Less(t, geom.Between(c.U, r3.Vec{Y: -1}), 1e-9*geom.Deg)
}
