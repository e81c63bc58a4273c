package finding

import (
	"strconv"
	"strings"
	"sync"
)

// fill puts names and numbers in the place of a shape's stars, one after another.
func fill(shape string, parts ...string) string {
	var out strings.Builder
	out.Grow(len(shape) + 16*len(parts))
	for _, p := range parts {
		before, after, _ := strings.Cut(shape, "*")
		out.WriteString(before)
		out.WriteString(p)
		shape = after
	}
	out.WriteString(shape)
	return out.String()
}

// The ids of findings, by what they are about: lines, mounts and axles go by their
// names in the file, joints and shafts by their numbers from 1.

// JointMin is the id of a joint's smallest angle.
func JointMin(line string, n int) string { return fill(jointMinID, line, strconv.Itoa(n)) }

// JointMax is the id of a joint's largest angle at ride height.
func JointMax(line string, n int) string { return fill(jointMaxID, line, strconv.Itoa(n)) }

// JointSpeed is the id of a joint's angle at the line's largest speed.
func JointSpeed(line string, n int) string { return fill(jointSpeedID, line, strconv.Itoa(n)) }

// JointTorque is the id of a joint's torque against its rating.
func JointTorque(line string, n int) string { return fill(jointTorqueID, line, strconv.Itoa(n)) }

// ShaftMismatch is the id of the difference between the two joints of a shaft.
func ShaftMismatch(line string, n int) string { return fill(shaftMismatchID, line, strconv.Itoa(n)) }

// ShaftDrive is the id of how unevenly a shaft runs when it is driven.
func ShaftDrive(line string, n int) string { return fill(shaftDriveID, line, strconv.Itoa(n)) }

// ShaftCoast is the id of how unevenly a shaft runs when it drives the engine.
func ShaftCoast(line string, n int) string { return fill(shaftCoastID, line, strconv.Itoa(n)) }

// ShaftWhirl is the id of a shaft's speed against the one at which it whirls.
func ShaftWhirl(line string, n int) string { return fill(shaftWhirlID, line, strconv.Itoa(n)) }

// ShaftTorque is the id of a shaft's torque against its rating.
func ShaftTorque(line string, n int) string { return fill(shaftTorqueID, line, strconv.Itoa(n)) }

// ShaftShear is the id of the shear stress in a shaft's tube.
func ShaftShear(line string, n int) string { return fill(shaftShearID, line, strconv.Itoa(n)) }

// Residual is the id of the torsional vibration that a line leaves over.
func Residual(line string) string { return fill(residualID, line) }

// Equivalent is the id of what a line leaves over as one joint's angle.
func Equivalent(line string) string { return fill(equivalentID, line) }

// TravelJoint is the id of a joint's largest angle between bump and droop.
func TravelJoint(line string, n int) string { return fill(travelJointID, line, strconv.Itoa(n)) }

// SlipBottom is the id of the room before a slip joint bottoms.
func SlipBottom(line string) string { return fill(slipBottomID, line) }

// AxlePlaced is the id of where an axle was measured to stand against where it is planned.
func AxlePlaced(line string) string { return fill(axlePlacedID, line) }

// SlipPull is the id of the room before a slip joint pulls out.
func SlipPull(line string) string { return fill(slipPullID, line) }

// TravelReach is the id of how far an axle gets.
func TravelReach(line string) string { return fill(travelReachID, line) }

// TravelStrain is the id of what the links ask of their bushes.
func TravelStrain(line string) string { return fill(travelStrainID, line) }

// StrapLength is the id of a strap's length against the longest that does; strap is the part
// of its ids that IDOf made of its name.
func StrapLength(line, strap string) string { return fill(strapLengthID, line, strap) }

// StrapSlack is the id of how much slack a strap has at ride height.
func StrapSlack(line, strap string) string { return fill(strapSlackID, line, strap) }

// StrapsEven is the id of how far apart the straps of an axle come taut.
func StrapsEven(line string) string { return fill(strapEvenID, line) }

// StrapsDroop is the id of the droop that the straps of an axle leave.
func StrapsDroop(line string) string { return fill(strapDroopID, line) }

// HalfShaftInner is the id of the angle of a half shaft's inner joint; shaft is
// the part of its ids that IDOf made of its name.
func HalfShaftInner(line, shaft string) string { return fill(halfShaftInnerID, line, shaft) }

// HalfShaftOuter is the id of the angle of a half shaft's outer joint.
func HalfShaftOuter(line, shaft string) string { return fill(halfShaftOuterID, line, shaft) }

