package assess

import (
	"fitup/internal/assess/clear"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/mount"
	geomclear "fitup/internal/geom/clear"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a drawing asks of an assessment besides the numbers that stand in it.

// PartShape returns a piece of the powertrain, own frame, mm; an error says
// what of it is not in the file.
func PartShape(p project.Part) (geomclear.Shape, error) { return clear.PartShape(p) }

// ChassisShape returns a piece of the vehicle, vehicle axes, mm; an error says
// what of it is not in the file.
func ChassisShape(c project.ChassisPart) (geomclear.Shape, error) { return clear.ChassisShape(c) }

// RailPoints returns the places of a rail's inner top edge that are in the
// file, vehicle axes, mm.
func RailPoints(r project.Rail) []r3.Vec { return r.Edge() }

// IsPad reports whether a mount goes by the name of one of the three pads.
func IsPad(name string) bool { return mount.IsPad(name) }

// JointAt returns the angle of a joint, rad, that its verdict rests on, and the
// worst of its verdicts.
func (a *Assessment) JointAt(l *Line, j Joint) (Number, Status) {
	worst := OK
	for _, id := range []string{finding.JointMin(l.Name, j.Number), finding.JointMax(l.Name, j.Number), finding.JointSpeed(l.Name, j.Number)} {
		if f, ok := a.Finding(id); ok {
			worst = max(worst, f.Status)
		}
	}
	return l.Angle(j), worst
}
