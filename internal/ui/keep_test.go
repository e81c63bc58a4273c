package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/project/starter"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestQuitWhenNothingIsUnsaved(t *testing.T) {
	t.Parallel()
	for _, keys := range [][]string{{"q"}, {"ctrl+c"}, {"right", "s", "q"}, {"right", "u", "q"}, {"?", "esc", "q"}} {
		d := demo(t, 80, 24).keys(keys...)
		assert.True(t, d.quit, "%v", keys)
	}
}

func TestQuitAsksAboutUnsavedWork(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		key         string
		quit, saved bool
	}{
		{"esc", false, false}, {"d", true, false}, {"s", true, true},
		{"q", false, false}, {"enter", false, false}, {"right", false, false}, {"ctrl+c", false, false},
	} {
		t.Run(c.key, func(t *testing.T) {
			d := demo(t, 80, 24).keys("right")
			edited := d.bytes()
			d.keys("q")
			require.False(t, d.quit)
			require.Contains(t, d.screen(), "Unsaved work")
			d.keys(c.key)
			assert.Equal(t, c.quit, d.quit)
			same(t, edited, d.bytes(), "the work itself stays as it is")
			if c.saved {
				same(t, edited, d.file())
			} else {
				same(t, string(starter.Demo()), d.file())
			}
		})
	}
}

// Work that was dropped on purpose is not offered again; work that was not
// saved for another reason is.
func TestDroppedWorkIsNotOffered(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right", "q", "d")
	require.True(t, d.quit)
	next := driveFile(t, d.path, 80, 24)
	assert.Empty(t, next.m.dialogs)
	same(t, string(starter.Demo()), next.bytes())
}

func TestSavedWorkIsNotOffered(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right", "s")
	next := driveFile(t, d.path, 80, 24)
	assert.Empty(t, next.m.dialogs)
	same(t, d.bytes(), next.bytes())
}

func TestSaveWithNothingToSave(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 24).keys("s")
	assert.Contains(t, d.screen(), "Nothing to save")
	d.keys("right", "ctrl+s")
	assert.Contains(t, d.screen(), "Saved ")
	assert.NotContains(t, d.screen(), "build.toml  unsaved")
}

// changedElsewhere is a bench with an edit whose file somebody else has changed
// in the same place.
func changedElsewhere(t *testing.T) (d *driver, theirs string) {
	d = demo(t, 80, 24).keys("down", "down", "right")
	theirs = strings.NewReplacer("setback = 260", "setback = 270", "\nrear = -289.5", "\nrear = -250  ").Replace(string(starter.Demo()))
	require.NoError(t, os.WriteFile(d.path, []byte(theirs), 0o644))
	d.keys("s")
	require.Len(t, d.m.dialogs, 1)
	require.Contains(t, d.screen(), "You and another program changed the same")
	require.Contains(t, d.screen(), "rear mount: yours -289.0 mm, theirs -250 mm")
	same(t, theirs, d.file(), "nothing was written")
	return d, theirs
}

func TestConflictKeepMine(t *testing.T) {
	t.Parallel()
	d, theirs := changedElsewhere(t)
	d.keys("m")
	same(t, theirs, d.file(), "not before it is asked for")
	d.keys("s")
	same(t, d.bytes(), d.file())
	assert.Contains(t, d.file(), "setback = 270", "what only they changed stays")
	assert.Contains(t, d.file(), "rear = -289.0")
	backup, err := os.ReadFile(filepath.Join(filepath.Dir(d.path), ".build.toml.fitup", "before"))
	require.NoError(t, err)
	assert.Equal(t, theirs, string(backup), "the other version is the backup")
	assert.False(t, d.m.sess.Unsaved())
}

func TestConflictTakeTheirs(t *testing.T) {
	t.Parallel()
	d, theirs := changedElsewhere(t)
	d.keys("t")
	same(t, theirs, d.bytes())
	assert.False(t, d.m.sess.Unsaved())
}

func TestConflictLoadTheirs(t *testing.T) {
	t.Parallel()
	d, theirs := changedElsewhere(t)
	d.keys("l")
	same(t, theirs, d.bytes())
	same(t, theirs, d.file())
	assert.Contains(t, d.screen(), "270.0 mm")
	assert.False(t, d.m.sess.Unsaved())
	d.keys("right", "s")
	assert.Empty(t, d.m.dialogs, "the next save finds the file as it was read")
	assert.Contains(t, d.file(), "setback = 270")
}

func TestConflictStay(t *testing.T) {
	t.Parallel()
	d, theirs := changedElsewhere(t)
	d.keys("esc")
	assert.Empty(t, d.m.dialogs)
	assert.True(t, d.m.sess.Unsaved())
	same(t, theirs, d.file())
	d.keys("s")
	assert.Len(t, d.m.dialogs, 1, "it asks again")
}

// Saving on the way out meets the same question and does not end the bench.
func TestConflictOnTheWayOut(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	theirs := strings.Replace(string(starter.Demo()), "left_front = -106\n", "left_front = -90\n", 1)
	require.NoError(t, os.WriteFile(d.path, []byte(theirs), 0o644))
	d.keys("q", "s")
	assert.False(t, d.quit)
	assert.Contains(t, d.screen(), "You and another program changed the same")
}

