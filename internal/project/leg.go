package project

import "fitup/internal/project/quantity"

// Leg is the bracket of a mount: a straight tube or bar from the isolator's
// pad to a frame rail, with the plates, bolts and weld it is held by. Points
// and directions are in vehicle axes.
type Leg struct {
	Section string           `toml:"section" doc:"its stock section, such as SHS 50x50x3 cold or PFC 100x50x10, or sizes such as channel 100x50x5; with a kind, the name of a section of your own" how:"Pick it from the table, or name your own and give its kind and sizes." need:"unless match" offers:"sections"`
	Kind    SectionKind      `toml:"kind" doc:"of a section of your own: box tube, round tube, round bar, flat bar, or a channel or an angle bent from plate" how:"Only for a section of your own."`
	Height  quantity.LengthQ `toml:"height" doc:"of that section; outside diameter of a round one" min:"0" how:"Caliper over the section, the way that looks up." from:"outside to outside"`
	Width   quantity.LengthQ `toml:"width" doc:"of that section; the same as its height when left out" min:"0" how:"Caliper over the section, the other way." from:"outside to outside"`
	Wall    quantity.LengthQ `toml:"wall" doc:"of that section" min:"0" how:"Caliper on a cut end, away from the seam." from:"outside to inside"`
	BracketStand
	PadFacing  Facing           `toml:"pad_facing" doc:"which way the leg leaves its pad: up, down, front, rear, left or right; toward its rail when left out" how:"Stand on the pad's face and look along the leg."`
	PadNormal  Point            `toml:"pad_normal" doc:"the same as a direction, when it is none of those"`
	Foot       Point            `toml:"foot" doc:"where its axis meets the rail; straight across from the pad when left out"`
	FootDrop   quantity.LengthQ `toml:"foot_drop" doc:"how far that is below the rail's top edge; half the rail's height when left out" min:"0" how:"Square down from the rail's top edge." from:"the rail's top edge, down"`
	RailNormal Point            `toml:"rail_normal" doc:"which way the rail's face looks, toward the leg, as a direction; square to the rail's points when left out"`
	Mark       Point            `toml:"mark" doc:"a hole or scribed line on the rail's face that the other rail has too"`
	Up         Point            `toml:"up" doc:"which way the section's height looks, as a direction; up when left out"`
	Header     quantity.LengthQ `toml:"header" doc:"outside diameter of the round crossmember it stands on, when it is no rail" min:"0" how:"Caliper over the round crossmember, paint off." from:"outside to outside"`
	HeaderFrom Point            `toml:"header_from" doc:"one end of that crossmember's axis"`
	HeaderTo   Point            `toml:"header_to" doc:"the other end"`
	Fit        SaddleFit        `toml:"fit" doc:"what a saddle is cut to: inside edge, outside edge or first touch" how:"What is to touch first when the saddle is put on."`
	PadPlate   LegPlate         `toml:"pad_plate" doc:"the plate at its pad"`
	RailPlate  LegPlate         `toml:"rail_plate" doc:"the plate at its rail"`
	BracketMade
}

// LegPlate is the plate at one end of a single leg: the one at its rail may be folded.
type LegPlate struct {
	MountPlate
	Flange quantity.LengthQ `toml:"flange" doc:"of an edge folded square over the rail, outside" min:"0" how:"Outside, from the bend to the edge." from:"the outside of the plate"`
	Radius quantity.LengthQ `toml:"radius" doc:"inside radius of that bend; the thickness when left out" min:"0" how:"Radius gauge inside the bend." from:"the bend's own centre"`
	K      quantity.NumberQ `toml:"k" doc:"where the neutral line lies in the thickness; 0.41 when left out" min:"0" how:"From a test bend: flat length against what it became; 0.41 is usual in mild steel." from:"the inside of the bend"`
}

