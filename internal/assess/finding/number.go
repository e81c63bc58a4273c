package finding

import (
	"math"

	"fitup/internal/geom/gauge"
)

// Number is a number that may be missing: the one type in which a trade hands
// a number on. Numbers are in internal units.
type Number struct {
	V     float64
	U     float64 // standard uncertainty; 0 when none is claimed
	Known bool
	Why   string // what is missing or wrong, when not known
	// Unusable says that there is a reading but that it does not make a number.
	Unusable bool
	Err      error // why a reading is unusable
}

// Known is the number v with the standard uncertainty u.
func Known(v, u float64) Number { return Number{V: v, U: u, Known: true} }

// Within is a number that lies at most half from v, taken as an expanded
// uncertainty: k = gauge.Coverage.
func Within(v, half float64) Number { return Known(v, half/gauge.Coverage) }

// Spread is a value with the uncertainty that another one gives it, with rates
// at the end of their estimates. Less than a hundredth is not worth claiming: the value is
// not known that well anyhow.
func Spread(value, soft float64) Number {
	u := math.Abs(soft - value)
	if u < 0.01*math.Abs(value) {
		u = 0
	}
	return Within(value, u)
}

// Missing is a number that is not known, and why.
func Missing(why string) Number { return Number{Why: why} }

// Given is a number from the file without a claimed uncertainty; ok says
// whether the file has it.
func Given(v float64, ok bool) Number {
	if !ok {
		return Missing("not in the file yet")
	}
	return Known(v, 0)
}

// Expanded returns the uncertainty that is held against a limit, k =
// gauge.Coverage.
func (m Number) Expanded() float64 { return gauge.Coverage * m.U }

// Less is m - v, unknown when m is.
func (m Number) Less(v float64) Number {
	if m.Known {
		m.V -= v
	}
	return m
}

// LessOf is m - n with the uncertainty of m, unknown when n is; n counts as
// exact.
func (m Number) LessOf(n Number) Number {
	if !n.Known {
		return n
	}
	return m.Less(n.V)
}

// Maybe is a value other than a number that may be missing, with the reason.
type Maybe[T any] struct {
	V     T
	Known bool
	Why   string
}
