package assess

import "fitup/internal/project/quantity"

// restate puts the lengths in what the geometry says into the file's unit: it
// knows mm only, and a builder who works in inches reads no mm.
func (a *Assessment) restate() {
	u := a.Build.Units
	for i := range a.Findings {
		a.Findings[i].Restate(u)
	}
	put := func(s *string) { *s = quantity.Restate(*s, u) }
	for i := range a.Brackets {
		put(&a.Brackets[i].Why)
	}
	for i := range a.Cuts {
		put(&a.Cuts[i].Why)
	}
}
