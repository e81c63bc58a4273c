package ui

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/propose"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// mayMove is the box in which a person says what may move, how far, in which steps and by
// which work, and what must hold then. Each answer is an edit of the file at once.
type mayMove struct {
	scroll
	at   int // row under the cursor
	cell int // of that row
	// was are entries that were taken back here, as they read.
	was  map[string]project.FindMove
	of   *project.Build // that rows are of
	rows []mayRow
}

// The cells of a thing that may move.
const (
	fromCell = iota
	toCell
	stepCell
	workCell
	mayCells
)

// mayRow is a row that the cursor can stand on: a thing that can be let move, findings
// that can be held, or what will do.
type mayRow struct {
	offer  *propose.Offer
	entry  int // of find.move, -1 where it may not move
	group  *propose.Group
	held   bool
	accept bool
}

// openMayMove opens it.
func (m *Model) openMayMove() { m.open(&mayMove{was: map[string]project.FindMove{}}) }

func (b *mayMove) subject(m *Model) string {
	if r := b.here(m); r.offer != nil {
		return r.offer.Of.Path()
	}
	return ""
}

// settle makes the rows of the build as it is.
func (b *mayMove) settle(m *Model) {
	if b.of == m.now.Build {
		return
	}
	b.of, b.rows = m.now.Build, nil
	find := m.now.Build.Find
	offers := propose.Offers(m.now)
	for i := range offers {
		o := &offers[i]
		b.rows = append(b.rows, mayRow{offer: o, entry: slices.IndexFunc(find.Moves, func(f project.FindMove) bool { return f.Of == o.Of.Path() })})
	}
	for i, f := range find.Moves { // what is not there to be moved
		if !slices.ContainsFunc(offers, func(o propose.Offer) bool { return o.Of.Path() == f.Of }) {
			b.rows = append(b.rows, mayRow{offer: &propose.Offer{Move: f, Cannot: "it is not there to be moved"}, entry: i})
		}
	}
	all := propose.Group{Title: "every finding that a move can change and that is known"}
	groups := propose.Groups(m.now)
	b.rows = append(b.rows, mayRow{group: &all, held: len(find.Hold) == 0})
	for i := range groups {
		b.rows = append(b.rows, mayRow{group: &groups[i], held: slices.Contains(find.Hold, groups[i].Pattern)})
	}
	for _, pattern := range find.Hold {
		if !slices.ContainsFunc(groups, func(g propose.Group) bool { return g.Pattern == pattern }) {
			b.rows = append(b.rows, mayRow{group: &propose.Group{Pattern: pattern, Title: pattern}, held: true})
		}
	}
	b.rows = append(b.rows, mayRow{accept: true})
	b.at = pane.Cursor(b.at, len(b.rows))
}

func (b *mayMove) here(m *Model) mayRow {
	b.settle(m)
	return b.rows[pane.Cursor(b.at, len(b.rows))]
}

func (b *mayMove) key(m *Model, k tea.KeyMsg) {
	r := b.here(m)
	id, _ := m.actions.Lookup(scopePropose, k.String())
	switch key := k.String(); {
	case id == pane.Up:
		b.at, b.cell = max(b.at-1, 0), 0
	case id == pane.Down:
		b.at, b.cell = pane.Cursor(b.at+1, len(b.rows)), 0
	case key == " ":
		b.choose(m, r)
	case key == "left" || key == "right":
		b.across(m, r, key == "right")
	case id == pane.Less || id == pane.More:
		b.turn(m, r, id == pane.More)
	case id == pane.Enter:
		b.enter(m, r)
	case isDigit(k) && r.entry >= 0 && b.cell != workCell:
		b.typed(m, r, string(k.Runes))
	case id == actProposeGo && len(m.now.Build.Find.Moves) == 0:
		m.say(theme.Doubt, "Nothing may move yet, so there is nothing to search; space lets the row under the cursor move.")
	case id == actProposeGo:
		m.close()
		m.startSearch()
	case id == actProposeData:
		m.close()
		m.openData().goTable("find")
	case id == actUndo || id == actRedo:
		m.perform(id)
	case leavesPage(k):
		b.leave(m)
	}
}

// leave goes back to the box of proposals, and with nothing to search out of it.
func (b *mayMove) leave(m *Model) {
	m.close()
	if m.proposalsOnTop() && len(m.now.Build.Find.Moves) == 0 && m.finder.last == nil {
		m.close()
	}
}

// move returns the entry of the row under the cursor as the file has it.
func (r mayRow) move(m *Model) project.FindMove { return m.now.Build.Find.Moves[r.entry] }

