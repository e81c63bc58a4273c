package bracket

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// steelPlate is 8 mm of S235 around a box of 60 by 60; bent through it holds
// 235·64/4 = 3760 N·mm per mm.
func steelPlate() EndPlate {
	return EndPlate{Name: "rail plate", Thickness: 8, Yield: 235, Low: r2.Vec{X: -100, Y: -100}, High: r2.Vec{X: 100, Y: 100},
		Tube: []r2.Vec{{X: 30, Y: 30}, {X: 30, Y: -30}, {X: -30, Y: -30}, {X: -30, Y: 30}}}
}

func TestPlateBetweenTubeAndBolt(t *testing.T) {
	for name, c := range map[string]struct {
		at         r2.Vec
		change     func(*EndPlate)
		others     []r2.Vec
		arm, width float64
	}{
		"beside the tube":       {r2.Vec{X: 50}, nil, nil, 20, 40},
		"off its corner":        {r2.Vec{X: 45, Y: 50}, nil, nil, 25, 50},
		"below":                 {r2.Vec{X: -10, Y: -65}, nil, nil, 35, 70},
		"near an upper edge":    {r2.Vec{X: 70, Y: 20}, func(p *EndPlate) { p.High.Y = 32 }, nil, 40, 40 + 12},
		"near a lower edge":     {r2.Vec{X: 70, Y: 20}, func(p *EndPlate) { p.Low.Y = 5 }, nil, 40, 40 + 15},
		"between two edges":     {r2.Vec{X: 5, Y: 80}, func(p *EndPlate) { p.Low.X, p.High.X = -31, 33 }, nil, 50, 36 + 28},
		"next to another":       {r2.Vec{X: 80, Y: 10}, nil, []r2.Vec{{X: 80, Y: -40}}, 50, 50 + 25},
		"another on its side":   {r2.Vec{X: 80, Y: 10}, nil, []r2.Vec{{X: -80, Y: 10}}, 50, 100},
		"another level with it": {r2.Vec{X: 80, Y: 10}, nil, []r2.Vec{{X: 95, Y: 10}}, 50, 100},
	} {
		p := steelPlate()
		if c.change != nil {
			c.change(&p)
		}
		got, err := p.Bend(c.at, -5000, c.others)
		require.NoError(t, err, name)
		assert.InDelta(t, c.arm, got.Arm, 1e-9, name)
		assert.InDelta(t, c.width, got.Width, 1e-9, name)
		assert.InDelta(t, 3760*c.width/c.arm, got.Limit, 1e-6, name)
		assert.InDelta(t, 5000/got.Limit, got.Utilisation, 1e-12, name)
		assert.InDelta(t, 5000, got.Force, 1e-12, name)
		assert.False(t, got.Inside, name)
	}
	// At the very edge of the tube the ratio is that of the spread.
	got, err := steelPlate().Bend(r2.Vec{X: 30, Y: 30}, 1000, nil)
	require.NoError(t, err)
	assert.InDelta(t, 2*3760, got.Limit, 1e-6)
	// Half the thickness holds a quarter.
	p := steelPlate()
	p.Thickness = 4
	got, err = p.Bend(r2.Vec{X: 50}, 1000, nil)
	require.NoError(t, err)
	assert.InDelta(t, 2*3760/4., got.Limit, 1e-6)
}

