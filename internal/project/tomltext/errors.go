package tomltext

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// SyntaxError tells where and why a text cannot be read.
type SyntaxError struct {
	Name string   // name given to Parse
	Pos  Position // where the trouble is
	Msg  string   // plain words: what was read and what is wanted
	Near string   // what stood there: short, control characters escaped
}

// Error gives "name:line:col: message, found ...".
func (e *SyntaxError) Error() string {
	s := fmt.Sprintf("%s:%d:%d: %s", plainName(e.Name), e.Pos.Line, e.Pos.Col, e.Msg)
	if e.Near != "" {
		s += ", found " + e.Near
	}
	return s
}

// EditError tells why an edit was not made. The text is then unharmed.
type EditError struct {
	Name string // name of the document
	Path string // what was to be edited
	Msg  string // plain words
	Err  error  // the reason underneath, or nil
}

// Error gives "name: path: message".
func (e *EditError) Error() string {
	s := plainName(e.Name) + ": "
	if e.Path != "" {
		s += strings.Trim(strconv.Quote(e.Path), `"`) + ": "
	}
	s += e.Msg
	if e.Err != nil {
		s += ": " + e.Err.Error()
	}
	return s
}

// Unwrap returns the reason underneath.
func (e *EditError) Unwrap() error { return e.Err }

// ErrNotFound is the reason when an edit names something that is not there.
var ErrNotFound = errors.New("there is no such key in the file")

func plainName(s string) string {
	q := strconv.Quote(s)
	return q[1 : len(q)-1]
}

// rewording maps a fragment of a parser's message to our own words. The
// first that fits wins.
type rewording struct{ fragment, words string }

func rewordings() []rewording {
	return []rewording{
		{"expected '=' after key", "a key needs an = and a value after it"},
		{"expected '.' or '='", "a key needs an = and a value after it"},
		{"expected newline but got", "nothing more may stand on this line; begin a new line"},
		{"expected a top-level item to end", "nothing more may stand on this line; begin a new line"},
		{"expected ']' to close table", "a table header needs a closing ]"},
		{"expected ']]' to close array", "this header begins with [[ and needs a closing ]]"},
		{"expected key but reached", "a key is missing at the end of the text"},
		{"invalid character at start of key", "a key is wanted here; a key with signs other than letters, digits, - and _ needs quotes"},
		{"at start of value", "this is not a value; text needs quotes, a number its digits first"},
		{"expected value, not end", "the value is missing"},
		{"expected keyword", "this is not a value; only true, false, numbers and quoted text may stand here"},
		{"expected value but got", "a value is missing between two commas"},
		{"array is incomplete", "this list is not closed; a ] is missing"},
		{"expected ',' or ']'", "a comma or a closing ] is missing in this list"},
		{"inline table is incomplete", "this table is not closed; a } is missing"},
		{"unexpected comma in inline", "a key is missing between two commas"},
		{"expected ',' or '}'", "a comma or a closing } is missing in this table"},
		{"digit between underscores", "an underscore in a number must stand between two digits"},
		{"leading zero", "a number must not begin with 0 before other digits"},
		{"decimal point must", "a decimal point must be followed by a digit"},
		{"exponent must", "the power of ten has no digits"},
		{"expected digit", "a digit is wanted here"},
		{"expected number after sign", "a number is missing after the sign"},
		{"sign is not allowed", "a number written with 0x, 0o or 0b takes no sign"},
		{"radix prefix must", "digits are missing after 0x, 0o or 0b"},
		{"unterminated basic string", `this text is not closed; a " is missing`},
		{"multiline basic string not term", `this text is not closed; """ is missing`},
		{"multiline literal string not term", "this text is not closed; ''' is missing"},
		{"unterminated literal string", "this text is not closed; a ' is missing"},
		{"strings cannot have new lines", "this text is not closed before the end of the line"},
		{"invalid escape", `a backslash in text must be written twice: \\`},
		{"need a character after", `a backslash in text must be written twice: \\`},
		{"unicode", `\u needs four hexadecimal digits and \U eight, naming a real character`},
		{"hexadecimal digit", `\u needs four hexadecimal digits and \U eight, naming a real character`},
		{"too many quotes", "too many quotes in a row at the end of this text"},
		{"too large to fit", "this number is too large to hold"},
		{"too small to fit", "this number is too large to hold"},
		{"nested more than", "tables and lists stand far too deep inside each other here"},
		{"impossible date", "this is not a date or time that exists; write 2024-05-31 or 14:30:00"},
		{"impossible time", "this is not a date or time that exists; write 2024-05-31 or 14:30:00"},
		{"out of range", "this number is too large to hold"},
		{"datetime", "this is not a date or time that exists; write 2024-05-31 or 14:30:00"},
		{"invalid date", "this is not a date or time that exists; write 2024-05-31 or 14:30:00"},
		{"invalid float", "this is not a number"},
	}
}

// reword turns a parser's message into plain words.
func reword(msg string) string {
	low := strings.ToLower(msg)
	for _, r := range rewordings() {
		if strings.Contains(low, r.fragment) {
			return r.words
		}
	}
	return "this cannot be read as TOML (" + plainName(strings.ToLower(msg)) + ")"
}

// near describes what stands at off: at most 24 characters of the line.
func near(text string, off int) string {
	if off >= len(text) {
		return "the end of the text"
	}
	rest := text[off:]
	if i := strings.IndexByte(rest, '\n'); i >= 0 {
		rest = strings.TrimSuffix(rest[:i], "\r")
	}
	rest = strings.TrimRight(rest, " \t")
	if rest == "" {
		return "the end of the line"
	}
	return show(rest, 24)
}
