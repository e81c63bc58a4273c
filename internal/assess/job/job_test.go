package job

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// of is what the jobs of a text come to with these findings and facts.
func of(t *testing.T, text string, findings []finding.Finding, facts ...finding.Fact) (Result, *project.Build) {
	t.Helper()
	f, err := project.Parse("test.toml", []byte("format = 3\n"+text))
	require.NoError(t, err)
	return Judge(Input{Build: f.Build, Findings: findings, Facts: facts}), f.Build
}

func named(t *testing.T, r Result, id string) Job {
	t.Helper()
	for _, j := range r.Jobs {
		if j.ID == id {
			return j
		}
	}
	require.Fail(t, "no job "+id)
	return Job{}
}

// angle is a finding on joint 1 with a value in degrees.
func angle(status finding.Status, basis finding.Basis, degrees float64) finding.Finding {
	v, err := quantity.Parse(quantity.Angle, "1 deg", quantity.Metric())
	if err != nil {
		panic(err)
	}
	return finding.Finding{ID: finding.JointMax("rear", 1), Title: "joint 1", Kind: quantity.Angle, Status: status, Basis: basis,
		HasValue: status != finding.NotKnown, Value: v * degrees, Uncertainty: v * 0.1}
}

// Whether a status keeps a job from being ticked, by what is asked of it: "@proved"
// wants readings taken afterwards where the powertrain still hangs, a finish weld
// wants ok, and what judges the finished work does not hold it.
func TestWhatHolds(t *testing.T) {
	const plain, proved, finish = "joint", "proved", "finish"
	finished := angle(finding.Over, finding.Read, 3)
	finished.OfFinished = true
	moved := angle(finding.OK, finding.Proved, 3)
	moved.Moved = true
	elsewhere := angle(finding.Elsewhere, finding.Planned, 3)
	elsewhere.Elsewhere = "the maker"
	for name, c := range map[string]struct {
		f    finding.Finding
		held map[string]bool
	}{
		"ok, planned": {angle(finding.OK, finding.Planned, 3), map[string]bool{proved: true}},
		"ok, read":    {angle(finding.OK, finding.Read, 3), map[string]bool{proved: true}},
		"ok, proved":  {angle(finding.OK, finding.Proved, 3), nil},
		"moved since": {moved, map[string]bool{proved: true}},
		"tight":       {angle(finding.Tight, finding.Proved, 3), map[string]bool{finish: true}},
		"over":        {angle(finding.Over, finding.Proved, 3), map[string]bool{plain: true, proved: true, finish: true}},
		"not known":   {angle(finding.NotKnown, finding.Proved, 3), map[string]bool{plain: true, proved: true, finish: true}},
		"elsewhere":   {elsewhere, map[string]bool{proved: true}},
		"finished":    {finished, map[string]bool{plain: true, proved: true}},
	} {
		r, _ := of(t, "", []finding.Finding{c.f})
		for what, got := range map[string][]Hold{
			plain:  r.LookUp("line.*.joint.*.max", false),
			proved: r.LookUp("line.rear.joint.1.max@proved", false),
			finish: r.LookUp("line.rear.joint.1.**?", true),
		} {
			held := false
			for _, h := range got {
				held = held || h.Holds()
			}
			assert.Equal(t, c.held[what], held, "%s, %s", name, what)
		}
	}
}

// A finding that two holds name holds as the stricter has it.
func TestTheStricterHoldCounts(t *testing.T) {
	for _, hold := range []string{`["line.rear.joint.1.max", "line.*.joint.*.max@proved"]`, `["line.*.joint.*.max@proved", "line.rear.joint.1.max"]`} {
		r, _ := of(t, "[[job]]\nid = \"a\"\ntitle = \"a\"\nhold = "+hold+"\n", []finding.Finding{angle(finding.OK, finding.Read, 3)})
		j := named(t, r, "a")
		assert.Equal(t, Held, j.State, hold)
		require.Len(t, j.Holds, 1, hold)
		assert.Contains(t, j.Holds[0].Text, "not proved")
	}
}

// What a hold names and this build has not holds, unless "?" lets it pass; a slip
// holds even then, and says what was probably meant.
func TestWhatIsNotThere(t *testing.T) {
	r, _ := of(t, "", []finding.Finding{angle(finding.OK, finding.Read, 3)})
	assert.Empty(t, r.LookUp("mount.*.lifts?", false))
	none := r.LookUp("mount.*.lifts", false)
	require.Len(t, none, 1)
	assert.True(t, none[0].Holds())
	assert.Equal(t, "this build has no finding mount.*.lifts", none[0].Text)
	slip := r.LookUp("line.rear.joint.1.mux?", false)
	require.Len(t, slip, 1)
	assert.True(t, slip[0].Holds())
	assert.Contains(t, slip[0].Text, "did you mean line.rear.joint.1.max?")
	assert.Contains(t, r.NoSuch("line.rear.joint.1.mux?"), "no finding is called")
	assert.Empty(t, r.NoSuch("mount.*.lifts"))
	assert.Empty(t, r.NoSuch("line.rear.joint.1.max@proved"))
}

