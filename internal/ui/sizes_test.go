package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project/starter"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// states are the keys that lead to every focus, zoom and dialog.
func states() map[string][]string {
	return map[string][]string{
		"mounts": {}, "sketch": {"1"}, "driveline": {"3"}, "jobs": {"5"},
		"sketch zoomed": {"1", "z"}, "mounts zoomed": {"z"}, "driveline zoomed": {"3", "z"}, "jobs zoomed": {"5", "z"},
		"travel": {"3", "]"}, "travel zoomed": {"3", "]", "z"}, "shaft": {"3", "page:shaft", "down", "down"}, "shaft zoomed": {"3", "page:shaft", "z"},
		"next line": {"3", "right"}, "next line's travel": {"3", "right", "]", "z"},
		"clearances": {"]", "down"}, "clearances zoomed": {"]", "z"}, "loads": {"page:loads", "down"}, "loads zoomed": {"page:loads", "z"},
		"other view": {"v"}, "front view": {"v", "v"}, "front view zoomed": {"1", "v", "v", "z"}, "closer": {"c"},
		"ask": {"enter"}, "ask wrong": {"enter", "text:12 kg of something that is long enough to need several lines"},
		"reading": {"n"}, "reading typed": {"n", "text:85.6"}, "help": {"?"}, "help end": {"?", "end"},
		"search": {"/"}, "search typed": {":", "text:e"}, "search nothing": {"/", "text:qqqq"},
		"findings": {"f"}, "findings end": {"f", "end"}, "large": {"b"}, "round": {"B"}, "round waits": {"B", "text:85.6", "enter"}, "round refuses": {"B", "text:2.4 lb", "enter"}, "round of measures": {"B", "tab"}, "quit": {"right", "q"},
	}
}

// TestEverySize draws every state of every build at sizes of 0 by 0 to 160 by 60, by
// default every state in one of the builds, at a sixth of the sizes, others for each. The driver holds every frame to the screen.
func TestEverySize(t *testing.T) {
	t.Parallel()
	sizes := [][2]int{{60, 20}, {59, 20}, {60, 19}, {79, 24}, {80, 23}, {80, 24}, {119, 36}, {120, 35}, {120, 36}, {1, 1}, {400, 120}, {60, 200}, {1000, 20}}
	for w := 0; w <= 160; w += 40 {
		for h := 0; h <= 60; h += 20 {
			sizes = append(sizes, [2]int{w, h})
		}
	}
	builds, all := sampleBuilds(), states()
	for b, build := range sortedKeys(builds) {
		for s, name := range sortedKeys(all) {
			if !inturn.Try(t, b+s, len(builds)) {
				continue
			}
			t.Run(build+" "+name, func(t *testing.T) {
				d := drive(t, builds[build], 140, 45).keys(all[name]...)
				for i, size := range sizes {
					if inturn.Try(t, i+b+s/2, 6) {
						d.send(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
					}
				}
			})
		}
	}
}

// TestAnySize draws any build in any state at any size, in any look.
func TestAnySize(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	builds, all := sampleBuilds(), states()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		text := builds[rapid.SampledFrom(sortedKeys(builds)).Draw(t, "build")]
		n++
		path := filepath.Join(dir, fmt.Sprintf("%d.toml", n))
		require.NoError(t, os.WriteFile(path, text, 0o644))
		g, err := theme.GlyphsNamed(rapid.SampledFrom([]string{"unicode", "ascii"}).Draw(t, "glyphs"))
		require.NoError(t, err)
		d := driveLook(t, path, 100, 40, rapid.SampledFrom(theme.Names()).Draw(t, "look"), g)
		d.keys(all[rapid.SampledFrom(sortedKeys(all)).Draw(t, "state")]...)
		for range 8 {
			d.send(tea.WindowSizeMsg{Width: rapid.IntRange(-1, 200).Draw(t, "w"), Height: rapid.IntRange(-1, 80).Draw(t, "h")})
		}
	})
}

// Coming back from any size shows the very same frame.
func TestSizesLeaveNoTrace(t *testing.T) {
	t.Parallel()
	for name, keys := range states() {
		d := drive(t, starter.Demo(), 120, 36).keys(keys...)
		frame := d.m.View()
		for _, s := range [][2]int{{60, 20}, {10, 10}, {140, 45}, {120, 36}} {
			d.send(tea.WindowSizeMsg{Width: s[0], Height: s[1]})
		}
		if name == "help end" || name == "findings end" {
			continue // a list at its end stays at its end only as long as it is long enough
		}
		require.Equal(t, frame, d.m.View(), name)
	}
}

// The mode follows the size, whatever is open.
func TestModes(t *testing.T) {
	t.Parallel()
	d := demo(t, 60, 20)
	for _, c := range []struct {
		w, h int
		mode layout.Mode
	}{{140, 45, layout.Wide}, {120, 36, layout.Wide}, {80, 24, layout.Stacked}, {60, 20, layout.Single}, {59, 19, layout.Refused}} {
		d.send(tea.WindowSizeMsg{Width: c.w, Height: c.h})
		require.Equal(t, c.mode, d.m.plan().Mode)
		require.Equal(t, c.mode == layout.Wide, containsAll(d.screen(), "▸2 Mounts", "3 Driveline: [angles] travel shaft", "5 Jobs", "1 Sketch: ", "rear line"), "%d by %d", c.w, c.h)
	}
}
