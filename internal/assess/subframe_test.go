package assess

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func hungIn(t *testing.T, text string) *Assessment {
	t.Helper()
	f, err := project.Parse("subframe", []byte(text))
	require.NoError(t, err)
	return Run(f.Build)
}

func judgedAs(t *testing.T, a *Assessment, id string) Finding {
	t.Helper()
	f, ok := a.Finding(id)
	require.True(t, ok, id)
	return f
}

// The example hangs as it says, within its ±.
func TestSubframeHangsAsItDoes(t *testing.T) {
	a := hungIn(t, example.Subframe)
	require.Len(t, a.Subframes, 1)
	s := a.Subframes[0]
	require.Empty(t, s.Why)
	deg := math.Pi / 180
	for _, c := range []struct {
		is   Number
		want float64
	}{{s.Out.Station, 4}, {s.Out.Right, 3}, {s.Out.Height, -2}, {s.Out.Heading, 0.3 * deg}, {s.Out.Slope, 0.4 * deg}, {s.Out.Roll, 0.2 * deg}} {
		require.True(t, c.is.Known, c.is.Why)
		assert.Positive(t, c.is.Expanded())
		assert.InDelta(t, c.want, c.is.V, c.is.Expanded(), "%v", c)
	}
	t.Log(s.Moves(s.Points[0]), s.Out.Station.Expanded(), s.Out.Right.Expanded(), s.Out.Height.Expanded(), s.Out.Heading.Expanded()/deg, s.DoF, s.Scatter)
	for _, f := range a.Findings {
		t.Log(f.ID, f.Status, f.Value, f.Uncertainty, f.Missing, f.Advice(), f.Assumes)
	}
	assert.Equal(t, finding.OK, judgedAs(t, a, finding.SubframeFit("front")).Status)
	assert.Equal(t, finding.Over, judgedAs(t, a, finding.SubframeCorner("front", "point.sub_lf")).Status)
	assert.Empty(t, strings.TrimSpace(""))
}
