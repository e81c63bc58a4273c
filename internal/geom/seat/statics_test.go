package seat

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A worked statics example, stated in ISO 8855 axes (X forward, Y left) and
// turned here into ours (X rearward, Y right): 320 kg, fronts 620 mm apart,
// rear 1250 mm behind them, centre of mass 420 mm behind them.
var (
	threeMounts = []Mount{
		{Name: "left front", At: r3.Vec{Y: -310}},
		{Name: "right front", At: r3.Vec{Y: 310}},
		{Name: "rear", At: r3.Vec{X: 1250}},
	}
	example = Body{Mass: 320, Centre: r3.Vec{X: 420}}
)

// Statics by hand: rear = W·420/1250, fronts half the rest each; a torque of
// 400 N·m × 3.06 = 1224 N·m at the propshaft shifts 1224/0.620 N from left to
// right.
func TestReactionsOfTheWorkedExample(t *testing.T) {
	got, err := ReactionsAt(example, threeMounts, Resting())
	require.NoError(t, err)
	assert.Equal(t, ByBalance, got.Basis)
	assert.Empty(t, got.Lifting())
	for i, want := range []float64{1041.858, 1041.858, 1054.411} {
		assert.InDelta(t, want, got.Each[i].Force.Z, 5e-4)
	}

	m, err := Drive{Layout: Longitudinal, Engine: 400e3, Gear: 3.06, Output: r3.Vec{X: 1}}.Reaction()
	require.NoError(t, err)
	assertVec(t, r3.Vec{X: -1224e3}, m, 1e-6) // +X forward is -X rearward
	got, err = ReactionsAt(example, threeMounts, Load{Name: "first gear", Torque: m})
	require.NoError(t, err)
	for i, want := range []float64{-932.335, 3016.052, 1054.411} {
		assert.InDelta(t, want, got.Each[i].Force.Z, 5e-4)
	}
	assert.Equal(t, []string{"left front"}, got.Lifting())
}

func TestDriveReaction(t *testing.T) {
	rev, err := Drive{Layout: Longitudinal, Engine: 100, Gear: -3, Output: r3.Vec{X: 2}}.Reaction()
	require.NoError(t, err)
	assertVec(t, r3.Vec{X: 300}, rev, 1e-12)
	opposite, err := Drive{Layout: Longitudinal, Engine: 100, Gear: 3, Output: r3.Vec{X: 2}, Opposite: true}.Reaction()
	require.NoError(t, err)
	assertVec(t, r3.Vec{X: 300}, opposite, 1e-12)

	// A transaxle's wheels turn over the top forward, so the powertrain is
	// turned the other way: its front (-X) goes up, 400 × 3.06 × 3.73 N·m.
	axle, err := Drive{Layout: Transaxle, Engine: 400e3, Gear: 3.06, Final: 3.73, Output: r3.Vec{Y: 1}}.Reaction()
	require.NoError(t, err)
	assertVec(t, r3.Vec{Y: 4565.52e3}, axle, 1e-3)
	assert.Positive(t, r3.Cross(axle, r3.Vec{X: -1}).Z)

	loads, err := GearLoads(Drive{Layout: Longitudinal, Engine: 100, Output: r3.Vec{X: 1}}, []GearRatio{{"1st gear", 3}, {"reverse", -2}})
	require.NoError(t, err)
	assert.Equal(t, "full torque in reverse", loads[1].Name)
	assert.InDelta(t, 200, loads[1].Torque.X, 1e-12)

	for _, d := range []Drive{
		{}, {Layout: Longitudinal, Engine: 1, Gear: 1}, {Layout: Longitudinal, Engine: 1, Gear: 1, Output: r3.Vec{X: -1}},
		{Layout: Transaxle, Engine: 1, Gear: 1, Output: r3.Vec{Y: 1}}, {Layout: Transaxle, Engine: 1, Gear: 1, Final: 3, Output: r3.Vec{Y: -1}},
		{Layout: Longitudinal, Engine: -1, Gear: 1, Output: r3.Vec{X: 1}}, {Layout: Longitudinal, Engine: math.NaN(), Gear: 1, Output: r3.Vec{X: 1}},
		{Layout: Longitudinal, Engine: 1, Output: r3.Vec{X: 1}}, {Engine: 1, Gear: 1, Output: r3.Vec{X: 1}},
	} {
		_, err := d.Reaction()
		assert.Error(t, err, "%+v", d)
	}
	_, err = GearLoads(Drive{Layout: Longitudinal, Engine: 1, Output: r3.Vec{X: 1}}, []GearRatio{{Name: "5th gear"}})
	assert.ErrorContains(t, err, "5th gear")
}

func drawVec(t *rapid.T, reach float64, label string) r3.Vec {
	g := rapid.Float64Range(-reach, reach)
	return r3.Vec{X: g.Draw(t, label+".x"), Y: g.Draw(t, label+".y"), Z: g.Draw(t, label+".z")}
}

func drawLoad(t *rapid.T) Load {
	return Load{Name: "drawn", Accel: drawVec(t, 2, "accel"), Torque: drawVec(t, 2e6, "torque")}
}

