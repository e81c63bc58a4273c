package propose

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
)

// How far the angles of joints over the travel, and the room of a slip joint, can get
// within a box of places.
//
// Where the axle gets between bump and droop follows from its suspension and its straps
// alone. The joint at the pinion goes with it as one body: where that stands elsewhere at
// rest, behind another spacer, it stands elsewhere by as much at every rise, and the
// pinion's axis is turned there by as much as at rest. So at each rise the last shaft's
// length changes by no more than its two ends go at rest, d together, and it turns by no
// more than d/(L-d), L the shortest that it gets over the travel in the middle of the box;
// all other axes turn as at rest. The largest of many
// angles changes by no more than the one of them that changes most, and so do the shortest
// and the longest of many lengths.
//
// Nothing of this asks whether other demands hold in the middle, so a box whose middle fails
// one of them can be ruled out by its travel all the same.
//
// A shaft that is made longer has both ends of its slip joint moved, and the room at either
// changes by as much. Of a strap that is made longer nothing is argued: how far down the
// axle is looked at differs, so within a box of more than one of its lengths there is no
// bound, and the search parts such boxes first.
//
// How far the ends go is taken from how far the shaft turns at rest, whose bound is d over
// its length there less d: from a turn t that is d' = t·l/(1+t), no less than d.

// lastShaft is the last shaft of a line over the travel, at a place.
type lastShaft struct {
	known          bool
	rest, shortest float64 // between joint centres, mm
}

// buildTravel writes what demands on the travel have to their limit as built.
func (p *Problem) buildTravel(a *assess.Assessment, s *spot) {
	for i := range p.demands {
		d := &p.demands[i]
		if d.bound.how != byTravel && d.bound.how != bySlip {
			continue
		}
		t := a.Lines[d.bound.line].Travel
		if t == nil || t.Why != "" || t.Slip == nil || d.bound.joint >= len(t.Worst) {
			continue
		}
		if s.last == nil {
			s.last = make([]lastShaft, len(p.Build.Lines))
		}
		s.last[d.bound.line] = lastShaft{true, t.Slip.Ride, t.Slip.Shortest.Value}
		room := t.Slip.Bottom
		if d.ID == finding.SlipPull(p.Build.Lines[d.bound.line].Name) {
			room = t.Slip.Pull
		}
		switch {
		case d.bound.how == byTravel:
			s.built[i] = d.Limit - t.Worst[d.bound.joint].Value
		case room.Known:
			s.built[i] = room.V - d.Limit
		}
	}
}

// travelReach is how far that gets within a box at most.
func (p *Problem) travelReach(d *demand, b box, middle []int, s *spot, turns []float64) float64 {
	n := len(turns) - 1 // joints
	longer := 0.0
	for i := range p.moves {
		if a := &p.moves[i]; a.mov.Line() == p.Build.Lines[d.bound.line].Name {
			_, half := p.halfOf(i, b, middle)
			switch {
			case a.mov.Strap() > 0 && half > 0:
				return math.Inf(1)
			case a.mov.ShaftLength() > 0:
				longer = half
			}
		}
	}
	if len(s.last) <= d.bound.line || !s.last[d.bound.line].known || n < 2 {
		return math.Inf(1)
	}
	last := s.last[d.bound.line]
	t := turns[n-1]
	if math.IsInf(t, 1) || math.IsNaN(t) {
		return math.Inf(1)
	}
	end := t * last.rest / (1 + t)
	if d.bound.how == bySlip {
		return end + longer
	}
	if end >= last.shortest {
		return math.Inf(1)
	}
	turn := func(axis int) float64 {
		if axis == n-1 {
			return end / (last.shortest - end)
		}
		return turns[axis]
	}
	return turn(d.bound.joint) + turn(d.bound.joint+1)
}
