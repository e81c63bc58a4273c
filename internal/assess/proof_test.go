package assess

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/joblist"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// holding are the ids that hold a job.
func holding(j Job) []string {
	var out []string
	for _, h := range j.Holds {
		if h.Holds() {
			out = append(out, h.ID)
		}
	}
	return out
}

// provedDemo is the demo raised until it is ok, with every reading taken again
// after tacking where it stands.
func provedDemo(t require.TestingT) *project.File { return proved(t, demoFile(t)) }

// proved is the demo, or less of it, raised and read again after tacking.
func proved(t require.TestingT, f *project.File) *project.File {
	f = raised(t, f, 5)
	for _, r := range []struct{ of, shown, on string }{
		{"powertrain", "85.9 deg", "square face"}, {"line.rear.shaft.1", "2.55 deg", "along"}, {"line.rear.pinion", "85.2 deg", "square face"},
	} {
		text := string(f.Bytes()) + strings.ReplaceAll(tackedReading(r.of, r.shown, r.on), "rear = -289.5", "rear = -284.5")
		f = file(t, text)
	}
	a := Run(f.Build)
	for _, id := range []string{"line.rear.joint.1.max", "line.rear.joint.2.max", "line.rear.shaft.1.mismatch"} {
		got, ok := a.Finding(id)
		require.True(t, ok)
		require.Equal(t, Proved, got.Basis, id)
	}
	return f
}

// every list that the program writes holds finish welds on readings proved
// after tacking, on every bracket, and on fuel and battery made safe.
func TestEveryListHoldsTheWeld(t *testing.T) {
	withList := func(text []byte) *project.File {
		f := file(t, string(text))
		e, _, err := edit.AddJobs(f)
		require.NoError(t, err)
		return apply(t, f, e)
	}
	for name, f := range map[string]*project.File{
		"starter": file(t, string(starter.New())), "demo": demoFile(t), "starter with the list": withList(starter.New()),
		"demo with the list": withList(starter.Demo()), "list alone": withList([]byte("format = 2\n")),
		"transaxle": withList([]byte("format = 2\n[powertrain]\nlayout = \"transaxle\"\n")),
	} {
		welds := 0
		needs := needsOf(f.Build)
		for _, j := range Run(f.Build).Jobs {
			step, _ := joblist.Find(j.From)
			if slices.Contains(step.Hazards, joblist.Welding) {
				assert.Contains(t, fromSteps(f.Build, needs[j.ID]), "make-safe", "%s: %s", name, j.ID)
			}
			if !j.Finish {
				continue
			}
			welds++
			assert.Equal(t, Held, j.State, "%s: %s", name, j.ID)
			for _, want := range joblist.Proof(f.Build.Facts()) {
				assert.Contains(t, j.Hold, want, "%s: %s", name, j.ID)
			}
		}
		assert.Positive(t, welds, name)
	}
}

// needsOf is what each job rests on at any distance, by another road than the
// code under test: a table that grows until nothing is added.
func needsOf(b *project.Build) map[string]map[string]bool {
	out := map[string]map[string]bool{}
	for _, j := range b.Jobs {
		out[j.ID] = map[string]bool{}
		for _, n := range j.Needs {
			out[j.ID][n] = true
		}
	}
	for grown := true; grown; {
		grown = false
		for _, j := range b.Jobs {
			for n := range out[j.ID] {
				for m := range out[n] {
					if !out[j.ID][m] {
						out[j.ID][m], grown = true, true
					}
				}
			}
		}
	}
	return out
}

func fromSteps(b *project.Build, ids map[string]bool) []string {
	var out []string
	for _, j := range b.Jobs {
		if ids[j.ID] {
			out = append(out, j.From, j.ID)
		}
	}
	return out
}

