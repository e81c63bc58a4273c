package seat

import (
	"fmt"

	"fitup/internal/geom"
)

// Axles are the two axle lines and the springs over them.
type Axles struct {
	Front, Rear         float64 // stations (X), mm
	FrontRate, RearRate float64 // spring rate at one wheel, N/mm; there are two to an axle
}

// AxleChange is what a swap does to an axle's ground load and to the height
// of the body over it.
type AxleChange struct{ Front, Rear float64 }

func (a Axles) wheelbase() (float64, error) {
	base := a.Rear - a.Front
	if !geom.Finite(a.Front, a.Rear) || base <= geom.Tiny {
		return 0, fmt.Errorf("axles: the front axle is at %g mm and the rear at %g mm; the rear station must be larger", a.Front, a.Rear)
	}
	return base, nil
}

// LoadChange returns how the load on each axle changes, N, more is positive,
// when powertrain is takes the place of was: the lever between the axle lines.
// A mass of 0 in was is an empty engine bay.
func (a Axles) LoadChange(was, is Body) (AxleChange, error) {
	base, err := a.wheelbase()
	if err != nil {
		return AxleChange{}, err
	}
	if was.Mass != 0 {
		if err := was.check(); err != nil {
			return AxleChange{}, fmt.Errorf("old %w", err)
		}
	}
	if err := is.check(); err != nil {
		return AxleChange{}, fmt.Errorf("new %w", err)
	}
	rear := (is.Weight()*(is.Centre.X-a.Front) - was.Weight()*(was.Centre.X-a.Front)) / base
	return AxleChange{Front: is.Weight() - was.Weight() - rear, Rear: rear}, nil
}

// HeightChange returns how far the body rises over each axle line, mm, up
// positive, when the axle loads change by loads (N): the load over the two
// springs of the axle. Tyres, anti-roll bars and springs that are not straight
// are left out.
func (a Axles) HeightChange(loads AxleChange) (AxleChange, error) {
	if !geom.Finite(loads.Front, loads.Rear) {
		return AxleChange{}, fmt.Errorf("axles: the change of load is not a number")
	}
	for _, r := range []struct {
		name string
		v    float64
	}{{"front", a.FrontRate}, {"rear", a.RearRate}} {
		if !geom.Finite(r.v) || r.v <= 0 {
			return AxleChange{}, fmt.Errorf("%s axle: the spring rate at the wheel is %g N/mm; it must be more than 0", r.name, r.v)
		}
	}
	return AxleChange{Front: -loads.Front / (2 * a.FrontRate), Rear: -loads.Rear / (2 * a.RearRate)}, nil
}
