package seat

import (
	"fmt"

	"fitup/internal/geom"
)

// Slip is what the wheels of one axle can take before they slip.
type Slip struct {
	Load     float64 // kg on the axle as it pulls away
	Friction float64 // of tyre on ground
	Radius   float64 // of the tyre, mm
	Ratio    float64 // turns of the shaft for one of the wheels: axle or final drive ratio
}

// Torque returns the torque, N·mm, in the shaft that drives the axle at which
// its wheels slip: friction times load times radius at the wheels, over the
// ratio (Gillespie, Fundamentals of Vehicle Dynamics, traction-limited
// acceleration, from memory). Losses are left out.
func (s Slip) Torque() (float64, error) {
	for _, x := range []struct {
		what string
		v    float64
	}{{"laden axle load", s.Load}, {"friction", s.Friction}, {"tyre's radius", s.Radius}, {"axle ratio", s.Ratio}} {
		if !geom.Finite(x.v) || x.v <= 0 {
			return 0, fmt.Errorf("wheel slip: the %s is %g; it must be more than 0", x.what, x.v)
		}
	}
	return s.Friction * s.Load * geom.Gravity * s.Radius / s.Ratio, nil
}
