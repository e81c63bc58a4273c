package line

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// carry brings the slope that was read of axis n to the present: the powertrain
// moved, or the axle hung while it was read. The number then is the old reading
// and what the model says has changed, with the ± of both, and it is planned.
func (a *judge) carry(x *Axis, n int, r *project.Reading) {
	off := quantity.AsAngle(a.file.OutputSlope).Rad()
	if a.file.Turned != 0 {
		off = geom.Slope(a.file.OutputDir()).Rad()
	}
	if x.Target == project.TargetPowertrain && off != 0 {
		// The crankshaft was read, and the line begins at an output that is not
		// parallel to it.
		x.Read = x.Read.Less(-off)
		x.Assumes = append(x.Assumes[:len(x.Assumes):len(x.Assumes)], "the output's slope against the crankshaft as the file has it")
	}
	change, ok := a.carriedBy(x, n, r, geom.Slope)
	if !ok || x.Read.Unusable {
		return
	}
	x.Read = finding.Of(x.Read.Plus(change))
	x.Basis = finding.Planned
}

// carryPlan is carry for the direction in plan.
func (a *judge) carryPlan(x *Axis, n int, r *project.Reading) {
	was := x.Read
	x.Read = x.Plan
	if change, ok := a.carriedBy(x, n, r, geom.Heading); ok && !x.Read.Unusable {
		x.Read = finding.Of(x.Read.Plus(change))
	}
	x.Plan, x.Read = x.Read, was
}

// carriedBy is the change since a reading, false when there is none. A change
// that the model cannot give makes x.Read unusable.
func (a *judge) carriedBy(x *Axis, n int, r *project.Reading, of func(r3.Vec) geom.Angle) (uncertain.Number, bool) {
	moved, then, now, err := a.movedSince(x, r)
	hung := x.rides && r.Stood.AxleHangs()
	if err == nil && !moved && !hung {
		return uncertain.Number{}, false
	}
	x.Moved, x.Hung = x.Moved || moved, x.Hung || hung
	if err != nil {
		x.Moved = true
		x.Read = finding.Number{Unusable: true, Why: fmt.Sprintf("%v; read %s again", err, x.the())}
		return uncertain.Number{}, true
	}
	if moved {
		x.since = func() string { return placeChange(then, now, a.Build.Units) }
	}
	before, err := a.axisAt(x, n, a.poseAt(then), hung)
	after, err2 := a.axisAt(x, n, a.Pose, false)
	if err != nil || err2 != nil {
		x.Read = finding.Number{Unusable: true, Why: cannotCarry(x, moved, hung, r)}
		return uncertain.Number{}, true
	}
	var few [6]uncertain.Weighted
	rows := few[:0]
	for i, row := range seat.Written() {
		if !moved || *then.At(row) == *now.At(row) {
			continue
		}
		if d, err := a.axisAt(x, n, a.poseBeside(i, row, now), false); err == nil {
			rows = append(rows, uncertain.Weighted{K: turnFrom(of(after), of(d)) / besideStep, N: a.Readings.Moved[i]})
		}
	}
	return uncertain.Smooth(turnFrom(of(before), of(after)), rows...), true
}

func turnFrom(a, b geom.Angle) float64 { return math.Remainder((b - a).Rad(), 2*math.Pi) }

// movedSince reports whether the powertrain stands elsewhere, for an axis that
// hangs on it, than when it was read. The error says that nobody can tell.
func (a *judge) movedSince(x *Axis, r *project.Reading) (moved bool, then, now seat.Placement, err error) {
	if x.hangsOnPowertrain {
		return a.Build.MovedSince(*r)
	}
	now, _ = a.Build.Placement.Seat()
	return false, now, now, nil
}

// poses are those that several axes of a line ask for.
type poses struct {
	asked    bool
	supports seat.Supports
	err      error // why there is none
	then     seat.Placement
	was      finding.Maybe[geom.Pose] // at then
	beside   [6]finding.Maybe[geom.Pose]
}

// poseAt is where the powertrain stood at a placement.
func (a *judge) poseAt(p seat.Placement) finding.Maybe[geom.Pose] {
	s := &a.poses
	if s.asked && s.then == p {
		return s.was
	}
	s.supports, _, s.err = a.Build.Seat()
	s.asked, s.then, s.was = true, p, s.pose(p)
	return s.was
}

