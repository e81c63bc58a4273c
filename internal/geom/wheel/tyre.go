package wheel

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Tyre is a radial tyre known by its metric size, or a wheel known by its
// measured diameter.
type Tyre struct {
	Section  int     // nominal section width, mm; 0 for a measured diameter
	Aspect   int     // section height in percent of the width
	Rim      int     // rim diameter code, inches
	Measured float64 // measured outside diameter, mm; 0 for a size
}

// What a tyre is refused for.
var (
	errEmpty = errors.New("no tyre size is given: write it as on the sidewall, 205/55R16, or the measured diameter, 632 mm")
	// ErrOldSize is a size that does not give a diameter: an old one, as 7.50-16,
	// or a flotation one, as 31x10.50R15.
	ErrOldSize  = errors.New("an old or flotation size, whose diameter differs from maker to maker")
	errMeasured = fmt.Errorf("a tyre's diameter is between %d mm and %d mm: measure it again", minDiameter, maxDiameter)
)

// Bounds that no road wheel passes; they catch slipped digits. Common practice,
// no source.
const (
	minSection, maxSection   = 95, 495
	minAspect, maxAspect     = 20, 100
	minRim, maxRim           = 8, 30
	minDiameter, maxDiameter = 250, 1600
)

// Parse reads a metric radial size as it stands on a sidewall (205/55R16,
// P205/55 R 16 91V, LT265/70ZR16) or a measured diameter with its unit (632 mm,
// 63.2 cm, 24.9 in, 24.9"). A comma may stand for the decimal point.
func Parse(text string) (Tyre, error) {
	s := strings.ToUpper(strings.TrimSpace(text))
	switch {
	case s == "":
		return Tyre{}, errEmpty
	case len(s) > 64:
		return Tyre{}, fmt.Errorf("a tyre size of %d letters: a size like 205/55R16 is wanted", len(s))
	}
	t, ok := parseSize(s)
	if !ok {
		t, ok = parseDiameter(s)
	}
	if !ok {
		return Tyre{}, fmt.Errorf("%q is %w", text, wanted(s))
	}
	if err := t.Check(); err != nil {
		return Tyre{}, fmt.Errorf("%q: %w", text, err)
	}
	return t, nil
}

// wanted says what is wrong with a text that is neither form.
func wanted(s string) error {
	const diameter = "measure the outside diameter and write that, like 632 mm"
	_, unitless := number(s)
	switch {
	case unitless:
		return errors.New("a number without a unit: write mm, cm or in behind it, like 632 mm")
	case oldSize(s):
		return fmt.Errorf("%w: %s", ErrOldSize, diameter)
	case strings.Contains(s, "/"):
		return errors.New("not a radial tyre size like 205/55R16; if that is how it is marked, " + diameter)
	}
	return errors.New("not a tyre size: write it as on the sidewall, like 205/55R16, or " + diameter)
}

// oldSize reports whether a text is two plausible sizes with a mark of an old or
// flotation size between them, 7.50-16 or 31x10.50R15.
func oldSize(s string) bool {
	i := strings.IndexAny(s, "-X×")
	if i < 0 {
		return false
	}
	head, tail := strings.TrimSpace(s[:i]), strings.TrimLeft(strings.TrimLeft(s[i:], "-X×"), " ")
	n := 0
	for n < len(tail) && strings.ContainsRune("0123456789.,", rune(tail[n])) {
		n++
	}
	first, ok := number(strings.TrimPrefix(strings.TrimPrefix(head, "LT"), "P"))
	second, ok2 := number(tail[:n])
	return ok && ok2 && first >= 3 && first <= 60 && second >= 3 && second <= maxSection
}

// parseSize reads [P|LT] width / aspect [Z]R rim [C] [load and speed marks].
func parseSize(s string) (Tyre, bool) {
	if rest, ok := strings.CutPrefix(s, "LT"); ok {
		s = rest
	} else if rest, ok := strings.CutPrefix(s, "P"); ok {
		s = rest
	}
	var t Tyre
	var ok bool
	if t.Section, s, ok = digits(s); !ok {
		return Tyre{}, false
	}
	if s, ok = strings.CutPrefix(s, "/"); !ok {
		return Tyre{}, false
	}
	if t.Aspect, s, ok = digits(s); !ok {
		return Tyre{}, false
	}
	s = strings.TrimPrefix(s, "Z")
	if s, ok = strings.CutPrefix(s, "R"); !ok {
		return Tyre{}, false
	}
	if t.Rim, s, ok = digits(s); !ok {
		return Tyre{}, false
	}
	return t, marks(s)
}

