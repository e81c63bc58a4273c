package ui

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
	"unicode/utf8"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/keep"
	"fitup/internal/project/session"
	"fitup/internal/project/starter"
	"fitup/internal/ui/action"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
)

// tester is what a test and a property have in common.
type tester interface {
	require.TestingT
	Helper()
}

// driver feeds keys to the bench and runs every command to quiet, without a
// terminal and without waiting.
type driver struct {
	t    tester
	m    *Model
	s    *session.Session
	path string
	quit bool
	held drawnRows    // the last one that fits the screen
	busy *atomic.Bool // the model is at work, and must leave the disk alone
}

// drawnRows are the rows of a screen that is so wide, which they fit.
type drawnRows struct {
	rows  []string
	width int
}

// bench is a model that has no clock of its own: that the disk is slow is told to
// it by the test.
func bench(s *session.Session, left *session.Leftover, look *theme.Theme, table *action.Table) *Model {
	m := newModel(s, left, assessed(s.Now()), look, table, false)
	m.disk.after = func(time.Duration, tea.Msg) tea.Cmd { return nil }
	m.again = remembering(assess.Again)
	return m
}

// remembering takes a state that was assessed a few steps ago as it was assessed then: what
// is done and undone again and again is worked out once.
func remembering(again assessing) assessing {
	var seen []struct {
		build *project.Build
		a     *assess.Assessment
	}
	return func(before *assess.Assessment, b *project.Build) *assess.Assessment {
		for _, s := range seen {
			if s.build == b && s.a.Fitting() == nil {
				return s.a
			}
		}
		a := again(before, b)
		seen = append(seen[max(0, len(seen)-7):], struct {
			build *project.Build
			a     *assess.Assessment
		}{b, a})
		return a
	}
}

// firsts are the assessments of the builds that are opened hundreds of times, by their
// texts.
var firsts = func() map[string]func() *assess.Assessment {
	out := map[string]func() *assess.Assessment{}
	for _, src := range sampleBuilds() {
		out[string(src)] = sync.OnceValue(func() *assess.Assessment {
			f, err := project.Parse("build.toml", src)
			if err != nil {
				panic(err)
			}
			return assess.RunBeside(f.Build)
		})
	}
	return out
}()

// assessed is the assessment of a file as it is opened.
func assessed(f *project.File) *assess.Assessment {
	if a, ok := firsts[string(f.Bytes())]; ok {
		return a()
	}
	return assess.RunBeside(f.Build)
}

func clock() time.Time { return time.Date(2026, 5, 14, 9, 30, 0, 0, time.UTC) }

// drive opens a build text on a screen of w by h cells.
func drive(t *testing.T, src []byte, w, h int) *driver {
	t.Helper()
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, src, 0o644))
	return driveFile(t, path, w, h)
}

func driveFile(t tester, path string, w, h int) *driver {
	return driveLook(t, path, w, h, "plain", theme.Unicode())
}

func driveLook(t tester, path string, w, h int, look string, g theme.Glyphs) *driver {
	t.Helper()
	return driveOn(t, path, w, h, look, g, nil)
}

// driveOn is a bench with a gate before its disk.
func driveOn(t tester, path string, w, h int, look string, g theme.Glyphs, gate keep.Gate) *driver {
	t.Helper()
	return driveAt(t, path, w, h, look, g, gate, clock)
}

// driveAt is a bench with a clock of its own.
func driveAt(t tester, path string, w, h int, look string, g theme.Glyphs, gate keep.Gate, now func() time.Time) *driver {
	t.Helper()
	busy := &atomic.Bool{}
	s, left, err := session.Open(path, now, func(step, name string) error {
		if busy.Load() {
			panic("the model waits for the disk: " + step + " " + filepath.Base(name))
		}
		if err := gate.Pass(step, name); err != nil || step != "sync" {
			return err
		}
		return keep.ErrNoWait
	})
	require.NoError(t, err)
	th, err := theme.New(look, g)
	require.NoError(t, err)
	table, err := Actions()
	require.NoError(t, err)
	d := &driver{t: t, m: bench(s, left, th, table), s: s, path: path, busy: busy}
	d.send(tea.WindowSizeMsg{Width: w, Height: h})
	return d
}

func demo(t *testing.T, w, h int) *driver { return drive(t, starter.Demo(), w, h) }

