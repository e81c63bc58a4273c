// Package clear is the room round the powertrain: to the pieces of the vehicle
// as built, sagged and rocked, and to shafts and axles over their travel.
package clear

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/travel"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Input is what the room follows from.
type Input struct {
	Build        *project.Build
	Pose         finding.Maybe[geom.Pose] // of the powertrain as built, vehicle axes
	Rock         Rock
	Stands       []seat.Stand // where the powertrain can be found, as built first; empty while it has no place
	StandsAssume []string     // what is not in them
	// Lines are the build's, in its order. Without them nothing is said of what
	// moves.
	Lines []Line
}

// Rock is where the powertrain goes on its mounts.
type Rock struct {
	Asked     bool             // the file says something of the mounts' rubber
	Why       string           // why it is not known where, when it is not
	Poses     []seat.NamedPose // as built first, sagged, rocked either way
	Soft      []seat.NamedPose // the same with estimated rates at their ends; empty where none is estimated
	NoReverse string           // how far the poses reach while reverse is not in the file; empty where it is
}

// Line is a line of shafts as far as it moves.
type Line struct {
	Spec    project.Line
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
	Findings   []finding.Finding

	in Input
}

// Judge finds the room round the powertrain.
func Judge(in Input) *Result {
	res := &Result{in: in}
	res.clearances()
	res.moving()
	return res
}
