package project

import (
	"bytes"
	"errors"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func parse(t testing.TB, text string) *File {
	t.Helper()
	f, err := Parse("b.toml", []byte(text))
	require.NoError(t, err)
	return f
}

func example(t testing.TB) *File {
	t.Helper()
	f, err := Load("../../testdata/example.toml")
	require.NoError(t, err)
	return f
}

func TestExampleMeansWhatItSays(t *testing.T) {
	b := example(t).Build
	assert.Equal(t, "example flatbed", b.Name)
	assert.InDelta(t, 320, b.Powertrain.Mass.V(), 1e-12)
	assert.Equal(t, -380.0, b.Rails.Left.Points[0].At.Y)
	require.Len(t, b.Lines, 1)
	assert.Equal(t, "rear", b.Lines[0].Name)
	assert.InDelta(t, 4.8*math.Pi/180, b.Lines[0].Pinion.Slope.V(), 1e-12)
	require.Len(t, b.Readings, 4)
	assert.Equal(t, SquareFace, b.Readings[0].On)
	assert.Equal(t, 2026, b.Readings[0].Taken.Year())
	_, ok := b.Readings[0].Placed.Seat()
	assert.True(t, ok)
	assert.Equal(t, []string{"line.rear.joint.1.max", "line.rear.joint.2.max", "line.rear.shaft.1.mismatch"}, b.Jobs[1].Hold)
}

// Each broken text gives the messages listed, each at its line and column, and
// no others.
func TestProblemsNameTheirPlace(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"unknown key, near one":  {"format = 1\n[placement]\nsetbak = 4\n", []string{`b.toml:3:1: placement: "setbak" is not a key here; did you mean "setback"?`}},
		"unknown key, near none": {"format = 1\n[gauge]\nqqqqqqqqq = 4\n", []string{`b.toml:3:1: gauge: "qqqqqqqqq" is not a key here; known here: accuracy`}},
		"wrong unit":             {"format = 1\n[placement]\nrear = \"4 kg\"\n", []string{"b.toml:3:8: placement.rear: "}},
		"two at once": {"format = 1\n[placement]\nrear = true\nleft_front = \"x\"\n[powertrain]\nmass = -3\n",
			[]string{"b.toml:3:8: placement.rear: read the word true", "b.toml:4:14: placement.left_front: ", "b.toml:6:8: powertrain.mass: "}},
		"slope without direction": {"format = 1\n[line.rear.pinion]\nslope = \"4.8 deg\"\n", []string{"b.toml:3:9: line.rear.pinion.slope: "}},
		"bare slope":              {"format = 1\n[line.rear.pinion]\nslope = -4.8\n", []string{"b.toml:3:9: line.rear.pinion.slope: "}},
		"a word that is not one":  {"format = 1\n[[reading]]\nof = \"powertrain\"\nshown = 3\non = \"top\"\n", []string{`b.toml:5:6: reading[0].on: read "top"; want one of: along, square face`}},
		"reading of nothing":      {"format = 1\n[[reading]]\nof = \"gearbox\"\nshown = 3\n", []string{"b.toml:3:6: reading[0].of: read the text"}},
		"reading without value":   {"format = 1\n[[reading]]\nof = \"powertrain\"\n", []string{"b.toml:2:"}},
		"job twice":               {"format = 1\n[[job]]\nid = \"a\"\ntitle = \"t\"\n[[job]]\nid = \"a\"\ntitle = \"t\"\n", []string{`b.toml:6:6: job[1].id: the id "a" stands at line 3 already`}},
		"job without title":       {"format = 1\n[[job]]\nid = \"a\"\n", []string{"b.toml:2:"}},
		"pads in a line":          {"format = 1\n[powertrain.pads]\nleft_front = [0,0,0]\nright_front = [1,1,0]\nrear = [2,2,0]\n", []string{"the three pads lie in one line"}},
		"pads swapped":            {"format = 1\n[powertrain.pads]\nleft_front = [0,300,0]\nright_front = [0,-300,0]\nrear = [900,0,0]\n", []string{"is not left of the right front pad"}},
		"rail backwards":          {"format = 1\n[rails.left]\npoints = [[5,0,0],[1,0,0]]\n", []string{"points run front to rear"}},
		"point of two":            {"format = 1\n[powertrain]\noutput = [1, 2]\n", []string{"b.toml:3:10: powertrain.output: read the list [1, 2]; want a point of three lengths"}},
		"unit that is none":       {"format = 1\n[units]\nlength = \"kg\"\n", []string{"b.toml:3:10: units.length: "}},
		"limit that is none":      {"format = 1\n[limits]\njoint_mx = 3\n", []string{`did you mean "joint_max"?`}},
		"negative limit":          {"format = 1\n[limits]\njoint_max = -3\n", []string{"a limit cannot be negative"}},
		"no format":               {"name = \"x\"\n", []string{"b.toml:1:1: format: this file does not say its format"}},
		"format to come":          {"format = 99\nqwerty = 1\n", []string{"b.toml:1:10: format: this file is in format 99"}},
		"format of words":         {"format = \"one\"\n", []string{"want format = 3"}},
		"table for a value":       {"format = 1\n[name]\nx = 1\n", []string{"b.toml:2:"}},
		"value for a table":       {"format = 1\nplacement = 3\n", []string{"want a table, like [placement]"}},
		"value for a list":        {"format = 1\njob = 3\n", []string{"each opened by [[job]]"}},
		"line name":               {"format = 1\n[line.\"a b\"]\n", []string{"has signs that a name cannot have"}},
		"escape in a text":        {"format = 1\n[placement]\nrear = \"\\u001b[31m\"\n", []string{"b.toml:3:8"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("b.toml", []byte(c.text))
			var ps Problems
			require.ErrorAs(t, err, &ps)
			require.Len(t, ps, len(c.want), "%v", err)
			for i, w := range c.want {
				assert.Contains(t, ps[i].Error(), w)
				assert.NotContains(t, ps[i].Error(), "\x1b")
			}
		})
	}
}

