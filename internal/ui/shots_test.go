package ui

import (
	"crypto/sha256"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
)

// shot is one state of the bench on one screen: a build, a size and the keys that
// lead there.
type shot struct {
	name  string
	build []byte
	w, h  int
	ascii bool
	keys  []string
	then  func(d *driver)
}

func (s shot) title() string { return fmt.Sprintf("%s-%dx%d", s.name, s.w, s.h) }

// shots are all of them.
func shots() []shot { return slices.Concat(plainShots(), keyShots(), dataShots()) }

func plainShots() []shot {
	var out []shot
	for _, b := range []struct {
		name string
		text []byte
	}{{"demo", starter.Demo()}, {"readings", []byte(readingsOnly)}, {"starter", starter.New()}, {"nodirection", noDirection()}} {
		for _, s := range [][2]int{{140, 45}, {120, 36}, {80, 24}, {60, 20}, {59, 19}} {
			out = append(out, shot{name: b.name, build: b.text, w: s[0], h: s[1]})
		}
	}
	for _, s := range [][2]int{{140, 45}, {80, 24}, {60, 20}} {
		out = append(out, shot{name: "ascii-demo", build: starter.Demo(), w: s[0], h: s[1], ascii: true})
	}
	return append(out, shot{name: "inches", build: []byte(inches), w: 120, h: 36})
}

func keyShots() []shot {
	demo, empty := starter.Demo(), starter.New()
	elsewhere := func(d *driver) {
		require.NoError(d.t, os.WriteFile(d.path, []byte(strings.Replace(string(starter.Demo()), "left_front = -106\n", "left_front = -104\n", 1)), 0o644))
		d.keys("s")
	}
	return append(append(leafShots(), mountShots()...), []shot{
		{name: "nudged-twice", build: demo, w: 140, h: 45, keys: []string{"down", "down", "right", "right"}},
		{name: "nudged-twice", build: demo, w: 80, h: 24, keys: []string{"down", "down", "right", "right"}},
		{name: "nudged-ok", build: demo, w: 120, h: 36, keys: []string{"down", "down", ".", ".", ".", "right"}},
		{name: "ask-empty", build: demo, w: 80, h: 24, keys: []string{"enter"}},
		{name: "ask-good", build: demo, w: 80, h: 24, keys: []string{"down", "down", "enter", "text:-11 1/4 in"}},
		{name: "ask-wrong", build: demo, w: 80, h: 24, keys: []string{"enter", "text:12 kg"}},
		{name: "ask-wrong", build: demo, w: 60, h: 20, keys: []string{"enter", "text:12 kg"}},
		{name: "ask-slope", build: demo, w: 120, h: 36, keys: []string{"down", "down", "down", "down", "enter", "text:4.4"}},
		{name: "reading-empty", build: demo, w: 80, h: 24, keys: []string{"n"}},
		{name: "reading-typed", build: demo, w: 80, h: 24, keys: []string{"n", "text:85.6"}},
		{name: "reading-rear", build: demo, w: 120, h: 36, keys: []string{"n", "text:85.6", "down", "r"}},
		{name: "reading-rear", build: demo, w: 60, h: 20, keys: []string{"n", "text:85.6", "down", "r"}},
		{name: "help", build: demo, w: 120, h: 36, keys: []string{"?"}},
		{name: "help", build: demo, w: 60, h: 20, keys: []string{"?"}},
		{name: "search", build: demo, w: 80, h: 24, keys: []string{"/"}},
		{name: "search-typed", build: demo, w: 80, h: 24, keys: []string{"/", "text:height mount"}},
		{name: "search-nothing", build: demo, w: 60, h: 20, keys: []string{"/", "text:qqqq"}},
		{name: "findings", build: demo, w: 120, h: 36, keys: []string{"f"}},
		{name: "findings-end", build: demo, w: 80, h: 24, keys: []string{"f", "end"}},
		{name: "findings-starter", build: empty, w: 80, h: 24, keys: []string{"f"}},
		{name: "quit", build: demo, w: 80, h: 24, keys: []string{"right", "q"}},
		{name: "quit", build: demo, w: 60, h: 20, keys: []string{"right", "q"}},
		{name: "conflict", build: demo, w: 80, h: 24, keys: []string{"right"}, then: elsewhere},
		{name: "large", build: demo, w: 140, h: 45, keys: []string{"b"}},
		{name: "large-nudged", build: demo, w: 80, h: 24, keys: []string{"down", "down", "b", "right", "right"}},
		{name: "large", build: demo, w: 60, h: 20, keys: []string{"b"}},
		{name: "large-starter", build: empty, w: 60, h: 20, keys: []string{"b"}},
		{name: "round", build: demo, w: 60, h: 20, keys: []string{"B"}},
		{name: "round-waits", build: demo, w: 80, h: 24, keys: []string{"B", "text:85.6", "enter"}},
		{name: "round-apart", build: demo, w: 80, h: 24, keys: []string{"B", "text:85.4", "enter", "right"}},
		{name: "round-refused", build: demo, w: 60, h: 20, keys: []string{"B", "text:2.4", "enter"}},
		{name: "round-measures", build: demo, w: 60, h: 20, keys: []string{"B", "tab"}},
		{name: "step", build: demo, w: 80, h: 24, keys: []string{"."}},
		{name: "step-inches", build: []byte(inches), w: 80, h: 24, keys: []string{","}},
		{name: "zoomed-sketch", build: demo, w: 80, h: 24, keys: []string{"1", "z"}},
		{name: "zoomed-sketch", build: demo, w: 140, h: 45, keys: []string{"1", "z", "c"}},
		{name: "zoomed-mounts", build: demo, w: 140, h: 45, keys: []string{"z"}},
		{name: "zoomed-driveline", build: demo, w: 60, h: 20, keys: []string{"3", "z"}},
		{name: "zoomed-jobs", build: demo, w: 80, h: 24, keys: []string{"5", "z"}},
		{name: "focus-sketch", build: demo, w: 80, h: 24, keys: []string{"1"}},
		{name: "focus-sketch-plan", build: demo, w: 60, h: 20, keys: []string{"1", "v"}},
		{name: "focus-driveline", build: demo, w: 120, h: 36, keys: []string{"3", "down", "down", "down", "down"}},
		{name: "focus-driveline", build: demo, w: 60, h: 20, keys: []string{"3"}},
		{name: "focus-jobs", build: demo, w: 140, h: 45, then: func(d *driver) { d.toJob(9) }},
		{name: "focus-jobs", build: demo, w: 60, h: 20, keys: []string{"5"}},
		{name: "job-held", build: demo, w: 80, h: 24, then: func(d *driver) { d.toJob(9).keys("space") }},
		{name: "job-card", build: demo, w: 80, h: 24, then: func(d *driver) { d.toJob(9).keys("enter") }},
		{name: "job-again", build: demo, w: 120, h: 36, then: func(d *driver) { d.toJob(5) }},
		{name: "jobs-out", build: demo, w: 120, h: 36, keys: []string{"5", "page:engine-out"}},
		{name: "jobs-readings", build: demo, w: 120, h: 36, keys: []string{"5", "page:measured"}},
		{name: "jobs-fasteners", build: demo, w: 120, h: 36, keys: []string{"5", "page:fasteners"}},
		{name: "jobs-fasteners", build: demo, w: 60, h: 20, keys: []string{"5", "page:fasteners"}},
		{name: "engine-in-warned", build: demo, w: 80, h: 24, keys: []string{"5", "o", "o"}},
		{name: "measure", build: demo, w: 80, h: 24, keys: []string{"5", "m", "text:left rail to pad", "down", "down", "down", "text:412; 411.5"}},
		{name: "vibration", build: demo, w: 60, h: 20, keys: []string{"5", "V", "text:90 km/h"}},
		{name: "vibration", build: demo, w: 80, h: 24, keys: []string{"5", "V", "text:90 km/h"}},
		{name: "moved-since", build: demo, w: 140, h: 45, keys: []string{"down", "down", "right", "3", "down"}},
		{name: "watch-next", build: demo, w: 80, h: 24, keys: []string{"w"}},
	}...)
}

