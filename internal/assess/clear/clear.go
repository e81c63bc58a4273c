// Package clear is the room round the powertrain: to the pieces of the vehicle
// as built, sagged and rocked, and to shafts and axles over their travel.
package clear

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Input is what the room follows from with the powertrain at one place.
type Input struct {
	Pose         finding.Maybe[geom.Pose] // of the powertrain as built, vehicle axes
	Rock         Rock
	Stands       []seat.Stand // where the powertrain can be found, as built first; empty while it has no place
	StandsAssume []string     // what is not in them
	// Lines are the build's, in its order. Without them nothing is said of what
	// moves.
	Lines []Line
	// Mounts are the brackets of the mounts, where LooksAtMounts.
	Mounts []Mount
	// Middle is the room to what moves, by the id of its finding, of a build that this
	// one hardly differs from: where to begin to look. Only is the line that it differs
	// in, "" where it may be any; Part the piece of the powertrain that is all it differs
	// in, "" where that is more; Piece is the id of the room to the piece of the vehicle
	// that is asked for, or of the powertrain's own to what moves, and nothing is said of
	// others.
	Middle func(id string) (Moving, bool)
	Only   string
	Part   string
	Piece  string
	// Followed are the movers of a build whose lines and stands are those of this one;
	// nil where there is none. They serve one at a time. Keep has those of this one kept
	// in the result, for others; whoever asked for it lets them go.
	Followed *Followed
	Keep     bool
	// Do does pieces of work side by side; nil for one after the other.
	Do func(work ...func())
}

// Rock says of the stands how far they are where the powertrain goes on its
// mounts.
type Rock struct {
	Asked     bool        // the file says something of the mounts' rubber
	Why       string      // why it is not known how it sags and rocks, when it is not
	Ends      []geom.Pose // where it can be besides, with estimated rates at their ends
	NoReverse string      // how far the stands reach while reverse is not in the file; empty where it is
}

// Line is a line of shafts as far as it moves.
type Line struct {
	Direct  bool   // half shafts straight from the powertrain
	Hung    bool   // its differential hangs on the powertrain
	Shafts  int    // how many it has
	Planned bool   // its joints have places
	PlanWhy string // why they have not
	// Joints are the centres of its joints, vehicle axes, mm, with the
	// powertrain's own frame at a pose.
	Joints func(pose geom.Pose) ([]r3.Vec, error)
	Travel *Travel // nil when the file has no suspension for it
}

// Travel is the axle of a line between bump and droop.
type Travel struct {
	Why        string       // why it is not moved, when it is not
	Cases      []TravelCase // at rest first
	HalfShafts []HalfShaft
}

// TravelCase is the axle under one kind of torque, at each place it gets to.
type TravelCase struct {
	Under      string // "" at rest
	Suspension travel.Suspension
	Points     []travel.Point
}

// HalfShaft is a half shaft between bump and droop of its wheel.
type HalfShaft struct {
	Name    string
	Why     string // why it is not moved, when it is not
	Assumes []string
	Shaft   travel.HalfShaft
	Points  []travel.ShaftPoint
	Stands  []ShaftStand // where the powertrain can be found, when it hangs on it
}

// ShaftStand is where a half shaft's inner joint stands and which way the output
// it sits on points outboard, vehicle axes.
type ShaftStand struct {
	Inner, Axis r3.Vec
	Soft        bool // with estimated rates of the mounts at their softest
}

// Result is the room round the powertrain.
type Result struct {
	Clearances []Clearance // one for each piece of the vehicle, in the file's order
	Moving     *Moving     // room of the powertrain to shafts and axles; nil without both
	Exhaust    []Exhaust
	// Others are the rooms to what moves of crossmembers, torque links and roll stops, by
	// the ids of their findings.
	Others   map[string]Moving
	Findings []finding.Finding
	Followed *Followed // nil where nobody asked to keep it
}