func drawMounts(t *rapid.T) []Mount {
	s := drawSupports(t)
	ms := []Mount{{Name: "left front", At: s.LeftFront}, {Name: "right front", At: s.RightFront}, {Name: "rear", At: s.Rear}}
	for range rapid.IntRange(0, 2).Draw(t, "more") {
		ms = append(ms, Mount{Name: "extra", At: r3.Add(r3.Vec{X: 600}, drawVec(t, 500, "extra"))})
	}
	if rapid.Bool().Draw(t, "rated") {
		k := rapid.Float64Range(50, 2000)
		for i := range ms {
			ms[i].Rates = Rates{X: k.Draw(t, "kx"), Y: k.Draw(t, "ky"), Z: k.Draw(t, "kz")}
		}
	}
	return ms
}

func drawBody(t *rapid.T) Body {
	return Body{
		Mass:   rapid.Float64Range(80, 600).Draw(t, "mass"),
		Centre: r3.Add(r3.Vec{X: 450, Z: 80}, drawVec(t, 80, "centre")),
	}
}

// Forces and moments balance about any point.
func TestReactionsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, ms, l := drawBody(t), drawMounts(t), drawLoad(t)
		got, err := ReactionsAt(b, ms, l)
		require.NoError(t, err)
		about := drawVec(t, 1, "about") // metres
		f := l.Force(b)
		m := r3.Add(r3.Scale(1e-3, l.Torque), r3.Cross(r3.Sub(r3.Scale(1e-3, b.Centre), about), f))
		for i, r := range got.Each {
			f = r3.Add(f, r.Force)
			m = r3.Add(m, r3.Cross(r3.Sub(r3.Scale(1e-3, ms[i].At), about), r.Force))
		}
		assertVec(t, r3.Vec{}, f, 1e-9)
		assertVec(t, r3.Vec{}, m, 1e-9) // N·m
		for _, r := range got.Each {
			assert.Equal(t, r.Force.Z < -slack, r.Lifts)
		}
	})
}

// A second way to more than three mounts: a stiff plate that sinks and tilts
// on its springs, three unknowns solved by elimination.
func TestFourMountsShareLikeAPlateOnSprings(t *testing.T) {
	ms := []Mount{
		{Name: "left front", At: r3.Vec{Y: -300}}, {Name: "right front", At: r3.Vec{Y: 320}},
		{Name: "left rear", At: r3.Vec{X: 1100, Y: -150}}, {Name: "right rear", At: r3.Vec{X: 1200, Y: 160}},
	}
	plate := func(k []float64) []float64 {
		// Σk·[1 x y]ᵀ[1 x y]·(sink, pitch, roll) = W·[1 cx cy]ᵀ
		var a [3][4]float64
		for i, m := range ms {
			v := [3]float64{1, m.At.X, m.At.Y}
			for r := range 3 {
				for c := range 3 {
					a[r][c] += k[i] * v[r] * v[c]
				}
			}
		}
		for r, c := range [3]float64{1, example.Centre.X, example.Centre.Y} {
			a[r][3] = example.Weight() * c
		}
		for p := range 3 {
			for r := range 3 {
				if r == p {
					continue
				}
				f := a[r][p] / a[p][p]
				for c := range 4 {
					a[r][c] -= f * a[p][c]
				}
			}
		}
		var out []float64
		for i, m := range ms {
			out = append(out, k[i]*(a[0][3]/a[0][0]+a[1][3]/a[1][1]*m.At.X+a[2][3]/a[2][2]*m.At.Y))
		}
		return out
	}
	got, err := ReactionsAt(example, ms, Resting())
	require.NoError(t, err)
	assert.Equal(t, ByEqualRates, got.Basis)
	for i, want := range plate([]float64{1, 1, 1, 1}) {
		assert.InDelta(t, want, got.Each[i].Force.Z, 1e-8)
	}
	k := []float64{200, 300, 500, 120}
	for i := range ms {
		ms[i].Rates = Rates{X: 1, Y: 1, Z: k[i]}
	}
	got, err = ReactionsAt(example, ms, Resting())
	require.NoError(t, err)
	assert.Equal(t, ByGivenRates, got.Basis)
	for i, want := range plate(k) {
		assert.InDelta(t, want, got.Each[i].Force.Z, 1e-8)
	}
	assert.NotEqual(t, ByGivenRates.String(), ByEqualRates.String())
}

