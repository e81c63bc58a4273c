package joblist

func survey() []Job {
	const stage = Survey
	return []Job{
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
		{ID: "dress-engine", Stage: stage, Title: "Dress the engine for the mock-up", Needs: []string{"read-rules"},
			Done: "manifolds or their ends, alternator, compressor, power steering pump, starter, sump and filter are on it as it will run", Tools: "spanners, engine stand", Hazards: []Hazard{Lifting}},
		{ID: "clean-frame", Stage: stage, Title: "Clean the frame and look for damage", Needs: []string{"old-out"},
			Done: "every weld and corner of the engine bay has been seen bare, and cracks, rust and old repairs are marked", Tools: "brush, scraper, lamp", Hazards: []Hazard{Grinding, Structural, Dust}},
		{ID: "ride-height", Stage: stage, Title: "Set it at ride height with its load", Needs: []string{"clean-frame"},
			Done: "it stands on level ground with the weight it will carry, tyres at their pressure, and the height at all four wheels is written down", Tools: "level, tape, ballast, stands", Hazards: []Hazard{Stands}},
		{ID: "level-frame", Stage: stage, Title: "Read the slope of frame or floor", Needs: []string{"ride-height"},
			Done: "a reading of frame or floor is in the file, so that the slopes of everything else can be taken from it", Tools: "angle gauge", Hazards: []Hazard{Stands}},
		{ID: "diagonals", Stage: stage, Title: "Measure both diagonals of the frame", Needs: []string{"ride-height"},
			Hold: []string{"frame.survey.*?", "frame.taped.*?"}, Done: "both diagonals are written down between the same holes, read twice; what they differ by is explained or put right", Tools: "tape, plumb line, chalk", Hazards: []Hazard{Stands}},
		{ID: "body-datums", Stage: stage, Title: "Measure the shell at its datum points", Needs: []string{"ride-height"}, When: UnitBody,
			Done: "the distances between the maker's datum points are written down, across and along, and read twice", Tools: "tape, tram gauge", Hazards: []Hazard{Stands}},
		{ID: "body-metal", Stage: stage, Title: "Find out which sheets take no heat", Needs: []string{"read-rules"}, When: UnitBody,
			Done: "it is written down from the maker's repair manual which sheets are high-strength steel, bonded or structural, and where the shell may be jacked", Tools: "the repair manual", Hazards: []Hazard{Structural}},
		{ID: "rail-points", Stage: stage, Title: "Measure both rails into the file", Needs: []string{"diagonals"},
			Done: "each rail has its points, depth and width; the sketch looks like the vehicle", Tools: "tape, plumb line, square", Hazards: []Hazard{Stands}},
		{ID: "pinion-point", Stage: stage, Title: "Measure the pinion: place and slope", Needs: []string{"level-frame"}, When: Propshaft,
			Hold: []string{"line.*.pinion.read"}, Done: "its point is in the file and its slope has been read at ride height", Tools: "angle gauge, tape, plumb line", Hazards: []Hazard{Stands}},
		{ID: "springs-leaf", Stage: stage, Title: "Measure the leaf springs", Needs: []string{"ride-height"}, When: LeafSprings,
			Done: "eyes, shackles and seats are in the file, and bushes and leaves are sound", Tools: "tape, plumb line"},
		{ID: "springs-links", Stage: stage, Title: "Measure both ends of every link", Needs: []string{"ride-height"}, When: Links,
			Done: "the points of the links are in the file, and no bush or bracket is worn", Tools: "tape, plumb line"},
		{ID: "springs-arms", Stage: stage, Title: "Measure the trailing arms' pivots", Needs: []string{"ride-height"}, When: Arms,
			Done: "the pivots are in the file, and no bush is worn", Tools: "tape, plumb line"},
		{ID: "half-shafts", Stage: stage, Title: "Measure the half shafts' joints", Needs: []string{"ride-height"}, When: FixedDiff,
			Done: "inner and outer joints and the mounts of the differential are in the file", Tools: "tape, plumb line"},
		{ID: "weigh", Stage: stage, Title: "Weigh it and find its centre of mass", Needs: []string{"old-out", "dress-engine"},
			Done: "mass and centre of mass are in the file, with clutch and the parts that stay on", Tools: "hoist scale, slings", Hazards: []Hazard{Lifting}},
		{ID: "measure-powertrain", Stage: stage, Title: "Measure the powertrain on the floor", Needs: []string{"weigh"},
			Done: "pads, output and outline are in the file, measured from one zero", Tools: "tape, square, level", Hazards: []Hazard{Lifting}},
		{ID: "transaxle-outputs", Stage: stage, Title: "Measure the transaxle's outputs", Needs: []string{"measure-powertrain"}, When: Transaxle,
			Done: "both output joints and the final drive are in the file, measured from the same zero", Tools: "tape, square, level", Hazards: []Hazard{Lifting}},
		{ID: "hubs", Stage: stage, Title: "Measure hubs and half shafts", Needs: []string{"ride-height"}, When: Transaxle,
			Done: "inner and outer joints, splines, and what each shaft can plunge are in the file for both sides", Tools: "tape, plumb line, caliper", Hazards: []Hazard{Stands}},
	}
}

