package quantity

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"fitup/internal/geom"
)

// ParseError says why a text is not a quantity.
type ParseError struct {
	Kind    Kind
	Text    string // as it was given
	Problem string // what is wrong with it
	Want    string // what to write instead, with an example
}

// Error returns one plain sentence, safe to show on a terminal.
func (e *ParseError) Error() string {
	if strings.TrimSpace(e.Text) == "" {
		return e.Problem + "; " + e.Want
	}
	return quoted(e.Text) + " cannot be taken as " + e.Kind.info().name + ": " + e.Problem + "; " + e.Want
}

// maxText is far longer than any quantity; longer text is a mistake.
const maxText = 120

// reading is a text taken apart, before it becomes a number.
type reading struct {
	sign     byte // '+', '-' or 0
	terms    []term
	run      []term // the level run of "10 mm over 1250 mm"
	overText string // " over 1250 mm" as written
	words    string // the direction as written, with its space; "" for none
	sense    float64
	zero     bool // nothing but the word for zero, such as "level"
	bound    []term
	half     float64 // what bound comes to, internal units
}

// Parse reads text as a quantity of kind k and returns it in internal units.
// A number without a unit is in the unit of u. A text with a ± is refused, so
// that none is passed over where only the value counts: see ParseStated. The
// error is a *ParseError.
func Parse(k Kind, text string, u Units) (float64, error) {
	v, r, err := parse(k, text, u)
	if err == nil && len(r.bound) > 0 {
		err = errors.New("no ± is taken here: give the value alone")
	}
	if err != nil {
		return 0, &ParseError{Kind: k, Text: text, Problem: err.Error(), Want: want(k)}
	}
	return v, nil
}

// FromNumber reads a bare number that is in the unit of u and returns it in
// internal units. A slope or heading other than 0 is refused, because a bare
// number does not say which way. The error is a *ParseError.
func FromNumber(k Kind, v float64, u Units) (float64, error) {
	got, err := fromNumber(k, v, u)
	if err != nil {
		text := strconv.FormatFloat(v, 'g', -1, 64)
		return 0, &ParseError{Kind: k, Text: text, Problem: err.Error(), Want: want(k)}
	}
	return got, nil
}

func fromNumber(k Kind, v float64, u Units) (float64, error) {
	if !k.valid() {
		return 0, errors.New("nothing is known about this kind of quantity")
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, errors.New("it is not a size that can be measured")
	}
	in := k.info()
	if in.sense.must && v != 0 {
		return 0, noDirection(in)
	}
	return checkSize(in, u.For(k).row.toInternal(v))
}

// want says what to write, with an example.
func want(k Kind) string { return "write it like " + k.info().example }

func noDirection(in *kindInfo) error {
	return fmt.Errorf("it does not say which way: add %s or %s", quoted(in.sense.pos), quoted(in.sense.neg))
}

func parse(k Kind, text string, u Units) (float64, *reading, error) {
	if !k.valid() {
		return 0, nil, errors.New("nothing is known about this kind of quantity")
	}
	in := k.info()
	if len(text) > maxText {
		return 0, nil, errors.New("it is too long for one value")
	}
	s := normalise(text)
	if s == "" {
		return 0, nil, fmt.Errorf("%s is missing: nothing is written", in.name)
	}
	r, err := read(in, s)
	if err != nil {
		return 0, nil, err
	}
	v, err := r.value(k, u)
	if err != nil {
		return 0, nil, err
	}
	if v, err = checkSize(in, v); err == nil {
		r.half, err = r.halfWidth(in, v, u)
	}
	return v, r, err
}

