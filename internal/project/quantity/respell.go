package quantity

import (
	"math"
	"strconv"
	"strings"
)

const (
	// closeEnough is the relative error a shorter decimal may bring in.
	closeEnough = 1e-9
	// finest is the number of decimals of the shown unit that are kept.
	finest = 6
	// parts is the finest split of an inch that stays a fraction.
	parts = 64
)

// Respell writes v (internal units) the way old was written: in the same unit
// and style, so that an edit changes the number and nothing else. old is the
// content of a literal; bare says that it is a number without quotes, and the
// result says whether it can stay one: a slope or heading needs words for its
// direction. A fraction stays a fraction while v is a multiple of 1/64 of the
// unit. Decimals are as few as read back as v within 1e-9 of it, at most six.
// An old text that cannot be read is replaced by one in the unit of u. If v is
// no number, or what old says already, old comes back as it was. The ± of an old
// text was of the old value: another value carries none.
func Respell(k Kind, v float64, old string, bare bool, u Units) (text string, stillBare bool) {
	if math.IsNaN(v) || math.IsInf(v, 0) || !k.valid() {
		return old, bare
	}
	row := u.For(k).row
	if bare {
		x := row.toShown(v)
		if was, err := strconv.ParseFloat(old, 64); err == nil && same(was, x) && !(k.NeedsDirection() && v != 0) {
			return old, true
		}
		text = shortest(x)
		if k.NeedsDirection() && text != "0" {
			return canonical(k, v, row), false
		}
		if strings.ContainsAny(old, ".eE") && !strings.Contains(text, ".") {
			text += ".0" // a file keeps telling whole numbers from others
		}
		return text, true
	}
	was, r, err := parse(k, old, u)
	if err == nil && same(was, v) {
		return old, false
	}
	if err != nil || len(r.terms) == 0 {
		return canonical(k, v, row), false
	}
	text, slack := r.respell(k, v, u)
	got, err := Parse(k, text, u) // which refuses a ±
	if err != nil || !(math.Abs(got-v) <= slack+closeEnough*math.Abs(v)) {
		return canonical(k, v, row), false
	}
	return text, false
}

// same reports whether two numbers differ by no more than the noise of
// converting a unit there and back.
func same(a, b float64) bool { return math.Abs(a-b) <= 1e-14*math.Max(math.Abs(a), math.Abs(b)) }

// canonical is the plain spelling in a file's own unit.
func canonical(k Kind, v float64, row *unitRow) string {
	x := row.toShown(v)
	sense := k.info().sense
	if sense.pos == "" {
		return shortest(x) + plainUnit(row)
	}
	text := shortest(math.Abs(x))
	return text + plainUnit(row) + sense.suffix(v, text == "0")
}

// suffix is the direction that goes behind a number, with its space.
func (s senses) suffix(v float64, zero bool) string {
	switch {
	case zero:
		return ""
	case v < 0:
		return " " + s.neg
	default:
		return " " + s.pos
	}
}

// respell writes v in the style of r. slack is the error (internal units) that
// rounding to the finest decimals may bring.
func (r *reading) respell(k Kind, v float64, u Units) (text string, slack float64) {
	in := k.info()
	negative := v < 0
	var zero bool
	if r.run != nil {
		text, zero, slack = r.respellOver(math.Abs(v), u)
	} else {
		last := rowOf(in.family, r.terms[len(r.terms)-1], u.For(k))
		x := last.toShown(v)
		if in.family == Temperature {
			negative = x < 0
		}
		slack = last.factor * math.Pow10(-finest)
		text, zero = r.spell(in, math.Abs(x), u.For(k))
	}
	if zero {
		return text, slack
	}
	return r.withSense(in.sense, text, negative), slack
}

// withSense puts sign or direction on an unsigned text, as the old text had it.
func (r *reading) withSense(s senses, text string, negative bool) string {
	plain := s.pos == "" // only a sign will do
	if s.pos != "" && !s.must && r.words == "" {
		plain = r.sign != 0 || !negative && r.nonZero()
	}
	switch {
	case plain && negative:
		return "-" + text
	case plain && r.sign == '+':
		return "+" + text
	case plain:
		return text
	case r.sense != 0 && (r.sense < 0) == negative:
		return text + r.words
	case negative:
		return text + " " + s.neg
	default:
		return text + " " + s.pos
	}
}

// nonZero reports whether the old number was other than 0.
func (r *reading) nonZero() bool {
	for _, t := range r.terms {
		if t.size != 0 {
			return true
		}
	}
	return false
}

// respellOver keeps the level run and changes the fall over it.
func (r *reading) respellOver(size float64, u Units) (text string, zero bool, slack float64) {
	bare := u.For(Length)
	in := &kinds[Length]
	run, err := sum(in, r.run, bare)
	if err != nil {
		return "", false, 0
	}
	last := rowOf(in.family, r.terms[len(r.terms)-1], bare)
	text, zero = r.spell(in, last.toShown(run*math.Tan(size)), bare)
	return text + r.overText, zero, last.factor * math.Pow10(-finest) / run
}

// spell writes x >= 0, counted in the last unit of the old text, over the
// units of the old text: inches over feet and inches.
func (r *reading) spell(in *kindInfo, x float64, bare Unit) (text string, zero bool) {
	n := len(r.terms)
	last := r.terms[n-1]
	count, den := last.fixed(x)
	if n == 1 {
		return last.spell(x, count, den) + last.gap + last.unit, count == 0
	}
	zero = count == 0
	texts := make([]string, n)
	for i := n - 1; i >= 0; i-- {
		t := r.terms[i]
		part := count
		if i > 0 {
			per := int64(rowOf(in.family, r.terms[i-1], bare).per) * den
			part, count = count%per, count/per
		}
		texts[i] = t.lead + t.spell(float64(part)/float64(den), part, den) + t.gap + t.unit
		den = 1
	}
	return strings.Join(texts, ""), zero
}

// fixed splits x into count/den: 64ths if the old number was a fraction and x
// is a multiple of them, else the fewest decimals that will do.
func (t term) fixed(x float64) (count, den int64) {
	if t.style == fraction {
		if n := math.Round(x * parts); math.Abs(x*parts-n) <= closeEnough*n {
			return int64(n), parts
		}
	}
	_, decimals, _ := strings.Cut(shortest(x), ".")
	scale := math.Pow10(len(decimals))
	return int64(math.Round(x * scale)), int64(scale)
}

// spell writes count/den, which is x, in the style of t.
func (t term) spell(x float64, count, den int64) string {
	if t.style == fraction && den == parts {
		joint := t.joint
		if joint == "" {
			joint = " "
		}
		return mixed(count, den, joint)
	}
	s := shortest(x)
	if whole, decimals, ok := strings.Cut(s, "."); ok && t.comma {
		if len(decimals) == 3 {
			decimals += "0" // three digits behind a comma could be thousands
		}
		s = whole + "," + decimals
	}
	return s
}

// shortest writes x with as few decimals as read back within closeEnough, at
// most finest.
func shortest(x float64) string {
	for d := 0; ; d++ {
		s := strconv.FormatFloat(x, 'f', d, 64)
		got, err := strconv.ParseFloat(s, 64)
		if d < finest && (err != nil || math.Abs(got-x) > closeEnough*math.Abs(x)) {
			continue
		}
		if d == finest {
			s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		}
		if s == "-0" {
			s = "0"
		}
		return s
	}
}
