package reading

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"
	"fitup/internal/uncertain/instrument"
)

// What instruments are taken to be good for when the file does not say: common
// practice, no source.
const tapePlusMinus = 1.0 // mm

// Measurement is what was measured with its repeats taken together.
type Measurement struct {
	project.Measurement
	Index    int
	Kind     quantity.Kind
	Mean     finding.Number
	Spread   float64 // largest repeat less the smallest
	Count    int
	Supposed float64 // half-width (mm) that a length was given because the file says nothing of it; 0 where it does
}

// Measurements is what was measured, repeats taken together, and each as a fact
// that jobs can wait for.
func (g *Readings) Measurements() (ms []Measurement, facts []finding.Fact) {
	return g.measured.List, g.facts()
}

// factsOfMeasures say of everything measured that it is.
func (g *Readings) factsOfMeasures() (facts []finding.Fact) {
	seen := map[string]bool{}
	for _, m := range g.measured.List {
		if id := "measure." + project.Slug(m.Of); !seen[id] {
			seen[id] = true
			facts = append(facts, finding.Fact{ID: id, Title: m.Of, Status: finding.OK, Text: m.Of + " is measured"})
		}
	}
	return facts
}

// Measured is all that was measured, and the sources that it rests on: its own, since
// nothing that is read with the gauge has to do with it.
type Measured struct {
	List []Measurement
	From *uncertain.Sources
}

// Measure takes the repeats of what was measured together.
func Measure(b *project.Build) *Measured {
	m := &Measured{From: new(uncertain.Sources)}
	m.List = measurements(b, m.From)
	return m
}

// measurements takes repeats together: all that was measured with one instrument
// says how far its repeats scatter.
func measurements(b *project.Build, s *uncertain.Sources) []Measurement {
	out := make([]Measurement, len(b.Measurements))
	sets := map[string][]instrument.Set{}
	of := map[string][]int{}
	var tools []string
	for i, m := range b.Measurements {
		m.Of = m.Title()
		out[i] = Measurement{Measurement: m, Index: i, Kind: quantity.Length}
		half := tapePlusMinus
		tool, named := b.ToolNamed(string(m.With))
		set := instrument.Set{Of: m.Of}
		surface := fmt.Sprintf("%s (measurement %d)", m.Of, i+1)
		for _, q := range m.Lengths {
			if shared, known := tool.Shared(q.V()); named && known {
				half = shared
			} else if !m.PlusMinus.Known() {
				out[i].Supposed = half
			}
			one := instrument.Reading{Value: q.V(), Surface: surface, Accuracy: m.PlusMinus.Or(half), Whole: m.PlusMinus.Known()}
			if named && !m.PlusMinus.Known() {
				one.Scaled = tool.PerMetre.Or(0) / 1000 * math.Abs(q.V())
			}
			set.Readings = append(set.Readings, one)
		}
		if len(m.Angles) > 0 {
			out[i].Kind, set.Readings = quantity.Angle, nil
			half = m.AnglePM.Or(b.Gauge.Accuracy.Or(gaugePlusMinus.Rad()))
			for _, q := range m.Angles {
				set.Readings = append(set.Readings, instrument.Reading{Value: q.V(), Surface: surface, Accuracy: half})
			}
		}
		if m.Surveys() && m.Line() == project.SquareLine && len(m.Angles) == 0 { // the square stood flush
			out[i].Kind = quantity.Angle
			half = m.AnglePM.Or(gaugePlusMinus.Rad())
			set.Readings = []instrument.Reading{{Value: math.Pi / 2, Surface: surface, Accuracy: half}}
		}
		out[i].Count, out[i].Spread = len(set.Readings), spreadOf(set)
		if len(set.Readings) == 0 {
			out[i].Mean = finding.Missing("no repeat is in the file yet")
			continue
		}
		name := toolOf(m, out[i].Kind)
		if _, ok := of[name]; !ok {
			tools = append(tools, name)
		}
		sets[name], of[name] = append(sets[name], set), append(of[name], i)
	}
	for _, tool := range tools {
		measuredWith(s, tool, sets[tool], of[tool], out, b)
	}
	return out
}

// toolOf names the instrument of a measurement as a sentence has it.
func toolOf(m project.Measurement, k quantity.Kind) string {
	switch {
	case m.With != "":
		return "the " + finding.Spoken(strings.TrimPrefix(string(m.With), "tool."))
	case k == quantity.Angle:
		return "the gauge"
	}
	return "the tape"
}

// measuredWith fills in what was measured with one tool: the measurements of
// those indices.
func measuredWith(s *uncertain.Sources, tool string, sets []instrument.Set, of []int, out []Measurement, b *project.Build) {
	with := instrument.Tool{Name: tool}
	for _, i := range of {
		if t, ok := b.ToolNamed(string(out[i].With)); ok && out[i].Kind == quantity.Length {
			with.Repeat = t.Repeat.Or(0)
			with.Scale = t.PerMetre.Or(0) / 1000 // shared by all that was measured with it (JCGM 100:2008, 5.2)
		}
	}
	read, err := with.Read(s, sets)
	for k, i := range of {
		m := &out[i]
		if err != nil {
			m.Mean = finding.Number{Unusable: true, Err: err, Why: err.Error()}
			continue
		}
		r := read.Sets[k]
		if r.Agreement == gauge.Contradict {
			m.Mean = finding.Number{Unusable: true, Err: finding.ErrContradict, Why: fmt.Sprintf("two repeats of %s are %s apart, more than %s explains; measure again, and drop the wrong one or give it a larger plus_minus",
				m.Of, quantity.Format(m.Kind, r.Apart, b.Units, driftDigits(m.Kind)), tool)}
			continue
		}
		m.Mean = finding.Of(r.Number)
	}
}

func spreadOf(set instrument.Set) float64 {
	if len(set.Readings) == 0 {
		return 0
	}
	lo, hi := set.Readings[0].Value, set.Readings[0].Value
	for _, r := range set.Readings {
		lo, hi = min(lo, r.Value), max(hi, r.Value)
	}
	return hi - lo
}
