package bracket

import "fmt"

// Threads lists the names of the threads that a shop has: metric coarse ones up to M24
// (ISO 261, from memory), common fine ones (ISO 262, from memory), and inch threads,
// coarse and fine (ASME B1.1, from memory).
func Threads() []string {
	var out []string
	for d := 5.0; d <= 24; d++ {
		if coarse(d) > 0 && d != 7 {
			out = append(out, fmt.Sprintf("M%g", d))
		}
	}
	return append(out, "M8x1", "M10x1", "M10x1.25", "M12x1.25", "M12x1.5", "M14x1.5", "M16x1.5", "M18x1.5", "M20x1.5",
		"1/4-20", "5/16-18", "3/8-16", "7/16-14", "1/2-13", "9/16-12", "5/8-11", "3/4-10",
		"1/4-28", "5/16-24", "3/8-24", "7/16-20", "1/2-20", "9/16-18", "5/8-18", "3/4-16")
}

// Classes lists the strength classes of metric bolts and the grades of inch bolts.
func Classes() []string {
	return []string{"8.8", "10.9", "12.9", "grade 2", "grade 5", "grade 8"}
}
