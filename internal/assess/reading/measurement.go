package reading

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// What instruments are taken to be good for when the file does not say: common
// practice, no source.
const tapePlusMinus = 1.0 // mm

// Measurement is what was measured with its repeats taken together.
type Measurement struct {
	project.Measurement
	Index  int
	Kind   quantity.Kind
	Mean   finding.Number
	Spread float64 // largest repeat less the smallest
	Count  int
}

// Measurements takes repeats together and makes each a fact jobs can wait for.
func Measurements(b *project.Build) (ms []Measurement, facts []finding.Fact) {
	seen := map[string]bool{}
	for i, m := range b.Measurements {
		out := Measurement{Measurement: m, Index: i, Kind: quantity.Length}
		var vs []float64
		pm := m.PlusMinus.Or(tapePlusMinus)
		for _, q := range m.Lengths {
			vs = append(vs, q.V())
		}
		if len(m.Angles) > 0 {
			out.Kind, vs, pm = quantity.Angle, nil, m.AnglePM.Or(b.Gauge.Accuracy.Or(gaugePlusMinus.Rad()))
			for _, q := range m.Angles {
				vs = append(vs, q.V())
			}
		}
		out.Mean, out.Spread, out.Count = repeats(vs, pm)
		ms = append(ms, out)
		if id := "measure." + project.Slug(m.Of); !seen[id] {
			seen[id] = true
			facts = append(facts, finding.Fact{ID: id, Title: m.Of, Status: finding.OK, Text: m.Of + " is measured"})
		}
	}
	return ms, facts
}

// repeats returns the mean of repeats, their spread and count. The standard
// uncertainty is the instrument's, rectangular (JCGM 100:2008, 4.3.7), or the
// scatter of three and more repeats (4.2.2) where that is larger; it is that of
// one reading, because repeats with one instrument share its error.
func repeats(vs []float64, pm float64) (finding.Number, float64, int) {
	if len(vs) == 0 {
		return finding.Missing("no repeat is in the file yet"), 0, 0
	}
	lo, hi, mean := vs[0], vs[0], 0.0
	for _, v := range vs {
		lo, hi, mean = min(lo, v), max(hi, v), mean+v/float64(len(vs))
	}
	u := pm / math.Sqrt(3)
	if n := len(vs); n >= 3 {
		sum := 0.0
		for _, v := range vs {
			sum += (v - mean) * (v - mean)
		}
		u = max(u, math.Sqrt(sum/float64(n-1)))
	}
	return finding.Known(mean, u), hi - lo, len(vs)
}
