package assess

import (
	"math"
	"os"
	"strings"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/geom/seat"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func parts(text string) string { return "[[powertrain.part]]\nname = \"sump\"\n" + text + "\n" }

func chassisPart(text string) string { return "[[chassis]]\nname = \"steering shaft\"\n" + text + "\n" }

// frontAxleText is a front axle on trailing arms under levelHead's powertrain,
// driven by a shaft from a transfer case that hangs on it; made up for these
// tests. The arms turn about a line across the vehicle at (900, -250).
const frontAxleText = example.FrontAxle

const axleTube = example.AxleTube

const frontSump = example.FrontSump

func frontAxle(t testing.TB, more ...string) *Assessment {
	t.Helper()
	return levelBuild(t, append([]string{frontAxleText}, more...)...)
}

func TestRoomThatCannotBeJudgedSaysWhy(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"no parts":        {levelHead + chassisPart("at = [0, 0, 9]"), "powertrain.part is not in the file yet"},
		"part half given": {levelHead + parts("from = [0, 0, 0]") + chassisPart("at = [0, 0, 9]"), "sump: its other end is not in the file yet: powertrain.part.1.to"},
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
	sump, err := PartShape(a.Build.Powertrain.Parts[0])
	require.NoError(t, err)
	least := math.Inf(1)
	for _, m := range []float64{0, 1.2e6, -1.2e6} {
		s, err := seat.Settle(body, isolators, seat.Load{Torque: r3.Vec{X: m}})
		require.NoError(t, err)
		gap, _, _ := clear.Distance(clear.Moved(sump, s.Motion), shaft)
		least = min(least, gap)
	}
	f := findingOf(t, a, "clearance.steering_shaft.rocked")
	assert.InDelta(t, least, f.Value, 1e-6)
	assert.Less(t, f.Value, findingOf(t, a, "clearance.steering_shaft").Value-1)
	assert.Zero(t, f.Uncertainty)
}

// The room while it rocks is that of the largest torque, so it reaches as far as
// that while reverse is not in the file.
func TestRockedRoomWithoutReverse(t *testing.T) {
	text := strings.Replace(weight, "reverse = 3.5\n", "", 1)
	a := levelBuild(t, text, rubbers, parts("from = [100, -100, -200]\nto = [400, 100, -50]"), chassisPart("on = [0, 0, -260]\nfacing = \"up\""))
	assert.Equal(t, "powertrain.reverse is not in the file yet; it holds up to first gear's ratio of 4", findingOf(t, a, "clearance.steering_shaft.rocked").Missing)
	assert.Equal(t, OK, findingOf(t, a, "clearance.steering_shaft").Status)
}

// What cannot be followed is not known, and past the limit is past it all the
// same.
func TestWhatDoesNotFollowIsNotOk(t *testing.T) {
	before, rest, ok := strings.Cut(frontAxleText, "[line.front.suspension]")
	require.True(t, ok)
	suspension := "[line.front.suspension]" + rest
	far := chassisPart("from = [600, -400, -560]\nto = [600, 400, -560]\nradius = 20")
	for name, c := range map[string]struct{ old, now, want string }{
		"no diameter":       {"outside = 60\n", "", "line.front.shaft.1.outside is not in the file yet"},
		"no suspension":     {suspension, "", "line.front.suspension is not in the file yet"},
		"half a suspension": {"droop = 110\n", "", "line.front.suspension.droop is not in the file yet"},
		"no pinion":         {"at = [200, 250, -230]\n", "", "line.front.pinion.at is not in the file yet"},
	} {
		t.Run(name, func(t *testing.T) {
			a := levelBuild(t, strings.Replace(frontAxleText, c.old, c.now, 1), frontSump, far)
			for _, id := range []string{"clearance.steering_shaft.moving", "clearance.powertrain.moving"} {
				f := findingOf(t, a, id)
				assert.Equal(t, NotKnown, f.Status, id)
				assert.Contains(t, f.Missing, c.want, id)
			}
		})
	}
	a := levelBuild(t, before, frontSump,
		chassisPart("from = [450, 200, -200]\nto = [550, 300, -100]"))
	assert.Equal(t, Over, findingOf(t, a, "clearance.steering_shaft.moving").Status)

	a = frontAxle(t, frontSump)
	f := findingOf(t, a, "clearance.powertrain.moving")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "line.front.suspension.part is not in the file yet, and the front axle passes under the powertrain")
	a = levelBuild(t, strings.Replace(frontAxleText, "axle = [50, 0", "axle = [-900, 0", 1), frontSump)
	assert.Contains(t, strings.Join(findingOf(t, a, "clearance.powertrain.moving").Assumes, "\n"), "the front axle itself is not in it")
}