// Prepared is what the room follows from wherever the powertrain stands: the
// pieces of it and of the vehicle, and what is wanted between them. It is not
// written after it is made, but for what one state keeps for the next (kept).
type Prepared struct {
	build  *project.Build
	units  quantity.Units
	why    string   // why the powertrain has no pieces, when it has none
	names  []string // of its pieces, and of what else is fixed to it
	parts  int      // how many of those are pieces of it
	own    []own    // what else is fixed to it
	ties   []tie    // torque links and roll stops
	group  *clear.Group
	pieces []piece // of the vehicle
	pipes  []pipe  // of the exhaust

	besides []beside     // the room of subframes to what goes past them
	rails   []rail       // of the frame
	wanted  project.Rule // of the powertrain to what moves
	rates   finding.Estimate
	spares  *spares
}

// piece is a piece of the vehicle.
type piece struct {
	stood
	id                 string
	rockedID, movingID string
	group              string // that its findings share with their like
	why                string // what is missing of it
	carries            []string
	shapes             []clear.Shape // one; of a sheet with an opening and of a run of rods several
	held               []r3.Vec      // where it is held on the frame
	assumes            []string

	wanted, wantedRocked, wantedMoving project.Rule
}

// Fixed is something on the vehicle that other trades have places for, such as a spring
// tower; vehicle axes, mm.
type Fixed struct {
	// Own says that it is fixed to the powertrain and goes with it: an adapter plate. Its
	// shapes are in that one's frame then, and of the rest only ID, Name, Why, Assumes and
	// Under count.
	Own      bool
	Under    Under
	ID, Name string
	Why      string // what is missing of it; "" when nothing is
	Shapes   []clear.Shape
	With     []With   // of each shape, where any goes with a wheel; nil for none
	Held     []r3.Vec // where it is held on the frame
	Carries  []string // lines its room to which is not asked
	Group    string   // that its findings share with their like
	Assumes  []string
}

// Under is the bracket that an adapter plate stands on by its isolator.
type Under struct {
	Mount   string // ID of its room to brackets is of that one
	Touches bool   // it stands on it without rubber between
	Why     string // why it is not known how far above it the plate is
}

// With is a wheel that goes up and down with a shape: the shape stands so with the wheel
// at that rise, and half of step to either side. The wheel's half shaft is looked at there,
// and not where it cannot be at the same time.
type With struct {
	Moves      bool
	Wheel      r3.Vec // its centre at ride height
	Rise, Step float64
}

// Prepare makes a build ready. Where the powertrain stands in it does not matter.
// Rates are the estimated ones of its mounts; fixed stand beside the vehicle's pieces. What
// was kept of the build before, which may be nil, serves where those are the same.
func Prepare(b *project.Build, rates finding.Estimate, before *Prepared, fixed ...Fixed) *Prepared {
	p := &Prepared{build: b, units: b.Units, wanted: b.Limit("gap_moving"), rates: rates}
	fixed = p.ownParts(fixed)
	gap, rocked := b.Limit("gap"), b.Limit("gap_rocked")
	taken := map[string]bool{"powertrain": true, "steering": b.Steering.Given()} // clearance.powertrain is its own
	for i, c := range b.Chassis {
		out := piece{id: finding.Clearance(finding.IDOf(c.Name, i, taken)), stood: stood{name: finding.NameOr(c.Name, "chassis part", i)}, carries: c.Carries, group: groupOf(c.Belongs()),
			wanted: gapRule(gap, c.Gap), wantedRocked: gapRule(rocked, c.GapRocked), wantedMoving: gapRule(p.wanted, c.GapMoving)}
		out.rockedID, out.movingID = finding.Rocked(out.id), finding.Moving(out.id)
		shapes, err := ChassisShapes(c)
		if err != nil {
			out.why = lacking(out.name, fmt.Sprintf("chassis.%d", i+1), err)
		}
		if len(c.Opening) > 0 {
			out.assumes = []string{openingSheet}
		}
		p.pieces = append(p.pieces, out.of(shapes))
	}
	p.steeringPiece(gap, rocked)
	for i, f := range fixed {
		out := piece{id: finding.Clearance(finding.IDOf(f.ID, len(b.Chassis)+i, taken)), stood: stood{name: f.Name, with: f.With}, why: f.Why, carries: f.Carries, group: f.Group, held: f.Held, assumes: f.Assumes,
			wanted: gap, wantedRocked: rocked, wantedMoving: p.wanted}
		out.rockedID, out.movingID = finding.Rocked(out.id), finding.Moving(out.id)
		p.pieces = append(p.pieces, out.of(f.Shapes))
	}
	p.pipes, p.rails, p.ties = pipesOf(b), railsOf(b), tiesOf(b)
	p.besides = p.besideSubframes(gap)
	if before != nil && slices.EqualFunc(p.pieces, before.pieces, func(a, b piece) bool { return a.stood.same(&b.stood) }) {
		p.spares = before.spares
	} else {
		p.spares = new(spares)
	}
	return p
}

