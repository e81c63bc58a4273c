package line

import (
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// raised is a build with its rear pad mm higher.
func raised(b *project.Build, mm float64) *project.Build {
	p, _ := b.Placement.Seat()
	p.Rear += mm
	return b.Placed(p)
}

// The rear pad of the example, 1250 mm behind the front ones, goes up by 10: the
// crankshaft turns by asin(10/1250), and the output at 1250 rises by the 10. Each
// number is the old reading and that change, and is good for the gauge and for
// how well a move is measured: 1 mm, rectangular, over 1250 for the crankshaft
// and, with the pinion 1250 further on, as much for the shaft.
func TestReadingsAreCarriedWithAMove(t *testing.T) {
	b := build(t, example.TwoEnds+example.ReadAtRest)
	a := run(raised(b, 10))
	l := a.Lines[0]
	turn := deg(math.Asin(10.0 / 1250))
	for i, want := range []struct{ read, raw float64 }{{1 - turn, 1}, {2 + turn, 2}, {3, 3}} {
		x := l.Axes[i]
		assert.InDelta(t, want.read, deg(x.Read.V), 5e-5, x.Label)
		assert.InDelta(t, want.raw, deg(x.Raw.V), 1e-9)
		assert.Equal(t, i < 2, x.Moved)
		u := 0.1 * math.Pi / 180 / math.Sqrt(3)
		if i < 2 {
			u = math.Hypot(u, 1/1250./math.Sqrt(3))
			assert.Equal(t, finding.Planned, x.Basis)
		}
		assert.InDelta(t, u, x.Read.U(), 2e-6, x.Label)
	}
	// In the angle of the two the pad counts twice, since they turn against each
	// other.
	assert.InDelta(t, math.Sqrt(2*math.Pow(0.1*math.Pi/180, 2)+math.Pow(2/1250., 2))/math.Sqrt(3), l.Joints[0].Read.U(), 2e-6)
	read := findingOf(t, a, "line.rear.powertrain.read")
	assert.True(t, read.Moved)
	assert.Contains(t, read.Advice(), "It hung with rear mount at 0.0 mm, planned at 10.0 mm.")
	assert.Contains(t, findingOf(t, a, "line.rear.joint.1.max").Advice(), "read again where it stands now")
	assert.NotContains(t, findingOf(t, a, "line.rear.powertrain.agree").Advice(), "which end was lower")

	a = run(raised(raised(b, 10), -10))
	assert.False(t, a.Lines[0].Axes[0].Moved)
	assert.Equal(t, finding.Proved, findingOf(t, a, "line.rear.joint.1.max").Basis)
}

// A direction read by tape is carried like a slope: the powertrain turned in
// plan by 1 degree takes its own with it.
func TestTapeIsCarriedWithAMove(t *testing.T) {
	b := build(t, example.TwoEnds+"[[reading]]\nof = \"powertrain\"\naside = \"10 mm right\"\nover = \"1000 mm\"\nplaced = { left_front = 0, right_front = 0, rear = 0, setback = 0 }\n")
	p, _ := b.Placement.Seat()
	p.Heading = 1 * geom.Deg
	x := run(b.Placed(p)).Lines[0].Axes[0]
	assert.InDelta(t, deg(math.Atan2(10, 1000))+1, deg(x.Plan.V), 1e-9)
	assert.InDelta(t, math.Hypot(math.Sqrt2/1000, 0.1*math.Pi/180)/math.Sqrt(3), x.Plan.U(), 1e-7)
	assert.True(t, x.Moved)
}

// A pinion read with the axle hanging is brought to ride height by what the
// travel says; without a travel it says nothing.
func TestAReadingInDroop(t *testing.T) {
	text := strings.Replace(example.TwoEnds+example.ReadAtRest, "shown = \"3 deg\"\n", "shown = \"3 deg\"\nstood = \"hanging\"\n", 1)
	b := build(t, text)
	in := inputOf(b)
	in.Droop = func(_ project.Line, ride AxleEnd) (AxleEnd, error) {
		assert.Equal(t, r3.Vec{X: 2500}, ride.At)
		return AxleEnd{At: r3.Add(ride.At, r3.Vec{Z: -100}), Axis: geom.Direction(geom.Slope(ride.Axis)+5*geom.Deg, 0)}, nil
	}
	r := Judge(in, placeOf(b), b.Lines[0])
	assert.InDelta(t, 3-5, deg(r.Line.Axes[2].Read.V), 1e-9)
	assert.True(t, r.Line.Axes[2].Hung)
	i := slices.IndexFunc(r.Agree, func(f finding.Finding) bool { return f.ID == "line.rear.pinion.read" })
	assert.Contains(t, r.Agree[i].Advice(), "Read with the axle hanging")
	assert.Contains(t, strings.Join(r.Agree[i].Assumes, "; "), "full droop")

	in.Droop = func(project.Line, AxleEnd) (AxleEnd, error) { return AxleEnd{}, assert.AnError }
	r = Judge(in, placeOf(b), b.Lines[0])
	assert.True(t, r.Line.Axes[2].Read.Unusable)
	assert.Contains(t, r.Line.Joints[1].Read.Why, "on its wheels")
}

// A shaft read on frame stands hangs at its rear end: with the pinion 100 mm
// lower then, over 1250, it stood steeper by asin... of that in side view.
func TestAShaftReadInDroop(t *testing.T) {
	text := strings.Replace(example.TwoEnds+example.ReadAtRest, "shown = \"2 deg\"\n", "shown = \"2 deg\"\nstood = \"frame on stands\"\n", 1)
	b := build(t, text)
	in := inputOf(b)
	in.Droop = func(_ project.Line, ride AxleEnd) (AxleEnd, error) {
		return AxleEnd{r3.Add(ride.At, r3.Vec{Z: -100}), ride.Axis}, nil
	}
	r := Judge(in, placeOf(b), b.Lines[0])
	assert.InDelta(t, 2-deg(math.Atan2(100, 1250)), deg(r.Line.Axes[1].Read.V), 1e-9)
}

// Once prepared, a line says at every place what it says when it is worked out
// for that place alone, also to many who ask at once.
func TestPreparedIsTheSameAsJudged(t *testing.T) {
	demo := build(t, string(starter.Demo()))
	supports, placed, err := demo.Seat()
	require.NoError(t, err)
	base := demo.Placed(placed)
	line := demo.Lines[0]
	p := Prepare(inputOf(base), line)
	var all sync.WaitGroup
	for k := range 8 {
		to, err := supports.Solve(placed, seat.Rear, placed.Rear+float64(k))
		require.NoError(t, err)
		b := demo.Placed(to)
		all.Go(func() {
			for _, light := range []bool{false, true} {
				at := placeOf(b)
				at.Light = light
				want, got := Judge(inputOf(b), at, line), p.At(at)
				for _, fs := range [][2][]finding.Finding{{want.Findings, got.Findings}, {want.Agree, got.Agree}, {want.Plans, got.Plans}} {
					if !assert.Len(t, fs[1], len(fs[0])) {
						return
					}
					for i, f := range fs[0] {
						g := fs[1][i]
						assert.Equal(t, f.Advice(), g.Advice(), f.ID)
						f.Says, g.Says = nil, nil
						assert.Equal(t, f, g)
					}
				}
			}
		})
	}
	all.Wait()
}

// What is light says the same of every verdict, and leaves out what it assumes.
func TestLightIsTheSameVerdict(t *testing.T) {
	b := raised(build(t, string(starter.Demo())), 3)
	at := placeOf(b)
	whole := Judge(inputOf(b), at, b.Lines[0])
	at.Light = true
	light := Judge(inputOf(b), at, b.Lines[0])
	require.Len(t, light.Findings, len(whole.Findings))
	for i, f := range whole.Findings {
		g := light.Findings[i]
		assert.Equal(t, []any{f.ID, f.Status, f.Value, f.Uncertainty, f.Limit}, []any{g.ID, g.Status, g.Value, g.Uncertainty, g.Limit})
	}
	assert.NotEmpty(t, whole.Line.Planned.Curve)
	assert.Empty(t, light.Line.Planned.Curve)
}

// A crankshaft across falls by what its pads have it fall: the right one 14 mm
// lower in 700 is asin of that. After a move it is the old reading and what the
// model changed.
func TestAcross(t *testing.T) {
	text := func(right, more string) string {
		return "format = 3\n[powertrain]\nlayout = \"transaxle\"\n[powertrain.pads]\nleft_front = [0, -350, 0]\nright_front = [0, 350, 0]\nrear = [400, 0, 0]\n" +
			"[placement]\nleft_front = 0\nright_front = " + right + "\nrear = 0\nsetback = 0\n" + more
	}
	reading := func(lower, more string) string {
		return "[[reading]]\nof = \"powertrain\"\non = \"along\"\nshown = \"1.1 deg\"\nlower = \"" + lower + "\"\n" + more
	}
	of := func(text string) map[string]finding.Finding {
		b := build(t, text)
		out := map[string]finding.Finding{}
		for _, f := range Across(inputOf(b), placeOf(b)) {
			out[f.ID] = f
		}
		return out
	}
	falls := deg(math.Asin(14.0 / 700))
	fs := of(text("-14", reading("right", "")))
	assert.Contains(t, fs["powertrain.across.read"].Advice(), "1.10° down to the right")
	assert.Equal(t, finding.Read, fs["powertrain.across.read"].Basis)
	assert.InDelta(t, math.Abs(1.1-falls), deg(fs["powertrain.across.agree"].Value), 1e-6)
	assert.Equal(t, finding.OK, fs["powertrain.across.agree"].Status)

	fs = of(text("-14", reading("left", "after = \"tacked\"\n")))
	assert.InDelta(t, 1.1+falls, deg(fs["powertrain.across.agree"].Value), 1e-6)
	assert.Equal(t, finding.Over, fs["powertrain.across.agree"].Status)
	assert.Equal(t, finding.Proved, fs["powertrain.across.agree"].Basis)

	fs = of(text("-14", reading("right", "placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }\n")))
	assert.InDelta(t, 1.1+falls, deg(fs["powertrain.across.read"].Value), 1e-6)
	assert.Equal(t, finding.Planned, fs["powertrain.across.read"].Basis)
	assert.Equal(t, finding.NotKnown, of(text("-14", ""))["powertrain.across.read"].Status)
	assert.Empty(t, Across(inputOf(build(t, example.TwoEnds)), placeOf(build(t, example.TwoEnds))))
}

// The vehicle taken to slope alike is said of axes read as it stood in different
// ways, unless the frame or the floor was read in each.
func TestStandsThatSlopeAlike(t *testing.T) {
	b := build(t, strings.Replace(example.Three("rear", "rear", "rear"), "of = \"line.rear.pinion\"\n", "of = \"line.rear.pinion\"\nstood = \"axle on stands\"\n", 1))
	in := inputOf(b)
	assumes := func() string {
		r := Judge(in, placeOf(b), b.Lines[0])
		for _, f := range r.Findings {
			if f.ID == "line.rear.joint.2.max" {
				return strings.Join(f.Assumes, "; ")
			}
		}
		return "no finding"
	}
	assert.Contains(t, assumes(), "slope alike as it stood (on its wheels, axle on stands)")
	in.Readings.Levelled = map[project.Stood]bool{"on its wheels": true}
	assert.Contains(t, assumes(), "slope alike")
	in.Readings.Levelled["axle on stands"] = true
	assert.NotContains(t, assumes(), "slope alike")
}

// The last shaft of several, behind what the powertrain reaches, goes with the
// axle at its rear end alone: 100 mm lower over the 600 to the joint ahead.
func TestTheLastShaftOfSeveralInDroop(t *testing.T) {
	text := `format = 3
[line.rear.first]
slope = "1 deg down to the rear"
[line.rear.pinion]
slope = "3 deg down to the rear"
[[line.rear.joint]]
at = [0, 0, 0]
[[line.rear.joint]]
at = [900, 0, 0]
[[line.rear.joint]]
at = [1500, 0, 0]
[[reading]]
of = "line.rear.shaft.2"
on = "along"
shown = "7 deg"
lower = "rear"
stood = "hanging"
`
	b := build(t, text)
	in := inputOf(b)
	in.Droop = func(_ project.Line, ride AxleEnd) (AxleEnd, error) {
		return AxleEnd{r3.Add(ride.At, r3.Vec{Z: -100}), ride.Axis}, nil
	}
	x := Judge(in, placeOf(b), b.Lines[0]).Line.Axes[2]
	require.True(t, x.Read.Known, x.Read.Why)
	assert.InDelta(t, 7-deg(math.Atan2(100, 600)), deg(x.Read.V), 1e-9)
	assert.Equal(t, finding.Planned, x.Basis)
}

// What agreement is worth depends on what was carried, on a doubt, and on the
// other axes; and what to check depends on what the reading says of its place.
func TestWhatAgreementIsWorth(t *testing.T) {
	advice := func(text string, change func(*Input), id string) string {
		b := build(t, text)
		in := inputOf(b)
		if change != nil {
			change(&in)
		}
		f := findingOf(t, judgedBy(in, b), "line.rear."+id)
		return f.Says()
	}
	near := strings.NewReplacer("\"1 deg\"", "\"0.1 deg\"", "\"2 deg\"", "\"0.2 deg\"", "plan_gap = \"5 deg\"", "plan_gap = \"1 deg\"").Replace(example.TwoEnds + example.ReadAtRest)
	assert.Equal(t, "The reading and the model agree.", advice(near, nil, "shaft.1.agree"))
	droop := func(in *Input) {
		in.Droop = func(_ project.Line, ride AxleEnd) (AxleEnd, error) { return ride, nil }
	}
	hung := strings.Replace(near, "of = \"line.rear.pinion\"\n", "of = \"line.rear.pinion\"\nstood = \"hanging\"\n", 1)
	assert.Contains(t, advice(hung, droop, "pinion.agree"), "the model against itself")
	doubt := func(in *Input) {
		taken := in.Readings.Gauge["line.rear.pinion"]
		taken.Doubt = "Take a third."
		in.Readings.Gauge["line.rear.pinion"] = taken
	}
	assert.Contains(t, advice(near, doubt, "pinion.agree"), "not near each other; take a third")
	assert.Equal(t, "Take a third.", advice(near, doubt, "pinion.read"))
	assert.Equal(t, "The reading and the model agree.", advice(near, doubt, "powertrain.agree"))

	far := strings.Replace(example.TwoEnds+example.ReadAtRest, "plan_gap = \"5 deg\"", "plan_gap = \"0.5 deg\"", 1)
	assert.NotContains(t, advice(far, nil, "powertrain.agree"), "whether the powertrain was moved", "the reading says where it stood")
	unnoted := strings.ReplaceAll(far, "placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }\n", "")
	assert.Contains(t, advice(unnoted, nil, "powertrain.agree"), "whether the powertrain was moved after it was read")
	other := strings.Replace(unnoted, "shown = \"3 deg\"", "shown = \"4 deg\"", 1)
	assert.NotContains(t, advice(other, nil, "pinion.agree"), "whether the powertrain was moved", "the pinion does not hang on it")
}

// With a plan the directions from above are the plan's, and that is said.
func TestDirectionsFromThePlanAreSaid(t *testing.T) {
	f := findingOf(t, run(build(t, example.TwoEnds+example.ReadAtRest)), "line.rear.joint.1.max")
	assert.Contains(t, f.Assumes, "directions in plan as the model has them, their ± not stated")
	f = findingOf(t, run(build(t, example.Three("rear", "rear", "rear"))), "line.rear.joint.1.max")
	assert.NotContains(t, f.Assumes, "directions in plan as the model has them")
}

// How many places of the powertrain a line's findings are worked out for in a
// second, once it is prepared.
func BenchmarkAt(b *testing.B) {
	demo := build(b, string(starter.Demo()))
	p := Prepare(inputOf(raised(demo, 0)), demo.Lines[0])
	places := make([]Place, 64)
	for i := range places {
		places[i] = placeOf(raised(demo, 0.1*float64(i)))
		places[i].Light = true
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		p.At(places[i%len(places)])
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "places/s")
}
