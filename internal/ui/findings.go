package ui

import (
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
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
		if len(f.Assumes) > 0 {
			out = append(out, indent("Assumed: "+project.Printable(strings.Join(f.Assumes, "; "))+".", w)...)
		}
		out = append(out, indent(project.Printable(f.Advice()), w)...)
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
