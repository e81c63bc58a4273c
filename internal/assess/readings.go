package assess

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
)

// gaugePlusMinus is what a digital angle gauge is taken to be good for when
// the file does not say (common practice, no source).
const gaugePlusMinus = 0.1 * geom.Deg

// gaugeResult is every reading of the build, each as a slope or, when it was
// taken by tape, as a heading, and what is known about the gauge.
type gaugeResult struct {
	slope []Number  // of each reading, down to the rear, as it was shown
	plan  []Number  // heading of each reading by tape
	own   []float64 // standard uncertainty of each reading by what its tool is good for
	u     []float64 // the same, or the scatter of its repeats where that is larger
	zero  float64   // standard uncertainty of the gauge's zero, the same on all
	bias  linear    // the zero's error, found by turning the gauge round
	hasB  bool
	level map[project.Stood]footing
}

// footing is the slope of the frame, or of the floor, to be taken off what was
// read while the vehicle stood so: an axle lifted on stands pitches the frame as
// much as one that hangs.
type footing struct {
	lin  linear
	what string // "frame", "floor" or nothing
	bad  Number
}

// readGauge turns every reading of the build into a slope or a heading.
func (a *Assessment) readGauge() {
	b := a.Build
	g := &a.gauge
	g.zero = b.Gauge.Zero.Or(0) / math.Sqrt(3) // rectangular, JCGM 100:2008, 4.3.7
	for _, r := range b.Readings {
		s, p, u := a.readOne(r)
		g.slope, g.plan, g.own, g.u = append(g.slope, s), append(g.plan, p), append(g.own, u), append(g.u, u)
	}
	a.findBias()
	a.scatter()
	g.level = map[project.Stood]footing{}
	for _, s := range project.Stood("").Words() {
		g.level[project.Stood(s)] = a.levelWhere(project.Stood(s))
	}
}

// readOne turns a reading into a slope or a heading, with the standard
// uncertainty of its tool.
func (a *Assessment) readOne(r project.Reading) (slope, plan Number, u float64) {
	b := a.Build
	if r.InPlan() {
		slope = finding.Missing("it was taken by tape, seen from above")
		// Each end is good for what a tape is (rectangular), and aside is the
		// difference of the two.
		u = math.Sqrt2 * tapePlusMinus / math.Sqrt(3) / r.Over.V()
		if v, ok := r.PlusMinus.Get(); ok {
			u = v / math.Sqrt(3)
		}
		return slope, finding.Known(math.Atan2(r.Aside.V(), r.Over.V()), u), u
	}
	plan = finding.Missing("it was not taken by tape")
	gr := gauge.Reading{
		Shown:     geom.Angle(r.Shown.Or(0)),
		PlusMinus: geom.Angle(r.PlusMinus.Or(b.Gauge.Accuracy.Or(gaugePlusMinus.Rad()))),
		On:        r.On.Gauge(), Lower: r.Lower.Gauge(),
	}
	step := b.Gauge.Resolution.Or(0) / 2 / math.Sqrt(3) // half a step of the display
	u = math.Hypot(gr.Standard().Rad(), step)
	s, err := gr.Slope()
	if err != nil {
		return Number{Why: err.Error(), Unusable: true, Err: err}, plan, u
	}
	return finding.Known(s.Rad(), u), plan, u
}

// levelWhere is what was read of the frame, or of the floor, with the vehicle
// standing so.
func (a *Assessment) levelWhere(stood project.Stood) footing {
	for _, target := range []string{project.TargetFrame, project.TargetFloor} {
		set := a.latestWhere(target, func(r project.Reading) bool { return r.Stood.Or() == stood })
		if len(set) == 0 {
			continue
		}
		lin, m := a.average(set)
		if !m.Known {
			return footing{what: target, bad: Number{Why: readingWhy("the "+target, m), Unusable: true, Err: m.Err}}
		}
		return footing{lin: lin, what: target}
	}
	return footing{}
}

// levelled takes the slope of what the vehicle stood on off a reading.
func (a *Assessment) levelled(lin linear, r project.Reading) (linear, Number) {
	here := a.gauge.level[r.Stood.Or()]
	other := ""
	for _, stood := range r.Stood.Words() {
		if w := a.gauge.level[project.Stood(stood)].what; w != "" {
			other = w
		}
	}
	switch {
	case here.what == "" && other != "":
		return lin, Number{Unusable: true, Why: fmt.Sprintf("the %s was read only with the vehicle standing otherwise, and it slopes otherwise then; read the %s as the vehicle stood here (%s)", other, other, r.Stood.Or())}
	case here.what == "":
	case here.bad.Unusable:
		return lin, here.bad
	default:
		lin = lin.minus(here.lin)
	}
	return lin, finding.Known(lin.v, a.uncertainty(lin))
}

