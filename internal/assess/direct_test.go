package assess

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/vibration"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// transaxleText is an engine across with its half shafts, made up for these
// tests: own frame level, front pads 700 mm apart, the rear pad 400 mm behind.
const transaxleText = `
format = 2
[powertrain]
layout = "transaxle"
final = 4
gears = [3.5, 2, 1.3, 1, 0.8]
torque = "200 N m"
redline = "6400 rpm"
mass = 180
centre_of_mass = [100, 0, 120]
[powertrain.pads]
left_front = [0, -350, 0]
right_front = [0, 350, 0]
rear = [400, 0, -50]
[placement]
left_front = 10
right_front = 10
rear = -40
setback = -60
offset = "0 mm"
[line.front]
toward = "front"
[line.front.suspension]
kind = "fixed"
bump = 70
droop = 80
[[line.front.suspension.half_shaft]]
name = "left"
output = [70, -130, -40]
outer = [25, -690, -95]
pivot_a = [-120, -330, -130]
pivot_b = [190, -330, -130]
ball = [20, -700, -170]
lock = "34 deg"
outside = 28
plunge_closed = 545
plunge_open = 590
[[line.front.suspension.half_shaft]]
name = "right"
output = [70, 210, -40]
outer = [25, 690, -95]
pivot_a = [-120, 330, -130]
pivot_b = [190, 330, -130]
ball = [20, 700, -170]
lock = "34 deg"
outside = 28
plunge_closed = 460
plunge_open = 505
`

func transaxle(t testing.TB, swap ...string) *Assessment {
	t.Helper()
	text := transaxleText
	for i := 0; i+1 < len(swap); i += 2 {
		require.Contains(t, text, swap[i])
		text = strings.Replace(text, swap[i], swap[i+1], -1)
	}
	return Run(build(t, text))
}

func idsWith(a *Assessment, prefix string) []string {
	var out []string
	for _, f := range a.Findings {
		if strings.HasPrefix(f.ID, prefix) {
			out = append(out, f.ID)
		}
	}
	return out
}

// angleBetween is the angle of two vectors by plain components.
func angleBetween(a, b [3]float64) float64 {
	dot, aa, bb := 0.0, 0.0, 0.0
	for i := range a {
		dot, aa, bb = dot+a[i]*b[i], aa+a[i]*a[i], bb+b[i]*b[i]
	}
	return math.Acos(dot/math.Sqrt(aa*bb)) * 180 / math.Pi
}

// swept is the other method: the half shaft in plain components, its ball joint
// on its arc across the vehicle, its output where the powertrain has it, found
// by turning the own frame step by step. side is -1 for the left.
type swept struct{ inner, straight, locked, shortest, longest float64 }

func sweepByHand(side, own float64, place func([3]float64) [3]float64) swept {
	in, beside := place([3]float64{70, own, -40}), place([3]float64{70, own + 100*side, -40})
	axis := [3]float64{beside[0] - in[0], beside[1] - in[1], beside[2] - in[2]}
	s := swept{shortest: math.Inf(1)}
	const steps = 2000
	for i := range steps + 1 {
		rise := -80 + 150*float64(i)/steps
		ry, rz := 370.0, -40.0 // ball joint from its pivot line
		dy := math.Sqrt(ry*ry+rz*rz-(rz+rise)*(rz+rise)) - ry
		out := [3]float64{25, side * (690 + dy), -95 + rise}
		d := [3]float64{out[0] - in[0], out[1] - in[1], out[2] - in[2]}
		long := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
		s.inner = max(s.inner, angleBetween(axis, d))
		s.straight = max(s.straight, angleBetween(d, [3]float64{0, side, 0}))
		for _, lock := range []float64{-34, 34} {
			sin, cos := math.Sincos(lock * math.Pi / 180)
			s.locked = max(s.locked, angleBetween(d, [3]float64{-sin * side, cos * side, 0}))
		}
		s.shortest, s.longest = min(s.shortest, long), max(s.longest, long)
	}
	return s
}

