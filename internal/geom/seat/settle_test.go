package seat

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func threePads(r Rates) []Isolator {
	var pads []Isolator
	for _, m := range threeMounts {
		pads = append(pads, Upright(m.Name, m.At, r))
	}
	return pads
}

func drawPads(t *rapid.T) []Isolator {
	k := rapid.Float64Range(80, 1500)
	a := rapid.Float64Range(-0.8, 0.8)
	var pads []Isolator
	for _, m := range drawMounts(t) {
		p := Upright(m.Name, m.At, Rates{X: k.Draw(t, "kx"), Y: k.Draw(t, "ky"), Z: k.Draw(t, "kz")})
		p.Frame = geom.Orient(geom.Angle(a.Draw(t, "slope")), geom.Angle(a.Draw(t, "heading")), geom.Angle(a.Draw(t, "roll")), m.At)
		pads = append(pads, p)
	}
	return pads
}

// energy is the strain energy less the work of the load on a body moved by m,
// N·mm, with the torque left out.
func energy(b Body, pads []Isolator, l Load, m geom.Pose) float64 {
	e := -r3.Dot(l.Force(b), r3.Sub(m.Point(b.Centre), b.Centre))
	for _, p := range pads {
		d := p.Frame.OwnDir(r3.Sub(m.Point(p.Frame.At), p.Frame.At))
		e += (p.Rates.X*d.X*d.X + p.Rates.Y*d.Y*d.Y + p.Rates.Z*d.Z*d.Z) / 2
	}
	return e
}

// In balance the forces and moments sum to nothing, summed here from the
// answer's own motion; and without torque the energy is least: every small
// motion away costs energy.
func TestSettleIsInBalance(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	rapid.Check(t, func(t *rapid.T) {
		b, pads, l := drawBody(t), drawPads(t), drawLoad(t)
		l.Torque = r3.Scale(0.5, l.Torque)
		s, err := Settle(b, pads, l)
		require.NoError(t, err)
		assert.Less(t, s.Residual, 1e-6)
		assert.InDelta(t, 1, r3.Dot(r3.Cross(s.Motion.X, s.Motion.Y), s.Motion.Z), 1e-12)
		c := s.Motion.Point(b.Centre)
		assert.InDelta(t, s.Drop, b.Centre.Z-c.Z, 1e-9)
		f, m := l.Force(b), r3.Scale(1e-3, l.Torque)
		for i, p := range pads {
			at := s.Motion.Point(p.Frame.At)
			d := p.Frame.OwnDir(r3.Sub(at, p.Frame.At))
			assertVec(t, d, s.Pads[i].Bent, 1e-9)
			pull := p.Frame.Dir(r3.Vec{X: -p.Rates.X * d.X, Y: -p.Rates.Y * d.Y, Z: -p.Rates.Z * d.Z})
			assertVec(t, pull, s.Pads[i].Force, 1e-6)
			f = r3.Add(f, pull)
			m = r3.Add(m, r3.Scale(1e-3, r3.Cross(r3.Sub(at, c), pull)))
		}
		assertVec(t, r3.Vec{}, f, 2e-6)
		assertVec(t, r3.Vec{}, m, 2e-6)

		l.Torque = r3.Vec{}
		s, err = Settle(b, pads, l)
		require.NoError(t, err)
		least := energy(b, pads, l, s.Motion)
		for range 20 {
			axis := r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
			away, err := geom.Turn(c, axis, geom.Angle(2e-3*rng.NormFloat64()))
			require.NoError(t, err)
			away.At = r3.Add(away.At, r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
			assert.GreaterOrEqual(t, energy(b, pads, l, s.Motion.Then(away)), least-1e-6)
		}
	})
}

// Upright equal springs carry the worked example: each sinks by its static
// reaction over its rate, and the powertrain settles without roll or sideways
// motion.
func TestSagOfTheWorkedExample(t *testing.T) {
	s, err := Settle(example, threePads(Rates{X: 150, Y: 150, Z: 400}), Resting())
	require.NoError(t, err)
	assert.InDelta(t, 1041.858/400, -s.Pads[0].Moved.Z, 1e-3)
	assert.InDelta(t, 1054.411/400, -s.Pads[2].Moved.Z, 1e-3)
	assert.InDelta(t, 0, s.Motion.Roll().Rad(), 1e-12)
	assert.InDelta(t, 0, s.Motion.Point(example.Centre).Y, 1e-9)
	assert.InDelta(t, math.Atan((1054.411-1041.858)/400/1250), s.Motion.Slope().Rad(), 1e-8)
	assert.Less(t, s.Iterations, 12)
}

// scaled returns the isolators with every rate times factor.
func scaled(pads []Isolator, factor float64) []Isolator {
	out := slices.Clone(pads)
	for i := range out {
		out[i].Rates = out[i].Rates.Scaled(factor)
	}
	return out
}

func TestHeavierSagsMoreAndSofterSagsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, pads := drawBody(t), drawPads(t)
		light, err := Settle(b, pads, Resting())
		require.NoError(t, err)
		soft, err := Settle(b, scaled(pads, 0.7), Resting())
		require.NoError(t, err)
		assert.Greater(t, soft.Drop, light.Drop)
		b.Mass *= 1.2
		heavy, err := Settle(b, pads, Resting())
		require.NoError(t, err)
		assert.Greater(t, heavy.Drop, light.Drop)
		assert.Positive(t, light.Drop)
	})
}

