package assess

import (
	"fitup/internal/project/example"
	"fmt"
	"strings"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func build(t testing.TB, text string) *project.Build {
	t.Helper()
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return f.Build
}

func findingOf(t testing.TB, a *Assessment, id string) Finding {
	t.Helper()
	f, ok := a.Finding(id)
	require.True(t, ok, id)
	return f
}

func deg(v float64) float64 { return geom.Angle(v).Degrees() }

// Common practice, no source: a face square to the axis reads what is left to
// 90°; the joints work at the differences of the slopes.
func TestThreeReadings(t *testing.T) {
	a := Run(build(t, example.Three("rear", "rear", "rear")))
	for id, want := range map[string]float64{
		"line.rear.powertrain.read":  4.4,
		"line.rear.shaft.1.read":     2.4,
		"line.rear.pinion.read":      4.8,
		"line.rear.joint.1.min":      2.0,
		"line.rear.joint.1.max":      2.0,
		"line.rear.joint.2.min":      2.4,
		"line.rear.joint.2.max":      2.4,
		"line.rear.shaft.1.mismatch": 0.4,
		"line.rear.equivalent":       1.326901, // √(2.4²-2²) by the small-angle rule
	} {
		f := findingOf(t, a, id)
		assert.Equal(t, OK, f.Status, id)
		assert.Equal(t, Read, f.Basis, id)
		tolerance := 1e-9
		if id == "line.rear.equivalent" {
			tolerance = 1e-3
		}
		assert.InDelta(t, want, deg(f.Value), tolerance, id)
	}
	assert.Len(t, a.Findings, 9)
}

func TestPinionTheOtherWay(t *testing.T) {
	a := Run(build(t, example.Three("rear", "rear", "front")))
	assert.Equal(t, OK, findingOf(t, a, "line.rear.joint.1.max").Status)
	assert.InDelta(t, 2.0, deg(findingOf(t, a, "line.rear.joint.1.max").Value), 1e-9)
	f := findingOf(t, a, "line.rear.joint.2.max")
	assert.Equal(t, Over, f.Status)
	assert.InDelta(t, 7.2, deg(f.Value), 1e-9)
	assert.InDelta(t, -4.2, deg(f.Margin), 1e-9)
	f = findingOf(t, a, "line.rear.shaft.1.mismatch")
	assert.Equal(t, Over, f.Status)
	assert.InDelta(t, 5.2, deg(f.Value), 1e-9)
}

func TestNoDirectionIsAskedFor(t *testing.T) {
	a := Run(build(t, example.Three("rear", "rear", "")))
	assert.Equal(t, OK, findingOf(t, a, "line.rear.joint.1.max").Status)
	for _, id := range []string{"line.rear.joint.2.min", "line.rear.joint.2.max", "line.rear.shaft.1.mismatch", "line.rear.pinion.read"} {
		f := findingOf(t, a, id)
		assert.Equal(t, NotKnown, f.Status, id)
		assert.False(t, f.HasValue, id)
		assert.Contains(t, f.Missing, "which end is lower", id)
		assert.Contains(t, f.Advice(), "which end is lower", id)
	}
}

// JCGM 100:2008, 4.3.7 and 5.2, for a ±0.1° gauge. Where both joints bend the
// same way the shared shaft reading counts twice in their difference; where
// they bend opposite ways, as engine and pinion nearly parallel do, it drops
// out.
func TestUncertaintyOfThreeReadings(t *testing.T) {
	u := func(m Number) float64 { return deg(m.U()) }
	opposite := Run(build(t, example.Three("rear", "rear", "rear"))).Lines[0]
	assert.InDelta(t, 0.0577350, u(opposite.Axes[0].Read), 1e-7)
	assert.InDelta(t, 0.0816497, u(opposite.Joints[0].Read), 5e-6)
	assert.InDelta(t, 0.0816497, u(opposite.Joints[1].Read), 5e-6)
	assert.InDelta(t, 0.0816497, u(opposite.Shafts[0].MismatchRead), 5e-6)

	same := Run(build(t, example.Three("rear", "rear", "front"))).Lines[0]
	assert.InDelta(t, 0.1414214, u(same.Shafts[0].MismatchRead), 5e-6)
}

func TestTightWhenUncertaintyReachesAcross(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[limits]\n"
	for limit, want := range map[string]Status{
		"2.6 deg": OK,    // margin 0.2 against 0.163
		"2.5 deg": Tight, // margin 0.1
		"2.4 deg": Tight, // met exactly
		"2.3 deg": Over,
	} {
		f := findingOf(t, Run(build(t, text+fmt.Sprintf("joint_max = %q\n", limit))), "line.rear.joint.2.max")
		assert.Equal(t, want, f.Status, limit)
		assert.True(t, f.Changed, limit)
		assert.Equal(t, "changed in this build's file", f.Source)
	}
}

func TestNothingKnownIsNeverOK(t *testing.T) {
	a := Run(build(t, "format = 1\n[line.rear.pinion]\n"))
	require.NotEmpty(t, a.Findings)
	for _, f := range a.Findings {
		assert.Equal(t, NotKnown, f.Status, f.ID)
		assert.NotEmpty(t, f.Missing, f.ID)
	}
	w, ok := a.Worst()
	require.True(t, ok)
	assert.Equal(t, NotKnown, w.Status)
	assert.Empty(t, a.Watchable())
	assert.Empty(t, Run(build(t, "format = 1\n")).Findings)
}

// A nudge after a reading carries the reading along by what the model says has
// changed, and says so.
func TestReadingIsCarriedWhenThePowertrainMoves(t *testing.T) {
	read := `
[[reading]]
of = "powertrain"
on = "along"
shown = "1 deg"
lower = "rear"
placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }
[[reading]]
of = "line.rear.shaft.1"
on = "along"
shown = "2 deg"
lower = "rear"
placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }
[limits]
plan_gap = "5 deg"
`
	still := Run(build(t, example.TwoEnds+read)).Lines[0]
	assert.False(t, still.Joints[0].Moved)
	assert.InDelta(t, 1, deg(still.Joints[0].Read.V), 1e-9)

	f, err := project.Parse("test.toml", []byte(example.TwoEnds+read))
	require.NoError(t, err)
	edits, err := edit.MoveRow(f, 2, 10) // the rear up by 10 mm
	require.NoError(t, err)
	g, err := edit.Apply(f, edits...)
	require.NoError(t, err)
	a := Run(g.Build)
	moved := a.Lines[0]
	assert.True(t, moved.Joints[0].Moved)
	turned := deg(moved.Axes[0].Planned.V)
	assert.InDelta(t, -0.458371, turned, 1e-6)
	assert.InDelta(t, 1+turned, deg(moved.Axes[0].Read.V), 1e-9)
	assert.InDelta(t, 1, deg(moved.Axes[0].Raw.V), 1e-9)
	assert.Contains(t, findingOf(t, a, "line.rear.joint.1.max").Advice(), "read again")
}

func TestProvedNeedsEveryReadingProved(t *testing.T) {
	text := strings.Replace(example.Three("rear", "rear", "rear"), `shown = "85.6 deg"`, "shown = \"85.6 deg\"\nafter = \"tacked\"", 1)
	a := Run(build(t, text))
	assert.Equal(t, Proved, findingOf(t, a, "line.rear.powertrain.read").Basis)
	assert.Equal(t, Read, findingOf(t, a, "line.rear.joint.1.max").Basis)
	text = strings.Replace(text, `shown = "2.4 deg"`, "shown = \"2.4 deg\"\nafter = \"welded\"", 1)
	assert.Equal(t, Proved, findingOf(t, Run(build(t, text)), "line.rear.joint.1.max").Basis)
}

// An effect is what the assessment really says after the step.
func TestEffectsAreTheRealThing(t *testing.T) {
	f, err := project.Parse("demo.toml", starter.Demo())
	require.NoError(t, err)
	a := Run(f.Build)
	step := Step{Length: 0.5, Angle: (0.05 * geom.Deg).Rad()}
	effects := a.Effects("line.rear.joint.2.max", step)
	require.Len(t, effects, len(a.Rows))
	before := findingOf(t, a, "line.rear.joint.2.max")
	for _, row := range a.Rows {
		edits, err := edit.MoveRow(f, row.Row, row.Now.V+step.For(row.Kind))
		require.NoError(t, err)
		g, err := edit.Apply(f, edits...)
		require.NoError(t, err)
		after := findingOf(t, Run(g.Build), "line.rear.joint.2.max")
		assert.InDelta(t, after.Value-before.Value, effects[row.Row].Change.V, 1e-9, row.Name)
		assert.Equal(t, after.Status, effects[row.Row].To, row.Name)
	}
	assert.Empty(t, a.Effects("no.such.finding", step))
}

func TestJobsAreHeldByFindings(t *testing.T) {
	text := example.Three("rear", "rear", "front") + `
[[job]]
id = "a"
title = "weld"
hold = ["line.rear.joint.2.max"]
[[job]]
id = "b"
title = "measure"
hold = ["line.rear.joint.1.max"]
[[job]]
id = "c"
title = "something else"
hold = ["no.such.finding"]
done = true
`
	a := Run(build(t, text))
	assert.True(t, a.Jobs[0].Held)
	assert.False(t, a.Jobs[1].Held)
	assert.True(t, a.Jobs[2].Held, "an unknown finding is not ok")
	assert.Equal(t, ProveAgain, a.Jobs[2].State)
	done, total := a.Progress()
	assert.Equal(t, [2]int{0, 3}, [2]int{done, total}, "what has to be proved again is not done")
}

func TestValuesAreUniqueAndFinite(t *testing.T) {
	a := Run(func() *project.Build {
		f, err := project.Parse("demo.toml", starter.Demo())
		require.NoError(t, err)
		return f.Build
	}())
	seen := map[string]bool{}
	for _, v := range a.Values() {
		assert.False(t, seen[v.Name], "twice: %s", v.Name)
		seen[v.Name] = true
		assert.True(t, geom.Finite(v.V), v.Name)
	}
	for _, want := range []string{"placement.tilt", "output.height", "line.rear.joint.1.angle.planned", "line.rear.joint.1.angle.read", "line.rear.shaft.1.length"} {
		assert.True(t, seen[want], want)
	}
}

func TestChanges(t *testing.T) {
	before := Run(build(t, example.Three("rear", "rear", "rear")))
	now := Run(build(t, example.Three("rear", "rear", "front")))
	ids := []string{}
	for _, c := range Changes(before, now) {
		ids = append(ids, c.Finding.ID)
		assert.Equal(t, OK, c.From)
	}
	assert.Equal(t, []string{"line.rear.joint.2.max", "line.rear.shaft.1.mismatch", "line.rear.equivalent"}, ids)
	assert.Empty(t, Changes(now, now))
}

func BenchmarkRun(b *testing.B) {
	f, err := project.Parse("demo.toml", starter.Demo())
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		Run(f.Build)
	}
}

func BenchmarkNudge(b *testing.B) {
	f, err := project.Parse("demo.toml", starter.Demo())
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		edits, err := edit.MoveRow(f, 2, -280)
		if err != nil {
			b.Fatal(err)
		}
		g, err := edit.Apply(f, edits...)
		if err != nil {
			b.Fatal(err)
		}
		Run(g.Build)
	}
}
