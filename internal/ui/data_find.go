package ui

import (
	"slices"
	"strconv"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

func itoa(i int) string { return strconv.Itoa(i) }

// dataFind finds a row of the data page by words of its name, of what it is, or of its
// path.
type dataFind struct {
	field field.Model
	at    int
	all   []found // in the order of the sheet
	hits  []found
}

// found is a row that can be gone to.
type found struct{ path, text, about, value string }

func newDataFind(m *Model) *dataFind {
	d := &dataFind{field: field.New("Find a value", "", nil).WithTheme(m.theme)}
	chapters := sheet.Chapters()
	for _, s := range m.data.Sheet.Sections {
		for _, r := range s.Rows {
			d.all = append(d.all, found{
				path: r.Path, text: s.Full + ": " + r.Label, value: r.Text,
				about: strings.ToLower(chapters[s.Chapter] + " " + s.Full + " " + r.Label + " " + r.About + " " + r.Path),
			})
		}
	}
	d.search()
	return d
}

// search ranks what answers: by its name first, then by what it is.
func (d *dataFind) search() {
	query := d.field.Text()
	words := strings.Fields(strings.ToLower(query))
	if len(words) == 0 {
		d.hits = d.all
		return
	}
	type hit struct {
		found
		rank int
	}
	var hits []hit
	for _, x := range d.all {
		r, ok := fits(strings.ToLower(x.text), words, strings.Join(words, " "))
		if !ok {
			if r, ok = fits(x.about, words, ""); !ok {
				continue
			}
			r += 100
		}
		hits = append(hits, hit{x, r})
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.rank - b.rank })
	d.hits = d.hits[:0:0]
	for _, h := range hits {
		d.hits = append(d.hits, h.found)
	}
}

func (d *dataFind) key(m *Model, k tea.KeyMsg) {
	switch k.String() {
	case "esc", "ctrl+c":
		m.close()
	case "up":
		d.at = pane.Cursor(d.at-1, len(d.hits))
	case "down":
		d.at = pane.Cursor(d.at+1, len(d.hits))
	case "enter":
		m.close()
		if len(d.hits) > 0 {
			m.openData().Go(d.hits[pane.Cursor(d.at, len(d.hits))].path)
		}
	default:
		d.field, _ = d.field.Update(k)
		d.at = 0
		d.search()
	}
}

func (d *dataFind) size(w, h int) (int, int) { return min(84, w-4), min(20, h-4) }

func (d *dataFind) draw(m *Model, w, h int) (string, string, []string) {
	lines := []string{d.field.View(w)[1], ""}
	room := max(h-len(lines), 0)
	top := pane.Window(d.at, len(d.hits), room)
	for i := top; i < len(d.hits) && i-top < room; i++ {
		x := d.hits[i]
		mark, role := "  ", theme.Text
		if i == d.at {
			mark, role = m.theme.Focus+" ", theme.Selected
		}
		lines = append(lines, m.theme.Cut(m.theme.Paint(role, m.theme.Pad(mark+m.theme.Plain(project.Printable(x.text)), w*6/10))+
			" "+m.theme.Paint(theme.Dim, m.theme.Plain(project.Printable(x.value))), w))
	}
	if len(d.hits) == 0 {
		lines = append(lines, "  no value answers to that")
	}
	return "Find a value", "enter goes there, esc leaves", lines
}
