package assess

import (
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Values puts every number a screen can show under a dotted name.
func (a *Assessment) Values() []Value {
	var l finding.List
	for _, r := range a.Rows {
		l.Number(r.Name, r.Kind, r.Now)
	}
	if a.Pose.Known {
		l.Add("placement.roll", quantity.Angle, a.Pose.V.Roll().Rad())
		a.padsOverRails(&l)
		p := a.Build.Powertrain
		for _, pt := range []struct {
			name  string
			at    r3.Vec
			known bool
		}{
			{"pads.left_front", p.Pads.LeftFront.At, p.Pads.LeftFront.Known},
			{"pads.right_front", p.Pads.RightFront.At, p.Pads.RightFront.Known},
			{"pads.rear", p.Pads.Rear.At, p.Pads.Rear.Known},
			{"output", p.Output.At, p.Output.Known},
			{"centre_of_mass", p.CentreOfMass.At, p.CentreOfMass.Known},
		} {
			if pt.known {
				l.Point(pt.name, a.Pose.V.Point(pt.at))
			}
		}
	}
	for i := range a.Lines {
		a.Lines[i].values(&l)
	}
	a.mounts.Values(&l)
	a.Shaking.Values(&l)
	for _, c := range a.Clearances {
		c.Values(&l)
	}
	for i := range a.Exhaust {
		a.Exhaust[i].Values(&l)
	}
	a.Moving.Values("clearance.powertrain.moving", &l)
	for _, r := range a.RideLevel {
		r.Values(&l)
	}
	a.legs.Values(&l)
	for i := range a.Cuts {
		a.Cuts[i].Values(&l)
	}
	for i := range a.Sheets {
		a.Sheets[i].Values(&l)
	}
	for _, f := range a.Findings {
		l.Finding(f)
	}
	a.ready.readings.Values(a.Build.Readings, &l)
	a.Frame.Values(&l)
	a.Rails.Values(&l)
	a.ready.subframes.Values(&l)
	a.ready.hangs.Values(&l)
	a.Steering.Values(&l)
	a.Pickups.Values(&l)
	a.work.Values(&l)
	a.listShop(&l)
	for i, j := range a.Jobs {
		if b, ok := a.Before(j); ok && b.Least != nil {
			l.Add("job."+strconv.Itoa(i)+".move", b.Least.Row.Kind, b.Least.Row.Now.V+b.Least.By)
		}
	}
	count := a.Count()
	for _, s := range []Status{OK, Tight, Over, NotKnown} {
		l.Add("findings."+strings.ReplaceAll(s.String(), " ", "_"), quantity.Count, float64(count[s]))
	}
	return l
}
