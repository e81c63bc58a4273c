package edit

import (
	"errors"
	"fmt"
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
	Values string // each repeat, with its unit or bare; a semicolon between them
	After  project.After
}

// ParseRepeats reads repeats with semicolons between them (internal unit).
func ParseRepeats(k quantity.Kind, text string, u quantity.Units) ([]float64, error) {
	var out []float64
	for _, part := range strings.Split(text, ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		v, err := quantity.Parse(k, part, u)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no value was read; write each repeat with a semicolon between them, such as 412; 411.5")
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
	pairs := []tomltext.Pair{{Key: "of", Literal: tomltext.Quote(of)}}
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
	return Edit{Op: OpAdd, Path: "measure", Pairs: pairs}, nil
}
