package assess

import (
	"fmt"
	"math/rand/v2"
	"os"
	"regexp"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project/example"

	"gonum.org/v1/gonum/spatial/r3"
)

// standing is a powertrain on its pads, each of its places with a ±.
const standing = example.Standing

// onLeaves is a line to an axle on leaf springs.
const onLeaves = standing + `
[[chassis]]
name = "crossmember"
from = [3200, -380, "<10 ± 2 mm>"]
to = [3320, 380, 60]
[[chassis]]
name = "tank"
from = ["<2100 ± 3 mm>", "<60 ± 3 mm>", -100]
to = [2700, 300, "<40 ± 3 mm>"]
[line.rear]
[line.rear.pinion]
at = ["<3010 ± 1.5 mm>", "<0 ± 1.5 mm>", "<-52 ± 1.5 mm>"]
slope = "<4.8 ± 0.15 deg> down to the rear"
[[line.rear.shaft]]
phase = "in phase"
outside = "<76 ± 0.5 mm>"
slip_closed = "<1420 ± 1 mm>"
slip_open = "<1520 ± 1 mm>"
[line.rear.suspension]
kind = "leaf"
bump = "<80 ± 2 mm>"
droop = "<100 ± 2 mm>"
axle = ["<3300 ± 1 mm>", 0, "<-90 ± 1 mm>"]
fixed_eye = ["<2740 ± 1.5 mm>", 500, "<-125 ± 1.5 mm>"]
seat = ["<3300 ± 1 mm>", 500, "<-165 ± 1 mm>"]
shackle_eye = ["<3930 ± 2 mm>", 500, "<-120 ± 2 mm>"]
shackle_pivot = ["<3905 ± 2 mm>", 500, "<-15 ± 2 mm>"]
clamped = "<120 ± 5 mm>"
leaves = "many"
wind_up = "<3 ± 0.2 deg>"
[[line.rear.suspension.part]]
name = "axle tube"
from = [3300, -600, "<-90 ± 2 mm>"]
to = [3300, 600, "<-90 ± 2 mm>"]
radius = "<38 ± 0.5 mm>"
`

// onLinks is a line to an axle on four links.
const onLinks = standing + `
[line.rear]
[line.rear.pinion]
at = ["<2800 ± 1.5 mm>", 0, "<-60 ± 1.5 mm>"]
slope = "<4 ± 0.15 deg> down to the rear"
[[line.rear.shaft]]
phase = "in phase"
slip_closed = "<1210 ± 1 mm>"
slip_open = "<1310 ± 1 mm>"
[line.rear.suspension]
kind = "links"
bump = "<80 ± 2 mm>"
droop = "<100 ± 2 mm>"
axle = ["<3050 ± 1 mm>", 0, "<-75 ± 1 mm>"]
[[line.rear.suspension.link]]
name = "upper left"
chassis = ["<2550 ± 1.5 mm>", -450, "<60 ± 1.5 mm>"]
axle = [3030, -120, "<70 ± 1.5 mm>"]
[[line.rear.suspension.link]]
name = "upper right"
chassis = ["<2550 ± 1.5 mm>", 450, "<60 ± 1.5 mm>"]
axle = [3030, 120, "<70 ± 1.5 mm>"]
[[line.rear.suspension.link]]
name = "lower left"
chassis = ["<2400 ± 1.5 mm>", -400, "<-100 ± 1.5 mm>"]
axle = [3050, -450, -120]
[[line.rear.suspension.link]]
name = "lower right"
chassis = ["<2400 ± 1.5 mm>", 400, "<-100 ± 1.5 mm>"]
axle = [3050, 450, -120]
`

