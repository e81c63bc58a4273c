package action

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"fitup/internal/spell"
)

// namedKeys lists the keys the screen library has names for. It asks the
// library, so that the two cannot drift apart. Both ends lie well outside the
// numbers the library uses for keys.
func namedKeys() []string {
	var names []string
	for k := tea.KeyType(-256); k < 256; k++ {
		if n := k.String(); n != "" && k != tea.KeyRunes {
			names = append(names, n)
		}
	}
	return names
}

// otherNames are spellings people use for named keys.
func otherNames(name string) string {
	switch name {
	case "space", "spacebar":
		return " "
	case "escape":
		return "esc"
	case "return":
		return "enter"
	case "pageup", "page up":
		return "pgup"
	case "pagedown", "page down", "pgdn":
		return "pgdown"
	case "del":
		return "delete"
	case "ins":
		return "insert"
	}
	return name
}

// keyName returns the name of a key for people.
func keyName(k string) string {
	if k == " " {
		return "space"
	}
	if k == "alt+ " {
		return "alt+space"
	}
	if k == "pgdown" {
		return "pgdn"
	}
	return k
}

// ParseKey reads the name of a key as people write it and returns it as the
// screen library reports it. A single sign is taken as it stands ("J" is shift
// and j); longer names may be in any case.
func ParseKey(s string) (string, error) {
	if isSign(s) {
		return s, nil
	}
	if tail, ok := strings.CutPrefix(s, "alt+"); ok && isSign(tail) {
		return s, nil // alt+J is alt, shift and j: the case stays
	}
	name := otherNames(strings.ToLower(strings.TrimSpace(s)))
	named := namedKeys()
	if slices.Contains(named, name) {
		return name, nil
	}
	if rest, ok := strings.CutPrefix(name, "shift+"); ok && isSign(rest) {
		up := strings.ToUpper(rest)
		if up == rest || !isSign(up) {
			return "", fmt.Errorf("a terminal cannot report the key %q: write the sign it types instead", s)
		}
		return up, nil
	}
	if rest, ok := strings.CutPrefix(name, "alt+"); ok {
		if rest = otherNames(rest); isSign(rest) || slices.Contains(named, rest) {
			return "alt+" + rest, nil
		}
	}
	switch name {
	case "ctrl+i":
		return "", fmt.Errorf("a terminal reports ctrl+i as tab: choose another key")
	case "ctrl+m":
		return "", fmt.Errorf("a terminal reports ctrl+m as enter: choose another key")
	case "ctrl+[":
		return "", fmt.Errorf("a terminal reports ctrl+[ as esc: choose another key")
	}
	if near := nearest(name, named); near != "" {
		return "", fmt.Errorf("there is no key %q; did you mean %q?", s, keyName(near))
	}
	return "", fmt.Errorf("there is no key %q: write a single sign, or a name such as ctrl+s, f5, pgdown, space", s)
}

// isSign reports whether s is one printable sign.
func isSign(s string) bool {
	r, n := utf8.DecodeRuneInString(s)
	return n > 0 && n == len(s) && r != utf8.RuneError && unicode.IsPrint(r)
}

// isArrow reports whether a key is one of the four arrow keys, which always
// work and stay where they are.
func isArrow(k string) bool {
	return k == "up" || k == "down" || k == "left" || k == "right"
}

// nearest returns the candidate most like s, or "" when none is close.
func nearest(s string, candidates []string) string {
	best, bestAt := max(1, len(s)/3)+1, ""
	for _, c := range candidates {
		if d := spell.Distance(s, c); d < best {
			best, bestAt = d, c
		}
	}
	return bestAt
}
