package joblist

func second() []Step {
	const stage = Second
	return []Step{
		{ID: "cut-second", Stage: stage, Title: "Cut and fit the second bracket", Needs: []string{"prove-joints"},
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "it stands on its rail without forcing, with both isolators upright", Tools: "saw, grinder, clamps", Hazards: []Hazard{Grinding}},
		{ID: "tack-second", Stage: stage, Title: "Welded: tack the second bracket", Needs: []string{"cut-second"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "tacked at opposite corners, and the powertrain sits without strain in both isolators", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Lifting}},
		{ID: "bolt-second", Stage: stage, Title: "Bolted: drill and bolt the second bracket", Needs: []string{"cut-second"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "all bolts in and snug, and the isolators sit without strain", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding}},
		{ID: "read-tacked", Stage: stage, Title: "Read powertrain and pinion after tacking or bolting", Needs: []string{"tack-second", "bolt-second"},
			Hold: []string{"line.*.powertrain.read@proved"}, Done: "the readings are entered as taken after tacking", Tools: "angle gauge"},
		{ID: "gaps-loaded", Stage: stage, Title: "Let the weight onto the mounts and check every gap again", Needs: []string{"read-tacked"},
			Done: "isolators carry the weight; sump, fan, column and firewall clear as before", Tools: "hoist, tape", Hazards: []Hazard{Lifting}},
	}
}

