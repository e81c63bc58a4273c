package joblist

// Hazard is a way in which a step can hurt someone.
type Hazard uint8

// The hazards.
const (
	Lifting Hazard = iota
	Stands
	Welding
	Structural
	Grinding
	Fuel
	Battery
	ExhaustGas
	Turning
	Loop
	Qualified
	Hot
	Road
	hazardCount
)

// Caution returns the usual caution: common practice, no source. It is no
// substitute for local rules and for the makers' instructions.
func (h Hazard) Caution() string {
	switch h {
	case Lifting:
		return "Supporting a powertrain: lifting gear and stands of rated capacity on level ground. Nobody under a load that only a hoist or a jack holds."
	case Stands:
		return "Under a vehicle: stands of rated capacity on level, hard ground, the other wheels chocked. Push at it before you go under."
	case Welding:
		return "Before welding: fuel tank, lines and vapour away, battery disconnected, electronics near the weld unplugged. Keep an extinguisher at hand and watch the place for an hour."
	case Structural:
		return "Work on a frame is structural: local rules decide who may make it and who has to inspect it. Figures here are screening figures."
	case Grinding:
		return "Eyes, ears and lungs protected; sparks away from fuel, and nobody in their way."
	case Fuel:
		return "Fuel: no flame, spark or hot lamp, in the open air, line pressure let off, an extinguisher at hand."
	case Battery:
		return "Battery: disconnected while anything is welded or wired, the earth lead off first and on last; keep tools from bridging its posts."
	case ExhaustGas:
		return "Exhaust gas kills indoors: run the engine outside, or with its exhaust led outside and the doors open."
	case Turning:
		return "Nobody near a turning shaft, wheel, fan or belt; no loose sleeves. Stand to the side of a shaft, never in line with its swing."
	case Loop:
		return "A shaft that fails at speed comes through the floor or digs into the road: fit the driveshaft safety loops that local rules ask for, and have shafts made and balanced by people who do that."
	case Qualified:
		return "Steering and brakes: done or checked by people qualified and licensed for that work, under local rules and to the maker's instructions."
	case Hot:
		return "Hot liquid under pressure and hot metal: let it cool before a cap, plug or line is opened."
	case Road:
		return "Where the law allows it, slowly, alone on the road, with room to stop; have somebody know where you are."
	}
	return ""
}
