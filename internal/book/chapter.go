package book

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// Chapter is a part of the book that can be printed by itself.
type Chapter struct {
	Key, Title string
	Sections   []Section
	Missing    bool // there is nothing in it but what it lacks
}

// Figure is a drawing in the book.
type Figure struct {
	Name  string // part of a file's name
	Title string // stands under it, with its scale
	High  float64
	Wide  float64 // more than a page upright has: it stands on one across
	draw  func(p *paper.Page, place r2.Box)
}

// maker makes chapters of one assessment.
type maker struct {
	a    *assess.Assessment
	u    quantity.Units
	size PaperSize
	from Origin
}

// contents are the chapters in the order of the book.
var contents = []struct {
	key, title string
	make       func(*maker, *Sheet)
}{
	{"cover", "Build book", (*maker).cover},
	{"placement", "Placement and mount heights", (*maker).placement},
	{"readings", "Readings", (*maker).readings},
	{"driveline", "Driveline", (*maker).driveline},
	{"order", "Shaft order sheets", (*maker).order},
	{"mounts", "Mounts", (*maker).mounts},
	{"cuts", "Cut list and nesting", (*maker).cuts},
	{"loads", "Loads and strength", (*maker).loads},
	{"modes", "Shaking on the mounts", (*maker).modes},
	{"room", "Clearances and exhaust", (*maker).room},
	{"frame", "Frame survey", (*maker).frame},
	{"rails", "Frame rails", (*maker).rails},
	{"subframe", "Subframe", (*maker).subframe},
	{"steering", "Steering shaft", (*maker).steering},
	{"pickups", "Suspension pick-ups", (*maker).pickups},
	{"jobs", "Jobs", (*maker).jobs},
	{"out", "Engine-out list", (*maker).out},
	{"weld", "Weld map", (*maker).weld},
	{"fasteners", "Fasteners and fluids", (*maker).fasteners},
	{"findings", "Findings", (*maker).findings},
	{"history", "History", (*maker).history},
	{"known", "What was assumed and what is not known", (*maker).known},
}

// ChapterKeys are the words for the chapters, in order.
func ChapterKeys() []string {
	var out []string
	for _, c := range contents {
		out = append(out, c.key)
	}
	return out
}

// Watch is told what is being made, and how much of all is done. Its error ends the work
// and is returned; a nil Watch watches nothing.
type Watch func(what string, done, of int) error

func (w Watch) at(what string, done, of int) error {
	if w == nil {
		return nil
	}
	return w(what, done, of)
}

// Chapters are those of the book, for sheets of a size, with these keys, or all where none is named, in
// the order of the book. It fails where there is none of that key, or where w ends it.
func Chapters(w Watch, a *assess.Assessment, size PaperSize, from Origin, only ...string) ([]Chapter, error) {
	for _, k := range only {
		if !slices.Contains(ChapterKeys(), k) {
			return nil, fmt.Errorf("the book has no chapter %q; it has %s", k, strings.Join(ChapterKeys(), ", "))
		}
	}
	m := &maker{a: a, u: a.Build.Units, size: size, from: from}
	var out []Chapter
	for i, c := range contents {
		if len(only) > 0 && !slices.Contains(only, c.key) {
			continue
		}
		if err := w.at(strings.ToLower(c.title), i, len(contents)); err != nil {
			return nil, err
		}
		var s Sheet
		c.make(m, &s)
		s = s.clean()
		out = append(out, Chapter{Key: c.key, Title: c.title, Sections: s.Sections, Missing: lone(s)})
	}
	return out, nil
}

// lone reports whether a chapter is one sentence.
func lone(s Sheet) bool {
	return len(s.Sections) == 1 && len(s.Sections[0].Items) == 1 && s.Sections[0].Items[0].Text != ""
}

// say writes a number with its sense.
func (m *maker) say(k quantity.Kind, v float64) string {
	return strings.TrimSpace(Magnitude(k, v, m.u) + " " + Sense(k, v, m.u))
}

// upDown is a length with a word for its sign.
func (m *maker) upDown(v float64, up, down string) string {
	if v < 0 {
		return Magnitude(quantity.Length, -v, m.u) + " " + down
	}
	return Magnitude(quantity.Length, v, m.u) + " " + up
}

// number writes a number that may be missing, with its ±.
func (m *maker) number(k quantity.Kind, n assess.Number) string {
	if !n.Known {
		return "not known"
	}
	return m.say(k, n.V) + plusMinus(k, n.Expanded(), m.u)
}

// grid is a table under a heading row.
// A column of it that says nothing is left out.
func grid(head []string, rows [][]string) Item { return written(0, head, rows) }

// written is a grid whose last columns, as many as pens, are for a pen.
func written(pens int, head []string, rows [][]string) Item {
	n := len(head) - pens
	keep := make([]bool, n)
	for _, r := range rows {
		for j := range keep {
			keep[j] = keep[j] || j < len(r) && r[j] != ""
		}
	}
	t := &Table{Head: true, Pens: pens}
	for _, r := range append([][]string{head}, rows...) {
		var out []string
		for j, k := range keep {
			if k {
				out = append(out, r[j])
			}
		}
		for j := range pens {
			if cell := n + j; cell < len(r) {
				out = append(out, r[cell])
			} else {
				out = append(out, "")
			}
		}
		t.Rows = append(t.Rows, out)
	}
	return Item{Table: t}
}

func figure(f Figure) Item { return Item{Figure: &f} }

// value is that of a finding with its ±; "-" where it has none.
func (m *maker) value(f assess.Finding) string {
	if !f.HasValue {
		return "-"
	}
	return m.say(f.Kind, f.Value) + plusMinus(f.Kind, f.Uncertainty, m.u)
}

func (m *maker) limit(f assess.Finding) string {
	if !f.HasLimit {
		return "-"
	}
	s := "at most "
	if f.AtLeast {
		s = "at least "
	}
	s += Magnitude(f.Kind, f.Limit, m.u)
	if f.Changed {
		s += " (changed)"
	}
	return s
}

// sentence is a text that ends as one.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if first, _, _ := strings.Cut(s, " "); !strings.ContainsAny(strings.TrimRight(first, ".,:;"), "._[") { // a path is as the file has it
		s = capital(s)
	}
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}

// box marks what can be ticked with a pen.
func tickBox(done bool) string {
	if done {
		return "☑"
	}
	return "☐"
}
