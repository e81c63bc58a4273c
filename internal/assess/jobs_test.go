package assess

import (
	"errors"
	"strings"
	"testing"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/joblist"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func demoFile(t require.TestingT) *project.File {
	f, err := project.Parse("demo.toml", starter.Demo())
	require.NoError(t, err)
	return f
}

func file(t require.TestingT, text string) *project.File {
	f, err := project.Parse("b.toml", []byte(text))
	require.NoError(t, err)
	return f
}

func apply(t require.TestingT, f *project.File, edits ...edit.Edit) *project.File {
	g, err := edit.Apply(f, edits...)
	require.NoError(t, err)
	return g
}

func jobNamed(t require.TestingT, a *Assessment, id string) Job {
	for _, j := range a.Jobs {
		if j.ID == id {
			return j
		}
	}
	require.Fail(t, "no job "+id)
	return Job{}
}

// tick ticks a job as the bench does.
func tick(t require.TestingT, f *project.File, id, override string) (*project.File, error) {
	a := Run(f.Build)
	j := jobNamed(t, a, id)
	rec, err := a.Tick(j.Index, override)
	if err != nil {
		return f, err
	}
	return apply(t, f, edit.TickJob(f, j.Index, rec)...), nil
}

func raised(t require.TestingT, f *project.File, by float64) *project.File {
	row, ok := project.RowNamed("placement.rear")
	require.True(t, ok)
	edits, err := edit.MoveRow(f, row.Row, f.Build.Placement.Rear.V()+by)
	require.NoError(t, err)
	return apply(t, f, edits...)
}

func TestDemoIsHalfBuilt(t *testing.T) {
	a := Run(demoFile(t).Build)
	held := jobNamed(t, a, "tack-mounts")
	assert.Equal(t, Held, held.State)
	var why []string
	for _, h := range held.Holds {
		if h.Holds() {
			why = append(why, h.Text)
		}
	}
	assert.Equal(t, []string{"rear joint 2, largest angle is over",
		"comes first: Check by hand: sump to axle at full bump, fan to radiator, steering column, exhaust",
		"rests on what has to be proved again: Read powertrain, shaft and pinion with the angle gauge",
		"comes first: Take the misread tape again, and pull the frame square before anything is tacked"}, why)

	again := a.JobsIn(ProveAgain)
	require.Len(t, again, 1)
	assert.Equal(t, "read-angles", again[0].ID)
	assert.Equal(t, []string{"reading of the powertrain has moved by 0.50° since, more than its uncertainty of 0.12°"}, again[0].Broken)

	require.Len(t, a.EngineOut, 3)
	for i, want := range []OutKind{OutJob, OutWeld, OutFastener} {
		assert.Equal(t, want, a.EngineOut[i].Kind)
	}
	assert.Contains(t, a.EngineOut[1].Text, "left front, foot to rail, rear side: not welded yet")
}

func TestHeldJobIsNotTicked(t *testing.T) {
	f := demoFile(t)
	_, err := tick(t, f, "tack-mounts", "  ")
	var held *ErrHeld
	require.ErrorAs(t, err, &held)
	assert.Contains(t, err.Error(), "rear joint 2, largest angle is over; comes first: Check by hand: ")

	g, err := tick(t, f, "tack-mounts", "the frame goes to the welder tomorrow")
	require.NoError(t, err)
	j := jobNamed(t, Run(g.Build), "tack-mounts")
	assert.Equal(t, Done, j.State)
	assert.True(t, j.Overridden)
	assert.Equal(t, "the frame goes to the welder tomorrow", j.Override)
	assert.Contains(t, string(g.Bytes()), `override = "the frame goes to the welder tomorrow"`)

	// What was accepted does not break it; another finding that goes over does.
	lower := apply(t, g, edit.Edit{Op: edit.OpSet, Path: "limits.mismatch", Text: `"0.1 deg"`})
	j = jobNamed(t, Run(lower.Build), "tack-mounts")
	assert.Equal(t, ProveAgain, j.State)
	require.Len(t, j.Broken, 1)
	assert.Contains(t, j.Broken[0], "difference is over; it was ok")

	// Opening it takes the override with it.
	open := apply(t, g, edit.UntickJob(g, j.Index)...)
	j = jobNamed(t, Run(open.Build), "tack-mounts")
	assert.Equal(t, Held, j.State)
	assert.False(t, j.Overridden)
	assert.Equal(t, string(f.Bytes()), string(open.Bytes()), "and leaves the file as it was")
}

