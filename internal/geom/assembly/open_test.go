package assembly

import (
	"math"
	"testing"

	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// An arm of channel with its load over the shear centre bends and does not twist: what
// it sinks is F l³/3EI and F l/(G A) of its web. With the load over the middle of its
// flanges it turns by T l/(G It) besides, away from its back.
func TestChannelArmIsTwistedAboutItsShearCentre(t *testing.T) {
	s := site(0)
	arm, err := LevelArm(s, stock(t, "PFC 100x50x10"), 50, inward)
	require.NoError(t, err)
	got := solve(t, s, Arm, arm)
	f := framed(t, &got)
	c := &got.Parts[0].Cut
	force, l := r3.Vec{Z: -3000}, got.PerchAlong
	true0 := c.Off(s.Pad.Point, c.ShearCentre)
	true0.Z = s.Pad.Point.Z
	for _, k := range []struct {
		at   r3.Vec
		turn float64
	}{{true0, 0}, {s.Pad.Point, 3000 * math.Abs(c.ShearCentre.X) * l / (section.SteelG * c.Section.It)}} {
		r, err := f.Under(force, k.at)
		require.NoError(t, err)
		assert.InDelta(t, k.turn, math.Abs(r3.Dot(r.Nodes[0].Turn, c.Axis)), 1e-6+k.turn*1e-6)
		worst, _, err := f.Stress(r, 0)
		require.NoError(t, err)
		assert.InEpsilon(t, 3000*l/c.Section.Wy, math.Abs(worst.BendY), 0.005)
		_, foot := f.AtEnd(r, 0, 0)
		assert.InDelta(t, 0, r3.Norm(r3.Add(foot.Force, force)), 1e-6)
	}
}

// The open side of a channel carries nothing: neither a plate nor a rail nor a member.
func TestNothingStandsOnAnOpenSide(t *testing.T) {
	s := site(0)
	members, err := BracedArm(s, stock(t, "PFC 125x65x15"), stock(t, "L 50x50x5"), 50, 150, 150, inward)
	require.NoError(t, err)
	_, err = (Assembly{Name: "left front", Members: members, Pad: s.Pad.Point, Perch: Arm}).Solve()
	require.NoError(t, err)
	members[0].Roll = 90 * (math.Pi / 180)
	_, err = (Assembly{Name: "left front", Members: members, Pad: s.Pad.Point}).Solve()
	require.ErrorContains(t, err, "open on its right side")
}