// Mirrored mounts and a centre of mass on the centreline: no roll, no
// heading, whatever the tilt of the mounts.
func TestSymmetryGivesNoRoll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := geom.Angle(rapid.Float64Range(-1, 1).Draw(t, "tilt"))
		pads := threePads(Rates{X: 120, Y: 90, Z: 350})
		pads[0].Frame = geom.Orient(0, 0, v, pads[0].Frame.At)
		pads[1].Frame = geom.Orient(0, 0, -v, pads[1].Frame.At)
		b := Body{Mass: 300, Centre: r3.Vec{X: rapid.Float64Range(100, 900).Draw(t, "x"), Z: 120}}
		s, err := Settle(b, pads, Resting())
		require.NoError(t, err)
		assert.InDelta(t, 0, s.Motion.Roll().Rad(), 1e-10)
		assert.InDelta(t, 0, s.Motion.Heading().Rad(), 1e-10)
		assert.InDelta(t, 0, s.Pads[2].Moved.Y, 1e-8)
	})
}

// Small rock by hand: torque over Σ k·y², with the centre of mass in the plane
// of the pads and the rear pad on the axis.
func TestRockUnderTorque(t *testing.T) {
	pads := threePads(Rates{X: 1e5, Y: 1e5, Z: 400})
	load := Load{Name: "first gear", Torque: r3.Vec{X: -122.4e3}}
	r, err := RockUnder(example, pads, load)
	require.NoError(t, err)
	assert.InEpsilon(t, 122.4e3/(2*400*310*310), r.Angle.Rad(), 1e-3)
	assert.Positive(t, r.Motion.Point(r3.Vec{Y: -310}).Z, "standard rotation lifts the left side")
	assertVec(t, r.Loaded.Motion.Point(r3.Vec{X: 700, Y: 40}), r.Motion.Point(r.Rest.Motion.Point(r3.Vec{X: 700, Y: 40})), 1e-9)
	back, err := RockUnder(example, pads, Load{Torque: r3.Scale(-1, load.Torque)})
	require.NoError(t, err)
	assert.InEpsilon(t, r.Angle.Rad(), back.Angle.Rad(), 1e-3)
	still, err := RockUnder(example, pads, Resting())
	require.NoError(t, err)
	assert.InDelta(t, 0, still.Angle.Rad(), 1e-12)
}

func TestSettleSaysWhyNot(t *testing.T) {
	// A balance point high over narrow, soft pads.
	var narrow []Isolator
	for _, at := range []r3.Vec{{Y: -40}, {Y: 40}, {X: 60}} {
		narrow = append(narrow, Upright("narrow", at, Rates{X: 50, Y: 50, Z: 50}))
	}
	_, err := Settle(Body{Mass: 300, Centre: r3.Vec{X: 20, Z: 900}}, narrow, Resting())
	assert.ErrorIs(t, err, ErrTips)
	_, err = Settle(example, threePads(Rates{X: 10, Y: 10, Z: 10}), Load{Torque: r3.Vec{X: 9e6}})
	assert.ErrorIs(t, err, ErrSoft)

	pads := threePads(Rates{X: 150, Y: 150, Z: 400})
	pads[2].Rates.Z = 0
	_, err = Settle(example, pads, Resting())
	assert.ErrorContains(t, err, "rear mount: the vertical rate is 0 N/mm")
	pads[2].Rates.Z = math.NaN()
	_, err = Settle(example, pads, Resting())
	assert.ErrorContains(t, err, "rear mount: the vertical rate is not a number")
	pads = threePads(Rates{X: 150, Y: 150, Z: 400})
	pads[1].Frame = geom.Pose{}
	_, err = Settle(example, pads, Resting())
	assert.ErrorContains(t, err, "right front mount: its axes")
	for _, f := range []geom.Pose{ // one axis too long makes up for another
		{X: r3.Vec{X: 2}, Y: r3.Vec{Y: 0.5}, Z: r3.Vec{Z: 1}},
		{X: r3.Vec{X: 2}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 0.5}},
		{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 2}, Z: r3.Vec{Z: 0.5}},
	} {
		pads[1].Frame = f
		_, err = Settle(example, pads, Resting())
		assert.ErrorContains(t, err, "right front mount: its axes")
	}
	pads = threePads(Rates{X: 150, Y: 150, Z: 400})
	pads[2].Frame.At = r3.Vec{}
	_, err = Settle(example, pads, Resting())
	assert.ErrorIs(t, err, ErrOneLine)
	assert.ErrorContains(t, err, "left front, right front and rear mounts")
	// In one line seen from above, but one of them below: it hangs like a
	// pendulum, and the forward rates hold it.
	pads[2].Frame.At = r3.Vec{Z: -500}
	hung, err := Settle(Body{Mass: 200, Centre: r3.Vec{Z: -200}}, pads, Resting())
	require.NoError(t, err)
	assert.Positive(t, hung.Drop)
	_, err = Settle(Body{}, threePads(Rates{X: 1, Y: 1, Z: 1}), Resting())
	assert.ErrorContains(t, err, "powertrain: the mass is 0 kg")
	pads[2].Rates.Z = 0
	_, err = RockUnder(example, pads, Resting())
	assert.Error(t, err)
}

