// Package line judges drivelines, planned and read side by side: the angles of
// their joints, how evenly they run, what speed and torque ask of them, and how
// far readings and plan agree. What moves an axle is not its business.
package line

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Input is what a line follows from, wherever the powertrain stands.
type Input struct {
	Build    *project.Build
	Readings finding.Readings
	Stated   *finding.Stated // the ± that the file states; nil leaves them out
	// Survey are the errors of points that the survey places.
	Survey finding.Shifts
	// Droop says where the end of a line with a live axle stands at full droop,
	// from where it is at ride height.
	Droop func(l project.Line, ride AxleEnd) (AxleEnd, error)
}

// AxleEnd is the joint at the pinion (mm, vehicle axes) and the pinion's
// rearward axis.
type AxleEnd struct{ At, Axis r3.Vec }

// Place is where the powertrain stands.
type Place struct {
	// Build is the build that was prepared, with its placement changed at most:
	// project.Build.Placed.
	Build *project.Build
	Pose  finding.Maybe[geom.Pose]
	// Beside are the poses within the ± typed of where it stands.
	Beside []finding.Beside[geom.Pose]
	// Light leaves out what no verdict rests on: one turn drawn, what a number
	// assumes, loads that nothing is held against.
	Light bool
	// Angles asks for the angles of its joints alone.
	Angles bool
	// To and PlansTo are where findings are put behind what is there already.
	To, PlansTo []finding.Finding
}

// Result is a line with what is held against limits.
type Result struct {
	Line     Line
	Findings []finding.Finding // behind Place.To
	Agree    []finding.Finding // whether its axes were read, and agree with the plan
	Plans    []finding.Finding // what is planned where a verdict rests on a reading; behind Place.PlansTo
	Chain    shaft.Chain       // as planned; no joints where nothing is
}