const ticked = `[[job]]
id = "a"
title = "a"
hold = ["line.rear.joint.1.max"]
done = true
`

// A ticked job is proved again when what it relied on has got worse, has moved by
// more than both uncertainties, or is proved no more. By hand: 3° ± 0.1° then.
func TestWhatBreaks(t *testing.T) {
	relied := func(status, basis string) string {
		return ticked + "relied = [{ finding = \"line.rear.joint.1.max\", status = \"" + status + "\", basis = \"" + basis + "\", value = \"3 deg\", plus_minus = \"0.2 deg\" }]\n"
	}
	wide := angle(finding.OK, finding.Read, 3.3)
	wide.Uncertainty *= 4
	for name, c := range map[string]struct {
		text string
		now  finding.Finding
		want string
	}{
		"as it was":         {relied("ok", "read"), angle(finding.OK, finding.Read, 3), ""},
		"within its ±":      {relied("ok", "read"), angle(finding.OK, finding.Read, 3.19), ""},
		"past its ±":        {relied("ok", "read"), angle(finding.OK, finding.Read, 2.79), "moved by 0.21° since"},
		"over":              {relied("ok", "read"), angle(finding.Over, finding.Read, 3), "joint 1 is over; it was ok"},
		"not known":         {relied("ok", "read"), angle(finding.NotKnown, finding.Read, 3), "not known; it was ok"},
		"proved no more":    {relied("ok", "proved"), angle(finding.OK, finding.Read, 3), "was proved and is only read now"},
		"accepted":          {relied("over", "read") + "override = \"a trailer\"\n", angle(finding.Over, finding.Read, 3), ""},
		"accepted, worse":   {relied("tight", "read") + "override = \"a trailer\"\n", angle(finding.Over, finding.Read, 3), "it was tight"},
		"accepted, moved":   {relied("over", "read") + "override = \"a trailer\"\n", angle(finding.Over, finding.Read, 3.3), "moved by 0.30° since"},
		"plan, a little":    {relied("ok", "planned"), angle(finding.OK, finding.Planned, 3.2), ""},
		"a wider ± now":     {relied("ok", "read"), wide, ""},
		"accepted, unknown": {relied("not known", "read") + "override = \"a trailer\"\n", angle(finding.Over, finding.Read, 3), "it was not known"},
		"nothing relied on": {ticked, angle(finding.OK, finding.Planned, 9), ""},
	} {
		r, _ := of(t, c.text, []finding.Finding{c.now})
		j := named(t, r, "a")
		if c.want == "" {
			assert.Equal(t, Done, j.State, "%s: %v", name, j.Broken)
			continue
		}
		assert.Equal(t, ProveAgain, j.State, name)
		require.Len(t, j.Broken, 1, name)
		assert.Contains(t, j.Broken[0], c.want, name)
	}
	r, b := of(t, relied("ok", "planned"), nil)
	may := b.Limit("plan_moved").Value
	deg := angle(finding.OK, finding.Planned, 1).Value
	past := angle(finding.OK, finding.Planned, 3)
	past.Value += max(may, 0.2*deg) * 1.01
	assert.Equal(t, ProveAgain, named(t, r, "a").State, "a finding that is gone")
	r, _ = of(t, relied("ok", "planned"), []finding.Finding{past})
	assert.Equal(t, ProveAgain, named(t, r, "a").State, "a plan that moved further than it may")
	assert.InDelta(t, 0.05*8, (&Result{build: b}).planMoved(finding.Finding{Kind: quantity.Force, Limit: -8}), 1e-12)
	assert.Equal(t, b.Limit("plan_moved_length").Value, (&Result{build: b}).planMoved(finding.Finding{Kind: quantity.Offset}))
}

