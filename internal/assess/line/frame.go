package line

import (
	"errors"
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

var shaftKinds = map[project.JointKind]shaft.Kind{
	project.Cardan: shaft.Cardan, project.DoubleCardan: shaft.DoubleCardan, project.ConstantVelocity: shaft.ConstantVelocity,
}

// frame is a line as the file has it but for where the powertrain stands.
type frame struct {
	chain         shaft.Chain
	hangs         bool       // the driving axis and the first joint go with the powertrain
	front         bool       // the line runs forward
	dir, output   r3.Vec     // rearward driving axis and first joint, powertrain axes
	spacer        [2]float64 // between output and first joint, and between last joint and pinion
	before, after error      // what the file lacks, asked for before and after a pose
}

// frameOf takes from the file what a chain needs, from the model or, where the
// line gives its own driving axis, from points.
func frameOf(b *project.Build, l *project.Line) frame {
	n := l.JointCount()
	f := frame{
		chain: shaft.Chain{Joints: make([]shaft.Joint, n), Yokes: yokes(l, n)},
		hangs: l.DrivingTarget() == project.TargetPowertrain, front: l.Toward == project.TowardFront,
		dir: l.OutputDir(), spacer: [2]float64{l.OutSpacer.Or(0), l.Pinion.Spacer.Or(0)},
	}
	for i := range f.chain.Joints {
		f.chain.Joints[i] = shaft.Joint{At: l.Joint(i).At.At, Kind: shaftKinds[l.Joint(i).OfKind()]}
	}
	f.chain.Out = f.ahead(geom.Direction(geom.Angle(l.Pinion.Slope.Or(0)), geom.Angle(l.Pinion.Heading.Or(0))))
	if l.Pinion.At.Known {
		f.chain.Joints[n-1].At = l.Pinion.At.At
	}
	if !f.hangs {
		f.chain.In = f.ahead(geom.Direction(geom.Angle(l.First.Slope.Or(0)), geom.Angle(l.First.Heading.Or(0))))
	}
	output := b.OutputOf(l)
	f.output = output.At
	f.before, f.after = f.lacks(b, l, output.Known)
	return f
}

// lacks says what the file lacks, before and after the place of the powertrain
// is asked for.
func (f *frame) lacks(b *project.Build, l *project.Line, output bool) (before, after error) {
	n := l.JointCount()
	missing := func(key string) error { return fmt.Errorf("line.%s.%s is not in the file yet", l.Name, key) }
	if b.Hung(*l) {
		return errors.New("the differential hangs on the powertrain, and a propshaft to one that moves with it is not worked out yet"), nil
	}
	for i := 1; i+1 < n; i++ {
		if !l.Joint(i).At.Known {
			return missing(fmt.Sprintf("joint.%d.at", i+1)), nil
		}
	}
	switch {
	case !f.hangs && !l.First.Slope.Known():
		return missing("first.slope"), nil
	case !f.hangs && !l.Joint(0).At.Known:
		return missing("joint.1.at"), nil
	case f.hangs && !output:
		return nil, errors.New("powertrain.output is not in the file yet")
	case !l.Pinion.At.Known && !l.Joint(n-1).At.Known:
		return nil, missing("pinion.at")
	case !l.Pinion.Slope.Known():
		return nil, missing("pinion.slope")
	}
	return nil, nil
}

// at is the line with the powertrain at pose.
func (f *frame) at(pose finding.Maybe[geom.Pose]) (shaft.Chain, error) {
	switch {
	case f.before != nil:
		return shaft.Chain{}, f.before
	case f.hangs && !pose.Known:
		return shaft.Chain{}, errors.New(pose.Why)
	case f.after != nil:
		return shaft.Chain{}, f.after
	}
	c := f.chain
	c.Joints = slices.Clone(c.Joints)
	if f.hangs {
		c.In = f.ahead(pose.V.Dir(f.dir))
		c.Joints[0].At = pose.V.Point(f.output)
	}
	if n := len(c.Joints); n > 0 { // half shafts alone have none
		c.Joints[0].At = r3.Add(c.Joints[0].At, r3.Scale(f.spacer[0], c.In))
		c.Joints[n-1].At = r3.Sub(c.Joints[n-1].At, r3.Scale(f.spacer[1], c.Out))
	}
	return c, nil
}

// ahead turns a rearward axis into one that points from the driving to the
// driven end, and back.
func (f *frame) ahead(rearward r3.Vec) r3.Vec {
	if f.front {
		return r3.Scale(-1, rearward)
	}
	return rearward
}

// Chain returns the line as the file has it when the powertrain stands at
// pose.
func (p *Prepared) Chain(pose finding.Maybe[geom.Pose]) (shaft.Chain, error) { return p.frame.at(pose) }

// yokes returns the yoke offset of each shaft between two joints.
func yokes(l *project.Line, joints int) []geom.Angle {
	out := make([]geom.Angle, joints-1)
	for i := range out {
		s := l.Shaft(i)
		if s.Phase == project.Crossed {
			out[i] = shaft.Crossed
		}
		if v, ok := s.YokeOffset.Get(); ok {
			out[i] = geom.Angle(v)
		}
	}
	return out
}

// plan works out the line as the model has it.
func (a *judge) plan() {
	out := a.out
	var angles []geom.Angle
	a.chain, a.chainErr = a.frame.at(a.Pose)
	if a.chainErr == nil {
		a.axes, a.chainErr = a.chain.Line().Axes()
	}
	a.planErr = a.chainErr
	if a.planErr == nil {
		angles, a.planErr = shaft.Angles(a.axes)
	}
	if a.planErr != nil {
		out.noPlan(a.planErr.Error())
		out.typedSlopes(a.file, a.typed)
		return
	}
	out.HasPlan = true
	for i, d := range a.axes {
		d = a.frame.ahead(d) // an axis is shown as it falls to the rear
		out.Axes[i].Planned = finding.Exact(geom.Slope(d).Rad())
		out.Axes[i].Heading = finding.Exact(geom.Heading(d).Rad())
	}
	for i, b := range angles {
		out.Joints[i].At = finding.Maybe[r3.Vec]{V: a.chain.Joints[i].At, Known: true}
		out.Joints[i].Planned = finding.Exact(b.Rad())
	}
	for i := range out.Shafts {
		out.Shafts[i].Length = finding.Exact(r3.Norm(r3.Sub(a.chain.Joints[i+1].At, a.chain.Joints[i].At)))
		out.Shafts[i].MismatchPlanned = finding.Exact((angles[i] - angles[i+1]).Abs().Rad())
	}
	if a.planErr = a.openPlan(); a.planErr != nil {
		out.HasPlan = false
		out.noPlan(a.planErr.Error())
	}
}

// typedSlopes are planned by themselves, without the points that a plan of the
// whole line takes: a reading of the same axis is held against them.
func (l *Line) typedSlopes(of *project.Line, by []typed) {
	typed := func(what string, q quantity.SlopeQ) finding.Number {
		for _, t := range by {
			if t.what == what {
				return finding.Of(t.by.Shift(q.V()))
			}
		}
		return finding.Exact(q.V())
	}
	if of.First.Slope.Known() && of.DrivingTarget() != project.TargetPowertrain {
		l.Axes[0].Planned = typed("first.slope", of.First.Slope)
	}
	if of.Pinion.Slope.Known() && len(l.Axes) > 1 {
		l.Axes[len(l.Axes)-1].Planned = typed("pinion.slope", of.Pinion.Slope)
	}
}

func (l *Line) noPlan(why string) {
	l.PlanWhy = why
	for i := range l.Axes {
		l.Axes[i].Planned, l.Axes[i].Heading = finding.Missing(why), finding.Missing(why)
	}
	for i := range l.Joints {
		l.Joints[i].Planned = finding.Missing(why)
		l.Joints[i].At.Why = why
	}
	for i := range l.Shafts {
		l.Shafts[i].Length, l.Shafts[i].MismatchPlanned = finding.Missing(why), finding.Missing(why)
	}
}
