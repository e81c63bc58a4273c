package assess

// restate puts the lengths in what the geometry says into the file's unit: it
// knows mm only, and a builder who works in inches reads no mm.
func (a *Assessment) restate() {
	u := a.Build.Units
	for i := range a.Findings {
		a.Findings[i].Restate(u)
	}
}
