package edit

import (
	"math"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Moves that are kept as a trial are, when it is adopted, the moves that were tried: to
// the step, in millimetres and in sixteenths of an inch.
func TestATrialKeptIsTheMovesTried(t *testing.T) {
	for _, units := range []string{"metric", "inch"} {
		f, err := project.Parse("build.toml", starter.Demo())
		require.NoError(t, err)
		edits, err := SetUnits(f, units)
		require.NoError(t, err)
		f, err = Apply(f, edits...)
		require.NoError(t, err)
		var moves []project.Move
		for of, by := range map[string]float64{"placement.rear": 25.4 / 16, "placement.left_front": -3, "line.rear.pinion.slope": math.Pi / 360} {
			m, err := f.Build.MovableNamed(of)
			require.NoError(t, err)
			now, err := f.Build.Reads(m)
			require.NoError(t, err)
			moves = append(moves, project.Move{Of: m, To: now + by})
		}
		edits, err = KeepTrial(f, "raised", "least work", moves...)
		require.NoError(t, err)
		f, err = Apply(f, edits...)
		require.NoError(t, err)
		require.Len(t, f.Build.Trials, 1)
		assert.Equal(t, "least work", f.Build.Trials[0].Note)
		_, err = KeepTrial(f, "raised", "", moves...)
		require.ErrorContains(t, err, "there is a trial raised already")
		_, err = KeepTrial(f, "raised_2", "", moves...)
		require.NoError(t, err, "a name that is nearly another's")
		edits, gone, err := Trial(f, nil, &f.Build.Trials[0], nil)
		require.NoError(t, err)
		assert.Equal(t, []string{"line.rear.pinion"}, gone)
		g, err := Apply(f, edits...)
		require.NoError(t, err)
		for _, m := range moves {
			at, err := g.Build.Reads(m.Of)
			require.NoError(t, err)
			assert.InDelta(t, m.To, at, 1e-4, m.Of.Path())
		}
		for _, r := range g.Build.Readings {
			assert.NotContains(t, gone, r.Of)
		}
	}
}

// A trial changes values; what is done by ticking, welding or reading it does not, and
// what it cannot be says where.
func TestWhatATrialChanges(t *testing.T) {
	f, err := project.Parse("build.toml", starter.Demo())
	require.NoError(t, err)
	trial := func(changes ...project.Change) error {
		_, _, err := Trial(f, nil, &project.Trial{Name: "x", Changes: changes}, nil)
		return err
	}
	require.NoError(t, trial(project.Change{Of: "vehicle.wheelbase", To: "3000 mm"}))
	require.NoError(t, trial(project.Change{Of: "placement.tilt", To: "4 deg down to the rear"}), "which is no key of the file")
	require.NoError(t, trial(project.Change{Of: "placement.rear", To: "-280 mm ± 1"}))
	require.ErrorContains(t, trial(), "changes nothing yet")
	require.ErrorContains(t, trial(project.Change{Of: "placement.rear"}), "want of, such as placement.rear")
	require.ErrorContains(t, trial(project.Change{Of: "placement.rear", To: "3 deg"}), "trial.x.change.1: placement.rear")
	require.ErrorContains(t, trial(project.Change{Of: "job.tack-first.done", To: "true"}), "change it by itself")
	require.ErrorContains(t, trial(project.Change{Of: "placement.raer", To: "3"}), "did you mean")
}

// Steps go before the first job that is open, each waiting for the one before.
func TestStepsGoBeforeWhatIsOpen(t *testing.T) {
	f, err := project.Parse("build.toml", starter.Demo())
	require.NoError(t, err)
	first := -1
	for i, j := range f.Build.Jobs {
		if !j.Done && first < 0 {
			first = i
		}
	}
	require.Positive(t, first)
	edits, err := AddSteps(f, Step{"Raise the rear mount 5 mm", "it stands at -284.5 mm"}, Step{"Read again: powertrain", "a reading is in"})
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	require.Len(t, g.Build.Jobs, len(f.Build.Jobs)+2)
	assert.Equal(t, "Raise the rear mount 5 mm", g.Build.Jobs[first].Title)
	assert.Equal(t, "it stands at -284.5 mm", g.Build.Jobs[first].Means)
	assert.Equal(t, []string{g.Build.Jobs[first].ID}, g.Build.Jobs[first+1].Needs)
	assert.Equal(t, f.Build.Jobs[first].ID, g.Build.Jobs[first+2].ID)
	none, err := project.Parse("build.toml", []byte("format = 3\n"))
	require.NoError(t, err)
	edits, err = AddSteps(none, Step{"Do it", "done"}, Step{"Do it", "done again"})
	require.NoError(t, err)
	g, err = Apply(none, edits...)
	require.NoError(t, err)
	require.Len(t, g.Build.Jobs, 2)
	assert.Equal(t, []string{g.Build.Jobs[0].ID}, g.Build.Jobs[1].Needs)
}
