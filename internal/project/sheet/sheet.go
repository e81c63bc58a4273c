// Package sheet is a build as a person measures and types it: chapters in the
// order of the work, sections for its tables and list entries, and a row for every
// value that the file has or could have. It is made from the schema's own types
// and tags, and knows no screen.
package sheet

import (
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Sheet is all that a file can hold, in the order in which one measures it.
type Sheet struct {
	Sections []Section

	tables map[string]rowsOf // by path
	named  string            // the named tables that the file had
}

// Section is a table of the file, or an entry of a list of tables, or one that can
// be begun. Its rows are the values that it has or can have.
type Section struct {
	ID      string // its path in the text; with "/" and a word behind it for a part of a table
	Path    string // of its table in the text; for one that is not begun, where it would be
	Title   string
	Name    string // what an entry calls itself, "" where it does not
	Full    string // its title, behind those of what it is below
	About   string // what its table is
	Chapter int    // place in Chapters
	Depth   int    // below the head of its chapter or of the entry it belongs to
	List    string // path of the list or of the named tables it is an entry of, "" for neither
	Named   bool   // entries of the list have names and no order
	Index   int    // its place in the list
	Count   int    // how many entries the list has
	Begun   bool   // the file has it
	Rows    []Row
}

// Shape is how the value of a row is written.
type Shape uint8

// The shapes. A name is that of a table that is begun by it.
const (
	Text Shape = iota
	Quantity
	Switch
	Date
	Point
	Points
	Quantities
	Texts
	Words
	Name
)

// Row is one value.
type Row struct {
	Path    string // in the text, with entries of lists counted from 0
	Label   string
	Shape   Shape
	Kind    quantity.Kind // of a quantity, or of each of a list of them
	Choices []string      // what it may be, for words and a switch
	Offers  string        // the table it is commonly picked from; "" for none
	Text    string        // as the file has it, spelled as it is typed
	Given   bool
	InForce string // what holds while it is not given, where the program has a figure of its own
	About   string
	How     string
	From    string
	Need    bool   // its table is of no use without it
	Unless  string // keys of the same table that stand for it, with " or " between them; "" for none
	Own     bool   // it was found on this one alone, and is never carried over to another
	Lines   bool   // a text that may have several lines
	Ticked  bool   // it is written by doing: a job that is ticked, a weld that is made
}

// Chapters lists the headings of a sheet.
func Chapters() []string {
	out := make([]string, len(chapters))
	for i, c := range chapters {
		out[i] = c.title
	}
	return out
}

// chapter is what is measured in one go.
type chapter struct {
	title  string
	tables []string // keys at the top of the file; "" for the keys that are in no table
}

// chapters are in the order of the work. What a field's tag calls by a chapter's
// title stands there, whatever its table. A test wants every table in one of them.
var chapters = []chapter{
	{"Vehicle on its wheels", []string{"vehicle"}},
	{"Rails", []string{"rails"}},
	{"Powertrain on the stand", []string{"powertrain", "old_powertrain"}},
	{"Hung in place", []string{"placement"}},
	{"Mounts", []string{"mount", "torque_link", "roll_stop"}},
	{"Lines and their axles", []string{"line", "transfer_case"}},
	{"Steering shaft", []string{"steering"}},
	{"Wheels, springs and rods", []string{"pickup"}},
	{"What must be kept clear of", []string{"chassis", "exhaust"}},
	{speedsChapter, nil},
	{"Saw, stock and packing", []string{"shop", "stock", "sheet", "packing"}},
	{"Limits and load cases", []string{"limits", "loads"}},
	{"Subframe", []string{"subframe"}},
	{"Welds, fasteners and fluids", []string{"weld", "fastener", "fluid"}},
	{"Gauge, readings and measurements", []string{"gauge", "tool", "point", "survey", "reading", "measure"}},
	{"Jobs, and what is judged elsewhere", []string{"job", "elsewhere"}},
	{"What may move, and trials", []string{"find", "trial"}},
	{"Units, name and notes", []string{"", "units"}},
}

const speedsChapter = "Speeds, weights and tyres"

// Row returns the row of a path, with the section it is in.
func (s *Sheet) Row(path string) (Section, Row, bool) {
	for _, sec := range s.Sections {
		for _, r := range sec.Rows {
			if r.Path == path {
				return sec, r, true
			}
		}
	}
	return Section{}, Row{}, false
}

// Given counts the rows that the file has.
func (s Section) Given() int {
	n := 0
	for _, r := range s.Rows {
		if r.Given {
			n++
		}
	}
	return n
}

// Entry reports whether the section is an entry of a list, or a table with a name of
// its own: it can be taken out, copied and moved.
func (s Section) Entry() bool { return s.List != "" && s.Begun && s.ID == s.Path }

// Wants reports whether a row waits to be typed because its table is begun and of no
// use without it.
func (s Section) Wants(r Row) bool {
	return s.Begun && r.Need && !r.Given && (r.Unless == "" || !slices.ContainsFunc(s.Rows, func(o Row) bool {
		return o.Given && slices.Contains(strings.Split(r.Unless, " or "), lastKey(o.Path))
	}))
}

// Of returns the sheet of a file. The names in begun are paths of named tables, such as
// mount.gearbox, that somebody has begun and that hold nothing yet.
func Of(f *project.File, begun ...string) *Sheet { return After(nil, f, begun...) }

// After is Of for a file that an edit has made of the one that was is the sheet of:
// tables in which nothing was changed have the same rows. Rows are not to be written to.
func After(was *Sheet, f *project.File, begun ...string) *Sheet {
	m := &maker{f: f, begun: begun, out: Sheet{tables: map[string]rowsOf{}, named: namedIn(f)}}
	if was != nil && was.named == m.out.named {
		m.was = was.tables
		m.out.Sections = make([]Section, 0, len(was.Sections)+4)
	}
	for i, c := range chapters {
		m.chapter = i
		for _, key := range c.tables {
			m.top(key)
		}
		m.out.Sections = append(m.out.Sections, m.aside[i]...)
	}
	m.out.full()
	return &m.out
}

// full names each section behind those that it is below: its chapter, where its table
// has no section.
func (s *Sheet) full() {
	var above []string
	for i := range s.Sections {
		sec := &s.Sections[i]
		if i > 0 && sec.Chapter != s.Sections[i-1].Chapter {
			above = above[:0]
		}
		if len(above) == 0 && sec.Depth > 0 {
			above = append(above, chapters[sec.Chapter].title)
		}
		above = above[:min(sec.Depth, len(above))]
		above = append(above, sec.Title)
		sec.Full = strings.Join(above, ", ")
	}
}
