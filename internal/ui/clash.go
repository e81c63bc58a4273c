package ui

import (
	"fmt"
	"slices"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"
)

// askClash offers to drop one of the readings of target when they cannot all be
// true.
func (m *Model) askClash(target string) {
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			switch {
			case x.Target != target:
			case x.Clash:
				m.open(newDrop(m, x.Set, x.Read.Why))
				return
			case x.Parted:
				m.open(newDrop(m, x.Taped, x.Plan.Why))
				return
			}
		}
	}
}

// mostDrop is how many readings the question shows: each has a digit for its
// key.
const mostDrop = 9

// newDrop asks which of the readings that a number rests on is to go. clash says
// why they cannot all be true, "" when they can.
func newDrop(m *Model, readings []int, clash string) *question {
	q := &question{title: "Drop which reading?", text: []string{"Each of these counts. Drop the one that is wrong, or read again first."}}
	if clash != "" {
		q.title, q.text = "These cannot both be true", []string{project.Printable(clash) + "."}
	}
	set := slices.Sorted(slices.Values(readings))
	if len(set) > mostDrop {
		set = set[len(set)-mostDrop:]
	}
	for k, i := range set {
		q.choices = append(q.choices, choice{fmt.Sprint(k + 1), "drop " + m.readingWords(i), func(m *Model) { m.dropReading(i) }})
	}
	return q
}

// readingWords is a reading in a few words, with its number in the file.
func (m *Model) readingWords(i int) string {
	r := m.now.Build.Readings[i]
	v := m.view(m.focus)
	s := fmt.Sprintf("reading %d: %s", i+1, v.Number(quantity.Angle, assess.Exact(r.Shown.V()), 2))
	if over, tape := r.Over.Get(); tape {
		s = fmt.Sprintf("reading %d: by tape %s over %s", i+1,
			v.Number(quantity.Offset, assess.Exact(r.Aside.V()), 1), v.Number(quantity.Length, assess.Exact(over), 0))
	}
	if r.Lower != "" {
		s += ", lower at the " + string(r.Lower)
	}
	if !r.Taken.IsZero() {
		s += ", " + r.Taken.Format("2 January")
	}
	return project.Printable(s)
}

// dropOf takes out the reading in use at target, or asks which where several
// count.
func (m *Model) dropOf(i int) {
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			if x.Reading == i && len(x.Set) > 1 {
				clash := ""
				if x.Clash {
					clash = x.Read.Why
				}
				m.open(newDrop(m, x.Set, clash))
				return
			}
		}
	}
	if i < 0 || i >= len(m.now.Build.Readings) {
		m.say(theme.Doubt, "There is no such reading any more.")
		return
	}
	m.dropReading(i)
}
