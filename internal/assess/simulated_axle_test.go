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

// axleBuild is a powertrain and an axle behind it, both with marks, as they are: where they
// stand, and places of the rails.
type axleBuild struct {
	is     [2]geom.Pose // powertrain, axle
	places map[string]r3.Vec
}

// axleOwn are the marks on the axle in its own axes: from the joint at its pinion.
var axleOwn = map[string]r3.Vec{"tube_left": {X: 250, Y: -480, Z: 45}, "tube_right": {X: 250, Y: 480, Z: 45}, "cover": {X: 420, Y: 10, Z: 20}, "nose": {X: 60, Z: 70}}

// drawAxle draws one.
func drawAxle(dice *rand.Rand) *axleBuild {
	turned := func(slope, by float64, at r3.Vec) geom.Pose {
		return geom.Orient(geom.Angle(slope+either(dice, by))*geom.Deg, geom.Angle(either(dice, 1))*geom.Deg, geom.Angle(either(dice, 1.5))*geom.Deg,
			r3.Add(at, r3.Vec{X: either(dice, 10), Y: either(dice, 8), Z: either(dice, 10)}))
	}
	return &axleBuild{
		is:     [2]geom.Pose{turned(4, 1.5, r3.Vec{X: 253}), turned(3.5, 1.5, r3.Vec{X: 2900, Z: -230})},
		places: map[string]r3.Vec{"rail_l": {X: 600, Y: -400, Z: -20}, "rail_r": {X: 600, Y: 400, Z: -20}, "rail_lb": {X: 2600, Y: -420, Z: -30}, "rail_rb": {X: 2600, Y: 420, Z: -30}},
	}
}

func (x *axleBuild) at(name string) r3.Vec {
	if own, ok := axleOwn[name]; ok {
		return x.is[1].Point(own)
	}
	if own, ok := ownMarks[name]; ok {
		return x.is[0].Point(own)
	}
	return x.places[name]
}

// shaft is its two ends.
func (x *axleBuild) shaft() (first, last r3.Vec) { return x.at("flange"), x.is[1].At }

// head is the file without what was read and measured, each place off as off says.
func (x *axleBuild) head(off func(half float64) float64) string {
	var out strings.Builder
	head, _, _ := strings.Cut(example.Marked, "[point.rail_l]")
	out.WriteString(strings.Replace(head, "at = \"point.pinion\"", "at = [2900, 0, -230]", 1))
	for _, name := range []string{"tube_left", "tube_right", "cover", "nose"} {
		own := axleOwn[name]
		fmt.Fprintf(&out, "[[line.rear.pinion.mark]]\nat = \"point.%s\"\nown = [\"%.9f mm ± 0.5\", \"%.9f mm ± 0.5\", \"%.9f mm ± 0.5\"]\n[point.%[1]s]\n", name, own.X+off(0.5), own.Y+off(0.5), own.Z+off(0.5))
	}
	for _, name := range []string{"rail_l", "rail_r", "rail_lb", "rail_rb"} {
		at := x.places[name]
		y := at.Y + off(0.5)
		fmt.Fprintf(&out, "[point.%s]\nstation = \"%.9f mm ± 0.5\"\noffset = \"%.9f mm ± 0.5 %s\"\nheight = \"%.9f mm ± 0.5\"\n", name, at.X+off(0.5), math.Abs(y), map[bool]string{true: "right", false: "left"}[y >= 0], at.Z+off(0.5))
	}
	return out.String()
}

// measuredOf is one thing that was read or measured, with what it would show without an error.
type measuredOf struct {
	of, from, to, as string
	is               float64 // degrees or mm
}

// all is all that is read and measured, but for gauge readings of what is named.
func (x *axleBuild) all(without ...string) (out []measuredOf) {
	first, last := x.shaft()
	d := r3.Sub(last, first)
	for _, r := range []measuredOf{
		{of: "powertrain", is: x.is[0].Slope().Degrees()},
		{of: "line.rear.shaft.1", is: math.Atan2(-d.Z, math.Hypot(d.X, d.Y)) / geom.Deg.Rad()},
		{of: "line.rear.pinion", is: x.is[1].Slope().Degrees()},
	} {
		if !strings.Contains(strings.Join(without, " "), r.of) {
			out = append(out, r)
		}
	}
	tapes := func(marks []string, rails ...string) {
		for _, mark := range marks {
			for i, rail := range rails {
				d := r3.Sub(x.at(mark), x.at(rail))
				out = append(out, measuredOf{from: rail, to: mark, is: r3.Norm(d)})
				if i == 0 {
					out = append(out, measuredOf{from: rail, to: mark, as: "height", is: d.Z})
				}
			}
		}
	}
	tapes([]string{"pulley", "flange", "head_left", "head_right"}, "rail_l", "rail_r")
	tapes([]string{"tube_left", "tube_right", "cover", "nose"}, "rail_lb", "rail_rb")
	tapes([]string{"tube_left"}, "rail_l")
	d = r3.Sub(x.at("nose"), x.at("flange"))
	return append(out, measuredOf{from: "flange", to: "nose", is: r3.Norm(d)})
}

