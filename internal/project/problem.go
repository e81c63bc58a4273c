package project

import (
	"fmt"
	"strings"
)

// Problem is one thing wrong with a file: where it stands, what was read and
// what is wanted.
type Problem struct {
	File      string
	Line, Col int    // 1-based; 0 when the problem has no place in the text
	Path      string // as the text has it, entries of lists counted from 0; shown as SpokenPath
	Msg       string
}

func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(Printable(p.File))
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", p.Line, p.Col)
	}
	b.WriteString(": ")
	if p.Path != "" {
		b.WriteString(SpokenPath(p.Path) + ": ")
	}
	b.WriteString(Printable(p.Msg))
	return b.String()
}

// Problems is every problem found in one file, in the order of its lines.
type Problems []Problem

func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}
