package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A theme changes colours and nothing else; plain, which is what NO_COLOR asks
// for, has no escape code at all. Fields with a cursor are left out: where a
// cell cannot be marked the cursor is a sign of its own; by default so are seven of
// eight screens.
func TestThemesDifferOnlyInColour(t *testing.T) {
	n := 0
	for at, s := range shots() {
		if !inturn.Try(t, at, 8) {
			continue
		}
		plain := s.take(t).m.View()
		require.NotContains(t, plain, "\x1b", s.name)
		if strings.Contains(plain, theme.Unicode().Cursor) || strings.Contains(plain, "This window is") {
			continue
		}
		n++
		dark, light := s.in(t, "dark"), s.in(t, "light")
		require.NotEqual(t, dark, light, s.name)
		require.Equal(t, plain, ansi.Strip(dark), s.name)
		require.Equal(t, plain, ansi.Strip(light), s.name)
	}
	assert.Greater(t, n, 5, "too few screens were compared")
}

// Every colour that is begun on a line ends on it, so that nothing runs over
// into a border or the next line. By default every fourth screen is looked at, in one look.
func TestColourEndsOnItsLine(t *testing.T) {
	sgr := regexp.MustCompile("\x1b\\[([0-9;]*)m")
	for l, look := range []string{"dark", "light", "both"} {
		for n, s := range shots() {
			if !inturn.Try(t, l+n, 12) {
				continue
			}
			for i, line := range strings.Split(s.in(t, look), "\n") {
				last := "0"
				for _, m := range sgr.FindAllStringSubmatch(line, -1) {
					last = m[1]
				}
				require.Contains(t, []string{"0", ""}, last, "%s %s, line %d: %q", look, s.name, i, line)
			}
		}
	}
}

func TestUnknownLooksAreRefused(t *testing.T) {
	t.Parallel()
	assert.ErrorContains(t, Run(Options{Theme: "dark", Glyphs: "emoji"}), "emoji")
	assert.ErrorContains(t, Run(Options{Theme: "neon", Glyphs: "ascii"}), "neon")
}

func TestRebindKeys(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, text, wrong string }{
		{"another key", `"file.save" = ["ctrl+w"]`, ""},
		{"several keys", `"file.save" = ["ctrl+w", "f2"]`, ""},
		{"no key at all", `"file.save" = []`, ""},
		{"an empty file", ``, ""},
		{"the mouse", "mouse = true", ""},
		{"half a mouse", `mouse = "left"`, "mouse = true"},
		{"a number for a key", `"file.save" = [3]`, "want lines such as"},
		{"an exchange", "\"file.save\" = [\"q\"]\n\"bench.quit\" = [\"s\"]", ""},
		{"a key that is taken", `"file.save" = ["q"]`, "q"},
		{"a key of one pane", `"file.save" = ["x"]`, "x"},
		{"a key that is fixed", `"value.enter" = ["e"]`, "fixed"},
		{"an arrow", `"file.save" = ["up"]`, "arrow"},
		{"an unknown action", `"file.sve" = ["ctrl+w"]`, "file.save"},
		{"an unknown key", `"file.save" = ["hyper+w"]`, "hyper+w"},
		{"no list", `"file.save" = "ctrl+w"`, "want lines such as"},
		{"no TOML", `file.save = [`, "want lines such as"},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "keys.toml")
			require.NoError(t, os.WriteFile(path, []byte(c.text), 0o644))
			old, err := Actions()
			require.NoError(t, err)
			table, _, err := Options{Keys: path}.settled(old)
			if c.wrong == "" {
				require.NoError(t, err)
				require.NotNil(t, table)
				return
			}
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.wrong)
			assert.Contains(t, err.Error(), path, "it says where")
		})
	}
	table, err := Actions()
	require.NoError(t, err)
	_, _, err = Options{Keys: filepath.Join(t.TempDir(), "none.toml")}.settled(table)
	assert.Error(t, err)
}

// New keys work, old ones do not, and footer and help tell the new ones.
func TestReboundKeysWork(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "keys.toml")
	require.NoError(t, os.WriteFile(path, []byte("\"file.save\" = [\"w\"]\n\"findings.watch\" = []\n\"bench.help\" = [\"Z\"]\n"), 0o644))
	d := demo(t, 80, 24)
	table, _, err := Options{Keys: path}.settled(d.m.actions)
	require.NoError(t, err)
	d.m.actions = table
	d.keys("right", "s")
	assert.True(t, d.m.sess.Unsaved())
	assert.Contains(t, d.screen(), "Z help")
	d.keys("w")
	assert.False(t, d.m.sess.Unsaved())
	d.keys("Z")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.m.dialogs[0].(*help).lines, helpLine{key: "w", text: "Save the build file."})
	assert.Contains(t, d.m.dialogs[0].(*help).lines, helpLine{text: "In every pane", heading: true})
}

// Text from the file reaches the screen without its control signs.
func TestHostileTextIsHarmless(t *testing.T) {
	t.Parallel()
	src := strings.Replace(string(starter.Demo()), `title = "Lift the old engine and gearbox out"`,
		`title = "Lift\u001b[2J\u0007 it\u009b31m out\u202eevil"`, 1)
	src = strings.Replace(src, `source = "the builder's own wish, for a quiet drive"`, `source = "wish\u001b]0;title\u0007"`, 1)
	src = strings.Replace(src, `name = "block and head"`, `name = "block\u001b[31m"`, 1)
	require.NotEqual(t, string(starter.Demo()), src)
	for _, keys := range [][]string{{}, {"f"}, {"5", "up", "up", "up", "up", "up"}, {"3", "down", "down", "down", "down"}, {"5", "space"}} {
		for _, size := range [][2]int{{140, 45}, {60, 20}} {
			d := drive(t, []byte(src), size[0], size[1]).keys(keys...)
			for _, r := range d.m.View() {
				require.False(t, r != '\n' && (r < 0x20 || r >= 0x7f && r < 0xa0 || r == 0x202e), "%v: %q", keys, fmt.Sprint(d.m.View()))
			}
		}
	}
}
