package assess

import (
	"testing"

	"fitup/internal/geom"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a step would do is assessed in part; it must be what a whole assessment
// of the moved powertrain says, for every finding.
func TestEffectsAreThoseOfTheWhole(t *testing.T) {
	a := Run(build(t, string(starter.Demo())))
	step := Step{Length: 1.5, Angle: (0.1 * geom.Deg).Rad()}
	supports, placed, err := a.Build.Seat()
	require.NoError(t, err)
	require.Greater(t, len(a.Findings), 20)
	for _, row := range a.Rows {
		to, err := supports.Solve(placed, row.Row, row.Now.V+step.For(row.Kind))
		require.NoError(t, err)
		moved := Run(a.Build.Placed(to))
		for _, f := range a.Findings {
			e, ok := a.Effects(f.ID, step)[row.Row]
			require.True(t, ok, "%s: %s", row.Label, f.ID)
			g := finding(t, moved, f.ID)
			assert.Equal(t, g.Status, e.To, "%s: %s", row.Label, f.ID)
			assert.Equal(t, f.HasValue && g.HasValue, e.Change.Known, "%s: %s", row.Label, f.ID)
			if e.Change.Known {
				assert.InDelta(t, g.Value-f.Value, e.Change.V, 1e-12, "%s: %s", row.Label, f.ID)
			}
		}
	}
}
