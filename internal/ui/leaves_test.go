package ui

import (
	"fmt"
	"strings"
	"testing"

	small "fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// twoLines is a build with a rear line of three joints, one of them behind a
// carrier bearing and one shaft with crossed yokes, on a suspension whose
// points are not known; and a front line with a double joint and a half shaft.
const twoLines = `format = 3
name = "two lines"

[vehicle]
name = "forwarder"
wheelbase = 3400
front_axle = 0
tyre_diameter = 740
axle_height = -260
top_speed = "90 km/h"
tyre = "225/75R16"

[rails.left]
points = [[-450, -380, 0], [4300, -386, 12]]
height = 150
width = 60

[rails.right]
points = [[-450, 380, 0], [4300, 384, 10]]
height = 150
width = 60

[powertrain]
output = [1395, 0, 0]
redline = "3600 rpm"
torque = "390 N m"
gears = [4.1, 2.3, 1.4, 1]

[powertrain.pads]
left_front = [0, -250, -20]
right_front = [0, 250, -20]
rear = [1250, 0, -110]

[placement]
left_front = -106
right_front = -106
rear = -284.5
setback = 260
offset = "6 mm right"
heading = "0 deg"

[line.rear]
ratio = 4.1
[[line.rear.joint]]
rating = "1500 N m"
[[line.rear.joint]]
at = [2250, 8, -235]
[[line.rear.joint]]
kind = "cardan"
[[line.rear.shaft]]
outside = 63.5
wall = 2
[[line.rear.shaft]]
outside = 63.5
wall = 2
phase = "crossed"
slip_closed = 820
[line.rear.pinion]
at = [3110, 18, -250]
slope = "4.8 deg down to the rear"

[line.rear.suspension]
kind = "leaf"
bump = 80
droop = 90
axle = [3400, 0, -260]

[line.front]
toward = "front"
output = [1150, 180, -60]
speed = "2500 rpm"
[[line.front.joint]]
kind = "double cardan"
[[line.front.joint]]
[line.front.pinion]
at = [250, 200, -250]
slope = "1 deg up to the rear"
[line.front.suspension]
kind = "fixed"
bump = 70
droop = 80
[[line.front.suspension.half_shaft]]
name = "left"
inner = [0, -120, -250]
outer = [10, -640, -265]
pivot_a = [-150, -250, -300]
pivot_b = [150, -250, -300]
ball = [10, -660, -330]
plunge_in = 15
outer_max = "4 deg"
`

// leafShots are the golden screens of the leaves of the Driveline pane.
func leafShots() []shot {
	var out []shot
	demo, lines := starter.Demo(), []byte(twoLines)
	for _, s := range [][2]int{{140, 45}, {80, 24}, {60, 20}} {
		w, h := s[0], s[1]
		out = append(out,
			shot{name: "travel", build: demo, w: w, h: h, keys: []string{"3", "page:travel"}},
			shot{name: "shaft", build: demo, w: w, h: h, keys: []string{"3", "page:shaft"}},
			shot{name: "angles-zoomed", build: demo, w: w, h: h, keys: []string{"3", "z", "down", "down", "down", "down", "down", "down", "down", "down"}},
			shot{name: "travel-zoomed", build: demo, w: w, h: h, keys: []string{"3", "page:travel", "z", "down"}},
			shot{name: "shaft-zoomed", build: demo, w: w, h: h, keys: []string{"3", "page:shaft", "z", "down", "down", "down"}},
			shot{name: "lines-angles", build: lines, w: w, h: h, keys: []string{"3", "down", "down", "down", "down", "down"}},
			shot{name: "lines-travel", build: lines, w: w, h: h, keys: []string{"3", "page:travel"}},
			shot{name: "lines-front", build: lines, w: w, h: h, keys: []string{"3", "right"}},
			shot{name: "lines-half-shafts", build: lines, w: w, h: h, keys: []string{"3", "right", "page:travel", "down"}},
		)
	}
	return append(out,
		shot{name: "lines-angles-zoomed", build: lines, w: 140, h: 45, keys: []string{"3", "z"}},
		shot{name: "lines-half-shafts-zoomed", build: lines, w: 140, h: 45, keys: []string{"3", "right", "page:travel", "z"}},
		shot{name: "lines-shaft-zoomed", build: lines, w: 140, h: 45, keys: []string{"3", "page:shaft", "z"}},
		shot{name: "lines-sketch", build: lines, w: 140, h: 45, keys: []string{"1", "z", "c"}},
		shot{name: "angles-tall", build: demo, w: 80, h: 60, keys: []string{"3", "z"}},
		shot{name: "subframe-zoomed", build: []byte(small.Subframe), w: 110, h: 60, keys: []string{"4", "page:subframe", "z"}},
		shot{name: "subframe-corner", build: []byte(small.Subframe), w: 120, h: 36, keys: []string{"4", "page:subframe", "down", "down", "down", "down", "down", "down"}},
		shot{name: "travel-starter", build: starter.New(), w: 80, h: 24, keys: []string{"3", "page:travel"}},
		shot{name: "travel-readings", build: []byte(readingsOnly), w: 120, h: 36, keys: []string{"3", "page:travel"}},
		shot{name: "shaft-inches", build: []byte(inches), w: 120, h: 36, keys: []string{"3", "page:shaft"}},
	)
}

func TestLeavesGoRound(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("3")
	for _, want := range []string{"angles [travel] shaft", "angles travel [shaft]", "[angles] travel shaft"} {
		d.keys("]")
		assert.Contains(t, d.screen(), "3 Driveline: "+want)
	}
	d.keys("[")
	assert.Contains(t, d.screen(), "Driveline: angles travel [shaft]")
	d.keys("2", "5", "3")
	assert.Contains(t, d.screen(), "Driveline: angles travel [shaft]", "the leaf stays open")
	d.keys("1", "]")
	assert.Contains(t, d.screen(), "one page only")
	assert.Contains(t, d.screen(), "Driveline: angles travel [shaft]", "the key is the focused pane's")
}

// Each leaf keeps its own cursor.
func TestLeavesKeepTheirCursors(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("3", "down", "down", "]", "down")
	assert.Contains(t, d.screen(), "▸ joint 2 ")
	d.keys("[")
	assert.Contains(t, d.screen(), "▸ pinion ")
	d.keys("]")
	assert.Contains(t, d.screen(), "▸ joint 2 ")
}

// Only an axis has a reading; no other row takes one in or out.
func TestOnlyAxesHaveReadings(t *testing.T) {
	t.Parallel()
	for leaf, keys := range map[string][]string{"travel": {"3", "page:travel"}, "shaft": {"3", "page:shaft"}} {
		d := demo(t, 140, 45).keys(keys...)
		for range 40 {
			d.keys("x", "down")
			require.Contains(t, d.screen(), "There is no reading here to take out", leaf)
			d.keys("enter")
			require.Empty(t, d.m.dialogs, leaf)
			require.Contains(t, d.screen(), "This follows from the placement", leaf)
		}
		same(t, string(starter.Demo()), d.bytes())
	}
	d := demo(t, 140, 45).keys("3")
	for range 3 {
		d.keys("enter")
		require.Len(t, d.m.dialogs, 1, "an axis can be read")
		d.keys("esc", "down")
	}
	d.keys("enter", "x")
	require.Empty(t, d.m.dialogs)
	same(t, string(starter.Demo()), d.bytes())
}

// Left and right step through the lines where there are several.
func TestLineChooser(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(twoLines), 120, 50).keys("3")
	assert.Contains(t, d.screen(), "1 of 2")
	assert.Contains(t, d.screen(), "joint 3")
	for _, key := range []string{"right", "left"} {
		d.keys(key)
		assert.Contains(t, d.screen(), "2 of 2")
		assert.Contains(t, d.screen(), "front line")
		assert.NotContains(t, d.screen(), "joint 3")
		d.keys("]")
		assert.Contains(t, d.screen(), "half shaft left")
		d.keys("[", key)
		assert.Contains(t, d.screen(), "1 of 2")
	}
	d.keys("right", "n")
	require.Len(t, d.m.dialogs, 1)
	d.keys("text:88.5", "down", "f", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	same(t, twoLines, strings.Split(d.bytes(), "\n[[reading]]")[0]+"", "only a reading was added")

	one := demo(t, 120, 36).keys("3")
	one.keys("right", "right", "left")
	assert.Contains(t, one.m.message.text, "one line", "with one line there is nothing to choose")
	same(t, string(starter.Demo()), one.bytes())
}

// A reading wanted on a row that takes none is of the line on show.
func TestReadingIsOfTheLineOnShow(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(twoLines), 120, 36).keys("3", "right", "down", "down", "down", "n")
	require.Len(t, d.m.dialogs, 1)
	d.keys("esc")
	shown := d.m.paneKey("reading.add")
	assert.Equal(t, "{powertrain}", fmt.Sprint(shown))
	d.keys("down", "up", "up", "n")
	assert.Contains(t, d.screen(), "front")
}

// The sketch tells the joints of several lines apart.
func TestSketchNamesEveryJoint(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(twoLines), 140, 45).keys("1", "z")
	for _, joint := range []string{"rear J1 0.73° ✓", "rear J2 3.81° ✗", "rear J3 3.86° ✗", "front J1 5.23° ✓", "front J2 0.70° ✓"} {
		assert.GreaterOrEqual(t, strings.Count(d.screen(), joint), 1, joint)
	}
	assert.NotContains(t, demo(t, 140, 45).screen(), "rear J1", "one line needs no name")
}

// A row of figures that is read in full says what stands over each of them.
func TestFiguresInFullHaveTheirHeadings(t *testing.T) {
	d := shot{name: "corner in full", build: []byte(small.Subframe), w: 120, h: 36, keys: []string{"4", "page:subframe", "down", "down", "down", "down", "down", "down", "h"}}.take(t)
	assert.Contains(t, d.words(), "to move, mm: back -6.8, right -1.2, up 1.4")
	assert.Contains(t, d.words(), "sub lf ✗ over")
}
