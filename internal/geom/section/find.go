package section

import (
	"slices"
	"strings"
	"sync"
	"unicode"

	"fitup/internal/geom"
	"fitup/internal/spell"
)

// Find returns the stock section of that name for a part. Case, blanks and the
// sign between the sizes do not matter ("shs 50 × 50 × 3.0 cold"). A name that
// is not in the table is an error that names the part and the nearest names.
func Find(part, name string) (Entry, error) {
	e, ok := Named(name)
	switch {
	case ok:
		return e, nil
	case sectionKey(name) == "":
		return Entry{}, geom.PartFault("section", part, "no section is named; write one such as %q", Table()[0].Name)
	}
	if meant := OfSizes(name); len(meant) > 0 {
		return Entry{}, geom.PartFault("section", part, "there is no section %q in the table; did you mean %s?",
			spell.Clip(name), strings.Join(meant, " or "))
	}
	return Entry{}, geom.PartFault("section", part, "there is no section %q in the table; nearest are %s",
		spell.Clip(name), strings.Join(Nearest(name, 3), ", "))
}

// Named is Find where nobody is told what else was meant.
func Named(name string) (Entry, bool) {
	e, ok := sections()[sectionKey(name)]
	return e, ok
}

// OfSizes returns the names of the table that have the sizes a name says, whatever
// else they say: only those that begin with its letters where some do.
func OfSizes(name string) []string {
	key := sectionKey(spell.Clip(name))
	letters := key[:len(key)-len(strings.TrimLeftFunc(key, unicode.IsLetter))]
	sizes := sizesOf(key)
	var own, others []string
	for _, e := range keyed() {
		switch {
		case !strings.Contains(sizes, "x") || sizesOf(e.key) != sizes:
		case letters != "" && strings.HasPrefix(e.key, letters):
			own = append(own, e.Name)
		default:
			others = append(others, e.Name)
		}
	}
	if len(own) > 0 {
		return own
	}
	return others
}

// sizesOf is the part of a name written one way from its first figure to its last.
func sizesOf(key string) string {
	figure := func(r rune) bool { return r >= '0' && r <= '9' }
	from, to := strings.IndexFunc(key, figure), strings.LastIndexFunc(key, figure)
	if from < 0 {
		return ""
	}
	return key[from : to+1]
}

// Nearest returns up to n names of the table, the likest first.
func Nearest(name string, n int) []string {
	type near struct {
		name string
		d    int
	}
	want := sectionKey(spell.Clip(name))
	var all []near
	for _, e := range keyed() {
		all = append(all, near{e.Name, spell.Distance(want, e.key)})
	}
	slices.SortStableFunc(all, func(a, b near) int { return a.d - b.d })
	var out []string
	for _, a := range all[:max(0, min(n, len(all)))] {
		out = append(out, a.name)
	}
	return out
}

// sections is the table by sectionKey.
var sections = sync.OnceValue(func() map[string]Entry {
	out := map[string]Entry{}
	for _, e := range keyed() {
		if out[e.key].Name == "" {
			out[e.key] = e.Entry
		}
	}
	return out
})

// keyed is the table, each row with its sectionKey.
var keyed = sync.OnceValue(func() (out []struct {
	Entry
	key string
}) {
	for _, e := range Table() {
		out = append(out, struct {
			Entry
			key string
		}{e, sectionKey(e.Name)})
	}
	return out
})

var sectionSigns = strings.NewReplacer("×", "x", "*", "x", ",", ".", "ø", "", "\u00a0", "", " ", "", "\t", "")

// sectionKey writes a name one way: lower case, no blanks, x between sizes, a
// point for decimals, no zeros that say nothing.
func sectionKey(s string) string {
	s = sectionSigns.Replace(strings.ToLower(s))
	var b strings.Builder
	number := ""
	flush := func() {
		if strings.Contains(number, ".") {
			number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
		}
		b.WriteString(number)
		number = ""
	}
	for _, r := range s {
		if r >= '0' && r <= '9' || r == '.' {
			number += string(r)
			continue
		}
		flush()
		b.WriteRune(r)
	}
	flush()
	return b.String()
}
