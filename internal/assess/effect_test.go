package assess

import (
	"os"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/inturn"
	"fitup/internal/project/grown"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a step would do is assessed in part; it must be what a whole assessment
// of the moved powertrain says, for every finding of the demo and by default for every
// third of one of two larger builds.
func TestEffectsAreThoseOfTheWhole(t *testing.T) {
	example, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	effectsAreThoseOfTheWhole(t, Run(build(t, string(starter.Demo()))), 1)
	for i, text := range []string{string(example), grown.Build(2, 4, 4)} {
		if inturn.Try(t, i, 2) {
			effectsAreThoseOfTheWhole(t, Run(build(t, text)), inturn.Count(3, 1))
		}
	}
}

func effectsAreThoseOfTheWhole(t *testing.T, a *Assessment, every int) {
	step := Step{Length: 1.5, Angle: (0.1 * geom.Deg).Rad()}
	supports, placed, err := a.Build.Seat()
	require.NoError(t, err)
	require.Greater(t, len(a.Findings), 20)
	moved := map[seat.Row]*Assessment{}
	for _, row := range a.Rows {
		to, err := supports.Solve(placed, row.Row, row.Now.V+step.For(row.Kind))
		require.NoError(t, err)
		moved[row.Row] = Run(a.Build.Placed(to))
	}
	for i, f := range a.Findings {
		if i%every != 0 {
			continue
		}
		effects := a.Effects(f.ID, step)
		for _, row := range a.Rows {
			e, ok := effects[row.Row]
			require.True(t, ok, "%s: %s", row.Label, f.ID)
			g := findingOf(t, moved[row.Row], f.ID)
			assert.Equal(t, g.Status, e.To, "%s: %s", row.Label, f.ID)
			assert.Equal(t, f.HasValue && g.HasValue, e.Change.Known, "%s: %s", row.Label, f.ID)
			if e.Change.Known {
				assert.InDelta(t, g.Value-f.Value, e.Change.V, 1e-12, "%s: %s", row.Label, f.ID)
			}
		}
	}
}

// One of each trade: what is worked out for it is what the cursor waits for.
func BenchmarkEffects(b *testing.B) {
	a := Run(build(b, string(starter.Demo())))
	step := Step{Length: 1.5, Angle: (0.1 * geom.Deg).Rad()}
	for _, id := range []string{"line.rear.joint.1.max", "line.rear.travel.joint.1.max", "mount.rear.lifts", "clearance.steering_shaft", "clearance.powertrain.moving", "bracket.left_front.weld"} {
		b.Run(id, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if len(a.Effects(id, step)) == 0 {
					b.Fatal("no such finding")
				}
			}
		})
	}
}
