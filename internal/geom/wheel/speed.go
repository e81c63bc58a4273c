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
