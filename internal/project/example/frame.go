package example

// Frame is the survey of a frame that was widened at the rear by unequal amounts,
// 56 mm on the left and 44 on the right, whose right rail stands 4 mm behind the
// left one, and one of whose tapes was misread by a centimetre: from the first
// point on the left to the third on the right. Its axles stand square.
const Frame = `format = 3
[tool.tape]
accuracy = "0.3 mm"
per_metre = "0.1 mm"
repeat = "0.7 mm"
source = "the tape's class; ten trials"

[point.l1]

[point.r1]

[point.l2]

[point.r2]

[point.l3]

[point.r3]

[point.l4]

[point.r4]

[point.fl]

[point.fr]

[point.rl]

[point.rr]

[survey]
datum = "centre line"
left = ["point.l1", "point.l2", "point.l3", "point.l4"]
right = ["point.r1", "point.r2", "point.r3", "point.r4"]
front_axle = ["point.fl", "point.fr"]
rear_axle = ["point.rl", "point.rr"]
widths = [800, 800, 900, 900]

[[measure]]
from = "point.l1"
to = "point.r1"
with = "tool.tape"
lengths = [800, 800]
after = "hung"

[[measure]]
from = "point.l2"
to = "point.r2"
with = "tool.tape"
lengths = [800, 800]
after = "hung"

[[measure]]
from = "point.l3"
to = "point.r3"
with = "tool.tape"
lengths = [900.5, 900]
after = "hung"

[[measure]]
from = "point.l4"
to = "point.r4"
with = "tool.tape"
lengths = [900.5, 899.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.l2"
with = "tool.tape"
lengths = [1000, 1000]
after = "hung"

[[measure]]
from = "point.r1"
to = "point.r2"
with = "tool.tape"
lengths = [1000, 1000]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.r2"
with = "tool.tape"
lengths = [1284, 1284]
after = "hung"

[[measure]]
from = "point.r1"
to = "point.l2"
with = "tool.tape"
lengths = [1277.5, 1278]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.l3"
with = "tool.tape"
lengths = [2001.5, 2000.5]
after = "hung"

[[measure]]
from = "point.r1"
to = "point.r3"
with = "tool.tape"
lengths = [2001, 2000.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.r3"
with = "tool.tape"
lengths = [2184.5, 2185]
after = "hung"

[[measure]]
from = "point.r1"
to = "point.l3"
with = "tool.tape"
lengths = [2172, 2171.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.l4"
with = "tool.tape"
lengths = [3001, 3000.5]
after = "hung"

[[measure]]
from = "point.r1"
to = "point.r4"
with = "tool.tape"
lengths = [3000.5, 3000.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.r4"
with = "tool.tape"
lengths = [3120.5, 3120.5]
after = "hung"

[[measure]]
from = "point.r1"
to = "point.l4"
with = "tool.tape"
lengths = [3116, 3116]
after = "hung"

[[measure]]
from = "point.l2"
to = "point.l3"
with = "tool.tape"
lengths = [1002.5, 1001.5]
after = "hung"

[[measure]]
from = "point.r2"
to = "point.r3"
with = "tool.tape"
lengths = [1001, 1001.5]
after = "hung"

[[measure]]
from = "point.l2"
to = "point.r3"
with = "tool.tape"
lengths = [1312.5, 1311.5]
after = "hung"

[[measure]]
from = "point.r2"
to = "point.l3"
with = "tool.tape"
lengths = [1314, 1313]
after = "hung"

[[measure]]
from = "point.l2"
to = "point.l4"
with = "tool.tape"
lengths = [2000.5, 2001]
after = "hung"

[[measure]]
from = "point.r2"
to = "point.r4"
with = "tool.tape"
lengths = [2000.5, 2000.5]
after = "hung"

[[measure]]
from = "point.l2"
to = "point.r4"
with = "tool.tape"
lengths = [2175, 2175]
after = "hung"

[[measure]]
from = "point.r2"
to = "point.l4"
with = "tool.tape"
lengths = [2172, 2172]
after = "hung"

[[measure]]
from = "point.l3"
to = "point.l4"
with = "tool.tape"
lengths = [1000.5, 1000]
after = "hung"

[[measure]]
from = "point.r3"
to = "point.r4"
with = "tool.tape"
lengths = [1000, 1000.5]
after = "hung"

[[measure]]
from = "point.l3"
to = "point.r4"
with = "tool.tape"
lengths = [1348, 1348.5]
after = "hung"

[[measure]]
from = "point.r3"
to = "point.l4"
with = "tool.tape"
lengths = [1342.5, 1342.5]
after = "hung"

[[measure]]
from = "point.fl"
to = "point.l1"
with = "tool.tape"
lengths = [464, 464.5]
after = "hung"

[[measure]]
from = "point.fl"
to = "point.r1"
with = "tool.tape"
lengths = [1182, 1182]
after = "hung"

[[measure]]
from = "point.fl"
to = "point.l3"
with = "tool.tape"
lengths = [1729, 1729.5]
after = "hung"

[[measure]]
from = "point.fl"
to = "point.r3"
with = "tool.tape"
lengths = [2079.5, 2080]
after = "hung"

[[measure]]
from = "point.fr"
to = "point.l1"
with = "tool.tape"
lengths = [1183, 1183]
after = "hung"

[[measure]]
from = "point.fr"
to = "point.r1"
with = "tool.tape"
lengths = [462, 462]
after = "hung"

[[measure]]
from = "point.fr"
to = "point.l3"
with = "tool.tape"
lengths = [2083.5, 2083]
after = "hung"

[[measure]]
from = "point.fr"
to = "point.r3"
with = "tool.tape"
lengths = [1735, 1735.5]
after = "hung"

[[measure]]
from = "point.rl"
to = "point.l2"
with = "tool.tape"
lengths = [1737, 1737.5]
after = "hung"

[[measure]]
from = "point.rl"
to = "point.r2"
with = "tool.tape"
lengths = [2047, 2046.5]
after = "hung"

[[measure]]
from = "point.rl"
to = "point.l4"
with = "tool.tape"
lengths = [436, 435]
after = "hung"

[[measure]]
from = "point.rl"
to = "point.r4"
with = "tool.tape"
lengths = [1230, 1229.5]
after = "hung"

[[measure]]
from = "point.rr"
to = "point.l2"
with = "tool.tape"
lengths = [2050, 2049.5]
after = "hung"

[[measure]]
from = "point.rr"
to = "point.r2"
with = "tool.tape"
lengths = [1733.5, 1733]
after = "hung"

[[measure]]
from = "point.rr"
to = "point.l4"
with = "tool.tape"
lengths = [1240, 1241]
after = "hung"

[[measure]]
from = "point.rr"
to = "point.r4"
with = "tool.tape"
lengths = [445.5, 445.5]
after = "hung"

[[measure]]
from = "point.fl"
to = "point.fr"
with = "tool.tape"
lengths = [1480, 1480]
after = "hung"

[[measure]]
from = "point.rl"
to = "point.rr"
with = "tool.tape"
lengths = [1480, 1480]
after = "hung"

[[measure]]
from = "point.fl"
to = "point.rl"
with = "tool.tape"
lengths = [2399.5, 2400.5]
after = "hung"

[[measure]]
from = "point.fr"
to = "point.rr"
with = "tool.tape"
lengths = [2400, 2400]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.r1"
as = "height"
with = "tape"
lengths = [0.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.l2"
as = "height"
with = "tape"
lengths = [12]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.r2"
as = "height"
with = "tape"
lengths = [12]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.l3"
as = "height"
with = "tape"
lengths = [39.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.r3"
as = "height"
with = "tape"
lengths = [40.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.l4"
as = "height"
with = "tape"
lengths = [42]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.r4"
as = "height"
with = "tape"
lengths = [42.5]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.fl"
as = "height"
with = "tape"
lengths = [-100]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.fr"
as = "height"
with = "tape"
lengths = [-100]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.rl"
as = "height"
with = "tape"
lengths = [-95]
after = "hung"

[[measure]]
from = "point.l1"
to = "point.rr"
as = "height"
with = "tape"
lengths = [-95]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.l1"
as = "height"
with = "tape"
lengths = [-42]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.r1"
as = "height"
with = "tape"
lengths = [-41.5]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.l2"
as = "height"
with = "tape"
lengths = [-30]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.r2"
as = "height"
with = "tape"
lengths = [-29.5]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.l3"
as = "height"
with = "tape"
lengths = [-2]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.r3"
as = "height"
with = "tape"
lengths = [-1.5]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.l4"
as = "height"
with = "tape"
lengths = [1]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.fl"
as = "height"
with = "tape"
lengths = [-141.5]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.fr"
as = "height"
with = "tape"
lengths = [-141.5]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.rl"
as = "height"
with = "tape"
lengths = [-137]
after = "hung"

[[measure]]
from = "point.r4"
to = "point.rr"
as = "height"
with = "tape"
lengths = [-137.5]
after = "hung"
`