// BuiltMount is what was measured on a finished mount, vehicle axes.
type BuiltMount struct {
	Pad        Point   `toml:"pad" doc:"centre of the pad" own:"yes"`
	PadPoints  []Point `toml:"pad_points" doc:"three points on the pad's face" own:"yes"`
	PadEdge    []Point `toml:"pad_edge" doc:"two points along one edge of the pad, or the centres of two of its holes in a row: how far it is turned" own:"yes"`
	Foot       Point   `toml:"foot" doc:"where the tube's axis meets the rail" own:"yes"`
	RailPoints []Point `toml:"rail_points" doc:"three points on the rail's face" own:"yes"`
}

// StockBar is a length of section to cut from.
type StockBar struct {
	Section string           `toml:"section" doc:"as the legs name it" need:"yes" offers:"sections"`
	Length  quantity.LengthQ `toml:"length" doc:"of one bar" min:"0" how:"Tape along the bar." from:"end to end" need:"yes"`
	Count   quantity.NumberQ `toml:"count" doc:"how many there are; any number when left out" min:"0" exact:"yes" how:"Count the bars." from:"none"`
	Cost    quantity.NumberQ `toml:"cost" doc:"of one bar, in any currency" min:"0" exact:"yes" how:"The merchant's price." from:"nothing"`
	OnHand  bool             `toml:"on_hand" doc:"true when it is in the shop already and costs nothing"`
}

// SheetStock is a sheet or a strip of plate to cut from.
type SheetStock struct {
	Thickness quantity.LengthQ `toml:"thickness" doc:"of the plate" min:"0" how:"Caliper on the edge." from:"face to face" need:"yes"`
	Length    quantity.LengthQ `toml:"length" doc:"of one sheet or strip" min:"0" how:"Tape along it." from:"end to end" need:"yes"`
	Width     quantity.LengthQ `toml:"width" doc:"of one sheet or strip" min:"0" how:"Tape across it." from:"edge to edge" need:"yes"`
	Count     quantity.NumberQ `toml:"count" doc:"how many there are; any number when left out" min:"0" exact:"yes" how:"Count the sheets." from:"none"`
	Cost      quantity.NumberQ `toml:"cost" doc:"of one, in any currency" min:"0" exact:"yes" how:"The merchant's price." from:"nothing"`
	OnHand    bool             `toml:"on_hand" doc:"true when it is in the shop already and costs nothing"`
}

// Shop is the saw, and what plate is cut with.
type Shop struct {
	Kerf      quantity.LengthQ `toml:"kerf" doc:"width of the saw's cut; 3 mm when left out" min:"0" how:"Saw a scrap and measure what is gone." from:"cut face to cut face"`
	PlateKerf quantity.LengthQ `toml:"plate_kerf" doc:"width of the cut in plate: guillotine 0, disc, saw, plasma or torch; 3 mm when left out" min:"0" how:"Cut a scrap and measure what is gone." from:"cut face to cut face"`
	Trim      quantity.LengthQ `toml:"trim" doc:"taken off each bar to clean its end; 0 when left out" min:"0" how:"What it takes to make the end square." from:"the bar's end as it comes"`
	Mitre     quantity.AngleQ  `toml:"mitre" doc:"how far the saw swings from square; 0 where it does not, 60 deg when left out" min:"0" how:"Swing the saw to its stop." from:"a square cut"`
	Tilt      quantity.AngleQ  `toml:"tilt" doc:"how far the blade tilts from upright; 0 where it does not, 60 deg when left out" min:"0" how:"Tilt the blade to its stop." from:"an upright blade"`
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

	BentChannel SectionKind = "channel"
	BentAngle   SectionKind = "angle"

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
	return []string{string(BoxTube), string(RoundTube), string(RoundBar), string(FlatBar), string(BentChannel), string(BentAngle)}
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

// Begun reports whether the file says anything about the leg itself.
func (l Leg) Begun() bool { return l.Section != "" || l.Kind != "" || l.Match != "" }

// Begun reports whether the finished mount was measured.
func (m BuiltMount) Begun() bool {
	return m.Pad.Known || m.Foot.Known || len(m.PadPoints) > 0 || len(m.PadEdge) > 0 || len(m.RailPoints) > 0
}
