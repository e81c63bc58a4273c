package propose

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hills is a space with nothing of a build behind it: each demand is the distance to a
// place of its own, which changes by no more than the way gone.
type hills struct {
	n      []int
	tops   [][]float64
	limits []float64
	plain  []bool // no bound is argued of it
	late   []bool // it is not judged at first
	judged int
}

func (h *hills) axes() []int { return h.n }

func (h *hills) roots() []box {
	b := box{make([]int, len(h.n)), make([]int, len(h.n))}
	for i, n := range h.n {
		b.hi[i] = n - 1
	}
	return []box{b}
}

func (h *hills) value(d int, cell []int) float64 {
	sum := 0.0
	for i, v := range cell {
		sum += math.Pow(float64(v)-h.tops[d][i], 2)
	}
	return h.limits[d] - math.Sqrt(sum)
}

func (h *hills) at(cell []int) *spot {
	h.judged++
	s := &spot{short: make([]float64, len(h.tops)), built: make([]float64, len(h.tops))}
	for d := range h.tops {
		s.built[d], s.short[d] = h.value(d, cell), -h.value(d, cell)
		if h.plain[d] || h.isLate(d) {
			s.built[d], s.short[d] = math.NaN(), math.NaN()
		}
	}
	return s
}

func (h *hills) isLate(d int) bool { return d < len(h.late) && h.late[d] }

func (h *hills) deeper(cell []int, s *spot) bool {
	for d := range h.tops {
		if h.isLate(d) && !h.plain[d] {
			s.built[d] = h.value(d, cell)
		}
	}
	deep := s.deep
	s.deep = true
	return h.late != nil && !deep
}

func (h *hills) whole(cell []int, s *spot) {
	for d := range h.tops {
		s.short[d] = -h.value(d, cell)
	}
	h.deeper(cell, s)
	s.all = true
}

func (h *hills) reach(b box, middle []int, _ *spot, out []float64) {
	sum := 0.0
	for i, m := range middle {
		sum += math.Pow(float64(max(b.hi[i]-m, m-b.lo[i])), 2)
	}
	for d := range out {
		if out[d] = math.Sqrt(sum); h.plain[d] {
			out[d] = math.Inf(1)
		}
	}
}

func (h *hills) only(int) bool      { return false }
func (h *hills) scale(int) float64  { return 1 }
func (h *hills) counts(int) bool    { return true }
func (h *hills) spread(int) float64 { return 1 }

func drawnHills(r *rand.Rand) *hills {
	h := &hills{}
	for range 2 + r.IntN(2) {
		h.n = append(h.n, 1+r.IntN(9))
	}
	for range 1 + r.IntN(5) {
		top := make([]float64, len(h.n))
		for i := range top {
			top[i] = float64(h.n[i]) * (1.4*r.Float64() - 0.2)
		}
		h.tops = append(h.tops, top)
		h.limits = append(h.limits, 6*r.Float64())
		h.plain = append(h.plain, r.IntN(4) == 0)
		h.late = append(h.late, r.IntN(3) == 0)
	}
	return h
}

// each calls with every place.
func each(n []int, do func([]int)) {
	cell := make([]int, len(n))
	for {
		do(cell)
		i := 0
		for ; i < len(n); i++ {
			if cell[i]++; cell[i] < n[i] {
				break
			}
			cell[i] = 0
		}
		if i == len(n) {
			return
		}
	}
}

// A search finds what trying every place finds, for every goal, and rules out only what
// is ruled out.
func TestSearchAgainstEveryPlace(t *testing.T) {
	none, some := 0, 0
	for seed := range draws(300) {
		r := rand.New(rand.NewPCG(uint64(seed), 3))
		h := drawnHills(r)
		active := make([]bool, len(h.tops))
		for i := range active {
			active[i] = true
		}
		cost := make([][]float64, len(h.n))
		for i, n := range h.n {
			cost[i] = make([]float64, n)
			for k := range cost[i] {
				cost[i][k] = math.Abs(float64(k) - 2.2)
			}
		}
		goals := []goal{{active: active, least: -1, first: true}, {active: active, least: -1, cost: cost}, {active: active, least: -1, spare: true}}
		want := []float64{math.Inf(1), math.Inf(1), math.Inf(1)}
		each(h.n, func(cell []int) {
			spare, sum := math.Inf(1), 0.0
			for d := range h.tops {
				spare = min(spare, h.value(d, cell))
			}
			for i, k := range cell {
				sum += cost[i][k]
			}
			if spare >= 0 {
				want[0], want[1], want[2] = 0, min(want[1], sum), min(want[2], -spare)
			}
		})
		for i, g := range goals {
			s := search{space: h, goal: g, budget: 1 << 30, memo: newMemo(r.IntN(40)), ctx: context.Background()}
			f := s.run(nil, 0)
			require.Equal(t, math.IsInf(want[i], 1), f.cell == nil, "draw %d, goal %d", seed, i)
			if f.cell == nil {
				none++
				require.True(t, f.done)
				assert.InDelta(t, 1, f.settled, 1e-12)
				continue
			}
			some++
			require.InDelta(t, want[i], f.value, 1e-6, "draw %d, goal %d", seed, i)
		}
	}
	require.Positive(t, none)
	require.Positive(t, some)
}

// A search ends by its context and by its budget, with what it has, and says how far it
// got.
func TestSearchIsStopped(t *testing.T) {
	h := &hills{n: []int{40, 40, 40}, tops: [][]float64{{-9, -9, -9}}, limits: []float64{5}, plain: []bool{true}}
	g := goal{active: []bool{true}, least: -1, first: true}
	ctx, stop := context.WithCancel(context.Background())
	told := 0
	s := search{space: h, goal: g, budget: 1 << 30, memo: newMemo(1000), ctx: ctx, tell: func(share float64, judged int) {
		if told++; told > 3 {
			stop()
		}
	}}
	f := s.run(nil, 0)
	require.ErrorIs(t, f.err, context.Canceled)
	assert.Less(t, f.judged, 64000)
	assert.False(t, f.done)
	assert.LessOrEqual(t, len(s.memo.at), 1000)
	s = search{space: h, goal: g, budget: 500, memo: newMemo(0)}
	f = s.run(nil, 0)
	assert.False(t, f.done)
	assert.Equal(t, 500, f.judged)
	assert.Less(t, f.settled, 0.1)
	require.ErrorIs(t, f.stopped(), ErrBudget)
}

// Where all is bounded, few places are judged of many.
func TestBoundsSparePlaces(t *testing.T) {
	h := &hills{n: []int{60, 60, 60}, tops: [][]float64{{10, 10, 10}, {40, 40, 40}}, limits: []float64{20, 20}, plain: []bool{false, false}}
	s := search{space: h, goal: goal{active: []bool{true, true}, least: -1, first: true}, budget: 1 << 30, memo: newMemo(1 << 20)}
	f := s.run(nil, 0)
	require.Nil(t, f.cell)
	require.True(t, f.done)
	assert.Equal(t, []bool{true, true}, f.reasons)
	assert.Less(t, f.judged, 2500, "of 216,000")

	// Where the one is judged only where all else holds, which is nowhere near it, it rules
	// boxes out all the same.
	h.late = []bool{false, true}
	s = search{space: h, goal: s.goal, budget: 1 << 30, memo: newMemo(1 << 20)}
	f = s.run(nil, 0)
	require.Nil(t, f.cell)
	assert.Positive(t, s.struck)
	t.Logf("%d places, %d boxes looked into deeper and %d ruled out so", f.judged, s.dug, s.struck)
	assert.Less(t, f.judged, 5000, "of 216,000")
}