// the weld of the demo is free once everything is proved, and its own
// sides are all that is left to do. A bracket that was bought is judged
// elsewhere and is not ok; without that word nobody has judged it.
func TestWeldIsFreeOnProof(t *testing.T) {
	f := provedDemo(t)
	a := Run(f.Build)
	j := jobNamed(t, a, "weld-mounts")
	assert.Equal(t, []string{"welds.finished.in", "job.prove-angles", "job.read-angles"}, holding(j))
	_, err := tick(t, f, "pull-square", "")
	require.ErrorContains(t, err, "one rail ahead of the other", "the frame is out of square as surveyed")
	for _, id := range []string{"pull-square", "read-angles", "clearances", "tack-mounts", "prove-angles"} {
		reason := ""
		if id == "pull-square" {
			reason = "squared in the jig, its tapes to follow"
		}
		f, err = tick(t, f, id, reason)
		require.NoError(t, err, id)
	}
	a = Run(f.Build)
	j = jobNamed(t, a, "weld-mounts")
	assert.Equal(t, []string{"welds.finished.in"}, holding(j))
	assert.True(t, j.WaitsForItself())
	assert.Empty(t, a.WeldHolds(0, "front"))
	assert.Equal(t, []string{"powertrain.standing"}, holding(Job{Holds: a.WeldHolds(0, "rear")}), "it is out of reach")

	rear, ok := a.Finding("bracket.rear")
	require.True(t, ok)
	assert.Equal(t, Elsewhere, rear.Status)
	assert.Equal(t, 1, a.Count()[Elsewhere])
	assert.Contains(t, rear.Elsewhere, "the maker of the crossmember: bought")

	bare := apply(t, f, edit.Edit{Op: edit.OpRemove, Path: "elsewhere[0]"})
	j = jobNamed(t, Run(bare.Build), "weld-mounts")
	assert.Contains(t, holding(j), "bracket.rear.given")
	assert.NotEmpty(t, Run(bare.Build).WeldHolds(0, "front"))

	// Finish them, tick it, and nudge: it is to be proved again, the sides say so.
	for _, s := range []struct {
		weld int
		side string
	}{{0, "front"}, {0, "outer"}, {1, "front"}, {1, "outer"}, {1, "rear"}} {
		edits, err := Run(f.Build).WeldSide(s.weld, s.side, project.WeldFinished, "", "")
		require.NoError(t, err)
		f = apply(t, f, edits...)
	}
	f, err = tick(t, f, "weld-mounts", "")
	require.NoError(t, err)
	assert.Equal(t, Done, jobNamed(t, Run(f.Build), "weld-mounts").State)
	moved := Run(raised(t, f, 0.5).Build)
	assert.Equal(t, ProveAgain, jobNamed(t, moved, "weld-mounts").State)
	assert.Equal(t, []string{"front", "outer"}, moved.Welds[0].Bare)
}

// a declaration does not outvote a number, is no proof, and names
// something.
func TestJudgedElsewhere(t *testing.T) {
	with := func(of string) *Assessment {
		return Run(file(t, string(starter.Demo())+fmt.Sprintf("\n[[elsewhere]]\nof = %q\nby = \"somebody\"\nwhy = \"because\"\n", of)).Build)
	}
	status := func(a *Assessment, id string) Status {
		f, ok := a.Finding(id)
		require.True(t, ok, id)
		return f.Status
	}
	assert.Equal(t, Over, status(with("line.rear.joint.2.max"), "line.rear.joint.2.max"))
	a := with("bracket.left_front")
	for _, id := range []string{"bracket.left_front.fits", "bracket.left_front.weld", "bracket.left_front.rail_plate.edge"} {
		assert.Equal(t, Elsewhere, status(a, id))
	}
	assert.Equal(t, OK, status(a, "bracket.right_front.weld"))
	a = with("line.rear.powertrain.read")
	assert.Contains(t, holding(jobNamed(t, a, "weld-mounts")), "line.rear.powertrain.read", "a word is no proof")
	slip := with("bracket.reer")
	assert.Equal(t, NotKnown, status(slip, "bracket.reer"))
	f, _ := slip.Finding("bracket.reer")
	assert.Contains(t, f.Missing, "did you mean bracket.rear?")
	for _, bad := range []string{"by = \"x\"\nwhy = \"y\"", "of = \"bracket.rear\"\nwhy = \"y\"", "of = \"bracket.rear\"\nby = \"x\"\nwhy = \" \""} {
		_, err := project.Parse("b.toml", []byte("format = 2\n[[elsewhere]]\n"+bad+"\n"))
		require.Error(t, err, bad)
	}
}

