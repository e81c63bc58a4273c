package finding

import (
	"fmt"
	"math"

	"fitup/internal/uncertain"
)

// Ends are a finding with one thing that it follows from at the two ends of its ±,
// all else alike. Low or High is nil where nothing was judged there.
type Ends struct {
	Of        Estimate
	Within    string // what the ± is called in a sentence: "the ± of line.rear.pinion.slope"
	Low, High *Finding
}

// figure is what a finding is judged by.
type figure struct{ value, margin float64 }

// Turned is what a finding would be judged by if it were the other of two: a number
// with the powertrain's weight on its mounts, or as built.
type turned struct {
	figure
	given  bool
	loaded bool // the finding is as built, and this is with the weight on
}

// InPlaceOf keeps what the finding was judged by before: as built, where it is now
// judged with the powertrain's weight on.
func (f *Finding) InPlaceOf(built *Finding) {
	f.other = turned{figure: figure{built.Value, built.Margin}, given: true}
}

// BesideLoaded keeps what the finding would be judged by with the powertrain's weight
// on its mounts.
func (f *Finding) BesideLoaded(g *Finding) {
	f.other = turned{figure: figure{g.Value, g.Margin}, given: true, loaded: true}
}

// figureLike is what the finding is judged by, as built or with the weight on, as g
// is; false where it has no such number.
func (f *Finding) figureLike(g *Finding) (figure, bool) {
	if !f.HasValue {
		return figure{}, false
	}
	loaded := func(f *Finding) bool { return f.other.given && !f.other.loaded }
	if loaded(f) == loaded(g) {
		return figure{f.Value, f.Margin}, true
	}
	return f.other.figure, f.other.given
}

// Opens is what the ± of one thing leaves open of a finding's number: how far that
// moves, by the worse of the two ends, so that a turning point, a kink or a size near
// zero between them is not passed over. A limit that moves along counts by what it
// leaves of the margin. Nothing where the number has that source already. The error
// says why the number cannot be told within the ±.
//
// At the ends themselves: a ± is a bound, and what may come nearest only near one of
// them is seen there.
func (f *Finding) Opens(e Ends) (uncertain.Number, error) {
	var none uncertain.Number
	if !f.HasValue || e.Of.In(f.number) {
		return none, nil
	}
	var at [2]float64
	for i, g := range [2]*Finding{e.Low, e.High} {
		if g == nil {
			return none, fmt.Errorf("within %s it is not judged", e.Within)
		}
		v, ok := g.figureLike(f)
		switch {
		case !ok && g.Missing != "":
			return none, fmt.Errorf("within %s it cannot be told: %s", e.Within, g.Missing)
		case !ok:
			return none, fmt.Errorf("within %s it cannot be told", e.Within)
		case !f.HasLimit:
			at[i] = v.value
		case f.AtLeast:
			at[i] = f.Value + v.margin - f.Margin
		default:
			at[i] = f.Value - v.margin + f.Margin
		}
	}
	const rounding = 1e-9
	off := e.Of.EndsOf(f.Value, at[0], at[1]).Off
	if math.Abs(off) <= rounding*max(1, math.Abs(f.Value)) {
		return none, nil
	}
	return e.Of.Within(0, off).Number, nil
}

// LeftOpen is what Open has added to the finding's number.
func (f *Finding) LeftOpen() uncertain.Number { return f.opened }

// OpenedAs gives the finding what is open of another one, as of the same a step away.
func (f *Finding) OpenedAs(g *Finding) {
	f.Open(g.opened)
	if f.also != nil && g.also != nil {
		f.OpenSecond(g.also.opened)
	}
}

// Again is how the finding is judged once more when its number is found to be open
// further, where it is not judged by a limit. It may change the status and what is
// said.
func (f *Finding) Again(judge func(f *Finding)) { f.again = judge }
