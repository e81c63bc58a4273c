package ui

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/keep"
	"fitup/internal/project/session"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"
)

// save writes the file as it is now, and then says whether it did; somebody
// else's change is never overwritten unasked, and a hard link is not parted
// unasked. Keys go on meanwhile.
func (m *Model) save(force bool, then func(ok bool)) {
	m.say(theme.Dim, "Saving %s", project.Printable(m.path))
	m.sess.Save(session.SaveHow{Force: force, Part: m.parted}, func(done session.Saved) {
		switch {
		case done.Nothing:
			m.say(theme.Dim, "Nothing to save; %s is up to date.", project.Printable(m.path))
			then(true)
		case done.Names > 0:
			m.say(theme.Dim, notYet)
			m.open(newParted(done.Names, force))
			then(false)
		case errors.Is(done.Err, keep.ErrChangedOutside):
			m.saveChanged(done.Err, then)
		default:
			then(m.saved(done.Err))
		}
	})
}

const notYet = "Not saved yet."

// whatever is for whom it is all the same whether a save went well.
func whatever(bool) {}

// saved says what became of a save, and whether the file is written.
func (m *Model) saved(err error) bool {
	var je *session.JournalError
	switch {
	case err == nil && m.sess.Unsaved():
		m.say(theme.Good, "Saved as it was at the key; what came behind it is unsaved.")
	case err == nil:
		m.say(theme.Good, "Saved %s.", project.Printable(m.path))
	case errors.As(err, &je), errors.Is(err, keep.ErrUnconfirmed):
		m.say(theme.Warn, "Saved, but %s", why(err))
		m.open(newNotice("Saved, with a warning", capital(why(err))+"."))
	default:
		m.notSaved(err)
		return false
	}
	return true
}

// notSaved says why a save failed, in a box that stays until it has been read.
func (m *Model) notSaved(err error) {
	m.say(theme.Danger, "Not saved: %s", why(err))
	q := newNotice("Not saved", capital(why(err))+".", "",
		"The file is as it was. Your work is still here, and kept safe from a crash as long as the hidden folder beside the file can be written.")
	q.choices = append([]choice{{"n", "save under another name", func(m *Model) { m.open(newSaveAs(m)) }}}, q.choices...)
	m.open(q)
}

// journalled says, the first time in a box, that an edit could not be written to
// the journal; nil says that all is well, and what is there is then to be made
// safe from a power cut.
func (m *Model) journalled(err error) {
	if err == nil {
		m.alarmed, m.disk.unsafe = false, true
		return
	}
	var je *session.JournalError
	if !errors.As(err, &je) {
		return
	}
	m.say(theme.Danger, "Not safe from a crash: %s", why(je))
	if !m.alarmed {
		m.alarmed = true
		m.open(newNotice("Not safe from a crash", capital(why(je))+".", "",
			"The edit itself stands. Save the file, so that no crash can lose it."))
	}
}

// why is the cause of an error in one line, without the name of the file, which
// the screen shows already.
func why(err error) string {
	var ps project.Problems
	if errors.As(err, &ps) && len(ps) > 0 {
		return project.Printable(fmt.Sprintf("line %d: %s", ps[0].Line, ps[0].Msg))
	}
	var p project.Problem
	if errors.As(err, &p) {
		return project.Printable(p.Msg)
	}
	line, _, _ := strings.Cut(keep.Why(err), "\n")
	return project.Printable(line)
}

// capital begins a sentence with the cause of an error.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// newNotice is a box of text that stays until it is closed.
func newNotice(title string, text ...string) *question {
	return &question{title: title, text: text, must: true, choices: []choice{{"enter", "I have read it", func(*Model) {}}}}
}

// newSure asks before something that one key alone should not do.
func newSure(title, what string, do func(*Model)) *question {
	return &question{title: title, text: []string{what}, choices: []choice{{"y", "yes", do}}}
}

