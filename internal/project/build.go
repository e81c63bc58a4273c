// Package project is one build in one TOML file: its schema and limits, and
// loading with every problem named at its line.
//
// The text of the file is the truth. A Build is what the text means; it is
// made anew after every edit and never written back.
package project

import (
	"time"

	"fitup/internal/geom/gauge"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Build is everything one file says about one conversion. Quantities that the
// file does not give are not known. Points are in vehicle axes unless the
// field says otherwise.
type Build struct {
	Format       int64           `toml:"format" doc:"file format; 3"`
	Name         string          `toml:"name" doc:"what this build is called"`
	Note         string          `toml:"note" doc:"anything worth knowing" lines:"yes"`
	Units        quantity.Units  `toml:"-"`
	Vehicle      Vehicle         `toml:"vehicle" doc:"what receives the powertrain"`
	Rails        Rails           `toml:"rails" doc:"the two frame rails; they need not be alike"`
	Powertrain   Powertrain      `toml:"powertrain" doc:"engine and gearbox as one body, in a frame of its own: along the crankshaft to the rear, right, up"`
	Placement    Placement       `toml:"placement" doc:"where the powertrain stands in the vehicle"`
	Chassis      []ChassisPart   `toml:"chassis" doc:"pieces of the vehicle that the powertrain has to keep clear of: a box by from and to, with a radius a rod, a point by at, with a radius a ball, a flat surface by on and facing"`
	Mounts       []Mount         `toml:"mount" doc:"a mount of the powertrain; left_front, right_front and rear stand at the pads of that name"`
	TorqueLinks  []TorqueLink    `toml:"torque_link" doc:"a torque link or strut that holds the powertrain beside its mounts, by a name of your own: torque_link.upper"`
	RollStops    []RollStop      `toml:"roll_stop" doc:"a buffer that the powertrain meets after some free play, by a name of your own: roll_stop.left"`
	Stock        []StockBar      `toml:"stock" doc:"bars that the legs are cut from"`
	Sheets       []SheetStock    `toml:"sheet" doc:"sheets and strips of plate that the mounts' plates are cut from"`
	Packing      []Packing       `toml:"packing" doc:"a wedge under a spring, a shim or a spring perch: made or bought, drawn and listed"`
	Shop         Shop            `toml:"shop" doc:"the saw"`
	TransferCase TransferCase    `toml:"transfer_case" doc:"a transfer case in a case of its own, apart from the gearbox, on mounts that carry it"`
	Old          OldPowertrain   `toml:"old_powertrain" doc:"what comes out of the vehicle"`
	Loads        map[string]Rule `toml:"-"`
	LoadCases    []LoadCase      `toml:"-"` // [[loads.case]], or those built in
	Lines        []Line          `toml:"line" doc:"a driveline, such as the one to the rear axle"`
	Gauge        Gauge           `toml:"gauge" doc:"the angle gauge that readings are taken with"`
	Points       []MeasuredPoint `toml:"point" doc:"a point of the vehicle as it was measured, by a name of your own: point.pinion"`
	Tools        []Tool          `toml:"tool" doc:"what lengths are measured with, by a name of your own: tool.tape"`
	Readings     []Reading       `toml:"reading" doc:"a reading of the gauge as it was taken; fitup read adds one"`
	Limits       map[string]Rule `toml:"-"`
	Jobs         []Job           `toml:"job" doc:"a step of the build; fitup jobs --add puts the built-in list in"`
	Measurements []Measurement   `toml:"measure" doc:"something measured that no other part of the file asks for"`
	Survey       Survey          `toml:"survey" doc:"what the measured points of the frame are to each other, and what their places go by"`
	Subframes    []Subframe      `toml:"subframe" doc:"a front subframe or crossmember set that is placed in the frame, by a name of your own: subframe.front"`
	Steering     Steering        `toml:"steering" doc:"the steering shaft, from the column to the rack or box"`
	Pickups      []Pickup        `toml:"pickup" doc:"what holds the two wheels of an axle to the frame: arms, spring towers, rods, anti-roll bar; by a name of your own: pickup.front"`
	Exhaust      []Pipe          `toml:"exhaust" doc:"a pipe of the exhaust that hangs on the chassis; those fixed to the powertrain are powertrain.exhaust"`
	Welds        []Weld          `toml:"weld" doc:"a weld of a bracket, side by side"`
	Fasteners    []Fastener      `toml:"fastener" doc:"a kind of bolt at one place"`
	Fluids       []Fluid         `toml:"fluid" doc:"what is to be filled in somewhere"`
	Elsewhere    []Elsewhere     `toml:"elsewhere" doc:"a subject that somebody else judges; it counts apart and is never ok"`
	Find         Find            `toml:"find" doc:"what fitup propose may move to find a better place, and what must hold there"`
	Trials       []Trial         `toml:"trial" doc:"a named alternative, by a name of your own: trial.lower_rear"`

	placed   []PlacedPoint     // of Points
	surveyed map[string]r3.Vec // by path, where the survey places points; nil before it is adjusted
	unplaced []Unplaced
	bySurvey map[string]Point // by path in the text
}

// Vehicle is what receives the powertrain.
type Vehicle struct {
	Name          string              `toml:"name" doc:"the vehicle"`
	Origin        string              `toml:"origin" doc:"where station, offset and height are zero" how:"Choose a place that stays: axle line, centre line, top of rail. Everything is measured from it."`
	Body          Body                `toml:"body" doc:"what carries it: on frame, or unit-body" how:"Look under it: a ladder frame that the body is bolted to, or no frame at all."`
	Wheelbase     quantity.LengthQ    `toml:"wheelbase" doc:"front axle line to rear axle line" min:"0" how:"Plumb both axle centres of one side to the floor and tape between the marks." from:"the front axle line, along the vehicle"`
	FrontAxle     quantity.LengthQ    `toml:"front_axle" doc:"station of the front axle line" how:"Plumb the axle centre to the floor and tape along the vehicle." from:"the vehicle's zero"`
	WheelDiameter quantity.LengthQ    `toml:"tyre_diameter" doc:"outer diameter of the tyre" min:"0" how:"Straightedge across the top of the tyre, tape to the floor, vehicle on its wheels." from:"the floor"`
	FrontTrack    quantity.LengthQ    `toml:"front_track" doc:"middle to middle of the front tyres; for the drawing" min:"0" how:"Tape at hub height from the middle of one tyre to the middle of the other." from:"the middle of one tyre"`
	RearTrack     quantity.LengthQ    `toml:"rear_track" doc:"middle to middle of the rear tyres; for the drawing" min:"0" how:"Tape at hub height from the middle of one tyre to the middle of the other." from:"the middle of one tyre"`
	AxleHeight    quantity.LengthQ    `toml:"axle_height" doc:"height of the axle centres; usually below the rail, so negative" how:"Vehicle level at ride height: tape from the hub centre up to the zero of height." from:"the vehicle's zero, up"`
	Tyre          string              `toml:"tyre" doc:"tyre size, such as 205/75R16" how:"Read it off the sidewall." in:"Speeds, weights and tyres"`
	TopSpeed      quantity.RoadSpeedQ `toml:"top_speed" doc:"the fastest it is to go" min:"0" how:"What it is meant to reach; the tyre's speed sign is a limit to it." from:"the road, as the speedometer shows it" in:"Speeds, weights and tyres"`
	FrontLoad     quantity.MassQ      `toml:"front_load" doc:"what the front axle weighed on the scales with the old powertrain in" min:"0" how:"Drive the front wheels onto the scales with the old powertrain in." from:"empty scales" in:"Speeds, weights and tyres"`
	RearLoad      quantity.MassQ      `toml:"rear_load" doc:"what the rear axle weighed with it" min:"0" how:"Drive the rear wheels onto the scales with the old powertrain in." from:"empty scales" in:"Speeds, weights and tyres"`
	FrontLaden    quantity.MassQ      `toml:"front_laden" doc:"the most the front axle carries as the vehicle pulls away, fully laden" min:"0" how:"The axle load on the type plate, or weigh it loaded." from:"empty scales" in:"Speeds, weights and tyres"`
	RearLaden     quantity.MassQ      `toml:"rear_laden" doc:"the most the rear axle carries as it pulls away, fully laden, with what the pull shifts to it" min:"0" how:"The axle load on the type plate with what the pull shifts, or weigh it loaded." from:"empty scales" in:"Speeds, weights and tyres"`
	FrontRate     quantity.RateQ      `toml:"front_rate" doc:"spring rate at one front wheel" min:"0" how:"Load one wheel by a known weight and measure how far the frame sinks there." from:"the spring unloaded by that weight" in:"Speeds, weights and tyres"`
	RearRate      quantity.RateQ      `toml:"rear_rate" doc:"spring rate at one rear wheel" min:"0" how:"Load one wheel by a known weight and measure how far the frame sinks there." from:"the spring unloaded by that weight" in:"Speeds, weights and tyres"`
	DrivenKm      quantity.NumberQ    `toml:"driven_km" doc:"how far it has been driven since the swap, in km" min:"0" exact:"yes" how:"Read the odometer, or count the drives." from:"the first drive after the swap" in:"Speeds, weights and tyres"`
}

// Edge returns the places of the inner top edge that are in the file, vehicle
// axes, mm.
func (r Rail) Edge() []r3.Vec {
	out := make([]r3.Vec, 0, len(r.Points))
	for _, p := range r.Points {
		if p.Known {
			out = append(out, p.At)
		}
	}
	return out
}

// Powertrain is engine and gearbox as one rigid body, in its own frame: X
// along the crankshaft to the rear, Y right, Z up, origin where the builder
// chooses. Where the crankshaft lies across, X points to the rear all the same and
// the crankshaft lies along Y.
type Powertrain struct {
	Name         string             `toml:"name" doc:"engine and gearbox"`
	Mass         quantity.MassQ     `toml:"mass" doc:"engine, gearbox, clutch and fluids" min:"0" how:"Hang it on a crane scale with clutch, oil and everything it runs with." from:"an empty hook" need:"yes"`
	CentreOfMass Point              `toml:"centre_of_mass" doc:"own frame" how:"Hang it level on one hook: the centre lies plumb below. Twice, hung differently, gives its height." need:"yes"`
	Output       Point              `toml:"output" doc:"centre of the joint at the gearbox output, own frame" need:"yes"`
	Redline      quantity.SpeedQ    `toml:"redline" doc:"highest engine speed" min:"0" how:"The maker's figure, or the red mark on the tachometer." from:"standstill"`
	Torque       quantity.TorqueQ   `toml:"torque" doc:"peak engine torque" min:"0" how:"The maker's peak figure for this engine as it is tuned." from:"no load"`
	Converter    quantity.NumberQ   `toml:"converter" doc:"how often a torque converter multiplies the torque at stall; 1 when left out" min:"0" how:"The maker's stall ratio; 1 for a clutch." from:"lock-up, which is 1"`
	Turns        Turns              `toml:"turns" doc:"which way the crankshaft turns: standard, or opposite; standard when left out" how:"Look from the front of the engine: clockwise is standard."`
	Gears        []quantity.NumberQ `toml:"gears" doc:"gear ratios, first to top" min:"0" how:"The maker's figures, or turns of the input for one turn of the output in each gear." from:"the input"`
	Reverse      quantity.NumberQ   `toml:"reverse" doc:"reverse gear ratio, without a sign" min:"0" how:"The maker's figure, or turns of the input for one turn of the output." from:"the input"`
	Final        quantity.NumberQ   `toml:"final" doc:"final drive ratio, when it is in the same case as the gearbox" min:"0" how:"Count the teeth, or turns of the gearbox output for one turn of both wheels." from:"the gearbox output"`
	Layout       Layout             `toml:"layout" doc:"longitudinal, or transaxle; longitudinal when left out" how:"Look where the drive leaves: to a propshaft, or to half shafts from the same case."`
	Cylinders    quantity.NumberQ   `toml:"cylinders" doc:"how many; four-stroke, evenly spaced firing" min:"0" exact:"yes" how:"Count them." from:"none"`
	Idle         quantity.SpeedQ    `toml:"idle" doc:"idle speed" min:"0" how:"Read the tachometer, warm and out of gear." from:"standstill"`
	Cruise       quantity.SpeedQ    `toml:"cruise" doc:"engine speed at which it is driven most" min:"0" how:"Read the tachometer at the speed it is driven most, in top gear." from:"standstill"`
	Inertia      Inertia            `toml:"inertia" doc:"how hard it is to turn about its centre of mass; estimated from its pieces when left out"`
	Standing     Standing           `toml:"standing" doc:"where it is now: in or out" how:"Look."`
	Fixing       Fixing             `toml:"fixing" doc:"how mounts and crossmember hold to the frame: welded or bolted" how:"Decide before the first cut: welded or bolted."`
	Pads         Pads               `toml:"pads" doc:"the points that carry it at fit-up, own frame"`
	Case         ClockedCase        `toml:"transfer_case" doc:"a transfer case bolted to the gearbox, which can be turned on it"`
	Exhaust      []OwnPipe          `toml:"exhaust" doc:"a pipe of the exhaust that is fixed to it, such as manifold and down pipe up to the flexible joint; own frame"`
	Marks        []PowertrainMark   `toml:"mark" doc:"a point of it that tape and level can reach where it hangs; what is measured to it checks the gauge"`
	Parts        []Part             `toml:"part" doc:"pieces of it, for the room round it and for the drawing; own frame"`
}

// Inertia are the moments of inertia of the powertrain about axes through its centre
// of mass: along the crankshaft, level across it, and upright.
type Inertia struct {
	Roll  quantity.InertiaQ `toml:"roll" doc:"about the crankshaft's direction" min:"0" how:"The maker's figure; or hang it from a bar along the crankshaft, h above its centre, and time one swing T: mass · (9.81 · h · T² / 39.5 − h²), in m and s." from:"its centre of mass"`
	Pitch quantity.InertiaQ `toml:"pitch" doc:"about a level axis square to the crankshaft" min:"0" how:"The maker's figure; or hang it from a bar square to the crankshaft, h above its centre, and time one swing T: mass · (9.81 · h · T² / 39.5 − h²), in m and s." from:"its centre of mass"`
	Yaw   quantity.InertiaQ `toml:"yaw" doc:"about the upright axis" min:"0" how:"The maker's figure; or hang it level on two upright ropes L long and b apart, and time one twist T: mass · 9.81 · b² · T² / (158 · L), in m and s." from:"its centre of mass"`
}

// Known reports whether all three are given.
func (j Inertia) Known() bool { return j.Roll.Known() && j.Pitch.Known() && j.Yaw.Known() }

// Begun reports whether any of them is.
func (j Inertia) Begun() bool { return j.Roll.Known() || j.Pitch.Known() || j.Yaw.Known() }

// Pads are the three points that carry the powertrain at fit-up, own frame.
type Pads struct {
	LeftFront  Point `toml:"left_front" doc:"left front mount pad, own frame; with mount.left_front.adapter on the face of its bosses" need:"yes"`
	RightFront Point `toml:"right_front" doc:"right front mount pad, own frame; with mount.right_front.adapter on the face of its bosses" need:"yes"`
	Rear       Point `toml:"rear" doc:"rear mount pad, own frame; with mount.rear.adapter on the face of its bosses" need:"yes"`
}

// Part is a piece of the powertrain, own frame: a box by from and to, a rod by
// those and a radius, a point by at, a ball by that and a radius.
type Part struct {
	Name   string           `toml:"name" doc:"what the piece is" need:"yes"`
	From   Point            `toml:"from" doc:"one corner of the box around it, or one end of a rod, own frame"`
	To     Point            `toml:"to" doc:"the opposite corner, or the other end, own frame"`
	At     Point            `toml:"at" doc:"a point of it, or the centre of a ball, own frame"`
	Radius quantity.LengthQ `toml:"radius" doc:"of the rod or the ball" min:"0" how:"Half the largest diameter, by caliper or string round it." from:"its own centre line"`
	// Turned is how far it is turned with the case that it is of.
	Turned Turning `toml:"-"`
}

// Placement says where the powertrain stands.
type Placement struct {
	LeftFront  quantity.LengthQ  `toml:"left_front" doc:"height of the left front pad" how:"Level from the zero of height to the pad, and tape." from:"the vehicle's zero, up" need:"yes"`
	RightFront quantity.LengthQ  `toml:"right_front" doc:"height of the right front pad" how:"Level from the zero of height to the pad, and tape." from:"the vehicle's zero, up" need:"yes"`
	Rear       quantity.LengthQ  `toml:"rear" doc:"height of the rear pad" how:"Level from the zero of height to the pad, and tape." from:"the vehicle's zero, up" need:"yes"`
	Setback    quantity.LengthQ  `toml:"setback" doc:"station midway between the front pads" how:"Plumb both front pads to the floor and tape to the middle between the marks." from:"the vehicle's zero, to the rear" need:"yes"`
	Offset     quantity.OffsetQ  `toml:"offset" doc:"sideways, midway between the front pads: 12 mm right" how:"Plumb both front pads to the floor; the middle between them against the centre line." from:"the vehicle's centre line"`
	Heading    quantity.HeadingQ `toml:"heading" doc:"turned in plan: 0.5 deg rear to the right" how:"Plumb the crankshaft axis at both ends; how far it goes aside over its length." from:"the vehicle's centre line"`
}

// Gauge is the angle gauge the readings are taken with.
type Gauge struct {
	Accuracy   quantity.AngleQ `toml:"accuracy" doc:"what the gauge is good for, on one surface the same in every repeat; 0.1 deg when left out" min:"0" exact:"yes" how:"The maker's figure, or put it on a known angle." from:"the true angle"`
	Repeat     quantity.AngleQ `toml:"repeat" doc:"how far it may stray from one reading to the next when it is put on again" min:"0" exact:"yes" how:"Put it on one surface ten times, each time anew: half of what the readings spread." from:"one reading to the next"`
	Resolution quantity.AngleQ `toml:"resolution" doc:"the last step of its display" min:"0" exact:"yes" how:"The last figure that its display shows." from:"one step to the next"`
	Zero       quantity.AngleQ `toml:"zero" doc:"how far its zero may be off, the same on every reading" min:"0" exact:"yes" how:"Turn it end for end on one surface: half the difference." from:"true level"`
}

// Reading is one gauge reading as it was taken.
type Reading struct {
	Of        string           `toml:"of" doc:"what was read: powertrain, powertrain.across, line.NAME.shaft.1, line.NAME.pinion, line.NAME.first, frame or floor" need:"yes" offers:"targets" own:"yes"`
	On        Surface          `toml:"on" doc:"along, or square face" need:"unless aside" own:"yes"`
	Shown     quantity.AngleQ  `toml:"shown" doc:"what the gauge showed" min:"0" how:"Put the gauge on and wait until it stands still; write what it shows." from:"level, as the gauge sees it" own:"yes"`
	Lower     End              `toml:"lower" doc:"which end of the axis is lower: front or rear; left or right of a crankshaft across" how:"Look which end is lower, not at the gauge." own:"yes"`
	GaugeEnd  MarkedEnd        `toml:"gauge_end" doc:"which way the marked end of the gauge pointed: front or rear, left or right across; up or down on a square face" how:"Mark one end of the gauge and look where it points." own:"yes"`
	Face      End              `toml:"face" doc:"which way the square face looks that the gauge stood on: front or rear; left or right of a crankshaft across" how:"Stand before the face: it looks at you." own:"yes"`
	With      string           `toml:"with" doc:"the tool of a reading by tape, such as tool.tape" how:"The tool that aside and over were measured with." offers:"tools"`
	PlusMinus quantity.AngleQ  `toml:"plus_minus" doc:"this reading's accuracy, when it differs from the gauge's; a ± behind shown or aside says the same" min:"0" exact:"yes" how:"Only where this one is worse or better than the gauge." from:"the true angle" own:"yes"`
	After     After            `toml:"after" doc:"hung, tacked or welded: after tacked or welded the reading proves" how:"What was fixed when the gauge was put on." own:"yes"`
	Aside     quantity.OffsetQ `toml:"aside" doc:"by tape, seen from above, instead of shown: how far the rear end of what was read stands aside of its front end, such as 12 mm right" how:"Plumb both ends to the floor; how far the rear mark stands aside." from:"a line along the vehicle through the front mark" own:"yes"`
	Over      quantity.LengthQ `toml:"over" doc:"along the vehicle, from the front mark to the rear one, between which aside was measured" min:"0" how:"Between the same two marks, along the vehicle." from:"the front mark" own:"yes"`
	Stood     Stood            `toml:"stood" doc:"how the vehicle stood: on its wheels, axle on stands, frame on stands, or hanging; a pinion read with the axle hanging is brought to ride height by the travel model" how:"Look what carries it."`
	Taken     time.Time        `toml:"taken" doc:"date" how:"The day on which it was read." offers:"days" own:"yes"`
	Placed    Placement        `toml:"placed" doc:"the placement it was taken at; written by the program"`
	Note      string           `toml:"note" doc:"anything worth knowing" lines:"yes" own:"yes"`
}

// InPlan reports whether the reading was taken by tape, seen from above: a
// direction in plan and no slope.
func (r Reading) InPlan() bool { return r.Aside.Known() }

// Point is a point in mm; it is known when all three numbers are given.
type Point struct {
	At    r3.Vec
	Known bool
	// Half is the half-width of the ± of each of its numbers, 0 where none was
	// typed: then nothing is said of how sure that number is.
	Half r3.Vec
	// Ref is the name of the measured point that it is, such as point.pinion, and
	// its place that point's.
	Ref string
	// Off is how far from that it stands, mm: it was moved from there to see what follows.
	Off r3.Vec
	// By is how its place moves with the coordinates of points that the survey places.
	By []Term
}

// Surface is what a gauge stood on, as the file spells it.
type Surface string

// End is an end of an axis, as the file spells it.
type End string

// After is the step a reading was taken after, as the file spells it.
type After string

// Stood is how the vehicle stood when something was read, as the file spells
// it.
type Stood string

// The words the file uses.
const (
	Along      Surface = "along"
	SquareFace Surface = "square face"

	FrontEnd End = "front"
	RearEnd  End = "rear"
	LeftEnd  End = "left" // of a crankshaft across
	RightEnd End = "right"

	Hung   After = "hung"
	Tacked After = "tacked"
	Welded After = "welded"

	OnWheels     Stood = "on its wheels"
	AxleOnStands Stood = "axle on stands"
	OnFrame      Stood = "frame on stands"
	Hanging      Stood = "hanging"
)

// Words lists what a surface may be.
func (Surface) Words() []string { return []string{string(Along), string(SquareFace)} }

// Words lists what an end may be.
func (End) Words() []string {
	return []string{string(FrontEnd), string(RearEnd), string(LeftEnd), string(RightEnd)}
}

// Words lists what a reading may be taken after.
func (After) Words() []string { return []string{string(Hung), string(Tacked), string(Welded)} }

// Words lists how the vehicle may have stood.
func (Stood) Words() []string {
	return []string{string(OnWheels), string(AxleOnStands), string(OnFrame), string(Hanging)}
}

// AxleHangs reports whether the axle hung free, at full droop: the frame or the
// body carried the vehicle. Not said is taken as standing on its wheels.
func (s Stood) AxleHangs() bool { return s == OnFrame || s == Hanging }

// Or returns how the vehicle stood, or on its wheels when that was not said.
func (s Stood) Or() Stood {
	if s == "" {
		return OnWheels
	}
	return s
}

// Proves reports whether a reading taken after this step fixes the value.
func (a After) Proves() bool { return a == Tacked || a == Welded }

// Gauge returns the surface as geometry knows it.
func (s Surface) Gauge() gauge.Surface {
	switch s {
	case Along:
		return gauge.Along
	case SquareFace:
		return gauge.SquareFace
	}
	return gauge.SurfaceUnknown
}

// Gauge returns the end as geometry knows it.
func (e End) Gauge() gauge.End {
	switch e {
	case FrontEnd, LeftEnd:
		return gauge.Front
	case RearEnd, RightEnd: // an axis across falls to the right as one along falls to the rear
		return gauge.Rear
	}
	return gauge.EndUnknown
}
