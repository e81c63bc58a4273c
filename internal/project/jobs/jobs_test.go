package jobs

import (
	"slices"
	"strconv"
	"testing"

	"fitup/internal/project/joblist"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whether one job waits for another is found here by squaring: pairs are joined
// until nothing comes new.
func TestReaches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "jobs")
		waits := make([][]bool, n)
		jobs := make(list, n)
		for i := range waits {
			waits[i] = make([]bool, n)
			jobs[i].ID = strconv.Itoa(i)
			for _, k := range rapid.SliceOfN(rapid.IntRange(0, n-1), 0, 3).Draw(t, "needs") {
				waits[i][k] = true
				jobs[i].Needs = append(jobs[i].Needs, strconv.Itoa(k))
			}
		}
		for range n {
			for i := range n {
				for j := range n {
					for k := range n {
						waits[i][j] = waits[i][j] || waits[i][k] && waits[k][j]
					}
				}
			}
		}
		o := jobs.order()
		for i := range n {
			for j := range n {
				require.Equal(t, waits[i][j], o.reaches(strconv.Itoa(i), strconv.Itoa(j)), "%d to %d", i, j)
			}
		}
		require.False(t, o.reaches("0", "nobody"))
		require.False(t, o.reaches("nobody", "0"))
	})
}

// What a step waits for is waited for through steps that are not in the file, and
// what goes without saying is not said.
func TestNeedsAreInherited(t *testing.T) {
	s, ok := joblist.Find("weld-in")
	require.True(t, ok)
	require.NotEmpty(t, s.Needs)
	given := []Given{{ID: "safe", From: "make-safe"}, {ID: "w", From: "weld-in"}, {ID: "mine", Title: "weld the tab", Needs: nil}}
	got := Fill(given, nil)
	assert.Empty(t, got[0].Needs)
	assert.Equal(t, []string{"safe"}, got[1].Needs, "at whatever distance in the list")
	assert.Equal(t, []string{"safe"}, got[2].Needs, "a weld of one's own waits at least for fuel and battery")
	assert.Equal(t, s.Title, got[1].Title)
	assert.True(t, got[2].Finish)
	assert.Nil(t, given[1].Needs, "what was given stays")

	all := make([]Given, 0, len(joblist.IDs()))
	for _, id := range joblist.IDs() {
		all = append(all, Given{ID: id, From: id})
	}
	whole := Fill(all, nil)
	for i, j := range whole {
		step, _ := joblist.Find(j.ID)
		for _, need := range j.Needs {
			assert.Contains(t, step.Needs, need)
		}
		assert.Empty(t, j.Loosened, j.ID)
		assert.Equal(t, i, slices.Index(joblist.IDs(), j.ID))
	}

	own := Fill([]Given{{ID: "safe", From: "make-safe"}, {ID: "w", From: "weld-in", Needs: []string{}}}, nil)
	assert.Empty(t, own[1].Needs, "the file's own word counts")
	assert.Equal(t, []string{"safe"}, own[1].Loosened, "and shows")
}

func TestTitlesThatWeld(t *testing.T) {
	for title, want := range map[string]bool{
		"Weld the tab": true, "finish-weld it": true, "grind, WELD": true, "clean and weld": true, "Finish the second weld": true, "have it welded": true,
		"before welding": false, "tack it": false, "wel": false, "": false, "unwelded": false, "look at the weld": false,
	} {
		assert.Equal(t, want, saysWeld(title), title)
		assert.Equal(t, sayingWeld().MatchString(title), saysWeld(title), title)
	}
	g := Fill([]Given{{ID: "a", Title: "Weld it", FinishSaid: true}}, nil)[0]
	assert.False(t, g.Finish)
	assert.True(t, g.NoFinish, "finish = false shows")
}

// What a job does that is hard to undo is what its line says, else what its built-in step
// says, else what a job of the builder's own bids; what is done at another time, or only
// looked at, is not. A finish weld is one, whatever the line says.
func TestWhatIsHardToUndo(t *testing.T) {
	for _, c := range []struct {
		given Given
		want  joblist.Hard
	}{
		{Given{ID: "a", From: "tack-first"}, joblist.Tacks},
		{Given{ID: "a", From: "tack-first", Title: "Cut it"}, joblist.Tacks},
		{Given{ID: "a", From: "tack-first", Hard: joblist.Spares}, joblist.Spares},
		{Given{ID: "bolt-second", Title: "Fit the second one"}, joblist.Drills},
		{Given{ID: "a", From: "subframe-again"}, ""},
		{Given{ID: "a", From: "inspect-welds"}, ""},
		{Given{ID: "a", From: "torque-mounts"}, ""},
		{Given{ID: "a", Title: "Cut the brackets, clamp them and tack the three mounts"}, joblist.Tacks},
		{Given{ID: "a", Title: "Read all three angles again after tacking"}, ""},
		{Given{ID: "a", Title: "Take the tape again before anything is tacked"}, ""},
		{Given{ID: "a", Title: "Measure the tacked crossmember"}, ""},
		{Given{ID: "a", Title: "Drill and bolt the second bracket"}, joblist.Drills},
		{Given{ID: "a", Title: "Weld the mounts, or have a certified welder do it"}, joblist.Welds},
		{Given{ID: "a", Title: "Close it up", Finish: true, Hard: joblist.Spares}, joblist.Welds},
	} {
		assert.Equal(t, c.want, Fill([]Given{c.given}, joblist.Facts{})[0].Hard, "%+v", c.given)
	}
}
