package ui

import (
	"cmp"
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/propose"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// trials is the box with the named alternatives of the file side by side: what each has
// otherwise, how many findings have which verdict, and those that differ.
type trials struct {
	scroll
	at  int            // the trial under the cursor
	of  *project.Build // that all is of
	all []propose.Tried
}

// openTrials opens it.
func (m *Model) openTrials() { m.open(&trials{}) }

// settle tries the trials of the build as it is.
func (b *trials) settle(m *Model) {
	if b.of == m.now.Build {
		return
	}
	b.of, b.all = m.now.Build, propose.TryAll(m.sess.Now(), nil)
	b.at = max(pane.Cursor(b.at, len(b.all)), 0)
}

func (b *trials) key(m *Model, k tea.KeyMsg) {
	b.settle(m)
	id, _ := m.actions.Lookup(scopePropose, k.String())
	switch key := k.String(); {
	case key == "left" || key == "right":
		by := 1
		if key == "left" {
			by = -1
		}
		b.at = max(pane.Cursor(b.at+by, len(b.all)), 0)
	case id == pane.Enter:
		b.adopt(m)
	case id == actProposeDrop:
		b.drop(m)
	case id == actUndo || id == actRedo:
		m.perform(id)
	case id == actProposeTrials || leavesPage(k) && key != " ":
		m.close()
	default:
		b.move(k)
	}
}

// adopt makes the changes of the trial under the cursor.
func (b *trials) adopt(m *Model) {
	if len(b.all) == 0 {
		return
	}
	t := &b.all[b.at]
	name := project.Printable(t.Trial.Name)
	if t.Err != nil {
		m.say(theme.Doubt, "%s cannot be adopted: %s", name, firstLine(t.Err))
		return
	}
	edits, gone, err := edit.Trial(m.sess.Now(), assess.Placed, t.Trial, nil)
	if err != nil {
		m.say(theme.Danger, "%s cannot be adopted: %s", name, firstLine(err))
		return
	}
	if m.do("adopted trial "+name, edits...) {
		m.saysGone(gone)
		m.saysUndo()
	}
}

// drop takes the trial under the cursor out of the file.
func (b *trials) drop(m *Model) {
	if len(b.all) == 0 {
		return
	}
	name := b.all[b.at].Trial.Name
	edits, err := edit.RemoveEntries(m.sess.Now(), []string{"trial." + name})
	if err != nil {
		m.say(theme.Danger, "%s", firstLine(err))
		return
	}
	if m.do("trial "+project.Printable(name)+" taken out", edits...) {
		m.saysUndo()
	}
}

// saysGone says which readings a move took out.
func (m *Model) saysGone(gone []string) {
	if len(gone) > 0 {
		m.message.text += "; what was read of " + project.Printable(m.now.Build.TargetWords(gone...)) + " was of before and is taken out: read it again"
	}
}

func (b *trials) size(w, h int) (int, int) { return min(140, w-2), h - 2 }

func (b *trials) draw(m *Model, w, h int) (string, string, []string) {
	b.settle(m)
	p := proposalText{m: m, w: w}
	if len(b.all) == 0 {
		p.says(theme.Text, "", fmt.Sprintf("This file has no alternatives kept yet. In the box of proposals %s keeps the one under the cursor as a trial; trial.NAME on the data page holds any other.", m.keyText(actProposeKeep)))
		return "Trials", "esc closes", p.lines
	}
	t := trialTable{m: m, b: b, w: w}
	t.fit()
	t.row(theme.Dim, "", "as it is", func(i int) (string, theme.Role) { return b.all[i].Trial.Name, theme.Title })
	for _, r := range propose.ChangedRows(m.sess.Now(), b.all) {
		t.row(theme.Text, r.Of, cmp.Or(r.Now, "-"), func(i int) (string, theme.Role) { return cmp.Or(r.To[i], "same"), theme.Text })
	}
	for _, s := range []assess.Status{assess.OK, assess.Tight, assess.Over, assess.NotKnown} {
		t.row(theme.Text, "findings "+s.String(), fmt.Sprint(m.now.Count()[s]), func(i int) (string, theme.Role) {
			if b.all[i].Err != nil {
				return "-", theme.Text
			}
			return fmt.Sprint(b.all[i].After.Count()[s]), theme.Text
		})
	}
	for _, r := range propose.Differing(m.now, b.all) {
		t.row(theme.Text, r.Now.Title, t.said(&r.Now), func(i int) (string, theme.Role) {
			if r.With[i] == nil {
				return "-", theme.Text
			}
			return t.said(r.With[i]), pane.Status(r.With[i].Status).Role()
		})
	}
	p.lines = append(t.lines, "")
	x := &b.all[b.at]
	if x.Trial.Note != "" {
		p.says(theme.Text, "", x.Trial.Name+": "+x.Trial.Note)
	}
	if x.Err != nil {
		p.says(theme.Doubt, "", x.Trial.Name+" cannot be tried: "+strings.TrimSuffix(firstLine(x.Err), "?")+".")
	}
	if len(x.Again) > 0 {
		p.says(theme.Doubt, "", x.Trial.Name+" moves what was read: "+m.now.Build.TargetWords(x.Again...)+". What rested on that is planned in it, and read again.")
	}
	shown, note := b.show(p.lines, h)
	return "Trials", strings.TrimSpace(fmt.Sprintf("%s  enter adopts, %s takes out, esc closes", note, m.keyText(actProposeDrop))), shown
}

// trialTable is the table as it is written.
type trialTable struct {
	m           *Model
	b           *trials
	w           int
	name, cell  int // widths
	first, many int // of the trials that are shown
	lines       []string
}

// fit shares the width, and shows as many trials as have room, the one under the cursor
// among them.
func (t *trialTable) fit() {
	const least, most = 13, 26
	t.name = max(min(t.w/3, 36), 14)
	t.many = max(min(len(t.b.all), (t.w-t.name-2)/least-1), 1)
	t.cell = min((t.w-t.name-2)/(t.many+1), most)
	t.first = pane.Window(t.b.at, len(t.b.all), t.many)
}

// row adds a row: a name, what is, and what each trial that is shown has.
func (t *trialTable) row(r theme.Role, name, now string, of func(i int) (string, theme.Role)) {
	g := t.m.theme
	cell := func(text string, r theme.Role) string {
		return g.Paint(r, g.Pad(g.Cut(g.Plain(project.Printable(text)), t.cell-1), t.cell))
	}
	line := " " + g.Paint(r, g.Pad(g.Cut(g.Plain(project.Printable(name)), t.name-1), t.name)) + cell(now, theme.Text)
	for i := t.first; i < t.first+t.many; i++ {
		text, role := of(i)
		if i == t.b.at && role == theme.Title {
			text, role = g.Pointer()+text, theme.Selected
			line += g.Paint(role, g.Pad(g.Cut(text, t.cell-1), t.cell))
			continue
		}
		line += cell(text, role)
	}
	t.lines = append(t.lines, line)
}

// said is a finding in a cell.
func (t *trialTable) said(f *finding.Finding) string {
	v := t.m.view(t.m.focus)
	text := t.m.theme.Sign(pane.Status(f.Status)) + " "
	if !f.HasValue {
		return text + f.Status.String()
	}
	return text + v.Number(f.Kind, assess.Exact(f.Value), v.Digits(f.Kind)) + " " + f.Status.String()
}
