package tomltext

import (
	"regexp"
	"strings"
)

// What people write by habit where TOML has no room for it: the line up to the
// place where reading stopped, the rest of it, and what to write instead.
func slips() []struct {
	before, after *regexp.Regexp
	words         string
} {
	return []struct {
		before, after *regexp.Regexp
		words         string
	}{
		{regexp.MustCompile(`=\s*[0-9]{1,2}\.[0-9]{1,2}$`), regexp.MustCompile(`^\.[0-9]{2}`), "a date is written year first, without quotes: 2024-05-31"},
		{regexp.MustCompile(`=\s*[0-9]{1,2}$`), regexp.MustCompile(`^/[0-9]{1,2}/[0-9]{2}`), "a date is written year first, without quotes: 2024-05-31"},
		{regexp.MustCompile(`=\s*[-+]?[0-9]+$`), regexp.MustCompile(`^,[0-9]`), "a decimal number is written with a point: 1.5"},
		{regexp.MustCompile(`=\s*[-+]?[0-9][0-9./_ ]*$`), regexp.MustCompile(`^(±|\+/?-)`), `a value with its ± needs quotes: "412 mm ± 1"`},
		{regexp.MustCompile(`=\s*[-+]?[0-9][0-9./_ ]*$`), regexp.MustCompile(`^([A-Za-z°'"µ]|/[0-9])`), `a value with its unit or a fraction needs quotes: "16 1/4 in"`},
		{regexp.MustCompile(`=\s*$`), regexp.MustCompile(`^[“”„«»‘’]`), `text needs straight quotes: "like this"`},
	}
}

// slip returns what to write instead of what stands at off, or nothing.
func slip(text string, off int) string {
	if off > len(text) {
		return ""
	}
	before := text[strings.LastIndexByte(text[:off], '\n')+1 : off]
	after := text[off:nextLine(text, off)]
	if len(before)+len(after) > 1000 {
		return ""
	}
	for _, s := range slips() {
		if s.before.MatchString(before) && s.after.MatchString(after) {
			return s.words
		}
	}
	return ""
}