func support() []Step {
	const stage = Support
	return []Step{
		{ID: "support-member", Stage: stage, Title: "Make the crossmember under the gearbox", Needs: []string{"read-tacked"},
			Done: "it comes off with the gearbox in place, clears the shaft, and leaves room for the exhaust", Tools: "saw, clamps, tape", Hazards: []Hazard{Grinding, Stands}},
		{ID: "support-fix", Stage: stage, Title: "Welded: tack its brackets to the rails", Needs: []string{"support-member"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "tacked, with the isolator in the middle of its slots", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Structural}},
		{ID: "support-bolt", Stage: stage, Title: "Bolted: drill and bolt its brackets to the rails", Needs: []string{"support-member"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "bolted through sleeves, with the isolator in the middle of its slots", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding}},
		{ID: "carrier-bearing", Stage: stage, Title: "Two-piece line: make the mount of the carrier bearing", Needs: []string{"read-tacked"}, When: TwoPiece,
			Hold: []string{"line.*.joint.1.max"}, Done: "the bearing stands square to its shaft, can be shimmed, and the front joint is nearly straight", Tools: "shims, angle gauge", Hazards: []Hazard{Stands}},
		{ID: "front-line", Stage: stage, Title: "Front axle: check the front line from transfer case to pinion", Needs: []string{"read-tacked"}, When: FrontDrive,
			Hold: []string{"line.front.joint.*.max?"}, Done: "it clears exhaust, sump and crossmember over the whole travel", Tools: "tape, jack", Hazards: []Hazard{Stands}},
		{ID: "prove-supported", Stage: stage, Title: "Prove all angles with the gearbox on its support", Needs: []string{"support-fix", "support-bolt"},
			Hold: []string{"line.*.powertrain.read@proved", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "readings after tacking hold every joint within its limits", Tools: "angle gauge"},
	}
}

func subframe() []Step {
	const stage = Subframe
	return []Step{
		{ID: "column", Stage: stage, Title: "Fit the steering shaft and its joints", Needs: []string{"gaps-loaded"},
			Done: "the shaft turns evenly from lock to lock, its joints are in phase, and every clamp bolt is in its groove", Tools: "spanners, torque wrench", Hazards: []Hazard{Qualified}},
		{ID: "column-heat", Stage: stage, Title: "Shield steering and brake lines from the exhaust", Needs: []string{"column"},
			Done: "a shield stands where a hot part comes near, and nothing rubs", Tools: "sheet, rivets", Hazards: []Hazard{Qualified}},
		{ID: "subframe-square", Stage: stage, Title: "Measure the subframe against the rails", Needs: []string{"rails-again"},
			Done: "its distances to both rails are written down and it stands square", Tools: "tape, plumb line"},
		{ID: "brake-lines", Stage: stage, Title: "Move brake lines out of the way of mounts and exhaust", Needs: []string{"gaps-loaded"},
			Done: "lines are clipped, free of kinks, and away from heat and moving parts", Tools: "flaring tool, clips", Hazards: []Hazard{Qualified, Stands}},
		{ID: "steering-checked", Stage: stage, Title: "Have steering and brakes looked at by somebody qualified", Needs: []string{"column", "brake-lines"},
			Done: "somebody qualified has looked and signed", Hazards: []Hazard{Qualified}},
	}
}

func systems() []Step {
	const stage = Systems
	return []Step{
		{ID: "exhaust", Stage: stage, Title: "Fit the exhaust with flexible hangers", Needs: []string{"gaps-loaded"},
			Done: "it clears shaft, lines and floor with the engine rocked by hand", Tools: "hangers, clamps, stands", Hazards: []Hazard{Stands, Hot}},
		{ID: "radiator", Stage: stage, Title: "Mount the radiator and its hoses", Needs: []string{"bonnet-fan"},
			Done: "on rubber, the highest point of the system can be bled, and the fan clears by a finger's breadth and more", Tools: "spanners, hose clamps"},
		{ID: "fan-shroud", Stage: stage, Title: "Fit fan and shroud", Needs: []string{"radiator"},
			Done: "the fan blows the right way and touches nothing when the engine is rocked", Tools: "spanners", Hazards: []Hazard{Turning}},
		{ID: "fuel-lines", Stage: stage, Title: "Run the fuel lines and the return", Needs: []string{"exhaust"},
			Done: "lines of the right pressure rating, clipped, away from exhaust, shaft and battery cable", Tools: "line cutter, clips", Hazards: []Hazard{Fuel, Stands}},
		{ID: "fuel-tank", Stage: stage, Title: "Put the tank back and test for leaks", Needs: []string{"fuel-lines", "weld-out"},
			Done: "the system holds pressure and not a drop shows; no more welding after this", Tools: "pressure gauge, extinguisher", Hazards: []Hazard{Fuel}},
		{ID: "earth-straps", Stage: stage, Title: "Fit earth straps from engine to frame and body", Needs: []string{"gaps-loaded"},
			Done: "bright metal under each end and a strap across every rubber mount", Tools: "brush, spanners", Hazards: []Hazard{Battery}},
		{ID: "loom", Stage: stage, Title: "Lay the wiring loom with a fuse at the battery", Needs: []string{"earth-straps"},
			Done: "every wire is fused, clipped, in a sleeve where it passes metal, and away from heat", Tools: "crimping tool, meter", Hazards: []Hazard{Battery}},
		{ID: "controls", Stage: stage, Title: "Connect throttle, clutch and gear change", Needs: []string{"lever-room"},
			Done: "the throttle closes by itself from every position with the engine rocked", Tools: "spanners"},
		{ID: "starter-clear", Stage: stage, Title: "Check starter and battery cable against the exhaust", Needs: []string{"exhaust", "loom"},
			Done: "a shield stands where the cable comes near, and it cannot chafe", Tools: "shield, clips", Hazards: []Hazard{Battery}},
	}
}

func finish() []Step {
	const stage = Finish
	return []Step{
		{ID: "mark-weld-out", Stage: stage, Title: "Write down which weld sides cannot be reached with the powertrain in", Needs: []string{"prove-supported"},
			Done: "the weld map in the file lists every side of every bracket, and those marked out = true are the ones", Tools: "lamp, mirror"},
		{ID: "protect", Stage: stage, Title: "Welded: clear the bay for welding", Needs: []string{"mark-weld-out"}, When: WeldedOn,
			Done: "no fuel, no battery, electronics unplugged, isolators, hoses and wiring out or covered", Tools: "blankets, extinguisher", Hazards: []Hazard{Welding, Fuel, Battery}},
		{ID: "weld-in", Stage: stage, Title: "Welded: finish the sides that can be reached, a little on each side in turn", Needs: []string{"protect"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "these sides are finished on the weld map; nobody welded far on one side alone", Tools: "welding set", Hazards: []Hazard{Welding, Structural}},
		{ID: "read-welded", Stage: stage, Title: "Read everything again after welding, before the powertrain comes out", Needs: []string{"weld-in"}, When: WeldedOn,
			Hold: []string{"line.*.powertrain.read@proved", "drift.**?"}, Done: "the readings after welding are in the file and the drift is within its limit", Tools: "angle gauge, tape"},
		{ID: "engine-out", Stage: stage, Title: "Lift the powertrain out for the finish", Needs: []string{"read-welded", "mark-weld-out"},
			Done: "it stands blocked on the floor, and the file says it is out", Tools: "hoist, slings, blocks", Hazards: []Hazard{Lifting}},
		{ID: "weld-out", Stage: stage, Title: "Finish the weld sides that were out of reach", Needs: []string{"engine-out"}, Out: true, When: WeldedOn,
			Done: "every side on the weld map is finished", Tools: "welding set", Hazards: []Hazard{Welding, Structural}},
		{ID: "torque-frame", Stage: stage, Title: "Tighten and mark every bolt that only shows with the powertrain out", Needs: []string{"engine-out"}, Out: true,
			Done: "tightened to the maker's figure and marked with paint", Tools: "torque wrench, paint pen"},
		{ID: "inspect-welds", Stage: stage, Title: "Have the welds inspected", Needs: []string{"weld-out"}, When: WeldedOn, Out: true,
			Hold: []string{"weld.**?"}, Done: "somebody allowed to has looked at each, and what was found is put right", Tools: "lamp, dye, wire brush", Hazards: []Hazard{Structural}},
		{ID: "holes", Stage: stage, Title: "Drill what is still to be drilled in the firewall and frame, and fit grommets", Needs: []string{"engine-out"}, Out: true,
			Done: "every hole is deburred and has its grommet or plug", Tools: "drill, grommets", Hazards: []Hazard{Grinding, Structural}},
		{ID: "paint", Stage: stage, Title: "Clean, prime and paint brackets, welds and engine bay", Needs: []string{"inspect-welds", "holes"}, Out: true,
			Done: "no bare metal is left, inside of boxed sections treated as well", Tools: "brush, primer, paint, mask", Hazards: []Hazard{Grinding}},
		{ID: "sender-plugs", Stage: stage, Title: "Fit senders, core plugs and fittings that are out of reach later", Needs: []string{"engine-out"}, Out: true,
			Done: "each is in with new sealing and tight", Tools: "spanners, sealing"},
		{ID: "clutch", Stage: stage, Title: "Check clutch, release bearing and spigot before the gearbox goes on", Needs: []string{"engine-out"}, Out: true,
			Done: "the plate is centred, the bearing turns freely, and its bolts are tightened and marked", Tools: "centring tool, torque wrench"},
		{ID: "engine-in", Stage: stage, Title: "Put the powertrain back in for good", Needs: []string{"paint", "torque-frame", "sender-plugs", "clutch"},
			Hold: []string{"engine_out.open"}, Done: "nothing on the engine-out list is open, it sits on all mounts, and the file says it is in", Tools: "hoist, leveller, slings", Hazards: []Hazard{Lifting}},
		{ID: "torque-mounts", Stage: stage, Title: "Tighten all mount bolts with the weight on them and mark them", Needs: []string{"engine-in"},
			Hold: []string{"fasteners.marked?"}, Done: "every fastener of the table is tightened and has its paint mark", Tools: "torque wrench, paint pen", Hazards: []Hazard{Stands}},
		{ID: "prove-final", Stage: stage, Title: "Prove all angles for the last time", Needs: []string{"torque-mounts"},
			Hold: []string{"line.*.powertrain.read@proved", "line.*.joint.*.min?", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"},
			Done: "readings of this day hold every joint within its limits", Tools: "angle gauge"},
	}
}
