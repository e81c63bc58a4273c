package mount

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project/quantity"
)

// RideLevel is what the swap does to an axle: its load and the height of the
// body over it.
type RideLevel struct {
	Axle       string         // front or rear
	LoadChange finding.Number // as scales would show it, kg, more is positive
	Load       finding.Number // with the new powertrain, kg
	Height     finding.Number // change of the body over the axle, up positive, mm
}

// Ride compares the old powertrain with the new one: front and rear axle, with
// a finding for each. It says nothing before the file has an old one.
func (res *Result) Ride() (out []RideLevel, fs []finding.Finding) {
	old := res.p.build.Old
	if !old.Mass.Known() && !old.CentreOfMass.Known {
		return nil, nil
	}
	v := res.p.build.Vehicle
	out = []RideLevel{{Axle: "front"}, {Axle: "rear"}}
	loads, why := res.axleLoads()
	change := []float64{loads.Front, loads.Rear}
	rates := []quantity.RateQ{v.FrontRate, v.RearRate}
	weighed := []quantity.MassQ{v.FrontLoad, v.RearLoad}
	for i := range out {
		r := &out[i]
		r.LoadChange, r.Load, r.Height = finding.Missing(why), finding.Missing(why), finding.Missing(why)
		if why == "" {
			kg := change[i] / geom.Gravity
			r.LoadChange = finding.Exact(kg)
			r.Load = finding.Missing("vehicle." + r.Axle + "_load is not in the file yet")
			if w, ok := weighed[i].Get(); ok {
				r.Load = finding.Exact(w + kg)
			}
			r.Height = heightOver(r.Axle, change[i], rates[i])
		}
		fs = append(fs, res.heightFinding(*r))
	}
	return out, fs
}

func (res *Result) axleLoads() (seat.AxleChange, string) {
	old, v := res.p.build.Old, res.p.build.Vehicle
	switch {
	case !old.Mass.Known():
		return seat.AxleChange{}, "old_powertrain.mass is not in the file yet"
	case !old.CentreOfMass.Known:
		return seat.AxleChange{}, "old_powertrain.centre_of_mass is not in the file yet"
	case !res.Statics.Body.Known:
		return seat.AxleChange{}, res.Statics.Body.Why
	case !v.Wheelbase.Known():
		return seat.AxleChange{}, "vehicle.wheelbase is not in the file yet"
	}
	front := v.FrontAxle.Or(0)
	axles := seat.Axles{Front: front, Rear: front + v.Wheelbase.V()}
	loads, err := axles.LoadChange(seat.Body{Mass: old.Mass.V(), Centre: old.CentreOfMass.At}, res.Statics.Body.V)
	if err != nil {
		return loads, err.Error()
	}
	return loads, ""
}

// heightOver is the rise over one axle. Both ends are asked of the geometry
// with the rate of this one; each needs only its own.
func heightOver(axle string, load float64, rate quantity.RateQ) finding.Number {
	k, ok := rate.Get()
	switch {
	case !ok:
		return finding.Missing("vehicle." + axle + "_rate is not in the file yet")
	case k == 0:
		return finding.Missing("vehicle." + axle + "_rate is 0; it must be more")
	}
	h, err := seat.Axles{FrontRate: k, RearRate: k}.HeightChange(seat.AxleChange{Front: load})
	if err != nil {
		return finding.Missing(err.Error())
	}
	return finding.Exact(h.Front)
}

func (res *Result) heightFinding(r RideLevel) finding.Finding {
	f := finding.Finding{ID: finding.AxleHeight(r.Axle), Title: r.Axle + " axle, change of ride height"}
	size := r.Height
	size.V = math.Abs(size.V)
	f.Judge(size, res.p.ride, false)
	way := "rises"
	if r.Height.V < 0 {
		way = "sinks"
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   fmt.Sprintf("The body %s over the %s axle with the new powertrain; tyres, anti-roll bars and bump stops are left out.", way, r.Axle),
			finding.Over: fmt.Sprintf("The body %s too far over the %s axle with the new powertrain; other springs, or the powertrain elsewhere. Steering, brake balance and headlamps change with it.", way, r.Axle),
		}
	})
	return f
}

// Values lists every number of an axle.
func (r RideLevel) Values(l *finding.List) {
	id := "axle." + r.Axle
	l.Number(id+".load_change", quantity.Mass, r.LoadChange)
	l.Number(id+".load", quantity.Mass, r.Load)
	l.Number(id+".height_change", quantity.Length, r.Height)
}
