package assess

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
)

// gaugePlusMinus is what a digital angle gauge is taken to be good for when
// the file does not say (common practice, no source).
const gaugePlusMinus = 0.1 * geom.Deg

// gaugeResult is every reading of the build, each as a slope, and what is
// known about the gauge.
type gaugeResult struct {
	slope []Measure // of each reading, down to the rear, as it was shown
	u     []float64 // standard uncertainty of each reading, from one to the next
	zero  float64   // standard uncertainty of the gauge's zero, the same on all
	bias  linear    // the zero's error, found by turning the gauge round
	hasB  bool
	level linear // slope of the frame, or of the floor, to be taken off
	what  string // "frame", "floor" or nothing
}

// readGauge turns every reading of the build into a slope.
func (a *Assessment) readGauge() {
	b := a.Build
	g := &a.gauge
	g.zero = b.Gauge.Zero.Or(0) / math.Sqrt(3) // rectangular, JCGM 100:2008, 4.3.7
	for _, r := range b.Readings {
		gr := gauge.Reading{
			Shown:     geom.Angle(r.Shown.Or(0)),
			PlusMinus: geom.Angle(r.PlusMinus.Or(b.Gauge.Accuracy.Or(gaugePlusMinus.Rad()))),
			On:        r.On.Gauge(), Lower: r.Lower.Gauge(),
		}
		step := b.Gauge.Resolution.Or(0) / 2 / math.Sqrt(3) // half a step of the display
		u := math.Hypot(gr.Standard().Rad(), step)
		s, err := gr.Slope()
		m := known(s.Rad(), u)
		if err != nil {
			m = Measure{Why: err.Error(), Unusable: true, err: err}
		}
		g.slope, g.u = append(g.slope, m), append(g.u, u)
	}
	a.findBias()
	for _, target := range []string{project.TargetFrame, project.TargetFloor} {
		if set := a.latest(target); len(set) > 0 {
			if lin, m := a.average(set); m.Known {
				g.level, g.what = lin, target
			}
			break
		}
	}
}

// latest returns the readings of a target that count: the last one in the file
// and those before it that were taken at the same step and placement.
func (a *Assessment) latest(target string) []int {
	var set []int
	for i := len(a.Build.Readings) - 1; i >= 0; i-- {
		r := a.Build.Readings[i]
		if r.Of != target {
			continue
		}
		if len(set) > 0 && !sameOccasion(r, a.Build.Readings[set[0]]) {
			break
		}
		set = append(set, i)
	}
	return set
}

func sameOccasion(r, s project.Reading) bool {
	if r.After != s.After {
		return false
	}
	p, ok := r.Placed.Seat()
	q, ok2 := s.Placed.Seat()
	return ok == ok2 && (!ok || samePlacement(p, q))
}

// findBias looks for readings of one thing with the gauge both ways round:
// half their difference is the error of its zero.
func (a *Assessment) findBias() {
	g := &a.gauge
	for _, target := range a.Build.Targets() {
		rear, front := a.ends(a.latest(target))
		if len(rear) == 0 || len(front) == 0 {
			continue
		}
		r, f := a.mean(rear), a.mean(front)
		g.bias, g.hasB = r.minus(f).times(0.5), true
		return
	}
}

// ends splits usable readings by the way the marked end of the gauge pointed.
func (a *Assessment) ends(set []int) (rear, front []int) {
	for _, i := range set {
		switch {
		case !a.gauge.slope[i].Known:
		case a.Build.Readings[i].GaugeEnd == project.FrontEnd:
			front = append(front, i)
		case a.Build.Readings[i].GaugeEnd == project.RearEnd:
			rear = append(rear, i)
		}
	}
	return rear, front
}

// mean is the average of readings as it depends on each of them, with the
// gauge's zero in it.
func (a *Assessment) mean(set []int) linear {
	l := newLinear(len(a.Build.Readings))
	for _, i := range set {
		w := 1 / float64(len(set))
		l.v += w * a.gauge.slope[i].V
		l.c[i] += w
		if a.Build.Readings[i].GaugeEnd == project.FrontEnd {
			l.zero -= w
		} else {
			l.zero += w
		}
	}
	return l
}

// average is the slope that a set of readings stands for, freed of the zero's
// error where that is known.
func (a *Assessment) average(set []int) (linear, Measure) {
	for _, i := range set {
		if !a.gauge.slope[i].Known {
			return linear{}, a.gauge.slope[i]
		}
	}
	var l linear
	if rear, front := a.ends(set); len(rear) > 0 && len(front) > 0 {
		l = a.mean(rear).plus(a.mean(front)).times(0.5)
	} else if l = a.mean(set); a.gauge.hasB {
		l = l.minus(a.gauge.bias.times(l.zero))
	}
	return l, known(l.v, a.uncertainty(l, set))
}

// uncertainty is the standard uncertainty of something that depends on the
// readings: each one's own, and the zero's, which is the same on all of them
// and drops out of differences (JCGM 100:2008, 5.2). Repeats that scatter more
// than the gauge should are taken at their scatter.
func (a *Assessment) uncertainty(l linear, repeats []int) float64 {
	sum := math.Pow(l.zero*a.gauge.zero, 2)
	scatter := a.scatter(repeats)
	for i, c := range l.c {
		u := a.gauge.u[i]
		if slices.Contains(repeats, i) {
			u = max(u, scatter)
		}
		sum += math.Pow(c*u, 2)
	}
	return math.Sqrt(sum)
}