func TestHalfShaftsFollowThePowertrain(t *testing.T) {
	still := func(p [3]float64) [3]float64 { return [3]float64{p[0] - 60, p[1], p[2] + 10} }
	for _, c := range []struct {
		name  string
		swap  []string
		place func([3]float64) [3]float64
	}{
		{"where it was measured", nil, still},
		{"40 mm to the right", []string{`offset = "0 mm"`, `offset = "40 mm right"`}, func(p [3]float64) [3]float64 {
			q := still(p)
			q[1] += 40
			return q
		}},
		{"25 mm up, 30 mm back", []string{"left_front = 10", "left_front = 35", "right_front = 10", "right_front = 35", "rear = -40", "rear = -15", "setback = -60", "setback = -30"},
			func(p [3]float64) [3]float64 { return [3]float64{p[0] - 30, p[1], p[2] + 35} }},
		// 2° in plan about the point midway between the front pads.
		{"turned in plan", []string{`offset = "0 mm"`, "offset = \"0 mm\"\nheading = \"2 deg rear to the right\""}, func(p [3]float64) [3]float64 {
			sin, cos := math.Sincos(2 * math.Pi / 180)
			return [3]float64{cos*p[0] - sin*p[1] - 60, sin*p[0] + cos*p[1], p[2] + 10}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := transaxle(t, c.swap...)
			for _, h := range []struct {
				name      string
				side, own float64
			}{{"left", -1, -130}, {"right", 1, 210}} {
				want := sweepByHand(h.side, h.own, c.place)
				id := "line.front.half_shaft." + h.name + "."
				assert.InDelta(t, want.inner, deg(findingOf(t, a, id+"inner").Value), 0.005)
				assert.InDelta(t, want.locked, deg(findingOf(t, a, id+"outer").Value), 0.005)
				in, out := findingOf(t, a, id+"plunge_in"), findingOf(t, a, id+"plunge_out")
				file := a.Build.Lines[0].Suspension.HalfShaft[map[float64]int{-1: 0, 1: 1}[h.side]]
				assert.InDelta(t, want.shortest-file.Closed.V(), in.Margin, 0.02, "what is left before it is home")
				assert.InDelta(t, file.Open.V()-want.longest, out.Margin, 0.02, "and before it comes apart")
			}
		})
	}
}

// 40 mm sideways draws the left shaft out of its joint: the room that was
// counted at the old place says nothing of that.
func TestSidewaysDrawsAShaftApart(t *testing.T) {
	a := transaxle(t)
	assert.Equal(t, OK, findingOf(t, a, "line.front.half_shaft.left.plunge_out").Status)
	a = transaxle(t, `offset = "0 mm"`, `offset = "40 mm right"`)
	f := findingOf(t, a, "line.front.half_shaft.left.plunge_out")
	assert.Equal(t, Over, f.Status)
	assert.Contains(t, f.Advice(), "may come apart")
	assert.Equal(t, Over, findingOf(t, a, "line.front.half_shaft.right.plunge_in").Status)

	a = transaxle(t, "plunge_closed = 545\nplunge_open = 590", "plunge_in = 20\nplunge_out = 25")
	f = findingOf(t, a, "line.front.half_shaft.left.plunge_out")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "plunge_open is not in the file yet (plunge_out counts from ride height")
}

// An inner joint in the vehicle's axes stays behind. It is not judged, and what
// to write instead is worked out.
func TestAnInnerJointThatStaysBehind(t *testing.T) {
	a := transaxle(t, "output = [70, -130, -40]", "inner = [10, -130, -30]")
	for _, id := range idsWith(a, "line.front.half_shaft.left.") {
		f := findingOf(t, a, id)
		assert.Equal(t, NotKnown, f.Status, id)
		assert.Contains(t, f.Missing, "half_shaft.1.output is not in the file yet")
		assert.Contains(t, f.Missing, "write output = [70.00, -130.00, -40.00]")
	}
	assert.Equal(t, OK, findingOf(t, a, "line.front.half_shaft.right.inner").Status)
}