// A balance turned by more than 30 degrees is not taken: rubber is torn long
// before.
func TestATurnBeyondThirtyDegreesIsRefused(t *testing.T) {
	pads := threePads(Rates{X: 60, Y: 60, Z: 60})
	turned := func(torque float64) float64 {
		s, err := Settle(example, pads, Load{Torque: r3.Vec{X: torque}})
		if err != nil {
			assert.ErrorIs(t, err, ErrSoft)
			return -1
		}
		return s.Motion.Roll().Degrees()
	}
	last := 0.0
	for torque := 0.0; torque < 12e6; torque += 0.1e6 {
		a := turned(torque)
		if a < 0 {
			break
		}
		assert.Less(t, a, 30.01)
		last = a
	}
	assert.Greater(t, last, 25.0)
	assert.Less(t, turned(12e6), 0.0)
}

func TestEnvelope(t *testing.T) {
	pads := threePads(Rates{X: 200, Y: 200, Z: 400})
	built := geom.Orient(3*geom.Deg, 0, 0, r3.Vec{X: 100, Z: 250})
	loads := []Load{{Name: "full torque in 1st gear", Torque: r3.Vec{X: -1224e3}}, Bump(3)}
	got, err := Envelope(example, pads, built, loads)
	require.NoError(t, err)
	require.Len(t, got, 5)
	names := make([]string, len(got))
	for i, p := range got {
		names[i] = p.Name
		own := r3.Vec{X: 300, Y: -200, Z: 50}
		assertVec(t, p.Motion.Point(built.Point(own)), p.Pose.Point(own), 1e-9)
	}
	assert.Equal(t, []string{"as built", "sagged", "sagged, full torque in 1st gear", "sagged, full torque in 1st gear, torque reversed", "sagged, bump"}, names)
	assert.Equal(t, built, got[0].Pose)
	assert.Less(t, got[1].Pose.At.Z, built.At.Z)
	assert.Less(t, got[2].Pose.Roll().Rad(), 0.0, "the left side is high")
	assert.Greater(t, got[3].Pose.Roll().Rad(), 0.0)
	assert.Equal(t, []string{"left front"}, got[2].Lifts)
	assert.Less(t, got[4].Pose.At.Z, got[1].Pose.At.Z)
	_, err = Envelope(example, pads, built, []Load{{Name: "absurd", Torque: r3.Vec{X: 1e9}}})
	assert.ErrorContains(t, err, "absurd")
	_, err = Envelope(Body{}, pads, built, loads)
	assert.Error(t, err)
}

func TestConstruction(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range []Construction{ConstructionUnknown, Interlocked, BondedOnly, Solid} {
		h := c.Hold()
		assert.NotEmpty(t, h.Verdict)
		seen[h.Verdict] = true
		assert.Equal(t, c != ConstructionUnknown, h.Known)
	}
	assert.Len(t, seen, 4)
	assert.True(t, Interlocked.Hold().Captive)
	assert.False(t, BondedOnly.Hold().Captive)
	assert.False(t, Construction(77).Hold().Known)
	assert.Equal(t, "bonded only", BondedOnly.String())
}

func BenchmarkSettle(b *testing.B) {
	pads := threePads(Rates{X: 150, Y: 150, Z: 400})
	load := Load{Torque: r3.Vec{X: -1224e3}}
	for b.Loop() {
		if _, err := Settle(example, pads, load); err != nil {
			b.Fatal(err)
		}
	}
}
