package clear

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// A subframe is in the way of more than the powertrain: the steering shaft passes it, and
// springs, dampers and rods go past it over the travel of their wheels. None of it moves
// with the powertrain.

// beside is the room of a piece of a subframe to one sort of what goes past it.
type beside struct {
	id, title, sort, group string
	wanted                 project.Rule
	gap                    finding.Number
	to                     string // what comes nearest
	why                    string // what of the others is not known
	assumes                []string
}

// besideSubframes find the room of each piece of a subframe to the steering and to what
// guides and springs wheels. Nothing is said of a sort that the file has nothing of.
func (p *Prepared) besideSubframes(gap project.Rule) (out []beside) {
	for i := range p.pieces {
		c := &p.pieces[i]
		if c.group != finding.RoomSubframe {
			continue
		}
		for _, x := range []beside{
			{id: finding.ToSteering(c.id), title: "the steering", sort: "steering", wanted: gap},
			{id: finding.ToSuspension(c.id), title: "springs, dampers and rods over the travel", sort: "suspension", wanted: p.wanted},
		} {
			if x.find(c, p.pieces) {
				x.title, x.group = c.name+", room to "+x.title, c.group
				out = append(out, x)
			}
		}
	}
	return out
}

// find looks for what comes nearest; false where the file has nothing of the sort.
func (x *beside) find(c *piece, pieces []piece) bool {
	any, least := false, math.Inf(1)
	x.gap, x.assumes = finding.Missing(""), slices.Clone(c.assumes)
	if x.sort == "suspension" {
		x.assumes = append(x.assumes, "tyres and wheels, at lock above all, are not in it: turn them from lock to lock at full bump and at droop")
	}
	x.why = c.why
	for i := range pieces {
		o := &pieces[i]
		steers, guides := o.group == finding.RoomSteering, o.group == finding.RoomTowers || o.group == finding.RoomSuspension
		if x.sort == "steering" && !steers || x.sort == "suspension" && !guides {
			continue
		}
		any = true
		if o.why != "" && x.why == "" {
			x.why = o.why
		}
		for _, s := range o.assumes {
			if !slices.Contains(x.assumes, s) {
				x.assumes = append(x.assumes, s)
			}
		}
		x.passes(c, o, &least)
	}
	return any
}

// passes takes one of the others past the piece. What is held on it is looked at from a
// reach of its joint on.
func (x *beside) passes(c, o *piece, least *float64) {
	for k := range o.shapes {
		solid := o.solids[k]
		s, rod := o.shapes[k].(clear.Segment)
		for _, held := range o.held {
			if !rod || !c.near(held) {
				continue
			}
			if s, rod = beyondJoint(s, held); rod {
				solid = clear.Ready(s)
			}
			if says := fmt.Sprintf("the %s is held on it, and its first %d mm from there are not in it", o.name, jointReach); !slices.Contains(x.assumes, says) {
				x.assumes = append(x.assumes, says)
			}
			if !rod {
				break
			}
		}
		if _, was := o.shapes[k].(clear.Segment); was && !rod {
			continue // all of it lies at its joint
		}
		for i := range c.solids {
			if gap, _, _ := solid.Distance(&c.solids[i]); gap < *least {
				*least = gap
				x.gap, x.to = finding.Exact(gap), o.name
			}
		}
	}
}

// near reports whether a joint lies on the piece.
func (c *piece) near(joint r3.Vec) bool {
	at := clear.Ready(clear.Point{At: joint})
	for i := range c.solids {
		if gap, _, _ := at.Distance(&c.solids[i]); gap <= jointReach {
			return true
		}
	}
	return false
}