// axled is a survey of two axles and the rails between them.
const axled = `format = 3
[point.fl]
[point.fr]
[point.l1]
[point.r1]
[point.l2]
[point.r2]
[point.rl]
[point.rr]
[survey]
left = ["point.l1", "point.l2"]
right = ["point.r1", "point.r2"]
rear_axle = ["point.rl", "point.rr"]
[[measure]]
from = "point.fl"
to = "point.fr"
with = "tape"
lengths = [1500.0]
after = "welded"
[[measure]]
from = "point.fl"
to = "point.l1"
with = "tape"
lengths = [461.0]
after = "welded"
[[measure]]
from = "point.fr"
to = "point.l1"
with = "tape"
lengths = [1188.5]
after = "welded"
[[measure]]
from = "point.fl"
to = "point.r1"
with = "tape"
lengths = [1188.5]
after = "welded"
[[measure]]
from = "point.fr"
to = "point.r1"
with = "tape"
lengths = [461.0]
after = "welded"
[[measure]]
from = "point.l1"
to = "point.r1"
with = "tape"
lengths = [800.0]
after = "welded"
[[measure]]
from = "point.fl"
to = "point.l2"
with = "tape"
lengths = [2623.5]
after = "welded"
[[measure]]
from = "point.fr"
to = "point.l2"
with = "tape"
lengths = [2843.0]
after = "welded"
[[measure]]
from = "point.l1"
to = "point.l2"
with = "tape"
lengths = [2300.0]
after = "welded"
[[measure]]
from = "point.r1"
to = "point.l2"
with = "tape"
lengths = [2435.2]
after = "welded"
[[measure]]
from = "point.fl"
to = "point.r2"
with = "tape"
lengths = [2843.0]
after = "welded"
[[measure]]
from = "point.fr"
to = "point.r2"
with = "tape"
lengths = [2623.5]
after = "welded"
[[measure]]
from = "point.l1"
to = "point.r2"
with = "tape"
lengths = [2435.2]
after = "welded"
[[measure]]
from = "point.r1"
to = "point.r2"
with = "tape"
lengths = [2300.0]
after = "welded"
[[measure]]
from = "point.l2"
to = "point.r2"
with = "tape"
lengths = [800.0]
after = "welded"
[[measure]]
from = "point.fl"
to = "point.rl"
with = "tape"
lengths = [2800.0]
after = "welded"
[[measure]]
from = "point.fr"
to = "point.rl"
with = "tape"
lengths = [3176.5]
after = "welded"
[[measure]]
from = "point.l1"
to = "point.rl"
with = "tape"
lengths = [2524.4]
after = "welded"
[[measure]]
from = "point.r1"
to = "point.rl"
with = "tape"
lengths = [2751.8]
after = "welded"
[[measure]]
from = "point.l2"
to = "point.rl"
with = "tape"
lengths = [403.1]
after = "welded"
[[measure]]
from = "point.r2"
to = "point.rl"
with = "tape"
lengths = [1167.3]
after = "welded"
[[measure]]
from = "point.fl"
to = "point.rr"
with = "tape"
lengths = [3181.8]
after = "welded"
[[measure]]
from = "point.fr"
to = "point.rr"
with = "tape"
lengths = [2806.0]
after = "welded"
[[measure]]
from = "point.l1"
to = "point.rr"
with = "tape"
lengths = [2757.3]
after = "welded"
[[measure]]
from = "point.r1"
to = "point.rr"
with = "tape"
lengths = [2530.3]
after = "welded"
[[measure]]
from = "point.l2"
to = "point.rr"
with = "tape"
lengths = [1168.3]
after = "welded"
[[measure]]
from = "point.r2"
to = "point.rr"
with = "tape"
lengths = [406.1]
after = "welded"
[[measure]]
from = "point.rl"
to = "point.rr"
with = "tape"
lengths = [1500.0]
after = "welded"
`
