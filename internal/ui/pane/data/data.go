// Package data is the page on which every value that the file can hold stands and
// can be typed: chapters that open, the tables and list entries in them, and a row
// for each value.
package data

import (
	"fmt"
	"strings"

	"fitup/internal/project/sheet"
	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
)

// Page is the state of the page: where the cursor stands, what is open, and what is
// being typed.
type Page struct {
	Sheet  *sheet.Sheet
	Waits  map[string][]string // titles of the findings that lack the value, or the table, at a path
	Drafts map[string]string   // typed, and not in the file because they cannot stand alone
	Typing *Typing             // the row that is being typed; nil for none
	Offer  string              // what the other side has for the row under the cursor
	// Follows is where the point lies that the row under the cursor belongs to or names.
	Follows string
	// Picture draws where what stands at a path is, for w by h cells; nil for nowhere.
	Picture func(w, h int, path string) []string

	at     spot
	folds  map[string]bool // chapters and sections opened or shut by hand
	open   []line          // the lines that are open, of openOf; nil where they have to be found anew
	openOf *sheet.Sheet
}

// Typing is a row that is being typed.
type Typing struct {
	Path    string
	Field   field.Model
	Lines   *field.Lines // the text where it has several lines; nil for one
	Was     string       // the text that it began with
	Choices []string     // what can be picked, the best first
	Picked  int          // which of them, -1 for what is typed
	Refused string       // why it was not taken
}

// Text is what stands typed.
func (t *Typing) Text() string {
	if t.Lines != nil {
		return t.Lines.Text()
	}
	return t.Field.Text()
}

// Cursor is how many signs of it stand before the cursor.
func (t *Typing) Cursor() int {
	if t.Lines != nil {
		return t.Lines.Cursor()
	}
	return t.Field.Cursor()
}

// spot is where the cursor can stand: the head of a chapter or of a section, or a row.
// It outlives a change of the file.
type spot struct {
	kind kind
	id   string // title, ID or path
}

type kind uint8

const (
	chapterHead kind = iota
	sectionHead
	valueRow
)

// line is one line of the list.
type line struct {
	kind     kind
	chapter  int
	sec, row int
}

// spotOf is the place of a line.
func (p *Page) spotOf(l line) spot {
	switch l.kind {
	case chapterHead:
		return spot{chapterHead, sheet.Chapters()[l.chapter]}
	case sectionHead:
		return spot{sectionHead, p.Sheet.Sections[l.sec].ID}
	}
	return spot{valueRow, p.Sheet.Sections[l.sec].Rows[l.row].Path}
}

// lines are those that are open, in order. They are found once for each sheet and each
// fold.
func (p *Page) lines() []line {
	if p.open == nil || p.openOf != p.Sheet {
		p.open, p.openOf = p.found(), p.Sheet
	}
	return p.open
}

func (p *Page) found() []line {
	var out []line
	secs := p.Sheet.Sections
	chapters := sheet.Chapters()
	for i := 0; i < len(secs); {
		c := secs[i].Chapter
		end := i
		for end < len(secs) && secs[end].Chapter == c {
			end++
		}
		out = append(out, line{kind: chapterHead, chapter: c, sec: i})
		if p.folds["/"+chapters[c]] {
			out = p.sections(out, i, end)
		}
		i = end
	}
	return out
}

// sections adds the lines of the sections of an open chapter.
func (p *Page) sections(out []line, from, to int) []line {
	secs := p.Sheet.Sections
	for i := from; i < to; i++ {
		s := secs[i]
		lone := to-from == 1
		if !lone {
			out = append(out, line{kind: sectionHead, chapter: s.Chapter, sec: i})
		}
		if !lone && !p.unfolded(s) {
			for i+1 < to && secs[i+1].Depth > s.Depth { // what is below it is shut too
				i++
			}
			continue
		}
		for j := range s.Rows {
			out = append(out, line{kind: valueRow, chapter: s.Chapter, sec: i, row: j})
		}
	}
	return out
}

