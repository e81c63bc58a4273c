package ui

import (
	"errors"
	"fmt"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/format"
	"fitup/internal/project/keep"
	"fitup/internal/project/session"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// lookEvery is how often the file is glanced at for changes from outside.
const lookEvery = 2 * time.Second

// lookMsg is a glance at the file.
type lookMsg struct {
	sight session.Sight
	again bool // look again after a while
}

// watchFile glances at the file after a while, beside the bench, because a slow
// disk must not hold up a key.
func (m *Model) watchFile() tea.Cmd {
	path, clock := m.path, m.sess.Clock
	return guard(tea.Tick(lookEvery, func(time.Time) tea.Msg {
		return lookMsg{sight: session.Glance(path, clock()), again: true}
	}))
}

// looked takes a glance in.
func (m *Model) looked(msg lookMsg) tea.Cmd {
	var next tea.Cmd
	if msg.again {
		next = m.watchFile()
	}
	if !m.free() {
		return next // the answer comes first; the next glance will tell again
	}
	m.takeOver()
	if msg.sight != m.sight {
		m.sight = msg.sight
		m.sess.Compare(func() {
			if !m.free() {
				m.sight = session.Sight{} // the next glance will tell again
				return
			}
			m.takeOutside(edit.Neither, m.tookOutside)
		})
	}
	return next
}

// free reports whether the build may change under the bench: nothing is asked,
// and nothing is waited for. The data page finds again what it has typed.
func (m *Model) free() bool {
	for _, d := range m.dialogs {
		if _, page := d.(*dataPage); !page {
			return false
		}
	}
	return m.disk.blocked == 0
}

// takeOver takes the file over when the other program has closed it.
func (m *Model) takeOver() {
	var free func()
	m.sess.TakeOver(func() { free = m.block() }, func(left *session.Leftover, ok bool) {
		free()
		if !ok {
			return
		}
		m.assess("The other fitup has closed the file; you can change it here now")
		m.offerLeft(left)
	})
}

// takeOutside brings in what somebody else has changed on disk, and then tells
// what became of it. Keys wait, so that nothing is changed beneath it.
func (m *Model) takeOutside(prefer edit.Whose, then func(session.Outside)) {
	var out session.Outside
	m.alone(func(s *session.Session) { out = s.TakeOutside(prefer) }, func() { then(out) })
}

// tookOutside says what somebody else has changed on disk.
func (m *Model) tookOutside(out session.Outside) {
	switch out.Outcome {
	case session.Broken:
		m.say(theme.Warn, "The file on disk was changed and cannot be read just now: %s", firstLine(out.Err))
	case session.Gone:
		m.say(theme.Warn, "The file is no longer on disk; your work is still here, and s asks what to do.")
	case session.Clashed:
		m.open(newClash(out))
	case session.Loaded, session.Merged:
		m.tellOutside("Changed outside", m.now, out)
	}
}

// tellOutside says what somebody else has changed, and what that did to the state
// before.
func (m *Model) tellOutside(what string, before *assess.Assessment, out session.Outside) {
	if out.Outcome == session.Merged {
		what += ", your unsaved work stays"
	}
	m.reassess()
	m.data.takeAlong(m)
	m.tell(before, what+": "+changeList(out.Changes))
	if out.Err != nil {
		m.say(theme.Danger, "%v", out.Err)
	}
}

func changeList(changes []edit.Change) string {
	switch n := len(changes); n {
	case 0:
		return "comments or spelling only"
	case 1:
		return changes[0].String()
	default:
		return fmt.Sprintf("%s, and %d more", changes[0], n-1)
	}
}

// saveChanged saves a file that somebody else has changed: with their changes
// taken in where they are not about the same values, else the user is asked.
func (m *Model) saveChanged(refused error, then func(ok bool)) {
	if len(m.dialogs) > 0 { // what is being typed may be about what they have changed
		m.say(theme.Warn, "Not saved: the file was changed outside meanwhile; save again.")
		then(false)
		return
	}
	free, before := m.block(), m.now
	m.takeOutside(edit.Neither, func(out session.Outside) {
		switch out.Outcome {
		case session.Merged, session.Same:
			m.reassess()
			m.sess.Save(session.SaveHow{Part: m.parted}, func(done session.Saved) {
				free()
				then(m.savedWith(before, out, done))
			})
			return
		case session.Loaded:
			m.tellOutside("Nothing of yours to save; loaded what was changed outside", before, out)
		case session.Clashed:
			m.say(theme.Dim, notYet)
			m.open(newClash(out))
		default:
			m.say(theme.Dim, notYet)
			m.open(newConflict(refused))
		}
		free()
		then(out.Outcome == session.Loaded)
	})
}

// savedWith says what became of a save that took in what was changed outside.
func (m *Model) savedWith(before *assess.Assessment, out session.Outside, done session.Saved) bool {
	var je *session.JournalError
	if err := done.Err; err != nil && !errors.As(err, &je) && !errors.Is(err, keep.ErrUnconfirmed) {
		m.assess("Changed outside and taken in")
		m.notSaved(err)
		return false
	}
	if out.Outcome == session.Same {
		return m.saved(done.Err)
	}
	out.Err, out.Outcome = done.Err, session.Loaded
	m.tellOutside("Saved, with what was changed outside", before, out)
	return true
}

const clashesShown = 6

// newClash shows the values that both sides changed.
func newClash(out session.Outside) *question {
	if len(out.Clashes) == 0 {
		return newConflict(out.Err)
	}
	q := &question{title: "You and another program changed the same", text: clashLines(out.Clashes)}
	q.text = append(q.text, "", "Nothing was written. What only one of you changed is kept either way.")
	settle := func(side edit.Whose, what string) func(*Model) {
		return func(m *Model) {
			m.takeOutside(side, func(now session.Outside) {
				if now.Outcome == session.Merged || now.Outcome == session.Loaded {
					m.tellOutside(what, m.now, session.Outside{Outcome: session.Loaded, Changes: now.Changes, Err: now.Err})
				} else if now.Err != nil {
					m.say(theme.Danger, "Not taken in: %s", firstLine(now.Err))
				}
			})
		}
	}
	q.choices = []choice{
		{"m", "keep mine where both changed; s then saves", settle(edit.Mine, "Yours kept; the other changed")},
		{"t", "take theirs where both changed; mine stays as an earlier state", settle(edit.Theirs, "Theirs taken; the other changed")},
		{"n", "save mine under another name", func(m *Model) { m.open(newSaveAs(m)) }},
		{"l", "load theirs; mine stays as an earlier state", reload},
	}
	return q
}

// clashLines lists what both sides changed, the first few of it.
func clashLines(clashes []edit.Clash) []string {
	out := []string{}
	for i, c := range clashes {
		if i == clashesShown {
			return append(out, fmt.Sprintf("and %d more", len(clashes)-i))
		}
		out = append(out, c.String())
	}
	return out
}

func reload(m *Model) {
	var err error
	m.alone(func(s *session.Session) { err = s.Reload() }, func() {
		if err != nil {
			m.say(theme.Danger, "Not loaded: %s", why(err))
			m.open(newNotice("Not loaded", capital(why(err))+"."))
			return
		}
		m.assess("Loaded the file from disk")
	})
}

// newShared says who has the file open.
func newShared(who *keep.Holder) *question {
	return &question{
		title: "Another fitup has this file open",
		must:  true,
		text: []string{
			"It is " + who.String() + ".",
			"You can look at the build here: what the other saves shows up by itself, and when the other closes the file you can go on here.",
		},
		choices: []choice{
			{"l", "look only", func(m *Model) {
				m.say(theme.Dim, "Looking only: %s has the file.", who)
			}},
			{"o", "open anyway", func(m *Model) {
				m.sess.EditAnyway()
				m.say(theme.Doubt, "Both can change the file now. Each save takes in what the other saved; work that is not saved here is not safe from a crash.")
			}},
			{"q", "quit", func(m *Model) { m.quit = true }},
		},
	}
}

// greet says what is worth knowing about the file at the start.
func (m *Model) greet(s *session.Session) {
	m.sight = session.Glance(s.Path(), s.Clock())
	switch who, from := m.sess.Elsewhere(), m.sess.From(); {
	case m.sess.Holder() != nil:
		m.open(newShared(m.sess.Holder()))
	case who != nil:
		m.say(theme.Warn, "%s had this file open and did not close it; if it still is, save often: changes are taken in both ways.", who)
	case len(edit.Doubts(m.sess.Now())) > 0 && len(m.dialogs) == 0:
		d := edit.Doubts(m.sess.Now())[0]
		line, _ := m.sess.Now().Place(d.Path)
		m.say(theme.Doubt, "Line %d: is that a slip? %s", line, project.Printable(d.Text))
	case s.Names() > 1:
		m.say(theme.Warn, "This file has another name (a hard link), which a save will leave with the old text.")
	case from != 0 && m.sess.Warning() == nil:
		m.say(theme.Doubt, "The file is in format %d. The next save writes format %d, which an older fitup does not read.", from, format.Now)
	}
}
