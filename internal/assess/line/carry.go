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

	"gonum.org/v1/gonum/spatial/r3"
)

// occasion is where an axis stood: the powertrain's placement, and whether the
// axle hung at full droop.
type occasion struct {
	placed seat.Placement
	hangs  bool
}

// carry brings the slope that was read of axis n to the present: the powertrain
// moved, or the axle hung while it was read. The number then is the old reading
// and what the model says has changed, with the ± of both, and it is planned.
func (a *judge) carry(l project.Line, x *Axis, n int, r project.Reading) {
	defer func() { x.lin.V = x.Read.V }()
	if off := quantity.AsAngle(l.OutputSlope).Rad(); x.Target == project.TargetPowertrain && off != 0 {
		// The crankshaft was read, and the line begins at an output that is not
		// parallel to it.
		x.Read.V += off
		x.lin.V = x.Read.V
		x.Assumes = append(x.Assumes, "the output's slope against the crankshaft as the file has it")
	}
	lin, ok := a.carried(l, x, n, r, geom.Slope)
	if !ok {
		return
	}
	if x.Read.Unusable {
		return
	}
	x.lin = x.lin.Plus(lin)
	x.Read = a.Readings.Sources.Of(x.lin)
	x.Basis = finding.Planned
}

// carryPlan is carry for the direction in plan.
func (a *judge) carryPlan(l project.Line, x *Axis, n int, r project.Reading) {
	was := x.Read
	x.Read = x.Plan
	if lin, ok := a.carried(l, x, n, r, geom.Heading); ok && !x.Read.Unusable {
		x.plan = x.plan.Plus(lin)
		x.Read = a.Readings.Sources.Of(x.plan)
	}
	x.Plan, x.Read = x.Read, was
}

// carried is the change since a reading, false when there is none. A change
// that the model cannot give makes x.Read unusable.
func (a *judge) carried(l project.Line, x *Axis, n int, r project.Reading, of func(r3.Vec) geom.Angle) (finding.Linear, bool) {
	moved, then, now, err := a.movedSince(x, r)
	hung := x.rides && r.Stood.AxleHangs()
	if err == nil && !moved && !hung {
		return finding.Linear{}, false
	}
	x.Moved, x.Hung = x.Moved || moved, x.Hung || hung
	if err != nil {
		x.Moved = true
		x.Read = finding.Number{Unusable: true, Why: fmt.Sprintf("%v; read %s again", err, x.the())}
		return finding.Linear{}, true
	}
	if moved {
		x.Since = a.placeChange(then, now)
	}
	was, is := occasion{then, hung}, occasion{now, false}
	lin := finding.NewLinear(len(a.Build.Readings))
	before, err := a.axisAt(l, x, n, was)
	after, err2 := a.axisAt(l, x, n, is)
	if err = errors.Join(err, err2); err != nil {
		x.Read = finding.Number{Unusable: true, Why: a.cannotCarry(x, moved, hung, r)}
		return finding.Linear{}, true
	}
	lin.V = turnFrom(of(before), of(after))
	for i, row := range seat.Written() {
		if !moved || *then.At(row) == *now.At(row) {
			continue
		}
		const step = 1e-3 // mm or rad, small against any row
		up := is
		*up.placed.At(row) += step
		if d, err := a.axisAt(l, x, n, up); err == nil {
			lin.Move[i] = turnFrom(of(after), of(d)) / step
		}
	}
	return lin, true
}

func turnFrom(a, b geom.Angle) float64 { return math.Remainder((b - a).Rad(), 2*math.Pi) }

// movedSince reports whether the powertrain stands elsewhere, for an axis that
// hangs on it, than when it was read. The error says that nobody can tell.
func (a *judge) movedSince(x *Axis, r project.Reading) (moved bool, then, now seat.Placement, err error) {
	if x.hangsOnPowertrain {
		return a.Build.MovedSince(r)
	}
	now, _ = a.Build.Placement.Seat()
	return false, now, now, nil
}

// axisAt is the rearward direction of axis n as the model has it.
func (a *judge) axisAt(l project.Line, x *Axis, n int, o occasion) (r3.Vec, error) {
	last := l.JointCount()
	var pose finding.Maybe[geom.Pose]
	if l.DrivingTarget() == project.TargetPowertrain && n < 2 {
		supports, _, err := a.Build.Seat()
		if err == nil {
			pose.V, err = supports.Pose(o.placed)
		}
		if err != nil {
			return r3.Vec{}, err
		}
		pose.Known = true
	}
	if n == 0 {
		return pose.V.Dir(geom.Direction(geom.Angle(l.OutputSlope.Or(0)), 0)), nil
	}
	if n < 2 && n < last {
		c, err := Chain(a.Build, l, pose)
		if err != nil {
			return r3.Vec{}, err
		}
		if o.hangs {
			p, err := a.Droop(l, AxleEnd{c.Joints[last-1].At, ahead(l, c.Out)})
			if err != nil {
				return r3.Vec{}, err
			}
			c.Joints[last-1].At = p.At
		}
		axes, err := c.Line().Axes()
		if err != nil {
			return r3.Vec{}, err
		}
		return ahead(l, axes[n]), nil
	}
	return a.behindAt(l, x, n, o)
}

// behindAt is axisAt for an axis that the powertrain does not reach: the pinion,
// or the last shaft of several.
func (a *judge) behindAt(l project.Line, x *Axis, n int, o occasion) (r3.Vec, error) {
	last := l.JointCount()
	end := l.Pinion.At
	if !end.Known {
		end = l.Joint(last - 1).At
	}
	if !end.Known {
		return r3.Vec{}, fmt.Errorf("line.%s.pinion.at is not in the file yet", l.Name)
	}
	slope := l.Pinion.Slope.Or(x.Read.V) // how far it turns hardly depends on it
	p := AxleEnd{end.At, geom.Direction(geom.Angle(slope), geom.Angle(l.Pinion.Heading.Or(0)))}
	var err error
	if o.hangs {
		p, err = a.Droop(l, p)
	}
	if err != nil || n == last {
		return p.Axis, err
	}
	from := l.Joint(last - 2).At
	if !from.Known {
		return r3.Vec{}, fmt.Errorf("line.%s.joint[%d].at is not in the file yet", l.Name, last-2)
	}
	axis, err := geom.Unit(r3.Sub(p.At, from.At))
	return ahead(l, axis), err
}

// placeChange says which rows the plan has elsewhere than they hung.
func (a *judge) placeChange(then, now seat.Placement) string {
	var out []string
	for _, row := range seat.Written() {
		for _, info := range project.PlacementRows() {
			v, w := *then.At(row), *now.At(row)
			if info.Row != row || geom.Near(v, w, 1e-4) {
				continue
			}
			num := func(v float64) string { return quantity.Format(info.Kind, v, a.Build.Units, 1) }
			out = append(out, fmt.Sprintf("%s at %s, planned at %s", info.Label, num(v), num(w)))
		}
	}
	return "It hung with " + strings.Join(out, "; ")
}

func (a *judge) cannotCarry(x *Axis, moved, hung bool, r project.Reading) string {
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
