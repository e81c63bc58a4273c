package pickup

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/travel"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// arms are two arms as they are found on cars: the upper one shorter, both axes leaning.
func arms() Arms {
	return Arms{
		PivotA: r3.Vec{X: -150, Y: 380, Z: 10}, PivotB: r3.Vec{X: 160, Y: 390, Z: -4}, Ball: r3.Vec{X: 4, Y: 730, Z: -30},
		UpperPivotA: r3.Vec{X: -80, Y: 470, Z: 250}, UpperPivotB: r3.Vec{X: 120, Y: 476, Z: 236}, UpperBall: r3.Vec{X: 24, Y: 700, Z: 230},
		Tie: &Tie{Inner: r3.Vec{X: -130, Y: 400, Z: 60}, Outer: r3.Vec{X: -140, Y: 720, Z: 40}}, Wheel: r3.Vec{X: 0, Y: 790, Z: 60},
	}
}

func apart(a, b r3.Vec) float64 { return r3.Norm(r3.Sub(a, b)) }

// What the parts are made of keeps its lengths at any rise, and with the rise that is
// all there is to know of a wheel: six freedoms, held by two arms' axes, three lengths
// and the rise.
func TestPartsKeepTheirLengths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := arms()
		for _, v := range []*r3.Vec{&a.PivotA, &a.PivotB, &a.Ball, &a.UpperPivotA, &a.UpperPivotB, &a.UpperBall, &a.Tie.Inner, &a.Tie.Outer, &a.Wheel} {
			d := rapid.Float64Range(-15, 15)
			*v = r3.Add(*v, r3.Vec{X: d.Draw(t, "x"), Y: d.Draw(t, "y"), Z: d.Draw(t, "z")})
		}
		p, err := NewArms(a)
		require.NoError(t, err)
		rise := rapid.Float64Range(-70, 70).Draw(t, "rise")
		s, err := p.At(rise)
		require.NoError(t, err)
		ball, upper, outer := s.Point(Lower, a.Ball), s.Point(Upper, a.UpperBall), s.Point(Hub, a.Tie.Outer)
		for _, same := range [][2]float64{
			{s.Wheel.Z - a.Wheel.Z, rise},
			{apart(ball, s.Point(Hub, a.Ball)), 0}, {apart(upper, s.Point(Hub, a.UpperBall)), 0},
			{apart(ball, a.PivotA), apart(a.Ball, a.PivotA)}, {apart(ball, a.PivotB), apart(a.Ball, a.PivotB)},
			{apart(upper, a.UpperPivotA), apart(a.UpperBall, a.UpperPivotA)}, {apart(upper, a.UpperPivotB), apart(a.UpperBall, a.UpperPivotB)},
			{apart(ball, upper), apart(a.Ball, a.UpperBall)}, {apart(outer, a.Tie.Inner), apart(a.Tie.Outer, a.Tie.Inner)},
			{apart(outer, ball), apart(a.Tie.Outer, a.Ball)}, {apart(s.Wheel, outer), apart(a.Wheel, a.Tie.Outer)}, {apart(s.Wheel, upper), apart(a.Wheel, a.UpperBall)},
		} {
			assert.InDelta(t, same[1], same[0], 1e-7)
		}
		// Near ride height it is the branch that it stands on.
		near, err := p.At(0.01)
		require.NoError(t, err)
		assert.Less(t, apart(near.Point(Hub, a.Tie.Outer), a.Tie.Outer), 0.1)
	})
}

