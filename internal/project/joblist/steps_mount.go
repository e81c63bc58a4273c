package joblist

func second() []Step {
	const stage = Second
	return []Step{
		{ID: "cut-second", Stage: stage, Title: "Cut and fit the second bracket", Needs: []string{"prove-joints"},
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "its leg is the first one made again by `fitup match`, with stations marked on both rails; it stands on its rail without forcing, both isolators upright", Tools: "saw, grinder, clamps", Hazards: []Hazard{Grinding, Lifting}},
		{ID: "tack-second", Stage: stage, Title: "Tack the second bracket", Needs: []string{"cut-second"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "tacked at opposite corners, and the powertrain sits without strain in both isolators", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Lifting, Arc, Fume, Behind, Structural}},
		{ID: "bolt-second", Stage: stage, Title: "Drill and bolt the second bracket", Needs: []string{"cut-second"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "all bolts in and snug, and the isolators sit without strain", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding, Lifting}},
		{ID: "read-tacked", Stage: stage, Title: "Read it after tacking or bolting", Needs: []string{"tack-second", "bolt-second"},
			Hold: []string{"line.*.powertrain.read@proved"}, Done: "powertrain and pinion are read, and the readings are entered as taken after tacking", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "gaps-loaded", Stage: stage, Title: "Load the mounts and check every gap", Needs: []string{"read-tacked"},
			Done: "the isolators carry the weight, and sump, fan, column and firewall clear as before", Tools: "hoist, tape", Hazards: []Hazard{Lifting}},
	}
}

