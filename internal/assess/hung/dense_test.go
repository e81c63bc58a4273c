package hung

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// dense is the same fit by another method: all observations with their whole covariance in
// one dense system, the places of both ends of the shafts as unknowns that were observed.
// It returns the slopes of the powertrain and of both shafts, and their standard
// uncertainties.
func (s *scene) dense(t *testing.T) (slopes, u [3]float64) {
	t.Helper()
	type row struct {
		of    func(p geom.Pose, ends [2]r3.Vec, rails map[string]r3.Vec, own map[string]r3.Vec) float64
		value uncertain.Number
	}
	var rows []row
	own := map[string]r3.Vec{}
	for _, m := range marks {
		own["point."+m.name] = m.own
	}
	for _, l := range s.lines {
		rows = append(rows, row{func(p geom.Pose, _ [2]r3.Vec, rails, own map[string]r3.Vec) float64 {
			d := r3.Sub(p.Point(own[l.To]), rails[l.From])
			if l.As == project.HeightLine {
				return d.Z
			}
			return r3.Norm(d)
		}, l.Value.Number})
	}
	for i, x := range s.readings {
		rows = append(rows, row{func(p geom.Pose, ends [2]r3.Vec, _, _ map[string]r3.Vec) float64 {
			return [3]float64{p.Slope().Rad(), falls(p.Point(output), ends[0]), falls(ends[0], ends[1])}[i]
		}, x.Value.Number})
	}
	for k, path := range []string{"point.bearing", "point.pinion"} {
		for axis := range 3 {
			rows = append(rows, row{func(_ geom.Pose, ends [2]r3.Vec, _, _ map[string]r3.Vec) float64 {
				return coordinate(ends[k], axis)
			}, s.places[path][axis].Number})
		}
	}
	// Errors: of each value by its sources, of rails by theirs, of marks their own.
	const unknowns, sources = 12, 200
	x := make([]float64, unknowns)
	start := []float64{s.is.At.X, s.is.At.Y, s.is.At.Z, s.is.Heading().Rad(), s.is.Slope().Rad(), s.is.Roll().Rad()}
	copy(x, start)
	copy(x[6:], flat(truth["point.bearing"]))
	copy(x[9:], flat(truth["point.pinion"]))
	at := func(x []float64) (geom.Pose, [2]r3.Vec) {
		p := geom.Orient(geom.Angle(x[4]), geom.Angle(x[3]), geom.Angle(x[5]), r3.Vec{X: x[0], Y: x[1], Z: x[2]})
		return p, [2]r3.Vec{{X: x[6], Y: x[7], Z: x[8]}, {X: x[9], Y: x[10], Z: x[11]}}
	}
	rails := map[string]r3.Vec{}
	for path, c := range s.places {
		rails[path] = finding.PlaceOf(c)
	}
	n := len(rows)
	var inverse mat.Dense
	for range 4 {
		p, ends := at(x)
		a, l, b := mat.NewDense(n, unknowns, nil), mat.NewVecDense(n, nil), mat.NewDense(n, sources+12, nil)
		for i, r := range rows {
			now := r.of(p, ends, rails, own)
			l.SetVec(i, r.value.V-now)
			for u := range unknowns {
				step := 1e-3
				if u >= 3 && u < 6 {
					step = 1e-6
				}
				y := slices.Clone(x)
				y[u] += step
				q, e := at(y)
				a.Set(i, u, (r.of(q, e, rails, own)-now)/step)
			}
			for id := range sources {
				if id < s.reads.Len() {
					b.Set(i, id, s.by(r.value, id))
				}
			}
			for path, c := range s.places {
				if path != "point.rail_l" && path != "point.rail_r" {
					continue
				}
				for axis := range 3 {
					moved := map[string]r3.Vec{}
					for k, v := range rails {
						moved[k] = v
					}
					moved[path] = r3.Add(rails[path], axisOf(axis, 1e-3))
					by := (r.of(p, ends, moved, own) - now) / 1e-3
					for id := range s.reads.Len() {
						b.Set(i, id, b.At(i, id)-by*s.by(c[axis].Number, id))
					}
				}
			}
			for k, m := range marks {
				for axis := range 3 {
					moved := map[string]r3.Vec{}
					for k, v := range own {
						moved[k] = v
					}
					moved["point."+m.name] = r3.Add(m.own, axisOf(axis, 1e-3))
					b.Set(i, sources+3*k+axis, (r.of(p, ends, rails, moved)-now)/1e-3*0.2/math.Sqrt(3))
				}
			}
		}
		var c, ci, atc, nn, right mat.Dense
		c.Mul(b, b.T())
		require.NoError(t, ci.Inverse(&c))
		atc.Mul(a.T(), &ci)
		nn.Mul(&atc, a)
		require.NoError(t, inverse.Inverse(&nn))
		right.Mul(&atc, l)
		var dx mat.Dense
		dx.Mul(&inverse, &right)
		for u := range x {
			x[u] += dx.At(u, 0)
		}
	}
	say := func(x []float64) [3]float64 {
		p, e := at(x)
		return [3]float64{p.Slope().Rad(), falls(p.Point(output), e[0]), falls(e[0], e[1])}
	}
	slopes = say(x)
	for k := range u {
		g := mat.NewVecDense(unknowns, nil)
		for j := range x {
			y := slices.Clone(x)
			step := 1e-3
			if j >= 3 && j < 6 {
				step = 1e-6
			}
			y[j] += step
			g.SetVec(j, (say(y)[k]-slopes[k])/step)
		}
		u[k] = math.Sqrt(mat.Inner(g, &inverse, g))
	}
	return slopes, u
}

// What is said of the slopes holds by simulation (JCGM 101:2008): all that was measured is
// drawn anew by its own errors, and the slopes found scatter as their ± says.
func TestTheFitAgainstMonteCarlo(t *testing.T) {
	const n = 150
	s := newScene(t, 3).taped(t).read(t)
	said := s.taken(Of(s.input()))
	dice := rand.New(rand.NewPCG(8, 101))
	is := map[string]float64{"powertrain": s.readings[0].Value.V, "shaft 1": s.readings[1].Value.V, "shaft 2": s.readings[2].Value.V}
	sum, square, held, all := map[string]float64{}, map[string]float64{}, map[string]int{}, 0
	for range n {
		p := Of(s.drawn(dice).input())
		if p.Why != "" || len(p.Suspects) > 0 {
			continue // about one in a hundred, by chance
		}
		all++
		for target, v := range s.taken(p) {
			d := v.V - is[target]
			sum[target] += d
			square[target] += d * d
			if math.Abs(d) <= v.Expanded() {
				held[target]++
			}
		}
	}
	require.Greater(t, all, n*9/10)
	for target, n := range said {
		u := math.Sqrt(square[target] / float64(all))
		// The marks' own errors, which are not drawn, are in what is said.
		assert.InDelta(t, 1, u/n.U(), 0.2, "%s scatters by %.4f deg, said %.4f", target, u/deg, n.U()/deg)
		assert.Less(t, math.Abs(sum[target])/float64(all), 0.3*n.U(), target)
		assert.GreaterOrEqual(t, float64(held[target]), 0.9*float64(all), target)
	}
}
