package edit

import (
	"testing"
	"time"

	"fitup/internal/project"
	small "fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is measured to a mark on the powertrain says where that hung: when it is added,
// and when the powertrain leaves the place.
func TestMeasuredToAMarkSaysWhereItHung(t *testing.T) {
	f, err := project.Parse("x.toml", []byte(small.Marked))
	require.NoError(t, err)
	e, err := AddMeasurement(f, TypedMeasurement{Of: "rail l to flange", With: "tape", Values: "1126", Length: true}, time.Time{})
	require.NoError(t, err)
	placed := func(f *project.File, i int) float64 { return f.Build.Measurements[i].Placed.Rear.V() }
	g, err := Apply(f, e)
	require.NoError(t, err)
	assert.InDelta(t, -184, placed(g, len(g.Build.Measurements)-1), 1e-9)
	e, err = AddMeasurement(f, TypedMeasurement{Of: "rail l to rail r", With: "tape", Values: "800", Length: true}, time.Time{})
	require.NoError(t, err)
	g, err = Apply(f, e)
	require.NoError(t, err)
	assert.False(t, g.Build.Measurements[len(g.Build.Measurements)-1].Placed.Any(), "the rails stay where they are")

	all, err := WithPlaces(f, []Edit{{Op: OpSet, Path: "placement.rear", Text: "-170"}})
	require.NoError(t, err)
	g, err = Apply(f, all...)
	require.NoError(t, err)
	for i := range g.Build.Measurements {
		assert.InDelta(t, -184, placed(g, i), 1e-9, "%d", i)
	}
	assert.InDelta(t, -170, g.Build.Placement.Rear.V(), 1e-9)
}
