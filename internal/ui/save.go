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

// save writes the file; somebody else's change is never overwritten unasked,
// and a hard link is not parted unasked.
func (m *Model) save(force bool) bool {
	if !m.sess.Unsaved() && !force && !m.sess.ChangedOutside() {
		m.say(theme.Dim, "Nothing to save; %s is up to date.", project.Printable(m.sess.Path()))
		return true
	}
	if n := m.sess.Names(); n > 1 && !m.parted {
		m.open(newParted(n, force))
		return false
	}
	err := m.sess.Save(force)
	if errors.Is(err, keep.ErrChangedOutside) {
		return m.saveChanged(err)
	}
	return m.saved(err)
}

// saved says what became of a save, and whether the file is written.
func (m *Model) saved(err error) bool {
	var je *session.JournalError
	switch {
	case err == nil:
		m.say(theme.Good, "Saved %s.", project.Printable(m.sess.Path()))
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

// unsafe says, the first time in a box, that an edit could not be written to the
// journal; nil says that all is well again.
func (m *Model) unsafe(je *session.JournalError) {
	if je == nil {
		m.alarmed = false
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
				m.save(force)
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
		return filepath.Join(filepath.Dir(m.sess.Path()), text)
	}
	check := func(text string) (string, error) {
		if strings.TrimSpace(text) == "" {
			return "", errors.New("want a name that no file has yet, such as build-2.toml")
		}
		return "a new file " + project.Printable(filepath.Base(place(text))), nil
	}
	return &ask{
		title: "Save under another name",
		field: field.New("name of the new file", "", check).WithTheme(m.theme),
		accept: func(m *Model, text string) bool {
			err := m.sess.SaveAs(place(text))
			if err != nil && !errors.Is(err, keep.ErrUnconfirmed) {
				m.notSaved(err)
				return false
			}
			m.scratch, m.parted = false, false
			m.sight = session.Glance(m.sess.Path(), m.sess.Clock())
			m.saved(err)
			return true
		},
	}
}

func (m *Model) askQuit() {
	if !m.sess.Unsaved() {
		m.quit = true
		return
	}
	m.open(newQuit(m.scratch))
}

// drop leaves the bench without saving. What is dropped is kept as an earlier
// state; where it cannot be, that is asked about.
func (m *Model) drop() {
	err := m.sess.Discard()
	if err == nil {
		m.quit = true
		return
	}
	m.open(newLoss(err, func(m *Model) {
		_ = m.sess.Forget() // what stays is offered again, which is no loss
		m.quit = true
	}))
}

// newLoss asks whether work that cannot be kept is to go all the same.
func newLoss(err error, lose func(*Model)) *question {
	return &question{
		title:   "It cannot be kept",
		text:    []string{"What you drop was to be kept as an earlier state, and cannot be: " + why(err) + "."},
		choices: []choice{{"l", "lose it for good", lose}},
	}
}
