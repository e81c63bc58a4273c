package assess

import (
	"math"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
)

// plainly is p with everything worked out anew at both ends of each ±, whatever the
// value has to do with.
func (p *Prepared) plainly() *Prepared {
	q, all := *p, reach{parts: judged, axes: true}
	narrowed := p.narrowed()
	q.open = q.leftOpenIn(func(path string) reach {
		if ofMark(path) { // where it hangs or stands has their ± already
			return reach{}
		}
		all.hangs = narrowed(path).hangs
		return all
	}, func(s finding.Shift) (reach, bool) {
		_, moves := p.reachOf(s)
		return all, moves
	})
	return &q
}

// What a ± leaves open of findings is what it leaves open with everything worked out
// anew at both its ends: as built, and where the powertrain is moved to.
func TestCarriedIsWhatIsCarriedPlainly(t *testing.T) {
	every := inturn.Count(43, 3)
	all := builds(t)
	for _, name := range someOf(t, all, 6) {
		b := unsure(all[name], fewOf(all[name], name, every))
		p := Prepare(b)
		plain := p.plainly()
		at := []*project.Build{p.Build}
		if _, placed, err := p.Build.Seat(); err == nil {
			placed.Rear += 0.7
			moved := *p.Build
			moved.Placement = p.Build.Placed(placed).Placement
			at = append(at, &moved)
		}
		for _, b := range at {
			holdsAlike(t, name, plain.run(b), p.run(b))
		}
	}
}

// holdsAlike holds two assessments of one build against each other: all that is said,
// and numbers but for rounding, which the search for an extreme magnifies.
func holdsAlike(t *testing.T, name string, want, got *Assessment) {
	t.Helper()
	alike := func(what string, want, got float64) {
		assert.InDelta(t, want, got, 1e-8*max(1, math.Abs(want)), "%s: %s", name, what)
	}
	for k, list := range [2][]Finding{want.Findings, want.Plans} {
		others := [2][]Finding{got.Findings, got.Plans}[k]
		if !assert.Len(t, others, len(list), name) {
			continue
		}
		for i, f := range list {
			g := others[i]
			assert.Equal(t, []any{f.ID, f.Status, f.Basis, f.Moved, f.Title, f.Missing, f.HasValue, f.Advice(), f.Assumes, f.MostlyFrom()},
				[]any{g.ID, g.Status, g.Basis, g.Moved, g.Title, g.Missing, g.HasValue, g.Advice(), g.Assumes, g.MostlyFrom()}, name)
			alike(f.ID, f.Value, g.Value)
			alike(f.ID+", margin", f.Margin, g.Margin)
			alike(f.ID+", ±", f.Uncertainty, g.Uncertainty)
		}
	}
	values, others := want.Values(), got.Values()
	if assert.Len(t, others, len(values), name) {
		for i, v := range values {
			assert.Equal(t, v.Name, others[i].Name, name)
			alike(v.Name, v.V, others[i].V)
		}
	}
	w, g := saidBy(want), saidBy(got)
	assert.Equal(t, w.Facts, g.Facts, name)
	assert.Equal(t, w.Jobs, g.Jobs, name)
}
