package quantity

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"
)

// Stated is a value as it was typed (internal units). Half is the half-width of
// its ±: the value lies within it, wherever in it. It is 0 where no ± was
// typed, and then nothing is said of how sure the value is: no ± of 0 can be
// typed.
type Stated struct{ V, Half float64 }

// ParseStated is Parse for a text that may carry a ±, behind the number and
// before the direction: "4.8 deg ± 0.2 down to the rear", "1182 ± 1", "1182 mm
// +- 1". A bare ± is in the unit of its number, a bare number in that of its ±.
// The error is a *ParseError.
func ParseStated(k Kind, text string, u Units) (Stated, error) {
	v, r, err := parse(k, text, u)
	if err != nil {
		return Stated{}, &ParseError{Kind: k, Text: text, Problem: err.Error(), Want: wantBound(k, text)}
	}
	return Stated{v, r.half}, nil
}

// boundSign is ± as it is typed, also where a keyboard has none.
var boundSign = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(` *(?:±|\+/-|\+-) *`) })

// isBare reports whether s can have no ± in it, faster than looking for one.
func isBare(s string) bool { return strings.IndexByte(s, '+') < 0 && !strings.Contains(s, "±") }

// HasBound reports whether text has a ± in it.
func HasBound(text string) bool { return boundSign().MatchString(normalise(text)) }

// wantBound is want, with a ± where text has one.
func wantBound(k Kind, text string) string {
	if !HasBound(text) {
		return want(k)
	}
	return "write it like " + k.info().bound
}

// cutBound takes the ± off the end of a text whose direction is off already.
func (r *reading) cutBound(in *kindInfo, body string) (string, error) {
	if isBare(body) {
		return body, nil
	}
	at := boundSign().FindStringIndex(body)
	if at == nil {
		return body, nil
	}
	value, half := body[:at[0]], body[at[1]:]
	switch {
	case value == "":
		return "", errors.New("there is no number before the ±")
	case half == "":
		return "", errors.New("there is no number behind the ±")
	case boundSign().MatchString(half):
		return "", errors.New("it has more than one ±")
	case in.sense.must && overWord().MatchString(body):
		return "", fmt.Errorf("a ± does not go with %s: it could be that of either length", quoted("over"))
	}
	if (&reading{}).takeWords(in, value) != value {
		return "", errors.New("the ± stands before the direction")
	}
	l := &lexer{s: half}
	if c := l.sign(); c != 0 {
		return "", fmt.Errorf("the %q behind the ± is one sign too many", string(c))
	}
	var err error
	l.s, l.pos = l.s[l.pos:], 0
	r.bound, err = l.terms()
	return value, err
}

// shareUnit gives a bare ± the unit of its number, or a bare number that of its ±.
func (r *reading) shareUnit() error {
	if len(r.bound) == 0 {
		return nil
	}
	last, half := &r.terms[len(r.terms)-1], &r.bound[len(r.bound)-1]
	switch {
	case half.unit == "%" && last.unit != "%":
		return errors.New("a ± is in the unit of its number, and not a part of it")
	case half.unit == "" && len(r.terms) > 1:
		return fmt.Errorf("the ± has no unit, and the number has more than one: add it, as in ± %s", half.numText+last.gap+last.unit)
	case half.unit == "":
		half.unit, half.gap = last.unit, last.gap
	case last.unit == "" && len(r.terms) == 1 && len(r.bound) == 1:
		last.unit, last.gap = half.unit, half.gap
	}
	return nil
}

// halfWidth works out the ± of a value v (internal units).
func (r *reading) halfWidth(in *kindInfo, v float64, u Units) (float64, error) {
	if len(r.bound) == 0 {
		return 0, nil
	}
	bare := u.For(in.family)
	half, err := sum(in, r.bound, bare)
	if err != nil {
		return 0, err
	}
	if in.family == Temperature { // a difference: no zero of a scale in it
		half = r.bound[0].size * rowOf(in.family, r.bound[0], bare).factor
	}
	last := r.bound[len(r.bound)-1]
	if name := rowOf(in.family, last, bare).name; in.family == Length && last.style == fraction && name != "in" && name != "ft" {
		return 0, fmt.Errorf("a fraction is read off a rule in inches, and this ± is in %s: say which, as in ± %s", name, last.numText+" in")
	}
	most := in.unsure
	if most == 0 {
		most = math.Abs(v)
	}
	switch {
	case half == 0:
		return 0, errors.New("no value is exact: leave the ± out where it is not known")
	case !(half <= most) && in.unsure == 0:
		return 0, errors.New("the ± is more than the value itself: check it and its unit")
	case !(half <= most):
		return 0, fmt.Errorf("a ± of more than %s is no measurement of %s: check it and its unit",
			Format(in.family, most, u, UsualDigits), in.name)
	}
	return half, nil
}
