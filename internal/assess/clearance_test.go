package assess

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/geom/seat"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// levelHead is a powertrain that stands level with its own frame the vehicle's:
// front pads 600 mm apart, the rear one 1200 mm behind them.
const levelHead = `
format = 1
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1200, 0, 0]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
`

const weight = `
[powertrain]
mass = 300
centre_of_mass = [400, 0, 100]
torque = "300 N m"
gears = [4, 2, 1]
reverse = 3.5
`

const rubbers = `
[mount.left_front]
rate_up = 300
rate_across = 150
rate_along = 140
holds = "captive"
[mount.right_front]
rate_up = 300
rate_across = 150
rate_along = 140
holds = "captive"
[mount.rear]
rate_up = 250
rate_across = 120
rate_along = 110
holds = "captive"
`

// levelBuild is levelHead with what else a build has.
func levelBuild(t testing.TB, more ...string) *Assessment {
	t.Helper()
	return Run(build(t, levelHead+strings.Join(more, "\n")))
}

func parts(text string) string { return "[[powertrain.part]]\nname = \"sump\"\n" + text + "\n" }

func chassisPart(text string) string { return "[[chassis]]\nname = \"steering shaft\"\n" + text + "\n" }

// Every pair of shapes against the distance worked out by hand.
func TestRoomOfEveryShape(t *testing.T) {
	box := parts("from = [100, -100, -200]\nto = [400, 100, -50]")
	ball := parts("at = [250, 0, -125]\nradius = 50")
	point := parts("at = [250, 0, -125]")
	rod := parts("from = [100, 0, -125]\nto = [400, 0, -125]\nradius = 40")
	for name, c := range map[string]struct {
		part, chassis string
		want          float64
	}{
		"box and floor below":   {box, "on = [0, 0, -260]\nfacing = \"up\"", 60},
		"box and bonnet above":  {box, "on = [0, 0, 10]\nfacing = \"down\"", 60},
		"box and firewall":      {box, "on = [430, 0, 0]\nfacing = \"front\"", 30},
		"box and radiator":      {box, "on = [80, 0, 0]\nfacing = \"rear\"", 20},
		"box and wing":          {box, "on = [0, 180, 0]\nfacing = \"left\"", 80},
		"box and sloping floor": {box, "on = [400, 0, -300]\nnormal = [0, 0, 5]", 100},
		"box and crossmember":   {box, "from = [100, -400, -300]\nto = [200, 400, -220]", 20},
		"box and rod":           {box, "from = [0, 150, -100]\nto = [900, 150, -100]\nradius = 12", 38},
		"box and pipe clip":     {box, "at = [430, 140, -100]", 50},
		"box and ball":          {box, "at = [430, 140, -100]\nradius = 20", 30},
		"ball and point":        {ball, "at = [250, 100, -125]", 50},
		"point and point":       {point, "at = [250, 30, -165]", 50},
		"rod and rod across":    {rod, "from = [250, -100, -25]\nto = [250, 100, -25]\nradius = 25", 35},
		"box in the floor":      {box, "on = [0, 0, -170]\nfacing = \"up\"", -30},
	} {
		t.Run(name, func(t *testing.T) {
			a := levelBuild(t, c.part, chassisPart(c.chassis))
			require.Len(t, a.Clearances, 1)
			f := findingOf(t, a, "clearance.steering_shaft")
			assert.InDelta(t, c.want, f.Value, 1e-9)
			assert.Equal(t, c.want < 12, f.Status == Over)
			assert.InDelta(t, math.Abs(c.want), r3.Norm(r3.Sub(a.Clearances[0].To, a.Clearances[0].From)), 1e-9)
			_, ok := a.Finding("clearance.steering_shaft.rocked")
			assert.False(t, ok, "nothing is said of mounts nobody has begun")
		})
	}
}

func TestTheNearestPartAndTheGapWanted(t *testing.T) {
	a := levelBuild(t, parts("from = [0, -50, -50]\nto = [100, 50, 50]"),
		"[[powertrain.part]]\nname = \"fan\"\nfrom = [-40, -200, -200]\nto = [-20, 200, 200]\n",
		chassisPart("from = [-90, -300, 0]\nto = [-90, 300, 0]\nradius = 10\ngap = 45"))
	f := findingOf(t, a, "clearance.steering_shaft")
	assert.Equal(t, "fan", a.Clearances[0].Part)
	assert.InDelta(t, 40, f.Value, 1e-9)
	assert.InDelta(t, 45, f.Limit, 1e-9)
	assert.Equal(t, Over, f.Status)
	assert.Contains(t, f.Source, "in this build's file")
	assert.Contains(t, f.Advice(), "The fan comes nearer to the steering shaft than is wanted")
}

