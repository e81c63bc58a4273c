package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func tube(b, h, t float64) section.Shape {
	return section.Shape{Name: "tube", Kind: section.RectTube, Corner: section.CornerCold, B: b, H: h, T: t}
}

// A leg along X between two upright faces, the rail's turned about Z by 30°:
// every length follows from tan 30°.
func TestPlainMitre(t *testing.T) {
	l := Leg{Name: "left", Shape: tube(40, 60, 3),
		Pad:  Face{r3.Vec{X: 100}, r3.Vec{X: 2}},
		Rail: Face{r3.Vec{X: 400}, geom.Direction(0, 30*geom.Deg)},
	}
	l.Rail.Normal = r3.Scale(-1, l.Rail.Normal)
	c, err := l.Cut()
	require.NoError(t, err)
	assert.InDelta(t, 300, c.Length, 1e-9)
	tan := math.Tan(30 * math.Pi / 180)
	assert.Equal(t, r3.Vec{Z: 1}, c.V)
	// Who looks rearward has the driver's right (+Y) to the left.
	assert.InDelta(t, -1, c.U.Y, 1e-12)
	// The plane with the normal (cos 30°, sin 30°, 0) is nearer at +Y.
	assert.InDelta(t, 300-20*tan, c.Sides[Left], 1e-9)
	assert.InDelta(t, 300+20*tan, c.Sides[Right], 1e-9)
	assert.InDelta(t, 300, c.Sides[Top], 1e-9)
	assert.InDelta(t, 300+20*tan, c.LongPoint, 1e-9)
	assert.InDelta(t, 300-20*tan, c.ShortPoint, 1e-9)
	assert.InDelta(t, 300+20*tan, c.Overall, 1e-9)
	assert.InDelta(t, 30, c.Rail.Angle.Degrees(), 1e-9)
	assert.InDelta(t, 90, c.Rail.Clock.Degrees(), 1e-9, "long point to the right")

	s := c.Rail.Saw[Bottom]
	// Bottom down and rail end to the operator's right, the left side is at the
	// fence; it is the short one.
	assert.InDelta(t, 30, s.Mitre.Degrees(), 1e-9)
	assert.InDelta(t, 0, s.Tilt.Degrees(), 1e-9)
	assert.Equal(t, AtOperator, s.LongMitre)
	assert.Equal(t, Even, s.LongTilt)
	assert.Equal(t, Bottom, c.Rail.Best)
	s = c.Rail.Saw[Left] // on its long side: all tilt
	assert.InDelta(t, 30, s.Tilt.Abs().Degrees(), 1e-9)
	assert.Equal(t, AtTop, s.LongTilt)
	assert.Equal(t, "long at the top", s.LongTilt.String())
	assert.Equal(t, AtTable, c.Rail.Saw[Right].LongTilt)
	assert.Equal(t, AtFence, c.Rail.Saw[Top].LongMitre)
	assert.Zero(t, c.Pad.Angle)
	assert.InEpsilon(t, c.Section.Area*300*section.SteelDensity, c.Mass, 1e-12)
}

// Parallel cuts: each line on the outside is as long as the axis, the stock is
// longer.
func TestParallelCuts(t *testing.T) {
	d := geom.Direction(35*geom.Deg, 0)
	l := Leg{Shape: section.Shape{Kind: section.RoundTube, H: 48.3, T: 3},
		Pad: Face{r3.Vec{}, r3.Vec{X: 1}}, Rail: Face{r3.Scale(200, d), r3.Vec{X: -1}}, PadPlate: 5, RailPlate: 8}
	c, err := l.Cut()
	require.NoError(t, err)
	want := 200 - 13/math.Cos(35*math.Pi/180)
	assert.InDelta(t, want, c.Length, 1e-9)
	assert.InDelta(t, want, c.LongPoint, 1e-9)
	assert.InDelta(t, want, c.ShortPoint, 1e-9)
	assert.InDelta(t, want+48.3*math.Tan(35*math.Pi/180), c.Overall, 1e-9)
	assert.InDelta(t, 180, c.Twist.Abs().Degrees(), 1e-9, "the long points lie on opposite sides")
	assert.InDelta(t, 35, c.Pad.Angle.Degrees(), 1e-9)
}

