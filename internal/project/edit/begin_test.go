package edit_test

import (
	"strings"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// begin sets a value by its path as a person writes it, and begins what is not there.
func begin(t *testing.T, f *project.File, path, typed string) (*project.File, string, error) {
	t.Helper()
	at, edits, err := edit.Begin(f, path)
	if err != nil {
		return nil, "", err
	}
	for _, e := range edits {
		f, err = edit.Draft(f, edit.InOrder(f, e))
		require.NoError(t, err, path)
	}
	edits, err = edit.Written(f, at, typed)
	if err != nil {
		return nil, "", err
	}
	for _, e := range edits {
		f, err = edit.Draft(f, edit.InOrder(f, e))
		require.NoError(t, err, path)
	}
	return f, at, nil
}

// Whatever the schema has can be begun by its example, in an empty file and in the
// starter, and no line that was there is touched or comes in another order.
func TestEveryKeyCanBeBegun(t *testing.T) {
	for name, text := range map[string]string{"empty": "format = 3\n", "starter": string(starter.New()), "demo": string(starter.Demo())} {
		f, err := project.Parse(name, []byte(text))
		require.NoError(t, err)
		begun := 0
		for i, k := range project.Schema() {
			switch {
			case name != "empty" && !inturn.Try(t, i+len(name), 12): // every key in an empty file, and by default one in twelve where there are others
				continue
			case k.Shape == project.TableShape, k.Shape == project.TablesShape, k.Shape == project.NamedTablesShape, k.Path == "format":
				continue
			case strings.HasPrefix(k.Path, "units."), strings.HasPrefix(k.Path, "reading."):
				continue // turned with all numbers, and added with the place they were taken at
			}
			path := strings.NewReplacer(".N.", ".1.", "NAME", "rear").Replace(k.Path)
			if f.Has(f.Resolve(path)) {
				continue
			}
			g, at, err := begin(t, f, path, k.Example())
			require.NoError(t, err, path)
			assert.True(t, g.Has(at), path)
			if strings.Contains(path, "weld.1.side.") && name == "demo" {
				continue // its sides stand in braces on the line of the weld
			}
			assert.True(t, inOrder(strings.Split(text, "\n"), strings.Split(g.Doc().Text(), "\n")), "%s in %s:\n%s", path, name, g.Doc().Text())
			begun++
		}
		assert.Greater(t, begun, 20, name)
	}
}

// inOrder reports whether all lines of a stand in b too, one behind the other.
func inOrder(a, b []string) bool {
	for _, line := range b {
		if len(a) > 0 && line == a[0] {
			a = a[1:]
		}
	}
	return len(a) == 0
}

func TestATableIsBegunWhereItBelongs(t *testing.T) {
	f, err := project.Parse("x", []byte("format = 3\r\n\r\n# the gauge\r\n[gauge]\r\nzero = \"0.1 deg\"\r\n"))
	require.NoError(t, err)
	for _, c := range [][2]string{{"vehicle.name", "x"}, {"limits.gap", "9"}, {"line.rear.pinion.at", "1,2,3"}, {"rails.left.height", "9"}} {
		f, _, err = begin(t, f, c[0], c[1])
		require.NoError(t, err)
	}
	assert.Equal(t, "format = 3\r\n\r\n[vehicle]\r\nname = \"x\"\r\n\r\n[rails.left]\r\nheight = 9\r\n\r\n"+
		"[line.rear.pinion]\r\nat = [1, 2, 3]\r\n\r\n# the gauge\r\n[gauge]\r\nzero = \"0.1 deg\"\r\n\r\n[limits]\r\ngap = 9\r\n", f.Doc().Text())

	// Keys with dots, and tables in another order, are left as their owner wrote them.
	f, err = project.Parse("x", []byte("format = 3\ngauge.zero = \"0.1 deg\"\n[stock_]\n"))
	require.Error(t, err)
	require.Nil(t, f)
	f, err = project.Parse("x", []byte("format = 3\ngauge.zero = \"0.1 deg\"\n"))
	require.NoError(t, err)
	f, _, err = begin(t, f, "vehicle.name", "x")
	require.NoError(t, err)
	assert.Equal(t, "format = 3\ngauge.zero = \"0.1 deg\"\n\n[vehicle]\nname = \"x\"\n", f.Doc().Text())
}

func TestAJointComesWithThoseOfItsLine(t *testing.T) {
	for text, want := range map[string]int{
		"format = 3\n":                      2,
		"format = 3\n[[line.rear.shaft]]\n": 2,
		"format = 3\n[[line.rear.shaft]]\n[[line.rear.shaft]]\n":                          3,
		"format = 3\n[[line.rear.joint]]\n[[line.rear.joint]]\n[line.front.suspension]\n": 2,
	} {
		f, err := project.Parse("x", []byte(text))
		require.NoError(t, err)
		g, _, err := begin(t, f, "line.rear.joint.1.rating", "900 N m")
		require.NoError(t, err)
		whole, err := f.With(g.Doc())
		require.NoError(t, err)
		assert.Len(t, whole.Build.Lines[0].Joints, want, text)
	}
}

func TestStepsAreAddedAndTakenOff(t *testing.T) {
	f, err := project.Parse("x", starter.Demo())
	require.NoError(t, err)
	for _, c := range []struct {
		path, typed string
		sign        float64
		want        string
	}{
		{"placement.rear", "5", 1, "-284.5"},
		{"placement.rear", "1 in", -1, "-314.9"},
		{"line.rear.pinion.slope", "0.3 deg up to the rear", 1, "4.5 deg down to the rear"},
		{"line.rear.pinion.at[2]", "10", 1, "-240"},
		{"placement.offset", "2 mm left", 1, "4 mm right"},
	} {
		edits, err := edit.StepBy(f, c.path, c.typed, c.sign)
		require.NoError(t, err, c.path)
		g, err := edit.Apply(f, edits...)
		require.NoError(t, err)
		got, _ := g.Text(c.path)
		assert.Equal(t, c.want, got, c.path)
	}
	edits, err := edit.StepBy(f, "placement.lift", "3", 1)
	require.NoError(t, err)
	assert.Len(t, edits, 3)
	for path, typed := range map[string]string{"name": "1", "placement.rear": "1 kg", "line.rear.pinion.slope": "1", "nowhere": "1"} {
		_, err := edit.StepBy(f, path, typed, 1)
		require.Error(t, err, path)
	}
	require.Error(t, edit.SignedDoubt("placement.lift", " +5"))
	require.NoError(t, edit.SignedDoubt("placement.rear", "-5"))
	require.NoError(t, edit.SignedDoubt("name", "+5"))
}

func TestPathsAreSpokenFromOne(t *testing.T) {
	for path, want := range map[string]string{
		"line.rear.joint[1].at": "line.rear.joint.2.at", "job[0]": "job.1", "a.b": "a.b", "rails.left.points[3][1]": "rails.left.points.4.2", "a[b]": "a",
	} {
		assert.Equal(t, want, project.SpokenPath(path))
	}
}

// No path and no value brings it down, and what is refused leaves no trace.
func FuzzBegin(f *testing.F) {
	texts := []string{"format = 3\n", string(starter.New()), string(starter.Demo()),
		"format = 3\nline.rear.joint = [{}, {}]\nchassis = [{ name = \"a\", at = [1, 2, 3] }]\n[stock]\n"}
	for i, k := range project.Schema() {
		if i%8 != 0 {
			continue // as they come in the corpus they would take seconds
		}
		f.Add(i/8%len(texts), strings.NewReplacer(".N.", ".1.", "NAME", "rear").Replace(k.Path), k.Example())
	}
	for _, path := range []string{"", ".", "a..b", "chassis.-1.x", "line.rear[0].x", "line.\"a b\".x", "loads.case.2.name", "limits.joint_max.source", "units.length"} {
		f.Add(0, path, "+5")
	}
	f.Fuzz(func(t *testing.T, n int, path, typed string) {
		f, err := project.Parse("x", []byte(texts[(n%len(texts)+len(texts))%len(texts)]))
		if err != nil {
			return
		}
		before := f.Doc().Text()
		at, edits, err := edit.Begin(f, path)
		if err == nil {
			if g, err := edit.Draft(f, edits...); err == nil {
				_, _ = edit.Written(g, at, typed)
				_, _ = edit.StepBy(g, at, typed, 1)
			}
		}
		_ = edit.SignedDoubt(path, typed)
		_, _ = edit.AddEntry(f, path, []edit.KeyValue{{Key: "name", Typed: typed}}, func(string) bool { return false })
		_, _ = edit.RemoveEntries(f, []string{path})
		assert.Equal(t, before, f.Doc().Text())
	})
}
