package ui

import (
	"slices"

	"fitup/internal/assess"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/joblist"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/search"
)

// offers are what a row is commonly picked from, by what the sheet calls it.
var offers = map[string]func(*Model) []string{
	"sections": func(m *Model) []string {
		var out []string
		for _, s := range m.now.Build.Stock {
			out = append(out, s.Section)
		}
		for _, e := range section.Table() {
			out = append(out, e.Name)
		}
		return out
	},
	"threads": func(*Model) []string { return bracket.Threads() },
	"classes": func(*Model) []string { return bracket.Classes() },
	"targets": func(m *Model) []string { return m.now.Build.Targets() },
	"points":  func(m *Model) []string { return m.now.Build.PointPaths() },
	"datums":  func(m *Model) []string { return m.now.Build.Datums() },
	"tools":   func(m *Model) []string { return m.now.Build.ToolPaths() },
	"mounts": func(m *Model) []string {
		return namesOf(m.now.Build.Mounts, func(x *project.Mount) string { return x.Name })
	},
	"pickups": func(m *Model) []string {
		return namesOf(m.now.Build.Pickups, func(x *project.Pickup) string { return x.Name })
	},
	"weldparts": func(m *Model) []string {
		var out []string
		for i := range m.now.Brackets {
			for _, p := range m.now.Brackets[i].WeldParts() {
				out = append(out, p.Name)
			}
		}
		return out
	},
	"carriable": func(m *Model) []string { return m.now.Build.Carriable() },
	"parts": func(m *Model) []string {
		return namesOf(m.now.Build.Powertrain.Parts, func(x *project.Part) string { return x.Name })
	},
	"lines": func(m *Model) []string {
		return namesOf(m.now.Build.Lines, func(x *project.Line) string { return x.Name })
	},
	"findings": func(m *Model) []string {
		return namesOf(m.now.Findings, func(f *assess.Finding) string { return f.ID })
	},
	"movables": func(m *Model) []string {
		return namesOf(m.now.Build.Movables(), func(x *project.Movable) string { return x.Path() })
	},
	"jobs": func(m *Model) []string {
		return namesOf(m.now.Build.Jobs, func(j *project.Job) string { return j.ID })
	},
	"steps": func(*Model) []string { return slices.Clone(joblist.IDs()) },
	"days":  func(m *Model) []string { return []string{m.today().Format("2006-01-02")} },
}

// offered are the entries of the table that a row is commonly picked from.
func offered(m *Model, r sheet.Row) []string {
	table, ok := offers[r.Offers]
	if !ok {
		return nil
	}
	out := table(m)
	seen := map[string]bool{}
	return slices.DeleteFunc(out, func(s string) bool {
		again := seen[s] || s == ""
		seen[s] = true
		return again
	})
}

// namesOf are the names of all in a list.
func namesOf[T any](list []T, name func(*T) string) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = name(&list[i])
	}
	return out
}

// rank are the texts that answer to a query, the best first. Letters that lie scattered
// over a text pick nothing.
func rank(all []string, query string) []string {
	x := &search.Index{}
	for _, text := range all {
		x.Add(search.Entry{Name: text})
	}
	var out []string
	for _, h := range x.Find(query, nil) {
		if h.By == search.Named {
			out = append(out, all[h.At])
		}
	}
	return out
}