// A value that moves by more than its uncertainty reopens the step, and not
// before; putting it back closes it.
func TestMovedValueReopens(t *testing.T) {
	g := raised(t, demoFile(t), 5)
	for _, step := range []struct{ id, although string }{
		{"read-angles", ""}, {"clearances", ""}, {"pull-square", "the frame is pulled last"}, {"tack-mounts", ""},
	} {
		var err error
		g, err = tick(t, g, step.id, step.although)
		require.NoError(t, err)
	}
	stateAt := func(by float64) JobState { return jobNamed(t, Run(raised(t, g, by).Build), "tack-mounts").State }
	assert.Equal(t, Done, stateAt(0))
	assert.Equal(t, Done, stateAt(1), "0.05 degrees, less than the uncertainty")
	assert.Equal(t, ProveAgain, stateAt(10), "0.5 degrees")
	assert.Equal(t, ProveAgain, stateAt(-5), "joint 2 is over")
	assert.Equal(t, Done, jobNamed(t, Run(raised(t, raised(t, g, 10), -10).Build), "tack-mounts").State)
}

func tackedReading(of, shown, on string) string {
	return "\n[[reading]]\nof = \"" + of + "\"\non = \"" + on + "\"\nshown = \"" + shown + "\"\nlower = \"rear\"\nafter = \"tacked\"\n" +
		"placed = { left_front = -106, right_front = -106, rear = -289.5, setback = 260, offset = \"6 mm right\", heading = \"0 deg\" }\n"
}

// @proved asks for readings after tacking; the step is stamped with the place
// it was proved at, and a move of the powertrain reopens it.
func TestProvedIsStamped(t *testing.T) {
	text := string(starter.Demo()) + "\n[[job]]\nid = \"p\"\ntitle = \"prove\"\nhold = [\"line.*.powertrain.read@proved\"]\n"
	f := file(t, text)
	j := jobNamed(t, Run(f.Build), "p")
	assert.Equal(t, Held, j.State)
	assert.Contains(t, j.Holds[0].Text, "is read and not proved")

	f = file(t, text+tackedReading("powertrain", "85.7 deg", "square face"))
	a := Run(f.Build)
	j = jobNamed(t, a, "p")
	require.Equal(t, Open, j.State)
	rec, err := a.Tick(j.Index, "not needed, so not recorded")
	require.NoError(t, err)
	assert.Empty(t, rec.Override)
	assert.True(t, rec.Place)
	rec.Day = time.Date(2026, 5, 20, 23, 0, 0, 0, time.UTC)
	g := apply(t, f, edit.TickJob(f, j.Index, rec)...)
	j = jobNamed(t, Run(g.Build), "p")
	assert.Equal(t, Done, j.State)
	assert.Equal(t, "2026-05-20", j.DoneOn.Format(time.DateOnly))
	placed, ok := j.Placed.Seat()
	require.True(t, ok)
	assert.InDelta(t, -289.5, placed.Rear, 1e-9)
	require.Len(t, j.Relied, 1)
	assert.Equal(t, "proved", j.Relied[0].Basis)

	j = jobNamed(t, Run(raised(t, g, 0.5).Build), "p")
	assert.Equal(t, ProveAgain, j.State)
	assert.Contains(t, j.Broken[0], "from before the powertrain was moved")
}

func TestNeedsAndStanding(t *testing.T) {
	f := file(t, `format = 1
[powertrain]
standing = "in"
[[job]]
id = "a"
title = "first"
[[job]]
id = "b"
title = "second"
needs = ["a"]
[[job]]
id = "c"
title = "behind the block"
out = true
`)
	a := Run(f.Build)
	assert.Equal(t, []JobState{Open, Held, Held}, []JobState{a.Jobs[0].State, a.Jobs[1].State, a.Jobs[2].State})
	assert.Equal(t, "comes first: first", a.Jobs[1].Holds[0].Text)
	_, err := a.Tick(2, "")
	var held *ErrHeld
	require.True(t, errors.As(err, &held))
	assert.Contains(t, err.Error(), "the powertrain is in")
	g, err := tick(t, f, "a", "")
	require.NoError(t, err)
	g = apply(t, g, edit.Edit{Op: edit.OpSet, Path: "powertrain.standing", Text: `"out"`})
	a = Run(g.Build)
	assert.Equal(t, []JobState{Done, Open, Open}, []JobState{a.Jobs[0].State, a.Jobs[1].State, a.Jobs[2].State})
}

