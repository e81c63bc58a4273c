package project

import (
	"errors"
	"fmt"

	"fitup/internal/geom/wheel"
)

// errNoFinal says why nothing behind a transaxle's final drive can be reckoned.
var errNoFinal = errors.New("powertrain.final is not in the file yet")

// FinalRatio is the ratio of the final drive in the gearbox.
func (p Powertrain) FinalRatio() (float64, error) {
	switch v, ok := p.Final.Get(); {
	case !ok:
		return 0, errNoFinal
	case v <= 0:
		return 0, errors.New("powertrain.final is 0; it must be more")
	default:
		return v, nil
	}
}

// Wheel is the tyre by its size, or by its diameter where no size gives one, and
// what it goes by in words.
func (v Vehicle) Wheel() (wheel.Tyre, string, error) {
	d, measured := v.WheelDiameter.Get()
	switch t, err := wheel.Parse(v.Tyre); {
	case v.Tyre != "" && err == nil:
		return t, "the tyre", nil
	case measured:
		t = wheel.Tyre{Measured: d}
		return t, "tyre_diameter", t.Check()
	case v.Tyre == "":
		return wheel.Tyre{}, "", errors.New("vehicle.tyre is not in the file yet")
	default:
		return wheel.Tyre{}, "", fmt.Errorf("vehicle.tyre: %w, in vehicle.tyre_diameter", err)
	}
}
