package coverage

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// single is a share of independent outcomes, one a build.
func single(hits, of int) Share {
	var s Share
	for i := range of {
		var one Share
		one.add(i < hits)
		one.close()
		s.join(one)
	}
	return s
}

// Clopper and Pearson: 10 of 100 lie between 0.0490 and 0.1762 with 95 % (from
// memory, any table of the binomial); none of 100 is at most 0.0295 with 95 %:
// 1 - 0.05^(1/100).
func TestBounds(t *testing.T) {
	assert.InDelta(t, 0.0490, beta(0.025, 10, 91), 5e-5)
	assert.InDelta(t, 0.1762, beta(0.975, 11, 90), 5e-5)
	s := single(10, 101) // 100 effective: the variance of few is taken as that of a sample
	assert.InDelta(t, 100, s.Effective(), 1e-9)
	assert.InDelta(t, beta(0.025, 1000.0/101, 100-1000.0/101+1), s.Lower(0.975), 1e-9)
	assert.InDelta(t, beta(0.975, 1000.0/101+1, 100-1000.0/101), s.Upper(0.975), 1e-9)
	s = single(0, 100)
	assert.InDelta(t, 1-math.Pow(0.05, 0.01), s.Upper(0.95), 1e-9)
	assert.Zero(t, s.Lower(0.95))
	s = single(100, 100)
	assert.InDelta(t, math.Pow(0.05, 0.01), s.Lower(0.95), 1e-9)
	assert.InDelta(t, 1, s.Upper(0.95), 0)
	assert.InDelta(t, 1, Share{}.Upper(0.95), 0)
	assert.Zero(t, Share{}.Lower(0.95))
}

// Outcomes that hang together in a build count as one; independent ones as many
// as they are.
func TestClusters(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 1))
	var together, alone Share
	for range 2000 {
		var a, b Share
		hit := dice.Float64() < 0.3
		for range 10 {
			a.add(hit)
			b.add(dice.Float64() < 0.3)
		}
		a.close()
		b.close()
		together.join(a)
		alone.join(b)
	}
	assert.InDelta(t, 2000, together.Effective(), 2)
	assert.InDelta(t, 20000, alone.Effective(), 2000)
	assert.Greater(t, together.Upper(0.95)-together.Value(), 2*(alone.Upper(0.95)-alone.Value()))
}

// The bounds themselves keep their promise: a share of 2.5 % drawn by builds
// that differ is called more than 2.5 % in about one simulation of twenty.
func TestBoundsKeepTheirPromise(t *testing.T) {
	dice := rand.New(rand.NewPCG(2, 2))
	wrong, wrongUpper := 0, 0
	const runs = 600
	for range runs {
		var s Share
		for range 300 {
			p := 0.025 * -math.Log(1-dice.Float64())
			var b Share
			for range 5 {
				b.add(dice.Float64() < p)
			}
			b.close()
			s.join(b)
		}
		if s.Lower(0.95) > 0.025 {
			wrong++
		}
		if s.Upper(0.95) < 0.025 {
			wrongUpper++
		}
	}
	assert.Less(t, float64(wrong)/runs, 0.07)
	assert.Less(t, float64(wrongUpper)/runs, 0.09)
}

type coin struct{ truth float64 }

// fair states limits that hold in the given share of cases each.
func fair(lower, upper, falseOK float64) Trial[coin] {
	return Trial[coin]{
		Truth: func(dice *rand.Rand) coin { return coin{dice.Float64()} },
		Judge: func(dice *rand.Rand, b coin, say func(Outcome)) error {
			o := Outcome{Of: "coin", Truth: b.truth, Lower: b.truth - 1, Upper: b.truth + 2, Known: true, OK: true, Keeps: dice.Float64() >= falseOK}
			if dice.Float64() >= lower {
				o.Lower = b.truth + 0.5
			}
			if dice.Float64() >= upper {
				o.Upper = b.truth - 0.5
			}
			say(o)
			say(Outcome{Of: "one side", Truth: 1, Lower: math.Inf(-1), Upper: 3, Known: true})
			say(Outcome{Of: "unknown", Truth: 1})
			return nil
		},
	}
}

// What is wrong is found, what is right is let pass, and nothing depends on how
// many work at it.
func TestRun(t *testing.T) {
	plan := Plan{Builds: 3000, Each: 2, Start: 7, At: 2}
	good, err := Run(fair(0.98, 0.98, 0.01), plan)
	require.NoError(t, err)
	assert.Empty(t, good.Fails(0.975))
	plan.At = 1
	again, err := Run(fair(0.98, 0.98, 0.01), plan)
	require.NoError(t, err)
	for i := range good.Rows {
		again.Rows[i].Width = good.Rows[i].Width // sums in another order
	}
	assert.Equal(t, good, again)

	bad, err := Run(fair(0.95, 0.96, 0.04), plan)
	require.NoError(t, err)
	fails := bad.Fails(0.975)
	require.Len(t, fails, 3)
	assert.Contains(t, fails[0], "lower limit")
	assert.Contains(t, fails[1], "upper limit")
	assert.Contains(t, fails[2], "called ok")

	row := good.Rows[1]
	assert.Equal(t, "one side", row.Of)
	assert.Equal(t, 6000, row.Outcomes)
	assert.InDelta(t, 2, row.Width, 1e-12)
	assert.Zero(t, row.Above.Of)
	assert.InDelta(t, 0, row.OK.Value(), 0)
	assert.InDelta(t, 0, good.Rows[2].Known.Value(), 0)

	var text strings.Builder
	require.NoError(t, good.Write(&text))
	assert.Contains(t, text.String(), "3000 builds")
	assert.Equal(t, 4, strings.Count(text.String(), "\n"))

	broken := errors.New("broken")
	_, err = Run(Trial[int]{
		Truth: func(*rand.Rand) int { return 0 },
		Judge: func(*rand.Rand, int, func(Outcome)) error { return broken },
	}, plan)
	assert.ErrorIs(t, err, broken)
}

// Rows of several runs are one row together, clustered by the builds of all of them.
func TestPooled(t *testing.T) {
	plan := Plan{Builds: 200, Each: 3, Start: 3}
	a, err := Run(fair(0.98, 0.98, 0.1), plan)
	require.NoError(t, err)
	plan.Start = 4
	b, err := Run(fair(0.9, 0.9, 0.1), plan)
	require.NoError(t, err)
	rows := Pooled(slices.Concat(a.Rows, b.Rows), func(of string) string {
		if of == "unknown" {
			return ""
		}
		return "all"
	})
	require.Len(t, rows, 1)
	outcomes, false0, builds := 0, 0, 0
	for _, r := range slices.Concat(a.Rows, b.Rows) {
		if r.Of != "unknown" {
			outcomes, false0, builds = outcomes+r.Outcomes, false0+r.False.Hits, builds+r.False.Builds
		}
	}
	assert.Equal(t, []int{outcomes, false0, builds}, []int{rows[0].Outcomes, rows[0].False.Hits, rows[0].False.Builds})
	assert.True(t, math.IsNaN(rows[0].Width))
	assert.Empty(t, Pooled(a.Rows, func(string) string { return "" }))
}
