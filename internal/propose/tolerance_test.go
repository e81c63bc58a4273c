package propose

import (
	"context"
	"math/rand/v2"
	"testing"

	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHalton(t *testing.T) {
	for k, want := range []float64{0.5, 0.25, 0.75, 0.125} {
		assert.InDelta(t, want, halton(k+1, 2), 1e-15)
	}
	assert.InDelta(t, 1.0/3, halton(1, 3), 1e-15)
	assert.InDelta(t, 4.0/9, halton(4, 3), 1e-15)
}

// Within the tolerances all holds in at least 95 of 100 places drawn; with half as much
// again it does not, unless nothing wider was looked for.
func TestTolerancesHold(t *testing.T) {
	checked := 0
	for seed := range draws(6) {
		r := rand.New(rand.NewPCG(uint64(seed), 41))
		b := parsed(t, drawn(r))
		if len(b.Readings) > 0 {
			continue
		}
		b = limited(b, 0.07+0.02*r.Float64(), 0, 5, 1)
		p, err := New(b, Wanted{Moves: []Allowed{{Of: "placement.rear", From: -330, To: -240, Step: 5}}, Hold: held, Tight: true})
		require.NoError(t, err)
		got := p.Tolerances(context.Background(), p.Build)
		if got.Why != "" {
			continue
		}
		require.GreaterOrEqual(t, got.Sure, Sureness)
		require.Len(t, got.Rows, 5)
		share := func(wider float64) float64 {
			x := tolerancing{ctx: context.Background(), p: p, ready: p.ready}
			for _, w := range got.Rows {
				m, err := b.MovableNamed(w.Row.Name)
				require.NoError(t, err)
				now, err := b.Reads(m)
				require.NoError(t, err)
				x.of, x.at = append(x.of, m), append(x.at, now)
			}
			const n = 600
			sum := 0.0
			for range n {
				off := make([]float64, len(got.Rows))
				for i, w := range got.Rows {
					off[i] = wider * w.Half * (2*r.Float64() - 1)
				}
				s, err := x.holds(off)
				require.NoError(t, err)
				sum += s
			}
			return sum / n
		}
		in := share(1)
		assert.Greater(t, in, 0.92, "draw %d", seed)
		wide := true
		for _, w := range got.Rows {
			wide = wide && w.Free
		}
		if !wide {
			assert.Less(t, share(2), in, "draw %d: twice as wide is less sure", seed)
		}
		checked++
	}
	require.Positive(t, checked)
}

// What is printed is rounded down, in inches too, so that it holds.
func TestTolerancesAreRoundedDown(t *testing.T) {
	b := demo(t)
	m, err := b.MovableNamed("placement.rear")
	require.NoError(t, err)
	row, _ := m.Row()
	assert.Equal(t, "rear mount ±2.9 mm", Tolerance{Row: row, Half: 2.99}.Words(b))
	assert.Equal(t, "rear mount ±25 mm and more", Tolerance{Row: row, Half: 25, Free: true}.Words(b))
	inch := *b
	inch.Units = quantity.Inch()
	assert.Equal(t, "rear mount ±0.11 in", Tolerance{Row: row, Half: 2.99}.Words(&inch))
}

// Where it is past its limit as placed exactly, there is no tolerance, and it says why.
func TestNoToleranceForWhatIsOver(t *testing.T) {
	b := demo(t)
	p, err := New(b, Wanted{Moves: []Allowed{{Of: "placement.rear", From: -310, To: -270, Step: 1}}, Hold: []string{"line.rear.joint.2.max"}})
	require.NoError(t, err)
	assert.Contains(t, p.Tolerances(context.Background(), p.Build).Why, "measure or move first")
}
