package travel

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	suspension "fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// chainAt is a rear line of two Cardan joints at ride height: a level gearbox
// output, joints at (1500, 0, 0) and (2800, 0, -60), a pinion 3° down to the
// rear.
func chainAt() shaft.Chain {
	return shaft.Chain{
		In:     r3.Vec{X: 1},
		Joints: []shaft.Joint{{At: r3.Vec{X: 1500}}, {At: r3.Vec{X: 2800, Z: -60}}},
		Out:    geom.Direction(3*geom.Deg, 0),
	}
}

func endAt() End { return EndOf(chainAt()).V }

const slipLengths = `
[[line.rear.shaft]]
slip_closed = 1240
slip_open = 1340
`

const leafText = slipLengths + `
[line.rear.suspension]
kind = "leaf"
bump = 80
droop = 100
axle = [3050, 0, -75]
fixed_eye = [2450, 500, -60]
seat = [3050, 500, -140]
shackle_eye = [3700, 500, -55]
shackle_pivot = [3680, 500, 55]
clamped = 120
leaves = "many"
wind_up = "4 deg"
`

const armText = slipLengths + `
[line.rear.suspension]
kind = "trailing arms"
bump = 80
droop = 120
axle = [3050, 0, -75]
[[line.rear.suspension.pivot]]
name = "left"
at = [2250, -450, -30]
[[line.rear.suspension.pivot]]
name = "right"
at = [2250, 450, -30]
`

const linkText = slipLengths + `
[line.rear.suspension]
kind = "links"
bump = 80
droop = 100
axle = [3050, 0, -75]
[[line.rear.suspension.link]]
name = "upper left"
chassis = [2550, -450, 60]
axle = [3030, -120, 70]
[[line.rear.suspension.link]]
name = "upper right"
chassis = [2550, 450, 60]
axle = [3030, 120, 70]
[[line.rear.suspension.link]]
name = "lower left"
chassis = [2400, -400, -100]
axle = [3050, -450, -120]
[[line.rear.suspension.link]]
name = "lower right"
chassis = [2400, 400, -100]
axle = [3050, 450, -120]
`

const fixedText = `
[line.rear.suspension]
kind = "fixed"
bump = 70
droop = 80
[[line.rear.suspension.half_shaft]]
name = "left"
inner = [3000, -120, -60]
outer = [3010, -640, -80]
pivot_a = [2850, -250, -110]
pivot_b = [3150, -250, -110]
ball = [3010, -660, -140]
plunge_in = 15
plunge_out = 20
[[line.rear.suspension.half_shaft]]
name = "right, long"
inner = [3000, 120, -60]
outer = [3010, 640, -80]
pivot_a = [2650, 500, -60]
pivot_b = [2850, 150, -60]
inner_max = "20 deg"
outer_max = "4 deg"
plunge_in = 25
plunge_out = 25
`

// lineOf is the build of a text and its one line.
func lineOf(t testing.TB, text string) (*project.Build, project.Line) {
	t.Helper()
	f, err := project.Parse("test.toml", []byte("format = 1\n"+text))
	require.NoError(t, err)
	require.Len(t, f.Build.Lines, 1)
	return f.Build, f.Build.Lines[0]
}

// judged moves a line that is planned as c.
func judged(b *project.Build, l project.Line, c shaft.Chain) Result {
	return Prepare(b, l, EndOf(c), finding.Estimate{}, nil).At(Place{Chain: c})
}

// moved returns the travel of the line rear, planned as chainAt.
func moved(t testing.TB, text string) (Result, *Travel) {
	t.Helper()
	b, l := lineOf(t, text)
	r := judged(b, l, chainAt())
	return r, r.Travel
}

func findingOf(t testing.TB, r Result, id string) finding.Finding {
	t.Helper()
	i := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return f.ID == id })
	require.GreaterOrEqual(t, i, 0, id)
	return r.Findings[i]
}

func deg(v float64) float64 { return geom.Angle(v).Degrees() }

func without(text, key string) string {
	var out []string
	for _, s := range strings.Split(text, "\n") {
		if !strings.HasPrefix(s, key+" = ") {
			out = append(out, s)
		}
	}
	return strings.Join(out, "\n")
}

func ids(a Result) []string {
	var out []string
	for _, f := range a.Findings {
		out = append(out, f.ID)
	}
	return out
}

