package assess

import (
	"errors"
	"fmt"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
)

// gaugePlusMinus is what a digital angle gauge is taken to be good for when
// the file does not say (common practice, no source).
const gaugePlusMinus = 0.1 * geom.Deg

// readLine fills in what the readings say about a line: the slope of each
// axis, the joint angles and the mismatch, each with its uncertainty.
func (a *Assessment) readLine(l project.Line, out *Line) {
	for i := range out.Axes {
		a.readAxis(l, &out.Axes[i])
		out.HasReads = out.HasReads || out.Axes[i].Reading >= 0
	}
	u := make([]geom.Angle, len(out.Axes))
	for i, x := range out.Axes {
		u[i] = geom.Angle(x.Read.U)
	}
	for i := range out.Joints {
		readJoint(&out.Joints[i], out.Axes, i, u)
	}
	for i := range out.Shafts {
		readMismatch(&out.Shafts[i], out.Joints[i], out.Joints[i+1], u)
	}
}

// readAxis uses the last reading of the axis in the file.
func (a *Assessment) readAxis(l project.Line, x *Axis) {
	for i, r := range a.Build.Readings {
		if r.Of == x.Target {
			x.Reading = i
		}
	}
	if x.Reading < 0 {
		x.Read = missing("no reading of the " + x.Label + " yet")
		return
	}
	r := a.Build.Readings[x.Reading]
	if r.After.Proves() {
		x.Basis = Proved
	} else {
		x.Basis = Read
	}
	g := gauge.Reading{
		Shown:     geom.Angle(r.Shown.Or(0)),
		PlusMinus: geom.Angle(r.PlusMinus.Or(a.Build.Gauge.PlusMinus.Or(gaugePlusMinus.Rad()))),
		On:        r.On.Gauge(),
		Lower:     r.Lower.Gauge(),
	}
	s, err := g.Slope()
	if err != nil {
		x.Read = missing(readingWhy(x.Label, err))
		x.Read.Unusable = true
		return
	}
	x.Raw = known(s.Rad(), g.Standard().Rad())
	x.Read = x.Raw
	a.carry(l, x, r)
}

// readingWhy asks for what a reading lacks in the words of the bench.
func readingWhy(label string, err error) string {
	switch {
	case errors.Is(err, gauge.ErrNoSense):
		return "the reading of the " + label + " has no direction; which end is lower, front or rear?"
	case errors.Is(err, gauge.ErrNoSurface):
		return "the reading of the " + label + " does not say what the gauge stood on; along the axis, or on a square face?"
	}
	return fmt.Sprintf("the reading of the %s: %v", label, err)
}

// carry adds to a slope that was read what the model says it has changed
// since, when the powertrain has been moved after the reading.
func (a *Assessment) carry(l project.Line, x *Axis, r project.Reading) {
	then, ok := r.Placed.Seat()
	if !ok || x.Target == l.PinionTarget() {
		return
	}
	supports, now, err := a.Build.Seat()
	if err != nil || !a.Pose.Known || samePlacement(then, now) {
		return
	}
	was, err := supports.Pose(then)
	if err != nil {
		return
	}
	delta := a.Pose.V.Slope() - was.Slope()
	if x.Target != project.TargetPowertrain {
		before, err1 := a.shaftSlope(l, was)
		after, err2 := a.shaftSlope(l, a.Pose.V)
		if err1 != nil || err2 != nil {
			x.Read = missing("the powertrain moved since the " + x.Label + " was read; read it again")
			x.Read.Unusable = true
			return
		}
		delta = after - before
	}
	x.Moved = true
	x.Read.V += delta.Rad()
}

func (a *Assessment) shaftSlope(l project.Line, pose geom.Pose) (geom.Angle, error) {
	g, err := a.geometry(l, pose)
	if err != nil {
		return 0, err
	}
	axes, err := g.Axes()
	if err != nil {
		return 0, err
	}
	return geom.Slope(axes[1]), nil
}

// readJoint takes the angle between two axes whose slopes were read. A gauge
// cannot read plan angles, so those come from the model where there is one.
func readJoint(j *Joint, axes []Axis, i int, u []geom.Angle) {
	before, after := axes[i], axes[i+1]
	for _, x := range []Axis{before, after} {
		if !x.Read.Known {
			j.Read = Measure{Why: x.Read.Why, Unusable: x.Read.Unusable || j.Read.Unusable}
			if x.Read.Unusable {
				return
			}
		}
	}
	if j.Read.Why != "" {
		return
	}
	v := geom.Direction(geom.Angle(before.Read.V), geom.Angle(before.Heading.V))
	w := geom.Direction(geom.Angle(after.Read.V), geom.Angle(after.Heading.V))
	j.coeff = make([]float64, len(axes))
	j.coeff[i], j.coeff[i+1] = shaft.Sensitivity(v, w)
	j.Read = known(geom.Between(v, w).Rad(), gauge.Combined(j.coeff, u).Rad())
	j.Basis = weaker(before.Basis, after.Basis)
	j.Moved = before.Moved || after.Moved
}

// readMismatch takes the difference of two joint angles that share a shaft.
// Its coefficients are the difference of the joints' own, so the shared
// reading counts twice where the joints bend the same way and drops out where
// they bend opposite ways (JCGM 100:2008, 5.2).
func readMismatch(s *Shaft, first, second Joint, u []geom.Angle) {
	if !first.Read.Known || !second.Read.Known {
		bad := first.Read
		if bad.Known || (!bad.Unusable && second.Read.Unusable) {
			bad = second.Read
		}
		s.MismatchRead = bad
		return
	}
	coeff := make([]float64, len(u))
	for i := range coeff {
		coeff[i] = first.coeff[i] - second.coeff[i]
	}
	d := geom.Angle(first.Read.V - second.Read.V).Abs()
	s.MismatchRead = known(d.Rad(), gauge.Combined(coeff, u).Rad())
	s.Basis = weaker(first.Basis, second.Basis)
	s.Moved = first.Moved || second.Moved
}

func weaker(a, b Basis) Basis { return min(a, b) }

// samePlacement allows for the rounding of a placement written to a file.
func samePlacement(p, q seat.Placement) bool {
	const mm, rad = 1e-4, 1e-7
	return geom.Near(p.LeftFront, q.LeftFront, mm) && geom.Near(p.RightFront, q.RightFront, mm) &&
		geom.Near(p.Rear, q.Rear, mm) && geom.Near(p.Setback, q.Setback, mm) &&
		geom.Near(p.Offset, q.Offset, mm) && geom.Near(p.Heading.Rad(), q.Heading.Rad(), rad)
}