func TestFilesThatAreNone(t *testing.T) {
	dir := t.TempDir()
	big := filepath.Join(dir, "big.toml")
	require.NoError(t, os.WriteFile(big, nil, 0o644))
	require.NoError(t, os.Truncate(big, 50<<20))
	for path, want := range map[string]string{
		filepath.Join(dir, "none.toml"): "there is no such file",
		dir:                             "this is a folder",
		big:                             "50.0 MB",
	} {
		_, err := Load(path)
		require.Error(t, err)
		assert.Contains(t, err.Error(), want)
	}
}

func TestUnitsOfAFile(t *testing.T) {
	f := parse(t, "format = 1\n[units]\nsystem = \"inch\"\nmass = \"kg\"\n[placement]\nrear = 10\nleft_front = \"254 mm\"\n[powertrain]\nmass = 300\n")
	assert.InDelta(t, 254, f.Build.Placement.Rear.V(), 1e-12)
	assert.InDelta(t, 254, f.Build.Placement.LeftFront.V(), 1e-12)
	assert.InDelta(t, 300, f.Build.Powertrain.Mass.V(), 1e-12)
}

func TestLimits(t *testing.T) {
	f := parse(t, "format = 1\n[limits]\njoint_max = { value = \"4 deg\", source = \"shaft maker's sheet\" }\nmismatch = \"1 deg\"\n")
	r := f.Build.Limit("joint_max")
	assert.True(t, r.Changed)
	assert.Equal(t, "shaft maker's sheet", r.Source)
	assert.InDelta(t, 4, quantity.InUnit(r.Kind, r.Value, quantity.Metric()), 1e-9)
	assert.False(t, f.Build.Limit("mismatch").Changed, "the built-in value spelled out is no change")
	assert.Equal(t, "", f.Build.Limit("none").Key)
	assert.NotZero(t, (&Build{}).Limit("joint_min").Value)
	for _, r := range Defaults() {
		assert.NotEmpty(t, r.Source, r.Key)
		assert.NotEmpty(t, r.About, r.Key)
		_, ok := KindAt("limits." + r.Key)
		assert.True(t, ok, r.Key)
	}
}

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
		e, err := f.SetText(c.path, c.typed)
		require.NoError(t, err, c.path)
		g, err := f.Apply(e)
		require.NoError(t, err, c.path)
		assert.Contains(t, string(g.Bytes()), c.line)
	}
	for path, typed := range map[string]string{
		"placement.rear":         "4 kg",
		"placement.nowhere":      "4",
		"line.rear.pinion.slope": "4.8 deg",
		"job":                    "x",
	} {
		_, err := f.SetText(path, typed)
		assert.Error(t, err, path)
	}
}

// A nudge in inches stays in inches, and in the style of the file.
func TestMoveRowKeepsSpelling(t *testing.T) {
	text := string(example(t).Bytes())
	text = strings.Replace(text, "rear = -95.9", `rear = "-4 in"`, 1)
	f := parse(t, text)
	edits, err := f.MoveRow(seat.Rear, -3.75*25.4)
	require.NoError(t, err)
	require.Len(t, edits, 1)
	g, err := f.Apply(edits...)
	require.NoError(t, err)
	assert.Contains(t, string(g.Bytes()), `rear = "-3.75 in"`)

	edits, err = f.MoveRow(seat.Lift, 120)
	require.NoError(t, err)
	assert.Len(t, edits, 3, "the whole rises on all three supports")

	_, err = parse(t, "format = 1\n").MoveRow(seat.Rear, 5)
	require.Error(t, err)
	assert.Contains(t, err.Error(), "placement.rear")
}

