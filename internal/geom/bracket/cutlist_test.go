package bracket

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// checkPlan holds a plan against its list: every piece once, none over the end,
// a kerf between two cuts, and every millimetre of stock accounted for.
func checkPlan(t require.TestingT, l CutList, p CutPlan) {
	count := make([]int, len(l.Pieces))
	used := make([]int, len(l.Stock))
	cost, bought, total, pieces := 0.0, 0.0, 0.0, 0.0
	priced := false
	for _, s := range l.Stock {
		priced = priced || s.Cost > 0
	}
	for _, b := range p.Bars {
		s := l.Stock[b.Stock]
		used[b.Stock]++
		total += s.Length
		if !s.OnHand {
			bought += s.Length
			if priced {
				cost += s.Cost
			} else {
				cost += s.Length
			}
		}
		end := -l.Kerf
		for _, c := range b.Cuts {
			count[c.Piece]++
			pieces += c.To - c.From
			assert.InDelta(t, l.Pieces[c.Piece].Length, c.To-c.From, 1e-9)
			assert.GreaterOrEqual(t, c.From, end+l.Kerf-1e-9)
			end = c.To
		}
		assert.LessOrEqual(t, end, s.Length-l.Trim+1e-6)
		assert.InDelta(t, math.Max(0, s.Length-l.Trim-end-l.Kerf), b.Offcut, 1e-6)
	}
	for i, q := range l.Pieces {
		assert.Equal(t, max(1, q.Count), count[i], q.Name)
	}
	for i, s := range l.Stock {
		if s.Count > 0 {
			assert.LessOrEqual(t, used[i], s.Count)
		}
	}
	assert.InDelta(t, cost, p.Cost, 1e-6)
	assert.InDelta(t, bought, p.Bought, 1e-6)
	assert.LessOrEqual(t, p.Bound, p.Cost+1e-6)
	assert.InDelta(t, total, pieces+p.Offcuts+p.Waste, 1e-6)
}

// First fit decreasing puts 41 beside 40 and then needs three bars; 41+35+24
// and 40+34+26 fill two (own example).
func TestPlanBeatsFirstFit(t *testing.T) {
	l := CutList{Name: "mounts", Stock: []StockBar{{Name: "bar", Length: 100}}}
	for _, s := range []float64{41, 40, 35, 34, 26, 24} {
		l.Pieces = append(l.Pieces, Piece{Length: s})
	}
	n, err := l.prepare()
	require.NoError(t, err)
	ffd, ok := n.fit(0, false)
	require.True(t, ok)
	assert.Len(t, ffd.bars, 3)
	p, err := l.Plan()
	require.NoError(t, err)
	checkPlan(t, l, p)
	assert.True(t, p.Optimal)
	assert.Len(t, p.Bars, 2)
}

// The last piece may end flush with the bar: three of 1998 mm with two kerfs
// of 3 mm are exactly 6 m; a fourth kerf's worth more does not go.
func TestKerfCounts(t *testing.T) {
	l := CutList{Name: "legs", Kerf: 3, Pieces: []Piece{{Name: "leg", Length: 1998, Count: 3}}, Stock: []StockBar{{Name: "6 m", Length: 6000}}}
	p, err := l.Plan()
	require.NoError(t, err)
	checkPlan(t, l, p)
	assert.Len(t, p.Bars, 1)
	assert.Zero(t, p.Offcuts)
	assert.InDelta(t, 6, p.Waste, 1e-9)
	l.Trim = 1
	p, err = l.Plan()
	require.NoError(t, err)
	checkPlan(t, l, p)
	assert.Len(t, p.Bars, 2)
	assert.True(t, p.Optimal)
}

// The short bar is cheaper for the piece that is left; what is on hand goes
// first; a dear long bar is not bought although it is shorter in number.
func TestStockIsChosen(t *testing.T) {
	l := CutList{Name: "legs", Pieces: []Piece{{Name: "a", Length: 2900, Count: 2}, {Name: "b", Length: 900}},
		Stock: []StockBar{{Name: "6 m", Length: 6000}, {Name: "1 m", Length: 1000}, {Name: "scrap", Length: 950, Count: 1, OnHand: true}}}
	p, err := l.Plan()
	require.NoError(t, err)
	checkPlan(t, l, p)
	assert.InDelta(t, 6000, p.Cost, 1e-9)
	l.Stock = l.Stock[:2]
	p, err = l.Plan()
	require.NoError(t, err)
	checkPlan(t, l, p)
	assert.InDelta(t, 7000, p.Cost, 1e-9)
	l.Stock = []StockBar{{Name: "6 m", Length: 6000, Cost: 100}, {Name: "3 m", Length: 3000, Cost: 30}}
	p, err = l.Plan()
	require.NoError(t, err)
	checkPlan(t, l, p)
	assert.InDelta(t, 90, p.Cost, 1e-9)
	assert.True(t, p.Optimal)
}