// Where nothing drives a propshaft there is none to find fault with.
func TestNoPropshaftWhereThereIsNone(t *testing.T) {
	a := transaxle(t)
	assert.ElementsMatch(t, []string{
		"line.front.half_shaft.left.inner", "line.front.half_shaft.left.outer", "line.front.half_shaft.left.plunge_in", "line.front.half_shaft.left.plunge_out",
		"line.front.half_shaft.right.inner", "line.front.half_shaft.right.outer", "line.front.half_shaft.right.plunge_in", "line.front.half_shaft.right.plunge_out",
	}, idsWith(a, "line."))
	require.Len(t, a.Lines, 1)
	assert.True(t, a.Lines[0].Direct)
	assert.Empty(t, a.Lines[0].Joints)

	a = Run(build(t, strings.Split(transaxleText, "[line.front]")[0]+"[line.front.pinion]\n"))
	assert.Equal(t, []string{"line.front.half_shafts"}, idsWith(a, "line."), "nothing is silently left out")
	assert.Equal(t, NotKnown, findingOf(t, a, "line.front.half_shafts").Status)
}

// A propshaft that is given is judged, but not at a speed that is not known.
func TestAPropshaftFromATransaxle(t *testing.T) {
	a := transaxle(t, `toward = "front"`, "toward = \"front\"\n[line.rear.pinion]\nat = [2500, 0, -60]\nslope = \"2 deg down to the rear\"\n[line.rear]\nratio = 2.5\noutput = [300, 0, -40]")
	rear := a.Lines[1]
	require.Equal(t, "rear", rear.Name)
	assert.False(t, rear.Direct)
	assert.True(t, rear.HasPlan)
	assert.False(t, rear.Speed.Known)
	assert.Contains(t, rear.Speed.Why, "take-off")
	assert.Contains(t, rear.Torque.Why, "take-off")

	a = transaxle(t, `kind = "fixed"`, "kind = \"fixed\"\ndifferential_in = \"gearbox\"",
		"toward = \"front\"\n", "toward = \"front\"\n[line.front.pinion]\nat = [60, 0, -40]\nslope = \"2 deg down to the rear\"\n")
	assert.Contains(t, a.Lines[0].PlanWhy, "not worked out yet")
	assert.Equal(t, OK, findingOf(t, a, "line.front.half_shaft.left.inner").Status, "its half shafts follow the powertrain all the same")
}

// Steering bends the outer joint most: without the lock it is not judged ok.
func TestOuterJointWantsTheLock(t *testing.T) {
	a := transaxle(t, "lock = \"34 deg\"\n", "")
	still := func(p [3]float64) [3]float64 { return [3]float64{p[0] - 60, p[1], p[2] + 10} }
	f := findingOf(t, a, "line.front.half_shaft.left.outer")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "half_shaft.1.lock is not in the file yet")
	assert.InDelta(t, sweepByHand(-1, -130, still).straight, deg(f.Value), 0.005, "the angle straight ahead is shown")
	a = transaxle(t, "34 deg", "0 deg")
	assert.Equal(t, OK, findingOf(t, a, "line.front.half_shaft.left.outer").Status)
	a = transaxle(t, "34 deg", "44 deg")
	assert.Equal(t, Over, findingOf(t, a, "line.front.half_shaft.left.outer").Status)
	a = transaxle(t, "lock = \"34 deg\"\n", "outer_max = \"6 deg\"\n")
	assert.Equal(t, Over, findingOf(t, a, "line.front.half_shaft.left.outer").Status, "past it straight ahead already")
}

const softMounts = `
[mount.left_front]
rate_up = 90
rate_across = 60
rate_along = 60
[mount.right_front]
rate_up = 90
rate_across = 60
rate_along = 60
[mount.rear]
rate_up = 60
rate_across = 40
rate_along = 40
`

