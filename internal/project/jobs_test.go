package project

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"fitup/internal/project/joblist"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestJobTakesFromTheList(t *testing.T) {
	f := parse(t, `format = 2
[[job]]
id = "my-hang"
from = "hang"
title = "Hang it"
cautions = ["mind the cat"]
[[job]]
id = "placement"
from = "placement"
[[job]]
id = "paint"
from = "paint"
hold = []
needs = ["placement"]
`)
	hang, place, paint := f.Build.Jobs[0], f.Build.Jobs[1], f.Build.Jobs[2]
	s, _ := joblist.Find("hang")
	assert.Equal(t, "Hang it", hang.Title, "the builder's words win")
	assert.Equal(t, s.Stage, hang.Stage)
	assert.Equal(t, s.Done, hang.Means)
	assert.Equal(t, append(s.Cautions(), "mind the cat"), hang.Cautions, "cautions are added to and never lost")
	assert.Empty(t, hang.Needs, "steps that are not in this list are not waited for")
	assert.Equal(t, []string{"my-hang"}, place.Needs, "the list's id is found under the builder's")
	assert.True(t, paint.Out)
	assert.Empty(t, paint.Hold)
	assert.Equal(t, []string{"placement"}, paint.Needs)
}

func TestJobProblems(t *testing.T) {
	job := func(lines string) string { return "format = 2\n[[job]]\nid = \"a\"\ntitle = \"t\"\n" + lines }
	for name, c := range map[string]struct{ text, want string }{
		"no such step":       {job("from = \"hangg\"\n"), `b.toml:5:8: job[0].from: "hangg" is no job of the built-in list; did you mean "hang"?`},
		"need of nothing":    {job("needs = [\"b\"]\n"), `it needs "b", which is no job of this file`},
		"needs itself":       {job("needs = [\"a\"]\n"), "in a circle: a, a"},
		"circle":             {job("needs = [\"b\"]\n[[job]]\nid = \"b\"\ntitle = \"u\"\nneeds = [\"a\"]\n"), "in a circle: a, b, a"},
		"measure of nothing": {"format = 2\n[[measure]]\nlengths = [1]\n", "does not say of what"},
		"measure, no value":  {"format = 2\n[[measure]]\nof = \"x\"\n", "has no value"},
		"measure of both":    {"format = 2\n[[measure]]\nof = \"x\"\nlengths = [1]\nangles = [1]\n", "lengths or of angles"},
		"weld nowhere":       {"format = 2\n[[weld]]\nbracket = \"x\"\n", "does not say where"},
		"weld twice":         {"format = 2\n[[weld]]\nbracket = \"x\"\nat = \"y\"\n[[weld]]\nbracket = \"X\"\nat = \"y \"\n", "stands in the file already"},
		"side state":         {"format = 2\n[[weld]]\nbracket = \"x\"\nat = \"y\"\nside.rear = { state = \"part\" }\n", "want one of: none, tacked, finished, inspected"},
		"fastener, no name":  {"format = 2\n[[fastener]]\nthread = \"M10\"\n", "the fastener has no name"},
		"fluid, no name":     {"format = 2\n[[fluid]]\nspec = \"x\"\n", "the fluid has no name"},
		"standing":           {"format = 2\n[powertrain]\nstanding = \"half\"\n", "want one of: in, out"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("b.toml", []byte(c.text))
			var ps Problems
			require.ErrorAs(t, err, &ps)
			require.Len(t, ps, 1, "%v", err)
			assert.Contains(t, ps[0].Error(), c.want)
		})
	}
}

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

func jobIDs(f *File) string {
	var ids []string
	for _, j := range f.Build.Jobs {
		ids = append(ids, j.ID)
	}
	return strings.Join(ids, " ")
}

