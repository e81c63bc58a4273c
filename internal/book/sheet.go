package book

import (
	"strings"

	"fitup/internal/project"
)

// Sheet is what one reader needs, in reading order. All its text is fit for a
// document: whatever came from a file is without control characters. Whoever
// prints it chooses width, signs and face.
type Sheet struct {
	Title    string // "" where what it comes with says it
	Sections []Section
}

// Section is a heading, or none, with what stands under it.
type Section struct {
	Head  string
	Items []Item
	Own   bool // it is for somebody by itself, and begins on a page of its own
}

// Item is a text or a table.
type Item struct {
	// Text is a sentence or a few. Line ends in it are for a printer that does
	// not break lines by itself, and mean no more than a space.
	Text   string
	Table  *Table
	Figure *Figure // in the book only
	Depth  int     // steps that it is set in
}

// Table is cells in rows; the first may be a heading.
type Table struct {
	Rows  [][]string
	First int  // least width of the first column in signs, so that tables under each other line up
	Head  bool // the first row is a heading
	Pens  int  // columns at the end that are for a pen
}

func (s *Sheet) add(head string, items ...Item) {
	s.Sections = append(s.Sections, Section{Head: head, Items: items})
}

func text(depth int, lines ...string) []Item {
	var out []Item
	for _, l := range lines {
		out = append(out, Item{Text: l, Depth: depth})
	}
	return out
}

func table(depth, first int, rows [][]string) Item {
	return Item{Table: &Table{Rows: rows, First: first}, Depth: depth}
}

// clean makes all text of a sheet fit for a document; names come from the file.
func (s Sheet) clean() Sheet {
	s.Title = project.Printable(s.Title)
	for i := range s.Sections {
		sec := &s.Sections[i]
		sec.Head = project.Printable(sec.Head)
		for j := range sec.Items {
			it := &sec.Items[j]
			lines := strings.Split(it.Text, "\n")
			for k := range lines {
				lines[k] = project.Printable(lines[k])
			}
			it.Text = strings.Join(lines, "\n")
			if it.Figure != nil {
				it.Figure.Title = project.Printable(it.Figure.Title)
				it.Figure.Name = fileName(it.Figure.Name)
			}
			if it.Table == nil {
				continue
			}
			for _, row := range it.Table.Rows {
				for k := range row {
					row[k] = project.Printable(row[k])
				}
			}
		}
	}
	return s
}

// capital is s with its first letter large.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
