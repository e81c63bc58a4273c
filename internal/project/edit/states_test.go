package edit

import (
	"os"
	"strings"
	"testing"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func demoFile(t require.TestingT) *project.File {
	src, err := os.ReadFile("../../../testdata/old/format1-demo.toml") // it never changes
	require.NoError(t, err)
	f, err := project.Parse("demo.toml", src)
	require.NoError(t, err)
	return f
}

func edited(t *testing.T, f *project.File, pairs ...string) *project.File {
	for i := 0; i < len(pairs); i += 2 {
		e, err := SetText(f, f.Resolve(pairs[i]), pairs[i+1])
		require.NoError(t, err)
		f, err = Apply(f, e)
		require.NoError(t, err)
	}
	return f
}

func TestDiffInTradeWords(t *testing.T) {
	a := demoFile(t)
	b := edited(t, a, "placement.rear", "-288", "line.rear.pinion.slope", "5 deg down to the rear",
		"job.raise-rear.done", "true", "job.engine-out.done", "false", "reading.1.shown", "85.9 deg",
		"vehicle.tyre_diameter", "29 in", "limits.joint_max", "2.6 deg", "powertrain.redline", "4500")
	e, err := AddReading(b, TypedReading{Of: "frame", On: project.Along, Shown: "0.4"}, time.Date(2026, 5, 14, 0, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	b, err = Apply(b, e, Edit{Op: OpRemove, Path: "reading[1]"})
	require.NoError(t, err)
	var got []string
	for _, c := range Diff(a, b) {
		got = append(got, c.String())
	}
	assert.Equal(t, []string{
		"vehicle tyre diameter 740 mm → 29 in",
		"powertrain redline set to 4500 rpm",
		"rear mount -289.5 → -288.0 mm",
		"rear line pinion slope 4.8 deg down to the rear → 5 deg down to the rear",
		"reading 1 of powertrain shown 85.7 deg → 85.9 deg",
		"reading 3 of frame added: 0.4 deg",
		"reading 2 of line.rear.shaft.1 taken out",
		"limit joint max 2.5 deg → 2.6 deg",
		`job "engine-out" open again`,
		`job "raise-rear" ticked`,
	}, got)
	assert.Empty(t, Diff(a, edited(t, a, "placement.rear", "-289.50")))
}

// Text from a file is harmless wherever a change or a clash is shown.
func TestChangesArePrintable(t *testing.T) {
	a, err := project.Parse("b", []byte("format = 3\nname = \"a\\u001b[2J\\u202e\"\n"))
	require.NoError(t, err)
	b, err := project.Parse("b", []byte("format = 3\nname = \"b\\u009b31m\"\n"))
	require.NoError(t, err)
	c, err := project.Parse("b", []byte("format = 3\nname = \"c\\u200d\"\n"))
	require.NoError(t, err)
	_, clashes, err := Merge(a, b, c, Neither)
	require.NoError(t, err)
	require.Len(t, clashes, 1)
	for _, s := range []string{Diff(a, b)[0].String(), clashes[0].String()} {
		assert.Equal(t, project.Printable(s), s)
	}
}

func TestRenameLine(t *testing.T) {
	a := demoFile(t)
	edits, err := Rename(a, "line.rear", "back")
	require.NoError(t, err)
	b, err := Apply(a, edits...)
	require.NoError(t, err)
	text := string(b.Bytes())
	assert.NotContains(t, uncommented(text), "line.rear")
	assert.Equal(t, len(strings.Split(string(a.Bytes()), "\n")), len(strings.Split(text, "\n")))
	assert.Contains(t, b.Build.Targets(), "line.back.shaft.1")
	assert.Equal(t, strings.ReplaceAll(uncommented(string(a.Bytes())), "line.rear", "line.back"), uncommented(text))

	h := NewHistory(a)
	require.NoError(t, h.Do("line rear is now back", edits...))
	h.Undo()
	assert.Equal(t, string(a.Bytes()), string(h.Now().Bytes()), "it is one step")

	for path, name := range map[string]string{
		"line.rear": "two words", "vehicle": "car", "line.front": "x", "line.rear.pinion": "y", "placement.rear": "z",
	} {
		_, err := Rename(a, path, name)
		assert.Error(t, err, "%s to %s", path, name)
	}
}

// uncommented is a text without what stands behind # in a line.
func uncommented(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i], _, _ = strings.Cut(l, "#")
	}
	return strings.Join(lines, "\n")
}

func TestPathsAndResolve(t *testing.T) {
	f := demoFile(t)
	for given, want := range map[string]string{
		"job.make-safe.done": "job[0].done", "reading.2.shown": "reading[1].shown", "reading[1].shown": "reading[1].shown",
		"powertrain.part.fan.from": "powertrain.part[5].from", "limits.joint_max": "limits.joint_max.value",
		"limits.mismatch": "limits.mismatch", "job.none.done": "job.none.done", "": "", "...": "...",
	} {
		assert.Equal(t, want, f.Resolve(given), given)
	}
	paths := f.Paths()
	for _, p := range []string{"placement.rear", "job.make-safe.done", "reading.1.shown", "line.rear.pinion.slope", "line.rear.ratio", "limits.joint_min", "vehicle.top_speed"} {
		assert.Contains(t, paths, p)
	}
	for _, p := range paths {
		assert.NotEqual(t, project.NoShape, project.ShapeAt(f.Resolve(p)), p)
	}
}

func TestUndoIsResumed(t *testing.T) {
	h := NewHistory(demoFile(t))
	for _, v := range []float64{-288, -287, -286} {
		edits, err := MoveRow(h.Now(), 2, v)
		require.NoError(t, err)
		require.NoError(t, h.Do("rear mount", edits...))
	}
	data, err := h.Trail()
	require.NoError(t, err)
	last, err := project.Parse("demo.toml", h.Now().Bytes())
	require.NoError(t, err)

	second := NewHistory(last)
	require.True(t, second.Resume(data))
	assert.False(t, second.Unsaved())
	label, ok := second.Undo()
	require.True(t, ok)
	assert.Equal(t, "rear mount", label)
	assert.True(t, second.Unsaved())
	third, err := second.Trail() // one state made, two as they came
	require.NoError(t, err)
	edits, err := MoveRow(second.Now(), 2, -200)
	require.NoError(t, err)
	require.NoError(t, second.Do("another way", edits...))
	for range 3 {
		_, ok = second.Undo()
		require.True(t, ok)
	}
	_, ok = second.Undo()
	assert.False(t, ok)
	assert.Equal(t, string(demoFile(t).Bytes()), string(second.Now().Bytes()))

	again := NewHistory(edited(t, demoFile(t), "placement.rear", "-287.0"))
	assert.True(t, again.Resume(third), "the steps of a resumed history can be kept")
	undo, _ := again.Depth()
	assert.Equal(t, 2, undo)

	for _, bad := range []string{"", "{}", "null", string(data[:len(data)/2]), strings.Replace(string(data), `"fitup_undo":1`, `"fitup_undo":2`, 1)} {
		assert.False(t, NewHistory(last).Resume([]byte(bad)))
	}
	assert.False(t, NewHistory(demoFile(t)).Resume(data), "steps to another text are not taken")
}

// Whatever is done and taken back, and wherever the sitting is cut in two,
// undoing everything returns the first bytes.
func TestUndoAcrossSittings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := NewHistory(demoFile(t))
		first := string(h.Now().Bytes())
		for range rapid.IntRange(1, 4).Draw(t, "sittings") {
			for range rapid.IntRange(0, 4).Draw(t, "steps") {
				if rapid.Bool().Draw(t, "back") {
					h.Undo()
					continue
				}
				edits, err := MoveRow(h.Now(), 2, -289.5+float64(rapid.IntRange(0, 40).Draw(t, "up"))/8)
				require.NoError(t, err)
				require.NoError(t, h.Do("move", edits...))
			}
			data, err := h.Trail()
			require.NoError(t, err)
			f, err := project.Parse("demo.toml", h.Now().Bytes())
			require.NoError(t, err)
			undo, _ := h.Depth()
			h = NewHistory(f)
			require.Equal(t, undo > 0, h.Resume(data))
		}
		for {
			if _, ok := h.Undo(); !ok {
				break
			}
		}
		require.Equal(t, first, string(h.Now().Bytes()))
	})
}

