package edit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Moves returns the edits that put movable things where moves say, each on top of the
// ones before it, and take out the readings that describe what was moved no longer (see
// project.Build.With). A ± typed of what is moved stays. gone are the targets of these.
func Moves(f *project.File, moves ...project.Move) (edits []Edit, gone []string, err error) {
	after, err := f.Build.With(moves...)
	if err != nil {
		return nil, nil, err
	}
	at := f
	for _, m := range moves {
		more, err := movedTo(at, m)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", m.Of.Path(), err)
		}
		more = asSure(at, more)
		if at, err = Apply(at, more...); err != nil {
			return nil, nil, err
		}
		edits = append(edits, more...)
	}
	more, gone := withoutReadings(f, after)
	return append(edits, more...), gone, nil
}

// asSure gives values that are set the ± that they have in the file.
func asSure(f *project.File, edits []Edit) []Edit {
	out := slices.Clone(edits)
	for i, e := range out {
		k, ok := project.KindAt(e.Path)
		old, has := f.Raw(e.Path)
		if e.Op != OpSet || !ok || !has || !quantity.HasBound(old) || quantity.HasBound(e.Text) {
			continue
		}
		if text, ok := withBound(k, strings.Trim(e.Text, `"`), strings.Trim(old, `"`), f.Build.Units); ok {
			out[i].Text = Quoted(text)
		}
	}
	return out
}

// withBound is a value as it is typed, with the ± of another: behind the number and its
// unit, before a direction. False where it cannot be spelled so.
func withBound(k quantity.Kind, text, old string, u quantity.Units) (string, bool) {
	was, err := quantity.ParseStated(k, old, u)
	if err != nil {
		return "", false
	}
	value, err := quantity.Parse(k, text, u)
	if err != nil {
		return "", false
	}
	words := strings.Fields(text)
	size := behindBound(old)
	for n := len(words); n > 0; n-- {
		for m := 1; m <= len(size); m++ {
			try := strings.Join(slices.Concat(words[:n], []string{"±"}, size[:m], words[n:]), " ")
			if now, err := quantity.ParseStated(k, try, u); err == nil && closeTo(now.V, value) && closeTo(now.Half, was.Half) {
				return try, true
			}
		}
	}
	return "", false
}

// behindBound are the words behind a ±.
func behindBound(old string) []string {
	for _, sign := range []string{"±", "+/-", "+-"} {
		if _, behind, ok := strings.Cut(old, sign); ok {
			return strings.Fields(behind)
		}
	}
	return nil
}

func closeTo(a, b float64) bool { return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a)) }

// withoutReadings are the edits that take out the readings whose targets have none in
// another state of the build, and these targets.
func withoutReadings(f *project.File, after *project.Build) (edits []Edit, gone []string) {
	for i := len(f.Build.Readings) - 1; i >= 0; i-- {
		of := f.Build.Readings[i].Of
		if slices.ContainsFunc(after.Readings, func(r project.Reading) bool { return r.Of == of }) {
			continue
		}
		edits = append(edits, Edit{Op: OpRemove, Path: fmt.Sprintf("reading[%d]", i)})
		if !slices.Contains(gone, of) {
			gone = append(gone, of)
		}
	}
	return edits, gone
}

// movedTo are the edits of one move.
func movedTo(f *project.File, m project.Move) ([]Edit, error) {
	if row, ok := m.Of.Row(); ok {
		return MoveRow(f, row.Row, m.To)
	}
	path, edits, err := Begin(f, m.Of.Path())
	if err != nil {
		return nil, err
	}
	if n := m.Of.Yokes(); n > 0 { // the word for it would say it a second time
		phase := f.Resolve(fmt.Sprintf("line.%s.shaft.%d.phase", m.Of.Line(), n))
		if f.Has(phase) {
			edits = append(edits, Edit{Op: OpRemove, Path: phase})
		}
	}
	if f, err = Draft(f, edits...); err != nil {
		return nil, err
	}
	e, err := SetValue(f, path, m.To)
	if err != nil {
		return nil, err
	}
	return append(edits, e), nil
}