// The elastic answer, by another method: a wide plate built in along one edge,
// with a point load on its free edge, by Ritz with polynomials. Its moment at
// the root is 0.509 of the load (Roark's Formulas for Stress and Strain, wide
// cantilever plate, after Jaramillo, Journal of Applied Mechanics 1950, from
// memory); that of a 45° spread is 0.5, hinge over limit.
func TestSpreadAgainstTheElasticPlate(t *testing.T) {
	const wide, nu, nx, ny = 4.0, 0.3, 6, 13
	type terms struct{ w, xx, yy, xy float64 }
	legendre := func(n int, s float64) (p, d, dd float64) {
		p0, p1, d0, d1, e0, e1 := 1.0, s, 0.0, 1.0, 0.0, 0.0
		if n == 0 {
			return 1, 0, 0
		}
		for k := 2; k <= n; k++ {
			f := float64(k)
			p0, p1, d0, d1, e0, e1 = p1, ((2*f-1)*s*p1-(f-1)*p0)/f, d1, d0+(2*f-1)*p1, e1, e0+(2*f-1)*d1
		}
		return p1, d1, e1
	}
	at := func(i int, x, y float64) terms {
		m, n := float64(i%nx+2), 2*(i/nx)
		p, d, dd := legendre(n, y/wide)
		return terms{
			math.Pow(x, m) * p, m * (m - 1) * math.Pow(x, m-2) * p,
			math.Pow(x, m) * dd / wide / wide, m * math.Pow(x, m-1) * d / wide,
		}
	}
	const gx, gy = 12, 40
	xs, wx := make([]float64, gx), make([]float64, gx)
	ys, wy := make([]float64, gy), make([]float64, gy)
	quad.Legendre{}.FixedLocations(xs, wx, 0, 1)
	quad.Legendre{}.FixedLocations(ys, wy, -wide, wide)
	k, b := mat.NewSymDense(nx*ny, nil), mat.NewVecDense(nx*ny, nil)
	for i := range nx * ny {
		b.SetVec(i, at(i, 1, 0).w)
	}
	for a, x := range xs {
		for c, y := range ys {
			f := make([]terms, nx*ny)
			for i := range f {
				f[i] = at(i, x, y)
			}
			for i := range f {
				for j := i; j < len(f); j++ {
					e := (f[i].xx+f[i].yy)*(f[j].xx+f[j].yy) - (1-nu)*(f[i].xx*f[j].yy+f[j].xx*f[i].yy-2*f[i].xy*f[j].xy)
					k.SetSym(i, j, k.At(i, j)+e*wx[a]*wy[c])
				}
			}
		}
	}
	var q mat.VecDense
	var chol mat.Cholesky
	require.True(t, chol.Factorize(k))
	require.NoError(t, chol.SolveVecTo(&q, b))
	root := 0.0
	for i := range nx * ny {
		root += q.AtVec(i) * at(i, 0, 0).xx
	}
	assert.InDelta(t, 0.509, root, 0.02, "Ritz against the handbook")
	p := steelPlate()
	p.Low, p.High = r2.Vec{X: -1000, Y: -1000}, r2.Vec{X: 1000, Y: 1000}
	got, err := p.Bend(r2.Vec{X: 50}, 1000, nil)
	require.NoError(t, err)
	assert.InDelta(t, root, p.hinge()/got.Limit, 0.03, "the spread against Ritz")
}

// Over the bore: a round plate that rests all round and is loaded in its middle
// collapses at 2π hinges. Second method, by work: a pyramid on n sides turns
// about n radial hinges, load times its sinking against hinge times turn times
// length; it needs 8 on a square and comes down to 2π on many sides.
func TestPlateOverTheBore(t *testing.T) {
	work := func(n int) float64 {
		f := 2 * math.Pi / float64(n) // corners at radius 1, sunk by 1 in the middle
		flat := math.Cos(f / 2)       // middle of a side to the middle
		// Two neighbouring faces slope 1/flat each, square to their sides.
		a := [3]float64{math.Cos(f/2) / flat, math.Sin(f/2) / flat, 1}
		b := [3]float64{math.Cos(f/2) / flat, -math.Sin(f/2) / flat, 1}
		turn := math.Hypot(a[0]-b[0], a[1]-b[1]) // of small slopes
		return float64(n) * turn                 // hinges of length 1
	}
	assert.InDelta(t, 8, work(4), 1e-12)
	assert.InDelta(t, 2*math.Pi, work(4000), 1e-5)
	p := steelPlate()
	got, err := p.Bend(r2.Vec{X: 3, Y: -2}, 10000, nil)
	require.NoError(t, err)
	assert.True(t, got.Inside)
	assert.InDelta(t, work(4000)*3760, got.Limit, 0.1)
	assert.Less(t, got.Limit, work(4)*3760)
	assert.InDelta(t, 10000/got.Limit, got.Utilisation, 1e-12)
	p.Solid = true
	got, err = p.Bend(r2.Vec{X: 3, Y: -2}, 10000, nil)
	require.NoError(t, err)
	assert.Zero(t, got.Utilisation, "a bar backs it")
}

