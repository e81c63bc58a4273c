package ui

import (
	"os"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
	"fitup/internal/project/session"
	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// glance is what the bench does by itself every second or two.
func (d *driver) glance() *driver {
	d.send(lookMsg{sight: session.Glance(d.path, clock())})
	return d
}

// write changes the file as an editor would.
func (d *driver) write(pairs ...string) string {
	text := d.file()
	for i := 0; i < len(pairs); i += 2 {
		require.Contains(d.t, text, pairs[i])
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	require.NoError(d.t, os.WriteFile(d.path, []byte(text), 0o644))
	return text
}

func TestOutsideChangeShowsUp(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45)
	theirs := d.write("setback = 260", "setback = 270.25")
	d.glance()
	same(t, theirs, d.bytes())
	assert.Contains(t, d.screen(), "Changed outside: setback 260 → 270.25 mm")
	assert.Empty(t, d.m.dialogs)
	before := d.m.View()
	d.glance()
	assert.Equal(t, before, d.m.View(), "it is told once")
}

func TestOutsideChangeBeneathUnsavedWork(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45).keys("down", "down", "right")
	d.write("setback = 260", "setback = 270.25", "name = \"farm flatbed, ", "name = \"our flatbed, ")
	d.glance()
	assert.Contains(t, d.screen(), "your unsaved work stays: name farm flatbed")
	assert.Contains(t, d.bytes(), "setback = 270.25")
	assert.Contains(t, d.bytes(), "rear = -289.0")
	d.keys("s")
	assert.Empty(t, d.m.dialogs)
	same(t, d.bytes(), d.file())
}

// A change of another place that comes between glances is taken in by the save.
func TestSaveTakesInWhatChangedOutside(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45).keys("down", "down", "right")
	d.write("setback = 260", "setback = 270")
	d.keys("s")
	assert.Contains(t, d.screen(), "Saved, with what was changed outside: setback 260 → 270 mm")
	assert.Contains(t, d.file(), "setback = 270")
	assert.Contains(t, d.file(), "rear = -289.0")
	assert.False(t, d.m.sess.Unsaved())

	d.write("setback = 270", "setback = 280")
	d.keys("s")
	assert.Contains(t, d.screen(), "Nothing of yours to save; loaded")
	assert.Contains(t, d.bytes(), "setback = 280")
}

func TestOutsideChangeThatIsNoBuild(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45).keys("right")
	mine := d.bytes()
	require.NoError(t, os.WriteFile(d.path, []byte("format = 3\nhalf"), 0o644))
	d.glance()
	assert.Contains(t, d.screen(), "cannot be read just now")
	require.NoError(t, os.Remove(d.path))
	d.glance()
	assert.Contains(t, d.screen(), "no longer on disk")
	same(t, mine, d.bytes())
}

// A question that waits for its answer is not overtaken.
func TestOutsideChangeWaitsForAnAnswer(t *testing.T) {
	t.Parallel()
	path, edited := crashed(t)
	d := driveFile(t, path, 80, 24)
	d.write("setback = 260", "setback = 270")
	d.glance()
	assert.NotContains(t, d.bytes(), "setback = 270")
	d.keys("t")
	same(t, edited, d.bytes())
	d.glance()
	assert.Contains(t, d.bytes(), "setback = 270")
	assert.Contains(t, d.bytes(), "rear = -288.5")
}

// The bench goes on looking, and a glance that finds nothing draws nothing.
func TestTheBenchGoesOnLooking(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	require.NotNil(t, d.m.Init())
	d.m.frame = "as it was"
	_, next := d.m.Update(lookMsg{sight: d.m.sight, again: true})
	assert.NotNil(t, next)
	assert.Equal(t, "as it was", d.m.frame)
	d.m.redraw()
	before := d.m.frame
	d.write("setback = 260", "setback = 270")
	d.glance()
	assert.NotEqual(t, before, d.m.frame)
	assert.Greater(t, lookEvery, time.Second/2)
}

// shared is a second bench on a file that a first one has open.
func shared(t *testing.T) (d *driver, first *session.Session) {
	path := demo(t, 80, 24).path
	first, _, err := session.OpenShared(path, clock)
	require.NoError(t, err)
	s, left, err := session.OpenShared(path, clock)
	require.NoError(t, err)
	require.Nil(t, left)
	th, err := theme.New("plain", theme.Unicode())
	require.NoError(t, err)
	table, err := Actions()
	require.NoError(t, err)
	d = &driver{t: t, m: bench(s, nil, th, table), s: s, path: path, busy: &atomic.Bool{}}
	d.send(tea.WindowSizeMsg{Width: 140, Height: 45})
	require.Contains(t, d.screen(), "Another fitup has this file open")
	require.Contains(t, d.screen(), "since 14 May 2026")
	return d, first
}

func TestASecondBenchLooksOnly(t *testing.T) {
	t.Parallel()
	d, first := shared(t)
	d.keys("esc", "right")
	require.Len(t, d.m.dialogs, 1, "the question has to be answered")
	d.keys("l", "right", "s", "u")
	same(t, string(starter.Demo()), d.bytes())
	assert.Contains(t, d.screen(), "look only")

	edits, err := edit.MoveRow(first.Now(), 2, -280)
	require.NoError(t, err)
	require.NoError(t, first.Do("up", edits...))
	require.NoError(t, first.Save(false))
	d.glance()
	same(t, string(first.Now().Bytes()), d.bytes())

	edits, err = edit.MoveRow(first.Now(), 2, -270)
	require.NoError(t, err)
	require.NoError(t, first.Do("up", edits...))
	require.NoError(t, first.Close()) // with unsaved work
	d.glance()
	assert.NotContains(t, d.screen(), "look only")
	assert.Contains(t, d.screen(), "Unsaved work was found")
	d.keys("t")
	same(t, string(first.Now().Bytes()), d.bytes())
	d.keys("right", "s")
	same(t, d.bytes(), d.file())
}

func TestASecondBenchOpensAnyway(t *testing.T) {
	t.Parallel()
	d, first := shared(t)
	d.keys("o", "right", "s")
	same(t, d.bytes(), d.file())
	edits, err := edit.MoveRow(first.Now(), 2, -280)
	require.NoError(t, err)
	require.NoError(t, first.Do("up", edits...))
	require.ErrorIs(t, first.Save(false), keep.ErrChangedOutside)
	require.Equal(t, session.Merged, first.TakeOutside(0).Outcome)
	require.NoError(t, first.Save(false))
	d.glance()
	same(t, d.file(), d.bytes())
	assert.Contains(t, d.bytes(), "left_front = -105.5")
}

func TestASecondBenchQuits(t *testing.T) {
	t.Parallel()
	d, _ := shared(t)
	assert.True(t, d.keys("q").quit)
}

func TestOldFormatIsTold(t *testing.T) {
	t.Parallel()
	src, err := os.ReadFile("../../testdata/old/format1-demo.toml")
	require.NoError(t, err)
	d := drive(t, src, 140, 45)
	assert.Contains(t, d.screen(), "The file is in format 1. The next save writes format 3")
	assert.NotContains(t, d.screen(), "unsaved")
	same(t, string(src), d.file())
	d.keys("right", "s")
	assert.Contains(t, d.file(), "format = 3")
}
