package modes

import (
	"math"
	"slices"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func mount(name string, at r3.Vec, x, y, z float64) Mount {
	return Mount{Isolator: seat.Upright(name, at, seat.Rates{X: x, Y: y, Z: z}), Dynamic: 1}
}

// block is 200 kg on four corner springs, its centre up mm above their plane.
func block(up float64) System {
	s := System{Body: seat.Body{Mass: 200, Centre: r3.Vec{Z: up}}, Inertia: Inertia{XX: 8e6, YY: 20e6, ZZ: 18e6}}
	for _, x := range [2]float64{-400, 400} {
		for _, y := range [2]float64{-250, 250} {
			s.Mounts = append(s.Mounts, mount("", r3.Vec{X: x, Y: y}, 80, 100, 200))
		}
	}
	return s
}

func modesOf(t require.TestingT, s System) [6]Mode {
	m, err := s.Modes(geom.Identity(), nil)
	require.NoError(t, err)
	return m
}

// A block on four corner springs: closed forms, √(4k/m) and √(4kr²/J), and with the
// centre above the springs the quadratic of each coupled pair.
func TestBlockOnFourCorners(t *testing.T) {
	want := []float64{6.366198, 7.117625, 10.065842, 10.872352, 12.582303, 12.732395}
	ways := []Way{ForeAft, Sideways, Bounce, Yaw, Roll, Pitch}
	for i, m := range modesOf(t, block(0)) {
		assert.InDelta(t, want[i], m.Frequency, 5e-7)
		main, some := m.Main()
		assert.Equal(t, ways[i], main)
		assert.Empty(t, some)
		assert.InDelta(t, 1, m.Share[main], 1e-9)
		assert.InDelta(t, 1, m.Strain[0]+m.Strain[1]+m.Strain[2]+m.Strain[3], 1e-9)
	}
	hz := func(k, m float64) float64 { return math.Sqrt(1000*k/m) / (2 * math.Pi) }
	assert.InDelta(t, want[2], hz(800, 200), 5e-7)
	assert.InDelta(t, want[4], hz(800*250*250, 8e6), 5e-7)
	assert.InDelta(t, want[5], hz(800*400*400, 20e6), 5e-7)

	up := modesOf(t, block(150))
	for i, f := range []float64{6.144881, 6.385529, 10.065842, 10.872352, 13.190971, 14.024854} {
		assert.InDelta(t, f, up[i].Frequency, 5e-7)
	}
	main, some := up[1].Main()
	assert.Equal(t, Sideways, main)
	assert.Equal(t, []Way{Roll}, some, "the body goes sideways with some roll")
	assert.Equal(t, "roll about the crank", Roll.String())
	assert.Equal(t, "unknown", Way(9).String())

	// Static: 490.33 N on each, 2.45166 mm.
	s := block(150)
	m, err := s.Under(Load{Force: r3.Vec{Z: -200 * geom.Gravity}})
	require.NoError(t, err)
	assert.InDelta(t, -2.45166, m.Shift.Z, 5e-6)
	for _, f := range m.Parts {
		assert.InDelta(t, 490.33, f.Z, 5e-3)
	}
}

// Rao, Mechanical Vibrations, ex. 5.7 (inputs seen, answers from memory): a car of 1000
// kg, radius of gyration 0.9 m, 18 and 22 kN/m at 1.0 and 1.5 m: 5.8593 and 9.4341 rad/s,
// X/θ −2.6461 and 0.3061 m. The pitch there is the other way round.
func TestBounceAndPitch(t *testing.T) {
	s := System{Body: seat.Body{Mass: 1000}, Inertia: Inertia{XX: 810e6, YY: 810e6, ZZ: 810e6}}
	for _, y := range [2]float64{-600, 600} {
		s.Mounts = append(s.Mounts, mount("front", r3.Vec{X: -1000, Y: y}, 900, 900, 9), mount("rear", r3.Vec{X: 1500, Y: y}, 900, 900, 11))
	}
	var found []float64
	for _, m := range modesOf(t, s) {
		if m.Share[Bounce]+m.Share[Pitch] > 0.999 {
			found = append(found, 2*math.Pi*m.Frequency)
			ratio := m.Shift.Z / m.Turn.Y / 1000
			if len(found) == 1 {
				assert.InDelta(t, 2.6461, math.Abs(ratio), 5e-5)
			} else {
				assert.InDelta(t, 0.3061, math.Abs(ratio), 5e-5)
			}
		}
	}
	require.Len(t, found, 2)
	assert.InDelta(t, 5.8593, found[0], 5e-5)
	assert.InDelta(t, 9.4341, found[1], 5e-5)
}

// V pair: closed form from statics, the same from the stiffness of two leaning mounts.
func TestVPair(t *testing.T) {
	for _, c := range []struct{ lean, side, up, height, roll float64 }{
		{30, 262.5, 487.5, 185.576872, 21428.571e3}, {45, 375, 375, 150, 15000e3}, {26.5651, 0, 0, 187.5, 0},
	} {
		p, err := VPair(250, 300, 75, geom.Angle(c.lean)*geom.Deg)
		require.NoError(t, err)
		assert.InDelta(t, c.height, p.Height, 1e-5)
		if c.side > 0 {
			assert.InEpsilon(t, c.side, p.Side, 1e-9)
			assert.InEpsilon(t, c.up, p.Up, 1e-9)
			assert.InEpsilon(t, c.roll, p.Roll, 1e-7)
		}
		var pair []Mount
		for _, y := range [2]float64{-250, 250} {
			sin, cos := math.Sincos(c.lean * math.Pi / 180)
			m, err := seat.Leaning("", r3.Vec{Y: y, Z: 40}, r3.Vec{Y: -math.Copysign(sin, y), Z: cos}, r3.Vec{X: 1}, seat.Rates{X: 75, Y: 75, Z: 300})
			require.NoError(t, err)
			pair = append(pair, Mount{Isolator: m, Dynamic: 1})
		}
		axes := geom.Identity()
		axes.At = r3.Vec{X: 7, Z: 40}
		q, err := PairOf(pair, axes)
		require.NoError(t, err)
		assert.InEpsilon(t, p.Side, q.Side, 1e-12)
		assert.InEpsilon(t, p.Up, q.Up, 1e-12)
		assert.InEpsilon(t, p.Height, q.Height, 1e-9)
		assert.InEpsilon(t, p.Roll, q.Roll, 1e-9)
	}
	lean, over, err := BestLean(300, 75)
	require.NoError(t, err)
	assert.InDelta(t, 26.5651, lean.Degrees(), 5e-5)
	assert.InEpsilon(t, 187.5, 250*over, 1e-12)
	best, err := VPair(250, 300, 75, lean)
	require.NoError(t, err)
	for _, off := range [2]geom.Angle{-0.01, 0.01} {
		p, err := VPair(250, 300, 75, lean+off)
		require.NoError(t, err)
		assert.Less(t, p.Height, best.Height)
	}
	for _, c := range [][3]float64{{0, 300, 75}, {250, 0, 75}, {250, 300, math.NaN()}} {
		_, err := VPair(c[0], c[1], c[2], 0)
		require.Error(t, err)
	}
	_, err = VPair(250, 300, 75, 2)
	require.ErrorContains(t, err, "lean of 115°")
	_, _, err = BestLean(0, 1)
	require.Error(t, err)
	_, err = PairOf(nil, geom.Identity())
	require.Error(t, err)
	_, err = PairOf([]Mount{{}}, geom.Identity())
	require.Error(t, err)
}

type drawer struct{ *rapid.T }

func (d drawer) f(lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(d.T, "f") }

func (d drawer) v(size float64) r3.Vec {
	return r3.Vec{X: d.f(-size, size), Y: d.f(-size, size), Z: d.f(-size, size)}
}

func (d drawer) turned() geom.Pose {
	p, err := geom.Turn(r3.Vec{}, r3.Add(d.v(1), r3.Vec{X: 1.9}), geom.Angle(d.f(-3, 3)))
	require.NoError(d.T, err)
	p.At = r3.Vec{}
	return p
}

func (d drawer) system() System {
	a, b := d.f(5e6, 20e6), d.f(5e6, 20e6)
	c := d.f(max(3e6, math.Abs(a-b)*1.01), a+b)
	s := System{Body: seat.Body{Mass: d.f(80, 400), Centre: d.v(300)}, Inertia: Inertia{XX: a, YY: b, ZZ: c}.Turned(d.turned())}
	for i, at := range []r3.Vec{{X: -300, Y: -250}, {X: -300, Y: 250}, {X: 500}} {
		m := mount([]string{"left", "right", "rear"}[i], r3.Add(at, d.v(60)), d.f(20, 300), d.f(20, 300), d.f(20, 600))
		p := d.turned()
		p.At = m.Frame.At
		m.Frame, m.Dynamic, m.Loss = p, d.f(1, 2), d.f(0.02, 0.2)
		s.Mounts = append(s.Mounts, m)
	}
	if rapid.Bool().Draw(d.T, "link") {
		on := d.v(300)
		s.Links = append(s.Links, Link{Name: "torque link", On: on, To: r3.Add(on, r3.Add(d.v(50), r3.Vec{Z: 120})), Rate: d.f(50, 400), Dynamic: 1.3, Loss: 0.05})
	}
	return s
}

// energy is the potential energy of a small motion, N·mm, and kinetic that of a speed,
// kg·mm²: by points alone, sharing nothing with the matrices.
func (s *System) testEnergy(shift, turn r3.Vec) float64 {
	e := 0.0
	for _, m := range s.Mounts {
		d := r3.Add(shift, r3.Cross(turn, r3.Sub(m.Frame.At, s.Body.Centre)))
		own := m.Frame.OwnDir(d)
		e += m.Dynamic * (m.Rates.X*own.X*own.X + m.Rates.Y*own.Y*own.Y + m.Rates.Z*own.Z*own.Z) / 2
	}
	for _, l := range s.Links {
		d := r3.Dot(r3.Unit(r3.Sub(l.To, l.On)), r3.Add(shift, r3.Cross(turn, r3.Sub(l.On, s.Body.Centre))))
		e += l.Dynamic * l.Rate * d * d / 2
	}
	return e
}

func (s *System) testKinetic(shift, turn r3.Vec) float64 {
	j := s.Inertia
	return s.Body.Mass*r3.Norm2(shift)/2 + (j.XX*turn.X*turn.X+j.YY*turn.Y*turn.Y+j.ZZ*turn.Z*turn.Z)/2 -
		j.XY*turn.X*turn.Y - j.YZ*turn.Y*turn.Z - j.ZX*turn.Z*turn.X
}

// hessian of a quadratic form, by its own values: exact.
func hessian(form func(shift, turn r3.Vec) float64, lever float64) (h [6][6]float64) {
	at := func(i, j int) float64 {
		var v [6]float64
		v[i]++
		v[j]++
		return form(r3.Vec{X: v[0], Y: v[1], Z: v[2]}, r3.Scale(1/lever, r3.Vec{X: v[3], Y: v[4], Z: v[5]}))
	}
	for i := range 6 {
		for j := range 6 {
			h[i][j] = at(i, j) - at(i, i)/4 - at(j, j)/4
			if i == j {
				h[i][i] = at(i, i) / 2
			}
		}
	}
	return h
}

// jacobi returns eigenvalues and, in columns, vectors of a symmetric matrix by Jacobi's
// plane turns.
func jacobi(a [6][6]float64) (values [6]float64, v [6][6]float64) {
	for i := range v {
		v[i][i] = 1
	}
	for range 60 {
		for p := range 6 {
			for q := p + 1; q < 6; q++ {
				if a[p][q] == 0 {
					continue
				}
				th := math.Atan2(2*a[p][q], a[q][q]-a[p][p]) / 2
				sin, cos := math.Sincos(th)
				for k := range 6 {
					x, y := a[k][p], a[k][q]
					a[k][p], a[k][q] = cos*x-sin*y, sin*x+cos*y
					x, y = v[k][p], v[k][q]
					v[k][p], v[k][q] = cos*x-sin*y, sin*x+cos*y
				}
				for k := range 6 {
					x, y := a[p][k], a[q][k]
					a[p][k], a[q][k] = cos*x-sin*y, sin*x+cos*y
				}
			}
		}
	}
	for i := range values {
		values[i] = a[i][i]
	}
	return values, v
}

// The six frequencies by Hessians of the two energies and Jacobi's method on
// M^-½ K M^-½.
func TestModesAgainstASecondSolution(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := drawer{rt}.system()
		const lever = 300.0
		k, m := hessian(s.testEnergy, lever), hessian(s.testKinetic, lever)
		mv, mq := jacobi(m)
		var root, a, tmp [6][6]float64
		for i := range 6 {
			for j := range 6 {
				for n := range 6 {
					root[i][j] += mq[i][n] * mq[j][n] / math.Sqrt(mv[n])
				}
			}
		}
		for i := range 6 {
			for j := range 6 {
				for n := range 6 {
					tmp[i][j] += k[i][n] * root[n][j]
				}
			}
		}
		for i := range 6 {
			for j := range 6 {
				for n := range 6 {
					a[i][j] += root[i][n] * tmp[n][j]
				}
			}
		}
		values, _ := jacobi(a)
		slices.Sort(values[:])
		for i, mode := range modesOf(rt, s) {
			assert.InEpsilon(rt, math.Sqrt(1000*values[i])/(2*math.Pi), mode.Frequency, 1e-7)
			// Rayleigh: the shape carries the frequency.
			e, w := s.testEnergy(mode.Shift, mode.Turn), s.testKinetic(mode.Shift, mode.Turn)
			assert.InEpsilon(rt, math.Sqrt(1000*e/w)/(2*math.Pi), mode.Frequency, 1e-9)
			sum, strain := 0.0, 0.0
			for _, v := range mode.Share {
				sum += v
			}
			for _, v := range mode.Strain {
				strain += v
			}
			assert.InDelta(rt, 1, sum, 1e-9)
			assert.InDelta(rt, 1, strain, 1e-9)
		}
	})
}