// unfolded reports whether a section is open: by hand, or because it holds something or
// is no entry of a list.
func (p *Page) unfolded(s sheet.Section) bool {
	if open, ok := p.folds[s.ID]; ok {
		return open
	}
	return s.Begun || s.List == "" && s.Depth == 0
}

// cursor is the line on which the cursor stands: the head of what it is in where its own
// line is not on show.
func (p *Page) cursor(lines []line) int {
	best := 0
	for i, l := range lines {
		switch at := p.spotOf(l); {
		case at == p.at:
			return i
		case at.kind == sectionHead && strings.HasPrefix(p.at.id, at.id):
			best = i
		}
	}
	return best
}

// Here is the section and the row under the cursor; without a row on a head.
func (p *Page) Here() (sec sheet.Section, row sheet.Row, isRow bool) {
	lines := p.lines()
	if len(lines) == 0 {
		return sec, row, false
	}
	l := lines[p.cursor(lines)]
	sec = p.Sheet.Sections[l.sec]
	switch l.kind {
	case valueRow:
		return sec, sec.Rows[l.row], true
	case chapterHead:
		return sheet.Section{Chapter: l.chapter}, row, false
	}
	return sec, row, false
}

// OnChapter reports whether the cursor stands on the head of a chapter.
func (p *Page) OnChapter() bool {
	lines := p.lines()
	return len(lines) == 0 || lines[p.cursor(lines)].kind == chapterHead
}

// Go puts the cursor on the row of a path, or on the head of a section, and opens what
// it is in. It reports whether there is such a row.
func (p *Page) Go(path string) bool {
	for i, s := range p.Sheet.Sections {
		for _, r := range s.Rows {
			if r.Path == path {
				p.reveal(i)
				p.fold(s.ID, true)
				p.at = spot{valueRow, path}
				return true
			}
		}
	}
	for i, s := range p.Sheet.Sections {
		if s.ID != path {
			continue
		}
		p.reveal(i)
		p.at = spot{sectionHead, s.ID}
		if lines := p.lines(); p.spotOf(lines[p.cursor(lines)]) != p.at && len(s.Rows) > 0 { // it has no head of its own
			p.at = spot{valueRow, s.Rows[0].Path}
		}
		return true
	}
	return false
}

// reveal opens the chapter of a section and the sections that it is below.
func (p *Page) reveal(i int) {
	secs := p.Sheet.Sections
	p.fold("/"+sheet.Chapters()[secs[i].Chapter], true)
	depth := secs[i].Depth
	for j := i - 1; j >= 0 && depth > 0 && secs[j].Chapter == secs[i].Chapter; j-- {
		if secs[j].Depth < depth {
			depth = secs[j].Depth
			p.fold(secs[j].ID, true)
		}
	}
}

func (p *Page) fold(id string, open bool) {
	if p.folds == nil {
		p.folds = map[string]bool{}
	}
	p.folds[id] = open
	p.open = nil
}

// Key moves the cursor and opens and shuts what it stands on.
func (p *Page) Key(id action.ID, _ pane.View) pane.Intent {
	switch id {
	case pane.Up:
		p.Move(-1)
	case pane.Down:
		p.Move(1)
	case pane.More:
		p.Fold(true)
	case pane.Less:
		p.Fold(false)
	case pane.NextLeaf:
		p.leap(1)
	case pane.PrevLeaf:
		p.leap(-1)
	}
	return nil
}

// Move moves the cursor by a number of lines.
func (p *Page) Move(by int) {
	lines := p.lines()
	if len(lines) > 0 {
		p.at = p.spotOf(lines[pane.Cursor(p.cursor(lines)+by, len(lines))])
	}
}