func support() []Step {
	const stage = Support
	return []Step{
		{ID: "support-member", Stage: stage, Title: "Make the gearbox crossmember", Needs: []string{"read-tacked"},
			Done: "it comes off with the gearbox in place, clears the shaft, and leaves room for the exhaust", Tools: "saw, clamps, tape", Hazards: []Hazard{Grinding, Stands}},
		{ID: "support-fix", Stage: stage, Title: "Tack the gearbox crossmember's brackets", Needs: []string{"support-member"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "tacked, with the isolator in the middle of its slots", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Structural, Stands}},
		{ID: "support-bolt", Stage: stage, Title: "Bolt the gearbox crossmember's brackets", Needs: []string{"support-member"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "bolted through sleeves, with the isolator in the middle of its slots", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding, Stands}},
		{ID: "carrier-bearing", Stage: stage, Title: "Mount the carrier bearing", Needs: []string{"read-tacked"}, When: TwoPiece,
			Hold: []string{"line.*.joint.1.max"}, Done: "the bearing stands square to its shaft, can be shimmed, and the front joint is nearly straight", Tools: "shims, angle gauge", Hazards: []Hazard{Stands}},
		{ID: "front-line", Stage: stage, Title: "Check the front line over its travel", Needs: []string{"read-tacked"}, When: FrontDrive,
			Hold: []string{"line.front.joint.*.max?"}, Done: "from transfer case to pinion it clears exhaust, sump and crossmember over the whole travel", Tools: "tape, jack", Hazards: []Hazard{Stands, Springs}},
		{ID: "prove-supported", Stage: stage, Title: "Prove the angles on the gearbox support", Needs: []string{"support-fix", "support-bolt"},
			Hold: []string{"line.*.powertrain.read@proved", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "readings after tacking hold every joint within its limits", Tools: "angle gauge", Hazards: []Hazard{Stands}},
	}
}

func subframe() []Step {
	const stage = Subframe
	return []Step{
		{ID: "column", Stage: stage, Title: "Fit the steering shaft and its joints", Needs: []string{"gaps-loaded"},
			Done: "the shaft turns evenly from lock to lock, its joints are in phase, and every clamp bolt is in its groove", Tools: "spanners, torque wrench", Hazards: []Hazard{Qualified, Airbag}},
		{ID: "column-heat", Stage: stage, Title: "Shield steering and brakes from heat", Needs: []string{"column"},
			Done: "a shield stands where a hot part comes near steering or brake lines, and nothing rubs", Tools: "sheet, rivets", Hazards: []Hazard{Qualified}},
		{ID: "subframe-square", Stage: stage, Title: "Measure the subframe against the rails", Needs: []string{"rails-again"},
			Done: "its distances to both rails are written down and it stands square", Tools: "tape, plumb line"},
		{ID: "brake-lines", Stage: stage, Title: "Move brake lines away from the mounts", Needs: []string{"gaps-loaded"},
			Done: "lines are clipped, free of kinks, and away from mounts, exhaust, heat and moving parts", Tools: "flaring tool, clips", Hazards: []Hazard{Qualified, Stands, Dust}},
		{ID: "steering-checked", Stage: stage, Title: "Have steering and brakes looked at", Needs: []string{"column", "brake-lines"},
			Done: "somebody qualified has looked at both and signed", Hazards: []Hazard{Qualified}},
	}
}

func systems() []Step {
	const stage = Systems
	return []Step{
		{ID: "exhaust", Stage: stage, Title: "Fit the exhaust on flexible hangers", Needs: []string{"gaps-loaded"},
			Done: "it clears shaft, lines and floor with the engine rocked by hand", Tools: "hangers, clamps, stands", Hazards: []Hazard{Stands, Hot}},
		{ID: "radiator", Stage: stage, Title: "Mount the radiator and its hoses", Needs: []string{"bonnet-fan"},
			Done: "on rubber, the highest point of the system can be bled, and the fan clears by a finger's breadth and more", Tools: "spanners, hose clamps"},
		{ID: "fan-shroud", Stage: stage, Title: "Fit fan and shroud", Needs: []string{"radiator"},
			Done: "the fan blows the right way and touches nothing when the engine is rocked", Tools: "spanners", Hazards: []Hazard{Turning}},
		{ID: "fuel-lines", Stage: stage, Title: "Run the fuel lines and the return", Needs: []string{"exhaust"},
			Done: "lines of the right pressure rating, clipped, away from exhaust, shaft and battery cable", Tools: "line cutter, clips", Hazards: []Hazard{Fuel, Stands}},
		{ID: "fuel-tank", Stage: stage, Title: "Put the tank back and test for leaks", Needs: []string{"fuel-lines", "weld-out"},
			Done: "the system holds pressure and not a drop shows; no more welding after this", Tools: "pressure gauge, extinguisher", Hazards: []Hazard{Fuel, Stands}},
		{ID: "earth-straps", Stage: stage, Title: "Fit earth straps from engine to frame", Needs: []string{"gaps-loaded"},
			Done: "straps go from engine to frame and body, bright metal under each end, and one bridges every isolator", Tools: "brush, spanners", Hazards: []Hazard{Battery}},
		{ID: "loom", Stage: stage, Title: "Lay the wiring loom with its fuses", Needs: []string{"earth-straps"},
			Done: "a fuse stands at the battery; every wire is fused, clipped, in a sleeve where it passes metal, and away from heat", Tools: "crimping tool, meter", Hazards: []Hazard{Battery}},
		{ID: "controls", Stage: stage, Title: "Connect throttle, clutch and gear change", Needs: []string{"lever-room"},
			Done: "the throttle closes by itself from every position with the engine rocked", Tools: "spanners"},
		{ID: "starter-clear", Stage: stage, Title: "Check the starter cable by the exhaust", Needs: []string{"exhaust", "loom"},
			Done: "a shield stands where the cable comes near, and it cannot chafe", Tools: "shield, clips", Hazards: []Hazard{Battery}},
	}
}

func finish() []Step {
	const stage = Finish
	return []Step{
		{ID: "mark-weld-out", Stage: stage, Title: "List the weld sides out of reach", Needs: []string{"prove-supported"},
			Done: "the weld map in the file lists every side of every bracket, and those marked out = true are the ones", Tools: "lamp, mirror"},
		{ID: "protect", Stage: stage, Title: "Clear the bay for welding", Needs: []string{"mark-weld-out"}, When: WeldedOn,
			Done: "no fuel, no battery, electronics unplugged, isolators, hoses and wiring out or covered", Tools: "blankets, extinguisher", Hazards: []Hazard{Welding, Fuel, Battery, Airbag}},
		{ID: "weld-in", Stage: stage, Title: "Finish the weld sides within reach", Needs: []string{"protect"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "these sides are finished on the weld map, a little on each side in turn; nobody welded far on one side alone", Tools: "welding set", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind}},
		{ID: "read-welded", Stage: stage, Title: "Read everything again after welding", Needs: []string{"weld-in"}, When: WeldedOn,
			Hold: []string{"line.*.powertrain.read@proved", "drift.**?"}, Done: "the readings after welding are in the file before the powertrain comes out, and the drift is within its limit", Tools: "angle gauge, tape", Hazards: []Hazard{Stands}},
		{ID: "engine-out", Stage: stage, Title: "Lift the powertrain out for the finish", Needs: []string{"read-welded", "mark-weld-out"},
			Done: "it stands blocked on the floor, and the file says it is out", Tools: "hoist, slings, blocks", Hazards: []Hazard{Lifting}},
		{ID: "weld-out", Stage: stage, Title: "Finish the weld sides out of reach", Needs: []string{"engine-out"}, Out: true, When: WeldedOn,
			Done: "every side on the weld map is finished", Tools: "welding set", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind}},
		{ID: "torque-frame", Stage: stage, Title: "Tighten the bolts reached with it out", Needs: []string{"engine-out"}, Out: true,
			Done: "tightened to the maker's figure and marked with paint", Tools: "torque wrench, paint pen", Hazards: []Hazard{Lifting}},
		{ID: "inspect-welds", Stage: stage, Title: "Have the welds inspected", Needs: []string{"weld-out"}, When: WeldedOn, Out: true,
			Hold: []string{"weld.**?"}, Done: "somebody allowed to has looked at each, and what was found is put right", Tools: "lamp, dye penetrant, wire brush", Hazards: []Hazard{Structural, Lifting}},
		{ID: "holes", Stage: stage, Title: "Drill the last holes and fit grommets", Needs: []string{"engine-out"}, Out: true,
			Done: "every hole in firewall and frame is deburred and has its grommet or plug", Tools: "drill, grommets", Hazards: []Hazard{Grinding, Structural, Behind}},
		{ID: "paint", Stage: stage, Title: "Clean, prime and paint the bay", Needs: []string{"inspect-welds", "holes"}, Out: true,
			Done: "no bare metal is left, inside of boxed sections treated as well", Tools: "brush, primer, paint, mask", Hazards: []Hazard{Grinding, Solvent}},
		{ID: "sender-plugs", Stage: stage, Title: "Fit senders and plugs out of reach later", Needs: []string{"engine-out"}, Out: true,
			Done: "senders, core plugs and fittings are in with new sealing, and tight", Tools: "spanners, sealing"},
		{ID: "clutch", Stage: stage, Title: "Check clutch, release and spigot bearing", Needs: []string{"engine-out"}, Out: true,
			Done: "the plate is centred on the flywheel, release bearing and spigot (pilot) bearing turn freely, and the bolts are tightened and marked", Tools: "centring tool, torque wrench", Hazards: []Hazard{Dust}},
		{ID: "engine-in", Stage: stage, Title: "Put the powertrain back in for good", Needs: []string{"paint", "torque-frame", "sender-plugs", "clutch"},
			Hold: []string{"engine_out.open"}, Done: "nothing on the engine-out list is open, it sits on all mounts, and the file says it is in", Tools: "hoist, leveller, slings", Hazards: []Hazard{Lifting}},
		{ID: "torque-mounts", Stage: stage, Title: "Tighten and mark all mount bolts", Needs: []string{"engine-in"},
			Hold: []string{"fasteners.marked?"}, Done: "with the weight on them, every fastener of the table is tightened and has its paint mark", Tools: "torque wrench, paint pen", Hazards: []Hazard{Stands}},
		{ID: "prove-final", Stage: stage, Title: "Prove all angles for the last time", Needs: []string{"torque-mounts"},
			Hold: []string{"line.*.powertrain.read@proved", "line.*.joint.*.min?", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"},
			Done: "readings of this day hold every joint within its limits", Tools: "angle gauge", Hazards: []Hazard{Stands}},
	}
}
