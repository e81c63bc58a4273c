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

// carried is a solid taken along by rigid motions from where solid is, vehicle
// axes: motions[i] at place at[i], and between them as between says.
func carried(solid Shape, at []float64, motions []geom.Pose, between func(at float64) (geom.Pose, error)) Path {
	p := Path{At: at, Solids: make([]Shape, len(motions))}
	for i, m := range motions {
		p.Solids[i] = Moved(solid, m)
	}
	if between != nil {
		p.Between = func(at float64) (Shape, error) {
			m, err := between(at)
			if err != nil {
				return nil, err
			}
			return Moved(solid, m), nil
		}
	}
	return p
}

// bySampling is the other method: the way cut finely, and at each place points
// of the moving solid's core against the one that stands still. It finds
// nothing smaller than there is, and comes down to it as the samples do.
func bySampling(solid, still Shape, motion func(float64) geom.Pose, lo, hi float64) float64 {
	c, edges, radius := generators(solid)
	const ways, along = 400, 24
	least := math.Inf(1)
	for i := range ways + 1 {
		m := motion(lo + (hi-lo)*float64(i)/ways)
		n := 1
		for range edges {
			n *= along + 1
		}
		for k := range n {
			p := c
			for _, e := range edges {
				p = r3.Add(p, r3.Scale(2*float64(k%(along+1))/along-1, e))
				k /= along + 1
			}
			least = min(least, outside(still, m.Point(p))-radius)
		}
	}
	return least
}

// A rod on an arm that swings about a slanted line, against solids that stand
// still.
func TestLeastAgainstSampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for n := range 60 {
		rod := Segment{A: vec(rng, 200), B: vec(rng, 200), R: 10 + 20*rng.Float64()}
		var still Shape = Sphere{At: r3.Add(vec(rng, 250), r3.Vec{X: 300}), R: 40 * rng.Float64()}
		if n%2 == 0 {
			still = Box{Pose: randomPose(rng, 250), Half: r3.Vec{X: 5 + 60*rng.Float64(), Y: 60 * rng.Float64(), Z: 60 * rng.Float64()}}
		}
		on, axis := vec(rng, 300), vec(rng, 1)
		motion := func(at float64) geom.Pose {
			m, err := geom.Turn(on, axis, geom.Angle(at))
			require.NoError(t, err)
			return m
		}
		lo, hi := -1.2*rng.Float64(), 1.2*rng.Float64()
		const places = 5 // so far apart that what lies between them counts
		at, motions := make([]float64, places), make([]geom.Pose, places)
		for i := range at {
			at[i] = lo + (hi-lo)*float64(i)/(places-1)
			motions[i] = motion(at[i])
		}
		got, _, err := carried(rod, at, motions, func(at float64) (geom.Pose, error) { return motion(at), nil }).Least(still, math.Inf(1))
		require.NoError(t, err)
		want := bySampling(rod, still, motion, lo, hi)
		if want < -rod.R+1 {
			assert.Negative(t, got.Gap, "case %d", n) // its core goes through: sampling tells no depth
			continue
		}
		assert.LessOrEqual(t, got.Gap, want+LeastTolerance, "case %d: sampling found it nearer", n)
		assert.InDelta(t, want, got.Gap, 5, "case %d", n)
		there := Moved(rod, motion(got.At))
		gap, _, _ := Distance(there, still)
		assert.InDelta(t, got.Gap, gap, 1e-9, "it is what it says at the place it says")
		assert.InDelta(t, math.Abs(got.Gap), r3.Norm(r3.Sub(got.From, got.To)), 1e-6)
	}
}

// A rod that swings past a pin between two places: at neither of them is it
// near. By hand: the rod's middle line passes 100 mm from the pivot, at the pin.
func TestNothingIsPassedOverBetweenThePlaces(t *testing.T) {
	rod := Segment{A: r3.Vec{X: 100}, B: r3.Vec{X: 400}, R: 10}
	pin := Sphere{At: r3.Vec{X: 300, Z: -3}, R: 5}
	turn := func(at float64) (geom.Pose, error) { return geom.Turn(r3.Vec{}, r3.Vec{Y: 1}, geom.Angle(at)) }
	at := []float64{-0.8, 0.9}
	var motions []geom.Pose
	for _, a := range at {
		m, err := turn(a)
		require.NoError(t, err)
		motions = append(motions, m)
	}
	got, _, err := carried(rod, at, motions, turn).Least(pin, math.Inf(1))
	require.NoError(t, err)
	assert.InDelta(t, -15, got.Gap, LeastTolerance)
	assert.InDelta(t, 0.01, got.At, 0.001, "down by 3 mm in 300")

	apart, _, err := carried(rod, at, motions, nil).Least(pin, math.Inf(1))
	require.NoError(t, err)
	assert.Greater(t, apart.Gap, 150.0, "without what lies between only the two places count")
}

