package tomltext

import (
	"errors"
	"strconv"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2/unstable"
)

const (
	tooLarge = "this number is too large to hold"
	noDate   = "this is not a date or time that exists; write 2024-05-31 or 14:30:00"
)

// scalar reads the single value e, which begins at off. The span parser has
// checked how it is spelled, but for dates and times; numbers can still be too
// large.
func (b *builder) scalar(n *Node, e *unstable.Node, off int) *SyntaxError {
	raw := b.text[off:n.End]
	var err error
	switch e.Kind {
	case unstable.String:
		n.Kind, n.Value = String, stringOf(raw, e.Data)
	case unstable.Bool:
		n.Kind, n.Value = Bool, raw == "true"
	case unstable.Integer:
		n.Kind = Integer
		n.Value, err = strconv.ParseInt(raw, 0, 64) // it knows TOML's prefixes and underscores
	case unstable.Float:
		if c := raw[len(raw)-1]; c == 'n' || c == 'f' {
			return b.fail(off, "nan and inf are not measurements; write a number, or leave the line out")
		}
		n.Kind = Float
		n.Value, err = strconv.ParseFloat(strings.ReplaceAll(raw, "_", ""), 64)
	default:
		if e.Kind == unstable.DateTime && !zoneFits(raw) {
			return b.fail(off, "this is not a date or time that exists; its zone reaches from -23:59 to +23:59")
		}
		n.Kind = Datetime
		t, ok := readTime(raw)
		if !ok {
			return b.fail(off, noDate)
		}
		n.Value = t
	}
	switch {
	case errors.Is(err, strconv.ErrRange):
		return b.fail(off, tooLarge)
	case err != nil:
		return b.fail(off, "this is not a number")
	}
	return nil
}

// stringOf is the text that raw spells and data holds. One without escapes
// shares the memory of the document.
func stringOf(raw string, data []byte) string {
	if len(data)+2 == len(raw) { // an escape is always longer than what it stands for
		return raw[1 : len(raw)-1]
	}
	return string(data)
}

// zoneFits checks the hours and minutes of a zone such as +05:30, which the
// time package lets run past a day.
func zoneFits(s string) bool {
	n := len(s) - len("+00:00")
	if n < 0 || s[n] != '+' && s[n] != '-' {
		return true
	}
	return s[n+1:n+3] <= "23" && s[n+4:] <= "59"
}

// The zones of dates and times that are spelled without one.
var (
	localDate     = time.FixedZone("date-local", 0)
	localTime     = time.FixedZone("time-local", 0)
	localDatetime = time.FixedZone("datetime-local", 0)
)

// readTime reads a date, a time of day or both, with or without a zone (RFC 3339
// section 5.6, where a blank may stand for the T and the seconds may be left out).
// The time package checks that the day and the hour exist; it takes "7" for "07",
// so the shape is checked here.
func readTime(s string) (time.Time, bool) {
	date, clock, zone := "", s, ""
	if len(s) >= len(time.DateOnly) && shaped(s[:len(time.DateOnly)], "0000-00-00") {
		date, clock = s[:len(time.DateOnly)], s[len(time.DateOnly):]
		if clock == "" {
			return parsed(time.DateOnly, date, localDate)
		}
		if strings.IndexByte("Tt ", clock[0]) < 0 {
			return time.Time{}, false
		}
		clock = clock[1:]
		if i := strings.IndexAny(clock, "Zz+-"); i >= 0 {
			clock, zone = clock[:i], clock[i:]
		}
	}
	layout, ok := clockLayout(clock)
	switch {
	case !ok:
		return time.Time{}, false
	case date == "":
		return parsed(layout, clock, localTime)
	case zone == "":
		return parsed("2006-01-02 "+layout, date+" "+clock, localDatetime)
	case zone == "z" || zone == "Z":
		return parsed("2006-01-02 "+layout, date+" "+clock, time.UTC)
	case !shaped(zone[1:], "00:00"):
		return time.Time{}, false
	}
	return parsed("2006-01-02 "+layout+"-07:00", date+" "+clock+zone, time.Local)
}

// clockLayout is the layout of a time of day such as 14:30:00.25.
func clockLayout(s string) (string, bool) {
	if shaped(s, "00:00") {
		return "15:04", true
	}
	whole, fraction, dotted := strings.Cut(s, ".")
	digits := strings.Trim(fraction, "0123456789") == ""
	return time.TimeOnly, shaped(whole, "00:00:00") && digits && (fraction != "" || !dotted)
}

// shaped reports whether s has a digit for each 0 of shape and the same signs.
func shaped(s, shape string) bool {
	if len(s) != len(shape) {
		return false
	}
	for i := range len(s) {
		digit := s[i] >= '0' && s[i] <= '9'
		if digit != (shape[i] == '0') || !digit && s[i] != shape[i] {
			return false
		}
	}
	return true
}

func parsed(layout, s string, zone *time.Location) (time.Time, bool) {
	t, err := time.ParseInLocation(layout, s, zone)
	return t, err == nil
}
