package line

import (
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/shaft"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// JointLoad is what a joint carries at the largest torque of its line.
type JointLoad struct {
	Torque         finding.Number // steady part, N·mm
	Peak           finding.Number // highest in one turn, N·mm
	Driver, Driven finding.Number // couples on the supports of its two shafts, N·mm
}

// nearOne is the highest ratio that still passes for a top gear: a list that
// ends above it is taken to lack its upper gears. Set by fitup; top gears run
// from about 0.6 to 1.
const nearOne = 1.25

// largestSpeed is the speed given for the line, or the lower of two: nothing
// turns faster than the redline in top gear lets it, nor than the road speed.
func (p *Prepared) largestSpeed(out *Line) {
	l := p.file
	if p.Build.Powertrain.Redline.Known() {
		out.ByRedline = p.fromRedline()
	}
	if l.TopSpeed.Known() || p.Build.Vehicle.TopSpeed.Known() {
		out.ByRoad = p.fromRoad()
	}
	red, road := out.ByRedline, out.ByRoad
	say := func(r Rate) string {
		return quantity.Plain(quantity.Speed, r.V, p.Build.Units, 0)
	}
	switch {
	case l.Speed.Known():
		out.Speed = Rate{finding.Exact(l.Speed.V()), "given in the file"}
	case red.Known && road.Known && road.V < red.V:
		out.Speed = Rate{road.Number, road.From + "; the " + red.From + " would be " + say(red)}
	case red.Known && road.Known:
		out.Speed = Rate{red.Number, red.From + "; " + road.From + " would be " + say(road)}
	case red.Known && road.Why != "":
		out.Speed = Rate{red.Number, red.From + "; the top speed does not count, since " + road.Why}
	case red.Known:
		out.Speed = red
	case road.Known && red.Why != "":
		out.Speed = Rate{road.Number, road.From + "; the redline does not count, since " + red.Why}
	case road.Known:
		out.Speed = road
	case red.Why != "":
		out.Speed = red
	default:
		out.Speed = road
	}
}

// largestTorque is the engine's peak torque in the lowest gear, forward or
// reverse, in low range, as far as it can go this way.
func (p *Prepared) largestTorque(out *Line) {
	l, power := p.file, &p.Build.Powertrain
	if !power.Torque.Known() {
		return
	}
	gears, err := power.GearRatios()
	if err != nil {
		out.Torque.Why = err.Error()
		return
	}
	ratio, gear := gears[0], "first gear"
	if v, ok := power.Reverse.Get(); ok && v > ratio {
		ratio, gear = v, "reverse"
	}
	low, share := l.Reduction.Or(1), l.Share.Or(1)
	t, err := shaft.Torque(power.PeakTorque(), ratio, low)
	if err != nil {
		out.Torque.Why = err.Error()
		return
	}
	from := fmt.Sprintf("peak engine torque in %s (%g)", gear, ratio)
	if v := power.Converter.Or(1); v > 1 {
		from += fmt.Sprintf(", times %g of the converter at stall", v)
	}
	if low != 1 {
		from += fmt.Sprintf(", in low range (%g)", low)
	}
	if share != 1 {
		from += fmt.Sprintf(", %g %% of it this way", 100*share)
	}
	out.Torque = Rate{finding.Exact(t * share), from}
	if !power.Reverse.Known() {
		out.torqueAssumes = append(out.torqueAssumes, "powertrain.reverse is not in the file: reverse is taken to be no lower than first")
	}
}

func (p *Prepared) fromRedline() Rate {
	gears, err := p.Build.Powertrain.GearRatios()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	top := gears[len(gears)-1]
	if top > nearOne {
		return Rate{finding.Missing(fmt.Sprintf("powertrain.gears end at %g, which is no top gear: give all gears down to the one near 1, or line.*.speed", top)), ""}
	}
	w, err := wheel.After(p.Build.Powertrain.Redline.V(), top)
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	return Rate{finding.Exact(w), fmt.Sprintf("redline in top gear (%g)", top)}
}

// fromRoad takes the rolling circumference, the slower of the two ways to
// measure a tyre, and so the higher shaft speed.
func (p *Prepared) fromRoad() Rate {
	l := p.file
	road, from := p.Build.Vehicle.TopSpeed.V(), "top speed"
	if v, ok := l.TopSpeed.Get(); ok && (v < road || !p.Build.Vehicle.TopSpeed.Known()) {
		road, from = v, "this line's own top speed"
	}
	if !l.Ratio.Known() {
		if _, _, err := p.Build.Vehicle.Wheel(); err != nil {
			return Rate{finding.Missing(err.Error()), ""}
		}
		return Rate{finding.Missing(fmt.Sprintf("line.%s.ratio is not in the file yet", l.Name)), ""}
	}
	t, size, err := p.Build.Vehicle.Wheel()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	rolling, err := t.Rolling()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	w, err := wheel.ShaftSpeed(road, rolling, l.Ratio.V())
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	return Rate{finding.Exact(w), fmt.Sprintf("%s (%s) with %s and the axle ratio", from, quantity.Plain(quantity.RoadSpeed, road, p.Build.Units, 0), size)}
}

// rated reports whether the file has a rating for a joint or a shaft.
func rated(l *project.Line) bool {
	return slices.ContainsFunc(l.Joints, func(j project.LineJoint) bool { return j.Rating.Known() }) ||
		slices.ContainsFunc(l.Shafts, func(s project.LineShaft) bool { return s.Rating.Known() })
}

// loads fills in what each joint carries; the planned chain is solved.
func (a *judge) loads() {
	out := a.out
	switch {
	case a.Light && !a.rated:
	case !out.Torque.Known:
		a.noLoads(out.Torque.Why)
	case out.Planned.Known:
		loads, err := a.mech.Loads(out.Torque.V)
		if err != nil {
			return
		}
		for i, c := range loads {
			out.Joints[i].Load = JointLoad{finding.Exact(c.Torque), finding.Exact(c.Peak), finding.Exact(c.Couples.Driver), finding.Exact(c.Couples.Driven)}
		}
	}
}

func (a *judge) noLoads(why string) {
	m := finding.Missing(why)
	for i := range a.out.Joints {
		a.out.Joints[i].Load = JointLoad{m, m, m, m}
	}
}

// ratings holds what joints and shafts carry against the ratings the builder
// entered.
func (a *judge) ratings() {
	if !a.rated {
		return
	}
	for i := range a.out.Joints {
		if r, ok := a.file.Joint(i).Rating.Get(); ok {
			a.rating(&a.names.joints[i].torque, a.out.Joints[i].Load.Peak, r)
		}
	}
	for i := range a.out.Shafts {
		if r, ok := a.file.Shaft(i).Rating.Get(); ok {
			a.rating(&a.names.shafts[i].torque, a.out.Joints[i].Load.Peak, r)
		}
	}
}

func (a *judge) rating(n *name, torque finding.Number, rating float64) {
	l := a.out
	if torque.Why == "" && !torque.Known {
		torque.Why = "powertrain.torque is not in the file yet"
	}
	f := finding.Finding{ID: n.id, Title: n.title, Kind: quantity.Torque}
	f.JudgeAt(torque, rating, project.Rule{Kind: quantity.Torque, Source: "the maker's rating, as entered"}, false)
	if f.HasValue {
		f.Assumes = append(f.Assumes, l.torqueAssumes...)
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The torque is within the rating entered; whether that rating is for peaks or for long running is its maker's to say. It is " + l.Torque.From + ".",
			finding.Over: "The torque is above the rating entered: a larger joint or shaft, or less torque. It is " + l.Torque.From + ".",
		}
	})
	a.Findings = append(a.Findings, f)
}
