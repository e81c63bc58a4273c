package joblist

func survey() []Step {
	const stage = Survey
	return []Step{
		{ID: "read-rules", Stage: stage, Title: "Ask what local rules want of the swap", Tools: "a telephone, paper",
			Done: "it is written down who has to approve the swap, who may weld and inspect, and what papers they want", Hazards: []Hazard{Structural, Qualified}},
		{ID: "make-safe", Stage: stage, Title: "Chock the wheels, take the battery off, drain the fuel and take the tank away", Needs: []string{"read-rules"},
			Done: "no fuel and no live battery lead is left in the vehicle", Tools: "chocks, closed fuel cans, spanners", Hazards: []Hazard{Fuel, Battery}},
		{ID: "label-wiring", Stage: stage, Title: "Photograph and label wiring, hoses and linkages before anything comes off", Needs: []string{"make-safe"},
			Done: "every loose end has a label that says where it was", Tools: "camera, tape, marker"},
		{ID: "old-out", Stage: stage, Title: "Lift the old engine and gearbox out", Needs: []string{"label-wiring"},
			Done: "they stand on the floor, blocked so that they cannot tip", Tools: "hoist, slings, blocks", Hazards: []Hazard{Lifting, Stands}},
		{ID: "clean-frame", Stage: stage, Title: "Clean the frame and look for cracks, rust and old repairs", Needs: []string{"old-out"},
			Done: "every weld and corner of the engine bay has been seen bare and what is wrong is marked", Tools: "brush, scraper, lamp", Hazards: []Hazard{Grinding, Structural}},
		{ID: "ride-height", Stage: stage, Title: "Set the vehicle at ride height on level ground, with the weight it will carry", Needs: []string{"clean-frame"},
			Done: "tyres at their pressure, and the height at all four wheels is written down", Tools: "level, tape, ballast, stands", Hazards: []Hazard{Stands}},
		{ID: "level-frame", Stage: stage, Title: "Read the slope of the frame or of the floor with the gauge", Needs: []string{"ride-height"},
			Done: "a reading of frame or floor is in the file, so that the slopes of everything else can be taken from it", Tools: "angle gauge"},
		{ID: "diagonals", Stage: stage, Title: "Measure both diagonals of the frame between the same holes", Needs: []string{"ride-height"},
			Done: "both diagonals are written down, read twice; what they differ by is explained or put right", Tools: "tape, plumb line, chalk"},
		{ID: "rail-points", Stage: stage, Title: "Measure both rails and put their points in the file", Needs: []string{"diagonals"},
			Done: "each rail has its points, depth and width; the sketch looks like the vehicle", Tools: "tape, plumb line, square"},
		{ID: "pinion-point", Stage: stage, Title: "Measure where the pinion is and how it falls", Needs: []string{"level-frame"},
			Hold: []string{"line.*.pinion.read"}, Done: "its point is in the file and its slope has been read at ride height", Tools: "angle gauge, tape, plumb line"},
		{ID: "springs-leaf", Stage: stage, Title: "Leaf springs: measure eyes, shackles and seats", Needs: []string{"ride-height"}, When: LeafSprings,
			Done: "the points of the springs are in the file, and bushes and leaves are sound", Tools: "tape, plumb line"},
		{ID: "springs-links", Stage: stage, Title: "Links: measure both ends of every link", Needs: []string{"ride-height"}, When: Links,
			Done: "the points of the links are in the file, and no bush or bracket is worn", Tools: "tape, plumb line"},
		{ID: "springs-arms", Stage: stage, Title: "Trailing arms: measure their pivots", Needs: []string{"ride-height"}, When: Arms,
			Done: "the pivots are in the file, and no bush is worn", Tools: "tape, plumb line"},
		{ID: "half-shafts", Stage: stage, Title: "Fixed differential: measure its mounts and the half shafts' joints", Needs: []string{"ride-height"}, When: FixedDiff,
			Done: "inner and outer joints are in the file", Tools: "tape, plumb line"},
		{ID: "weigh", Stage: stage, Title: "Weigh the new powertrain and find its centre of mass", Needs: []string{"old-out"},
			Done: "mass and centre of mass are in the file, with clutch and the parts that stay on", Tools: "hoist scale, slings", Hazards: []Hazard{Lifting}},
		{ID: "measure-powertrain", Stage: stage, Title: "Measure pads, output and outline of the powertrain on the floor", Needs: []string{"weigh"},
			Done: "pads, output and boxes are in the file, measured from one zero", Tools: "tape, square, level"},
	}
}

