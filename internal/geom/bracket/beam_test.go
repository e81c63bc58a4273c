package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func stock(t require.TestingT, name string) section.Properties {
	e, err := section.Find("test", name)
	require.NoError(t, err)
	p, err := e.Properties()
	require.NoError(t, err)
	return p
}

// Beam formulas of Roark and of Gere (from memory), recomputed for stock tubes.
func TestBeams(t *testing.T) {
	shs, rhs := stock(t, "SHS 50x50x3 cold"), stock(t, "RHS 100x50x5 cold")

	r, err := Beam{Hold: Cantilever, Span: 500, E: section.SteelE, I: shs.Iy, Modulus: shs.Wy}.Point(-1000, 500)
	require.NoError(t, err)
	assert.InDelta(t, 64.210, r.Stress, 1e-3)
	assert.InEpsilon(t, 1.019221, r.Deflection, 1e-5)
	assert.Equal(t, 0.0, r.MomentAt)

	b := Beam{Hold: Simple, Span: 900, E: section.SteelE, I: rhs.Iy, Modulus: rhs.Wy}
	r, err = b.Point(5000, 450)
	require.NoError(t, err)
	assert.InEpsilon(t, 35.5595, r.Stress, 1e-5)
	assert.InEpsilon(t, 0.228597, r.Deflection, 1e-5)
	assert.InDelta(t, 450, r.DeflectionAt, 1e-9)

	r, err = b.Point(5000, 300)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.0e6, r.Moment, 1e-12)
	assert.InEpsilon(t, 31.6085, r.Stress, 1e-5)
	assert.InEpsilon(t, 0.180620, r.AtLoad, 1e-5)
	assert.InEpsilon(t, 0.196634, r.Deflection, 1e-5)
	assert.InEpsilon(t, 489.898, 900-r.DeflectionAt, 1e-5)

	b.Hold = BuiltIn
	r, err = b.Point(5000, 450)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.0571493, r.Deflection, 1e-5)
	assert.InEpsilon(t, 5000*900/8.0, r.Moment, 1e-12)
}

// A 3/8 by 2 inch bar laid flat, 32.2 lb/in over 14 in, E 29e6: a published
// engineering evaluation gives 789 lb in, 16829.9 psi, 0.06319 in.
func TestFlatBarSpan(t *testing.T) {
	p, err := section.Shape{Kind: section.FlatBar, B: 2, H: 0.375}.Properties()
	require.NoError(t, err)
	r, err := Beam{Hold: Simple, Span: 14, E: 29e6, I: p.Iy, Modulus: p.Wy}.Uniform(32.2)
	require.NoError(t, err)
	assert.InDelta(t, 789, r.Moment, 0.5)
	assert.InEpsilon(t, 16829.9, r.Stress, 1e-5)
	assert.InDelta(t, 0.06319, r.Deflection, 5e-6)
}

// Gere, Mechanics of Materials, problem 5.9-1 (solution manual): a pole with
// 450 lb at 72 in and 1900 psi wants d³ = 173.7 in³, d = 5.58 in.
func TestRoundPole(t *testing.T) {
	p, err := section.Shape{Kind: section.RoundBar, H: math.Cbrt(173.7)}.Properties()
	require.NoError(t, err)
	r, err := Beam{Hold: Cantilever, Span: 72, E: 1.5e6, I: p.Iy, Modulus: p.Wy}.Point(450, 72)
	require.NoError(t, err)
	assert.InEpsilon(t, 1900, r.Stress, 5e-4)
	assert.InDelta(t, 5.58, math.Cbrt(173.7), 0.005)
}

// A second method: the deflection curve integrated from the moments, with the
// end conditions met by solving for the two constants.
func TestBeamsAgainstIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hold := Hold(rapid.IntRange(1, 3).Draw(t, "hold"))
		a := rapid.Float64Range(0.05, 0.95).Draw(t, "a") * 800
		b := Beam{Hold: hold, Span: 800, E: 210e3, I: 2e5, Modulus: 8e3}
		got, err := b.Point(1000, a)
		require.NoError(t, err)
		moment, largest := integrate(b, func(x float64) float64 { return 1000 * math.Max(0, x-a) }, hold)
		assert.InEpsilon(t, moment, got.Moment, 2e-3)
		assert.InEpsilon(t, largest, got.Deflection, 2e-3)
		got, err = b.Uniform(2)
		require.NoError(t, err)
		moment, largest = integrate(b, func(x float64) float64 { return x * x }, hold)
		assert.InEpsilon(t, moment, got.Moment, 2e-3)
		assert.InEpsilon(t, largest, got.Deflection, 2e-3)
	})
}

