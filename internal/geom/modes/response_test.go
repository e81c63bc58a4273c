package modes

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// One way at a time the block is a mass on a spring: √(1+η²)/√((1−r²)²+η²) with
// hysteretic damping (Den Hartog, Mechanical Vibrations, from memory); undamped
// 1/(r²−1): r 2 1/3, r 3 0.125.
func TestTransmissibilityOfOneWay(t *testing.T) {
	s := block(0)
	f := modesOf(t, s)
	shake := func(loss, r float64, sh Shaking) float64 {
		for i := range s.Mounts {
			s.Mounts[i].Loss = loss
		}
		res, err := s.Shake(sh, nil)
		require.NoError(t, err)
		eta := loss
		want := math.Sqrt((1 + eta*eta) / ((1-r*r)*(1-r*r) + eta*eta))
		assert.InEpsilon(t, want, res.Transmissibility, 1e-9)
		return res.Transmissibility
	}
	for _, r := range []float64{0.5, 0.9, 1, math.Sqrt2, 2, 3, 5} {
		for _, loss := range []float64{0.05, 0.2} {
			shake(loss, r, Shaking{Frequency: r * f[2].Frequency, Force: r3.Vec{Z: -300}})
			shake(loss, r, Shaking{Frequency: r * f[4].Frequency, Torque: r3.Vec{X: 8e4}})
			shake(loss, r, Shaking{Frequency: r * f[5].Frequency, Torque: r3.Vec{Y: 8e4}})
		}
	}
	assert.InDelta(t, 0.125, shake(0, 3, Shaking{Frequency: 3 * f[2].Frequency, Force: r3.Vec{Z: 1}}), 1e-9)
	for i := range s.Mounts {
		s.Mounts[i].Loss = 0
	}
	_, err := s.Shake(Shaking{Frequency: f[2].Frequency, Force: r3.Vec{Z: 1}}, nil)
	require.ErrorContains(t, err, "nothing damps it")
	// At resonance a loss factor of 2ζ passes on as the damping ratio does: √(1+4ζ²)/2ζ.
	for i := range s.Mounts {
		s.Mounts[i].Loss = LossOf(0.05)
	}
	res, err := s.Shake(Shaking{Frequency: f[2].Frequency, Force: r3.Vec{Z: 1}}, nil)
	require.NoError(t, err)
	viscous, err := seat.Transmissibility(1, 0.05)
	require.NoError(t, err)
	assert.InEpsilon(t, viscous, res.Transmissibility, 1e-9)
	for _, m := range modesOf(t, s) {
		assert.InDelta(t, 0.1, m.Loss, 1e-12)
	}
	assert.InDelta(t, 40, Order(1200, 2), 1e-12)
}

// What is passed on is what shakes less what the mass takes: f + ω²Mu, on every body;
// and far below all frequencies a torque is passed on whole.
func TestWhatIsPassedOnBalances(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		s := d.system()
		sh := Shaking{Frequency: d.f(0.5, 80), Force: d.v(300), Torque: r3.Add(d.v(1e5), r3.Vec{X: 2e5})}
		res, err := s.Shake(sh, nil)
		require.NoError(rt, err)
		w2 := math.Pow(2*math.Pi*sh.Frequency, 2) / 1000
		size := r3.Norm(sh.Force) + w2*s.Body.Mass
		for i, f := range [3]float64{sh.Force.X, sh.Force.Y, sh.Force.Z} {
			want := complex(f, 0) + complex(w2*s.Body.Mass, 0)*res.Shift[i]
			assert.InDelta(rt, real(want), real(res.Force[i]), 1e-8*size)
			assert.InDelta(rt, imag(want), imag(res.Force[i]), 1e-8*size)
		}
		j := s.Inertia.tensor()
		for i, f := range [3]float64{sh.Torque.X, sh.Torque.Y, sh.Torque.Z} {
			want := complex(f, 0)
			for k := range 3 {
				want += complex(w2*j[i][k], 0) * res.Turn[k]
			}
			assert.InDelta(rt, real(want), real(res.Moment[i]), 1e-7*(1e5+r3.Norm(sh.Torque)))
			assert.InDelta(rt, imag(want), imag(res.Moment[i]), 1e-7*(1e5+r3.Norm(sh.Torque)))
		}
		slow, err := s.Shake(Shaking{Frequency: 0, Torque: sh.Torque}, nil)
		require.NoError(rt, err)
		assert.InEpsilon(rt, 1, slow.Transmissibility, 1e-9)
	})
}