// marks accepts what may stand behind the rim code: C or LT, a load index or
// two, a speed letter. They do not change the size.
func marks(s string) bool {
	for _, m := range []string{"LT", "C"} {
		if rest, ok := strings.CutPrefix(s, m); ok {
			s = strings.TrimSpace(rest)
			break
		}
	}
	if s == "" {
		return true
	}
	_, s, ok := digits(s)
	if !ok {
		return false
	}
	if rest, two := strings.CutPrefix(s, "/"); two {
		if _, s, ok = digits(rest); !ok {
			return false
		}
	}
	return s == "" || len(s) == 1 && s[0] >= 'A' && s[0] <= 'Z'
}

// digits takes a whole number of up to four digits, and space around it, off
// the front.
func digits(s string) (int, string, bool) {
	s = strings.TrimLeft(s, " \t")
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	if n == 0 || n > 4 {
		return 0, s, false
	}
	v, err := strconv.Atoi(s[:n])
	return v, strings.TrimLeft(s[n:], " \t"), err == nil
}

// parseDiameter reads a number and a unit of length.
func parseDiameter(s string) (Tyre, bool) {
	for _, u := range []struct {
		name string
		mm   float64
	}{{"MM", 1}, {"CM", 10}, {"INCH", 25.4}, {"IN", 25.4}, {"\"", 25.4}, {"″", 25.4}} {
		if rest, ok := strings.CutSuffix(s, u.name); ok {
			v, ok := number(strings.TrimSpace(rest))
			return Tyre{Measured: v * u.mm}, ok && v > 0
		}
	}
	return Tyre{}, false
}

// number reads plain digits with at most one decimal point or comma.
func number(s string) (float64, bool) {
	s = strings.Replace(s, ",", ".", 1)
	if len(s) == 0 || strings.Trim(s, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// Check refuses a tyre that cannot exist.
func (t Tyre) Check() error {
	if t.Measured != 0 {
		if t.Section != 0 || t.Aspect != 0 || t.Rim != 0 {
			return errors.New("a tyre has either a size or a measured diameter: leave one of them out")
		}
		if !(t.Measured >= minDiameter && t.Measured <= maxDiameter) {
			return errMeasured
		}
		return nil
	}
	for _, q := range []struct {
		what      string
		v, lo, hi int
		unit      string
	}{
		{"section width", t.Section, minSection, maxSection, " mm"},
		{"section height", t.Aspect, minAspect, maxAspect, " % of the width"},
		{"rim diameter", t.Rim, minRim, maxRim, " in"},
	} {
		if q.v < q.lo || q.v > q.hi {
			return fmt.Errorf("%s is %d%s: %d to %d is wanted", q.what, q.v, q.unit, q.lo, q.hi)
		}
	}
	return nil
}

// String returns the tyre in the form Parse reads.
func (t Tyre) String() string {
	if t.Measured != 0 {
		return strconv.FormatFloat(t.Measured, 'f', -1, 64) + " mm"
	}
	return fmt.Sprintf("%d/%dR%d", t.Section, t.Aspect, t.Rim)
}

// Diameter returns the outside diameter, mm: as measured, or geometric from the
// size, rim code in inches plus two section heights.
func (t Tyre) Diameter() (float64, error) {
	if err := t.Check(); err != nil {
		return 0, err
	}
	if t.Measured != 0 {
		return t.Measured, nil
	}
	return 25.4*float64(t.Rim) + 2*t.height(), nil
}

func (t Tyre) height() float64 { return float64(t.Section) * float64(t.Aspect) / 100 }

// Design returns the design diameter, mm: rim diameter and section height each
// rounded to whole mm (UN Regulation No. 30, ISO 4000-1; rounding from memory).
// A measured diameter is returned as it is.
func (t Tyre) Design() (float64, error) {
	if err := t.Check(); err != nil {
		return 0, err
	}
	if t.Measured != 0 {
		return t.Measured, nil
	}
	return math.Round(25.4*float64(t.Rim)) + 2*math.Round(t.height()), nil
}

// RollingFactor is the rolling circumference of a loaded radial tyre over its
// design diameter: ETRTO Standards Manual (from memory). It is 3 % less than π,
// because the tyre flattens on the road.
const RollingFactor = 3.05

// Rolling returns the rolling circumference, mm: RollingFactor times the design
// diameter. A builder's own figure from rolling the vehicle is better.
func (t Tyre) Rolling() (float64, error) {
	d, err := t.Design()
	return RollingFactor * d, err
}

// Round returns the circumference of the unloaded tyre, mm: π times Diameter.
func (t Tyre) Round() (float64, error) {
	d, err := t.Diameter()
	return math.Pi * d, err
}

// Circumferences returns the longest and the shortest way, mm, that the tyre
// can go in one turn: unloaded and rolling.
func (t Tyre) Circumferences() (longest, shortest float64, err error) {
	round, err := t.Round()
	if err != nil {
		return 0, 0, err
	}
	rolling, err := t.Rolling()
	return max(round, rolling), min(round, rolling), err
}
