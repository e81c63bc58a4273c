package edit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// TypedReading is a reading as a person enters it.
type TypedReading struct {
	Of    string
	On    project.Surface
	Shown string // with its unit, or bare in the file's unit; empty for a reading by tape
	Aside string // by tape, seen from above: how far the rear end stands aside
	Over  string // the length along the vehicle that Aside was measured over
	Stood project.Stood
	// Unmoved says that the powertrain still hangs where the readings before
	// this one were taken, and not yet where the plan has it.
	Unmoved  bool
	Lower    project.End
	GaugeEnd project.MarkedEnd // which way its marked end pointed
	Face     project.End       // which way the square face looks that it stood on
	With     string            // the tool of a reading by tape, such as tool.tape
	After    project.After
	Note     string
}

// ErrNoSense says that a reading does not say which end is lower, and its slope depends
// on it.
var ErrNoSense = gauge.ErrNoSense

// Slope returns what the reading amounts to: the slope of the axis, rad, down to
// the rear positive. The error says what the reading lacks or contradicts;
// ErrNoSense may be behind it.
func (r TypedReading) Slope(u quantity.Units) (float64, error) {
	shown, err := quantity.ParseStated(quantity.Angle, r.Shown, u)
	if err != nil {
		return 0, err
	}
	s, err := gauge.Reading{Shown: geom.Angle(shown.V), On: r.On.Gauge(), Lower: r.Lower.Gauge()}.Slope()
	return s.Rad(), err
}

// Heading returns the direction in plan that a reading by tape amounts to: rad,
// rear end to the right positive, atan(aside/over).
func (r TypedReading) Heading(u quantity.Units) (float64, error) {
	aside, err := quantity.ParseStated(quantity.Offset, r.Aside, u)
	if err != nil {
		return 0, err
	}
	if strings.TrimSpace(r.Over) == "" {
		return 0, errors.New("over which length along the vehicle was it measured? such as 1000 mm")
	}
	over, err := quantity.ParseStated(quantity.Length, r.Over, u)
	if err != nil {
		return 0, err
	}
	if err := project.AsideFault(aside.V, over.V); err != nil {
		return 0, err
	}
	return math.Atan2(aside.V, over.V), nil
}

// AddReading returns the edit that adds a reading, stamped with the day and
// with the placement it was taken at, so that a later move of the powertrain
// is known to have made it old.
func AddReading(f *project.File, r TypedReading, day time.Time) (Edit, error) {
	pairs, err := readingPairs(f, r)
	if err != nil {
		return Edit{}, err
	}
	for _, p := range []struct{ key, text string }{
		{"lower", string(r.Lower)}, {"gauge_end", string(r.GaugeEnd)}, {"face", string(r.Face)}, {"with", r.With}, {"after", string(r.After)}, {"stood", string(r.Stood)}, {"note", r.Note},
	} {
		if p.text != "" {
			pairs = append(pairs, tomltext.Pair{Key: p.key, Literal: tomltext.Quote(p.text)})
		}
	}
	if !day.IsZero() {
		pairs = append(pairs, tomltext.Pair{Key: "taken", Literal: day.Format(time.DateOnly)})
	}
	place := f.Build.Placement
	if hung, moved := f.Build.HungAt(); moved && r.Unmoved {
		place = hung
	}
	if lit := placedLiteral(place, f.Build.Units); lit != "" {
		pairs = append(pairs, tomltext.Pair{Key: "placed", Literal: lit})
	}
	return Edit{Op: OpAdd, Path: "reading", Pairs: pairs}, nil
}

