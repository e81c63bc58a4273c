package snoop

import (
	"context"
	"errors"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// level is a line z = a + b·x through heights that were measured at places x, each over
// the first mark or over the second, of which the second is known to be so much higher.
type level struct {
	x, z   []float64
	second []bool
	known  float64
	// breaks is a measurement with which nothing is found.
	breaks int
}

type lined struct {
	problem tape.Problem
	fit     *tape.Fit
}

func (l lined) Problem() tape.Problem { return l.problem }
func (l lined) Result() *tape.Fit     { return l.fit }

// linear is a sum of unknowns times numbers.
type linear map[int]float64

func (l linear) At(x []float64) float64 {
	sum := 0.0
	for u, k := range l {
		sum += k * x[u]
	}
	return sum
}

func (l linear) Partials(_ []float64, add func(int, float64)) {
	for u, k := range l {
		add(u, k)
	}
}

const sigma = 0.3

func (l level) search() Search[lined] {
	return Search[lined]{Count: len(l.x), Known: 1, Most: 3, Fit: func(of, freed []int) (lined, error) {
		p := tape.Problem{Start: make([]float64, 2+len(freed))}
		for _, i := range of {
			if i == l.breaks {
				return lined{}, errors.New("nothing is found")
			}
			f, z := linear{0: 1, 1: l.x[i]}, l.z[i]
			switch {
			case l.second[i] && len(freed) > 0:
				f[2] = -1
			case l.second[i]:
				z += l.known
			}
			p.Observations = append(p.Observations, tape.Observation{Value: z, Sigma: sigma, Of: f})
		}
		f, err := tape.Solve(context.Background(), p)
		return lined{p, f}, err
	}}
}

// drawn is a level line of eight heights, four over each mark.
func drawn(seed uint64) level {
	r := rand.New(rand.NewPCG(seed, 7))
	l := level{known: 12, breaks: -1}
	for i := range 8 {
		x := float64(i%4) * 1.5
		second := i >= 4
		z := 3 - 2*x + sigma*r.NormFloat64()
		if second {
			z -= 12
		}
		l.x, l.z, l.second = append(l.x, x), append(l.z, z), append(l.second, second)
	}
	return l
}

func clean(t *testing.T, l level) Outcome[lined] {
	t.Helper()
	s := l.search()
	all, _, err := s.All()
	require.NoError(t, err)
	return s.Clean(all)
}

// Sound measurements are all kept; one slip is left out, two are, one after the other, and
// what the rest says is what it says without them.
func TestSlipsAreLeftOut(t *testing.T) {
	for seed := range uint64(20) {
		l := drawn(seed)
		sound := clean(t, l)
		if len(sound.Suspects) > 0 { // one in a hundred by chance
			continue
		}
		assert.Len(t, sound.Of, 8)
		assert.False(t, sound.Scatters || sound.Unclear)
		for _, wrong := range [][]int{{0}, {6}, {1, 7}} {
			m := drawn(seed)
			for k, i := range wrong {
				m.z[i] += []float64{25, 9}[len(wrong)-1-k]
			}
			out := clean(t, m)
			require.Len(t, out.Suspects, len(wrong), "seed %d: %v", seed, wrong)
			for _, s := range out.Suspects {
				assert.Contains(t, wrong, s.Measurement)
				require.True(t, s.Alone)
				assert.Equal(t, -1, s.Known)
				assert.NotContains(t, out.Of, s.Measurement)
			}
			assert.False(t, out.Scatters || out.Unclear)
			assert.Empty(t, out.Freed)
			assert.InDelta(t, -2, out.Fit.fit.X[1], 5*sigma/3)
		}
	}
}

// Where what was taken as known is wrong, no one measurement explains the misfit, and what
// was known is freed: the fit finds it.
func TestWhatWasKnownIsFreed(t *testing.T) {
	for seed := range uint64(20) {
		l := drawn(seed)
		if len(clean(t, l).Suspects) > 0 {
			continue
		}
		l.known = 20
		out := clean(t, l)
		require.Len(t, out.Suspects, 1, "seed %d", seed)
		assert.Equal(t, 0, out.Suspects[0].Known)
		assert.Equal(t, -1, out.Suspects[0].Measurement)
		assert.Equal(t, []int{0}, out.Freed)
		assert.Greater(t, out.Suspects[0].Gain, 100.0)
		assert.Len(t, out.Of, 8)
		assert.InDelta(t, 12, out.Fit.fit.X[2], 4*sigma)
	}
}

// With one measurement more than it takes, a slip cannot be told: all are suspected, none
// is left out.
func TestOneTooFewToTell(t *testing.T) {
	l := drawn(1)
	l.x, l.z, l.second = l.x[:3], l.z[:3], l.second[:3]
	l.z[1] += 9
	out := clean(t, l)
	assert.True(t, out.Unclear)
	require.Len(t, out.Suspects, 3)
	for _, s := range out.Suspects {
		assert.False(t, s.Alone)
		assert.Len(t, s.Alike, 2)
	}
	assert.Len(t, out.Of, 3)
}

// Measurements that scatter all over, without one that stands out, are said to scatter.
func TestScatter(t *testing.T) {
	l := drawn(2)
	for i := range l.z {
		l.z[i] += []float64{2.5, -2.5, -2.5, 2.5}[i%4] * float64(1-2*(i/4))
	}
	out := clean(t, l)
	assert.True(t, out.Scatters || out.Unclear)
}

// A measurement with which nothing is found is left out where all is found without it, and
// where nothing is found without any other either, the error stands.
func TestASlipSoLargeThatNothingIsFound(t *testing.T) {
	l := drawn(3)
	l.breaks = 5
	s := l.search()
	all, suspect, err := s.All()
	require.NoError(t, err)
	require.NotNil(t, suspect)
	assert.Equal(t, 5, suspect.Measurement)
	assert.True(t, suspect.Alone)
	assert.NotContains(t, all.Of, 5)

	l.x, l.z, l.second = l.x[4:7], l.z[4:7], l.second[4:7] // two are left, which nothing checks
	l.breaks = 1
	s = l.search()
	_, suspect, err = s.All()
	require.Error(t, err)
	assert.Nil(t, suspect)
}
