package wheel

import (
	"fmt"
	"math"
)

// Usual units of speed.
const (
	RPM = math.Pi / 30     // one turn per minute, rad/s
	KmH = 1e6 / 3600       // one kilometre per hour, mm/s
	MPH = 1609344 / 3600.0 // one mile per hour, mm/s
)

// PerKm returns the turns of a wheel per kilometre from its circumference (mm).
func PerKm(circumference float64) (float64, error) {
	if err := above("wheel circumference", circumference, "mm"); err != nil {
		return 0, err
	}
	v := 1e6 / circumference
	return v, finite(v)
}

// ShaftSpeed returns the speed (rad/s) of the shaft ahead of an axle at a road
// speed (mm/s), from the wheel's circumference (mm) and the axle ratio.
func ShaftSpeed(road, circumference, axle float64) (float64, error) {
	if err := above("road speed", road, "mm/s"); err != nil {
		return 0, err
	}
	if err := above("wheel circumference", circumference, "mm"); err != nil {
		return 0, err
	}
	if err := above("axle ratio", axle, ""); err != nil {
		return 0, err
	}
	v := 2 * math.Pi * road / circumference * axle
	return v, finite(v)
}

// RoadSpeed returns the road speed (mm/s) at an engine speed (rad/s) through
// the gears given: gearbox, then transfer case if any, then axle. No slip.
func RoadSpeed(engine, circumference float64, ratios ...float64) (float64, error) {
	if err := above("engine speed", engine, "rad/s"); err != nil {
		return 0, err
	}
	if err := above("wheel circumference", circumference, "mm"); err != nil {
		return 0, err
	}
	v, err := After(engine, ratios...)
	if err != nil {
		return 0, err
	}
	v *= circumference / (2 * math.Pi)
	return v, finite(v)
}

// After returns a speed of rotation behind gears, in the unit of speed: it is
// divided by each ratio.
func After(speed float64, ratios ...float64) (float64, error) {
	if err := above("speed", speed, ""); err != nil {
		return 0, err
	}
	for _, r := range ratios {
		if err := above("gear ratio", r, ""); err != nil {
			return 0, err
		}
		speed /= r
	}
	return speed, finite(speed)
}

// FiringOrder returns how many times per turn of the crank a four-stroke engine
// with even firing fires: half the number of cylinders.
func FiringOrder(cylinders int) (float64, error) {
	if cylinders < 1 || cylinders > 24 {
		return 0, fmt.Errorf("an engine with %d cylinders: 1 to 24 is wanted", cylinders)
	}
	return float64(cylinders) / 2, nil
}

// FiringFrequency returns the firing frequency (Hz) of a four-stroke engine at
// a crank speed (rad/s): n·c/120 with n in turns per minute.
func FiringFrequency(speed float64, cylinders int) (float64, error) {
	o, err := FiringOrder(cylinders)
	if err != nil {
		return 0, err
	}
	return OrderFrequency(o, speed)
}

// OrderFrequency returns the frequency (Hz) of what comes order times per turn
// of something that turns at speed (rad/s): order 2 is what a universal joint
// excites, order 1 unbalance.
func OrderFrequency(order, speed float64) (float64, error) {
	if err := above("order", order, ""); err != nil {
		return 0, err
	}
	if err := above("speed", speed, "rad/s"); err != nil {
		return 0, err
	}
	f := order * speed / (2 * math.Pi)
	return f, finite(f)
}

// above refuses a value that is not a number above zero.
func above(what string, v float64, unit string) error {
	if v > 0 && !math.IsInf(v, 0) {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Errorf("%s is %g%s: a value above zero is wanted", what, v, unit)
}

// finite refuses a result that ran over or vanished.
func finite(v float64) error {
	if v > 0 && !math.IsInf(v, 0) {
		return nil
	}
	return fmt.Errorf("no speed comes out of these figures: look again at speeds, ratios and tyre")
}