// HalfShaftIn is the id of how far a half shaft has to shorten.
func HalfShaftIn(line, shaft string) string { return fill(halfShaftInID, line, shaft) }

// HalfShaftOut is the id of how far a half shaft has to lengthen.
func HalfShaftOut(line, shaft string) string { return fill(halfShaftOutID, line, shaft) }

// HalfShafts is the id of a line's lack of half shafts.
func HalfShafts(line string) string { return fill(halfShaftsID, line) }

// MountLifts is the id of the least load on a mount.
func MountLifts(mount string) string { return fill(mountLiftsID, mount) }

// TorqueLinkLoad is the id of the most that a torque link carries.
func TorqueLinkLoad(link string) string { return fill(torqueLinkLoadID, link) }

// TorqueLinkRoom is the id of the room round a torque link.
func TorqueLinkRoom(link string) string { return fill(torqueLinkRoomID, link) }

// IsTied reports whether an id is that of the room round a torque link or a roll stop.
func IsTied(id string) bool { return Matches(torqueLinkRoomID, id) || Matches(rollStopRoomID, id) }

// TorqueLinkMoving is the id of the room of a torque link to shafts and axles.
func TorqueLinkMoving(link string) string { return fill(torqueLinkMovesID, link) }

// RollStopRoom is the id of the room round the buffers of a roll stop.
func RollStopRoom(stop string) string { return fill(rollStopRoomID, stop) }

// RollStopMoving is the id of the room of a roll stop to shafts and axles.
func RollStopMoving(stop string) string { return fill(rollStopMovesID, stop) }

// RollStopPlay is the id of the free play of a roll stop at rest.
func RollStopPlay(stop string) string { return fill(rollStopPlayID, stop) }

// RollStopLoad is the id of the most that a roll stop carries.
func RollStopLoad(stop string) string { return fill(rollStopLoadID, stop) }

// MountCaptive is the id of whether a mount holds without its rubber.
func MountCaptive(mount string) string { return fill(mountCaptiveID, mount) }

// MountSolid is the id of a mount that is bolted solid.
func MountSolid(mount string) string { return fill(mountSolidID, mount) }

// AxleHeight is the id of the change of an axle's ride height.
func AxleHeight(axle string) string { return fill(axleHeightID, axle) }

// Rocked is the id of a piece's room to the powertrain sagged and rocked;
// clearance is the id of its room to the powertrain as built.
func Rocked(clearance string) string { return clearance + ".rocked" }

// Moving is the id of a piece's room to shafts and axles; clearance is the id of
// its room to the powertrain as built.
func Moving(clearance string) string { return clearance + ".moving" }

// ToSteering is the id of the room of a subframe's piece to the steering; clearance is
// that of its room to the powertrain.
func ToSteering(clearance string) string { return clearance + ".steering" }

// ToSuspension is the id of its room to springs, dampers and rods over the travel.
func ToSuspension(clearance string) string { return clearance + ".suspension" }

// ToExhaust is the id of its room to the pipes of the exhaust, for their heat.
func ToExhaust(clearance string) string { return clearance + ".exhaust" }

// IsBeside reports whether a finding is about the room of a subframe to what goes past it.
func IsBeside(id string) bool {
	return Matches(ToSteering(clearanceID), id) || Matches(ToSuspension(clearanceID), id) || Matches(ToExhaust(clearanceID), id)
}

// Clearance is the id of a piece's room to the powertrain; piece is the part of
// its ids that IDOf made of its name.
func Clearance(piece string) string { return fill(clearanceID, piece) }

// AxisRead is the id of the reading of an axis: what can be read, or the powertrain
// as "line.rear.powertrain".
func AxisRead(axis string) string { return axis + ".read" }

// AxisAgree is the id of an axis's slope as read against the one planned.
func AxisAgree(axis string) string { return axis + ".agree" }

// AxisAbove is the id of an axis's direction from above as read against the one
// planned.
func AxisAbove(axis string) string { return axis + ".agree.above" }

// LineAxis is the axis that a line calls so, such as the powertrain.
func LineAxis(line, axis string) string { return "line." + line + "." + axis }

// BracketFits is the id of whether a leg reaches and can be cut.
func BracketFits(mount string) string { return fill(bracketFitsID, mount) }

// BracketBending is the id of what a leg uses of its strength.
func BracketBending(mount string) string { return fill(bracketBendingID, mount) }

// BracketRoom is the id of the room of a bracket to the pieces of the powertrain as built;
// Rocked is of it too.
func BracketRoom(mount string) string { return fill(bracketRoomID, mount) }

