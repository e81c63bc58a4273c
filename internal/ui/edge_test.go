package ui

import (
	"math"
	"math/bits"
	"strings"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// toRow puts the cursor on a placement row, the first being 0.
func (d *driver) toRow(n int) *driver {
	d.keys("2")
	for range d.m.now.Rows {
		d.keys("up")
	}
	for range n {
		d.keys("down")
	}
	return d
}

// Absurd values in any row are refused or stay finite, and can be undone: by default one
// of them in each row, another in each. One bench does for all of them, as each is
// undone to the byte.
func TestAbsurdPlacement(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	for row := range d.m.now.Rows {
		for i, text := range []string{"99 m", "-99 m", "0", "9 m right", "9 m left", "89.9 deg down to the rear", "90 deg up to the rear", "89.9 deg rear to the left", "90 deg rear to the right"} {
			if !inturn.Try(t, row+i, 9) {
				continue
			}
			d.toRow(row).keys("enter", "type:"+text, "enter", "esc")
			for _, v := range d.m.now.Values() {
				require.False(t, math.IsNaN(v.V) || math.IsInf(v.V, 0), "row %d at %s: %s", row, text, v.Name)
			}
			assert.NotContains(t, d.screen(), "NaN")
			assert.NotContains(t, d.screen(), "Inf")
			d.keys("]", "right", "left", "u", "u", "u", "[") // on a page that works out no effects
			same(t, string(starter.Demo()), d.bytes())
		}
	}
}

// A starter is filled in row by row: a row that is a key of the file takes its
// value at once, the others wait until the powertrain can be placed.
func TestFillingInAStarter(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 120, 36)
	for row, text := range []string{"-50", "-50", "-200"} {
		d.toRow(row).keys("enter", "text:"+text, "enter")
		require.Empty(t, d.m.dialogs, d.screen())
	}
	assert.Contains(t, d.screen(), "-200.0 mm")
	d.toRow(5).keys("enter", "text:140", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	for _, path := range []string{"placement.left_front", "placement.right_front", "placement.rear", "placement.setback"} {
		assert.NotEmpty(t, d.raw(path))
	}
	before := d.bytes()
	for _, row := range []int{3, 4} { // lift and tilt follow from the others
		d.toRow(row).keys("enter", "text:1 deg down to the rear", "enter")
		d.keys("esc").toRow(row).keys("enter", "text:5", "enter", "esc")
		same(t, before, d.bytes())
	}
	d.toRow(0).keys("right")
	same(t, before, d.bytes())
	assert.Contains(t, d.screen(), "Cannot move it: ")
	for range 4 {
		d.keys("u")
	}
	same(t, string(starter.New()), d.bytes())
}

// Pads known and one, two or all keys of the placement missing; by default a
// third of the single ones and one of the pairs.
func TestHalfFilledPlacement(t *testing.T) {
	t.Parallel()
	keys := []string{"left_front = -106", "right_front = -106", "rear = -289.5", "setback = 260", `offset = "6 mm right"`, `heading = "0 deg"`}
	for mask := range 1 << len(keys) {
		if n := bits.OnesCount(uint(mask)); n > 2 && n < len(keys) || n == 2 && !inturn.Try(t, mask, 15) || n == 1 && !inturn.Try(t, bits.Len(uint(mask)), 3) {
			continue
		}
		src := string(starter.Demo())
		for i, k := range keys {
			if mask&(1<<i) != 0 {
				src = strings.Replace(src, "\n"+k, "\n# "+k, 1)
			}
		}
		d := drive(t, []byte(src), 80, 24)
		for range d.m.now.Rows {
			d.keys("right", "enter", "1", "enter", "esc", "down")
		}
		d.keys("3", "n", "esc", "f", "end", "esc", "b", "right", "w", "esc", "w", "5", " ")
	}
}

// Without any driveline there is nothing to read, watch or draw, and the bench
// says so instead of falling over.
func TestBareBuild(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 80, 24)
	for _, keys := range [][]string{
		{"w"}, {"b", "right", "w", "esc"}, {"f", "esc"}, {"3", "enter", "x", "down"}, {"5", "enter", "space"}, {"1", "v", "c", "enter"},
		{"2", "right", "left"}, {"s"},
	} {
		d.keys(keys...)
		require.Empty(t, d.m.dialogs, "%v", keys)
	}
	assert.Equal(t, "format = 3\n", d.bytes())
	assert.False(t, d.quit)
}
