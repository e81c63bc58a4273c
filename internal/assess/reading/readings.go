// Package reading turns what a gauge, a tape and a rule said into slopes,
// headings and lengths with their ±: repeats and how they agree, the gauge's
// zero, what the vehicle stood on, and what a weld pulled. It knows readings and
// the occasions they were taken at, and no line.
package reading

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
)

// gaugePlusMinus is what a digital angle gauge is taken to be good for when
// the file does not say (common practice, no source).
const gaugePlusMinus = 0.1 * geom.Deg

// Readings is every reading of a build, each as a slope or, when it was taken
// by tape, as a heading, and what is known about the gauge. It is not changed
// once it is made.
type Readings struct {
	Slopes []finding.Number // of each reading, down to the rear, as it was shown; rad

	build   *project.Build
	plans   []finding.Number // heading of each reading by tape
	own     []float64        // standard uncertainty of each reading by what its tool is good for
	sources finding.Sources  // of readings the same, or the scatter of their repeats where that is larger
	bias    finding.Linear   // the zero's error, found by turning the gauge round
	hasB    bool
	level   map[project.Stood]footing
}

// footing is the slope of the frame, or of the floor, to be taken off what was
// read while the vehicle stood so: an axle lifted on stands pitches the frame as
// much as one that hangs.
type footing struct {
	lin  finding.Linear
	what string // "frame", "floor" or nothing
	bad  finding.Number
}

// Of turns every reading of a build into a slope or a heading.
func Of(b *project.Build) *Readings {
	g := &Readings{build: b}
	g.sources.Zero = b.Gauge.Zero.Or(0) / math.Sqrt(3) // rectangular, JCGM 100:2008, 4.3.7
	for i, row := range seat.Written() {
		g.sources.Move[i] = moveU(row)
	}
	for _, r := range b.Readings {
		s, p, u := g.readOne(r)
		g.Slopes, g.plans, g.own, g.sources.Readings = append(g.Slopes, s), append(g.plans, p), append(g.own, u), append(g.sources.Readings, u)
	}
	g.findBias()
	g.scatter()
	g.level = map[project.Stood]footing{}
	for _, s := range project.Stood("").Words() {
		g.level[project.Stood(s)] = g.levelWhere(project.Stood(s))
	}
	return g
}

// moveU is the standard uncertainty of how far a row was moved: what a tape or
// a gauge is good for, rectangular (JCGM 100:2008, 4.3.7).
func moveU(row seat.Row) float64 {
	if row == seat.Heading {
		return gaugePlusMinus.Rad() / math.Sqrt(3)
	}
	return tapePlusMinus / math.Sqrt(3)
}

// Taken is what the readings of everything in the build come to.
func (g *Readings) Taken() finding.Readings {
	out := finding.Readings{Gauge: map[string]finding.Taken{}, Tape: map[string]finding.Taken{}, Levelled: map[project.Stood]bool{}, Sources: g.sources}
	for _, target := range g.build.Targets() {
		out.Gauge[target], out.Tape[target] = g.Gauge(target), g.Tape(target)
	}
	for stood, foot := range g.level {
		out.Levelled[stood] = foot.what != ""
	}
	return out
}

// Gauge is what the gauge readings in use of a thing come to.
func (g *Readings) Gauge(target string) finding.Taken {
	t := finding.Taken{Set: g.latest(target)}
	if len(t.Set) == 0 {
		return t
	}
	t.Mean.Lin, t.Mean.Num = g.average(t.Set)
	if t.Mean.Num.Known {
		t.Doubt = g.doubt(t.Set)
		t.Level.Lin, t.Level.Num = g.levelled(t.Mean.Lin, g.build.Readings[t.Set[0]])
	}
	return t
}

// Tape is what the tape readings in use of a thing come to: a heading.
func (g *Readings) Tape(target string) finding.Taken {
	t := finding.Taken{Set: g.latestPlan(target)}
	if len(t.Set) == 0 {
		return t
	}
	lin := finding.NewLinear(len(g.build.Readings))
	for _, i := range t.Set {
		w := 1 / float64(len(t.Set))
		lin.V += w * g.plans[i].V
		lin.C[i] += w
	}
	t.Mean.Lin = lin
	if c := g.agreement(t.Set); c.is == gauge.Contradict {
		t.Mean.Num = finding.Number{Unusable: true, Err: c, Why: c.Error()}
		return t
	}
	t.Mean.Num = g.sources.Of(lin)
	return t
}

// readOne turns a reading into a slope or a heading, with the standard
// uncertainty of its tool.
func (g *Readings) readOne(r project.Reading) (slope, plan finding.Number, u float64) {
	b := g.build
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
		return finding.Number{Why: err.Error(), Unusable: true, Err: err}, plan, u
	}
	return finding.Known(s.Rad(), u), plan, u
}

// levelWhere is what was read of the frame, or of the floor, with the vehicle
// standing so.
func (g *Readings) levelWhere(stood project.Stood) footing {
	for _, target := range []string{project.TargetFrame, project.TargetFloor} {
		set := g.latestWhere(target, func(r project.Reading) bool { return r.Stood.Or() == stood })
		if len(set) == 0 {
			continue
		}
		lin, m := g.average(set)
		if !m.Known {
			return footing{what: target, bad: finding.Number{Why: finding.Unreadable("the "+target, m), Unusable: true, Err: m.Err}}
		}
		return footing{lin: lin, what: target}
	}
	return footing{}
}

