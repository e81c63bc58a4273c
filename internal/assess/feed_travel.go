package assess

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/line"
	"fitup/internal/assess/travel"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
)

// To the travel trade: the chain of joints of a line and its axle's suspension, and
// for half shafts where the powertrain can stand. From it: the sweeps of axles, past
// which room is looked for, and numbers on the order sheet.

// What the travel trade makes goes by these names here.
type (
	// Travel is a line between bump and droop.
	Travel = travel.Travel
	// TravelPoint is the line at one rise, with no torque on the axle.
	TravelPoint = travel.Point
	// TravelExtreme is the worst of something over the travel and where it is.
	TravelExtreme = travel.Extreme
	// JointTravel is the largest angle of a joint over the travel.
	JointTravel = travel.Joint
	// SlipTravel is the last shaft over the travel.
	SlipTravel = travel.Slip
	// TravelReach is how far the axle gets.
	TravelReach = travel.Reach
	// TravelBind is one way that the suspension binds.
	TravelBind = travel.Bind
	// HalfShaftTravel is a half shaft between bump and droop of its wheel.
	HalfShaftTravel = travel.HalfShaft
)

// axle is the travel of a line's axle, prepared. Where a driven axle hangs does
// not depend on the powertrain.
type axle struct {
	*travel.Prepared
	end finding.Maybe[travel.End]
}

// prepareTravel prepares the axles of the lines of b. What p has of another build serves
// where it follows from the same.
func (p *Prepared) prepareTravel(b *project.Build) {
	was := p.axles
	p.axles = make([]axle, len(b.Lines))
	copy(p.axles, was)
	p.prepareTravelOf(b, "")
}

// prepareTravelOf is prepareTravel of one line alone, where it is named.
func (p *Prepared) prepareTravelOf(b *project.Build, only string) {
	at := poseOf(b)
	p.axles = slices.Clone(p.axles)
	for i, l := range b.Lines {
		if only != "" && l.Name != only {
			continue
		}
		var end finding.Maybe[travel.End]
		if chain, err := p.lines[i].Chain(at); err == nil && !b.Direct(l) {
			end = travel.EndOf(chain)
		}
		p.axles[i] = axle{travel.Prepare(b, l, end, p.rates, p.axles[i].Prepared), end}
	}
}

// axleAs is the axle of line i of b for a chain: prepared anew where it had no end,
// as when nothing was planned yet.
func (p *Prepared) axleAs(b *project.Build, i int, chain shaft.Chain) *travel.Prepared {
	x := p.axles[i]
	if end := travel.EndOf(chain); end.Known && !x.end.Known {
		return travel.Prepare(b, b.Lines[i], end, p.rates, nil)
	}
	return x.Prepared
}

// travel moves the axle of a line between bump and droop. A chain without joints
// stands for a line that is not planned yet.
func (a *Assessment) travel(i int, chain shaft.Chain, out *Line) {
	x := a.ready.axleAs(a.Build, i, chain)
	r := x.At(travel.Place{Chain: chain, PlanWhy: out.PlanWhy})
	out.Travel = r.Travel
	a.take(finding.TravelTrade, r.Findings)
}

// hungShafts moves the half shafts that hang on the powertrain, once it is
// known where that can stand.
func (a *Assessment) hungShafts() {
	for i := range a.Lines {
		l, out := a.Build.Lines[i], &a.Lines[i]
		if !a.Build.Hung(l) || out.Travel == nil {
			continue
		}
		r := a.ready.axles[i].Hung(*out.Travel, a.stands())
		out.Travel = r.Travel
		a.take(finding.TravelTrade, r.Findings)
	}
}

// stands are the places where the powertrain can be found, as travel asks for
// them.
func (a *Assessment) stands() travel.Stands {
	st := a.mounts.Standings()
	out := travel.Stands{Built: a.Pose, All: slices.Clone(st.All), Assumes: st.Assumes}
	if len(out.All) > 0 {
		out.All[0].Name = ""
	}
	return out
}

// hanging returns where the end of a line with a live axle stands at full
// droop, from where it is at ride height.
func hanging(l project.Line, ride line.AxleEnd) (line.AxleEnd, error) {
	if l.Suspension.Kind == "" {
		return line.AxleEnd{}, fmt.Errorf("line.%s.suspension is not in the file yet", l.Name)
	}
	end, err := travel.AtDroop(l, travel.End(ride))
	return line.AxleEnd(end), err
}