func TestHalfAPlacementSaysWhatIsMissing(t *testing.T) {
	for _, key := range []string{"left_front", "right_front", "rear", "setback"} {
		p := Placement{LeftFront: quantity.MM(1), RightFront: quantity.MM(1), Rear: quantity.MM(1), Setback: quantity.MM(1)}
		switch key {
		case "left_front":
			p.LeftFront.Clear()
		case "right_front":
			p.RightFront.Clear()
		case "rear":
			p.Rear.Clear()
		case "setback":
			p.Setback.Clear()
		}
		_, missing := p.seat()
		assert.Equal(t, []string{"placement." + key}, missing)
	}
	_, missing := Placement{}.seat()
	assert.Len(t, missing, 4)
}

func TestAddReading(t *testing.T) {
	f := example(t)
	day := time.Date(2026, 5, 14, 0, 0, 0, 0, time.UTC)
	e, err := f.AddReading(TypedReading{Of: "line.rear.pinion", On: SquareFace, Shown: "85,2", Lower: RearEnd, After: Tacked}, day)
	require.NoError(t, err)
	g, err := f.Apply(e)
	require.NoError(t, err)
	r := g.Build.Readings[len(g.Build.Readings)-1]
	assert.InDelta(t, 85.2, r.Shown.V()*180/math.Pi, 1e-9)
	assert.Equal(t, Tacked, r.After)
	assert.Equal(t, f.Build.Placement.Rear.V(), r.Placed.Rear.V())
	assert.Equal(t, 14, r.Taken.Day())
	_, err = f.AddReading(TypedReading{Of: "line.rear.pinion", Shown: "4 kg"}, day)
	assert.Error(t, err)
}

func TestHistory(t *testing.T) {
	f := parse(t, "format = 1\nname = \"a\"\n")
	h := NewHistory(f)
	set := func(s string) {
		e, err := h.Now().SetText("name", s)
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
	h.MarkSaved(h.Now())
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
	base := string(example(t).Bytes())
	rapid.Check(t, func(t *rapid.T) {
		f, err := Parse("b.toml", []byte(base))
		require.NoError(t, err)
		v := float64(rapid.IntRange(-200, 200).Draw(t, "mm"))
		row := rapid.SampledFrom([]seat.Row{seat.LeftFront, seat.Rear, seat.Setback, seat.Lift}).Draw(t, "row")
		edits, err := f.MoveRow(row, v)
		require.NoError(t, err)
		g, err := f.Apply(edits...)
		require.NoError(t, err)
		back := g.Splice(f)
		h, err := g.Apply(back)
		require.NoError(t, err)
		require.Equal(t, base, string(h.Bytes()))

		shifted, err := Parse("b.toml", append([]byte("# somebody wrote this\n"), g.Bytes()...))
		require.NoError(t, err)
		h, err = shifted.Apply(back)
		require.NoError(t, err)
		require.Equal(t, "# somebody wrote this\n"+base, string(h.Bytes()))
	})
	f := parse(t, "format = 1\nname = \"a\"\n")
	_, err := f.Apply(Edit{Op: OpSplice, Old: "gone\n", Text: "x", At: 400})
	assert.Error(t, err)
}

func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"plain ± 4°":           "plain ± 4°",
		"a\x1b[31mb":           "a·[31mb",
		"one\ntwo\tthree":      "one two three",
		"left\u202eright":      "left·right",
		"zero\u200bwidth":      "zero·width",
		"bell\a":               "bell·",
		"bad" + "\xff" + "utf": "bad·utf",
	} {
		assert.Equal(t, want, Printable(in))
	}
}

func TestNearest(t *testing.T) {
	near, ok := Nearest("setbak", []string{"rear", "setback", "offset"})
	assert.True(t, ok)
	assert.Equal(t, "setback", near)
	_, ok = Nearest("zzzzzz", []string{"rear", "setback"})
	assert.False(t, ok)
}

func TestProblemIsAnError(t *testing.T) {
	_, err := Load(t.TempDir())
	var p Problem
	assert.True(t, errors.As(err, &p))
}

func BenchmarkParse(b *testing.B) {
	src := example(b).Bytes()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("b.toml", src); err != nil {
			b.Fatal(err)
		}
	}
}

