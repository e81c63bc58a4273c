package frame

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/tape"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// triangle is three distances between three points that cannot all be true: one is
// longer than the way by the other two. They are numbers in a list of lines.
type triangle struct {
	long, one, other int
	by               string  // path of the point that the way leads over
	more             float64 // by how much it is longer, mm
}

func (t triangle) sides() [3]int { return [3]int{t.long, t.one, t.other} }

// impossible lists the triangles whose longest side is longer than the other two
// together by more than so many standard uncertainties of that, the worst first.
func impossible(lines []Line, times float64) []triangle {
	index := map[string]int{}
	var points []string
	number := func(path string) int {
		k, ok := index[path]
		if !ok {
			k = len(points)
			index[path], points = k, append(points, path)
		}
		return k
	}
	type side struct{ to, line int }
	var from [][]side // the distances from each point
	variance := make([]float64, len(lines))
	ends := make([][2]int, len(lines))
	for i, l := range lines {
		if l.As != project.DistanceLine {
			continue
		}
		s := sigma(l)
		variance[i], ends[i] = s*s, [2]int{number(l.From), number(l.To)}
		for len(from) < len(points) {
			from = append(from, nil)
		}
		for k, p := range ends[i] {
			from[p] = append(from[p], side{ends[i][1-k], i})
		}
	}
	var out []triangle
	over := make([]int, len(points)) // the distance from the first end of a line to each point, and one
	for i, l := range lines {
		if l.As != project.DistanceLine {
			continue
		}
		clear(over)
		for _, s := range from[ends[i][0]] {
			over[s.to] = s.line + 1
		}
		for _, s := range from[ends[i][1]] {
			one := over[s.to] - 1
			if one < 0 || one == i || s.line == i {
				continue
			}
			more := l.Value.V - lines[one].Value.V - lines[s.line].Value.V
			if more > 0 && more*more > times*times*(variance[i]+variance[one]+variance[s.line]) {
				out = append(out, triangle{long: i, one: one, other: s.line, by: points[s.to], more: more})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b triangle) int { return cmp.Compare(b.more, a.more) })
	return out
}

// mostImpossible lists the lines that stand in most triangles that cannot be, by far.
// Six at most.
func mostImpossible(lines []Line) []int {
	const far = 17 // well past what the tests of residuals find
	count := map[int]int{}
	for _, t := range impossible(lines, far) {
		for _, i := range t.sides() {
			count[i]++
		}
	}
	var out []int
	for i := range lines {
		if count[i] > 0 {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int { return cmp.Compare(count[j], count[i]) })
	return out[:min(6, len(out))]
}

// inAll lists the lines that stand in every one of the triangles: a slip in one of them
// alone would explain all.
func inAll(all []triangle) []int {
	var out []int
	for _, i := range all[0].sides() {
		if !slices.ContainsFunc(all, func(t triangle) bool {
			s := t.sides()
			return !slices.Contains(s[:], i)
		}) {
			out = append(out, i)
		}
	}
	return out
}

// contradicted is what is to be said and done where the lines place nothing because
// distances among them cannot be true.
type contradicted struct {
	accused []int // numbers in the lines
	says    string
}

// contradiction looks for distances that cannot be true together; false for none.
func contradiction(b *project.Build, lines []Line) (contradicted, bool) {
	all := impossible(lines, tape.Critical)
	if len(all) == 0 {
		return contradicted{}, false
	}
	worst, c := all[0], contradicted{accused: inAll(all)}
	l, one, other := lines[worst.long], lines[worst.one], lines[worst.other]
	length := func(v float64) string { return text(b, quantity.Length, v) }
	c.says = fmt.Sprintf("%s reads %s, and the way by %s is only %s: %s %s and %s %s", l.Name, length(l.Value.V), finding.SpokenPoint(worst.by),
		length(one.Value.V+other.Value.V), one.Name, length(one.Value.V), other.Name, length(other.Value.V))
	if len(c.accused) == 0 { // more than one slip
		s := worst.sides()
		c.accused = s[:]
	}
	var names []string
	for _, i := range c.accused {
		names = append(names, lines[i].Name)
	}
	switch len(names) {
	case 1:
		c.says += ": measure " + names[0] + " again"
	default:
		c.says += ": one of them is wrong, so measure " + listed(names) + " again"
	}
	if ask := unitSlips(lines, all, c.accused); ask != "" {
		c.says += "; " + ask
	}
	return c, true
}

// unitSlips asks about distances that would close every triangle they stand in, were
// they read in another unit: a clause, "" for none.
func unitSlips(lines []Line, all []triangle, accused []int) string {
	closes := func(i int, times float64) bool {
		return !slices.ContainsFunc(all, func(t triangle) bool {
			s := t.sides()
			if !slices.Contains(s[:], i) {
				return false
			}
			sum, most := 0.0, 0.0
			for _, k := range s {
				v := lines[k].Value.V
				if k == i {
					v *= times
				}
				sum, most = sum+v, max(most, v)
			}
			return 2*most > sum
		})
	}
	var asks []string
	for _, i := range accused {
		for _, u := range []struct {
			times float64
			as    string
		}{{0.1, "a tenth of it"}, {10, "ten times as much"}, {1 / 25.4, "a 25.4th of it"}, {25.4, "25.4 times as much"}} {
			if closes(i, u.times) {
				asks = append(asks, u.as+" would fit at "+lines[i].Name)
				break
			}
		}
	}
	if len(asks) == 0 {
		return ""
	}
	return "was a value typed in another unit than the tape's? " + strings.Join(asks, ", ")
}