func TestRoomThatCannotBeJudgedSaysWhy(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"no parts":        {levelHead + chassisPart("at = [0, 0, 9]"), "powertrain.part is not in the file yet"},
		"part half given": {levelHead + parts("from = [0, 0, 0]") + chassisPart("at = [0, 0, 9]"), "sump: its other end is not in the file yet: to"},
		"no place":        {levelHead + parts("at = [0, 0, 0]") + chassisPart(""), "steering shaft: its place is not in the file yet"},
		"no way to face":  {levelHead + parts("at = [0, 0, 0]") + chassisPart("on = [0, 0, 9]"), "steering shaft: the way it faces is not in the file yet"},
		"not placed":      {"format = 1\n" + parts("at = [0, 0, 0]") + chassisPart("at = [0, 0, 9]"), "powertrain.pads.left_front"},
		"no rate yet": {levelHead + weight + parts("at = [0, 0, 0]") + chassisPart("at = [0, 0, 99]") + "[mount.rear]\nrate_up = 5\n",
			"mount.left_front.rate_up is not in the file yet"},
		"no torque yet": {levelHead + "[powertrain]\nmass = 300\ncentre_of_mass = [400, 0, 100]\n" + parts("at = [0, 0, 0]") + chassisPart("at = [0, 0, 99]") + rubbers,
			"powertrain.torque is not in the file yet"},
	} {
		t.Run(name, func(t *testing.T) {
			a := Run(build(t, c.text))
			f, ok := a.Finding("clearance.steering_shaft.rocked")
			if !ok {
				f = findingOf(t, a, "clearance.steering_shaft")
			}
			assert.Equal(t, NotKnown, f.Status)
			assert.Contains(t, f.Missing, c.want)
		})
	}
}

// The rocked room is the least over the positions, each worked out by itself.
func TestRockedRoomByEachPosition(t *testing.T) {
	a := levelBuild(t, weight, rubbers, parts("from = [100, -250, -200]\nto = [400, 250, -50]"),
		chassisPart("from = [200, 280, -400]\nto = [200, 280, 400]\nradius = 5"))
	isolators := make([]seat.Isolator, 3)
	for i, at := range []r3.Vec{{Y: -300}, {Y: 300}, {X: 1200}} {
		k := seat.Rates{X: 140, Y: 150, Z: 300}
		if i == 2 {
			k = seat.Rates{X: 110, Y: 120, Z: 250}
		}
		isolators[i] = seat.Upright([]string{"a", "b", "c"}[i], at, k)
	}
	body := seat.Body{Mass: 300, Centre: r3.Vec{X: 400, Z: 100}}
	shaft := clear.Segment{A: r3.Vec{X: 200, Y: 280, Z: -400}, B: r3.Vec{X: 200, Y: 280, Z: 400}, R: 5}
	least := math.Inf(1)
	for _, m := range []float64{0, 1.2e6, -1.2e6} {
		s, err := seat.Settle(body, isolators, seat.Load{Torque: r3.Vec{X: m}})
		require.NoError(t, err)
		gap, _, _ := clear.Distance(clear.Moved(boxBetween(r3.Vec{X: 100, Y: -250, Z: -200}, r3.Vec{X: 400, Y: 250, Z: -50}), s.Motion), shaft)
		least = min(least, gap)
	}
	f := findingOf(t, a, "clearance.steering_shaft.rocked")
	assert.InDelta(t, least, f.Value, 1e-6)
	assert.Less(t, f.Value, findingOf(t, a, "clearance.steering_shaft").Value-1)
	assert.Zero(t, f.Uncertainty)
}

// The nearest of many is the same whether far ones are passed over or not.
func TestNearestPassesOverNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vec := func(label string) r3.Vec {
			g := rapid.Float64Range(-400, 400)
			return r3.Vec{X: g.Draw(t, label+".x"), Y: g.Draw(t, label+".y"), Z: g.Draw(t, label+".z")}
		}
		shape := func(label string) clear.Shape {
			switch rapid.IntRange(0, 3).Draw(t, label) {
			case 0:
				return clear.Point{At: vec(label)}
			case 1:
				return clear.Sphere{At: vec(label), R: rapid.Float64Range(0, 80).Draw(t, label+".r")}
			case 2:
				return clear.Segment{A: vec(label + "a"), B: vec(label + "b"), R: rapid.Float64Range(0, 80).Draw(t, label+".r")}
			}
			b := boxBetween(vec(label+"a"), vec(label+"b"))
			return clear.Moved(b, geom.Orient(0.1, 0.2, 0.3, r3.Vec{X: 5}))
		}
		var bodies []body
		for i := range rapid.IntRange(1, 6).Draw(t, "n") {
			bodies = append(bodies, newBody("", shape(fmt.Sprint("part", i))))
		}
		b := newBody("", shape("chassis"))
		want := math.Inf(1)
		for _, p := range bodies {
			gap, _, _ := clear.Distance(p.shape, b.shape)
			want = min(want, gap)
		}
		require.InDelta(t, want, nearest(b, bodies).gap, 1e-9)
		hint := meeting{part: len(bodies) - 1, gap: math.Inf(1)}
		require.InDelta(t, want, nearer(b, bodies, hint).gap, 1e-9)
	})
}

func BenchmarkRunDemo(b *testing.B) {
	demo := build(b, string(starter.Demo()))
	b.ReportAllocs()
	for b.Loop() {
		Run(demo)
	}
}

// The room while it rocks is that of the largest torque, so it reaches as far as
// that while reverse is not in the file.
func TestRockedRoomWithoutReverse(t *testing.T) {
	text := strings.Replace(weight, "reverse = 3.5\n", "", 1)
	a := levelBuild(t, text, rubbers, parts("from = [100, -100, -200]\nto = [400, 100, -50]"), chassisPart("on = [0, 0, -260]\nfacing = \"up\""))
	assert.Equal(t, "powertrain.reverse is not in the file yet; it holds up to first gear's ratio of 4", findingOf(t, a, "clearance.steering_shaft.rocked").Missing)
	assert.Equal(t, OK, findingOf(t, a, "clearance.steering_shaft").Status)
}
