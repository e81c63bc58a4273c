package assess

import (
	"slices"
	"strings"

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
// build once for each row, as far as that finding needs.
func (a *Assessment) Effects(id string, step Step, only ...seat.Row) map[seat.Row]Effect {
	f, ok := a.Finding(id)
	out := map[seat.Row]Effect{}
	supports, placed, err := a.Build.Seat()
	if !ok || err != nil {
		return out
	}
	all := readyOf(a.Build.Placed(placed))
	for _, row := range a.Rows {
		if len(only) > 0 && !slices.Contains(only, row.Row) {
			continue
		}
		to, err := supports.Solve(placed, row.Row, row.Now.V+step.For(row.Kind))
		if err != nil {
			continue
		}
		moved := &Assessment{Build: a.Build.Placed(to), byID: map[string]int{}, ready: all, light: isLight(id), part: partOf(id)}
		moved.judge()
		g, ok := moved.Finding(id)
		if !ok {
			continue
		}
		e := Effect{To: g.Status}
		if f.HasValue && g.HasValue {
			e.Change = finding.Known(g.Value-f.Value, 0)
		}
		out[row.Row] = e
	}
	return out
}

// isLight reports whether a finding follows from a line at ride height, so that
// nothing has to be swept for it.
func isLight(id string) bool {
	return strings.HasPrefix(id, "line.") && !strings.Contains(id, ".travel.") && !strings.Contains(id, ".half_shaft.")
}

// part is what of a build is assessed beside where the powertrain stands and
// settles on its mounts. It follows what a finding rests on: mounts do not rest
// on lines, and where lines run rests on how the mounts give, not on what they
// carry.
type part uint8

const (
	ofLines part = 1 << iota
	ofLoads      // what the mounts carry
	ofRoom
	ofMoving
	ofRide
	ofBrackets
	ofCuts // the legs nested on the stock
	ofShop
	whole part = 1<<iota - 1
)

func partOf(id string) part {
	trade, _, _ := strings.Cut(id, ".")
	switch {
	case strings.HasSuffix(id, ".moving"):
		return ofLines | ofRoom | ofMoving
	case trade == "line":
		return ofLines
	case trade == "mount" || trade == "mounts":
		return ofLoads
	case trade == "clearance":
		return ofRoom
	case trade == "bracket" || trade == "match":
		return ofLoads | ofBrackets
	}
	return whole &^ (ofLines | ofMoving | ofShop)
}

func (p part) has(q part) bool { return p&q != 0 }
