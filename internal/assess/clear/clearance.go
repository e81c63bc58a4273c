package clear

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/geom/seat"
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

// clearances finds the room round the powertrain. It says nothing before the
// file has a part of the chassis.
func (res *Result) clearances() {
	if len(res.in.Build.Chassis) == 0 {
		return
	}
	parts, why := res.ownParts()
	if why == "" && !res.in.Pose.Known {
		why = res.in.Pose.Why
	}
	built := placedAt(parts, res.in.Pose, why)
	var poses, soft [][]body
	rockedWhy := why
	if rock := &res.in.Rock; rock.Asked && why == "" {
		if rockedWhy = rock.Why; rockedWhy == "" {
			poses = posed(parts, rock.Poses)
			if soft = poses; len(rock.Soft) > 0 {
				soft = posed(parts, rock.Soft)
			}
		}
	}
	taken := map[string]bool{"powertrain": true} // clearance.powertrain is its own
	for i, c := range res.in.Build.Chassis {
		out := Clearance{ID: "clearance." + finding.IDOf(c.Name, i, taken), Name: finding.NameOr(c.Name, "chassis part", i), Gap: finding.Missing(why)}
		if res.in.Rock.Asked {
			out.Rocked = &Rocked{Gap: finding.Missing(rockedWhy)}
		}
		shape, err := ChassisShape(c)
		switch {
		case err != nil:
			out.Gap.Why = out.Name + ": " + err.Error()
			if out.Rocked != nil {
				out.Rocked.Gap.Why = out.Gap.Why
			}
		case why == "":
			b := newBody(out.Name, shape)
			n := nearest(b, built)
			out.Part, out.Gap, out.From, out.To = built[n.part].name, finding.Known(n.gap, 0), n.from, n.to
			if out.Rocked != nil && len(poses) > 0 {
				*out.Rocked = rocked(b, n, poses, soft, res.in.Rock.Poses)
			}
		}
		res.clearanceFindings(c, out)
		res.Clearances = append(res.Clearances, out)
	}
}

// ownParts returns the pieces of the powertrain in its own frame.
func (res *Result) ownParts() (parts []body, why string) {
	for i, p := range res.in.Build.Powertrain.Parts {
		s, err := PartShape(p)
		if err != nil {
			return nil, finding.NameOr(p.Name, "powertrain part", i) + ": " + err.Error()
		}
		parts = append(parts, newBody(finding.NameOr(p.Name, "powertrain part", i), s))
	}
	if len(parts) == 0 {
		return nil, "powertrain.part is not in the file yet"
	}
	return parts, ""
}

func placedAt(parts []body, pose finding.Maybe[geom.Pose], why string) []body {
	if why != "" {
		return nil
	}
	out := make([]body, len(parts))
	for i, p := range parts {
		out[i] = p.moved(pose.V)
	}
	return out
}

func posed(parts []body, poses []seat.NamedPose) [][]body {
	out := make([][]body, len(poses))
	for i, p := range poses {
		out[i] = placedAt(parts, finding.Maybe[geom.Pose]{V: p.Pose, Known: true}, "")
	}
	return out
}

// meeting is where two bodies come nearest.
type meeting struct {
	part     int // -1 while nothing is found
	gap      float64
	from, to r3.Vec
}

// nearer looks for a part that comes nearer to b than best. The part of best is
// looked at first: where it moved little it leaves few others to look at.
func nearer(b body, parts []body, best meeting) meeting {
	try := func(i int) {
		if gap, from, to, found := clear.Nearer(parts[i].shape, b.shape, best.gap); found {
			best = meeting{i, gap, from, to}
		}
	}
	first := best.part
	if first >= 0 {
		try(first)
	}
	for i := range parts {
		if i != first {
			try(i)
		}
	}
	return best
}

func nearest(b body, parts []body) meeting {
	return nearer(b, parts, meeting{part: -1, gap: math.Inf(1)})
}

// rocked finds the least room over all poses, the first of which is as built;
// the uncertainty is that of estimated rates.
func rocked(b body, built meeting, poses, soft [][]body, names []seat.NamedPose) Rocked {
	least := func(poses [][]body) (meeting, int) {
		best, at := built, 0
		for i, parts := range poses[1:] {
			if n := nearer(b, parts, best); n.gap < best.gap {
				best, at = n, i+1
			}
		}
		return best, at
	}
	n, at := least(poses)
	out := Rocked{Gap: finding.Known(n.gap, 0), Part: poses[0][n.part].name, At: names[at].Name}
	if &soft[0] != &poses[0] {
		worst, _ := least(soft)
		out.Gap = finding.Spread(n.gap, min(n.gap, worst.gap))
	}
	return out
}

func (res *Result) clearanceFindings(c project.ChassisPart, out Clearance) {
	length := func(v float64) string { return quantity.Format(quantity.Length, v, res.in.Build.Units, 1) }
	f := finding.Finding{ID: out.ID, Title: out.Name + ", room to the powertrain"}
	f.Judge(out.Gap, res.gapRule("gap", c.Gap), true)
	f.Says = finding.Say(finding.Advise(f, map[finding.Status]string{
		finding.OK:   fmt.Sprintf("The %s is nearest and stays clear of it.", out.Part),
		finding.Over: fmt.Sprintf("The %s %s; move the powertrain, or one of the two.", out.Part, tooNear(f.Value, out.Name, length)),
	}))
	res.Findings = append(res.Findings, f)
	r := out.Rocked
	if r == nil {
		return
	}
	f = finding.Finding{ID: out.ID + ".rocked", Title: out.Name + ", room with the powertrain sagged and rocked"}
	f.Judge(r.Gap, res.gapRule("gap_rocked", c.GapRocked), true)
	if why := res.in.Rock.NoReverse; why != "" && f.Status != finding.Over && f.Status != finding.NotKnown {
		f.Unknown(why)
	}
	f.Says = finding.Say(finding.Advise(f, map[finding.Status]string{
		finding.OK:    fmt.Sprintf("The %s comes nearest (%s) and stays clear of it.", r.Part, r.At),
		finding.Tight: fmt.Sprintf("The %s comes nearest (%s); the mounts' rates are estimates, and rubber softer than that would take more of the room than is wanted.", r.Part, r.At),
		finding.Over:  fmt.Sprintf("The %s %s (%s); more room, stiffer mounts, or mounts further apart.", r.Part, tooNear(f.Value, out.Name, length), r.At),
	}))
	res.Findings = append(res.Findings, f)
}

func tooNear(gap float64, name string, length func(float64) string) string {
	if gap < 0 {
		return "runs into the " + name + " by " + length(-gap)
	}
	return "comes nearer to the " + name + " than is wanted"
}

// gapRule is the room a piece of the chassis asks for, or else the limit.
func (res *Result) gapRule(key string, own quantity.LengthQ) project.Rule {
	r := res.in.Build.Limit(key)
	if v, ok := own.Get(); ok {
		r.Value, r.Source, r.Changed = v, "the room wanted, in this build's file", false
	}
	return r
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
