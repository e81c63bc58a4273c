// Package reading turns what a gauge, a tape and a rule said into slopes,
// headings and lengths with their ±: repeats and how they agree, the gauge's
// zero, what the vehicle stood on, and what a weld pulled. It knows readings and
// the occasions they were taken at, and no line.
package reading

import (
	"fmt"
	"math"
	"sync"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// gaugePlusMinus is what a digital angle gauge is taken to be good for when
// the file does not say (common practice, no source).
const gaugePlusMinus = 0.1 * geom.Deg

// Readings is every reading of a build, each as a slope or, when it was taken
// by tape, as a heading, and what is known about the gauge. It is not changed
// once it is made.
type Readings struct {
	Slopes []finding.Number // of each reading, down to the rear, as it was shown; rad

	build    *project.Build
	names    map[string]string // of what is read, by target
	plans    []finding.Number  // heading of each reading by tape
	own      []float64         // half width that each reading is good for by its tool, rad
	sets     []occasion
	bias     uncertain.Number // the zero's error, found by turning the gauge round
	hasBias  bool
	level    map[project.Stood]footing
	moved    [6]uncertain.Number
	measured *Measured
	drifts   func() []finding.Finding // of what was measured, made once
	facts    func() []finding.Fact    // of what was measured, made once
}

// footing is the slope of the frame, or of the floor, to be taken off what was
// read while the vehicle stood so: an axle lifted on stands pitches the frame as
// much as one that hangs.
type footing struct {
	slope finding.Number
	what  string // "frame", "floor" or nothing
}

// Of turns every reading of a build into a slope or a heading; m is what was
// measured. What the readings may be off by is added to s.
func Of(b *project.Build, s *uncertain.Sources, m *Measured) *Readings {
	g := &Readings{build: b, names: namesIn(b)}
	for i, row := range seat.Written() {
		g.moved[i] = moveOf(s, row)
	}
	n := len(b.Readings)
	both := make([]finding.Number, 2*n)
	g.Slopes, g.plans, g.own = both[:n:n], both[n:], make([]float64, n)
	for i := range b.Readings {
		g.Slopes[i], g.plans[i], g.own[i] = g.readOne(&b.Readings[i])
	}
	g.occasions()
	g.byGauge(s)
	g.byTape(s)
	g.level = map[project.Stood]footing{}
	for _, w := range project.Stood("").Words() {
		g.level[project.Stood(w)] = g.levelWhere(project.Stood(w))
	}
	g.measured, g.drifts, g.facts = m, sync.OnceValue(g.driftsOfMeasures), sync.OnceValue(g.factsOfMeasures)
	return g
}

// moveOf is the error of how far a row was moved: what a tape or a gauge is good
// for.
func moveOf(s *uncertain.Sources, row seat.Row) uncertain.Number {
	half := tapePlusMinus
	if row == seat.Heading {
		half = gaugePlusMinus.Rad()
	}
	what := "the placement's row"
	for _, info := range project.PlacementRows() {
		if info.Row == row {
			what = info.Label
		}
	}
	n, err := s.With(0, uncertain.Half("how far "+what+" was moved", half))
	if err != nil {
		return uncertain.Exact(0) // no half width of the two above is refused
	}
	return n
}

// Taken is what the readings of everything in the build come to.
func (g *Readings) Taken() finding.Readings {
	out := finding.Readings{Gauge: map[string]finding.Taken{}, Tape: map[string]finding.Taken{}, Levelled: map[project.Stood]bool{}, Moved: g.moved}
	for _, target := range g.build.Targets() {
		out.Gauge[target], out.Tape[target] = g.Gauge(target), g.Tape(target)
	}
	for stood, foot := range g.level {
		out.Levelled[stood] = foot.what != ""
	}
	return out
}

// Bias is the error of the gauge's zero, where it was found by turning the gauge round;
// rad, 0 where it was not.
func (g *Readings) Bias() float64 {
	if !g.hasBias {
		return 0
	}
	return g.bias.V
}

// Gauge is what the gauge readings in use of a thing come to.
func (g *Readings) Gauge(target string) finding.Taken {
	o := g.last(target, func(o *occasion) bool { return !o.tape })
	if o == nil {
		return finding.Taken{}
	}
	t := finding.Taken{Set: o.latestFirst(), Mean: o.number}
	t.Apart = g.apart(t.Set)
	if t.Mean.Known {
		t.Doubt, t.Assumes = g.doubt(o), g.assumes(o)
		t.Level = g.levelled(t.Mean, g.build.Readings[t.Set[0]])
	}
	return t
}

// apart is how far readings are apart as slopes: rad, the largest less the smallest of
// those that make one.
func (g *Readings) apart(set []int) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, i := range set {
		if s := &g.Slopes[i]; s.Known {
			low, high = min(low, s.V), max(high, s.V)
		}
	}
	return max(0, high-low)
}

