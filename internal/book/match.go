package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
)

// Match is the sheet of the leg of the mount other made after that of the mount
// first: what differs from the plain mirror image, how it is cut, and how it
// stands against what was wanted where it was measured. It fails where either
// cannot be made.
func Match(a *assess.Assessment, first, other string) (Sheet, error) {
	var s Sheet
	b, err := a.MatchOf(first, other)
	if err != nil {
		return s, err
	}
	u, m := a.Build.Units, b.Match
	from := "as planned; nothing was measured on it"
	if m.AsBuilt {
		from = "as measured"
	}
	s.add("", text(0, fmt.Sprintf("The %s leg after the %s one, %s.", b.Label, strings.ReplaceAll(first, "_", " "), from))...)
	rows := [][]string{{"", "mirror image", "this side", "differs by"}}
	for _, r := range b.MatchRows() {
		rows = append(rows, []string{r.Label, Magnitude(r.Kind, r.Mirror, u), Magnitude(r.Kind, r.Made, u), signed(r.Kind, r.By, u)})
	}
	s.add("", table(1, labels, rows))
	notes := []string{fmt.Sprintf("The plain mirror image would stand off its pad by up to %s and off its rail by up to %s.",
		Magnitude(quantity.Length, m.Result.PadMiss, u), Magnitude(quantity.Length, m.Result.RailMiss, u))}
	if !m.SameMark {
		notes = append(notes, fmt.Sprintf("Stations are taken to begin at the same place on both rails. To be sure, scribe a line on both rails square across from one to the other, "+
			"and enter it as mark of both legs: %s.", m.NoMark))
	}
	s.add("", text(0, notes...)...)
	s.leg(u, &b)
	s.built(&b, u)
	return s.clean(), nil
}

// signed writes a difference with its sign.
func signed(k quantity.Kind, v float64, u quantity.Units) string {
	s := Magnitude(k, v, u)
	if zero := Magnitude(k, 0, u); s == zero || s == "-"+zero {
		return zero
	}
	if v > 0 {
		s = "+" + s
	}
	return s
}

// built says how the built mount stands against the one that was wanted, where
// anything was measured.
func (s *Sheet) built(b *assess.Bracket, u quantity.Units) {
	c, err := b.CheckOf()
	if err != nil || !c.Place.Known && !c.Lean.Known && !c.Twist.Known && !c.Foot.Known {
		return
	}
	var rows [][]string
	for _, r := range []struct {
		label string
		kind  quantity.Kind
		m     assess.Number
	}{
		{"pad off its place", quantity.Length, c.Place}, {"lean of the pad", quantity.Angle, c.Lean},
		{"a shim that makes up for it", quantity.Length, c.Wedge}, {"twist of the pad", quantity.Angle, c.Twist}, {"which moves its outermost hole", quantity.Length, c.Slot},
		{"foot off its place", quantity.Length, c.Foot},
	} {
		measured := "not measured"
		if r.m.Known {
			measured = Magnitude(r.kind, r.m.V, u)
		}
		rows = append(rows, []string{r.label, measured})
	}
	s.add("As built", table(1, labels, rows))
}
