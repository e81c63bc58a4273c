package joblist

func shaft() []Job {
	const stage = Shaft
	return []Job{
		{ID: "measure-shaft", Stage: stage, Title: "Measure joint to joint at ride height", Needs: []string{"prove-final"}, When: Propshaft,
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?"}, Done: "measured twice and agreed with the order sheet", Tools: "tape, straight tube", Hazards: []Hazard{Stands}},
		{ID: "slip-length", Stage: stage, Title: "Settle the slip yoke at ride height", Needs: []string{"measure-shaft"}, When: OnePiece,
			Hold: []string{"line.*.travel.slip.*?"}, Done: "it is settled how far the slip yoke is drawn out of home at ride height; it neither bottoms nor pulls out anywhere in the travel", Tools: "tape, jack", Hazards: []Hazard{Stands, Springs}},
		{ID: "carrier-length", Stage: stage, Title: "Settle the two shafts and the slip joint", Needs: []string{"measure-shaft"}, When: TwoPiece,
			Hold: []string{"line.*.travel.slip.*?"}, Done: "the front half is fixed in length and the rear half slides, or as the shaft maker wants it", Tools: "tape", Hazards: []Hazard{Stands}},
		{ID: "half-shaft-lengths", Stage: stage, Title: "Settle and order the half shafts", Needs: []string{"prove-final", "hubs"}, When: Transaxle,
			Hold: []string{"line.*.half_shaft.**"},
			Done: "lengths, splines and joints suit both ends; no shaft bottoms or pulls out at any travel and lock", Tools: "tape, jack", Hazards: []Hazard{Springs, Stands, Loop}},
		{ID: "order-shaft", Stage: stage, Title: "Order the shaft with the order sheet", Needs: []string{"measure-shaft", "slip-length", "carrier-length"}, When: Propshaft,
			Hold: []string{"line.*.shaft.*.whirl?", "line.*.shaft.*.torque?", "line.*.joint.*.torque?"}, Done: "the maker has the sheet with length, angles, torque and speed", Hazards: []Hazard{Loop}},
		{ID: "fit-shaft", Stage: stage, Title: "Fit the shaft with its yokes in phase", Needs: []string{"order-shaft"}, When: Propshaft,
			Done: "yokes in phase, flanges clean, new bolts tightened to the maker's figure and marked", Tools: "torque wrench, paint pen, stands", Hazards: []Hazard{Stands, Loop}},
		{ID: "safety-loop", Stage: stage, Title: "Fit the safety loops", Needs: []string{"fit-shaft"}, When: Propshaft,
			Done: "a loop near the front joint, as local rules ask, that the shaft does not touch at any travel", Tools: "spanners, stands", Hazards: []Hazard{Loop, Stands}},
		{ID: "turn-by-hand", Stage: stage, Title: "Turn the shaft by hand over the travel", Needs: []string{"fit-shaft"}, When: Propshaft,
			Done: "it turns a full turn without binding or touching at bump, at ride height and at droop", Tools: "jack, stands", Hazards: []Hazard{Stands, Turning, Springs}},
		{ID: "front-lock", Stage: stage, Title: "Turn the front line at droop and lock", Needs: []string{"fit-shaft"}, When: FrontDrive,
			Done: "it turns a full turn at droop and at each full lock without binding, and nothing touches", Tools: "jack, stands", Hazards: []Hazard{Springs, Stands, Turning}},
		{ID: "half-shafts-in", Stage: stage, Title: "Fit the half shafts and hub nuts", Needs: []string{"half-shaft-lengths"}, When: Transaxle,
			Done: "circlips are home, seals and boots whole, and new hub nuts tightened to the maker's figure on the ground and marked", Tools: "torque wrench, paint pen, stands", Hazards: []Hazard{Qualified, Stands}},
	}
}

func fluids() []Job {
	const stage = Fluids
	return []Job{
		{ID: "engine-oil", Stage: stage, Title: "Fill the engine with oil, new filter", Needs: []string{"engine-in"},
			Done: "the dipstick reads full as the engine stands in this vehicle", Tools: "funnel, rags"},
		{ID: "gearbox-oil", Stage: stage, Title: "Fill gearbox and transfer case", Needs: []string{"engine-in"},
			Done: "oil stands at the level plug with the vehicle level", Tools: "pump, stands", Hazards: []Hazard{Stands}},
		{ID: "axle-oil", Stage: stage, Title: "Check the axle oil", Needs: []string{"fit-shaft", "half-shafts-in"},
			Done: "oil stands at the plug, also where the pinion now points higher than it did", Tools: "pump, stands", Hazards: []Hazard{Stands}},
		{ID: "coolant", Stage: stage, Title: "Fill and bleed the cooling system", Needs: []string{"radiator", "engine-in"},
			Done: "no air comes any more and the level stays", Tools: "funnel", Hazards: []Hazard{Hot, Turning, ExhaustGas}},
		{ID: "brake-fluid", Stage: stage, Title: "Bleed brakes and clutch", Needs: []string{"brake-lines"},
			Done: "both pedals are firm and stay firm for a minute", Tools: "bleeding kit, a helper", Hazards: []Hazard{Qualified, Stands, Dust}},
		{ID: "steering-fluid", Stage: stage, Title: "Fill and bleed the power steering", Needs: []string{"power-steering"},
			Done: "no air comes any more and no hose moves or weeps, lock to lock; or the steering has no pump", Tools: "funnel, stands", Hazards: []Hazard{Qualified, Stands}},
		{ID: "air-con", Stage: stage, Title: "Have the air conditioning filled", Needs: []string{"accessories"},
			Done: "somebody licensed has proved it tight and filled it, or the vehicle has none", Hazards: []Hazard{Refrigerant}},
	}
}

func firstStart() []Job {
	const stage = FirstStart
	return []Job{
		{ID: "walk-round", Stage: stage, Title: "Walk round with a lamp", Needs: []string{"engine-in", "loom", "controls", "speed-sensor", "engine-computer", "neutral-switch", "accessories", "fan-shroud", "intake", "gearbox-oil", "gearbox-cooler", "emissions"},
			Done: "nothing is loose, every tool is accounted for, and every hose and plug is on", Tools: "lamp"},
		{ID: "battery-on", Stage: stage, Title: "Connect the battery and watch for smoke", Needs: []string{"walk-round", "starter-clear"},
			Done: "no more current flows than its clock and control units draw; nothing gets warm", Tools: "meter, extinguisher", Hazards: []Hazard{Battery}},
		{ID: "oil-pressure", Stage: stage, Title: "Crank it until there is oil pressure", Needs: []string{"battery-on", "engine-oil"},
			Done: "cranked with fuel and ignition cut (injection fuse out), the gauge shows pressure", Tools: "oil pressure gauge, fuse puller", Hazards: []Hazard{Turning, Battery}},
		{ID: "extinguisher", Stage: stage, Title: "Lay out extinguisher, stop and helper", Needs: []string{"fuel-tank"},
			Done: "the helper knows how to cut fuel and ignition, and stands clear of belts and fan", Tools: "extinguisher", Hazards: []Hazard{Fuel}},
		{ID: "first-start", Stage: stage, Title: "Start it for a few seconds", Needs: []string{"oil-pressure", "extinguisher", "coolant", "exhaust"}, Hold: []string{"mounts.shake.*?", linkLoad, stopLoad, stopPlay},
			Done: "stopped again after a few seconds: no leak, no knock, oil pressure at once", Tools: "lamp, extinguisher", Hazards: []Hazard{ExhaustGas, Fuel, Turning}},
		{ID: "warm-up", Stage: stage, Title: "Run it warm and look for leaks", Needs: []string{"first-start", "steering-fluid", "air-con"},
			Done: "the temperature settles, the fan comes on, nothing leaks, and the engine rocks without touching anything when it revs", Tools: "lamp, thermometer", Hazards: []Hazard{ExhaustGas, Hot, Turning}},
	}
}

func firstDrive() []Job {
	const stage = FirstDrive
	return []Job{
		{ID: "on-stands", Stage: stage, Title: "Run the line on stands, slowly", Needs: []string{"warm-up", "safety-loop", "turn-by-hand", "axle-oil", "half-shafts-in", "handbrake"},
			Hold: []string{"line.*.joint.*.max@proved", "line.*.shaft.*.mismatch@proved?"}, Done: "on stands under the axle, at ride height, every gear turns the wheels the right way, without a shake or a noise",
			Tools: "stands, chocks", Hazards: []Hazard{Stands, Turning, Loop, ExhaustGas}},
		{ID: "range-check", Stage: stage, Title: "Try each range and axle on stands", Needs: []string{"on-stands", "front-lock"}, When: FrontDrive,
			Done: "with all wheels off the ground each range and each axle turns the way it should, and low range holds", Tools: "stands, chocks", Hazards: []Hazard{Stands, Turning, Loop, ExhaustGas}},
		{ID: "welds-carry", Stage: stage, Title: "Check that every weld carries", Needs: []string{"inspect-welds"}, When: WeldedOn,
			Hold: []string{"welds.finished"}, Done: "no side is left at tacked", Hazards: []Hazard{Structural}},
		{ID: "all-marked", Stage: stage, Title: "Go over every paint mark", Needs: []string{"torque-mounts", "fit-shaft", "half-shafts-in"},
			Hold: []string{"fasteners.marked"}, Yields: []string{"fasteners.marked"}, Done: "every fastener has a whole mark across nut and part", Tools: "lamp, paint pen, stands", Hazards: []Hazard{Stands}},
		{ID: "brakes-steering", Stage: stage, Title: "Have brakes and steering tested standing", Needs: []string{"steering-checked", "brake-fluid", "steering-fluid"},
			Done: "somebody qualified has tested both", Hazards: []Hazard{Qualified}},
		{ID: "headlamps", Stage: stage, Title: "Set the headlamps with the new weight on", Needs: []string{"front-height", "loom"},
			Done: "they are set as local rules require, at the height it stands now", Tools: "a wall, tape"},
		{ID: "papers", Stage: stage, Title: "Get the approval local rules require", Needs: []string{"read-rules", "inspect-welds", "emissions", "steering-checked"},
			Done: "the papers are in the vehicle", Hazards: []Hazard{Structural}},
		{ID: "first-drive", Stage: stage, Title: "Drive it slowly and listen for a shake", Needs: []string{"on-stands", "range-check", "all-marked", "brakes-steering", "papers", "welds-carry", "headlamps"},
			Hold: []string{"line.*.joint.*.max@proved", "line.*.shaft.*.mismatch@proved?", "line.*.residual?", "readings.welded", "welds.inspected", "fasteners.marked"}, Done: "it has been stopped often: nothing shakes, smells or leaks; a shake goes through the vibration finder",
			Tools: "a helper, a phone that shows frequency", Hazards: []Hazard{Road, Loop, Qualified}},
	}
}

func after() []Job {
	const stage = After
	return []Job{
		{ID: "after-50-bolts", Stage: stage, Title: "After 50 km: bolts and paint marks", Needs: []string{"first-drive"},
			Hold: []string{"fasteners.recheck.first"}, Yields: []string{"fasteners.recheck.first"}, Done: "each has been checked at its torque and marked anew where it moved", Tools: "torque wrench, paint pen, stands", Hazards: []Hazard{Stands}},
		{ID: "after-50-leaks", Stage: stage, Title: "After 50 km: leaks, chafing, heat marks", Needs: []string{"first-drive"},
			Done: "every line, hose and wire has been looked along; levels are right", Tools: "lamp, stands", Hazards: []Hazard{Stands, Hot}},
		{ID: "after-50-welds", Stage: stage, Title: "After 50 km: welds and the rail beside", Needs: []string{"first-drive"},
			Done: "no crack in weld, paint or rail", Tools: "lamp, brush", Hazards: []Hazard{Stands, Structural}},
		{ID: "after-500-bolts", Stage: stage, Title: "After 500 km: bolts and paint marks", Needs: []string{"after-50-bolts"},
			Hold: []string{"fasteners.recheck.last"}, Yields: []string{"fasteners.recheck.last"}, Done: "no mark has moved since 50 km; each has been checked at its torque", Tools: "torque wrench, paint pen, stands", Hazards: []Hazard{Stands}},
		{ID: "after-500-angles", Stage: stage, Title: "After 500 km: read the angles again", Needs: []string{"after-50-welds"},
			Hold: []string{"line.*.joint.*.max", "line.*.shaft.*.mismatch?", "drift.**?"}, Done: "springs and isolators have settled: new readings are in the file and every joint is within its limits", Tools: "angle gauge", Hazards: []Hazard{Stands}},
		{ID: "after-500-oil", Stage: stage, Title: "After 500 km: change the oil", Needs: []string{"after-50-leaks"},
			Done: "no metal shows in oil or filter", Tools: "spanners, pan", Hazards: []Hazard{Hot, Stands}},
		{ID: "after-500-joints", Stage: stage, Title: "After 500 km: universal and slip joints", Needs: []string{"after-50-bolts"}, When: Propshaft,
			Done: "universal joints and slip joint have no play and no rust at the seals, and are greased where they can be", Tools: "grease gun, stands", Hazards: []Hazard{Stands, Loop}},
		{ID: "after-500-boots", Stage: stage, Title: "After 500 km: half shafts and boots", Needs: []string{"after-50-bolts"}, When: Transaxle,
			Done: "no boot is split or weeps, no joint clicks at lock, and the hub nuts' marks are whole", Tools: "lamp, stands", Hazards: []Hazard{Stands, Qualified}},
	}
}
