package slip

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Kind is a kind of slip, the likelier ones first.
type Kind uint8

// The kinds of slips.
const (
	Side      Kind = iota // the other end lower, the other side, over and under
	Face                  // the gauge on another surface than said
	Unit                  // read in one unit, written in another
	Point                 // ten times, or a tenth
	Minutes               // degrees and minutes written as degrees with decimals
	GaugeEnd              // the gauge's zero taken off the wrong way round
	Mark                  // the tape held at another mark than its zero
	Swapped               // two digits beside each other in each other's place
	Wrong                 // one digit is another
	Miscounts             // a digit left out, or one too many
)

// Try is a number as it would have been without a slip.
type Try struct {
	Kind  Kind
	Value float64 // in the unit of the number
	What  string  // the slip, as a sentence has it behind "likely"
	// Apart is how far from one another the numbers are that a slip of this kind could
	// have been made of at this place, 0 where there is one.
	Apart float64
}

// Scale is a unit that a number was written in: what one of it is in the unit of the
// number, and its name.
type Scale struct {
	One  float64
	Name string
}

// inch in mm (exact, by its definition of 1959).
const inch = 25.4

// Lengths are what a length (mm) would have been that was written in a unit.
func Lengths(v float64, in Scale) []Try {
	out := []Try{
		{Kind: Point, Value: v / 10, What: "it was typed ten times as long, in mm where the tape reads cm"},
		{Kind: Point, Value: v * 10, What: "it was typed a tenth as long, in cm"},
		{Kind: Unit, Value: v / inch, What: "it was read in mm and typed as inches"},
		{Kind: Unit, Value: v * inch, What: "it was read in inches and typed as mm"},
	}
	for _, m := range []struct {
		at   float64
		name string
	}{{10, "10 mm"}, {50, "50 mm"}, {100, "100 mm"}, {1000, "1 m"}, {inch, "1 in"}, {12 * inch, "1 ft"}} {
		for _, sign := range [2]float64{-1, 1} {
			out = append(out, Try{Mark, v + sign*m.at, "the tape was held or read at a mark " + m.name + " off", m.at})
		}
	}
	return append(out, digits(v, in)...)
}

// Shown are what a gauge would have shown (rad, without a direction) in place of v: the
// digits of degrees, and minutes taken for decimals.
func Shown(v float64) []Try {
	in := Scale{math.Pi / 180, "deg"}
	out := []Try{
		{Kind: Point, Value: v / 10, What: "its point stands one place too far right"},
		{Kind: Point, Value: v * 10, What: "its point stands one place too far left"},
	}
	d := v / in.One
	if whole := math.Floor(d); d-whole < 0.595 && d > whole { // 4.24 for 4°24'
		out = append(out, Try{Kind: Minutes, Value: (whole + (d-whole)*100/60) * in.One, What: "minutes were typed as decimals of a degree"})
	}
	return append(out, digits(v, in)...)
}

// digits are the numbers with a slip in their digits, as they are written shortest in a
// unit. Of a fraction of an inch only the whole inches are looked at.
func digits(v float64, in Scale) []Try {
	sign, shown := 1.0, math.Abs(v)/in.One
	if v < 0 {
		sign = -1
	}
	text := strconv.FormatFloat(math.Round(shown*1e3)/1e3, 'f', -1, 64)
	rest := 0.0
	if whole := math.Floor(shown); in.Name == "in" && shown != whole {
		rest, text = shown-whole, strconv.FormatFloat(whole, 'f', -1, 64)
	}
	if len(text) > 9 || strings.Contains(text, "e") {
		return nil
	}
	w := written{text: text, sign: sign, rest: rest, one: in.One}
	for i := range text {
		if text[i] != '.' {
			w.at = append(w.at, i)
		}
	}
	w.wrong()
	w.miscounted()
	return w.out
}

// written is a number as it was written.
type written struct {
	text            string
	at              []int // where its digits are in the text
	sign, rest, one float64
	out             []Try
}