// text is it as it is written, with that number.
func (r measuredOf) text(v float64) string {
	if r.of != "" {
		return fmt.Sprintf("[[reading]]\nof = %q\non = \"along\"\nshown = \"%.9f deg\"\nlower = %q\n", r.of, math.Abs(v), map[bool]string{true: "rear", false: "front"}[v > 0])
	}
	as := ""
	if r.as != "" {
		as = fmt.Sprintf("as = %q\n", r.as)
	}
	return fmt.Sprintf("[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\n%swith = \"tool.tape\"\nlengths = [%.9f]\n", r.from, r.to, as, v)
}

// half is what it is good for.
func (r measuredOf) half() float64 {
	if r.of != "" {
		return 0.1
	}
	return 0.5
}

// byAxle draws a powertrain and an axle, of which gauge, tape and level say something, each
// off as far as its tool or its ± says.
func byAxle(without ...string) func(dice *rand.Rand) writing {
	return func(dice *rand.Rand) writing {
		x := drawAxle(dice)
		file := func(off func(half float64) float64) string {
			out := x.head(off)
			for _, r := range x.all(without...) {
				out += r.text(r.is + off(r.half()))
			}
			return out
		}
		return writing{truth: file(func(float64) float64 { return 0 }), read: func(dice *rand.Rand) string {
			return file(func(half float64) float64 { return either(dice, half) })
		}}
	}
}

// placedRead are the axes, the shaft and the axle as all that was measured says them.
func placedRead(a *Assessment) map[string]Number {
	out := slopesRead(a)
	for _, x := range a.Lines[0].Axes {
		out["direction in plan of "+x.Label] = x.Plan
	}
	for _, s := range a.Lines[0].Shafts {
		out["length"] = s.LengthRead
	}
	for _, x := range a.Hung.Axles {
		for _, r := range x.Rows {
			out["axle, "+r.Label] = r.Is
		}
	}
	return out
}

// benchOwn are the points of a subframe on the bench.
var benchOwn = map[string]r3.Vec{"sub_lf": {Y: -390}, "sub_rf": {Y: 390}, "sub_lr": {X: 500, Y: -350, Z: 12}, "sub_rr": {X: 500, Y: 350, Z: 15}}

// fromSubframe draws a subframe that hangs in the rails, and a powertrain with marks that is
// measured from its points and from nothing else.
func fromSubframe(dice *rand.Rand) writing {
	x := drawAxle(dice)
	sub := geom.Orient(geom.Angle(either(dice, 1.5))*geom.Deg, geom.Angle(either(dice, 1))*geom.Deg, geom.Angle(either(dice, 1))*geom.Deg,
		r3.Vec{X: 500 + either(dice, 10), Y: either(dice, 8), Z: -60 + either(dice, 10)})
	at := func(name string) r3.Vec {
		if own, ok := benchOwn[name]; ok {
			return sub.Point(own)
		}
		return x.at(name)
	}
	corners := []string{"sub_lf", "sub_rf", "sub_lr", "sub_rr"}
	file := func(off func(half float64) float64) string {
		out, rest, _ := strings.Cut(x.head(off), "[[line.rear.pinion.mark]]")
		_, rest, _ = strings.Cut(rest, "[point.rail_l]")
		for _, name := range corners {
			own := benchOwn[name]
			out += fmt.Sprintf("[[subframe.front.point]]\nat = \"point.%s\"\nbench = [\"%.9f mm ± 0.5\", \"%.9f mm ± 0.5\", \"%.9f mm ± 0.5\"]\ncorner = true\n[point.%[1]s]\n", name, own.X+off(0.5), own.Y+off(0.5), own.Z+off(0.5))
		}
		out += "[point.rail_l]" + rest
		tapes := func(tos []string, froms ...string) {
			for _, to := range tos {
				for i, from := range froms {
					d := r3.Sub(at(to), at(from))
					out += measuredOf{from: from, to: to}.text(r3.Norm(d) + off(0.5))
					if i == 0 {
						out += measuredOf{from: from, to: to, as: "height"}.text(d.Z + off(0.5))
					}
				}
			}
		}
		tapes(corners, "rail_l", "rail_r", "rail_lb")
		tapes([]string{"pulley", "flange", "head_left", "head_right"}, "sub_lf", "sub_rf", "sub_rr")
		return out + measuredOf{of: "powertrain"}.text(x.is[0].Slope().Degrees()+off(0.1))
	}
	return writing{truth: file(func(float64) float64 { return 0 }), read: func(dice *rand.Rand) string {
		return file(func(half float64) float64 { return either(dice, half) })
	}}
}

// hangsRead are the rows of the placement as all that was measured says them.
func hangsRead(a *Assessment) map[string]Number {
	out := map[string]Number{"slope of the powertrain": a.Lines[0].Axes[0].Read, "direction of the powertrain": a.Lines[0].Axes[0].Plan}
	for _, r := range a.Hung.Rows {
		out[r.Label] = r.Is
	}
	return out
}