// Equal parallel arms carry the hub parallel to itself on a circle of their length.
func TestEqualParallelArms(t *testing.T) {
	a := Arms{PivotA: r3.Vec{X: -100, Y: 300}, PivotB: r3.Vec{X: 100, Y: 300}, Ball: r3.Vec{Y: 700},
		UpperPivotA: r3.Vec{X: -100, Y: 300, Z: 250}, UpperPivotB: r3.Vec{X: 100, Y: 300, Z: 250}, UpperBall: r3.Vec{Y: 700, Z: 250}, Wheel: r3.Vec{Y: 760, Z: 90}}
	p, err := NewArms(a)
	require.NoError(t, err)
	for _, z := range []float64{-120, -35, 0, 20, 150} {
		s, err := p.At(z)
		require.NoError(t, err)
		in := 400 - math.Sqrt(400*400-z*z)
		assert.InDelta(t, 760-in, s.Wheel.Y, 1e-8)
		assert.InDelta(t, 0, s.Motion[Hub].Roll().Rad(), 1e-9)
		// A spring from half the lower arm straight up: by virtual work half of cos turn
		// over cos turn, and its lean that of the chord.
		m, err := p.Motion(Span{Chassis: r3.Vec{Y: 500, Z: 400}, End: r3.Vec{Y: 500}, On: Lower}, z)
		require.NoError(t, err)
		end := r3.Vec{Y: 300 + 200*math.Sqrt(1-z*z/160000), Z: z / 2}
		axis := r3.Unit(r3.Sub(r3.Vec{Y: 500, Z: 400}, end))
		way := r3.Vec{Y: -z / 400, Z: math.Sqrt(1 - z*z/160000)}
		assert.InDelta(t, 0.5*r3.Dot(axis, way)/way.Z, m.Ratio, 1e-6)
		assert.InDelta(t, 0.5/way.Z, m.Lever, 1e-6)
		assert.InDelta(t, math.Acos(r3.Dot(axis, way)), m.Lean.Rad(), 1e-4)
	}
	_, err = p.At(420)
	var bind *BindError
	require.ErrorAs(t, err, &bind)
	assert.InDelta(t, 395, bind.Rise, 12)
}

// The lower end of a strut on a short arm, by the circle of the arm; the strut's top
// keeps its distance from nothing, so its length is what the ball's place says.
func TestStrut(t *testing.T) {
	a := Strut{PivotA: r3.Vec{X: -100, Y: -300}, PivotB: r3.Vec{X: 100, Y: -300}, Ball: r3.Vec{Y: -650}, Top: r3.Vec{X: 30, Y: -560, Z: 600}, Wheel: r3.Vec{Y: -720, Z: 80}}
	p, err := NewStrut(a)
	require.NoError(t, err)
	for _, z := range []float64{-60, 40, 90} {
		s, err := p.At(z)
		require.NoError(t, err)
		ball := s.Point(Lower, a.Ball)
		assert.InDelta(t, 350, math.Hypot(ball.Y+300, ball.Z), 1e-9)
		assert.InDelta(t, apart(a.Ball, a.Wheel), apart(ball, s.Wheel), 1e-9)
		axis := r3.Unit(r3.Sub(a.Top, a.Ball))
		assert.InDelta(t, 0, geom.Between(s.Motion[Hub].Dir(axis), r3.Sub(a.Top, ball)).Rad(), 1e-7)
		assert.InDelta(t, 80+z, s.Wheel.Z, 1e-9)
	}
}

// By energy: what the spring carries at the wheel is the slope of ½k(free−L)² over the
// rise, and the wheel rate the slope of that.
func TestWheelRateByEnergy(t *testing.T) {
	p, err := NewArms(arms())
	require.NoError(t, err)
	s := Spring{Span: Span{Chassis: r3.Vec{X: 20, Y: 470, Z: 330}, End: r3.Vec{X: 8, Y: 610, Z: -5}, On: Lower}, Coil: 240, Free: 330, Rate: 70}
	energy := func(z float64) float64 {
		at, err := p.At(z)
		require.NoError(t, err)
		short := s.Free - s.CoilAt(&at)
		return s.Rate * short * short / 2
	}
	for _, z := range []float64{-40, 0, 55} {
		f, err := p.AtWheel(s, z)
		require.NoError(t, err)
		const h = 0.5
		assert.InDelta(t, (energy(z-2*h)-8*energy(z-h)+8*energy(z+h)-energy(z+2*h))/(12*h), f, 1e-4*f)
		k, err := p.WheelRate(s, z)
		require.NoError(t, err)
		assert.InDelta(t, (energy(z+4)-2*energy(z)+energy(z-4))/16, k, 3e-3*k)
		m, err := p.Motion(s.Span, z)
		require.NoError(t, err)
		assert.InDelta(t, m.Ratio, m.Lever*math.Cos(m.Lean.Rad()), 1e-4)
	}
}

