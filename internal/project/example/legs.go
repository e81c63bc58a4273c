// Package example has whole builds for tests to work on, each no larger than
// what it is about. They are texts of a build's file, made up for the tests.
package example

import "strings"

// Weighs is what a powertrain weighs, kg, and where it balances: a third of the
// way from its front pads to its rear one, so that each pad carries 100 kg.
const Weighs = "mass = 300\ncentre_of_mass = [400, 0, 0]"

// Stiff stands the powertrain on mounts that hardly give, so that loads are
// those of the lever.
const Stiff = `
[mount.left_front]
rate_up = 1e5
rate_across = 1e5
rate_along = 1e5
[mount.right_front]
rate_up = 1e5
rate_across = 1e5
rate_along = 1e5
[mount.rear]
rate_up = 1e5
rate_across = 1e5
rate_along = 1e5
`

// OtherLeg makes the right front leg after the left one.
const OtherLeg = "[mount.right_front.leg]\nmatch = \"left_front\"\n"

// legs stand between level, parallel rails, 760 mm apart; what is said of the
// powertrain and of the leg comes in the places in capitals.
const legs = `format = 1
[rails.left]
points = [[-500, -380, 0], [2000, -380, 0]]
height = 150
[rails.right]
points = [[-500, 380, 0], [2000, 380, 0]]
height = 150
[powertrain]
name = "p"
POWERTRAIN
[powertrain.pads]
left_front = [0, -200, 0]
right_front = [0, 200, 0]
rear = [1200, 0, 0]
[placement]
left_front = -35
right_front = -35
rear = -35
setback = 300
[mount.left_front.leg]
section = "SHS 50x50x3 cold"
standing = 40
LEG
`

// Legs is a build with level, parallel rails, the powertrain level between them
// and one leg from the left front pad, at (300, -200, -75), straight out to its
// rail, 180 mm away. powertrain and leg are lines of those tables, more is what
// comes after.
func Legs(powertrain, leg, more string) string {
	return strings.NewReplacer("POWERTRAIN", powertrain, "LEG", leg).Replace(legs) + more
}

// LegsAtPads is Legs with the isolators of no height, so that what a mount
// carries acts at the leg's pad.
func LegsAtPads(powertrain, leg, more string) string {
	text := strings.NewReplacer("left_front = -35", "left_front = -75", "right_front = -35", "right_front = -75",
		"rear = -35", "rear = -75", "standing = 40\n", "standing = 0\n").Replace(legs)
	return strings.NewReplacer("POWERTRAIN", powertrain, "LEG", leg).Replace(text) + more
}