// cheapest tries every way to group the pieces.
func cheapest(l CutList) float64 {
	var sizes []float64
	for _, p := range l.Pieces {
		for range max(1, p.Count) {
			sizes = append(sizes, p.Length+l.Kerf)
		}
	}
	best := math.Inf(1)
	price := func(load float64) float64 {
		c := math.Inf(1)
		for _, s := range l.Stock {
			if s.Length-l.Trim+l.Kerf >= load-1e-9 {
				c = math.Min(c, s.Length)
			}
		}
		return c
	}
	var walk func(i int, groups []float64)
	walk = func(i int, groups []float64) {
		if i == len(sizes) {
			c := 0.0
			for _, g := range groups {
				c += price(g)
			}
			best = math.Min(best, c)
			return
		}
		for k := range groups {
			groups[k] += sizes[i]
			walk(i+1, groups)
			groups[k] -= sizes[i]
		}
		walk(i+1, append(groups[:len(groups):len(groups)], sizes[i]))
	}
	walk(0, nil)
	return best
}

// A second method: every grouping of up to seven pieces.
func TestPlanAgainstAllGroupings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := CutList{Name: "drawn", Kerf: float64(rapid.IntRange(0, 4).Draw(t, "kerf")), Trim: float64(rapid.IntRange(0, 10).Draw(t, "trim"))}
		for _, s := range rapid.SliceOfN(rapid.IntRange(80, 990), 1, 7).Draw(t, "pieces") {
			l.Pieces = append(l.Pieces, Piece{Length: float64(s)})
		}
		l.Stock = []StockBar{{Length: 1000}}
		if rapid.Bool().Draw(t, "two") {
			l.Stock = append(l.Stock, StockBar{Length: float64(rapid.IntRange(400, 2500).Draw(t, "other"))})
		}
		p, err := l.Plan()
		require.NoError(t, err)
		checkPlan(t, l, p)
		require.True(t, p.Optimal)
		assert.InDelta(t, cheapest(l), p.Cost, 1e-6)
	})
}

// Long lists: the plan is whole, its bound holds, and it says when it is not
// proved. A budget of nothing much does the same to a short list.
func TestLongLists(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := CutList{Name: "many", Kerf: 2.5, Stock: []StockBar{{Length: 6000}, {Length: 4500}, {Length: 2000, Count: 2, OnHand: true}}, Budget: 50}
		for _, s := range rapid.SliceOfN(rapid.Float64Range(100, 2500), 5, 60).Draw(t, "pieces") {
			l.Pieces = append(l.Pieces, Piece{Length: s})
		}
		p, err := l.Plan()
		require.NoError(t, err)
		checkPlan(t, l, p)
		if p.Optimal {
			assert.InDelta(t, p.Cost, p.Bound, 1e-6)
		}
	})
}

func TestCutListsRefused(t *testing.T) {
	good := CutList{Name: "legs", Pieces: []Piece{{Name: "left leg", Length: 300}}, Stock: []StockBar{{Name: "bar", Length: 1000, Count: 1}}}
	for name, c := range map[string]struct {
		change func(*CutList)
		want   string
	}{
		"too long":  {func(l *CutList) { l.Pieces[0].Length = 1000.5 }, "piece left leg: 1000.5 mm is longer than any stock"},
		"no length": {func(l *CutList) { l.Pieces[0].Length = math.NaN() }, "left leg"},
		"kerf":      {func(l *CutList) { l.Kerf = -1 }, "legs"},
		"empty":     {func(l *CutList) { l.Pieces = nil }, "legs"},
		"no stock":  {func(l *CutList) { l.Stock = nil }, "legs"},
		"bar":       {func(l *CutList) { l.Stock[0].Length = 0 }, "bar"},
		"all trim":  {func(l *CutList) { l.Trim = 1000 }, "all trim"},
		"on hand":   {func(l *CutList) { l.Stock[0].Count, l.Stock[0].OnHand = 0, true }, "how many"},
		"runs out":  {func(l *CutList) { l.Pieces[0].Count = 4 }, "cannot hold"},
		"far out":   {func(l *CutList) { l.Pieces[0].Count = 400 }, "no way"},
		"too many":  {func(l *CutList) { l.Pieces[0].Count = 4000 }, "2000"},
		"half priced": {func(l *CutList) {
			l.Stock = append(l.Stock, StockBar{Name: "x", Length: 1, Cost: 2})
		}, "cost"},
	} {
		l := good
		l.Pieces = append([]Piece(nil), good.Pieces...)
		l.Stock = append([]StockBar(nil), good.Stock...)
		c.change(&l)
		_, err := l.Plan()
		assert.ErrorContains(t, err, c.want, name)
	}
}

func BenchmarkPlanTwenty(b *testing.B) {
	l := CutList{Kerf: 3, Stock: []StockBar{{Length: 6000}, {Length: 3000}}}
	for i := range 20 {
		l.Pieces = append(l.Pieces, Piece{Length: 317 + float64(i*i%13)*71.3})
	}
	for b.Loop() {
		if _, err := l.Plan(); err != nil {
			b.Fatal(err)
		}
	}
}