// A leaning spring under an axle that goes straight up, all by hand: 300 mm long at 30°
// has two and three quarters of its rate, less what the turning spring gives back.
func TestLeaningSpring(t *testing.T) {
	p, err := NewAxle(nil, r3.Vec{Y: 700})
	require.NoError(t, err)
	s := Spring{Span: Span{Chassis: r3.Vec{Y: 350, Z: 300 * math.Sqrt(3) / 2}, End: r3.Vec{Y: 500}, On: Hub}, Coil: 300, Free: 400, Rate: 40}
	m, err := p.Motion(s.Span, 0)
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(3)/2, m.Ratio, 1e-6)
	assert.InDelta(t, 1, m.Lever, 1e-9)
	assert.InDelta(t, 30, m.Lean.Degrees(), 1e-6)
	f, err := p.AtWheel(s, 0)
	require.NoError(t, err)
	assert.InDelta(t, 4000*math.Sqrt(3)/2, f, 0.01)
	// d²L/dz² = sin²/L for a point that goes straight.
	k, err := p.WheelRate(s, 0)
	require.NoError(t, err)
	assert.InDelta(t, 40*0.75-4000*0.25/300, k, 1e-3)
	coil, err := p.CoilFor(s.Span, 400, 40, f)
	require.NoError(t, err)
	assert.InDelta(t, 300, coil, 1e-4)
	at, err := p.Settle(s, f, 80, 60)
	require.NoError(t, err)
	assert.InDelta(t, 0, at, 1e-3)
	at, err = p.Settle(s, f+300, 80, 60)
	require.NoError(t, err)
	there, err := p.AtWheel(s, at)
	require.NoError(t, err)
	assert.InDelta(t, f+300, there, 1e-3)
	assert.Greater(t, at, 10.0)
	_, err = p.Settle(s, 9*f, 80, 60)
	require.ErrorContains(t, err, "does not carry")
	_, err = p.Settle(s, 1, 40, 60)
	require.ErrorContains(t, err, "carries more")
	off := s
	off.Free = 290
	f, err = p.AtWheel(off, 0)
	require.NoError(t, err)
	assert.Zero(t, f)
	k, err = p.WheelRate(off, 0)
	require.NoError(t, err)
	assert.Zero(t, k)
	// The rise at which it has come to 270 mm, from the triangle.
	rise, reached, err := p.RiseAt(s.Span, 270, 80, 60)
	require.NoError(t, err)
	assert.True(t, reached)
	assert.InDelta(t, 300*math.Sqrt(3)/2-math.Sqrt(270*270-150*150), rise, 1e-5)
	_, reached, err = p.RiseAt(s.Span, 200, 80, 60)
	require.NoError(t, err)
	assert.False(t, reached)
	rise, reached, err = p.RiseAt(s.Span, 500, 80, 60)
	require.NoError(t, err)
	assert.True(t, reached, "already")
	assert.InDelta(t, -80, rise, 0)
}

// A spring at half a trailing arm has a quarter of its rate at the wheel.
func TestTrailingArm(t *testing.T) {
	p, err := NewTrailingArm(TrailingArm{PivotA: r3.Vec{Y: 300}, PivotB: r3.Vec{Y: 600}, Wheel: r3.Vec{X: 500, Y: 700}})
	require.NoError(t, err)
	s := Spring{Span: Span{Chassis: r3.Vec{X: 250, Y: 500, Z: 1e5}, End: r3.Vec{X: 250, Y: 500}, On: Lower}, Coil: 300, Free: 400, Rate: 40}
	m, err := p.Motion(s.Span, 0)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, m.Ratio, 1e-6)
	at, err := p.At(250)
	require.NoError(t, err)
	assert.InDelta(t, 500*math.Cos(math.Pi/6), at.Wheel.X, 1e-7)
	assert.InDelta(t, 250*math.Cos(math.Pi/6), at.Point(Hub, s.End).X, 1e-7)
}