func drawLeg(t *rapid.T) Leg {
	f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	shapes := []section.Shape{
		tube(f(30, 60, "b"), f(30, 80, "h"), 3),
		{Kind: section.RoundTube, H: f(25, 60, "d"), T: 2.5},
		{Kind: section.FlatBar, B: f(20, 60, "w"), H: 12},
		{Kind: section.RoundBar, H: 30},
	}
	tiltPad, tiltRail := f(-50, 50, "p"), f(-50, 50, "r")
	axis := geom.Direction(geom.Angle(f(-80, 80, "slope"))*geom.Deg, geom.Angle(f(-180, 180, "heading"))*geom.Deg)
	roll := geom.Angle(f(0, 360, "roll")) * geom.Deg
	side, err := across(axis, r3.Vec{X: f(-1, 1, "x"), Y: 1, Z: 0.3})
	if err != nil {
		t.Skip("up along the axis")
	}
	lean := func(deg float64, sign float64, about r3.Vec) r3.Vec {
		m, err := geom.Turn(r3.Vec{}, about, geom.Angle(deg)*geom.Deg)
		require.NoError(t, err)
		return r3.Scale(sign*1.7, m.Dir(axis))
	}
	other := r3.Cross(axis, side)
	mix := r3.Add(r3.Scale(math.Cos(roll.Rad()), side), r3.Scale(math.Sin(roll.Rad()), other))
	pad := r3.Vec{X: f(-500, 500, "px"), Y: f(-500, 500, "py"), Z: f(-500, 500, "pz")}
	return Leg{Name: "drawn", Shape: rapid.SampledFrom(shapes).Draw(t, "shape"),
		Pad:  Face{pad, lean(tiltPad, 1, side)},
		Rail: Face{r3.Add(pad, r3.Scale(f(250, 600, "l"), axis)), lean(tiltRail, -1, mix)},
		Up:   mix, PadPlate: f(0, 10, "plate"), RailPlate: f(0, 10, "gap"),
	}
}

// bisect finds where sign changes on [lo, hi].
func bisect(f func(float64) float64, lo, hi float64) float64 {
	neg := f(lo) < 0
	for range 200 {
		mid := (lo + hi) / 2
		if (f(mid) < 0) == neg {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// A second method: lines of the tube's outside are cut by the two offset faces
// by bisection, without any of the leg's own formulas.
func TestLengthsAgainstACutSolid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLeg(t)
		c, err := l.Cut()
		require.NoError(t, err)
		longest, shortest, tip, tail := 0.0, math.Inf(1), math.Inf(-1), math.Inf(1)
		off := func(f Face, plate float64) func(r3.Vec) float64 {
			n := r3.Unit(f.Normal)
			return func(p r3.Vec) float64 { return r3.Dot(n, r3.Sub(p, f.Point)) - plate }
		}
		pad, rail := off(l.Pad, l.PadPlate), off(l.Rail, l.RailPlate)
		for _, p := range c.outline.points(200) {
			base := r3.Add(l.Pad.Point, r3.Add(r3.Scale(p.X, c.U), r3.Scale(p.Y, c.V)))
			at := func(s float64) r3.Vec { return r3.Add(base, r3.Scale(s, c.Axis)) }
			from := bisect(func(s float64) float64 { return pad(at(s)) }, -2000, 2000)
			to := bisect(func(s float64) float64 { return rail(at(s)) }, -2000, 2000)
			longest, shortest = math.Max(longest, to-from), math.Min(shortest, to-from)
			tip, tail = math.Max(tip, to), math.Min(tail, from)
		}
		assert.InDelta(t, longest, c.LongPoint, 5e-3)
		assert.InDelta(t, shortest, c.ShortPoint, 5e-3)
		assert.InDelta(t, tip-tail, c.Overall, 5e-3)
		for _, end := range []bool{false, true} {
			for _, p := range c.Outline(end, 9) {
				d := pad(p)
				if end {
					d = rail(p)
				}
				assert.InDelta(t, 0, d, 1e-9, "the cut lies on its plane")
			}
		}
		foot, err := l.Rail.Off(c.Foot)
		require.NoError(t, err)
		assert.InDelta(t, 0, foot, 1e-9)
	})
}