// The torque-roll axis: a body whose products are 0 turns about its crank; one whose
// axes lean 10° from the crank by principal moments 8 and 20: tan of the axis' angle to
// the crank from J⁻¹t by hand.
func TestTorqueRollAxis(t *testing.T) {
	s := block(0)
	a, err := s.TorqueRoll(r3.Vec{X: 3})
	require.NoError(t, err)
	assert.InDelta(t, 0, a.FromCrank.Degrees(), 1e-9)
	assert.InDelta(t, 1, a.Held.X, 1e-12)
	assert.InEpsilon(t, 800*250*250, a.Rate, 1e-9)

	const lean = 10 * geom.Deg
	p := geom.Orient(lean, 0, 0, r3.Vec{})
	s.Inertia = Inertia{XX: 8e6, YY: 20e6, ZZ: 20e6}.Turned(p)
	a, err = s.TorqueRoll(r3.Vec{X: 1})
	require.NoError(t, err)
	sin, cos := math.Sincos(lean.Rad())
	own := r3.Vec{X: cos / 8, Z: sin / 20} // along the principal axes
	assert.InDelta(t, geom.Between(p.Dir(own), r3.Vec{X: 1}).Degrees(), a.FromCrank.Degrees(), 1e-9)
	assert.Less(t, a.Free.Z, 0.0, "the long axis is down to the rear, and so is the torque-roll axis")
	assert.InDelta(t, lean.Degrees()-math.Atan2(sin/20, cos/8)*180/math.Pi, a.FromCrank.Degrees(), 1e-9)

	// On a V pair and a rear mount under it, the held axis goes through what it must:
	// a steady torque about it moves its own points along it alone.
	rapid.Check(t, func(rt *rapid.T) {
		s := drawer{rt}.system()
		crank := r3.Vec{X: 1, Z: 0.1}
		a, err := s.TorqueRoll(crank)
		require.NoError(rt, err)
		m, err := s.Under(Load{Torque: r3.Scale(1e4, r3.Unit(crank))})
		require.NoError(rt, err)
		at := r3.Add(m.Shift, r3.Cross(m.Turn, r3.Sub(a.Through, s.Body.Centre)))
		assert.LessOrEqual(rt, r3.Norm(r3.Cross(at, a.Held)), 1e-7*r3.Norm(m.Turn)*1000)
		assert.InDelta(rt, a.Slide*r3.Norm(m.Turn), r3.Dot(at, a.Held), 1e-7*r3.Norm(m.Turn)*1000)
		assert.InEpsilon(rt, 1e4/r3.Dot(m.Turn, r3.Unit(crank)), a.Rate, 1e-9)
	})
	_, err = s.TorqueRoll(r3.Vec{})
	require.ErrorContains(t, err, "no direction")
}

// A roll stop with free play: until it is met the springs alone, after it both; by hand
// on one way of the block, T = kφ + c r (φ r − gap).
func TestRollStopWithFreePlay(t *testing.T) {
	s := block(0)
	const k, r, gap, c = 800 * 250 * 250, 300.0, 4.0, 2000.0
	s.Stops = []Stop{{Name: "roll stop", At: r3.Vec{Y: r}, Axis: r3.Vec{Z: 2}, Forward: gap, Backward: NoStop, Rate: c, Dynamic: 1}}
	under := func(torque float64) Moved {
		m, err := s.Under(Load{Torque: r3.Vec{X: torque}})
		require.NoError(t, err)
		return m
	}
	m := under(0.9 * k * gap / r)
	assert.False(t, m.Met[0])
	assert.Zero(t, m.Parts[4])
	assert.InEpsilon(t, 0.9*gap/r, m.Turn.X, 1e-9)
	m = under(-30 * k * gap / r / 30 * 5) // the other way there is none
	assert.False(t, m.Met[0])
	assert.InEpsilon(t, -5*gap/r, m.Turn.X, 1e-9)

	s.Stops = append(s.Stops, Stop{Name: "other", At: r3.Vec{Y: -r}, Axis: r3.Vec{Z: -1}, Forward: gap, Backward: NoStop, Rate: c, Dynamic: 1})
	const torque = 3 * k * gap / r
	m = under(torque) // a couple of two stops: no shift
	phi := (torque + 2*c*gap*r) / (k + 2*c*r*r)
	assert.InEpsilon(t, phi, m.Turn.X, 1e-9)
	assert.InDelta(t, 0, r3.Norm(m.Shift), 1e-9)
	assert.Equal(t, []bool{true, true}, m.Met)
	assert.InEpsilon(t, phi*r-gap, m.Pressed[0], 1e-9)
	assert.InEpsilon(t, -c*(phi*r-gap), m.Parts[4].Z, 1e-9)

	soft := modesOf(t, s)
	stiff, err := s.Modes(geom.Identity(), m.Met)
	require.NoError(t, err)
	roll := func(ms [6]Mode) float64 {
		for i := range ms {
			if w, _ := ms[i].Main(); w == Roll {
				return ms[i].Frequency
			}
		}
		return 0
	}
	assert.InEpsilon(t, math.Sqrt((k+2*c*r*r)/k), roll(stiff)/roll(soft), 1e-9)
	for _, h := range s.Soften(&stiff[5]) {
		assert.Contains(t, []string{"mount", "stop roll stop", "stop other"}, h.Part)
	}
}