// onArms is a powertrain on rubber over a driven front axle on trailing arms.
const onArms = `format = 3
[powertrain]
mass = "<300 ± 6 kg>"
centre_of_mass = ["<400 ± 5 mm>", "<0 ± 5 mm>", "<100 ± 5 mm>"]
torque = "<300 ± 6 N m>"
gears = [4, 2, 1]
reverse = 3.5
[powertrain.pads]
left_front = [0, -300, "<0 ± 0.7 mm>"]
right_front = [0, 300, "<0 ± 0.7 mm>"]
rear = [1200, 0, "<0 ± 0.7 mm>"]
[[powertrain.part]]
name = "sump"
from = [-100, -150, "<-220 ± 2 mm>"]
to = [300, 150, -50]
[[powertrain.part]]
name = "transfer case"
from = [900, "<100 ± 2 mm>", "<-150 ± 2 mm>"]
to = [1100, 300, 50]
[placement]
left_front = "<0 ± 1 mm>"
right_front = "<0 ± 1 mm>"
rear = "<0 ± 1 mm>"
setback = "<0 ± 1 mm>"
offset = "0 mm"
[mount.left_front]
rate_up = "<300 ± 20 N/mm>"
rate_across = "<150 ± 10 N/mm>"
rate_along = 140
holds = "captive"
[mount.right_front]
rate_up = "<300 ± 20 N/mm>"
rate_across = "<150 ± 10 N/mm>"
rate_along = 140
holds = "captive"
[mount.rear]
rate_up = "<250 ± 20 N/mm>"
rate_across = 120
rate_along = 110
holds = "captive"
[line.front]
toward = "front"
output = [1000, 250, "<-60 ± 1 mm>"]
[line.front.pinion]
at = ["<200 ± 1.5 mm>", 250, "<-230 ± 1.5 mm>"]
slope = "<3 ± 0.15 deg> down to the rear"
[[line.front.shaft]]
outside = "<60 ± 0.5 mm>"
slip_closed = "<750 ± 1 mm>"
slip_open = "<900 ± 1 mm>"
[line.front.suspension]
kind = "trailing arms"
bump = "<90 ± 2 mm>"
droop = "<110 ± 2 mm>"
axle = ["<50 ± 1.5 mm>", 0, "<-300 ± 1.5 mm>"]
[[line.front.suspension.pivot]]
name = "left"
at = ["<900 ± 2 mm>", -400, "<-250 ± 2 mm>"]
[[line.front.suspension.pivot]]
name = "right"
at = ["<900 ± 2 mm>", 400, "<-250 ± 2 mm>"]
[[line.front.suspension.part]]
name = "tube"
from = [50, -600, "<-310 ± 2 mm>"]
to = [50, 600, "<-310 ± 2 mm>"]
radius = "<40 ± 0.5 mm>"
`

// halfShafts hang on a powertrain that lies across.
const halfShafts = `format = 3
[powertrain]
layout = "transaxle"
[powertrain.pads]
left_front = [0, -350, "<0 ± 1 mm>"]
right_front = [0, 350, "<0 ± 1 mm>"]
rear = [400, 0, "<-50 ± 1 mm>"]
[placement]
left_front = "<10 ± 1 mm>"
right_front = "<10 ± 1 mm>"
rear = "<-40 ± 1 mm>"
setback = "<-60 ± 1.5 mm>"
offset = "<12 ± 1.5 mm> right"
[line.front]
toward = "front"
[line.front.suspension]
kind = "fixed"
bump = "<70 ± 2 mm>"
droop = "<80 ± 2 mm>"
[[line.front.suspension.half_shaft]]
name = "left"
output = ["<70 ± 1 mm>", "<-130 ± 1 mm>", "<-40 ± 1 mm>"]
outer = ["<25 ± 1.5 mm>", "<-690 ± 1.5 mm>", "<-95 ± 1.5 mm>"]
pivot_a = ["<-120 ± 2 mm>", "<-330 ± 2 mm>", "<-130 ± 2 mm>"]
pivot_b = ["<190 ± 2 mm>", "<-330 ± 2 mm>", "<-130 ± 2 mm>"]
lock = "<34 ± 0.5 deg>"
inner_max = "24 deg"
outer_max = "42 deg"
plunge_closed = "<545 ± 1 mm>"
plunge_open = "<590 ± 1 mm>"
`

// weighing is a powertrain on rubber in place of a lighter one.
const weighing = `format = 3
[vehicle]
wheelbase = "<2800 ± 3 mm>"
front_axle = 0
axle_height = -90
front_load = "<650 ± 10 kg>"
rear_load = "<500 ± 10 kg>"
front_rate = "<35 ± 1 N/mm>"
rear_rate = "<40 ± 1 N/mm>"
[powertrain]
mass = "<300 ± 6 kg>"
centre_of_mass = ["<400 ± 6 mm>", "<30 ± 6 mm>", "<100 ± 6 mm>"]
torque = "<300 ± 8 N m>"
gears = [4, 2, 1]
reverse = 3.5
cylinders = 6
idle = "<700 ± 15 rpm>"
[powertrain.pads]
left_front = [0, "<-300 ± 2 mm>", 0]
right_front = [0, "<300 ± 2 mm>", 0]
rear = ["<1200 ± 2 mm>", 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = "<0 ± 2 mm>"
offset = "0 mm"
[old_powertrain]
name = "four"
mass = "<200 ± 5 kg>"
centre_of_mass = ["<250 ± 6 mm>", 0, 100]
[mount.left_front]
rate_up = "<300 ± 15 N/mm>"
rate_across = "<150 ± 8 N/mm>"
rate_along = "<140 ± 8 N/mm>"
holds = "bonded only"
[mount.right_front]
rate_up = "<300 ± 15 N/mm>"
rate_across = "<150 ± 8 N/mm>"
rate_along = "<140 ± 8 N/mm>"
holds = "bonded only"
[mount.rear]
rate_up = "<250 ± 15 N/mm>"
rate_across = "<120 ± 8 N/mm>"
rate_along = "<110 ± 8 N/mm>"
holds = "bonded only"
`

