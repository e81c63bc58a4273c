package ui

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"fitup/internal/project/keep"
	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// flat is the screen as running text: frames and line ends gone.
func (d *driver) flat() string {
	return strings.Join(strings.Fields(strings.NewReplacer("│", " ", "┃", " ", "─", " ", "━", " ").Replace(d.screen())), " ")
}

// A save that fails says why in full, without any path, on the smallest screen,
// until it has been read; and another name can be given on the spot.
func TestWhyASaveFailedCanBeRead(t *testing.T) {
	t.Parallel()
	if os.Getuid() == 0 && runtime.GOOS != "windows" {
		t.Log("as root; the refusal comes from the file's own mode")
	}
	d := demo(t, 60, 20).keys("right")
	require.NoError(t, os.Chmod(d.path, 0o444))
	d.keys("s")
	require.Len(t, d.m.dialogs, 1)
	why := "The file is read-only; allow writing to it, or save under another name."
	assert.Contains(t, d.flat(), why)
	assert.NotContains(t, d.flat(), filepath.Dir(d.path))
	d.keys("right", "down", "q", "s", "esc")
	assert.Contains(t, d.flat(), why, "it stays until it is read")
	assert.False(t, d.quit)

	work := d.bytes()
	d.keys("n", "text:other.toml", "enter")
	assert.Contains(t, d.screen(), "Saved ")
	b, err := os.ReadFile(filepath.Join(filepath.Dir(d.path), "other.toml"))
	require.NoError(t, err)
	same(t, work, string(b))
	same(t, string(starter.Demo()), d.file())
	assert.False(t, d.m.sess.Unsaved())
	d.keys("enter", "esc", "q")
	assert.True(t, d.quit)
}

func TestSaveUnderAnotherName(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right", "S", "enter")
	require.Len(t, d.m.dialogs, 1, "it wants a name")
	d.keys("text:build.toml", "enter")
	assert.Contains(t, d.flat(), "There is already a file of that name; choose another name.")
	d.keys("enter", "ctrl+u", "text:two.toml", "enter")
	assert.Empty(t, d.m.dialogs)
	assert.Contains(t, d.screen(), " two.toml ")
	same(t, string(starter.Demo()), d.file(), "the file so far is left alone")
	d.keys("right")
	assert.True(t, d.m.sess.Unsaved())
	d.keys("s")
	assert.Empty(t, d.m.dialogs)
}

// q d is a finger's breadth from q s: what it drops is an earlier state.
func TestWhatQuittingDropsIsKept(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	work := d.bytes()
	d.keys("q", "d")
	require.True(t, d.quit)
	all, err := keep.States(d.path)
	require.NoError(t, err)
	require.NotEmpty(t, all)
	text, err := all[0].Text()
	require.NoError(t, err)
	same(t, work, string(text))
	assert.True(t, all[0].Dropped)
}

// Where it cannot be kept, that is said before it is lost.
func TestWhatCannotBeKeptIsAskedAbout(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	side := filepath.Join(filepath.Dir(d.path), ".build.toml.fitup")
	require.NoError(t, os.RemoveAll(side))
	require.NoError(t, os.WriteFile(side, nil, 0o644))
	d.keys("q", "d")
	assert.False(t, d.quit)
	assert.Contains(t, d.screen(), "It cannot be kept")
	d.keys("l")
	assert.True(t, d.quit)
}

// An edit that could not be journalled says so in a box once, not at every key.
func TestUnsafeEditIsToldOnce(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("right")
	side := filepath.Join(filepath.Dir(d.path), ".build.toml.fitup")
	require.NoError(t, os.RemoveAll(side))
	require.NoError(t, os.WriteFile(side, nil, 0o644))
	d.keys("right")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.flat(), "is needed as a folder")
	d.keys("enter", "right")
	assert.Empty(t, d.m.dialogs)
	assert.Contains(t, d.screen(), "Not safe from a crash")
	require.NoError(t, os.Remove(side))
	work := d.keys("right").bytes()
	assert.NotContains(t, d.screen(), "Not safe from a crash")
	next := driveFile(t, d.path, 80, 24).keys("t")
	same(t, work, next.bytes(), "from then on all of it is safe again")
}