// levelled takes the slope of what the vehicle stood on off a reading.
func (g *Readings) levelled(lin finding.Linear, r project.Reading) (finding.Linear, finding.Number) {
	here := g.level[r.Stood.Or()]
	other := ""
	for _, stood := range r.Stood.Words() {
		if w := g.level[project.Stood(stood)].what; w != "" {
			other = w
		}
	}
	switch {
	case here.what == "" && other != "":
		return lin, finding.Number{Unusable: true, Why: fmt.Sprintf("the %s was read only with the vehicle standing otherwise, and it slopes otherwise then; read the %s as the vehicle stood here (%s)", other, other, r.Stood.Or())}
	case here.what == "":
	case here.bad.Unusable:
		return lin, here.bad
	default:
		lin = lin.Minus(here.lin)
	}
	return lin, g.sources.Of(lin)
}

// latest returns the gauge readings of a target that count: the last one in the
// file and those before it that were taken at the same step and placement.
func (g *Readings) latest(target string) []int {
	return g.latestWhere(target, func(r project.Reading) bool { return !r.InPlan() })
}

// latestPlan is latest of the readings by tape.
func (g *Readings) latestPlan(target string) []int {
	return g.latestWhere(target, project.Reading.InPlan)
}

func (g *Readings) latestWhere(target string, counts func(project.Reading) bool) []int {
	var set []int
	for i := len(g.build.Readings) - 1; i >= 0; i-- {
		r := g.build.Readings[i]
		if r.Of != target || !counts(r) {
			continue
		}
		if len(set) > 0 && !g.sameOccasion(r, g.build.Readings[set[0]]) {
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
func (g *Readings) sameOccasion(r, s project.Reading) bool {
	step := func(r project.Reading) project.After {
		if r.After == "" {
			return project.Hung
		}
		return r.After
	}
	if step(r) != step(s) || r.Stood.Or() != s.Stood.Or() {
		return false
	}
	if !g.build.HangsOnPowertrain(r.Of) {
		return true
	}
	place := func(r project.Reading) project.Placement {
		if r.Placed.Any() {
			return r.Placed
		}
		return g.build.Placement
	}
	p, q := place(r), place(s)
	return p.Any() == q.Any() && !p.Elsewhere(q)
}

// findBias looks for readings of one thing with the gauge both ways round:
// half their difference is the error of its zero. A difference that no zero
// explains is a slip, and says nothing about the gauge.
func (g *Readings) findBias() {
	for _, target := range g.build.Targets() {
		rear, front := g.ends(g.latest(target))
		if len(rear) == 0 || len(front) == 0 {
			continue
		}
		bias := g.mean(rear).Minus(g.mean(front)).Times(0.5)
		if math.Abs(bias.V) <= max(mostBias.Rad(), 2*g.build.Gauge.Zero.Or(0)) {
			g.bias, g.hasB = bias, true
			return
		}
	}
}

// mostBias is the largest error of its zero that a gauge is taken to have: set
// by fitup, a rule of thumb. Two readings farther apart are of two things.
const mostBias = 1 * geom.Deg

// ends splits usable readings by the way the marked end of the gauge pointed.
func (g *Readings) ends(set []int) (rear, front []int) {
	for _, i := range set {
		switch {
		case !g.Slopes[i].Known:
		case g.build.Readings[i].GaugeEnd == project.MarkedFront:
			front = append(front, i)
		case g.build.Readings[i].GaugeEnd == project.MarkedRear:
			rear = append(rear, i)
		}
	}
	return rear, front
}

// mean is the average of readings as it depends on each of them, with the
// gauge's zero in it.
func (g *Readings) mean(set []int) finding.Linear {
	l := finding.NewLinear(len(g.build.Readings))
	for _, i := range set {
		w := 1 / float64(len(set))
		l.V += w * g.Slopes[i].V
		l.C[i] += w
		if g.build.Readings[i].GaugeEnd == project.MarkedFront {
			l.Zero -= w
		} else {
			l.Zero += w
		}
	}
	return l
}

// average is the slope that a set of readings stands for, freed of the zero's
// error where that is known. Readings that cannot all be true have none.
func (g *Readings) average(set []int) (finding.Linear, finding.Number) {
	for _, i := range set {
		if !g.Slopes[i].Known {
			return finding.Linear{}, g.Slopes[i]
		}
	}
	if c := g.agreement(set); c.is == gauge.Contradict {
		return finding.Linear{}, finding.Number{Unusable: true, Err: c, Why: c.Error()}
	}
	var l finding.Linear
	if rear, front := g.ends(set); len(rear) > 0 && len(front) > 0 {
		l = g.mean(rear).Plus(g.mean(front)).Times(0.5)
	} else if l = g.mean(set); g.hasB {
		l = l.Minus(g.bias.Times(l.Zero))
	}
	return l, g.sources.Of(l)
}
