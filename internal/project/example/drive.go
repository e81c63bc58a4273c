package example

import (
	"fmt"
	"math"
)

// Points is a line given by its joint centres and its first and last axis: keys
// of the file, as they stand in their tables.
func Points(first, last string, at ...string) string {
	s := "format = 1\n[line.rear.first]\n" + first + "\n[line.rear.pinion]\n" + last + "\n"
	for _, p := range at {
		s += "[[line.rear.joint]]\nat = " + p + "\n"
	}
	return s
}

// Three is a build that knows nothing but three gauge readings, of 4.4, 2.4 and
// 4.8 degrees; each says which end was lower, or nothing.
func Three(engine, shaft, pinion string) string {
	read := func(of, on, shown, lower string) string {
		s := fmt.Sprintf("[[reading]]\nof = %q\non = %q\nshown = %q\n", of, on, shown)
		if lower != "" {
			s += fmt.Sprintf("lower = %q\n", lower)
		}
		return s
	}
	return "format = 1\n[line.rear.pinion]\n" +
		read("powertrain", "square face", "85.6 deg", engine) +
		read("line.rear.shaft.1", "along", "2.4 deg", shaft) +
		read("line.rear.pinion", "square face", "85.2 deg", pinion)
}

// Slopes is a build of three readings along the axes, in degrees down to the
// rear.
func Slopes(engine, shaft, pinion float64) string {
	s := "format = 1\n[line.rear.pinion]\n"
	for _, r := range []struct {
		of string
		at float64
	}{{"powertrain", engine}, {"line.rear.shaft.1", shaft}, {"line.rear.pinion", pinion}} {
		lower := "rear"
		if r.at < 0 {
			lower = "front"
		}
		s += fmt.Sprintf("[[reading]]\nof = %q\non = \"along\"\nshown = \"%g deg\"\nlower = %q\n", r.of, math.Abs(r.at), lower)
	}
	return s
}

// Kinds is the text of two joints.
func Kinds(first, second string) string {
	return fmt.Sprintf("[[line.rear.joint]]\nkind = %q\n[[line.rear.joint]]\nkind = %q\n", first, second)
}

// TwoEnds is a line from a powertrain that stands level to a pinion 1250 mm behind
// it, all in one height: the shaft is level, and the pinion falls by 3 degrees.
const TwoEnds = `
format = 1
[powertrain]
output = [1250, 0, 0]
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
[line.rear.pinion]
at = [2500, 0, 0]
slope = "3 deg down to the rear"
`

// ReadAtRest are readings of TwoEnds, taken after tacking where it stands, each a
// degree or more from its plan but for the pinion's.
const ReadAtRest = `
[[reading]]
of = "powertrain"
on = "along"
shown = "1 deg"
lower = "rear"
after = "tacked"
placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }
[[reading]]
of = "line.rear.shaft.1"
on = "along"
shown = "2 deg"
lower = "rear"
after = "tacked"
placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }
[[reading]]
of = "line.rear.pinion"
on = "along"
shown = "3 deg"
lower = "rear"
after = "tacked"
[line.rear]
speed = "3000 rpm"
[limits]
plan_gap = "5 deg"
`
