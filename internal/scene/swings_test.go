package scene

import (
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/scene/view"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// fourRubbers is a block on four equal mounts in the plane of its centre of mass, whose six
// ways stand apart; invented.
const fourRubbers = `format = 3
[powertrain]
mass = 200
centre_of_mass = [400, 0, 0]
output = [900, 0, 0]
[powertrain.pads]
left_front = [0, -250, 0]
right_front = [0, 250, 0]
rear = [800, 0, 0]
[[powertrain.part]]
name = "block"
from = [0, -200, -150]
to = [800, 200, 150]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
[powertrain.inertia]
roll = 8
pitch = 20
yaw = 18
[mount.left_front]
rate_up = 200
rate_across = 100
rate_along = 80
[mount.right_front]
rate_up = 200
rate_across = 100
rate_along = 80
[mount.rear]
fit_up_only = true
[mount.left_rear]
at = [800, -250, 0]
rate_up = 200
rate_across = 100
rate_along = 80
[mount.right_rear]
at = [800, 250, 0]
rate_up = 200
rate_across = 100
rate_along = 80
`

func swung(t *testing.T) (*assess.Assessment, *Scene) {
	t.Helper()
	f, err := project.Parse("swung.toml", []byte(fourRubbers))
	require.NoError(t, err)
	a := assess.Run(f.Build)
	require.Empty(t, a.Shaking.Why)
	return a, Of(a)
}

// Each way is drawn as its words have it: bounce as a shift up and down, roll as a turn
// about the line along the vehicle through the centre, alike to both sides; most is seen of
// it from where it is looked at.
func TestSwingsAreDrawnAsTheirWordsHaveThem(t *testing.T) {
	a, s := swung(t)
	require.Len(t, s.Swings, 6)
	centre := r3.Vec{X: 400}
	looked := map[string]view.View{"bounce": view.FromLeft, "roll about the crank": view.FromBehind, "yaw": view.FromAbove, "pitch": view.FromLeft, "sideways": view.FromBehind, "fore and aft": view.FromLeft}
	way := map[string]r3.Vec{"bounce": {Z: 1}, "sideways": {Y: 1}, "fore and aft": {X: 1}, "roll about the crank": {X: 1}, "yaw": {Z: 1}, "pitch": {Y: 1}}
	seen := map[string]bool{}
	for i := range s.Swings {
		x := &s.Swings[i]
		name, ends := a.Shaking.Modes[x.Mode].Main(), s.SwingEnds(i)
		seen[name] = true
		assert.True(t, strings.HasPrefix(x.Name, name), x.Name)
		assert.Contains(t, x.Name, "Hz")
		assert.Equal(t, looked[name], s.SwingView(i), name)
		most := 0.0
		for k, p := range s.SwingRest()[0].Points {
			up, down := r3.Sub(ends[0][0].Points[k], p), r3.Sub(ends[1][0].Points[k], p)
			most = max(most, r3.Norm(up))
			if name == "bounce" || name == "sideways" || name == "fore and aft" {
				assert.InDelta(t, 0, r3.Norm(r3.Add(up, down)), 1e-6, name)
				assert.InDelta(t, r3.Norm(up), r3.Norm(r3.Scale(r3.Dot(up, way[name]), way[name])), 1e-6, name)
				continue
			}
			assert.InDelta(t, 0, r3.Dot(up, way[name]), 1e-6, name)
			d, e := r3.Sub(p, centre), r3.Sub(ends[0][0].Points[k], centre)
			assert.InDelta(t, r3.Norm(d), r3.Norm(e), 1e-6, "it is stiff")
		}
		assert.InEpsilon(t, swingPart*r3.Norm(r3.Vec{X: 800, Y: 400, Z: 300}), most, 0.02, name)
	}
	assert.Len(t, seen, 6)
}

// The two ends and the axes are there only while the cursor is on them.
func TestSwingsAreDrawnWhereTheCursorIs(t *testing.T) {
	a, s := swung(t)
	count := func(lit string) (ghosts, axes int) {
		look, ok := sheetOf(s, view.FromBehind, 120, 40)
		require.True(t, ok)
		look.Lit, look.Title = lit, "seen from behind"
		var p recorder
		s.Draw(&p, look, plain(a))
		for _, x := range p.lines {
			if x.style.Role == RoleGhost {
				ghosts++
			}
			if x.style.Role == RoleAxis && x.style.Lit {
				axes++
			}
		}
		if lit == "mounts.mode.1" {
			p.text(t, "seen from behind: "+s.Swings[0].Name)
		}
		return ghosts, axes
	}
	ghosts, axes := count("")
	assert.Zero(t, ghosts)
	assert.Zero(t, axes)
	for i := range a.Shaking.Modes {
		ghosts, axes = count("mounts.mode." + string(rune('1'+i)))
		assert.GreaterOrEqual(t, ghosts, 2, i)
		assert.Positive(t, axes, i)
	}
	ghosts, axes = count("mounts.roll_axis")
	assert.Zero(t, ghosts)
	assert.Equal(t, 1, axes)
	assert.Equal(t, "mount", Subject("mounts.shake.idle"))
}
