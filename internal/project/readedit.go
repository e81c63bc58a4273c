package project

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// TypedReading is a reading as a person enters it.
type TypedReading struct {
	Of    string
	On    Surface
	Shown string // with its unit, or bare in the file's unit; empty for a reading by tape
	Aside string // by tape, seen from above: how far the rear end stands aside
	Over  string // the length along the vehicle that Aside was measured over
	Stood Stood
	// Unmoved says that the powertrain still hangs where the readings before
	// this one were taken, and not yet where the plan has it.
	Unmoved  bool
	Lower    End
	GaugeEnd End // which way its marked end pointed
	After    After
	Note     string
}

// AddReading returns the edit that adds a reading, stamped with the day and
// with the placement it was taken at, so that a later move of the powertrain
// is known to have made it old.
func (f *File) AddReading(r TypedReading, day time.Time) (Edit, error) {
	pairs, err := f.readingPairs(r)
	if err != nil {
		return Edit{}, err
	}
	for _, p := range []struct{ key, text string }{
		{"lower", string(r.Lower)}, {"gauge_end", string(r.GaugeEnd)}, {"after", string(r.After)}, {"stood", string(r.Stood)}, {"note", r.Note},
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
func (f *File) readingPairs(r TypedReading) ([]tomltext.Pair, error) {
	u := f.Build.Units
	of := tomltext.Pair{Key: "of", Literal: tomltext.Quote(r.Of)}
	if r.Aside == "" {
		if _, err := quantity.Parse(quantity.Angle, r.Shown, u); err != nil {
			return nil, err
		}
		return []tomltext.Pair{of, {Key: "on", Literal: tomltext.Quote(string(r.On))},
			{Key: "shown", Literal: f.spell(quantity.Angle, r.Shown)}}, nil
	}
	if _, err := r.Heading(u); err != nil {
		return nil, err
	}
	return []tomltext.Pair{of, {Key: "aside", Literal: f.spell(quantity.Offset, r.Aside)},
		{Key: "over", Literal: f.spell(quantity.Length, r.Over)}}, nil
}

// HungAt returns where the powertrain stood when it was last read, and whether
// the plan has it elsewhere now: the placement in the file is the plan, and
// only a reading says where the iron hangs.
func (b *Build) HungAt() (Placement, bool) {
	now, ok := b.Placement.Seat()
	for i := len(b.Readings) - 1; i >= 0 && ok; i-- {
		r := b.Readings[i]
		if !b.HangsOnPowertrain(r.Of) {
			continue
		}
		if then, ok := r.Placed.Seat(); ok {
			return r.Placed, !SamePlace(then, now)
		}
	}
	return Placement{}, false
}

// SamePlace reports whether two placements are one, but for the rounding of one
// that was written to a file.
func SamePlace(p, q seat.Placement) bool {
	const mm, rad = 1e-4, 1e-7
	return geom.Near(p.LeftFront, q.LeftFront, mm) && geom.Near(p.RightFront, q.RightFront, mm) &&
		geom.Near(p.Rear, q.Rear, mm) && geom.Near(p.Setback, q.Setback, mm) &&
		geom.Near(p.Offset, q.Offset, mm) && geom.Near(p.Heading.Rad(), q.Heading.Rad(), rad)
}

// HangsOnPowertrain reports whether a reading's target goes where the
// powertrain goes: itself, and the first shaft of a line that begins at it.
func (b *Build) HangsOnPowertrain(target string) bool {
	return target == TargetPowertrain || target == TargetAcross || slices.ContainsFunc(b.Lines, func(l Line) bool {
		return l.DrivingTarget() == TargetPowertrain && target == l.ShaftTarget(1)
	})
}

// needsPlace reports whether a move of the powertrain would make reading r old
// without anybody knowing: it is of what hangs on the powertrain, and does not
// say where that stood.
func (b *Build) needsPlace(r Reading) bool {
	_, ok := r.Placed.Seat()
	return !ok && b.HangsOnPowertrain(r.Of)
}

// WithPlaces returns the edits with more behind them, which write the place
// that the powertrain leaves into the readings that do not say where it stood:
// they were taken before there was a placement. Edits that do not move it come
// back as they are.
func (f *File) WithPlaces(edits []Edit) ([]Edit, error) {
	left := f.Build.Placement
	if !left.Any() || !slices.ContainsFunc(edits, Edit.movesPowertrain) || !slices.ContainsFunc(f.Build.Readings, f.Build.needsPlace) {
		return edits, nil
	}
	next, err := f.Apply(edits...)
	if err != nil {
		return nil, err
	}
	if !left.Elsewhere(next.Build.Placement) {
		return edits, nil
	}
	out := slices.Clone(edits)
	for i, r := range next.Build.Readings {
		if next.Build.needsPlace(r) {
			out = append(out, Edit{Op: OpSet, Path: fmt.Sprintf("reading[%d].placed", i), Text: placedLiteral(r.Placed.filled(left), f.Build.Units)})
		}
	}
	return out, nil
}

func (e Edit) movesPowertrain() bool {
	return e.Path == "placement" || strings.HasPrefix(e.Path, "placement.")
}

// spell writes a number as it was typed, with the file's unit behind it where it
// was typed bare.
func (f *File) spell(k quantity.Kind, typed string) string {
	if HasUnit(typed) {
		return tomltext.Quote(typed)
	}
	v, _ := quantity.Parse(k, typed, f.Build.Units)
	text, _ := quantity.Respell(k, v, "0", true, f.Build.Units)
	return tomltext.Quote(text + " " + quantity.UnitName(k, f.Build.Units))
}

// placedLiteral is a placement as an inline table, in the spelling of the
// file's own units: the rows that it has, empty while it has none.
func placedLiteral(p Placement, u quantity.Units) string {
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
