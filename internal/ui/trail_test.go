package ui

import (
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The list of changes has each with what it did to the findings, and leads back to
// any of them and on again; nothing is lost on the way.
func TestTheListOfChanges(t *testing.T) {
	t.Parallel()
	for i, size := range [][2]int{{60, 20}, {140, 45}} {
		if !inturn.Try(t, i, 2) {
			continue
		}
		d := demo(t, size[0], size[1]).keys("H")
		assert.Empty(t, d.m.dialogs, "nothing has been changed")
		d.keys("down", "down")
		texts := []string{d.bytes()}
		for range 10 {
			d.keys("right")
			texts = append(texts, d.bytes())
		}
		d.keys("H")
		require.Len(t, d.m.dialogs, 1)
		assert.Contains(t, d.words(), "10 rear mount")
		assert.Contains(t, d.words(), "tight → ok", "the verdict that the last step changed")
		assert.Contains(t, d.under(), "now")
		for range 7 {
			d.keys("down")
		}
		assert.Contains(t, d.words(), "over → tight", "and that of the third")
		assert.Contains(t, d.under(), "▸   3")
		d.keys("enter")
		same(t, texts[3], d.bytes())
		assert.Contains(t, d.m.message.text, "7 steps")
		d.keys("H")
		assert.Contains(t, d.words(), "(undone)")
		d.keys("home", "enter")
		same(t, texts[10], d.bytes())
		d.keys("H", "end", "enter")
		same(t, string(starter.Demo()), d.bytes())
		d.keys("H", "esc")
		same(t, string(starter.Demo()), d.bytes(), "Esc only closes")
		d.keys("r")
		same(t, texts[1], d.bytes())
	}
}
