package reading

import (
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// occasion is the readings of one thing that were taken together, with one tool.
type occasion struct {
	target string
	tape   bool
	set    []int // by index in the file, rising
	number finding.Number
	clash  clash
}

// latestFirst is the readings with the last one first.
func (o *occasion) latestFirst() []int {
	out := slices.Clone(o.set)
	slices.Reverse(out)
	return out
}

// occasions gathers the readings of each thing that were taken together: the
// last one in the file and those before it that were taken at the same step and
// placement. What the vehicle stands on is read once for each way it stands.
func (g *Readings) occasions() {
	last := map[string]int{} // into sets
	for i := range g.build.Readings {
		r := &g.build.Readings[i]
		key := r.Of
		if r.InPlan() {
			key += " in plan"
		}
		if r.Of == project.TargetFrame || r.Of == project.TargetFloor {
			key += " " + string(r.Stood.Or())
		}
		k, ok := last[key]
		if !ok || !g.sameOccasion(&g.build.Readings[g.sets[k].set[0]], r) {
			k = len(g.sets)
			last[key], g.sets = k, append(g.sets, occasion{target: r.Of, tape: r.InPlan()})
		}
		g.sets[k].set = append(g.sets[k].set, i)
	}
}

// last is the occasion of a target that counts: the one with the last reading in
// the file of those that are wanted; nil for none.
func (g *Readings) last(target string, wanted func(*occasion) bool) *occasion {
	var out *occasion
	for k := range g.sets {
		o := &g.sets[k]
		if o.target == target && wanted(o) && (out == nil || o.set[len(o.set)-1] > out.set[len(out.set)-1]) {
			out = o
		}
	}
	return out
}

// sameOccasion reports whether two readings of one thing were taken at the same
// step, with the vehicle standing alike and, where that matters, the powertrain
// at one place. Not said, a reading was taken hung, and where it stands now: a
// move writes the place it leaves.
func (g *Readings) sameOccasion(r, s *project.Reading) bool {
	step := func(r *project.Reading) project.After {
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
	place := func(r *project.Reading) project.Placement {
		if r.Placed.Any() {
			return r.Placed
		}
		return g.build.Placement
	}
	p, q := place(r), place(s)
	return p.Any() == q.Any() && !p.Elsewhere(q)
}