func TestMoveAndDropJobs(t *testing.T) {
	text := strings.Replace(threeJobs, "[weld]\n", "[gauge]\nplus_minus = 1\n", 1)
	f := parse(t, text)
	move := func(f *File, i, by int) *File {
		e, err := f.MoveJob(i, by)
		require.NoError(t, err)
		g, err := f.Apply(e)
		require.NoError(t, err)
		return g
	}
	g := move(f, 0, 1)
	assert.Equal(t, "b a c", jobIDs(g))
	assert.Contains(t, string(g.Bytes()), "# two\n# about b\n[[job]]\nid = \"b\"", "comments go with their job")
	assert.Contains(t, string(g.Bytes()), "# one\n[[job]]\nid = \"a\"   # first")
	assert.Equal(t, "a c b", jobIDs(move(f, 1, 1)), "across another table")
	assert.Equal(t, "a c b", jobIDs(move(f, 2, -1)))
	_, err := f.MoveJob(0, -1)
	require.Error(t, err)
	_, err = f.MoveJob(2, 1)
	require.Error(t, err)

	assert.Equal(t, []int{2}, f.Waiting(1))
	edits, err := f.DropJob(1)
	require.NoError(t, err)
	g, err = f.Apply(edits...)
	require.NoError(t, err)
	assert.Equal(t, "a c", jobIDs(g))
	assert.ElementsMatch(t, f.Build.Jobs[1].Needs, g.Build.Jobs[1].Needs, "c waits for what b waited for")
	edits, err = f.DropJob(0)
	require.NoError(t, err)
	g, err = f.Apply(edits...)
	require.NoError(t, err)
	assert.Equal(t, "b c", jobIDs(g))

	inline := parse(t, "format = 2\njob = [{ id = \"a\", title = \"A\" }, { id = \"b\", title = \"B\" }]\n")
	_, err = inline.MoveJob(0, 1)
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
		e, err := f.InsertJob(c.at, c.title)
		require.NoError(t, err)
		f, err = f.Apply(e)
		require.NoError(t, err)
		assert.Equal(t, c.want, jobIDs(f))
	}
	_, err := f.InsertJob(0, "  ")
	require.Error(t, err)
}

