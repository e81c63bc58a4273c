package example

import "strings"

// Rare returns builds of what few files have: together with the demo and the
// starter they make every finding and every fact that there is. By name.
func Rare() map[string]string {
	return map[string]string{
		"across":         across,
		"no half shafts": noHalfShafts,
		"rated line": rated + Welding("line.rear.first") + Welding("line.rear.shaft.1") + Welding("line.rear.pinion") + Welding("floor") + diagonal +
			"[[reading]]\nof = \"line.rear.first\"\naside = \"2 mm right\"\nover = \"600 mm\"\n",
		"frame":        Frame,
		"frame welded": FrameWelded(),
		"subframe":     Subframe,
		"marked":       Marked,
		"marked axle":  MarkedAxle(),
		"leaning axle": MarkedAxle() + strings.ReplaceAll(Welding("line.rear.pinion.across"), `"rear"`, `"left"`),
		"on legs":      SubframeMounts() + SubframePipe,
		"lifted":       Lifted,
		"hung":         Hung(0.2),
		"held":         Level + Heavy + Rubbers + Held,
		"pick-ups":     Pickups(),
		"axled":        axled,
		"piped":        Piped,
		"adapted":      Adapted,
		"wheelbase":    wheelbase,
		"tape":         taped + Welding("powertrain") + Welding("frame"),
		"welded":       LegsAtPads(Weighs, "weld = { size = 3, runs = \"top and bottom\" }", Stiff+welded),
	}
}

// SubframePipe is a pipe of the exhaust past the beam of SubframeMounts.
const SubframePipe = `[[exhaust]]
name = "pipe past the beam"
points = [[-100, 250, -200], [900, 250, -200]]
diameter = 60
`

// across is a crankshaft that lies across, and half shafts that hang on it; it
// was read before and after welding.
const across = `format = 3
[powertrain]
layout = "transaxle"
final = 4
gears = [3.5, 2, 1.3, 1, 0.8]
torque = "200 N m"
[powertrain.pads]
left_front = [0, -350, 0]
right_front = [0, 350, 0]
rear = [400, 0, -50]
[placement]
left_front = 10
right_front = 10
rear = -40
setback = -60
offset = "0 mm"
[mount.rear]
holds = "solid"
[line.front]
toward = "front"
[line.front.suspension]
kind = "fixed"
bump = 70
droop = 80
[[line.front.suspension.half_shaft]]
name = "left"
output = [70, -130, -40]
outer = [25, -690, -95]
pivot_a = [-120, -330, -130]
pivot_b = [190, -330, -130]
lock = "34 deg"
plunge_closed = 545
plunge_open = 590
[[reading]]
of = "powertrain.across"
on = "along"
lower = "right"
shown = "1 deg"
after = "tacked"
[[reading]]
of = "powertrain.across"
on = "along"
lower = "right"
shown = "1.2 deg"
after = "welded"
`

const noHalfShafts = `format = 3
[powertrain]
layout = "transaxle"
[line.front]
toward = "front"
`

// rated is a line from an output of its own, with the makers' ratings and an axle
// on links whose bushes give.
const rated = `format = 3
[powertrain]
torque = "300 N m"
gears = [3, 1]
[line.rear.first]
slope = "2 deg down to the rear"
[line.rear.pinion]
at = [2800, 0, -60]
slope = "3 deg down to the rear"
[[line.rear.joint]]
at = [1500, 0, 0]
rating = "2000 N m"
[[line.rear.joint]]
rating = "2000 N m"
[[line.rear.shaft]]
rating = "2000 N m"
[line.rear.suspension]
kind = "links"
bump = 80
droop = 100
give = 4
axle = [3050, 0, -75]
[[line.rear.suspension.link]]
name = "upper left"
chassis = [2550, -450, 60]
axle = [3030, -120, 70]
[[line.rear.suspension.link]]
name = "upper right"
chassis = [2550, 450, 60]
axle = [3030, 120, 70]
[[line.rear.suspension.link]]
name = "lower left"
chassis = [2400, -400, -100]
axle = [3050, -450, -120]
[[line.rear.suspension.link]]
name = "lower right"
chassis = [2400, 400, -100]
axle = [3050, 450, -120]
`

// levelPads is a powertrain that stands level on its three pads, where they are in its own
// frame.
const levelPads = `[powertrain.pads]
left_front = [0, -200, 0]
right_front = [0, 200, 0]
rear = [600, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
offset = "0 mm"
`

// taped is a line to a powertrain with both of its ends read by tape.
const taped = `format = 3
[powertrain]
output = [700, 0, 0]
` + levelPads + `heading = "0 deg"
[line.rear.pinion]
at = [2000, 0, -40]
slope = "2 deg down to the rear"
[[reading]]
of = "powertrain"
aside = "2 mm right"
over = "600 mm"
[[reading]]
of = "line.rear.pinion"
aside = "1 mm right"
over = "300 mm"
`

// wheelbase is one that was taped in plain words.
const wheelbase = `format = 3
[[measure]]
of = "wheelbase left"
with = "tape"
lengths = [3300]
`

// diagonal is a measurement before and after welding.
const diagonal = `[[measure]]
of = "diagonal"
with = "tape"
lengths = [4000, 4000]
after = "tacked"
[[measure]]
of = "diagonal"
with = "tape"
lengths = [4005]
after = "welded"
`

// welded is the map of the left front leg's weld, finished.
const welded = `[[weld]]
bracket = "Left front"
at = "foot"
side.top = { state = "finished", length = 38 }
side.bottom = { state = "finished", length = 38 }
`

// Welding is a reading of a target before and one after welding.
func Welding(of string) string {
	read := func(shown, after string) string {
		return "[[reading]]\nof = \"" + of + "\"\non = \"along\"\nlower = \"rear\"\nshown = \"" + shown + "\"\nafter = \"" + after + "\"\n"
	}
	return read("2 deg", "tacked") + read("2.2 deg", "welded")
}
