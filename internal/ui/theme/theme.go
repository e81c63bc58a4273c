// Package theme holds how things look: the words, signs and colours of the
// statuses, the glyph sets, and helpers that cut and frame text to an exact
// width. Meaning never rests on colour alone: every status has a word and a
// sign, and focus has a glyph.
//
// Only the terminal's own sixteen colours are used, so the builder's palette
// decides what they look like. The escape codes are worked out once per theme,
// which makes painting a matter of joining strings, and the same everywhere,
// whatever terminal the program believes it has.
package theme

import (
	"fmt"
	"strings"
)

// Status is how a finding stands.
type Status int

// The statuses. The zero value is Unknown, which is never taken for OK.
const (
	Unknown Status = iota
	OK
	Tight
	Over
	Elsewhere
)

// Word returns the status as a word.
func (s Status) Word() string {
	switch s {
	case OK:
		return "ok"
	case Tight:
		return "tight"
	case Over:
		return "over"
	case Elsewhere:
		return "judged elsewhere"
	}
	return "not known"
}

// Role returns the role in which the status is painted.
func (s Status) Role() Role {
	switch s {
	case OK:
		return Good
	case Tight:
		return Warn
	case Over:
		return Danger
	}
	return Doubt
}

// Role is what a piece of text is for; the theme decides its colour.
type Role int

// The roles.
const (
	Text Role = iota
	Title
	Border
	FocusBorder
	Dim
	Key
	Value
	Changed
	Accent
	Selected
	Underlined // the cell in which text is typed
	Good
	Warn
	Danger
	Doubt
	numRoles
)

// palette gives the SGR parameters (ECMA-48, 8.3.117) of each role. Yellow is
// hard to read on a white ground and bright black vanishes on some dark ones,
// so the themes avoid them there. "both" is for a ground that nobody has named:
// of the sixteen colours only red and magenta stand out on black and on white
// alike, so it has these and the weight of the letters.
func palette(name string) (codes [numRoles]string, ok bool) {
	switch name {
	case "dark":
		return [numRoles]string{
			Title: "1", Border: "37", FocusBorder: "1;96", Dim: "37", Key: "96", Value: "1", Changed: "95",
			Accent: "36", Selected: "7", Underlined: "4", Good: "32", Warn: "93", Danger: "1;91", Doubt: "94",
		}, true
	case "light":
		return [numRoles]string{
			Title: "1", Border: "90", FocusBorder: "1;34", Dim: "90", Key: "34", Value: "1", Changed: "35",
			Accent: "36", Selected: "7", Underlined: "4", Good: "1;32", Warn: "1;35", Danger: "1;31", Doubt: "34",
		}, true
	case "both":
		return [numRoles]string{
			Title: "1", FocusBorder: "1", Key: "1", Value: "1", Changed: "35",
			Selected: "7", Underlined: "4", Warn: "1;35", Danger: "1;31", Doubt: "35",
		}, true
	case "plain":
		return codes, true
	}
	return codes, false
}

// Names lists the themes.
func Names() []string { return []string{"dark", "light", "both", "plain"} }

type sgr struct{ on, off string }

// Theme is a palette and a glyph set. It does not change after New.
type Theme struct {
	Name string
	Glyphs
	styles [numRoles]sgr
}

// New returns the theme of that name with the glyphs given. "plain" has no
// escape codes at all; it is the one to choose when NO_COLOR is set.
func New(name string, g Glyphs) (*Theme, error) {
	codes, ok := palette(name)
	if !ok {
		return nil, fmt.Errorf("there is no theme %q: choose %s", name, strings.Join(Names(), ", "))
	}
	t := &Theme{Name: name, Glyphs: g}
	for r, c := range codes {
		if c != "" {
			t.styles[r] = sgr{"\x1b[" + c + "m", "\x1b[0m"}
		}
	}
	return t, nil
}

// SGR returns the escape codes that begin and end a role; both are empty when
// the theme leaves the role alone.
func (t *Theme) SGR(r Role) (on, off string) {
	if r < 0 || r >= numRoles {
		return "", ""
	}
	return t.styles[r].on, t.styles[r].off
}

// Paint returns s in the colour of a role. The end of a painted piece ends all
// colour, so paint pieces and join them rather than painting painted text.
func (t *Theme) Paint(r Role, s string) string {
	on, off := t.SGR(r)
	if on == "" || s == "" {
		return s
	}
	return on + s + off
}

// Status returns the sign and the word of a status, painted: "✗ over".
func (t *Theme) Status(s Status) string {
	return t.Paint(s.Role(), t.Sign(s)+" "+s.Word())
}

// StatusSign returns the sign alone, painted.
func (t *Theme) StatusSign(s Status) string { return t.Paint(s.Role(), t.Sign(s)) }
