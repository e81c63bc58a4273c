package example

import (
	"fmt"
	"math"
	"strings"
)

// FrameWelded is a frame surveyed when it was tacked and again when it was welded,
// with heights and the rims of its rear wheels; nothing changed.
func FrameWelded() string {
	points := []struct {
		name    string
		x, y, z float64
	}{
		{"l1", 0, -400, 0}, {"r1", 0, 400, 0}, {"l2", 1200, -400, 12}, {"r2", 1200, 400, 12}, {"l3", 2400, -400, 55}, {"r3", 2400, 400, 55},
		{"hl", 2000, -740, 0}, {"hr", 2000, 740, 0}, {"lf", 1800, -740, 0}, {"lb", 2200, -740, 0}, {"rf", 1800, 740, 0}, {"rb", 2200, 740, 0},
	}
	var out strings.Builder
	out.WriteString("format = 3\n")
	for _, p := range points {
		fmt.Fprintf(&out, "[point.%s]\n", p.name)
	}
	out.WriteString(`[survey]
left = ["point.l1", "point.l2", "point.l3"]
right = ["point.r1", "point.r2", "point.r3"]
rear_axle = ["point.hl", "point.hr"]
rear_rims = ["point.lf", "point.lb", "point.rf", "point.rb"]
`)
	line := func(a, b, as, after string, v float64) {
		fmt.Fprintf(&out, "[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\nas = \"%s\"\nlengths = [\"%.1f mm\", \"%.1f mm\"]\nafter = \"%s\"\n", a, b, as, v, v, after)
	}
	for _, after := range []string{"tacked", "welded"} {
		for i, p := range points {
			for _, q := range points[:i] {
				line(q.name, p.name, "distance", after, math.Sqrt((p.x-q.x)*(p.x-q.x)+(p.y-q.y)*(p.y-q.y)+(p.z-q.z)*(p.z-q.z)))
			}
			if i > 0 {
				line("l1", p.name, "height", after, p.z)
			}
		}
	}
	return out.String()
}