// Putting the powertrain back waits for the whole engine-out list.
func TestEngineInWaitsForTheList(t *testing.T) {
	text := `format = 1
[powertrain]
standing = "out"
[[job]]
id = "engine-in"
from = "engine-in"
[[job]]
id = "paint"
from = "paint"
needs = []
[[weld]]
bracket = "left"
at = "foot"
side.rear = { state = "tacked", out = true }
[[fastener]]
name = "bell housing"
out = true
`
	f := file(t, text)
	a := Run(f.Build)
	require.Len(t, a.EngineOut, 3)
	in := jobNamed(t, a, "engine-in")
	assert.Equal(t, Held, in.State)
	assert.Equal(t, "3 on the engine-out list still open", in.Holds[0].Text)
	for len(Run(f.Build).EngineOut) > 0 {
		it := Run(f.Build).EngineOut[0]
		if it.Kind == OutJob {
			var err error
			f, err = tick(t, f, "paint", "")
			require.NoError(t, err)
			continue
		}
		if it.Kind == OutWeld {
			edits, err := Run(f.Build).WeldSide(it.Index, it.Side, project.WeldFinished, "no driveline in this file", "")
			require.NoError(t, err)
			f = apply(t, f, edits...)
			continue
		}
		f = apply(t, f, edit.Edit{Op: edit.OpSet, Path: "fastener[0].marked", Text: "true"})
	}
	assert.Equal(t, Open, jobNamed(t, Run(f.Build), "engine-in").State)
}

func TestBuiltInListInABuild(t *testing.T) {
	f := demoFile(t)
	e, _, err := edit.AddJobs(f)
	require.NoError(t, err)
	f = apply(t, f, e)
	a := Run(f.Build)
	require.Greater(t, len(a.Jobs), 90)
	for _, j := range a.Jobs {
		assert.NotEmpty(t, j.Title, j.ID)
		assert.NotEmpty(t, j.Stage, j.ID)
		if s, ok := joblist.Find(j.From); ok {
			assert.GreaterOrEqual(t, len(j.Cautions), len(s.Hazards), "the cautions come with the step")
		}
	}
	assert.Equal(t, Held, jobNamed(t, a, "prove-final").State)
	// Every id that is asked for without "?" is one that a line with a full
	// plan has.
	for _, s := range joblist.For(f.Build.Facts()) {
		for _, h := range s.Holds(f.Build.Facts()) {
			for _, got := range a.work.LookUp(h, s.Finish) {
				assert.NotEqual(t, "nothing is called so", got.Because(), "%s waits for %s", s.ID, h)
				if !strings.HasPrefix(h, "drift.") { // there is none before anything was welded
					assert.NotEqual(t, "this build has no such finding", got.Because(), "%s waits for %s", s.ID, h)
				}
			}
		}
	}
}

// TestRandomWalks presses anything a builder can do to the list and to what
// it rests on. No path ticks a held step without a recorded override, every
// break reopens its step, and undo restores the bytes exactly.
func TestRandomWalks(t *testing.T) {
	start := unsurveyed(t) + tackedReading("powertrain", "85.7 deg", "square face") +
		"\n[[job]]\nid = \"p\"\ntitle = \"prove\"\nhold = [\"line.*.powertrain.read@proved\", \"line.*.joint.*.max\"]\nneeds = [\"hang\"]\n"
	rapid.Check(t, func(t *rapid.T) {
		w := &walk{t: t, h: edit.NewHistory(file(t, start))}
		w.texts = []string{start}
		for range rapid.IntRange(1, 9).Draw(t, "steps") {
			w.step()
			w.check()
		}
		for len(w.texts) > 1 {
			w.undo()
		}
		require.Equal(t, start, string(w.h.Now().Bytes()))
	})
}

type walk struct {
	t     *rapid.T
	h     *edit.History
	texts []string // what undo must bring back
	last  *Assessment
}

// now assesses the build as it stands, once.
func (w *walk) now() *Assessment {
	switch b := w.h.Now().Build; {
	case w.last == nil:
		w.last = Run(b)
	case w.last.Build != b:
		w.last = Again(w.last, b)
	}
	return w.last
}

