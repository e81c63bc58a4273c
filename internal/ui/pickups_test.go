package ui

import (
	"strings"
	"testing"

	"fitup/internal/assess"
	small "fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The solid length of a coil that is typed anew on the screen is judged in the same frame,
// and the page's row leads to where it is typed.
func TestASpringIsTypedFromItsRow(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(small.Pickups()), 120, 40).keys("4", "page:pick-ups")
	require.Contains(t, d.screen(), "wheel centres apart")
	down := func(to string) {
		for range 60 {
			if strings.Contains(strings.Join(strings.Fields(d.screen()), " "), "▸ "+to) {
				return
			}
			d.keys("down")
		}
		require.Fail(t, "no row "+to)
	}
	f, ok := d.m.now.Finding("pickup.front.left.spring.bind")
	require.True(t, ok)
	assert.Equal(t, assess.OK, f.Status)
	was := f.Value
	down("left at full bump")
	d.keys("enter")
	require.NotNil(t, d.m.data)
	down("solid")
	d.keys("enter", "ctrl+u", "text:195", "enter", "esc")
	f, _ = d.m.now.Finding("pickup.front.left.spring.bind")
	assert.InDelta(t, was-65, f.Value, 1e-9)
	assert.Equal(t, assess.Over, f.Status)
	assert.Contains(t, d.screen(), "1 over")
	d.keys("u")
	f, _ = d.m.now.Finding("pickup.front.left.spring.bind")
	assert.Equal(t, assess.OK, f.Status)
}
