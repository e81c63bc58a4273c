package propose

import (
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var held = []string{"line.rear.joint.*.max", "line.rear.joint.*.min", "clearance.axle", "clearance.bonnet"}

// limited is the build with limits of its own: of all joints' angles (rad), and of the
// room to each piece (mm).
func limited(b *project.Build, most, least float64, gaps ...float64) *project.Build {
	c := *b
	c.Limits = maps.Clone(b.Limits)
	if c.Limits == nil {
		c.Limits = map[string]project.Rule{}
	}
	set := func(key string, v float64) {
		r := c.Limit(key)
		r.Value = v
		c.Limits[key] = r
	}
	set("joint_max", most)
	set("front_joint", most)
	set("joint_min", least)
	c.Chassis = slices.Clone(b.Chassis)
	for i, g := range gaps {
		c.Chassis[i].Gap.SetV(g)
	}
	return &c
}

// tried is a place of a problem, judged without the search.
type tried struct {
	cell  []int
	short []float64
}

func everyPlace(t *testing.T, p *Problem) []tried {
	t.Helper()
	var out []tried
	each(p.axes(), func(cell []int) {
		now, err := p.ready.At(p.movesTo(cell), p.quick|p.rest)
		x := tried{cell: slices.Clone(cell), short: make([]float64, len(p.demands))}
		for i := range p.demands {
			if x.short[i] = math.Inf(1); err != nil { // it cannot stand there
				continue
			}
			f, ok := now.Finding(p.demands[i].ID)
			require.True(t, ok)
			x.short[i] = p.short(&f)
		}
		out = append(out, x)
	})
	return out
}

func holdsBut(x tried, without int) bool {
	for i, s := range x.short {
		if i != without && s > 0 {
			return false
		}
	}
	return true
}

// On problems of two and three things that move, no proposal is worse than the best of
// all places; where there is none, each demand of the conflict can be met once it is
// left out of the set, and gives way by as much as it must.
func TestNeverWorseThanEveryPlace(t *testing.T) {
	some, none, sets := 0, 0, 0
	for seed := range draws(20) {
		r := rand.New(rand.NewPCG(uint64(seed), 11))
		b := parsed(t, drawn(r))
		b = limited(b, (2+6*r.Float64())*math.Pi/180, 0, 25*r.Float64(), 25*r.Float64())
		moves, tight, hold := allowedIn(r, b, 2+r.IntN(2), 2+r.IntN(3)), r.IntN(2) == 0, held
		if seed%2 == 1 { // and what the joints leave over
			hold = append(slices.Clone(held), "line.rear.equivalent", "line.rear.residual", "line.rear.shaft.*.mismatch")
			for _, key := range []string{"equivalent", "mismatch"} {
				rule := b.Limit(key)
				rule.Value, rule.Changed = (2+6*r.Float64())*math.Pi/180, true
				b.Limits[key] = rule
			}
		}
		p, err := New(b, Wanted{Moves: moves, Hold: hold, Tight: tight, Budget: 1 << 20})
		require.NoError(t, err)
		all := everyPlace(t, p)
		a := p.Run(context.Background(), nil)
		require.NoError(t, a.Stopped)
		best := map[string]float64{}
		for _, k := range p.kinds() {
			for _, x := range all {
				if holdsBut(x, -1) {
					s := search{space: p, goal: k.goal}
					s.active = make([]bool, len(p.demands))
					for i := range s.active {
						s.active[i] = true
					}
					v := s.worth(x.cell, &spot{short: x.short, all: true})
					if old, ok := best[k.name]; !ok || v < old {
						best[k.name] = v
					}
				}
			}
		}
		if len(best) == 0 {
			none++
			require.True(t, a.None, "draw %d", seed)
			require.Empty(t, a.Proposals)
			sets += irreducible(t, p, a, all)
			continue
		}
		some++
		require.NotEmpty(t, a.Proposals, "draw %d", seed)
		require.False(t, a.None)
		seen := map[string]bool{}
		for _, x := range a.Proposals {
			require.True(t, x.Best)
			cell := cellOf(p, x)
			for _, name := range x.Kinds {
				seen[name] = true
				for _, k := range p.kinds() {
					if k.name != name {
						continue
					}
					s := search{space: p, goal: k.goal}
					s.active = make([]bool, len(p.demands))
					for i := range s.active {
						s.active[i] = true
					}
					sp := p.at(cell)
					p.whole(cell, sp)
					require.LessOrEqual(t, s.worth(cell, sp), best[name]+1e-6, "draw %d, %s", seed, name)
				}
			}
		}
		assert.Len(t, seen, len(p.kinds()))
	}
	t.Logf("%d with a proposal, %d without, %d demands in conflicts", some, none, sets)
	require.Positive(t, some)
	require.Positive(t, none)
}

func cellOf(p *Problem, x Proposal) []int {
	cell := make([]int, len(p.moves))
	for i := range p.moves {
		cell[i] = p.moves[i].stay
		for _, s := range x.Moves {
			if s.Of == p.moves[i].mov {
				cell[i] = slices.Index(p.moves[i].values, s.To)
			}
		}
	}
	return cell
}

// irreducible holds a conflict against every place.
func irreducible(t *testing.T, p *Problem, a Answer, all []tried) int {
	t.Helper()
	require.NotEmpty(t, a.Conflicts)
	require.True(t, a.Irreducible)
	in := map[int]bool{}
	for _, c := range a.Conflicts {
		in[p.number[c.Finding.ID]] = true
	}
	holds := func(x tried, without int) bool {
		for i, s := range x.short {
			if in[i] && i != without && s > 0 {
				return false
			}
		}
		return true
	}
	for _, x := range all {
		require.False(t, holds(x, -1), "the set holds at %v", x.cell)
	}
	for _, c := range a.Conflicts {
		i := p.number[c.Finding.ID]
		least := math.Inf(1)
		for _, x := range all {
			if holds(x, i) {
				least = min(least, x.short[i])
			}
		}
		require.False(t, math.IsInf(least, 1), "%s can be spared", c.Finding.ID)
		require.True(t, c.Known && c.Least)
		require.InDelta(t, least, c.Short, 1e-6, "how far %s must give way", c.Finding.ID)
	}
	return len(a.Conflicts)
}

// A build whose limits are met at a place that is known has a proposal every time, and
// a fresh assessment of the whole build confirms it.
func TestAKnownPlaceIsFound(t *testing.T) {
	for seed := range draws(20) {
		r := rand.New(rand.NewPCG(uint64(seed), 21))
		b := parsed(t, drawn(r))
		moves := allowedIn(r, b, 2+r.IntN(3), 10)
		p, err := New(b, Wanted{Moves: moves, Hold: held, Tight: true})
		require.NoError(t, err)
		cell := make([]int, len(p.moves))
		for i := range cell {
			cell[i] = r.IntN(len(p.moves[i].values))
		}
		a, err := p.ready.At(p.movesTo(cell), assess.For("line.rear.joint.1.max", "clearance.axle"))
		require.NoError(t, err)
		most, least := 0.0, 1.0
		for i := range a.Lines[0].Joints {
			v := a.Lines[0].Angle(a.Lines[0].Joints[i]).V
			most, least = max(most, v), min(least, v)
		}
		c := limited(b, most*1.001, least*0.999, max(a.Clearances[0].Gap.V, 0)-0.1, max(a.Clearances[1].Gap.V, 0)-0.1)
		if a.Clearances[0].Gap.V < 0.2 || a.Clearances[1].Gap.V < 0.2 {
			continue
		}
		p, err = New(c, Wanted{Moves: moves, Hold: held, Tight: true, Budget: 2000})
		require.NoError(t, err)
		got := p.Run(context.Background(), nil)
		require.NotEmpty(t, got.Proposals, "draw %d", seed)
		for _, x := range got.Proposals {
			after, err := c.With(p.movesTo(cellOf(p, x))...)
			require.NoError(t, err)
			for _, f := range assess.Run(after).Findings {
				if slices.ContainsFunc(held, func(h string) bool { return finding.Matches(h, f.ID) }) {
					require.LessOrEqual(t, f.Status, finding.Tight, f.ID)
				}
			}
		}
	}
}

// conflicting is a problem with two demands of which each is met somewhere and both
// nowhere; nil where the draw has none.
func conflicting(t *testing.T, seed int) *Problem {
	t.Helper()
	r := rand.New(rand.NewPCG(uint64(seed), 31))
	b := parsed(t, drawn(r))
	moves := allowedIn(r, b, 2, 5)
	p, err := New(b, Wanted{Moves: moves, Hold: held, Tight: true})
	require.NoError(t, err)
	type pair struct{ angle, gap float64 }
	var all []pair
	most := 0.0
	for _, x := range everyPlace(t, p) {
		k, j := p.number["clearance.axle"], p.number["line.rear.joint.2.max"]
		q := pair{p.demands[j].Limit + x.short[j], p.demands[k].Limit - x.short[k]}
		all, most = append(all, q), max(most, q.gap)
	}
	gap, least := most*(0.5+0.5*r.Float64()), math.Inf(1)
	for _, q := range all {
		if q.gap >= gap {
			least = min(least, q.angle)
		}
	}
	if most <= 1 {
		return nil
	}
	c := limited(b, least*0.99, 0, gap, 0)
	p, err = New(c, Wanted{Moves: moves, Hold: []string{"line.rear.joint.2.max", "clearance.axle"}, Tight: true})
	require.NoError(t, err)
	return p
}

// Two demands of which each is met somewhere and both nowhere: proved so, and both are
// named.
func TestWhatCannotBeIsProved(t *testing.T) {
	proved := 0
	for seed := range draws(20) {
		p := conflicting(t, seed)
		if p == nil {
			continue
		}
		a := p.Run(context.Background(), nil)
		require.True(t, a.None, "draw %d", seed)
		irreducible(t, p, a, everyPlace(t, p))
		proved++
	}
	t.Logf("%d proved", proved)
	require.Positive(t, proved)
}

// A search that is ended while it thins a conflict says that it was not shown that none
// of the demands can be spared, and of none that was not tried how far it has to give way.
func TestAConflictThatWasNotThinned(t *testing.T) {
	unshown := 0
	for seed := range draws(20) {
		if unshown > 0 {
			break
		}
		p := conflicting(t, seed)
		if p == nil {
			continue
		}
		ctx, end := context.WithCancel(context.Background())
		a := p.Run(ctx, func(x Progress) {
			if x.What == "which demands conflict" {
				end()
			}
		})
		end()
		require.True(t, a.None, "that there is none was shown before")
		require.NotEmpty(t, a.Conflicts)
		known := 0
		for _, c := range a.Conflicts {
			if c.Known {
				known++
			}
		}
		assert.Equal(t, known == len(a.Conflicts), a.Irreducible)
		if !a.Irreducible {
			unshown++
		}
	}
	require.Positive(t, unshown)
}
