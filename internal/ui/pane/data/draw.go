package data

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// Sizes of the page.
const (
	besideWidth  = 100 // from here on the words about a row stand beside the list
	belowHeight  = 9   // lines that they have below it
	leastPicture = 9   // lines of a drawing that can be read
	leastSmall   = 7   // and of one below the list
	smallWidth   = 32  // columns of that
	labelWidth   = 25
	smallLabel   = 19
)

// Draw draws the list, and the words about the row under the cursor beside or below it.
func (p *Page) Draw(w, h int, v pane.View) pane.Frame {
	f := pane.Frame{Title: "Data", Note: "esc closes"}
	lines := p.lines()
	if len(lines) == 0 {
		return f
	}
	at := p.cursor(lines)
	f.Title = "Data: " + sheet.Chapters()[lines[at].chapter]
	room := max(h, 1)
	if w >= besideWidth {
		lw := w * 56 / 100
		list := p.list(lw, room, lines, at, v)
		words := p.pictured(w-lw-3, room, lines[at], v, p.words(w-lw-3, room, lines[at], v))
		for i := range room {
			row := ""
			if i < len(list) {
				row = list[i]
			}
			row = v.Theme.Pad(row, lw) + v.Theme.Paint(theme.Border, " "+v.Theme.Light.Down+" ")
			if i < len(words) {
				row += words[i]
			}
			f.Text = append(f.Text, row)
		}
	} else {
		below := min(belowHeight, room/2)
		words := p.small(w-2, below-1, lines[at], v)
		f.Text = append(f.Text, p.list(w, room-below, lines, at, v)...)
		for len(f.Text) < room-below {
			f.Text = append(f.Text, "")
		}
		f.Text = append(f.Text, v.Theme.Paint(theme.Border, strings.Repeat(v.Theme.Light.Across, w)))
		for _, l := range words {
			f.Text = append(f.Text, " "+l)
		}
		for len(f.Text) < room {
			f.Text = append(f.Text, "")
		}
	}
	return f
}

// pictured are the words about a line with a drawing in the lower half of their column,
// where they leave that free.
func (p *Page) pictured(w, h int, l line, v pane.View, words []string) []string {
	rows := h - h/2
	if p.Picture == nil || l.kind == chapterHead || rows < leastPicture || len(words) >= h/2 {
		return words
	}
	lines := p.Picture(w, rows, p.path(l))
	if len(lines) == 0 {
		return words
	}
	for len(words) < h-len(lines) {
		words = append(words, "")
	}
	return append(words, lines...)
}

// path is that of a row, or of the table that a head stands over.
func (p *Page) path(l line) string {
	if l.kind == valueRow {
		return p.Sheet.Sections[l.sec].Rows[l.row].Path
	}
	return p.Sheet.Sections[l.sec].Path
}

// small are the words about a line where they stand below the list, with a small drawing
// beside them where both have room.
func (p *Page) small(w, h int, l line, v pane.View) []string {
	lw := w * 55 / 100
	narrow := p.words(lw, h+1, l, v)
	if p.Picture == nil || l.kind == chapterHead || h < leastSmall || w-lw < smallWidth || len(narrow) > h {
		return p.words(w, h, l, v)
	}
	lines := p.Picture(w-lw-1, h, p.path(l))
	if len(lines) == 0 {
		return p.words(w, h, l, v)
	}
	out := make([]string, h)
	for i := range out {
		if i < len(narrow) {
			out[i] = narrow[i]
		}
		out[i] = v.Theme.Pad(out[i], lw) + " "
		if i < len(lines) {
			out[i] += lines[i]
		}
	}
	return out
}

// list draws the lines that are in sight.
func (p *Page) list(w, h int, lines []line, at int, v pane.View) []string {
	top := pane.Window(at, len(lines), h)
	v.Hide(len(lines), top, h)
	out := make([]string, 0, h)
	for i := top; i < min(len(lines), top+h); i++ {
		out = append(out, v.Theme.Cut(p.line(w, lines[i], i == at, v), w))
	}
	return out
}

