package edit

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// TypedMeasurement is a measurement as a person enters it.
type TypedMeasurement struct {
	Of     string
	With   project.Instrument
	On     string
	Values string // each repeat, with its unit or bare; a blank or a semicolon between them
	After  project.After
	Length bool // a length, also where the instrument shows an angle elsewhere: a height by level
}

// ParseRepeats reads repeats with semicolons between them, or with blanks where they are
// much alike (internal unit).
func ParseRepeats(k quantity.Kind, text string, u quantity.Units) ([]float64, error) {
	var out []float64
	for _, part := range cutRepeats(k, text, u) {
		if part == "" {
			continue
		}
		v, err := quantity.Parse(k, part, u)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no value was read; write each repeat with a blank or a semicolon between them, such as 412 411.5")
	}
	return out, nil
}

// AddMeasurement returns the edit that adds a measurement, stamped with the day.
func AddMeasurement(f *project.File, m TypedMeasurement, day time.Time) (Edit, error) {
	of := strings.TrimSpace(m.Of)
	if of == "" {
		return Edit{}, errors.New("the measurement does not say of what it is")
	}
	k, u := m.With.Kind(), f.Build.Units
	if m.Length {
		k = quantity.Length
	}
	values, err := ParseRepeats(k, m.Values, u)
	if err != nil {
		return Edit{}, err
	}
	key := "lengths"
	if k == quantity.Angle {
		key = "angles"
	}
	unit := " " + quantity.UnitName(k, u)
	texts := make([]string, len(values))
	for i, v := range values {
		text, _ := quantity.Respell(k, v, "0", true, u)
		texts[i] = tomltext.Quote(text + unit)
	}
	pairs := betweenPoints(f.Build, of, k)
	if pairs == nil {
		pairs = []tomltext.Pair{{Key: "of", Literal: tomltext.Quote(of)}}
	}
	for _, p := range []struct{ key, text string }{{"with", string(m.With)}, {"on", strings.TrimSpace(m.On)}} {
		if p.text != "" {
			pairs = append(pairs, tomltext.Pair{Key: p.key, Literal: tomltext.Quote(p.text)})
		}
	}
	pairs = append(pairs, tomltext.Pair{Key: key, Literal: "[" + strings.Join(texts, ", ") + "]"})
	if m.After != "" {
		pairs = append(pairs, tomltext.Pair{Key: "after", Literal: tomltext.Quote(string(m.After))})
	}
	if !day.IsZero() {
		pairs = append(pairs, tomltext.Pair{Key: "taken", Literal: day.Format(time.DateOnly)})
	}
	if lit := placedLiteral(f.Build.Placement, u); lit != "" && toPowertrain(f.Build, pairs) {
		pairs = append(pairs, tomltext.Pair{Key: "placed", Literal: lit})
	}
	return Edit{Op: OpAdd, Path: "measure", Pairs: pairs}, nil
}

// betweenPoints are the keys of a line of the survey, where the words of a length name
// two points of the file, or say that they are points: "rail lf to rail rr" is a
// distance, "rail rr over rail lf" a height. Nil for any other words.
func betweenPoints(b *project.Build, words string, k quantity.Kind) []tomltext.Pair {
	if k != quantity.Length {
		return nil
	}
	for _, by := range []struct {
		word string
		as   project.SurveyLine
	}{{" to ", ""}, {" over ", project.HeightLine}} {
		first, second, ok := strings.Cut(words, by.word)
		from, okFrom := pointIn(b, first)
		to, okTo := pointIn(b, second)
		if !ok || !okFrom || !okTo || from == to {
			continue
		}
		if by.as == project.HeightLine {
			from, to = to, from
		}
		pairs := []tomltext.Pair{{Key: "from", Literal: tomltext.Quote(from)}, {Key: "to", Literal: tomltext.Quote(to)}}
		if by.as != "" {
			pairs = append(pairs, tomltext.Pair{Key: "as", Literal: tomltext.Quote(string(by.as))})
		}
		return pairs
	}
	return nil
}

// NoLine says why words such as "rail lf to rail rx", of which one part names a point of
// the file, are no line of the survey: the other part is none. An error where they are
// not to be taken so, for the other part is nearly the name of a point or the same point;
// otherwise what is to be known of them, "" for nothing.
func NoLine(f *project.File, words string) (note string, err error) {
	b := f.Build
	if betweenPoints(b, words, quantity.Length) != nil {
		return "", nil
	}
	for _, word := range []string{" to ", " over "} {
		first, second, ok := strings.Cut(words, word)
		from, okFrom := pointIn(b, first)
		to, okTo := pointIn(b, second)
		if !ok || !okFrom && !okTo {
			continue
		}
		if okFrom && okTo {
			return "", fmt.Errorf("nothing is measured from %s to itself", from)
		}
		lacks := to
		if okTo {
			lacks = from
		}
		var names []string
		for _, p := range b.PointPaths() {
			names = append(names, strings.TrimPrefix(p, "point."))
		}
		if near, ok := project.Nearest(strings.TrimPrefix(lacks, "point."), names); ok {
			return "", fmt.Errorf("there is no [%s] in this file; did you mean %s? For a new point write %s", lacks, strings.ReplaceAll(near, "_", " "), lacks)
		}
		return fmt.Sprintf("it is no line of the survey, for there is no [%s]: for a new point write %s", lacks, lacks), nil
	}
	return "", nil
}

// pointIn is the point that words name: one of the file as it is spoken, or any name
// behind "point.".
func pointIn(b *project.Build, words string) (path string, ok bool) {
	words = strings.TrimSpace(words)
	name, named := strings.CutPrefix(words, "point.")
	path = "point." + strings.ReplaceAll(name, " ", "_")
	return path, named && bareName(name) || slices.Contains(b.PointPaths(), path)
}

// bareName reports whether a name can be that of a table as it is.
func bareName(name string) bool {
	return name != "" && !strings.ContainsFunc(name, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '_' || r == ' ')
	})
}

// NewPoints are the edits that add the points which a measurement's words name and the
// file does not have: a name and a note each, since the survey places them.
func NewPoints(f *project.File, words string) []Edit {
	var out []Edit
	for _, p := range betweenPoints(f.Build, words, quantity.Length) {
		path := strings.Trim(p.Literal, `"`)
		if p.Key != "as" && !slices.Contains(f.Build.PointPaths(), path) {
			out = append(out, Edit{Op: OpSet, Path: path + ".note", Text: tomltext.Quote("placed by the survey")})
		}
	}
	return out
}

// toPowertrain reports whether the keys of a measurement name a mark on the powertrain.
func toPowertrain(b *project.Build, pairs []tomltext.Pair) bool {
	return slices.ContainsFunc(pairs, func(p tomltext.Pair) bool {
		return (p.Key == "from" || p.Key == "to") && b.Marks(strings.Trim(p.Literal, `"`))
	})
}
