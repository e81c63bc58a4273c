package pane

import (
	"testing"

	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A name is cut only where a figure stands in its way.
func TestALongNameHasWhatTheFiguresLeaveFree(t *testing.T) {
	th, err := theme.New("plain", theme.Unicode())
	require.NoError(t, err)
	tb := NewTable(50, 2, View{Theme: th})
	cut := "…"
	for _, c := range []struct {
		name    string
		figures []string
		whole   bool
	}{
		{"left with the best marks, all", []string{"2.32", ""}, true},
		{"left with the best marks, all", []string{"1234567", ""}, false},
		{"left with the best marks there are, on every joint", []string{"", "2.32"}, false},
		{"clockwise of straight ahead", []string{"at", "x"}, true},
	} {
		row := tb.Cells(c.name, c.figures...)
		assert.Equal(t, tb.W-2, theme.Width(row), row)
		if c.whole {
			assert.Contains(t, row, c.name+"  ")
			assert.NotContains(t, row, cut)
		} else {
			assert.Contains(t, row, cut)
		}
		for _, f := range c.figures {
			assert.Contains(t, row, f)
		}
	}
}