// The saw's settings, run as a saw: swing the blade about the upright, lean it
// about its own level line, and the plane that comes out must be the face. The
// longer side must be where the words say.
func TestSawMakesTheFace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLeg(t)
		c, err := l.Cut()
		require.NoError(t, err)
		for i, e := range []End{c.Pad, c.Rail} {
			rail := i == 1
			face := r3.Unit(l.Pad.Normal)
			if rail {
				face = r3.Scale(-1, r3.Unit(l.Rail.Normal))
			}
			for d := Bottom; d <= Right; d++ {
				s := e.Saw[d]
				x, y, z := c.sawAxes(d)
				swing, err := geom.Turn(r3.Vec{}, z, s.Mitre)
				require.NoError(t, err)
				line := swing.Dir(y) // the blade's level line
				lean, err := geom.Turn(r3.Vec{}, line, -s.Tilt)
				require.NoError(t, err)
				n := lean.Dir(swing.Dir(x))
				assert.InDelta(t, 0, r3.Norm(r3.Sub(n, face)), 1e-9)
				assert.InDelta(t, 0, r3.Norm(r3.Sub(c.Blade(s), face)), 1e-9)

				// Length of the piece at the fence against the operator's side.
				long := func(dir r3.Vec) float64 {
					from, to := c.Line(10*r3.Dot(dir, c.U), 10*r3.Dot(dir, c.V))
					if rail {
						return to
					}
					return -from
				}
				if s.Mitre.Abs() > 1e-6 {
					assert.Equal(t, long(y) > long(r3.Scale(-1, y)), s.LongMitre == AtFence)
				}
				if s.Tilt.Abs() > 1e-6 {
					assert.Equal(t, long(z) > long(r3.Scale(-1, z)), s.LongTilt == AtTop)
				}
			}
			best := e.Saw[e.Best]
			for _, s := range e.Saw {
				assert.False(t, best.Steep && !s.Steep)
				if best.Steep == s.Steep {
					assert.LessOrEqual(t, best.Tilt.Abs().Rad(), s.Tilt.Abs().Rad()+1e-8)
				}
			}
			// One swing does it for a round tube with its long point turned
			// to fence or operator: the clock says where that is.
			if e.Angle > 1e-6 {
				p := r3.Add(r3.Scale(math.Sin(e.Clock.Rad()), c.U), r3.Scale(math.Cos(e.Clock.Rad()), c.V))
				from, to := c.Line(r3.Dot(p, c.U), r3.Dot(p, c.V))
				rise := math.Tan(e.Angle.Rad())
				if rail {
					assert.InDelta(t, c.Length+rise, to, 1e-6)
				} else {
					assert.InDelta(t, -rise, from, 1e-6)
				}
			}
		}
	})
}

// An octagonal tapered frame as carpenters know it: for a square-section leg
// that leans the same way in two views, tan(mitre) and the tilt follow the
// textbook compound rule: tan tilt = tan of the second view times cos mitre.
func TestCompoundRule(t *testing.T) {
	a, b := 20*geom.Deg, 15*geom.Deg // lean of the rail's face in plan and side view
	n := r3.Vec{X: -1, Y: -math.Tan(a.Rad()), Z: -math.Tan(b.Rad())}
	c, err := Leg{Shape: tube(50, 50, 3), Pad: Face{r3.Vec{}, r3.Vec{X: 1}}, Rail: Face{r3.Vec{X: 300}, n}}.Cut()
	require.NoError(t, err)
	s := c.Rail.Saw[Bottom]
	assert.InDelta(t, 20, s.Mitre.Abs().Degrees(), 1e-9)
	assert.InDelta(t, math.Atan(math.Tan(b.Rad())*math.Cos(a.Rad())), s.Tilt.Abs().Rad(), 1e-12)
}

func TestSteepCutIsFlagged(t *testing.T) {
	n := r3.Scale(-1, geom.Direction(0, 65*geom.Deg))
	l := Leg{Shape: tube(50, 50, 3), Pad: Face{r3.Vec{}, r3.Vec{X: 1}}, Rail: Face{r3.Vec{X: 300}, n}}
	c, err := l.Cut()
	require.NoError(t, err)
	assert.True(t, c.Rail.Steep)
	assert.False(t, c.Pad.Steep)
	assert.True(t, c.Rail.Roll.Steep)
	assert.False(t, c.Rail.Rolled)

	l.Rail.Normal = r3.Scale(-1, geom.Direction(0, 50*geom.Deg))
	l.Saw = &SawLimit{Tilt: 45 * geom.Deg, Mitre: 52 * geom.Deg}
	c, err = l.Cut()
	require.NoError(t, err)
	assert.False(t, c.Rail.Steep)
	assert.True(t, c.Rail.Saw[Left].Steep, "that much tilt is too much")
	assert.Equal(t, Bottom, c.Rail.Best)
}

