package book

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

func (m *maker) jobs(s *Sheet) {
	a := m.a
	if len(a.Jobs) == 0 {
		s.add("", text(0, "No jobs are in the file yet: `fitup jobs --add FILE` puts the built-in list in.")...)
		return
	}
	s.add("", text(0, sentence(fmt.Sprintf("%s; %d held, %d to prove again, %d in doubt", a.Headcount(), len(a.JobsIn(assess.Held)), len(a.JobsIn(assess.ProveAgain)), len(a.JobsIn(assess.InDoubt)))))...)
	for _, st := range a.Stages() {
		var rows, minds [][]string
		letters := map[string]string{}
		for _, j := range a.Jobs {
			if j.Stage != st.Name {
				continue
			}
			row := m.job(j)
			var mind []string
			for _, c := range j.Cautions {
				if letters[c] == "" {
					letters[c] = letter(len(minds))
					minds = append(minds, []string{letters[c], c})
				}
				mind = append(mind, letters[c])
			}
			row[mindCell] = strings.Join(mind, " ")
			rows = append(rows, row)
		}
		var items []Item
		if len(minds) > 0 { // before the jobs: it is read first
			items = append(items, grid([]string{"", "mind, for the jobs that have its letter"}, minds))
		}
		s.add(fmt.Sprintf("%s (%d of %d)", capital(st.Name), st.Done, st.Total), append(items, grid([]string{"", "job", "done when", "state", "mind"}, rows))...)
	}
}

// mindCell is where a row of the job list has its cautions.
const mindCell = 4

// letter is the name of the n-th caution of a stage: A to Z, then A2 and so on.
func letter(n int) string {
	s := string(rune('A' + n%26))
	if n >= 26 {
		s += fmt.Sprint(n/26 + 1)
	}
	return s
}

// job is one row of the job list.
func (m *maker) job(j assess.Job) []string {
	state := []string{j.State.String()}
	if len(j.Broken) > 0 {
		state = nil // which says so itself
	}
	for _, b := range j.Broken {
		state = append(state, "prove again: "+b)
	}
	state = append(state, j.Doubts...)
	var alike gathered
	for _, h := range j.Holds {
		if j.State == assess.Held && h.Holds() || h.Status == assess.Elsewhere {
			said, of, ok := strings.Cut(h.Text, ": ")
			if after, titled := strings.CutPrefix(h.Text, h.Title+" "); titled {
				said, of, ok = strings.TrimPrefix(after, "is "), h.Title, true
			}
			if ok {
				alike.add(said, of, h.Text)
			} else {
				state = append(state, h.Text)
			}
		}
	}
	if j.Override != "" {
		state = append(state, "overridden: "+j.Override)
	}
	for _, c := range m.a.Changed(j) {
		if said, of, ok := strings.Cut(c, ": "); ok {
			alike.add(said, of, c)
		} else {
			state = append(state, c)
		}
	}
	singly, together := alike.said()
	state = append(state, singly...)
	if j.State == assess.Done && !j.DoneOn.IsZero() {
		state = append(state, "on "+j.DoneOn.Format("2006-01-02"))
	}
	title := j.Title
	if j.Tools != "" {
		title += ". Takes: " + j.Tools
	}
	if j.Note != "" {
		title += ". Note: " + j.Note
	}
	return []string{tickBox(j.State == assess.Done), sentence(title), sentence(j.Means), strings.Join(append([]string{sentence(strings.Join(state, "; "))}, together...), " "), mindCell: strings.Join(j.Cautions, " ")}
}

// gathered are sentences, of which those that say the same of many things are set as
// one: a job that forty brackets hold would fill a page.
type gathered struct {
	says  []string // in the order in which they were first said
	of    map[string][]string
	whole map[string][]string
}

// add notes a whole sentence that says something of a thing.
func (g *gathered) add(says, of, whole string) {
	if g.of == nil {
		g.of, g.whole = map[string][]string{}, map[string][]string{}
	}
	if g.of[says] == nil {
		g.says = append(g.says, says)
	}
	g.of[says], g.whole[says] = append(g.of[says], of), append(g.whole[says], whole)
}

// said are the sentences that stay as they are, and those that stand for several.
func (g *gathered) said() (singly, together []string) {
	const many = 3
	for _, says := range g.says {
		if of := g.of[says]; len(of) < many {
			singly = append(singly, g.whole[says]...)
		} else {
			together = append(together, sentence(fmt.Sprintf("%s (%d): %s", says, len(of), strings.Join(of, "; "))))
		}
	}
	return singly, together
}

func (m *maker) out(s *Sheet) {
	a := m.a
	where := "Not recorded whether the powertrain is in or out."
	switch a.Build.Powertrain.Standing {
	case project.StandsIn:
		where = "The powertrain is in. This waits until it comes out."
	case project.StandsOut:
		where = "The powertrain is out. Before it goes in:"
	}
	if len(a.EngineOut) == 0 {
		s.add("", text(0, where+" Nothing in the file is open that can only be reached with it out.")...)
		return
	}
	var rows [][]string
	for _, it := range a.EngineOut {
		rows = append(rows, []string{tickBox(false), it.Text})
	}
	s.add("", append(text(0, where), table(0, 0, rows))...)
}