// Any order can be reached, nothing but the order changes, and undo gives the
// very bytes back.
func TestMovingJobsKeepsThem(t *testing.T) {
	start := parse(t, string(starter.Demo()))
	rapid.Check(t, func(t *rapid.T) {
		h := NewHistory(start)
		for range rapid.IntRange(1, 8).Draw(t, "moves") {
			f := h.Now()
			i := rapid.IntRange(0, len(f.Build.Jobs)-1).Draw(t, "job")
			e, err := f.MoveJob(i, rapid.SampledFrom([]int{-1, 1}).Draw(t, "by"))
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
			e, n, err := f.AddJobs()
			require.NoError(t, err)
			g, err := f.Apply(e)
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
func withoutCautions(jobs []Job) []Job {
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
	edits := f.TickJob(0, Tick{Day: time.Date(2026, 5, 14, 22, 0, 0, 0, time.UTC), Override: `it "must"`,
		Relied: []Relied{{Finding: "x.y", Status: "ok", Value: "2 deg"}}})
	g, err := f.Apply(edits...)
	require.NoError(t, err)
	j := g.Build.Jobs[0]
	assert.True(t, j.Done)
	assert.Equal(t, `it "must"`, j.Override)
	assert.Equal(t, "2026-05-14", j.DoneOn.Format(time.DateOnly))
	assert.Equal(t, []Relied{{Finding: "x.y", Status: "ok", Value: "2 deg"}}, j.Relied)
	again, err := g.Apply(g.TickJob(0, Tick{})...)
	require.NoError(t, err)
	assert.Empty(t, again.Build.Jobs[0].Relied, "an earlier tick leaves nothing behind")
	assert.Empty(t, again.Build.Jobs[0].Override)
}

func TestFactsOfABuild(t *testing.T) {
	f := parse(t, "format = 2\n[powertrain]\nfixing = \"bolted\"\n[line.rear]\ntoward = \"rear\"\n[[line.rear.joint]]\n[[line.rear.joint]]\n[[line.rear.joint]]\n[line.rear.suspension]\nkind = \"leaf\"\n")
	got := f.Build.Facts()
	for c, want := range map[joblist.Condition]bool{joblist.BoltedOn: true, joblist.WeldedOn: false, joblist.TwoPiece: true,
		joblist.OnePiece: false, joblist.LeafSprings: true, joblist.Links: false, joblist.FrontDrive: false} {
		v, known := got[c]
		assert.True(t, known)
		assert.Equal(t, want, v, "%d", c)
	}
	assert.Empty(t, parse(t, "format = 2\n").Build.Facts(), "nothing is known")
	across := parse(t, "format = 3\n[vehicle]\nbody = \"unit-body\"\n[powertrain]\nlayout = \"transaxle\"\n[line.front]\ntoward = \"front\"\n[line.front.suspension]\nkind = \"fixed\"\n").Build
	assert.Equal(t, joblist.Facts{joblist.Transaxle: true, joblist.Propshaft: false, joblist.OnePiece: false, joblist.TwoPiece: false,
		joblist.FrontDrive: false, joblist.UnitBody: true, joblist.OnFrame: false}, across.Facts())
	e, n, err := f.AddJobs()
	require.NoError(t, err)
	assert.Greater(t, n, 90)
	added, err := f.Apply(e)
	require.NoError(t, err)
	_, n, err = added.AddJobs()
	require.NoError(t, err)
	assert.Zero(t, n, "once is enough")
	assert.Contains(t, jobIDs(added), "carrier-bearing")
	assert.NotContains(t, jobIDs(added), "tack-first")
}

func TestSlug(t *testing.T) {
	for in, want := range map[string]string{"Left front": "left-front", "a, b": "a-b", "": "x", "é": "x", "foot--to rail!": "foot-to-rail"} {
		assert.Equal(t, want, Slug(in))
	}
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
			e, n, err := f.AddJobs()
			require.NoError(t, err)
			g, err := f.Apply(e)
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
	add := func(m TypedMeasure) {
		e, err := f.AddMeasure(m, day)
		require.NoError(t, err)
		f, err = f.Apply(e)
		require.NoError(t, err)
	}
	add(TypedMeasure{Of: " diagonal ", With: TapeMeasure, On: "hole to hole", Values: "4212; 4212,5 ; 13' 10\"", After: Tacked})
	add(TypedMeasure{Of: "plate", With: SpiritLevel, Values: "0.2 deg"})
	m := f.Build.Measures
	assert.Equal(t, "diagonal", m[0].Of)
	require.Len(t, m[0].Lengths, 3)
	assert.InDelta(t, 4212.5, m[0].Lengths[1].V(), 1e-9)
	assert.InDelta(t, 166*25.4, m[0].Lengths[2].V(), 0.01)
	assert.Equal(t, Tacked, m[0].After)
	assert.Equal(t, "2026-05-14", m[0].Taken.Format(time.DateOnly))
	require.Len(t, m[1].Angles, 1)
	for _, bad := range []TypedMeasure{{With: TapeMeasure, Values: "1"}, {Of: "x", With: TapeMeasure}, {Of: "x", With: TapeMeasure, Values: "1 kg"}, {Of: "x", With: TapeMeasure, Values: " ; "}} {
		_, err := f.AddMeasure(bad, day)
		require.Error(t, err)
	}
}

func TestWeldSideGoesOn(t *testing.T) {
	for s, want := range map[WeldState]WeldState{"": WeldTacked, NoWeld: WeldTacked, WeldTacked: WeldFinished, WeldFinished: WeldFinished, Inspected: Inspected} {
		next, on := s.Next()
		assert.Equal(t, want, next)
		assert.Equal(t, s != want, on, "an inspection is no step of welding")
	}
	f := parse(t, "format = 2\n[[weld]]\nbracket = \"a\"\nat = \"b\"\nside.rear = { }\n[weld.side.front]\n")
	for _, side := range []string{"rear", "front"} {
		g, err := f.Apply(Edit{Op: OpSet, Path: "weld[0].side." + side + ".state", Text: `"tacked"`})
		require.NoError(t, err, side)
		assert.Equal(t, WeldTacked, g.Build.Welds[0].State())
	}
}
