package clear

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// swinging is a point that goes round an axis, a place of its way each 0.05 rad; asked counts
// how often it is asked where it is between them.
func swinging(t *testing.T, rng *rand.Rand, places int) (w *Way, where func(at float64) r3.Vec, asked *int) {
	p, on, axis := vec(rng, 300), vec(rng, 400), vec(rng, 1)
	where = func(at float64) r3.Vec {
		m, err := geom.Turn(on, axis, geom.Angle(at))
		require.NoError(t, err)
		return m.Point(p)
	}
	rises, all := make([]float64, places), make([]r3.Vec, places)
	for i := range rises {
		rises[i] = 0.05 * float64(i)
		all[i] = where(rises[i])
	}
	asked = new(int)
	return Along(rises, all, func(rise float64) (r3.Vec, error) { *asked++; return where(rise), nil }), where, asked
}

// Rods that end on one way are ruled out where nothing is found of them, and there alone,
// whatever was seen of the way by those before: with as much room wanted as there is, a
// little more, a little less.
func TestWhatIsRuledOutIsNotFound(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	out, measured := 0, 0
	for range 30 {
		way, where, _ := swinging(t, rng, 12)
		solids := make([]Solid, 8)
		from := vec(rng, 600)
		for i := range solids { // that stand by each other, as what moves does from place to place
			from = r3.Add(from, vec(rng, 5))
			solids[i] = Ready(Segment{A: from, B: r3.Add(from, r3.Vec{X: 200}), R: 8})
		}
		stills := make([]Still, len(solids))
		for i := range solids {
			stills[i].Solid = solids[i]
		}
		start := vec(rng, 500)
		for n := range 6 {
			rod := &Rod{From: WayOf([]r3.Vec{r3.Add(start, vec(rng, 3))}, true), To: way, Radius: 5 + 30*rng.Float64()}
			if n%3 == 2 {
				rod.From = way
			}
			a := rod.From.at[0]
			path := Path{At: way.rises, Rod: rod, Between: func(rise float64) (Shape, error) {
				if rod.From == way {
					return Sphere{At: where(rise), R: rod.Radius}, nil
				}
				return Segment{A: a, B: where(rise), R: rod.Radius}, nil
			}}
			var track, fresh Track
			require.NoError(t, track.Follow(path))
			require.NoError(t, fresh.Follow(path))
			for i := range stills {
				least, _, err := fresh.LeastOf(&Still{Solid: solids[i]}, math.Inf(1))
				require.NoError(t, err)
				require.False(t, track.NoNearer(&stills[i], math.Inf(1)), "something is nearer than anything")
				for _, below := range []float64{least.Gap + 30, least.Gap + 1e-6, least.Gap, least.Gap - 0.04, least.Gap - 0.06, least.Gap - 2, least.Gap - 50} {
					_, found, err := fresh.LeastOf(&Still{Solid: solids[i]}, below)
					require.NoError(t, err)
					require.Equal(t, !found, track.NoNearer(&stills[i], below), "rod %d, %v below what it is", n, least.Gap-below)
					if !found {
						out++
						for k := range track.looks {
							if track.looks[k].measured {
								measured++
							}
						}
					}
				}
			}
		}
	}
	assert.Greater(t, out, 5000)
	assert.Less(t, measured, 3*out, "half-spaces of rods before have to serve")
}

// How far a step of a way goes along a direction is never less than it is, and as little
// more as was wanted, or nearly; what cannot be asked is taken to stray as far as it may.
func TestAStepIsSeenAsFinelyAsIsWanted(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 2))
	for range 200 {
		way, where, asked := swinging(t, rng, 4)
		n := r3.Unit(vec(rng, 1))
		k := 1 + rng.IntN(3)
		most := math.Inf(-1)
		for i := range 101 {
			most = max(most, r3.Dot(n, where(way.rises[k-1]+0.05*float64(i)/100)))
		}
		rough := way.onStep(n, k, math.Inf(1))
		require.Zero(t, *asked, "nothing is asked for what is seen already")
		require.GreaterOrEqual(t, rough, most-1e-9)
		require.Equal(t, rough, way.onStep(n, k, most-1), "nor where it cannot be so little")
		require.Zero(t, *asked)

		fine := way.onStep(n, k, most+1e-6)
		require.GreaterOrEqual(t, fine, most-1e-9)
		chord := r3.Norm(r3.Sub(way.at[k], way.at[k-1]))
		require.LessOrEqual(t, fine, most+1e-3+1.1*chord*chord/(6*tightest*finest*finest))
		require.LessOrEqual(t, *asked, finest-1)

		deaf := Along(way.rises, way.at, func(float64) (r3.Vec, error) { return r3.Vec{}, errors.New("it binds") })
		require.Equal(t, rough, deaf.onStep(n, k, most+1e-6))
	}
}