// Fold opens or shuts what the cursor stands on; a row shuts the section it is in.
func (p *Page) Fold(open bool) {
	lines := p.lines()
	if len(lines) == 0 {
		return
	}
	at := p.cursor(lines)
	l := lines[at]
	switch {
	case l.kind == chapterHead:
		p.fold("/"+sheet.Chapters()[l.chapter], open)
	case l.kind == sectionHead && (open || p.unfolded(p.Sheet.Sections[l.sec])):
		p.fold(p.Sheet.Sections[l.sec].ID, open)
	case open:
	default: // to the head above
		for at > 0 && lines[at-1].kind == valueRow {
			at--
		}
		for at--; at > 0 && l.kind == sectionHead && lines[at].kind != chapterHead; {
			at--
		}
		p.at = p.spotOf(lines[max(at, 0)])
	}
}

// Toggle opens what the cursor stands on, or shuts it.
func (p *Page) Toggle() {
	lines := p.lines()
	if len(lines) == 0 {
		return
	}
	switch l := lines[p.cursor(lines)]; l.kind {
	case chapterHead:
		p.Fold(!p.folds["/"+sheet.Chapters()[l.chapter]])
	case sectionHead:
		p.Fold(!p.unfolded(p.Sheet.Sections[l.sec]))
	}
}

// leap goes to the next head, or the one before.
func (p *Page) leap(by int) {
	lines := p.lines()
	for at := p.cursor(lines) + by; at >= 0 && at < len(lines); at += by {
		if lines[at].kind != valueRow {
			p.at = p.spotOf(lines[at])
			return
		}
	}
}

// Next puts the cursor on the next row, or with by = -1 on the one before, and opens the
// chapter that it comes to. It stops on the head of a section that is shut, and reports
// whether it stands on a row.
func (p *Page) Next(by int) bool {
	lines := p.lines()
	at := p.cursor(lines)
	for at += by; at >= 0 && at < len(lines); at += by {
		l := lines[at]
		p.at = p.spotOf(l)
		switch {
		case l.kind == valueRow:
			return true
		case l.kind == sectionHead && by > 0 && !p.unfolded(p.Sheet.Sections[l.sec]), l.kind == chapterHead && by > 0:
			return false
		}
	}
	return false
}

// Missing reports whether a row waits to be typed: a finding lacks it, or its table is
// begun and of no use without it.
func (p *Page) Missing(s sheet.Section, r sheet.Row) bool {
	return !r.Given && (len(p.Waits[r.Path]) > 0 || s.Wants(r))
}

// NextMissing puts the cursor on the next row that is missing, round the whole sheet.
func (p *Page) NextMissing() bool {
	var all []string
	here := 0
	lines := p.lines()
	at := p.at
	if len(lines) > 0 {
		at = p.spotOf(lines[p.cursor(lines)])
	}
	passed := false
	for _, s := range p.Sheet.Sections {
		if at.kind == sectionHead && s.ID == at.id {
			passed, here = true, len(all)
		}
		for _, r := range s.Rows {
			if r.Path == at.id {
				passed = true
				here = len(all)
				if p.Missing(s, r) {
					here++
				}
			}
			if p.Missing(s, r) {
				all = append(all, r.Path)
			}
		}
	}
	if len(all) == 0 {
		return false
	}
	if !passed {
		here = 0
	}
	return p.Go(all[here%len(all)])
}

// counted says what a run of sections has: given, missing, or not needed yet.
func (p *Page) counted(secs []sheet.Section) (text string, missing int) {
	given := 0
	for _, s := range secs {
		given += s.Given()
		for _, r := range s.Rows {
			if p.Missing(s, r) {
				missing++
			}
		}
		if s.ID == s.Path && len(p.Waits[s.Path]) > 0 && s.Given() == 0 {
			missing++
		}
	}
	switch {
	case missing > 0:
		return fmt.Sprintf("%d given, %d missing", given, missing), missing
	case given == 0:
		return "not needed yet", 0
	}
	return fmt.Sprintf("%d given", given), 0
}