func rails() []Step {
	const stage = Rails
	return []Step{
		{ID: "repair-frame", Stage: stage, Title: "Have cracks and rust of the frame repaired", Needs: []string{"clean-frame"},
			Done: "every mark of the survey is repaired by somebody allowed to, and looked at again", Tools: "welding set, grinder", Hazards: []Hazard{Welding, Structural, Grinding}},
		{ID: "old-brackets", Stage: stage, Title: "Cut the old mounts off and dress the rails", Needs: []string{"rail-points", "make-safe"},
			Done: "the rails are flat and bare where the new brackets go, and no thinner than they were", Tools: "grinder, file", Hazards: []Hazard{Grinding, Fuel}},
		{ID: "rail-thickness", Stage: stage, Title: "Measure the wall of the rails where brackets will stand", Needs: []string{"old-brackets"},
			Done: "the wall is written down at each place, and nowhere is it thinned by rust", Tools: "caliper through a hole, or a wall gauge"},
		{ID: "crossmember-out", Stage: stage, Title: "Decide which crossmembers must move, and brace the frame before one is cut", Needs: []string{"diagonals", "rail-thickness"},
			Done: "braces hold both rails at their measured distance ahead of and behind each cut", Tools: "braces, clamps, tape", Hazards: []Hazard{Structural}},
		{ID: "crossmember-in", Stage: stage, Title: "Welded: tack the new crossmembers", Needs: []string{"crossmember-out"}, When: WeldedOn,
			Done: "tacked at all corners; the diagonals read as they did before", Tools: "welding set, clamps, tape", Hazards: []Hazard{Welding, Structural}},
		{ID: "crossmember-bolt", Stage: stage, Title: "Bolted: drill for the new crossmembers and bolt them with crush sleeves", Needs: []string{"crossmember-out"}, When: BoltedOn,
			Done: "no hole stands in a flange or near an edge; sleeves keep the rails from closing", Tools: "drill, reamer, torque wrench", Hazards: []Hazard{Structural, Grinding}},
		{ID: "rails-again", Stage: stage, Title: "Measure the diagonals again", Needs: []string{"crossmember-in", "crossmember-bolt"},
			Hold: []string{"drift.**?"}, Done: "they agree with the first ones within what the tape is good for", Tools: "tape, plumb line"},
	}
}

