package grown

import (
	"fmt"
	"math"
	"strings"
)

// Survey returns a build with nothing but a survey of a frame of that many points, half
// of them along each rail, and about that many distances between those nearest to each
// other. Each was taped once, and is off by less than half a mm, but the slip-th (from
// 1) by 25 mm; 0 for none.
func Survey(points, distances, slip int) string {
	var out strings.Builder
	out.WriteString("format = 3\nname = \"a frame with very many marks\"\n[tool.tape]\naccuracy = \"1 mm\"\n")
	name := func(i int) string { return fmt.Sprintf("point.%c%d", "lr"[i%2], i/2) }
	at := func(i int) (x, y float64) {
		k := float64(i / 2)
		return 60*k + 7*math.Sin(3*k), float64(2*(i%2)-1) * (420 + 25*math.Sin(k))
	}
	var sides [2][]string
	for i := range points {
		fmt.Fprintf(&out, "[%s]\n", name(i))
		sides[i%2] = append(sides[i%2], fmt.Sprintf("%q", name(i)))
	}
	fmt.Fprintf(&out, "[survey]\ndatum = \"centre line\"\nleft = [%s]\nright = [%s]\n", strings.Join(sides[0], ", "), strings.Join(sides[1], ", "))
	count := 0
	for step := 1; step < points && count < distances; step++ {
		for i := 0; i+step < points && count < distances; i++ {
			count++
			x1, y1 := at(i)
			x2, y2 := at(i + step)
			off := 0.45 * math.Sin(1.7*float64(count)*float64(count))
			if count == slip {
				off = 25
			}
			fmt.Fprintf(&out, "[[measure]]\nfrom = %q\nto = %q\nwith = \"tool.tape\"\nlengths = [%.1f]\nafter = \"hung\"\n", name(i), name(i+step), math.Hypot(x2-x1, y2-y1)+off)
		}
	}
	return out.String()
}