// Another's change under a history: undo takes back only what was done here.
func TestHistoryOntoAnotherText(t *testing.T) {
	base := demoFile(t)
	theirs := edited(t, base, "placement.setback", "270")
	h := NewHistory(base)
	for _, v := range []float64{-288, -287} {
		edits, err := MoveRow(h.Now(), 2, v)
		require.NoError(t, err)
		require.NoError(t, h.Do("up", edits...))
	}
	got, clashes, err := h.Onto(base, theirs, Neither)
	require.NoError(t, err)
	require.Empty(t, clashes)
	assert.True(t, got.Unsaved())
	assert.Contains(t, string(got.Now().Bytes()), "setback = 270")
	assert.Contains(t, string(got.Now().Bytes()), "rear = -287.0")
	require.Len(t, got.Since(theirs), 2)
	f := theirs
	for _, s := range got.Since(theirs) {
		f, err = Apply(f, s.Edits...)
		require.NoError(t, err)
	}
	assert.Equal(t, string(got.Now().Bytes()), string(f.Bytes()))
	got.Undo()
	got.Undo()
	assert.Equal(t, string(theirs.Bytes()), string(got.Now().Bytes()))
	assert.False(t, got.Unsaved())

	clashing := edited(t, base, "placement.rear", "-100", "placement.setback", "270")
	none, clashes, err := h.Onto(base, clashing, Neither)
	require.NoError(t, err)
	assert.Nil(t, none)
	require.Len(t, clashes, 1)
	assert.Equal(t, "rear mount: yours -287.0 mm, theirs -100.0 mm", clashes[0].String())
	for side, want := range map[tomltext.Side]string{Mine: "rear = -287.0", Theirs: "rear = -100"} {
		got, _, err := h.Onto(base, clashing, side)
		require.NoError(t, err)
		assert.Contains(t, string(got.Now().Bytes()), want)
		assert.Contains(t, string(got.Now().Bytes()), "setback = 270")
	}

	// Bare numbers of two unit systems are never mixed.
	inch, err := project.Parse("demo.toml", []byte(strings.Replace(string(base.Bytes()), `[units]`, "[units]\nmass = \"lb\"", 1)))
	require.NoError(t, err)
	_, _, err = h.Onto(base, inch, Mine)
	require.ErrorContains(t, err, "units")
	got, _, err = NewHistory(base).Onto(base, inch, Neither)
	require.NoError(t, err)
	assert.Equal(t, string(inch.Bytes()), string(got.Now().Bytes()))

	// A step back past the save is an edit like any other.
	h.MarkSaved(h.Mark())
	saved := h.Now()
	h.Undo()
	got, _, err = h.Onto(saved, edited(t, saved, "placement.setback", "270"), Neither)
	require.NoError(t, err)
	assert.Contains(t, string(got.Now().Bytes()), "rear = -288.0")
	assert.True(t, got.Unsaved())
	got.Redo()
	assert.False(t, got.Unsaved())
	assert.Contains(t, string(got.Now().Bytes()), "rear = -287.0")
}