var axleFindings = []string{
	"line.rear.travel.joint.1.max", "line.rear.travel.joint.2.max",
	"line.rear.travel.slip.bottom", "line.rear.travel.slip.pull", "line.rear.travel.reach",
}

func TestTravelIsFine(t *testing.T) {
	for name, text := range map[string]string{"leaf": leafText, "trailing arms": armText, "links": linkText} {
		t.Run(name, func(t *testing.T) {
			a, tr := moved(t, text)
			require.Empty(t, tr.Why)
			assert.Equal(t, name, tr.Kind)
			assert.Equal(t, axleFindings, ids(a))
			for _, f := range a.Findings {
				assert.Equal(t, finding.OK, f.Status, "%s: %s", f.ID, f.Advice())
				assert.Equal(t, finding.Planned, f.Basis)
				assert.NotEmpty(t, f.Source, f.ID)
				assert.NotEmpty(t, f.Advice(), f.ID)
			}
			require.Len(t, tr.Points, travelSteps)
			for i, p := range tr.Points {
				if i > 0 {
					assert.Greater(t, p.Rise, tr.Points[i-1].Rise)
				}
				for j, angle := range p.Angles {
					assert.LessOrEqual(t, angle, tr.Worst[j].Value)
				}
				assert.LessOrEqual(t, tr.Slip.Shortest.Value, p.Length)
				assert.GreaterOrEqual(t, tr.Slip.Longest.Value, p.Length)
			}
		})
	}
	_, tr := moved(t, strings.Replace(leafText, `"many"`, `"one"`, 1))
	assert.Contains(t, tr.Caution, "single leaf")
}

// Trailing arms by plane trigonometry: axle and pinion turn about the pivots
// by the angle that lifts the axle.
func TestTrailingArmsByHand(t *testing.T) {
	_, tr := moved(t, armText)
	px, pz := 2250.0, -30.0
	rx, rz := 3050-px, -75-pz // pivot to axle
	for _, p := range tr.Points {
		up := math.Asin((rz+p.Rise)/math.Hypot(rx, rz)) - math.Atan2(rz, rx)
		s, c := math.Sincos(up)
		jx, jz := 2800-px, -60-pz
		x, z := px+jx*c-jz*s, pz+jx*s+jz*c
		slope := 3*math.Pi/180 - up // the nose drops as the arms rise
		run := math.Atan2(-z, x-1500)
		assert.InDelta(t, math.Abs(run), p.Angles[0], 1e-9, "at %g", p.Rise)
		assert.InDelta(t, math.Abs(run-slope), p.Angles[1], 1e-9, "at %g", p.Rise)
		assert.InDelta(t, math.Hypot(x-1500, z), p.Length, 1e-9, "at %g", p.Rise)
		assert.InDelta(t, slope, p.PinionSlope, 1e-9, "at %g", p.Rise)
	}
	assert.Equal(t, -120.0, tr.Points[0].Rise)
	assert.Equal(t, 80.0, tr.Points[travelSteps-1].Rise)
}

// Each point is the line that the chain gives when its last joint and driven
// axis are put where the suspension puts them.
func TestTravelAgreesWithTheChain(t *testing.T) {
	for name, text := range map[string]string{"leaf": leafText, "trailing arms": armText, "links": linkText} {
		t.Run(name, func(t *testing.T) {
			_, l := lineOf(t, text)
			m, err := modelOf(&axleInput{l.Name, l.Suspension, endAt()})
			require.NoError(t, err)
			_, tr := moved(t, text)
			for _, i := range []int{0, 7, 20, 33, 40} {
				at, err := m.cases[0].suspension.At(tr.Points[i].Rise)
				require.NoError(t, err)
				c := chainAt()
				c.Joints[1].At, c.Out = at.PinionAt, at.PinionAxis
				mech, err := shaft.NewMechanism(c)
				require.NoError(t, err)
				for j, bend := range mech.Joints() {
					assert.InDelta(t, bend.Angle.Rad(), tr.Points[i].Angles[j], 1e-8)
				}
				assert.InDelta(t, r3.Norm(r3.Sub(at.PinionAt, c.Joints[0].At)), tr.Points[i].Length, 1e-6)
			}
		})
	}
}

