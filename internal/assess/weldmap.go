package assess

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
)

// Weld is one weld of a bracket. Only what is finished counts as carrying.
type Weld struct {
	project.Weld
	Index    int
	ID       string
	State    project.WeldState // as a whole
	Open     []string          // sides that carry nothing yet
	Bare     []string          // sides that were finished without proof and without a reason
	Carries  Number            // length that carries, mm
	AllSides Number            // length it is meant to have, mm
}

// welds draws up the weld map. A weld is a fact that jobs can wait for: ok once
// every side of it carries, and none was finished without proof or a reason.
func (a *Assessment) welds() {
	proof := slices.ContainsFunc(a.proofHolds(), func(h Hold) bool { return h.Status != Tight })
	for i, w := range a.Build.Welds {
		out := weldOf(i, w)
		for _, s := range w.Sides {
			if proof && s.Carries() && strings.TrimSpace(s.Override) == "" {
				out.Bare = append(out.Bare, s.Name)
			}
		}
		a.Welds = append(a.Welds, out)
		f := Fact{ID: out.ID, Title: fmt.Sprintf("weld %s, %s", w.Bracket, w.At), Status: OK}
		f.Text = f.Title + " is " + string(out.State)
		switch {
		case len(w.Sides) == 0:
			f.Status, f.Text = NotKnown, f.Title+" has no sides in the file yet"
		case len(out.Open) > 0:
			f.Status, f.Text = NotKnown, f.Title+" is not finished: "+strings.Join(out.Open, ", ")
			f.Why = "A side counts as carrying once it is finished; a tack carries nothing."
		case len(out.Bare) > 0:
			f.Status, f.Text = NotKnown, f.Title+" is finished, and proof is missing: "+strings.Join(out.Bare, ", ")
			f.Why = "Prove again what the weld rests on, or record a reason with each side."
		}
		a.Facts = append(a.Facts, f)
	}
	a.weldFacts()
}