func (r mayRow) name(m *Model) string {
	if r.offer.Of.Path() == "" {
		return project.Printable(r.offer.Move.Of)
	}
	return r.offer.Label(m.now.Build)
}

// choose lets a thing move or not, or holds findings or not.
func (b *mayMove) choose(m *Model, r mayRow) {
	switch {
	case r.accept:
		b.turn(m, r, true)
	case r.group != nil:
		b.hold(m, r)
	case r.entry >= 0:
		b.was[r.move(m).Of] = r.move(m)
		edits, err := edit.RemoveEntries(m.sess.Now(), []string{fmt.Sprintf("find.move[%d]", r.entry)})
		if err != nil {
			m.say(theme.Danger, "%s", firstLine(err))
			return
		}
		m.do(r.name(m)+" may not move", edits...)
	case r.offer.Cannot != "":
		m.say(theme.Doubt, "The %s cannot be let move: %s.", r.name(m), project.Printable(r.offer.Cannot))
	default:
		b.let(m, r)
	}
}

// let adds what is offered for a thing, or what it had here before.
func (b *mayMove) let(m *Model, r mayRow) {
	path := r.offer.Of.Path()
	find := m.now.Build.Find
	if len(find.Moves) >= propose.MostMoves {
		m.say(theme.Doubt, "%d things may move already; more cannot be searched at once, so take out what moves the findings least.", len(find.Moves))
		return
	}
	for _, f := range find.Moves {
		if why := propose.Together(f.Of, path); why != "" {
			m.say(theme.Doubt, "%s.", capital(why))
			return
		}
	}
	move := r.offer.Move
	if was, ok := b.was[path]; ok {
		move = was
	}
	keys := []edit.KeyValue{{Key: "of", Typed: move.Of}, {Key: "range", Typed: listed(move.Range)}, {Key: "step", Typed: move.Step}}
	if move.Work != "" {
		keys = append(keys, edit.KeyValue{Key: "work", Typed: string(move.Work)})
	}
	e, err := edit.AddEntry(m.sess.Now(), "find.move", keys, func(string) bool { return false })
	if err != nil {
		m.say(theme.Danger, "%s", firstLine(err))
		return
	}
	m.do(fmt.Sprintf("%s may move, %s by %s", r.name(m), strings.Join(move.Range, " to "), move.Step), e.Edits...)
}

