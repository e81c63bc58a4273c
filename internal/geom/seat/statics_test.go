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

// Statics by hand: rear = W·420/1250, fronts half the rest each.
func TestWeightsOfTheWorkedExample(t *testing.T) {
	got, err := WeightsAtRest(example, threeMounts)
	require.NoError(t, err)
	for i, want := range []float64{1041.858, 1041.858, 1054.411} {
		assert.InDelta(t, want, got[i], 5e-4)
	}
	// Behind the rear mount the fronts are pulled up.
	got, err = WeightsAtRest(Body{Mass: 320, Centre: r3.Vec{X: 1500, Y: 100}}, threeMounts)
	require.NoError(t, err)
	assert.InDelta(t, example.Weight()*1500/1250, got[2], 1e-9)
	assert.InDelta(t, example.Weight()*(-250/1250.0/2+100/620.0), got[1], 1e-9)
}

// A torque of 400 N·m × 3.06 = 1224 N·m at the propshaft shifts 1224/0.620 N
// from left to right on mounts that hardly give.
func TestTorqueOfTheWorkedExample(t *testing.T) {
	m, err := Drive{Layout: Longitudinal, Engine: 400e3, Gear: 3.06, Output: r3.Vec{X: 1}}.Reaction()
	require.NoError(t, err)
	assertVec(t, r3.Vec{X: -1224e3}, m, 1e-6) // +X forward is -X rearward
	got, err := Settle(example, threePads(Rates{X: 1e8, Y: 1e8, Z: 1e8}), Load{Name: "first gear", Torque: m})
	require.NoError(t, err)
	for i, want := range []float64{-932.335, 3016.052, 1054.411} {
		assertVec(t, r3.Vec{Z: want}, got.Pads[i].Force, 2e-3)
		assert.Equal(t, want < 0, got.Pads[i].Lifts)
	}
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

	for _, d := range []Drive{
		{}, {Layout: Longitudinal, Engine: 1, Gear: 1}, {Layout: Longitudinal, Engine: 1, Gear: 1, Output: r3.Vec{X: -1}},
		{Layout: Transaxle, Engine: 1, Gear: 1, Output: r3.Vec{Y: 1}}, {Layout: Transaxle, Engine: 1, Gear: 1, Final: 3, Output: r3.Vec{Y: -1}},
		{Layout: Longitudinal, Engine: -1, Gear: 1, Output: r3.Vec{X: 1}}, {Layout: Longitudinal, Engine: math.NaN(), Gear: 1, Output: r3.Vec{X: 1}},
		{Layout: Longitudinal, Engine: 1, Output: r3.Vec{X: 1}}, {Engine: 1, Gear: 1, Output: r3.Vec{X: 1}},
	} {
		_, err := d.Reaction()
		assert.Error(t, err, "%+v", d)
	}
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
	return ms
}

func drawBody(t *rapid.T) Body {
	return Body{
		Mass:   rapid.Float64Range(80, 600).Draw(t, "mass"),
		Centre: r3.Add(r3.Vec{X: 450, Z: 80}, drawVec(t, 80, "centre")),
	}
}

// The weights carry the weight at its place.
func TestWeightsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, ms := drawBody(t), drawMounts(t)[:3]
		got, err := WeightsAtRest(b, ms)
		require.NoError(t, err)
		sum, at := 0.0, r3.Vec{}
		for i, w := range got {
			sum += w
			at = r3.Add(at, r3.Scale(w/b.Weight(), ms[i].At))
		}
		assert.InDelta(t, b.Weight(), sum, 1e-8)
		assert.InDelta(t, b.Centre.X, at.X, 1e-8)
		assert.InDelta(t, b.Centre.Y, at.Y, 1e-8)
	})
}