// What has to be proved again holds all that rests on it and puts what is done in
// doubt, at any distance; what is not done holds what needs it, and a finish weld
// through what is done as well.
func TestWhatRestsOnWhat(t *testing.T) {
	chain := func(first string) string {
		return first + `
[[job]]
id = "b"
title = "b"
needs = ["a"]
done = true
[[job]]
id = "c"
title = "c"
needs = ["b"]
[[job]]
id = "w"
title = "w"
needs = ["b"]
finish = true
hold = []
`
	}
	r, _ := of(t, chain(ticked), []finding.Finding{angle(finding.Over, finding.Read, 3)})
	assert.Equal(t, []State{ProveAgain, InDoubt, Held}, []State{named(t, r, "a").State, named(t, r, "b").State, named(t, r, "c").State})
	assert.Equal(t, []string{"prove again first: a"}, named(t, r, "b").Doubts)
	assert.Equal(t, "rests on what has to be proved again: a", named(t, r, "c").Holds[0].Text)
	done, total := r.Progress()
	assert.Equal(t, []int{0, 4}, []int{done, total})

	r, _ = of(t, chain("[[job]]\nid = \"a\"\ntitle = \"a\"\n"), nil)
	assert.Equal(t, []State{Open, Done, Open}, []State{named(t, r, "a").State, named(t, r, "b").State, named(t, r, "c").State})
	assert.Contains(t, texts(named(t, r, "w").Holds), "rests on what is not done: a")
	assert.Equal(t, []Stage{{Total: 4, Done: 1}}, r.Stages())
}

func texts(hs []Hold) []string {
	var out []string
	for _, h := range hs {
		out = append(out, h.Text)
	}
	return out
}

// A tick records what it relied on as it is now, and what was proved elsewhere as
// merely read.
func TestTick(t *testing.T) {
	const open = "[[job]]\nid = \"a\"\ntitle = \"a\"\nhold = [\"line.rear.joint.1.max\"]\n"
	proof := angle(finding.OK, finding.Proved, 3)
	r, _ := of(t, open, []finding.Finding{proof})
	tick, err := r.Tick(0, "no reason is wanted")
	require.NoError(t, err)
	assert.True(t, tick.Place, "a proof is stamped with its place")
	assert.Empty(t, tick.Override)
	want := project.Relied{Finding: "line.rear.joint.1.max", Status: "ok", Basis: "proved", Value: tick.Relied[0].Value, PlusMinus: tick.Relied[0].PlusMinus}
	assert.Equal(t, []project.Relied{want}, tick.Relied)
	for text, v := range map[string]float64{want.Value: proof.Value, want.PlusMinus: proof.Uncertainty} {
		got, err := quantity.Parse(quantity.Angle, text, quantity.Metric())
		require.NoError(t, err)
		assert.InDelta(t, v, got, 1e-7)
	}
	proof.Moved = true
	r, _ = of(t, open, []finding.Finding{proof})
	tick, err = r.Tick(0, "")
	require.NoError(t, err)
	assert.False(t, tick.Place)
	assert.Equal(t, "read", tick.Relied[0].Basis)

	r, _ = of(t, open, []finding.Finding{angle(finding.Over, finding.Read, 3)})
	_, err = r.Tick(0, "  ")
	var held *ErrHeld
	require.ErrorAs(t, err, &held)
	assert.Equal(t, "joint 1 is over", err.Error())
	tick, err = r.Tick(0, " a trailer ")
	require.NoError(t, err)
	assert.Equal(t, "a trailer", tick.Override)
}

// The engine-out list has what is open of jobs, welds and fasteners, and is a fact
// that the job of putting the powertrain in waits for.
func TestEngineOutList(t *testing.T) {
	text := `[powertrain]
standing = "out"
[[job]]
id = "in"
title = "in"
hold = ["engine_out.open"]
[[job]]
id = "paint"
title = "paint"
out = true
[[weld]]
bracket = "left"
at = "foot"
side.rear = { state = "tacked", out = true }
side.front = { state = "tacked" }
side.top = { state = "finished", out = true }
[[fastener]]
name = "bell housing"
out = true
[[fastener]]
name = "sump"
out = true
marked = true
`
	r, _ := of(t, text, nil)
	var kinds []OutKind
	for _, it := range r.EngineOut {
		kinds = append(kinds, it.Kind)
	}
	assert.Equal(t, []OutKind{OutJob, OutWeld, OutFastener}, kinds)
	assert.Equal(t, "rear", r.EngineOut[1].Side)
	assert.Equal(t, finding.Over, r.Fact.Status)
	assert.Equal(t, Held, named(t, r, "in").State)
	assert.Equal(t, Open, named(t, r, "paint").State)
	assert.True(t, r.Out())

	r, _ = of(t, "[powertrain]\nstanding = \"in\"\n"+text[len("[powertrain]\nstanding = \"out\"\n"):], nil)
	assert.Equal(t, Held, named(t, r, "paint").State, "it is out of reach")
	assert.False(t, r.Out())
	r, _ = of(t, "[[job]]\nid = \"in\"\ntitle = \"in\"\nhold = [\"engine_out.open\"]\n", nil)
	assert.Equal(t, finding.OK, r.Fact.Status)
	assert.Equal(t, Open, named(t, r, "in").State)
}

