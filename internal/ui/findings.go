package ui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// findings lists every finding in full, with a cursor that leads to what a finding lacks
// or to what moves it.
type findings struct {
	at   int
	top  int // the first line that is shown
	down int // how far down in a finding that is taller than the box
	rest int // how far one can go down in it
	page int // how many findings fit into the box
}

func newFindings(*Model) *findings { return &findings{} }

func (f *findings) key(m *Model, k tea.KeyMsg) {
	all := worstFirst(m.now)
	switch k.String() {
	case "enter":
		if len(all) > 0 {
			m.close()
			m.openCause(all[pane.Cursor(f.at, len(all))])
			return
		}
	case "up", "k":
		f.move(-1, len(all))
	case "down", "j":
		f.move(1, len(all))
	case "pgup", "left":
		f.move(-max(f.page, 1), len(all))
	case "pgdown", "right", " ":
		f.move(max(f.page, 1), len(all))
	case "home":
		f.move(-len(all), len(all))
	case "end":
		f.move(len(all), len(all))
	}
	if quitKey(k) {
		m.close()
	}
}

// move goes to another finding, or first through the one that is taller than the box.
func (f *findings) move(by, n int) {
	const lines = 5
	switch {
	case by == 1 && f.down < f.rest:
		f.down = min(f.down+lines, f.rest)
	case by == -1 && f.down > 0:
		f.down = max(f.down-lines, 0)
	default:
		f.at, f.down = pane.Cursor(f.at+by, n), 0
	}
}

func (f *findings) subject(m *Model) string {
	if all := worstFirst(m.now); len(all) > 0 {
		return all[pane.Cursor(f.at, len(all))].ID
	}
	return ""
}

func (f *findings) size(w, h int) (int, int) { return min(110, w-2), h - 2 }

func (f *findings) draw(m *Model, w, h int) (string, string, []string) {
	all := worstFirst(m.now)
	if len(all) == 0 {
		return "Findings, worst first", "esc closes", theme.Wrap("Nothing can be judged yet: the file has no driveline.", w)
	}
	f.at = pane.Cursor(f.at, len(all))
	head := m.holdPoint(w, h/3)
	h -= len(head)
	var lines []string
	from, to := 0, 0
	f.page = 0
	for i, x := range all {
		if i == f.at {
			from = len(lines)
		}
		lines = append(lines, findingText(m, x, w, i == f.at)...)
		if i == f.at {
			to = len(lines)
		}
		if i >= f.at && len(lines)-from <= h {
			f.page++
		}
	}
	f.rest = max(to-1-from-h, 0)
	f.down = min(f.down, f.rest)
	f.top = max(0, min(max(min(f.top, from), to-h), from+f.down, max(len(lines)-h, from+f.down)))
	if f.rest > 0 {
		f.top = from + f.down
	}
	note := fmt.Sprintf("%d of %d  enter: %s  esc closes", f.at+1, len(all), causeWord(all[f.at]))
	return "Findings, worst first", note, append(head, lines[f.top:min(len(lines), f.top+h)]...)
}

// worstFirst are the findings, the worst before the others.
func worstFirst(a *assess.Assessment) []assess.Finding {
	fs := slices.Clone(a.Findings)
	slices.SortStableFunc(fs, func(a, b assess.Finding) int { return int(b.Status) - int(a.Status) })
	return fs
}

// findingText writes a finding out.
func findingText(m *Model, f assess.Finding, w int, cursor bool) []string {
	title := m.theme.Paint(theme.Title, project.Printable(f.Title))
	if cursor {
		title = m.theme.Paint(theme.Selected, m.theme.Pointer()+project.Printable(f.Title))
	}
	out := []string{m.theme.Status(pane.Status(f.Status)) + "  " + title}
	if s := figures(m, f); s != "" {
		out = append(out, indent(s, w)...)
	}
	if from := f.MostlyFrom(); from != "" && f.Status == assess.OK { // of others the advice says it
		s := "Its ± is mostly " + from
		if sure := f.Sure(); sure != "" {
			s += "; it " + sure
		}
		out = append(out, indent(m.theme.Plain(project.Printable(s)+"."), w)...)
	}
	if len(f.Assumes) > 0 {
		out = append(out, indent(m.theme.Plain("Assumed: "+project.Printable(strings.Join(f.Assumes, "; "))+"."), w)...)
	}
	out = append(out, indent(m.theme.Plain(project.Printable(f.Advice())), w)...)
	return append(out, m.theme.Paint(theme.Dim, "    "+f.ID), "")
}

// figures is the value, its uncertainty, its limit and where they come from.
func figures(m *Model, f assess.Finding) string {
	v := m.view(m.focus)
	num := func(x float64) string {
		return v.Number(f.Kind, assess.Exact(x), v.Digits(f.Kind))
	}
	var parts []string
	if f.HasValue {
		s := v.Against(f)
		if f.Uncertainty > 0 {
			s += " " + v.PlusMinus(f.Kind, f.Uncertainty, v.Digits(f.Kind))
		}
		basis := f.Basis.String()
		if f.Moved {
			basis += ", moved since"
		}
		parts = append(parts, s+" ("+basis+")")
	}
	if f.HasLimit {
		side := "at most "
		if f.AtLeast {
			side = "at least "
		}
		s := "limit " + side + num(f.Limit) + " (" + project.Printable(f.Source)
		if f.Changed {
			s += ", changed"
		}
		parts = append(parts, s+")")
		if f.HasValue {
			word := "to spare "
			if f.Margin < 0 {
				word = "past it by "
			}
			parts = append(parts, word+v.Number(f.Kind, assess.Exact(math.Abs(f.Margin)), v.Digits(f.Kind)+1))
		}
	}
	return strings.Join(parts, ", ")
}

func indent(s string, w int) []string {
	var out []string
	for _, l := range theme.Wrap(s, max(w-4, 1)) {
		out = append(out, "    "+l)
	}
	return out
}
