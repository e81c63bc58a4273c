package quantity

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"
)

// bareFraction refuses a fraction without a unit where a bare number is metric:
// whoever writes 16 3/8 reads it off a rule in inches.
func (r *reading) bareFraction(in *kindInfo, bare Unit) error {
	if in.family != Length || len(r.terms) != 1 {
		return nil
	}
	t := r.terms[0]
	if t.unit != "" || t.style != fraction || bare.row.name == "in" || bare.row.name == "ft" {
		return nil
	}
	return fmt.Errorf("a fraction is read off a rule in inches, and a bare number here is in %s: say which, as in %s",
		bare.row.name, quoted(t.numText+" in"))
}

// Foreign reports whether text, a quantity of kind k, has a unit of its own that
// is not the one bare numbers are in.
func Foreign(k Kind, text string, u Units) bool {
	_, r, err := parse(k, text, u)
	if err != nil || r.run != nil {
		return false
	}
	in, own := k.info(), u.For(k)
	for _, t := range r.terms {
		if row := rowOf(in.family, t, own); row == nil || row == own.row {
			return false
		}
	}
	return len(r.terms) > 0
}

// WithUnit returns text, a quantity of kind k, with the unit of u put behind its
// number; false when it has one, or needs none.
func WithUnit(k Kind, text string, u Units) (string, bool) {
	_, r, err := parse(k, text, u)
	if err != nil || r.run != nil || len(r.terms) != 1 || r.terms[0].unit != "" || u.For(k).row.name == "" {
		return text, false
	}
	s, num := normalise(text), r.terms[0].numText
	i := strings.Index(s, num) + len(num)
	return s[:i] + plainUnit(u.For(k).row) + s[i:], true
}

// sizesSign stands between the sizes of a section: 2x2x3/16, 1 3/4 x .120.
var sizesSign = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)([0-9."']|in|mm|cm) *[x×*] *([0-9.])`) })

var betweenSizes = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i) *[x×*] *`) })

// hasSizes reports whether s has the sign between two sizes in it.
func hasSizes(s string) bool { return strings.ContainsAny(s, "xX×*") && sizesSign().MatchString(s) }

// errSizes is for a text that is several sizes where one is wanted.
var errSizes = errors.New("it is more than one size: write each under its own key, such as the outside diameter under outside and the wall under wall")

// Sizes reads the sizes of a section, such as "2x2x3/16" or "1 3/4 x .120 in",
// in mm. A unit behind the last one is for all that have none. The error is
// about the first that cannot be read; a text that is not sizes gives none.
func Sizes(text string, u Units) ([]float64, error) {
	s := normalise(text)
	if s == "" || !isDigit(s[0]) && s[0] != '.' || !hasSizes(s) {
		return nil, nil // a name such as SHS 50x50x3 is none
	}
	parts := betweenSizes().Split(s, -1)
	unit := ""
	l := &lexer{s: parts[len(parts)-1]}
	if ts, err := l.terms(); err == nil && len(ts) == 1 && ts[0].unit != "" {
		unit = ts[0].unit
	}
	out := make([]float64, len(parts))
	for i, p := range parts {
		if l := (&lexer{s: p}); unit != "" {
			if ts, err := l.terms(); err == nil && len(ts) == 1 && ts[0].unit == "" {
				p += " " + unit
			}
		}
		v, err := Parse(Length, p, u)
		if err != nil {
			return nil, err
		}
		out[i] = v
	}
	return out, nil
}

// inMM finds lengths in mm in a sentence, also several with one unit behind
// them.
var inMM = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`-?\d+(?:\.\d+)?(?:(?:, | by | to | and )-?\d+(?:\.\d+)?)* mm\b`)
})

var number = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`-?\d+(?:\.\d+)?`) })

// Restate puts the lengths of a sentence that the geometry wrote, which knows
// only mm, into the unit of u. A sentence for a metric file stays as it is.
func Restate(text string, u Units) string {
	switch u.For(Length).row.name {
	case "in", "ft", "thou":
	default:
		return text
	}
	return inMM().ReplaceAllStringFunc(text, func(s string) string {
		scale := math.Pow10(u.For(Length).row.digits)
		body := strings.TrimSuffix(s, " mm")
		body = number().ReplaceAllStringFunc(body, func(n string) string {
			v, err := Parse(Length, n+" mm", Metric())
			if err != nil {
				return n
			}
			return shortest(math.Round(u.For(Length).row.toShown(v)*scale) / scale)
		})
		return body + u.For(Length).row.screen
	})
}