// The end at full droop is that of the first point of the sweep.
func TestAtDroop(t *testing.T) {
	_, tr := moved(t, armText)
	_, l := lineOf(t, armText)
	end, err := AtDroop(l, endAt())
	require.NoError(t, err)
	assert.InDelta(t, tr.Points[0].Length, r3.Norm(r3.Sub(end.At, chainAt().Joints[0].At)), 1e-9)
	assert.InDelta(t, tr.Points[0].PinionSlope, geom.Slope(end.Axis).Rad(), 1e-9)
	_, l = lineOf(t, without(armText, "droop"))
	_, err = AtDroop(l, endAt())
	require.ErrorContains(t, err, "suspension.droop is not in the file yet")
}

// A joint that runs evenly has its own limit.
func TestLimitOfAnEvenJoint(t *testing.T) {
	b, l := lineOf(t, "[[line.rear.joint]]\nkind = \"constant velocity\"\n[[line.rear.joint]]\n"+armText)
	r := judged(b, l, chainAt())
	assert.Equal(t, b.Limit("even_joint_travel").Value, findingOf(t, r, "line.rear.travel.joint.1.max").Limit)
	assert.Equal(t, b.Limit("joint_travel").Value, findingOf(t, r, "line.rear.travel.joint.2.max").Limit)
}

// A line to the front is the mirror image of one to the rear.
func TestTravelOfAFrontLine(t *testing.T) {
	_, rear := moved(t, armText)
	mirror := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: v.Y, Z: v.Z} }
	text := strings.NewReplacer("[2250", "[-2250", "[3050", "[-3050").Replace(armText)
	b, l := lineOf(t, text)
	c := chainAt()
	c.In, c.Out = mirror(c.In), mirror(c.Out)
	for i := range c.Joints {
		c.Joints[i].At = mirror(c.Joints[i].At)
	}
	out := judged(b, l, c)
	require.Empty(t, out.Travel.Why)
	for i, p := range rear.Points {
		q := out.Travel.Points[i]
		assert.InDeltaSlice(t, p.Angles, q.Angles, 1e-9)
		assert.InDelta(t, p.Length, q.Length, 1e-9)
		assert.InDelta(t, -p.PinionSlope, q.PinionSlope, 1e-9)
	}
}

// Wind-up turns the pinion by just its own amount at ride height, so the
// joint at the axle is worst under torque and the finding says under which.
func TestWindUpCounts(t *testing.T) {
	_, calm := moved(t, without(leafText, "wind_up"))
	a, wound := moved(t, leafText)
	assert.Empty(t, calm.Worst[1].Under)
	assert.NotEmpty(t, wound.Worst[1].Under)
	assert.Greater(t, wound.Worst[1].Value, calm.Worst[1].Value+(3*geom.Deg).Rad())
	assert.Less(t, wound.Worst[1].Value, calm.Worst[1].Value+(5*geom.Deg).Rad())
	assert.Equal(t, calm.Points, wound.Points, "the points are those at rest")
	assert.Contains(t, findingOf(t, a, "line.rear.travel.joint.2.max").Advice(), wound.Worst[1].Under)

	// The shaft falls 2.6° to the rear, the pinion 3°: drive lifts the nose, so
	// the joint opens with it.
	_, l := lineOf(t, leafText)
	m, err := modelOf(&axleInput{l.Name, l.Suspension, endAt()})
	require.NoError(t, err)
	require.Len(t, m.cases, 3)
	for i, want := range []float64{3, 7, -1} {
		p, err := m.cases[i].suspension.At(0)
		require.NoError(t, err)
		assert.InDelta(t, want, geom.Slope(p.PinionAxis).Degrees(), 1e-9, m.cases[i].under)
	}
	assert.Equal(t, []string{"", "under drive", "coasting"}, []string{m.cases[0].under, m.cases[1].under, m.cases[2].under})
}

