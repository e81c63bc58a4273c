package ui

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/propose"
	"fitup/internal/ui/theme"
)

func (b *mayMove) size(w, h int) (int, int) { return min(100, w-2), h - 2 }

func (b *mayMove) draw(m *Model, w, h int) (string, string, []string) {
	b.settle(m)
	p := proposalText{m: m, w: w}
	from, to := 0, 0
	heading := func(text string) { p.lines = append(p.lines, m.theme.Cut(" "+m.theme.Paint(theme.Title, text), w)) }
	for i, r := range b.rows {
		switch {
		case i == 0:
			heading("What may move, how far, in which steps")
		case r.group != nil && b.rows[i-1].group == nil:
			b.places(m, &p)
			p.lines = append(p.lines, "")
			heading("What must hold then")
		case r.accept:
			p.lines = append(p.lines, "")
		}
		if i == b.at {
			from = len(p.lines)
		}
		b.row(m, &p, r, i == b.at)
		if i == b.at {
			to = len(p.lines)
		}
	}
	p.lines = append(p.lines, "")
	p.says(theme.Dim, "", "Steps count from where a thing stands. A mount whose bracket is welded does not move. Findings that are not known are not held, and nothing is proposed that rests on one.")
	if from < b.top {
		b.top = max(from-1, 0)
	}
	b.top = max(b.top, to-h)
	shown, note := b.show(p.lines, h)
	keys := fmt.Sprintf("space lets move, enter types, %s searches", m.keyText(actProposeGo))
	return "What may move", strings.TrimSpace(note + "  " + keys), shown
}

// places says how many there are to try.
func (b *mayMove) places(m *Model, p *proposalText) {
	switch n := propose.PlacesOf(m.now); {
	case len(m.now.Build.Find.Moves) == 0:
		p.says(theme.Doubt, "", "Nothing may move yet: space lets the row under the cursor move.")
	case n > 0:
		p.says(theme.Dim, "", fmt.Sprintf("%.0f places to try.", n))
	}
}

// row draws a row: what it is, and what it says in cells that are set as far as they fit.
func (b *mayMove) row(m *Model, p *proposalText, r mayRow, cursor bool) {
	mark, role := "  ", theme.Text
	if cursor {
		mark = m.theme.Pointer()
		role = theme.Selected
	}
	line := func(text string) {
		p.lines = append(p.lines, m.theme.Cut(" "+m.theme.Paint(role, mark+m.theme.Plain(project.Printable(text))), p.w))
	}
	switch {
	case r.accept:
		line(m.theme.Tick(m.now.Build.Find.Accept == project.AcceptTight) + " tight will do, less sure than ok")
	case r.group != nil:
		text := m.theme.Tick(r.held) + " " + r.group.Title
		if n := r.group.Known + r.group.Not; n > 0 {
			text += fmt.Sprintf(": %d", n)
			if r.group.Not > 0 {
				text += fmt.Sprintf(", %d over now", r.group.Not)
			}
		}
		line(text)
	default:
		b.thing(m, p, r, cursor, line)
	}
}

// thing draws a thing that can be let move.
func (b *mayMove) thing(m *Model, p *proposalText, r mayRow, cursor bool, line func(string)) {
	text := m.theme.Tick(r.entry >= 0) + " " + r.name(m)
	v := m.view(m.focus)
	k := r.offer.Of.Kind()
	switch {
	case r.offer.Cannot != "":
		line(text + ": " + r.offer.Cannot)
		return
	case r.entry < 0:
		line(text + ", now " + v.Number(k, assess.Exact(r.offer.Now), v.Digits(k)))
		return
	}
	line(text + ", now " + v.Number(k, assess.Exact(r.offer.Now), v.Digits(k)))
	const lead = "       "
	at := lead
	for cell := range mayCells {
		said := r.cell(m, cell)
		if said == "" {
			said = "?"
		}
		if cell == workCell {
			said = propose.WorkWords(r.work(m))
		}
		before := []string{"from ", "to ", "by ", ""}[cell]
		said = m.theme.Plain(project.Printable(said))
		if theme.Width(at)+theme.Width(before+said)+2 > p.w && at != lead {
			p.lines = append(p.lines, at)
			at = lead
		}
		role := theme.Text
		if cursor && cell == b.cell {
			role, said = theme.Selected, "["+said+"]"
		}
		at += before + m.theme.Paint(role, said) + "  "
	}
	p.lines = append(p.lines, m.theme.Cut(at, p.w))
}
