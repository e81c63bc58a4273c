package travel

import (
	"errors"
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// straightPath moves the hub along a straight line, without turning. Along
// points up the line; any length.
type straightPath struct{ Along r3.Vec }

func (a straightPath) motion(_ r3.Vec, rise float64) (geom.Pose, error) {
	u, err := checkAxis("path of the wheel end", a.Along)
	if err != nil {
		return geom.Pose{}, err
	}
	if u.Z < 0.1 {
		return geom.Pose{}, errors.New("path of the wheel end: it does not rise; give its direction pointing up")
	}
	m := geom.Identity()
	m.At = r3.Scale(rise/u.Z, u)
	return m, nil
}

// halfShaft is the right-hand shaft of a fixed differential, level at ride.
func halfShaft(p WheelPath) HalfShaft {
	return HalfShaft{
		Inner: r3.Vec{X: 2800, Y: 150, Z: 350}, Outer: r3.Vec{X: 2800, Y: 650, Z: 350},
		InnerAxis: r3.Vec{Y: 1}, OuterAxis: r3.Vec{Y: 2}, Path: p,
	}
}

func TestStraightWheelPath(t *testing.T) {
	points, err := halfShaft(straightPath{r3.Vec{Z: 5}}).Sweep(100, 80, 19)
	require.NoError(t, err)
	for _, p := range points {
		assert.InDelta(t, math.Atan(math.Abs(p.Rise)/500), p.InnerAngle.Rad(), 1e-12)
		assert.InDelta(t, p.InnerAngle.Rad(), p.OuterAngle.Rad(), 1e-12)
		assert.InDelta(t, math.Hypot(500, p.Rise), p.Length, 1e-9)
		assert.InDelta(t, p.Length-500, p.Plunge, 1e-9)
	}
	assert.Zero(t, points[10].Rise)
	assert.Zero(t, points[10].Plunge)
	p, err := halfShaft(straightPath{r3.Vec{X: 0.2, Z: 1}}).At(50)
	require.NoError(t, err)
	assertVec(t, r3.Vec{X: 2810, Y: 650, Z: 400}, p.Outer, 1e-9, "outer")
}

// A swing axle whose pivot line passes through the inner joint fore and aft:
// the shaft never changes length and the outer joint never bends.
func TestSwingArmAboutTheInnerJoint(t *testing.T) {
	h := halfShaft(SwingArm{r3.Vec{X: 2500, Y: 150, Z: 350}, r3.Vec{X: 3100, Y: 150, Z: 350}})
	for _, rise := range []float64{-120, 0, 60} {
		p, err := h.At(rise)
		require.NoError(t, err)
		assert.InDelta(t, 0, p.Plunge, 1e-9)
		assert.InDelta(t, 0, p.OuterAngle.Rad(), 1e-12)
		assert.InDelta(t, math.Asin(math.Abs(rise)/500), p.InnerAngle.Rad(), 1e-12)
	}
	// A trailing arm turns the hub about the line across, which the stub axle
	// lies along, so both angles come from the shaft alone.
	h = halfShaft(SwingArm{r3.Vec{X: 2300, Y: 200, Z: 400}, r3.Vec{X: 2300, Y: 500, Z: 400}})
	p, err := h.At(70)
	require.NoError(t, err)
	assert.InDelta(t, p.InnerAngle.Rad(), p.OuterAngle.Rad(), 1e-12)
	x := math.Sqrt(500*500 + 50*50 - 20*20) // from the pivot line, 20 mm above it
	assertVec(t, r3.Vec{X: 2300 + x, Y: 650, Z: 420}, p.Outer, 1e-9, "outer")
}

// The ball joint goes round its arc; the outer joint goes with it.
func TestControlArm(t *testing.T) {
	ball := r3.Vec{X: 2800, Y: 660, Z: 230}
	h := halfShaft(ControlArm{r3.Vec{X: 2600, Y: 260, Z: 250}, r3.Vec{X: 3000, Y: 260, Z: 250}, ball})
	arm := math.Hypot(400, 20)
	for _, rise := range []float64{-90, 40, 100} {
		p, err := h.At(rise)
		require.NoError(t, err)
		dy := math.Sqrt(arm*arm-(rise-20)*(rise-20)) - 400
		assertVec(t, r3.Vec{X: 2800, Y: 650 + dy, Z: 350 + rise}, p.Outer, 1e-9, "outer")
		assert.InDelta(t, math.Hypot(500+dy, rise)-500, p.Plunge, 1e-9)
		assert.InDelta(t, p.InnerAngle.Rad(), p.OuterAngle.Rad(), 1e-12)
	}
	points, err := h.Sweep(10, 900, 92)
	var bind *BindError
	require.ErrorAs(t, err, &bind)
	assert.InDelta(t, 20+arm, bind.Rise, 1e-9)
	assert.NotEmpty(t, points)
}

// Each end is bent against its own axis. The axes differ here, and the hub's
// turns with its arm; angles by cross and dot product of plain components.
func TestEachJointGoesByItsOwnAxis(t *testing.T) {
	h := HalfShaft{
		Inner: r3.Vec{X: 40, Y: 150, Z: 330}, Outer: r3.Vec{X: 60, Y: 640, Z: 290},
		InnerAxis: r3.Vec{X: 0.06, Y: 1, Z: 0.09}, OuterAxis: r3.Vec{X: -0.02, Y: 1, Z: -0.04},
		Path: SwingArm{r3.Vec{X: -200, Y: 250, Z: 250}, r3.Vec{X: 240, Y: 200, Z: 270}},
	}
	between := func(a, b r3.Vec) float64 {
		cx, cy, cz := a.Y*b.Z-a.Z*b.Y, a.Z*b.X-a.X*b.Z, a.X*b.Y-a.Y*b.X
		return math.Atan2(math.Sqrt(cx*cx+cy*cy+cz*cz), a.X*b.X+a.Y*b.Y+a.Z*b.Z)
	}
	for _, rise := range []float64{-70, 0, 60} {
		p, err := h.At(rise)
		require.NoError(t, err)
		m, err := h.Path.motion(h.Outer, rise)
		require.NoError(t, err)
		shaft := r3.Vec{X: p.Outer.X - 40, Y: p.Outer.Y - 150, Z: p.Outer.Z - 330}
		// The hub's axis as the difference of two of its points, each carried.
		hub := r3.Sub(m.Point(r3.Vec{X: 58, Y: 740, Z: 286}), m.Point(h.Outer))
		assert.InDelta(t, between(r3.Vec{X: 0.06, Y: 1, Z: 0.09}, shaft), p.InnerAngle.Rad(), 1e-12)
		assert.InDelta(t, between(shaft, hub), p.OuterAngle.Rad(), 1e-12)
		assert.Greater(t, math.Abs(p.InnerAngle.Rad()-p.OuterAngle.Rad()), 0.02, "or a mixed-up axis would not show")
	}
}

// A level shaft straight out: at full lock the outer joint works at the lock. A
// shaft that runs aside or falls adds to it; by the cosine of two directions
// written out.
func TestLockAddsAtTheOuterJoint(t *testing.T) {
	h := halfShaft(straightPath{r3.Vec{Z: 1}})
	h.Lock = 35 * geom.Deg
	p, err := h.At(0)
	require.NoError(t, err)
	assert.InDelta(t, 35, p.OuterAngle.Degrees(), 1e-9)
	assert.Zero(t, p.InnerAngle, "steering does not reach the inner joint")

	h.Outer.X += 60 // the hub stands 60 mm behind the output
	for _, rise := range []float64{-80, 50} {
		p, err = h.At(rise)
		require.NoError(t, err)
		long := math.Sqrt(60*60 + 500*500 + rise*rise)
		sin, cos := math.Sincos(35 * math.Pi / 180)
		assert.InDelta(t, math.Acos((500*cos-60*sin)/long), p.OuterAngle.Rad(), 1e-9)
	}
	// A hub with toe, its shaft aside to either end: level, so plain plan angles.
	h.OuterAxis = r3.Vec{X: 0.1, Y: 1}
	for _, aside := range []float64{-60, 60} {
		h.Outer.X = h.Inner.X + aside
		p, err = h.At(0)
		require.NoError(t, err)
		apart := math.Abs(math.Atan2(aside, 500) - math.Atan2(0.1, 1))
		assert.InDelta(t, 35*math.Pi/180+apart, p.OuterAngle.Rad(), 1e-9)
	}
	for _, bad := range []geom.Angle{-0.1, 2, geom.Angle(nan)} {
		h.Lock = bad
		_, err = h.At(0)
		require.ErrorContains(t, err, "lock")
	}
}

func TestHalfShaftRefusals(t *testing.T) {
	up := straightPath{r3.Vec{Z: 1}}
	a, b := r3.Vec{X: 2600, Y: 260, Z: 250}, r3.Vec{X: 3000, Y: 260, Z: 250}
	with := func(f func(*HalfShaft)) HalfShaft { h := halfShaft(up); f(&h); return h }
	for _, c := range []struct {
		name, want string
		h          HalfShaft
	}{
		{"no path", "no path", halfShaft(nil)},
		{"level path", "does not rise", halfShaft(straightPath{r3.Vec{X: 1}})},
		{"no direction", "no length", halfShaft(straightPath{})},
		{"same pivots", "both pivots at the same point", halfShaft(SwingArm{a, a})},
		{"ball on the line", "does not lift", halfShaft(ControlArm{a, b, r3.Vec{X: 2700, Y: 260, Z: 250}})},
		{"ball", "ball joint: its place", halfShaft(ControlArm{a, b, r3.Vec{X: nan}})},
		{"pivot", "second arm pivot: its place", halfShaft(SwingArm{a, r3.Vec{X: nan}})},
		{"same joints", "both joints at the same point", with(func(h *HalfShaft) { h.Outer = h.Inner })},
		{"inboard axis", "point outboard", with(func(h *HalfShaft) { h.InnerAxis.Y = -1 })},
		{"no axis", "axis of the outer joint: it has no length", with(func(h *HalfShaft) { h.OuterAxis = r3.Vec{} })},
		{"inner", "inner joint: its place", with(func(h *HalfShaft) { h.Inner.X = math.Inf(-1) })},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.h.At(0)
			require.ErrorContains(t, err, c.want)
			_, err = c.h.Sweep(10, 10, 3)
			require.Error(t, err)
		})
	}
	_, err := halfShaft(up).At(nan)
	require.Error(t, err)
	_, err = halfShaft(up).Sweep(-1, 10, 3)
	require.Error(t, err)
}

