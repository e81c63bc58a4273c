package tomltext

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

// segment is one step of a path: a key, or an index into a list.
type segment struct {
	key     string
	index   int
	isIndex bool
}

// splitPath reads a path such as line.rear."odd key".at[2].
func splitPath(path string) ([]segment, error) {
	var segs []segment
	for i := 0; i < len(path); {
		if path[i] == '[' {
			if len(segs) == 0 {
				return nil, errors.New("a path cannot begin with an index")
			}
			n := strings.IndexByte(path[i:], ']')
			if n < 0 {
				return nil, errors.New("an index in the path has no closing bracket")
			}
			digits := path[i+1 : i+n]
			v, err := strconv.ParseUint(digits, 10, 31)
			if err != nil {
				return nil, fmt.Errorf("%s is not a list index", show(digits, 20))
			}
			segs = append(segs, segment{index: int(v), isIndex: true})
			i += n + 1
			continue
		}
		if len(segs) > 0 {
			if path[i] != '.' {
				return nil, fmt.Errorf("a dot is missing in the path before %s", show(path[i:], 20))
			}
			i++
		}
		key, n, err := pathKey(path[i:])
		if err != nil {
			return nil, err
		}
		segs = append(segs, segment{key: key})
		i += n
	}
	return segs, nil
}

// pathKey reads one key at the start of s and tells how many bytes it took.
func pathKey(s string) (string, int, error) {
	n := 0
	for n < len(s) && isBare(s[n]) {
		n++
	}
	if n > 0 {
		return s[:n], n, nil
	}
	if s == "" || (s[0] != '"' && s[0] != '\'') {
		return "", 0, fmt.Errorf("a key is missing in the path at %s", show(s, 20))
	}
	for n = 1; n < len(s) && s[n] != s[0]; n++ {
		if s[n] == '\\' && s[0] == '"' {
			n++
		}
	}
	if n >= len(s) {
		return "", 0, errors.New("a quoted key in the path is not closed")
	}
	n++
	var p unstable.Parser
	p.Reset([]byte(s[:n] + "=0"))
	if !p.NextExpression() {
		return "", 0, fmt.Errorf("the quoted key %s in the path cannot be read", show(s[:n], 20))
	}
	it := p.Expression().Key()
	it.Next()
	return string(it.Node().Data), n, nil
}

func isBare(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_'
}

// Quote spells s as a TOML basic string on one line. Control characters are
// escaped; bytes that are not UTF-8 become the replacement character.
func Quote(s string) string {
	var b strings.Builder
	b.Grow(len(s) + 2)
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\t':
			b.WriteString(`\t`)
		case r == '\b':
			b.WriteString(`\b`)
		case r == '\f':
			b.WriteString(`\f`)
		case unicode.IsControl(r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// QuoteKey spells s as one key part: bare where TOML allows it, else quoted.
func QuoteKey(s string) string {
	for i := 0; i < len(s); i++ {
		if !isBare(s[i]) {
			return Quote(s)
		}
	}
	if s == "" {
		return `""`
	}
	return s
}

func quoteKeys(keys []string) string {
	q := make([]string, len(keys))
	for i, k := range keys {
		q[i] = QuoteKey(k)
	}
	return strings.Join(q, ".")
}

// foldKey maps keys that differ only by case to one text.
func foldKey(s string) string {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return strings.ToLower(strings.ToUpper(s))
		}
	}
	return strings.ToLower(s)
}

// show quotes at most limit characters of s for a message, with everything
// that is not printable escaped.
func show(s string, limit int) string {
	n := 0
	for i := range s {
		if n == limit {
			return strconv.Quote(s[:i] + "…")
		}
		n++
	}
	return strconv.Quote(s)
}

// QuoteLines spells s as a TOML basic string, over several lines where it has them:
// then the first follows on the opening quotes, on a line of its own.
func QuoteLines(s string) string {
	if !strings.Contains(s, "\n") {
		return Quote(s)
	}
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		q := Quote(l)
		// Quotes may stand alone or in twos in such a string; escaped they always may.
		lines[i] = q[1 : len(q)-1]
	}
	return `"""` + "\n" + strings.Join(lines, "\n") + `"""`
}
