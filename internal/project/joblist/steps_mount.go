package joblist

func second() []Job {
	const stage = Second
	return []Job{
		{ID: "cut-second", Stage: stage, Title: "Cut and fit the second bracket", Hard: Cuts, Needs: []string{"prove-joints", "prove-even", "prove-plan", "jig-first"},
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?", bracketRoom, bracketRocked}, Done: "its leg is the first one made again by `fitup match`, with stations marked on both rails; it stands on its rail without forcing, both isolators upright", Tools: "saw, grinder, clamps", Hazards: []Hazard{Grinding, Lifting}},
		{ID: "tack-second", Stage: stage, Title: "Tack the second bracket", Hard: Tacks, Needs: []string{"cut-second"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max", linkLoad, stopLoad, stopPlay}, Done: "tacked at opposite corners, and the powertrain sits without strain in both isolators", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Lifting, Arc, Fume, Behind, Structural}},
		{ID: "bolt-second", Stage: stage, Title: "Drill and bolt the second bracket", Hard: Drills, Needs: []string{"cut-second"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max", linkLoad, stopLoad, stopPlay}, Done: "all bolts in and snug, and the isolators sit without strain", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding, Lifting, Behind}},
		{ID: "read-tacked", Stage: stage, Title: "Read it after tacking or bolting", Needs: []string{"tack-second", "bolt-second"},
			Hold:   []string{"line.*.*.read@proved", "line.*.shaft.*.read@proved", "line.*.powertrain.agree?", "line.*.shaft.*.agree?", "line.*.pinion.agree?"},
			Yields: []string{"line.*.*.read", "line.*.shaft.*.read", "readings.tacked"}, Done: "powertrain and pinion are read, and the readings are entered as taken after tacking", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "gaps-loaded", Stage: stage, Title: "Load the mounts and check every gap", Needs: []string{"read-tacked"},
			Done: "the isolators carry the weight, and sump, fan, column and firewall clear as before", Tools: "hoist, tape", Hazards: []Hazard{Lifting}},
	}
}

func support() []Job {
	const stage = Support
	return []Job{
		{ID: "support-member", Stage: stage, Title: "Make the gearbox crossmember", Needs: []string{"read-tacked"}, Hold: []string{"bracket.*.out?", bracketRoom, bracketRocked},
			Done: "it comes off with the gearbox in place, by bolts that can be reached, clears the shaft, and leaves room for the exhaust", Tools: "saw, clamps, tape", Hazards: []Hazard{Grinding, Stands}},
		{ID: "support-fix", Stage: stage, Title: "Tack the gearbox crossmember's brackets", Hard: Tacks, Needs: []string{"support-member"}, When: SupportWelded,
			Hold: []string{"line.*.joint.*.max"}, Done: "tacked, with the isolator in the middle of its slots", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Structural, Stands, Arc, Fume, Behind}},
		{ID: "support-bolt", Stage: stage, Title: "Bolt the gearbox crossmember's brackets", Hard: Drills, Needs: []string{"support-member"}, When: SupportBolted,
			Hold: []string{"line.*.joint.*.max"}, Done: "bolted through sleeves, with the isolator in the middle of its slots", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding, Stands, Behind}},
		{ID: "torque-strut", Stage: stage, Title: "Fit the torque strut or lower link", Needs: []string{"gaps-loaded"}, When: Transaxle,
			Hold: []string{"torque_link.**?"}, Done: "it holds the rocking both ways, its bushes are at rest when the engine is, and its bracket is no single sheet", Tools: "spanners, clamps", Hazards: []Hazard{Structural, Stands}},
		{ID: "carrier-bearing", Stage: stage, Title: "Mount the carrier bearing", Needs: []string{"read-tacked"}, When: TwoPiece,
			Hold: []string{"line.*.joint.1.max"}, Done: "the bearing stands square to its shaft, can be shimmed, and the front joint is nearly straight", Tools: "shims, angle gauge", Hazards: []Hazard{Stands}},
		{ID: "front-line", Stage: stage, Title: "Check the front line over its travel", Needs: []string{"read-tacked"}, When: FrontDrive,
			Hold: []string{"line.front.joint.*.max?"}, Done: "from transfer case to pinion it clears exhaust, sump and crossmember over the whole travel", Tools: "tape, jack", Hazards: []Hazard{Stands, Springs}},
		{ID: "transfer-mount", Stage: stage, Title: "Hold the transfer case and its lever", Needs: []string{"support-member", "transfer-case"}, When: FrontDrive,
			Done: "its torque is held against the frame, and the lever enters each range and axle when the engine rocks", Tools: "spanners, tape", Hazards: []Hazard{Stands, Lifting}},
		{ID: "prove-supported", Stage: stage, Title: "Prove the angles on the gearbox support", Needs: []string{"support-fix", "support-bolt", "carrier-bearing", "front-line", "transfer-mount", "torque-strut", "gaps-loaded"},
			Hold: []string{"line.*.*.read@proved", "line.*.joint.*.max@proved", "line.*.shaft.*.mismatch@proved?"}, Done: "readings after tacking hold every joint within its limits", Tools: "angle gauge", Hazards: []Hazard{Stands}},
	}
}

func subframe() []Job {
	const stage = Subframe
	return []Job{
		{ID: "column", Stage: stage, Title: "Fit the steering shaft and its joints", Needs: []string{"gaps-loaded"},
			Hold: []string{"steering.**?", "room.steering?"},
			Done: "the shaft turns evenly from lock to lock, its joints are in phase, and every clamp bolt is in its groove", Tools: "spanners, torque wrench", Hazards: []Hazard{Qualified, Airbag}},
		{ID: "subframe-square", Stage: stage, Title: "Measure the subframe against the rails", Needs: []string{"rails-again"},
			Hold: []string{"subframe.**?", "room.subframe?"}, Done: "what was measured to it fits together, and every corner is where it is to be: square, at its wheelbase, centred, level; or there is none", Tools: "tape, plumb line, level, angle gauge"},
		{ID: "subframe-brackets", Stage: stage, Title: "Cut and fit the subframe's brackets", Hard: Cuts, Needs: []string{"subframe-square"},
			Hold: []string{"brackets.subframe?", "room.subframe?"}, Done: "each stands on the rail and at its corner without a gap wider than a weld can bridge, and nothing was pulled to meet; or there are none", Tools: "saw, grinder, clamps", Hazards: []Hazard{Grinding, Stands}},
		{ID: "subframe-tack", Stage: stage, Title: "Tack the subframe crosswise", Hard: Tacks, Needs: []string{"subframe-brackets"},
			Hold: []string{"subframe.**?", "brackets.subframe?"}, Done: "one short tack at left front, right rear, right front and left rear in turn, all corners tacked before any weld, measured again after each; or it is bolted, or there is none", Tools: "welding set, clamps, tape", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind, Stands}},
		{ID: "subframe-again", Stage: stage, Title: "Measure the tacked subframe again", Needs: []string{"subframe-tack"},
			Hold: []string{"subframe.**@proved?"}, Done: "diagonals, wheelbase and heights were taken again with all corners tacked, and they hold; a tack that pulled is cut and set again; or there is none", Tools: "tape, plumb line, level, angle gauge", Hazards: []Hazard{Stands}},
		{ID: "front-caster", Stage: stage, Title: "Check caster where the axle was turned", Needs: []string{"front-line"}, When: FrontDrive,
			Hold: []string{"pickup.*.*.caster?", "pickup.*.caster?"},
			Done: "where the front axle was turned for its pinion, the caster is measured and within what its maker allows", Tools: "angle gauge, alignment gauge", Hazards: []Hazard{Qualified, Stands}},
		{ID: "brake-lines", Stage: stage, Title: "Move brake lines away from the mounts", Needs: []string{"gaps-loaded"},
			Done: "lines are clipped, free of kinks, and away from mounts, exhaust, heat and moving parts", Tools: "flaring tool, clips", Hazards: []Hazard{Qualified, Stands, Dust}},
	}
}

func systems() []Job {
	const stage = Systems
	return []Job{
		{ID: "exhaust", Stage: stage, Title: "Fit the exhaust on flexible hangers", Needs: []string{"engine-in", "manifold-room"},
			Done: "it clears shaft, lines and floor with the engine rocked by hand", Tools: "hangers, clamps, stands", Hazards: []Hazard{Stands, Hot}},
		{ID: "column-heat", Stage: stage, Title: "Shield steering and brakes from heat", Needs: []string{"column", "exhaust"},
			Done: "a shield stands where a hot part comes near steering or brake lines, and nothing rubs", Tools: "sheet, rivets", Hazards: []Hazard{Qualified}},
		{ID: "radiator", Stage: stage, Title: "Mount the radiator and its hoses", Needs: []string{"engine-in", "bonnet-fan"},
			Done: "on rubber, the highest point of the system can be bled, and the fan clears by a finger's breadth and more", Tools: "spanners, hose clamps"},
		{ID: "fan-shroud", Stage: stage, Title: "Fit fan and shroud", Needs: []string{"radiator"},
			Done: "the fan blows the right way and touches nothing when the engine is rocked", Tools: "spanners", Hazards: []Hazard{Turning}},
		{ID: "intake", Stage: stage, Title: "Fit air intake and filter", Needs: []string{"engine-in", "intake-room"},
			Done: "nothing loose can be drawn in, and nothing rubs when the engine rocks", Tools: "spanners"},
		{ID: "accessories", Stage: stage, Title: "Fit alternator, compressor and belts", Needs: []string{"engine-in", "accessory-room"},
			Done: "each belt runs straight and is tight, and no part touches when the engine rocks", Tools: "spanners, straight edge", Hazards: []Hazard{Turning}},
		{ID: "gearbox-cooler", Stage: stage, Title: "Run the gearbox cooler lines", Needs: []string{"engine-in", "radiator"},
			Done: "lines are clipped and free of chafing, and the cooler stands in the air; or the gearbox has none", Tools: "spanners, clips", Hazards: []Hazard{Hot, Stands}},
		{ID: "fuel-lines", Stage: stage, Title: "Run the fuel lines and the return", Needs: []string{"exhaust"},
			Done: "lines of the right pressure rating, clipped, away from exhaust, shaft and battery cable", Tools: "line cutter, clips", Hazards: []Hazard{Fuel, Stands}},
		{ID: "fuel-tank", Stage: stage, Title: "Put the tank back and test for leaks", Needs: []string{"fuel-lines", "weld-out", "tunnel-close", "column-heat"},
			Done: "the system holds pressure and not a drop shows; no more welding after this", Tools: "pressure gauge, extinguisher", Hazards: []Hazard{Fuel, Stands}},
		{ID: "earth-straps", Stage: stage, Title: "Fit earth straps from engine to frame", Needs: []string{"engine-in"},
			Done: "straps go from engine to frame and body, bright metal under each end, and one bridges every isolator", Tools: "brush, spanners", Hazards: []Hazard{Battery}},
		{ID: "loom", Stage: stage, Title: "Lay the wiring loom with its fuses", Needs: []string{"earth-straps"},
			Done: "a fuse stands at the battery; every wire is fused, clipped, in a sleeve where it passes metal, and away from heat", Tools: "crimping tool, meter", Hazards: []Hazard{Battery}},
		{ID: "controls", Stage: stage, Title: "Connect throttle, clutch and gear change", Needs: []string{"engine-in", "lever-room"},
			Done: "the throttle closes by itself from every position with the engine rocked", Tools: "spanners"},
		{ID: "neutral-switch", Stage: stage, Title: "Connect the neutral start switch", Needs: []string{"controls", "loom"},
			Done: "the starter turns with the lever in neutral or park, or the clutch down, and never otherwise", Tools: "meter", Hazards: []Hazard{Battery, Turning}},
		{ID: "speed-sensor", Stage: stage, Title: "Fit speedometer and speed sensors", Needs: []string{"loom"},
			Done: "speedometer and wheel speed sensors have their signal, and it is set for tyre and axle ratio", Tools: "meter"},
		{ID: "engine-computer", Stage: stage, Title: "Match engine computer and immobiliser", Needs: []string{"loom"},
			Done: "engine computer, key and immobiliser know each other, and no warning lamp is taken out", Tools: "diagnostic reader", Hazards: []Hazard{Battery}},
		{ID: "emissions", Stage: stage, Title: "Connect the emissions equipment", Needs: []string{"exhaust", "intake", "engine-computer"},
			Done: "catalyst, sensors, tank breather and crankcase breather are on, as local rules require for this engine", Tools: "spanners, diagnostic reader", Hazards: []Hazard{Fuel}},
		{ID: "power-steering", Stage: stage, Title: "Fit power steering pump and hoses", Needs: []string{"accessories", "column"},
			Done: "hoses of the right pressure rating, clear of heat and free at each lock; or the steering has no pump", Tools: "spanners", Hazards: []Hazard{Qualified}},
		{ID: "brake-servo", Stage: stage, Title: "Fit brake servo and its vacuum", Needs: []string{"engine-in", "servo-room"},
			Done: "the hose has its valve, a vacuum drawn by hand holds, and the brake pedal has its whole travel; or there is no servo", Tools: "hand vacuum pump", Hazards: []Hazard{Qualified}},
		{ID: "handbrake", Stage: stage, Title: "Connect the handbrake", Needs: []string{"engine-in"},
			Done: "it holds each wheel it acts on, and its cable clears shaft and exhaust", Tools: "spanners", Hazards: []Hazard{Qualified, Stands}},
		{ID: "steering-checked", Stage: stage, Title: "Have steering and brakes looked at", Needs: []string{"column-heat", "brake-lines", "front-caster", "handbrake", "brake-servo", "power-steering"},
			Hold: []string{"steering.**?", "pickup.*.*.caster?", "pickup.*.caster?"}, Done: "somebody qualified has looked at both and signed", Hazards: []Hazard{Qualified}},
		{ID: "starter-clear", Stage: stage, Title: "Check the starter cable by the exhaust", Needs: []string{"exhaust", "loom"},
			Done: "a shield stands where the cable comes near, and it cannot chafe", Tools: "shield, clips", Hazards: []Hazard{Battery}},
	}
}

func finish() []Job {
	const stage = Finish
	return []Job{
		{ID: "mark-weld-out", Stage: stage, Title: "List the weld sides out of reach", Needs: []string{"prove-supported", "subframe-again"},
			Hold: []string{"welds.given"}, Yields: []string{"welds.given"}, Done: "the weld map in the file lists every side of every bracket, and those marked out = true are the ones", Tools: "lamp, mirror"},
		{ID: "protect", Stage: stage, Title: "Clear the bay for welding", Needs: []string{"mark-weld-out", "brake-lines", "make-safe"}, When: WeldedOn,
			Done: "no fuel, no battery, electronics unplugged, isolators, hoses and wiring out or covered", Tools: "blankets, extinguisher", Hazards: []Hazard{Welding, Fuel, Battery, Airbag}},
		{ID: "subframe-weld", Stage: stage, Title: "Weld the subframe at opposite corners", Hard: Welds, Needs: []string{"protect", "subframe-again"},
			Finish: true, Hold: []string{"subframe.**@proved?", "brackets.subframe?"}, Done: "a short run at left front, right rear, right front and left rear in turn, cooled until a hand can lie on it, and measured again after each round; what was measured after the last still holds; or it is bolted, or there is none", Tools: "welding set, tape", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind, Stands}},
		{ID: "weld-in", Stage: stage, Title: "Finish the weld sides within reach", Hard: Welds, Needs: []string{"protect", "subframe-weld"}, When: WeldedOn,
			Finish: true, Hold: []string{"welds.finished.in"}, Yields: []string{"welds.finished.in"}, Done: "these sides are finished on the weld map, a little on each side in turn; nobody welded far on one side alone", Tools: "welding set", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind}},
		{ID: "read-welded", Stage: stage, Title: "Read everything again after welding", Needs: []string{"weld-in"}, When: WeldedOn,
			Hold: []string{"readings.welded", "drift.**", "frame.change?"}, Yields: []string{"readings.welded", "drift.**", "frame.change"}, Done: "the readings after welding are in the file before the powertrain comes out, and the drift is within its limit", Tools: "angle gauge, tape", Hazards: []Hazard{Stands}},
		{ID: "engine-out", Stage: stage, Title: "Lift the powertrain out for the finish", Needs: []string{"read-welded", "mark-weld-out", "subframe-weld"},
			Done: "it stands blocked on the floor, and the file says it is out", Tools: "hoist, slings, blocks", Hazards: []Hazard{Lifting}},
		{ID: "weld-out", Stage: stage, Title: "Finish the weld sides out of reach", Hard: Welds, Needs: []string{"engine-out"}, Out: true, When: WeldedOn,
			Finish: true, Hold: []string{"welds.finished"}, Yields: []string{"welds.finished"}, Done: "every side on the weld map is finished", Tools: "welding set", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind}},
		{ID: "tunnel-close", Stage: stage, Title: "Close the floor tunnel", Needs: []string{"tunnel-cut", "engine-out", "protect"}, Out: true,
			Done: "closed, sealed against exhaust gas and water, and what lies on it moved away before any weld; or nothing was cut", Tools: "welding set, sealer, rivets", Hazards: []Hazard{Welding, Arc, Fume, Behind, Structural, Airbag}},
		{ID: "torque-frame", Stage: stage, Title: "Tighten the bolts reached with it out", Needs: []string{"engine-out"}, Out: true,
			Done: "tightened to the maker's figure and marked with paint", Tools: "torque wrench, paint pen", Hazards: []Hazard{Lifting}},
		{ID: "inspect-welds", Stage: stage, Title: "Have the welds inspected", Needs: []string{"weld-out"}, When: WeldedOn, Out: true,
			Hold: []string{"welds.inspected"}, Yields: []string{"welds.inspected"}, Done: "somebody allowed to has looked at each, and what was found is put right", Tools: "lamp, dye penetrant, wire brush", Hazards: []Hazard{Structural, Lifting}},
		{ID: "holes", Stage: stage, Title: "Drill the last holes and fit grommets", Hard: Drills, Needs: []string{"engine-out"}, Out: true,
			Done: "every hole in firewall and frame is deburred and has its grommet or plug", Tools: "drill, grommets", Hazards: []Hazard{Grinding, Structural, Behind}},
		{ID: "paint", Stage: stage, Title: "Clean, prime and paint the bay", Needs: []string{"inspect-welds", "holes", "tunnel-close"}, Out: true,
			Done: "no bare metal is left, inside of boxed sections treated as well", Tools: "brush, primer, paint, mask", Hazards: []Hazard{Grinding, Solvent}},
		{ID: "seal-shell", Stage: stage, Title: "Seal the seams and wax the cavities", Needs: []string{"paint"}, When: UnitBody, Out: true,
			Done: "no seam and no closed section that was heated is left bare", Tools: "seam sealer, cavity wax, mask", Hazards: []Hazard{Solvent}},
		{ID: "sender-plugs", Stage: stage, Title: "Fit senders and plugs out of reach later", Needs: []string{"engine-out"}, Out: true,
			Done: "senders, core plugs and fittings are in with new sealing, and tight", Tools: "spanners, sealing"},
		{ID: "clutch", Stage: stage, Title: "Check clutch, release and spigot bearing", Needs: []string{"engine-out"}, Out: true,
			Done: "the plate is centred on the flywheel, release bearing and spigot (pilot) bearing turn freely, and the bolts are tightened and marked", Tools: "centring tool, torque wrench", Hazards: []Hazard{Dust}},
		{ID: "engine-in", Stage: stage, Title: "Put the powertrain back in for good", Needs: []string{"paint", "seal-shell", "torque-frame", "sender-plugs", "clutch"},
			Hold: []string{"engine_out.open"}, Done: "nothing on the engine-out list is open, it sits on all mounts, and the file says it is in", Tools: "hoist, leveller, slings", Hazards: []Hazard{Lifting}},
		{ID: "torque-mounts", Stage: stage, Title: "Tighten and mark all mount bolts", Needs: []string{"engine-in"},
			Hold: []string{"fasteners.marked"}, Yields: []string{"fasteners.marked"}, Done: "with the weight on them, every fastener of the table is tightened and has its paint mark", Tools: "torque wrench, paint pen", Hazards: []Hazard{Stands}},
		{ID: "front-height", Stage: stage, Title: "Set the front height with the new weight", Needs: []string{"torque-mounts", "first-heights"},
			Hold: []string{"axle.*.height?"},
			Done: "with ballast for what is still missing it stands at the height it came with, or at one that local rules accept, and the alignment is checked", Tools: "tape, wheel scales, spring compressor", Hazards: []Hazard{Springs, Stands, Qualified}},
		{ID: "prove-final", Stage: stage, Title: "Prove all angles for the last time", Needs: []string{"torque-mounts", "front-height"},
			Hold: []string{"line.*.*.read@proved", "line.*.joint.*.min@proved?", "line.*.joint.*.max@proved", "line.*.shaft.*.mismatch@proved?", "readings.welded", "welds.inspected"},
			Done: "readings of this day hold every joint within its limits", Tools: "angle gauge", Hazards: []Hazard{Stands}},
	}
}
