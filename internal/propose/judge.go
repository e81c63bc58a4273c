package propose

import (
	"cmp"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// The problem as a space to search.

func (p *Problem) axes() []int {
	n := make([]int, len(p.moves))
	for i := range p.moves {
		n[i] = len(p.moves[i].values)
	}
	return n
}

// roots parts the places where a move takes readings away from where it stays: between
// the two a verdict jumps from what was read to what is planned.
func (p *Problem) roots() []box {
	n := p.axes()
	first := box{make([]int, len(n)), make([]int, len(n))}
	for i := range n {
		first.hi[i] = n[i] - 1
	}
	out := []box{first}
	for i := range p.moves {
		a := &p.moves[i]
		if !a.takes {
			continue
		}
		var parts []box
		for _, b := range out {
			for _, r := range [3][2]int{{0, a.stay - 1}, {a.stay, a.stay}, {a.stay + 1, n[i] - 1}} {
				if r[0] > r[1] {
					continue
				}
				c := box{append([]int(nil), b.lo...), append([]int(nil), b.hi...)}
				c.lo[i], c.hi[i] = r[0], r[1]
				parts = append(parts, c)
			}
		}
		out = parts
	}
	return out
}

// movesTo are the moves to a place. What stays is not moved, so that what was read of
// it goes on to hold.
func (p *Problem) movesTo(cell []int) []project.Move {
	out := make([]project.Move, 0, len(cell))
	for i, k := range cell {
		if a := &p.moves[i]; k != a.stay {
			out = append(out, project.Move{Of: a.mov, To: a.values[k]})
		}
	}
	return out
}

// at judges the demands that are quick.
func (p *Problem) at(cell []int) *spot {
	n := len(p.demands)
	both := make([]float64, 2*n) // many are kept: as few pieces as may be
	s := &spot{short: both[:n:n], built: both[n:]}
	for i := range s.short {
		s.short[i], s.built[i] = math.NaN(), math.NaN()
	}
	if p.quick == 0 {
		return s
	}
	a, err := p.ready.At(p.movesTo(cell), p.quick)
	if err != nil {
		for i := range s.short {
			s.short[i] = math.Inf(1) // it cannot stand there
		}
		s.all = true
		return s
	}
	p.judge(a, s, true)
	p.build(a, s)
	return s
}

// whole judges all the other demands.
func (p *Problem) whole(cell []int, s *spot) {
	if s.all {
		return
	}
	s.all = true
	if p.rest == 0 {
		return
	}
	a, err := p.ready.At(p.movesTo(cell), p.rest)
	if err != nil {
		for i := range s.short {
			s.short[i] = math.Inf(1)
		}
		return
	}
	p.judge(a, s, false)
	p.buildTravel(a, s)
	s.deep = true
}

// deeper works out what the demands on the travel have to their limits as built. Their
// bounds rest on the middle of a box alone, whatever else holds there.
func (p *Problem) deeper(cell []int, s *spot) bool {
	if s.deep || !p.travels {
		return false
	}
	s.deep = true
	a, err := p.ready.At(p.movesTo(cell), assess.OfTravel)
	if err != nil {
		return false
	}
	p.buildTravel(a, s)
	return true
}

// judge writes by how much the demands that are quick, or the others, miss.
func (p *Problem) judge(a *assess.Assessment, s *spot, quick bool) {
	for i := range p.demands {
		if p.demands[i].quick == quick {
			s.short[i] = math.Inf(1) // until it is found
		}
	}
	for i := range a.Findings {
		f := &a.Findings[i]
		if k, ok := p.number[f.ID]; ok && p.demands[k].quick == quick {
			if s.short[k] = p.short(f); f.Status == finding.NotKnown && p.unknown[k] == "" {
				p.unknown[k] = cmp.Or(f.Missing, "nothing says why")
			}
		}
	}
}

// short is by how much a finding misses what is asked of it. Its status has the last
// word: a finding may be held to more than its number.
func (p *Problem) short(f *finding.Finding) float64 {
	good := f.Status == finding.OK || p.want.Tight && f.Status == finding.Tight
	if f.Status == finding.NotKnown || f.Status == finding.Elsewhere {
		return math.Inf(1)
	}
	by := 0.0
	if f.HasLimit && f.HasValue {
		by = -f.Margin
		if !p.want.Tight {
			by += f.Uncertainty
		}
	}
	switch {
	case good:
		return min(by, 0)
	case by > eps:
		return by
	case f.HasValue:
		return 2 * eps // held to something beside its number
	}
	return math.Inf(1)
}

func (p *Problem) scale(i int) float64 {
	d := &p.demands[i]
	if d.HasLimit && d.Limit != 0 {
		return math.Abs(d.Limit)
	}
	switch d.Kind {
	case quantity.Angle, quantity.Slope, quantity.Heading:
		return math.Pi / 180
	}
	return 1
}

func (p *Problem) counts(i int) bool { return p.demands[i].moves }

// findMoving finds which demands any of the moves changes, by trying each from end to
// end: only for what a spare counts, no proof rests on it.
func (p *Problem) findMoving(mid []int) {
	now := p.at(mid)
	p.whole(mid, now)
	for i := range p.moves {
		for _, k := range []int{0, len(p.moves[i].values) - 1} {
			cell := append([]int(nil), mid...)
			cell[i] = k
			s := p.at(cell)
			p.whole(cell, s)
			for d := range p.demands {
				p.demands[d].moves = p.demands[d].moves || !(math.Abs(s.short[d]-now.short[d]) <= eps)
			}
		}
	}
}

// bounding says how a demand's number as built is bounded, and where it stands in an
// assessment.
type bounding struct {
	how   boundedBy
	line  int
	joint int     // from 0
	limit float64 // of the line's equivalent angle, where a demand is bounded by that
}

type boundedBy uint8

const (
	byNothing    boundedBy = iota
	byJoint                // the angle of a joint
	byRoom                 // the room to a piece of the vehicle
	byEquivalent           // what the joints of a line leave over as one joint's angle
	byResidual             // the same at speed
	byMismatch             // it is over wherever the line's equivalent angle is
	byTravel               // the largest angle of a joint over the travel
	bySlip                 // the room that a slip joint has left over the travel
)

// boundingOf is how a demand is bounded. Of a line only where all its joints are of one
// cross: the limits of others follow from where they stand.
func (p *Problem) boundingOf(d *demand) bounding {
	if !d.HasLimit {
		return bounding{}
	}
	for k := range p.Build.Lines {
		l := &p.Build.Lines[k]
		if bound := p.boundingIn(l, d.ID); bound.how != byNothing {
			for i := range l.JointCount() {
				if l.Joint(i).OfKind() != project.Cardan {
					return bounding{}
				}
			}
			bound.line = k
			return bound
		}
	}
	id, _ := strings.CutSuffix(d.ID, ".rocked")
	for i := range p.Now.Clearances {
		if p.Now.Clearances[i].ID == id && len(p.Build.Powertrain.Parts) > 0 {
			return bounding{how: byRoom, joint: i}
		}
	}
	return bounding{}
}

// boundingIn is how a demand on a line is bounded; nothing for one of anything else.
func (p *Problem) boundingIn(l *project.Line, id string) bounding {
	n := l.JointCount()
	for j := range n {
		switch id {
		case finding.JointMin(l.Name, j+1), finding.JointMax(l.Name, j+1), finding.JointSpeed(l.Name, j+1):
			return bounding{how: byJoint, joint: j}
		}
	}
	if !p.Build.Direct(*l) {
		for j := range n {
			if id == finding.TravelJoint(l.Name, j+1) {
				return bounding{how: byTravel, joint: j}
			}
		}
	}
	switch id {
	case finding.SlipBottom(l.Name), finding.SlipPull(l.Name):
		return bounding{how: bySlip}
	case finding.Equivalent(l.Name):
		return bounding{how: byEquivalent}
	case finding.Residual(l.Name):
		return bounding{how: byResidual}
	case finding.ShaftMismatch(l.Name, n-1):
		if whole, ok := p.Now.Finding(finding.Equivalent(l.Name)); ok && whole.HasLimit && whole.HasValue {
			return bounding{how: byMismatch, limit: whole.Limit}
		}
	}
	return bounding{}
}

// build writes what the bounded demands have to their limit as built.
//
// A joint's finding is past its limit whenever its angle as built is: with the
// powertrain's weight on it the worse of the two counts, and a ± only takes away. The
// room sagged and rocked is the least over places of which as built is one, so it is no
// more than that as built. An overlap counts as no room: how deep it is says nothing.
func (p *Problem) build(a *assess.Assessment, s *spot) {
	s.even = p.evenIn(a)
	for i := range p.demands {
		d := &p.demands[i]
		switch d.bound.how {
		case byEquivalent, byResidual, byMismatch:
			s.built[i] = p.evenBuilt(d, s)
		case byJoint:
			l := &a.Lines[d.bound.line]
			if d.bound.joint >= len(l.Joints) {
				continue
			}
			if m := l.Angle(l.Joints[d.bound.joint]); m.Known {
				s.built[i] = d.Limit - m.V
				if d.AtLeast {
					s.built[i] = -s.built[i]
				}
			}
		case byRoom:
			if c := &a.Clearances[d.bound.joint]; c.Gap.Known {
				s.built[i] = max(c.Gap.V, 0) - d.Limit
			}
		}
	}
}
