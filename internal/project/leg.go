package project

import "fitup/internal/project/quantity"

// Leg is the bracket of a mount: a straight tube or bar from the isolator's
// pad to a frame rail, with the plates, bolts and weld it is held by. Points
// and directions are in vehicle axes.
type Leg struct {
	Section    string           `toml:"section" doc:"its stock section, such as SHS 50x50x3 cold; with a kind, the name of a section of your own"`
	Kind       SectionKind      `toml:"kind" doc:"of a section of your own: box tube, round tube, round bar or flat bar"`
	Height     quantity.LengthQ `toml:"height" doc:"of that section; outside diameter of a round one" min:"0"`
	Width      quantity.LengthQ `toml:"width" doc:"of that section; the same as its height when left out" min:"0"`
	Wall       quantity.LengthQ `toml:"wall" doc:"of that section" min:"0"`
	Rail       Side             `toml:"rail" doc:"which rail it stands on: left or right; by the mount's name or place when left out"`
	Standing   quantity.LengthQ `toml:"standing" doc:"how far the leg's pad lies below the powertrain's: the height of the isolator; 0 when left out" min:"0"`
	Pad        Point            `toml:"pad" doc:"centre of the leg's pad, when it does not follow the powertrain"`
	PadFacing  Facing           `toml:"pad_facing" doc:"which way the leg leaves its pad: up, down, front, rear, left or right; toward its rail when left out"`
	PadNormal  Point            `toml:"pad_normal" doc:"the same as a direction, when it is none of those"`
	Foot       Point            `toml:"foot" doc:"where its axis meets the rail; straight across from the pad when left out"`
	FootDrop   quantity.LengthQ `toml:"foot_drop" doc:"how far that is below the rail's top edge; half the rail's height when left out" min:"0"`
	RailNormal Point            `toml:"rail_normal" doc:"which way the rail's face looks, toward the leg, as a direction; square to the rail's points when left out"`
	Mark       Point            `toml:"mark" doc:"a hole or scribed line on the rail's face that the other rail has too"`
	Up         Point            `toml:"up" doc:"which way the section's height looks, as a direction; up when left out"`
	Header     quantity.LengthQ `toml:"header" doc:"outside diameter of the round crossmember it stands on, when it is no rail" min:"0"`
	HeaderFrom Point            `toml:"header_from" doc:"one end of that crossmember's axis"`
	HeaderTo   Point            `toml:"header_to" doc:"the other end"`
	Fit        SaddleFit        `toml:"fit" doc:"what a saddle is cut to: inside edge, outside edge or first touch"`
	Steel      Steel            `toml:"steel" doc:"S235, S275 or S355; S235 when left out"`
	Yield      quantity.StressQ `toml:"yield" doc:"its yield strength, when it is another steel" min:"0"`
	Tensile    quantity.StressQ `toml:"tensile" doc:"and its tensile strength" min:"0"`
	Match      string           `toml:"match" doc:"the mount of the other side whose leg this one mirrors, corrected for its own pad and rail"`
	PadPlate   LegPlate         `toml:"pad_plate"`
	RailPlate  LegPlate         `toml:"rail_plate"`
	Bolts      LegBolts         `toml:"bolts"`
	Weld       LegWeld          `toml:"weld"`
}

// LegPlate is the plate at one end of a leg. Height is the way that looks up,
// width the other one.
type LegPlate struct {
	Thickness   quantity.LengthQ `toml:"thickness" doc:"of the plate" min:"0"`
	Gap         quantity.LengthQ `toml:"gap" doc:"weld gap between plate and tube" min:"0"`
	Width       quantity.LengthQ `toml:"width" doc:"of the plate" min:"0"`
	Height      quantity.LengthQ `toml:"height" doc:"of the plate; outside of the bend when it is folded" min:"0"`
	Flange      quantity.LengthQ `toml:"flange" doc:"of an edge folded square over the rail, outside" min:"0"`
	Radius      quantity.LengthQ `toml:"radius" doc:"inside radius of that bend; the thickness when left out" min:"0"`
	K           quantity.NumberQ `toml:"k" doc:"where the neutral line lies in the thickness; 0.41 when left out" min:"0"`
	Across      quantity.NumberQ `toml:"across" doc:"bolts side by side; 2 when left out" min:"0"`
	High        quantity.NumberQ `toml:"high" doc:"bolts above each other; 2 when left out" min:"0"`
	PitchAcross quantity.LengthQ `toml:"pitch_across" doc:"centre to centre, side by side" min:"0"`
	PitchHigh   quantity.LengthQ `toml:"pitch_high" doc:"centre to centre, above each other" min:"0"`
	Hole        quantity.LengthQ `toml:"hole" doc:"diameter of the holes" min:"0"`
}

// LegBolts are the bolts that hold the rail plate to the rail.
type LegBolts struct {
	Thread  string           `toml:"thread" doc:"of the bolts, such as M10 or 3/8-16"`
	Class   string           `toml:"class" doc:"their strength class: 8.8, 10.9, 12.9, or grade 5 or 8"`
	TorqueK quantity.NumberQ `toml:"torque_k" doc:"torque factor; 0.20, dry, when left out" min:"0"`
	Preload quantity.NumberQ `toml:"preload" doc:"share of the proof load; 0.75 when left out" min:"0"`
}

