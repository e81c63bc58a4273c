package edit

import (
	"bytes"
	"math"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestSetTextKeepsUnitAndStyle(t *testing.T) {
	f := parse(t, "format = 1\n[placement]\nrear = 10 # keep\nleft_front = \"16 1/4 in\"\n")
	for _, c := range []struct{ path, typed, line string }{
		{"placement.rear", "12,5", "rear = 12.5 # keep"},
		{"placement.rear", "1/2 in", `rear = "1/2 in" # keep`},
		{"placement.left_front", "400 mm", `left_front = "400 mm"`},
		{"placement.offset", "6 mm left", `offset = "6 mm left"`},
		{"line.rear.pinion.slope", "4.8 deg down to the rear", `slope = "4.8 deg down to the rear"`},
		{"limits.joint_max", "4 deg", `joint_max = "4 deg"`},
		{"name", `say "hello"`, `name = "say \"hello\""`},
		{"line.rear.pinion.at", "[1, 2, 3]", "at = [1, 2, 3]"},
	} {
		e, err := SetText(f, c.path, c.typed)
		require.NoError(t, err, c.path)
		g, err := Apply(f, e)
		require.NoError(t, err, c.path)
		assert.Contains(t, string(g.Bytes()), c.line)
	}
	for path, typed := range map[string]string{
		"placement.rear":         "4 kg",
		"placement.nowhere":      "4",
		"line.rear.pinion.slope": "4.8 deg",
		"job":                    "x",
	} {
		_, err := SetText(f, path, typed)
		assert.Error(t, err, path)
	}
}

// A nudge in inches stays in inches, and in the style of the file.
func TestMoveRowKeepsSpelling(t *testing.T) {
	text := string(example(t).Bytes())
	text = strings.Replace(text, "rear = -95.9", `rear = "-4 in"`, 1)
	f := parse(t, text)
	edits, err := MoveRow(f, seat.Rear, -3.75*25.4)
	require.NoError(t, err)
	require.Len(t, edits, 1)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	assert.Contains(t, string(g.Bytes()), `rear = "-3.75 in"`)

	edits, err = MoveRow(f, seat.Lift, 120)
	require.NoError(t, err)
	assert.Len(t, edits, 3, "the whole rises on all three supports")

	_, err = MoveRow(parse(t, "format = 1\n"), seat.Rear, 5)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "placement.rear")
}

func TestAddReading(t *testing.T) {
	f := example(t)
	day := time.Date(2026, 5, 14, 0, 0, 0, 0, time.UTC)
	e, err := AddReading(f, TypedReading{Of: "line.rear.pinion", On: project.SquareFace, Shown: "85,2", Lower: project.RearEnd, After: project.Tacked}, day)
	require.NoError(t, err)
	g, err := Apply(f, e)
	require.NoError(t, err)
	r := g.Build.Readings[len(g.Build.Readings)-1]
	assert.InDelta(t, 85.2, r.Shown.V()*180/math.Pi, 1e-9)
	assert.Equal(t, project.Tacked, r.After)
	assert.Equal(t, f.Build.Placement.Rear.V(), r.Placed.Rear.V())
	assert.Equal(t, 14, r.Taken.Day())
	_, err = AddReading(f, TypedReading{Of: "line.rear.pinion", Shown: "4 kg"}, day)
	assert.Error(t, err)
}

func TestHistory(t *testing.T) {
	f := parse(t, "format = 1\nname = \"a\"\n")
	h := NewHistory(f)
	set := func(s string) {
		e, err := SetText(h.Now(), "name", s)
		require.NoError(t, err)
		require.NoError(t, h.Do("name "+s, e))
	}
	set("a")
	assert.False(t, h.Unsaved(), "an edit that changes nothing is no step")
	set("b")
	set("c")
	label, ok := h.Undo()
	assert.True(t, ok)
	assert.Equal(t, "name c", label)
	assert.Equal(t, "b", h.Now().Build.Name)
	h.MarkSaved(h.Mark())
	assert.False(t, h.Unsaved())
	_, ok = h.Redo()
	assert.True(t, ok)
	assert.True(t, h.Unsaved())
	_, ok = h.Redo()
	assert.False(t, ok)
	h.Undo()
	h.Undo()
	set("d")
	assert.True(t, h.Unsaved(), "the saved state is out of reach now")
	h.Undo()
	assert.True(t, h.Unsaved())
	assert.Equal(t, f.Bytes(), h.Now().Bytes())
	err := h.Do("bad", Edit{Op: "no such op"})
	assert.Error(t, err)
}