func (w *written) add(k Kind, text, what string, apart float64) {
	if n, err := strconv.ParseFloat(text, 64); err == nil && strings.TrimLeft(text, "0") != w.text {
		w.out = append(w.out, Try{k, w.sign * (n + w.rest) * w.one, what, apart})
	}
}

// place is what one of digit k counts, in the unit of the number.
func (w *written) place(k int) float64 {
	behind := len(w.text)
	if p := strings.IndexByte(w.text, '.'); p >= 0 {
		behind = p
	}
	exp := behind - w.at[k] - 1
	if w.at[k] > behind {
		exp++
	}
	return math.Pow10(exp) * w.one
}

// wrong adds the numbers of which one digit is another, or two have changed places.
func (w *written) wrong() {
	for k, i := range w.at {
		for d := byte('0'); d <= '9'; d++ {
			if d != w.text[i] {
				w.add(Wrong, w.text[:i]+string(d)+w.text[i+1:], "one digit is wrong", w.place(k))
			}
		}
		if k+1 < len(w.at) && w.text[i] != w.text[w.at[k+1]] {
			b := []byte(w.text)
			b[i], b[w.at[k+1]] = b[w.at[k+1]], b[i]
			w.add(Swapped, string(b), "two digits stand in each other's place", 0)
		}
	}
}

// miscounted adds the numbers with one digit less, or one more.
func (w *written) miscounted() {
	for _, i := range w.at {
		if len(w.at) > 1 {
			w.add(Miscounts, w.text[:i]+w.text[i+1:], "a digit is too many", 0)
		}
	}
	for i := 0; i <= len(w.text); i++ {
		for d := byte('0'); d <= '9'; d++ {
			w.add(Miscounts, w.text[:i]+string(d)+w.text[i:], "a digit is missing", 0)
		}
	}
}

// most is how many kinds are named at most: a longer list helps nobody.
const most = 2

// near is how far off a number may be without its slip, in its own standard
// uncertainties, for the slip to explain it.
const near = 2.6 // 99 % (normal distribution)

// Likely are the slips that explain a number that does not fit: with the number as it
// would have been, all fits. fits says how far off a number would be from what all else
// says, in standard uncertainties of that difference, and whether all would fit with it.
// At most two kinds are named, the likelier first, of each kind the number that fits
// best. A slip of which there are so many that nearly any number would do explains nothing.
func Likely(all []Try, fits func(v float64) (w float64, ok bool)) []Try {
	type good struct {
		Try
		w float64
	}
	var best []good
	for _, t := range all {
		w, ok := fits(t.Value)
		if !ok || math.Abs(w) > near {
			continue
		}
		if v, _ := fits(t.Value + t.Apart); t.Apart > 0 && math.Abs(v-w) < 2*near {
			continue
		}
		k := slices.IndexFunc(best, func(g good) bool { return g.Kind == t.Kind })
		switch {
		case k < 0:
			best = append(best, good{t, math.Abs(w)})
		case math.Abs(w) < best[k].w:
			best[k] = good{t, math.Abs(w)}
		}
	}
	if slices.ContainsFunc(best, func(g good) bool { return g.Kind == Point }) { // which is a digit more or less too
		best = slices.DeleteFunc(best, func(g good) bool { return g.Kind == Miscounts })
	}
	slices.SortStableFunc(best, func(a, b good) int { return int(a.Kind) - int(b.Kind) })
	var out []Try
	for _, g := range best[:min(most, len(best))] {
		out = append(out, g.Try)
	}
	return out
}

// Text says what likely went wrong: "" for nothing. as writes a number.
func Text(likely []Try, as func(v float64) string) string {
	var parts []string
	for i, t := range likely {
		what, number := t.What, as(t.Value)
		if i+1 == len(likely) || as(likely[i+1].Value) != number { // once, where two come to it
			what += ": " + number
		}
		parts = append(parts, what)
	}
	if len(parts) == 0 {
		return ""
	}
	return "Likely " + strings.Join(parts, ", or ") + "."
}
