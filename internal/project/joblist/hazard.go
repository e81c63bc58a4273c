package joblist

// Hazard is a way in which a step can hurt someone.
type Hazard uint8

// The hazards.
const (
	Lifting Hazard = iota
	Stands
	Springs
	Welding
	Arc
	Fume
	Behind
	Structural
	Grinding
	Fuel
	Battery
	Airbag
	HighVoltage
	Refrigerant
	ExhaustGas
	Turning
	Loop
	Qualified
	Hot
	Solvent
	Dust
	Road
	hazardCount
)

// caution is what to mind: in full, and in one line for where it has been said
// in full already.
type caution struct{ full, line string }

// cautions are the usual ones: common practice, no source. They are no
// substitute for local rules and for the makers' instructions.
var cautions = [hazardCount]caution{
	Lifting: {
		"Supporting a powertrain: lifting gear and stands of rated capacity on level ground. Nobody under a load that only a hoist or a jack holds.",
		"Hanging load: nobody under it, and blocks or stands carry it.",
	},
	Stands: {
		"Under a vehicle: stands of rated capacity on level, hard ground, the other wheels chocked. Shake the vehicle hard before you go under it.",
		"Under the vehicle: rated stands and chocks; shake it hard first.",
	},
	Springs: {
		"Springs and jacks: a loaded spring lets go with the force of the vehicle. Move the axle slowly with a jack, the frame on stands of its own; no hand or head between axle, arm, spring and frame. Use a spring compressor as its maker says.",
		"Loaded springs: move the axle slowly, no hand or head between its parts.",
	},
	Welding: {
		"Before welding: fuel tank, lines and vapour away, battery disconnected, electronics near the weld unplugged. Keep an extinguisher at hand and watch the place for an hour.",
		"Welding: fuel away, battery off, extinguisher at hand, fire watch after.",
	},
	Arc: {
		"The arc burns eyes and skin within seconds, of those who only look on as well: welding helmet, gloves and covered skin, and a screen between the arc and everybody else.",
		"Arc: helmet, covered skin, a screen for those around.",
	},
	Fume: {
		"Welding fume: draw it off at the weld or work in moving air. Zinc, paint and undercoat give off poisonous fume and burn: take them off well beyond the weld, on both sides, before you strike the arc.",
		"Fume: draw it off; zinc, paint and undercoat off first.",
	},
	Behind: {
		"Look behind the place first, also inside a closed section: brake, fuel and air-conditioning lines, wiring, trim, wax and undercoat. Heat, sparks and a drill go through the wall: move what lies there, or shield it.",
		"Look behind the wall for lines, wiring and what burns.",
	},
	Structural: {
		"Work on a frame is structural: local rules decide who may make it and who has to inspect it. Figures here are screening figures.",
		"Structural: local rules decide who may do and inspect it.",
	},
	Grinding: {
		"Cutting, grinding and drilling: eyes, ears and lungs protected; sparks away from fuel, battery and people.",
		"Eyes, ears, lungs; sparks away from fuel, battery and people.",
	},
	Fuel: {
		"Fuel: no flame, spark or hot lamp, in the open air, line pressure let off, an extinguisher at hand.",
		"Fuel: no flame or spark, open air, extinguisher at hand.",
	},
	Battery: {
		"Battery: disconnected while anything is welded or wired, the earth lead off first and on last; keep tools from bridging its posts.",
		"Battery: earth lead off first and on last.",
	},
	Airbag: {
		"Airbags and belt tensioners go off from heat, a blow or a stray current: battery off, then wait as long as the vehicle's maker says before you touch or weld near them. Leave work on them to those trained for it, and never measure on their leads.",
		"Airbags, belt tensioners: battery off, wait, no heat or blow.",
	},
	HighVoltage: {
		"High voltage, orange cables: it kills. Only somebody qualified for it isolates it, locks it off and proves it dead; until then nothing near it is touched, cut or welded.",
		"High voltage: nothing is touched before it is proved dead.",
	},
	Refrigerant: {
		"Refrigerant freezes skin and eyes, and in a flame it turns to poison: somebody licensed recovers it with the plant for it. Never let it off, and never heat or open a charged line.",
		"Refrigerant: recovered by somebody licensed, never let off.",
	},
	ExhaustGas: {
		"Exhaust gas kills indoors: run the engine outside, or with its exhaust led outside and the doors open.",
		"Exhaust gas: outside, or led outside.",
	},
	Turning: {
		"Nobody near a turning shaft, wheel, fan or belt; no loose sleeves. Stand to the side of a shaft, never in line with its swing.",
		"Turning parts: keep clear, no loose sleeves.",
	},
	Loop: {
		"A shaft that fails at speed comes through the floor or digs into the road: fit the safety loops that local rules require, and have shafts made and balanced by people who do that.",
		"A failing shaft comes through the floor: safety loops, made by a shaft maker.",
	},
	Qualified: {
		"Steering and brakes: done or checked by people qualified and licensed for that work, under local rules and to the maker's instructions.",
		"Steering, brakes: done or checked by somebody qualified.",
	},
	Hot: {
		"Hot liquid under pressure and hot metal: let it cool before a cap, plug or line is opened.",
		"Hot and under pressure: let it cool before it is opened.",
	},
	Solvent: {
		"Paint, primer, wax and solvent: their vapour burns and harms. Fresh air, no flame or spark, gloves, and the mask that the maker's sheet asks for; two-pack paint only with supplied air.",
		"Vapour: fresh air, no spark, the mask the maker asks for.",
	},
	Dust: {
		"Dust of clutch and brake linings, old gaskets and undercoat can hold asbestos or lead: wet it or take it up with a vacuum made for it. Never blow it out; wear a fine-dust mask.",
		"Lining dust: wet or vacuumed, never blown; mask on.",
	},
	Road: {
		"Where the law allows it, slowly, alone on the road, with room to stop; have somebody know where you are.",
		"Road: where the law allows, slowly, with room to stop.",
	},
}

// Caution returns in full what to mind.
func (h Hazard) Caution() string {
	if h >= hazardCount {
		return ""
	}
	return cautions[h].full
}

// Line returns the same in one line, for a step after one that had it in full.
func (h Hazard) Line() string {
	if h >= hazardCount {
		return ""
	}
	return cautions[h].line
}

// Told keeps which cautions have been said in full, stage by stage. It begins
// as an empty map.
type Told map[toldKey]bool

type toldKey struct {
	stage  string
	hazard Hazard
}

// Cautions returns what to mind at a step of a stage: in full what comes up in
// the stage for the first time, in one line what does not.
func (t Told) Cautions(stage string, s Job) []string {
	out := make([]string, len(s.Hazards))
	for i, h := range s.Hazards {
		key := toldKey{stage, h}
		if out[i] = h.Caution(); t[key] {
			out[i] = h.Line()
		}
		t[key] = true
	}
	return out
}
