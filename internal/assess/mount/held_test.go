package mount

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Values that are printed are in balance with the weight, the acceleration and the torque
// of each case: the link along the line between its joints, the stop along its axis.
func TestHeldPowertrainIsInBalance(t *testing.T) {
	a := levelBuild(t, weight, rubbers, example.Held)
	require.Empty(t, a.Statics.Why)
	s, met := &a.Statics, 0
	for c, lc := range s.Cases {
		got, err := a.hung.Settle(lc.Load)
		require.NoError(t, err)
		at := func(p r3.Vec) r3.Vec { return got.Motion.Point(p) }
		centre := at(s.Body.V.Centre)
		force, moment := lc.Load.Force(s.Body.V), lc.Load.Torque
		add := func(p, f r3.Vec) {
			force, moment = r3.Add(force, f), r3.Add(moment, r3.Cross(r3.Sub(p, centre), f))
		}
		for i := range s.Mounts {
			add(at(s.Mounts[i].At.V), loadOf(t, a, s.Mounts[i].Spec.Name, lc.ID))
		}
		on, to := at(a.Pose.Point(r3.Vec{X: 50, Z: 400})), r3.Vec{X: 50, Y: 350, Z: 400}
		add(on, r3.Scale(value(t, a, "torque_link.upper.pull."+lc.ID), r3.Unit(r3.Sub(to, on))))
		pressed := value(t, a, "roll_stop.left.pressed."+lc.ID)
		add(at(a.Pose.Point(r3.Vec{X: 200, Y: -300, Z: 50})), r3.Vec{Z: -2000 * pressed})
		assert.InDelta(t, 2000*math.Abs(pressed), value(t, a, "roll_stop.left.force."+lc.ID), 1e-6)
		assert.Less(t, r3.Norm(force), 1e-4, lc.Name)
		assert.Less(t, r3.Norm(moment), 0.1, lc.Name)
		if pressed != 0 {
			met++
			assert.Contains(t, s.Stops[0].Met(), c)
		}
	}
	assert.Positive(t, met)
	assert.Less(t, met, len(s.Cases))
	assert.InDelta(t, 0, value(t, a, "torque_link.upper.pull.rest"), 1e-6, "drawn tight with the weight on")
	assert.InDelta(t, 4, value(t, a, "roll_stop.left.play.rest"), 1e-6)
	plain := levelBuild(t, weight, rubbers)
	assert.Less(t, a.Isolators.Rock.V, 0.9*plain.Isolators.Rock.V, "they hold it against its torque")
	assert.InDelta(t, plain.Isolators.Drop.V, a.Isolators.Drop.V, 1e-6, "and nothing of its weight")
}

// The verdicts on a link and a stop, and what each lacks.
func TestVerdictsOnLinksAndStops(t *testing.T) {
	with := func(old, new string) *judged {
		require.Contains(t, example.Held, old)
		return levelBuild(t, weight, rubbers, strings.Replace(example.Held, old, new, 1))
	}
	a := with("rate", "rate")
	s := &a.Statics
	f := findingOf(t, a, "torque_link.upper.load")
	assert.Equal(t, finding.OK, f.Status, f.Advice())
	most := 0.0
	for _, v := range s.Links[0].Pull {
		most = max(most, math.Abs(v))
	}
	assert.InDelta(t, most, f.Value, 1e-9)
	assert.Contains(t, f.Advice(), s.Cases[s.Links[0].Worst].Name)
	f = findingOf(t, a, "roll_stop.left.load")
	assert.InDelta(t, slices.Max(s.Stops[0].Force), f.Value, 1e-9)
	assert.Contains(t, f.Advice(), s.Cases[s.Stops[0].Met()[0]].Name)
	assert.Equal(t, finding.OK, findingOf(t, a, "roll_stop.left.play").Status)

	assert.Equal(t, finding.Over, findingOf(t, with("\"9 kN\"", "100"), "torque_link.upper.load").Status)
	assert.Equal(t, finding.Over, findingOf(t, with("\"15 kN\"", "100"), "roll_stop.left.load").Status)
	assert.Equal(t, finding.Over, findingOf(t, with("play = 4", "play = 2"), "roll_stop.left.play").Status)
	for _, c := range [][3]string{
		{"rating = \"9 kN\"", "torque_link.upper.load", "torque_link.upper.rating is not in the file yet"},
		{"rating = \"15 kN\"", "roll_stop.left.load", "roll_stop.left.rating is not in the file yet"},
		{"rate = 300", "torque_link.upper.load", "torque_link.upper.rate is not in the file yet"},
		{"rate = 2000", "roll_stop.left.play", "roll_stop.left.rate is not in the file yet"},
		{"to = [50, 350, 400]", "torque_link.upper.load", "torque_link.upper.to is not in the file yet"},
		{"at = [200, -300, 50]", "roll_stop.left.load", "roll_stop.left.at is not in the file yet"},
	} {
		f := findingOf(t, with(c[0], ""), c[1])
		assert.Equal(t, finding.NotKnown, f.Status, c[0])
		assert.Equal(t, c[2], f.Missing)
	}
	none := with("play = 4\nback = 6", "")
	assert.Equal(t, "roll_stop.left.play is not in the file yet", findingOf(t, none, "roll_stop.left.play").Missing)
	// What a link without a rate does to the mounts is not known either.
	assert.NotEmpty(t, with("rate = 300", "").Statics.Partial)

	far := with("play = 4\nback = 6\nrate = 2000\nrating = \"15 kN\"", "play = 400\nrate = 2000")
	f = findingOf(t, far, "roll_stop.left.load")
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Advice(), "met in no case")
	unweighed := run(build(t, levelHead+rubbers+example.Held))
	for _, id := range []string{"torque_link.upper.load", "roll_stop.left.play", "roll_stop.left.load"} {
		assert.Equal(t, "powertrain.mass is not in the file yet", findingOf(t, unweighed, id).Missing, id)
	}

	// Each bush of its own: 600 and 600 one behind the other are 300.
	bushes := with("rate = 300", "rate_on = 600\nrate_to = 600")
	assert.InDeltaSlice(t, s.Links[0].Pull, bushes.Statics.Links[0].Pull, 1e-6)
	assert.Equal(t, "torque_link.upper.rate_to is not in the file yet", findingOf(t, with("rate = 300", "rate_on = 600"), "torque_link.upper.load").Missing)
}

