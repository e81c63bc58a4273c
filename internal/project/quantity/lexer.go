package quantity

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// numberStyle is how a number was written, so that it can be written so again.
type numberStyle uint8

const (
	decimal  numberStyle = iota // 412, 41.2, 41,2
	fraction                    // 16 1/4, 16-1/4, 1/4
)

// term is one number with its unit, as read.
type term struct {
	size    float64 // without sign, in the term's unit
	style   numberStyle
	joint   string // between whole number and fraction: " " or "-"
	comma   bool   // decimal comma
	whole   bool   // no decimals and no fraction
	lead    string // before the number
	gap     string // between number and unit
	unit    string // as written; "" for a bare number
	numText string // the number as written
}

// replacements brings look-alike signs to one form before reading.
var replacements = strings.NewReplacer(
	"\u2212", "-", "\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2013", "-", "\uFE63", "-", "\uFF0D", "-",
	"\u2032", "'", "\u2019", "'", "\u2018", "'", "\u2033", `"`, "\u201D", `"`, "\u201C", `"`, "''", `"`,
	"\u2044", "/", "\u2215", "/", "\u00BA", "°", "\u02DA", "°", "\u03BC", "\u00B5",
	"½", "\x001/2", "¼", "\x001/4", "¾", "\x003/4", "⅛", "\x001/8", "⅜", "\x003/8", "⅝", "\x005/8", "⅞", "\x007/8",
)

// normalise replaces typographic signs by the plain ones and trims the ends.
// A one-sign fraction such as ¼ becomes " 1/4".
func normalise(s string) string {
	if isPlain(s) {
		return strings.Trim(s, " ")
	}
	s = strings.ReplaceAll(s, "\x00", "\uFFFD") // keep the marker below ours alone
	s = replacements.Replace(s)
	s = strings.ReplaceAll(s, "\x00", " ")
	s = strings.Map(func(r rune) rune {
		if r == '\t' || unicode.Is(unicode.Zs, r) {
			return ' '
		}
		return r
	}, s)
	return strings.Trim(s, " ")
}

// isPlain reports whether s has no sign that normalise replaces: it is ASCII, and
// without controls and double apostrophes.
func isPlain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= utf8.RuneSelf || c == '\'' && i > 0 && s[i-1] == '\'' {
			return false
		}
	}
	return true
}

// lexer walks over normalised text.
type lexer struct {
	s   string
	pos int
}

func (l *lexer) rest() string { return l.s[l.pos:] }

func (l *lexer) at(i int) byte {
	if i < len(l.s) {
		return l.s[i]
	}
	return 0
}

// spaces skips blanks and returns them.
func (l *lexer) spaces() string {
	from := l.pos
	for l.at(l.pos) == ' ' {
		l.pos++
	}
	return l.s[from:l.pos]
}

// sign takes a leading + or - and returns it, or 0.
func (l *lexer) sign() byte {
	c := l.at(l.pos)
	if c != '+' && c != '-' {
		return 0
	}
	l.pos++
	l.spaces()
	return c
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// digitsEnd returns the end of the run of digits that starts at i.
func (l *lexer) digitsEnd(i int) int {
	for isDigit(l.at(i)) {
		i++
	}
	return i
}

// terms reads number-and-unit pairs up to the end of the text.
func (l *lexer) terms() ([]term, error) {
	var ts []term
	for {
		lead := l.spaces()
		if l.pos == len(l.s) {
			return ts, nil
		}
		if len(ts) > 0 && ts[len(ts)-1].unit == "" {
			return nil, fmt.Errorf("%s is left over after %s", quoted(l.rest()), quoted(ts[len(ts)-1].numText))
		}
		t, err := l.number()
		if err != nil {
			return nil, err
		}
		t.lead, t.gap = lead, l.spaces()
		t.unit = l.unitText()
		if t.unit == "" {
			l.pos -= len(t.gap)
			t.gap = ""
		}
		ts = append(ts, t)
	}
}

// number reads one unsigned number: decimal, fraction or whole and fraction.
func (l *lexer) number() (term, error) {
	start := l.pos
	for c := l.at(l.pos); isDigit(c) || c == '.' || c == ',' || c == '_'; c = l.at(l.pos) {
		l.pos++
	}
	run := l.s[start:l.pos]
	if strings.Trim(run, ".,_") == "" {
		return term{}, noNumber(l.s[start:], start == 0)
	}
	if c := l.at(l.pos); run == "0" && (c == 'x' || c == 'X') {
		return term{}, errors.New("numbers are written in plain decimals, not as 0x")
	}
	if err := checkSeparators(run); err != nil {
		return term{}, err
	}
	if l.digitsEnd(start) == l.pos {
		if t, ok, err := l.fraction(start); ok || err != nil {
			return t, err
		}
	}
	if e := l.exponentEnd(l.pos); e > 0 {
		l.pos = e
	}
	text := l.s[start:l.pos]
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return term{}, fmt.Errorf("%s is far too big", quoted(text))
	}
	return term{size: x, numText: text, comma: strings.Contains(run, ","), whole: x == math.Trunc(x)}, nil
}

// exponentEnd returns the end of "e3", "E-3" at i, or 0 if there is none.
func (l *lexer) exponentEnd(i int) int {
	if c := l.at(i); c != 'e' && c != 'E' {
		return 0
	}
	i++
	if c := l.at(i); c == '+' || c == '-' {
		i++
	}
	if e := l.digitsEnd(i); e > i {
		return e
	}
	return 0
}