// How each rate raises each frequency, against the frequencies of changed rates; and
// what the hint says of softening a mount by a tenth.
func TestRatesRaiseFrequencies(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := drawer{rt}.system()
		base := modesOf(rt, s)
		for i := 1; i < 6; i++ { // two modes at one frequency have no derivative of their own
			if base[i].Frequency-base[i-1].Frequency < 0.05 {
				return
			}
		}
		part := rapid.IntRange(0, 2).Draw(rt, "mount")
		const h = 1e-3
		moved := func(by float64) [6]Mode {
			c := s
			c.Mounts = slices.Clone(s.Mounts)
			c.Mounts[part].Rates.Y += by
			return modesOf(rt, c)
		}
		hi, lo := moved(h), moved(-h)
		soft := s
		soft.Mounts = slices.Clone(s.Mounts)
		soft.Mounts[part].Rates = soft.Mounts[part].Rates.Scaled(1 - 1e-5)
		softer := modesOf(rt, soft)
		for i := range base {
			want := (hi[i].Frequency - lo[i].Frequency) / (2 * h)
			assert.InDelta(rt, want, base[i].PerRate[part].Y, 1e-6)
			fall := (base[i].Frequency - softer[i].Frequency) * 1e4
			hints := s.Soften(&base[i])
			for k, hint := range hints {
				if k > 0 {
					assert.LessOrEqual(rt, hint.PerTenth, hints[k-1].PerTenth*(1+1e-9))
				}
				if hint.Part == "mount "+s.Mounts[part].Name {
					assert.InEpsilon(rt, fall, hint.PerTenth, 1e-2)
				}
			}
		}
	})
}