// A saw that does not tilt: 0 is its limit. The tube is rolled and then swung
// once: turned by hand here, the face must stand upright on the saw's table, at
// the swing from square, and the piece must be longer where it says. Its lowest
// corner is the one named.
func TestRollInsteadOfTilt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLeg(t)
		l.Saw = &SawLimit{Mitre: 60 * geom.Deg}
		c, err := l.Cut()
		require.NoError(t, err)
		for i, e := range []End{c.Pad, c.Rail} {
			r := e.Roll
			assert.LessOrEqual(t, r.Roll.Abs().Degrees(), 45+1e-6)
			x, y, z := c.sawAxes(r.Down)
			turn, err := geom.Turn(r3.Vec{}, c.Axis, r.Roll) // clockwise as seen from the pad
			require.NoError(t, err)
			n := turn.Dir(e.Normal)
			assert.InDelta(t, 0, r3.Dot(n, z), 1e-9, "no tilt is left")
			assert.InDelta(t, e.Angle.Rad(), math.Abs(math.Atan2(r3.Dot(n, y), r3.Dot(n, x))), 1e-7)
			assert.InDelta(t, e.Angle.Rad(), r.Swing.Rad(), 1e-12)
			if e.Angle > 1e-6 {
				fence := r3.Dot(n, y) < 0 // the rail end is cut shorter where its normal leans
				if i == 0 {
					fence = !fence
				}
				assert.Equal(t, fence, r.Long == AtFence)
			}
			if r.Roll.Abs() > 1e-6 {
				low, name := math.Inf(1), NoCorner
				for k, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
					p := turn.Dir(r3.Add(r3.Scale(s[0], c.U), r3.Scale(s[1], c.V)))
					if h := r3.Dot(p, z); h < low-1e-9 {
						low, name = h, TopRight+Corners(k)
					}
				}
				assert.Equal(t, name, r.Corner)
			}
			flat := false
			for _, s := range e.Saw {
				assert.Equal(t, s.Steep, s.Tilt.Abs() > 1e-9 || s.Mitre.Abs() > 60*geom.Deg+1e-9, "no tilt at all")
				flat = flat || !s.Steep
			}
			assert.Equal(t, !flat && e.Angle <= 60*geom.Deg+1e-9, e.Rolled)
			assert.Equal(t, !flat && !e.Rolled, e.Steep)
		}
	})
	// A saw that does neither cuts square and nothing else.
	n := r3.Scale(-1, geom.Direction(0, 10*geom.Deg))
	l := Leg{Shape: tube(50, 50, 3), Pad: Face{r3.Vec{}, r3.Vec{X: 1}}, Rail: Face{r3.Vec{X: 300}, n}, Saw: &SawLimit{}}
	c, err := l.Cut()
	require.NoError(t, err)
	assert.False(t, c.Pad.Steep)
	assert.False(t, c.Pad.Rolled)
	assert.True(t, c.Rail.Steep)
	assert.Equal(t, [5]string{"", "top right", "bottom right", "bottom left", "top left"},
		[5]string{NoCorner.String(), TopRight.String(), BottomRight.String(), BottomLeft.String(), TopLeft.String()})
}

