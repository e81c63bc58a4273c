package propose

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// What to measure next: what one further reading or tape measure is expected to take
// off the chance of a wrong weld.
//
// A finding that is within its limit is welded on; the weld is wrong where the truth is
// past the limit. Behind the finding stand sources of error, and a further reading takes
// some of them down by as much as is known before it is taken: to find it, the build is
// assessed with that reading in it, saying what those before it say. The value that it
// will then show is not known, but how it is spread is: as the variance that the reading
// takes away. The weld is made where that value is within the limit, and is wrong where
// it is and the truth is not (preposterior analysis; Raiffa and Schlaifer, Applied
// Statistical Decision Theory, from memory). Errors are taken as normal. Of several
// findings the chances are added, which is no less than that of any (Boole).

// WrongWeld is the chance that a number with margin to its limit (inside positive) and
// the standard uncertainty u is welded on and wrong, when first one more reading is taken
// that leaves it with the standard uncertainty left, of 0 to u: the truth is past the
// limit, and what the reading will make of the number is not. With left = u nothing is
// learned. 0 where u is 0.
func WrongWeld(margin, u, left float64) float64 {
	if u <= 0 {
		if margin < 0 && left >= u {
			return 1
		}
		return 0
	}
	left = min(max(left, 0), u)
	learned := u*u - left*left
	phi := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	if learned <= 1e-12*u*u { // the weld is decided by what is known already
		if margin < 0 {
			return 0
		}
		return phi(-margin / u)
	}
	if left == 0 {
		return 0
	}
	// Over the truth t, in standard uncertainties past the value: given it, the value
	// after the reading is normal with mean learned/u²·t·u and variance
	// learned·left²/u².
	const steps, far = 400, 9.0
	from := margin / u
	to := max(from, 0) + far
	sum := 0.0
	for i := range steps + 1 {
		t := from + (to-from)*float64(i)/steps
		after := (margin - learned/u*t) / (math.Sqrt(learned) * left / u)
		y := math.Exp(-t*t/2) / math.Sqrt(2*math.Pi) * phi(after)
		switch { // Simpson
		case i == 0 || i == steps:
			sum += y
		case i%2 == 1:
			sum += 4 * y
		default:
			sum += 2 * y
		}
	}
	return sum * (to - from) / steps / 3
}

// Reading is one that could be taken.
type Reading struct {
	Of    string // its target, or the title of a measurement
	Name  string // that as people call it
	How   string // in words, behind "of"
	Drop  float64
	Helps []string // ids of the findings of which it takes most off the chance, the most first
	gains []share
}

// share is what a finding has of a chance.
type share struct {
	id string
	by float64
}

// Next is what could be measured, the most useful first, and how things stand without.
type Next struct {
	Chance   float64  // of a wrong weld, as it stands
	Of       []string // ids of the findings that are tight
	Readings []Reading
	// Enough is true where every finding is known and ok, some of them with a stated ±,
	// and no reading takes off more than Worth.
	Enough bool
	// Open are findings that are not within their limit or not known: first those.
	Open    []string
	chances []share // of each finding whose ± is stated
}

// Worth is what a reading must take off the chance of a wrong weld to be worth taking.
const Worth = 0.001

// spread is the margin of a finding whose ± is stated, and its standard uncertainty.
type spread struct{ margin, u float64 }

func spreads(a *assess.Assessment) map[string]spread {
	out := map[string]spread{}
	for i := range a.Findings {
		f := &a.Findings[i]
		if _, stated := f.Within(); stated && f.Uncertainty > 0 {
			out[f.ID] = spread{f.Margin, f.Uncertainty / 2}
		}
	}
	return out
}

// NextReading says what one further reading would be worth.
func NextReading(b *project.Build) Next {
	n, _ := nextReading(context.Background(), b, func() {}, 0)
	return n
}

// NextReadingBeside is NextReading that calls yield again and again, which may wait for what
// is more urgent. Where the whole chance is less than Worth none is weighed: none takes off
// more. The error is that of the context, where it ended first.
func NextReadingBeside(ctx context.Context, b *project.Build, yield func()) (Next, error) {
	return nextReading(ctx, b, yield, Worth)
}

