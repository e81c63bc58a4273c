package book

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/book/paper"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// Room on a page of the book, mm: on the left for holes.
const (
	bookLeft   = 18.0
	bookRight  = 11.0
	bookTop    = 17.0
	bookBottom = 15.0
	bodySize   = 3.2
	bodyLead   = 4.5
	cellSize   = 2.9
	cellLead   = 3.9
	cellPad    = 1.2
	headSize   = 4.0
	titleSize  = 6.0
	stepIn     = 4.0
)

// layout sets chapters on pages.
type layout struct {
	size    PaperSize
	from    Origin
	pages   []*paper.Page
	titles  []string // of the chapter on each page
	y       float64  // where the next line's top is
	chapter string
	entries []entry // of the list of contents, to be numbered
	starts  map[string]int
}

// entry is a line of the list of contents.
type entry struct {
	page *paper.Page
	y    float64
	key  string
}

// Pages sets chapters on sheets of a size, with page numbers, headings and feet.
func Pages(chapters []Chapter, size PaperSize, from Origin) []*paper.Page {
	l := &layout{size: size, from: from, starts: map[string]int{}}
	for i, c := range chapters {
		l.chapter = c.Title
		if !c.Missing || i == 0 || l.room() < 60 {
			l.turn()
		} else {
			l.y -= bodyLead
		}
		page := l.page()
		page.Marks = append(page.Marks, paper.Bookmark{Text: c.Title})
		l.starts[c.Key] = len(l.pages)
		title := c.Title
		if c.Key == "cover" {
			l.cover(chapters)
		} else {
			l.words(title, titleSize, titleSize*1.25, 0, true)
			l.y -= 2
		}
		for _, s := range c.Sections {
			l.section(s)
		}
	}
	l.finish()
	return l.pages
}

func (l *layout) page() *paper.Page { return l.pages[len(l.pages)-1] }

func (l *layout) wide() float64 { return l.size.Wide - bookLeft - bookRight }

// room is what is left on the page.
func (l *layout) room() float64 { return l.y - bookBottom }

func (l *layout) turn() {
	l.pages = append(l.pages, &paper.Page{Wide: l.size.Wide, High: l.size.High})
	l.titles = append(l.titles, l.chapter)
	l.y = l.size.High - bookTop
}

// need turns the page where there is less room; a page that is still empty has
// all there is.
func (l *layout) need(high float64) bool {
	if l.room() >= high || l.y >= l.size.High-bookTop {
		return false // there is room, or there is no more on any page
	}
	l.turn()
	return true
}

// words sets a text in lines.
func (l *layout) words(text string, size, lead, in float64, bold bool) {
	for _, line := range paper.Regular().Wrap(settled(text), size, l.wide()-in) {
		l.need(lead)
		l.y -= lead
		l.page().Type(r2.Vec{X: bookLeft + in, Y: l.y + lead*0.25}, line, size, bold)
	}
}

// settled is a text as the face can print it: lines are broken by the widths of
// what is printed.
func settled(text string) string {
	text, _ = paper.Regular().Settle(text)
	return text
}

func (l *layout) cover(chapters []Chapter) {
	name := l.from.Build
	if name == "" {
		name = "A build without a name"
	}
	const most = 4 // lines of a name
	lines := paper.Regular().Wrap(settled(name), 8, l.wide())
	if len(lines) > most {
		lines = append(lines[:most-1], lines[most-1]+"…")
	}
	for _, t := range lines {
		l.words(t, 8, 10, 0, true)
	}
	l.words("Build book", titleSize, titleSize*1.3, 0, false)
	l.words(l.from.Foot(), bodySize, bodyLead*1.2, 0, false)
	l.y -= 3
	if len(chapters) < 2 {
		return
	}
	for _, c := range chapters[1:] {
		l.y -= bodyLead
		l.page().Type(r2.Vec{X: bookLeft, Y: l.y + 1}, c.Title, bodySize, false)
		l.entries = append(l.entries, entry{l.page(), l.y + 1, c.Key})
	}
	l.y -= 4
}