func TestJointOverItsTravel(t *testing.T) {
	a, _ := moved(t, armText+"[limits]\njoint_travel = \"4 deg\"\n")
	f := findingOf(t, a, "line.rear.travel.joint.2.max")
	assert.Equal(t, finding.Over, f.Status)
	assert.True(t, f.Changed)
	assert.Contains(t, f.Advice(), "120.0 mm of droop")

	joints := "[[line.rear.joint]]\nmax_angle = \"30 deg\"\n[[line.rear.joint]]\nmax_angle = \"4 deg\"\n"
	a, _ = moved(t, joints+armText)
	f = findingOf(t, a, "line.rear.travel.joint.2.max")
	assert.Equal(t, finding.Over, f.Status)
	assert.Equal(t, "the joint maker's figure, in this build's file", f.Source)
	f = findingOf(t, a, "line.rear.travel.joint.1.max")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 30, deg(f.Limit), 1e-9)
}

func TestSlipJointRunsOut(t *testing.T) {
	_, tr := moved(t, armText)
	short, long := tr.Slip.Shortest.Value, tr.Slip.Longest.Value
	assert.Less(t, short, tr.Slip.Ride)
	for _, c := range []struct {
		closed, open float64
		bottom, pull finding.Status
	}{
		{short - 10.5, long + 10.5, finding.OK, finding.OK},
		{short - 9.5, long + 10.5, finding.Over, finding.OK},
		{short - 10.5, long + 9.5, finding.OK, finding.Over},
		{short + 3, long + 10.5, finding.Over, finding.OK},
	} {
		text := strings.NewReplacer("1240", fmt.Sprint(c.closed), "1340", fmt.Sprint(c.open)).Replace(armText)
		a, _ := moved(t, text)
		bottom, pull := findingOf(t, a, "line.rear.travel.slip.bottom"), findingOf(t, a, "line.rear.travel.slip.pull")
		assert.Equal(t, c.bottom, bottom.Status)
		assert.Equal(t, c.pull, pull.Status)
		assert.InDelta(t, short-c.closed, bottom.Value, 1e-6)
		assert.InDelta(t, c.open-long, pull.Value, 1e-6)
		assert.True(t, bottom.AtLeast && pull.AtLeast)
	}
	// The same by the shaft's own report.
	_, l := lineOf(t, armText)
	m, err := modelOf(&axleInput{l.Name, l.Suspension, endAt()})
	require.NoError(t, err)
	points, err := suspension.Sweep(m.cases[0].suspension, 120, 80, travelSteps)
	require.NoError(t, err)
	r, err := suspension.SlipShaft{Fixed: chainAt().Joints[0].At, Collapsed: 1240, Extended: 1340}.Over(points)
	require.NoError(t, err)
	assert.InDelta(t, r.BottomMargin, tr.Slip.Bottom.V, 1e-9)
	assert.InDelta(t, r.PullMargin, tr.Slip.Pull.V, 1e-9)
	assert.InDelta(t, r.Ride, tr.Slip.Ride, 1e-9)
}

// The values are finite, each under a name of its own.
func TestTravelValues(t *testing.T) {
	for _, text := range []string{leafText, fixedText} {
		a, tr := moved(t, text)
		var l finding.List
		tr.Values("line.rear", &l)
		for _, f := range a.Findings {
			l.Finding(f)
		}
		seen := map[string]finding.Value{}
		for _, v := range l {
			_, twice := seen[v.Name]
			assert.False(t, twice, v.Name)
			assert.True(t, geom.Finite(v.V), v.Name)
			seen[v.Name] = v
		}
		if text == fixedText {
			assert.Contains(t, seen, "line.rear.half_shaft.left.inner.max")
			assert.Contains(t, seen, "line.rear.half_shaft.right__long.point.41.plunge")
			continue
		}
		assert.Equal(t, tr.Worst[1].Value, seen["line.rear.travel.joint.2.max"].V)
		assert.Equal(t, tr.Worst[1].Rise, seen["line.rear.travel.joint.2.max.at"].V)
		assert.Equal(t, tr.Points[40].Angles[0], seen["line.rear.travel.point.41.joint.1"].V)
		assert.Equal(t, 80.0, seen["line.rear.travel.point.41.rise"].V)
		assert.Equal(t, tr.Slip.Shortest.Value, seen["line.rear.travel.slip.shortest"].V)
	}
}

