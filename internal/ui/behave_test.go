package ui

import (
	"os"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/inturn"
	"fitup/internal/project/starter"
	"fitup/internal/ui/action"
	"fitup/internal/ui/layout"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// raw is the text of a value as the build has it now, saved or not.
func (d *driver) raw(path string) string {
	d.t.Helper()
	s, ok := d.m.sess.Now().Raw(path)
	require.True(d.t, ok, path)
	return s
}

func (d *driver) bytes() string { return string(d.m.sess.Now().Bytes()) }

// changedLines lists what differs line by line, as "old | new".
func changedLines(t *testing.T, was, is string) []string {
	t.Helper()
	a, b := strings.Split(was, "\n"), strings.Split(is, "\n")
	require.Len(t, b, len(a), "lines were added or taken out")
	var out []string
	for i := range a {
		if a[i] != b[i] {
			out = append(out, a[i]+" | "+b[i])
		}
	}
	return out
}

// same holds one text of a build file against another.
func same(t *testing.T, want, got string, why ...any) {
	t.Helper()
	if want != got {
		require.Fail(t, "the texts differ\n"+differences(want, got), why...)
	}
}

// verdict is the status of a finding.
func (d *driver) verdict(id string) assess.Status {
	d.t.Helper()
	f, ok := d.m.now.Finding(id)
	require.True(d.t, ok, id)
	return f.Status
}

func TestNudgeMovesTheFileByOneLine(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		keys []string
		want []string
	}{
		{"rear mount up two steps", []string{"down", "down", "right", "right"},
			[]string{"rear = -289.5                   # raise this one | rear = -288.5                   # raise this one"}},
		{"with plus and minus", []string{"+", "=", "-"}, []string{"left_front = -106 | left_front = -105.5"}},
		{"setback rearward", []string{"down", "down", "down", "down", "down", "right"}, []string{"setback = 260 | setback = 260.5"}},
		{"side to the left", []string{"down", "down", "down", "down", "down", "down", "left"}, []string{`offset = "6 mm right" | offset = "5.5 mm right"`}},
		{"a coarser step", []string{".", "."}, nil},
		{"two coarser steps up", []string{".", ".", "right"}, []string{"left_front = -106 | left_front = -104"}},
		{"the finest step", []string{",", ",", ",", "right"}, []string{"left_front = -106 | left_front = -105.9"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := demo(t, 120, 36).keys(c.keys...)
			same(t, string(starter.Demo()), d.file(), "nothing is written before it is saved")
			d.keys("s")
			assert.Equal(t, c.want, changedLines(t, string(starter.Demo()), d.file()))
			assert.False(t, d.m.sess.Unsaved())
		})
	}
}

// The whole lift moves three keys, a tilt the ones that tilt; the rest of the
// file stays as it was.
func TestRowsOfSeveralKeys(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("down", "down", "down", "right", "s")
	assert.Equal(t, []string{
		"left_front = -106 | left_front = -105.5", "right_front = -106 | right_front = -105.5",
		"rear = -289.5                   # raise this one | rear = -289.0                   # raise this one",
	}, changedLines(t, string(starter.Demo()), d.file()))
}

// TestEverythingFollowsInTheSameFrame presses one key and looks at the frame
// that comes of it.
func TestEverythingFollowsInTheSameFrame(t *testing.T) {
	t.Parallel()
	d := demo(t, 190, 45).keys("down", "down", ".", ".", ".")
	before := d.screen()
	for _, s := range []string{"J2 2.54° ✗", "✗ 8 over", "-289.5 mm", "4.30° down to the rear", "2.54±0.16 ✗ over", "☐ ✗ Cut the brackets"} {
		require.Contains(t, before, s)
	}
	d.keys("right")
	after := d.screen()
	for _, s := range []string{"J2 2.33° ✓", "-284.5 mm", "4.07° down to the rear", "2.33±0.17 ✓ ok",
		"rear mount -289.5 mm → -284.5 mm; rear joint 2, largest angle: over → ok"} {
		assert.Contains(t, after, s)
	}
	assert.NotContains(t, after, "✗ 8 over")
	assert.NotContains(t, after, "☐ ✗ Cut the brackets", "the job is free")
	assert.Equal(t, assess.OK, d.verdict("line.rear.joint.2.max"))
	assert.NotEqual(t, sketchOf(d, before), sketchOf(d, after), "the drawing moves too")
}