// send delivers a message and everything that comes of it.
func (d *driver) send(msg tea.Msg) {
	d.t.Helper()
	queue := []tea.Msg{msg}
	for n := 0; len(queue) > 0; n++ {
		require.Less(d.t, n, 1000, "the bench never comes to rest")
		next := queue[0]
		queue = queue[1:]
		if _, ok := next.(tea.QuitMsg); ok {
			d.quit = true
			continue
		}
		d.busy.Store(true)
		_, cmd := d.m.Update(next)
		d.busy.Store(false)
		d.m.View()
		queue = append(queue, d.run(cmd)...)
		d.checkFrame()
	}
}

// run does a command, and each of a batch one after the other.
func (d *driver) run(cmd tea.Cmd) []tea.Msg {
	if cmd == nil {
		return nil
	}
	switch msg := cmd().(type) {
	case nil:
		return nil
	case tea.BatchMsg:
		var out []tea.Msg
		for _, c := range msg {
			out = append(out, d.run(c)...)
		}
		return out
	default:
		return []tea.Msg{msg}
	}
}

var named = map[string]tea.KeyType{
	"up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab,
	"space": tea.KeySpace, "backspace": tea.KeyBackspace, "ctrl+s": tea.KeyCtrlS, "ctrl+c": tea.KeyCtrlC,
	"ctrl+u": tea.KeyCtrlU, "pgdown": tea.KeyPgDown, "pgup": tea.KeyPgUp, "end": tea.KeyEnd, "home": tea.KeyHome,
	"delete": tea.KeyDelete, "f1": tea.KeyF1,
}

// keys presses keys by name; "text:…" types letters one by one, "type:…" so
// quickly that they come in one read.
func (d *driver) keys(names ...string) *driver {
	d.t.Helper()
	for _, n := range names {
		if text, ok := strings.CutPrefix(n, "text:"); ok {
			for _, r := range text {
				d.send(rune1(r))
			}
			continue
		}
		if name, ok := strings.CutPrefix(n, "page:"); ok {
			d.page(name)
			continue
		}
		if text, ok := strings.CutPrefix(n, "type:"); ok {
			d.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(text)})
			continue
		}
		if k, ok := named[n]; ok {
			msg := tea.KeyMsg{Type: k}
			if k == tea.KeySpace {
				msg.Runes = []rune{' '}
			}
			d.send(msg)
			continue
		}
		require.Equal(d.t, 1, utf8.RuneCountInString(n), "no key is called %q", n)
		d.send(rune1([]rune(n)[0]))
	}
	return d
}

// page turns the pane in focus to the page of that name.
func (d *driver) page(name string) {
	d.t.Helper()
	paged, ok := d.m.panes[d.m.focus].(pane.Paged)
	require.True(d.t, ok)
	for range paged.Leafs() {
		if paged.Leaf() == name {
			return
		}
		d.keys("]")
	}
	require.Fail(d.t, "no page", "%s", name)
}

func rune1(r rune) tea.KeyMsg {
	if r == ' ' {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
}

// checkFrame holds every frame to the screen: every row filled to the last
// cell, and on a screen that is too small at least nothing beyond it.
func (d *driver) checkFrame() {
	d.t.Helper()
	if d.m.width == 0 || d.m.height == 0 {
		return
	}
	lines := strings.Split(d.m.View(), "\n")
	small := d.m.width < layout.MinW || d.m.height < layout.MinH
	if small {
		require.LessOrEqual(d.t, len(lines), d.m.height)
	} else {
		require.Len(d.t, lines, d.m.height)
	}
	for i, l := range lines {
		if d.held.width == d.m.width && i < len(d.held.rows) && d.held.rows[i] == l {
			continue // as it was
		}
		if w := ansi.StringWidth(l); small && w > d.m.width || !small && w != d.m.width {
			require.Failf(d.t, "line does not fit", "%d by %d, line %d is %d wide: %q", d.m.width, d.m.height, i, w, l)
		}
	}
	if d.held = (drawnRows{lines, d.m.width}); small { // may be less wide there
		d.held = drawnRows{}
	}
}

func (d *driver) screen() string { return ansi.Strip(d.m.View()) }

func (d *driver) file() string {
	b, err := os.ReadFile(d.path)
	require.NoError(d.t, err)
	return string(b)
}
