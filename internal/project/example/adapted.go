package example

// Adapted is an engine on a plate under its left front bosses, level, with a bracket under
// each front mount; invented.
const Adapted = `format = 3
[vehicle]
tyre_diameter = 740
[rails.left]
points = [[-450, -380, 0], [2600, -380, 0]]
height = 150
width = 60
[rails.right]
points = [[-450, 380, 0], [2600, 380, 0]]
height = 150
width = 60
[powertrain]
fixing = "welded"
mass = "320 kg"
centre_of_mass = [310, 5, 90]
output = [1395, 0, 0]
torque = "390 N m"
gears = [4.1, 1]
reverse = 3.8
[powertrain.pads]
left_front = [0, -220, 40]
right_front = [0, 220, 40]
rear = [1250, 0, -110]
[[powertrain.part]]
name = "block"
from = [0, -150, 0]
to = [600, 150, 300]
[placement]
left_front = 28
right_front = 40
rear = -110
setback = 260
[[chassis]]
name = "fuel line"
from = [150, -300, 31]
to = [150, -140, 31]
radius = 4
[mount.left_front]
rate_up = 4e6
rate_across = 4e6
rate_along = 4e6
holds = "captive"
[mount.left_front.adapter]
bosses = [[-40, -260, 40], [40, -260, 40], [40, -180, 40], [-40, -180, 40]]
facing = "down"
thickness = 12
edge = 22
hole = 11
engaged = 22
block = "cast iron"
[mount.left_front.adapter.bolts]
thread = "M10"
class = "8.8"
[mount.left_front.bracket]
kind = "level arm with perch"
section = "SHS 80x80x4 cold"
past = 50
standing = 40
[mount.left_front.bracket.pad_plate]
thickness = 10
width = 100
height = 100
across = 1
high = 1
hole = 13
[mount.left_front.bracket.weld]
size = 4
[mount.right_front]
rate_up = 4e6
rate_across = 4e6
rate_along = 4e6
holds = "captive"
[mount.right_front.bracket]
match = "left_front"
[mount.rear]
rate_up = 4e6
rate_across = 4e6
rate_along = 4e6
holds = "captive"
`