// sketchOf is the part of a screen in which the drawing is.
func sketchOf(d *driver, screen string) string {
	r := d.m.plan().Panes[layout.Sketch]
	return strings.Join(strings.Split(screen, "\n")[r.Y:r.Y+r.H], "\n")
}

func TestTypedValues(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, row, text, path, want string
	}{
		{"bare, in the file's unit", "0", "-100", "placement.left_front", "-100"},
		{"with its unit", "2", "-28.8 cm", "placement.rear", "-288.0"},
		{"inches in a metric file", "2", "-11 1/4 in", "placement.rear", "-285.75"},
		{"a decimal comma", "2", "-288,5", "placement.rear", "-288.5"},
		{"to the left", "6", "4 mm left", "placement.offset", `"4 mm left"`},
		{"a heading", "7", "0.5 deg rear to the right", "placement.heading", `"0.5 deg rear to the right"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := demo(t, 80, 24)
			for range c.row[0] - '0' {
				d.keys("down")
			}
			d.keys("enter", "text:"+c.text, "enter")
			assert.Empty(t, d.m.dialogs, d.screen())
			assert.Equal(t, c.want, d.raw(c.path))
		})
	}
}

// A tilt that is typed turns the powertrain about its front mounts: the rear
// mount is what moves.
func TestTypedTilt(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("down", "down", "down", "down", "enter", "text:4 deg down to the rear", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	assert.Contains(t, d.screen(), "4.00° down to the rear")
	assert.Equal(t, "-106", d.raw("placement.left_front"))
	assert.NotEqual(t, "-289.5", d.raw("placement.rear"))
}

func TestWrongTextIsNotTaken(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"12 kg", "", "nan", "1e400", "inf mm", "10 mm x", "--3", "4 deg"} {
		t.Run(text, func(t *testing.T) {
			d := demo(t, 80, 24).keys("enter", "text:"+text, "enter")
			require.Len(t, d.m.dialogs, 1, "the box stays open")
			a, ok := d.m.dialogs[0].(*ask)
			require.True(t, ok)
			assert.Error(t, a.field.Err())
			assert.Contains(t, d.screen(), "✗")
			same(t, string(starter.Demo()), d.bytes())
			d.keys("esc")
			assert.Empty(t, d.m.dialogs)
			assert.False(t, d.m.sess.Unsaved())
		})
	}
}

// Typing in a box types: no letter of it is taken for a key of the bench.
func TestLettersTypedInABoxAreText(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("enter", "text:qsuzb1234?:", "q")
	require.Len(t, d.m.dialogs, 1)
	assert.Equal(t, "qsuzb1234?:q", d.m.dialogs[0].(*ask).field.Text())
	assert.False(t, d.quit)
	assert.Equal(t, firstPane, d.m.focus)
}

func TestUndoAndRedoReturnTheVeryBytes(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36)
	states := []string{d.bytes()}
	for _, keys := range [][]string{
		{"right"}, {"down", "down", "right"}, {"enter", "text:-280 mm", "enter"}, {"down", "left"}, {"down", "right"},
		{"n", "text:85.9", "down", "r", "enter"}, {"5", "space"}, {"3", "x"},
	} {
		d.keys(keys...)
		require.NotEqual(t, states[len(states)-1], d.bytes(), "%v changed nothing: %s", keys, d.m.message.text)
		states = append(states, d.bytes())
	}
	for i := len(states) - 2; i >= 0; i-- {
		d.keys("u")
		same(t, states[i], d.bytes(), "undo to state %d", i)
	}
	assert.False(t, d.m.sess.Unsaved())
	d.keys("u")
	assert.Contains(t, d.screen(), "Nothing to undo.")
	for i := 1; i < len(states); i++ {
		d.keys("r")
		same(t, states[i], d.bytes(), "redo to state %d", i)
	}
	d.keys("r")
	assert.Contains(t, d.screen(), "Nothing to do again.")
}

// A screen that is too small takes no edit, not even through a box that was
// open before it shrank, and comes back with everything as it was.
func TestSmallScreenTakesNoEdit(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		keys []string
	}{
		{"no box", []string{"down", "right"}},
		{"value box", []string{"down", "right", "enter", "text:-99"}},
		{"reading form", []string{"down", "right", "n", "text:85.6", "down", "r"}},
		{"quit question", []string{"down", "right", "q"}},
		{"large figures", []string{"down", "right", "b"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := demo(t, 80, 24).keys(c.keys...)
			frame, text := d.m.View(), d.bytes()
			for _, size := range [][2]int{{59, 24}, {80, 19}, {1, 1}, {0, 0}, {30, 5}} {
				d.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
				d.keys("right", "enter", "s", "d", "u", "space", "x", "text:12", "enter", "q", "ctrl+c", "esc", "left")
				d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("500"), Paste: true})
				same(t, text, d.bytes())
				same(t, string(starter.Demo()), d.file())
				require.False(t, d.quit, "unsaved work is not left behind unasked")
			}
			d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
			assert.Equal(t, frame, d.m.View())
		})
	}
}

func TestSmallScreenLetsACleanBenchQuit(t *testing.T) {
	t.Parallel()
	d := demo(t, 40, 10)
	assert.Contains(t, strings.Join(strings.Fields(d.screen()), " "), "This window is 40 by 10; fitup needs 60 by 20")
	d.keys("right", "s", "n")
	assert.False(t, d.quit)
	d.keys("q")
	assert.True(t, d.quit)
}

// toJob puts the cursor on a job, the first being 0.
func (d *driver) toJob(n int) *driver {
	d.keys("5")
	for range d.m.now.Jobs {
		d.keys("up")
	}
	for range n {
		d.keys("down")
	}
	return d
}

func TestJobs(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).toJob(6).keys("space")
	assert.Equal(t, "true", d.raw("job[6].done"))
	assert.Contains(t, d.screen(), "6 of 15 done")
	d.keys("space")
	assert.Equal(t, "false", d.raw("job[6].done"))

	d.keys("down", "down", "down", "space")
	assert.Equal(t, "false", d.raw("job[9].done"), "the job is held by a finding that is over")
	assert.Contains(t, d.screen(), "Held: rear joint 2, largest angle is over")

	d.keys("esc", "2", "down", "down", ".", ".", ".", "right", "5", "space")
	assert.Equal(t, "false", d.raw("job[9].done"), "the finding is ok, and the readings are still to be proved again")
	d.keys("esc").toJob(5).keys("space").toJob(7).keys("space").toJob(9).keys("space")
	assert.Equal(t, "false", d.raw("job[9].done"), "the frame is not square yet")
	d.keys("esc").toJob(8).keys("space", "text:squared in the jig, tapes to follow", "enter").toJob(9).keys("space")
	assert.Equal(t, "true", d.raw("job[9].done"), "the job is free")
}

// A job that waits for a finding that cannot be known does not get ticked.
func TestJobHeldByTheUnknown(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 120, 36).toJob(2).keys("space")
	same(t, string(starter.New()), d.bytes())
	assert.Contains(t, d.screen(), "Held: ")
	assert.Contains(t, d.screen(), "is not known")
}

func TestSeveralLettersInOneRead(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36)
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("jj++")})
	assert.Equal(t, "-288.5", d.raw("placement.rear"), "down twice, then two steps up")

	d.send(tea.KeyMsg{Type: tea.KeyEnter})
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("-280 mm")})
	d.keys("enter")
	assert.Equal(t, "-280.0", d.raw("placement.rear"))

	// The letters of a key's name are letters: "u" takes back, "p" is nothing,
	// and the cursor does not move up.
	d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("up")})
	assert.Equal(t, "-288.5", d.raw("placement.rear"))
	assert.Equal(t, "rear mount", d.m.mounts().Row(d.m.view(firstPane)).Label)
}

func TestPaste(t *testing.T) {
	t.Parallel()
	paste := func(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s), Paste: true} }
	d := demo(t, 80, 24)
	d.send(paste("qs++x\nq"))
	assert.False(t, d.quit)
	same(t, string(starter.Demo()), d.bytes(), "a paste is not a row of keys")
	assert.Contains(t, d.screen(), "Nothing here takes pasted text")

	d.keys("enter")
	d.send(paste("  -100 mm\n"))
	d.keys("enter")
	assert.Equal(t, "-100", d.raw("placement.left_front"))

	d.keys("n")
	d.send(paste("85.6\x1b[2J"))
	assert.NotContains(t, d.m.View(), "\x1b[2J")
	assert.Equal(t, "85.6", d.m.dialogs[0].(*reading).shown.Text())
}

func TestLargeFiguresNudge(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("down", "down", "b", "right")
	assert.Equal(t, "-289.0", d.raw("placement.rear"))
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.screen(), "rear mount")
	d.keys("u")
	assert.Equal(t, "-289.5", d.raw("placement.rear"))
	d.keys("esc")
	assert.Empty(t, d.m.dialogs)
}

func TestWatchNextGoesRound(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	first, _ := d.m.watched()
	seen := map[string]bool{}
	for range d.m.now.Watchable() {
		d.keys("w")
		f, ok := d.m.watched()
		require.True(t, ok)
		assert.False(t, seen[f.ID], f.ID)
		seen[f.ID] = true
	}
	last, _ := d.m.watched()
	assert.Equal(t, first.ID, last.ID)
}

// Every action can be done from the search.
func TestSearchReachesEveryAction(t *testing.T) {
	t.Parallel()
	all := demo(t, 80, 24).m.actions.All()
	for _, a := range inturn.Kinds(t, all, 4, func(a action.Action) string { return string(a.Scope) }) {
		if a.ID == actSearch || a.Scope == scopeRound || a.Scope == scopePropose { // their keys are at hand there
			continue
		}
		t.Run(string(a.ID), func(t *testing.T) {
			d := demo(t, 80, 24)
			d.m.focus = max(paneWith(a.Scope), layout.Sketch)
			if a.Scope == scopeData {
				d.keys("d")
			}
			d.keys(":", "type:"+a.Label)
			s, ok := d.m.dialogs[len(d.m.dialogs)-1].(*searchBox)
			require.True(t, ok)
			require.NotEmpty(t, s.hits)
			assert.Equal(t, a.ID, s.all[s.hits[0].At].action.ID)
			d.keys("enter")
		})
	}
}

func TestBuildFileGoneIsSaidAndSavedAgain(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	require.NoError(t, os.Remove(d.path))
	d.keys("s")
	require.Len(t, d.m.dialogs, 1, d.screen())
	d.keys("o")
	same(t, d.bytes(), d.file())
}

// A key of another pane is not silent: what it is there is said, and the file stays.
func TestAKeyOfAnotherPaneSaysWhereItWorks(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	before := d.bytes()
	d.keys("m")
	require.Contains(t, d.screen(), "in Frame and Jobs it is: measurement.")
	d.keys("x")
	require.Contains(t, d.screen(), "it is: drop ")
	d.keys("space")
	require.Contains(t, d.screen(), "answers to space; in Jobs it is: tick.")
	same(t, before, d.bytes())
}
