package ui

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/action"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/data"
	"fitup/internal/ui/pane/drawing"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// dataPage is the page on which everything the file can hold is typed. It stays with
// the bench while it is closed, so that nothing typed is lost.
type dataPage struct {
	data.Page
	near    drawing.Near
	of      *project.File      // the sheet is of
	judged  *assess.Assessment // what waits is of
	begun   []string           // paths of named tables that hold nothing yet
	drafts  []edit.Value       // typed, and not in the file because they cannot stand alone
	dropped *edit.Value        // what Esc dropped, until u brings it back
	cause   string             // id of the finding for which the page was opened, "" for none
}

// openData opens the data page where it was left.
func (m *Model) openData() *dataPage {
	m.sheet()
	d := m.data
	if !slices.Contains(m.dialogs, dialog(d)) {
		m.open(d)
	}
	return d
}

// openDataHere opens it at what the cursor of the pane in focus is on.
func (m *Model) openDataHere() {
	v := m.view(m.pointer)
	subject := ""
	if at, ok := m.panes[m.pointer].(pane.Pointing); ok {
		subject = at.Subject(v)
	}
	d := m.openData()
	d.cause = ""
	if to := m.accused(subject); subject != "" && len(to) > 0 { // the measurement that is to be taken again
		subject = fmt.Sprintf("survey.measure.%d", to[0]+1)
	} else if path := m.placesAgain(subject); path != "" && d.Go(path) {
		return
	}
	if path, ok := d.Sheet.About(subject); ok {
		d.Go(path)
	}
}

// follow goes to the next value that the finding lacks for which the page was opened, or
// else to the next that is missing at all.
func (d *dataPage) follow(m *Model) {
	var lacks []string
	if f, ok := m.now.Finding(d.cause); ok {
		lacks = f.Lacks()
	}
	_, here, _ := d.Here()
	at := slices.Index(lacks, here.Path) + 1
	for i := range lacks {
		path := lacks[(at+i)%len(lacks)]
		if _, r, ok := d.Sheet.Row(path); path == here.Path || ok && r.Given {
			continue
		}
		if d.Go(path) || d.goTable(path) {
			return
		}
	}
	if !d.NextMissing() {
		m.say(theme.Dim, "Nothing is missing that any finding waits for.")
	}
}

// goTable puts the cursor on what would begin the table at path.
func (d *dataPage) goTable(path string) bool {
	for _, s := range d.Sheet.Sections {
		if s.List == path && !s.Begun || s.Path == path {
			for _, r := range s.Rows {
				if !r.Given {
					return d.Go(r.Path)
				}
			}
			return d.Go(s.ID)
		}
	}
	return false
}

// refresh makes the sheet anew where the file has changed.
func (d *dataPage) refresh(m *Model) {
	if m.sess.Lent() {
		return
	}
	if f := m.sess.Now(); f != d.of {
		d.of = f
		d.Sheet = sheet.After(d.Sheet, f, d.begun...)
	}
	if d.judged != m.now {
		d.judged = m.now
		d.Waits = map[string][]string{}
		for _, f := range m.now.Findings {
			for _, path := range f.Lacks() {
				d.Waits[path] = append(d.Waits[path], f.Title)
			}
		}
	}
	d.Drafts = map[string]string{}
	for _, v := range d.drafts {
		d.Drafts[v.Path] = v.Text
	}
	d.Offer, d.Follows = d.offer(m), d.follows(m)
}

func (d *dataPage) size(w, h int) (int, int) { return w, h }

func (d *dataPage) draw(m *Model, w, h int) (string, string, []string) {
	d.refresh(m)
	v := m.view(layout.Slot(0))
	v.Focused = m.dialogs[len(m.dialogs)-1] == dialog(d)
	d.Picture = func(w, h int, path string) []string { return d.near.Draw(w, h, v, d.of, path) }
	v.Hidden = &pane.Hidden{}
	f := d.Draw(w, h, v)
	if words := v.Hidden.String(); words != "" {
		f.Note = words + ", " + f.Note
	}
	return f.Title, f.Note, f.Text
}

