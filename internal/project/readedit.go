package project

import (
	"time"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// TypedReading is a reading as a person enters it.
type TypedReading struct {
	Of       string
	On       Surface
	Shown    string // with its unit, or bare in the file's unit
	Lower    End
	GaugeEnd End // which way its marked end pointed
	After    After
	Note     string
}

// AddReading returns the edit that adds a reading, stamped with the day and
// with the placement it was taken at, so that a later move of the powertrain
// is known to have made it old.
func (f *File) AddReading(r TypedReading, day time.Time) (Edit, error) {
	if _, err := quantity.Parse(quantity.Angle, r.Shown, f.Build.Units); err != nil {
		return Edit{}, err
	}
	pairs := []tomltext.Pair{
		{Key: "of", Literal: tomltext.Quote(r.Of)},
		{Key: "on", Literal: tomltext.Quote(string(r.On))},
		{Key: "shown", Literal: f.spellAngle(r.Shown)},
	}
	for _, p := range []struct{ key, text string }{
		{"lower", string(r.Lower)}, {"gauge_end", string(r.GaugeEnd)}, {"after", string(r.After)}, {"note", r.Note},
	} {
		if p.text != "" {
			pairs = append(pairs, tomltext.Pair{Key: p.key, Literal: tomltext.Quote(p.text)})
		}
	}
	if !day.IsZero() {
		pairs = append(pairs, tomltext.Pair{Key: "taken", Literal: day.Format(time.DateOnly)})
	}
	if lit := f.placedLiteral(); lit != "" {
		pairs = append(pairs, tomltext.Pair{Key: "placed", Literal: lit})
	}
	return Edit{Op: OpAdd, Path: "reading", Pairs: pairs}, nil
}

func (f *File) spellAngle(typed string) string {
	if hasUnit(typed) {
		return tomltext.Quote(typed)
	}
	v, _ := quantity.Parse(quantity.Angle, typed, f.Build.Units)
	text, _ := quantity.Respell(quantity.Angle, v, "0", true, f.Build.Units)
	return tomltext.Quote(text + " " + quantity.UnitName(quantity.Angle, f.Build.Units))
}

// placedLiteral is the present placement as an inline table, in the spelling
// of the file's own units; empty while the placement is not complete.
func (f *File) placedLiteral() string {
	if _, ok := f.Build.Placement.Seat(); !ok {
		return ""
	}
	p, u := f.Build.Placement, f.Build.Units
	out := "{ "
	for i, q := range []struct {
		key string
		k   quantity.Kind
		v   float64
	}{
		{"left_front", quantity.Length, p.LeftFront.Or(0)},
		{"right_front", quantity.Length, p.RightFront.Or(0)},
		{"rear", quantity.Length, p.Rear.Or(0)},
		{"setback", quantity.Length, p.Setback.Or(0)},
		{"offset", quantity.Offset, p.Offset.Or(0)},
		{"heading", quantity.Heading, p.Heading.Or(0)},
	} {
		if i > 0 {
			out += ", "
		}
		text, bare := quantity.Respell(q.k, q.v, "0", !q.k.NeedsDirection(), u)
		if !bare {
			text = tomltext.Quote(text)
		}
		out += q.key + " = " + text
	}
	return out + " }"
}
