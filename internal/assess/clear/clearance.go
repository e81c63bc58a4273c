package clear

import (
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Clearance is the room between a piece of the vehicle and the powertrain.
type Clearance struct {
	ID     string // of its finding: clearance.steering_shaft
	Name   string // of the piece of the vehicle
	Part   string // of the powertrain, nearest to it
	Gap    finding.Number
	From   r3.Vec  // the place on the powertrain, vehicle axes
	To     r3.Vec  // the place on the vehicle
	Rocked *Rocked // nil before anything is known of the mounts' rubber
	Moving *Moving // room to shafts and axles; nil without a line
}

// Rocked is the least room with the powertrain as built, sagged on its mounts
// and rocked on them by full torque either way.
type Rocked struct {
	Gap  finding.Number
	Part string
	At   string // in which of those
}

// room is the working out of one result.
type room struct {
	*Prepared
	in     Input
	kept   *kept
	res    Result
	moved  []mover       // all that moves, once it is asked for
	placed *clear.Placed // the powertrain's pieces at every stand and end; nil without pieces or a place
}

// place puts the pieces of the powertrain where it can stand: at the stands
// first, then at the ends of estimated rates.
func (r *room) place() {
	if r.why != "" || !r.in.Pose.Known || len(r.in.Stands) == 0 {
		return
	}
	poses := make([]geom.Pose, 0, len(r.in.Stands)+len(r.in.Rock.Ends))
	for _, s := range r.in.Stands {
		poses = append(poses, s.Pose)
	}
	r.placed = r.group.At(append(poses, r.in.Rock.Ends...))
}

// clearances finds the room round the powertrain. It says nothing before the
// file has a part of the chassis.
func (r *room) clearances() {
	why := r.why
	if why == "" && !r.in.Pose.Known {
		why = r.in.Pose.Why
	}
	rockedWhy := why
	if rockedWhy == "" {
		rockedWhy = r.in.Rock.Why
	}
	r.res.Clearances = make([]Clearance, len(r.pieces))
	rocked := make([]Rocked, len(r.pieces))
	for i := range r.pieces {
		c := &r.pieces[i]
		if !r.asked(c) {
			continue
		}
		out := Clearance{ID: c.id, Name: c.name, Gap: finding.Missing(why)}
		if r.in.Rock.Asked {
			rocked[i].Gap = finding.Missing(rockedWhy)
			out.Rocked = &rocked[i]
		}
		switch {
		case c.why != "":
			out.Gap.Why = c.why
			rocked[i].Gap.Why = c.why
		case r.placed != nil:
			n := r.first(r.placed, c)
			out.Part, out.Gap, out.From, out.To = r.names[n.Solid], finding.Exact(n.Gap), n.From, n.To
			if out.Rocked != nil && rockedWhy == "" {
				rocked[i] = r.rocked(c, n)
			}
		}
		r.judge(c, out)
		r.res.Clearances[i] = out
	}
}

// rocked finds the least room over all stands, the first of which is as built;
// the uncertainty is that of estimated rates.
func (r *room) rocked(c *piece, built clear.Near) Rocked {
	n, worst, stands := built, built, len(r.in.Stands)
	for i := range c.solids {
		b := &c.solids[i]
		if len(c.solids) > 1 {
			r.placed.First(b) // what is asked next is of this one
		}
		for k, s := range r.in.Stands {
			if !s.Soft && k > 0 {
				n = r.placed.Nearer(b, k, k+1, n)
			}
		}
		if i > 0 || n.Gap < worst.Gap {
			worst = nearerOf(worst, n)
		}
		for k, s := range r.in.Stands {
			if s.Soft {
				worst = r.placed.Nearer(b, k, k+1, worst)
			}
		}
		worst = r.placed.Nearer(b, stands, stands+len(r.in.Rock.Ends), worst)
	}
	out := Rocked{Gap: finding.Exact(n.Gap), Part: r.names[n.Solid], At: r.in.Stands[n.Pose].Name}
	if worst.Gap < n.Gap {
		out.Gap = r.rates.Spread(n.Gap, worst.Gap)
	}
	return out
}

// judge holds the room to a piece of the vehicle against what it asks for.
func (r *room) judge(c *piece, out Clearance) {
	units := r.units
	length := func(v float64) string { return quantity.Format(quantity.Length, v, units, 1) }
	f := finding.Finding{ID: c.id, Group: c.group, Title: c.name + ", room to the powertrain", Assumes: r.withOwn(c.assumes)}
	f.Judge(out.Gap, c.wanted, true)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   fmt.Sprintf("The %s is nearest and stays clear of it.", out.Part),
			finding.Over: fmt.Sprintf("The %s %s; move the powertrain, or one of the two.", out.Part, tooNear(out.Gap.V, out.Name, length)),
		}
	})
	r.res.Findings = append(r.res.Findings, f)
	if out.Rocked == nil {
		return
	}
	at := *out.Rocked
	f = finding.Finding{ID: c.rockedID, Group: c.group, Title: c.name + ", room with the powertrain sagged and rocked", Assumes: c.assumes}
	f.Judge(at.Gap, c.wantedRocked, true)
	f.UnlessOver(r.in.Rock.NoReverse)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    fmt.Sprintf("The %s comes nearest (%s) and stays clear of it.", at.Part, at.At),
			finding.Tight: fmt.Sprintf("The %s comes nearest (%s); the mounts' rates are estimates, and rubber softer than that would take more of the room than is wanted.", at.Part, at.At),
			finding.Over:  fmt.Sprintf("The %s %s (%s); more room, stiffer mounts, or mounts further apart.", at.Part, tooNear(at.Gap.V, out.Name, length), at.At),
		}
	})
	r.res.Findings = append(r.res.Findings, f)
}

func tooNear(gap float64, name string, length func(float64) string) string {
	if gap < 0 {
		return "runs into the " + name + " by " + length(-gap)
	}
	return "comes nearer to the " + name + " than is wanted"
}

// gapRule is the room a piece of the chassis asks for, or else the limit.
func gapRule(limit project.Rule, own quantity.LengthQ) project.Rule {
	if v, ok := own.Get(); ok {
		limit.Value, limit.Source, limit.Changed = v, "the room wanted, in this build's file", false
	}
	return limit
}

// Values lists every number of a clearance.
func (c Clearance) Values(l *finding.List) {
	listOverlap(l, c.ID, c.Gap)
	if c.Rocked != nil {
		listOverlap(l, c.ID+".rocked", c.Rocked.Gap)
	}
	c.Moving.Values(c.ID+".moving", l)
	if c.Gap.Known {
		l.Point(c.ID+".on_powertrain", c.From)
		l.Point(c.ID+".on_chassis", c.To)
	}
}

// overlap lists how far two bodies run into each other, where they do.
func listOverlap(l *finding.List, name string, gap finding.Number) {
	if gap.Known && gap.V < 0 {
		l.Add(name+".overlap", quantity.Length, -gap.V)
	}
}