func (l *layout) section(s Section) {
	if s.Own {
		l.turn()
	}
	if s.Head != "" {
		l.need(headSize*3 + l.firstHigh(s.Items))
		l.y -= 3
		l.words(s.Head, headSize, headSize*1.35, 0, true)
		if page := l.page(); page != nil {
			page.Marks = append(page.Marks, paper.Bookmark{Text: s.Head, Level: 1})
		}
	}
	for i, it := range s.Items {
		in := stepIn * float64(it.Depth)
		switch {
		case it.Figure != nil:
			l.figure(it.Figure)
		case it.Table != nil:
			l.table(it.Table, in, l.noteHigh(s.Items[i+1:]))
		default:
			if note := l.noteHigh(s.Items[i+1:]); note > 0 { // the last two of a list together
				l.need(l.noteHigh(s.Items[i:i+1]) + note)
			}
			l.words(it.Text, bodySize, bodyLead, in, false)
		}
		l.y -= 1
	}
}

// noteHigh is how high a note is that ends a section, and stays with what is above it:
// nothing for a longer text.
func (l *layout) noteHigh(items []Item) float64 {
	const most = 3 // lines
	if len(items) != 1 || items[0].Text == "" {
		return 0
	}
	lines := paper.Regular().Wrap(settled(items[0].Text), bodySize, l.wide()-stepIn*float64(items[0].Depth))
	if len(lines) > most {
		return 0
	}
	return 1 + bodyLead*float64(len(lines))
}

// firstHigh is what a heading must have below it to stay with it.
func (l *layout) firstHigh(items []Item) float64 {
	switch {
	case len(items) == 0:
	case items[0].Figure != nil:
		return items[0].Figure.High + bodyLead
	case items[0].Table != nil && len(items[0].Table.Rows) > 0:
		t := items[0].Table
		return l.begin(t, columnWidths(t, l.wide()-stepIn*float64(items[0].Depth)))
	}
	return 3 * bodyLead
}

// begin is how high the beginning of a table is: its first row, and where that is a
// heading the one under it, as far as one is not too long to be kept together.
func (l *layout) begin(t *Table, widths []float64) float64 {
	const most = 14 // lines
	lines, rows := min(tall(cellsOf(t.Rows[0], widths)), most), 1.0
	if t.Head && len(t.Rows) > 1 {
		lines += min(tall(cellsOf(t.Rows[1], widths)), most)
		rows++
	}
	return float64(lines)*cellLead + 2*rows*cellPad
}

func (l *layout) figure(f *Figure) {
	if f.Wide > l.wide() {
		l.across(f)
		return
	}
	l.need(f.High + bodyLead)
	l.y -= f.High
	f.draw(l.page(), r2.Box{Min: r2.Vec{X: bookLeft, Y: l.y}, Max: r2.Vec{X: bookLeft + l.wide(), Y: l.y + f.High}})
	l.words(f.Title, cellSize, cellLead, 0, false)
}

// across sets a figure on a page of its own that lies across.
func (l *layout) across(f *Figure) {
	p := &paper.Page{Wide: l.size.High, High: l.size.Wide}
	l.pages, l.titles = append(l.pages, p), append(l.titles, l.chapter)
	left, top := (p.Wide-f.Wide)/2, p.High-13
	f.draw(p, r2.Box{Min: r2.Vec{X: left, Y: top - f.High}, Max: r2.Vec{X: left + f.Wide, Y: top}})
	for i, line := range paper.Regular().Wrap(settled(f.Title), cellSize, f.Wide) {
		p.Type(r2.Vec{X: left, Y: top - f.High - 4 - cellLead*float64(i)}, line, cellSize, false)
	}
	l.y = 0 // nothing else has room on it
}

// table sets rows under each other, each cell in as many lines as it takes. The last
// ones stay with a note below them.
func (l *layout) table(t *Table, in, note float64) {
	if len(t.Rows) == 0 {
		return
	}
	widths := columnWidths(t, l.wide()-in)
	for i, row := range t.Rows {
		cells := cellsOf(row, widths)
		lines := tall(cells)
		bold := t.Head && i == 0
		switch left := len(t.Rows) - i; {
		case bold && len(t.Rows) > 1: // a heading stays with its first row
			l.need(l.begin(t, widths))
		case left == lastRows && i > lastRows: // so that no page has a row or two alone
			if l.need(l.end(t, widths)+3+note) && t.Head {
				l.row(cellsOf(t.Rows[0], widths), widths, in, true)
			}
		}
		if l.need(min(float64(lines)*cellLead+2*cellPad, l.size.High-bookTop-bookBottom)) && t.Head && i > 0 {
			l.row(cellsOf(t.Rows[0], widths), widths, in, true)
		}
		l.row(cells, widths, in, bold)
	}
	l.y -= 2
}

// lastRows is how many rows a table ends with on one page, where they are not too long.
const lastRows = 4