func nextReading(ctx context.Context, b *project.Build, yield func(), worth float64) (Next, error) {
	now := assess.RunAside(b, yield)
	n := Next{}
	before := spreads(now)
	for i := range now.Findings {
		f := &now.Findings[i]
		switch s, ok := before[f.ID]; {
		case f.Status == finding.Over || f.Status == finding.NotKnown:
			n.Open = append(n.Open, f.ID)
		case ok:
			n.chances = append(n.chances, share{f.ID, WrongWeld(s.margin, s.u, s.u)})
			if f.Status == finding.Tight {
				n.Of = append(n.Of, f.ID)
			}
		}
	}
	whole := 0.0
	for _, c := range n.chances {
		whole += c.by
	}
	for _, c := range candidates(b, now) {
		r := Reading{Of: c.of, Name: c.name, How: c.how}
		if whole >= worth {
			if ctx.Err() != nil {
				return Next{}, ctx.Err()
			}
			r.gains = gainsOf(n.chances, before, spreads(assess.AgainAside(now, c.build, yield)))
		}
		n.Readings = append(n.Readings, r)
	}
	return n.of(func(string) bool { return true }), ctx.Err()
}

// gainsOf is what a reading takes off the chance of each finding, from how each is spread
// before it and after.
func gainsOf(chances []share, before, after map[string]spread) []share {
	var out []share
	for _, c := range chances {
		s, t := before[c.id], before[c.id]
		if x, ok := after[c.id]; ok {
			t = x
		}
		if by := c.by - WrongWeld(s.margin, s.u, t.u); by != 0 {
			out = append(out, share{c.id, by})
		}
	}
	return out
}

// of is what is known of those findings alone.
func (n *Next) of(held func(id string) bool) Next {
	out := Next{}
	for _, c := range n.chances {
		if held(c.id) {
			out.chances = append(out.chances, c)
			out.Chance += c.by
		}
	}
	only := func(ids []string) []string {
		return slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return !held(id) })
	}
	out.Of, out.Open = only(n.Of), only(n.Open)
	for _, r := range n.Readings {
		x := Reading{Of: r.Of, Name: r.Name, How: r.How}
		for _, g := range r.gains {
			if held(g.id) {
				x.gains = append(x.gains, g)
				x.Drop += g.by
			}
		}
		slices.SortStableFunc(x.gains, func(x, y share) int { return sign(y.by - x.by) })
		for _, g := range x.gains {
			if g.by > Worth/10 {
				x.Helps = append(x.Helps, g.id)
			}
		}
		out.Readings = append(out.Readings, x)
	}
	slices.SortStableFunc(out.Readings, func(x, y Reading) int { return sign(y.Drop - x.Drop) })
	out.Enough = len(out.Of)+len(out.Open) == 0 && len(out.chances) > 0 && (len(out.Readings) == 0 || out.Readings[0].Drop < Worth)
	return out
}

// For says in one sentence what to measure next before a job that is hard to undo, by the
// findings that it waits for alone: "" where it waits for none, and where one of them is
// past its limit or not known, which the job says itself.
func (n *Next) For(j assess.Job) string {
	ids := map[string]bool{}
	for i := range j.Holds {
		ids[j.Holds[i].ID] = true
	}
	of := n.of(func(id string) bool { return ids[id] })
	if len(of.Open) > 0 || len(of.chances) == 0 {
		return ""
	}
	return of.Words()
}

// PerCent is a chance in words, never none where it is not.
func PerCent(p float64) string {
	switch {
	case p <= 0:
		return "0 %"
	case p < 0.0005:
		return "less than 0.1 %"
	}
	return fmt.Sprintf("%.1f %%", 100*p)
}