// Tape is what the tape readings in use of a thing come to: a heading.
func (g *Readings) Tape(target string) finding.Taken {
	o := g.last(target, func(o *occasion) bool { return o.tape })
	if o == nil {
		return finding.Taken{}
	}
	return finding.Taken{Set: o.latestFirst(), Mean: o.number}
}

// readOne turns a reading into a slope or a heading, with the half width that it
// is good for by its tool.
func (g *Readings) readOne(r *project.Reading) (slope, plan finding.Number, own float64) {
	b := g.build
	if r.InPlan() {
		slope = finding.Missing("it was taken by tape, seen from above")
		own = r.PlusMinus.Or(g.tapeGood(r))
		return slope, finding.Exact(math.Atan2(r.Aside.V(), r.Over.V())), own
	}
	plan = finding.Missing("it was not taken by tape")
	own = b.Gauge.Accuracy.Or(gaugePlusMinus.Rad())
	if half, typed := r.Shown.HalfWidth(); typed {
		own = half
	}
	own = r.PlusMinus.Or(own)
	s, err := gauge.Reading{Shown: geom.Angle(r.Shown.Or(0)), On: r.On.Gauge(), Lower: r.Lower.Gauge()}.Slope()
	if err != nil {
		return finding.Number{Why: err.Error(), Unusable: true, Err: err}, plan, own
	}
	return finding.Exact(s.Rad()), plan, own
}

// tapeGood is what a direction by tape is good for however often it is taken, half
// width, rad: each end is good for what the tape is, and aside is the difference of
// the two. How far one reading strays from the next is the tool's repeat.
func (g *Readings) tapeGood(r *project.Reading) float64 {
	if half, typed := r.Aside.HalfWidth(); typed {
		return half / r.Over.V()
	}
	half := tapePlusMinus
	if tool, ok := g.build.ToolNamed(r.With); ok {
		if shared, known := tool.Shared(r.Aside.V()); known {
			half = shared
		}
	}
	return math.Sqrt2 * half / r.Over.V()
}

// levelWhere is what was read of the frame, or of the floor, with the vehicle
// standing so.
func (g *Readings) levelWhere(stood project.Stood) footing {
	for _, target := range []string{project.TargetFrame, project.TargetFloor} {
		o := g.last(target, func(o *occasion) bool { return !o.tape && g.build.Readings[o.set[0]].Stood.Or() == stood })
		if o == nil {
			continue
		}
		m := o.number
		if !m.Known {
			m = finding.Number{Why: finding.Unreadable("the "+target, m, g.build, o.set), Unusable: true, Err: m.Err}
		}
		return footing{slope: m, what: target}
	}
	return footing{}
}

// levelled takes the slope of what the vehicle stood on off a reading.
func (g *Readings) levelled(m finding.Number, r project.Reading) finding.Number {
	here := g.level[r.Stood.Or()]
	other := ""
	for _, stood := range r.Stood.Words() {
		if w := g.level[project.Stood(stood)].what; w != "" {
			other = w
		}
	}
	switch {
	case here.what == "" && other != "":
		return finding.Number{Unusable: true, Why: fmt.Sprintf("the %s was read only with the vehicle standing otherwise, and it slopes otherwise then; read the %s as the vehicle stood here (%s)", other, other, r.Stood.Or())}
	case here.what == "":
		return m
	}
	return m.LessOf(here.slope)
}
