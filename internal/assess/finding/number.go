package finding

import "fitup/internal/uncertain"

// Number is a number that may be missing: the one type in which a trade hands
// a number on. It is in internal units and carries how it depends on what it
// was measured by, so that what is worked out from it knows what it shares.
type Number struct {
	uncertain.Number
	limits limits
	Known  bool
	Why    string // what is missing or wrong, when not known
	// Unusable says that there is a reading but that it does not make a number.
	Unusable bool
	Err      error // why a reading is unusable
}

// limits are those of a size, which cannot be negative and so reaches unequally
// far up and down: each by itself is kept with 97.5 %.
type limits struct {
	is           bool
	lower, upper float64
}

// Exact is the number v without a claimed uncertainty.
func Exact(v float64) Number { return Of(uncertain.Exact(v)) }

// Of is a number that is known, with its uncertainty.
func Of(n uncertain.Number) Number { return Number{Number: n, Known: true} }

// Size is a number that cannot be negative, with its limits.
func Size(m uncertain.Magnitude) Number {
	out := Of(m.Number)
	out.V = m.V
	out.limits = limits{is: true, lower: m.Lower, upper: m.Upper}
	return out
}

// Rising is a function of a size that rises with it: f of its value and of its
// limits, and as a number by the slope from its value to its upper limit.
func Rising(m Number, f func(float64) float64) Number {
	if !m.Known {
		return m
	}
	v := f(m.V)
	l := limits{is: true, lower: f(m.V - m.Below()), upper: f(m.V + m.Expanded())}
	slope := 0.0
	if wide := m.Expanded(); wide > 0 {
		slope = (l.upper - v) / wide
	}
	m.Number = m.Times(slope).Shift(v - slope*m.V)
	m.V = v
	m.limits = l
	return m
}

// Missing is a number that is not known, and why.
func Missing(why string) Number { return Number{Why: why} }

// Given is a number from the file without a claimed uncertainty; ok says
// whether the file has it.
func Given(v float64, ok bool) Number {
	if !ok {
		return Missing("not in the file yet")
	}
	return Exact(v)
}

// Expanded is the uncertainty that is shown and held against a largest value: k
// = uncertain.Coverage, or up to the upper limit of a size.
func (m Number) Expanded() float64 {
	if m.limits.is {
		return m.limits.upper - m.V
	}
	return m.Number.Expanded()
}

// Below is the uncertainty that is held against a smallest value.
func (m Number) Below() float64 {
	if m.limits.is {
		return m.V - m.limits.lower
	}
	return m.Number.Expanded()
}

// U is the standard uncertainty, of a size as it reaches upward.
func (m Number) U() float64 {
	if m.limits.is {
		return m.Expanded() / uncertain.Coverage
	}
	return m.Number.U()
}

// Less is m - v, unknown when m is; v is exact.
func (m Number) Less(v float64) Number { return m.LessOf(Exact(v)) }

// LessOf is m - n, with what the two share; unknown when one of them is.
func (m Number) LessOf(n Number) Number {
	switch {
	case !m.Known:
		return m
	case !n.Known:
		return n
	}
	return Of(m.Minus(n.Number))
}

// Apart is how far m and n are apart, a size; unknown when one of them is.
func (m Number) Apart(n Number) Number {
	d := m.LessOf(n)
	if !d.Known {
		return d
	}
	return Size(uncertain.Norm(d.Number))
}

// Sized is the size of m, whichever way it goes.
func (m Number) Sized() Number { return m.Apart(Exact(0)) }

// Maybe is a value other than a number that may be missing, with the reason.
type Maybe[T any] struct {
	V     T
	Known bool
	Why   string
}

// Unsigned is a number without its sign, where words say its side.
func (m Number) Unsigned() Number {
	if m.Known && m.V < 0 {
		m.V = -m.V
	}
	return m
}

// Sided are the words for the side that a number's sign says, below zero and above.
func (m Number) Sided(below, above, unknown string) string {
	switch {
	case !m.Known:
		return unknown
	case m.V < 0:
		return below
	}
	return above
}
