package project

import "fitup/internal/project/quantity"

// BracketStand is where the bracket of a mount stands, of a single leg or of several
// members. Points are in vehicle axes.
type BracketStand struct {
	Rail     Side             `toml:"rail" doc:"which rail it stands on: left or right; by the mount's name or place when left out" how:"The rail it is welded or bolted to."`
	Standing quantity.LengthQ `toml:"standing" doc:"how far its pad lies below the powertrain's: the height of the isolator; 0 when left out" min:"0" how:"Caliper from the powertrain's pad to the bracket's, with the isolator loaded." from:"the powertrain's pad, down"`
	Pad      Point            `toml:"pad" doc:"middle of its pad, when it does not follow the powertrain"`
}

// Stand is how the bracket of a mount stands, of a single leg or of several members.
func (m *Mount) Stand() *BracketStand {
	if m.Assembled() && !m.Leg.Begun() {
		return &m.Bracket.BracketStand
	}
	return &m.Leg.BracketStand
}

// StandPath is the path of that table.
func (m *Mount) StandPath() string {
	if m.Assembled() && !m.Leg.Begun() {
		return "mount." + m.Name + ".bracket"
	}
	return "mount." + m.Name + ".leg"
}

// BracketMade is what the bracket of a mount is made of and held by, of a single leg or
// of several members.
type BracketMade struct {
	Steel   Steel            `toml:"steel" doc:"S235, S275 or S355; S235 when left out" how:"The mill's certificate or the stamp on the bar; S235 where nobody knows."`
	Yield   quantity.StressQ `toml:"yield" doc:"its yield strength, when it is another steel" min:"0" how:"The mill's certificate." from:"no load"`
	Tensile quantity.StressQ `toml:"tensile" doc:"and its tensile strength" min:"0" how:"The mill's certificate." from:"no load"`
	Match   string           `toml:"match" doc:"the mount of the other side that this one mirrors, made for its own pad and rail" offers:"mounts"`
	Bolts   LegBolts         `toml:"bolts" doc:"what holds each rail plate to the rail"`
	Weld    LegWeld          `toml:"weld" doc:"the fillet at the ends of its tubes, to plates, rail and each other"`
}

// MountPlate is a flat plate of a mount. On an upright face
// height is the way that looks up and width the other one; on a level one height is
// fore and aft.
type MountPlate struct {
	Thickness   quantity.LengthQ `toml:"thickness" doc:"of the plate" min:"0" how:"Caliper on the edge." from:"face to face"`
	Gap         quantity.LengthQ `toml:"gap" doc:"weld gap between plate and tube" min:"0" how:"Feeler gauge, or what the weld procedure asks for." from:"the plate's face"`
	Width       quantity.LengthQ `toml:"width" doc:"of the plate" min:"0" how:"Tape or caliper." from:"edge to edge"`
	Height      quantity.LengthQ `toml:"height" doc:"of the plate; fore and aft where it lies level" min:"0" how:"Tape or caliper, outside of a bend." from:"edge to edge"`
	Across      quantity.NumberQ `toml:"across" doc:"bolts side by side along its width; 2 when left out" min:"0" exact:"yes" how:"Count the bolts side by side." from:"none"`
	High        quantity.NumberQ `toml:"high" doc:"bolts along its height; 2 when left out" min:"0" exact:"yes" how:"Count the bolts the other way." from:"none"`
	PitchAcross quantity.LengthQ `toml:"pitch_across" doc:"centre to centre, along its width" min:"0" how:"Hole edge to the same edge of the next, along the width." from:"hole centre to hole centre"`
	PitchHigh   quantity.LengthQ `toml:"pitch_high" doc:"centre to centre, along its height" min:"0" how:"Hole edge to the same edge of the next, along the height." from:"hole centre to hole centre"`
	Hole        quantity.LengthQ `toml:"hole" doc:"diameter of the holes" min:"0" how:"The drill's diameter." from:"edge to edge"`
}

// NoThickness reports whether the file has sizes or holes of the plate and not how thick it
// is, without which nothing that stands on it can be cut.
func (p *MountPlate) NoThickness() bool {
	return !p.Thickness.Known() && (p.Width.Known() || p.Height.Known() || p.Hole.Known() || p.Across.Known() || p.High.Known() || p.PitchAcross.Known() || p.PitchHigh.Known())
}

// LegBolts are the bolts that hold the rail plate to the rail.
type LegBolts struct {
	Thread  string           `toml:"thread" doc:"of the bolts, such as M10 or 3/8-16" offers:"threads"`
	Class   string           `toml:"class" doc:"their strength class: 8.8, 10.9, 12.9, or grade 5 or 8" how:"Read it off the bolt's head." offers:"classes"`
	TorqueK quantity.NumberQ `toml:"torque_k" doc:"torque factor; 0.20, dry, when left out" min:"0" exact:"yes" how:"0.20 dry, 0.15 oiled, or what the coating's maker says." from:"a thread without friction"`
	Preload quantity.NumberQ `toml:"preload" doc:"share of the proof load; 0.75 when left out" min:"0" exact:"yes" how:"0.75 for a joint that is opened again; or the maker's share." from:"the loose bolt"`
}

// LegWeld is the fillet between tube and rail plate, or rail.
type LegWeld struct {
	Size    quantity.LengthQ `toml:"size" doc:"leg size of the fillet" min:"0" how:"Fillet gauge; no more than the thinner part is thick." from:"the root of the joint"`
	Runs    WeldRuns         `toml:"runs" doc:"all round, top and bottom, or both sides; all round when left out"`
	Tensile quantity.StressQ `toml:"tensile" doc:"tensile strength of the weaker part; the bracket's when left out" min:"0" how:"The certificate of the weaker of the two parts." from:"no load"`
}

// Strengths returns the yield and tensile strength of the bracket's steel in MPa:
// those given, or those of its grade after EN 1993-1-1, table 3.1.
func (m BracketMade) Strengths() (yield, tensile float64) {
	switch m.Steel {
	case S275:
		yield, tensile = 275, 430
	case S355:
		yield, tensile = 355, 490
	default:
		yield, tensile = 235, 360
	}
	return m.Yield.Or(yield), m.Tensile.Or(tensile)
}

// Begun reports whether the file says anything about the bolts.
func (b LegBolts) Begun() bool { return b.Thread != "" || b.Class != "" }

// Begun reports whether the file says anything about the weld.
func (w LegWeld) Begun() bool { return w.Size.Known() || w.Runs != "" }