// tiedDown is the same with a torque link, a roll stop, an adapter plate and what they could
// come near.
const tiedDown = weighing + `
[[powertrain.part]]
name = "block"
from = [-100, -200, 0]
to = [300, 200, "<340 ± 2 mm>"]
[mount.rear.adapter]
bosses = [["<1150 ± 1 mm>", -50, 0], [1250, "<-50 ± 1 mm>", 0], [1250, 50, 0], ["<1150 ± 1 mm>", 50, 0]]
facing = "down"
thickness = "<12 ± 0.2 mm>"
edge = "<22 ± 0.5 mm>"
hole = 11
[mount.rear.adapter.bolts]
thread = "M10"
class = "8.8"
[torque_link.upper]
on = ["<50 ± 1 mm>", 0, "<400 ± 1 mm>"]
to = ["<50 ± 1.5 mm>", "<350 ± 1.5 mm>", 400]
rate = "<300 ± 15 N/mm>"
rating = "9 kN"
diameter = "<20 ± 0.3 mm>"
eye = "<44 ± 0.5 mm>"
[roll_stop.left]
at = [200, -300, "<50 ± 1 mm>"]
play = "<40 ± 1 mm>"
back = "<60 ± 1 mm>"
rate = "<2000 ± 100 N/mm>"
rating = "15 kN"
diameter = "<40 ± 0.5 mm>"
height = "<30 ± 0.5 mm>"
[[chassis]]
name = "brake line"
from = ["<88 ± 2 mm>", 150, 300]
to = ["<88 ± 2 mm>", 150, 700]
radius = "<3 ± 0.2 mm>"
[[chassis]]
name = "box"
from = ["<260 ± 2 mm>", -330, 60]
to = [400, -250, 130]
[[chassis]]
name = "pan"
from = [1100, -100, -90]
to = [1300, 100, "<-60 ± 2 mm>"]
`

// shaking is the same with what a powertrain's swinging on its mounts takes besides: how
// hard it is to turn, how far rubber stiffens when it shakes, and how fast it turns.
func shaking() string {
	return strings.NewReplacer("[powertrain.pads]", "cruise = \"<2100 ± 30 rpm>\"\n[powertrain.inertia]\nroll = \"<14 ± 0.4 kg m2>\"\npitch = \"<41 ± 1 kg m2>\"\nyaw = \"<38 ± 1 kg m2>\"\n[powertrain.pads]",
		"holds = ", "dynamic = \"<1.4 ± 0.05>\"\nholds = ").Replace(weighing)
}

// swings are how fast the powertrain swings on its mounts.
func swings(a *Assessment) map[string]Number {
	out := map[string]Number{}
	if a.Shaking != nil {
		for i := range a.Shaking.Modes {
			out[fmt.Sprintf("frequency %d of the powertrain on its mounts", i+1)] = a.Shaking.Modes[i].Frequency
		}
	}
	return out
}

// onLegs is a leg from the left front pad to its rail, and one made after it.
func onLegs() string {
	text := example.Legs("mass = \"<300 ± 6 kg>\"\ncentre_of_mass = [\"<400 ± 6 mm>\", \"<0 ± 6 mm>\", 0]\ntorque = \"<300 ± 8 N m>\"\ngears = [4, 2, 1]\nreverse = 3.5",
		`weld = { size = "<4 ± 0.2 mm>", runs = "all round" }
[mount.left_front.leg.pad_plate]
thickness = "<8 ± 0.2 mm>"
width = "<90 ± 1 mm>"
height = "<90 ± 1 mm>"
across = 1
high = 1
hole = "<13 ± 0.2 mm>"
[mount.left_front.leg.rail_plate]
thickness = "<10 ± 0.2 mm>"
width = "<140 ± 1 mm>"
height = "<130 ± 1 mm>"
across = 2
high = 2
pitch_across = "<105 ± 0.5 mm>"
pitch_high = "<70 ± 0.5 mm>"
hole = "<13 ± 0.2 mm>"
[mount.left_front.leg.bolts]
thread = "M12"
class = "8.8"`, strings.ReplaceAll(example.Stiff, "1e5", `"<90000 ± 3000 N/mm>"`))
	return strings.NewReplacer("format = 1", "format = 3", "[-500, -380, 0]", `[-500, "<-380 ± 1 mm>", "<0 ± 1 mm>"]`, "[2000, -380, 0]", `[2000, "<-380 ± 1 mm>", "<0 ± 1 mm>"]`,
		"left_front = [0, -200, 0]", `left_front = ["<0 ± 1 mm>", "<-200 ± 1 mm>", 0]`, "left_front = -35", `left_front = "<-35 ± 1 mm>"`, "rear = -35", `rear = "<-35 ± 1 mm>"`,
		"setback = 300", `setback = "<300 ± 1.5 mm>"`, "standing = 40", `standing = "<40 ± 1 mm>"`).Replace(text)
}

