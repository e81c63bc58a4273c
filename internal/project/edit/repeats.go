package edit

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

var (
	bareNumber   = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[+−-]?\d+([.,]\d+)?$`) })
	bareFraction = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\d+/\d+$`) })
)

// alike is how many times the smallest of repeats with blanks between them the largest
// may be: far more than a tape slips, far less than the parts of "1 182" are apart.
const alike = 1.25

// cutRepeats cuts what was typed into the repeats of one value: at semicolons, or at
// blanks where that leaves numbers that are much alike, such as "1182 1183 1182 mm". A
// unit or a side at the end is that of each. What is one value, and what cannot be told
// from a slip, stays whole.
func cutRepeats(k quantity.Kind, typed string, u quantity.Units) []string {
	typed = strings.TrimSpace(strings.Trim(strings.TrimSpace(typed), "[]"))
	if strings.Contains(typed, ";") {
		var out []string
		for _, part := range strings.Split(typed, ";") {
			if part = strings.TrimSpace(part); part != "" {
				out = append(out, part)
			}
		}
		return out
	}
	whole := []string{typed}
	if _, err := quantity.ParseStated(k, typed, u); err == nil || quantity.HasBound(typed) {
		return whole
	}
	parts, words := cutBlanks(typed)
	low, high := math.Inf(1), math.Inf(-1)
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i] + " " + words)
		v, err := quantity.Parse(k, parts[i], u)
		if err != nil {
			return whole
		}
		low, high = min(low, v), max(high, v)
	}
	if small, large := min(math.Abs(low), math.Abs(high)), max(math.Abs(low), math.Abs(high)); len(parts) < 2 || low*high <= 0 || large > alike*small {
		return whole
	}
	return parts
}

// cutBlanks takes a text apart into numbers, a fraction behind its whole number being
// one with it, and the words that follow the last of them.
func cutBlanks(typed string) (numbers []string, words string) {
	fields := strings.Fields(typed)
	for i, f := range fields {
		n := len(numbers)
		switch {
		case bareNumber().MatchString(f):
			numbers = append(numbers, f)
		case bareFraction().MatchString(f) && n > 0 && !strings.ContainsAny(numbers[n-1], "/.,"):
			numbers[n-1] += " " + f
		default:
			return numbers, strings.Join(fields[i:], " ")
		}
	}
	return numbers, ""
}

// oneValue refuses repeats where the file keeps one value.
func oneValue(k quantity.Kind, typed string, u quantity.Units) error {
	parts := cutRepeats(k, typed, u)
	if len(parts) < 2 {
		return nil
	}
	return fmt.Errorf("%q is %d values, and one is kept here: give one with its ±, such as %s ± 1; repeats are kept of a measurement and of a measured point",
		project.Printable(typed), len(parts), parts[0])
}
