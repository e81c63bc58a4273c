package coverage

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
)

// InBrackets is a value as it is typed with a ±, in a text of a build: the number, its ±
// and what stands behind.
var InBrackets = regexp.MustCompile(`<(-?[\d.]+) ± ([\d.]+)([^>]*)>`)

// Either is a draw of a rectangular distribution of that half width.
func Either(dice *rand.Rand, half float64) float64 { return half * (2*dice.Float64() - 1) }

// Marked draws a build from a text with values in angle brackets, such as <12 ± 0.5 mm>:
// the file of what is true, which is somewhere about them, and files of somebody who reads
// it and is off by the ± at most, each with the same probability. How large each ± is
// differs from build to build.
func Marked(text string) func(dice *rand.Rand) (truth string, read func(dice *rand.Rand) string) {
	parts, all := InBrackets.Split(text, -1), InBrackets.FindAllStringSubmatch(text, -1)
	fill := func(of func(i int) string) string {
		var s strings.Builder
		for i, p := range parts {
			s.WriteString(p)
			if i < len(all) {
				s.WriteString(of(i))
			}
		}
		return s.String()
	}
	return func(dice *rand.Rand) (string, func(dice *rand.Rand) string) {
		truth, half := make([]float64, len(all)), make([]float64, len(all))
		for i, m := range all {
			truth[i], _ = strconv.ParseFloat(m[1], 64)
			half[i], _ = strconv.ParseFloat(m[2], 64)
			truth[i] += Either(dice, 2*half[i])
			half[i] *= 0.3 + 1.2*dice.Float64()
		}
		is := fill(func(i int) string { return fmt.Sprintf("%.9f%s", truth[i], all[i][3]) })
		return is, func(dice *rand.Rand) string {
			return fill(func(i int) string {
				return fmt.Sprintf("%.9f%s ± %.9f", truth[i]+Either(dice, half[i]), all[i][3], half[i])
			})
		}
	}
}
