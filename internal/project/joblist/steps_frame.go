package joblist

func survey() []Step {
	const stage = Survey
	return []Step{
		{ID: "read-rules", Stage: stage, Title: "Ask what local rules require of the swap", Tools: "a telephone, paper",
			Done: "it is written down who has to approve the swap, who may weld and inspect, and what papers they want", Hazards: []Hazard{Structural, Qualified}},
		{ID: "first-heights", Stage: stage, Title: "Measure its height and loads as it came", Needs: []string{"read-rules"},
			Done: "the height at all four wheels and the load on each axle are written down before anything comes off", Tools: "tape, wheel scales"},
		{ID: "first-slopes", Stage: stage, Title: "Read the old powertrain and pinion", Needs: []string{"first-heights"},
			Done: "both slopes are written down as it came, at that height; afterwards they cannot be read any more", Tools: "angle gauge", Hazards: []Hazard{Stands}},
		{ID: "first-output", Stage: stage, Title: "Measure where the old output is", Needs: []string{"first-heights"},
			Done: "the centre of the old output joint is written down from rails and axle", Tools: "tape, plumb line", Hazards: []Hazard{Stands}},
		{ID: "high-voltage", Stage: stage, Title: "Hybrid: have high voltage isolated", Needs: []string{"read-rules"},
			Done: "somebody qualified has isolated it, locked it off and proved it dead, or the vehicle has none", Hazards: []Hazard{HighVoltage, Battery}},
		{ID: "refrigerant", Stage: stage, Title: "Have the refrigerant recovered", Needs: []string{"read-rules"},
			Done: "somebody licensed has recovered it and the open ends are plugged, or the vehicle has none", Hazards: []Hazard{Refrigerant}},
		{ID: "make-safe", Stage: stage, Title: "Chock it; battery off, fuel tank out", Needs: []string{"first-heights", "high-voltage"},
			Done: "the wheels are chocked, the battery is off, the fuel is drained and the tank is out: no fuel and no live battery lead is left in the vehicle", Tools: "chocks, closed fuel cans, spanners", Hazards: []Hazard{Fuel, Battery, Stands, Airbag}},
		{ID: "drain", Stage: stage, Title: "Drain coolant and oil", Needs: []string{"make-safe"},
			Done: "they are in closed pans, away from ground and animals, and nothing drips", Tools: "pans, stands", Hazards: []Hazard{Hot, Stands}},
		{ID: "label-wiring", Stage: stage, Title: "Photograph and label wiring and hoses", Needs: []string{"make-safe"},
			Done: "every loose end of wiring, hose and linkage has a label that says where it was, before anything came off", Tools: "camera, tape, marker"},
		{ID: "old-out", Stage: stage, Title: "Lift the old engine and gearbox out", Needs: []string{"label-wiring", "drain", "refrigerant", "first-slopes", "first-output"},
			Done: "they stand on the floor, blocked so that they cannot tip", Tools: "hoist, slings, blocks", Hazards: []Hazard{Lifting, Stands, Hot}},
		{ID: "clean-frame", Stage: stage, Title: "Clean the frame and look for damage", Needs: []string{"old-out"},
			Done: "every weld and corner of the engine bay has been seen bare, and cracks, rust and old repairs are marked", Tools: "brush, scraper, lamp", Hazards: []Hazard{Grinding, Structural, Dust}},
		{ID: "ride-height", Stage: stage, Title: "Set it at ride height with its load", Needs: []string{"clean-frame"},
			Done: "it stands on level ground with the weight it will carry, tyres at their pressure, and the height at all four wheels is written down", Tools: "level, tape, ballast, stands", Hazards: []Hazard{Stands}},
		{ID: "level-frame", Stage: stage, Title: "Read the slope of frame or floor", Needs: []string{"ride-height"},
			Done: "a reading of frame or floor is in the file, so that the slopes of everything else can be taken from it", Tools: "angle gauge", Hazards: []Hazard{Stands}},
		{ID: "diagonals", Stage: stage, Title: "Measure both diagonals of the frame", Needs: []string{"ride-height"},
			Done: "both diagonals are written down between the same holes, read twice; what they differ by is explained or put right", Tools: "tape, plumb line, chalk", Hazards: []Hazard{Stands}},
		{ID: "rail-points", Stage: stage, Title: "Measure both rails into the file", Needs: []string{"diagonals"},
			Done: "each rail has its points, depth and width; the sketch looks like the vehicle", Tools: "tape, plumb line, square", Hazards: []Hazard{Stands}},
		{ID: "pinion-point", Stage: stage, Title: "Measure the pinion: place and slope", Needs: []string{"level-frame"},
			Hold: []string{"line.*.pinion.read"}, Done: "its point is in the file and its slope has been read at ride height", Tools: "angle gauge, tape, plumb line", Hazards: []Hazard{Stands}},
		{ID: "springs-leaf", Stage: stage, Title: "Measure the leaf springs", Needs: []string{"ride-height"}, When: LeafSprings,
			Done: "eyes, shackles and seats are in the file, and bushes and leaves are sound", Tools: "tape, plumb line"},
		{ID: "springs-links", Stage: stage, Title: "Measure both ends of every link", Needs: []string{"ride-height"}, When: Links,
			Done: "the points of the links are in the file, and no bush or bracket is worn", Tools: "tape, plumb line"},
		{ID: "springs-arms", Stage: stage, Title: "Measure the trailing arms' pivots", Needs: []string{"ride-height"}, When: Arms,
			Done: "the pivots are in the file, and no bush is worn", Tools: "tape, plumb line"},
		{ID: "half-shafts", Stage: stage, Title: "Measure the half shafts' joints", Needs: []string{"ride-height"}, When: FixedDiff,
			Done: "inner and outer joints and the mounts of the differential are in the file", Tools: "tape, plumb line"},
		{ID: "weigh", Stage: stage, Title: "Weigh it and find its centre of mass", Needs: []string{"old-out"},
			Done: "mass and centre of mass are in the file, with clutch and the parts that stay on", Tools: "hoist scale, slings", Hazards: []Hazard{Lifting}},
		{ID: "measure-powertrain", Stage: stage, Title: "Measure the powertrain on the floor", Needs: []string{"weigh"},
			Done: "pads, output and outline are in the file, measured from one zero", Tools: "tape, square, level", Hazards: []Hazard{Lifting}},
	}
}