// BracketMoving is the id of the room of a crossmember to shafts and axles.
func BracketMoving(mount string) string { return fill(bracketMovingID, mount) }

// BracketOut is the id of whether a crossmember that is bolted in comes out.
func BracketOut(mount string) string { return fill(bracketOutID, mount) }

// BracketPin is the id of what the bolt through twin ears uses of its strength.
func BracketPin(mount string) string { return fill(bracketPinID, mount) }

// BracketSeams is the id of what a boxed plate uses of the strength of its corner welds.
func BracketSeams(mount string) string { return fill(bracketSeamsID, mount) }

// BracketGusset is the id of what the gussets of a mount of several members use of their strength.
func BracketGusset(mount string) string { return fill(bracketGussetID, mount) }

// BracketGrip is the id of what a clamp uses of its grip on its tube.
func BracketGrip(mount string) string { return fill(bracketGripID, mount) }

// AdapterFlat is the id of how far the bosses under an adapter plate are from one plane.
func AdapterFlat(mount string) string { return fill(adapterFlatID, mount) }

// AdapterEdge is the id of how far an adapter plate's holes are from its edge.
func AdapterEdge(mount string) string { return fill(adapterEdgeID, mount) }

// AdapterPitch is the id of how far they are from each other.
func AdapterPitch(mount string) string { return fill(adapterPitchID, mount) }

// AdapterBending is the id of what an adapter plate uses of its strength.
func AdapterBending(mount string) string { return fill(adapterBendingID, mount) }

// AdapterBolts is the id of what its bolts use of theirs.
func AdapterBolts(mount string) string { return fill(adapterBoltsID, mount) }

// AdapterRoom is the id of the room of an adapter plate to the mounts' brackets.
func AdapterRoom(mount string) string { return fill(adapterRoomID, mount) }

// AdapterEngaged is the id of how far its bolts are screwed into the block.
func AdapterEngaged(mount string) string { return fill(adapterEngagedID, mount) }

// BracketStruts is the id of what the members of a bracket use of what they take as
// struts.
func BracketStruts(mount string) string { return fill(bracketStrutsID, mount) }

// BracketWeld is the id of what a leg's weld uses of its strength, as planned.
func BracketWeld(mount string) string { return fill(bracketWeldID, mount) }

// BracketWelded is the id of what the weld that was made uses of its strength.
func BracketWelded(mount string) string { return fill(bracketWeldedID, mount) }

// BracketWeldSize is the id of the size of a leg's fillet.
func BracketWeldSize(mount string) string { return fill(bracketWeldSizeID, mount) }

// BracketBolts is the id of what a leg's bolts use of their strength.
func BracketBolts(mount string) string { return fill(bracketBoltsID, mount) }

// PadPlateBending is the id of what a pad plate uses of its strength.
func PadPlateBending(mount string) string { return fill(padBendingID, mount) }

// RailPlateBending is the id of what a rail plate uses of its strength.
func RailPlateBending(mount string) string { return fill(railBendingID, mount) }

// PlateEdge is the id of how far a plate's holes are from its edge; end is "pad" or
// "rail".
func PlateEdge(mount, end string) string { return fill(plateEdgeID, mount, end+"_plate") }

// BuiltPlace is the id of how far the pad of a finished mount stands off its
// place; matched says that the mount was made after the other side's.
func BuiltPlace(mount string, matched bool) string {
	return fill(either(matched, matchPlaceID, bracketPlaceID), mount)
}

// BuiltTwist is the id of how far the pad of a finished mount is turned on its face.
func BuiltTwist(mount string, matched bool) string {
	return fill(either(matched, matchTwistID, bracketTwistID), mount)
}

// BuiltLean is the id of how far the pad of a finished mount leans.
func BuiltLean(mount string, matched bool) string {
	return fill(either(matched, matchLeanID, bracketLeanID), mount)
}

// BuiltFoot is the id of how far the foot of a finished mount stands off its
// place.
func BuiltFoot(mount string, matched bool) string {
	return fill(either(matched, matchFootID, bracketFootID), mount)
}

func either(b bool, yes, no string) string {
	if b {
		return yes
	}
	return no
}

// Bracket is the subject that all findings on a mount's leg are about, and the id
// of the finding that somebody else judges one that is not in the file.
func Bracket(mount string) string { return fill(bracketOfID, mount) }

// BracketGiven is the id of the fact that a bracket is in the file, or that
// somebody else judges it.
func BracketGiven(mount string) string { return fill(bracketGivenID, mount) }

// Adapter is the subject that all findings on a mount's adapter plate are about.
func Adapter(mount string) string { return fill("adapter.*", mount) }

