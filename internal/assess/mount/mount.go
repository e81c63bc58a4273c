// Package mount is the powertrain on its mounts: what torque turns it, what
// each mount carries, how far it sinks, rocks and shakes on its isolators, where
// it can stand, and what the swap does to the axles.
package mount

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
)

// Input is what loads and isolators follow from.
type Input struct {
	Build *project.Build
	Pose  finding.Maybe[geom.Pose] // of the powertrain as built, vehicle axes
	// Carried asks for what the mounts carry, which sag and rock do not rest on.
	Carried bool
	// Round is the largest circumference of the driven tyres, mm.
	Round finding.Number
	// Angles are the joint angles of a line, rad, with the powertrain's own frame
	// at a pose in vehicle axes.
	Angles func(l project.Line, pose geom.Pose) ([]geom.Angle, error)
}

// Result is what the mounts carry and how the powertrain stands on them.
type Result struct {
	Statics   Statics
	Isolators Isolators
	Findings  []finding.Finding

	in Input
}

// Judge works out the loads on the mounts and lets the powertrain down on its
// isolators.
func Judge(in Input) *Result {
	res := &Result{in: in}
	res.statics()
	res.isolators()
	return res
}
