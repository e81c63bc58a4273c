package shop

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// Weld is one weld of a bracket. Only what is finished counts as carrying.
type Weld struct {
	project.Weld
	Index    int
	ID       string
	State    project.WeldState // as a whole
	Open     []string          // sides that carry nothing yet
	Bare     []string          // sides that were finished without proof and without a reason
	Carries  finding.Number    // length that carries, mm
	AllSides finding.Number    // length it is meant to have, mm
}

// Of reports whether the weld holds the bracket of that name.
func (w Weld) Of(bracket string) bool { return project.Slug(w.Bracket) == project.Slug(bracket) }

// WeldMap is what the state of the weld map follows from.
type WeldMap struct {
	Map      []project.Weld
	Proved   bool     // what a finish weld rests on is proved
	Bolted   bool     // the powertrain is bolted on
	Brackets []string // made here, whose welds belong on the map
	Absent   []string // welds of those that are not on it, though others of the same bracket are
}

// Welds draws up the weld map. A weld is a fact that jobs can wait for: ok once
// every side of it carries, and none was finished without proof or a reason.
func (m WeldMap) Welds() (welds []Weld, facts []finding.Fact) {
	for i, w := range m.Map {
		out := WeldOf(i, w)
		for _, s := range w.Sides {
			if !m.Proved && s.Carries() && strings.TrimSpace(s.Override) == "" {
				out.Bare = append(out.Bare, s.Name)
			}
		}
		welds = append(welds, out)
		f := finding.Fact{ID: out.ID, Title: fmt.Sprintf("weld %s, %s", w.Bracket, w.At), Status: finding.OK}
		f.Text = f.Title + " is " + string(out.State)
		switch {
		case len(w.Sides) == 0:
			f.Status, f.Text = finding.NotKnown, f.Title+" has no sides in the file yet"
		case len(out.Open) > 0:
			f.Status, f.Text = finding.NotKnown, f.Title+" is not finished: "+strings.Join(out.Open, ", ")
			f.Why = "A side counts as carrying once it is finished; a tack carries nothing."
		case len(out.Bare) > 0:
			f.Status, f.Text = finding.NotKnown, f.Title+" is finished, and proof is missing: "+strings.Join(out.Bare, ", ")
			f.Why = "Prove again what the weld rests on, or record a reason with each side."
		}
		facts = append(facts, f)
	}
	return welds, append(facts, m.whole(welds)...)
}

// absent are the welds that were never entered.
func (m WeldMap) absent(welds []Weld) (absent []string) {
	var never []string
	for _, b := range m.Brackets {
		if !slices.ContainsFunc(welds, func(w Weld) bool { return w.Of(b) }) {
			never = append(never, finding.Spoken(b))
		}
	}
	switch len(never) {
	case 0:
	case 1:
		absent = append(absent, "the welds of the "+never[0]+" bracket were never entered")
	default:
		absent = append(absent, "the welds of these brackets were never entered: "+strings.Join(never, ", "))
	}
	for _, w := range m.Absent {
		absent = append(absent, w+" was never entered")
	}
	return absent
}

// whole are the facts about the whole map. An empty map says nothing about welds that
// were never entered, unless everything is bolted and no leg is made here: one that is
// made of a section is welded to its plates, wherever that is done.
func (m WeldMap) whole(welds []Weld) (facts []finding.Fact) {
	var in, all, unseen, bare []string
	absent := m.absent(welds)
	for _, w := range welds {
		where := w.Bracket + ", " + w.At
		if len(w.Sides) == 0 {
			absent = append(absent, where+" has no sides")
		}
		for _, s := range w.Sides {
			side := where + ", " + s.Name + " " + s.State.Spoken()
			if !s.Carries() {
				all = append(all, side)
				if !s.Out {
					in = append(in, side)
				}
			}
			if s.State != project.Inspected {
				unseen = append(unseen, side)
			}
		}
		for _, s := range w.Bare {
			bare = append(bare, where+", "+s)
		}
	}
	bolted := m.Bolted && len(welds) == 0 && len(m.Brackets) == 0
	switch {
	case bolted:
		absent = nil
	case len(welds) == 0 && len(absent) == 0:
		absent = []string{"no weld was entered"}
	}
	fact := func(id, title, good, bad string, open []string) {
		f := finding.Fact{ID: id, Title: title, Status: finding.OK, Text: good}
		switch {
		case bolted:
			f.Text = "everything is bolted, with no leg made here and no weld in the file"
		case len(absent) > 0:
			f.Status, f.Text = finding.NotKnown, "the weld map is not whole: "+strings.Join(absent, "; ")
			f.Why = "Enter each weld as [[weld]], with its sides."
			if m.Bolted {
				f.Why = "A leg that is bolted on is welded to its plates all the same. " + f.Why
			}
		case len(open) > 0:
			f.Status, f.Text = finding.NotKnown, bad+": "+strings.Join(open, "; ")
			f.Why = "A side counts as carrying once it is finished; a tack carries nothing."
		case len(bare) > 0 && id != "welds.given":
			f.Status, f.Text = finding.NotKnown, "finished, and proof is missing: "+strings.Join(bare, "; ")
			f.Why = "Prove again what the welds rest on, or record a reason with each side."
		}
		facts = append(facts, f)
	}
	fact("welds.given", "the weld map", "every bracket has its welds on the map", "", nil)
	fact("welds.finished.in", "welds that can be reached", "every side that can be reached with the powertrain in is finished", "not finished", in)
	fact("welds.finished", "welds", "every side of the weld map is finished", "not finished", all)
	fact("welds.inspected", "inspection of the welds", "every side of the weld map is inspected", "not inspected", unseen)
	return facts
}

// WeldOf adds up one weld of the map.
func WeldOf(i int, w project.Weld) Weld {
	out := Weld{Weld: w, Index: i, ID: w.ID(), State: w.State(), Carries: finding.Exact(0), AllSides: finding.Exact(0)}
	for _, s := range w.Sides {
		l, ok := s.Length.Get()
		if !ok {
			out.AllSides = finding.Missing("the " + s.Name + " side has no length in the file yet")
		}
		out.AllSides.V += l
		if s.Carries() {
			if !ok {
				out.Carries = finding.Missing(out.AllSides.Why)
			}
			out.Carries.V += l
		} else {
			out.Open = append(out.Open, s.Name+" "+s.State.Spoken())
		}
	}
	return out
}