func TestLoadCases(t *testing.T) {
	stiff := threePads(Rates{X: 1e8, Y: 1e8, Z: 1e8})
	at := func(b Body, l Load) []Pad {
		got, err := Settle(b, stiff, l)
		require.NoError(t, err)
		return got.Pads
	}
	high := Body{Mass: 320, Centre: r3.Vec{X: 420, Z: 200}}
	// Braking pushes the mass forward: the fronts take more, held rearward.
	got := at(high, Braking(1))
	assert.InDelta(t, 3138.128*200/1250, 1054.411-got[2].Force.Z, 1e-2)
	assert.InDelta(t, 3138.128, got[0].Force.X+got[1].Force.X+got[2].Force.X, 1e-2)
	// A right-hand bend pushes the mass to the left.
	got = at(high, CorneringRight(0.5))
	assert.Greater(t, got[0].Force.Z, got[1].Force.Z)
	// A bump of 3 is three times the weight, a bump of -1 pulls everywhere.
	got = at(example, Bump(3))
	assert.InDelta(t, 3*1054.411, got[2].Force.Z, 2e-3)
	for _, p := range at(example, Bump(-1)) {
		assert.True(t, p.Lifts)
	}
	both := Braking(0.8).With(Bump(2))
	assert.Equal(t, "braking and bump", both.Name)
	assert.Equal(t, r3.Vec{X: 0.8, Z: 1}, both.Accel)
	assert.Equal(t, "cornering left", CorneringRight(-1).Name)
	assert.Equal(t, "rebound", Bump(0).Name)
}

func TestWeightsRefuse(t *testing.T) {
	line := []Mount{{Name: "left front"}, {Name: "right front", At: r3.Vec{X: 500, Z: 90}}, {Name: "rear", At: r3.Vec{X: 1000}}}
	_, err := WeightsAtRest(example, line)
	assert.ErrorIs(t, err, ErrPadLine)
	assert.ErrorContains(t, err, "left front, right front and rear mounts")
	_, err = WeightsAtRest(example, []Mount{{}, {}, {}})
	assert.ErrorIs(t, err, ErrPadLine)
	_, err = WeightsAtRest(Body{Mass: -3}, threeMounts)
	assert.ErrorContains(t, err, "powertrain: the mass is -3 kg")
	_, err = WeightsAtRest(Body{Mass: math.Inf(1)}, threeMounts)
	assert.Error(t, err)
	_, err = WeightsAtRest(example, threeMounts[:2])
	assert.ErrorContains(t, err, "three are needed")
	_, err = WeightsAtRest(example, append(threeMounts[:3:3], Mount{Name: "gearbox", At: r3.Vec{X: 800}}))
	assert.ErrorIs(t, err, ErrShared)
	_, err = WeightsAtRest(example, append(threeMounts[:2:2], Mount{Name: "rear", At: r3.Vec{X: math.NaN()}}))
	assert.ErrorContains(t, err, "rear mount: its place")
	_, err = Settle(example, threePads(Rates{X: 1, Y: 1, Z: 1}), Load{Name: "braking", Accel: r3.Vec{X: math.NaN()}})
	assert.ErrorContains(t, err, "braking")
}

// By hand: 1000 kg on the axle and a friction of 0.9 are 8826 N at the road,
// 3309.7 N·m on a radius of 375 mm, 827.4 N·m before an axle of 4.
func TestWheelSlip(t *testing.T) {
	s := Slip{Load: 1000, Friction: 0.9, Radius: 375, Ratio: 4}
	got, err := s.Torque()
	require.NoError(t, err)
	assert.InDelta(t, 827436.1, got, 0.1)
	for what, bad := range map[string]Slip{
		"laden axle load": {Friction: 0.9, Radius: 375, Ratio: 4},
		"friction":        {Load: 1000, Friction: -1, Radius: 375, Ratio: 4},
		"tyre's radius":   {Load: 1000, Friction: 0.9, Radius: math.NaN(), Ratio: 4},
		"axle ratio":      {Load: 1000, Friction: 0.9, Radius: 375},
	} {
		_, err := bad.Torque()
		assert.ErrorContains(t, err, what)
	}
}