// benches are those that were driven to a state, for all tests that only
// look: a size leaves no trace, which TestSizesLeaveNoTrace holds.
var benches = map[string]*driver{}

// take returns the bench on the shot's screen. Who presses a key on it drives
// one of its own (fresh).
func (s shot) take(t *testing.T) *driver {
	t.Helper()
	key := fmt.Sprintf("%x %v %q", sha256.Sum256(s.build), s.ascii, s.keys)
	if s.then != nil {
		key += s.name
	}
	d, ok := benches[key]
	if !ok {
		d = s.fresh(t, "plain")
		benches[key] = d
	}
	d.t = t
	if d.m.width != s.w || d.m.height != s.h {
		d.send(tea.WindowSizeMsg{Width: s.w, Height: s.h})
	}
	return d
}

// fresh drives a bench to the shot's screen. The file has the same short path
// every time, because messages name it.
func (s shot) fresh(t *testing.T, look string) *driver {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("build.toml", s.build, 0o644))
	g := theme.Unicode()
	if s.ascii {
		g = theme.ASCII()
	}
	d := driveLook(t, "build.toml", s.w, s.h, look, g)
	d.keys(s.keys...)
	if s.then != nil {
		s.then(d)
	}
	return d
}

// in is the screen in another look. A field keeps the look it was made with, so
// a box that has one is driven to anew.
func (s shot) in(t *testing.T, look string) string {
	t.Helper()
	d := s.take(t)
	if strings.Contains(d.m.View(), theme.Unicode().Cursor) {
		return s.fresh(t, look).m.View()
	}
	plain := d.m.theme
	defer func() { d.m.theme = plain; d.m.redraw() }()
	th, err := theme.New(look, plain.Glyphs)
	require.NoError(t, err)
	d.m.theme = th
	d.m.redraw()
	d.checkFrame()
	return d.m.View()
}

// recovered is the bench after a sitting that ended without a word.
func recovered(t *testing.T) *driver {
	t.Helper()
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("build.toml", starter.Demo(), 0o644))
	driveFile(t, "build.toml", 80, 24).keys("right", "right") // never closed, as by a power cut
	return driveFile(t, "build.toml", 80, 24)
}
