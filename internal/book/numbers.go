// Package book is what is printed of a build: sheets of text and tables for one
// reader, such as the shaft maker or the person at the saw. It works out no trade
// numbers and knows no screen.
package book

import (
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// Magnitude writes a number without its sense. Angles get two decimals,
// because the uncertainty of a good gauge begins in the second.
func Magnitude(k quantity.Kind, v float64, u quantity.Units) string {
	if k.Signed() {
		v = math.Abs(v)
	}
	digits := quantity.UsualDigits
	if finding.Unsigned(k) == quantity.Angle {
		digits = 2
	}
	return quantity.Format(finding.Unsigned(k), v, u, digits)
}

// plusMinus is an expanded uncertainty to stand behind a number: "" where it is less than
// the last digit that is written, so that nothing is seen to be ± 0.
func plusMinus(k quantity.Kind, expanded float64, u quantity.Units) string {
	if s := Magnitude(k, expanded, u); expanded > 0 && s != Magnitude(k, 0, u) {
		return " ± " + s
	}
	return ""
}

// Sense says in words what the sign of v means: "down to the rear", "right".
// It is empty where a sign means nothing.
func Sense(k quantity.Kind, v float64, u quantity.Units) string {
	if !k.Signed() {
		return ""
	}
	const digits = 9 // as many as JSON gives
	whole := quantity.Plain(k, v, u, digits)
	number := quantity.Plain(finding.Unsigned(k), math.Abs(v), u, digits)
	return strings.TrimSpace(strings.TrimPrefix(whole, number))
}
