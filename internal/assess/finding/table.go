package finding

// The shapes of the ids that have a name. A star stands for a name or a number.
const (
	jointMinID        = "line.*.joint.*.min"
	jointMaxID        = "line.*.joint.*.max"
	jointSpeedID      = "line.*.joint.*.speed"
	jointTorqueID     = "line.*.joint.*.torque"
	shaftMismatchID   = "line.*.shaft.*.mismatch"
	shaftDriveID      = "line.*.shaft.*.inertia.drive"
	shaftCoastID      = "line.*.shaft.*.inertia.coast"
	shaftWhirlID      = "line.*.shaft.*.whirl"
	shaftTorqueID     = "line.*.shaft.*.torque"
	shaftShearID      = "line.*.shaft.*.shear"
	residualID        = "line.*.residual"
	equivalentID      = "line.*.equivalent"
	travelJointID     = "line.*.travel.joint.*.max"
	slipBottomID      = "line.*.travel.slip.bottom"
	slipPullID        = "line.*.travel.slip.pull"
	travelReachID     = "line.*.travel.reach"
	travelStrainID    = "line.*.travel.strain"
	strapLengthID     = "line.*.strap.*.length"
	strapSlackID      = "line.*.strap.*.slack"
	strapEvenID       = "line.*.straps.even"
	strapDroopID      = "line.*.straps.droop"
	halfShaftInnerID  = "line.*.half_shaft.*.inner"
	halfShaftOuterID  = "line.*.half_shaft.*.outer"
	halfShaftInID     = "line.*.half_shaft.*.plunge_in"
	halfShaftOutID    = "line.*.half_shaft.*.plunge_out"
	halfShaftsID      = "line.*.half_shafts"
	mountLiftsID      = "mount.*.lifts"
	mountCaptiveID    = "mount.*.captive"
	mountSolidID      = "mount.*.solid"
	torqueLinkLoadID  = "torque_link.*.load"
	torqueLinkRoomID  = "torque_link.*.room"
	torqueLinkMovesID = "torque_link.*.moving"
	rollStopRoomID    = "roll_stop.*.room"
	rollStopMovesID   = "roll_stop.*.moving"
	rollStopPlayID    = "roll_stop.*.play"
	rollStopLoadID    = "roll_stop.*.load"
	// MountsSag is the id of the most that a mount sinks under the weight.
	MountsSag = "mounts.sag"
	// MountsRock is the id of the turn of the powertrain under full torque.
	MountsRock = "mounts.rock"
	// MountsIsolation is the id of the shaking at idle that reaches the frame.
	MountsIsolation = "mounts.isolation"
	// MountsShakeIdle is the id of all of the firing at idle that reaches the frame.
	MountsShakeIdle = "mounts.shake.idle"
	// MountsShakeCruise is the id of all of the firing at cruise that reaches the frame.
	MountsShakeCruise = "mounts.shake.cruise"
	axleHeightID      = "axle.*.height"
	clearanceID       = "clearance.*"
	exhaustID         = "exhaust.*"
	bracketFitsID     = "bracket.*.fits"
	plateEdgeID       = "bracket.*.*.edge" // of either plate
	padBendingID      = "bracket.*.pad_plate.bending"
	railBendingID     = "bracket.*.rail_plate.bending"
	bracketBendingID  = "bracket.*.bending"
	bracketStrutsID   = "bracket.*.struts"
	bracketPinID      = "bracket.*.pin"
	bracketSeamsID    = "bracket.*.seams"
	bracketGripID     = "bracket.*.grip"
	bracketGussetID   = "bracket.*.gusset"
	adapterFlatID     = "adapter.*.flat"
	adapterEdgeID     = "adapter.*.edge"
	adapterPitchID    = "adapter.*.pitch"
	adapterBendingID  = "adapter.*.bending"
	adapterBoltsID    = "adapter.*.bolts"
	adapterEngagedID  = "adapter.*.engaged"
	adapterRoomID     = "adapter.*.room"
	bracketRoomID     = "bracket.*.room"
	bracketMovingID   = "bracket.*.moving"
	bracketOutID      = "bracket.*.out"
	bracketWeldID     = "bracket.*.weld"
	bracketBoltsID    = "bracket.*.bolts"
	bracketWeldSizeID = "bracket.*.weld_size"
	bracketWeldedID   = "bracket.*.welded"
	bracketPlaceID    = "bracket.*.place"
	bracketLeanID     = "bracket.*.lean"
	bracketTwistID    = "bracket.*.twist"
	bracketFootID     = "bracket.*.foot"
	matchPlaceID      = "match.*.place"
	matchLeanID       = "match.*.lean"
	matchTwistID      = "match.*.twist"
	matchFootID       = "match.*.foot"
	stockID           = "cuts.*.stock"
	driftMeasureID    = "drift.measure.*"
	railBendsID       = "rail.*.bending"
	railSpliceID      = "rail.*.splice.*.bending"
	railPlateID       = "rail.*.plate.*.bending"
	railStepID        = "rail.*.step"
	railDetailsID     = "rail.*.details"
	railTwistID       = "rail.*.twist"
	railsOffsetID     = "frame.rails.*.offset"
	railsWidthID      = "frame.rails.*.width"
	railsSagID        = "frame.rails.*.sag"
	axleToeID         = "frame.axle.*.toe"
	axleThrustID      = "frame.axle.*.thrust"
	axleSquareID      = "frame.axle.*.square"
	axleOffsetID      = "frame.axle.*.offset"
	// SurveyFit is the id of how well the survey's measurements fit each other.
	SurveyFit = "frame.survey.fit"
	// SurveyHidden is the id of the slip that the survey could hide.
	SurveyHidden = "frame.survey.hidden"
	// FrameSquare is the id of how far one rail stands ahead of the other.
	FrameSquare = "frame.square"
	// PowertrainFit is the id of how well what was measured of the powertrain fits together.
	PowertrainFit = "powertrain.fit"
	// PowertrainHidden is the id of the slip that those measurements could hide.
	PowertrainHidden = "powertrain.hidden"
	// PowertrainPlaced is the id of where it was measured to hang against where it is planned.
	PowertrainPlaced = "powertrain.placed"
	axlePlacedID     = "line.*.axle.placed"
	// FrameDiagonals is the id of the difference of the frame's diagonals.
	FrameDiagonals = "frame.diagonals"
	// FrameTwist is the id of how far the frame's corners lie out of one plane.
	FrameTwist = "frame.twist"
	// FrameWheelbase is the id of the difference of the wheelbase left and right.
	FrameWheelbase = "frame.wheelbase"
	// FrameChange is the id of how far welding changed the frame.
	FrameChange = "frame.change"
	// TapedPrefix is what the ids of findings on tapes in plain words begin with.
	TapedPrefix = "frame.taped."
	// TapedFit is the id of how well six tapes in plain words fit each other.
	TapedFit = "frame.taped.fit"
	// TapedDiagonals is the id of the difference of the diagonals taped in plain words.
	TapedDiagonals = "frame.taped.diagonals"
	// TapedSquare is the id of how far one rail stands ahead by tapes in plain words.
	TapedSquare = "frame.taped.square"
	// TapedWheelbase is the id of the difference of the wheelbases taped in plain words.
	TapedWheelbase    = "frame.taped.wheelbase"
	steeringJointID   = "steering.joint.*.max"
	steeringBearingID = "steering.bearing.*.line"
	steeringBottomID  = "steering.shaft.*.slip.bottom"
	steeringPullID    = "steering.shaft.*.slip.pull"
	// SteeringRipple is the id of how unevenly the steering turns.
	SteeringRipple = "steering.ripple"
	// SteeringPhase is the id of what other yoke marks of the steering shaft would save.
	SteeringPhase = "steering.phase"
	// SteeringSupport is the id of the ways in which the steering shaft's joints are loose.
	SteeringSupport = "steering.support"
	// SteeringShorten is the id of how far the steering shaft can shorten.
	SteeringShorten = "steering.shorten"
	// EngineOut is the id of the fact that nothing on the engine-out list is open.
	EngineOut      = "engine_out.open"
	bracketOfID    = "bracket.*"
	bracketGivenID = "bracket.*.given"
)

