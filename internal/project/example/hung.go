package example

import (
	"fmt"
	"math"
	"strings"
)

// HungCorners are the tapes from the rails of Hung to the corners of its subframe, in mm
// and in the file's order, with the subframe turned by so many degrees, its rear to the
// right, about its right front corner.
func HungCorners(turned float64) []float64 {
	var out []float64
	for _, pair := range hungPairs {
		out = append(out, math.Round(10*apart(hungPlaces(turned), pair[0], pair[1]))/10)
	}
	return out
}

// Hung is a front subframe that hangs in a frame known by its survey alone, turned as by
// HungCorners: every other corner is off, and it comes square when the left front one is moved.
func Hung(turned float64) string {
	var out strings.Builder
	out.WriteString("format = 3\n[vehicle]\nwheelbase = 3400\nfront_axle = 0\n\n[tool.tape]\naccuracy = \"0.3 mm\"\nrepeat = \"0.5 mm\"\nsource = \"ten trials\"\n\n")
	names := []string{"rail_lf", "rail_rf", "rail_lr", "rail_rr", "hub_lr", "hub_rr", "sub_lf", "sub_rf", "sub_lr", "sub_rr"}
	for _, n := range names {
		fmt.Fprintf(&out, "[point.%s]\n", n)
		if n == "rail_lf" { // what ties the survey to the vehicle's zero
			out.WriteString("station = \"-450 mm ± 0.5\"\nheight = \"0 mm ± 0.5\"\n")
		}
	}
	out.WriteString("\n[survey]\npoints = [\"point.rail_lf\"]\ndatum = \"centre line\"\nleft = [\"point.rail_lf\", \"point.rail_lr\"]\nright = [\"point.rail_rf\", \"point.rail_rr\"]\nrear_axle = [\"point.hub_lr\", \"point.hub_rr\"]\n\n[subframe.front]\n[subframe.front.wanted]\nstation = 10\nheight = -125\n")
	for _, c := range hungBench {
		fmt.Fprintf(&out, "[[subframe.front.point]]\nat = \"point.%s\"\nbench = [\"%g mm ± 0.3\", \"%g mm ± 0.3\", \"%g mm ± 0.3\"]\ncorner = true\n", c.name, c.at[0], c.at[1], c.at[2])
	}
	at := hungPlaces(turned)
	measure := func(from, to, as string, v float64) {
		fmt.Fprintf(&out, "[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\nas = \"%s\"\nwith = \"tool.tape\"\nlengths = [%.1f]\nafter = \"hung\"\n", from, to, as, v)
	}
	for i, q := range names[:6] {
		for _, p := range names[:i] {
			measure(p, q, "distance", apart(at, p, q))
		}
		if i > 0 {
			measure("rail_lf", q, "height", at[q][2]-at["rail_lf"][2])
		}
	}
	for i, v := range HungCorners(turned) {
		measure(hungPairs[i][0], hungPairs[i][1], "distance", v)
	}
	for _, c := range hungBench {
		measure("rail_"+strings.TrimPrefix(c.name, "sub_"), c.name, "height", at[c.name][2])
	}
	return out.String()
}

var hungPairs = [][2]string{
	{"rail_lf", "sub_lf"}, {"rail_lf", "sub_lr"}, {"rail_rf", "sub_rf"}, {"rail_rf", "sub_rr"},
	{"rail_lr", "sub_lf"}, {"rail_lr", "sub_lr"}, {"rail_rr", "sub_rf"}, {"rail_rr", "sub_rr"},
	{"rail_lf", "sub_rf"}, {"rail_rf", "sub_lf"},
}

var hungBench = []struct {
	name string
	at   [3]float64
}{
	{"sub_lf", [3]float64{0, -390, 0}}, {"sub_rf", [3]float64{0, 390, 0}},
	{"sub_lr", [3]float64{620, -400, 30}}, {"sub_rr", [3]float64{620, 400, 30}},
}

// hungPlaces are where the points of Hung are.
func hungPlaces(turned float64) map[string][3]float64 {
	at := map[string][3]float64{
		"rail_lf": {-450, -380, 0}, "rail_rf": {-450, 380, 0}, "rail_lr": {1500, -380, 0}, "rail_rr": {1500, 380, 0},
		"hub_lr": {3400, -740, -100}, "hub_rr": {3400, 740, -100},
	}
	sin, cos := math.Sincos(turned * math.Pi / 180)
	pivot := hungBench[1].at
	for _, c := range hungBench {
		x, y := c.at[0]-pivot[0], c.at[1]-pivot[1]
		// the subframe's own zero hangs 300 ahead of the front axle and 140 under the rails
		at[c.name] = [3]float64{pivot[0] + x*cos - y*sin - 300, pivot[1] + x*sin + y*cos, c.at[2] - 140}
	}
	return at
}

func apart(at map[string][3]float64, a, b string) float64 {
	p, q := at[a], at[b]
	return math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
}
