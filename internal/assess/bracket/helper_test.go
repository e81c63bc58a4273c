package bracket

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"

	"github.com/stretchr/testify/require"
)

// legs are the brackets of a build and what is said about them.
type legs struct {
	Result
	Values finding.List
}

// runLegs judges the brackets of a file with given loads, the powertrain where
// the file places it.
func runLegs(t testing.TB, text string, loads ...MountLoad) legs {
	t.Helper()
	return welding(t, text, nil, loads...)
}

// welding is runLegs with welds on the map.
func welding(t testing.TB, text string, welds []MadeWeld, loads ...MountLoad) legs {
	t.Helper()
	f, err := project.Parse("legs.toml", []byte(text))
	require.NoError(t, err)
	pose := finding.Maybe[geom.Pose]{Why: "not placed"}
	if supports, placed, err := f.Build.Seat(); err == nil {
		pose.V, err = supports.Pose(placed)
		pose.Known = err == nil
	} else {
		pose.Why = err.Error()
	}
	out := legs{Result: Prepare(f.Build, welds).At(pose, Loads{Mounts: loads})}
	out.Result.Values(&out.Values)
	return out
}

// Finding returns the finding with the given id.
func (l legs) Finding(id string) (finding.Finding, bool) {
	f := l.last(id)
	return f, f.ID != ""
}

func leg(t *testing.T, a legs, name string) Bracket {
	t.Helper()
	b, ok := a.Bracket(name)
	require.True(t, ok)
	require.True(t, b.HasCut, b.Why)
	return b
}

func value(t *testing.T, a legs, name string) float64 {
	t.Helper()
	for _, v := range a.Values {
		if v.Name == name {
			require.True(t, v.Known, name)
			return v.V
		}
	}
	require.Fail(t, "no value "+name)
	return 0
}
