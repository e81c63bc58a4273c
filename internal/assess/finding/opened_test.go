package finding

import (
	"math"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func judgedAt(v, limit float64, atLeast bool) Finding {
	var f Finding
	f.Judge(Exact(v), project.Rule{Kind: quantity.Length, Value: limit}, atLeast)
	return f
}

func anEstimate() Estimate { return EstimateIn(new(uncertain.Sources), "a") }

const within = "the ± of a.b"

// A straight line is open by its slope, 2·1/√3; a turning point and a kink by the
// worse side, a size near zero too; what does not change by nothing.
func TestOpensByTheWorseEnd(t *testing.T) {
	for name, c := range map[string]struct{ v, low, high, half float64 }{
		"straight":    {10, 9, 11, 1},
		"falls":       {10, 11, 9, 1},
		"kink":        {10, 10, 12, 2},
		"bottom":      {10, 13, 13, 3},
		"near zero":   {0, 1, 1, 1},
		"steeper low": {10, 6, 11, 4},
		"nothing":     {10, 10, 10, 0},
		"rounding":    {10, 10 + 1e-9, 10 - 1e-9, 0},
	} {
		for _, atLeast := range []bool{false, true} {
			f, low, high := judgedAt(c.v, 20, atLeast), judgedAt(c.low, 20, atLeast), judgedAt(c.high, 20, atLeast)
			n, err := f.Opens(Ends{anEstimate(), within, &low, &high})
			require.NoError(t, err, name)
			assert.InDelta(t, c.half/math.Sqrt(3), n.U(), 1e-12, "%s, %v", name, atLeast)
		}
	}
	f, low, high := judgedAt(10, 20, false), judgedAt(11, 20, false), judgedAt(9, 20, false)
	s := anEstimate()
	n, err := f.Opens(Ends{s, within, &low, &high})
	require.NoError(t, err)
	assert.InDelta(t, -1, n.Of(s.id), 1e-12, "it falls as the source rises")
	f.Open(n)
	n, err = f.Opens(Ends{s, within, &low, &high})
	require.NoError(t, err)
	assert.Zero(t, n.U(), "it has that source already")
}

// A limit that moves with the value leaves the margin as it was; one that moves by
// itself opens it.
func TestOpensByTheMargin(t *testing.T) {
	f, low, high := judgedAt(10, 10, true), judgedAt(9, 9, true), judgedAt(11, 11, true)
	n, err := f.Opens(Ends{anEstimate(), within, &low, &high})
	require.NoError(t, err)
	assert.Zero(t, n.U())
	f, low, high = judgedAt(10, 20, false), judgedAt(10, 17, false), judgedAt(10, 23, false)
	n, err = f.Opens(Ends{anEstimate(), within, &low, &high})
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(3), n.U(), 1e-12)
	plain := Finding{}
	plain.Figure(Exact(5))
	a, b := plain, plain
	a.Figure(Exact(4))
	b.Figure(Exact(8))
	n, err = plain.Opens(Ends{anEstimate(), within, &a, &b})
	require.NoError(t, err)
	assert.InDelta(t, 3/math.Sqrt(3), n.U(), 1e-12, "of one without a limit the value")
}

// Where it is not known at an end, it cannot be told.
func TestOpensWhereItBreaksOff(t *testing.T) {
	f, low := judgedAt(10, 20, false), judgedAt(9, 20, false)
	var high Finding
	high.Judge(Missing("the axle binds"), project.Rule{Kind: quantity.Length, Value: 20}, false)
	_, err := f.Opens(Ends{anEstimate(), within, &low, &high})
	assert.ErrorContains(t, err, "within the ± of a.b it cannot be told: the axle binds")
	_, err = f.Opens(Ends{anEstimate(), within, &low, nil})
	assert.ErrorContains(t, err, "within the ± of a.b")
	f.OpenBeyond(err.Error())
	assert.Equal(t, NotKnown, f.Status)
	over := judgedAt(30, 20, false)
	over.OpenBeyond("why")
	assert.Equal(t, Over, over.Status, "what is past its limit stays so")
}

// As built is held against as built, and with the weight on against that, whichever of
// the two an end is judged by.
func TestOpensAsBuiltOrLoaded(t *testing.T) {
	built, loaded := judgedAt(10, 20, false), judgedAt(15, 20, false)
	f := built
	f.BesideLoaded(&loaded)
	low, high := judgedAt(16, 20, false), judgedAt(11, 20, false)
	low.InPlaceOf(&Finding{Value: 9, Margin: 11})
	n, err := f.Opens(Ends{anEstimate(), within, &low, &high})
	require.NoError(t, err)
	assert.InDelta(t, 1/math.Sqrt(3), n.U(), 1e-12)
	g := loaded
	g.InPlaceOf(&built)
	low, high = judgedAt(9, 20, false), judgedAt(17, 20, false)
	low.BesideLoaded(&Finding{Value: 14, Margin: 6})
	high.InPlaceOf(&Finding{Value: 11, Margin: 9})
	n, err = g.Opens(Ends{anEstimate(), within, &low, &high})
	require.NoError(t, err)
	assert.InDelta(t, 2/math.Sqrt(3), n.U(), 1e-12)
}

// The verdict follows the wider number: tight inside its ±, and never better.
func TestOpenedVerdicts(t *testing.T) {
	wide := func(u float64) uncertain.Number {
		n, err := new(uncertain.Sources).With(0, uncertain.Source{Label: "a", U: u})
		require.NoError(t, err)
		return n
	}
	f := judgedAt(19, 20, false)
	f.Open(wide(0.4))
	assert.Equal(t, OK, f.Status)
	assert.InDelta(t, 0.8, f.Uncertainty, 1e-12)
	g := judgedAt(19, 20, false)
	g.Open(wide(0.6))
	assert.Equal(t, Tight, g.Status)
	assert.Contains(t, g.Advice(), "by less than its ±")
	assert.Contains(t, g.Advice(), "mostly a")
	p, stated := g.Within()
	assert.True(t, stated)
	assert.InDelta(t, 0.952, p, 1e-3, "Φ(1/0.6)")
	over := judgedAt(21, 20, false)
	over.Open(wide(3))
	assert.Equal(t, Over, over.Status)
	lifts := Finding{}
	lifts.Figure(Exact(5))
	lifts.Again(func(f *Finding) { f.Status = Tight })
	lifts.Open(wide(3))
	assert.Equal(t, Tight, lifts.Status, "one without a limit says itself")
	next := judgedAt(19.5, 20, false)
	next.OpenedAs(&g)
	assert.InDelta(t, g.Uncertainty, next.Uncertainty, 1e-12)
	assert.Equal(t, Tight, next.Status)
}
