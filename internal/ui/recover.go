package ui

import (
	"fmt"

	"fitup/internal/project/session"
	"fitup/internal/ui/theme"
)

// newRecover offers unsaved work of an earlier sitting.
func newRecover(l *session.Leftover) *question {
	text := []string{fmt.Sprintf("%d edits from %s were not saved when fitup last ended.", l.Entries, l.When.Format("2 January 2006, 15:04"))}
	if l.Entries == 1 {
		text = []string{fmt.Sprintf("1 edit from %s was not saved when fitup last ended.", l.When.Format("2 January 2006, 15:04"))}
	}
	if l.Torn {
		text = append(text, "The last of them was cut off and is lost.")
	}
	if !l.Fits {
		text = append(text, "The file has been changed since; edits that no longer fit are not taken.")
	}
	return &question{
		title: "Unsaved work was found",
		must:  true, // edits made before the answer would follow on those of the journal
		text:  text,
		choices: []choice{
			{"t", "take it back in; undo still works on it", func(m *Model) {
				err := m.sess.Restore(l)
				m.assess("Unsaved work is back")
				if err != nil {
					m.say(theme.Warn, "%s", firstLine(err))
				}
			}},
			{"d", "drop it for good", func(m *Model) {
				if err := m.sess.Discard(); err != nil {
					m.say(theme.Danger, "%s", firstLine(err))
				}
			}},
			{"q", "quit; it will be offered again", func(m *Model) { m.quit = true }},
		},
	}
}
