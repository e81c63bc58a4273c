package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/project/example"

	"gonum.org/v1/gonum/spatial/r3"
)

// byMarks draws a powertrain with marks that hangs somewhere, a shaft behind it to a carrier
// bearing and one to the pinion, all of which gauge, tape and level say something of, each
// off as far as its tool or its ± says. Without a gauge on what is named: that follows from
// the rest.
func byMarks(without ...string) func(dice *rand.Rand) writing {
	return func(dice *rand.Rand) writing {
		is := geom.Orient(geom.Angle(4+either(dice, 1.5))*geom.Deg, geom.Angle(either(dice, 1))*geom.Deg, geom.Angle(either(dice, 1.5))*geom.Deg, r3.Vec{X: 253 + either(dice, 10), Y: either(dice, 8), Z: either(dice, 10)})
		places := map[string]r3.Vec{
			"rail_l": {X: 600, Y: -400, Z: -20}, "rail_r": {X: 600, Y: 400, Z: -20},
			"bearing": {X: 2900, Y: either(dice, 5), Z: -230 + either(dice, 25)}, "pinion": {X: 4100, Z: -330 + either(dice, 20)},
		}
		own := map[string]r3.Vec{"pulley": {X: -150}, "flange": {X: 1400}, "head_left": {X: 300, Y: -180, Z: 380}, "head_right": {X: 300, Y: 180, Z: 380}}
		head, _, _ := strings.Cut(example.Marked, "[point.rail_l]")
		head = strings.Replace(head, "[line.rear.pinion]", "[line.rear]\n[[line.rear.joint]]\n[[line.rear.joint]]\nat = \"point.bearing\"\n[[line.rear.joint]]\n[line.rear.pinion]", 1)
		slope := is.Slope().Degrees()
		falls := func(a, b r3.Vec) float64 {
			d := r3.Sub(b, a)
			return math.Atan2(-d.Z, math.Hypot(d.X, d.Y)) / geom.Deg.Rad()
		}
		pinion := 3.5 + either(dice, 0.5)
		end := is.Point(own["flange"])
		file := func(off func(half float64) float64) string {
			var out strings.Builder
			out.WriteString(head)
			for _, p := range []struct {
				name string
				half float64
			}{{"rail_l", 0.5}, {"rail_r", 0.5}, {"bearing", 2}, {"pinion", 1}} {
				at := places[p.name]
				side := map[bool]string{true: "right", false: "left"}
				y := at.Y + off(p.half)
				fmt.Fprintf(&out, "[point.%s]\nstation = \"%.9f mm ± %g\"\noffset = \"%.9f mm ± %g %s\"\nheight = \"%.9f mm ± %g\"\n", p.name, at.X+off(p.half), p.half, math.Abs(y), p.half, side[y >= 0], at.Z+off(p.half), p.half)
			}
			for _, x := range []struct {
				of string
				is float64
			}{{"powertrain", slope}, {"line.rear.shaft.1", falls(end, places["bearing"])}, {"line.rear.shaft.2", falls(places["bearing"], places["pinion"])}, {"line.rear.pinion", pinion}} {
				shown := x.is + off(0.1)
				if !strings.Contains(strings.Join(without, " "), x.of) {
					fmt.Fprintf(&out, "[[reading]]\nof = %q\non = \"along\"\nshown = \"%.9f deg\"\nlower = %q\n", x.of, math.Abs(shown), map[bool]string{true: "rear", false: "front"}[shown > 0])
				}
			}
			for _, mark := range []string{"pulley", "flange", "head_left", "head_right"} {
				for _, rail := range []string{"rail_l", "rail_r"} {
					d := r3.Sub(is.Point(own[mark]), places[rail])
					fmt.Fprintf(&out, "[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\nwith = \"tool.tape\"\nlengths = [%.9f]\n", rail, mark, r3.Norm(d)+off(0.5))
					if rail == "rail_l" {
						fmt.Fprintf(&out, "[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\nas = \"height\"\nwith = \"tool.tape\"\nlengths = [%.9f]\n", rail, mark, d.Z+off(0.5))
					}
				}
			}
			return out.String()
		}
		return writing{truth: file(func(float64) float64 { return 0 }), read: func(dice *rand.Rand) string {
			return file(func(half float64) float64 { return either(dice, half) })
		}}
	}
}

// slopesRead are the slopes of the axes as all that was measured says them.
func slopesRead(a *Assessment) map[string]Number {
	out := map[string]Number{}
	for _, x := range a.Lines[0].Axes {
		out["slope of "+x.Label] = x.Read
	}
	return out
}
