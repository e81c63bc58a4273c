package press

import (
	"context"
	"fmt"
	"strings"
	"time"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
)

// Stamp is a time as people say it.
func Stamp(t time.Time) string { return t.Local().Format("2 January 2006, 15:04") }

// Past are the earlier states of the file at path, the newest first, each with what led
// from it to the next; the newest of them to now. It fails where one cannot be read, or
// when ctx ends.
func Past(ctx context.Context, path string, now *project.File) ([]book.Past, error) {
	states, err := keep.States(path)
	if err != nil {
		return nil, err
	}
	var out []book.Past
	for _, s := range states {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		text, err := s.Text()
		if err != nil {
			return nil, err
		}
		old, oldErr := project.Parse(path, text)
		if oldErr != nil {
			old = nil
		}
		out = append(out, book.Past{When: Stamp(s.Written), Led: Led(old, now), Dropped: s.Dropped})
		now = old
	}
	return out, nil
}

// Led says in one line what led from one state to the next: rear mount 212 →
// 218 mm: joint 2 from tight to ok. nil is a text that is no build file.
func Led(from, to *project.File) string {
	if from == nil || to == nil {
		return "one of the two is no build file that can be read"
	}
	var values []string
	for _, c := range edit.Diff(from, to) {
		values = append(values, c.String())
	}
	line := "comments or spelling only"
	if len(values) > 0 {
		line = few(values)
	}
	if v := Verdicts(from, to); len(v) > 0 {
		line += ": " + few(v)
	}
	return line
}

// Verdicts says which findings have another verdict than before.
func Verdicts(before, after *project.File) []string {
	var lines []string
	for _, c := range assess.Changes(assess.Run(before.Build), assess.Run(after.Build)) {
		lines = append(lines, fmt.Sprintf("%s from %s to %s", project.Printable(c.Finding.Title), c.From, c.Finding.Status))
	}
	return lines
}

const changesShown = 3

func few(list []string) string {
	if len(list) <= changesShown {
		return strings.Join(list, "; ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(list[:changesShown], "; "), len(list)-changesShown)
}