// tiedOverTravel is a link and a stop beside a shaft that goes up and down with its axle.
func tiedOverTravel() string {
	_, axle, _ := strings.Cut(onLeaves, "[line.rear]\n")
	return strings.NewReplacer(`to = ["<50 ± 1.5 mm>", "<350 ± 1.5 mm>", 400]`, `to = ["<1500 ± 1.5 mm>", "<350 ± 1.5 mm>", "<120 ± 1.5 mm>"]`,
		`on = ["<50 ± 1 mm>", 0, "<400 ± 1 mm>"]`, `on = ["<1500 ± 1 mm>", 60, "<120 ± 1 mm>"]`, `at = [200, -300, "<50 ± 1 mm>"]`, `at = [1600, -120, "<50 ± 1 mm>"]`).Replace(tiedDown) +
		"[line.rear]\noutput = [\"<1300 ± 1 mm>\", 0, 0]\n" + axle
}

// onAdapter is a plate on the block that a front mount's pad stands on.
func onAdapter() string {
	return strings.NewReplacer(`mass = "320 kg"`, `mass = "<320 ± 5 kg>"`, `"390 N m"`, `"<390 ± 8 N m>"`, "thickness = 12", `thickness = "<12 ± 0.2 mm>"`, "edge = 22", `edge = "<22 ± 0.5 mm>"`, "hole = 11", `hole = "<11 ± 0.1 mm>"`,
		"engaged = 22", `engaged = "<22 ± 0.5 mm>"`, "[[-40, -260, 40], [40, -260, 40]", `[["<-40 ± 0.5 mm>", -260, 40], [40, "<-260 ± 0.5 mm>", 40]`, "4e6", `"<60000 ± 2000 N/mm>"`,
		"standing = 40", `standing = "<40 ± 1 mm>"`, "left_front = [0, -220, 40]", `left_front = ["<0 ± 0.5 mm>", "<-220 ± 0.5 mm>", 40]`, "[150, -140, 31]", `["<150 ± 2 mm>", -140, 31]`).Replace(example.Adapted)
}

// ofMembers is a mount that is an arm with a brace under it, beside a block.
func ofMembers() string {
	text, err := os.ReadFile("../../testdata/mounts/arm_with_a_brace.toml")
	if err != nil {
		panic(err)
	}
	return strings.NewReplacer(`"320 kg"`, `"<320 ± 5 kg>"`, "[310, 5, 90]", `["<310 ± 4 mm>", "<5 ± 4 mm>", 90]`, `"390 N m"`, `"<390 ± 8 N m>"`,
		"left_front = [0, -220, 40]", `left_front = ["<0 ± 1 mm>", "<-220 ± 1 mm>", "<40 ± 1 mm>"]`, "[-450, -380, 0], [2600, -380, 0]", `[-450, "<-380 ± 1 mm>", "<0 ± 1 mm>"], [2600, "<-380 ± 1 mm>", "<0 ± 1 mm>"]`,
		"past = 50", `past = "<50 ± 1 mm>"`, "brace_drop = 80", `brace_drop = "<80 ± 1 mm>"`, "brace_along = 95", `brace_along = "<95 ± 1 mm>"`, "standing = 40", `standing = "<40 ± 1 mm>"`,
		"thickness = 10", `thickness = "<10 ± 0.2 mm>"`, "size = 4", `size = "<4 ± 0.2 mm>"`, `"300 N/mm"`, `"<300 ± 15 N/mm>"`).Replace(string(text)) + `
[[powertrain.part]]
name = "block"
from = [-200, "<-110 ± 1.5 mm>", "<-60 ± 1 mm>"]
to = [500, 120, 400]
`
}

