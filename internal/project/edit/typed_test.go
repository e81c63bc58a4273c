package edit

import (
	"strings"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/require"
)

func parsed(t *testing.T, src string) *project.File {
	t.Helper()
	f, err := project.Parse("build.toml", []byte(src))
	require.NoError(t, err)
	return f
}

func typed(t *testing.T, src string, values ...Value) string {
	t.Helper()
	f := parsed(t, src)
	edits, err := Typed(f, values...)
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	return strings.TrimPrefix(string(g.Bytes()), "format = 3\n")
}

func TestTypedIsWrittenAsTheFileHasIt(t *testing.T) {
	for _, c := range []struct{ path, text, want string }{
		{"powertrain.output", "1395, 0, -64", "output = [1395, 0, -64]"},
		{"powertrain.output", "1395 0 -64.5", "output = [1395, 0, -64.5]"},
		{"powertrain.output", "54 7/8 in, 0, -2 in", `output = ["54 7/8 in", 0, "-2 in"]`},
		{"powertrain.output", "54 7/8 in; 0; 1", `output = ["54 7/8 in", 0, 1]`},
		{"rails.left.points", "1,2,3; 4, 5, 6 mm", `points = [[1, 2, 3], [4, 5, "6 mm"]]`},
		{"powertrain.gears", "4.2, 2.4; 1", ""},
		{"powertrain.gears", "4.2, 2.4, 1", "gears = [4.2, 2.4, 1]"},
		{"powertrain.gears", "4.2; 2.4; 1", "gears = [4.2, 2.4, 1]"},
		{"vehicle.note", "x", ""},
		{"note", `with a ; and a \`, `note = "with a ; and a \\"`},
		{"mount.rear.fit_up_only", "Yes", "fit_up_only = true"},
		{"mount.rear.fit_up_only", "perhaps", ""},
		{"mount.rear.holds", "CAPTIVE", `holds = "captive"`},
		{"mount.rear.holds", "loosely", ""},
		{"mount.rear.hardness", "-5", ""},
		{"powertrain.gears", "4.2; -1", ""},
		{"powertrain.output", "1, 2", ""},
		{"powertrain.output", "1, 2 kg, 3", ""},
		{"fastener[0].marked_on", "2026-02-30", ""},
		{"measure[0].taken", "yesterday", ""},
		{"fastener[1].name", "no entry before it", ""},
		{"limits.joint_max", "2.5 deg", `joint_max = "2.5 deg"`},
		{"limits.joint_max.source", "the maker", `joint_max = { value = 3, source = "the maker" }`},
		{"units.length", "cubit", ""},
	} {
		f := parsed(t, "format = 3\n")
		edits, err := Typed(f, Value{c.path, c.text})
		if err == nil {
			var g *project.File
			if g, err = Apply(f, edits...); err == nil {
				require.NotEmpty(t, c.want, "%s takes %q", c.path, c.text)
				require.Contains(t, string(g.Bytes()), c.want)
			}
		}
		require.Equal(t, c.want == "", err != nil, "%s: %q: %v", c.path, c.text, err)
	}
}

func TestADayIsWrittenWithoutQuotes(t *testing.T) {
	require.Contains(t, typed(t, "format = 3\n[[fastener]]\nname = \"x\"\n", Value{"fastener[0].marked_on", "2026-02-28"}), "marked_on = 2026-02-28\n")
}

func TestSourceOfALimit(t *testing.T) {
	const src = "format = 3\n[limits]\njoint_max = \"2.5 deg\"\n"
	with := typed(t, src, Value{"limits.joint_max.source", "the maker"})
	require.Equal(t, "[limits]\njoint_max = { value = \"2.5 deg\", source = \"the maker\" }\n", with)
	with = "format = 3\n" + with
	require.Equal(t, "[limits]\njoint_max = { value = \"2 deg\", source = \"the maker\" }\n", typed(t, with, Value{"limits.joint_max", "2 deg"}))
	require.Equal(t, "[limits]\njoint_max = { value = \"2.5 deg\" }\n", typed(t, with, Value{"limits.joint_max.source", ""}))
	require.NotContains(t, typed(t, with, Value{"limits.joint_max", ""}), "joint_max")
	require.NotContains(t, typed(t, src, Value{"limits.joint_max", ""}), "joint_max")
}

// What is typed for an entry that is not there begins it in one edit; nothing typed is
// nothing written.
func TestEntryIsBegunByWhatIsTyped(t *testing.T) {
	f := parsed(t, "format = 3\n")
	edits, err := Typed(f, Value{"elsewhere[0].of", "bracket.rear"}, Value{"elsewhere[0].by", "the maker"}, Value{"elsewhere[0].note", ""}, Value{"elsewhere[0].why", "bought"})
	require.NoError(t, err)
	require.Len(t, edits, 1)
	require.Len(t, edits[0].Pairs, 3)
	_, err = Apply(f, edits...)
	require.NoError(t, err)
}

// A line has as many joints as it has written, so the first one that is typed brings the
// others along.
func TestJointsOfALineAreBegunTogether(t *testing.T) {
	f := parsed(t, "format = 3\n[line.rear]\nratio = 3.7\n[[line.rear.shaft]]\noutside = 60\n[[line.rear.shaft]]\noutside = 60\n")
	require.Equal(t, 3, f.Build.Lines[0].JointCount())
	edits, err := Typed(f, Value{"line.rear.joint[0].rating", "2500 N m"})
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	require.Equal(t, 3, g.Build.Lines[0].JointCount())
	require.True(t, g.Build.Lines[0].Joint(0).Rating.Known())
}

// Numbers without a unit keep what they are when the unit of their kind is chosen anew.
func TestAUnitChosenAnewMovesNothing(t *testing.T) {
	f := parsed(t, "format = 3\n[vehicle]\nwheelbase = 3300\n[powertrain]\noutput = [1, 2, 3]\nmass = 300\n")
	edits, err := Typed(f, Value{"units.length", "in"})
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	require.InDelta(t, 3300, g.Build.Vehicle.Wheelbase.V(), 1e-9)
	require.InDelta(t, 3, g.Build.Powertrain.Output.At.Z, 1e-9)
	require.InDelta(t, 300, g.Build.Powertrain.Mass.V(), 1e-9)
	back, err := Typed(g, Value{"units.length", ""})
	require.NoError(t, err)
	h, err := Apply(g, back...)
	require.NoError(t, err)
	require.InDelta(t, 3300, h.Build.Vehicle.Wheelbase.V(), 1e-9)
}

// A text of several lines is shown and typed with signs for its line ends.
func TestTextOfSeveralLines(t *testing.T) {
	src := "format = 3\nnote = \"one\\ntwo \\\\ three\"\n"
	require.Equal(t, "note = \"one\\ntwo \\\\ four\"\n", typed(t, src, Value{"note", `one\ntwo \\ four`}))
	require.Equal(t, "note = \"C:\\\\new\"\n", typed(t, "format = 3\nnote = \"x\"\n", Value{"note", `C:\new`}))
}

const copied1 = `format = 3
[[reading]]
of = "frame"
on = "along"
shown = 1
lower = "rear"
after = "welded"
[[weld]]
bracket = "rear"
at = "foot"
[weld.side.front]
state = "finished"
length = 60
# the second
[[weld]]
bracket = "left"
at = "foot"
[mount.left_front]
holds = "captive"
[mount.left_front.leg]
section = "SHS 50x50x3 cold"
[mount.left_front.built]
pad = [1, 2, 3]
`

// A copy has everything but what was found on that one alone.
func TestCopyLeavesWhatWasFound(t *testing.T) {
	f := parsed(t, copied1)
	edits, err := CopyEntry(f, "weld", 0)
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	require.Len(t, g.Build.Welds, 3)
	require.Equal(t, "rear", g.Build.Welds[1].Bracket)
	require.Equal(t, "foot, copy", g.Build.Welds[1].At, "the same weld cannot be there twice")
	require.Len(t, g.Build.Welds[1].Sides, 1)
	require.Equal(t, project.WeldState(""), g.Build.Welds[1].Sides[0].State, "nobody has welded it")
	require.True(t, g.Build.Welds[1].Sides[0].Length.Known())
	require.Equal(t, project.WeldFinished, g.Build.Welds[0].Sides[0].State)
	require.Equal(t, "left", g.Build.Welds[2].Bracket)
	require.Contains(t, string(g.Bytes()), "# the second\n[[weld]]\nbracket = \"left\"")

	_, err = CopyEntry(f, "weld", 7)
	require.Error(t, err)
	edits, err = CopyEntry(f, "reading", 0)
	require.NoError(t, err)
	for _, p := range edits[0].Pairs {
		require.NotContains(t, []string{"shown", "lower", "after", "of"}, p.Key, "nobody has read it")
	}

	edits, err = CopyNamed(f, "mount.left_front", "right_front")
	require.NoError(t, err)
	g, err = Apply(f, edits...)
	require.NoError(t, err)
	m := g.Build.Mount("right_front")
	require.Equal(t, "SHS 50x50x3 cold", m.Leg.Section)
	require.Equal(t, project.Captive, m.Holds)
	require.False(t, m.Built.Begun(), "nobody has measured it")
	for _, name := range []string{"left_front", "", "no name"} {
		_, err = CopyNamed(f, "mount.left_front", name)
		require.Error(t, err, name)
	}
}

func TestEntryMovesWithItsComment(t *testing.T) {
	f := parsed(t, copied1)
	e, err := MoveEntry(f, "weld", 1, -1)
	require.NoError(t, err)
	g, err := Apply(f, e)
	require.NoError(t, err)
	require.Equal(t, "left", g.Build.Welds[0].Bracket)
	require.Equal(t, "rear", g.Build.Welds[1].Bracket)
	require.Len(t, g.Build.Welds[1].Sides, 1)
	require.Contains(t, string(g.Bytes()), "# the second\n[[weld]]\nbracket = \"left\"")
	for _, by := range []int{-1, 2} {
		_, err = MoveEntry(f, "weld", 0, by)
		require.Error(t, err)
	}
}

// A text of several lines is written over several lines, with the line ends of the file,
// and is the same text when the file is read.
func TestTypedLines(t *testing.T) {
	for _, end := range []string{"\n", "\r\n"} {
		f := parsed(t, "format = 3"+end+"name = \"a\""+end)
		for _, text := range []string{
			"first\nsecond", "a \"quoted\"\nand three \"\"\" of them \\ here", "in front\n\n  and behind", "ends in quotes \"\nand \"",
			"tab\there\nand there", "one line again",
		} {
			edits, err := Typed(f, Value{Path: "note", Text: text})
			require.NoError(t, err, text)
			f, err = Apply(f, edits...)
			require.NoError(t, err, text)
			require.Equal(t, text, strings.ReplaceAll(f.Build.Note, "\r\n", "\n"), f.Doc().Text())
			if strings.Contains(text, "\n") {
				require.Contains(t, f.Doc().Text(), `note = """`+end)
			} else {
				require.Contains(t, f.Doc().Text(), `note = "one line again"`)
			}
			require.Equal(t, end == "\r\n", strings.Contains(f.Doc().Text(), "\r"))
			require.Equal(t, strings.Count(f.Doc().Text(), "\n"), strings.Count(f.Doc().Text(), end))
		}
	}
	require.Equal(t, "note = \"\"\"\nfirst\nsecond\"\"\"\n", typed(t, "format = 3\n", Value{Path: "note", Text: "first\nsecond"}))
	require.Equal(t, "\n[[fluid]]\nname = \"axle\"\nnote = \"\"\"\nfirst\nsecond\"\"\"\n",
		typed(t, "format = 3\n", Value{Path: "fluid[0].name", Text: "axle"}, Value{Path: "fluid[0].note", Text: "first\nsecond"}))
}