func TestLoadCases(t *testing.T) {
	// Braking pushes the mass forward: the fronts take more, held rearward.
	got, err := ReactionsAt(Body{Mass: 320, Centre: r3.Vec{X: 420, Z: 200}}, threeMounts, Braking(1))
	require.NoError(t, err)
	assert.InDelta(t, 3138.128*200/1250, 1054.411-got.Each[2].Force.Z, 1e-3)
	assert.InDelta(t, 3138.128/3, got.Each[0].Force.X, 1e-3)
	// A right-hand bend pushes the mass to the left.
	got, err = ReactionsAt(Body{Mass: 320, Centre: r3.Vec{X: 420, Z: 200}}, threeMounts, CorneringRight(0.5))
	require.NoError(t, err)
	assert.Greater(t, got.Each[0].Force.Z, got.Each[1].Force.Z)
	// A bump of 3 is three times the weight, a bump of -1 pulls everywhere.
	got, err = ReactionsAt(example, threeMounts, Bump(3))
	require.NoError(t, err)
	assert.InDelta(t, 3*1054.411, got.Each[2].Force.Z, 2e-3)
	got, err = ReactionsAt(example, threeMounts, Bump(-1))
	require.NoError(t, err)
	assert.Len(t, got.Lifting(), 3)
	both := Braking(0.8).With(Bump(2))
	assert.Equal(t, "braking and bump", both.Name)
	assert.Equal(t, r3.Vec{X: 0.8, Z: 1}, both.Accel)
	assert.Equal(t, "cornering left", CorneringRight(-1).Name)
	assert.Equal(t, "rebound", Bump(0).Name)
}

func TestReactionsRefuse(t *testing.T) {
	line := []Mount{{Name: "left front"}, {Name: "right front", At: r3.Vec{X: 500, Z: 90}}, {Name: "rear", At: r3.Vec{X: 1000}}}
	_, err := ReactionsAt(example, line, Resting())
	assert.ErrorIs(t, err, ErrPadLine)
	assert.ErrorContains(t, err, "left front, right front and rear mounts")
	_, err = ReactionsAt(example, []Mount{{}, {}, {}}, Resting())
	assert.ErrorIs(t, err, ErrPadLine)
	_, err = ReactionsAt(Body{Mass: -3}, threeMounts, Resting())
	assert.ErrorContains(t, err, "powertrain: the mass is -3 kg")
	_, err = ReactionsAt(Body{Mass: math.Inf(1)}, threeMounts, Resting())
	assert.Error(t, err)
	_, err = ReactionsAt(example, threeMounts[:2], Resting())
	assert.ErrorContains(t, err, "three are needed")
	_, err = ReactionsAt(example, threeMounts, Load{Name: "braking", Accel: r3.Vec{X: math.NaN()}})
	assert.ErrorContains(t, err, "braking")
	rated := append([]Mount{}, threeMounts...)
	rated[2].Rates = Rates{X: 1, Y: 1}
	_, err = ReactionsAt(example, rated, Resting())
	assert.ErrorContains(t, err, "rear mount: the vertical rate is 0 N/mm")
	rated[2].Rates = Rates{X: 1, Y: 1, Z: 1}
	_, err = ReactionsAt(example, rated, Resting())
	assert.ErrorContains(t, err, "left front mount: it has no rates")
	rated[2] = Mount{Name: "rear", At: r3.Vec{X: math.NaN()}}
	_, err = ReactionsAt(example, rated, Resting())
	assert.ErrorContains(t, err, "rear mount: its place")
}

// The lever: a powertrain 60 kg heavier and 100 mm further back.
func TestAxleLoadsAndHeight(t *testing.T) {
	a := Axles{Front: 0, Rear: 2500, FrontRate: 25, RearRate: 30}
	was := Body{Mass: 200, Centre: r3.Vec{X: -50}}
	is := Body{Mass: 260, Centre: r3.Vec{X: 50}}
	d, err := a.LoadChange(was, is)
	require.NoError(t, err)
	assert.InDelta(t, (260*50+200*50)/2500.0*Gravity, d.Rear, 1e-9)
	assert.InDelta(t, 60*Gravity, d.Front+d.Rear, 1e-9)
	h, err := a.HeightChange(d)
	require.NoError(t, err)
	assert.InDelta(t, -d.Front/50, h.Front, 1e-12)
	assert.InDelta(t, -d.Rear/60, h.Rear, 1e-12)
	_, err = a.LoadChange(Body{}, is)
	assert.NoError(t, err)

	_, err = Axles{Front: 0, Rear: 2500, FrontRate: 20}.HeightChange(d)
	assert.ErrorContains(t, err, "rear axle: the spring rate at the wheel is 0")
	_, err = a.HeightChange(AxleChange{Front: math.NaN()})
	assert.Error(t, err)
	_, err = Axles{Front: 100, Rear: 100}.LoadChange(was, is)
	assert.Error(t, err)
	_, err = a.LoadChange(Body{Mass: -2}, is)
	assert.ErrorContains(t, err, "old powertrain")
	_, err = a.LoadChange(was, Body{})
	assert.ErrorContains(t, err, "new powertrain")
}

func TestIsolatorAsMount(t *testing.T) {
	p := Upright("left front", r3.Vec{Y: -310}, Rates{X: 100, Y: 100, Z: 300})
	p.Frame = geom.Orient(0, 0, 45*geom.Deg, p.Frame.At)
	m := p.Mount()
	assert.InDelta(t, 100, m.Rates.X, 1e-9)
	assert.InDelta(t, 200, m.Rates.Y, 1e-9)
	assert.InDelta(t, 200, m.Rates.Z, 1e-9)
}