// Stops of all kinds: the place by a general minimiser of the energy, and balance.
func TestStopsAgainstAMinimiser(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		s := d.system()
		for i := range 3 {
			s.Stops = append(s.Stops, Stop{Name: string(rune('a' + i)), At: d.v(300), Axis: r3.Add(d.v(1), r3.Vec{Z: 1.8}),
				Forward: d.f(-1, 3), Backward: d.f(0, 3), Rate: d.f(100, 3000), Dynamic: 1.4})
		}
		l := Load{Force: d.v(800), Torque: d.v(1e5)}
		m, err := s.Under(l)
		require.NoError(rt, err)
		var force, moment r3.Vec
		for i, f := range m.Parts {
			var at r3.Vec
			switch n := len(s.Mounts); {
			case i < n:
				at = s.Mounts[i].Frame.At
			case i < n+len(s.Links):
				at = s.Links[i-n].On
			default:
				at = s.Stops[i-n-len(s.Links)].At
			}
			force, moment = r3.Add(force, f), r3.Add(moment, r3.Cross(r3.Sub(at, s.Body.Centre), f))
		}
		assert.LessOrEqual(rt, r3.Norm(r3.Add(force, l.Force)), 1e-6)
		assert.LessOrEqual(rt, r3.Norm(r3.Add(moment, l.Torque)), 1e-3)

		c := s
		c.Mounts = append([]Mount(nil), s.Mounts...)
		for i := range c.Mounts {
			c.Mounts[i].Dynamic = 1
		}
		c.Links = append([]Link(nil), s.Links...)
		for i := range c.Links {
			c.Links[i].Dynamic = 1
		}
		energy := func(x []float64) float64 {
			shift, turn := r3.Vec{X: x[0], Y: x[1], Z: x[2]}, r3.Scale(1/300.0, r3.Vec{X: x[3], Y: x[4], Z: x[5]})
			e := c.testEnergy(shift, turn) - r3.Dot(l.Force, shift) - r3.Dot(l.Torque, turn)
			for _, p := range s.Stops {
				go1 := r3.Dot(r3.Unit(p.Axis), r3.Add(shift, r3.Cross(turn, r3.Sub(p.At, s.Body.Centre))))
				over := 0.0
				if p.Forward >= 0 {
					over = math.Max(0, go1-p.Forward)
				}
				if p.Backward >= 0 {
					over = math.Max(over, -go1-p.Backward)
				}
				e += p.Rate * over * over / 2
			}
			return e
		}
		x := []float64{m.Shift.X, m.Shift.Y, m.Shift.Z, 300 * m.Turn.X, 300 * m.Turn.Y, 300 * m.Turn.Z}
		here := energy(x)
		res, err := optimize.Minimize(optimize.Problem{Func: energy}, make([]float64, 6), &optimize.Settings{FuncEvaluations: 300}, &optimize.NelderMead{})
		require.NotNil(rt, res, err)
		assert.LessOrEqual(rt, here, res.F+1e-9*math.Abs(here))
		for i := range x {
			for _, by := range [2]float64{-1e-3, 1e-3} {
				y := append([]float64(nil), x...)
				y[i] += by
				assert.Greater(rt, energy(y), here)
			}
		}
	})
}