// What Judge hands on is read by many: asking writes nothing.
func TestDoorsWriteNothing(t *testing.T) {
	r, _ := of(t, ticked, []finding.Finding{angle(finding.Over, finding.Read, 3)}, finding.Fact{ID: "weld.a.b", Status: finding.NotKnown})
	assert.Nil(t, r.grounds.looked)
	r.LookUp("weld.**", true)
	assert.Nil(t, r.grounds.looked)
	facts := len(r.grounds.facts)
	assert.Equal(t, 2, facts, "the engine-out list is one of them")
}

// A side of a weld goes past tacked with proof or a reason, and is inspected by
// somebody once it is finished; jobs of finish welding that are open behind the
// powertrain do not hold a side that can be reached.
func TestWeldSide(t *testing.T) {
	const text = `[powertrain]
standing = "in"
[line.rear.pinion]
[[job]]
id = "w"
title = "w"
finish = true
out = true
hold = ["fasteners.marked"]
[[weld]]
bracket = "left"
at = "foot"
side.front = { state = "tacked" }
side.rear = { state = "tacked", out = true }
side.top = { state = "finished", override = "a trailer" }
`
	unproved, b := of(t, text, []finding.Finding{angle(finding.OK, finding.Read, 3)})
	require.NotEmpty(t, b.Proof())
	_, err := unproved.WeldSide(0, "front", project.WeldFinished, "", "")
	var held *ErrHeld
	require.ErrorAs(t, err, &held)
	edits, err := unproved.WeldSide(0, "front", project.WeldFinished, " a trailer ", "")
	require.NoError(t, err)
	require.Len(t, edits, 2)
	assert.Equal(t, []string{"weld[0].side.front.state", "weld[0].side.front.override"}, []string{edits[0].Path, edits[1].Path})
	for _, h := range unproved.WeldHolds(0, "front") {
		assert.NotEqual(t, "fasteners.marked", h.ID, "it holds what is behind the powertrain")
		assert.NotEqual(t, standingID, h.ID)
	}
	behind := map[string]bool{}
	for _, h := range unproved.WeldHolds(0, "rear") {
		behind[h.ID] = true
	}
	assert.True(t, behind["fasteners.marked"] && behind[standingID])

	_, err = unproved.WeldSide(0, "front", project.Inspected, "", "me")
	require.ErrorContains(t, err, "inspected once it is finished")
	_, err = unproved.WeldSide(0, "top", project.Inspected, "", " ")
	require.ErrorContains(t, err, "wants a name")
	edits, err = unproved.WeldSide(0, "top", project.Inspected, "", "me")
	require.NoError(t, err)
	assert.Equal(t, "weld[0].side.top.inspected_by", edits[1].Path)
	edits, err = unproved.WeldSide(0, "top", project.WeldTacked, "", "")
	require.NoError(t, err)
	assert.Equal(t, "weld[0].side.top.override", edits[1].Path, "the reason goes with the weld")
	_, err = unproved.WeldSide(0, "bottom", project.WeldTacked, "", "")
	require.ErrorContains(t, err, "no bottom side")
	_, err = unproved.WeldSide(7, "front", project.WeldTacked, "", "")
	require.Error(t, err)
}

// What is looked up by the first part of ids is what is found among all.
func TestFindingsByTheFirstPart(t *testing.T) {
	var in Input
	for _, id := range []string{"line.rear.joint.1", "line.rear", "line", "bracket.rear.leg", "bracket.rear.use", "bracket.left.use", "lines.x", "clearance.frame", "**"} {
		in.Findings = append(in.Findings, finding.Finding{ID: id, Group: map[string]string{"bracket.left.use": finding.RoomTowers, "clearance.frame": finding.RoomTowers}[id]})
	}
	plain := in.grounds()
	byFirst := in.grounds().remembering()
	named := func(g *grounds, pattern string) (ids []string) {
		g.each(pattern, func(f *finding.Finding) { ids = append(ids, f.ID) })
		return ids
	}
	for pattern, want := range map[string]int{
		"**": 9, "*": 2, "*.rear": 1, "line.**": 2, "line.*": 1, "bracket.*.use": 2, "bracket.rear.*": 2, "bracket.**": 3,
		"line": 1, "none.**": 0, finding.RoomTowers: 2, "room.*": 0, "": 0,
	} {
		got := named(&byFirst, pattern)
		assert.Equal(t, named(&plain, pattern), got, pattern)
		assert.Len(t, got, want, pattern)
	}
}