func TestTowerAndItsCut(t *testing.T) {
	// tan 45° twice: the axis is the diagonal of a cube.
	for _, right := range []bool{false, true} {
		side := -1.0
		if right {
			side = 1
		}
		w, err := TowerOver(r3.Vec{X: 10, Y: side * 500, Z: -60}, 300*math.Sqrt(3), 45*geom.Deg, 45*geom.Deg, right)
		require.NoError(t, err)
		assert.InDelta(t, 0, apart(r3.Vec{X: 310, Y: side * 200, Z: 240}, w.Upper), 1e-9)
	}
	w, err := TowerOver(r3.Vec{Y: -500}, 250, -10*geom.Deg, 0, false)
	require.NoError(t, err)
	assert.InDelta(t, -250*math.Sin(10*math.Pi/180), w.Upper.X, 1e-9, "to the front")
	for _, lean := range []geom.Angle{85 * geom.Deg, -85 * geom.Deg} {
		_, err = TowerOver(r3.Vec{}, 250, lean, 0, true)
		require.ErrorContains(t, err, "lean")
		_, err = TowerOver(r3.Vec{}, 250, 0, lean, true)
		require.ErrorContains(t, err, "lean")
	}
	_, err = TowerOver(r3.Vec{}, 0, 0, 0, true)
	require.Error(t, err)
	// An upright spring of 200 with 40 over it, the post 3-4-5 beside it.
	c, err := CutFor(Span{Chassis: r3.Vec{Z: 200}, End: r3.Vec{}}, 40, r3.Vec{X: 90, Z: 120})
	require.NoError(t, err)
	assert.InDelta(t, 150, c.Length, 1e-9)
	assert.InDelta(t, 120, c.Height, 1e-9)
	assert.InDelta(t, 0, apart(r3.Vec{Z: 240}, c.Top), 1e-9)
	assert.InDelta(t, math.Atan2(3, 4), c.Mitre.Rad(), 1e-9)
	assert.InDelta(t, math.Atan2(3, 4), c.Foot.Rad(), 1e-9)
	_, err = CutFor(Span{Chassis: r3.Vec{Z: 200}, End: r3.Vec{}}, 40, r3.Vec{Z: 240})
	require.ErrorContains(t, err, "foot")
}

// A rod of 600 to an axle that goes straight up, by Pythagoras; one that turns with its
// own axis keeps its length.
func TestRod(t *testing.T) {
	p, err := NewAxle(nil, r3.Vec{Y: 700})
	require.NoError(t, err)
	s, err := p.At(80)
	require.NoError(t, err)
	x := Span{Chassis: r3.Vec{X: 600, Y: 400}, End: r3.Vec{Y: 400}, On: Hub}.Swing(&s)
	assert.InDelta(t, math.Hypot(600, 80)-600, x.Longer, 1e-9)
	assert.InDelta(t, math.Atan2(80, 600), x.Chassis.Rad(), 1e-9)
	assert.InDelta(t, math.Atan2(80, 600), x.End.Rad(), 1e-9)
	assert.InDelta(t, -math.Atan2(80, 600), x.Slope.Rad(), 1e-9)
	// A tension rod whose bush is on the arm's own axis.
	arm, err := NewTrailingArm(TrailingArm{PivotA: r3.Vec{Y: 300}, PivotB: r3.Vec{X: 400, Y: 320}, Wheel: r3.Vec{X: 20, Y: 700}})
	require.NoError(t, err)
	s, err = arm.At(60)
	require.NoError(t, err)
	y := Span{Chassis: r3.Vec{X: 400, Y: 320}, End: r3.Vec{X: 10, Y: 640}, On: Lower}.Swing(&s)
	assert.InDelta(t, 0, y.Longer, 1e-9)
	assert.InDelta(t, 0, y.End.Rad(), 1e-7, "it is one with the arm")
	assert.Greater(t, y.Chassis.Degrees(), 3.0)
}

