package assess

import (
	"fmt"
	"strconv"

	"fitup/internal/geom/shaft"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// JointLoad is what a joint carries at the largest torque of its line.
type JointLoad struct {
	Torque         Measure // steady part, N·mm
	Peak           Measure // highest in one turn, N·mm
	Driver, Driven Measure // couples on the supports of its two shafts, N·mm
}

// speeds finds the largest speed and torque of a line. Both stay unknown
// without a reason when the file says nothing about them.
func (a *Assessment) speeds(l project.Line, out *Line) {
	p, v := a.Build.Powertrain, a.Build.Vehicle
	switch {
	case l.Speed.Known():
		out.Speed = Rate{known(l.Speed.V(), 0), "given in the file"}
	case p.Redline.Known():
		out.Speed = a.fromRedline()
	case v.TopSpeed.Known():
		out.Speed = a.fromRoad(l)
	}
	if !p.Torque.Known() {
		return
	}
	first, ok := extreme(p.Gears, func(x, y float64) bool { return x > y })
	if !ok {
		out.Torque.Why = "powertrain.gears is not in the file yet"
		return
	}
	t, err := shaft.Torque(p.PeakTorque(), first, l.Reduction.Or(1))
	if err != nil {
		out.Torque.Why = err.Error()
		return
	}
	out.Torque = Rate{known(t*l.Share.Or(1), 0), "peak engine torque in the lowest gear"}
}

func (a *Assessment) fromRedline() Rate {
	top, ok := extreme(a.Build.Powertrain.Gears, func(x, y float64) bool { return x < y })
	if !ok {
		return Rate{missing("powertrain.gears is not in the file yet"), ""}
	}
	w, err := wheel.After(a.Build.Powertrain.Redline.V(), top)
	if err != nil {
		return Rate{missing(err.Error()), ""}
	}
	return Rate{known(w, 0), "redline in top gear"}
}

// fromRoad takes the rolling circumference, the slower of the two ways to
// measure a tyre, and so the higher shaft speed.
func (a *Assessment) fromRoad(l project.Line) Rate {
	v := a.Build.Vehicle
	if v.Tyre == "" {
		return Rate{missing("vehicle.tyre is not in the file yet"), ""}
	}
	if !l.Ratio.Known() {
		return Rate{missing(fmt.Sprintf("line.%s.ratio is not in the file yet", l.Name)), ""}
	}
	t, err := wheel.Parse(v.Tyre)
	if err != nil {
		return Rate{missing(err.Error()), ""}
	}
	round, err := t.Rolling()
	if err != nil {
		return Rate{missing(err.Error()), ""}
	}
	w, err := wheel.ShaftSpeed(v.TopSpeed.V(), round, l.Ratio.V())
	if err != nil {
		return Rate{missing(err.Error()), ""}
	}
	return Rate{known(w, 0), "top speed, tyre and axle ratio"}
}

// extreme returns the gear ratio that beats all others.
func extreme(gears []quantity.NumberQ, beats func(x, y float64) bool) (float64, bool) {
	best, ok := 0.0, false
	for _, g := range gears {
		if v, known := g.Get(); known && v > 0 && (!ok || beats(v, best)) {
			best, ok = v, true
		}
	}
	return best, ok
}

// loads fills in what each joint carries, and holds it against the ratings the
// builder entered.
func (a *Assessment) loads(l project.Line, out *Line, plan shaft.Chain, planErr error) {
	why := out.Torque.Why
	if planErr != nil {
		why = out.PlanWhy
	}
	if !out.Torque.Known || planErr != nil {
		for i := range out.Joints {
			m := missing(why)
			out.Joints[i].Load = JointLoad{m, m, m, m}
		}
	} else if mech, err := shaft.NewMechanism(plan); err == nil {
		loads, err := mech.Loads(out.Torque.V)
		for i := range loads {
			if err == nil {
				c := loads[i]
				out.Joints[i].Load = JointLoad{known(c.Torque, 0), known(c.Peak, 0), known(c.Couples.Driver, 0), known(c.Couples.Driven, 0)}
			}
		}
	}
	for i, j := range out.Joints {
		if r, ok := l.Joint(i).Rating.Get(); ok {
			a.rating("line."+l.Name+".joint."+strconv.Itoa(j.Number), fmt.Sprintf("%s joint %d", l.Name, j.Number), j.Load.Peak, r)
		}
	}
	for i := range out.Shafts {
		if r, ok := l.Shaft(i).Rating.Get(); ok {
			a.rating(fmt.Sprintf("line.%s.shaft.%d", l.Name, i+1), fmt.Sprintf("%s shaft %d", l.Name, i+1), out.Joints[i].Load.Peak, r)
		}
	}
}

func (a *Assessment) rating(id, what string, torque Measure, rating float64) {
	if torque.Why == "" && !torque.Known {
		torque.Why = "powertrain.torque is not in the file yet"
	}
	f := Finding{ID: id + ".torque", Title: what + ", torque against its rating (screening)", Kind: quantity.Torque}
	f.judgeAt(torque, rating, project.Rule{Kind: quantity.Torque, Source: "the maker's rating, as entered"}, false)
	f.Advice = advise(f, map[Status]string{
		OK:   "The torque is within the rating entered; whether that rating is for peaks or for long running is its maker's to say.",
		Over: "The torque in the lowest gear is above the rating entered: a larger joint or shaft, or less torque.",
	})
	a.Findings = append(a.Findings, f)
}
