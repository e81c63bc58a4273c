package assess

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A subframe taped from points that the survey alone places, which is tied to the
// vehicle by a point with a ± of its own: it stands as it was built, by plain
// trigonometry, and its ± has the tie's in it along the vehicle.
func TestASubframeHangsInTheSurvey(t *testing.T) {
	t.Parallel()
	const turned = 0.4
	f, err := project.Parse("hung", []byte(example.Hung(turned)))
	require.NoError(t, err)
	a := Run(f.Build)
	square, ok := a.Finding("subframe.front.square")
	require.True(t, ok)
	assert.Equal(t, Over, square.Status)
	assert.InDelta(t, turned, square.Value*180/math.Pi, 0.01)
	for id, want := range map[string]float64{"sub_lf": 780 * 2 * math.Sin(turned/2*math.Pi/180), "sub_rf": 0} {
		c, ok := a.Finding("subframe.front.corner." + id)
		require.True(t, ok)
		assert.InDelta(t, want, c.Value, 0.15, id)
	}
	loose, err := project.Parse("hung", []byte(strings.Replace(example.Hung(turned), "-450 mm ± 0.5", "-450 mm ± 5", 1)))
	require.NoError(t, err)
	tight, _ := a.Finding("subframe.front.wheelbase")
	open, ok := Run(loose.Build).Finding("subframe.front.wheelbase")
	require.True(t, ok)
	assert.InDelta(t, tight.Value, open.Value, 0.1)
	assert.Greater(t, open.Uncertainty, tight.Uncertainty+3, "what ties the survey is good to 5 mm, and so is all along the vehicle")
}
