package format

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
)

// Passage is a change of old into text that was noted before a migration, as it is
// to be made in src, which is of today's format; at is where its passage stands
// there, -1 when it does not or when it is not the only one. Keys were renamed in
// the tables that their paths name, and nowhere else: what a reading is good for
// keeps its name when what the gauge is good for gets a new one.
func Passage(old, text, src string) (oldNow, textNow string, at int) {
	noted, lines := strings.SplitAfter(old, "\n"), strings.SplitAfter(src, "\n")
	if noted[len(noted)-1] == "" {
		noted = noted[:len(noted)-1] // it ends with a whole line
	}
	first := -1
	for i := 0; len(noted) > 0 && i+len(noted) <= len(lines); i++ {
		if !sameLines(noted, lines[i:i+len(noted)]) {
			continue
		}
		if first >= 0 {
			return old, text, -1
		}
		first = i
	}
	if first < 0 {
		return old, text, -1
	}
	table := ""
	for _, l := range lines[:first] {
		at += len(l)
		if name, ok := tableHeader(l); ok {
			table = name
		}
	}
	return strings.Join(lines[first:first+len(noted)], ""), todaysLines(text, table), at
}

// sameLines reports whether the lines say the same but for names that were
// renamed and for how keys are aligned.
func sameLines(a, b []string) bool {
	for i := range a {
		if plainLine(a[i]) != plainLine(b[i]) {
			return false
		}
	}
	return true
}

var aligned = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[ \t]*=[ \t]*`) })

func plainLine(l string) string {
	l = formatLine().ReplaceAllString(l, "format=0")
	for _, m := range migrations() {
		for _, r := range m.renames {
			l = strings.ReplaceAll(l, r.path[strings.LastIndexByte(r.path, '.')+1:], r.now)
		}
	}
	return aligned().ReplaceAllString(l, "=")
}

var (
	header     = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\s*\[\[?\s*([^\[\]]+?)\s*\]`) })
	formatLine = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^format[ \t]*=[ \t]*\d+`) })
)

func tableHeader(line string) (string, bool) {
	m := header().FindStringSubmatch(line)
	if m == nil {
		return "", false
	}
	return m[1], true
}

// todaysLines gives the keys of a passage that begins in the named table ("" at
// the top of a file) their names of today.
func todaysLines(s, table string) string {
	var out strings.Builder
	for l := range strings.Lines(s) {
		if name, ok := tableHeader(l); ok {
			table = name
		} else {
			l = todaysLine(l, table)
		}
		out.WriteString(l)
	}
	return out.String()
}

func todaysLine(l, table string) string {
	if table == "" {
		l = formatLine().ReplaceAllString(l, fmt.Sprintf("format = %d", Now))
	}
	for _, m := range migrations() {
		for _, r := range m.renames {
			dot := strings.LastIndexByte(r.path, '.')
			in, key := r.path[:dot], r.path[dot+1:]
			lead := `^([ \t]*)`
			if table == "" {
				q := regexp.QuoteMeta(in)
				lead = `^([ \t]*` + q + `[ \t]*(?:\.[ \t]*|=[ \t]*\{(?:[^#]*[{,\s])?))`
			} else if table != in {
				continue
			}
			l = regexp.MustCompile(lead+regexp.QuoteMeta(key)+`([ \t]*=)`).ReplaceAllString(l, "${1}"+r.now+"${2}")
		}
	}
	return l
}
