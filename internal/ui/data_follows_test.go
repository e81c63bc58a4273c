package ui

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/project/sheet"

	"github.com/stretchr/testify/require"
)

// Beside what was measured of a point, and from where, stands where it lies: of its own
// rows, and of a row that names it.
func TestWhereAPointLiesStandsBesideWhatWasMeasured(t *testing.T) {
	d := drive(t, []byte(`format = 3
[point.hook]
station = "1000 ± 1"
offset = "-400"
height = 50
[point.bolt]
from = "point.hook"
station = "25 ± 1"
offset = "10 right"
height = -30
[point.half]
station = 5
[[chassis]]
name = "stay"
at = "point.bolt"
`), 140, 45)
	at := func(path string) string {
		d.m.openData().Go(path)
		d.send(nil)
		_, words := d.m.data.InFull()
		return strings.Join(words, " ")
	}
	place := "So point.bolt lies at station 1025.0 mm ±2.0 mm, offset 390.0 mm left, height 20.0 mm from the vehicle's zero."
	require.Contains(t, at("point.bolt.height"), place)
	require.Contains(t, at("chassis[0].at"), place, "a row that names it")
	require.Contains(t, d.screen(), "So point.bolt lies at station 1025.0 mm ±2.0 mm")
	require.NotContains(t, at("vehicle.wheelbase"), "lies at station")
	require.Contains(t, at("point.half.station"), "Where point.half lies is not known: not in the file yet: point.half.offset, point.half.height.")
}

// The page says how much of its list stands above and below what is shown.
func TestDataPageSaysWhatItDoesNotShow(t *testing.T) {
	d := demo(t, 80, 24)
	d.keys("d")
	all := len(sheet.Chapters())
	require.Contains(t, d.screen(), fmt.Sprintf("%d below, esc closes", all-10))
	for range all - 1 {
		d.keys("down")
	}
	require.Contains(t, d.screen(), fmt.Sprintf("%d above, esc closes", all-10))
	d = demo(t, 140, 45)
	d.keys("d")
	require.NotContains(t, d.screen(), "below, esc closes")
}
