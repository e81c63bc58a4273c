package ui

import (
	"slices"
	"strings"

	"fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/joblist"
	"fitup/internal/project/sheet"
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
		for _, e := range bracket.Table() {
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
		for _, x := range b.Mounts {
			out = append(out, x.Name)
		}
	case "lines":
		for _, x := range b.Lines {
			out = append(out, x.Name)
		}
	case "findings":
		for _, f := range m.now.Findings {
			out = append(out, f.ID)
		}
	case "jobs":
		for _, j := range b.Jobs {
			out = append(out, j.ID)
		}
	case "steps":
		for _, id := range joblist.IDs() {
			out = append(out, id)
		}
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

// rank are the texts that answer to a query, the best first: all its words stand in
// them, in any order; the text itself before what begins with it, before the begin of a
// word, before the inside of one.
func rank(all []string, query string) []string {
	words := strings.Fields(strings.ToLower(query))
	if len(words) == 0 {
		return all
	}
	type hit struct {
		text string
		rank int
	}
	var hits []hit
	for _, text := range all {
		if r, ok := fits(strings.ToLower(text), words, strings.ToLower(strings.TrimSpace(query))); ok {
			hits = append(hits, hit{text, r})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.rank - b.rank })
	out := make([]string, len(hits))
	for i, h := range hits {
		out[i] = h.text
	}
	return out
}

// fits says how well words fit a text; less is better.
func fits(text string, words []string, whole string) (int, bool) {
	r := 0
	for _, w := range words {
		at := strings.Index(text, w)
		switch {
		case at < 0:
			return 0, false
		case at > 0 && !strings.ContainsAny(text[at-1:at], " ._-:") && !strings.Contains(text, " "+w):
			r += 2
		case at > 0:
			r++
		}
	}
	switch {
	case text == whole:
		return -2, true
	case strings.HasPrefix(text, whole):
		return -1, true
	}
	return r, true
}

// namesOf are the names of tables that a list of names holds.
func namesOf(f *project.File, list string) []string {
	n := f.Doc().Find(list)
	if n == nil {
		return nil
	}
	var out []string
	for _, c := range n.Children {
		out = append(out, c.Key)
	}
	return out
}