// tight frees a tack; a finish weld wants ok, or a reason.
func TestTightHoldsAFinishWeld(t *testing.T) {
	text := string(raised(t, demoFile(t), 2).Bytes()) + `
[[job]]
id = "t"
title = "tack"
hold = ["line.rear.joint.2.max"]
[[job]]
id = "w"
title = "weld"
finish = true
hold = ["line.rear.joint.2.max"]
`
	f := file(t, text)
	got, _ := Run(f.Build).Finding("line.rear.joint.2.max")
	require.Equal(t, Tight, got.Status)
	assert.Equal(t, Open, jobNamed(t, Run(f.Build), "t").State)
	w := jobNamed(t, Run(f.Build), "w")
	assert.Contains(t, holding(w), "line.rear.joint.2.max")
	holds := Run(f.Build).work.LookUp("line.rear.joint.2.max", true)
	require.Len(t, holds, 1)
	assert.Contains(t, holds[0].Text, "a finish weld wants ok, or a reason")
}

// an empty map is no finished map, and an empty table of fasteners holds
// no marks.
func TestNothingEnteredIsNothingDone(t *testing.T) {
	facts := func(text string) map[string]Status {
		out := map[string]Status{}
		for _, f := range Run(file(t, "format = 2\n"+text).Build).Facts {
			out[f.ID] = f.Status
		}
		return out
	}
	for _, id := range []string{"welds.given", "welds.finished", "welds.finished.in", "welds.inspected", "fasteners.marked", "fasteners.recheck",
		"fasteners.recheck.first", "fasteners.recheck.last", "readings.tacked", "readings.welded", "bracket.rear.given"} {
		got := facts("")
		require.Contains(t, got, id)
		assert.Equal(t, NotKnown, got[id], id)
	}
	bolted := facts("[powertrain]\nfixing = \"bolted\"\n")
	assert.Equal(t, OK, bolted["welds.inspected"])
	assert.Equal(t, OK, bolted["readings.welded"])
	assert.Equal(t, NotKnown, bolted["readings.tacked"])
	leg := facts("[powertrain]\nfixing = \"bolted\"\n[mount.left_front.leg]\nsection = \"SHS 50x50x3 cold\"\npad_plate = { thickness = 8 }\n")
	for _, id := range []string{"welds.given", "welds.finished", "welds.finished.in", "welds.inspected", "readings.welded"} {
		assert.Equal(t, NotKnown, leg[id], id)
	}

	bolt := "[[fastener]]\nname = \"a\"\nmarked = true\n"
	got := facts(bolt)
	assert.Equal(t, OK, got["fasteners.marked"])
	assert.Equal(t, NotKnown, got["fasteners.recheck"], "how far it was driven is not known")
	got = facts("[vehicle]\ndriven_km = 60\n" + bolt + "rechecked_km = 55\n")
	assert.Equal(t, OK, got["fasteners.recheck"])
	assert.Equal(t, OK, got["fasteners.recheck.first"])
	assert.Equal(t, NotKnown, got["fasteners.recheck.last"], "500 km are still to come")

	for state, want := range map[string][3]Status{
		"tacked": {OK, NotKnown, NotKnown}, "finished": {OK, OK, NotKnown}, "inspected": {OK, OK, OK},
	} {
		got := facts("[[weld]]\nbracket = \"x\"\nat = \"y\"\nside.a = { state = \"" + state + "\", override = \"a trailer\" }\n")
		assert.Equal(t, want, [3]Status{got["welds.given"], got["welds.finished"], got["welds.inspected"]}, state)
	}
}