// Axles on links and on arms go as the travel model says, and a leaf spring's end with
// them.
func TestAxleOnArms(t *testing.T) {
	axle := travel.Axle{Centre: r3.Vec{X: 0}, Pinion: r3.Vec{X: -100}, PinionAxis: r3.Vec{X: 1}}
	arm, err := travel.NewTrailingArms(axle, travel.ArmPivot{Name: "left", At: r3.Vec{X: 800, Y: -300}}, travel.ArmPivot{Name: "right", At: r3.Vec{X: 800, Y: 300}})
	require.NoError(t, err)
	p, err := NewAxle(arm, r3.Vec{Y: 700})
	require.NoError(t, err)
	s, err := p.At(100)
	require.NoError(t, err)
	assert.InDelta(t, 800-math.Sqrt(800*800-100*100), s.Wheel.X, 1e-7)
	x := Span{Chassis: r3.Vec{X: 800, Y: 300}, End: r3.Vec{X: 30, Y: 300, Z: 40}, On: Hub}.Swing(&s)
	assert.InDelta(t, 0, x.Longer, 1e-8)
}

// One half of a bar against trying every angle of its arm.
func TestBarAgainstTryingAllAngles(t *testing.T) {
	p, err := NewArms(arms())
	require.NoError(t, err)
	b, err := NewBar(Bar{BushA: r3.Vec{X: -260, Y: -300, Z: 60}, BushB: r3.Vec{X: -255, Y: 300, Z: 62}, Arm: r3.Vec{X: -20, Y: 560, Z: 80}, Link: r3.Vec{X: -15, Y: 590, Z: -20}, On: Lower})
	require.NoError(t, err)
	assert.InDelta(t, apart(b.Arm, b.Link), b.LinkLength(), 1e-9)
	for _, z := range []float64{-50, 0, 50} {
		s, err := p.At(z)
		require.NoError(t, err)
		at, err := b.At(&s)
		require.NoError(t, err)
		assert.InDelta(t, b.LinkLength(), apart(at.Arm, at.Link), 1e-9)
		best, angle := math.Inf(1), 0.0
		for i := -6000; i <= 6000; i++ {
			a := float64(i) * 1e-4
			turn, err := geom.Turn(b.BushA, r3.Sub(b.BushB, b.BushA), geom.Angle(a))
			require.NoError(t, err)
			if d := math.Abs(apart(turn.Point(b.Arm), at.Link) - b.LinkLength()); d < best {
				best, angle = d, a
			}
		}
		assert.InDelta(t, angle, at.Turn.Rad(), 1e-4)
		axis := r3.Unit(r3.Sub(b.BushB, b.BushA))
		arm := r3.Sub(at.Arm, b.BushA)
		plane := r3.Unit(r3.Cross(axis, arm))
		assert.InDelta(t, math.Asin(math.Abs(r3.Dot(r3.Unit(r3.Sub(at.Link, at.Arm)), plane))), at.Off.Rad(), 1e-9)
		assert.Greater(t, at.Off.Degrees(), 50.0)
	}
	s, err := p.At(-50)
	require.NoError(t, err)
	short, err := NewBar(Bar{BushA: r3.Vec{X: -30, Y: -300}, BushB: r3.Vec{X: -30, Y: 300}, Arm: r3.Vec{X: -20, Y: 560, Z: 0}, Link: r3.Vec{X: -15, Y: 590, Z: -20}, On: Lower})
	require.NoError(t, err)
	_, err = short.At(&s)
	require.ErrorContains(t, err, "reach")
}

