package edit

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/joblist"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const threeJobs = `format = 2
# one
[[job]]
id = "a"   # first
title = "A"

# two
# about b
[[job]]
id = "b"
title = "B"
[weld]
[[job]]
id = "c"
title = "C"
needs = ["b"]`

func jobIDs(f *project.File) string {
	var ids []string
	for _, j := range f.Build.Jobs {
		ids = append(ids, j.ID)
	}
	return strings.Join(ids, " ")
}

func TestMoveAndDropJobs(t *testing.T) {
	text := strings.Replace(threeJobs, "[weld]\n", "[gauge]\nplus_minus = 1\n", 1)
	f := parse(t, text)
	move := func(f *project.File, i, by int) *project.File {
		e, err := MoveJob(f, i, by)
		require.NoError(t, err)
		g, err := Apply(f, e)
		require.NoError(t, err)
		return g
	}
	g := move(f, 0, 1)
	assert.Equal(t, "b a c", jobIDs(g))
	assert.Contains(t, string(g.Bytes()), "# two\n# about b\n[[job]]\nid = \"b\"", "comments go with their job")
	assert.Contains(t, string(g.Bytes()), "# one\n[[job]]\nid = \"a\"   # first")
	assert.Equal(t, "a c b", jobIDs(move(f, 1, 1)), "across another table")
	assert.Equal(t, "a c b", jobIDs(move(f, 2, -1)))
	_, err := MoveJob(f, 0, -1)
	require.Error(t, err)
	_, err = MoveJob(f, 2, 1)
	require.Error(t, err)

	assert.Equal(t, []int{2}, Waiting(f, 1))
	edits, err := DropJob(f, 1)
	require.NoError(t, err)
	g, err = Apply(f, edits...)
	require.NoError(t, err)
	assert.Equal(t, "a c", jobIDs(g))
	assert.ElementsMatch(t, f.Build.Jobs[1].Needs, g.Build.Jobs[1].Needs, "c waits for what b waited for")
	edits, err = DropJob(f, 0)
	require.NoError(t, err)
	g, err = Apply(f, edits...)
	require.NoError(t, err)
	assert.Equal(t, "b c", jobIDs(g))

	inline := parse(t, "format = 2\njob = [{ id = \"a\", title = \"A\" }, { id = \"b\", title = \"B\" }]\n")
	_, err = MoveJob(inline, 0, 1)
	require.ErrorIs(t, err, errHandOrder)
}

func TestInsertJob(t *testing.T) {
	f := parse(t, "format = 2\n")
	for _, c := range []struct {
		at    int
		title string
		want  string
	}{
		{-1, "Ask the neighbour", "ask-the-neighbour"},
		{0, "Ask the \"neighbour\"", "ask-the-neighbour ask-the-neighbour-2"},
		{0, "???", "ask-the-neighbour x ask-the-neighbour-2"},
	} {
		e, err := InsertJob(f, c.at, c.title)
		require.NoError(t, err)
		f, err = Apply(f, e)
		require.NoError(t, err)
		assert.Equal(t, c.want, jobIDs(f))
	}
	_, err := InsertJob(f, 0, "  ")
	require.Error(t, err)
}

// Any order can be reached, nothing but the order changes, and undo gives the
// very bytes back.
func TestMovingJobsKeepsThem(t *testing.T) {
	_, jobs, _ := strings.Cut(string(starter.Demo()), "[[job]]")
	start := parse(t, "format = 3\n\n[[job]]"+jobs)
	require.Greater(t, len(start.Build.Jobs), 10)
	rapid.Check(t, func(t *rapid.T) {
		h := NewHistory(start)
		for range rapid.IntRange(1, 8).Draw(t, "moves") {
			f := h.Now()
			i := rapid.IntRange(0, len(f.Build.Jobs)-1).Draw(t, "job")
			e, err := MoveJob(f, i, rapid.SampledFrom([]int{-1, 1}).Draw(t, "by"))
			if err != nil {
				continue
			}
			require.NoError(t, h.Do("move", e))
			require.ElementsMatch(t, withoutCautions(start.Build.Jobs), withoutCautions(h.Now().Build.Jobs))
			require.Equal(t, len(start.Bytes()), len(h.Now().Bytes()))
		}
		for _, ok := h.Undo(); ok; _, ok = h.Undo() {
		}
		require.Equal(t, string(start.Bytes()), string(h.Now().Bytes()))
	})
}

// The list and what a starter has already make one list in one order, and a
// job's own words stay.
func TestTheListMergesWithAStarter(t *testing.T) {
	for name, text := range map[string]string{"starter": string(starter.New()), "demo": string(starter.Demo()),
		"windows": strings.ReplaceAll(string(starter.New()), "\n", "\r\n"),
		"own job": "format = 3\n[[job]]\nid = \"mine\"\ntitle = \"feed the cat\"\n[[job]]\nid = \"w\"\nfrom = \"weld-in\""} {
		t.Run(name, func(t *testing.T) {
			f := parse(t, text)
			e, n, err := AddJobs(f)
			require.NoError(t, err)
			g, err := Apply(f, e)
			require.NoError(t, err)
			require.Len(t, g.Build.Jobs, n+len(f.Build.Jobs))
			before := -1
			for _, j := range g.Build.Jobs {
				if s, ok := joblist.Find(j.From); ok && name != "demo" {
					at := slices.Index(joblist.IDs(), s.ID)
					assert.Greater(t, at, before, "%s stands out of order", j.ID)
					before = at
				}
			}
			if name == "starter" {
				for _, j := range g.Build.Jobs {
					s, ok := joblist.Find(j.From)
					require.True(t, ok)
					assert.Equal(t, s.Stage, j.Stage)
				}
			}
			assert.NotContains(t, string(g.Bytes()), "\n\n\n")
			if name == "windows" {
				assert.Equal(t, strings.Count(string(g.Bytes()), "\n"), strings.Count(string(g.Bytes()), "\r\n"))
			}
		})
	}
}

// withoutCautions leaves out what depends on the order: which of two steps has
// a caution in full.
func withoutCautions(jobs []project.Job) []project.Job {
	out := slices.Clone(jobs)
	for i := range out {
		out[i].Cautions = nil
	}
	return out
}

func TestTickIsWritten(t *testing.T) {
	text, _, ok := strings.Cut(threeJobs, "[weld]")
	require.True(t, ok)
	f := parse(t, text)
	edits := TickJob(f, 0, Tick{Day: time.Date(2026, 5, 14, 22, 0, 0, 0, time.UTC), Override: `it "must"`,
		Relied: []project.Relied{{Finding: "x.y", Status: "ok", Value: "2 deg"}}})
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	j := g.Build.Jobs[0]
	assert.True(t, j.Done)
	assert.Equal(t, `it "must"`, j.Override)
	assert.Equal(t, "2026-05-14", j.DoneOn.Format(time.DateOnly))
	assert.Equal(t, []project.Relied{{Finding: "x.y", Status: "ok", Value: "2 deg"}}, j.Relied)
	again, err := Apply(g, TickJob(g, 0, Tick{})...)
	require.NoError(t, err)
	assert.Empty(t, again.Build.Jobs[0].Relied, "an earlier tick leaves nothing behind")
	assert.Empty(t, again.Build.Jobs[0].Override)
}

// What the facts of a build ask for is added once.
func TestAddJobsByFacts(t *testing.T) {
	f := parse(t, "format = 2\n[powertrain]\nfixing = \"bolted\"\n[line.rear]\ntoward = \"rear\"\n[[line.rear.joint]]\n[[line.rear.joint]]\n[[line.rear.joint]]\n[line.rear.suspension]\nkind = \"leaf\"\n")
	e, n, err := AddJobs(f)
	require.NoError(t, err)
	assert.Greater(t, n, 90)
	added, err := Apply(f, e)
	require.NoError(t, err)
	_, n, err = AddJobs(added)
	require.NoError(t, err)
	assert.Zero(t, n, "once is enough")
	assert.Contains(t, jobIDs(added), "carrier-bearing")
	assert.NotContains(t, jobIDs(added), "tack-first")
}

// The list goes in between the jobs, and the rest of the text stays as it is.
func TestAddJobsLeavesTheRest(t *testing.T) {
	for name, text := range map[string]string{
		"bare":         "format = 3",
		"demo":         string(starter.Demo()),
		"starter":      string(starter.New()),
		"line ends":    "format = 3\r\n[[job]]\r\nid = \"a\"\r\ntitle = \"t\"\r\n[gauge]\r\naccuracy = 1\r\n",
		"in the midst": "format = 3\n[[job]]\nid = \"a\"\ntitle = \"t\"\n# of the gauge\n[gauge]\naccuracy = 1",
	} {
		t.Run(name, func(t *testing.T) {
			f := parse(t, text)
			e, n, err := AddJobs(f)
			require.NoError(t, err)
			g, err := Apply(f, e)
			require.NoError(t, err)
			require.Len(t, g.Build.Jobs, len(f.Build.Jobs)+n)
			require.Equal(t, text, strings.Replace(string(g.Bytes()), e.Text, e.Old, 1))
			added := regexp.MustCompile(`\[\[job\]\]\r?\nid = "[a-z0-9-]+"\r?\nfrom = "[a-z0-9-]+"\r?\ndone = false\r?\n(\r?\n)?`)
			left := added.ReplaceAllString(string(g.Bytes()), "")
			blank := regexp.MustCompile(`\s*\n`)
			require.Equal(t, strings.TrimSpace(blank.ReplaceAllString(text, "\n")), strings.TrimSpace(blank.ReplaceAllString(left, "\n")))
			require.Equal(t, f.Build.Gauge, g.Build.Gauge)
			require.Equal(t, f.Build.Welds, g.Build.Welds)
		})
	}
}

func TestAddMeasure(t *testing.T) {
	f := parse(t, "format = 2\n")
	day := time.Date(2026, 5, 14, 22, 0, 0, 0, time.UTC)
	add := func(m TypedMeasurement) {
		e, err := AddMeasurement(f, m, day)
		require.NoError(t, err)
		f, err = Apply(f, e)
		require.NoError(t, err)
	}
	add(TypedMeasurement{Of: " diagonal ", With: project.TapeMeasure, On: "hole to hole", Values: "4212; 4212,5 ; 13' 10\"", After: project.Tacked})
	add(TypedMeasurement{Of: "plate", With: project.SpiritLevel, Values: "0.2 deg"})
	m := f.Build.Measurements
	assert.Equal(t, "diagonal", m[0].Of)
	require.Len(t, m[0].Lengths, 3)
	assert.InDelta(t, 4212.5, m[0].Lengths[1].V(), 1e-9)
	assert.InDelta(t, 166*25.4, m[0].Lengths[2].V(), 0.01)
	assert.Equal(t, project.Tacked, m[0].After)
	assert.Equal(t, "2026-05-14", m[0].Taken.Format(time.DateOnly))
	require.Len(t, m[1].Angles, 1)
	for _, bad := range []TypedMeasurement{{With: project.TapeMeasure, Values: "1"}, {Of: "x", With: project.TapeMeasure}, {Of: "x", With: project.TapeMeasure, Values: "1 kg"}, {Of: "x", With: project.TapeMeasure, Values: " ; "}} {
		_, err := AddMeasurement(f, bad, day)
		require.Error(t, err)
	}
}

// A side that says nothing of its state yet can be set, however the weld is
// written.
func TestWeldSideIsSet(t *testing.T) {
	f := parse(t, "format = 2\n[[weld]]\nbracket = \"a\"\nat = \"b\"\nside.rear = { }\n[weld.side.front]\n")
	for _, side := range []string{"rear", "front"} {
		g, err := Apply(f, Edit{Op: OpSet, Path: "weld[0].side." + side + ".state", Text: `"tacked"`})
		require.NoError(t, err, side)
		assert.Equal(t, project.WeldTacked, g.Build.Welds[0].State())
	}
}
