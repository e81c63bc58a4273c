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
// rail does not reach. Its ± is of a whole assessment.
func (a *Assessment) PadOverRail(mount string) (edge r3.Vec, over Number) {
	edge, over = a.padOverRail(a.Build.Rails, mount)
	if open, ok := a.overRails[mount]; ok && over.Known {
		over = open
	}
	return edge, over
}

// padOverRail is PadOverRail over given rails, without a ±.
func (a *Assessment) padOverRail(rails project.Rails, mount string) (edge r3.Vec, over Number) {
	pads, rail := a.Build.Powertrain.Pads, rails.Left
	pad := pads.LeftFront
	if mount == "right_front" {
		pad, rail = pads.RightFront, rails.Right
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
			return edge, finding.Exact(at.Z - edge.Z)
		}
	}
	return edge, finding.Missing("the rail does not reach the pad's station")
}

// overRail is how high a front pad stands over its rail with what all that the file
// leaves open makes of the pad, of where it stands and of the rail.
func (a *Assessment) overRail(mount string, all []ends) Number {
	_, over := a.padOverRail(a.Build.Rails, mount)
	if !over.Known {
		return over
	}
	var by []uncertain.Weighted
	for _, e := range all {
		switch {
		case e.err != nil && e.of.to.parts&(OfStands|OfLegs) != 0:
			return finding.Missing("within " + e.of.within + ": " + e.err.Error())
		case e.at[0] == nil:
			continue
		}
		var at [2]float64
		for i, b := range e.at {
			_, w := b.padOverRail(b.Build.Rails, mount)
			if !w.Known {
				return finding.Missing("within " + e.of.within + ": " + w.Why)
			}
			at[i] = w.V
		}
		by = append(by, uncertain.Weighted{K: 1, N: e.of.Of.Within(0, e.of.Of.EndsOf(over.V, at[0], at[1]).Off).Number})
	}
	return finding.Of(uncertain.Smooth(over.V, by...))
}

// padsOverRails lists how high the front pads stand over their rails, or how far
// below them.
func (a *Assessment) padsOverRails(l *finding.List) {
	for _, mount := range frontPads() {
		_, over := a.PadOverRail(mount)
		if !over.Known {
			continue
		}
		name, v := "placement."+mount+".over_rail", over.V
		if v < 0 {
			name, v = "placement."+mount+".below_rail", -v
		}
		l.Add(name, quantity.Length, v)
		if wide := over.Expanded(); wide > 0 {
			l.Add(name+".uncertainty", quantity.Length, wide)
		}
	}
}

func frontPads() []string { return []string{"left_front", "right_front"} }
