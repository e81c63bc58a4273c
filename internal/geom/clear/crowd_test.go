package clear

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Paths past a crowd find what they find past each of its solids, to the last digit, and
// see most of the solids to be too far off many at once.
func TestACrowdIsItsSolids(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	visited, all := 0, 0
	for n := range 60 {
		// A rod at each place of its own swing, with a surface among them at times.
		own := swung(t, rng, Segment{A: vec(rng, 200), B: vec(rng, 200), R: 12 * rng.Float64()}, false)
		var solids []Solid
		for _, s := range own.Solids {
			solids = append(solids, Ready(Moved(s, geom.Pose{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}, At: r3.Vec{X: 300}})))
		}
		if n%6 == 0 {
			solids = slices.Insert(solids, len(solids)/2, Ready(Plane{On: vec(rng, 600), Normal: vec(rng, 1)}))
		}
		crowd, one := NewCrowd(solids), make([]Still, len(solids))
		for i, s := range solids {
			one[i].Solid = s
		}
		below, want := math.Inf(1), math.Inf(1)
		for k := range 12 {
			p := swung(t, rng, randomShape(rng, rng.IntN(4)), k%3 != 0)
			if k%2 == 0 {
				a, b := make([]r3.Vec, len(p.At)), WayOf([]r3.Vec{vec(rng, 300)}, true)
				for i, s := range p.Solids {
					c := coreOf(s)
					a[i] = c.at
				}
				p = Path{At: p.At, Rod: &Rod{WayOf(a, false), b, 7}}
			}
			var track Track
			require.NoError(t, track.Follow(p))
			var nearest, got Meeting
			for i := range one {
				if m, found, err := track.LeastOf(&one[i], want); found {
					require.NoError(t, err)
					nearest, want = m, m.Gap
				}
			}
			last := -1
			crowd.Past(&Passing{Path: &p, Track: &track}, &below, func(i int) {
				require.Greater(t, i, last)
				last = i
				visited++
				if m, found, err := track.LeastOf(&crowd.Stills[i], below); found {
					require.NoError(t, err)
					got, below = m, m.Gap
				}
			})
			all += len(solids)
			require.InDelta(t, want, below, alike, "case %d", n)
			require.InDelta(t, nearest.At, got.At, 1e-9)
		}
	}
	assert.Less(t, visited, all/2)
	NewCrowd(nil).Past(&Passing{}, new(float64), func(int) { t.Fatal("nobody is there") })
}

// A point that goes round an arc of any radius the promise allows stays within what is
// said of it along any direction; and that is no more than a little where it goes straight on.
func TestAnArcStraysNoFartherAlongADirection(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for range 4000 {
		r := tightest * (1 + 4*rng.Float64()*rng.Float64())
		round, begins := widest*rng.Float64(), 2*math.Pi*rng.Float64()
		at := func(part float64) float64 { return r * math.Cos(begins+part*round) } // along the direction
		chord := 2 * r * math.Sin(round/2)
		far := math.Inf(-1)
		for i := range 201 {
			far = max(far, at(float64(i)/200))
		}
		require.LessOrEqual(t, far, farther(at(0), at(1), chord*chord/(6*tightest))+1e-9)
	}
	assert.Equal(t, 5.0, farther(0, 5, 25.0/(6*tightest)))
	assert.InDelta(t, 25.0/(6*tightest), farther(0, 0, 25.0/(6*tightest)), 1e-12)
}