// noNumber says what stands where a number is wanted.
func noNumber(text string, first bool) error {
	switch strings.ToLower(strings.TrimLeft(text, "+-")) {
	case "nan", "inf", "infinity":
		return fmt.Errorf("%s is not a size that can be measured", quoted(text))
	}
	if first {
		return errors.New("it does not start with a number")
	}
	return fmt.Errorf("%s is left over", quoted(text))
}

// checkSeparators refuses numbers whose points and commas can be read in two
// ways: a slip there is a factor of a thousand.
func checkSeparators(run string) error {
	points, commas := strings.Count(run, "."), strings.Count(run, ",")
	whole, after, _ := strings.Cut(run, ",")
	switch {
	case strings.Contains(run, "_"):
		return fmt.Errorf("%s has an underscore in it: leave it out", quoted(run))
	case points+commas > 1:
		return fmt.Errorf("%s can be read in more than one way: write thousands without a sign between, as in 1234.5", quoted(run))
	case commas == 1 && (whole == "" || after == ""):
		return fmt.Errorf("%s has no digit on one side of the comma", quoted(run))
	case commas == 1 && len(after) == 3 && len(whole) <= 3 && whole[0] != '0':
		return fmt.Errorf("%s can be read as %s or as %s: write it with a point, or without the comma", quoted(run), whole+after, whole+"."+after)
	}
	return nil
}

// fraction reads "1/4", "16 1/4" or "16-1/4" when the digits from start to the
// present position begin one; ok is false when they do not.
func (l *lexer) fraction(start int) (t term, ok bool, err error) {
	end := l.pos
	if l.at(end) == '/' && isDigit(l.at(end+1)) {
		return l.ratio(start, 0, "", start)
	}
	i := end
	joint := ""
	if l.at(i) == '-' {
		joint, i = "-", i+1
	} else {
		for l.at(i) == ' ' {
			joint, i = " ", i+1
		}
	}
	slash := l.digitsEnd(i)
	if joint == "" || slash == i || l.at(slash) != '/' || !isDigit(l.at(slash+1)) {
		return term{}, false, nil
	}
	whole, err := strconv.ParseFloat(l.s[start:end], 64)
	if err != nil {
		return term{}, false, fmt.Errorf("%s is far too big", quoted(l.s[start:end]))
	}
	return l.ratio(i, whole, joint, start)
}

// ratio reads "n/d" at i, which stands behind the given whole number.
func (l *lexer) ratio(i int, whole float64, joint string, start int) (term, bool, error) {
	slash := l.digitsEnd(i)
	l.pos = l.digitsEnd(slash + 1)
	text := l.s[i:l.pos]
	n, err1 := strconv.ParseUint(l.s[i:slash], 10, 32)
	d, err2 := strconv.ParseUint(l.s[slash+1:l.pos], 10, 32)
	switch {
	case err1 != nil || err2 != nil:
		return term{}, false, fmt.Errorf("%s is not a usable fraction", quoted(text))
	case d == 0:
		return term{}, false, fmt.Errorf("%s divides by nothing", quoted(text))
	case joint != "" && n >= d:
		return term{}, false, fmt.Errorf("%s after a whole number has to be less than one", quoted(text))
	}
	return term{size: whole + float64(n)/float64(d), style: fraction, joint: joint, numText: l.s[start:l.pos]}, true, nil
}

// unitText takes the longest text that can be a unit: letters and signs, with
// single blanks or a hyphen between them, and a power after a stroke or another factor.
func (l *lexer) unitText() string {
	start := l.pos
	if c := l.at(l.pos); c == '\'' || c == '"' || c == '%' {
		l.pos++
		return l.s[start:l.pos]
	}
	if strings.HasPrefix(l.rest(), ":1") && !isDigit(l.at(l.pos+2)) {
		l.pos += 2
		return l.s[start:l.pos]
	}
	for l.pos < len(l.s) {
		r, n := utf8.DecodeRuneInString(l.rest())
		if l.pos == start && !unicode.IsLetter(r) && r != '°' {
			break
		}
		if !l.inUnit(start, r, n) {
			break
		}
		l.pos += n
	}
	l.pos = start + len(strings.TrimRight(l.s[start:l.pos], " "))
	return l.s[start:l.pos]
}

// inUnit reports whether the sign r (n bytes) at the position goes on with the
// unit that began at start.
func (l *lexer) inUnit(start int, r rune, n int) bool {
	next, _ := utf8.DecodeRuneInString(l.s[l.pos+n:])
	last, _ := utf8.DecodeLastRuneInString(l.s[start:l.pos])
	switch {
	case unicode.IsLetter(r):
		return true
	case r == '°':
		return l.pos == start
	case r == ' ', r == '/', r == '·', r == '⋅', r == '*':
		return true
	case r == '-':
		return unicode.IsLetter(last) && unicode.IsLetter(next)
	case r == '.':
		return unicode.IsLetter(last) && !unicode.IsDigit(next)
	case r == '²', r == '³', r == '^':
		return true
	case r == '2', r == '3':
		power := strings.ContainsAny(l.s[start:l.pos], "/ ·⋅*-") && (unicode.IsLetter(last) || last == '^')
		return power && !unicode.IsLetter(next) && !unicode.IsDigit(next)
	}
	return false
}

// quoted shows a piece of text in an error: short, and without anything that
// could reach the terminal as a control.
func quoted(s string) string {
	const most = 60
	var b strings.Builder
	count := 0
	for _, r := range s {
		if count++; count > most {
			b.WriteString("...")
			break
		}
		if !unicode.IsPrint(r) {
			r = '\uFFFD'
		}
		b.WriteRune(r)
	}
	if strings.Contains(s, `"`) {
		return "`" + b.String() + "`"
	}
	return `"` + b.String() + `"`
}