// carrying are two rails on four hangers.
const carrying = `format = 3
[vehicle]
front_axle = "<0 ± 2 mm>"
wheelbase = "<3000 ± 3 mm>"
front_track = "<1500 ± 5 mm>"
rear_track = "<1500 ± 5 mm>"
front_rate = "<35 ± 1 N/mm>"
rear_rate = "<40 ± 1 N/mm>"
[rails.left]
points = [[-500, -400, 0], [4000, -400, 0]]
height = 150
width = 60
[[rails.left.length]]
to = "<1800 ± 5 mm>"
section = "channel 150x60x5"
bend = 5
[[rails.left.length]]
section = "channel 150x60x5"
bend = 5
plated = "outside"
plate = "<6 ± 0.2 mm>"
plate_ends = "sloped"
[[rails.left.support]]
name = "a"
at = "<-420 ± 3 mm>"
kind = "hanger"
axle = "front"
[[rails.left.support]]
name = "b"
at = "<460 ± 3 mm>"
kind = "hanger"
axle = "front"
[[rails.left.support]]
name = "c"
at = "<2500 ± 3 mm>"
kind = "hanger"
axle = "rear"
[[rails.left.support]]
name = "d"
at = "<3600 ± 3 mm>"
kind = "hanger"
axle = "rear"
[rails.right]
points = [[-500, 400, 0], [4000, 400, 0]]
height = 150
width = 60
like = "left"
[[rails.load]]
name = "cab"
mass = "<320 ± 10 kg>"
at = "<700 ± 10 mm>"
to = "<1900 ± 10 mm>"
[[rails.load]]
name = "bed"
mass = "<540 ± 15 kg>"
at = "<2000 ± 10 mm>"
to = "<3900 ± 10 mm>"
[[rails.load]]
name = "tank"
mass = "<60 ± 3 kg>"
at = "<2300 ± 10 mm>"
on = "left"
[powertrain]
mass = "<300 ± 6 kg>"
centre_of_mass = ["<400 ± 6 mm>", "<0 ± 6 mm>", 100]
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1200, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = "<300 ± 4 mm>"
` + example.Rubbers

// between is a powertrain with its exhaust between pieces of the vehicle.
const between = standing + `
[[powertrain.exhaust]]
name = "down pipe"
points = [["<200 ± 2 mm>", "<200 ± 2 mm>", 100], [200, "<400 ± 2 mm>", 100], [200, "<400 ± 2 mm>", -300], [700, 400, "<-300 ± 2 mm>"]]
bend = 80
diameter = "<50 ± 0.5 mm>"
[[exhaust]]
name = "tail pipe"
from = "down pipe"
points = [[1000, "<400 ± 3 mm>", "<-300 ± 3 mm>"], [2500, "<400 ± 3 mm>", "<-300 ± 3 mm>"]]
diameter = "<50 ± 0.5 mm>"
[[chassis]]
name = "fuel line"
from = [900, "<470 ± 2 mm>", "<-280 ± 2 mm>"]
to = [3000, "<470 ± 2 mm>", "<-280 ± 2 mm>"]
radius = "<4 ± 0.3 mm>"
[[chassis]]
name = "firewall"
on = ["<900 ± 2 mm>", 0, 0]
facing = "front"
opening = [["<900 ± 1 mm>", "<-200 ± 2 mm>", "<-220 ± 2 mm>"], ["<900 ± 1 mm>", "<200 ± 2 mm>", "<290 ± 2 mm>"]]
[[chassis]]
name = "box"
from = ["<600 ± 2 mm>", -400, "<-400 ± 2 mm>"]
to = ["<700 ± 2 mm>", 400, "<-120 ± 2 mm>"]
[[chassis]]
name = "clip"
at = ["<800 ± 2 mm>", "<-190 ± 2 mm>", "<100 ± 2 mm>"]
`

// steeredBy is a steering shaft of three joints, its places, directions, yokes and slip
// joint typed.
const steeredBy = `format = 3
[rails.left]
points = [[-500, "<-420 ± 1.5 mm>", "<0 ± 1.5 mm>"], [2000, "<-424 ± 1.5 mm>", "<6 ± 1.5 mm>"]]
[point.middle]
from = "rails.left.top"
station = "<540 ± 1.5 mm>"
offset = "<77 ± 1.5 mm> right"
height = "<217 ± 1.5 mm>"
[point.bearing]
from = "point.middle"
station = "<88 ± 1 mm>"
offset = "<7 ± 1 mm> right"
height = "<40 ± 1 mm>"
[steering]
column = ["<980 ± 2 mm>", "<-320 ± 2 mm>", "<440 ± 2 mm>"]
column_axis = ["<-900 ± 8 mm>", "<0 ± 8 mm>", "<-360 ± 8 mm>"]
input = ["<90 ± 2 mm>", "<-330 ± 2 mm>", "<-60 ± 2 mm>"]
input_axis = ["<-800 ± 8 mm>", "<-100 ± 8 mm>", "<-700 ± 8 mm>"]
straight_ahead = "<10 ± 2 deg>"
shorten = 60
[[steering.joint]]
[[steering.joint]]
at = "point.middle"
[[steering.joint]]
[[steering.shaft]]
yoke_offset = "<5 ± 1 deg>"
teeth = 36
[[steering.shaft]]
phase = "in phase"
slip_closed = "<440 ± 1 mm>"
slip_open = "<560 ± 1 mm>"
[[steering.bearing]]
at = "point.bearing"
`