// A T-stub without prying bends through at 2 Mpl/m with l = 2πm at the most (EN
// 1993-1-8, 6.2.4, tables 6.2 and 6.4, circular pattern; from memory): an upper
// bound that the spread must stay below, and the published stub of t 10, l 80,
// fy 235 and m 28 has Mpl = 0.25·80·100·235 = 470000 N·mm, 4 Mpl/m = 67142.9 N
// for its two hinges a side.
func TestSpreadStaysBelowTheStub(t *testing.T) {
	p := steelPlate()
	p.Thickness = 10
	assert.InDelta(t, 67142.9, 4*80*p.hinge()/28, 0.05)
	got, err := p.Bend(r2.Vec{X: 58}, 1000, nil)
	require.NoError(t, err)
	assert.InDelta(t, 28, got.Arm, 1e-9)
	assert.Less(t, got.Limit, 2*2*math.Pi*got.Arm*p.hinge()/got.Arm)
}

func TestPlateWeldedAlongItsEdges(t *testing.T) {
	p := steelPlate()
	got, err := p.Strip(r2.Vec{X: 30, Y: 10}, -40)
	require.NoError(t, err)
	assert.InDelta(t, 70, got.Arm, 1e-9)
	assert.InDelta(t, 40*70/3760., got.Utilisation, 1e-12)
	assert.InDelta(t, 3760/70., got.Limit, 1e-9)
	got, err = p.Strip(r2.Vec{X: 30, Y: -95}, 40)
	require.NoError(t, err)
	assert.InDelta(t, 5, got.Arm, 1e-9)
	got, err = p.Strip(r2.Vec{X: 100, Y: 0}, 40)
	require.NoError(t, err)
	assert.Zero(t, got.Utilisation)
}

func TestEndPlatesRefused(t *testing.T) {
	for name, f := range map[string]func(p *EndPlate){
		"thickness": func(p *EndPlate) { p.Thickness = 0 },
		"yield":     func(p *EndPlate) { p.Yield = math.NaN() },
		"size":      func(p *EndPlate) { p.High.X = p.Low.X },
		"height":    func(p *EndPlate) { p.High.Y = p.Low.Y },
		"nan size":  func(p *EndPlate) { p.Low.Y = math.NaN() },
		"tube":      func(p *EndPlate) { p.Tube = nil },
		"nan tube":  func(p *EndPlate) { p.Tube[0].X = math.NaN() },
	} {
		p := steelPlate()
		f(&p)
		_, err := p.Bend(r2.Vec{X: 50}, 1000, nil)
		assert.ErrorContains(t, err, "rail plate", name)
		_, err = p.Strip(r2.Vec{X: 50}, 1000)
		assert.ErrorContains(t, err, "rail plate", name)
	}
	_, err := steelPlate().Bend(r2.Vec{X: math.NaN()}, 1000, nil)
	assert.ErrorContains(t, err, "rail plate")
	_, err = steelPlate().Strip(r2.Vec{}, math.Inf(1))
	assert.ErrorContains(t, err, "rail plate")
	p := steelPlate() // narrower than the tube on it
	p.Low, p.High = r2.Vec{X: -20, Y: 40}, r2.Vec{X: 20, Y: 90}
	_, err = p.Bend(r2.Vec{X: 50}, 1000, nil)
	require.ErrorContains(t, err, "stands off the plate")
	_, err = p.Strip(r2.Vec{X: 25, Y: 60}, 1)
	require.ErrorContains(t, err, "stands off the plate")
	_, err = p.Strip(r2.Vec{X: 10, Y: 35}, 1)
	require.ErrorContains(t, err, "stands off the plate")
}