func TestLegsRefused(t *testing.T) {
	good := Leg{Name: "left front", Shape: tube(50, 50, 3),
		Pad: Face{r3.Vec{}, r3.Vec{X: 1}}, Rail: Face{r3.Vec{X: 300}, r3.Vec{X: -1}}}
	_, err := good.Cut()
	require.NoError(t, err)
	for name, c := range map[string]struct {
		change func(*Leg)
		want   string
	}{
		"no length":       {func(l *Leg) { l.Rail.Point = r3.Vec{} }, "same point"},
		"on the face":     {func(l *Leg) { l.Rail.Point, l.Axis = r3.Vec{Y: 4}, r3.Vec{X: 1} }, "no length"},
		"behind":          {func(l *Leg) { l.Rail.Point = r3.Vec{X: -300} }, "behind the pad"},
		"behind on axis":  {func(l *Leg) { l.Rail.Point, l.Axis = r3.Vec{X: -300}, r3.Vec{X: 1} }, "behind the pad"},
		"rail turned":     {func(l *Leg) { l.Rail.Normal.X = 1 }, "from inside"},
		"along the rail":  {func(l *Leg) { l.Rail.Normal = r3.Vec{Y: 1} }, "runs along the rail"},
		"along the pad":   {func(l *Leg) { l.Pad.Normal = r3.Vec{Y: 1} }, "runs along the pad"},
		"plates":          {func(l *Leg) { l.PadPlate, l.RailPlate = 200, 100 }, "plates"},
		"plate":           {func(l *Leg) { l.PadPlate = -1 }, "usable"},
		"nan":             {func(l *Leg) { l.Pad.Point.Y = math.NaN() }, "usable"},
		"far":             {func(l *Leg) { l.Rail.Point.X = 1e9 }, "beyond"},
		"pad no way":      {func(l *Leg) { l.Pad.Normal = r3.Vec{} }, "which way"},
		"rail no way":     {func(l *Leg) { l.Rail.Normal = r3.Vec{} }, "which way"},
		"up along":        {func(l *Leg) { l.Up = r3.Vec{X: 1} }, "across it"},
		"section":         {func(l *Leg) { l.Shape.T = 0 }, "wall"},
		"cuts meet":       {func(l *Leg) { l.Rail.Point.X, l.Rail.Normal = 10, r3.Vec{X: -1, Y: 1} }, "too short"},
		"axis not finite": {func(l *Leg) { l.Axis.X = math.Inf(1) }, "usable"},
	} {
		l := good
		c.change(&l)
		_, err := l.Cut()
		var pe *geom.PartError
		require.ErrorAs(t, err, &pe, name)
		assert.Equal(t, "leg left front", pe.Part, name)
		assert.ErrorContains(t, err, c.want, name)
	}
}

func TestUprightLegAndForces(t *testing.T) {
	l := Leg{Name: "left", Shape: tube(40, 60, 3),
		Pad: Face{r3.Vec{Z: 300}, r3.Vec{Z: -1}}, Rail: Face{r3.Vec{}, r3.Vec{Z: 1}}}
	c, err := l.Cut()
	require.NoError(t, err)
	assert.Equal(t, -1.0, c.V.X, "an upright leg has its H side forward")
	f, err := c.Forces(r3.Vec{Z: -1000}, l.Pad.Point)
	require.NoError(t, err)
	assert.Equal(t, -1000.0, f.Axial, "weight presses the leg")
	f, err = c.Forces(r3.Vec{X: 500}, r3.Add(l.Pad.Point, r3.Vec{Y: 20}))
	require.NoError(t, err)
	assert.InDelta(t, 500*300, math.Abs(f.MomentY), 1e-6, "rearward force bends about the side B")
	assert.InDelta(t, 0, f.MomentZ, 1e-6)
	assert.InDelta(t, 500*20, math.Abs(f.Torsion), 1e-6)
	_, err = c.Forces(r3.Vec{X: math.NaN()}, r3.Vec{})
	assert.ErrorContains(t, err, "left")
}

func TestFaceFrame(t *testing.T) {
	f := Face{r3.Vec{X: 10, Y: 400, Z: 50}, r3.Vec{Y: -2}}
	p, err := FacePose("rail", f, r3.Vec{})
	require.NoError(t, err)
	assert.InDelta(t, 1, p.Y.Z, 1e-12)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Cross(p.X, p.Y), p.Z)), 1e-12)
	q := OnFace(p, []r3.Vec{{X: 10, Y: 390, Z: 60}})
	assert.InDelta(t, 10, q[0].Y, 1e-12)
	off, err := f.Off(r3.Vec{Y: 390})
	require.NoError(t, err)
	assert.InDelta(t, 10, off, 1e-12)
	_, err = FacePose("rail", Face{}, r3.Vec{})
	assert.ErrorContains(t, err, "rail")
	_, err = FacePose("rail", f, r3.Vec{Y: 1})
	assert.ErrorContains(t, err, "rail")
	_, err = Face{}.Off(r3.Vec{})
	assert.Error(t, err)
}

func BenchmarkLegCut(b *testing.B) {
	l := Leg{Shape: tube(50, 50, 3), Pad: Face{r3.Vec{}, r3.Vec{X: 1}},
		Rail: Face{r3.Vec{X: 300, Y: 20}, r3.Vec{X: -1, Y: 0.2, Z: 0.1}}}
	for b.Loop() {
		if _, err := l.Cut(); err != nil {
			b.Fatal(err)
		}
	}
}
