package finding

import (
	"math"

	"fitup/internal/project"
)

// Unknown makes the finding not known, and says what is missing.
func (f *Finding) Unknown(why string) { f.Status, f.Missing = NotKnown, why }

// UnlessOver makes a finding that was judged not known for the first of some reasons that is
// one. What is past its limit stays so, and what is not known already keeps its own reason.
func (f *Finding) UnlessOver(whys ...string) {
	for _, why := range whys {
		if why != "" && f.Status != Over && f.Status != NotKnown {
			f.Unknown(why)
		}
	}
}

// Figure gives the finding its value and its ±, which is made here and nowhere
// else: as far as a known number reaches towards the finding's limit. One that is
// not known takes the figure away.
func (f *Finding) Figure(m Number) {
	f.Value, f.Uncertainty, f.HasValue = m.V, m.Expanded(), m.Known
	if f.AtLeast {
		f.Uncertainty = m.Below()
	}
	f.number = m.Number
}

// Judge holds m against rule r. atLeast makes the limit a smallest value.
func (f *Finding) Judge(m Number, r project.Rule, atLeast bool) {
	f.JudgeAt(m, r.Value, r, atLeast)
}

// JudgeAt is Judge with a limit that was worked out under rule r.
func (f *Finding) JudgeAt(m Number, limit float64, r project.Rule, atLeast bool) {
	if f.Kind == 0 {
		f.Kind = r.Kind
	}
	f.Limit, f.HasLimit, f.AtLeast = limit, true, atLeast
	f.Source, f.Changed = r.Source, r.Changed
	if !m.Known {
		f.Unknown(m.Why)
		return
	}
	f.Figure(m)
	f.Margin = limit - m.V
	if atLeast {
		f.Margin = m.V - limit
	}
	f.Status = Verdict(f.Margin, f.Uncertainty)
}

// Opened is m, a value that follows from what the finding's does, with what leaves
// that open as well.
func (f *Finding) Opened(m Number) Number {
	if !m.Known || !f.HasValue {
		return m
	}
	return Of(m.Plus(f.number.Shift(-f.number.V)))
}

// Verdict is the status of a number with that margin and expanded uncertainty.
func Verdict(margin, expanded float64) Status {
	const rounding = 1e-12 // a limit met exactly is met
	switch {
	case margin < -rounding:
		return Over
	case margin+rounding < expanded:
		return Tight
	}
	return OK
}

// VerdictOn is the status that the finding would have with another number.
func (f *Finding) VerdictOn(m Number) Status {
	if f.AtLeast {
		return Verdict(m.V-f.Limit, m.Below())
	}
	return Verdict(f.Limit-m.V, m.Expanded())
}

// Worse reports whether f needs attention more than g does: the worse status,
// then the one furthest past or nearest its limit in proportion to it.
func (f *Finding) Worse(g *Finding) bool {
	if f.Status != g.Status {
		return f.Status > g.Status
	}
	if f.HasValue != g.HasValue {
		return f.HasValue
	}
	return f.HasValue && f.relative() < g.relative()
}

func (f *Finding) relative() float64 {
	if f.Limit == 0 {
		return f.Margin
	}
	return f.Margin / f.Limit
}

// Misfit judges how far measurements are from each other at most, in their own standard
// uncertainties: those that are suspected of a slip, or all. It is not known for why, where
// nothing was found, nor where unchecked says that nothing checks them.
func (f *Finding) Misfit(suspects, all []float64, limit project.Rule, why, unchecked string) {
	of := all
	m := Exact(0)
	switch {
	case len(suspects) > 0:
		of = suspects
	case why != "":
		m = Missing(why)
	case unchecked != "":
		m = Missing(unchecked)
	}
	if m.Known {
		for _, w := range of {
			m = Exact(max(m.V, math.Abs(w)))
		}
	}
	f.Judge(m, limit, false)
	if f.Status == OK && why != "" {
		f.Unknown(why)
	}
}