func rails() []Job {
	const stage = Rails
	return []Job{
		{ID: "repair-frame", Stage: stage, Title: "Have cracks and rust repaired", Needs: []string{"clean-frame"},
			Done: "every mark of the survey is repaired by somebody allowed to, and looked at again", Tools: "welding set, grinder", Hazards: []Hazard{Welding, Structural, Grinding, Arc, Fume, Behind}},
		{ID: "old-brackets", Stage: stage, Title: "Cut the old mounts off, dress the rails", Needs: []string{"rail-points", "make-safe", "body-metal"},
			Done: "the rails are flat and bare where the new brackets go, and no thinner than they were", Tools: "grinder, file", Hazards: []Hazard{Grinding, Fuel, Behind, Structural}},
		{ID: "rail-thickness", Stage: stage, Title: "Measure the rail walls at the brackets", Needs: []string{"old-brackets", "repair-frame"},
			Hold: []string{"rail.**?"}, Done: "the wall is written down at each place, and nowhere is it thinned by rust", Tools: "caliper through a hole, or an ultrasonic thickness gauge"},
		{ID: "body-mounts", Stage: stage, Title: "Check the body mounts and their gaps", Needs: []string{"rail-points"}, When: OnFrame,
			Done: "the body sits on all its mounts, and no new bracket will load or cut into one", Tools: "lamp, tape", Hazards: []Hazard{Stands}},
		{ID: "spread-plates", Stage: stage, Title: "Plan plates that spread the load", Needs: []string{"body-datums", "body-metal", "rail-thickness"}, When: UnitBody,
			Done: "each mount ends on a plate or closed section that reaches a fold, a flange or a box, never on a single sheet", Tools: "tape, card", Hazards: []Hazard{Structural}},
		{ID: "brace-shell", Stage: stage, Title: "Brace the shell before it is cut", Needs: []string{"spread-plates"}, When: UnitBody,
			Done: "braces hold towers and openings at their measured distance, and the doors close with the gaps they had", Tools: "braces, clamps, tape", Hazards: []Hazard{Structural, Stands}},
		{ID: "crossmember-out", Stage: stage, Title: "Brace the frame, then cut a crossmember", Needs: []string{"diagonals", "rail-thickness", "repair-frame"},
			Done: "it is decided which crossmembers must move, and braces hold both rails at their measured distance ahead of and behind each cut", Tools: "saw, grinder, braces, clamps, tape", Hazards: []Hazard{Structural, Grinding}},
		{ID: "crossmember-in", Stage: stage, Title: "Tack the new crossmembers", Needs: []string{"crossmember-out"}, When: WeldedOn,
			Done: "tacked at all corners; the diagonals read as they did before", Tools: "welding set, clamps, tape", Hazards: []Hazard{Welding, Structural, Arc, Fume, Behind}},
		{ID: "crossmember-bolt", Stage: stage, Title: "Drill and bolt the new crossmembers", Needs: []string{"crossmember-out"}, When: BoltedOn,
			Done: "bolted through crush sleeves, so that the rails cannot close; no hole stands in a flange or near an edge", Tools: "drill, reamer, torque wrench", Hazards: []Hazard{Structural, Grinding, Behind}},
		{ID: "rails-again", Stage: stage, Title: "Measure the diagonals again", Needs: []string{"crossmember-in", "crossmember-bolt"},
			Hold: []string{"drift.**?", "frame.**?"}, Done: "they agree with the first ones within what the tape is good for, and the frame is square, even and flat", Tools: "tape, plumb line"},
	}
}