// As built: the weight comes down on the stop, and the link takes a part of it.
func TestHeldAsBuilt(t *testing.T) {
	loaded := levelBuild(t, weight, rubbers, example.Held)
	down := strings.NewReplacer("back = 6", "back = 1", "rating = \"15 kN\"", "rating = \"15 kN\"\nfitted = \"as built\"", "to = [50, 350, 400]", "to = [50, 0, 700]").Replace(example.Held)
	a := levelBuild(t, weight, rubbers, down)
	require.Greater(t, loaded.Isolators.Drop.V, 2.0)
	f := findingOf(t, a, "roll_stop.left.play")
	assert.Equal(t, finding.Over, f.Status)
	assert.Zero(t, f.Value)
	assert.Contains(t, a.Statics.Stops[0].Met(), 0)
	assert.Greater(t, a.Isolators.Bounce.V, 1.05*loaded.Isolators.Bounce.V, "what is met holds it up and down too")
	tied := levelBuild(t, weight, rubbers, strings.Replace(down, "rating = \"9 kN\"", "rating = \"9 kN\"\nfitted = \"as built\"", 1))
	assert.Greater(t, math.Abs(value(t, tied, "torque_link.upper.pull.rest")), 100.0)
	// Without rates of the mounts balance alone no longer tells what they carry.
	unknown := levelBuild(t, weight, strings.Replace(rubbers, "rate_up = 250", "", 1), strings.Replace(down, "rating = \"9 kN\"", "rating = \"9 kN\"\nfitted = \"as built\"", 1))
	assert.Contains(t, unknown.Statics.Why, "the upper torque link was fitted before the weight came down")
}

// The same build seen in a mirror, and in inches and pounds, says the same.
func TestHeldMirroredAndInInches(t *testing.T) {
	engine := strings.Replace(weight, "[400, 0, 100]", "[400, 20, 100]", 1)
	require.NotEqual(t, weight, engine)
	one := levelBuild(t, strings.Replace(engine, "mass", "turns = \"standard\"\nmass", 1), rubbers, example.Held)
	held := strings.NewReplacer("to = [50, 350, 400]", "to = [50, -350, 400]", "at = [200, -300, 50]", "at = [200, 300, 50]").Replace(example.Held)
	mirror := strings.NewReplacer("left_front", "right_front", "right_front", "left_front").Replace(rubbers)
	other := levelBuild(t, strings.Replace(strings.Replace(engine, "[400, 20, 100]", "[400, -20, 100]", 1), "mass", "turns = \"opposite\"\nmass", 1), mirror, held)
	assert.InDelta(t, findingOf(t, one, "torque_link.upper.load").Value, findingOf(t, other, "torque_link.upper.load").Value, 1e-5)
	assert.InDelta(t, findingOf(t, one, "roll_stop.left.load").Value, findingOf(t, other, "roll_stop.left.load").Value, 1e-5)
	assert.InDelta(t, one.Isolators.Rock.V, other.Isolators.Rock.V, 1e-12)

	inch := func(v float64) string { return fmt.Sprintf("\"%.12g in\"", v/25.4) }
	rate := func(v float64) string { return fmt.Sprintf("rate = \"%.12g lb/in\"", v*25.4/4.4482216152605) }
	text := strings.NewReplacer("play = 4", "play = "+inch(4), "back = 6", "back = "+inch(6), "rate = 2000", rate(2000), "rate = 300", rate(300),
		"to = [50, 350, 400]", "to = ["+inch(50)+", "+inch(350)+", "+inch(400)+"]").Replace(example.Held)
	again := levelBuild(t, engine, rubbers, text)
	plain := levelBuild(t, engine, rubbers, example.Held)
	assert.InDeltaSlice(t, plain.Statics.Links[0].Pull, again.Statics.Links[0].Pull, 1e-5)
	assert.InDeltaSlice(t, plain.Statics.Stops[0].Force, again.Statics.Stops[0].Force, 1e-5)
}