// scatter is the experimental standard deviation of repeats, zero for fewer
// than three, which say nothing.
func (a *Assessment) scatter(set []int) float64 {
	if len(set) < 3 {
		return 0
	}
	mean, sum := 0.0, 0.0
	for _, i := range set {
		mean += a.gauge.slope[i].V / float64(len(set))
	}
	for _, i := range set {
		sum += math.Pow(a.gauge.slope[i].V-mean, 2)
	}
	return math.Sqrt(sum / float64(len(set)-1))
}

// readLine fills in what the readings say about a line: the slope of each
// axis, the joint angles and the mismatch, each with its uncertainty.
func (a *Assessment) readLine(l project.Line, out *Line) {
	for i := range out.Axes {
		a.readAxis(l, out, i)
		out.HasReads = out.HasReads || out.Axes[i].Reading >= 0
	}
	for i := range out.Joints {
		a.readJoint(&out.Joints[i], out.Axes, i)
	}
	for i := range out.Shafts {
		a.readMismatch(&out.Shafts[i], out, i)
	}
}

func (a *Assessment) readAxis(l project.Line, out *Line, n int) {
	x := &out.Axes[n]
	set := a.latest(x.Target)
	if len(set) == 0 {
		x.Read = missing("no reading of " + x.the() + " yet")
		return
	}
	x.Reading, x.Count = set[0], len(set)
	r := a.Build.Readings[x.Reading]
	x.Basis = Read
	if r.After.Proves() {
		x.Basis = Proved
	}
	lin, m := a.average(set)
	if !m.Known {
		x.Read = Measure{Why: readingWhy(x.the(), m.err), Unusable: true}
		return
	}
	if a.gauge.what != "" {
		lin = lin.minus(a.gauge.level)
		m = known(lin.v, a.uncertainty(lin, set))
	}
	x.Raw, x.Read, x.lin = m, m, lin
	a.carry(l, x, n, r)
	x.lin.v = x.Read.V
}

// readingWhy asks for what a reading lacks in the words of the bench.
func readingWhy(label string, err error) string {
	switch {
	case errors.Is(err, gauge.ErrNoSense):
		return "the reading of " + label + " has no direction; which end is lower, front or rear?"
	case errors.Is(err, gauge.ErrNoSurface):
		return "the reading of " + label + " does not say what the gauge stood on; along the axis, or on a square face?"
	}
	return fmt.Sprintf("the reading of %s: %v", label, err)
}

// carry adds to a slope that was read what the model says it has changed
// since, when the powertrain has been moved after the reading.
func (a *Assessment) carry(l project.Line, x *Axis, n int, r project.Reading) {
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
	if l.DrivingTarget() != project.TargetPowertrain {
		return // the line does not hang on the powertrain
	}
	if x.Target != project.TargetPowertrain {
		if n > 1 {
			return // only the first shaft hangs on the powertrain
		}
		before, err1 := a.shaftSlope(l, was)
		after, err2 := a.shaftSlope(l, a.Pose.V)
		if err1 != nil || err2 != nil {
			x.Read = Measure{Why: "the powertrain moved since " + x.the() + " was read; read it again", Unusable: true}
			return
		}
		delta = after - before
	}
	x.Moved = true
	x.Read.V += delta.Rad()
}

func (a *Assessment) shaftSlope(l project.Line, pose geom.Pose) (geom.Angle, error) {
	c, err := a.chain(l, Measured[geom.Pose]{V: pose, Known: true})
	if err != nil {
		return 0, err
	}
	axes, err := c.Line().Axes()
	if err != nil {
		return 0, err
	}
	return geom.Slope(ahead(l, axes[1])), nil
}

// readJoint takes the angle between two axes whose slopes were read. A gauge
// cannot read plan angles, so those come from the model where there is one.
func (a *Assessment) readJoint(j *Joint, axes []Axis, i int) {
	before, after := axes[i], axes[i+1]
	for _, x := range []Axis{before, after} {
		if x.Read.Unusable || (!x.Read.Known && j.Read.Why == "") {
			j.Read = Measure{Why: x.Read.Why, Unusable: x.Read.Unusable}
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
	j.sens[0], j.sens[1] = shaft.Sensitivity(v, w)
	j.Read = known(geom.Between(v, w).Rad(), a.uncertainty(j.linear(axes), nil))
	j.Basis = weaker(before.Basis, after.Basis)
	j.Moved = before.Moved || after.Moved
}

// linear is how the joint's angle depends on the readings.
func (j *Joint) linear(axes []Axis) linear {
	return axes[j.Number-1].lin.times(j.sens[0]).plus(axes[j.Number].lin.times(j.sens[1]))
}

// readMismatch takes the difference of two joint angles that share a shaft.
// Its coefficients are the difference of the joints' own, so the shared
// reading counts twice where the joints bend the same way and drops out where
// they bend opposite ways (JCGM 100:2008, 5.2).
func (a *Assessment) readMismatch(s *Shaft, l *Line, i int) {
	first, second := l.Joints[i], l.Joints[i+1]
	if !first.Read.Known || !second.Read.Known {
		bad := first.Read
		if bad.Known || (!bad.Unusable && second.Read.Unusable) {
			bad = second.Read
		}
		s.MismatchRead = bad
		return
	}
	lin := first.linear(l.Axes).minus(second.linear(l.Axes))
	d := geom.Angle(first.Read.V - second.Read.V).Abs()
	s.MismatchRead = known(d.Rad(), a.uncertainty(lin, nil))
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