func (s *poses) pose(p seat.Placement) finding.Maybe[geom.Pose] {
	if s.err != nil {
		return finding.Maybe[geom.Pose]{}
	}
	v, err := s.supports.Pose(p)
	return finding.Maybe[geom.Pose]{V: v, Known: err == nil}
}

// besideStep is how far a row is moved for what an error of it does: mm or rad,
// small against any row.
const besideStep = 1e-3

// poseBeside is the pose a little beside where the powertrain stands now, by
// written row number i. It comes after poseAt.
func (a *judge) poseBeside(i int, row seat.Row, now seat.Placement) finding.Maybe[geom.Pose] {
	at := &a.poses.beside[i]
	if !at.Known {
		*now.At(row) += besideStep
		*at = a.poses.pose(now)
	}
	return *at
}

// errReach says that the model does not reach to an axis.
var errReach = errors.New("the model does not reach to it")

// axisAt is the rearward direction of axis n as the model has it, with the
// powertrain at pose and the axle at full droop or at ride height.
func (a *judge) axisAt(x *Axis, n int, pose finding.Maybe[geom.Pose], hangs bool) (r3.Vec, error) {
	f, last := &a.frame, len(a.frame.chain.Joints)
	switch {
	case f.hangs && n < 2 && !pose.Known:
		return r3.Vec{}, errReach
	case n == 0:
		return pose.V.Dir(f.dir), nil
	case n >= 2 || n >= last:
		return a.behindAt(x, n, hangs)
	case a.chainErr != nil:
		return r3.Vec{}, a.chainErr
	}
	c, err := f.at(pose)
	if err != nil {
		return r3.Vec{}, err
	}
	first, second := c.Joints[0].At, c.Joints[1].At
	if hangs {
		end, err := a.Droop(*a.file, AxleEnd{c.Joints[last-1].At, f.ahead(c.Out)})
		if err != nil {
			return r3.Vec{}, err
		}
		if last == 2 {
			second = end.At
		}
	}
	axis, err := geom.Unit(r3.Sub(second, first))
	return f.ahead(axis), err
}

// behindAt is axisAt for an axis that the powertrain does not reach: the pinion,
// or the last shaft of several.
func (a *judge) behindAt(x *Axis, n int, hangs bool) (r3.Vec, error) {
	l := a.file
	last := l.JointCount()
	end := l.Pinion.At
	if !end.Known {
		end = l.Joint(last - 1).At
	}
	if !end.Known {
		return r3.Vec{}, fmt.Errorf("line.%s.pinion.at is not in the file yet", l.Name)
	}
	slope := l.Pinion.Slope.Or(x.Read.V) // how far it turns hardly depends on it
	axis := geom.Direction(geom.Angle(slope), geom.Angle(l.Pinion.Heading.Or(0)))
	p := AxleEnd{l.BeforeSpacer(end.At, axis), axis}
	var err error
	if hangs {
		p, err = a.Droop(*l, p)
	}
	if err != nil || n == last {
		return p.Axis, err
	}
	from := l.Joint(last - 2).At
	if !from.Known {
		return r3.Vec{}, fmt.Errorf("line.%s.joint.%d.at is not in the file yet", l.Name, last-1)
	}
	along, err := geom.Unit(r3.Sub(p.At, from.At))
	return a.frame.ahead(along), err
}

// placeChange says which rows the plan has elsewhere than they hung.
func placeChange(then, now seat.Placement, u quantity.Units) string {
	var out []string
	for _, row := range seat.Written() {
		for _, info := range project.PlacementRows() {
			v, w := *then.At(row), *now.At(row)
			if info.Row != row || geom.Near(v, w, 1e-4) {
				continue
			}
			num := func(v float64) string { return quantity.Format(info.Kind, v, u, 1) }
			out = append(out, fmt.Sprintf("%s at %s, planned at %s", info.Label, num(v), num(w)))
		}
	}
	return "It hung with " + strings.Join(out, "; ")
}

func cannotCarry(x *Axis, moved, hung bool, r *project.Reading) string {
	if hung && !moved {
		return fmt.Sprintf("%s was read with the %s, where the axle does not stand as at ride height; read it with the vehicle on its wheels, or give the line its suspension, so that the travel can be worked out", x.the(), standWords(r.Stood))
	}
	return "the powertrain moved since " + x.the() + " was read, and the model does not reach to it yet; read it again"
}

func standWords(s project.Stood) string {
	if s == project.OnFrame {
		return "frame on stands"
	}
	return "axle hanging"
}
