package assess_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const engine = example.Weighs + "\ntorque = \"200 N m\"\ngears = [3]\nreverse = 3"

// braked is a build that is only braked, at 1 g.
const braked = "[loads]\nbraking = 1\ncornering = 0\nbump = 1\ncase = []\n"

// A mount that alone is stiff fore and aft takes all of the braking, and its
// leg bends under that and not under a third of it. SHS 50x50x3 cold has a
// modulus of 7.79 cm3 (EN 10219-2, annex); the leg is 180 mm long.
func TestTheLegUsesWhatItsMountCarries(t *testing.T) {
	soft := strings.ReplaceAll(example.Stiff, "rate_along = 1e5", "rate_along = 1")
	one := strings.Replace(soft, "rate_along = 1\n", "rate_along = 5e4\n", 1)
	level := func(text string) string {
		return strings.NewReplacer("left_front = -35", "left_front = -75", "right_front = -35", "right_front = -75", "rear = -35", "rear = -75", "standing = 40\n", "standing = 0\n").Replace(text)
	}
	text := level(example.Legs(strings.Replace(engine, `"200 N m"`, `"0.001 N m"`, 1), "", one+braked))
	a := runLegs(t, text)
	w := 300 * geom.Gravity
	assert.InDelta(t, w, value(t, a, "mount.left_front.load.braking.along"), 0.01*w)
	s := leg(t, a, "left_front").Strength.Leg
	assert.Equal(t, "braking", s.Case)
	// Its share of the weight bends it the other way about: both, at a corner.
	assert.InDelta(t, (w+w/3)*180/7790, value(t, a, "bracket.left_front.leg.bending"), 0.05*w*180/7790)
	f, _ := a.Finding("bracket.left_front.bending")
	assert.Equal(t, assess.OK, f.Status)
	assert.Contains(t, f.Assumes, "steady gear torque, 0 N m, as if the wheels never slipped")

	b := runLegs(t, strings.Replace(text, stiffMount("left_front", one), "", 1))
	f, _ = b.Finding("bracket.left_front.bending")
	assert.Equal(t, assess.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "mount.left_front.rate_up is not in the file yet")
}

// stiffMount is the table of a mount in a text.
func stiffMount(name, text string) string {
	_, rest, _ := strings.Cut(text, "[mount."+name+"]\n")
	body, _, _ := strings.Cut(rest, "[mount.")
	return "[mount." + name + "]\n" + body
}

// Rates that are estimates leave open how much of a strength is used.
func TestEstimatedRatesReachTheLeg(t *testing.T) {
	rubber := "[mount.rear]\nhardness = 50\nthickness = 30\ndiameter = 60\n"
	idle := strings.Replace(engine, `"200 N m"`, `"0.001 N m"`, 1) // the braking governs
	text := example.Legs(idle, "", strings.Replace(example.Stiff, stiffMount("rear", example.Stiff), rubber, 1)+braked)
	text = strings.ReplaceAll(text, "1e5", "300")
	a := runLegs(t, text)
	f, ok := a.Finding("bracket.left_front.bending")
	require.True(t, ok)
	require.True(t, f.HasValue, f.Missing)
	most := f.Value
	for _, rate := range [][2]string{{"low", "low"}, {"high", "high"}} {
		up, across := value(t, a, "mount.rear.rate.up."+rate[0]), value(t, a, "mount.rear.rate.across."+rate[1])
		b := runLegs(t, strings.Replace(text, rubber, "[mount.rear]\nrate_up = "+num(up)+"\nrate_across = "+num(across)+"\nrate_along = "+num(across)+"\n", 1))
		g, _ := b.Finding("bracket.left_front.bending")
		most = max(most, g.Value)
	}
	assert.Greater(t, most, 1.01*f.Value)
	assert.InDelta(t, (most-f.Value)*2/math.Sqrt(3), f.Uncertainty, 1e-6, "a bound, rectangular")
}

// A leg judged without reverse is not ok: over where first gear's ratio the
// other way is too much, else held up to a ratio.
func TestTheLegWaitsForReverse(t *testing.T) {
	text := example.Legs(strings.Replace(engine, "\nreverse = 3", "", 1), "", strings.ReplaceAll(example.Stiff, "1e5", "300")+braked)
	at := func(reverse string) assess.Finding {
		f, ok := runLegs(t, strings.Replace(text, "gears = [3]", "gears = [3]\nreverse = "+reverse, 1)).Finding("bracket.left_front.bending")
		require.True(t, ok)
		return f
	}
	f, _ := runLegs(t, text).Finding("bracket.left_front.bending")
	require.Equal(t, assess.NotKnown, f.Status)
	_, upTo, ok := strings.Cut(f.Missing, "powertrain.reverse is not in the file yet; it holds up to a ratio of ")
	require.True(t, ok, f.Missing)
	assert.Equal(t, assess.OK, at(upTo).Status)
	assert.Equal(t, assess.Over, at(upTo+"9").Status)

	strong := strings.Replace(text, `"200 N m"`, `"700 N m"`, 1)
	f, _ = runLegs(t, strong).Finding("bracket.left_front.bending")
	assert.Equal(t, assess.Over, f.Status)
	if assert.True(t, f.HasValue) {
		g, _ := runLegs(t, strings.Replace(strong, "gears = [3]", "gears = [3]\nreverse = 3", 1)).Finding("bracket.left_front.bending")
		assert.InDelta(t, g.Value, f.Value, 1e-9)
	}
}

func num(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
