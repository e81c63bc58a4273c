package ui

import (
	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/project/quantity"
)

// stepsFor returns the steps a nudge can have, fine to coarse, in the units
// the file is written in.
func stepsFor(u quantity.Units) []assess.Step {
	lengths := []float64{0.1, 0.5, 1, 2, 5, 10} // mm
	if u.For(quantity.Length).Name() == "in" {
		lengths = []float64{25.4 / 64, 25.4 / 32, 25.4 / 16, 25.4 / 8, 25.4 / 4, 25.4 / 2}
	}
	degrees := []float64{0.01, 0.05, 0.1, 0.2, 0.5, 1}
	steps := make([]assess.Step, len(lengths))
	for i := range steps {
		steps[i] = assess.Step{Length: lengths[i], Angle: (geom.Angle(degrees[i]) * geom.Deg).Rad()}
	}
	return steps
}

const firstStep = 1 // half a millimetre, a thirty-second of an inch