func place() []Job {
	const stage = Place
	return []Job{
		{ID: "hang", Stage: stage, Title: "Hang the powertrain and block it up", Needs: []string{"measure-powertrain", "old-brackets", "transaxle-outputs", "half-shafts"},
			Done: "blocks or stands carry engine and gearbox, and it can be moved a little and stays", Tools: "hoist, leveller, blocks, stands", Hazards: []Hazard{Lifting, Stands}},
		{ID: "placement", Stage: stage, Title: "Measure its heights, setback and offset", Needs: []string{"hang", "level-frame"},
			Done: "heights, setback and side offset in the file are where the powertrain hangs", Tools: "tape, plumb line, level", Hazards: []Hazard{Lifting}},
		{ID: "read-hung", Stage: stage, Title: "Read powertrain, shaft and pinion", Needs: []string{"placement", "pinion-point"}, When: Propshaft,
			Hold: []string{"line.*.powertrain.read", "line.*.shaft.*.read", "line.*.pinion.read"},
			Done: "each axis is read at least twice, with the lower end noted", Tools: "angle gauge, a straight tube in place of the shaft", Hazards: []Hazard{Lifting}},
		{ID: "read-transaxle", Stage: stage, Title: "Read the powertrain along and across", Needs: []string{"placement"}, When: Transaxle,
			Done: "its slope along and across the vehicle is read at least twice, with the lower end noted", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "agree", Stage: stage, Title: "Compare readings and model", Needs: []string{"read-hung"},
			Hold: []string{"line.*.powertrain.agree?", "line.*.shaft.*.agree?", "line.*.pinion.agree?",
				"line.*.powertrain.agree.above?", "line.*.shaft.*.agree.above?", "line.*.pinion.agree.above?"}, Done: "every slope and direction read agrees with the one planned; where one did not, the reason was found", Tools: "angle gauge, tape", Hazards: []Hazard{Lifting}},
		{ID: "choose-angles", Stage: stage, Title: "Move it until the joint angles are right", Needs: []string{"agree", "read-transaxle"},
			Hold: []string{"line.*.joint.*.min?", "line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "every joint angle and difference is ok or tight", Tools: "wedges, blocks, hoist", Hazards: []Hazard{Lifting}},
		{ID: "transfer-case", Stage: stage, Title: "Choose how the transfer case is turned", Needs: []string{"choose-angles"}, When: FrontDrive,
			Done: "its front output has room beside engine and exhaust, and filler, drain and lever can be reached", Tools: "tape, a straight tube", Hazards: []Hazard{Lifting}},
		{ID: "choose-travel", Stage: stage, Title: "Check joints and slip over the travel", Needs: []string{"choose-angles", "springs-leaf", "springs-links", "springs-arms"},
			Hold: []string{"line.*.travel.joint.*.max?", "line.*.travel.slip.*?", "line.*.travel.reach?"}, Done: "nothing binds or runs out of room over the travel of the axle", Tools: "jack, tape", Hazards: []Hazard{Stands, Springs, Lifting}},
		{ID: "half-shaft-travel", Stage: stage, Title: "Check the half shafts, bump to full lock", Needs: []string{"choose-angles"}, When: Transaxle,
			Hold: []string{"line.*.half_shaft.**"},
			Done: "inner and outer joints and the plunge stay within what they allow, at bump, at droop and at each lock", Tools: "tape, jack", Hazards: []Hazard{Springs, Stands, Lifting}},
		{ID: "sump-axle", Stage: stage, Title: "Check sump against axle at full bump", Needs: []string{"choose-angles"},
			Done: "the gap of sump and oil pick-up to axle and crossmember at full bump is written down, with room for the engine to rock", Tools: "tape, modelling clay, jack", Hazards: []Hazard{Stands, Springs, Lifting}},
		{ID: "bonnet-fan", Stage: stage, Title: "Check bonnet, fan, radiator and firewall", Needs: []string{"choose-angles"},
			Done: "the gaps are written down, with room for the engine to rock", Tools: "tape, modelling clay", Hazards: []Hazard{Lifting}},
		{ID: "steering-room", Stage: stage, Title: "Check the steering from lock to lock", Needs: []string{"choose-angles"},
			Hold: []string{"clearance.steering?", "clearance.steering.*?", "clearance.steering_shaft?", "clearance.steering_shaft.*?",
				"clearance.steering_column?", "clearance.steering_column.*?", "clearance.steering_box?", "clearance.steering_box.*?", "clearance.steering_rack?", "clearance.steering_rack.*?",
				"clearance.steering_linkage?", "clearance.steering_linkage.*?", "clearance.drag_link?", "clearance.drag_link.*?"},
			Done: "nothing comes near column, box and linkage at either lock, hot parts least of all", Tools: "tape, a helper", Hazards: []Hazard{Qualified, Lifting}},
		{ID: "manifold-room", Stage: stage, Title: "Try the manifolds on before the cut", Needs: []string{"choose-angles"},
			Done: "manifolds or their ends clear column, starter, rail and every line, with room for heat and for the engine to rock", Tools: "tape, modelling clay", Hazards: []Hazard{Lifting}},
		{ID: "accessory-room", Stage: stage, Title: "Check alternator, pump and compressor", Needs: []string{"choose-angles"},
			Done: "they clear rail, column and spring tower, and each belt can be changed", Tools: "tape, the belts", Hazards: []Hazard{Lifting}},
		{ID: "intake-room", Stage: stage, Title: "Find room for air intake and filter", Needs: []string{"choose-angles"},
			Done: "filter and pipe have a place under the bonnet, away from heat and from water", Tools: "tape", Hazards: []Hazard{Lifting}},
		{ID: "servo-room", Stage: stage, Title: "Check brake servo and master cylinder", Needs: []string{"choose-angles"},
			Done: "nothing comes near them when the engine rocks, the brake pedal has its whole travel, and the vacuum has a source", Tools: "tape, a helper", Hazards: []Hazard{Qualified, Lifting}},
		{ID: "suspension-room", Stage: stage, Title: "Check anti-roll bar, rods and arms", Needs: []string{"choose-angles"},
			Hold: []string{"pickup.*.wheels?", "pickup.*.*.rod.*.*?", "pickup.*.rod.*.*?", "pickup.*.bar.*?", "pickup.*.*.bar.link?"},
			Done: "anti-roll bar, tension rods and arms clear sump, mounts and exhaust at bump, at droop and at each lock", Tools: "tape, jack", Hazards: []Hazard{Springs, Stands, Lifting, Qualified}},
		{ID: "towers", Stage: stage, Title: "Check the spring towers", Needs: []string{"choose-angles"},
			Hold: append([]string{"pickup.*.*.spring.*?", "pickup.*.spring.sides?", "pickup.*.*.damper.*?", "pickup.*.*.stop?", "pickup.*.*.tower?"}, roomOfTowers()...),
			Done: "no spring tower is cut or carries a mount, and the engine clears both when it rocks", Tools: "tape, lamp", Hazards: []Hazard{Structural, Lifting}},
		{ID: "service-room", Stage: stage, Title: "Check what can be reached for service", Needs: []string{"choose-angles"},
			Done: "filter, plugs, starter and clutch can be reached; what cannot with the powertrain in is on the engine-out list", Tools: "the spanners the job will take", Hazards: []Hazard{Lifting}},
		{ID: "lever-room", Stage: stage, Title: "Check gear lever, clutch and tunnel", Needs: []string{"choose-angles"},
			Done: "every gear goes in, and the lever clears seat and dash", Tools: "tape", Hazards: []Hazard{Lifting}},
		{ID: "tunnel-cut", Stage: stage, Title: "Cut the floor tunnel where it must", Needs: []string{"lever-room", "brace-shell"},
			Done: "cut no further than drawn, what the tunnel carried is braced, and what lay behind it was moved; or nothing has to be cut", Tools: "saw, grinder", Hazards: []Hazard{Behind, Grinding, Airbag, Structural, Lifting, Fuel}},
	}
}

func firstMount() []Job {
	const stage = FirstMount
	return []Job{
		{ID: "isolators", Stage: stage, Title: "Choose the isolators by load and torque", Needs: []string{"weigh"},
			Done: "each isolator carries its share with room to spare, and is captive: metal holds metal when the rubber fails", Tools: "the isolator maker's sheet"},
		{ID: "cut-first", Stage: stage, Title: "Cut and fit the first bracket", Needs: []string{"isolators", "choose-angles", "choose-travel", "half-shaft-travel", "transfer-case", "sump-axle", "steering-room", "manifold-room", "accessory-room", "intake-room", "servo-room", "suspension-room", "towers", "bonnet-fan", "service-room", "lever-room", "tunnel-cut", "rail-thickness", "spread-plates", "body-mounts", "brace-shell", "rails-again"},
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "it stands on the rail without a gap wider than a weld can bridge", Tools: "saw, grinder, clamps", Hazards: []Hazard{Grinding, Lifting}},
		{ID: "tack-first", Stage: stage, Title: "Tack the first bracket at its corners", Needs: []string{"cut-first"}, When: WeldedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "short tacks on opposite corners, isolator fitted, powertrain still on its blocks", Tools: "welding set, clamps", Hazards: []Hazard{Welding, Lifting, Arc, Fume, Behind, Structural}},
		{ID: "bolt-first", Stage: stage, Title: "Drill and bolt the first bracket", Needs: []string{"cut-first"}, When: BoltedOn,
			Hold: []string{"line.*.joint.*.max"}, Done: "all bolts in, snug, and no hole slotted to make it fit", Tools: "drill, spanners", Hazards: []Hazard{Structural, Grinding, Lifting, Behind}},
		{ID: "read-first", Stage: stage, Title: "Read it again with the first mount fixed", Needs: []string{"tack-first", "bolt-first"},
			Hold: []string{"line.*.powertrain.read"}, Done: "a new reading is in the file", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "jig-first", Stage: stage, Title: "Make a jig of the first mount", Needs: []string{"read-first"},
			Done: "a jig or template holds pad, isolator and foot as they stand, and is marked with its side", Tools: "saw, clamps, plate", Hazards: []Hazard{Grinding}},
	}
}

func angles() []Job {
	const stage = Angles
	return []Job{
		{ID: "repeat-readings", Stage: stage, Title: "Read each axis three times", Needs: []string{"read-first"},
			Hold: []string{"line.*.powertrain.read", "line.*.pinion.read"}, Done: "the repeats agree within what the gauge can explain, with the gauge turned end for end once", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "prove-joints", Stage: stage, Title: "Prove the joint angles", Needs: []string{"repeat-readings"},
			Hold: []string{"line.*.joint.*.min@proved?", "line.*.joint.*.max@proved", "line.*.shaft.*.mismatch@proved?"},
			Done: "all joints are ok or tight by readings and not by the plan alone", Tools: "angle gauge", Hazards: []Hazard{Lifting}},
		{ID: "prove-even", Stage: stage, Title: "Check torsional figures at top speed", Needs: []string{"prove-joints"}, When: Propshaft,
			Hold: []string{"line.*.residual@proved?", "line.*.shaft.*.inertia.*@proved?"}, Done: "torsional vibration at the axle and of the shafts is within its limits; that is calculated from the angles, and screening"},
		{ID: "prove-plan", Stage: stage, Title: "Check crankshaft and pinion in plan", Needs: []string{"prove-joints"}, When: Propshaft,
			Done: "crankshaft and pinion are parallel in plan, or the angle between them is in the file", Tools: "plumb line, straight edge, tape"},
	}
}

// roomOfTowers is the room to the towers, springs and dampers of axles of the usual names.
func roomOfTowers() (hold []string) {
	for _, axle := range []string{"front", "rear"} {
		for _, side := range []string{"left", "right"} {
			for _, what := range []string{"tower", "spring", "damper"} {
				id := "clearance." + axle + "_" + side + "_" + what
				hold = append(hold, id+"?", id+".*?")
			}
		}
	}
	return hold
}