var (
	slopeWords = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)(?:^|[ °'"])(?:(down|up) +to +(?:the +)?rear|(level))$`)
	})
	headingWords = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`(?i)(?:^|[ °'"])(?:rear +to +(?:the +)?(right|left)|(straight))$`)
	})
	offsetWords = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)(?:^|[ '"])(?:to +the +)?(right|left)$`) })
	overWord    = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i) +over +`) })
)

// read takes normalised text apart: direction words off the end, then the
// sign, then numbers and units.
func read(in *kindInfo, s string) (*reading, error) {
	r := &reading{}
	body := r.takeWords(in, s)
	if body == "" && r.zero {
		return r, nil
	}
	body, err := r.cutBound(in, body)
	if err != nil {
		return nil, err
	}
	if body == "" {
		return nil, errors.New("it has a direction but no number")
	}
	rise, run, over := body, "", []int(nil)
	if in.sense.must {
		over = overWord().FindStringIndex(body)
	}
	if over != nil {
		rise, run, r.overText = body[:over[0]], body[over[1]:], body[over[0]:]
	}
	if in.family == Length && hasSizes(rise) {
		return nil, errSizes
	}
	l := &lexer{s: rise}
	r.sign = l.sign()
	l.s, l.pos = l.s[l.pos:], 0
	if r.terms, err = l.terms(); err != nil {
		return nil, err
	}
	if len(r.terms) == 0 {
		return nil, errors.New("it does not start with a number")
	}
	if err := r.shareUnit(); err != nil {
		return nil, err
	}
	if over != nil {
		l = &lexer{s: run}
		if r.run, err = l.terms(); err == nil && len(r.run) == 0 {
			err = fmt.Errorf("there is no length after %s", quoted("over"))
		}
	}
	return r, err
}

// takeWords removes the direction from the end of s and returns the rest.
func (r *reading) takeWords(in *kindInfo, s string) string {
	var re func() *regexp.Regexp
	switch in {
	case &kinds[Slope]:
		re = slopeWords
	case &kinds[Heading]:
		re = headingWords
	case &kinds[Offset]:
		re = offsetWords
	default:
		return s
	}
	if c := s[len(s)-1] | 0x20; c != 't' && c != 'r' && c != 'l' { // right, left, straight, rear, level
		return s
	}
	m := re().FindStringSubmatchIndex(s)
	if m == nil {
		return s
	}
	if len(m) > 4 && m[4] >= 0 {
		r.zero = true
		return strings.TrimRight(s[:m[4]], " ")
	}
	r.sense = 1
	if w := strings.ToLower(s[m[2]:m[3]]); w == "up" || w == "left" {
		r.sense = -1
	}
	from := m[0]
	if c := s[from]; strings.IndexByte(`'"`, c) >= 0 {
		from++ // the mark belongs to the number
	} else if strings.HasPrefix(s[from:], "°") {
		from += len("°")
	}
	body := strings.TrimRight(s[:from], " ")
	r.words = s[len(body):]
	return body
}

// value turns a reading into internal units and checks sign and direction.
func (r *reading) value(k Kind, u Units) (float64, error) {
	in := k.info()
	if r.zero && len(r.terms) == 0 {
		return 0, nil
	}
	var v float64
	var err error
	if r.run != nil {
		v, err = r.slope(u)
	} else {
		if err = r.bareFraction(in, u.For(k)); err == nil {
			v, err = sum(in, r.terms, u.For(k))
		}
	}
	if err != nil {
		return 0, err
	}
	switch {
	case r.zero && v != 0:
		return 0, fmt.Errorf("%s goes only with 0", quoted(in.sense.zero))
	case r.sense != 0 && r.sign != 0:
		return 0, fmt.Errorf("it has both a sign and a direction: leave the %q out", string(r.sign))
	case in.sense.must && v != 0 && r.sense == 0:
		return 0, noDirection(in)
	case r.sense < 0 || r.sign == '-':
		v = in.negated(r, u, v)
	}
	return v + 0, nil // -0 becomes 0
}

// negated turns v the other way. On a scale whose zero is not nothing (°F)
// the sign belongs to the number before it is converted.
func (in *kindInfo) negated(r *reading, u Units, v float64) float64 {
	if in.family != Temperature {
		return 0 - v
	}
	row := rowOf(in.family, r.terms[0], u.For(in.family))
	return row.toInternal(-r.terms[0].size)
}

