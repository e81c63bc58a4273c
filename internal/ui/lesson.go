package ui

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/theme"
)

// lesson is a walk through the demo that teaches by doing: it says what to press,
// sees that it was done, and goes on. Every key does what it always does.
type lesson struct {
	at   int
	from deeds // how much had been done when the step at hand began
}

// deeds count what somebody has done.
type deeds struct{ nudged, read, typed, ticked, undone int }

// task is one step of the walk.
type task struct {
	text string
	done func(from, now deeds) bool
}

// tasks are the steps. Each can be done from wherever the one before has left off.
func tasks() []task {
	return []task{
		{"Nudge. Press 2, Down until the cursor is on the rear mount, then Right three times. Joint 2 follows.",
			func(from, now deeds) bool { return now.nudged >= from.nudged+3 }},
		{"Read. Press n, type 85.6 as if the gauge showed it, Down to the lower end, r for rear, Enter.",
			func(from, now deeds) bool { return now.read > from.read }},
		{"Type. Press 2, then Enter on the rear mount; type -284.5 and press Enter.",
			func(from, now deeds) bool { return now.typed > from.typed }},
		{"Tick. Press 5, Down to a job without a sign before it, and Space. One that is held says why.",
			func(from, now deeds) bool { return now.ticked != from.ticked }},
		{"Undo. u takes back the last change, whatever it was; H lists them all.",
			func(from, now deeds) bool { return now.undone > from.undone }},
	}
}

// startLesson begins the walk. It is made for the demo, of which a scratch copy is
// open: on somebody's build nothing is changed for practice.
func (m *Model) startLesson() {
	if !m.scratch {
		m.say(theme.Doubt, "The walk changes things, so it goes through the demo: fitup demo --walk.")
		return
	}
	m.lesson = &lesson{from: m.deeds()}
	m.message = message{}
}

// deeds are what has been done so far.
func (m *Model) deeds() deeds {
	d := m.practised
	d.read = len(m.now.Build.Readings)
	for _, j := range m.now.Jobs {
		if j.State == assess.Done {
			d.ticked++
		}
	}
	return d
}

// followLesson sees whether the step at hand is done.
func (m *Model) followLesson() {
	l := m.lesson
	if l == nil || m.sess.Lent() {
		return
	}
	now := m.deeds()
	if !tasks()[l.at].done(l.from, now) {
		return
	}
	l.at, l.from = l.at+1, now
	if l.at == len(tasks()) {
		m.lesson = nil
		m.say(theme.Good, "That was the walk. d has all that the file can hold, f what is ok and what is not, ? every key. Nothing here touches a file of yours.")
	}
}

// leaveLesson ends the walk.
func (m *Model) leaveLesson() {
	m.lesson = nil
	m.say(theme.Dim, "The walk is left. It comes again only when you ask: / and the word walk, or fitup demo --walk.")
}

// lessonLines are what the walk asks for, above the message.
func (m *Model) lessonLines() []string {
	if m.lesson == nil || len(m.dialogs) > 0 && m.height < layout.StackH {
		return nil
	}
	all := tasks()
	text := fmt.Sprintf("Walk %d of %d, esc leaves it. %s", m.lesson.at+1, len(all), all[m.lesson.at].text)
	return theme.Wrap(m.theme.Plain(text), max(m.width-4, 1))
}

// lessonRows are these lines as they are drawn.
func (m *Model) lessonRows(w int) []string {
	var out []string
	for _, l := range m.lessonLines() {
		out = append(out, m.theme.Paint(theme.Selected, m.theme.Pad(" "+strings.TrimRight(l, " "), w)))
	}
	return out
}
