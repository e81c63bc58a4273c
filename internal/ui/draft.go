package ui

import (
	"encoding/json"
	"strings"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/session"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// draftAfter is how old what is typed can be before the journal has it.
const draftAfter = 700 * time.Millisecond

// draftMsg says that what is typed has waited long enough.
type draftMsg struct{}

// draft is what stands typed in one form and is not taken: enough to open it again.
type draft struct {
	Form  formID            `json:"form"`
	At    string            `json:"at,omitempty"` // what it is about: a path, a row, a target
	Lines map[string]line   `json:"lines,omitempty"`
	Picks map[string]string `json:"picks,omitempty"` // the answers chosen beside it
	Row   int               `json:"row,omitempty"`   // which line has the cursor
	Shut  bool              `json:"shut,omitempty"`  // the page it stands on was closed
}

// line is one typed line.
type line struct {
	Text   string `json:"text"`
	Cursor int    `json:"cursor"` // signs before it
}

// formID names a form in the journal, for as long as there are journals.
type formID string

const (
	formValue   formID = "value"   // the row of the data page that is being typed
	formKept    formID = "kept"    // a value that cannot stand alone in the file
	formBegun   formID = "begun"   // a table with a name that holds nothing yet
	formRow     formID = "row"     // of the placement
	formJob     formID = "job"     // one of the builder's own
	formInspect formID = "inspect" // who inspected a weld
	formReason  formID = "reason"  // for what is held
	formCopy    formID = "copy"    // the name of one
	formRename  formID = "rename"
	formSaveAs  formID = "save as"
	formReading formID = "reading"
	formMeasure formID = "measurement"
	formRound   formID = "round"
	formShake   formID = "shake"
)

// drafting is a dialog in which something is typed that a crash must not lose.
type drafting interface {
	// draft is what stands typed; false for nothing.
	draft() (draft, bool)
}

// drafts is how the bench stands with what is typed and the journal.
type drafts struct {
	sent  string // what the journal was told last, "" for nothing
	timed bool   // a draftMsg is on its way
	now   bool   // the journal is to be told without waiting
	left  []byte // of an earlier sitting, until it stands in its forms again
}

func lineOf(f field.Model) line { return line{f.Text(), f.Cursor()} }

// texts are those lines of a form in which something stands.
func texts(fields map[string]*field.Model) map[string]line {
	out := map[string]line{}
	for name, f := range fields {
		if f.Text() != "" {
			out[name] = lineOf(*f)
		}
	}
	return out
}

// retype puts typed lines back.
func retype(fields map[string]*field.Model, lines map[string]line) {
	for name, l := range lines {
		if f := fields[name]; f != nil {
			*f = f.With(l.Text, l.Cursor)
		}
	}
}

// picked are the answers chosen in a form, as they are shown.
func picked(pickers map[string]*picker) map[string]string {
	out := map[string]string{}
	for name, p := range pickers {
		if p.at != 0 {
			out[name] = p.answers[p.at]
		}
	}
	return out
}

// repick chooses answers again; one that is not offered any more is left as it is.
func repick(pickers map[string]*picker, picks map[string]string) {
	for name, answer := range picks {
		if p := pickers[name]; p != nil {
			for i, a := range p.answers {
				if a == answer {
					p.at = i
				}
			}
		}
	}
}

// drafted is all that is typed and not taken, in the order in which its forms open.
func (m *Model) drafted() []draft {
	var out []draft
	if m.data != nil {
		out = m.data.drafted(m)
	}
	if m.round != nil {
		if d, ok := m.round.draft(); ok {
			d.Shut = !m.isOpen(m.round)
			out = append(out, d)
		}
	}
	for _, d := range m.dialogs {
		if _, ok := d.(*round); ok {
			continue
		}
		if f, ok := d.(drafting); ok {
			if d, ok := f.draft(); ok {
				out = append(out, d)
			}
		}
	}
	return out
}

func (m *Model) isOpen(d dialog) bool {
	for _, o := range m.dialogs {
		if o == d {
			return true
		}
	}
	return false
}

// typedText is what the journal is to hold of what is typed, "" for nothing.
func (m *Model) typedText() string {
	if m.typed.left != nil {
		return string(m.typed.left)
	}
	all := m.drafted()
	if len(all) == 0 {
		return ""
	}
	raw, err := json.Marshal(all)
	if err != nil {
		return m.typed.sent // strings and numbers: it cannot fail
	}
	return string(raw)
}

// noteTyped tells the journal what is typed: when it is taken or dropped at once, with
// the edit that took it, and otherwise after a while, so that not every key is a write.
func (m *Model) noteTyped() tea.Cmd {
	d := &m.typed
	text := m.typedText()
	if text == d.sent && !d.now {
		return nil
	}
	if !m.sess.Lent() && (d.now || text == "" || m.sess.Behind() > 0) {
		m.tellTyped(text)
		return nil
	}
	if d.timed {
		return nil
	}
	d.timed = true
	return m.disk.after(draftAfter, draftMsg{})
}

func (m *Model) tellTyped(text string) {
	m.typed.now, m.typed.sent = false, text
	if text == "" {
		m.sess.Draft(nil)
		return
	}
	m.sess.Draft([]byte(text))
}

// leaveTyped settles what becomes of what is typed when the bench ends: who leaves by a
// key has dropped it, who is ended from outside has not.
func (m *Model) leaveTyped() {
	if m.disk.leaving != staying || m.sess.Lent() || m.failure != nil {
		return
	}
	text := ""
	if m.hungUp || m.typed.left != nil {
		text = m.typedText()
	}
	if text != m.typed.sent {
		m.tellTyped(text)
	}
}

// lastTyped hands over what is typed after the bench has ended without a way out. A bench
// that ended by a fault may not be able to say.
func (m *Model) lastTyped() {
	defer func() { _ = recover() }()
	m.sess.Settle()
	if text := m.typedText(); text != m.typed.sent {
		m.tellTyped(text)
	}
}

// offerTyped opens the forms again in which something was typed when fitup was stopped.
// What has no form any more is shown.
func (m *Model) offerTyped() {
	var all []draft
	err := json.Unmarshal(m.typed.left, &all)
	raw := m.typed.left
	m.typed.left, m.typed.now = nil, true // answered in any case
	if len(raw) == 0 {
		return
	}
	if err != nil {
		m.open(newNotice("Typed before the stop", "It was not taken, and cannot be read by this fitup:", project.Printable(string(raw))))
		return
	}
	var lost []string
	back := 0
	for _, d := range all {
		switch m.reopen(d) {
		case reopened:
			back++
		case noForm:
			for _, l := range d.Lines {
				lost = append(lost, "- "+project.Printable(strings.TrimSpace(string(d.Form)+" "+d.At)+": "+l.Text))
			}
		}
	}
	if back > 0 {
		m.say(theme.Warn, "%s", typedBefore)
	}
	if len(lost) > 0 {
		m.open(newNotice("Typed before the stop", append([]string{"It was not taken, and what it was typed for is not there any more:"}, lost...)...))
	}
}

const typedBefore = "Typed before the stop, not taken: it stands where it was."

// again is what became of a draft.
type again int

const (
	noForm   again = iota // what it was about is not there any more
	reopened              // it stands in its form
	inFile                // the file says so already
)

// reopen puts a draft back into its form.
func (m *Model) reopen(d draft) again {
	was := len(m.dialogs)
	if f := reopeners[d.Form]; f != nil {
		f(m, d)
	}
	switch d.Form {
	case formValue, formKept, formBegun:
		return m.reopenData(d)
	case formRound:
		return m.reopenRound(d)
	}
	if len(m.dialogs) == was {
		return noForm
	}
	if f, ok := m.dialogs[len(m.dialogs)-1].(interface{ redraft(draft) }); ok {
		f.redraft(d)
		return reopened
	}
	return noForm
}

// reopeners open the form of a draft, over the others.
var reopeners = map[formID]func(m *Model, d draft){
	formRow: func(m *Model, d draft) {
		for _, row := range m.now.Rows {
			if row.Name == d.At {
				m.open(newAskRow(m, row.Row))
			}
		}
	},
	formJob:     func(m *Model, _ draft) { m.open(newAskJob(m)) },
	formSaveAs:  func(m *Model, _ draft) { m.open(newSaveAs(m)) },
	formReading: func(m *Model, d draft) { m.open(newReading(m, d.At)) },
	formMeasure: func(m *Model, _ draft) { m.open(newMeasurement(m)) },
	formShake:   func(m *Model, _ draft) { m.open(newShake(m)) },
	formInspect: func(m *Model, d draft) { m.reopenWeld(d, true) },
	formReason:  (*Model).reopenReason,
	formCopy:    func(m *Model, d draft) { m.reopenName(d, actDataCopy) },
	formRename:  func(m *Model, d draft) { m.reopenName(d, actDataRename) },
}

// offerLeft is what is done first with what an earlier sitting left: unsaved work is
// asked about, then what was typed stands in its forms.
func (m *Model) offerLeft(left *session.Leftover) {
	if left == nil {
		return
	}
	m.typed.left = left.Draft
	m.typed.sent = string(left.Draft)
	if left.Entries > 0 || left.Torn {
		m.open(newRecover(left))
		return
	}
	m.offerTyped()
}
