package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/assess/pickup"
	"fitup/internal/assess/travel"
	"fitup/internal/project"
)

// To the trade of the pick-ups: the build, and how the axle of a line moves. They rest on
// nothing that moves, so they are worked out once. From it: what is drawn of them.

// What is said of pick-ups goes by the same names here.
type (
	// Pickups are all pick-ups of a build.
	Pickups = pickup.Result
	// PickupAxle is what holds the two wheels of one axle.
	PickupAxle = pickup.Axle
	// PickupSide is what holds one wheel.
	PickupSide = pickup.Side
	// PickupSpring is a coil spring at ride height and over the travel.
	PickupSpring = pickup.Spring
	// PickupDamper is a damper over the travel.
	PickupDamper = pickup.Damper
	// PickupTower is the post of a spring.
	PickupTower = pickup.Tower
	// PickupRod is a rod of one side and what the travel does to it.
	PickupRod = pickup.Rod
	// PickupPair is a rod and its fellow on the other side.
	PickupPair = pickup.Pair
)

// PickupCaution goes with whatever is said of pick-ups.
const PickupCaution = pickup.Caution

// pickupsOf works out the pick-ups of a build.
func pickupsOf(b *project.Build, before *pickup.Result) *pickup.Result {
	return pickup.Of(b, before, pickup.Guide{Axle: travel.AxleOf, Droop: travel.DroopOf})
}

func (a *Assessment) pickups() {
	a.Pickups = a.ready.pickups
	a.take(finding.PickupTrade, a.Pickups.Findings)
}
