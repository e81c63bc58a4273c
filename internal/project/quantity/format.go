package quantity

import (
	"math"
	"strconv"
	"strings"
)

// UsualDigits asks Format, Plain and Short for the decimals usual for the unit.
const UsualDigits = -1

const mostDigits = 12

// Format writes v (internal units) for a screen in the unit of u, with the
// given number of decimals: "412.0 mm", "2.0°", "4.4° down to the rear",
// "12.0 mm right". A direction is written in words, and a value that shows as
// 0 carries none. A value that is no number reads "not known".
func Format(k Kind, v float64, u Units, digits int) string {
	row := u.For(k).row
	return phrase(k, v, row, digits, row.screen, false)
}

// Plain is Format with the unit's plain name, as a file or a screen without
// special signs has it: "4.4 deg down to the rear".
func Plain(k Kind, v float64, u Units, digits int) string {
	row := u.For(k).row
	return phrase(k, v, row, digits, plainUnit(row), false)
}

// Short is Format without the unit, for a column whose heading names it. A
// direction is kept as one word ("4.4 down", "0.5 left", "0.0 level"); the
// heading has to say "to the rear" or what else it refers to.
func Short(k Kind, v float64, u Units, digits int) string {
	return phrase(k, v, u.For(k).row, digits, "", true)
}

// UnitName returns the plain name of the unit of k, as used in JSON: "mm",
// "deg", "N m"; "" for a plain number.
func UnitName(k Kind, u Units) string { return u.For(k).row.name }

// InUnit returns v (internal units) as a number in the unit of u. Signs keep
// their inside meaning: right, down to the rear, rear to the right positive.
func InUnit(k Kind, v float64, u Units) float64 { return u.For(k).row.toShown(v) + 0 }

const notKnown = "not known"

// plainUnit is the plain unit name with the space that goes before it.
func plainUnit(row *unitRow) string {
	if row.name == "" {
		return ""
	}
	return " " + row.name
}

// phrase joins number, unit and direction.
func phrase(k Kind, v float64, row *unitRow, digits int, unit string, short bool) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return notKnown
	}
	switch {
	case k == Count:
		digits = 0
	case digits < 0:
		digits = row.digits
	}
	text := strconv.FormatFloat(row.toShown(v), 'f', min(digits, mostDigits), 64)
	return directed(k, v, text, unit, short)
}

// Fraction is Format for a length in inches that stands on the rule: a whole number
// and halves down to 1/64, "-16-1/4 in". Any other is false.
func Fraction(k Kind, v float64, u Units) (string, bool) {
	row := u.For(k).row
	x := row.toShown(v) * inchParts
	n := math.Round(x)
	if row.name != "in" || !(math.Abs(x-n) < 1e-6) || math.Abs(n) > 1e9 {
		return "", false
	}
	text := mixed(int64(math.Abs(n)), inchParts, "-")
	if n < 0 {
		text = "-" + text
	}
	return directed(k, v, text, row.screen, false), true
}

// inchParts are the finest parts of an inch on a rule.
const inchParts = 64

// directed puts unit and direction behind the text of a number.
func directed(k Kind, v float64, text, unit string, short bool) string {
	zero := strings.Trim(text, "-0.") == ""
	if zero {
		text = strings.TrimPrefix(text, "-")
	}
	sense := k.info().sense
	if sense.pos == "" {
		return text + unit
	}
	word := sense.zero
	switch {
	case zero:
	case v < 0 && short:
		word = sense.shortNeg
	case v < 0:
		word = sense.neg
	case short:
		word = sense.shortPos
	default:
		word = sense.pos
	}
	text = strings.TrimPrefix(text, "-") + unit
	if word == "" {
		return text
	}
	return text + " " + word
}

// mixed writes parts/den as "16 1/4", "1/4" or "16", in lowest terms.
func mixed(parts, den int64, joint string) string {
	whole, rest := parts/den, parts%den
	if rest == 0 {
		return strconv.FormatInt(whole, 10)
	}
	for rest%2 == 0 {
		rest, den = rest/2, den/2
	}
	s := strconv.FormatInt(rest, 10) + "/" + strconv.FormatInt(den, 10)
	if whole > 0 {
		s = strconv.FormatInt(whole, 10) + joint + s
	}
	return s
}
