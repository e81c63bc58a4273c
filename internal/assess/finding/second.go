package finding

// second is a number that a finding is held to beside its own.
type second struct {
	Finding
	short func(f *Finding)
}

// Also holds the finding to a second number beside its own, against a limit of that:
// short is the verdict where it keeps that by less than its ±, or may not at all; it is
// called for a finding that is ok or tight by its own. Whatever else the finding's
// number follows from, the second follows from as well.
func (f *Finding) Also(m Number, limit float64, atLeast bool, short func(f *Finding)) {
	g := &second{Finding{ID: f.ID, By: f.By, Limit: limit, HasLimit: true, AtLeast: atLeast}, short}
	if f.also = g; !m.Known {
		g.Unknown(m.Why)
		return
	}
	g.Figure(m)
	if g.Margin = limit - m.V; atLeast {
		g.Margin = m.V - limit
	}
	g.Status = Verdict(g.Margin, g.Uncertainty)
	f.heed()
}

// Second is the number that the finding is held to beside its own, nil where there is
// none.
func (f *Finding) Second() *Finding {
	if f == nil || f.also == nil {
		return nil
	}
	return &f.also.Finding
}

// heed is the verdict once more where the second number may not keep its limit.
func (f *Finding) heed() {
	if s := f.also; s != nil && s.Status != OK && (f.Status == OK || f.Status == Tight) {
		s.short(f)
	}
}