// FuzzParse: no text makes the loader panic, and a text it takes is taken
// again as it stands.
func FuzzParse(f *testing.F) {
	f.Add([]byte("format = 1\n"))
	f.Add(example(f).Bytes())
	for _, dir := range []string{"broken", "old"} {
		names, err := filepath.Glob(filepath.Join("../../testdata", dir, "*.toml"))
		require.NoError(f, err)
		for _, name := range names {
			src, err := os.ReadFile(name)
			require.NoError(f, err)
			f.Add(src)
		}
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := Parse("f.toml", src)
		if err != nil {
			if strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' && r != '\n' }) {
				t.Fatalf("control characters in %q", err.Error())
			}
			return
		}
		again, err := Parse("f.toml", file.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if !assert.ObjectsAreEqual(file.Build, again.Build) {
			t.Fatal("the same text means something else the second time")
		}
		if len(Diff(file, again)) > 0 {
			t.Fatal("a text differs from itself")
		}
		for _, p := range file.Paths() {
			if file.Has(file.Resolve(p)) && !IsPath(file.Resolve(p)) {
				t.Fatalf("%q is listed as a value and is none", p)
			}
		}
	})
}

// FuzzMerge: three texts never make a merge panic, and what comes out is a
// build. Where only one side changed anything, its text comes out.
func FuzzMerge(f *testing.F) {
	demo, err := os.ReadFile("starter/demo.toml")
	require.NoError(f, err)
	small := []byte("format = 2\n[[job]]\nid = \"a\"\ntitle = \"t\"\n")
	f.Add(demo, bytes.Replace(demo, []byte("-289.5"), []byte("-280"), 1), bytes.Replace(demo, []byte("260"), []byte("262"), 1))
	f.Add(small, []byte("format = 2\n"), append(small, "done = true\n[[job]]\nid = \"b\"\ntitle = \"t\"\n"...))
	f.Add(small, []byte("format = 1\nvehicle = { wheel_diameter = 4 }\n"), []byte("format = 2\nvehicle.tyre_diameter = 5\n"))
	f.Fuzz(func(t *testing.T, b, m, o []byte) {
		base, err1 := Parse("f.toml", b)
		mine, err2 := Parse("f.toml", m)
		theirs, err3 := Parse("f.toml", o)
		if err1 != nil || err2 != nil || err3 != nil {
			return
		}
		for _, side := range []Whose{Neither, Mine, Theirs} {
			got, clashes, err := Merge(base, mine, theirs, side)
			if err == nil && got == nil && (side != Neither || len(clashes) == 0) {
				t.Fatal("neither a result nor a reason")
			}
			if got != nil {
				if _, err := Parse("f.toml", got.Bytes()); err != nil {
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
	const n = 400
	for i := range n {
		edits, err := h.Now().MoveRow(seat.Rear, float64(-90-i%7))
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

func TestGearRatioOfNothingIsRefused(t *testing.T) {
	_, err := Parse("b.toml", []byte("format = 2\n[powertrain]\ngears = [4, 0]\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "powertrain.gears[1]: a gear ratio is above 0")
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
			e, err := h.Now().SetValue("placement.rear", -289.5+float64(i%9)/2)
			require.NoError(t, err)
			require.NoError(t, h.Do("rear mount", e))
		}
	}
	const first, n = 200, 20_000
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
	require.Equal(t, f.text(), first0)
}

// Work that reaches further back than steps are carried over is in the journal
// all the same: what is on disk stays one of the states.
func TestLongWorkIsCarriedOverToAnotherText(t *testing.T) {
	base := parse(t, demoText(t))
	theirs := edited(t, base, "placement.setback", "270")
	nudged := func(h *History, n int) {
		for i := range n {
			e, err := h.Now().SetValue("placement.rear", -280+float64(i)/2)
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
		f, err = f.Apply(s.Edits...)
		require.NoError(t, err)
		require.Equal(t, sumOf(f.text()), s.After)
	}
	require.Equal(t, got.Now().text(), f.text())
	for {
		if _, ok := got.Undo(); !ok {
			break
		}
	}
	require.Equal(t, theirs.text(), got.Now().text())
	require.False(t, got.Unsaved())

	// The same where the saved state is out of reach: one step from what is on disk.
	h = NewHistory(base)
	nudged(h, 3)
	saved := h.Now()
	h.MarkSaved(saved)
	h.Undo()
	e, err := h.Now().SetValue("placement.setback", 281)
	require.NoError(t, err)
	require.NoError(t, h.Do("setback", e))
	steps = h.Since(saved)
	require.Len(t, steps, 1)
	f, err = saved.Apply(steps[0].Edits...)
	require.NoError(t, err)
	require.Equal(t, h.Now().text(), f.text())
}