// The lever: a powertrain 60 kg heavier and 100 mm further back.
func TestAxleLoadsAndHeight(t *testing.T) {
	a := Axles{Front: 0, Rear: 2500, FrontRate: 25, RearRate: 30}
	was := Body{Mass: 200, Centre: r3.Vec{X: -50}}
	is := Body{Mass: 260, Centre: r3.Vec{X: 50}}
	d, err := a.LoadChange(was, is)
	require.NoError(t, err)
	assert.InDelta(t, (260*50+200*50)/2500.0*geom.Gravity, d.Rear, 1e-9)
	assert.InDelta(t, 60*geom.Gravity, d.Front+d.Rear, 1e-9)
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

// A pair of mounts that lean towards each other: stiff along their own axes,
// soft across. Rolling them about the fore-aft axis is what Orient does.
func TestALeaningIsolator(t *testing.T) {
	rates := Rates{X: 90, Y: 100, Z: 300}
	p, err := Leaning("left front", r3.Vec{Y: -310}, r3.Vec{Y: -2, Z: 2}, r3.Vec{X: 3}, rates)
	require.NoError(t, err)
	want := geom.Orient(0, 0, 45*geom.Deg, r3.Vec{Y: -310})
	assertVec(t, want.X, p.Frame.X, 1e-12)
	assertVec(t, want.Y, p.Frame.Y, 1e-12)
	assertVec(t, want.Z, p.Frame.Z, 1e-12)
	k := p.stiffness() // by hand: (300 ± 100)/2 in the plane it leans in
	assert.InDelta(t, 200, k[2][2], 1e-9)
	assert.InDelta(t, 200, k[1][1], 1e-9)
	assert.InDelta(t, -100, k[1][2], 1e-9)
	assert.InDelta(t, 90, k[0][0], 1e-9)

	// Numbers off by rounding are made square; more is refused.
	p, err = Leaning("rear", r3.Vec{}, r3.Vec{Y: 0.5, Z: 0.87}, r3.Vec{X: 1, Z: 0.01}, rates)
	require.NoError(t, err)
	require.NoError(t, p.check())
	_, err = Leaning("rear", r3.Vec{}, r3.Vec{Z: 1}, r3.Vec{X: 1, Z: 0.2}, rates)
	assert.ErrorContains(t, err, "rear mount: its upward and its fore-aft axis are 11 degrees off square")
	_, err = Leaning("rear", r3.Vec{}, r3.Vec{}, r3.Vec{X: 1}, rates)
	assert.ErrorContains(t, err, "upward axis has no direction")
	_, err = Leaning("rear", r3.Vec{}, r3.Vec{Z: 1}, r3.Vec{X: math.NaN()}, rates)
	assert.ErrorContains(t, err, "fore-aft axis has no direction")
}

// Mounts a few hundredths of a millimetre off one line hold nothing; a few
// millimetres off it they do, whichever way the line runs.
func TestMountsNearlyInLine(t *testing.T) {
	for _, dir := range []r3.Vec{{X: 1}, {Y: 1}, {X: 0.6, Y: 0.8}, {X: 0.8, Y: -0.6}} {
		aside := r3.Vec{X: -dir.Y, Y: dir.X}
		at := func(off float64) []Mount {
			return []Mount{
				{Name: "left front", At: r3.Scale(-400, dir)},
				{Name: "right front", At: r3.Add(r3.Scale(100, dir), r3.Scale(off, aside))},
				{Name: "rear", At: r3.Add(r3.Scale(900, dir), r3.Vec{Z: 50})},
			}
		}
		assert.ErrorIs(t, inPlan(at(0.02)), ErrPadLine, "%v", dir)
		assert.NoError(t, inPlan(at(4)), "%v", dir)
		flat := at(2e-4)
		flat[2].At.Z = 0
		assert.ErrorIs(t, inLine(flat), ErrOneLine, "%v", dir)
		assert.NoError(t, inLine(at(0)), "the rear one is 50 mm up")
	}
	mid, reach := middle([]Mount{{At: r3.Vec{X: 3}}, {At: r3.Vec{Y: 6}}, {At: r3.Vec{Z: 9}}})
	assertVec(t, r3.Vec{X: 1, Y: 2, Z: 3}, mid, 1e-12)
	assert.InDelta(t, math.Sqrt(1+4+36), reach, 1e-12)
}