// the whole list ticked by hand, with nothing in the file, is not done.
func TestTickedByHandIsNotDone(t *testing.T) {
	f := file(t, "format = 2\n")
	e, n, err := edit.AddJobs(f)
	require.NoError(t, err)
	f = apply(t, f, e)
	g := file(t, strings.ReplaceAll(string(f.Bytes()), "done = false", "done = true"))
	a := Run(g.Build)
	done, total := a.Progress()
	assert.Equal(t, n, total)
	assert.Less(t, done, total/2)
	for _, id := range []string{"weld-in", "weld-out", "inspect-welds", "prove-joints", "prove-final", "first-drive", "torque-mounts", "after-500-bolts", "read-welded"} {
		assert.Equal(t, ProveAgain, jobNamed(t, a, id).State, id)
	}
	for _, j := range a.Jobs {
		if !j.Done {
			t.Fatal("the test is not what it says")
		}
	}
}

// a tick on a plan reopens when the number moved by the stated amount.
func TestPlannedTickReopens(t *testing.T) {
	text := string(starter.Demo())
	before, _, found := strings.Cut(text, "# Read with the powertrain hung")
	require.True(t, found)
	_, after, found := strings.Cut(text, "# The flatbed is driven fast")
	require.True(t, found)
	text = before + "# The flatbed is driven fast" + after
	f := file(t, text+"\n[[job]]\nid = \"p\"\ntitle = \"plan\"\nhold = [\"line.rear.joint.1.max\"]\n[[job]]\nid = \"q\"\ntitle = \"proof\"\nhold = [\"line.rear.joint.1.max@proved\"]\n")
	a := Run(f.Build)
	got, _ := a.Finding("line.rear.joint.1.max")
	require.Equal(t, Planned, got.Basis)
	assert.Equal(t, Held, jobNamed(t, a, "q").State, "a plan is no proof")
	f, err := tick(t, f, "p", "")
	require.NoError(t, err)
	state := func(by float64) Job { return jobNamed(t, Run(raised(t, f, by).Build), "p") }
	assert.Equal(t, Done, state(1).State)
	assert.Equal(t, ProveAgain, state(4).State)
	assert.Contains(t, state(4).Broken[0], "more than a plan may, 0.10°")
}

// emptied needs and holds of a built-in step show; a slip in a hold holds,
// with "?" behind it as well, and names what was probably meant.
func TestLoosenedStepsShow(t *testing.T) {
	f := demoFile(t)
	j := jobNamed(t, Run(f.Build), "weld-mounts")
	assert.Empty(t, Run(f.Build).Changed(j))
	f = apply(t, f, edit.Edit{Op: edit.OpSet, Path: fmt.Sprintf("job[%d].needs", j.Index), Text: "[]"},
		edit.Edit{Op: edit.OpSet, Path: fmt.Sprintf("job[%d].hold", j.Index), Text: "[]"})
	a := Run(f.Build)
	j = jobNamed(t, a, "weld-mounts")
	changed := strings.Join(a.Changed(j), "\n")
	assert.Contains(t, changed, "Read all three angles again after tacking")
	assert.Contains(t, changed, "welds that can be reached")
	assert.Contains(t, holding(j), "line.rear.joint.1.max", "proof cannot be taken out, only overridden")

	for _, c := range []struct{ hold, want string }{
		{"line.rear.joint.1.mux?", "did you mean line.rear.joint.1.max?"}, {"line.*.joint.*.mux", "did you mean line.rear.joint.1.max?"},
		{"weld.left-front.foot-to-rial", "did you mean weld.left-front.foot-to-rail?"}, {"nonsense?", "no finding is called nonsense"},
	} {
		f := file(t, string(starter.Demo())+"\n[[job]]\nid = \"p\"\ntitle = \"plan\"\nhold = [\""+c.hold+"\"]\n")
		j := jobNamed(t, Run(f.Build), "p")
		assert.Equal(t, Held, j.State, c.hold)
		assert.Contains(t, j.Holds[0].Text, c.want)
	}
	f = file(t, "format = 2\n[[job]]\nid = \"p\"\ntitle = \"plan\"\nhold = [\"line.*.shaft.*.torque?\"]\n")
	assert.Equal(t, Open, Run(f.Build).Jobs[0].State, "some build has it, this one has not")
}

