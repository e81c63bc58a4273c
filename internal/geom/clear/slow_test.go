package clear

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// slowSearch is the search of Least with nothing left out: every place is
// measured, and every way between two that the bound does not close.
type slowSearch struct {
	path  Path
	still Shape
	best  Meeting
	found bool
}

func (s *slowSearch) look(at float64, solid Shape) *look {
	m := Meeting{At: at}
	if m.Gap, m.From, m.To = Distance(solid, s.still); m.Gap < s.best.Gap {
		s.best, s.found = m, true
	}
	own := readyOf(solid)
	return &look{Meeting: m, solid: &own}
}

func (s *slowSearch) halve(lo, hi *look, left int) {
	var strays [8]float64
	lo.solid.core.strays(&hi.solid.core, &strays)
	if left == 0 || max(lo.leastTo(hi, &strays), hi.leastTo(lo, &strays)) >= s.best.Gap-LeastTolerance {
		return
	}
	at := (lo.At + hi.At) / 2
	solid, _ := s.path.Between(at)
	mid := s.look(at, solid)
	s.halve(lo, mid, left-1)
	s.halve(mid, hi, left-1)
}

func slowLeast(p Path, b Shape, below float64) (Meeting, bool) {
	s := slowSearch{path: p, still: b, best: Meeting{Gap: below}}
	var looks []*look
	for i, solid := range p.Solids {
		looks = append(looks, s.look(p.At[i], solid))
	}
	for i := 1; i < len(looks) && p.Between != nil; i++ {
		s.halve(looks[i-1], looks[i], mostHalvings)
	}
	return s.best, s.found
}

// swung is a solid on an arm that swings about a slanted line.
func swung(t *testing.T, rng *rand.Rand, solid Shape, between bool) Path {
	on, axis := vec(rng, 300), vec(rng, 1)
	lo, hi := -0.6*rng.Float64(), 0.6*rng.Float64()
	motion := func(at float64) (geom.Pose, error) { return geom.Turn(on, axis, geom.Angle(at)) }
	n := 1 + rng.IntN(40)
	at, motions := make([]float64, n), make([]geom.Pose, n)
	for i := range at {
		at[i] = lo + (hi-lo)*float64(i)/float64(n)
		var err error
		motions[i], err = motion(at[i])
		require.NoError(t, err)
	}
	if !between {
		return carried(solid, at, motions, nil)
	}
	return carried(solid, at, motions, motion)
}

// What is left out by boxes changes nothing: the same place, points and gap, to
// the last digit, whatever is known to be nearer already.
func TestLeastIsThatOfTheWholeSearch(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 4))
	var track Track // one for all: nothing of a path stays behind for the next
	met := 0
	for n := range 1500 {
		solid := randomShape(rng, rng.IntN(4))
		p := swung(t, rng, solid, n%5 != 0)
		still := Moved(randomShape(rng, rng.IntN(4)), geom.Pose{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}, At: vec(rng, 400)})
		if n%7 == 0 {
			still = Plane{On: vec(rng, 300), Normal: vec(rng, 3)}
		}
		require.NoError(t, track.Follow(p))
		below := math.Inf(1)
		for range 4 {
			want, wantFound := slowLeast(p, still, below)
			got, found, err := track.Least(still, below)
			require.NoError(t, err)
			require.Equal(t, wantFound, found, "case %d", n)
			require.Equal(t, want, got, "case %d", n)
			if found {
				met++
			}
			below = want.Gap + []float64{0, 1e-7, 0.02, 30, -20}[rng.IntN(5)]
		}
	}
	assert.Greater(t, met, 2000)
}

// The boxes bound the distance of every pair, whether it is apart or overlaps.
func TestBoxesBoundTheDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 8))
	for n := range 20000 {
		a, b := randomShape(rng, rng.IntN(4)), randomShape(rng, rng.IntN(4))
		switch n % 9 {
		case 0:
			a = Plane{On: vec(rng, 100), Normal: vec(rng, 3)}
		case 1:
			b = Plane{On: vec(rng, 100), Normal: vec(rng, 3)}
		}
		want, _, _ := Distance(a, b)
		pa, pb := readyOf(a), readyOf(b)
		require.LessOrEqual(t, pa.atLeast(&pb), want, "case %d", n)
	}
}

// A shaft through its travel, past boxes most of which are far from it.
func BenchmarkLeast(b *testing.B) {
	var p Path
	for i := range 21 {
		rise := float64(i-10) * 8
		p.At = append(p.At, rise)
		p.Solids = append(p.Solids, Segment{A: r3.Vec{X: 900}, B: r3.Vec{X: 2300, Z: rise}, R: 38})
	}
	p.Between = func(rise float64) (Shape, error) {
		return Segment{A: r3.Vec{X: 900}, B: r3.Vec{X: 2300, Z: rise}, R: 38}, nil
	}
	var still []Shape
	for i := range 12 {
		box := Box{Pose: geom.Orient(0.05, 0, 0.02, r3.Vec{X: 250 * float64(i), Y: 200, Z: 260}), Half: r3.Vec{X: 90, Y: 60, Z: 80}}
		still = append(still, box)
	}
	var t Track
	b.ReportAllocs()
	for b.Loop() {
		if err := t.Follow(p); err != nil {
			b.Fatal(err)
		}
		least := math.Inf(1)
		for _, s := range still {
			if m, found, _ := t.Least(s, least); found {
				least = m.Gap
			}
		}
	}
}