// A mirrored vehicle has the same frequencies and mirrored shapes; shares are equal.
func TestMirroredVehicle(t *testing.T) {
	flip := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
	rapid.Check(t, func(rt *rapid.T) {
		s := drawer{rt}.system()
		m := s
		m.Body.Centre = flip(s.Body.Centre)
		m.Inertia.XY, m.Inertia.YZ = -s.Inertia.XY, -s.Inertia.YZ
		m.Mounts, m.Links = slices.Clone(s.Mounts), slices.Clone(s.Links)
		for i := range m.Mounts {
			f := &m.Mounts[i].Frame
			f.At, f.X, f.Y, f.Z = flip(f.At), flip(f.X), r3.Scale(-1, flip(f.Y)), flip(f.Z)
		}
		for i := range m.Links {
			m.Links[i].On, m.Links[i].To = flip(m.Links[i].On), flip(m.Links[i].To)
		}
		a, b := modesOf(rt, s), modesOf(rt, m)
		ra, err := s.Shake(Shaking{Frequency: 12, Torque: r3.Vec{X: 5e4, Z: 1e4}}, nil)
		require.NoError(rt, err)
		rb, err := m.Shake(Shaking{Frequency: 12, Torque: r3.Vec{X: -5e4, Z: -1e4}}, nil)
		require.NoError(rt, err)
		assert.InEpsilon(rt, ra.Transmissibility, rb.Transmissibility, 1e-7)
		for i := range ra.Parts {
			assert.InDelta(rt, ra.Parts[i], rb.Parts[i], 1e-6*(1+ra.Parts[i]))
		}
		for i := range a {
			assert.InEpsilon(rt, a[i].Frequency, b[i].Frequency, 1e-9)
			if i > 0 && a[i].Frequency-a[i-1].Frequency < 0.05 || i < 5 && a[i+1].Frequency-a[i].Frequency < 0.05 {
				continue
			}
			for w := range a[i].Share {
				assert.InDelta(rt, a[i].Share[w], b[i].Share[w], 1e-6)
			}
			assert.InDelta(rt, 0, math.Min(r3.Norm(r3.Sub(flip(a[i].Shift), b[i].Shift)), r3.Norm(r3.Add(flip(a[i].Shift), b[i].Shift))), 1e-5)
		}
	})
}