func TestTwistOfABar(t *testing.T) {
	left, err := NewBar(Bar{BushA: r3.Vec{Y: -300}, BushB: r3.Vec{Y: 300}, Arm: r3.Vec{X: 200, Y: -500}, Link: r3.Vec{X: 200, Y: -500, Z: -100}})
	require.NoError(t, err)
	right, err := NewBar(Bar{BushA: r3.Vec{Y: -300}, BushB: r3.Vec{Y: 300}, Arm: r3.Vec{X: 200 * math.Cos(0.03), Y: 480, Z: 200 * math.Sin(0.03)}, Link: r3.Vec{X: 200, Y: 500, Z: -100}})
	require.NoError(t, err)
	assert.InDelta(t, 0.03, Twist(left, right).Rad(), 1e-9)
	assert.InDelta(t, 200, left.Lever(), 1e-9)
	assert.InDelta(t, 200, right.Lever(), 1e-9)
}

// By hand: 7 back in 100 is 4.004° of caster, and on a wheel of 300 its axis meets the
// floor 300·0.07 ahead of the wheel when it passes through its centre.
func TestSteeringAxis(t *testing.T) {
	wheel := r3.Vec{X: 5, Y: -760, Z: 40}
	a, err := AxisOf(r3.Add(wheel, r3.Vec{X: -7, Y: 20, Z: -100}), r3.Add(wheel, r3.Vec{X: 7, Y: 60, Z: 100}), wheel, 300, false)
	require.NoError(t, err)
	assert.InDelta(t, math.Atan(0.07), a.Caster.Rad(), 1e-12)
	assert.InDelta(t, math.Atan(0.2), a.Inclination.Rad(), 1e-12)
	assert.InDelta(t, 21, a.Trail, 1e-9)
	m, err := AxisOf(r3.Vec{X: -2, Y: 740, Z: -60}, r3.Vec{X: 12, Y: 700, Z: 140}, r3.Vec{X: 5, Y: 760, Z: 40}, 0, true)
	require.NoError(t, err)
	assert.InDelta(t, a.Inclination.Rad(), m.Inclination.Rad(), 1e-12, "mirrored")
	assert.InDelta(t, a.Caster.Rad(), m.Caster.Rad(), 1e-12)
	assert.Zero(t, m.Trail)
	_, err = AxisOf(r3.Vec{Z: 100}, r3.Vec{}, r3.Vec{}, 0, true)
	require.ErrorContains(t, err, "above")
}

func TestMirroredPathIsMirrored(t *testing.T) {
	a := arms()
	b := a
	tie := *a.Tie
	b.Tie = &tie
	for _, v := range []*r3.Vec{&b.PivotA, &b.PivotB, &b.Ball, &b.UpperPivotA, &b.UpperPivotB, &b.UpperBall, &b.Wheel, &tie.Inner, &tie.Outer} {
		v.Y = -v.Y
	}
	p, err := NewArms(a)
	require.NoError(t, err)
	q, err := NewArms(b)
	require.NoError(t, err)
	for _, z := range []float64{-70, 65} {
		s, err := p.At(z)
		require.NoError(t, err)
		m, err := q.At(z)
		require.NoError(t, err)
		assert.InDelta(t, 0, apart(s.Wheel, r3.Vec{X: m.Wheel.X, Y: -m.Wheel.Y, Z: m.Wheel.Z}), 1e-8)
		o := m.Point(Hub, b.Tie.Outer)
		assert.InDelta(t, 0, apart(s.Point(Hub, a.Tie.Outer), r3.Vec{X: o.X, Y: -o.Y, Z: o.Z}), 1e-8)
	}
}

