package assess

import (
	"fitup/internal/assess/clear"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/mount"
	geomclear "fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

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

// PadOverRail is how high a front pad, left_front or right_front, stands over the
// inner top edge of its rail at the pad's station, mm, negative below it; edge is
// that place of the rail, vehicle axes. Not known without a pose, or where the
// rail does not reach.
func (a *Assessment) PadOverRail(mount string) (edge r3.Vec, over Number) {
	pads, rail := a.Build.Powertrain.Pads, a.Build.Rails.Left
	pad := pads.LeftFront
	if mount == "right_front" {
		pad, rail = pads.RightFront, a.Build.Rails.Right
	}
	if !a.Pose.Known || !pad.Known {
		return edge, finding.Missing(a.Pose.Why)
	}
	at := a.Pose.V.Point(pad.At)
	points := RailPoints(rail)
	for i := 1; i < len(points); i++ {
		p, q := points[i-1], points[i]
		if at.X >= p.X && at.X <= q.X && q.X > p.X {
			edge = r3.Add(p, r3.Scale((at.X-p.X)/(q.X-p.X), r3.Sub(q, p)))
			over := a.padOpen(pad.At, at.Z-edge.Z, edge.Z)
			return edge, over
		}
	}
	return edge, finding.Missing("the rail does not reach the pad's station")
}

// padOpen is how high a pad (own frame) stands over a height, with what the ± typed
// of where the powertrain stands leave open.
func (a *Assessment) padOpen(pad r3.Vec, over, height float64) Number {
	var by []uncertain.Weighted
	for _, b := range a.beside {
		by = append(by, b.Slope(over, b.V.Point(pad).Z-height))
	}
	return finding.Of(uncertain.Smooth(over, by...))
}

// padsOverRails lists how high the front pads stand over their rails, or how far
// below them.
func (a *Assessment) padsOverRails(l *finding.List) {
	for _, mount := range []string{"left_front", "right_front"} {
		switch _, over := a.PadOverRail(mount); {
		case !over.Known:
		case over.V < 0:
			l.Add("placement."+mount+".below_rail", quantity.Length, -over.V)
		default:
			l.Add("placement."+mount+".over_rail", quantity.Length, over.V)
		}
	}
}