// AboutBracket reports whether a finding is about the bracket of that mount, its adapter
// plate, or about the mount as it was finished.
func AboutBracket(id, mount string) bool {
	return Matches(Adapter(mount)+".**", id) || Matches(Bracket(mount)+".**", id) || Matches("match."+mount+".**", id)
}

// Drift is the id of how far welding moved what can be read.
func Drift(target string) string { return driftAny + target }

// DriftMeasure is the id of how far welding changed what was measured; of is what
// was measured, as an id has it.
func DriftMeasure(of string) string { return fill(driftMeasureID, of) }

// IsDrift reports whether a finding is about what welding moved.
func IsDrift(id string) bool { return Matches(driftAny+"**", id) }

const driftAny = "drift."

// Stock is the id of the stock of a section; section is its name as an id has it.
func Stock(section string) string { return fill(stockID, section) }

// IsStock reports whether a finding is about the stock of a section.
func IsStock(id string) bool { return Matches(stockID, id) }

// RailsOffset is the id of a pair of rail points' middle beside the centre line, by
// the pair's number from the front.
func RailsOffset(n int) string { return fill(railsOffsetID, strconv.Itoa(n)) }

// RailsWidth is the id of the width at a pair of rail points.
func RailsWidth(n int) string { return fill(railsWidthID, strconv.Itoa(n)) }

// RailsSag is the id of how much lower one rail hangs than the other at a pair.
func RailsSag(n int) string { return fill(railsSagID, strconv.Itoa(n)) }

// AxleToe is the id of the toe of an axle's two wheels together.
func AxleToe(axle string) string { return fill(axleToeID, axle) }

// AxleThrust is the id of where an axle's wheels look in the mean.
func AxleThrust(axle string) string { return fill(axleThrustID, axle) }

// AxleSquare is the id of how far an axle stands out of square.
func AxleSquare(axle string) string { return fill(axleSquareID, axle) }

// AxleOffset is the id of how far an axle's middle lies beside the centre line.
func AxleOffset(axle string) string { return fill(axleOffsetID, axle) }

// RailBending is the id of what a rail uses of its strength in bending; side is left or
// right.
func RailBending(side string) string { return fill(railBendsID, side) }

// RailSplice is the id of what splice n of a rail, from 1, uses of its strength.
func RailSplice(side string, n int) string { return fill(railSpliceID, side, strconv.Itoa(n)) }

// RailPlate is the id of what a rail uses of its strength where the plates of its
// length n, from 1, stop.
func RailPlate(side string, n int) string { return fill(railPlateID, side, strconv.Itoa(n)) }

// RailStep is the id of how much a rail's stiffness changes at one place.
func RailStep(side string) string { return fill(railStepID, side) }

// RailDetails is the id of what is prone to crack on a rail.
func RailDetails(side string) string { return fill(railDetailsID, side) }

// RailTwist is the id of what a rail uses of its strength with one wheel up.
func RailTwist(side string) string { return fill(railTwistID, side) }

// SteeringJoint is the id of the angle of a joint of the steering shaft, by its number
// from the column.
func SteeringJoint(n int) string { return fill(steeringJointID, strconv.Itoa(n)) }

// SteeringBearing is the id of how far a support bearing stands off its shaft's axis.
func SteeringBearing(n int) string { return fill(steeringBearingID, strconv.Itoa(n)) }

// SteeringBottom is the id of the room before a slip joint of the steering shaft
// bottoms.
func SteeringBottom(n int) string { return fill(steeringBottomID, strconv.Itoa(n)) }

// SteeringPull is the id of the room before it pulls out.
func SteeringPull(n int) string { return fill(steeringPullID, strconv.Itoa(n)) }

// Exhaust is the id of the room round a pipe of the exhaust; pipe is the part of its ids
// that IDOf made of its name. Rocked and Moving are of it too.
func Exhaust(pipe string) string { return fill(exhaustID, pipe) }

// IsMoving reports whether a finding is about room to shafts and axles.
func IsMoving(id string) bool {
	for _, p := range movingIDs() {
		if p.Matches(id) {
			return true
		}
	}
	return false
}

var movingIDs = sync.OnceValue(func() (out []Pattern) {
	for _, id := range []string{Moving(clearanceID), Moving(exhaustID), bracketMovingID, torqueLinkMovesID, rollStopMovesID} {
		out = append(out, PatternOf(id))
	}
	return out
})

// IsExhaust reports whether a finding is about room round a pipe of the exhaust.
func IsExhaust(id string) bool { return Matches(exhaustID, id) || Matches(exhaustID+".*", id) }