// weldFacts are about the whole map. An empty map says nothing about welds that
// were never entered, unless everything is bolted.
func (a *Assessment) weldFacts() {
	var absent, in, all, unseen, bare []string
	for _, b := range a.Brackets {
		if _, ok := a.declared(bracketPrefix + b.Name); !ok && len(a.weldsOf(b.Name)) == 0 {
			absent = append(absent, "the welds of the "+b.Label+" bracket were never entered")
		}
	}
	for _, w := range a.Welds {
		where := w.Bracket + ", " + w.At
		if len(w.Sides) == 0 {
			absent = append(absent, where+" has no sides")
		}
		for _, s := range w.Sides {
			side := where + ", " + s.Name + " " + stateWord(s.State)
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
	bolted := a.Build.Powertrain.Fixing == project.BoltedOn && len(a.Welds) == 0
	switch {
	case bolted:
		absent = nil
	case len(a.Welds) == 0 && len(absent) == 0:
		absent = []string{"no weld was entered"}
	}
	fact := func(id, title, good, bad string, open []string) {
		f := Fact{ID: id, Title: title, Status: OK, Text: good}
		switch {
		case bolted:
			f.Text = "everything is bolted, and there is no weld in the file"
		case len(absent) > 0:
			f.Status, f.Text = NotKnown, "the weld map is not whole: "+strings.Join(absent, "; ")
			f.Why = "Enter each weld as [[weld]], with its sides."
		case len(open) > 0:
			f.Status, f.Text = NotKnown, bad+": "+strings.Join(open, "; ")
			f.Why = "A side counts as carrying once it is finished; a tack carries nothing."
		case len(bare) > 0 && id != "welds.given":
			f.Status, f.Text = NotKnown, "finished, and proof is missing: "+strings.Join(bare, "; ")
			f.Why = "Prove again what the welds rest on, or record a reason with each side."
		}
		a.Facts = append(a.Facts, f)
	}
	fact("welds.given", "the weld map", "every bracket has its welds on the map", "", nil)
	fact("welds.finished.in", "welds that can be reached", "every side that can be reached with the powertrain in is finished", "not finished", in)
	fact("welds.finished", "welds", "every side of the weld map is finished", "not finished", all)
	fact("welds.inspected", "inspection of the welds", "every side of the weld map is inspected", "not inspected", unseen)
}

// proofHolds is what keeps any finish weld from being made, by the findings.
func (a *Assessment) proofHolds() []Hold {
	j := Job{Job: project.Job{Finish: true, Hold: a.Build.Proof()}}
	a.holds(&j)
	return slices.DeleteFunc(j.Holds, func(h Hold) bool { return !h.Holds() })
}

// WeldHolds is what keeps a side of weld i from going past tacked: proof that
// is missing, and what holds the jobs of finish welding.
func (a *Assessment) WeldHolds(i int, side string) []Hold {
	out := a.proofHolds()
	add := func(h Hold) {
		if h.Holds() && !slices.ContainsFunc(out, func(o Hold) bool { return o.ID == h.ID }) {
			out = append(out, h)
		}
	}
	s, _ := a.weldSide(i, side)
	for k := range a.Jobs {
		j := &a.Jobs[k]
		switch {
		case !j.Finish || j.Out && !s.Out:
		case j.State == ProveAgain || j.State == InDoubt:
			add(needHold(j, true))
		case !j.Done:
			own := j.yields()
			for _, h := range j.Holds {
				if !slices.ContainsFunc(own, func(p string) bool { return matches(p, h.ID) }) && (h.ID != standingID || s.Out) {
					add(h)
				}
			}
		}
	}
	if s.Out && a.Build.Powertrain.Standing == project.StandsIn {
		add(Hold{ID: standingID, Title: "the powertrain is in", Status: NotKnown,
			Text: "the powertrain is in, and this side can only be reached with it out", Why: "It waits on the engine-out list."})
	}
	return out
}

// WeldSide returns the edits that bring a side of weld i to a state. Past
// tacked it wants proof or a reason, which is recorded with it; the error then
// is *ErrHeld. An inspection wants a finished side and a name.
func (a *Assessment) WeldSide(i int, side string, to project.WeldState, reason, by string) ([]edit.Edit, error) {
	s, ok := a.weldSide(i, side)
	if !ok {
		return nil, fmt.Errorf("this weld has no %s side", project.Printable(side))
	}
	path := fmt.Sprintf("weld[%d].side.%s.", i, side)
	set := func(key, text string) edit.Edit {
		return edit.Edit{Op: edit.OpSet, Path: path + key, Text: edit.Quoted(text)}
	}
	edits := []edit.Edit{set("state", string(to))}
	drop := func(key, now string) {
		if now != "" {
			edits = append(edits, edit.Edit{Op: edit.OpRemove, Path: path + key})
		}
	}
	reason, by = strings.TrimSpace(reason), strings.TrimSpace(by)
	switch to {
	case project.Inspected:
		if !s.Carries() {
			return nil, fmt.Errorf("the %s side is %s; it is inspected once it is finished", project.Printable(side), stateWord(s.State))
		}
		if by == "" {
			return nil, fmt.Errorf("an inspection wants a name: who looked at it")
		}
		edits = append(edits, set("inspected_by", by))
	case project.WeldFinished:
		drop("inspected_by", s.InspectedBy)
		if s.Carries() {
			break
		}
		drop("override", s.Override)
		if holds := a.WeldHolds(i, side); len(holds) > 0 {
			if reason == "" {
				return nil, &ErrHeld{Holds: holds}
			}
			if s.Override != "" {
				edits = edits[:len(edits)-1]
			}
			edits = append(edits, set("override", reason))
		}
	default:
		drop("override", s.Override)
		drop("inspected_by", s.InspectedBy)
	}
	return edits, nil
}

func (a *Assessment) weldSide(i int, side string) (project.WeldSide, bool) {
	if i < 0 || i >= len(a.Build.Welds) {
		return project.WeldSide{}, false
	}
	sides := a.Build.Welds[i].Sides
	k := slices.IndexFunc(sides, func(s project.WeldSide) bool { return s.Name == side })
	if k < 0 {
		return project.WeldSide{}, false
	}
	return sides[k], true
}

// weldOf adds up one weld of the map.
func weldOf(i int, w project.Weld) Weld {
	out := Weld{Weld: w, Index: i, ID: w.ID(), State: w.State(), Carries: finding.Known(0, 0), AllSides: finding.Known(0, 0)}
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
			out.Open = append(out.Open, s.Name+" "+stateWord(s.State))
		}
	}
	return out
}

// weldsOf returns the welds of the map that hold the bracket of that name.
func (a *Assessment) weldsOf(bracket string) []Weld {
	var out []Weld
	for i, w := range a.Build.Welds {
		if project.Slug(w.Bracket) == project.Slug(bracket) {
			out = append(out, weldOf(i, w))
		}
	}
	return out
}
