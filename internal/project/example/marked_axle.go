package example

import "strings"

// MarkedAxle is Marked with marks on the axle too: heights and tapes to them from the rails
// say where it stands, about where it is planned.
func MarkedAxle() string {
	return strings.NewReplacer("at = \"point.pinion\"\n", "at = [2900, 0, -230]\n", "[gauge]\n", axleMarks+"[gauge]\n").Replace(Marked) + axleMeasured
}

const axleMarks = `[[line.rear.pinion.mark]]
at = "point.tube_left"
own = ["250 mm ± 0.5", "-480 mm ± 0.5", "45 mm ± 0.5"]
[[line.rear.pinion.mark]]
at = "point.tube_right"
own = ["250 mm ± 0.5", "480 mm ± 0.5", "45 mm ± 0.5"]
[[line.rear.pinion.mark]]
at = "point.cover"
own = ["420 mm ± 0.5", "0 mm ± 0.5", "20 mm ± 0.5"]
`

const axleMeasured = `[point.tube_left]
[point.tube_right]
[point.cover]
[point.rail_lb]
station = "2600 mm ± 0.5"
offset = "420 mm ± 0.5 left"
height = "-30 mm ± 0.5"
[point.rail_rb]
station = "2600 mm ± 0.5"
offset = "420 mm ± 0.5 right"
height = "-30 mm ± 0.5"
[[measure]]
from = "point.rail_lb"
to = "point.tube_left"
with = "tool.tape"
lengths = [581]
[[measure]]
from = "point.rail_lb"
to = "point.tube_left"
as = "height"
with = "tool.tape"
lengths = [-170.5]
[[measure]]
from = "point.rail_rb"
to = "point.tube_left"
with = "tool.tape"
lengths = [1069.5]
[[measure]]
from = "point.rail_lb"
to = "point.tube_right"
with = "tool.tape"
lengths = [1069.5]
[[measure]]
from = "point.rail_lb"
to = "point.tube_right"
as = "height"
with = "tool.tape"
lengths = [-170.5]
[[measure]]
from = "point.rail_rb"
to = "point.tube_right"
with = "tool.tape"
lengths = [581]
[[measure]]
from = "point.rail_lb"
to = "point.cover"
with = "tool.tape"
lengths = [859]
[[measure]]
from = "point.rail_lb"
to = "point.cover"
as = "height"
with = "tool.tape"
lengths = [-205.5]
[[measure]]
from = "point.rail_rb"
to = "point.cover"
with = "tool.tape"
lengths = [859]
`
