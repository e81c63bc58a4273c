package assess

import (
	"errors"
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/shaft"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// directLine is a line of half shafts that leave the powertrain for the wheels:
// it has no joint, shaft or pinion to judge. Its half shafts are moved by
// hungShafts.
func (a *Assessment) directLine(l project.Line) {
	out := Line{Name: l.Name, Front: l.Toward == project.TowardFront, Direct: true}
	out.Speed, out.Torque = a.directSpeed(l), a.directTorque(l)
	if !a.light {
		out.Travel = &Travel{Kind: string(l.Suspension.Kind)}
	}
	a.Lines = append(a.Lines, out)
}

// errNoFinal says why nothing behind a transaxle's final drive can be reckoned.
var errNoFinal = errors.New("powertrain.final is not in the file yet")

// final is the ratio of the final drive in the gearbox.
func (a *Assessment) final() (float64, error) {
	switch v, ok := a.Build.Powertrain.Final.Get(); {
	case !ok:
		return 0, errNoFinal
	case v <= 0:
		return 0, errors.New("powertrain.final is 0; it must be more")
	default:
		return v, nil
	}
}

// takeOff is what is known of the speed and torque of a propshaft from a
// transaxle: it turns by a ratio of its own, which the file cannot say.
func (a *Assessment) takeOff(l project.Line, out *Line) {
	why := "a propshaft from a transaxle turns by the ratio of its own take-off, which the file cannot say yet"
	switch p := a.Build.Powertrain; {
	case l.Speed.Known():
		out.Speed = Rate{finding.Known(l.Speed.V(), 0), "given in the file"}
	case p.Redline.Known() || a.Build.Vehicle.TopSpeed.Known():
		out.Speed.Why = why + "; give line." + l.Name + ".speed"
	}
	if a.Build.Powertrain.Torque.Known() {
		out.Torque.Why = why
	}
}

// directSpeed is the largest speed of a half shaft: what redline in top gear
// turns it at behind the final drive, or the wheel at top speed, whichever is
// reached first.
func (a *Assessment) directSpeed(l project.Line) Rate {
	if v, ok := l.Speed.Get(); ok {
		return Rate{finding.Known(v, 0), "given in the file"}
	}
	var best Rate
	take := func(r Rate) {
		if r.Known && (!best.Known || r.V < best.V) || !best.Known && best.Why == "" {
			best = r
		}
	}
	if a.Build.Powertrain.Redline.Known() {
		r := a.fromRedline()
		if final, err := a.final(); r.Known && err != nil {
			r = Rate{finding.Missing(err.Error()), ""}
		} else if r.Known {
			r = Rate{finding.Known(r.V/final, 0), r.From + ", behind the final drive"}
		}
		take(r)
	}
	if a.Build.Vehicle.TopSpeed.Known() {
		take(a.wheelSpeed())
	}
	return best
}

// wheelSpeed is that of a wheel at top speed; the tyre's rolling circumference
// is the shorter one and gives the higher speed.
func (a *Assessment) wheelSpeed() Rate {
	_, rolling, err := a.circumferences()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	w, err := wheel.ShaftSpeed(a.Build.Vehicle.TopSpeed.V(), rolling, 1)
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	return Rate{finding.Known(w, 0), "top speed and tyre"}
}

// directTorque is the largest torque of one half shaft: half of what the
// lowest gear and the final drive make of the engine's.
func (a *Assessment) directTorque(l project.Line) Rate {
	p := a.Build.Powertrain
	if !p.Torque.Known() {
		return Rate{}
	}
	gears, err := p.GearRatios()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	first := max(gears[0], p.Reverse.V())
	final, err := a.final()
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	t, err := shaft.Torque(p.PeakTorque(), first, final)
	if err != nil {
		return Rate{finding.Missing(err.Error()), ""}
	}
	from := "half of peak engine torque in the lowest gear"
	if share := l.Share.Or(1); share != 1 {
		t *= share
		from += fmt.Sprintf(", %g %% of it this way", 100*share)
	}
	from += ", behind the final drive, through an open differential; one that locks can send all of it down one side"
	if !p.Reverse.Known() {
		from += "; reverse is not in the file and is taken to be no lower than first"
	}
	return Rate{finding.Known(t/2, 0), from}
}

// halfShaftRows are the lines of the order sheet on the half shafts.
func halfShaftRows(l project.Line, out *Line) []OrderRow {
	if out.Travel == nil {
		return nil
	}
	var rows []OrderRow
	for i, h := range out.Travel.HalfShafts {
		id := fmt.Sprintf("line.%s.order.half_shaft.%s.", l.Name, h.ID)
		row := func(label, key string, k quantity.Kind, v float64) {
			m := finding.Known(v, 0)
			if h.Why != "" {
				m = finding.Missing(h.Why)
			}
			rows = append(rows, OrderRow{Label: label, Name: id + key, Kind: k, Value: m})
		}
		row("half shaft "+h.Name+", joint centre to joint centre", "length", quantity.Length, h.Ride)
		row("  shortest between bump and droop", "shortest", quantity.Length, h.Ride-h.PlungeIn.Value)
		row("  longest between bump and droop", "longest", quantity.Length, h.Ride+h.PlungeOut.Value)
		file := l.Suspension.HalfShaft[i]
		if v, ok := file.Closed.Get(); ok {
			row("  at ride height, drawn out of home by", "from_closed", quantity.Length, h.Ride-v)
		}
		if v, ok := file.Open.Get(); ok {
			row("  at ride height, left to fully drawn out", "to_open", quantity.Length, v-h.Ride)
		}
		row("  inner joint, largest angle", "inner", quantity.Angle, h.Inner.Value)
		row("  outer joint, largest angle", "outer", quantity.Angle, h.Outer.Value)
	}
	return rows
}