func TestHardLinkIsNoticedBeforeASave(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	other := filepath.Join(t.TempDir(), "other.toml")
	if os.Link(d.path, other) != nil {
		t.Skip("this disk has no hard links")
	}
	d = driveFile(t, d.path, 80, 24)
	assert.Contains(t, d.screen(), "another name (a hard link)")
	d.keys("right", "s")
	require.Contains(t, d.screen(), "The file has another name")
	same(t, string(starter.Demo()), d.file(), "nothing is written before the answer")
	d.keys("s")
	assert.Contains(t, d.screen(), "Saved ")
	same(t, d.bytes(), d.file())
	b, err := os.ReadFile(other)
	require.NoError(t, err)
	same(t, string(starter.Demo()), string(b))
	d.keys("right", "s")
	assert.Empty(t, d.m.dialogs, "there is one name now")
}

// Leftover work and a file that somebody else has changed in the same place.
func TestRecoverAsksAboutTheirValue(t *testing.T) {
	t.Parallel()
	changed := func() *driver {
		d := demo(t, 80, 24).keys("down", "down", "right") // never closed
		theirs := strings.Replace(string(starter.Demo()), "\nrear = -289.5", "\nrear = -250  ", 1)
		require.NoError(t, os.WriteFile(d.path, []byte(theirs), 0o644))
		d = driveFile(t, d.path, 80, 24).keys("t")
		require.Contains(t, d.screen(), "rear mount: yours -289.0 mm, theirs -250 mm")
		same(t, theirs, d.bytes(), "nothing is done unasked")
		return d
	}
	d := changed()
	again := driveFile(t, d.path, 80, 24).keys("t") // killed while it asked
	assert.Contains(t, again.screen(), "rear mount: yours -289.0 mm, theirs -250 mm")
	again.keys("esc", "right")
	assert.Len(t, again.m.dialogs, 1, "there is no way past it")
	again.keys("m")
	assert.Contains(t, again.bytes(), "rear = -289.0")
	d = changed().keys("t")
	assert.Contains(t, d.bytes(), "rear = -250")
	d = changed().keys("d")
	assert.Contains(t, d.bytes(), "rear = -250")
	all, err := keep.States(d.path)
	require.NoError(t, err)
	require.NotEmpty(t, all)
	assert.True(t, all[0].Dropped)
}

// Keys that come before the size of the screen is known wait for it.
func TestKeysBeforeTheFirstFrame(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	th, err := theme.New("plain", theme.Unicode())
	require.NoError(t, err)
	d.m = bench(d.s, nil, th, d.m.actions)
	d.keys("down", "down", "right")
	same(t, string(starter.Demo()), d.bytes())
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	assert.Contains(t, d.bytes(), "rear = -289.0")
	assert.Contains(t, d.screen(), "unsaved")
}

// Enter pressed while the line is not the bench's yet arrives as a line feed.
func TestEarlyEnter(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	d.m.sized = false
	d.send(tea.KeyMsg{Type: tea.KeyCtrlJ})
	require.Empty(t, d.m.dialogs)
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	assert.Contains(t, d.screen(), "Type a value")
}

// A terminal of no size gets a word, and q ends it.
func TestNoSizeGetsAWord(t *testing.T) {
	t.Parallel()
	d := demo(t, 0, 0)
	assert.Contains(t, strings.ReplaceAll(d.screen(), "\n", " "), "0 by 0 cells")
	assert.Contains(t, d.screen(), "stty rows 36 cols 120")
	d.keys("right")
	same(t, string(starter.Demo()), d.bytes())
	assert.True(t, d.keys("q").quit)
}