// on random graphs of jobs a step that has to be proved again holds every
// open step that rests on it and marks the done ones, at any distance; what
// does not rest on it is left alone.
func TestProofReachesThroughNeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 14).Draw(t, "jobs")
		broken := map[int]bool{}
		var text strings.Builder
		text.WriteString("format = 2\n[limits]\n[[fastener]]\nname = \"f\"\nmarked = false\n")
		done := make([]bool, n)
		for i := range n {
			done[i] = rapid.Bool().Draw(t, "done")
			fmt.Fprintf(&text, "[[job]]\nid = \"j%d\"\ntitle = \"job %d\"\ndone = %v\n", i, i, done[i])
			var needs []string
			for k := range i {
				if rapid.IntRange(0, 3).Draw(t, "needs") == 0 {
					needs = append(needs, fmt.Sprintf("%q", fmt.Sprintf("j%d", k)))
				}
			}
			fmt.Fprintf(&text, "needs = [%s]\n", strings.Join(needs, ", "))
			if done[i] && rapid.IntRange(0, 2).Draw(t, "broken") == 0 {
				broken[i] = true
				text.WriteString("hold = [\"fasteners.marked\"]\n")
			}
		}
		f := file(t, text.String())
		below := needsOf(f.Build)
		for i, j := range Run(f.Build).Jobs {
			shaky := false
			for k := range broken {
				shaky = shaky || below[j.ID][fmt.Sprintf("j%d", k)]
			}
			direct := slices.ContainsFunc(j.Needs, func(id string) bool {
				var k int
				_, _ = fmt.Sscanf(id, "j%d", &k)
				return !done[k]
			})
			want := Open
			switch {
			case broken[i]:
				want = ProveAgain
			case done[i] && shaky:
				want = InDoubt
			case done[i]:
				want = Done
			case shaky || direct:
				want = Held
			}
			require.Equal(t, want, j.State, "%s\n%s", j.ID, text.String())
			if shaky && !done[i] {
				require.True(t, j.Held)
			}
		}
	})
}