func rails() []Step {
	const stage = Rails
	return []Step{
		{ID: "repair-frame", Stage: stage, Title: "Have cracks and rust repaired", Needs: []string{"clean-frame"},
			Done: "every mark of the survey is repaired by somebody allowed to, and looked at again", Tools: "welding set, grinder", Hazards: []Hazard{Welding, Structural, Grinding, Arc, Fume, Behind}},
		{ID: "old-brackets", Stage: stage, Title: "Cut the old mounts off, dress the rails", Needs: []string{"rail-points", "make-safe"},
			Done: "the rails are flat and bare where the new brackets go, and no thinner than they were", Tools: "grinder, file", Hazards: []Hazard{Grinding, Fuel, Behind, Structural}},
		{ID: "rail-thickness", Stage: stage, Title: "Measure the rail walls at the brackets", Needs: []string{"old-brackets"},
			Done: "the wall is written down at each place, and nowhere is it thinned by rust", Tools: "caliper through a hole, or an ultrasonic thickness gauge"},
		{ID: "crossmember-out", Stage: stage, Title: "Brace the frame, then cut a crossmember", Needs: []string{"diagonals", "rail-thickness"},
			Done: "it is decided which crossmembers must move, and braces hold both rails at their measured distance ahead of and behind each cut", Tools: "saw, grinder, braces, clamps, tape", Hazards: []Hazard{Structural, Grinding}},
		{ID: "crossmember-in", Stage: stage, Title: "Tack the new crossmembers", Needs: []string{"crossmember-out"}, When: WeldedOn,
			Done: "tacked at all corners; the diagonals read as they did before", Tools: "welding set, clamps, tape", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind}},
		{ID: "crossmember-bolt", Stage: stage, Title: "Drill and bolt the new crossmembers", Needs: []string{"crossmember-out"}, When: BoltedOn,
			Done: "bolted through crush sleeves, so that the rails cannot close; no hole stands in a flange or near an edge", Tools: "drill, reamer, torque wrench", Hazards: []Hazard{Structural, Grinding, Behind}},
		{ID: "rails-again", Stage: stage, Title: "Measure the diagonals again", Needs: []string{"crossmember-in", "crossmember-bolt"},
			Hold: []string{"drift.**?"}, Done: "they agree with the first ones within what the tape is good for", Tools: "tape, plumb line"},
	}
}

