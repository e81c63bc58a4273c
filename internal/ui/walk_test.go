package ui

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/ui/action"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

func containsAll(s string, parts ...string) bool {
	for _, p := range parts {
		if !strings.Contains(s, p) {
			return false
		}
	}
	return true
}

// keyMsg is the message of a key by the name the table has for it.
func keyMsg(name string) tea.KeyMsg {
	if name == " " {
		return rune1(' ')
	}
	for k := tea.KeyType(-256); k < 256; k++ {
		if k != tea.KeyRunes && k.String() == name {
			return tea.KeyMsg{Type: k}
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// walkKeys is what a random walk presses: every key of the table, some of them
// often, and what is typed into boxes.
func walkKeys(t *action.Table) []string {
	var out []string
	for _, a := range t.All() {
		for _, k := range a.Keys {
			if k == "space" {
				k = " "
			}
			out = append(out, k)
		}
	}
	out = append(out, "esc", "esc", "esc", "enter", "enter", "backspace", "left", "right", "right", "up", "down", "down", "d", "o", "t", "l", "pgdown", "end")
	for _, r := range "0123456789.,-'\"/mindegrarflupx " {
		out = append(out, string(r))
	}
	return out
}

// maySave says whether a key can lead to a save where the bench stands.
func (d *driver) maySave(k tea.KeyMsg) bool {
	if n := len(d.m.dialogs); n > 0 {
		switch d.m.dialogs[n-1].(type) {
		case *searchBox:
			return k.Type == tea.KeyEnter
		case *round, *dataPage:
			return k.String() == "s" || k.String() == "ctrl+s"
		case *question:
			return k.String() == "s" || k.String() == "o"
		}
		return false
	}
	id, _ := d.m.actions.Lookup(scopeOf(d.m.focus), k.String())
	return id == actSave
}

// TestRandomWalk presses anything anywhere. Nothing panics, every frame fits,
// the file changes only when it is saved and is then what the bench holds, and
// undoing everything returns the bytes that were read.
func TestRandomWalk(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	builds := sampleBuilds()
	table, err := Actions()
	require.NoError(t, err)
	names := walkKeys(table)
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		text := string(builds[rapid.SampledFrom(sortedKeys(builds)).Draw(t, "build")])
		n++
		path := filepath.Join(dir, fmt.Sprintf("%d.toml", n))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		d := driveFile(t, path, 120, 36)
		disk := text
		for _, name := range rapid.SliceOfN(rapid.SampledFrom(append(names, "resize")), 1, 120).Draw(t, "keys") {
			if name == "resize" {
				d.send(tea.WindowSizeMsg{Width: rapid.IntRange(40, 150).Draw(t, "w"), Height: rapid.IntRange(15, 50).Draw(t, "h")})
				continue
			}
			k := keyMsg(name)
			may, unsaved := d.maySave(k), d.m.sess.Unsaved()
			d.send(k)
			if other := d.m.sess.Path(); other != d.path { // saved under another name
				require.Equal(t, disk, d.file(), "the file left behind stays as it was")
				d.path, disk = other, d.bytes()
				require.Equal(t, disk, d.file())
			}
			if now := d.file(); now != disk {
				require.True(t, may, "the key %q wrote the file", name)
				require.Equal(t, d.bytes(), now)
				require.True(t, unsaved)
				disk = now
			}
			if !d.m.sess.Unsaved() {
				require.Equal(t, disk, d.bytes(), "what counts as saved is on disk")
			}
			if d.quit {
				break
			}
		}
		d.undoAll(text)
	})
}

// undoAll takes everything back. The keys of an action are the same in every
// pane, so it is enough to leave the boxes.
func (d *driver) undoAll(original string) {
	d.t.Helper()
	d.m.quit, d.m.dialogs, d.m.disk.leaving = false, nil, staying
	d.send(tea.WindowSizeMsg{Width: 120, Height: 36})
	undo, _ := d.m.sess.Depth()
	for range undo {
		d.keys("u")
	}
	require.Equal(d.t, original, d.bytes())
	for range undo {
		d.keys("r")
	}
}

// TestWalkCanBeRecovered drops a random walk without a word and takes its
// unsaved work back.
func TestWalkCanBeRecovered(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	keys := []string{"right", "left", "right", "down", "up", "u", "r", ".", ",", "s", "2", "5", " ", "3", "x"}
	builds := sampleBuilds()
	n := 0
	rapid.Check(t, func(t *rapid.T) {
		text := builds[rapid.SampledFrom([]string{"demo", "inches", "readings"}).Draw(t, "build")]
		n++
		path := filepath.Join(dir, fmt.Sprintf("%d.toml", n))
		require.NoError(t, os.WriteFile(path, text, 0o644))
		d := driveFile(t, path, 80, 24)
		for _, k := range rapid.SliceOfN(rapid.SampledFrom(keys), 1, 20).Draw(t, "keys") {
			d.send(keyMsg(k))
		}
		next := driveFile(t, path, 80, 24)
		if len(next.m.dialogs) > 0 {
			next.keys("t")
		}
		require.Equal(t, d.bytes(), next.bytes())
	})
}
