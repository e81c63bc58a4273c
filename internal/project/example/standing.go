package example

// Standing is a powertrain on its pads, for simulations: what stands between < and > is
// drawn anew for each build.
const Standing = `format = 3
[powertrain]
output = ["<1395 ± 1 mm>", "<0 ± 1 mm>", "<0 ± 1 mm>"]
[[powertrain.part]]
name = "gearbox"
from = [560, -150, "<-160 ± 2 mm>"]
to = ["<1320 ± 2 mm>", 150, 150]
[powertrain.pads]
left_front = ["<0 ± 1 mm>", -250, "<-60 ± 1 mm>"]
right_front = [0, 250, "<-60 ± 1 mm>"]
rear = ["<1250 ± 1 mm>", 0, "<-110 ± 1 mm>"]
[placement]
left_front = "<52 ± 1 mm>"
right_front = "<52 ± 1 mm>"
rear = "<-95.9 ± 1 mm>"
setback = "<140 ± 1.5 mm>"
`