func (p *Page) line(w int, l line, cursor bool, v pane.View) string {
	mark, role := v.Mark(cursor, theme.Text)
	if l.kind == valueRow {
		return p.value(w, l, mark, role, v)
	}
	secs, title, indent, open := p.Sheet.Sections[l.sec:l.sec+1], "", "", false
	if l.kind == chapterHead {
		secs, title, open = p.chapter(l.sec), sheet.Chapters()[l.chapter], p.folds["/"+sheet.Chapters()[l.chapter]]
		if role == theme.Text {
			role = theme.Title
		}
	} else {
		s := secs[0]
		title, open, indent = s.Title, p.unfolded(s), strings.Repeat("  ", s.Depth+1)
		if !open {
			secs = p.below(l.sec)
		}
	}
	sign := "+ "
	if open {
		sign = "- "
	}
	text, missing := p.counted(secs)
	tail := theme.Dim
	if missing > 0 {
		tail = theme.Doubt
	}
	room := max(w-theme.Width(text)-1, 0)
	head := mark + indent + sign + v.Theme.Plain(project.Printable(title))
	return v.Theme.Paint(role, v.Theme.Pad(v.Theme.Cut(head, room), room)) + " " + v.Theme.Paint(tail, text)
}

// chapter is a section with the rest of its chapter.
func (p *Page) chapter(i int) []sheet.Section {
	secs := p.Sheet.Sections
	end := i
	for end < len(secs) && secs[end].Chapter == secs[i].Chapter {
		end++
	}
	return secs[i:end]
}

// missing says what sections lack, and which findings wait for it.
func (p *Page) missing(secs []sheet.Section) []string {
	var out []string
	add := func(what string, names []string) {
		if len(names) > 0 {
			what += ": " + strings.Join(names, "; ")
		}
		out = append(out, "Missing "+what+".")
	}
	for _, s := range secs {
		for _, r := range s.Rows {
			if p.Missing(s, r) {
				add(lower(s.Title)+", "+r.Label, p.Waits[r.Path])
			}
		}
		if names := p.Waits[s.Path]; s.Path == s.ID && len(names) > 0 && s.Given() == 0 {
			add(lower(s.Title), names)
		}
	}
	return out
}

// below is a section with those below it.
func (p *Page) below(i int) []sheet.Section {
	secs := p.Sheet.Sections
	end := i + 1
	for end < len(secs) && secs[end].Chapter == secs[i].Chapter && secs[end].Depth > secs[i].Depth {
		end++
	}
	return secs[i:end]
}

// value draws the line of a row.
func (p *Page) value(w int, l line, mark string, role theme.Role, v pane.View) string {
	s := p.Sheet.Sections[l.sec]
	r := s.Rows[l.row]
	lw := labelWidth
	if w < 70 {
		lw = smallLabel
	}
	indent := strings.Repeat("  ", min(s.Depth, 3)+2)
	head := v.Theme.Paint(role, mark+indent+v.Theme.Pad(v.Theme.Cut(r.Label, lw), lw)) + " "
	room := w - theme.Width(mark+indent) - lw - 1
	if t := p.Typing; t != nil && t.Path == r.Path && t.Lines != nil {
		return head + v.Theme.Paint(theme.Dim, v.Theme.Cut(fmt.Sprintf("%d lines, typed beside", t.Lines.Count()), max(room, 0)))
	}
	if t := p.Typing; t != nil && t.Path == r.Path && room > 0 {
		return head + t.Field.View(room)[1]
	}
	text, tr := p.shown(s, r, v)
	return head + v.Theme.Paint(tr, v.Theme.Cut(text, max(room, 0)))
}

// shown is what stands in the value's place.
func (p *Page) shown(s sheet.Section, r sheet.Row, v pane.View) (string, theme.Role) {
	if d, ok := p.Drafts[r.Path]; ok {
		return v.Theme.Plain(project.Printable(d)) + "  not in the file yet", theme.Warn
	}
	switch {
	case r.Given:
		return v.Theme.Plain(project.Printable(WithUnit(r, r.Text, v.Units()))), theme.Value
	case p.Missing(s, r):
		return v.Theme.Sign(theme.Unknown) + " missing", theme.Doubt
	case r.InForce != "" && r.Shape == sheet.Text:
		return v.Theme.Plain(project.Printable(r.InForce)), theme.Dim
	case r.InForce != "":
		return v.Theme.Plain(project.Printable(r.InForce)) + ", built in", theme.Dim
	}
	return "-", theme.Dim
}

// WithUnit is a value as the file spells it, with the file's unit where it has none of
// its own.
func WithUnit(r sheet.Row, text string, u quantity.Units) string {
	switch r.Shape {
	case sheet.Quantity, sheet.Point, sheet.Points, sheet.Quantities:
	default:
		return text
	}
	if strings.IndexFunc(text, func(c rune) bool { return !strings.ContainsRune("0123456789.,;+-−± ", c) }) >= 0 {
		return text
	}
	if unit := quantity.UnitName(r.Kind, u); unit != "" {
		return text + " " + unit
	}
	return text
}

