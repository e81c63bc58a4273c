package example

// Subframe is a front subframe that hangs in a frame 4 mm too far back, 3 mm to the
// right and 2 mm low, turned by 0.3° with its rear to the right, its rear low by 0.4°
// and its right side high by 0.2°, as tape and level have it.
const Subframe = `format = 3
[vehicle]
wheelbase = 3400
front_axle = 0
axle_height = -260

[rails.left]
points = [[-450, -380, 0], [1500, -380, 0]]
height = 150
width = 60

[rails.right]
points = [[-450, 380, 0], [1500, 382, -1]]
height = 150
width = 60

[tool.tape]
accuracy = "0.5 mm"
repeat = "0.5 mm"
source = "ten trials"

[point.rail_lf]
station = "-450 mm ± 0.5"
offset = "380 mm ± 0.5 left"
height = "0 mm ± 0.5"

[point.rail_rf]
station = "-450 mm ± 0.5"
offset = "380 mm ± 0.5 right"
height = "0 mm ± 0.5"

[point.rail_lr]
station = "1500 mm ± 0.5"
offset = "380 mm ± 0.5 left"
height = "0 mm ± 0.5"

[point.rail_rr]
station = "1500 mm ± 0.5"
offset = "382 mm ± 0.5 right"
height = "-1 mm ± 0.5"

[point.sub_lf]

[point.sub_rf]

[point.sub_lr]

[point.sub_rr]

[point.sub_wl]

[point.sub_wr]

[subframe.front]
wheels = ["point.sub_wl", "point.sub_wr"]
slope = "0.4 deg ± 0.1 down to the rear"
across = "0.2 deg ± 0.1"
lower = "left"

[[subframe.front.point]]
at = "point.sub_lf"
bench = ["0 mm ± 0.3", "-390 mm ± 0.3", "0 mm ± 0.3"]
corner = true

[[subframe.front.point]]
at = "point.sub_rf"
bench = ["0 mm ± 0.3", "390 mm ± 0.3", "0 mm ± 0.3"]
corner = true

[[subframe.front.point]]
at = "point.sub_lr"
bench = ["620 mm ± 0.3", "-400 mm ± 0.3", "30 mm ± 0.3"]
corner = true

[[subframe.front.point]]
at = "point.sub_rr"
bench = ["620 mm ± 0.3", "400 mm ± 0.3", "30 mm ± 0.3"]
corner = true

[[subframe.front.point]]
at = "point.sub_wl"
bench = ["300 mm ± 0.3", "-740 mm ± 0.3", "-120 mm ± 0.3"]

[[subframe.front.point]]
at = "point.sub_wr"
bench = ["300 mm ± 0.3", "740 mm ± 0.3", "-120 mm ± 0.3"]

[[subframe.front.part]]
name = "front beam"
from = [-40, -420, -90]
to = [40, 420, -10]
gap = "15 mm"

[[measure]]
from = "point.rail_lf"
to = "point.sub_lf"
with = "tool.tape"
lengths = [211.5]
after = "hung"

[[measure]]
from = "point.rail_lf"
to = "point.sub_lr"
with = "tool.tape"
lengths = [786]
after = "hung"

[[measure]]
from = "point.rail_rf"
to = "point.sub_rf"
with = "tool.tape"
lengths = [206.5]
after = "hung"

[[measure]]
from = "point.rail_rf"
to = "point.sub_rr"
with = "tool.tape"
lengths = [781.5]
after = "hung"

[[measure]]
from = "point.rail_lr"
to = "point.sub_lf"
with = "tool.tape"
lengths = [1799]
after = "hung"

[[measure]]
from = "point.rail_lr"
to = "point.sub_lr"
with = "tool.tape"
lengths = [1179]
after = "hung"

[[measure]]
from = "point.rail_rr"
to = "point.sub_rf"
with = "tool.tape"
lengths = [1803]
after = "hung"

[[measure]]
from = "point.rail_rr"
to = "point.sub_rr"
with = "tool.tape"
lengths = [1182.5]
after = "hung"

[[measure]]
from = "point.rail_lf"
to = "point.sub_rf"
with = "tool.tape"
lengths = [798]
after = "hung"

[[measure]]
from = "point.rail_rf"
to = "point.sub_lf"
with = "tool.tape"
lengths = [797]
after = "hung"

[[measure]]
from = "point.rail_lf"
to = "point.sub_lf"
as = "height"
with = "tool.tape"
lengths = [-141.5]
after = "hung"

[[measure]]
from = "point.rail_rf"
to = "point.sub_rf"
as = "height"
with = "tool.tape"
lengths = [-138.5]
after = "hung"

[[measure]]
from = "point.rail_lr"
to = "point.sub_lr"
as = "height"
with = "tool.tape"
lengths = [-115.5]
after = "hung"

[[measure]]
from = "point.rail_rr"
to = "point.sub_rr"
as = "height"
with = "tool.tape"
lengths = [-111.5]
after = "hung"
`