func (m *maker) weld(s *Sheet) {
	if len(m.a.Welds) == 0 {
		s.add("", text(0, "No weld is in the file yet: [[weld]] begins the map. What is not on it is not known to carry.")...)
		return
	}
	s.add("", text(0, "Only finished sides carry. Weld by someone qualified for it, to the rules of the place: away from fuel, with the battery off, and with the powertrain held.")...)
	var rows [][]string
	for _, w := range m.a.Welds {
		for _, side := range w.Sides {
			state := string(side.State)
			if state == "" || side.State == project.NoWeld {
				state = "not welded yet"
			}
			if side.State == project.Inspected && side.InspectedBy != "" {
				state += " by " + side.InspectedBy
			}
			if slices.Contains(w.Bare, side.Name) {
				state += ", and proof is missing"
			}
			if side.Override != "" {
				state += ", overridden: " + side.Override
			}
			length := "not known"
			if v, ok := side.Length.Get(); ok {
				length = Magnitude(quantity.Length, v, m.u)
			}
			reach := ""
			if side.Out {
				reach = "powertrain out"
			}
			rows = append(rows, []string{tickBox(side.Carries()), w.Bracket, w.At, side.Name, length, state, reach})
		}
		if len(w.Sides) == 0 {
			rows = append(rows, []string{tickBox(false), w.Bracket, w.At, "no side in the file", "", "not known", ""})
		}
	}
	s.add("", written(1, []string{"", "bracket", "weld", "side", "length", "state", "reach", "welded by, on"}, rows))
}

func (m *maker) fasteners(s *Sheet) {
	a := m.a
	if len(a.Fasteners) == 0 && len(a.Build.Fluids) == 0 {
		s.add("", text(0, "No fasteners and no fluids are in the file yet: [[fastener]], [[fluid]].")...)
		return
	}
	var rows [][]string
	for _, f := range a.Fasteners {
		count := ""
		if n, ok := f.Count.Get(); ok {
			count = fmt.Sprintf("%g", n)
		}
		torque, from := "not known", sentence(f.Torque.Why)
		if f.Torque.Known {
			torque, from = Magnitude(quantity.Torque, f.Torque.V, m.u), "worked out"
			if f.Maker {
				from = "the maker's figure"
				if f.Computed.Known {
					from += "; worked out: " + Magnitude(quantity.Torque, f.Computed.V, m.u)
				}
			}
		}
		if len(f.Due) > 0 {
			from += fmt.Sprintf("; check again, due at %g km", f.Due[len(f.Due)-1])
		}
		rows = append(rows, []string{tickBox(f.Marked), f.Name, count, strings.TrimSpace(f.Thread + " " + f.Class), torque, from})
	}
	if len(rows) > 0 {
		s.add("Fasteners", append([]Item{written(1, []string{"", "what it holds", "count", "thread", "torque", "from", "checked again"}, rows)},
			text(0, "The maker's figure comes first; a torque that is worked out is uncertain by 25 % either way.")...)...)
	}
	rows = nil
	for _, f := range a.Build.Fluids {
		rows = append(rows, []string{tickBox(f.Filled), f.Name, f.Amount, f.Spec, f.Note})
	}
	if len(rows) > 0 {
		s.add("Fluids", grid([]string{"", "into", "amount", "what the maker asks for", "note"}, rows))
	}
}

// urgency is the order in which findings are told.
var urgency = []assess.Status{assess.Over, assess.NotKnown, assess.Elsewhere, assess.Tight, assess.OK}

func (m *maker) findings(s *Sheet) {
	a := m.a
	if len(a.Findings) == 0 {
		s.add("", text(0, "Nothing to check is in the file yet, which proves nothing.")...)
		return
	}
	s.add("", text(0, "± is the expanded uncertainty, k = 2; where none is shown, none is claimed. A plan has none.")...)
	for _, st := range urgency {
		var rows [][]string
		for _, f := range a.Findings {
			if f.Status != st {
				continue
			}
			basis := f.Basis.String()
			if st == assess.NotKnown {
				basis = ""
			}
			if f.Moved {
				basis += ", moved since"
			}
			more := sentence(f.Source)
			if st != assess.OK {
				more = strings.TrimSpace(sentence(f.Advice()) + " " + more)
			}
			rows = append(rows, []string{f.Title, m.value(f), m.limit(f), basis, more})
		}
		if len(rows) > 0 {
			s.add(capital(st.String())+fmt.Sprintf(" (%d)", len(rows)), grid([]string{"finding", "value", "limit", "basis", "what to do, and whose limit it is"}, rows))
		}
	}
}

func (m *maker) known(s *Sheet) {
	var assumed [][]string
	where := map[string][]string{}
	var order []string
	for _, f := range m.a.Findings {
		for _, x := range f.Assumes {
			if where[x] == nil {
				order = append(order, x)
			}
			where[x] = append(where[x], f.Title)
		}
	}
	for _, x := range order {
		of := where[x]
		const most = 4
		said := strings.Join(of[:min(most, len(of))], "; ")
		if len(of) > most {
			said += fmt.Sprintf("; and %d more", len(of)-most)
		}
		assumed = append(assumed, []string{sentence(x), said})
	}
	if len(assumed) > 0 {
		s.add("Assumed: nobody has measured it", grid([]string{"what", "what rests on it"}, assumed))
	}
	var missing, changed [][]string
	for _, f := range m.a.Findings {
		switch f.Status {
		case assess.NotKnown:
			missing = append(missing, []string{f.Title, sentence(f.Missing), strings.Join(f.Lacks(), ", ")})
		case assess.Elsewhere:
			changed = append(changed, []string{f.Title, "judged elsewhere: " + f.Elsewhere})
		}
		if f.Changed {
			changed = append(changed, []string{f.Title, "its limit was changed in the file: " + m.limit(f)})
		}
	}
	if len(missing) > 0 {
		s.add("Not known", grid([]string{"finding", "what is missing", "where it goes in the file"}, missing))
	}
	if len(changed) > 0 {
		s.add("Changed or judged by others", grid([]string{"finding", "how"}, changed))
	}
	s.add("Not in this book", text(0, "What the file does not hold was not checked. No figure here knows of fatigue, rust, cracks, the quality of a weld, or parts that are not as their maker made them.")...)
}