// readingPairs is what was read, with its numbers as they were typed.
func readingPairs(f *project.File, r TypedReading) ([]tomltext.Pair, error) {
	u := f.Build.Units
	of := tomltext.Pair{Key: "of", Literal: tomltext.Quote(r.Of)}
	if r.Aside == "" {
		if _, err := quantity.ParseStated(quantity.Angle, r.Shown, u); err != nil {
			return nil, err
		}
		return []tomltext.Pair{of, {Key: "on", Literal: tomltext.Quote(string(r.On))},
			{Key: "shown", Literal: spell(f, quantity.Angle, r.Shown)}}, nil
	}
	if _, err := r.Heading(u); err != nil {
		return nil, err
	}
	return []tomltext.Pair{of, {Key: "aside", Literal: spell(f, quantity.Offset, r.Aside)},
		{Key: "over", Literal: spell(f, quantity.Length, r.Over)}}, nil
}

// WithPlaces returns the edits with more behind them, which write the place
// that the powertrain leaves into the readings, and into what was measured to its
// marks, that do not say where it stood: they were taken before there was a placement. Edits that do not move it come
// back as they are.
func WithPlaces(f *project.File, edits []Edit) ([]Edit, error) {
	left := f.Build.Placement
	if !left.Any() || !slices.ContainsFunc(edits, Edit.movesPowertrain) || !anyNeedsPlace(f.Build) {
		return edits, nil
	}
	next, err := Apply(f, edits...)
	if err != nil {
		return nil, err
	}
	if !left.Elsewhere(next.Build.Placement) {
		return edits, nil
	}
	out := slices.Clone(edits)
	for i, r := range next.Build.Readings {
		if next.Build.NeedsPlace(&r) {
			out = append(out, Edit{Op: OpSet, Path: fmt.Sprintf("reading[%d].placed", i), Text: placedLiteral(r.Placed.FilledFrom(left), f.Build.Units)})
		}
	}
	for i, m := range next.Build.Measurements {
		if next.Build.NeedsPlaceToo(&m) {
			out = append(out, Edit{Op: OpSet, Path: fmt.Sprintf("measure[%d].placed", i), Text: placedLiteral(m.Placed.FilledFrom(left), f.Build.Units)})
		}
	}
	return out, nil
}

func anyNeedsPlace(b *project.Build) bool {
	for i := range b.Readings {
		if b.NeedsPlace(&b.Readings[i]) {
			return true
		}
	}
	for i := range b.Measurements {
		if b.NeedsPlaceToo(&b.Measurements[i]) {
			return true
		}
	}
	return false
}

func (e Edit) movesPowertrain() bool {
	return e.Path == "placement" || strings.HasPrefix(e.Path, "placement.")
}

// spell writes a number as it was typed, with the file's unit behind it where it
// was typed bare.
func spell(f *project.File, k quantity.Kind, typed string) string {
	if HasUnit(typed) {
		return tomltext.Quote(typed)
	}
	v, _ := quantity.Parse(k, typed, f.Build.Units)
	text, _ := quantity.Respell(k, v, "0", true, f.Build.Units)
	return tomltext.Quote(text + " " + quantity.UnitName(k, f.Build.Units))
}

// placedLiteral is a placement as an inline table, in the spelling of the
// file's own units: the rows that it has, empty while it has none.
func placedLiteral(p project.Placement, u quantity.Units) string {
	if !p.Any() {
		return ""
	}
	out := ""
	for _, q := range []struct {
		key  string
		k    quantity.Kind
		v    float64
		have bool
	}{
		{"left_front", quantity.Length, p.LeftFront.Or(0), p.LeftFront.Known()},
		{"right_front", quantity.Length, p.RightFront.Or(0), p.RightFront.Known()},
		{"rear", quantity.Length, p.Rear.Or(0), p.Rear.Known()},
		{"setback", quantity.Length, p.Setback.Or(0), p.Setback.Known()},
		{"offset", quantity.Offset, p.Offset.Or(0), true},
		{"heading", quantity.Heading, p.Heading.Or(0), true},
	} {
		if !q.have {
			continue
		}
		if out != "" {
			out += ", "
		}
		text, bare := quantity.Respell(q.k, q.v, "0", !q.k.NeedsDirection(), u)
		if !bare {
			text = tomltext.Quote(text)
		}
		out += q.key + " = " + text
	}
	return "{ " + out + " }"
}