func place() []Step {
	const stage = Place
	return []Step{
		{ID: "hang", Stage: stage, Title: "Hang the powertrain and block it up", Needs: []string{"measure-powertrain", "old-brackets"},
			Done: "blocks or stands carry engine and gearbox, and it can be moved a little and stays", Tools: "hoist, leveller, blocks, stands", Hazards: []Hazard{Lifting, Stands}},
		{ID: "placement", Stage: stage, Title: "Measure its heights, setback and offset", Needs: []string{"hang"},
			Done: "heights, setback and side offset in the file are where the powertrain hangs", Tools: "tape, plumb line, level", Hazards: []Hazard{Lifting}},
		{ID: "read-hung", Stage: stage, Title: "Read powertrain, shaft and pinion", Needs: []string{"placement", "pinion-point"},
			Hold: []string{"line.*.powertrain.read", "line.*.shaft.*.read", "line.*.pinion.read"},
			Done: "each axis is read at least twice, with the lower end noted", Tools: "angle gauge, a straight tube in place of the shaft", Hazards: []Hazard{Lifting}},
		{ID: "agree", Stage: stage, Title: "Compare readings and model", Needs: []string{"read-hung"},
			Hold: []string{"line.*.powertrain.agree?", "line.*.shaft.*.agree?", "line.*.pinion.agree?"}, Done: "every slope read agrees with the one planned; where one did not, the reason was found", Tools: "angle gauge, tape", Hazards: []Hazard{Lifting}},
		{ID: "choose-angles", Stage: stage, Title: "Move it until the joint angles are right", Needs: []string{"agree"},
			Hold: []string{"line.*.joint.*.min?", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "every joint angle and difference is ok or tight", Tools: "wedges, blocks, hoist", Hazards: []Hazard{Lifting}},
		{ID: "choose-travel", Stage: stage, Title: "Check joints and slip over the travel", Needs: []string{"choose-angles"},
			Hold: []string{"line.*.travel.joint.*.max?", "line.*.travel.slip.*?", "line.*.travel.reach?"}, Done: "nothing binds or runs out of room over the travel of the axle", Tools: "jack, tape", Hazards: []Hazard{Stands, Springs, Lifting}},
		{ID: "sump-axle", Stage: stage, Title: "Check sump against axle at full bump", Needs: []string{"choose-angles"},
			Done: "the gap of sump and oil pick-up to axle and crossmember at full bump is written down, with room for the engine to rock", Tools: "tape, modelling clay, jack", Hazards: []Hazard{Stands, Springs, Lifting}},
		{ID: "bonnet-fan", Stage: stage, Title: "Check bonnet, fan, radiator and firewall", Needs: []string{"choose-angles"},
			Done: "the gaps are written down, with room for the engine to rock", Tools: "tape, modelling clay", Hazards: []Hazard{Lifting}},
		{ID: "steering-room", Stage: stage, Title: "Check the steering from lock to lock", Needs: []string{"choose-angles"},
			Done: "nothing comes near column, box and linkage at either lock, hot parts least of all", Tools: "tape, a helper", Hazards: []Hazard{Qualified, Lifting}},
		{ID: "service-room", Stage: stage, Title: "Check what can be reached for service", Needs: []string{"choose-angles"},
			Done: "filter, plugs, starter and clutch can be reached; what cannot with the powertrain in is on the engine-out list", Tools: "the spanners the job will take", Hazards: []Hazard{Lifting}},
		{ID: "lever-room", Stage: stage, Title: "Check gear lever, clutch and tunnel", Needs: []string{"choose-angles"},
			Done: "every gear goes in, and the lever clears seat and dash", Tools: "tape", Hazards: []Hazard{Lifting}},
	}
}

func firstMount() []Step {
	const stage = FirstMount
	return []Step{
		{ID: "isolators", Stage: stage, Title: "Choose the isolators by load and torque", Needs: []string{"weigh"},
			Done: "each isolator carries its share with room to spare, and is captive: metal holds metal when the rubber fails", Tools: "the isolator maker's sheet"},
		{ID: "cut-first", Stage: stage, Title: "Cut and fit the first bracket", Needs: []string{"isolators", "choose-angles", "sump-axle", "steering-room"},
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "it stands on the rail without a gap wider than a weld can bridge", Tools: "saw, grinder, clamps", Hazards: []Hazard{Grinding, Lifting}},
		{ID: "tack-first", Stage: stage, Title: "Tack the first bracket at its corners", Needs: []string{"cut-first"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "short tacks on opposite corners, isolator fitted, powertrain still on its blocks", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Lifting, Arc, Fume, Behind, Structural}},
		{ID: "bolt-first", Stage: stage, Title: "Drill and bolt the first bracket", Needs: []string{"cut-first"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "all bolts in, snug, and no hole slotted to make it fit", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding, Lifting}},
		{ID: "read-first", Stage: stage, Title: "Read it again with the first mount fixed", Needs: []string{"tack-first", "bolt-first"},
			Hold: []string{"line.*.powertrain.read"}, Done: "a new reading is in the file", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
	}
}

func angles() []Step {
	const stage = Angles
	return []Step{
		{ID: "repeat-readings", Stage: stage, Title: "Read each axis three times", Needs: []string{"read-first"},
			Hold: []string{"line.*.powertrain.read", "line.*.pinion.read"}, Done: "the repeats agree within what the gauge can explain, with the gauge turned end for end once", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "prove-joints", Stage: stage, Title: "Prove the joint angles", Needs: []string{"repeat-readings"},
			Hold: []string{"line.*.joint.*.min?", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"},
			Done: "all joints are ok or tight by readings and not by the plan alone", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "prove-even", Stage: stage, Title: "Check torsional figures at top speed", Needs: []string{"prove-joints"},
			Hold: []string{"line.*.residual?", "line.*.shaft.*.inertia.*?"}, Done: "torsional vibration at the axle and of the shafts is within its limits; that is calculated from the angles, and screening"},
		{ID: "prove-plan", Stage: stage, Title: "Check crankshaft and pinion in plan", Needs: []string{"prove-joints"},
			Done: "crankshaft and pinion are parallel in plan, or the angle between them is in the file", Tools: "plumb line, straight edge, tape"},
	}
}