// The same powertrain in inches, pounds and pounds of force: nothing of the answer but
// its units changes. Turned as a whole it has the same frequencies and shares.
func TestUnitsAndDirectionDoNotMatter(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		s := d.system()
		// Lengths over 25.4 and stiffness in the same numbers per mass leave √(k/m) alone.
		in := s
		in.Body.Centre = r3.Scale(1/25.4, s.Body.Centre)
		j := s.Inertia
		by := 1 / (25.4 * 25.4)
		in.Inertia = Inertia{j.XX * by, j.YY * by, j.ZZ * by, j.XY * by, j.YZ * by, j.ZX * by}
		in.Mounts, in.Links = slices.Clone(s.Mounts), slices.Clone(s.Links)
		for i := range in.Mounts {
			in.Mounts[i].Frame.At = r3.Scale(1/25.4, s.Mounts[i].Frame.At)
		}
		for i := range in.Links {
			in.Links[i].On, in.Links[i].To = r3.Scale(1/25.4, s.Links[i].On), r3.Scale(1/25.4, s.Links[i].To)
		}
		p := d.turned()
		turned := s
		turned.Body.Centre = p.Dir(s.Body.Centre)
		turned.Inertia = j.Turned(p)
		turned.Mounts, turned.Links = slices.Clone(s.Mounts), slices.Clone(s.Links)
		for i := range turned.Mounts {
			turned.Mounts[i].Frame = s.Mounts[i].Frame.Then(p)
		}
		for i := range turned.Links {
			turned.Links[i].On, turned.Links[i].To = p.Dir(s.Links[i].On), p.Dir(s.Links[i].To)
		}
		a, b := modesOf(rt, s), modesOf(rt, in)
		c, err := turned.Modes(p, nil)
		require.NoError(rt, err)
		for i := range a {
			assert.InEpsilon(rt, a[i].Frequency, b[i].Frequency, 1e-9)
			assert.InEpsilon(rt, a[i].Frequency, c[i].Frequency, 1e-8)
			if i > 0 && a[i].Frequency-a[i-1].Frequency < 0.05 || i < 5 && a[i+1].Frequency-a[i].Frequency < 0.05 {
				continue
			}
			for w := range a[i].Share {
				assert.InDelta(rt, a[i].Share[w], b[i].Share[w], 1e-6)
				assert.InDelta(rt, a[i].Share[w], c[i].Share[w], 1e-5)
			}
		}
	})
}