// A version on disk that cannot be read is not loaded, and nothing is lost.
func TestConflictWithABrokenFile(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	edited := d.bytes()
	require.NoError(t, os.WriteFile(d.path, []byte("format = 1\nnonsense = ["), 0o644))
	d.keys("s")
	require.Contains(t, d.screen(), "The file was changed by another program")
	d.keys("l")
	assert.Contains(t, d.screen(), "Not loaded")
	assert.Contains(t, d.screen(), "Line 2: this list is not closed")
	d.keys("enter")
	assert.Empty(t, d.m.dialogs)
	same(t, edited, d.bytes())
	assert.True(t, d.m.sess.Unsaved())
}

// crashed is a build file with two unsaved edits in its journal.
func crashed(t *testing.T) (path, edited string) {
	d := demo(t, 80, 24).keys("down", "down", "right", "right") // never closed
	return d.path, d.bytes()
}

func TestRecoverTakesBack(t *testing.T) {
	t.Parallel()
	path, edited := crashed(t)
	d := driveFile(t, path, 80, 24)
	require.Contains(t, d.screen(), "2 edits from 14 May 2026, 09:30")
	same(t, string(starter.Demo()), d.bytes())
	d.keys("t")
	same(t, edited, d.bytes())
	assert.Contains(t, d.screen(), "unsaved")
	d.keys("u")
	assert.Contains(t, d.bytes(), "rear = -289.0")
	d.keys("u")
	same(t, string(starter.Demo()), d.bytes())
	d.keys("r", "r", "s")
	same(t, edited, d.file())
	assert.Empty(t, driveFile(t, path, 80, 24).m.dialogs)
}

func TestRecoverDrops(t *testing.T) {
	t.Parallel()
	path, _ := crashed(t)
	d := driveFile(t, path, 80, 24).keys("d")
	assert.Empty(t, d.m.dialogs)
	same(t, string(starter.Demo()), d.bytes())
	assert.Empty(t, driveFile(t, path, 80, 24).m.dialogs, "it is gone")
}

// Work taken back and lost again is offered again, whole.
func TestRecoverTwice(t *testing.T) {
	t.Parallel()
	path, _ := crashed(t)
	second := driveFile(t, path, 80, 24).keys("t", "left", "right", "right", "u")
	third := driveFile(t, path, 80, 24)
	require.Len(t, third.m.dialogs, 1)
	third.keys("t")
	same(t, second.bytes(), third.bytes())
}

// The question has to be answered before anything else is done: an edit made
// meanwhile would be journalled behind edits that were never taken back.
func TestRecoverMustBeAnswered(t *testing.T) {
	t.Parallel()
	path, edited := crashed(t)
	d := driveFile(t, path, 80, 24).keys("esc", "enter", "right", "s", "u", "ctrl+c", "space")
	require.Len(t, d.m.dialogs, 1)
	same(t, string(starter.Demo()), d.bytes())
	d.keys("q")
	assert.True(t, d.quit, "deciding later is an answer")
	third := driveFile(t, path, 80, 24)
	require.Len(t, third.m.dialogs, 1)
	third.keys("t")
	same(t, edited, third.bytes(), "what was left over comes back as it was")
}

// Leftover work for a file that has been changed since.
func TestRecoverAfterTheFileChanged(t *testing.T) {
	t.Parallel()
	path, _ := crashed(t)
	theirs := strings.Replace(string(starter.Demo()), "setback = 260", "setback = 270", 1)
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o644))
	d := driveFile(t, path, 80, 24)
	require.Contains(t, d.screen(), "The file has been changed since")
	d.keys("t")
	assert.Contains(t, d.bytes(), "setback = 270")
	assert.Contains(t, d.bytes(), "rear = -288.5")
}

// A hang-up ends the bench at once; the work is in the journal.
func TestHangup(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right", "n")
	edited := d.bytes()
	d.send(hangupMsg{})
	assert.True(t, d.quit)
	same(t, string(starter.Demo()), d.file())
	same(t, edited, driveFile(t, d.path, 80, 24).keys("t").bytes())
}

// A panic in a command is caught with its trace, and ends the bench in order.
func TestPanicInACommand(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	d.send(guard(func() tea.Msg { panic("a bent needle") })())
	require.True(t, d.quit)
	require.NotNil(t, d.m.failure)
	assert.Equal(t, "a bent needle", d.m.failure.Error())
	assert.Contains(t, d.m.failure.Stack, "TestPanicInACommand")
}

// So does one in the model.
func TestPanicInTheModel(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	d.m.open(&panics{})
	g := guarded{d.m}
	var cmd tea.Cmd
	require.NotPanics(t, func() { _, cmd = g.Update(rune1('x')) })
	require.NotNil(t, cmd)
	assert.Equal(t, tea.QuitMsg{}, cmd())
	require.NotNil(t, d.m.failure)
	assert.Contains(t, d.m.failure.Stack, "panics).key")
}

type panics struct{ help }

func (*panics) key(*Model, tea.KeyMsg) { panic("the needle is bent") }

// A file loaded again in other units is nudged in those.
func TestReloadInOtherUnits(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	require.NoError(t, os.WriteFile(d.path, []byte(inches), 0o644))
	d.keys("s", "l", "right") // both changed the left front mount
	assert.Equal(t, "-4.09375", d.raw("placement.left_front"), "a thirty-second of an inch up from -4.125")
}