// hints are the keys of the page for the footer, or those of the row that is typed.
func (d *dataPage) hints(m *Model) []hint {
	if d.Typing != nil {
		out := []hint{{"enter", "take it", 0}, {"tab", "take it and go on", 0}, {"esc", "drop it", 0}}
		if _, r, ok := d.Sheet.Row(d.Typing.Path); ok && r.Lines {
			out = append(out, hint{"ctrl+j", "another line", 0})
		}
		return out
	}
	out := []hint{{"enter", "type", 0}, {"tab", "type on", 0}}
	add := func(a action.Action, spare int) {
		if len(a.Keys) > 0 {
			a.Keys = a.Keys[:1]
			out = append(out, hint{a.KeyText(), a.Label, spare})
		}
	}
	if a, ok := m.actions.Get(actSearch); ok {
		add(a, 0)
	}
	for _, a := range m.actions.Footer(scopeData) {
		switch {
		case a.Scope == scopeData && a.ID == actDataNext, a.ID == actUndo:
			add(a, 0)
		case a.Scope == scopeData:
			add(a, 1)
		case a.ID == actSave, a.ID == actHelp:
			add(a, 2)
		}
	}
	return out
}

func (d *dataPage) key(m *Model, k tea.KeyMsg) {
	d.refresh(m)
	if d.Typing != nil {
		d.typingKey(m, k)
		d.refresh(m)
		return
	}
	if d.digit(m, k) || d.moves(k) {
		d.refresh(m)
		return
	}
	id, _ := m.actions.Lookup(scopeData, k.String())
	if id != actUndo {
		defer func() { d.dropped = nil }()
	}
	d.perform(m, id, k)
	d.refresh(m)
}

// digit begins to type a number over the row, as a figure or a sign does that has
// another meaning only on the bench.
func (d *dataPage) digit(m *Model, k tea.KeyMsg) bool {
	s := k.String()
	_, r, ok := d.Here()
	if !ok || len(s) != 1 || s[0] < '0' || s[0] > '9' || r.Ticked {
		return false
	}
	switch r.Shape {
	case sheet.Quantity, sheet.Point, sheet.Points, sheet.Quantities, sheet.Date, sheet.Text:
		d.begin(m, "")
		d.typingKey(m, k)
		return true
	}
	return false
}

// moves takes the keys that leap over many lines.
func (d *dataPage) moves(k tea.KeyMsg) bool {
	const far = 1 << 20
	switch k.String() {
	case "pgup":
		d.Move(-10)
	case "pgdown":
		d.Move(10)
	case "home":
		d.Move(-far)
	case "end":
		d.Move(far)
	default:
		return false
	}
	return true
}

// perform does one action of the page.
func (d *dataPage) perform(m *Model, id action.ID, k tea.KeyMsg) {
	switch id {
	case pane.Enter:
		d.enter(m)
	case actNextPane: // tab
		if _, _, ok := d.Here(); ok {
			d.enter(m)
		} else {
			d.typeOn(m)
		}
	case pane.Up, pane.Down, pane.Less, pane.More, pane.NextLeaf, pane.PrevLeaf:
		d.Key(id, m.view(layout.Slot(0)))
	case actDataAdd, actDataCopy, actDataRemove, actDataUp, actDataDown, actDataRename:
		d.entry(m, id)
	case actDataClear:
		d.clear(m)
	case actDataMirror:
		d.takeOffer(m)
	case actDataNext:
		d.follow(m)
	case actUndo:
		if d.dropped != nil {
			back := *d.dropped
			d.dropped = nil
			d.Go(back.Path)
			d.begin(m, back.Text)
			return
		}
		m.perform(id)
	case actRedo, actSave, actSaveAs, actHelp, actFindings, actInFull, actSearch:
		m.perform(id)
	case actData, actQuit:
		m.close()
	default:
		if k.String() == "esc" {
			m.close()
		}
	}
}

// has reports whether an action of the bench means something on the page.
func (d *dataPage) has(id action.ID) bool {
	switch id {
	case pane.Enter, pane.Up, pane.Down, pane.Less, pane.More, pane.NextLeaf, pane.PrevLeaf, actNextPane,
		actUndo, actRedo, actSave, actSaveAs, actHelp, actFindings, actInFull, actData, actQuit:
		return true
	}
	return false
}