// A mount's name stands in its findings and in the leg that mirrors it.
// What names a line by its name alone is renamed with it.
func TestRenameLineThatIsNamed(t *testing.T) {
	f := parse(t, `format = 3
[line.rear]
[line.front]
[[chassis]]
name = "carrier"
at = [0, 0, 0]
carries = ["front", "rear"]
[pickup.rear]
carried = "axle"
line = "rear"
`)
	edits, err := Rename(f, "line.rear", "back")
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	assert.Equal(t, []string{"front", "back"}, g.Build.Chassis[0].Carries)
	assert.Equal(t, "back", g.Build.Pickups[0].Line)
	assert.Equal(t, "rear", f.Build.Pickups[0].Line)
}

func TestRenameMount(t *testing.T) {
	f := parse(t, `format = 3
[mount.one]
at = [0, -300, 0]
[mount.one.leg]
section = "SHS 50x50x4 cold"
[mount.two]
at = [0, 300, 0]
[mount.two.leg]
match = "one"
[[job]]
id = "a"
title = "t"
hold = ["bracket.one.weld", "mount.one.captive", "match.one.place", "bracket.onetwo.weld"]
`)
	edits, err := Rename(f, "mount.one", "first")
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	assert.Equal(t, []string{"bracket.first.weld", "mount.first.captive", "match.first.place", "bracket.onetwo.weld"}, g.Build.Jobs[0].Hold)
	assert.Contains(t, string(g.Bytes()), `match = "first"`)
}

// What is a part of a mount goes on being so by the mount's other name.
func TestRenameMountOfAStop(t *testing.T) {
	f := parse(t, "format = 3\n[mount.gearbox]\nat = [0, 0, 0]\n[roll_stop.washer]\nmount = \"gearbox\"\n")
	edits, err := Rename(f, "mount.gearbox", "box")
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	assert.Equal(t, "box", g.Build.RollStops[0].Mount)
}