// The worst of every place where the mounts let the powertrain stand, each of
// them worked out by itself.
func TestHalfShaftsOnTheirRubber(t *testing.T) {
	built := transaxle(t)
	f := findingOf(t, built, "line.front.half_shaft.left.inner")
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "as built, not sagged or rocked on its mounts")

	a := Run(build(t, transaxleText+softMounts))
	require.Empty(t, a.Isolators.Why)
	var want, wantRise float64
	for _, p := range a.Isolators.Poses {
		in := p.Pose.Point(r3.Vec{X: 70, Y: -130, Z: -40})
		for _, at := range built.Lines[0].Travel.HalfShafts[0].Points {
			angle := angleBetween([3]float64{-p.Pose.Y.X, -p.Pose.Y.Y, -p.Pose.Y.Z}, [3]float64{at.Outer.X - in.X, at.Outer.Y - in.Y, at.Outer.Z - in.Z})
			if angle > want {
				want, wantRise = angle, at.Rise
			}
		}
	}
	f = findingOf(t, a, "line.front.half_shaft.left.inner")
	assert.InDelta(t, want, deg(f.Value), 1e-6)
	s := a.Lines[0].Travel.HalfShafts[0]
	assert.Equal(t, wantRise, s.Inner.Rise)
	assert.NotEmpty(t, s.Inner.Under)
	assert.Contains(t, f.Advice(), s.Inner.Under)
	assert.NotContains(t, strings.Join(f.Assumes, "\n"), "as built")
	assert.Greater(t, f.Value, findingOf(t, built, "line.front.half_shaft.left.inner").Value)
}

// Speeds and torques of a half shaft lie behind the final drive. By hand: 6400
// rpm over 0.8 and 4; 200 N m by 3.5 by 4, half to each side.
func TestOrderSheetOfHalfShafts(t *testing.T) {
	a := transaxle(t)
	l := a.Lines[0]
	assert.InDelta(t, 2000*math.Pi/30, l.Speed.V, 1e-9)
	assert.InDelta(t, 1.4e6, l.Torque.V, 1e-6)
	part := transaxle(t, "[line.front]\n", "[line.front]\nshare = 0.6\n").Lines[0].Torque
	assert.InDelta(t, 0.84e6, part.V, 1e-6)
	assert.Contains(t, part.From, "60 % of it this way")
	rows := map[string]OrderRow{}
	for _, r := range l.Order() {
		rows[r.Name] = r
	}
	// With the powertrain at (-60, 0, 10) the left inner joint is at (10, -130, -30).
	assert.InDelta(t, math.Sqrt(15*15+560*560+65*65), rows["line.front.order.half_shaft.left.length"].Value.V, 1e-9)
	assert.Equal(t, quantity.Length, rows["line.front.order.half_shaft.left.length"].Kind)
	for _, key := range []string{"shortest", "longest", "from_closed", "to_open", "inner", "outer"} {
		assert.True(t, rows["line.front.order.half_shaft.right."+key].Value.Known, key)
	}
	assert.InDelta(t, 2000*math.Pi/30, rows["line.front.order.speed"].Value.V, 1e-9)

	if a.Build.Powertrain.Reverse.Known() {
		assert.NotContains(t, l.Torque.From, "reverse")
		a = transaxle(t, "reverse", "# reverse")
	}
	assert.Contains(t, a.Lines[0].Torque.From, "reverse is not in the file and is taken to be no lower than first")

	a = transaxle(t, "final = 4\n", "")
	assert.Equal(t, "powertrain.final is not in the file yet", a.Lines[0].Speed.Why)
	assert.Equal(t, "powertrain.final is not in the file yet", a.Lines[0].Torque.Why)

	a = transaxle(t, "[powertrain]\n", "[vehicle]\ntyre = \"185/65R15\"\ntop_speed = \"150 km/h\"\n[powertrain]\n")
	assert.Equal(t, "top speed and tyre", a.Lines[0].Speed.From)
	assert.Less(t, a.Lines[0].Speed.V, 2000*math.Pi/30)
}

// A step of the powertrain moves the half shafts' angles.
func TestStepsMoveHalfShafts(t *testing.T) {
	a := transaxle(t)
	id := "line.front.half_shaft.right.inner"
	e, ok := a.Effects(id, Step{Length: 5, Angle: (0.1 * geom.Deg).Rad()})[seat.Lift]
	require.True(t, ok)
	up := transaxle(t, "left_front = 10", "left_front = 15", "right_front = 10", "right_front = 15", "rear = -40", "rear = -35")
	assert.InDelta(t, findingOf(t, up, id).Value-findingOf(t, a, id).Value, e.Change.V, 1e-9)
	assert.NotZero(t, e.Change.V)
}

