package assess

import (
	"slices"

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
	f, ok := a.Finding(id)
	out := map[seat.Row]Effect{}
	supports, placed, err := a.Build.Seat()
	if !ok || err != nil {
		return out
	}
	ready, at := a.ready.besideNothing(), aimAt(a.Build, a.Clearances, id)
	for _, row := range a.Rows {
		if len(only) > 0 && !slices.Contains(only, row.Row) {
			continue
		}
		to, err := supports.Solve(placed, row.Row, row.Now.V+step.For(row.Kind))
		if err != nil {
			continue
		}
		moved := ready.beginAt(a.Build.Placed(to), For(id), at)
		moved.goOn(throughAll)
		g, ok := moved.Finding(id)
		if !ok {
			continue
		}
		g.OpenedAs(&f)
		e := Effect{To: g.Status}
		if f.HasValue && g.HasValue {
			e.Change = finding.Exact(g.Value - f.Value)
		}
		out[row.Row] = e
	}
	return out
}
