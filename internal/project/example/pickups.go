package example

import "strings"

// Pickups is a build of which only the pick-ups are given, invented: front wheels on
// arms with coil-overs, tension rods and an anti-roll bar, a rear axle on four links and
// a lateral rod with coil springs. The right is the left's mirror image.
func Pickups() string {
	return "format = 3\nname = \"pick-ups\"\n[vehicle]\ntyre_diameter = 680\n" + frontPickups + frontSide + other(frontSide) + rearPickups + rearSide + other(rearSide) + lateralRod
}

// other is the text of the left side as it is on the right.
func other(left string) string {
	s := strings.ReplaceAll(strings.ReplaceAll(left, ".left", ".right"), ", -", ", @")
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		// The offset is the second number of a point: only it changes its sign.
		if at := strings.Index(l, ", @"); at >= 0 {
			lines[i] = l[:at] + ", " + strings.ReplaceAll(l[at+3:], "@", "-")
		}
	}
	return strings.Join(lines, "\n")
}

const frontPickups = `[pickup.front]
carried = "arms"
bump = 70
droop = 80
caster = "5 deg"
[pickup.front.bar]
diameter = 22
[pickup.front.bar.left]
bush = [-200, -330, -40]
arm = [20, -560, -40]
link = [20, -565, -115]
[pickup.front.bar.right]
bush = [-200, 330, -40]
arm = [20, 560, -40]
link = [20, 565, -115]
`

const frontSide = `[pickup.front.left]
wheel = [0, -760, -40]
load = "380 kg"
pivot_a = [-8, -385, -88]
pivot_b = [470, -450, -76]
ball = [-6, -700, -130]
upper_pivot_a = [-60, -470, 120]
upper_pivot_b = [140, -474, 112]
upper_ball = [16, -668, 112]
tie_inner = [-150, -400, -70]
tie_outer = [-140, -690, -92]
[pickup.front.left.spring]
kind = "coil-over"
lower = [0, -590, -100]
length = 400
lean_in = "15 deg"
coil = 242
free = 340
rate = "60 N/mm"
solid = 130
diameter = 95
[pickup.front.left.damper]
closed = 330
open = 480
stop = 372
[pickup.front.left.tower]
foot = [0, -440, 0]
stack = 30
diameter = 70
stands = [0.5, -479, 315]
[[pickup.front.left.rod]]
name = "tension rod"
chassis = [470, -450, -76]
end = [20, -650, -124]
diameter = 30
`

const rearPickups = `[pickup.rear]
carried = "axle"
bump = 80
droop = 90
`

const rearSide = `[pickup.rear.left]
wheel = [2800, -740, -40]
load = "300 kg"
[pickup.rear.left.spring]
kind = "coil"
lower = [2800, -480, 20]
upper = [2800, -470, 270]
free = 348
rate = "30 N/mm"
solid = 120
diameter = 110
[pickup.rear.left.damper]
lower = [2880, -520, -60]
upper = [2890, -500, 300]
closed = 250
open = 470
stop = 300
diameter = 50
[[pickup.rear.left.rod]]
name = "lower link"
chassis = [2200, -420, -80]
end = [2780, -440, -110]
diameter = 36
give = 3
[[pickup.rear.left.rod]]
name = "upper link"
chassis = [2350, -400, 60]
end = [2790, -420, 70]
diameter = 30
max_angle = "25 deg"
give = 3
`

const lateralRod = `[[pickup.rear.left.rod]]
name = "lateral rod"
alone = true
chassis = [2860, -430, 0]
end = [2860, 430, -10]
diameter = 28
`
