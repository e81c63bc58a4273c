package ui

import (
	"os"
	"strings"
	"testing"

	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The README's first five minutes, key by key, on a small and on a large
// screen. What it promises must stand in both: in its text, and on the screen.
func TestReadmesFirstFiveMinutes(t *testing.T) {
	t.Parallel()
	content, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	readme := strings.Join(strings.Fields(string(content)), " ")

	for _, size := range []struct{ w, h int }{{80, 24}, {140, 45}} {
		both := func(d *driver, promised, shown string) {
			t.Helper()
			assert.Contains(t, readme, promised)
			assert.Contains(t, flat(d), shown, "%d by %d", size.w, size.h)
		}

		d := demo(t, size.w, size.h).keys("down", "down", "right")
		both(d, "the mount goes up half a millimetre", "rear mount -289.5 mm → -289.0 mm")
		d.keys("right", "right")
		both(d, "After three steps joint 2 turns from over to tight", "rear joint 2, largest angle: over → tight")
		d.keys("right", "right", "right", "right", "right", "right", "right")
		both(d, "after ten to ok", "rear joint 2, largest angle: tight → ok")

		d = drive(t, starter.New(), size.w, size.h)
		for _, shown := range []string{"85.6", "2.4", "85.2"} {
			assert.Contains(t, readme, "type `"+shown+"`")
			d.keys("n", "text:"+shown, "down", "r", "enter")
		}
		both(d, "The top line says 9 ok", "✓ 9 ok")
		d.keys("3", "z")
		both(d, "this means 4.40° down to the rear", "4.40 down ✓ read")
		both(d, "That is 4.80° down to the rear", "4.80 down ✓ read")
		both(d, "Joint 1 works at 2.00°", "joint 1 - 2.00±0.16 ✓ ok")
		both(d, "joint 2 at 2.40°", "joint 2 - 2.40±0.16 ✓ ok")
		d.keys("down", "down", "down")
		both(d, "difference is 0.40°, each ±0.16°", "1 less 2 - 0.40±0.16 ✓ ok")
		both(d, `"while the shaft runs less than 36 mm aside per metre"`, "less than 36 mm")
		d.keys("f")
		for range 9 { // how far down depends on what the findings before it assume
			if strings.Contains(flat(d), "less than 27 mm") {
				break
			}
			d.keys("down")
		}
		both(d, "joint 2 allows 27", "less than 27 mm")
		d.keys("esc", "up", "up", "n", "up", "left")
		both(d, `the gauge's place reads "by tape, seen from above"`, "by tape, seen from above")
		d.keys("down", "text:14", "down", "r", "down", "text:1000", "enter")
		both(d, "With 14 mm to the right over 1000 mm joint 1 becomes 2.15°", "joint 1 - 2.15±0.16 ✓ ok")
	}
}

// flat is a screen in one line, without the frames between its words.
func flat(d *driver) string {
	return strings.Join(strings.Fields(strings.NewReplacer("┃", " ", "│", " ").Replace(d.screen())), " ")
}
