package propose

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// How far a number as built can get within a box of places, argued from how fast what
// it is made of moves.
//
// From the middle of a box any of its places is reached by moving one thing after the
// other, each by no more than its half of the box, and never outside of it. So a point
// goes no farther than the sum over the things of that half times the point's largest
// speed in the box, and a direction turns by no more than the sum of the half times its
// largest rate: lengths of paths on the sphere are at least the angle between their
// ends.
//
// How fast the powertrain moves: see motion.go. With a transfer case turned on the gearbox
// it is another powertrain, of which all of that holds as well; of a box with several such
// nothing is argued, and the search parts it first.
//
// # What follows
//
//   - An angle between two directions changes by no more than both turn: it is a
//     distance on the sphere. One that was read and is carried along changes by no more
//     than both turn over cos σ: slope and heading change by the parts of what the
//     model's axis turns, the heading over its cosine.
//   - A shaft between two joints that move by d and e turns by no more than
//     (d+e)/(L-d-e), L its length in the middle of the box: it is never shorter than
//     L-d-e on the way, and turns by its ends' speed square to it over its length.
//   - A spacer at a flange puts the joint behind it off by as much as it is thick: that
//     moves by the change of its thickness, and with the pinion by the thickness times the
//     turn.
//   - What the joints of a line leave over: see even.go. Their angles over the travel and
//     the room of slip joints: see travels.go.
//   - The distance of two bodies changes by no more than the farthest moved of their
//     points, and in a body that is the hull of corners a corner moves farthest.

// reach bounds the demands within a box. See the top of this file.
func (p *Problem) reach(b box, middle []int, s *spot, out []float64) {
	for i := range out {
		out[i] = math.Inf(1)
	}
	if !p.clocked(b) {
		return
	}
	m, ok := p.motion(b, middle)
	room := math.NaN()
	turns := make([][]float64, len(p.kin.lines))
	for i := range p.demands {
		d := &p.demands[i]
		if math.IsNaN(s.built[i]) {
			continue
		}
		switch d.bound.how {
		case byRoom:
			if !ok {
				continue
			}
			if math.IsNaN(room) {
				room = 0
				for _, c := range p.kin.corners {
					room = max(room, m.goes(c))
				}
			}
			out[i] = room
		case byJoint:
			k := d.bound.line
			if turns[k] == nil {
				turns[k] = p.turns(k, b, middle, &m, ok)
			}
			if t := turns[k]; d.bound.joint+1 < len(t) {
				out[i] = t[d.bound.joint] + t[d.bound.joint+1]
			}
		case byEquivalent, byResidual, byMismatch:
			k := d.bound.line
			if turns[k] == nil {
				turns[k] = p.turns(k, b, middle, &m, ok)
			}
			out[i] = p.evenReach(d, b, middle, s, turns[k])
		case byTravel, bySlip:
			k := d.bound.line
			if turns[k] == nil {
				turns[k] = p.turns(k, b, middle, &m, ok)
			}
			out[i] = p.travelReach(d, b, middle, s, turns[k])
		}
	}
}

// turns is how far each axis of a line turns in the box, at most, rad.
func (p *Problem) turns(k int, b box, middle []int, m *motion, ok bool) []float64 {
	l, kin := p.Build.Lines[k], &p.kin.lines[k] // a line of its own
	n := l.JointCount()
	goes, out := make([]float64, n), make([]float64, n+1)
	at := make([]r3.Vec, n)
	for i := range n {
		at[i] = l.Joint(i).At.At
	}
	if l.Pinion.At.Known {
		at[n-1] = l.Pinion.At.At
	}
	for i := range p.moves {
		a := &p.moves[i]
		if a.mov.Line() != l.Name {
			continue
		}
		c, half := p.halfOf(i, b, middle)
		if a.mov.Pinion() {
			out[n] += half
			if middle[i] != a.stay { // where it stays it is as planned, whatever was read of it
				l.Pinion.Slope.SetV(c)
			}
		}
		if is, pinion := a.mov.Spacer(); pinion {
			l.Pinion.Spacer.SetV(c)
			goes[n-1] += half
		} else if is {
			l.OutSpacer.SetV(c)
			goes[0] += half
		}
		if j, aside := a.mov.Bearing(); j > 0 {
			goes[j-1] += half
			if aside {
				at[j-1].Y = c
			} else {
				at[j-1].Z = c
			}
		}
	}
	goes[n-1] += l.Pinion.Spacer.Or(0) * out[n] // the end of the spacer goes round with the pinion
	at[n-1] = l.BeforeSpacer(at[n-1], geom.Direction(geom.Angle(l.Pinion.Slope.Or(0)), geom.Angle(l.Pinion.Heading.Or(0))))
	if kin.hangs {
		output := l.BehindSpacer(kin.output, kin.dir)
		switch {
		case !ok:
			out[0], goes[0] = math.Inf(1), math.Inf(1)
		case len(m.rows) > 0:
			if out[0] = m.turns(); kin.along {
				out[0] = min(out[0], m.turnsX())
			}
			goes[0] += m.goes(output)
		}
		at[0] = m.centre.Point(output)
	} else {
		at[0] = l.BehindSpacer(at[0], geom.Direction(geom.Angle(l.First.Slope.Or(0)), geom.Angle(l.First.Heading.Or(0))))
	}
	for i := 1; i < n; i++ {
		far := goes[i-1] + goes[i]
		long := r3.Norm(r3.Sub(at[i], at[i-1])) - far
		switch {
		case far == 0:
		case long <= 0:
			out[i] = math.Inf(1)
		default:
			out[i] = far / long
		}
	}
	p.overCosine(k, m, at, out)
	return out
}

// halfOf is where a thing stands in the middle of a box, and how far from there it gets.
func (p *Problem) halfOf(i int, b box, middle []int) (c, half float64) {
	v := p.moves[i].values
	c = v[middle[i]]
	return c, max(v[b.hi[i]]-c, c-v[b.lo[i]])
}

// overCosine makes the bounds hold for axes that were read and are carried along: see
// the top of this file.
func (p *Problem) overCosine(k int, m *motion, at []r3.Vec, out []float64) {
	if len(p.Build.Readings) == 0 {
		return
	}
	steep := 0.0
	for i := range out {
		slope := 0.0
		switch {
		case i == 0:
			if p.kin.lines[k].hangs {
				d := m.centre.Dir(p.kin.lines[k].dir)
				slope = math.Abs(math.Atan2(d.Z, math.Hypot(d.X, d.Y)))
			}
		case i < len(at):
			d := r3.Sub(at[i], at[i-1])
			slope = math.Abs(math.Atan2(d.Z, math.Hypot(d.X, d.Y)))
		default:
			continue // a pinion's heading is not carried
		}
		steep = max(steep, slope+out[i])
	}
	for i := range out {
		if steep > 1.2 {
			out[i] = math.Inf(1)
			continue
		}
		out[i] /= math.Cos(steep)
	}
}

func (p *Problem) spread(i int) float64 { return p.kin.spreads[i] }
