package main

import (
	"math"
	"strings"

	"fitup/internal/project/quantity"
)

// unsigned is the kind that measures the same without a sense.
func unsigned(k quantity.Kind) quantity.Kind {
	switch k {
	case quantity.Slope, quantity.Heading:
		return quantity.Angle
	case quantity.Offset:
		return quantity.Length
	}
	return k
}

// magnitude writes a number without its sense. Angles get two decimals,
// because the uncertainty of a good gauge begins in the second.
func magnitude(k quantity.Kind, v float64, u quantity.Units) string {
	if k.Signed() {
		v = math.Abs(v)
	}
	digits := quantity.UsualDigits
	if unsigned(k) == quantity.Angle {
		digits = 2
	}
	return quantity.Format(unsigned(k), v, u, digits)
}

// sense says in words what the sign of v means: "down to the rear", "right".
// It is empty where a sign means nothing.
func sense(k quantity.Kind, v float64, u quantity.Units) string {
	if !k.Signed() {
		return ""
	}
	const digits = 9 // as many as JSON gives
	whole := quantity.Plain(k, v, u, digits)
	number := quantity.Plain(unsigned(k), math.Abs(v), u, digits)
	return strings.TrimSpace(strings.TrimPrefix(whole, number))
}