// rowOf returns the unit of a term, nil if the family has no such unit.
func rowOf(family Kind, t term, bare Unit) *unitRow {
	if t.unit == "" {
		return bare.row
	}
	return lookup(family, t.unit)
}

// sum adds the terms of one quantity: one number, or a chain such as feet and
// inches in which each step is whole and the next is smaller than one of it.
func sum(in *kindInfo, ts []term, bare Unit) (float64, error) {
	if len(ts) > 1 && ts[len(ts)-1].unit == "" {
		return 0, fmt.Errorf("%s has no unit", quoted(ts[len(ts)-1].numText))
	}
	var total float64
	var prev *unitRow
	for i, t := range ts {
		row := rowOf(in.family, t, bare)
		if row == nil {
			return 0, wrongUnit(in, t.unit)
		}
		if prev != nil {
			switch {
			case prev.next != row.name:
				return 0, fmt.Errorf("%s cannot follow %s", quoted(t.numText+t.gap+t.unit), quoted(ts[i-1].numText+ts[i-1].gap+ts[i-1].unit))
			case !ts[i-1].whole:
				return 0, fmt.Errorf("only the last number may have a fraction, and %s has one", quoted(ts[i-1].numText))
			case t.size >= prev.per:
				return 0, fmt.Errorf("%s is a whole %s or more", quoted(t.numText+t.gap+t.unit), prev.name)
			}
		}
		total += row.toInternal(t.size)
		prev = row
	}
	return total, nil
}

// slope returns the angle of "rise over run" without its sense.
func (r *reading) slope(u Units) (float64, error) {
	if (r.terms[0].unit == "") != (r.run[0].unit == "") {
		return 0, fmt.Errorf("only one of the two lengths around %s has a unit", quoted("over"))
	}
	rise, err := sum(&kinds[Length], r.terms, u.For(Length))
	if err != nil {
		return 0, err
	}
	run, err := sum(&kinds[Length], r.run, u.For(Length))
	if err != nil {
		return 0, err
	}
	for _, v := range []float64{rise, run} {
		if _, err := checkSize(&kinds[Length], v); err != nil {
			return 0, err
		}
	}
	if run <= 0 {
		return 0, fmt.Errorf("the length after %s has to be more than 0", quoted("over"))
	}
	return geom.SlopeOver(rise, run).Rad(), nil
}

// wrongUnit says what the unit is, if it is one at all.
func wrongUnit(in *kindInfo, unit string) error {
	if first, last, ok := cutLastWord(unit); ok && lookup(in.family, first) != nil {
		if in.sense.must {
			return fmt.Errorf("%s does not say clearly which way: write %s or %s", quoted(last), quoted(in.sense.pos), quoted(in.sense.neg))
		}
		return fmt.Errorf("%s is left over after %s", quoted(last), quoted(first))
	}
	for i := range kinds {
		if other := &kinds[i]; other.family == Kind(i) && lookup(other.family, unit) != nil {
			if in.family == Number {
				return fmt.Errorf("%s is a unit of %s, and a plain number has none", quoted(unit), other.noun)
			}
			return fmt.Errorf("%s is a unit of %s, not of %s", quoted(unit), other.noun, in.noun)
		}
	}
	if in.family == Number {
		return fmt.Errorf("%s is left over after the number", quoted(unit))
	}
	return fmt.Errorf("%s is not a known unit of %s (%s)", quoted(unit), in.noun, accepted(in.family))
}

// cutLastWord splits "deg down" before its last word.
func cutLastWord(s string) (first, last string, ok bool) {
	i := strings.LastIndexByte(s, ' ')
	if i < 0 {
		return s, "", false
	}
	return strings.TrimRight(s[:i], " "), s[i+1:], true
}

// checkSize refuses sizes that can only be a slip.
func checkSize(in *kindInfo, v float64) (float64, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) || !in.inRange(v) {
		return 0, fmt.Errorf("it is outside what is accepted here (%s): check the number and the unit", in.limits)
	}
	return v, nil
}