// onPickups are the wheels of a front axle and what holds them: the heights at which that
// stands on its arms, and the lengths of springs and dampers, have a ±.
func onPickups() string {
	return pickupsWith("wheel|ball|upper_ball|lower|stands|arm|link|end", `$1 = [$2, $3, "<$4 ± 0.7 mm>"]`)
}

// onPickupsAllRound has a ± on every coordinate of every point. A build takes seconds, so
// it is drawn on demand alone.
func onPickupsAllRound() string {
	return pickupsWith(`\w+`, `$1 = ["<$2 ± 0.7 mm>", "<$3 ± 0.7 mm>", "<$4 ± 0.7 mm>"]`)
}

func pickupsWith(points, pm string) string {
	text, _, _ := strings.Cut(example.Pickups(), "[pickup.rear]")
	text = regexp.MustCompile(`(?m)^(`+points+`) = \[(-?[\d.]+), (-?[\d.]+), (-?[\d.]+)\]$`).ReplaceAllString(text, pm)
	return regexp.MustCompile(`(?m)^(length|free|solid|closed|open|stop) = ([\d.]+)$`).ReplaceAllString(text, `$1 = "<$2 ± 0.7 mm>"`)
}

// byTool is a line whose places were taped from the rails with a tool that says what it is
// good for, and no ± beside any of them.
func byTool(dice *rand.Rand) writing {
	const form = `format = 3
[tool.tape]
accuracy = "%g mm"
repeat = "%g mm"
[rails.left]
points = ["point.lf", "point.lr"]
[powertrain]
output = [1250, 0, 0]
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = -30
setback = 0
[[powertrain.part]]
name = "sump"
from = [100, -100, -200]
to = [400, 100, -50]
[[chassis]]
name = "crossmember"
from = [0, -400, -320]
to = "point.cross"
[point.lf]
station = "0 mm"
offset = "%.9f mm left"
height = "%.9f mm"
with = "tool.tape"
[point.lr]
from = "point.lf"
station = "3000 mm"
offset = "%.9f mm left"
height = "%.9f mm"
with = "tool.tape"
[point.pinion]
from = "rails.left.top"
station = "%.9f mm"
offset = "%.9f mm right"
height = "%.9f mm"
with = "tool.tape"
[point.cross]
from = "rails.left.top"
station = "%.9f mm"
offset = "%.9f mm right"
height = "%.9f mm"
with = "tool.tape"
[line.rear]
speed = "3000 rpm"
[[line.rear.shaft]]
phase = "in phase"
slip_closed = 1200
slip_open = 1300
[line.rear.pinion]
at = "point.pinion"
slope = "4.5 deg down to the rear"
`
	accuracy, repeat := 0.5+dice.Float64(), 0.5+dice.Float64()
	lengths := []float64{350, 0, 4, 12, 2480 + either(dice, 4), 350, -95 + either(dice, 5), 500, 750, -255 + either(dice, 3)}
	file := func(off func() float64) string {
		args := []any{accuracy, repeat}
		for _, v := range lengths {
			args = append(args, v+off())
		}
		return fmt.Sprintf(form, args...)
	}
	return writing{truth: file(none), read: func(dice *rand.Rand) string {
		return file(func() float64 { return either(dice, accuracy) + either(dice, repeat) })
	}}
}