// The finder brings in wheels and engine, and no shaft that is not there. By
// hand: 100 km/h, final drive 4, third gear 1.3.
func TestFinderOfATransaxle(t *testing.T) {
	a := transaxle(t, "[powertrain]\n", "[vehicle]\ntyre = \"185/65R15\"\n[powertrain]\ncylinders = 4\n")
	s, err := a.FindShake(Shake{Road: 1e8 / 3600, Gear: 3})
	require.NoError(t, err)
	var wheel, engine float64
	for _, x := range s.Suspects {
		assert.NotEqual(t, vibration.Shaft, x.Part, x.What)
		if x.Part == vibration.Wheel && x.Order == 1 {
			wheel = x.Mid()
		}
		if x.Part == vibration.Engine && x.Order == 1 {
			engine = x.Mid()
		}
	}
	require.NotZero(t, wheel)
	assert.InDelta(t, wheel*4*1.3, engine, 1e-6)
	require.Len(t, s.Notes, 1)
	assert.Contains(t, s.Notes[0], "sample")
	_, err = a.FindShake(Shake{Road: 1e8 / 3600, Gear: 3, Engine: 2 * engine * 2 * math.Pi})
	require.ErrorContains(t, err, "contradict each other")
	back, err := a.FindShake(Shake{Engine: engine * 2 * math.Pi, Gear: 3})
	require.NoError(t, err)
	assert.InDelta(t, wheel, suspect(t, back, vibration.Wheel, 1).Mid(), 1e-9)
}

func crank(shown, more string) string {
	return "\n[[reading]]\nof = \"powertrain\"\non = \"along\"\nshown = \"" + shown + "\"\nafter = \"tacked\"\n" + more
}

// A crankshaft across is read with its left or its right end lower, and held
// against where the heights of the pads have it. By hand: the right pad 14 mm
// lower in 700.
func TestACrankshaftAcross(t *testing.T) {
	a := transaxle(t)
	assert.Equal(t, NotKnown, findingOf(t, a, "powertrain.across.read").Status)

	a = Run(build(t, transaxleText+crank("1.1 deg", "lower = \"right\"\n")))
	f := findingOf(t, a, "powertrain.across.read")
	assert.Equal(t, OK, f.Status)
	assert.Equal(t, Proved, f.Basis)
	assert.InDelta(t, 1.1, deg(f.Value), 1e-9)
	assert.Contains(t, f.Advice(), "1.10° down to the right")
	assert.Equal(t, Over, findingOf(t, a, "powertrain.across.agree").Status, "the model has it level")

	leans := strings.Replace(transaxleText, "right_front = 10", "right_front = -4", 1)
	want := math.Abs(1.1 - math.Asin(14.0/700)*180/math.Pi)
	a = Run(build(t, leans+crank("1.1 deg", "lower = \"right\"\n")))
	f = findingOf(t, a, "powertrain.across.agree")
	assert.InDelta(t, want, deg(f.Value), 0.005)
	assert.Equal(t, OK, f.Status)
	a = Run(build(t, leans+crank("1.1 deg", "lower = \"left\"\n")))
	assert.Equal(t, Over, findingOf(t, a, "powertrain.across.agree").Status)

	a = Run(build(t, leans+strings.Replace(crank("1.1 deg", ""), "powertrain\"", "powertrain.across\"", 1)))
	f = findingOf(t, a, "powertrain.across.read")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "left or right?")
}

// After a move the reading is what the model makes of it, and proof no more.
func TestACrankshaftAcrossThatWasMoved(t *testing.T) {
	was := "placed = { left_front = 10, right_front = 10, rear = -40, setback = -60, offset = \"0 mm\", heading = \"0 deg\" }\n"
	leans := strings.Replace(transaxleText, "right_front = 10", "right_front = -4", 1)
	a := Run(build(t, leans+crank("0.2 deg", "lower = \"right\"\n"+was)))
	f := findingOf(t, a, "powertrain.across.read")
	assert.True(t, f.Moved)
	assert.Equal(t, Planned, f.Basis)
	assert.InDelta(t, 0.2+math.Asin(14.0/700)*180/math.Pi, deg(f.Value), 0.005)
}
