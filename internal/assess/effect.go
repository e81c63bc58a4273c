package assess

import (
	"math"
	"slices"

	"fitup/internal/abreast"
	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"
)

// Step is how far one key press moves a placement row: a length for rows that
// are lengths, an angle for tilt and heading. Internal units.
type Step struct{ Length, Angle float64 }

// For returns the step of a row of kind k.
func (s Step) For(k quantity.Kind) float64 {
	if k == quantity.Slope || k == quantity.Heading || k == quantity.Angle {
		return s.Angle
	}
	return s.Length
}

// Effect is what one step up of a row does to a finding.
type Effect struct {
	Change Number // of the finding's value
	To     Status // the status it would have
}

// Effects returns what one step up of each of these placement rows would do to the
// finding with the given id; of every row where none is named. It assesses the
// build once for each row, as far as that finding needs. What stated values leave
// open of it is taken to be the same a step away.
func (a *Assessment) Effects(id string, step Step, only ...seat.Row) map[seat.Row]Effect {
	out := map[seat.Row]Effect{}
	f, after, ok := a.after(id)
	if !ok {
		return out
	}
	for _, row := range a.Rows {
		if len(only) > 0 && !slices.Contains(only, row.Row) {
			continue
		}
		g, ok := after(&row, step.For(row.Kind))
		if !ok {
			continue
		}
		e := Effect{To: g.Status}
		if f.HasValue && g.HasValue {
			e.Change = finding.Exact(g.Value - f.Value)
		}
		out[row.Row] = e
	}
	return out
}

// after is a finding as it is, and as it would be with a row of the placement moved by
// so much; false where there is no such finding, or nothing stands.
func (a *Assessment) after(id string) (f Finding, after func(row *Row, by float64) (Finding, bool), ok bool) {
	f, ok = a.Finding(id)
	supports, placed, err := a.Build.Seat()
	if !ok || err != nil {
		return f, nil, false
	}
	ready, at := a.ready.besideNothing(), aimAt(a.Build, a.Clearances, id)
	return f, func(row *Row, by float64) (Finding, bool) {
		to, err := supports.Solve(placed, row.Row, row.Now.V+by)
		if err != nil {
			return Finding{}, false
		}
		moved := ready.beginAt(a.Build.Placed(to), For(id), at)
		moved.goOn(throughAll)
		g, ok := moved.Finding(id)
		if ok {
			g.OpenedAs(&f)
		}
		return g, ok
	}, true
}

// mostSteps is how far a move is looked for that brings a finding within its limit.
const mostSteps = 50

// usualStep is what a move is said in: a millimetre or a sixteenth of an inch, and a tenth
// of a degree.
func usualStep(u quantity.Units) Step {
	s := Step{Length: 1, Angle: 0.1 * math.Pi / 180}
	if u.For(quantity.Length).Name() == "in" {
		s.Length = 25.4 / 16
	}
	return s
}

// Mend is a move of one row of the placement after which a finding is within its limit,
// by an exact assessment of that place. Other findings are not looked at.
type Mend struct {
	Row   Row
	By    float64 // whole steps
	Steps int
	To    Status
}

// Mends is the move of the fewest steps that brings a finding which is past its limit
// within it: by what one step of each row does, and then tried. Rows that are lengths
// come first, since those are what is shimmed and cut; an angle only where none of them
// does. False where none of at most 50 steps does.
func (a *Assessment) Mends(id string, step Step) (Mend, bool) {
	type asked struct {
		id   string
		step Step
	}
	type answer struct {
		Mend
		ok bool
	}
	if a.mends == nil {
		return a.mend(id, step)
	}
	if known, ok := a.mends.Load(asked{id, step}); ok {
		m := known.(answer)
		return m.Mend, m.ok
	}
	m, ok := a.mend(id, step)
	a.mends.Store(asked{id, step}, answer{m, ok})
	return m, ok
}

// mend is Mends, worked out.
func (a *Assessment) mend(id string, step Step) (best Mend, ok bool) {
	f, after, found := a.after(id)
	if !found || f.Status != finding.Over || !f.HasValue || !f.HasLimit {
		return best, false
	}
	var shifts, turns []trial
	for i := range a.Rows {
		row := &a.Rows[i]
		if !row.Now.Known {
			continue
		}
		to := &turns
		if row.Kind.Long() {
			to = &shifts
		}
		*to = append(*to, trial{row: row, one: step.For(row.Kind)}, trial{row: row, one: -step.For(row.Kind)})
	}
	for _, trials := range [2][]trial{shifts, turns} {
		if ok {
			break
		}
		abreast.Each(len(trials), func(i int) { trials[i].first(after) })
		for i := range trials {
			t := &trials[i]
			gain := t.stepped.Margin - f.Margin
			if !t.moved || !t.stepped.HasValue || !(gain > 0) {
				continue
			}
			least := max(1, int(math.Ceil(-f.Margin/gain-1e-9)))
			for n := least; n <= min(least+2, mostSteps) && (!ok || n < best.Steps); n++ { // it may bend on the way
				if g, moved := after(t.row, float64(n)*t.one); moved && (g.Status == finding.OK || g.Status == finding.Tight) {
					best, ok = Mend{Row: *t.row, By: float64(n) * t.one, Steps: n, To: g.Status}, true
					break
				}
			}
		}
	}
	return best, ok
}

// trial is a row that is moved one way, and what its first step does.
type trial struct {
	row     *Row
	one     float64
	stepped Finding
	moved   bool
}

func (t *trial) first(after func(row *Row, by float64) (Finding, bool)) {
	t.stepped, t.moved = after(t.row, t.one)
}
