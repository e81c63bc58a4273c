package assess

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// What instruments are taken to be good for when the file does not say: common
// practice, no source.
const tapePlusMinus = 1.0 // mm

// Measurement is what was measured with its repeats taken together.
type Measurement struct {
	project.Measure
	Index  int
	Kind   quantity.Kind
	Mean   Number
	Spread float64 // largest repeat less the smallest
	Count  int
}

// measurements takes repeats together and makes each a fact jobs can wait for.
func (a *Assessment) measurements() {
	seen := map[string]bool{}
	for i, m := range a.Build.Measures {
		out := Measurement{Measure: m, Index: i, Kind: quantity.Length}
		var vs []float64
		pm := m.PlusMinus.Or(tapePlusMinus)
		for _, q := range m.Lengths {
			vs = append(vs, q.V())
		}
		if len(m.Angles) > 0 {
			out.Kind, vs, pm = quantity.Angle, nil, m.AnglePM.Or(a.Build.Gauge.Accuracy.Or(gaugePlusMinus.Rad()))
			for _, q := range m.Angles {
				vs = append(vs, q.V())
			}
		}
		out.Mean, out.Spread, out.Count = repeats(vs, pm)
		a.Measurements = append(a.Measurements, out)
		if id := "measure." + project.Slug(m.Of); !seen[id] {
			seen[id] = true
			a.Facts = append(a.Facts, Fact{ID: id, Title: m.Of, Status: OK, Text: m.Of + " is measured"})
		}
	}
}

