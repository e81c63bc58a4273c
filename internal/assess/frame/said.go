package frame

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// supposed says of how many measurements nobody said how good they are.
func supposed(b *project.Build, lines []Line) string {
	count, half := supposition(lines)
	if count == 0 {
		return ""
	}
	which := fmt.Sprintf("%d of %d measurements", count, len(lines))
	if count == len(lines) {
		which = "all measurements"
	}
	return fmt.Sprintf("%s good to ±%s, for no ± of them or of their tool is in the file", which, text(b, quantity.Length, half))
}

// supposition counts the measurements whose ± is made of what a tool is taken to be good
// for, and gives the largest of those half-widths, mm.
func supposition(lines []Line) (count int, half float64) {
	for _, l := range lines {
		if l.Supposed > 0 {
			count, half = count+1, max(half, l.Supposed)
		}
	}
	return count, half
}

// supposed is the same of what the survey took.
func (s *Survey) supposed() (count int, half float64) {
	lines := make([]Line, len(s.Lines))
	for i := range s.Lines {
		lines[i] = s.Lines[i].Line
	}
	return supposition(lines)
}

// unmeasured names what the survey is to place and no measurement leads to: points of
// rails, axles and datum, and those that are nothing but a name.
func unmeasured(b *project.Build, lines []Line) []string {
	measured := map[string]bool{}
	for _, l := range lines {
		measured[l.From], measured[l.To], measured[l.At] = true, true, true
	}
	for _, f := range b.Subframes { // which places its own
		for _, p := range f.Points {
			measured[p.At] = true
		}
	}
	want := slices.Concat(b.Survey.Left, b.Survey.Right, b.Survey.FrontAxle, b.Survey.RearAxle, b.Survey.RearRims, b.Survey.Points)
	for _, p := range b.Points {
		if p.From == "" && !given(p.Station) && !given(p.Offset.Coordinate) && !given(p.Height) {
			want = append(want, p.Path())
		}
	}
	var names []string
	for _, p := range want {
		if name := finding.SpokenPoint(p); !measured[p] && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return nil
	}
	has, it := " has", "it"
	if len(names) > 1 {
		has, it = " have", "them"
	}
	return []string{listed(names) + has + " no place by this survey: no measurement names " + it}
}

func given(c project.Coordinate) bool {
	_, ok := c.Get()
	return ok
}

// listed are names as a sentence has them.
func listed(names []string) string {
	switch n := len(names); {
	case n == 0:
		return "nothing"
	case n == 1:
		return names[0]
	case n > 6:
		return fmt.Sprintf("%s and %d more", strings.Join(names[:5], ", "), n-5)
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}
