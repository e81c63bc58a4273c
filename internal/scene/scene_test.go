package scene

import (
	"math"
	"strconv"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func sceneOf(t *testing.T, text []byte) (*assess.Assessment, *Scene) {
	t.Helper()
	f, err := project.Parse("test.toml", text)
	require.NoError(t, err)
	a := assess.Run(f.Build)
	return a, Of(a)
}

func count(s *Scene, r Role) int {
	n := 0
	for _, st := range s.Parts {
		if st.Role == r {
			n++
		}
	}
	return n
}

func partCalled(t *testing.T, s *Scene, name string) Part {
	t.Helper()
	for _, p := range s.Parts {
		if p.Name == name {
			return p
		}
	}
	require.Fail(t, "no part", name)
	return Part{}
}

// Rails and wheels stand in the file, so they are drawn before a powertrain is.
func TestStarterHasRailsAndNoPowertrain(t *testing.T) {
	a, s := sceneOf(t, starter.New())
	require.False(t, a.Pose.Known)
	assert.Zero(t, count(s, RoleLeg))
	assert.Zero(t, count(s, RoleShaft))
	assert.Empty(t, s.Marks)
}

func TestDemoIsDrawnWhereItStands(t *testing.T) {
	a, s := sceneOf(t, starter.Demo())
	rails := a.Build.Rails
	require.NotEmpty(t, s.Parts)
	points := assess.RailPoints(rails.Left)
	assert.Equal(t, points[0], s.Parts[0].Solid.Points[0], "the inner top edge first")
	assert.Equal(t, points[1], s.Parts[0].Solid.Points[4])

	joints := map[string]Mark{}
	for _, m := range s.Marks {
		if m.Role == RoleJoint {
			joints[m.Label] = m
		}
	}
	for _, j := range a.Lines[0].Joints {
		m := joints["J"+string(rune('0'+j.Number))]
		assert.Equal(t, j.At.V, m.At)
		want, status := a.JointAt(&a.Lines[0], j)
		assert.Equal(t, want, m.Angle)
		assert.Equal(t, status, m.Status)
	}
	pads := a.Build.Powertrain.Pads
	assert.Contains(t, s.Marks, Mark{ID: "mount.rear", Role: RolePad, At: a.Pose.V.Point(pads.Rear.At), Label: "rear mount"})
	for i, part := range a.Build.Powertrain.Parts {
		p := partCalled(t, s, part.Name)
		assert.Equal(t, "part."+strconv.Itoa(i), p.ID)
		for _, q := range p.Solid.Points { // back in its own frame it is the box of the file
			own := a.Pose.V.Own(q)
			assert.InDelta(t, 0, min(math.Abs(own.X-part.From.At.X), math.Abs(own.X-part.To.At.X)), 1e-9)
			assert.InDelta(t, 0, min(math.Abs(own.Z-part.From.At.Z), math.Abs(own.Z-part.To.At.Z)), 1e-9)
		}
	}
	assert.InDelta(t, -630, s.Ground.V, 1e-9, "half a tyre of 740 mm under axles at -260")
	assert.Equal(t, 4*2+2, count(s, RoleWheel), "tyre and rim of four wheels, and two axle lines")
}

// A half shaft is drawn from its inner to its outer joint at ride height.
func TestHalfShaftsAreDrawn(t *testing.T) {
	_, s := sceneOf(t, []byte(transaxleText))
	var shafts [][]r3.Vec
	for _, st := range s.Parts {
		if st.Role == RoleShaft {
			shafts = append(shafts, st.Line)
		}
	}
	require.Len(t, shafts, 1)
	// The powertrain stands at (-60, 0, 10), level.
	assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: 10, Y: -130, Z: -30}, shafts[0][0])), 1e-9)
	assert.Equal(t, r3.Vec{X: 25, Y: -690, Z: -95}, shafts[0][1])
}

// transaxleText is an engine across with a half shaft, made up for this test:
// own frame level, front pads 700 mm apart, the rear pad 400 mm behind.
const transaxleText = `
format = 2
[powertrain]
layout = "transaxle"
[powertrain.pads]
left_front = [0, -350, 0]
right_front = [0, 350, 0]
rear = [400, 0, -50]
[placement]
left_front = 10
right_front = 10
rear = -40
setback = -60
offset = "0 mm"
[line.front]
toward = "front"
[line.front.suspension]
kind = "fixed"
bump = 70
droop = 80
[[line.front.suspension.half_shaft]]
name = "left"
output = [70, -130, -40]
outer = [25, -690, -95]
pivot_a = [-120, -330, -130]
pivot_b = [190, -330, -130]
ball = [20, -700, -170]
`
