package ui

import (
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// round is the screen in large digits on which one thing is read after the other: a
// value and Enter, by hand or by an instrument that types. It stays with the bench while
// it is closed, so that nothing typed is lost.
type round struct {
	tape    bool           // the measures of the file and not the axes
	lists   [2]roundList   // of the gauge and of the tape
	on      map[string]int // what the gauge stood on, by what was read
	after   int            // what was fixed, as the forms have their answers
	stood   int
	before  bool    // the powertrain still hangs where it was last read
	each    int     // readings of each before the next comes up
	form    reading // the reading as the form has it, for its answers and its checks
	refused string  // why the last value was not taken
	taken   string  // what was taken last
}

// roundList is where one stands among what is read with one instrument.
type roundList struct {
	field   field.Model
	ready   bool // the field was made
	at      string
	lower   project.End    // the end that was given before the value
	waits   string         // a value that waits for its lower end
	dropped string         // what Esc dropped, until undo brings it back
	begun   map[string]int // how many readings of each there were when the round began
}

// mostEach is how many readings of each thing a round can ask for.
const mostEach = 5

// openRound opens the round at what the cursor of the pane in focus is on, or at the
// first axis that was not read.
func (m *Model) openRound() *round {
	r := m.round
	if r == nil {
		r = &round{each: 1, on: map[string]int{}}
		m.round = r
	}
	for i := range r.lists {
		l := &r.lists[i]
		if !l.ready {
			l.field, l.ready = field.New("", "", nil).WithTheme(m.theme), true
		}
		l.begun = map[string]int{}
		for of, n := range m.counts(i == tapeList) {
			l.begun[of] = n
		}
	}
	r.refused, r.taken = "", ""
	if l := &r.lists[gaugeList]; l.waits == "" && l.field.Text() == "" {
		l.at = m.firstToRead()
	}
	r.settle(m)
	m.open(r)
	return r
}

// The lists.
const (
	gaugeList = iota
	tapeList
)

func (r *round) list() *roundList {
	if r.tape {
		return &r.lists[tapeList]
	}
	return &r.lists[gaugeList]
}

// firstToRead is what the cursor of the pane in focus would read, or the first axis that
// has no reading.
func (m *Model) firstToRead() string {
	if ask, ok := m.paneKey(pane.Read).(pane.AskReading); ok {
		return ask.Of
	}
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			if !x.Read.Known {
				return x.Target
			}
		}
	}
	return project.TargetPowertrain
}

// counts says how many values of each thing are in the file.
func (m *Model) counts(tape bool) map[string]int {
	out := map[string]int{}
	if !tape {
		for _, x := range m.now.Build.Readings {
			if !x.InPlan() {
				out[x.Of]++
			}
		}
		return out
	}
	for _, x := range m.now.Build.Measurements {
		out[x.Title()] += len(x.Lengths) + len(x.Angles)
	}
	return out
}

// done is how many values of a thing this round has taken.
func (r *round) done(m *Model, of string) int {
	return m.counts(r.tape)[of] - r.list().begun[of]
}

func (r *round) key(m *Model, k tea.KeyMsg) {
	r.settle(m)
	s := k.String()
	switch {
	case s == "esc" || s == "ctrl+c":
		r.escape(m)
	case s == "enter":
		r.enter(m)
	case !r.tape && r.lowerKey(m, s):
	case begins(k) || r.list().field.Text() != "" && r.belongs(s):
		r.typed(k)
	default:
		id, _ := m.actions.Lookup(scopeRound, s)
		r.perform(m, id)
	}
}

// belongs reports whether a key belongs to the value that is being typed: signs and
// letters of units do, and what only the round knows does not.
func (r *round) belongs(key string) bool {
	switch key {
	case "up", "down", "tab", "shift+tab", "ctrl+s", "pgup", "pgdown", "left", "right":
		return false
	case "o", "t", "p", "x":
		return r.tape
	}
	return true
}

// isDigit reports whether a key types a digit.
func isDigit(k tea.KeyMsg) bool {
	return k.Type == tea.KeyRunes && len(k.Runes) == 1 && k.Runes[0] >= '0' && k.Runes[0] <= '9'
}

// begins reports whether a key begins a value.
func begins(k tea.KeyMsg) bool {
	return k.Type == tea.KeyRunes && len(k.Runes) > 0 && strings.ContainsRune("0123456789.,+-", k.Runes[0]) ||
		k.Paste && strings.TrimSpace(string(k.Runes)) != ""
}

func (r *round) typed(k tea.KeyMsg) {
	l := r.list()
	l.field, _ = l.field.Update(k)
	r.refused, l.dropped = "", ""
}

// escape drops what is typed or waits; with nothing of that it leaves.
func (r *round) escape(m *Model) {
	l := r.list()
	switch {
	case l.field.Text() != "":
		l.dropped = l.field.Text()
		r.write(m, "")
	case l.waits != "":
		l.dropped, l.waits = l.waits, ""
	default:
		m.close()
		return
	}
	l.lower, r.refused = "", ""
	m.say(theme.Dim, "Dropped: %s. %s brings it back.", l.dropped, m.keyOf(actUndo))
}

