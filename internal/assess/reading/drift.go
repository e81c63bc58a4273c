package reading

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Drift compares what was read before and after welding: welds pull. Each pair
// is a finding against a limit. labels are what the targets of readings are
// called.
func (g *Readings) Drift(labels map[string]string) (out []finding.Finding) {
	for _, target := range g.build.Targets() {
		before, after := g.around(target)
		if before == nil || after == nil {
			continue
		}
		f := g.driftFinding(finding.Drift(target), cmp.Or(labels[target], target), "weld_drift", quantity.Slope, g.slopeDrift(before, after))
		if f.HasValue {
			f.Assumes = append(f.Assumes, g.assumesOfBoth(before, after)...)
		}
		out = append(out, f)
	}
	return append(out, g.drifts()...)
}

// driftsOfMeasures are those of what was measured, which does not go by how it is called
// elsewhere.
func (g *Readings) driftsOfMeasures() (out []finding.Finding) {
	ms := g.measured.List
	ids := make([]string, len(ms))
	for i := range ms {
		ids[i] = finding.DriftMeasure(project.Slug(ms[i].Of))
	}
	done := map[string]bool{}
	for i, m := range ms {
		id := ids[i]
		if done[id] {
			continue
		}
		before, after := aroundMeasure(ms, ids, id)
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
			d = after.Mean.LessOf(before.Mean)
		}
		if after.Kind == quantity.Angle {
			rule = "weld_drift"
		}
		out = append(out, g.driftFinding(id, m.Of, rule, after.Kind, d))
	}
	return out
}

// End is something that a line begins or ends with, and that has to be read
// where it stands.
type End struct {
	Target, Label string
	Moved         bool // it stands elsewhere than where it was read, or nobody can tell
}

// Facts say whether the powertrain, and what it drives, was read after tacking
// and after welding, where it stands now.
func (g *Readings) Facts(ends []End) (facts []finding.Fact) {
	after := map[project.After][]string{}
	look := func(target, label string, moved bool) {
		set := g.Gauge(target).Set
		for _, step := range []project.After{project.Tacked, project.Welded} {
			ok := len(set) > 0 && !moved && g.build.Readings[set[0]].After.Proves()
			if ok && (step == project.Tacked || g.build.Readings[set[0]].After == step) {
				continue
			}
			after[step] = append(after[step], label)
		}
	}
	for _, e := range ends {
		look(e.Target, e.Label, e.Moved)
	}
	for _, f := range []struct {
		id   string
		step project.After
	}{{"readings.tacked", project.Tacked}, {"readings.welded", project.Welded}} {
		word := string(f.step)
		if g.build.Powertrain.Fixing == project.BoltedOn {
			word = "bolted"
		}
		fact := finding.Fact{ID: f.id, Title: "readings after " + word, Status: finding.OK, Text: "everything was read after it was " + word}
		switch miss := after[f.step]; {
		case f.step == project.Welded && g.nothingWelded():
			fact.Title, fact.Text = "readings after welding", "everything is bolted, so there is nothing to read after welding"
		case len(miss) > 0:
			slices.Sort(miss)
			fact.Status, fact.Text = finding.NotKnown, "not read since it was "+word+": "+strings.Join(slices.Compact(miss), ", ")
			fact.Why = "Read it where it stands now, and enter the reading as taken after it was " + word + "."
		}
		facts = append(facts, fact)
	}
	return facts
}

// nothingWelded reports whether there is no welding to read after: everything is
// bolted, no weld is in the file, and no leg is made of a section, which is welded
// to its plates.
func (g *Readings) nothingWelded() bool {
	b := g.build
	return b.Powertrain.Fixing == project.BoltedOn && len(b.Welds) == 0 &&
		!slices.ContainsFunc(b.Mounts, func(m project.Mount) bool { return m.HasBracket() })
}

// around returns the last readings of a target before welding, tacked rather
// than hung, and the last after it; nil for none.
func (g *Readings) around(target string) (before, after *occasion) {
	of := func(steps ...project.After) *occasion {
		return g.last(target, func(o *occasion) bool {
			return !o.tape && slices.Contains(steps, g.build.Readings[o.set[0]].After)
		})
	}
	if before = of(project.Tacked); before == nil {
		before = of(project.Hung, "")
	}
	return before, of(project.Welded)
}

// assumesOfBoth is what a difference of two occasions takes for granted.
func (g *Readings) assumesOfBoth(before, after *occasion) []string {
	out := g.assumes(before)
	for _, s := range g.assumes(after) {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// slopeDrift is how far a slope went from one set of readings to another. What
// both have of the gauge's zero drops out.
func (g *Readings) slopeDrift(before, after *occasion) finding.Number {
	for _, o := range []*occasion{before, after} {
		if n := o.number; !n.Known {
			n.Why += finding.WhereRead(n, g.build, o.set)
			return n
		}
	}
	r, s := g.build.Readings[before.set[0]], g.build.Readings[after.set[0]]
	if r.Placed.Elsewhere(s.Placed) {
		return finding.Missing("the powertrain was moved between the two readings, so what the weld did cannot be told")
	}
	if r.Stood.Or() != s.Stood.Or() {
		return finding.Missing("the vehicle stood otherwise at the two readings, so what the weld did cannot be told")
	}
	return after.number.LessOf(before.number)
}

// aroundMeasure are the last of what was measured under an id before the weld, and after
// it; ids are those of ms.
func aroundMeasure(ms []Measurement, ids []string, id string) (before, after *Measurement) {
	rank := func(m *Measurement) int {
		if m == nil {
			return 0
		}
		if m.After == project.Tacked {
			return 2
		}
		return 1
	}
	for i := range ms {
		m := &ms[i]
		if ids[i] != id || !m.Mean.Known {
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

func (g *Readings) driftFinding(id, what, rule string, k quantity.Kind, d finding.Number) finding.Finding {
	f := finding.Finding{ID: id, Title: what + ", drift in welding", Basis: finding.Proved}
	f.Judge(d.Sized(), g.build.Limit(rule), false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		way := ""
		if d.Known {
			num := func(v float64) string { return quantity.Format(k, v, g.build.Units, driftDigits(k)) }
			way = fmt.Sprintf(" It went %s.", num(d.V))
			if k == quantity.Slope && math.Abs(d.V) > d.Expanded() && d.V != 0 {
				way = fmt.Sprintf(" It turned by %s.", num(geom.Angle(d.V).Rad()))
			}
		}
		return map[finding.Status]string{
			finding.OK:    "The weld pulled it no further than it may." + way,
			finding.Tight: "The uncertainty reaches past the limit; measure again." + way,
			finding.Over:  "The weld pulled it further than it may: prove what rests on it again before more is welded; weld in short runs on opposite sides." + way,
		}
	})
	return f
}

func driftDigits(k quantity.Kind) int {
	if k == quantity.Length {
		return 1
	}
	return 2
}
