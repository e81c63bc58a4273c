package example

// Piped is a powertrain with its exhaust between a firewall and a floor that it looks
// through, over a front axle, beside a steering shaft of three joints whose places were
// taped from a rail, and whose directions and slip joint have a ± of their own.
const Piped = Level + Heavy + Rubbers + `
[[powertrain.part]]
name = "gearbox"
from = [500, -120, -120]
to = [1250, 120, 120]
[[powertrain.part]]
name = "sump"
from = [-100, -150, -220]
to = [300, 150, -50]
[[powertrain.exhaust]]
name = "down pipe"
points = [[200, 200, 100], [200, 400, 100], [200, 400, -300], [700, 400, -300]]
bend = 80
diameter = 50
[[exhaust]]
name = "tail pipe"
from = "down pipe"
points = [[1000, 400, -300], [2500, 400, -300]]
diameter = 50
heat_gap = 40
[[chassis]]
name = "fuel line"
from = [900, 500, -280]
to = [3000, 500, -280]
radius = 4
[[chassis]]
name = "firewall"
on = [900, 0, 0]
facing = "front"
opening = [[900, -200, -220], [900, 200, 190]]
[[chassis]]
name = "floor"
on = [0, 0, 150]
facing = "down"
opening = [[-500, -300, 150], [1900, 300, 150]]
[rails.left]
points = [[-500, -420, 0], [2000, -424, 6]]
[rails.right]
points = [[-500, 420, 0], [2000, 420, 4]]
[tool.tape]
accuracy = "0.5 mm"
repeat = "0.5 mm"
[point.column]
from = "rails.left.top"
station = "900 mm"
offset = "30 mm right"
height = "430 mm"
with = "tool.tape"
[point.middle]
from = "point.column"
station = "-440 mm ± 1"
offset = "20 mm left"
height = "-220 mm ± 1"
[point.bearing]
from = "point.middle"
station = "90 mm"
offset = "4 mm ± 1 right"
height = "44 mm"
with = "tool.tape"
[steering]
column = "point.column"
column_axis = [-0.9, 0, -0.36]
input = [90, -400, -60]
input_axis = [-0.8, -0.1, -0.7]
straight_ahead = "10 deg"
shorten = 40
[[steering.joint]]
[[steering.joint]]
at = "point.middle"
[[steering.joint]]
[[steering.shaft]]
diameter = 19
yoke_offset = "4 deg"
teeth = 36
[[steering.shaft]]
diameter = 25
phase = "in phase"
slip_closed = 400
slip_open = 520
[[steering.bearing]]
at = "point.bearing"
` + FrontAxle + AxleTube