// A floor under a rod whose end sinks.
func TestLeastOverAHalfSpace(t *testing.T) {
	floor := Plane{On: r3.Vec{Z: -100}, Normal: r3.Vec{Z: 1}}
	sink := func(at float64) (geom.Pose, error) { // lowest, 60 mm down, in the middle
		m := geom.Identity()
		m.At.X, m.At.Z = 300*at, -60*math.Sin(math.Pi*at)
		return m, nil
	}
	at := []float64{0, 0.3, 0.6, 1}
	var motions []geom.Pose
	for _, x := range at {
		m, err := sink(x)
		require.NoError(t, err)
		motions = append(motions, m)
	}
	got, _, err := carried(Segment{A: r3.Vec{}, B: r3.Vec{X: 500, Z: 20}, R: 25}, at, motions, sink).Least(floor, math.Inf(1))
	require.NoError(t, err)
	assert.InDelta(t, 15, got.Gap, LeastTolerance)
	assert.InDelta(t, 0.5, got.At, 0.02)
}

// A ball that goes round past a point, by hand: 560 from the centre of a circle
// of 500, its places never quite there.
func TestLeastIsAsCloseAsItSays(t *testing.T) {
	round := func(at float64) (geom.Pose, error) { return geom.Turn(r3.Vec{}, r3.Vec{Z: 1}, geom.Angle(at)) }
	var at []float64
	var motions []geom.Pose
	for i := range 9 {
		at = append(at, float64(i)/8)
		m, err := round(at[i])
		require.NoError(t, err)
		motions = append(motions, m)
	}
	for k := range 40 {
		sin, cos := math.Sincos(0.1 + 0.8*float64(k)/39)
		got, _, err := carried(Sphere{At: r3.Vec{X: 500}, R: 20}, at, motions, round).Least(Point{At: r3.Vec{X: 560 * cos, Y: 560 * sin}}, math.Inf(1))
		require.NoError(t, err)
		assert.GreaterOrEqual(t, got.Gap, 40-1e-9)
		assert.LessOrEqual(t, got.Gap, 40+LeastTolerance)
	}
}

// Touching at both places and through each other between them: there the way
// they are nearest has no direction.
func TestTouchingAtThePlaces(t *testing.T) {
	slide := func(at float64) (geom.Pose, error) {
		m := geom.Identity()
		m.At.X = at
		return m, nil
	}
	at := []float64{-10, 10}
	var motions []geom.Pose
	for _, x := range at {
		m, err := slide(x)
		require.NoError(t, err)
		motions = append(motions, m)
	}
	got, _, err := carried(Sphere{R: 10}, at, motions, slide).Least(Point{}, math.Inf(1))
	require.NoError(t, err)
	assert.InDelta(t, -10, got.Gap, LeastTolerance)
}

func TestLeastRefusals(t *testing.T) {
	_, _, err := Path{}.Least(Point{}, math.Inf(1))
	require.ErrorContains(t, err, "at each of 0 steps")
	_, _, err = Path{At: []float64{1, 2}, Solids: []Shape{Point{}}}.Least(Point{}, math.Inf(1))
	require.ErrorContains(t, err, "has it at 1")
	bind := errors.New("it binds")
	_, _, err = carried(Point{}, []float64{0, 1}, []geom.Pose{geom.Identity(), {X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}, At: r3.Vec{X: 50}}},
		func(float64) (geom.Pose, error) { return geom.Pose{}, bind }).Least(Point{At: r3.Vec{X: 25, Z: 3}}, math.Inf(1))
	require.ErrorIs(t, err, bind)
	_, _, err = Path{At: []float64{0}, Solids: []Shape{Plane{}}, Between: func(float64) (Shape, error) { return Plane{}, nil }}.Least(Point{}, 1)
	require.ErrorContains(t, err, "half-space")
	still := Steady(Sphere{At: r3.Vec{X: 10}, R: 2})
	got, found, err := still.Least(Point{}, 9)
	require.NoError(t, err)
	assert.True(t, found)
	assert.InDelta(t, 8, got.Gap, 1e-12)
	_, found, err = still.Least(Point{}, 8)
	require.NoError(t, err)
	assert.False(t, found, "no nearer than what is known already")
}
