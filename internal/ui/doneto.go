package ui

import (
	"fmt"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/ui/theme"
)

// askDoneTo ticks what needs no proof up to the job under the cursor, once it is
// said what stays open.
func (m *Model) askDoneTo() {
	at := m.jobs().Job(m.now)
	if at < 0 {
		m.say(theme.Dim, "There are no jobs yet.")
		return
	}
	ticks, left := m.now.UpTo(at)
	if len(ticks) == 0 {
		m.say(theme.Doubt, "Up to here nothing is open that can be ticked without proof; %d wait for it.", len(left))
		return
	}
	q := &question{
		title: "Done up to here",
		text:  []string{fmt.Sprintf("%d jobs that need no proof are ticked: only what you have done.", len(ticks))},
		choices: []choice{{"y", "they are done, tick them", func(m *Model) {
			f := m.sess.Now()
			var edits []edit.Edit
			for _, j := range ticks {
				edits = append(edits, edit.TickJob(f, j.Index, edit.Tick{Day: m.today()})...)
			}
			m.do(fmt.Sprintf("ticked %d jobs up to: %s", len(ticks), project.Printable(m.now.Jobs[at].Title)), edits...)
		}}},
	}
	if len(left) > 0 {
		q.text = append(q.text, fmt.Sprintf("%d stay open: they want proof, or come behind one that does:", len(left)))
	}
	for i, j := range left {
		if i == 6 {
			q.text = append(q.text, fmt.Sprintf("and %d more", len(left)-i))
			break
		}
		q.text = append(q.text, "- "+m.theme.Plain(project.Printable(j.Title)))
	}
	m.open(q)
}