// One way of the hub serves every place of the inner joint, point by point as
// asked for one rise at a time; what binds on the way comes with what went before.
func TestHubsServeEveryInnerJoint(t *testing.T) {
	h := halfShaft(ControlArm{PivotA: r3.Vec{X: 2700, Y: 250, Z: 300}, PivotB: r3.Vec{X: 2900, Y: 260, Z: 310}, Ball: r3.Vec{X: 2800, Y: 640, Z: 280}})
	h.Lock = 20 * geom.Deg
	hubs, err := h.Hubs(90, 70, 9)
	require.NoError(t, err)
	require.Len(t, hubs, 9)
	for _, inner := range []r3.Vec{h.Inner, {X: 2830, Y: 120, Z: 340}} {
		h.Inner = inner
		points, err := h.Along(hubs)
		require.NoError(t, err)
		for i, p := range points {
			want, err := h.At(hubs[i].Rise)
			require.NoError(t, err)
			assert.Equal(t, want, p)
		}
	}
	hubs, err = h.Hubs(90, 900, 9)
	require.Error(t, err)
	assert.NotEmpty(t, hubs)
	points, err := h.Sweep(90, 900, 9)
	require.Error(t, err)
	assert.Len(t, points, len(hubs))
	_, err = HalfShaft{Outer: h.Outer}.Hubs(90, 70, 9)
	require.ErrorContains(t, err, "no path")
}
