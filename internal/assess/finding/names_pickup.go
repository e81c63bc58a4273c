package finding

import "strconv"

// The shapes of the ids of pick-ups. name is that of the pick-ups, side left or right.
const (
	pickupWheelsID       = "pickup.*.wheels"
	pickupCasterID       = "pickup.*.*.caster"
	pickupCastersID      = "pickup.*.caster"
	pickupSpringLeanID   = "pickup.*.*.spring.lean"
	pickupSpringRideID   = "pickup.*.*.spring.ride"
	pickupSpringBindID   = "pickup.*.*.spring.bind"
	pickupSpringSeatedID = "pickup.*.*.spring.seated"
	pickupDamperBumpID   = "pickup.*.*.damper.bump"
	pickupDamperDroopID  = "pickup.*.*.damper.droop"
	pickupStopID         = "pickup.*.*.stop"
	pickupTowerID        = "pickup.*.*.tower"
	pickupTowersID       = "pickup.*.spring.sides"
	pickupRodGiveID      = "pickup.*.*.rod.*.give"
	pickupRodAngleID     = "pickup.*.*.rod.*.angle"
	pickupRodLengthID    = "pickup.*.rod.*.length"
	pickupRodPlaceID     = "pickup.*.rod.*.place"
	pickupBarSquareID    = "pickup.*.bar.square"
	pickupBarArmsID      = "pickup.*.bar.arms"
	pickupBarLinksID     = "pickup.*.bar.links"
	pickupBarTwistID     = "pickup.*.bar.twist"
	pickupBarShearID     = "pickup.*.bar.shear"
	pickupBarLinkID      = "pickup.*.*.bar.link"
)

// PickupWheels is the id of how far wheel centres are from being each other's mirror image.
func PickupWheels(name string) string { return fill(pickupWheelsID, name) }

// PickupCaster is the id of how far the caster of a side is off the one wanted.
func PickupCaster(name, side string) string { return fill(pickupCasterID, name, side) }

// PickupCasters is the id of how far the caster of the two sides is apart.
func PickupCasters(name string) string { return fill(pickupCastersID, name) }

// PickupSpringLean is the id of how far a spring leans to the way its lower end moves.
func PickupSpringLean(name, side string) string { return fill(pickupSpringLeanID, name, side) }

// PickupSpringRide is the id of how far a wheel settles off ride height.
func PickupSpringRide(name, side string) string { return fill(pickupSpringRideID, name, side) }

// PickupSpringBind is the id of what a coil has left at full bump.
func PickupSpringBind(name, side string) string { return fill(pickupSpringBindID, name, side) }

// PickupSpringSeated is the id of what a spring is pressed by at full droop.
func PickupSpringSeated(name, side string) string { return fill(pickupSpringSeatedID, name, side) }

// PickupDamperBump is the id of what a damper has left at full bump.
func PickupDamperBump(name, side string) string { return fill(pickupDamperBumpID, name, side) }

// PickupDamperDroop is the id of what a damper has left at full droop.
func PickupDamperDroop(name, side string) string { return fill(pickupDamperDroopID, name, side) }

// PickupStop is the id of the wheel travel from the bump stop's touch to metal.
func PickupStop(name, side string) string { return fill(pickupStopID, name, side) }

// PickupTower is the id of how far the top of a tower stands from where it is to be.
func PickupTower(name, side string) string { return fill(pickupTowerID, name, side) }

// PickupTowers is the id of how far the upper ends of springs are from being each other's mirror image.
func PickupTowers(name string) string { return fill(pickupTowersID, name) }

// PickupRodGive is the id of how much the travel changes a rod's length, by its number on its side.
func PickupRodGive(name, side string, n int) string {
	return fill(pickupRodGiveID, name, side, strconv.Itoa(n))
}

// PickupRodAngle is the id of how far the travel turns a rod's joint on the frame.
func PickupRodAngle(name, side string, n int) string {
	return fill(pickupRodAngleID, name, side, strconv.Itoa(n))
}

// PickupRodLength is the id of how much longer a rod is than its fellow, by its number.
func PickupRodLength(name string, n int) string {
	return fill(pickupRodLengthID, name, strconv.Itoa(n))
}

// PickupRodPlace is the id of how far the brackets of a rod and its fellow are from being each other's mirror image.
func PickupRodPlace(name string, n int) string { return fill(pickupRodPlaceID, name, strconv.Itoa(n)) }

// PickupBarSquare is the id of how far the axis of an anti-roll bar is from straight across.
func PickupBarSquare(name string) string { return fill(pickupBarSquareID, name) }

// PickupBarArms is the id of how much longer one arm of it is.
func PickupBarArms(name string) string { return fill(pickupBarArmsID, name) }

// PickupBarLinks is the id of how much longer one of its drop links is.
func PickupBarLinks(name string) string { return fill(pickupBarLinksID, name) }

// PickupBarShear is the id of the shear at its surface in full roll.
func PickupBarShear(name string) string { return fill(pickupBarShearID, name) }

// PickupBarTwist is the id of how far it is twisted at ride height.
func PickupBarTwist(name string) string { return fill(pickupBarTwistID, name) }

// PickupBarLink is the id of the least angle of a drop link to its arm over the travel.
func PickupBarLink(name, side string) string { return fill(pickupBarLinkID, name, side) }