// bySurveyed is a line to an axle on leaf springs under a crossmember, places of which a
// survey finds by tapes that are off by as much as their tool says.
func bySurveyed(dice *rand.Rand) writing {
	text := strings.NewReplacer(`at = ["<3010 ± 1.5 mm>", "<0 ± 1.5 mm>", "<-52 ± 1.5 mm>"]`, "at = POINT.pinion", `fixed_eye = ["<2740 ± 1.5 mm>", 500, "<-125 ± 1.5 mm>"]`, "fixed_eye = POINT.eye",
		`from = ["<2100 ± 3 mm>", "<60 ± 3 mm>", -100]`, "from = POINT.tank").Replace(onLeaves)
	text = inBrackets.ReplaceAllString(text, "$1$3")
	points := []surveyedPoint{
		{"l1", r3.Vec{X: -450, Y: -380}, true}, {"r1", r3.Vec{X: -450, Y: 380}, true}, {"l3", r3.Vec{X: 4300, Y: -389, Z: 12}, true},
		{"pinion", r3.Vec{X: 3010, Z: -52}, false}, {"eye", r3.Vec{X: 2740, Y: 500, Z: -125}, false}, {"tank", r3.Vec{X: 2100, Y: 60, Z: -100}, false},
	}
	typed := text
	for i := range points {
		if p := &points[i]; !p.held {
			p.at = r3.Add(p.at, r3.Vec{X: either(dice, 3), Y: either(dice, 3), Z: either(dice, 3)})
			typed = strings.Replace(typed, "POINT."+p.name, fmt.Sprintf("[%.9f, %.9f, %.9f]", p.at.X, p.at.Y, p.at.Z), 1)
			text = strings.Replace(text, "POINT."+p.name, `"point.`+p.name+`"`, 1)
		}
	}
	return writing{truth: typed, read: func(dice *rand.Rand) string {
		return text + surveyOf(points, func() float64 { return either(dice, 1) })
	}}
}

// heldUnsurely is a powertrain over rails that a survey finds, held by points of the rails
// whose own heights have a ±.
func heldUnsurely(dice *rand.Rand) writing {
	text := inBrackets.ReplaceAllString(standing, "$1$3") + "[rails.left]\npoints = [POINT.l1, POINT.l2, POINT.l3]\n[rails.right]\npoints = [POINT.r1, POINT.r2, [4300, 381, 10]]\n" +
		"[[chassis]]\nname = \"crossmember\"\nfrom = POINT.cross\nto = [1560, 380, -385]\n" +
		"[line.rear.pinion]\nat = POINT.pinion\nslope = \"4.5 deg down to the rear\"\n[[line.rear.shaft]]\nphase = \"in phase\"\n"
	points := []surveyedPoint{
		{"l1", r3.Vec{X: -450, Y: -380}, true}, {"r1", r3.Vec{X: -450, Y: 380}, true}, {"l3", r3.Vec{X: 4300, Y: -389, Z: 12}, true},
		{"l2", r3.Vec{X: 1500, Y: -380}, false}, {"r2", r3.Vec{X: 1500, Y: 382, Z: -1}, false}, {"cross", r3.Vec{X: 1440, Y: -380, Z: -260}, false}, {"pinion", r3.Vec{X: 3010, Z: -52}, false},
	}
	typed := text
	for i := range points {
		p := &points[i]
		p.at.Z += either(dice, 3)
		typed = strings.Replace(typed, "POINT."+p.name, fmt.Sprintf("[%.9f, %.9f, %.9f]", p.at.X, p.at.Y, p.at.Z), 1)
		text = strings.Replace(text, "POINT."+p.name, `"point.`+p.name+`"`, 1)
	}
	half := 0.5 + dice.Float64()
	return writing{truth: typed, read: func(dice *rand.Rand) string {
		said := surveyOf(points, func() float64 { return either(dice, 1) })
		for _, p := range points {
			if p.held {
				said = strings.Replace(said, fmt.Sprintf("height = %g\n", p.at.Z), fmt.Sprintf("height = \"%.9f mm ± %.9f\"\n", p.at.Z+either(dice, half), half), 1)
			}
		}
		return text + said
	}}
}

// heights are how the powertrain stands: the rows of its placement, and its front pads
// over their rails.
func heights(a *Assessment) map[string]Number {
	out := map[string]Number{}
	for _, r := range a.Rows {
		out[r.Name] = r.Now
	}
	for _, mount := range frontPads() {
		_, over := a.PadOverRail(mount)
		out["height of a pad over its rail"] = over
	}
	return out
}

// overRails is a powertrain over rails that were measured.
const overRails = standing + `
[rails.left]
points = [[-500, -350, "<0 ± 1.5 mm>"], ["<700 ± 5 mm>", -350, "<-60 ± 1.5 mm>"], [3000, -350, -60]]
[rails.right]
points = ["point.rf", "point.rr"]
[point.rf]
station = "<-500 ± 3 mm>"
offset = "350 mm right"
height = "<2 ± 1.5 mm>"
[point.rr]
from = "point.rf"
station = "<2500 ± 3 mm>"
offset = "0 mm"
height = "<-90 ± 1.5 mm>"
`

