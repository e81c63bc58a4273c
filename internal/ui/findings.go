package ui

import (
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/assess"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// findingLines writes every finding out, the worst first.
func findingLines(m *Model, w int) []string {
	fs := slices.Clone(m.now.Findings)
	slices.SortStableFunc(fs, func(a, b assess.Finding) int { return int(b.Status) - int(a.Status) })
	var out []string
	for _, f := range fs {
		out = append(out, m.theme.Status(pane.Status(f.Status))+"  "+m.theme.Paint(theme.Title, project.Printable(f.Title)))
		if s := figures(m, f); s != "" {
			out = append(out, indent(s, w)...)
		}
		out = append(out, indent(project.Printable(f.Advice), w)...)
		out = append(out, m.theme.Paint(theme.Dim, "    "+f.ID), "")
	}
	if len(fs) == 0 {
		out = theme.Wrap("Nothing can be judged yet: the file has no driveline.", w)
	}
	return out
}

// figures is the value, its uncertainty, its limit and where they come from.
func figures(m *Model, f assess.Finding) string {
	v := m.view(m.focus)
	num := func(x float64) string {
		return v.Number(f.Kind, assess.Measure{V: x, Known: true}, v.Digits(f.Kind))
	}
	var parts []string
	if f.HasValue {
		s := v.Against(f)
		if f.Uncertainty > 0 {
			s += " " + v.PlusMinus(f.Kind, assess.Measure{U: f.Uncertainty / 2, Known: true}, v.Digits(f.Kind))
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
			parts = append(parts, "margin "+v.Number(f.Kind, assess.Measure{V: f.Margin, Known: true}, v.Digits(f.Kind)+1))
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

// wrapHanging breaks a painted line at spaces; the lines that follow are
// indented by hang cells. Only the plain text after the first hang cells is
// broken, so paint ends before it.
func wrapHanging(l string, w, hang int) []string {
	head, rest := l, ""
	if i := strings.LastIndex(l, "\x1b[0m"); i >= 0 {
		head, rest = l[:i+4], strings.TrimSpace(l[i+4:])
	} else if len(l) > hang {
		head, rest = l[:hang], strings.TrimSpace(l[hang:])
	}
	if theme.Width(head) > hang {
		return theme.Wrap(l, w)
	}
	pad := strings.Repeat(" ", hang)
	head += strings.Repeat(" ", max(hang-theme.Width(head), 0))
	var out []string
	for i, part := range theme.Wrap(rest, max(w-hang, 1)) {
		if i == 0 {
			out = append(out, head+part)
		} else {
			out = append(out, pad+part)
		}
	}
	return out
}