// words are what there is to say about the line under the cursor, and where it is typed how
// that is understood. Where there is no room for all that is marked.
func (p *Page) words(w, h int, l line, v pane.View) []string {
	var out []string
	if l.kind == valueRow {
		if t := p.Typing; t != nil && t.Path == p.path(l) {
			out, v.InFull = p.typing(w, h, v), ""
		}
	}
	var lines []said
	for _, x := range p.said(l) {
		for _, t := range theme.Wrap(v.Theme.Plain(project.Printable(x.text)), max(w, 1)) {
			lines = append(lines, said{x.role, t})
		}
	}
	room := max(h-len(out), 0)
	if room > 0 && len(lines) > room {
		lines[room-1].text = v.Marked(lines[room-1].text, w)
	}
	for _, x := range lines[:min(len(lines), room)] {
		out = append(out, v.Theme.Paint(x.role, x.text))
	}
	return out[:min(len(out), max(h, 0))]
}

// InFull is all there is to say about the line under the cursor.
func (p *Page) InFull() (head string, words []string) {
	lines := p.lines()
	if len(lines) == 0 {
		return "", nil
	}
	for _, x := range p.said(lines[p.cursor(lines)]) {
		words = append(words, x.text)
	}
	if len(words) == 0 {
		return "", nil
	}
	return words[0], words[1:]
}

// said is one thing that is to be said, with its colour.
type said struct {
	role theme.Role
	text string
}

// said is what there is to say about a line.
func (p *Page) said(l line) []said {
	var out []said
	say := func(role theme.Role, text string) {
		if text != "" {
			out = append(out, said{role, text})
		}
	}
	s := p.Sheet.Sections[l.sec]
	if l.kind != valueRow {
		secs := p.below(l.sec)
		if l.kind == chapterHead {
			secs = p.chapter(l.sec)
			say(theme.Title, sheet.Chapters()[l.chapter])
		} else {
			say(theme.Title, s.Full)
			say(theme.Text, s.About)
			say(theme.Dim, "In the file it is "+s.Path+".")
		}
		for _, m := range p.missing(secs) {
			say(theme.Doubt, m)
		}
		return out
	}
	r := s.Rows[l.row]
	if r.About != "" {
		say(theme.Title, capital(r.About)+".")
	}
	say(theme.Text, r.How)
	if r.From != "" {
		say(theme.Dim, "From "+strings.TrimPrefix(r.From, "from ")+".")
	}
	say(theme.Text, p.Follows)
	if r.InForce != "" && !r.Given {
		say(theme.Dim, "In force: "+r.InForce+".")
	}
	if names := p.Waits[r.Path]; len(names) > 0 {
		say(theme.Doubt, "Waiting for it: "+strings.Join(names, "; ")+".")
	}
	say(theme.Accent, p.Offer)
	return out
}

// typing is how what is typed is understood or refused, and what can be picked.
func (p *Page) typing(w, h int, v pane.View) []string {
	t := p.Typing
	if t.Lines != nil {
		return p.typingLines(w, h, v)
	}
	out := t.Field.View(w)[2:]
	if t.Refused != "" {
		out = nil
		for _, l := range theme.Wrap(v.Theme.Plain(project.Printable(t.Refused)), max(w, 1)) {
			out = append(out, v.Theme.Paint(theme.Danger, l))
		}
	}
	room := min(max(h-len(out)-3, 1), len(t.Choices))
	top := pane.Window(max(t.Picked, 0), len(t.Choices), room)
	for i := top; i < min(top+room, len(t.Choices)); i++ {
		mark, role := "  ", theme.Text
		if i == t.Picked {
			mark, role = v.Theme.Focus+" ", theme.Selected
		}
		out = append(out, v.Theme.Cut(v.Theme.Paint(role, mark+t.Choices[i]), w))
	}
	return out
}

// typingLines is a text of several lines with its cursor, and why it was refused.
func (p *Page) typingLines(w, h int, v pane.View) []string {
	t := p.Typing
	var below []string
	if t.Refused != "" {
		for _, l := range theme.Wrap(v.Theme.Plain(project.Printable(t.Refused)), max(w, 1)) {
			below = append(below, v.Theme.Paint(theme.Danger, l))
		}
	}
	out := t.Lines.View(w, max(min(h-len(below)-1, t.Lines.Count()+4), 1), v.Theme)
	return append(append(out, below...), "")
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