// ownParts are the pieces of the powertrain in its own frame, and what else is fixed to it;
// it returns what is not.
func (p *Prepared) ownParts(fixed []Fixed) (rest []Fixed) {
	for _, f := range fixed {
		if f.Own {
			p.own = append(p.own, ownOf(f))
		} else {
			rest = append(rest, f)
		}
	}
	var shapes []clear.Shape
	for i, part := range p.build.Powertrain.Parts {
		name := finding.NameOr(part.Name, "powertrain part", i)
		shape, err := PartShape(part)
		if err != nil {
			p.why = lacking(name, fmt.Sprintf("powertrain.part.%d", i+1), err)
			return rest
		}
		shapes, p.names = append(shapes, shape), append(p.names, name)
	}
	if len(shapes) == 0 {
		p.why = "powertrain.part is not in the file yet"
		return rest
	}
	p.parts = len(shapes)
	for i := range p.own {
		if o := &p.own[i]; o.why != "" && p.why == "" {
			p.why = o.name + ": " + o.why
		}
		for _, s := range p.own[i].shapes {
			shapes, p.names = append(shapes, s), append(p.names, p.own[i].name)
		}
	}
	p.group = clear.NewGroup(shapes)
	return rest
}

// At finds the room with the powertrain at one place.
func (p *Prepared) At(in Input) *Result {
	r := &room{Prepared: p, in: in}
	if f := in.Followed; f != nil && f.of == p {
		r.kept = f.kept
	} else {
		r.kept = p.spares.take()
	}
	r.place()
	if len(p.pieces) > 0 {
		r.clearances()
	}
	r.judgeBeside()
	r.mountsAndMoving()
	r.judgeTies()
	r.exhaust()
	r.subframeHeat()
	r.waysOut()
	followed := &Followed{r.moved, r.kept, p}
	switch {
	case in.Followed == nil && in.Keep:
		r.res.Followed = followed
	case in.Followed == nil:
		followed.Done()
	case in.Followed.of != p:
		p.spares.give(r.kept)
	}
	return &r.res
}

// mountsAndMoving finds the room of the mounts' brackets to what goes with the powertrain,
// and that to what moves with the axles: neither rests on the other.
func (r *room) mountsAndMoving() {
	at := len(r.res.Findings)
	mounts := &room{Prepared: r.Prepared, in: r.in}
	mounts.place() // anew: the pieces of one are placed as they are asked for
	do := r.in.Do
	if do == nil {
		do = func(work ...func()) {
			for _, w := range work {
				w()
			}
		}
	}
	do(r.findMoving, func() {
		mounts.ownBesideMounts()
		mounts.mountsBesidePowertrain()
	})
	r.res.Findings = slices.Insert(r.res.Findings, at, mounts.res.Findings...)
}

// PieceAt is the id of the room to the piece of the vehicle that a path of the file
// is of: chassis[2].from. "" for none.
func (p *Prepared) PieceAt(path string) string {
	number, _, _ := strings.Cut(strings.TrimPrefix(path, "chassis["), "]")
	if i, err := strconv.Atoi(number); err == nil && i >= 0 && i < len(p.build.Chassis) {
		return p.pieces[i].id
	}
	return ""
}

// PartAt is what the piece of the powertrain is called that a path of the file is of:
// powertrain.part[2].from. "" for none.
func (p *Prepared) PartAt(path string) string {
	number, _, _ := strings.Cut(strings.TrimPrefix(path, "powertrain.part["), "]")
	if i, err := strconv.Atoi(number); err == nil && i >= 0 && i < p.parts {
		return p.names[i]
	}
	return ""
}

// asked reports whether the room to a piece of the vehicle is asked for.
func (r *room) asked(c *piece) bool { return r.in.Piece == "" || r.in.Piece == c.id }