// Words says in one sentence what to measure next, or why nothing. What is over or not
// known comes before any of it.
func (n *Next) Words() string {
	text := ""
	switch {
	case len(n.Readings) > 0 && n.Readings[0].Drop >= Worth:
		r := &n.Readings[0]
		text = fmt.Sprintf("Measure next: %s, %s; it takes %s off the chance of a wrong weld, which is at most %s by what is read.", r.Name, r.How, PerCent(r.Drop), PerCent(n.Chance))
	case n.Enough:
		return "Enough: weld. No further reading takes a tenth of a per cent off the chance of a wrong weld, which is at most " + PerCent(n.Chance) + "."
	case len(n.Readings) == 0:
		text = "Nothing has been read yet that could be read again."
	case len(n.Of) > 0:
		text = "No further reading with these tools helps, and not all is sure: a better gauge, or a move away from the limit, does."
	default:
		text = "Of what is read, no further reading is worth taking."
	}
	if len(n.Open) > 0 {
		text = fmt.Sprintf("%d findings are over or not known: those come before any reading. ", len(n.Open)) + text
	}
	return text
}

func sign(v float64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// candidate is a build with one reading more.
type candidate struct {
	of, name, how string
	build         *project.Build
}

// candidates are the readings that could be taken of what was read before: once more, on
// the other kind of surface, with the gauge turned end for end; and each tape measure of
// the survey once more; and of the powertrain and axles with marks every height and tape to a
// mark that was not measured from the points that others were, which would read what all
// that was measured says. What was never read has no ± to go by, and is among what is not
// known.
func candidates(b *project.Build, now *assess.Assessment) []candidate {
	var out []candidate
	last := map[string]int{}
	var order []string
	for i, r := range b.Readings {
		if r.InPlan() || !r.Shown.Known() {
			continue
		}
		if _, ok := last[r.Of]; !ok {
			order = append(order, r.Of)
		}
		last[r.Of] = i
	}
	with := func(of, how string, r project.Reading) {
		c := *b
		c.Readings = append(slices.Clone(b.Readings), r)
		out = append(out, candidate{of, b.TargetWords(of), how, &c})
	}
	for _, of := range order {
		r := b.Readings[last[of]]
		with(of, "once more, the gauge put on anew", r)
		other, how := r, "on a square face"
		if other.On = project.SquareFace; r.On == project.SquareFace {
			other.On, how = project.Along, "along it"
		}
		other.Shown.SetV(math.Pi/2 - r.Shown.V())
		other.GaugeEnd, other.Face = "", ""
		if r.Lower != "" && strings.Contains(of, "line.") || of == project.TargetPowertrain {
			with(of, how+", beside what was read", other)
		}
		if r.GaugeEnd != "" && r.On == project.Along && b.Gauge.Zero.Known() {
			turned := r
			turned.GaugeEnd = turnedEnd(r.GaugeEnd)
			with(of, "with the gauge turned end for end", turned)
		}
	}
	for i, m := range b.Measurements {
		if !m.Surveys() || len(m.Lengths) == 0 {
			continue
		}
		c := *b
		c.Measurements = slices.Clone(b.Measurements)
		c.Measurements[i].Lengths = append(slices.Clone(m.Lengths), m.Lengths[len(m.Lengths)-1])
		out = append(out, candidate{m.Title(), m.Title(), "taped once more", &c})
	}
	return append(out, untaken(b, now)...)
}

// untaken are the heights and tapes to marks that were not measured yet.
func untaken(b *project.Build, now *assess.Assessment) (out []candidate) {
	if now == nil || now.Hung == nil {
		return nil
	}
	for _, l := range now.Hung.Free(b) {
		m := project.Measurement{From: l.From, To: l.To, As: l.As, With: l.With, Lengths: []quantity.LengthQ{quantity.MM(l.Would)}}
		for i := range b.Measurements { // on the occasion of the others
			if x := &b.Measurements[i]; x.Surveys() && x.From == l.From && b.HangsLoose(x) {
				m.After, m.Stood, m.Placed = x.After, x.Stood, x.Placed
			}
		}
		c := *b
		c.Measurements = append(slices.Clone(b.Measurements), m)
		how := "by tape, not measured yet"
		if l.As == project.HeightLine {
			how = "by level, not measured yet"
		}
		out = append(out, candidate{m.Title(), m.Title(), how, &c})
	}
	return out
}

func turnedEnd(e project.MarkedEnd) project.MarkedEnd {
	switch e {
	case "front":
		return "rear"
	case "rear":
		return "front"
	case "left":
		return "right"
	case "right":
		return "left"
	}
	return e
}