// table has every finding and, with Fact set, whatever else a job can wait for.
// Ids never change: files name them in what a job waits for and relied on. Tests
// hold the table against what builds have: a new finding wants its row here, or a
// slip in a hold that ends in "?" would pass for a finding that this build has not.
var table = []Row{
	// Of drivelines, as planned and as read.
	{jointMinID, LineTrade, "judge.jointFindings", false, "A Cardan joint works at enough angle to keep its needles rolling."},
	{jointMaxID, LineTrade, "judge.jointFindings", false, "A joint runs at no more angle than it may at ride height."},
	{jointSpeedID, LineTrade, "judge.jointAtSpeed", false, "A joint's angle is one that it may have at the line's largest speed."},
	{jointTorqueID, LineTrade, "judge.rating", false, "The torque at a joint stays within its maker's rating."},
	{shaftMismatchID, LineTrade, "judge.mismatchFinding", false, "The joints at the two ends of a shaft cancel each other."},
	{shaftDriveID, LineTrade, "judge.inertia", false, "A shaft itself does not run too unevenly when it is driven."},
	{shaftCoastID, LineTrade, "judge.inertia", false, "A shaft itself does not run too unevenly when it drives the engine."},
	{shaftWhirlID, LineTrade, "judge.whirlFinding", false, "A shaft's largest speed stays well below the one at which its tube whirls."},
	{shaftTorqueID, LineTrade, "judge.rating", false, "The torque in a shaft stays within its maker's rating."},
	{shaftShearID, LineTrade, "Prepared.shearFinding", false, "The shear stress in a shaft's tube stays within what its steel allows."},
	{residualID, LineTrade, "judge.speedFindings", false, "What the joints of a line leave over does not shake the axle too much at speed."},
	{equivalentID, LineTrade, "judge.evenFindings", false, "What the joints of a line leave over is no more than one joint may have alone."},
	{"line.*.powertrain.read", LineTrade, "judge.axisFinding", false, "There is a usable reading of the powertrain."},
	{"line.*.powertrain.agree", LineTrade, "judge.gapFinding", false, "The powertrain's slope as read is the one planned."},
	{"line.*.powertrain.agree.above", LineTrade, "judge.gapAbove", false, "The powertrain's direction from above as read is the one planned."},
	{"line.*.first.read", LineTrade, "judge.axisFinding", false, "There is a usable reading of the output that drives a line."},
	{"line.*.first.agree", LineTrade, "judge.gapFinding", false, "The slope of the output that drives a line as read is the one planned."},
	{"line.*.first.agree.above", LineTrade, "judge.gapAbove", false, "The direction from above of the output that drives a line as read is the one planned."},
	{"line.*.shaft.*.read", LineTrade, "judge.axisFinding", false, "There is a usable reading of a shaft."},
	{"line.*.shaft.*.agree", LineTrade, "judge.gapFinding", false, "A shaft's slope as read is the one planned."},
	{"line.*.shaft.*.agree.above", LineTrade, "judge.gapAbove", false, "A shaft's direction from above as read is the one planned."},
	{"line.*.pinion.read", LineTrade, "judge.axisFinding", false, "There is a usable reading of the pinion."},
	{"line.*.pinion.agree", LineTrade, "judge.gapFinding", false, "The pinion's slope as read is the one planned."},
	{"line.*.pinion.agree.above", LineTrade, "judge.gapAbove", false, "The pinion's direction from above as read is the one planned."},
	{"powertrain.across.read", LineTrade, "judge.across", false, "There is a usable reading of a crankshaft that lies across."},
	{"powertrain.across.agree", LineTrade, "judge.across", false, "A crankshaft that lies across stands as planned."},

	// Of what moves between bump and droop.
	{travelJointID, TravelTrade, "limit.joint", false, "A joint stays within the angle at which it binds between bump and droop."},
	{slipBottomID, TravelTrade, "Prepared.slip", false, "The slip joint does not bottom between bump and droop."},
	{slipPullID, TravelTrade, "Prepared.slip", false, "The slip joint does not pull out between bump and droop."},
	{travelReachID, TravelTrade, "Prepared.reach", false, "The axle gets from full droop to full bump without binding."},
	{travelStrainID, TravelTrade, "limit.strain", false, "The links ask no more of their bushes than they can give."},
	{strapLengthID, TravelTrade, "straps.length", false, "A strap holds the axle before a joint of its shaft binds or its slip joint comes apart."},
	{strapSlackID, TravelTrade, "straps.slack", false, "A strap hangs slack at ride height."},
	{strapEvenID, TravelTrade, "straps.even", false, "The straps of an axle come taut together."},
	{strapDroopID, TravelTrade, "straps.leaves", false, "The straps leave the droop that is wanted."},
	{halfShaftInnerID, TravelTrade, "shaftLimit.judge", false, "A half shaft's inner joint stays within its angle over the wheel's travel."},
	{halfShaftOuterID, TravelTrade, "shaftLimit.judge", false, "A half shaft's outer joint stays within its angle over the wheel's travel and lock."},
	{halfShaftInID, TravelTrade, "shaftLimit.judge", false, "A half shaft can shorten as much as the wheel's travel asks."},
	{halfShaftOutID, TravelTrade, "shaftLimit.judge", false, "A half shaft can lengthen as much as the wheel's travel asks."},
	{halfShaftsID, TravelTrade, "noHalfShaft", false, "A line of half shafts has one in the file."},

	// Of the powertrain on its mounts.
	{mountLiftsID, MountTrade, "Result.liftFinding", false, "A mount is pressed down in every case of load."},
	{mountCaptiveID, MountTrade, "heldFindings", false, "The halves of a mount stay together when its rubber fails."},
	{mountSolidID, MountTrade, "heldFindings", false, "A mount is not bolted solid."},
	{torqueLinkLoadID, MountTrade, "Result.linkFinding", false, "A torque link carries no more than it is rated for in any case of load."},
	{rollStopPlayID, MountTrade, "Result.playFinding", false, "A roll stop has enough free play with the powertrain at rest."},
	{rollStopLoadID, MountTrade, "Result.stopFinding", false, "A roll stop carries no more than it is rated for in the cases of load in which it is met."},
	{MountsSag, MountTrade, "Result.sagFinding", false, "No mount sinks too far under the weight."},
	{MountsRock, MountTrade, "Result.isolatorFindings", false, "Full torque does not turn the powertrain too far."},
	{MountsIsolation, MountTrade, "Result.isolatorFindings", false, "The mounts keep enough of the engine's shaking at idle from the frame."},
	{MountsShakeIdle, MountTrade, "Prepared.shakeFindings", false, "The mounts keep enough of the firing at idle from the frame, its torque about the crankshaft too."},
	{MountsShakeCruise, MountTrade, "Prepared.shakeFindings", false, "The mounts keep enough of the firing at cruise from the frame, its torque about the crankshaft too."},
	{axleHeightID, MountTrade, "Result.heightFinding", false, "The other powertrain does not change an axle's ride height too much."},

	// Of room.
	{clearanceID, ClearTrade, "room.judge", false, "A piece of the vehicle has room to the powertrain as built."},
	{"clearance.*.rocked", ClearTrade, "room.judge", false, "A piece of the vehicle has room to the powertrain sagged and rocked on its mounts."},
	{"clearance.*.moving", ClearTrade, "room.judgeMoving", false, "A piece of the vehicle, or the powertrain, has room to shafts and axles over the travel."},

	{"clearance.*.steering", ClearTrade, "room.judgeBeside", false, "A piece of a subframe, or a bracket at its corner, has room to the steering."},
	{"clearance.*.suspension", ClearTrade, "room.judgeBeside", false, "A piece of a subframe, or a bracket at its corner, has room to springs, dampers and rods over the travel."},

	{"clearance.*.exhaust", ClearTrade, "room.subframeHeat", false, "A piece of a subframe, or a bracket at its corner, has room for the heat of the exhaust."},

	{exhaustID, ClearTrade, "heat.verdict", false, "A pipe of the exhaust has room for its heat to all that is near."},
	{"exhaust.*.rocked", ClearTrade, "heat.verdict", false, "A pipe of the exhaust has room with the powertrain sagged and rocked on its mounts."},
	{bracketRoomID, ClearTrade, "room.judgeMount", false, "A bracket has room to the pieces of the powertrain as built."},
	{bracketRoomID + ".rocked", ClearTrade, "room.judgeMount", false, "A bracket has room to the pieces of the powertrain sagged and rocked on its mounts."},
	{bracketMovingID, ClearTrade, "room.judgeMoving", false, "A crossmember has room to shafts and axles over the travel."},
	{adapterRoomID, ClearTrade, "room.ownBesideMounts", false, "An adapter plate and the heads of its bolts have room to the mounts' brackets, the powertrain sagged and rocked."},
	{torqueLinkRoomID, ClearTrade, "room.judgeTies", false, "A torque link has room to all that is near, the powertrain sagged and rocked."},
	{torqueLinkMovesID, ClearTrade, "room.judgeMoving", false, "A torque link has room to shafts and axles over the travel."},
	{rollStopRoomID, ClearTrade, "room.judgeTies", false, "The buffers of a roll stop have room to all that is near, the powertrain sagged and rocked."},
	{rollStopMovesID, ClearTrade, "room.judgeMoving", false, "The buffers of a roll stop have room to shafts and axles over the travel."},
	{bracketOutID, ClearTrade, "room.takenOut", false, "A crossmember that is bolted in comes out past what is round it, with the engine in place."},
	{"exhaust.*.moving", ClearTrade, "room.judgeMoving", false, "A pipe of the exhaust has room to shafts and axles over the travel."},

	// Of brackets, their welds and bolts, and finished mounts.
	{bracketFitsID, BracketTrade, "Result.fitsFinding", false, "A leg reaches its rail and can be cut."},
	{"bracket.*.pad_plate.edge", BracketTrade, "Result.edgeFindings", false, "The holes of a pad plate are far enough from its edge."},
	{padBendingID, BracketTrade, "Result.useFinding", false, "A pad plate is strong enough in bending, as a screening."},
	{"bracket.*.rail_plate.edge", BracketTrade, "Result.edgeFindings", false, "The holes of a rail plate are far enough from its edge."},
	{railBendingID, BracketTrade, "Result.useFinding", false, "A rail plate is strong enough in bending, as a screening."},
	{bracketBendingID, BracketTrade, "Result.useFinding", false, "A leg is strong enough, as a screening."},
	{bracketStrutsID, BracketTrade, "Result.useFinding", false, "No member of a mount of several buckles, as a screening."},
	{bracketPinID, BracketTrade, "Result.useFinding", false, "The bolt through twin ears and the metal round its holes are strong enough, as a screening."},
	{bracketSeamsID, BracketTrade, "Result.useFinding", false, "The welds along the corners of a boxed plate are strong enough, as a screening."},
	{bracketGussetID, BracketTrade, "Result.useFinding", false, "The gussets of a mount of several members are strong enough in their welds and beside them, as a screening."},
	{bracketGripID, BracketTrade, "Result.useFinding", false, "The clamp of a tab holds on its tube by friction, as a screening."},
	{adapterFlatID, BracketTrade, "Result.adapterFlat", false, "The bosses that an adapter plate is bolted to lie in one plane."},
	{adapterEdgeID, BracketTrade, "Result.adapterEdges", false, "The holes of an adapter plate are far enough from its edge."},
	{adapterPitchID, BracketTrade, "Result.adapterEdges", false, "The holes of an adapter plate are far enough from each other."},
	{adapterEngagedID, BracketTrade, "Result.adapterEngaged", false, "The bolts of an adapter plate are screwed far enough into the block."},
	{adapterBendingID, BracketTrade, "Result.useFinding", false, "An adapter plate is strong enough between its bosses and its pad, as a screening."},
	{adapterBoltsID, BracketTrade, "Result.useFinding", false, "The bolts of an adapter plate are strong enough, as a screening."},
	{bracketWeldID, BracketTrade, "Result.useFinding", false, "The weld at a leg's foot is strong enough as planned, as a screening."},
	{bracketBoltsID, BracketTrade, "Result.useFinding", false, "The bolts at a leg's foot are strong enough, as a screening."},
	{bracketWeldSizeID, BracketTrade, "Result.filletFinding", false, "The fillet is of a size that its metal can be welded with."},
	{bracketWeldedID, BracketTrade, "Result.weldedFinding", false, "The weld that was made, side by side on the map, is strong enough, as a screening."},
	{bracketPlaceID, BracketTrade, "Result.builtFindings", false, "The pad of a finished mount stands where it is wanted."},
	{bracketLeanID, BracketTrade, "Result.builtFindings", false, "The pad of a finished mount looks the way it is wanted."},
	{bracketTwistID, BracketTrade, "Result.builtFindings", false, "The pad of a finished mount is not turned on its face."},
	{bracketFootID, BracketTrade, "Result.builtFindings", false, "The foot of a finished mount stands where it is wanted."},
	{matchPlaceID, BracketTrade, "Result.builtFindings", false, "The pad of a mount made after the other side's stands where it is wanted."},
	{matchTwistID, BracketTrade, "Result.builtFindings", false, "The pad of a mount made after the other side's is not turned on its face."},
	{matchLeanID, BracketTrade, "Result.builtFindings", false, "The pad of a mount made after the other side's looks the way it is wanted."},
	{matchFootID, BracketTrade, "Result.builtFindings", false, "The foot of a mount made after the other side's stands where it is wanted."},

	// Of what the bench keeps lists of.
	{stockID, ShopTrade, "Cutting.Findings", false, "The stock that was bought is enough for all legs of its section, or all plates of its thickness."},
	{"weld.*.*", ShopTrade, "WeldMap.Welds", true, "Every side of a weld is finished, with proof or a reason."},
	{"welds.given", ShopTrade, "WeldMap.whole", true, "Every bracket has its welds on the map."},
	{"welds.finished", ShopTrade, "WeldMap.whole", true, "Every side of the weld map is finished."},
	{"welds.finished.in", ShopTrade, "WeldMap.whole", true, "Every side that can be reached with the powertrain in is finished."},
	{"welds.inspected", ShopTrade, "WeldMap.whole", true, "Every side of the weld map is inspected."},
	{"fasteners.marked", ShopTrade, "Fasteners", true, "Every fastener is tightened and marked."},
	{"fasteners.recheck", ShopTrade, "Fasteners", true, "No fastener is due to be checked again."},
	{"fasteners.recheck.first", ShopTrade, "Fasteners", true, "Every fastener was checked after its first distance."},
	{"fasteners.recheck.last", ShopTrade, "Fasteners", true, "Every fastener was checked after its last distance."},

	// Of what was read and measured.
	{"drift.powertrain", ReadingTrade, "Readings.driftFinding", false, "Welding did not turn the powertrain."},
	{"drift.powertrain.across", ReadingTrade, "Readings.driftFinding", false, "Welding did not turn a crankshaft that lies across."},
	{"drift.line.*.first", ReadingTrade, "Readings.driftFinding", false, "Welding did not turn the output that drives a line."},
	{"drift.line.*.shaft.*", ReadingTrade, "Readings.driftFinding", false, "Welding did not turn a shaft."},
	{"drift.line.*.pinion.across", ReadingTrade, "Readings.driftFinding", false, "Welding did not turn an axle about the vehicle's length."},
	{"drift.line.*.pinion", ReadingTrade, "Readings.driftFinding", false, "Welding did not turn a pinion."},
	{"drift.frame", ReadingTrade, "Readings.driftFinding", false, "Welding did not bend the frame's rails."},
	{"drift.floor", ReadingTrade, "Readings.driftFinding", false, "The floor under the vehicle was the same before and after welding."},
	{driftMeasureID, ReadingTrade, "Readings.driftFinding", false, "Welding did not change what was measured by tape or gauge."},
	{"measure.*", ReadingTrade, "Readings.Measurements", true, "Something was measured that a job asks for."},
	{"readings.tacked", ReadingTrade, "Readings.Facts", true, "Everything was read after it was tacked or bolted."},
	{"readings.welded", ReadingTrade, "Readings.Facts", true, "Everything was read after it was welded."},

	// Of the powertrain, by gauge, tape and level together.
	{PowertrainFit, HungTrade, "Powertrain.fitFinding", false, "What the gauge showed of the powertrain and what was measured to its marks fit together."},
	{PowertrainPlaced, HungTrade, "Powertrain.PlacedFinding", false, "The powertrain hangs where it is planned to, as far as was measured to its marks."},
	{axlePlacedID, HungTrade, "Standing.PlacedFinding", false, "An axle stands where it is planned to, as far as was measured to its marks."},
	{PowertrainHidden, HungTrade, "Powertrain.hiddenFinding", false, "Enough was measured of the powertrain to find a slip in any of it."},

	// Of the frame, by its survey.
	{SurveyFit, FrameTrade, "Result.fitFinding", false, "What was measured between the points of the survey fits together."},
	{SurveyHidden, FrameTrade, "Result.hiddenFinding", false, "The survey has measurements enough to find a slip in any of them."},
	{FrameSquare, FrameTrade, "Result.railFindings", false, "Neither rail of the frame stands ahead of the other."},
	{FrameDiagonals, FrameTrade, "Result.railFindings", false, "The diagonals of the frame are equal."},
	{FrameTwist, FrameTrade, "Result.railFindings", false, "The corners of the frame lie in one plane."},
	{railsOffsetID, FrameTrade, "Result.offsetFinding", false, "The rails stand evenly about the centre line."},
	{railsWidthID, FrameTrade, "Result.pairFindings", false, "The rails are as far apart as they are to be."},
	{axleSquareID, FrameTrade, "Result.axleFindings", false, "An axle stands square to the centre line."},
	{axleOffsetID, FrameTrade, "Result.axleOffset", false, "An axle is centred between the rails."},
	{FrameWheelbase, FrameTrade, "Result.axleFindings", false, "The wheelbase is the same left and right."},

	{railsSagID, FrameTrade, "Result.lowerFinding", false, "Neither rail hangs lower than the other between its ends."},
	{axleToeID, FrameTrade, "Result.toeFindings", false, "The wheels of a solid axle run alongside each other."},
	{axleThrustID, FrameTrade, "Result.toeFindings", false, "The wheels of an axle look along the centre line in the mean."},
	{FrameChange, FrameTrade, "Result.changeFindings", false, "Welding left the frame as it was tacked."},
	{TapedFit, FrameTrade, "Result.tapedFit", false, "The six tapes of the frame in plain words fit each other."},
	{TapedDiagonals, FrameTrade, "Result.tapedDiagonals", false, "The diagonals of the frame as taped in plain words are equal."},
	{TapedSquare, FrameTrade, "Result.tapedSquare", false, "Neither rail stands ahead of the other by tapes in plain words: diagonals with their sides."},
	{TapedWheelbase, FrameTrade, "Result.tapedWheelbase", false, "The wheelbase as taped in plain words is the same left and right."},

	// Of the rails, by what they are made of and what rests on them.
	{railBendsID, RailTrade, "Result.bendingFinding", false, "A rail is strong enough in bending over a bump, as a screening."},
	{railSpliceID, RailTrade, "Result.spliceFinding", false, "A joint of a rail, and the rail beside its plates, is strong enough, as a screening."},
	{railPlateID, RailTrade, "Result.plateFinding", false, "A rail is strong enough where its plates stop, as a screening."},
	{railStepID, RailTrade, "Result.stepFinding", false, "A rail does not change its stiffness too much at one place."},
	{railDetailsID, RailTrade, "Result.detailFinding", false, "Nothing on a rail is prone to crack, of what the file says of it."},
	{railTwistID, RailTrade, "Result.twistFinding", false, "The shear of torsion with one wheel up is within what a rail's walls allow, as a screening."},
	// Of the steering shaft.
	{steeringJointID, SteerTrade, "Result.jointFinding", false, "A joint of the steering shaft works within the angle it may."},
	{SteeringRipple, SteerTrade, "Result.rippleFinding", false, "The steering turns nearly as evenly as the wheel."},
	{SteeringPhase, SteerTrade, "Result.phaseFinding", false, "The yokes of the steering shaft stand as well as they can be set."},
	{SteeringSupport, SteerTrade, "Result.supportFinding", false, "Every joint of the steering shaft is held."},
	{steeringBearingID, SteerTrade, "Result.bearingFinding", false, "A support bearing stands on the axis of its steering shaft."},
	{steeringBottomID, SteerTrade, "Result.judge", false, "A slip joint of the steering shaft has room before it bottoms."},
	{steeringPullID, SteerTrade, "Result.judge", false, "A slip joint of the steering shaft has room before it pulls out."},
	{SteeringShorten, SteerTrade, "Result.shortenFinding", false, "The steering shaft can shorten as far as it has to."},

	// Of what holds wheels to the frame.
	{pickupWheelsID, PickupTrade, "Axle.wheelsFinding", false, "The wheel centres of an axle are each other's mirror image."},
	{pickupCasterID, PickupTrade, "Axle.casterFinding", false, "The steering axis of a wheel leans to the rear as wanted."},
	{pickupCastersID, PickupTrade, "Axle.casterSides", false, "Both wheels of an axle have the same caster."},
	{pickupSpringLeanID, PickupTrade, "Axle.springFindings", false, "A spring stands well to the way its lower end moves."},
	{pickupSpringRideID, PickupTrade, "Axle.springFindings", false, "A spring carries its load at the ride height wanted."},
	{pickupSpringBindID, PickupTrade, "Axle.springFindings", false, "The turns of a spring do not touch at full bump."},
	{pickupSpringSeatedID, PickupTrade, "Axle.springFindings", false, "A spring stays on its seats at full droop."},
	{pickupDamperBumpID, PickupTrade, "Axle.damperFindings", false, "A damper is not home at full bump."},
	{pickupDamperDroopID, PickupTrade, "Axle.damperFindings", false, "A damper is not drawn out at full droop."},
	{pickupStopID, PickupTrade, "Axle.damperFindings", false, "A bump stop touches before coil or damper are home."},
	{pickupTowerID, PickupTrade, "Axle.towerFinding", false, "The top of a spring tower stands where it is to be."},
	{pickupTowersID, PickupTrade, "Axle.towersFinding", false, "The upper ends of the springs of an axle are each other's mirror image."},
	{pickupRodGiveID, PickupTrade, "Axle.rodFindings", false, "The travel changes the length of a rod by no more than its bushes give."},
	{pickupRodAngleID, PickupTrade, "Axle.rodFindings", false, "The joint of a rod on the frame turns within what it may."},
	{pickupRodLengthID, PickupTrade, "Axle.pairFindings", false, "A rod and its fellow are of one length."},
	{pickupRodPlaceID, PickupTrade, "Axle.pairFindings", false, "The brackets of a rod and its fellow are each other's mirror image."},
	{pickupBarSquareID, PickupTrade, "Axle.barFindings", false, "An anti-roll bar lies straight across and level."},
	{pickupBarArmsID, PickupTrade, "Axle.barFindings", false, "Both arms of an anti-roll bar are of one length."},
	{pickupBarLinksID, PickupTrade, "Axle.barFindings", false, "Both drop links of an anti-roll bar are of one length."},
	{pickupBarShearID, PickupTrade, "Axle.barFindings", false, "Full roll does not shear an anti-roll bar farther than its steel bears."},
	{pickupBarTwistID, PickupTrade, "Axle.barFindings", false, "An anti-roll bar is not twisted at ride height."},
	{pickupBarLinkID, PickupTrade, "Axle.barFindings", false, "A drop link of an anti-roll bar cannot fold over."},

	// Of a subframe that hangs in the frame.
	{subframeFitID, SubframeTrade, "Subframe.fitFinding", false, "What was measured to a subframe fits together."},
	{subframeHiddenID, SubframeTrade, "Subframe.hiddenFinding", false, "Enough was measured to a subframe to find a slip in any of it."},
	{subframeSquareID, SubframeTrade, "Subframe.placeFindings", false, "A subframe stands square to the centre line."},
	{subframeWheelbaseID, SubframeTrade, "Subframe.placeFindings", false, "A subframe is at its place along the vehicle."},
	{subframeCentreID, SubframeTrade, "Subframe.placeFindings", false, "A subframe's track is centred."},
	{subframeHeightID, SubframeTrade, "Subframe.placeFindings", false, "A subframe hangs at its height."},
	{subframeLevelID, SubframeTrade, "Subframe.placeFindings", false, "A subframe does not lean to one side."},
	{subframeRakeID, SubframeTrade, "Subframe.placeFindings", false, "A subframe is level along, or has its rake."},
	{subframeCornerID, SubframeTrade, "Subframe.cornerFinding", false, "A corner of a subframe is where it is to be."},

	// Of the job list.
	{EngineOut, JobTrade, "Result.engineOut", true, "Nothing is open that can only be reached with the powertrain out."},

	// Of what somebody else judges.
	{bracketOfID, Declared, "Assessment.elsewhere", false, "Somebody else judges a bracket that is not in the file."},
	{bracketGivenID, Declared, "Assessment.bracketFacts", true, "A mount's bracket is in the file, or somebody else judges it."},
}
