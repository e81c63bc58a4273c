package reading

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/uncertain"
	"fitup/internal/uncertain/instrument"
)

// mostBias is the largest error of its zero that a gauge is taken to have: set
// by fitup, a rule of thumb. Two readings farther apart are of two things.
const mostBias = 1 * geom.Deg

// gaugeTool is the angle gauge of a build, rad.
func gaugeTool(b *project.Build) instrument.Tool {
	return instrument.Tool{
		Name: "the gauge", Accuracy: b.Gauge.Accuracy.Or(gaugePlusMinus.Rad()),
		Repeat: b.Gauge.Repeat.Or(0), Resolution: b.Gauge.Resolution.Or(0), Zero: b.Gauge.Zero.Or(0), MostZero: mostBias.Rad(),
	}
}

// byGauge turns what the gauge showed into slopes with their ±.
func (g *Readings) byGauge(s *uncertain.Sources) {
	g.readBy(s, gaugeTool(g.build), func(o *occasion) bool { return !o.tape }, func(i int) float64 { return g.Slopes[i].V })
}

// byTape turns what the tape said into headings with their ±, one tool and what it
// strays by from one reading to the next after another.
func (g *Readings) byTape(s *uncertain.Sources) {
	value := func(i int) float64 { return g.plans[i].V }
	var tools []instrument.Tool
	for k := range g.sets {
		if tool := g.tapeTool(&g.sets[k]); g.sets[k].tape && !slices.Contains(tools, tool) {
			tools = append(tools, tool)
			g.readBy(s, tool, func(o *occasion) bool { return o.tape && g.tapeTool(o) == tool }, value)
		}
	}
}

// tapeTool is what an occasion was read with: the repeat is that of the reading over
// the shortest length, rad. A reading with a ± of its own has its repeat in that.
func (g *Readings) tapeTool(o *occasion) instrument.Tool {
	out := instrument.Tool{Name: "the tape"}
	for _, i := range o.set {
		r := g.build.Readings[i]
		tool, ok := g.build.ToolNamed(r.With)
		if !o.tape || !ok || r.PlusMinus.Known() {
			continue
		}
		out.Name = "the " + finding.Spoken(tool.Name)
		out.Repeat = max(out.Repeat, math.Sqrt2*tool.Repeat.Or(0)/r.Over.V())
	}
	return out
}

// asTheWorst gives the readings of an occasion by tape the one accuracy that they share,
// which is that of the worst: over another length it is not another tape.
func asTheWorst(all []instrument.Reading) {
	worst := 0.0
	for _, r := range all {
		worst = max(worst, r.Accuracy)
	}
	for i := range all {
		all[i].Accuracy = worst
	}
}

// readBy takes all that was read with one tool together: on the occasions that with
// is true of.
func (g *Readings) readBy(s *uncertain.Sources, tool instrument.Tool, with func(o *occasion) bool, value func(i int) float64) {
	var sets []instrument.Set
	var of []*occasion
	for k := range g.sets {
		o := &g.sets[k]
		if !with(o) {
			continue
		}
		if bad, ok := g.unusable(o); ok {
			o.number = bad
			continue
		}
		set := instrument.Set{Of: g.named(o.target), Readings: make([]instrument.Reading, len(o.set))}
		surface := g.surfacesOf(k)
		for j, i := range o.set {
			set.Readings[j] = instrument.Reading{Value: value(i), Surface: surface(&g.build.Readings[i]), Sign: g.sign(i), Accuracy: g.own[i]}
		}
		if o.tape {
			asTheWorst(set.Readings)
		}
		sets, of = append(sets, set), append(of, o)
	}
	out, err := tool.Read(s, sets)
	for k, o := range of {
		if err != nil {
			o.number = finding.Number{Unusable: true, Err: err, Why: err.Error()}
			continue
		}
		r := out.Sets[k]
		o.clash = clash{is: r.Agreement, one: o.set[r.One], other: o.set[r.Other], apart: r.Apart}
		o.number = finding.Of(r.Number)
	}
	if err != nil {
		return
	}
	if out.HasBias {
		g.bias, g.hasBias = out.Bias, true
	}
	for _, o := range of {
		if o.clash.is == gauge.Contradict {
			g.explain(&o.clash)
			o.number = finding.Number{Unusable: true, Err: &o.clash, Why: o.clash.Error()}
		}
	}
}

// unusable is the first reading of an occasion that makes no number by itself.
func (g *Readings) unusable(o *occasion) (finding.Number, bool) {
	if o.tape {
		return finding.Number{}, false
	}
	for _, i := range o.set {
		if !g.Slopes[i].Known {
			return g.Slopes[i], true
		}
	}
	return finding.Number{}, false
}

// surfacesOf names what each reading of set k was taken of, as the accuracy is shared
// on it. Another occasion is another surface: between the two the part was moved
// or welded, and the gauge stands at another angle to its own scale.
func (g *Readings) surfacesOf(k int) func(r *project.Reading) string {
	o := &g.sets[k]
	nth := 1
	for j := range k {
		if g.sets[j].target == o.target && g.sets[j].tape == o.tape {
			nth++
		}
	}
	var last *project.Reading
	what := ""
	return func(r *project.Reading) string {
		if last != nil && last.On == r.On && last.Face == r.Face {
			return what
		}
		last, what = r, g.named(o.target)
		switch {
		case r.InPlan():
			what += " from above"
		case r.On == project.SquareFace && r.Face != "":
			what += "'s " + string(r.Face) + " face"
		case r.On == project.SquareFace:
			what += "'s face"
		}
		if nth > 1 {
			what += fmt.Sprintf(" (occasion %d)", nth)
		}
		return what
	}
}

// sign is how an error of the gauge's zero comes into reading i, 0 when that is
// not known.
func (g *Readings) sign(i int) int {
	sense, known := g.build.Readings[i].ZeroSense()
	if !known {
		return 0
	}
	return int(sense)
}

// assumes is what the ± of an occasion takes for granted.
func (g *Readings) assumes(o *occasion) []string {
	var out []string
	if len(o.set) == 1 && !g.build.Gauge.Repeat.Known() {
		out = append(out, "the gauge taken to repeat within its accuracy")
	}
	if g.build.Gauge.Zero.Or(0) == 0 && !g.hasBias {
		return out
	}
	top, unknown := false, false
	for _, i := range o.set {
		known := g.sign(i) != 0
		top, unknown = top || known && g.build.Readings[i].On == project.Along, unknown || !known
	}
	if top {
		out = append(out, "the gauge taken to have stood on top of "+g.named(o.target))
	}
	if unknown {
		out = append(out, "not said which way round the gauge stood on "+g.named(o.target)+": its zero taken the worse way")
	}
	return out
}