// no path gets a finish weld done, or a side of the map past tacked,
// on a finding that is unproved, over or not known without a reason in the
// file: not ticking, not the weld map, not a hand edit, not undo.
func TestNoWeldWithoutProofOrReason(t *testing.T) {
	starts := []string{unsurveyed(t), string(proved(t, file(t, unsurveyed(t))).Bytes()), string(starter.New())}
	rapid.Check(t, func(t *rapid.T) {
		h := edit.NewHistory(file(t, rapid.SampledFrom(starts).Draw(t, "start")))
		a := Run(h.Now().Build)
		for range rapid.IntRange(1, 6).Draw(t, "steps") {
			f := h.Now()
			weld := slices.IndexFunc(a.Jobs, func(j Job) bool { return j.Finish })
			reason := rapid.SampledFrom([]string{"", " ", "because"}).Draw(t, "reason")
			var edits []edit.Edit
			switch what := rapid.SampledFrom([]string{"tick", "tick any", "hand", "side", "side by hand", "undo", "redo", "nudge", "needs", "hold", "finish", "untick"}).Draw(t, "what"); what {
			case "tick", "tick any":
				i := weld
				if what == "tick any" {
					i = rapid.IntRange(0, len(a.Jobs)-1).Draw(t, "job")
				}
				if rec, err := a.Tick(i, reason); err == nil {
					edits = edit.TickJob(f, i, rec)
				}
			case "hand":
				edits = []edit.Edit{{Op: edit.OpSet, Path: fmt.Sprintf("job[%d].done", weld), Text: "true"}}
			case "untick":
				edits = edit.UntickJob(f, weld)
			case "side", "side by hand":
				if len(a.Welds) == 0 {
					continue
				}
				side := rapid.SampledFrom([]string{"front", "outer", "rear"}).Draw(t, "side")
				edits = []edit.Edit{{Op: edit.OpSet, Path: "weld[0].side." + side + ".state", Text: `"finished"`}}
				if what == "side" {
					edits, _ = a.WeldSide(0, side, project.WeldFinished, reason, "")
				}
			case "undo":
				h.Undo()
			case "redo":
				h.Redo()
			case "nudge":
				row, _ := project.RowNamed("placement.rear")
				if !f.Build.Placement.Rear.Known() {
					continue
				}
				edits, _ = edit.MoveRow(f, row.Row, f.Build.Placement.Rear.V()+rapid.Float64Range(-6, 6).Draw(t, "by"))
			case "needs", "hold":
				edits = []edit.Edit{{Op: edit.OpSet, Path: fmt.Sprintf("job[%d].%s", weld, what), Text: "[]"}}
			case "finish":
				edits = []edit.Edit{{Op: edit.OpSet, Path: fmt.Sprintf("job[%d].finish", weld), Text: "false"}}
			}
			if len(edits) > 0 {
				_ = h.Do("x", edits...)
			}
			if h.Now() != f {
				a = Again(a, h.Now().Build)
			}
			noBareWeld(t, a)
		}
	})
}

// noBareWeld looks at the findings themselves, not at the holds.
func noBareWeld(t require.TestingT, a *Assessment) {
	bad := ""
	for _, f := range a.Findings {
		reads := strings.HasSuffix(f.ID, ".powertrain.read") || strings.HasSuffix(f.ID, ".pinion.read")
		joints := strings.HasPrefix(f.ID, "line.rear.joint.") && strings.HasSuffix(f.ID, ".max")
		switch {
		case (reads || joints) && (f.Basis != Proved || f.Moved || f.Status == Over || f.Status == NotKnown):
			bad = f.ID
		case strings.HasPrefix(f.ID, "bracket.") && !f.OfFinished && (f.Status == Over || f.Status == NotKnown):
			bad = f.ID
		}
	}
	if bad == "" {
		return
	}
	for _, j := range a.Jobs {
		if j.Finish && j.State == Done {
			require.NotEmpty(t, strings.TrimSpace(j.Override), "%s is done although %s", j.ID, bad)
		}
	}
	for _, w := range a.Welds {
		for _, s := range w.Sides {
			if s.Carries() && strings.TrimSpace(s.Override) == "" {
				require.Contains(t, w.Bare, s.Name, bad)
			}
		}
	}
}

// "Done up to here" does not tick past what has to be proved again, also where
// a job in between was ticked with a reason.
func TestUpToStopsAtBrokenProof(t *testing.T) {
	f := file(t, `format = 3
[[fastener]]
name = "f"
[[job]]
id = "a"
title = "proof"
done = true
hold = ["fasteners.marked"]
[[job]]
id = "b"
title = "between"
needs = ["a"]
done = true
override = "because"
[[job]]
id = "c"
title = "behind"
needs = ["b"]
`)
	a := Run(f.Build)
	require.Equal(t, []JobState{ProveAgain, Done, Held}, []JobState{a.Jobs[0].State, a.Jobs[1].State, a.Jobs[2].State})
	ticks, left := a.UpTo(2)
	assert.Empty(t, ticks)
	assert.Len(t, left, 2)
}