// A splice turns one text into the other, also when lines were added before it.
func TestSplice(t *testing.T) {
	base := demoText(t)
	f := parse(t, base)
	rapid.Check(t, func(t *rapid.T) {
		v := float64(rapid.IntRange(-200, 200).Draw(t, "mm"))
		row := rapid.SampledFrom([]seat.Row{seat.LeftFront, seat.Rear, seat.Setback, seat.Lift}).Draw(t, "row")
		edits, err := MoveRow(f, row, v)
		require.NoError(t, err)
		g, err := Apply(f, edits...)
		require.NoError(t, err)
		back := Splice(g, f)
		h, err := Apply(g, back)
		require.NoError(t, err)
		require.Equal(t, base, string(h.Bytes()))

		shifted, err := project.Parse("b.toml", append([]byte("# somebody wrote this\n"), g.Bytes()...))
		require.NoError(t, err)
		h, err = Apply(shifted, back)
		require.NoError(t, err)
		require.Equal(t, "# somebody wrote this\n"+base, string(h.Bytes()))
	})
	f = parse(t, "format = 1\nname = \"a\"\n")
	_, err := Apply(f, Edit{Op: OpSplice, Old: "gone\n", Text: "x", At: 400})
	assert.Error(t, err)
}

// FuzzMerge: three texts never make a merge panic, and what comes out is a
// build. Where only one side changed anything, its text comes out.
func FuzzMerge(f *testing.F) {
	demo, err := os.ReadFile("../starter/demo.toml")
	require.NoError(f, err)
	small := []byte("format = 2\n[[job]]\nid = \"a\"\ntitle = \"t\"\n")
	f.Add(demo, bytes.Replace(demo, []byte("-289.5"), []byte("-280"), 1), bytes.Replace(demo, []byte("260"), []byte("262"), 1))
	f.Add(small, []byte("format = 2\n"), append(small, "done = true\n[[job]]\nid = \"b\"\ntitle = \"t\"\n"...))
	f.Add(small, []byte("format = 1\nvehicle = { wheel_diameter = 4 }\n"), []byte("format = 2\nvehicle.tyre_diameter = 5\n"))
	f.Fuzz(func(t *testing.T, b, m, o []byte) {
		base, err1 := project.Parse("f.toml", b)
		mine, err2 := project.Parse("f.toml", m)
		theirs, err3 := project.Parse("f.toml", o)
		if err1 != nil || err2 != nil || err3 != nil {
			return
		}
		for _, side := range []Whose{Neither, Mine, Theirs} {
			got, clashes, err := Merge(base, mine, theirs, side)
			if err == nil && got == nil && (side != Neither || len(clashes) == 0) {
				t.Fatal("neither a result nor a reason")
			}
			if got != nil {
				if _, err := project.Parse("f.toml", got.Bytes()); err != nil {
					t.Fatal(err)
				}
			}
		}
		got, clashes, err := Merge(base, base, theirs, Neither)
		if err != nil || len(clashes) > 0 || string(got.Bytes()) != string(theirs.Bytes()) {
			t.Fatalf("what nobody else changed has changed: %v %v", err, clashes)
		}
	})
}