func place() []Step {
	const stage = Place
	return []Step{
		{ID: "hang", Stage: stage, Title: "Hang engine and gearbox in place and block them up", Needs: []string{"measure-powertrain", "old-brackets"},
			Done: "blocks or stands carry the weight, and it can be moved a little and stays", Tools: "hoist, leveller, blocks, stands", Hazards: []Hazard{Lifting, Stands}},
		{ID: "placement", Stage: stage, Title: "Measure heights, setback and side offset into the file", Needs: []string{"hang"},
			Done: "the placement in the file is where the powertrain hangs", Tools: "tape, plumb line, level"},
		{ID: "read-hung", Stage: stage, Title: "Read powertrain, shaft and pinion with the gauge", Needs: []string{"placement", "pinion-point"},
			Hold: []string{"line.*.powertrain.read", "line.*.shaft.*.read", "line.*.pinion.read"},
			Done: "each axis is read at least twice, with the lower end noted", Tools: "angle gauge, a straight tube in place of the shaft"},
		{ID: "agree", Stage: stage, Title: "Compare readings and model, and find out why where they differ", Needs: []string{"read-hung"},
			Hold: []string{"line.*.powertrain.agree?", "line.*.shaft.*.agree?", "line.*.pinion.agree?"}, Done: "every slope read agrees with the one planned", Tools: "angle gauge, tape"},
		{ID: "choose-angles", Stage: stage, Title: "Move the powertrain until the joints work within their angles", Needs: []string{"agree"},
			Hold: []string{"line.*.joint.*.min?", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "every joint angle and difference is ok or tight", Tools: "wedges, blocks, hoist", Hazards: []Hazard{Lifting}},
		{ID: "choose-travel", Stage: stage, Title: "Check joints and slip joint between bump and droop", Needs: []string{"choose-angles"},
			Hold: []string{"line.*.travel.joint.*.max?", "line.*.travel.slip.*?", "line.*.travel.reach?"}, Done: "nothing binds or runs out of room over the travel of the axle", Tools: "jack, tape", Hazards: []Hazard{Stands}},
		{ID: "sump-axle", Stage: stage, Title: "Check sump and oil pick-up against axle and crossmember at full bump", Needs: []string{"choose-angles"},
			Done: "the gap at full bump is written down, with room for the engine to rock", Tools: "tape, modelling clay, jack", Hazards: []Hazard{Stands}},
		{ID: "bonnet-fan", Stage: stage, Title: "Check bonnet, fan, radiator and firewall", Needs: []string{"choose-angles"},
			Done: "the gaps are written down, with room for the engine to rock", Tools: "tape, modelling clay"},
		{ID: "steering-room", Stage: stage, Title: "Check steering column, box and linkage from lock to lock", Needs: []string{"choose-angles"},
			Done: "nothing comes near them at either lock, hot parts least of all", Tools: "tape, a helper", Hazards: []Hazard{Qualified}},
		{ID: "service-room", Stage: stage, Title: "Check that filter, plugs, starter and clutch can be reached", Needs: []string{"choose-angles"},
			Done: "what cannot be reached with the powertrain in is on the engine-out list", Tools: "the spanners the job will take"},
		{ID: "lever-room", Stage: stage, Title: "Check gear lever, clutch linkage and floor tunnel", Needs: []string{"choose-angles"},
			Done: "every gear goes in, and the lever clears seat and dash", Tools: "tape"},
	}
}

func firstMount() []Step {
	const stage = FirstMount
	return []Step{
		{ID: "isolators", Stage: stage, Title: "Choose the isolators by load and by the torque they hold", Needs: []string{"weigh"},
			Done: "each isolator carries its share with room to spare, and cannot let go when its rubber fails", Tools: "the isolator maker's sheet"},
		{ID: "cut-first", Stage: stage, Title: "Cut and fit the first bracket", Needs: []string{"isolators", "choose-angles", "sump-axle", "steering-room"},
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "it stands on the rail without a gap wider than a weld can bridge", Tools: "saw, grinder, clamps", Hazards: []Hazard{Grinding}},
		{ID: "tack-first", Stage: stage, Title: "Welded: tack the first bracket at its corners", Needs: []string{"cut-first"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "short tacks on opposite corners, isolator fitted, powertrain still on its blocks", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Lifting}},
		{ID: "bolt-first", Stage: stage, Title: "Bolted: drill and bolt the first bracket", Needs: []string{"cut-first"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "all bolts in, snug, and no hole filed long to make it fit", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding}},
		{ID: "read-first", Stage: stage, Title: "Read the powertrain again with the first mount fixed", Needs: []string{"tack-first", "bolt-first"},
			Hold: []string{"line.*.powertrain.read"}, Done: "a new reading is in the file", Tools: "angle gauge"},
	}
}

func angles() []Step {
	const stage = Angles
	return []Step{
		{ID: "repeat-readings", Stage: stage, Title: "Read each axis three times, with the gauge turned round once", Needs: []string{"read-first"},
			Hold: []string{"line.*.powertrain.read", "line.*.pinion.read"}, Done: "the repeats agree within what the gauge is good for", Tools: "angle gauge"},
		{ID: "prove-joints", Stage: stage, Title: "Prove the joint angles", Needs: []string{"repeat-readings"},
			Hold: []string{"line.*.joint.*.min?", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"},
			Done: "all joints are ok or tight by readings and not by the plan alone", Tools: "angle gauge"},
		{ID: "prove-even", Stage: stage, Title: "Prove how evenly the line runs at its largest speed", Needs: []string{"prove-joints"},
			Hold: []string{"line.*.residual?", "line.*.shaft.*.inertia.*?"}, Done: "uneven running at the axle and of the shafts is within its limits"},
		{ID: "prove-plan", Stage: stage, Title: "Look at the line from above: side offset and heading", Needs: []string{"prove-joints"},
			Done: "crankshaft and pinion lie parallel from above, or the angle between them is in the file", Tools: "plumb line, straight edge, tape"},
	}
}