// A link level across through the centre of mass raises the sideways mode of a block on
// four corners to √((4k + kl)/m); a stop that is not met at rest raises nothing, and one
// that is met does.
func TestLinksShakeAndStopsDoNot(t *testing.T) {
	const engine = "cylinders = 4\nidle = \"800 rpm\""
	link := "[torque_link.side]\non = [400, 0, 100]\nto = [400, 300, 100]\nrate = 250\ndynamic = 1\n"
	s := shakingOf(t, engineOf(engine), corners(0, ""), link)
	require.Empty(t, s.Why)
	sideways := func(k float64) float64 { return math.Sqrt(1000*k/200) / (2 * math.Pi) }
	i := slices.IndexFunc(s.Modes, func(m SwingMode) bool { return m.Words == "sideways" })
	require.GreaterOrEqual(t, i, 0)
	assert.InDelta(t, sideways(400+250), s.Modes[i].Frequency.V, 1e-6)
	stop := "[roll_stop.over]\nat = [400, 0, 100]\naxis = [0, 1, 0]\nplay = 2\nrate = 800\ndynamic = 1\n"
	free := shakingOf(t, engineOf(engine), corners(0, ""), stop)
	plain := shakingOf(t, engineOf(engine), corners(0, ""))
	assert.InEpsilonSlice(t, plain.frequencies(), free.frequencies(), 1e-12)
	under := "[roll_stop.under]\nat = [400, 0, 100]\nback = 1\nrate = 800\ndynamic = 1\nfitted = \"as built\"\n"
	met := shakingOf(t, engineOf(engine), corners(0, ""), under)
	i = slices.IndexFunc(met.Modes, func(m SwingMode) bool { return m.Words == "bounce" })
	require.GreaterOrEqual(t, i, 0)
	assert.InDelta(t, sideways(800+800), met.Modes[i].Frequency.V, 1e-6)
	assert.Equal(t, "under roll stop", met.Modes[i].Soften)
	// Bushes of which nothing is said in vibration are 1.2 to 2 times as stiff.
	open := shakingOf(t, engineOf(engine), corners(0, ""), strings.Replace(link, "dynamic = 1\n", "", 1))
	i = slices.IndexFunc(open.Modes, func(m SwingMode) bool { return m.Words == "sideways" })
	assert.InDelta(t, sideways(400+250*dynamicMiddle), open.Modes[i].Frequency.V, 1e-6)
	assert.Positive(t, open.Modes[i].Frequency.Expanded())
	assert.InDelta(t, seat.DynamicHigh, stiffest(open), 1e-12)
}

func stiffest(s shakes) float64 { return s.spread.high[len(s.spread.high)-1][0] * dynamicMiddle }

// Reverse that is not in the file leaves the load of a link open.
func TestReverseMayLoadALink(t *testing.T) {
	require.Contains(t, weight, "reverse = ")
	i := strings.Index(weight, "reverse = ")
	without := weight[:i] + weight[i+strings.Index(weight[i:], "\n")+1:]
	f := findingOf(t, levelBuild(t, without, rubbers, example.Held), "torque_link.upper.load")
	assert.NotEqual(t, finding.OK, f.Status)
}

// A rebound washer is a part of its mount: what throws the powertrain up is on the mount
// and so on its bracket, where a stop with a bracket of its own takes a part of it.
func TestReboundWasherOfAMount(t *testing.T) {
	washer := "[roll_stop.washer]\nat = [1200, 0, 0]\nplay = 1\nrate = 2500\nrating = \"9 kN\"\n"
	apart := levelBuild(t, weight, rubbers, washer)
	own := levelBuild(t, weight, rubbers, washer+"mount = \"rear\"\n")
	force := value(t, apart, "roll_stop.washer.force.rebound")
	require.Greater(t, force, 100.0)
	assert.InDelta(t, force, value(t, own, "roll_stop.washer.force.rebound"), 1e-6)
	assert.InDelta(t, value(t, apart, "mount.rear.load.rebound.up")-force, value(t, own, "mount.rear.load.rebound.up"), 1e-6)
	sum := 0.0
	for _, m := range []string{"left_front", "right_front", "rear"} {
		sum += value(t, own, "mount."+m+".load.rebound.up")
	}
	assert.InDelta(t, -0.5*300*geom.Gravity, sum, 1e-5)
}
