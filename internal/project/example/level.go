package example

import "strings"

// Level is a powertrain that stands level with its own frame the vehicle's: front
// pads 600 mm apart, the rear one 1200 mm behind them.
const Level = `
format = 1
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1200, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
`

// Heavy is what the powertrain of Level weighs, and its torque and gears.
const Heavy = `
[powertrain]
mass = 300
centre_of_mass = [400, 0, 100]
torque = "300 N m"
gears = [4, 2, 1]
reverse = 3.5
`

// Rubbers are the mounts of Level, with the rates of rubber.
const Rubbers = `
[mount.left_front]
rate_up = 300
rate_across = 150
rate_along = 140
holds = "captive"
[mount.right_front]
rate_up = 300
rate_across = 150
rate_along = 140
holds = "captive"
[mount.rear]
rate_up = 250
rate_across = 120
rate_along = 110
holds = "captive"
`

// FrontAxle is a front axle on trailing arms under the powertrain of Level, driven
// by a shaft from a transfer case that hangs on it. The arms turn about a line
// across the vehicle at (900, -250).
const FrontAxle = `
[line.front]
toward = "front"
output = [1000, 250, -60]
[line.front.pinion]
at = [200, 250, -230]
slope = "3 deg down to the rear"
[[line.front.shaft]]
outside = 60
slip_closed = 750
slip_open = 900
[line.front.suspension]
kind = "trailing arms"
bump = 90
droop = 110
axle = [50, 0, -300]
[[line.front.suspension.pivot]]
name = "left"
at = [900, -400, -250]
[[line.front.suspension.pivot]]
name = "right"
at = [900, 400, -250]
`

// AxleTube is the tube of FrontAxle.
const AxleTube = `
[[line.front.suspension.part]]
name = "tube"
from = [50, -600, -300]
to = [50, 600, -300]
radius = 40
`

// FrontSump are a sump and a transfer case over FrontAxle.
const FrontSump = `
[[powertrain.part]]
name = "sump"
from = [-100, -150, -220]
to = [300, 150, -50]
[[powertrain.part]]
name = "transfer case"
from = [900, 100, -150]
to = [1100, 300, 50]
`

// Stiffer is Rubbers with rates a thousand times as high, which hardly give: loads
// are those of the lever, to a few thousandths.
func Stiffer() string {
	return strings.NewReplacer("= 300\n", "= 3e5\n", "= 150\n", "= 1.5e5\n", "= 140\n", "= 1.4e5\n",
		"= 250\n", "= 2.5e5\n", "= 120\n", "= 1.2e5\n", "= 110\n", "= 1.1e5\n").Replace(Rubbers)
}