// listed writes texts as a list of the file.
func listed(texts []string) string {
	quoted := make([]string, len(texts))
	for i, t := range texts {
		quoted[i] = edit.Quoted(t)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}

// hold holds findings or does so no longer; none by name is all of them.
func (b *mayMove) hold(m *Model, r mayRow) {
	hold := slices.Clone(m.now.Build.Find.Hold)
	said := r.group.Title + " must hold"
	switch at := slices.Index(hold, r.group.Pattern); {
	case r.group.Pattern == "":
		hold = nil
	case at >= 0:
		hold = slices.Delete(hold, at, at+1)
		said = r.group.Title + " need not hold"
	default:
		hold = append(hold, r.group.Pattern)
	}
	if len(hold) == len(m.now.Build.Find.Hold) {
		return
	}
	e := edit.Edit{Op: edit.OpSet, Path: "find.hold", Text: listed(hold)}
	if len(hold) == 0 {
		e, said = edit.Edit{Op: edit.OpRemove, Path: "find.hold"}, "every finding that a move can change must hold"
	}
	m.do(said, e)
}

// across goes to another cell of the row.
func (b *mayMove) across(m *Model, r mayRow, right bool) {
	switch {
	case r.accept:
		b.turn(m, r, right)
	case r.entry >= 0 && right:
		b.cell = min(b.cell+1, mayCells-1)
	case r.entry >= 0:
		b.cell = max(b.cell-1, 0)
	}
}

// turn takes the next answer of a cell: another step or another work, an end of the range
// one step on.
func (b *mayMove) turn(m *Model, r mayRow, on bool) {
	by := -1
	if on {
		by = 1
	}
	switch {
	case r.accept:
		to := project.AcceptTight
		if m.now.Build.Find.Accept == to {
			to = project.AcceptOK
		}
		m.do("findings may be "+map[project.Accept]string{project.AcceptOK: "ok alone", project.AcceptTight: "tight too"}[to],
			edit.Edit{Op: edit.OpSet, Path: "find.accept", Text: edit.Quoted(string(to))})
	case r.entry < 0:
		return
	case b.cell == workCell:
		b.put(m, r, string(next(r.offer.Works, r.work(m), by)))
	case b.cell == stepCell:
		b.put(m, r, next(r.offer.Steps, r.move(m).Step, by))
	default:
		s, err := m.now.Build.SpanOf(r.move(m))
		if err != nil {
			m.say(theme.Doubt, "%s", capital(firstLine(err)))
			return
		}
		v := []float64{s.From, s.To}[b.cell] + float64(by)*s.Step
		b.put(m, r, propose.Spelled(s.Of.Kind(), v, m.now.Build.Units))
	}
}

// next is what comes behind or before one in a list that goes round; the first where it
// is not in it.
func next[T comparable](all []T, now T, by int) T {
	at := slices.Index(all, now)
	switch {
	case len(all) == 0:
		return now
	case at < 0:
		return all[0]
	}
	return all[(at+by+len(all))%len(all)]
}

// work is what moving the thing of a row takes.
func (r mayRow) work(m *Model) propose.Work {
	if w := r.move(m).Work; w != "" {
		return propose.Work(w)
	}
	return r.offer.Work
}

// enter lets a thing move, or types into the cell under the cursor.
func (b *mayMove) enter(m *Model, r mayRow) {
	switch {
	case r.entry < 0:
		b.choose(m, r)
	case b.cell == workCell:
		b.turn(m, r, true)
	default:
		b.typed(m, r, "")
	}
}

// typed asks for what a cell says.
func (b *mayMove) typed(m *Model, r mayRow, begun string) {
	cell := b.cell
	title := r.name(m) + []string{", lowest it may stand", ", highest it may stand", ", in steps of"}[cell]
	if r.offer.Of.Kind() != quantity.Length && cell != stepCell {
		title = r.name(m) + []string{", from", ", to"}[cell]
	}
	text := begun
	if begun == "" {
		text = r.cell(m, cell)
	}
	check := func(text string) (string, error) {
		s, err := m.now.Build.SpanOf(b.with(m, r, cell, text))
		if err != nil {
			return "", err
		}
		k := s.Of.Kind()
		if cell == stepCell {
			return quantity.Format(finding.Unsigned(k), s.Step, m.now.Build.Units, 2), nil
		}
		return quantity.Format(k, []float64{s.From, s.To}[cell], m.now.Build.Units, 2), nil
	}
	a := &ask{title: "What may move", field: field.New(title, text, check).WithTheme(m.theme)}
	a.accept = func(m *Model, text string) bool {
		b.cell = cell
		return b.put(m, r, strings.TrimSpace(text))
	}
	m.open(a)
}

// cell is what a cell says, as the file has it.
func (r mayRow) cell(m *Model, cell int) string {
	f := r.move(m)
	switch {
	case cell == stepCell:
		return f.Step
	case cell == workCell:
		return string(r.work(m))
	case cell < len(f.Range):
		return f.Range[cell]
	}
	return ""
}

// with is the entry of a row with another text in a cell. What it lacks is taken as
// offered.
func (b *mayMove) with(m *Model, r mayRow, cell int, text string) project.FindMove {
	f := r.move(m)
	f.Range = slices.Clone(f.Range)
	if len(f.Range) != 2 {
		f.Range = slices.Clone(r.offer.Move.Range)
	}
	if f.Step == "" {
		f.Step = r.offer.Move.Step
	}
	switch cell {
	case stepCell:
		f.Step = text
	case workCell:
		f.Work = project.MoveWork(text)
	default:
		if cell < len(f.Range) {
			f.Range[cell] = text
		}
	}
	return f
}

// put writes a cell of a row into the file.
func (b *mayMove) put(m *Model, r mayRow, text string) bool {
	f := b.with(m, r, b.cell, text)
	if _, err := m.now.Build.SpanOf(f); err != nil {
		m.say(theme.Doubt, "%s.", capital(firstLine(err)))
		return false
	}
	at := fmt.Sprintf("find.move[%d].", r.entry)
	set := func(key, text string) edit.Edit { return edit.Edit{Op: edit.OpSet, Path: at + key, Text: text} }
	edits := []edit.Edit{set("range", listed(f.Range)), set("step", edit.Quoted(f.Step))}
	if f.Work != "" {
		edits = append(edits, set("work", edit.Quoted(string(f.Work))))
	}
	was := r.move(m)
	if slices.Equal(was.Range, f.Range) {
		edits = edits[1:]
	}
	if was.Step == f.Step {
		edits = slices.DeleteFunc(edits, func(e edit.Edit) bool { return e.Path == at+"step" })
	}
	if was.Work == f.Work {
		edits = slices.DeleteFunc(edits, func(e edit.Edit) bool { return e.Path == at+"work" })
	}
	if len(edits) == 0 {
		return true
	}
	return m.do(fmt.Sprintf("%s may move, %s by %s", r.name(m), strings.Join(f.Range, " to "), f.Step), edits...)
}