// repeats returns the mean of repeats, their spread and count. The standard
// uncertainty is the instrument's, rectangular (JCGM 100:2008, 4.3.7), or the
// scatter of three and more repeats (4.2.2) where that is larger; it is that of
// one reading, because repeats with one instrument share its error.
func repeats(vs []float64, pm float64) (Number, float64, int) {
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

// drift compares what was read before and after welding: welds pull. Each pair
// is a finding against a limit.
func (a *Assessment) drift() {
	for _, target := range a.Build.Targets() {
		before, after := a.around(target)
		if len(before) == 0 || len(after) == 0 {
			continue
		}
		a.driftFinding("drift."+target, a.targetLabel(target), "weld_drift", quantity.Slope, a.slopeDrift(before, after))
	}
	done := map[string]bool{}
	for _, m := range a.Measurements {
		id := "drift.measure." + project.Slug(m.Of)
		if done[id] {
			continue
		}
		before, after := a.aroundMeasure(id)
		if before == nil || after == nil {
			continue
		}
		done[id] = true
		d := finding.Missing("one was measured as a length and one as an angle")
		rule := "weld_drift_length"
		switch {
		case before.Stood.Or() != after.Stood.Or():
			d = finding.Missing("the vehicle stood otherwise at the two, so what the weld did cannot be told")
		case before.Kind == after.Kind:
			d = finding.Known(after.Mean.V-before.Mean.V, math.Hypot(before.Mean.U, after.Mean.U))
		}
		if after.Kind == quantity.Angle {
			rule = "weld_drift"
		}
		a.driftFinding(id, m.Of, rule, after.Kind, d)
	}
}

// readingFacts say whether the powertrain, and what it drives, was read after
// tacking and after welding, where it stands now.
func (a *Assessment) readingFacts() {
	after := map[project.After][]string{}
	look := func(target, label string, moved bool) {
		set := a.latest(target)
		for _, step := range []project.After{project.Tacked, project.Welded} {
			ok := len(set) > 0 && !moved && a.Build.Readings[set[0]].After.Proves()
			if ok && (step == project.Tacked || a.Build.Readings[set[0]].After == step) {
				continue
			}
			after[step] = append(after[step], label)
		}
	}
	looked := false
	for _, l := range a.Lines {
		for i, x := range l.Axes {
			if i == 0 || i == len(l.Axes)-1 {
				looked = looked || x.Target == project.TargetPowertrain
				look(x.Target, a.targetLabel(x.Target), x.Moved)
			}
		}
	}
	if !looked {
		look(project.TargetPowertrain, "powertrain", a.readElsewhere(a.latest(project.TargetPowertrain)))
	}
	for _, f := range []struct {
		id   string
		step project.After
	}{{"readings.tacked", project.Tacked}, {"readings.welded", project.Welded}} {
		word := string(f.step)
		if a.Build.Powertrain.Fixing == project.BoltedOn {
			word = "bolted"
		}
		fact := Fact{ID: f.id, Title: "readings after " + word, Status: OK, Text: "everything was read after it was " + word}
		switch miss := after[f.step]; {
		case f.step == project.Welded && a.Build.Powertrain.Fixing == project.BoltedOn && len(a.Build.Welds) == 0:
			fact.Title, fact.Text = "readings after welding", "everything is bolted, so there is nothing to read after welding"
		case len(miss) > 0:
			slices.Sort(miss)
			fact.Status, fact.Text = NotKnown, "not read since it was "+word+": "+strings.Join(slices.Compact(miss), ", ")
			fact.Why = "Read it where it stands now, and enter the reading as taken after it was " + word + "."
		}
		a.Facts = append(a.Facts, fact)
	}
}

// readElsewhere reports whether the powertrain stands elsewhere than where a
// set of readings was taken, or nobody can tell.
func (a *Assessment) readElsewhere(set []int) bool {
	if len(set) == 0 {
		return false
	}
	moved, _, _, err := a.movedSince(true, a.Build.Readings[set[0]])
	return moved || err != nil
}

// targetLabel is what a reading's target is called.
func (a *Assessment) targetLabel(target string) string {
	for _, l := range a.Lines {
		for _, x := range l.Axes {
			if x.Target == target {
				if len(a.Lines) > 1 && target != project.TargetPowertrain {
					return l.Name + " " + x.Label
				}
				return x.Label
			}
		}
	}
	return target
}

// around returns the last readings of a target before welding, tacked rather
// than hung, and the last after it.
func (a *Assessment) around(target string) (before, after []int) {
	var tacked, hung []int
	for i, r := range a.Build.Readings {
		if r.Of != target || r.InPlan() {
			continue
		}
		list := &hung
		switch r.After {
		case project.Welded:
			list = &after
		case project.Tacked:
			list = &tacked
		}
		if n := len(*list); n > 0 && !a.sameOccasion(a.Build.Readings[(*list)[n-1]], r) {
			*list = nil
		}
		*list = append(*list, i)
	}
	if len(tacked) > 0 {
		return tacked, after
	}
	return hung, after
}

// slopeDrift is how far a slope went from one set of readings to another. The
// gauge's zero is in both and drops out.
func (a *Assessment) slopeDrift(before, after []int) Number {
	first, m := a.average(before)
	if !m.Known {
		return m
	}
	second, m := a.average(after)
	if !m.Known {
		return m
	}
	r, s := a.Build.Readings[before[0]], a.Build.Readings[after[0]]
	if r.Placed.Elsewhere(s.Placed) {
		return finding.Missing("the powertrain was moved between the two readings, so what the weld did cannot be told")
	}
	if r.Stood.Or() != s.Stood.Or() {
		return finding.Missing("the vehicle stood otherwise at the two readings, so what the weld did cannot be told")
	}
	lin := second.minus(first)
	return finding.Known(lin.v, a.uncertainty(lin))
}

func (a *Assessment) aroundMeasure(id string) (before, after *Measurement) {
	rank := func(m *Measurement) int {
		if m == nil {
			return 0
		}
		if m.After == project.Tacked {
			return 2
		}
		return 1
	}
	for i := range a.Measurements {
		m := &a.Measurements[i]
		if "drift.measure."+project.Slug(m.Of) != id || !m.Mean.Known {
			continue
		}
		if m.After == project.Welded {
			after = m
		} else if rank(m) >= rank(before) {
			before = m
		}
	}
	return before, after
}

func (a *Assessment) driftFinding(id, what, rule string, k quantity.Kind, d Number) {
	f := Finding{ID: id, Title: what + ", drift in welding", Basis: Proved}
	held := d
	held.V = math.Abs(d.V)
	f.Judge(held, a.Build.Limit(rule), false)
	way := ""
	if d.Known {
		num := func(v float64) string { return quantity.Format(k, v, a.Build.Units, driftDigits(k)) }
		way = fmt.Sprintf(" It went %s.", num(d.V))
		if k == quantity.Slope && math.Abs(d.V) > d.Expanded() && d.V != 0 {
			way = fmt.Sprintf(" It turned by %s.", num(geom.Angle(d.V).Rad()))
		}
	}
	f.Says = finding.Say(finding.Advise(f, map[Status]string{
		OK:    "The weld pulled it no further than it may." + way,
		Tight: "The uncertainty reaches past the limit; measure again." + way,
		Over:  "The weld pulled it further than it may: prove what rests on it again before more is welded; weld in short runs on opposite sides." + way,
	}))
	a.Findings = append(a.Findings, f)
}

func driftDigits(k quantity.Kind) int {
	if k == quantity.Length {
		return 1
	}
	return 2
}
