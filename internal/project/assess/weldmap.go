package assess

import (
	"fmt"
	"strings"

	"fitup/internal/project"
)

// Weld is one weld of a bracket. Only what is finished counts as carrying.
type Weld struct {
	project.Weld
	Index    int
	ID       string
	State    project.WeldState // as a whole
	Open     []string          // sides that carry nothing yet
	Carries  Measure           // length that carries, mm
	AllSides Measure           // length it is meant to have, mm
}

// welds draws up the weld map. A weld is a fact that jobs can wait for: ok once
// every side of it carries.
func (a *Assessment) welds() {
	for i, w := range a.Build.Welds {
		out := weldOf(i, w)
		a.Welds = append(a.Welds, out)
		f := Fact{ID: out.ID, Title: fmt.Sprintf("weld %s, %s", w.Bracket, w.At), Status: OK}
		f.Text = f.Title + " is " + string(out.State)
		switch {
		case len(w.Sides) == 0:
			f.Status, f.Text = NotKnown, f.Title+" has no sides in the file yet"
		case len(out.Open) > 0:
			f.Status, f.Text = NotKnown, f.Title+" is not finished: "+strings.Join(out.Open, ", ")
			f.Why = "A side counts as carrying once it is finished; a tack carries nothing."
		}
		a.Facts = append(a.Facts, f)
	}
}

// weldOf adds up one weld of the map.
func weldOf(i int, w project.Weld) Weld {
	out := Weld{Weld: w, Index: i, ID: w.ID(), State: w.State(), Carries: known(0, 0), AllSides: known(0, 0)}
	for _, s := range w.Sides {
		l, ok := s.Length.Get()
		if !ok {
			out.AllSides = missing("the " + s.Name + " side has no length in the file yet")
		}
		out.AllSides.V += l
		if s.Carries() {
			if !ok {
				out.Carries = missing(out.AllSides.Why)
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