// sheet is all that the file can hold, nil while it cannot be asked for.
func (m *Model) sheet() *sheet.Sheet {
	if m.data == nil {
		m.data = &dataPage{}
	}
	m.data.refresh(m)
	return m.data.Sheet
}

// enter types the row under the cursor, or opens and shuts a head.
func (d *dataPage) enter(m *Model) {
	_, r, ok := d.Here()
	switch {
	case !ok:
		d.Toggle()
	case r.Ticked:
		d.tickRow(m, r)
	default:
		d.begin(m, r.Text)
	}
}

// typeOn goes to the next row and types it; on a head that is shut it stops.
func (d *dataPage) typeOn(m *Model) {
	if d.OnChapter() {
		d.Fold(true)
	}
	if !d.Next(1) {
		return
	}
	for {
		_, r, _ := d.Here()
		if !r.Ticked {
			d.begin(m, r.Text)
			return
		}
		if !d.Next(1) {
			return
		}
	}
}

// name is what a row is called in a message.
func name(s sheet.Section, r sheet.Row) string {
	return project.Printable(s.Full + ": " + r.Label)
}

// clear takes the value under the cursor out, or what was typed and is not in the file.
func (d *dataPage) clear(m *Model) {
	s, r, ok := d.Here()
	switch {
	case !ok:
		m.say(theme.Dim, "Stand on a value to take it out; X takes out a whole entry.")
	case d.undraft(r.Path):
		m.say(theme.Dim, "Dropped: what was typed for %s.", name(s, r))
	case r.Ticked:
		m.say(theme.Doubt, "This is written by doing it; Enter takes it on or back.")
	case !r.Given:
		m.say(theme.Dim, "There is nothing to take out.")
	default:
		d.put(m, s, r, "")
	}
}

func (d *dataPage) undraft(path string) bool {
	i := slices.IndexFunc(d.drafts, func(v edit.Value) bool { return v.Path == path })
	if i < 0 {
		return false
	}
	d.drafts = slices.Delete(d.drafts, i, i+1)
	return true
}

// tickRow does what a row says that is written by doing it, through the door of the
// Jobs pane.
func (d *dataPage) tickRow(m *Model, r sheet.Row) {
	var i int
	var side string
	if _, err := fmt.Sscanf(r.Path, "job[%d].done", &i); err == nil && i < len(m.now.Jobs) && strings.HasSuffix(r.Path, ".done") {
		m.toggle(i)
		return
	}
	if _, err := fmt.Sscanf(r.Path, "weld[%d].side.", &i); err == nil && i < len(m.now.Build.Welds) {
		if side = strings.TrimSuffix(r.Path[strings.Index(r.Path, ".side.")+6:], ".state"); strings.HasSuffix(r.Path, ".state") {
			d.weld(m, pane.WeldOn{Index: i, Side: side})
			return
		}
	}
	m.say(theme.Doubt, "This is written when the job is ticked or the weld is made; stand on that and press Enter.")
}

// weld takes a side one state further; one that is only a name is begun first.
func (d *dataPage) weld(m *Model, on pane.WeldOn) {
	if _, ok := m.weldSide(on); !ok {
		path := fmt.Sprintf("weld[%d].side.%s.state", on.Index, on.Side)
		m.do("a side of the weld, not welded yet: "+on.Side, edit.Edit{Op: edit.OpSet, Path: path, Text: edit.Quoted(string(project.NoWeld))})
		return
	}
	m.weldOn(on)
}

// askDrafts asks what becomes of what was typed and is not in the file, before the
// program ends.
func (d *dataPage) askDrafts(m *Model) *question {
	q := &question{
		title: "Typed, and not in the file",
		text:  []string{"On the data page this waits for what goes with it, and is lost when fitup ends:"},
		choices: []choice{
			{"d", "back to the data page", func(m *Model) { m.openData().Go(d.drafts[0].Path) }},
			{"q", "quit without it", func(m *Model) {
				d.drafts = nil
				m.askQuit()
			}},
		},
	}
	for i, v := range d.drafts {
		if i == 5 {
			q.text = append(q.text, fmt.Sprintf("and %d more", len(d.drafts)-i))
			break
		}
		q.text = append(q.text, "- "+m.theme.Plain(project.Printable(v.Path+" "+m.theme.Right+" "+v.Text)))
	}
	return q
}
