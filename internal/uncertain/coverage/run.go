package coverage

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
)

// Outcome is what was stated of one thing, and what is true of it.
type Outcome struct {
	Of    string // what it is of: outcomes of one name are one row
	Truth float64
	// Lower and Upper are the limits that were stated; an infinite one was not.
	Lower, Upper float64
	Known        bool // false: not known was the answer, and nothing else counts
	OK           bool // it was called ok
	Keeps        bool // the truth keeps its limit
}

// Trial is one kind of simulation: B is a build with its truth.
type Trial[B any] struct {
	Truth func(dice *rand.Rand) B
	// Judge reads the build anew and says what came out. Several goroutines call
	// it at once.
	Judge func(dice *rand.Rand, build B, say func(Outcome)) error
}

// Plan is how much is drawn.
type Plan struct {
	Builds int
	Each   int    // how often each is read, 1 when 0
	Start  uint64 // another start draws other builds
	At     int    // how many goroutines work at once, 1 when 0; the answer is the same
}

// Row is what came out of one kind of outcome.
type Row struct {
	Of       string
	Outcomes int
	Known    Share // that were judged at all
	Above    Share // truths at or above the stated lower limit
	Below    Share // truths at or below the stated upper limit
	Inside   Share // truths within both, where both were stated
	Width    float64
	OK       Share // called ok, of the known
	False    Share // that do not keep their limit, of those called ok
	Past     Share // called ok, of those that do not keep their limit
	widths   int
}

// Report is what came out, in the order of the names.
type Report struct {
	Builds int
	Rows   []Row
}

// Run simulates. It returns the first error that judging gave.
func Run[B any](t Trial[B], p Plan) (Report, error) {
	at, each := max(1, p.At), max(1, p.Each)
	parts, errs := make([]tally, at), make([]error, at)
	var wait sync.WaitGroup
	for w := range at {
		wait.Go(func() {
			parts[w] = tally{}
			for b := w; b < p.Builds && errs[w] == nil; b += at {
				errs[w] = one(t, rand.New(rand.NewPCG(p.Start, uint64(b))), each, parts[w])
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return Report{}, err
		}
	}
	whole := tally{}
	for _, part := range parts {
		for name, row := range part {
			whole.row(name).join(row)
		}
	}
	out := Report{Builds: p.Builds}
	for _, row := range whole {
		if row.widths > 0 {
			row.Width /= float64(row.widths)
		}
		out.Rows = append(out.Rows, *row)
	}
	slices.SortFunc(out.Rows, func(a, b Row) int { return strings.Compare(a.Of, b.Of) })
	return out, nil
}

// Pooled are the rows of several reports put together by a name for each, "" for none:
// builds of different reports are different builds, and the mean width is of no use where
// rows are of different things.
func Pooled(rows []Row, name func(of string) string) []Row {
	whole := tally{}
	for _, r := range rows {
		if of := name(r.Of); of != "" {
			whole.row(of).join(&r)
		}
	}
	out := make([]Row, 0, len(whole))
	for _, row := range whole {
		row.Width = math.NaN()
		out = append(out, *row)
	}
	slices.SortFunc(out, func(a, b Row) int { return strings.Compare(a.Of, b.Of) })
	return out
}

type tally map[string]*Row

func (t tally) row(of string) *Row {
	if t[of] == nil {
		t[of] = &Row{Of: of}
	}
	return t[of]
}

// one draws a build, reads it so often and adds it to the tally.
func one[B any](t Trial[B], dice *rand.Rand, each int, into tally) error {
	build := t.Truth(dice)
	here := tally{}
	for range each {
		err := t.Judge(dice, build, func(o Outcome) { here.row(o.Of).count(o) })
		if err != nil {
			return err
		}
	}
	for name, row := range here {
		for _, s := range row.shares() {
			s.close()
		}
		into.row(name).join(row)
	}
	return nil
}

func (r *Row) shares() []*Share {
	return []*Share{&r.Known, &r.Above, &r.Below, &r.Inside, &r.OK, &r.False, &r.Past}
}

func (r *Row) count(o Outcome) {
	r.Outcomes++
	r.Known.add(o.Known)
	if !o.Known {
		return
	}
	stated := func(v float64) bool { return v-v == 0 }
	if stated(o.Lower) {
		r.Above.add(o.Truth >= o.Lower)
	}
	if stated(o.Upper) {
		r.Below.add(o.Truth <= o.Upper)
	}
	if stated(o.Lower) && stated(o.Upper) {
		r.Inside.add(o.Truth >= o.Lower && o.Truth <= o.Upper)
	}
	switch {
	case stated(o.Lower) && stated(o.Upper):
		r.Width += o.Upper - o.Lower
		r.widths++
	case stated(o.Upper):
		r.Width += o.Upper - o.Truth
		r.widths++
	case stated(o.Lower):
		r.Width += o.Truth - o.Lower
		r.widths++
	}
	r.OK.add(o.OK)
	if o.OK {
		r.False.add(!o.Keeps)
	}
	if !o.Keeps {
		r.Past.add(o.OK)
	}
}

func (r *Row) join(o *Row) {
	r.Outcomes += o.Outcomes
	r.Width += o.Width
	r.widths += o.widths
	theirs := o.shares()
	for i, s := range r.shares() {
		s.join(*theirs[i])
	}
}