// A long sitting keeps few states in hand and still goes all the way back.
func TestLongHistoryIsLight(t *testing.T) {
	f := example(t)
	h := NewHistory(f)
	const n = 20 * liveStates
	for i := range n {
		edits, err := MoveRow(h.Now(), seat.Rear, float64(-90-i%7))
		require.NoError(t, err)
		require.NoError(t, h.Do("rear", edits...))
	}
	live := 0
	for _, s := range h.steps {
		if s.file != nil {
			live++
		}
	}
	assert.LessOrEqual(t, live, 2*liveStates+1)
	assert.Len(t, h.Since(f), n, "every step is there for a journal")
	for {
		if _, ok := h.Undo(); !ok {
			break
		}
	}
	assert.Equal(t, string(f.Bytes()), string(h.Now().Bytes()))
	assert.False(t, h.Unsaved())
}

// A held arrow key makes thirty steps in a second: what each leaves behind is a
// few numbers, and no text of the whole file.
func TestMemoryStaysFlatOverManySteps(t *testing.T) {
	// As heavy as a build, and quickly read.
	f := parse(t, "format = 3\n"+strings.Repeat("# what the tape said, and who held it\n", 300)+"[placement]\nrear = -289.5\n")
	h := NewHistory(f)
	heap := func() int64 {
		runtime.GC()
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return int64(m.HeapAlloc)
	}
	nudge := func(from, to int) {
		for i := from; i < to; i++ {
			e, err := SetValue(h.Now(), "placement.rear", -289.5+float64(i%9)/2)
			require.NoError(t, err)
			require.NoError(t, h.Do("rear mount", e))
		}
	}
	const first, n = 200, 6_000
	nudge(1, first)
	begin := heap()
	nudge(first, n)
	each := float64(heap()-begin) / (n - first)
	t.Logf("%.0f bytes a step", each)
	require.Less(t, each, 300.0, "bytes that each step keeps")
	for range 50 {
		_, ok := h.Undo()
		require.True(t, ok)
	}
	require.Less(t, float64(heap()-begin)/(n-first), 300.0, "with fifty taken back")
	undo, redo := h.Depth()
	require.Equal(t, []int{n - 51, 50}, []int{undo, redo})
	first0, ok := h.textAt(0)
	require.True(t, ok)
	require.Equal(t, f.Doc().Text(), first0)
}

// Work that reaches further back than steps are carried over is in the journal
// all the same: what is on disk stays one of the states.
func TestLongWorkIsCarriedOverToAnotherText(t *testing.T) {
	base := parse(t, demoText(t))
	theirs := edited(t, base, "placement.setback", "270")
	nudged := func(h *History, n int) {
		for i := range n {
			e, err := SetValue(h.Now(), "placement.rear", -280+float64(i)/2)
			require.NoError(t, err)
			require.NoError(t, h.Do("rear mount", e))
		}
	}
	h := NewHistory(base)
	nudged(h, nearSteps+30)
	got, _, err := h.Onto(base, theirs, Neither)
	require.NoError(t, err)
	steps := got.Since(theirs)
	require.NotEmpty(t, steps)
	f := theirs
	for _, s := range steps {
		f, err = Apply(f, s.Edits...)
		require.NoError(t, err)
		require.Equal(t, sumOf(f.Doc().Text()), s.After)
	}
	require.Equal(t, got.Now().Doc().Text(), f.Doc().Text())
	for {
		if _, ok := got.Undo(); !ok {
			break
		}
	}
	require.Equal(t, theirs.Doc().Text(), got.Now().Doc().Text())
	require.False(t, got.Unsaved())

	// The same where the saved state is out of reach: one step from what is on disk.
	h = NewHistory(base)
	nudged(h, 3)
	saved := h.Now()
	h.MarkSaved(h.Mark())
	h.Undo()
	e, err := SetValue(h.Now(), "placement.setback", 281)
	require.NoError(t, err)
	require.NoError(t, h.Do("setback", e))
	steps = h.Since(saved)
	require.Len(t, steps, 1)
	f, err = Apply(saved, steps[0].Edits...)
	require.NoError(t, err)
	require.Equal(t, h.Now().Doc().Text(), f.Doc().Text())
}