// What cannot be is refused, and says which part.
func TestRefused(t *testing.T) {
	for says, change := range map[string]func(*Arms){
		"the lower arm: both pivots":               func(a *Arms) { a.PivotB = a.PivotA },
		"the lower arm: what it moves":             func(a *Arms) { a.Ball = r3.Add(a.PivotA, r3.Scale(2, r3.Sub(a.PivotB, a.PivotA))) },
		"the upper arm: both pivots":               func(a *Arms) { a.UpperPivotB = a.UpperPivotA },
		"the upper arm: what it moves":             func(a *Arms) { a.UpperBall = a.UpperPivotA },
		"both ends of the steering axis":           func(a *Arms) { a.UpperBall = a.Ball },
		"the tie rod: its outer end":               func(a *Arms) { a.Tie.Outer = a.Ball },
		"the tie rod: both its ends":               func(a *Arms) { a.Tie.Inner = a.Tie.Outer },
		"its points are not all numbers":           func(a *Arms) { a.Wheel.X = math.NaN() },
		"it does not lift the wheel at ride heigh": func(a *Arms) { a.PivotA, a.PivotB = r3.Vec{X: 4, Y: 700, Z: 400}, r3.Vec{X: 4, Y: 720, Z: 900} },
	} {
		a := arms()
		change(&a)
		_, err := NewArms(a)
		require.ErrorContains(t, err, says)
	}
	_, err := NewStrut(Strut{})
	require.ErrorContains(t, err, "the lower arm")
	_, err = NewTrailingArm(TrailingArm{PivotB: r3.Vec{Y: 1e3}})
	require.ErrorContains(t, err, "the arm")
	_, err = NewAxle(nil, r3.Vec{X: math.Inf(1)})
	require.Error(t, err)
	p, err := NewArms(arms())
	require.NoError(t, err)
	_, err = p.At(math.NaN())
	require.Error(t, err)
	_, err = p.Sweep(-1, 10, 5)
	require.Error(t, err)
	_, err = p.Sweep(0, 0, 5)
	require.Error(t, err)
	at, err := p.Sweep(70, 50, 7)
	require.NoError(t, err)
	assert.InDelta(t, -70, at[0].Rise, 0)
	assert.InDelta(t, 50, at[6].Rise, 0)
	_, err = p.Motion(Span{}, 0)
	require.ErrorContains(t, err, "same place")
	_, err = p.AtWheel(Spring{Span: Span{Chassis: r3.Vec{Z: 100}}, Free: 300, Rate: 0, Coil: 200}, 0)
	require.ErrorContains(t, err, "above 0")
	_, err = p.CoilFor(Span{Chassis: r3.Vec{X: 8, Y: 610, Z: -305}, End: r3.Vec{X: 8, Y: 610, Z: -5}}, 300, 50, 3000)
	require.ErrorContains(t, err, "exchanged")
	_, err = p.CoilFor(Span{Chassis: r3.Vec{X: 8, Y: 610, Z: 305}, End: r3.Vec{X: 8, Y: 610, Z: -5}}, 300, 50, 30000)
	require.ErrorContains(t, err, "less than nothing")
	for says, b := range map[string]Bar{
		"both pivots":                   {},
		"the bar's own axis":            {BushB: r3.Vec{Y: 100}, Arm: r3.Vec{Y: 200}},
		"both its ends":                 {BushB: r3.Vec{Y: 100}, Arm: r3.Vec{X: 200}, Link: r3.Vec{X: 200}},
		"stands in line with the bar's": {BushB: r3.Vec{Y: 100}, Arm: r3.Vec{X: 200}, Link: r3.Vec{X: 300}},
		"not all numbers":               {BushB: r3.Vec{Y: math.NaN()}},
	} {
		_, err := NewBar(b)
		require.ErrorContains(t, err, says)
	}
}

func BenchmarkSweep(b *testing.B) {
	p, err := NewArms(arms())
	require.NoError(b, err)
	for b.Loop() {
		if _, err := p.Sweep(80, 70, 25); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSettle(b *testing.B) {
	p, err := NewArms(arms())
	require.NoError(b, err)
	s := Spring{Span: Span{Chassis: r3.Vec{X: 20, Y: 470, Z: 330}, End: r3.Vec{X: 8, Y: 610, Z: -5}, On: Lower}, Coil: 240, Free: 330, Rate: 70}
	for b.Loop() {
		if _, err := p.Settle(s, 4000, 80, 70); err != nil {
			b.Fatal(err)
		}
	}
}