// LegWeld is the fillet between tube and rail plate, or rail.
type LegWeld struct {
	Size    quantity.LengthQ `toml:"size" doc:"leg size of the fillet" min:"0"`
	Runs    WeldRuns         `toml:"runs" doc:"all round, top and bottom, or both sides; all round when left out"`
	Tensile quantity.StressQ `toml:"tensile" doc:"tensile strength of the weaker part; the leg's when left out" min:"0"`
}

// BuiltMount is what was measured on a finished mount, vehicle axes.
type BuiltMount struct {
	Pad        Point   `toml:"pad" doc:"centre of the pad"`
	PadPoints  []Point `toml:"pad_points" doc:"three points on the pad's face"`
	Foot       Point   `toml:"foot" doc:"where the tube's axis meets the rail"`
	RailPoints []Point `toml:"rail_points" doc:"three points on the rail's face"`
}

// StockBar is a length of section to cut from.
type StockBar struct {
	Section string           `toml:"section" doc:"as the legs name it"`
	Length  quantity.LengthQ `toml:"length" doc:"of one bar" min:"0"`
	Count   quantity.NumberQ `toml:"count" doc:"how many there are; any number when left out" min:"0"`
	Cost    quantity.NumberQ `toml:"cost" doc:"of one bar, in any currency" min:"0"`
	OnHand  bool             `toml:"on_hand" doc:"true when it is in the shop already and costs nothing"`
}

// Shop is the saw.
type Shop struct {
	Kerf  quantity.LengthQ `toml:"kerf" doc:"width of the saw's cut; 3 mm when left out" min:"0"`
	Trim  quantity.LengthQ `toml:"trim" doc:"taken off each bar to clean its end; 0 when left out" min:"0"`
	Mitre quantity.AngleQ  `toml:"mitre" doc:"how far the saw swings from square; 0 where it does not, 60 deg when left out" min:"0"`
	Tilt  quantity.AngleQ  `toml:"tilt" doc:"how far the blade tilts from upright; 0 where it does not, 60 deg when left out" min:"0"`
}

// SectionKind is a kind of section, as the file spells it.
type SectionKind string

// Side is a side of the vehicle, as the file spells it.
type Side string

// SaddleFit is what a saddle is cut to, as the file spells it.
type SaddleFit string

// Steel is a grade of steel, as the file spells it.
type Steel string

// WeldRuns is where a weld runs, as the file spells it.
type WeldRuns string

// The words the file uses.
const (
	BoxTube   SectionKind = "box tube"
	RoundTube SectionKind = "round tube"
	RoundBar  SectionKind = "round bar"
	FlatBar   SectionKind = "flat bar"

	LeftSide  Side = "left"
	RightSide Side = "right"

	InsideEdge  SaddleFit = "inside edge"
	OutsideEdge SaddleFit = "outside edge"
	FirstTouch  SaddleFit = "first touch"

	S235 Steel = "S235"
	S275 Steel = "S275"
	S355 Steel = "S355"

	AllRound     WeldRuns = "all round"
	TopAndBottom WeldRuns = "top and bottom"
	BothSides    WeldRuns = "both sides"
)

// Words lists the kinds of section.
func (SectionKind) Words() []string {
	return []string{string(BoxTube), string(RoundTube), string(RoundBar), string(FlatBar)}
}

// Words lists the sides.
func (Side) Words() []string { return []string{string(LeftSide), string(RightSide)} }

// Words lists what a saddle can be cut to.
func (SaddleFit) Words() []string {
	return []string{string(InsideEdge), string(OutsideEdge), string(FirstTouch)}
}

// Words lists the grades.
func (Steel) Words() []string { return []string{string(S235), string(S275), string(S355)} }

// Words lists where a weld can run.
func (WeldRuns) Words() []string {
	return []string{string(AllRound), string(TopAndBottom), string(BothSides)}
}

// Strengths returns the yield and tensile strength of the leg's steel in MPa:
// those given, or those of its grade after EN 1993-1-1, table 3.1.
func (l Leg) Strengths() (yield, tensile float64) {
	switch l.Steel {
	case S275:
		yield, tensile = 275, 430
	case S355:
		yield, tensile = 355, 490
	default:
		yield, tensile = 235, 360
	}
	return l.Yield.Or(yield), l.Tensile.Or(tensile)
}

// Begun reports whether the file says anything about the leg itself.
func (l Leg) Begun() bool { return l.Section != "" || l.Kind != "" || l.Match != "" }

// Begun reports whether the file says anything about the bolts.
func (b LegBolts) Begun() bool { return b.Thread != "" || b.Class != "" }

// Begun reports whether the file says anything about the weld.
func (w LegWeld) Begun() bool { return w.Size.Known() || w.Runs != "" }

// Begun reports whether the finished mount was measured.
func (m BuiltMount) Begun() bool {
	return m.Pad.Known || m.Foot.Known || len(m.PadPoints) > 0 || len(m.RailPoints) > 0
}
