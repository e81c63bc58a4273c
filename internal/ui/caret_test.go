package ui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/charmbracelet/x/ansi"
)

// under is the text of the screen from the terminal's cursor on.
func (d *driver) under() string {
	d.t.Helper()
	lines := strings.Split(d.screen(), "\n")
	require.Less(d.t, d.m.caret.Y, len(lines))
	return ansi.TruncateLeft(lines[d.m.caret.Y], d.m.caret.X, "")
}

// The terminal's own cursor stands on the row that has the bench's, or where text
// is typed, at every size: braille displays and screen readers follow it.
func TestTheTerminalsCursorStandsWhereOneIs(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {140, 45}} {
		d := demo(t, size[0], size[1])
		assert.True(t, strings.HasPrefix(d.under(), "▸ "), d.under())
		first := d.under()
		d.keys("down")
		assert.True(t, strings.HasPrefix(d.under(), "▸ "), d.under())
		assert.NotEqual(t, first, d.under())
		d.keys("3")
		assert.Contains(t, d.under(), "▸ powertrain")
		d.keys("1")
		assert.True(t, strings.HasPrefix(d.under(), " Sketch") || strings.Contains(d.under(), "Sketch"), d.under())
		d.keys("2", "enter", "text:12")
		assert.True(t, strings.HasPrefix(d.under(), "▏"), d.under())
		d.keys("esc", "?")
		assert.Contains(t, d.under(), "In every pane")
		d.keys("esc", "n", "text:85")
		assert.True(t, strings.HasPrefix(d.under(), "▏"), "in the field of the row: %s", d.under())
		d.keys("down")
		assert.True(t, strings.HasPrefix(d.under(), "▸ lower end"), d.under())
	}
}