// integrate finds the largest moment and deflection of a beam whose load gives
// the bending moment -load(x) on top of m0 + v0·x at end 0. It superposes the
// curves of the load and of the two unknown end actions.
func integrate(b Beam, load func(float64) float64, hold Hold) (moment, deflection float64) {
	const n = 8000
	h := b.Span / n
	curve := func(m func(float64) float64) (w, slope, mom [n + 1]float64) {
		for i := 1; i <= n; i++ {
			k := m((float64(i)-0.5)*h) / (b.E * b.I)
			slope[i] = slope[i-1] + k*h
			w[i] = w[i-1] + (slope[i-1]+slope[i])/2*h
			mom[i] = m(float64(i) * h)
		}
		mom[0] = m(0)
		return
	}
	w1, s1, m1 := curve(func(x float64) float64 { return -load(x) })
	wm, sm, mm := curve(func(float64) float64 { return 1 })
	wv, sv, mv := curve(func(x float64) float64 { return x })
	// unknowns: end moment m0, end shear v0, end slope t0
	var m0, v0, t0 float64
	switch hold {
	case Cantilever: // no moment and no shear at the far end
		d := b.Span * 1e-4
		v0 = (load(b.Span) - load(b.Span-d)) / d
		m0 = load(b.Span) - v0*b.Span
	case Simple:
		v0 = load(b.Span) / b.Span
		t0 = -(w1[n] + v0*wv[n]) / b.Span
	case BuiltIn: // no slope and no deflection at the far end
		det := wm[n]*sv[n] - wv[n]*sm[n]
		m0 = (-w1[n]*sv[n] + wv[n]*s1[n]) / det
		v0 = (-wm[n]*s1[n] + w1[n]*sm[n]) / det
	}
	for i := range w1 {
		x := float64(i) * h
		moment = math.Max(moment, math.Abs(m1[i]+m0*mm[i]+v0*mv[i]))
		deflection = math.Max(deflection, math.Abs(w1[i]+m0*wm[i]+v0*wv[i]+t0*x))
	}
	return moment, deflection
}

func TestEuler(t *testing.T) {
	p, err := Buckling("leg", 210e3, 1e5, 1000, 2)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Pi*math.Pi*210e3*1e5/4e6, p, 1e-12)
}

func TestStrengthRefused(t *testing.T) {
	b := Beam{Name: "cross", Hold: Simple, Span: 900, E: section.SteelE, I: 1e5, Modulus: 1e3}
	for name, f := range map[string]func() error{
		"no hold":     func() error { c := b; c.Hold = 0; _, err := c.Point(1, 1); return err },
		"no span":     func() error { c := b; c.Span = 0; _, err := c.Uniform(1); return err },
		"no modulus":  func() error { c := b; c.E = math.NaN(); _, err := c.Point(1, 1); return err },
		"no section":  func() error { c := b; c.I = 0; _, err := c.Point(1, 1); return err },
		"off the end": func() error { _, err := b.Point(1, 901); return err },
		"on the end":  func() error { _, err := b.Point(1, 900); return err },
		"no load":     func() error { _, err := b.Point(math.Inf(1), 90); return err },
		"no spread":   func() error { _, err := b.Uniform(0); return err },
		"strut":       func() error { _, err := Buckling("cross", 1, 1, 0, 1); return err },
		"short strut": func() error { _, err := Buckling("cross", 1e12, 1e23, 1e-300, 1); return err },
	} {
		assert.ErrorContains(t, f(), "cross", name)
	}
}

// A taper of 3/4 in per foot: Jones, Turning and Boring.
func TestWedges(t *testing.T) {
	for _, c := range []struct{ deg, length, want float64 }{
		{2, 100, 3.492077}, {3, 76.2, 3.993473}, {2.5, 127, 5.544940}, {6, 100, 10.510424},
	} {
		got, err := Wedge("", c.length, geom.Angle(c.deg)*geom.Deg)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 6e-7)
		back, err := WedgeAngle("", c.length, got)
		require.NoError(t, err)
		assert.InDelta(t, c.deg, back.Degrees(), 1e-12)
	}
	half, err := WedgeAngle("", 12, 0.375) // 3/4 in per foot, both sides
	require.NoError(t, err)
	assert.InDelta(t, 1+47.39/60, half.Degrees(), 1e-4)

	for name, f := range map[string]func() error{
		"wedge":       func() error { _, err := Wedge("shim", 0, 1); return err },
		"steep wedge": func() error { _, err := Wedge("shim", 10, 90*geom.Deg); return err },
		"rise":        func() error { _, err := WedgeAngle("shim", 10, math.NaN()); return err },
	} {
		assert.ErrorContains(t, f(), "shim", name)
	}
}