// plannedKinds are the kinds of builds that are planned with a ±.
func plannedKinds() []*asTyped {
	over := ofMarked("heights over rails", overRails, Everything)
	over.also = heights
	shakes := ofMarked("shaking on the mounts", shaking(), OfLoads|OfRide|OfShake, finding.MountTrade)
	shakes.also = swings
	allRound := ofMarked("pick-ups all round", onPickupsAllRound(), OfPickups, finding.PickupTrade)
	allRound.long = true
	braced := ofMarked("arm with a brace", ofMembers(), OfLegs|OfRoom, finding.BracketTrade, finding.ClearTrade)
	braced.known = 0.9 // at the far end of some ± the brace cannot be cut to the arm
	travelled := ofMarked("links and stops over the travel", tiedOverTravel(), OfMoving, finding.ClearTrade)
	adapter := ofMarked("adapter plate", onAdapter(), OfLegs|OfRoom, finding.BracketTrade, finding.ClearTrade)
	travelled.long, adapter.long = true, true
	halves := ofMarked("half shafts", halfShafts, OfTravel, finding.TravelTrade)
	halves.typed = []typedLimit{
		{finding.HalfShaftInner("front", "left"), regexp.MustCompile(`inner_max = "([\d.]+)`), 0},
		{finding.HalfShaftOuter("front", "left"), regexp.MustCompile(`outer_max = "([\d.]+)`), 0},
		{finding.HalfShaftIn("front", "left"), regexp.MustCompile(`plunge_closed = "([\d.]+)`), 1},
	}
	steered := ofMarked("steering", steeredBy, OfSteering, finding.SteerTrade)
	steered.typed = []typedLimit{{finding.SteeringShorten, regexp.MustCompile(`shorten = ([\d.]+)`), 0}}
	leg := ofMarked("leg", onLegs(), OfLegs, finding.BracketTrade)
	leg.typed = []typedLimit{{finding.PlateEdge("left_front", "rail"), regexp.MustCompile(`pitch_across = "([\d.]+)`), 2}}
	return []*asTyped{
		ofMarked("axle on leaf springs", onLeaves, OfMoving, finding.TravelTrade, finding.ClearTrade, finding.LineTrade),
		ofMarked("axle on links", onLinks, OfTravel, finding.TravelTrade),
		ofMarked("axle on arms under rubber", onArms, OfMoving, finding.TravelTrade, finding.ClearTrade, finding.LineTrade),
		halves,
		ofMarked("mounts", weighing, OfLoads|OfRide, finding.MountTrade),
		shakes,
		leg,
		braced,
		ofMarked("rails", carrying, OfRails, finding.RailTrade),
		ofMarked("room and exhaust", between, OfRoom, finding.ClearTrade),
		ofMarked("links and stops", tiedDown, OfRoom|OfLoads, finding.ClearTrade),
		steered,
		ofMarked("pick-ups", onPickups(), OfPickups, finding.PickupTrade),
		allRound,
		over,
		travelled,
		adapter,
		ofDrawn(&asTyped{name: "taped from the rails", draw: byTool, asked: OfRoom | OfLines, by: []finding.Trade{finding.LineTrade, finding.ClearTrade}}),
		ofDrawn(&asTyped{name: "held by points with a ±", draw: heldUnsurely, asked: Everything, known: 0.95, by: []finding.Trade{finding.ClearTrade, finding.LineTrade}, also: heights}),
		ofDrawn(&asTyped{name: "gauge, tape and marks in one fit", draw: byMarks(), asked: OfLines | OfLists, known: 0.9, by: []finding.Trade{finding.LineTrade}, also: slopesRead}),
		ofDrawn(&asTyped{name: "marks without a gauge", draw: byMarks("powertrain", "line.rear.shaft.1"), asked: OfLines | OfLists, known: 0.9, by: []finding.Trade{finding.LineTrade}, also: slopesRead}),
		ofDrawn(&asTyped{name: "an axle with marks in the one fit", draw: byAxle(), asked: OfLines | OfLists, known: 0.9, by: []finding.Trade{finding.LineTrade}, also: placedRead}),
		ofDrawn(&asTyped{name: "a powertrain measured from a subframe", draw: fromSubframe, asked: OfLines | OfLists, also: hangsRead}),
		ofDrawn(&asTyped{name: "an axle by marks without a gauge", draw: byAxle("powertrain", "line.rear.shaft.1", "line.rear.pinion"), asked: OfLines | OfLists, known: 0.9, by: []finding.Trade{finding.LineTrade}, also: placedRead}),
		ofDrawn(&asTyped{name: "places by a survey", draw: bySurveyed, asked: OfMoving, by: []finding.Trade{finding.TravelTrade, finding.ClearTrade, finding.LineTrade}}),
	}
}