// end is how high the end of a table is, as far as it is kept together.
func (l *layout) end(t *Table, widths []float64) float64 {
	const most = 20 // lines
	lines := 0
	for _, row := range t.Rows[len(t.Rows)-lastRows:] {
		lines += tall(cellsOf(row, widths))
	}
	if lines > most {
		return 0
	}
	return float64(lines)*cellLead + 2*lastRows*cellPad
}

func cellsOf(row []string, widths []float64) [][]string {
	out := make([][]string, len(row))
	for j, c := range row {
		out[j] = paper.Regular().Wrap(settled(c), cellSize, widths[j]-2*cellPad)
	}
	return out
}

// tall is in how many lines a row is set.
func tall(cells [][]string) int {
	most := 1
	for _, c := range cells {
		most = max(most, len(c))
	}
	return most
}

// row sets one row, over as many pages as it takes, and rules it off.
func (l *layout) row(cells [][]string, widths []float64, in float64, bold bool) {
	l.y -= cellPad
	if len(cells) == 0 { // a line to write on
		l.y -= cellLead
	}
	for k := range tall(cells) {
		if l.room() < cellLead {
			l.turn()
		}
		l.y -= cellLead
		x := bookLeft + in
		for j, c := range cells {
			if k < len(c) {
				l.page().Type(r2.Vec{X: x + cellPad, Y: l.y + 1}, c[k], cellSize, bold)
			}
			x += widths[j]
		}
	}
	l.y -= cellPad
	l.page().Line([]r2.Vec{{X: bookLeft + in, Y: l.y}, {X: bookLeft + l.wide(), Y: l.y}}, scene.Style{Role: scene.RolePaper})
}

// penWide is the least width of a column that is written in, mm.
const penWide = 26.0

// columnWidths shares the room: what is narrow keeps its width, the rest is
// shared among what would take more. What is left over goes to the columns for a
// pen, or to the last.
func columnWidths(t *Table, room float64) []float64 {
	n := 0
	for _, row := range t.Rows {
		n = max(n, len(row))
	}
	want := make([]float64, n)
	for _, row := range t.Rows {
		for j, c := range row {
			want[j] = max(want[j], paper.Regular().Width(settled(c), cellSize)*1.04+2*cellPad)
		}
	}
	for j := range t.Pens {
		want[n-1-j] = max(want[n-1-j], penWide)
	}
	out := make([]float64, n)
	open, left := n, room
	done := make([]bool, n)
	for changed := true; changed && open > 0; {
		changed = false
		share := left / float64(open)
		for j := range want {
			if !done[j] && want[j] <= share {
				out[j], done[j], changed = want[j], true, true
				left -= want[j]
				open--
			}
		}
	}
	roots := 0.0 // what takes more has more, but not all of it: a cell of many lines leaves room for the others
	for j := range want {
		if want[j] = min(want[j], 1.5*room); !done[j] {
			roots += math.Sqrt(want[j])
		}
	}
	for j := range out {
		if !done[j] {
			out[j] = left * math.Sqrt(want[j]) / roots
		}
	}
	if open == 0 && n > 0 {
		share := max(t.Pens, 1)
		for j := range share {
			out[n-1-j] += left / float64(share)
		}
	}
	return out
}

// finish numbers the pages, and fills the list of contents.
func (l *layout) finish() {
	for i, p := range l.pages {
		number := fmt.Sprintf("%d of %d", i+1, len(l.pages))
		wide := paper.Regular().Width(number, 2.6)
		p.Type(r2.Vec{X: p.Wide - bookRight - wide, Y: 8}, number, 2.6, false)
		p.Type(r2.Vec{X: bookLeft, Y: 8}, l.from.within(2.6, l.wide()-wide-6), 2.6, false)
		if i > 0 {
			p.Type(r2.Vec{X: bookLeft, Y: p.High - 11}, l.titles[i], 2.6, false)
		}
	}
	for _, e := range l.entries {
		number := fmt.Sprint(l.starts[e.key])
		e.page.Type(r2.Vec{X: bookLeft + 95, Y: e.y}, number, bodySize, false)
	}
	lost := false
	for _, p := range l.pages {
		lost = lost || p.Lost || strings.ContainsRune(p.String(), paper.NoSign)
	}
	if lost {
		p := l.pages[len(l.pages)-1]
		p.Type(r2.Vec{X: bookLeft, Y: 11.5}, string(paper.NoSign)+" stands for a sign that the printed letters do not have; the file has it.", 2.4, false)
	}
}