func (w *walk) do(edits ...edit.Edit) {
	before := string(w.h.Now().Bytes())
	if err := w.h.Do("x", edits...); err != nil {
		require.Equal(w.t, before, string(w.h.Now().Bytes()))
		return
	}
	if now := string(w.h.Now().Bytes()); now != before {
		w.texts = append(w.texts, now)
	}
}

func (w *walk) undo() {
	_, ok := w.h.Undo()
	require.Equal(w.t, len(w.texts) > 1, ok)
	if ok {
		w.texts = w.texts[:len(w.texts)-1]
	}
	require.Equal(w.t, w.texts[len(w.texts)-1], string(w.h.Now().Bytes()))
}

func (w *walk) step() {
	t, f := w.t, w.h.Now()
	a := w.now()
	i := rapid.IntRange(0, len(a.Jobs)-1).Draw(t, "job")
	switch rapid.SampledFrom([]string{"tick", "tick", "override", "untick", "nudge", "nudge", "limit", "reading", "undo", "move", "drop", "standing"}).Draw(t, "what") {
	case "tick":
		rec, err := a.Tick(i, "")
		require.Equal(t, a.Jobs[i].Held, err != nil, "a tick without a reason is refused exactly when something holds")
		if err == nil {
			w.do(edit.TickJob(f, i, rec)...)
			require.Equal(t, Done, w.now().Jobs[i].State)
		}
	case "override":
		rec, err := a.Tick(i, "because")
		require.NoError(t, err)
		w.do(edit.TickJob(f, i, rec)...)
		now := w.now().Jobs[i]
		require.Equal(t, a.Jobs[i].Held, now.Override == "because", "an override is recorded exactly when it was needed")
		require.Equal(t, Done, now.State)
	case "untick":
		w.do(edit.UntickJob(f, i)...)
	case "nudge":
		row, _ := project.RowNamed("placement.rear")
		edits, err := edit.MoveRow(f, row.Row, f.Build.Placement.Rear.V()+rapid.Float64Range(-15, 15).Draw(t, "by"))
		require.NoError(t, err)
		w.do(edits...)
	case "limit":
		w.do(edit.Edit{Op: edit.OpSet, Path: "limits.joint_max", Text: rapid.SampledFrom([]string{`"2.5 deg"`, `"1 deg"`, `"5 deg"`}).Draw(t, "limit")})
	case "reading":
		if n := len(f.Build.Readings); n > 0 {
			w.do(edit.Edit{Op: edit.OpRemove, Path: "reading[" + string(rune('0'+n-1)) + "]"})
		}
	case "undo":
		w.undo()
	case "move":
		if e, err := edit.MoveJob(f, i, rapid.SampledFrom([]int{-1, 1}).Draw(t, "by")); err == nil {
			w.do(e)
		}
	case "drop":
		if edits, err := edit.DropJob(f, i); err == nil && len(a.Jobs) > 3 {
			w.do(edits...)
		}
	case "standing":
		w.do(edit.Edit{Op: edit.OpSet, Path: "powertrain.standing", Text: rapid.SampledFrom([]string{`"in"`, `"out"`}).Draw(t, "standing")})
	}
}

// check holds the state of every job against what the file and the findings
// say, by another road than the code under test.
func (w *walk) check() {
	a := w.now()
	for _, j := range a.Jobs {
		brokenNow := false
		for _, pattern := range j.Hold {
			for _, h := range a.work.LookUp(pattern, j.Finish) {
				if h.Status != Over && h.Status != NotKnown {
					continue
				}
				accepted := false
				for _, r := range j.Relied {
					accepted = accepted || r.Finding == h.ID && r.Status != "ok" && r.Status != "tight" && j.Override != ""
				}
				brokenNow = brokenNow || !accepted
			}
		}
		if j.Done {
			if brokenNow {
				require.Equal(w.t, ProveAgain, j.State, "%s relied on something that is broken", j.ID)
			}
			require.Equal(w.t, j.State == ProveAgain, len(j.Broken) > 0)
		} else {
			require.NotEqual(w.t, Done, j.State)
			require.NotEqual(w.t, ProveAgain, j.State)
			if brokenNow {
				require.Equal(w.t, Held, j.State)
			}
		}
	}
}

func BenchmarkAssessWithTheWholeList(b *testing.B) {
	f := demoFile(b)
	e, _, err := edit.AddJobs(f)
	require.NoError(b, err)
	f = apply(b, f, e)
	for b.Loop() {
		Run(f.Build)
	}
}