// beyondJoint is a rod without what of it lies within reach of a joint at one of its ends;
// false where nothing is left.
func beyondJoint(s clear.Segment, joint r3.Vec) (clear.Segment, bool) {
	long := r3.Norm(r3.Sub(s.B, s.A))
	cut := jointReach + s.R // its round end reaches back by its radius
	switch {
	case r3.Norm(r3.Sub(s.A, joint)) > 1e-6 && r3.Norm(r3.Sub(s.B, joint)) > 1e-6:
		return s, true
	case long <= cut:
		return s, false
	}
	u := r3.Scale(cut/long, r3.Sub(s.B, s.A))
	if r3.Norm(r3.Sub(s.A, joint)) <= 1e-6 {
		s.A = r3.Add(s.A, u)
	} else {
		s.B = r3.Sub(s.B, u)
	}
	return s, true
}

// judgeBeside makes their verdicts.
func (r *room) judgeBeside() {
	for i := range r.besides {
		x := &r.besides[i]
		f := finding.Finding{ID: x.id, Group: x.group, Title: x.title, Assumes: x.assumes}
		m := x.gap
		if !m.Known {
			if m.Why = x.why; m.Why == "" {
				m.Why = "all of it lies at its joints on the subframe"
			}
		}
		f.Judge(m, x.wanted, true)
		if x.why != "" && f.Status != finding.Over {
			f.Unknown(x.why)
		}
		units := r.units
		f.Says = finding.Asked(f, func() map[finding.Status]string {
			over := "The " + x.to + " comes nearer to it than is wanted"
			if x.gap.V < 0 {
				over = "The " + x.to + " runs into it by " + quantity.Format(quantity.Length, -x.gap.V, units, 1)
			}
			return map[finding.Status]string{
				finding.OK:    "The " + x.to + " comes nearest and stays clear of it.",
				finding.Tight: "The " + x.to + " comes nearest; measure it and the subframe more closely before the weld.",
				finding.Over:  over + "; move one of the two before the subframe is welded.",
			}
		})
		r.res.Findings = append(r.res.Findings, f)
	}
}

// subframeHeat judges the room of each piece of a subframe to the exhaust as built. Nothing
// is said where the file has no pipe.
func (r *room) subframeHeat() {
	for i := range r.pieces {
		c := &r.pieces[i]
		if c.group != finding.RoomSubframe || len(r.pipes) == 0 {
			continue
		}
		m, wanted, name, why, assumes := finding.Missing(""), r.build.Limit("heat_gap"), "", c.why, slices.Clone(c.assumes)
		least := math.Inf(1) // of the room beyond what is wanted
		for k := range r.pipes {
			h := heat{room: r, pipe: &r.pipes[k]}
			if w := h.whyNot(); w != "" {
				why = cmp.Or(why, w)
				continue
			}
			if bends := h.bends(); h.pipe.bend && !slices.Contains(assumes, bends) {
				assumes = append(assumes, bends)
			}
			for _, s := range h.rodsAt(0) {
				rod := clear.Ready(s)
				for j := range c.solids {
					if gap, _, _ := rod.Distance(&c.solids[j]); gap-h.pipe.wanted.Value < least {
						least = gap - h.pipe.wanted.Value
						m, wanted, name = finding.Exact(gap), h.pipe.wanted, h.pipe.name
					}
				}
			}
		}
		f := finding.Finding{ID: finding.ToExhaust(c.id), Group: c.group, Title: c.name + ", room for the exhaust's heat", Assumes: assumes}
		if m.Why = why; !m.Known && why == "" {
			m.Why = "it has no piece yet"
		}
		f.Judge(m, wanted, true)
		if why != "" && f.Status != finding.Over {
			f.Unknown(why)
		}
		units := r.units
		f.Says = finding.Asked(f, func() map[finding.Status]string {
			over := "The " + name + " comes nearer to it than is wanted"
			if m.V < 0 {
				over = "The " + name + " and it run into each other by " + quantity.Format(quantity.Length, -m.V, units, 1)
			}
			return map[finding.Status]string{
				finding.OK:    "The " + name + " comes nearest and leaves room for its heat.",
				finding.Tight: "The " + name + " comes nearest; measure it and the subframe more closely before the weld.",
				finding.Over:  over + "; move one of the two before the subframe is welded.",
			}
		})
		r.res.Findings = append(r.res.Findings, f)
	}
}
