package clear

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/clear"
	"fitup/internal/project/quantity"
)

// own is what is fixed to the powertrain and is no piece of it, its own frame.
type own struct {
	name, why string
	shapes    []clear.Shape
	group     *clear.Group
	under     Under
	assumes   []string
}

func ownOf(f Fixed) own {
	o := own{name: f.Name, why: f.Why, shapes: f.Shapes, under: f.Under, assumes: f.Assumes}
	if o.why == "" {
		o.group = clear.NewGroup(f.Shapes)
	}
	return o
}

// withOwn is what is assumed, and what is assumed of what is fixed to the powertrain.
func (p *Prepared) withOwn(assumes []string) []string {
	out := assumes[:len(assumes):len(assumes)]
	for i := range p.own {
		out = append(out, p.own[i].assumes...)
	}
	return out
}

// beyond is where an adapter plate, a link or a stop comes nearest to something.
type beyond struct {
	gap        finding.Number
	to, at     string
	why        string
	assumes    []string
	most, soft float64
}

// ownBesideMounts holds what is fixed to the powertrain, an adapter plate, against the
// brackets of the mounts, wherever the powertrain can stand: it goes down and turns with
// that on its isolators, and they stand. Nothing is said where no mount has a bracket.
func (r *room) ownBesideMounts() {
	if r.in.Piece != "" || len(r.in.Mounts) == 0 {
		return
	}
	for i := range r.own {
		o := &r.own[i]
		x := r.leastToMounts(o)
		r.sayBeyond(&x, finding.AdapterRoom(o.under.Mount), o.name+", room to the mounts' brackets, the powertrain sagged and rocked",
			": a smaller plate, bolts with lower heads, a taller isolator, or the bracket cut away there")
	}
}

// nearer takes in how near a solid comes to another, with the powertrain at place k. What
// stands softer than the rates say counts by itself.
func (r *room) nearer(x *beyond, k int, solid, other *clear.Solid, name string) {
	best, soft := &x.most, k >= len(r.in.Stands) || r.in.Stands[k].Soft
	if soft {
		best = &x.soft
	}
	if solid.AtLeast(other) >= *best {
		return
	}
	if gap, _, _ := solid.Distance(other); gap < *best {
		if *best = gap; !soft {
			x.to, x.at = name, r.in.Stands[k].Name
		}
	}
}

// sayBeyond judges it; cure is what helps where it is too near, behind where that is.
func (r *room) sayBeyond(x *beyond, id, title, cure string) {
	f := finding.Finding{ID: id, Title: title, Assumes: x.assumes}
	f.Judge(x.gap, r.build.Limit("gap_rocked"), true)
	f.UnlessOver(x.why, r.in.Rock.NoReverse)
	units, gap, to, at := r.units, x.gap, x.to, x.at
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		over := "comes nearer to it than is wanted"
		if gap.V < 0 {
			over = "and it run into each other by " + quantity.Format(quantity.Length, -gap.V, units, 1)
		}
		return map[finding.Status]string{
			finding.OK:    fmt.Sprintf("The %s comes nearest (%s) and stays clear of it.", to, at),
			finding.Tight: fmt.Sprintf("The %s comes nearest (%s); the mounts' rates are estimates, and rubber softer than that would take more of the room than is wanted.", to, at),
			finding.Over:  fmt.Sprintf("The %s %s (%s)%s.", to, over, at, cure),
		}
	})
	r.res.Findings = append(r.res.Findings, f)
}

func (r *room) leastToMounts(o *own) (x beyond) {
	x.assumes = append(r.notInIt(), o.assumes...)
	x.assumes = append(x.assumes, "the isolator between the plate and its bracket is not in it, nor room for a spanner at its bolts")
	switch {
	case o.why != "":
		x.gap = finding.Missing(o.why)
		return x
	case !r.in.Pose.Known:
		x.gap = finding.Missing(r.in.Pose.Why)
		return x
	case r.in.Rock.Asked && r.in.Rock.Why != "":
		x.gap = finding.Missing(r.in.Rock.Why)
		return x
	}
	x.most, x.soft = math.Inf(1), math.Inf(1)
	placed := o.group.At(r.poses())
	for _, m := range r.in.Mounts {
		if m.Bracket == o.under.Mount {
			switch {
			case o.under.Touches:
				x.assumes = append(x.assumes, "the room to the "+m.Name+", which it is bolted to, is not in it")
				continue
			case o.under.Why != "":
				x.why = o.under.Why
				continue
			case len(m.Shapes) == 0:
				x.why = m.Why
			}
		}
		for _, s := range m.Shapes {
			solid := clear.Ready(s)
			for k := range r.poses() {
				for i := range o.group.Len() {
					r.nearer(&x, k, placed.Solid(k, i), &solid, m.Name)
				}
			}
		}
	}
	if math.IsInf(x.most, 1) {
		if x.gap = finding.Missing(x.why); x.why == "" {
			x.gap = finding.Missing("it stands on its own bracket alone, and no other is known")
		}
		return x
	}
	x.gap = r.rates.Spread(x.most, min(x.most, x.soft))
	return x
}
