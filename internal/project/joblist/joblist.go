// Package joblist is the built-in list of jobs for an engine swap, from the
// bare frame to the first five hundred kilometres: data, and the conditions
// under which a step belongs to a build. It knows no build and no file; a
// build's own list starts as a copy of these ids and is the builder's from
// then on.
//
// The order, the wording and the choice of steps are this program's own, after
// common practice of the trade, no source.
package joblist

import (
	"slices"
	"strings"
)

// Job is one job of the built-in list.
type Job struct {
	ID    string
	Stage string
	Title string
	Done  string   // what has to be true before it counts as done
	Needs []string // ids of steps that come first
	// Hold names the findings it waits for. A star stands for any one part of
	// an id; "room.steering" and its like name all that belong there, whatever a
	// build calls them. "?" at the end: only where the build has such a finding. "@proved"
	// at the end: the finding has to rest on readings taken after the step that
	// fixes it.
	Hold    []string
	Yields  []string // those of them that doing the step brings about, such as its readings
	Hazards []Hazard
	Tools   string
	When    Condition
	Out     bool // can only be done while the powertrain is out
	Finish  bool // cannot be undone: a finish weld, which waits for Proof
	Hard    Hard // what it does that is hard to undo; "" for nothing
}

// Hard is what a job does that is hard to undo.
type Hard string

// What is hard to undo, the last nothing.
const (
	Tacks  Hard = "tack"
	Welds  Hard = "weld"
	Drills Hard = "drill"
	Cuts   Hard = "cut"
	Spares Hard = "nothing"
)

// Cautions returns what to mind at the step, each in full.
func (s Job) Cautions() []string {
	out := make([]string, len(s.Hazards))
	for i, h := range s.Hazards {
		out[i] = h.Caution()
	}
	return out
}

// Proof is what a finish weld waits for in a build with these facts, besides
// what its step names: readings taken after tacking, the joints by those
// readings, and a word on every bracket and on what holds the powertrain beside its mounts.
func Proof(f Facts) []string {
	return append(Job{Hold: []string{axesRead, "line.*.joint.*.min@proved?", "line.*.joint.*.max@proved",
		"line.*.shaft.*.mismatch@proved?", "line.*.equivalent@proved?"}}.Holds(f), "bracket.**", "adapter.**?", "torque_link.**?", "roll_stop.**?")
}

// Condition is what a build has to be like for a step to belong to it.
type Condition uint8

// The conditions.
const (
	Always Condition = iota
	LeafSprings
	Links      // a live axle on links
	Arms       // trailing arms
	FixedDiff  // the differential is on the chassis
	OnePiece   // every shaft runs from gearbox to axle in one piece
	TwoPiece   // some line has a carrier bearing
	FrontDrive // some line runs to a front axle
	Propshaft  // some line runs from gearbox or transfer case to an axle
	Transaxle  // gearbox and final drive in one case, half shafts to the wheels
	OnFrame    // the body stands on a frame
	UnitBody   // the body is the frame
	WeldedOn   // mounts and crossmember are welded to the frame
	BoltedOn   // they are bolted

	SupportWelded // what holds the gearbox crossmember is welded to the rails
	SupportBolted // it is bolted to them
)

// Facts is what is known of a build. A condition that is not in it is not
// known, and its steps stay in the list: a step too many can be dropped, one
// too few is not missed.
type Facts map[Condition]bool

// Fits reports whether the step belongs to a build with these facts.
func (s Job) Fits(f Facts) bool {
	if s.When == Always {
		return true
	}
	is, known := f[s.When]
	return is || !known
}

// Holds returns what the step waits for in a build with these facts: without a
// shaft between gearbox and axle its joints are no finding, and the half shafts
// of a transaxle stand in their place.
func (s Job) Holds(f Facts) []string {
	var out []string
	shaft, known := f[Propshaft]
	for _, h := range s.Hold {
		if f[Transaxle] && bare(h) == "line.*.joint.*.max" {
			out = append(out, "line.*.half_shaft.**")
		}
		if known && !shaft && h == axesRead {
			h = "readings.tacked" // there is the powertrain to read, and no more
		}
		if known && !shaft && ofPropshaft(h) {
			continue
		}
		out = append(out, h)
	}
	return out
}

// What several steps wait for, where the build has it.
const (
	bracketRoom   = "bracket.*.room?"
	bracketRocked = "bracket.*.room.rocked?"
	linkLoad      = "torque_link.*.load?"
	stopLoad      = "roll_stop.*.load?"
	stopPlay      = "roll_stop.*.play?"
)

const axesRead = "line.*.*.read@proved"

// bare is a hold without the marks at its end.
func bare(hold string) string {
	hold, _ = strings.CutSuffix(hold, "?")
	hold, _ = strings.CutSuffix(hold, "@proved")
	return hold
}

func ofPropshaft(hold string) bool {
	for _, part := range []string{"joint.", "shaft.", "pinion.", "residual", "equivalent", "travel.", "powertrain."} {
		if strings.HasPrefix(hold, "line.*."+part) || strings.HasPrefix(hold, "line.front."+part) {
			return true
		}
	}
	return false
}

// The stages, in the order they are worked through.
const (
	Survey     = "survey the frame"
	Rails      = "rails and crossmembers"
	Place      = "place the powertrain"
	FirstMount = "first mount"
	Angles     = "prove the angles"
	Second     = "second mount"
	Support    = "gearbox support"
	Subframe   = "subframe and steering"
	Finish     = "finish the welds"
	Systems    = "exhaust, cooling, fuel, wiring"
	Shaft      = "shaft"
	Fluids     = "fluids"
	FirstStart = "before the first start"
	FirstDrive = "before the first drive"
	After      = "after 50 and 500 km"
)

// list and index are the built-in list; nothing changes them.
var (
	list = slices.Concat(survey(), rails(), place(), firstMount(), angles(), second(), support(), subframe(),
		finish(), systems(), shaft(), fluids(), firstStart(), firstDrive(), after())
	index = func() map[string]Job {
		m := make(map[string]Job, len(list))
		for _, s := range list {
			m[s.ID] = s
		}
		return m
	}()
)

// For returns the steps that belong to a build with these facts, in working
// order, with the needs that are left out of it taken out.
func For(f Facts) []Job {
	var out []Job
	in := map[string]bool{}
	for _, s := range list {
		if s.Fits(f) {
			out = append(out, s)
			in[s.ID] = true
		}
	}
	for i := range out {
		out[i].Needs = slices.DeleteFunc(slices.Clone(out[i].Needs), func(id string) bool { return !in[id] })
	}
	return out
}

// Find returns the step with the given id.
func Find(id string) (Job, bool) {
	s, ok := index[id]
	return s, ok
}

// IDs returns the ids of all steps, in working order.
func IDs() []string {
	var out []string
	for _, s := range list {
		out = append(out, s.ID)
	}
	return out
}
