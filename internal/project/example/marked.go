package example

// Marked is a powertrain with marks that tape and level reach where it hangs: heights and
// tapes to them check what the gauge showed of it and of the shaft behind it.
const Marked = `format = 3
[powertrain]
name = "straight six"
output = [1400, 0, 0]
redline = "4000 rpm"
gears = [3.5, 2, 1]
[powertrain.pads]
left_front = [0, -250, -50]
right_front = [0, 250, -50]
rear = [1200, 0, -100]
[[powertrain.mark]]
at = "point.pulley"
own = [-150, 0, 0]
[[powertrain.mark]]
at = "point.flange"
own = [1400, 0, 0]
[[powertrain.mark]]
at = "point.head_left"
own = [300, -180, 380]
[[powertrain.mark]]
at = "point.head_right"
own = [300, 180, 380]
[placement]
left_front = -50
right_front = -50
rear = -184
setback = 250
[line.rear.pinion]
at = "point.pinion"
slope = "3.5 deg down to the rear"
[gauge]
accuracy = "0.1 deg"
[tool.tape]
accuracy = "0.5 mm"
[point.pulley]
[point.flange]
[point.head_left]
[point.head_right]
[point.rail_l]
station = "600 mm ± 0.5"
offset = "400 mm ± 0.5 left"
height = "-20 mm ± 0.5"
[point.rail_r]
station = "600 mm ± 0.5"
offset = "400 mm ± 0.5 right"
height = "-20 mm ± 0.5"
[point.pinion]
station = "2900 mm ± 1"
offset = "0 mm ± 1 right"
height = "-230 mm ± 1"
[[reading]]
of = "powertrain"
on = "square face"
shown = "86 deg"
lower = "rear"
[[reading]]
of = "line.rear.shaft.1"
on = "along"
shown = "6 deg"
lower = "rear"
[[reading]]
of = "line.rear.pinion"
on = "square face"
shown = "86.5 deg"
lower = "rear"
[[measure]]
from = "point.rail_l"
to = "point.pulley"
as = "height"
with = "tool.tape"
lengths = [30.5]
[[measure]]
from = "point.rail_l"
to = "point.flange"
as = "height"
with = "tool.tape"
lengths = [-78.5]
[[measure]]
from = "point.rail_l"
to = "point.head_left"
as = "height"
with = "tool.tape"
lengths = [378]
[[measure]]
from = "point.rail_l"
to = "point.head_right"
as = "height"
with = "tool.tape"
lengths = [378]
[[measure]]
from = "point.rail_l"
to = "point.flange"
with = "tool.tape"
lengths = [1126.5]
[[measure]]
from = "point.rail_r"
to = "point.flange"
with = "tool.tape"
lengths = [1126.5]
[[measure]]
from = "point.rail_l"
to = "point.pulley"
with = "tool.tape"
lengths = [638]
[[measure]]
from = "point.rail_r"
to = "point.pulley"
with = "tool.tape"
lengths = [638]
`
