package example

// SubframeMounts is a front subframe that is to hang level and square under its rails on
// four legs, the right made after the left, and the front wheels of Pickups that it
// carries, with a steering shaft over its beam. Nothing was measured to it yet.
func SubframeMounts() string {
	return subframeOnLegs + frontPickups + frontSide + other(frontSide)
}

const subframeOnLegs = `format = 3
name = "subframe on legs"
[vehicle]
wheelbase = 2800
front_axle = 0
axle_height = -40
tyre_diameter = 680
[rails.left]
points = [[-450, -380, 0], [1500, -380, 0]]
height = 150
width = 60
[rails.right]
points = [[-450, 380, 0], [1500, 380, 0]]
height = 150
width = 60
[[powertrain.part]]
name = "sump"
from = [-200, -150, -150]
to = [300, 150, 0]
` + levelPads + `[point.sub_lf]
[point.sub_rf]
[point.sub_lr]
[point.sub_rr]
[point.sub_wl]
[point.sub_wr]
[subframe.front]
wheels = ["point.sub_wl", "point.sub_wr"]
[[subframe.front.point]]
at = "point.sub_lf"
bench = [50, -300, -80]
corner = true
[[subframe.front.point]]
at = "point.sub_rf"
bench = [50, 300, -80]
corner = true
[[subframe.front.point]]
at = "point.sub_lr"
bench = [600, -300, -80]
corner = true
[[subframe.front.point]]
at = "point.sub_rr"
bench = [600, 300, -80]
corner = true
[[subframe.front.point]]
at = "point.sub_wl"
bench = [300, -760, -40]
[[subframe.front.point]]
at = "point.sub_wr"
bench = [300, 760, -40]
[[subframe.front.part]]
name = "front beam"
from = [0, -280, -300]
to = [100, 280, -220]
[[chassis]]
name = "intermediate shaft"
of = "steering"
from = [-250, -400, -100]
to = [-250, 0, -100]
radius = 10
[mount.sub_left_front]
corner = "point.sub_lf"
[mount.sub_left_front.leg]
section = "SHS 60x60x4 cold"
rail = "left"
[mount.sub_left_front.leg.weld]
size = 4
[mount.sub_right_front]
corner = "point.sub_rf"
[mount.sub_right_front.leg]
match = "sub_left_front"
[mount.sub_left_rear]
corner = "point.sub_lr"
[mount.sub_left_rear.leg]
section = "SHS 60x60x4 cold"
rail = "left"
[mount.sub_left_rear.leg.weld]
size = 4
[mount.sub_right_rear]
corner = "point.sub_rr"
[mount.sub_right_rear.leg]
match = "sub_left_rear"
`