// write puts a text into the field.
func (r *round) write(m *Model, text string) {
	r.list().field = field.New("", text, nil).WithTheme(m.theme)
}

// keyOf is the first key of an action; "" where it has none.
func (m *Model) keyOf(id action.ID) string {
	a, _ := m.actions.Get(id)
	if len(a.Keys) > 1 {
		a.Keys = a.Keys[:1]
	}
	return a.KeyText()
}

// perform does one action of the page.
func (r *round) perform(m *Model, id action.ID) {
	l := r.list()
	switch id {
	case pane.Up:
		r.move(m, -1)
	case pane.Down:
		r.move(m, 1)
	case actNextPane, actPrevPane, pane.NextLeaf, pane.PrevLeaf:
		r.tape = !r.tape
		r.refused, r.taken = "", ""
		r.settle(m)
	case actRoundEach:
		r.each = r.each%mostEach + 1
	case actRoundAfter:
		r.after = (r.after + 1) % len(r.form.after.values)
	case actRoundStood:
		r.stood = (r.stood + 1) % len(r.form.stood.values)
	case actRoundOn:
		r.on[l.at] = 1 - r.form.on.at
	case actRoundPlace:
		r.before = !r.before
	case actRoundDrop:
		m.askClash(l.at)
	case actUndo, actRedo:
		r.rewind(m, id)
	case actSave, actHelp, actFindings:
		m.perform(id)
	case actRound:
		m.close()
	}
	r.settle(m)
}

// rewind takes the last step back, or does it again, and goes to what it was of.
func (r *round) rewind(m *Model, id action.ID) {
	l := r.list()
	if id == actUndo && l.dropped != "" {
		r.write(m, l.dropped)
		l.dropped = ""
		return
	}
	r.refused, r.taken = "", ""
	was := [2]map[string]int{m.counts(false), m.counts(true)}
	m.perform(id)
	for i, before := range was {
		for of, n := range m.counts(i == tapeList) {
			if n != before[of] {
				r.tape, r.lists[i].at = i == tapeList, of
			}
			delete(before, of)
		}
		for of := range before { // all of it is gone
			r.tape, r.lists[i].at = i == tapeList, of
		}
	}
}

// things are what is read in turn, in order, and what they are called.
func (r *round) things(m *Model) (of, labels []string) {
	if r.tape {
		return m.measured()
	}
	return r.form.of.values, r.form.of.answers
}

// move goes to the next thing, or the one before. What is typed stays, and its lower end
// has to be given anew.
func (r *round) move(m *Model, by int) {
	l := r.list()
	all, _ := r.things(m)
	if len(all) == 0 {
		return
	}
	at := 0
	for i, of := range all {
		if of == l.at {
			at = i
		}
	}
	l.at = all[(at+by+len(all))%len(all)]
	l.lower, r.refused, r.taken = "", "", ""
	if l.waits != "" && l.field.Text() == "" {
		r.write(m, l.waits)
	}
	l.waits = ""
}

// settle puts the round on something that there is, and makes the form for it.
func (r *round) settle(m *Model) {
	r.fill(m)
	l := r.list()
	all, _ := r.things(m)
	found := false
	for _, of := range all {
		found = found || of == l.at
	}
	if !found && len(all) > 0 {
		l.at, l.lower, l.waits = all[0], "", ""
	}
	r.fill(m)
}

// enter takes what is typed.
func (r *round) enter(m *Model) {
	l := r.list()
	text := strings.TrimSpace(l.field.Text())
	switch {
	case l.waits != "":
		r.refused = "Not taken yet. First say which end was lower at " + l.waits + "."
	case text == "":
		r.refused = "Type " + r.wanted(m) + ", then Enter."
	case r.tape:
		r.takeMeasure(m, text)
	default:
		r.takeReading(m, text)
	}
}

// wanted is what a value looks like.
func (r *round) wanted(m *Model) string {
	if !r.tape {
		return "what the gauge shows, such as 85.6"
	}
	if x, ok := m.lastOf(r.list().at); ok && shownBy(x) == quantity.Angle {
		return "what it shows, such as 2.4"
	}
	return "what it shows, such as 412.5"
}

// next goes on once the thing shown has as many values as are wanted of each: to the
// next that has fewer. It reports whether there is one.
func (r *round) next(m *Model) bool {
	l := r.list()
	if r.done(m, l.at) < r.each {
		return true
	}
	all, _ := r.things(m)
	at := 0
	for i, of := range all {
		if of == l.at {
			at = i
		}
	}
	for i := 1; i < len(all); i++ {
		of := all[(at+i)%len(all)]
		if r.done(m, of) < r.each && (r.tape || m.inRound(of)) {
			l.at = of
			return true
		}
	}
	return false
}

// inRound reports whether a round comes by what can take a gauge: the axes of the lines,
// and what else has readings already.
func (m *Model) inRound(of string) bool {
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			if x.Target == of {
				return true
			}
		}
	}
	return m.counts(false)[of] > 0
}
