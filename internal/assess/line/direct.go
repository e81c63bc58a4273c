package line

import (
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/shaft"
	"fitup/internal/geom/wheel"
)

// takeOff is what is known of the speed and torque of a propshaft from a
// transaxle: it turns by a ratio of its own, which the file cannot say.
func (p *Prepared) takeOff(out *Line) {
	l := p.file
	why := "a propshaft from a transaxle turns by the ratio of its own take-off, which the file cannot say yet"
	switch power := &p.Build.Powertrain; {
	case l.Speed.Known():
		out.Speed = Rate{finding.Exact(l.Speed.V()), "given in the file"}
	case power.Redline.Known() || p.Build.Vehicle.TopSpeed.Known():
		out.Speed.Why = why + "; give line." + l.Name + ".speed"
	}
	if p.Build.Powertrain.Torque.Known() {
		out.Torque.Why = why
	}
}

// directSpeed is the largest speed of a half shaft: what redline in top gear
// turns it at behind the final drive, or the wheel at top speed, whichever is
// reached first.
func (p *Prepared) directSpeed() Rate {
	if v, ok := p.file.Speed.Get(); ok {
		return Rate{finding.Exact(v), "given in the file"}
	}
	var best Rate
	take := func(r Rate) {
		if r.Known && (!best.Known || r.V < best.V) || !best.Known && best.Why == "" {
			best = r
		}
	}
	if p.Build.Powertrain.Redline.Known() {
		r := p.fromRedline()
		if final, err := p.Build.Powertrain.FinalRatio(); r.Known && err != nil {
			r = Rate{finding.Missing(err.Error()), ""}
		} else if r.Known {
			r = Rate{finding.Exact(r.V / final), r.From + ", behind the final drive"}
		}
		take(r)
	}
	if p.Build.Vehicle.TopSpeed.Known() {
		take(p.wheelSpeed())
	}
	return best
}

// wheelSpeed is that of a wheel at top speed; the tyre's rolling circumference
// is the shorter one and gives the higher speed.
func (p *Prepared) wheelSpeed() Rate {
	t, _, err := p.Build.Vehicle.Wheel()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	_, rolling, err := t.Circumferences()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	w, err := wheel.ShaftSpeed(p.Build.Vehicle.TopSpeed.V(), rolling, 1)
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	return Rate{finding.Exact(w), "top speed and tyre"}
}

// directTorque is the largest torque of one half shaft: half of what the
// lowest gear and the final drive make of the engine's.
func (p *Prepared) directTorque() Rate {
	power := &p.Build.Powertrain
	if !power.Torque.Known() {
		return Rate{}
	}
	gears, err := power.GearRatios()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	first := max(gears[0], power.Reverse.V())
	final, err := power.FinalRatio()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	t, err := shaft.Torque(power.PeakTorque(), first, final)
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	from := "half of peak engine torque in the lowest gear"
	if share := p.file.Share.Or(1); share != 1 {
		t *= share
		from += fmt.Sprintf(", %g %% of it this way", 100*share)
	}
	from += ", behind the final drive, through an open differential; one that locks can send all of it down one side"
	if !power.Reverse.Known() {
		from += "; reverse is not in the file and is taken to be no lower than first"
	}
	return Rate{finding.Exact(t / 2), from}
}
