package edit

import (
	"testing"
	"time"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Words that name points of the file, or say that they are points, make a line of the
// survey, with the points that it lacks; any other words stay words.
func TestWordsOfPointsMakeASurveyLine(t *testing.T) {
	f, err := project.Parse("x", []byte("format = 3\n\n[point.rail_lf]\n\n[point.rail_rr]\nheight = 3\n"))
	require.NoError(t, err)
	add := func(words string) *project.File {
		e, err := AddMeasurement(f, TypedMeasurement{Of: words, With: project.TapeMeasure, Values: "12; 12.5", After: project.Hung}, time.Time{})
		require.NoError(t, err)
		g, err := Apply(f, append(NewPoints(f, words), e)...)
		require.NoError(t, err, words)
		return g
	}
	m := add("rail lf to rail rr").Build.Measurements[0]
	assert.Equal(t, [3]string{"point.rail_lf", "point.rail_rr", ""}, [3]string{m.From, m.To, m.Of})
	m = add("rail rr over rail lf").Build.Measurements[0]
	assert.Equal(t, [2]string{"point.rail_lf", "point.rail_rr"}, [2]string{m.From, m.To})
	assert.Equal(t, project.HeightLine, m.Line())
	g := add("rail lf to point.hub lf")
	assert.Equal(t, "point.hub_lf", g.Build.Measurements[0].To)
	assert.Contains(t, g.Build.PointPaths(), "point.hub_lf")
	for _, words := range []string{"left front to right rear", "frame diagonal, rail lf to rail rr", "rail lf to rail lf", "point.a-b to rail lf"} {
		assert.False(t, add(words).Build.Measurements[0].Surveys(), words)
	}
}