// latest returns the gauge readings of a target that count: the last one in the
// file and those before it that were taken at the same step and placement.
func (a *Assessment) latest(target string) []int {
	return a.latestWhere(target, func(r project.Reading) bool { return !r.InPlan() })
}

// latestPlan is latest of the readings by tape.
func (a *Assessment) latestPlan(target string) []int {
	return a.latestWhere(target, project.Reading.InPlan)
}

func (a *Assessment) latestWhere(target string, counts func(project.Reading) bool) []int {
	var set []int
	for i := len(a.Build.Readings) - 1; i >= 0; i-- {
		r := a.Build.Readings[i]
		if r.Of != target || !counts(r) {
			continue
		}
		if len(set) > 0 && !a.sameOccasion(r, a.Build.Readings[set[0]]) {
			break
		}
		set = append(set, i)
	}
	return set
}

// sameOccasion reports whether two readings of one thing were taken at the same
// step, with the vehicle standing alike and, where that matters, the powertrain
// at one place. Not said, a reading was taken hung, and where it stands now: a
// move writes the place it leaves.
func (a *Assessment) sameOccasion(r, s project.Reading) bool {
	step := func(r project.Reading) project.After {
		if r.After == "" {
			return project.Hung
		}
		return r.After
	}
	if step(r) != step(s) || r.Stood.Or() != s.Stood.Or() {
		return false
	}
	if !a.Build.HangsOnPowertrain(r.Of) {
		return true
	}
	place := func(r project.Reading) project.Placement {
		if r.Placed.Any() {
			return r.Placed
		}
		return a.Build.Placement
	}
	p, q := place(r), place(s)
	return p.Any() == q.Any() && !p.Elsewhere(q)
}

// findBias looks for readings of one thing with the gauge both ways round:
// half their difference is the error of its zero. A difference that no zero
// explains is a slip, and says nothing about the gauge.
func (a *Assessment) findBias() {
	g := &a.gauge
	for _, target := range a.Build.Targets() {
		rear, front := a.ends(a.latest(target))
		if len(rear) == 0 || len(front) == 0 {
			continue
		}
		bias := a.mean(rear).minus(a.mean(front)).times(0.5)
		if math.Abs(bias.v) <= max(mostBias.Rad(), 2*a.Build.Gauge.Zero.Or(0)) {
			g.bias, g.hasB = bias, true
			return
		}
	}
}

// mostBias is the largest error of its zero that a gauge is taken to have: set
// by fitup, a rule of thumb. Two readings farther apart are of two things.
const mostBias = 1 * geom.Deg

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
// error where that is known. Readings that cannot all be true have none.
func (a *Assessment) average(set []int) (linear, Number) {
	for _, i := range set {
		if !a.gauge.slope[i].Known {
			return linear{}, a.gauge.slope[i]
		}
	}
	if c := a.agreement(set); c.is == gauge.Contradict {
		return linear{}, Number{Unusable: true, Err: c, Why: c.Error()}
	}
	var l linear
	if rear, front := a.ends(set); len(rear) > 0 && len(front) > 0 {
		l = a.mean(rear).plus(a.mean(front)).times(0.5)
	} else if l = a.mean(set); a.gauge.hasB {
		l = l.minus(a.gauge.bias.times(l.zero))
	}
	return l, finding.Known(l.v, a.uncertainty(l))
}

// uncertainty is the standard uncertainty of something that depends on the
// readings: each one's own, or the scatter of its repeats where that is larger,
// the zero's, which is the same on all of them and drops out of differences,
// and that of a modelled move (JCGM 100:2008, 5.2).
func (a *Assessment) uncertainty(l linear) float64 {
	sum := math.Pow(l.zero*a.gauge.zero, 2)
	for i, c := range l.c {
		sum += math.Pow(c*a.gauge.u[i], 2)
	}
	for row, c := range l.move {
		sum += math.Pow(c*moveU(row), 2)
	}
	return math.Sqrt(sum)
}