// newParted tells of the file's other names before a save parts them.
func newParted(n int, force bool) *question {
	other := "another name on this disk (a hard link)"
	if n > 2 {
		other = fmt.Sprintf("%d other names on this disk (hard links)", n-1)
	}
	return &question{
		title: "The file has another name",
		text: []string{
			"It has " + other + ". A save puts a new file in place of the one you opened: the other name keeps the text as it is now, and will not change with it any more.",
		},
		choices: []choice{
			{"s", "save; the other name keeps the old text", func(m *Model) {
				m.parted = true
				m.save(force, whatever)
			}},
			{"n", "save under another name", func(m *Model) { m.open(newSaveAs(m)) }},
		},
	}
}

// newSaveAs asks for another name. A name alone is meant beside the present
// file, or for a scratch copy where the program was started.
func newSaveAs(m *Model) *ask {
	place := func(text string) string {
		text = strings.TrimSpace(text)
		if m.scratch || filepath.IsAbs(text) {
			return text
		}
		return filepath.Join(filepath.Dir(m.path), text)
	}
	check := func(text string) (string, error) {
		if strings.TrimSpace(text) == "" {
			return "", errors.New("want a name that no file has yet, such as build-2.toml")
		}
		return "a new file " + project.Printable(filepath.Base(place(text))), nil
	}
	a := &ask{
		title: "Save under another name",
		field: field.New("name of the new file", "", check).WithTheme(m.theme),
	}
	a.accept = func(m *Model, text string) bool {
		m.saveAs(place(text), a)
		return false // it stays until the file is written
	}
	return a.as(formSaveAs, "")
}

// saveAs writes a new file and goes on with that one.
func (m *Model) saveAs(path string, asked dialog) {
	var err error
	var sight session.Sight
	m.alone(func(s *session.Session) {
		err = s.SaveAs(path)
		sight = session.Glance(s.Path(), s.Clock())
	}, func() {
		if err != nil && !errors.Is(err, keep.ErrUnconfirmed) {
			m.notSaved(err)
			return
		}
		m.shut(asked)
		m.path = path
		m.scratch, m.parted, m.sight = false, false, sight
		m.saved(err)
	})
}

// askQuit leaves, once what is being saved is saved, and asks about what is not.
func (m *Model) askQuit() {
	switch {
	case m.print.printing != nil:
		m.open(newPrintQuit())
	case m.data != nil && len(m.data.drafts) > 0:
		m.open(m.data.askDrafts(m))
	case m.round != nil && len(m.round.waiting(m)) > 0:
		m.open(m.round.askWaiting(m))
	case !m.sess.Unsaved():
		m.quit = true
	case m.sess.Saving():
		m.alone(func(*session.Session) {}, m.askQuit)
	default:
		m.open(newQuit(m.scratch))
	}
}

// saveAndQuit leaves when the file is saved.
func (m *Model) saveAndQuit() {
	free := m.block()
	m.save(false, func(ok bool) {
		free()
		m.quit = m.quit || ok && len(m.dialogs) == 0 // a warning is read first
	})
}

// drop leaves the bench without saving. What is dropped is kept as an earlier
// state; where it cannot be, that is asked about.
func (m *Model) drop() {
	m.giveUp((*session.Session).Discard, func() { m.quit = true }, func(err error) {
		m.open(newLoss(err, func(m *Model) {
			m.forget(func() { m.quit = true })
		}))
	})
}

// forget gives up for good what is not saved.
func (m *Model) forget(then func()) {
	m.alone(func(s *session.Session) { _ = s.Forget() }, then) // what stays is offered again, which is no loss
}

// giveUp gives up work by do, and says whether it could be kept as an earlier
// state.
func (m *Model) giveUp(do func(*session.Session) error, then func(), not func(error)) {
	var err error
	m.alone(func(s *session.Session) { err = do(s) }, func() {
		if err != nil {
			not(err)
			return
		}
		then()
	})
}

// newLoss asks whether work that cannot be kept is to go all the same.
func newLoss(err error, lose func(*Model)) *question {
	return &question{
		title:   "It cannot be kept",
		text:    []string{"What you drop was to be kept as an earlier state, and cannot be: " + why(err) + "."},
		choices: []choice{{"l", "lose it for good", lose}},
	}
}
