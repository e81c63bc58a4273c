package example

// Lifted is a four-wheel drive whose body stands 100 mm higher than it was built, invented:
// a transfer case on the gearbox with a line to either axle. The front axle hangs on four
// links, with a limiting strap on either side; the rear one on leaf springs.
const Lifted = `format = 3
name = "lifted"
[powertrain]
name = "six and five speeds"
torque = "310 N m"
gears = [3.9, 2.2, 1.4, 1, 0.8]
redline = "4800 rpm"
output = [1270, 0, 0]
[powertrain.pads]
left_front = [0, -260, -40]
right_front = [0, 260, -40]
rear = [900, 0, -110]
[[powertrain.part]]
name = "engine"
from = [-180, -190, -160]
to = [480, 190, 380]
[[powertrain.part]]
name = "gearbox"
from = [480, -130, -140]
to = [1010, 130, 120]
[[powertrain.part]]
name = "transfer case"
from = [1010, -320, -190]
to = [1260, 110, 90]
[powertrain.transfer_case]
about = [1010, 0, 0]
lines = ["front"]
parts = ["transfer case"]
step = "5 deg"
[placement]
left_front = -20
right_front = -20
rear = -134
setback = 150
offset = "0 mm"
heading = "0 deg"
[[chassis]]
name = "crossmember"
from = [1080, -420, -330]
to = [1140, 420, -255]
` + liftedFront + liftedRear

const liftedFront = `[line.front]
toward = "front"
output = [1080, -250, -110]
reduction = 2.5
reduction_in = "gearbox"
ratio = 4.1
share = 0.5
[line.front.pinion]
at = [420, -250, -340]
slope = "14 deg up to the rear"
[[line.front.joint]]
kind = "double cardan"
max_angle = "28 deg"
[[line.front.joint]]
kind = "cardan"
max_angle = "22 deg"
[[line.front.shaft]]
outside = 50.8
wall = 3
slip_closed = 770
slip_open = 850
[line.front.suspension]
kind = "links"
bump = 90
droop = 130
give = 6
axle = [150, 0, -420]
[[line.front.suspension.link]]
name = "lower left"
chassis = [1050, -330, -340]
axle = [170, -420, -450]
[[line.front.suspension.link]]
name = "lower right"
chassis = [1050, 330, -340]
axle = [170, 420, -450]
[[line.front.suspension.link]]
name = "upper left"
chassis = [900, -320, -220]
axle = [140, -330, -330]
[[line.front.suspension.link]]
name = "lateral"
chassis = [220, 430, -330]
axle = [220, -400, -400]
[[line.front.suspension.strap]]
name = "left"
chassis = [160, -430, -60]
axle = [160, -430, -400]
length = 420
stretch = 8
[[line.front.suspension.strap]]
name = "right"
chassis = [160, 430, -60]
axle = [160, 430, -400]
length = 420
stretch = 8
`

const liftedRear = `[line.rear]
ratio = 4.1
reduction = 2.5
reduction_in = "gearbox"
[line.rear.pinion]
at = [2330, 0, -330]
slope = "4 deg down to the rear"
[[line.rear.shaft]]
outside = 63.5
wall = 3
slip_closed = 900
slip_open = 990
[line.rear.suspension]
kind = "leaf"
bump = 90
droop = 120
axle = [2620, 0, -370]
fixed_eye = [2010, 480, -330]
seat = [2620, 480, -440]
shackle_eye = [3260, 480, -330]
shackle_pivot = [3230, 480, -210]
clamped = 130
leaves = "many"
wind_up = "3 deg"
`
