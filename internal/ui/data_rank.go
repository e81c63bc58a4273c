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

// offered are the entries of the table that a row is commonly picked from.
func offered(m *Model, r sheet.Row) []string {
	var out []string
	b := m.now.Build
	switch r.Offers {
	case "sections":
		for _, s := range b.Stock {
			out = append(out, s.Section)
		}
		for _, e := range section.Table() {
			out = append(out, e.Name)
		}
	case "threads":
		out = bracket.Threads()
	case "classes":
		out = bracket.Classes()
	case "targets":
		out = b.Targets()
	case "points":
		out = b.PointPaths()
	case "datums":
		out = b.Datums()
	case "tools":
		out = b.ToolPaths()
	case "mounts":
		out = namesOf(b.Mounts, func(x *project.Mount) string { return x.Name })
	case "pickups":
		out = namesOf(b.Pickups, func(x *project.Pickup) string { return x.Name })
	case "weldparts":
		for i := range m.now.Brackets {
			for _, p := range m.now.Brackets[i].WeldParts() {
				out = append(out, p.Name)
			}
		}
	case "carriable":
		out = b.Carriable()
	case "lines":
		out = namesOf(b.Lines, func(x *project.Line) string { return x.Name })
	case "findings":
		out = namesOf(m.now.Findings, func(f *assess.Finding) string { return f.ID })
	case "movables":
		out = namesOf(b.Movables(), func(x *project.Movable) string { return x.Path() })
	case "jobs":
		out = namesOf(b.Jobs, func(j *project.Job) string { return j.ID })
	case "steps":
		out = append(out, joblist.IDs()...)
	case "days":
		out = append(out, m.today().Format("2006-01-02"))
	}
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