func TestSystemsRefused(t *testing.T) {
	nan := math.NaN()
	for want, change := range map[string]func(s *System){
		"a mass of 0 kg":                 func(s *System) { s.Body.Mass = 0 },
		"a mass of 200 kg or its centre": func(s *System) { s.Body.Centre.X = nan },
		"a moment of inertia is not":     func(s *System) { s.Inertia.XY = nan },
		"belong to no body":              func(s *System) { s.Inertia.XX = 0 },
		"products":                       func(s *System) { s.Inertia.XY = 50e6 },
		"larger than the two others":     func(s *System) { s.Inertia.ZZ = 180e6 },
		"mount: its place or its axes":   func(s *System) { s.Mounts[0].Frame.X = r3.Vec{X: 2} },
		"mount: a rate of 0":             func(s *System) { s.Mounts[0].Rates.Y = 0 },
		"mount: the ratio of vibrating":  func(s *System) { s.Mounts[0].Dynamic = 0.5 },
		"mount: a loss factor of -1":     func(s *System) { s.Mounts[0].Loss = -1 },
		"link dog bone: its two joints":  func(s *System) { s.Links = []Link{{Name: "dog bone", Rate: 1, Dynamic: 1}} },
		"link dog bone: a rate of NaN":   func(s *System) { s.Links = []Link{{Name: "dog bone", To: r3.Vec{X: 90}, Rate: nan, Dynamic: 1}} },
		"stop roll: its place is not":    func(s *System) { s.Stops = []Stop{{Name: "roll", Rate: 1, Dynamic: 1}} },
		"stop roll: it has no free play on": func(s *System) {
			s.Stops = []Stop{{Name: "roll", Axis: r3.Vec{X: 1}, Forward: NoStop, Backward: NoStop, Rate: 1, Dynamic: 1}}
		},
		"stop roll: a rate of 0":         func(s *System) { s.Stops = []Stop{{Name: "roll", Axis: r3.Vec{X: 1}, Dynamic: 1}} },
		"nothing holds it against":       func(s *System) { s.Mounts = nil },
		"nothing holds it against pitch": func(s *System) { s.Mounts = s.Mounts[:2] },
	} {
		s := block(0)
		change(&s)
		_, err := s.Modes(geom.Identity(), nil)
		require.ErrorContains(t, err, want)
		_, err = s.Under(Load{Force: r3.Vec{Z: 1}})
		require.ErrorContains(t, err, want)
		_, err = s.Shake(Shaking{Frequency: 10, Force: r3.Vec{Z: 1}}, nil)
		require.ErrorContains(t, err, want)
		_, err = s.TorqueRoll(r3.Vec{X: 1})
		require.ErrorContains(t, err, want)
	}
	s := block(0)
	_, err := s.Modes(geom.Pose{}, nil)
	require.ErrorContains(t, err, "axes of its crankshaft")
	_, err = s.Shake(Shaking{Frequency: nan, Force: r3.Vec{Z: 1}}, nil)
	require.Error(t, err)
	_, err = s.Shake(Shaking{Frequency: 10}, nil)
	require.ErrorContains(t, err, "no force and no torque")
	_, err = s.Under(Load{Force: r3.Vec{X: nan}})
	require.Error(t, err)
	_, err = s.Under(Load{Torque: r3.Vec{X: 1e9}})
	require.ErrorContains(t, err, "the load turns the powertrain by")
	assert.InEpsilon(t, 60, Series(100, 150), 1e-12)
	assert.Equal(t, Inertia{XX: 10 * (9 + 16), YY: 10 * (16 + 4), ZZ: 10 * (4 + 9)}, Block(120, 2, 3, 4))
}

func BenchmarkModes(b *testing.B) {
	s := block(150)
	for b.Loop() {
		if _, err := s.Modes(geom.Identity(), nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkShake(b *testing.B) {
	s := block(150)
	for b.Loop() {
		if _, err := s.Shake(Shaking{Frequency: 20, Torque: r3.Vec{X: 1e5}}, nil); err != nil {
			b.Fatal(err)
		}
	}
}