// On its rubber the powertrain takes the shaft's end along: the least of all
// stands, each by itself.
func TestShaftRoomWithThePowertrainOnItsRubber(t *testing.T) {
	under := chassisPart("from = [950, 200, -400]\nto = [960, 300, -140]")
	built := frontAxle(t, frontSump, axleTube, under)
	assert.Contains(t, strings.Join(findingOf(t, built, "clearance.steering_shaft.moving").Assumes, "\n"), "not sagged or rocked")
	a := frontAxle(t, weight, rubbers, frontSump, axleTube, under)
	require.Empty(t, a.Isolators.Why)
	f := findingOf(t, a, "clearance.steering_shaft.moving")
	assert.Less(t, f.Value, findingOf(t, built, "clearance.steering_shaft.moving").Value-0.5)
	assert.NotEmpty(t, a.Clearances[0].Moving.Where.Under)
	assert.NotContains(t, strings.Join(f.Assumes, "\n"), "not sagged")

	soft := strings.Replace(rubbers, "rate_up = 250\nrate_across = 120\nrate_along = 110", "hardness = 50\nthickness = 30\ndiameter = 60", 1)
	f = findingOf(t, frontAxle(t, weight, soft, frontSump, axleTube, under), "clearance.steering_shaft.moving")
	assert.Positive(t, f.Uncertainty, "estimated rates leave their width")
}

// A step of the powertrain shows what it does to the moving room.
func TestStepsMoveTheMovingRoom(t *testing.T) {
	a := frontAxle(t, frontSump, axleTube)
	e, ok := a.Effects("clearance.powertrain.moving", Step{Length: 1, Angle: (0.1 * geom.Deg).Rad()})[seat.Lift]
	require.True(t, ok)
	assert.InDelta(t, 1, e.Change.V, 1e-6, "a millimetre up is a millimetre of room")
}

// A crossmember is in the way of pipes and shafts: by hand, the beam's underside is at
// −170 − 45 − 8 − 60 mm and the pipe's top at −310 mm.
func TestPipesAndShaftsStayClearOfACrossmember(t *testing.T) {
	text, err := os.ReadFile("../../testdata/mounts/dropped_crossmember.toml")
	require.NoError(t, err)
	a := Run(build(t, string(text)))
	f := findingOf(t, a, "exhaust.front_pipe")
	assert.InDelta(t, -283+310, f.Value, 1e-6)
	assert.Equal(t, "rear bracket", a.Exhaust[0].Built.To)
	assert.Equal(t, OK, findingOf(t, a, "bracket.rear.moving").Status)
	low := Run(build(t, strings.Replace(string(text), "[[900, 150, -340], [2200, 150, -340]]", "[[900, 150, -240], [2200, 150, -240]]", 1)))
	f = findingOf(t, low, "exhaust.front_pipe")
	assert.Equal(t, Over, f.Status)
	assert.Negative(t, f.Value)
	none := Run(build(t, strings.Replace(string(text), "between = 420 ", "# between", 1)))
	assert.Equal(t, NotKnown, findingOf(t, none, "bracket.rear.moving").Status)
}