// Whatever the points, no angle or length is anything but a number, and
// nothing that could not be moved is ok.
func TestTravelOfAnyPoints(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		l := project.Line{Name: "rear"}
		s := &l.Suspension
		s.Kind = rapid.SampledFrom([]project.SuspensionKind{project.LeafSprings, project.LinkAxle, project.TrailingArms, project.FixedDiff}).Draw(rt, "kind")
		point := func(name string, x, y, z float64) project.Point {
			d := func(n string) float64 { return rapid.Float64Range(-400, 400).Draw(rt, name+n) }
			return project.Point{At: r3.Vec{X: x + d("x"), Y: y + d("y"), Z: z + d("z")}, Known: true}
		}
		s.Bump.SetV(rapid.Float64Range(0, 300).Draw(rt, "bump"))
		s.Droop.SetV(rapid.Float64Range(0, 300).Draw(rt, "droop"))
		s.Clamped.SetV(rapid.Float64Range(0, 300).Draw(rt, "clamped"))
		s.WindUp.SetV(rapid.Float64Range(0, 0.3).Draw(rt, "wind"))
		s.Axle, s.Leaves = point("axle", 3050, 0, -75), project.ManyLeaves
		s.FixedEye, s.Seat = point("fixed", 2450, 500, -60), point("seat", 3050, 500, -140)
		s.ShackleEye, s.ShacklePivot = point("eye", 3700, 500, -55), point("pivot", 3680, 500, 55)
		for i, y := range []float64{-400, 400} {
			n := fmt.Sprint(i)
			s.Pivot = append(s.Pivot, project.ArmPivot{At: point("arm"+n, 2250, y, -30)})
			s.HalfShaft = append(s.HalfShaft, project.HalfShaft{Inner: point("in"+n, 3000, y/4, -60), Outer: point("out"+n, 3000, 2*y, -80),
				PivotA: point("a"+n, 2800, y/2, -100), PivotB: point("b"+n, 3200, y/2, -100)})
			for _, z := range []float64{-100, 80} {
				s.Link = append(s.Link, project.SuspensionLink{Chassis: point(fmt.Sprint("c", i, z), 2400, y, z), Axle: point(fmt.Sprint("d", i, z), 3050, y/2, z)})
			}
		}
		a := judged(&project.Build{Lines: []project.Line{l}}, l, chainAt())
		var list finding.List
		a.Travel.Values("line.rear", &list)
		for _, v := range list {
			if !geom.Finite(v.V) {
				rt.Fatalf("%s is no number", v.Name)
			}
		}
		for _, f := range a.Findings {
			if f.Status == finding.OK && !f.HasValue || !geom.Finite(f.Value, f.Limit, f.Margin) {
				rt.Fatalf("%s: %+v", f.ID, f)
			}
		}
	})
}

func BenchmarkTravel(b *testing.B) {
	for _, c := range []struct{ name, text string }{
		{"leaf", without(leafText, "wind_up")}, {"leaf with wind-up", leafText}, {"links", linkText}, {"arms", armText}, {"half shafts", fixedText},
	} {
		build, l := lineOf(b, c.text)
		chain := chainAt()
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				judged(build, l, chain)
			}
		})
		p := Prepare(build, l, EndOf(chain), finding.Estimate{}, nil)
		b.Run(c.name+", prepared", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p.At(Place{Chain: chain})
			}
		})
	}
}

// The motion of an axle serves a line prepared anew where its suspension and where the line
// ends are the same, whatever else the file says of it.
func TestTheMotionOfAnAxleServesTheSameAxle(t *testing.T) {
	b, l := lineOf(t, leafText)
	end := EndOf(chainAt())
	first := Prepare(b, l, end, finding.Estimate{}, nil)
	require.NotEmpty(t, first.sweeps)
	serves := func(l project.Line, end finding.Maybe[End]) bool {
		got := Prepare(b, l, end, finding.Estimate{}, first)
		assert.Equal(t, Prepare(b, l, end, finding.Estimate{}, nil).sweeps, got.sweeps)
		return len(got.sweeps) > 0 && &got.sweeps[0].Points[0] == &first.sweeps[0].Points[0]
	}
	assert.True(t, serves(l, end))
	other := l
	other.Shafts, other.FirstRead = nil, true
	assert.True(t, serves(other, end))
	other = l
	other.Suspension.Bump = quantity.MM(l.Suspension.Bump.V() + 1)
	assert.False(t, serves(other, end))
	other = l
	other.Name = "other" // which is said where it binds
	assert.False(t, serves(other, end))
	moved := end
	moved.V.At.X++
	assert.False(t, serves(l, moved))
}
