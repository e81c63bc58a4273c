package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// clicking is a bench that takes the mouse.
func clicking(t *testing.T, w, h int) *driver {
	d := demo(t, w, h)
	d.m.clicks = true
	return d.keys("up")
}

// at is the cell in which a text begins.
func (d *driver) at(text string) (x, y int) {
	d.t.Helper()
	for y, l := range strings.Split(d.screen(), "\n") {
		if before, _, ok := strings.Cut(l, text); ok {
			return ansi.StringWidth(before), y
		}
	}
	require.Failf(d.t, "not on the screen", "%q\n%s", text, d.screen())
	return 0, 0
}

func (d *driver) click(text string) *driver {
	d.t.Helper()
	x, y := d.at(text)
	d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: tea.MouseButtonLeft})
	return d
}

func (d *driver) wheel(text string, b tea.MouseButton) *driver {
	d.t.Helper()
	x, y := d.at(text)
	d.send(tea.MouseMsg{X: x, Y: y, Action: tea.MouseActionPress, Button: b})
	return d
}

// A click chooses a pane and a row and does nothing with it; the wheel moves.
func TestAClickChoosesAndDoesNotAct(t *testing.T) {
	t.Parallel()
	d := clicking(t, 140, 45)
	d.click("left front")
	assert.True(t, strings.HasPrefix(d.under(), "▸ left front"), d.under())
	d.click("joint 1")
	assert.True(t, strings.HasPrefix(d.under(), "▸ joint 1"), d.under())
	d.click("5 Jobs")
	assert.Equal(t, paneWith(scopeJobs), d.m.focus)
	row := d.under()
	d.wheel("5 Jobs", tea.MouseButtonWheelUp)
	assert.NotEqual(t, row, d.under())
	d.wheel("5 Jobs", tea.MouseButtonWheelDown)
	assert.Equal(t, row, d.under())
	d.keys("?").click("In every pane")
	require.Len(t, d.m.dialogs, 1)
	d.wheel("In every pane", tea.MouseButtonWheelDown)
	assert.Equal(t, wheelRows, d.m.dialogs[0].(*help).top)
	d.keys("esc")
	assert.False(t, d.m.sess.Unsaved(), "nothing was done by clicking")
}

func TestClicksOnASmallScreen(t *testing.T) {
	t.Parallel()
	d := clicking(t, 60, 20)
	d.click("3 Driveline")
	assert.Equal(t, paneWith(scopeDriveline), d.m.focus)
	d = clicking(t, 80, 24)
	d.click("5 Jobs")
	assert.Equal(t, paneWith(scopeJobs), d.m.focus)
}

// The mouse is the terminal's own until somebody asks for it.
func TestTheMouseIsOffByDefault(t *testing.T) {
	t.Parallel()
	table, err := Actions()
	require.NoError(t, err)
	_, mouse, err := Options{}.settled(table)
	require.NoError(t, err)
	assert.False(t, mouse)
	path := filepath.Join(t.TempDir(), "keys.toml")
	require.NoError(t, os.WriteFile(path, []byte("mouse = true\n"), 0o644))
	_, mouse, err = Options{Keys: path}.settled(table)
	require.NoError(t, err)
	assert.True(t, mouse)
}
