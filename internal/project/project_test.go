package project

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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
		"a word that is not one":  {"format = 1\n[[reading]]\nof = \"powertrain\"\nshown = 3\non = \"top\"\n", []string{`b.toml:5:6: reading.1.on: read "top"; want one of: along, square face`}},
		"reading of nothing":      {"format = 1\n[[reading]]\nof = \"gearbox\"\nshown = 3\n", []string{"b.toml:3:6: reading.1.of: read the text"}},
		"reading without value":   {"format = 1\n[[reading]]\nof = \"powertrain\"\n", []string{"b.toml:2:"}},
		"job twice":               {"format = 1\n[[job]]\nid = \"a\"\ntitle = \"t\"\n[[job]]\nid = \"a\"\ntitle = \"t\"\n", []string{`b.toml:6:6: job.2.id: the id "a" stands at line 3 already`}},
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

func TestGearRatioOfNothingIsRefused(t *testing.T) {
	_, err := Parse("b.toml", []byte("format = 2\n[powertrain]\ngears = [4, 0]\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "powertrain.gears.2: a gear ratio is above 0")
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
		if len(tomltext.Diff(file.doc, again.doc)) > 0 {
			t.Fatal("a text differs from itself")
		}
		for _, p := range file.Paths() {
			if file.Has(file.Resolve(p)) && !IsPath(file.Resolve(p)) {
				t.Fatalf("%q is listed as a value and is none", p)
			}
		}
	})
}
