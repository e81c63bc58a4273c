package ui

import (
	"errors"
	"fmt"

	"fitup/internal/project/edit"
	"fitup/internal/project/session"
	"fitup/internal/ui/theme"
)

// newRecover offers unsaved work of an earlier sitting.
func newRecover(l *session.Leftover) *question {
	text := []string{fmt.Sprintf("%d edits from %s were not saved when fitup last ended.", l.Entries, l.When.Format("2 January 2006, 15:04"))}
	if l.Entries == 1 {
		text = []string{fmt.Sprintf("1 edit from %s was not saved when fitup last ended.", l.When.Format("2 January 2006, 15:04"))}
	}
	switch {
	case l.Entries == 0:
		text = []string{"What was written down last when fitup was stopped was cut off and is lost: an edit, or what was being typed."}
	case l.Torn:
		text = append(text, "The last of them was cut off and is lost.")
	}
	if !l.Fits {
		text = append(text, "The file has been changed since. Both are put together; a value that both changed is asked about.")
	}
	return &question{
		title: "Unsaved work was found",
		must:  true, // edits made before the answer would follow on those of the journal
		text:  text,
		choices: []choice{
			{"t", "take it back in; undo still works on it", func(m *Model) { m.restore(l, edit.Neither) }},
			{"d", "drop it; it stays as an earlier state", func(m *Model) { m.dropLeft(l) }},
			{"q", "quit; it will be offered again", func(m *Model) { m.quit = true }},
		},
	}
}

// restore takes leftover work back, and asks where somebody else has changed the
// same since.
func (m *Model) restore(l *session.Leftover, prefer edit.Whose) {
	var done session.Restored
	m.alone(func(s *session.Session) { done = s.Restore(l, prefer) }, func() { m.restored(l, prefer, done) })
}

// restored says what became of leftover work.
func (m *Model) restored(l *session.Leftover, prefer edit.Whose, done session.Restored) {
	switch {
	case done.Asked && len(done.Clashes) > 0 && prefer == edit.Neither:
		m.open(newRecoverClash(l, done.Clashes))
		return
	case done.Asked:
		q := newRecover(l)
		q.title = "It cannot be put together"
		q.text = append([]string{capital(firstLine(done.Err)) + ".", ""}, q.text...)
		m.open(q)
		return
	}
	m.assess("Unsaved work is back")
	defer m.offerTyped()
	var je *session.JournalError
	switch {
	case errors.As(done.Err, &je):
		m.journalled(je)
	case done.Err != nil:
		m.say(theme.Warn, "%s", firstLine(done.Err))
		m.open(newNotice("Only a part is back", capital(firstLine(done.Err))+".", "", "The rest is kept in the hidden folder beside the file."))
	}
}

// newRecoverClash asks whose value counts where unsaved work and the file
// differ. Nothing has been done yet: a program that ends now finds all as it
// was.
func newRecoverClash(l *session.Leftover, clashes []edit.Clash) *question {
	text := append(clashLines(clashes), "", "Nothing was changed. What only one of you changed is kept either way.")
	return &question{
		title: "You and another program changed the same",
		must:  true,
		text:  text,
		choices: []choice{
			{"m", "keep mine where both changed", func(m *Model) { m.restore(l, edit.Mine) }},
			{"t", "take theirs where both changed; mine stays as an earlier state", func(m *Model) { m.restore(l, edit.Theirs) }},
			{"d", "drop all of mine; it stays as an earlier state", func(m *Model) { m.dropLeft(l) }},
			{"q", "quit; it will be offered again", func(m *Model) { m.quit = true }},
		},
	}
}

// dropLeft gives up leftover work.
func (m *Model) dropLeft(l *session.Leftover) {
	m.giveUp(func(s *session.Session) error { return s.Drop(l) }, m.offerTyped, func(err error) {
		q := newLoss(err, func(m *Model) { m.forget(m.offerTyped) })
		q.must = true
		q.choices = append(q.choices, choice{"q", "quit; it will be offered again", func(m *Model) { m.quit = true }})
		m.open(q)
	})
}
