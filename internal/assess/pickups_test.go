package assess

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func pickedUp(t testing.TB, text string) *Assessment {
	t.Helper()
	f, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	return Run(f.Build)
}

func pickupFindings(a *Assessment) map[string]Finding {
	out := map[string]Finding{}
	for _, f := range a.Findings {
		if f.By == finding.PickupTrade {
			out[f.ID] = f
		}
	}
	return out
}

func TestPickupsOfTheExampleAreInOrder(t *testing.T) {
	found := pickupFindings(pickedUp(t, example.Pickups()))
	require.Greater(t, len(found), 55)
	for id, f := range found {
		assert.Equal(t, OK, f.Status, "%s %s", id, f.Missing)
		assert.Contains(t, f.Advice(), PickupCaution)
	}
}

// A ± on a spring's lower end, by hand: a spring straight up on an axle that goes
// straight up. It is 300 long with 100 to go; ± 3 along it is ± 3 of what is left and of
// its length, a rectangle of 3/√3, and k = 2.
func TestPickupsCarryTheTypedPlusMinus(t *testing.T) {
	text := `format = 3
[pickup.rear]
carried = "axle"
bump = 60
droop = 60
[pickup.rear.left]
wheel = [0, -700, 0]
load = "400 kg"
[pickup.rear.left.spring]
kind = "coil"
lower = [0, -500, %s]
upper = [0, -500, 350]
free = 400
rate = "40 N/mm"
solid = 140
[pickup.rear.right]
wheel = [0, 700, 0]
`
	sharp, unsure := pickedUp(t, fmt.Sprintf(text, "50")), pickedUp(t, fmt.Sprintf(text, `"50 mm ± 3"`))
	u := 3 / math.Sqrt(3)
	for _, c := range []struct {
		id    string
		value float64
		by    float64
	}{
		{finding.PickupSpringBind("rear", "left"), 300 - 60 - 140, 1},
		{finding.PickupSpringSeated("rear", "left"), 400 - 360, 1},
		// 400 kg are 3922.66 N, and 98.0665 mm of a spring that is pressed by 100.
		{finding.PickupSpringRide("rear", "left"), 100 - 98.0665, 1},
	} {
		f, ok := sharp.Finding(c.id)
		require.True(t, ok)
		assert.InDelta(t, c.value, f.Value, 1e-4, c.id)
		assert.Zero(t, f.Uncertainty, c.id)
		f, _ = unsure.Finding(c.id)
		assert.InDelta(t, c.value, f.Value, 1e-4, c.id)
		assert.InDelta(t, 2*u, f.Uncertainty, 0.05*u, c.id)
	}
	near := pickedUp(t, fmt.Sprintf(text, `"50 mm ± 3"`)+"[limits]\nspring_seated = 38\n")
	f, _ := near.Finding(finding.PickupSpringSeated("rear", "left"))
	assert.Equal(t, Tight, f.Status)
}

// A place that the survey finds carries the survey's ±, and one that it does not find
// leaves what rests on it not known.
func TestPickupsBySurvey(t *testing.T) {
	points := append(demoPoints(), surveyedPoint{"bracket", r3.Vec{X: 700, Y: -390, Z: -150}, false})
	const text = `[pickup.front]
carried = "axle"
bump = 60
droop = 60
[pickup.front.left]
wheel = [0, -700, -200]
[[pickup.front.left.rod]]
name = "radius rod"
chassis = "point.bracket"
end = [0, -390, -200]
[pickup.front.right]
wheel = [0, 700, -200]
`
	f, err := project.Parse("demo.toml", []byte(bySurvey(t)+surveyOf(points, none)+text))
	require.NoError(t, err)
	got, ok := Run(f.Build).Finding(finding.PickupRodAngle("front", "left", 1))
	require.True(t, ok)
	require.NotEqual(t, NotKnown, got.Status, got.Missing)
	assert.Greater(t, got.Uncertainty, 1e-6)
	loose, err := project.Parse("demo.toml", []byte(unsurveyed(t)+strings.Replace(surveyOf(points, none), "datum = \"points\"\npoints = [\"point.l1\", \"point.r1\", \"point.l3\"]", "datum = \"free\"", 1)+text))
	require.NoError(t, err)
	for _, id := range []string{finding.PickupRodAngle("front", "left", 1), finding.PickupRodGive("front", "left", 1), finding.PickupRodLength("front", 1)} {
		got, ok = Run(loose.Build).Finding(id)
		require.True(t, ok)
		assert.Equal(t, NotKnown, got.Status, id)
	}
}

// An inch is 25.4 mm all through.
func TestPickupsInInches(t *testing.T) {
	number := regexp.MustCompile(`(-?\d+(?:\.\d+)?)`)
	var lines []string
	for _, l := range strings.Split(example.Pickups(), "\n") {
		if key, value, ok := strings.Cut(l, " = "); ok && key != "format" && !strings.Contains(value, `"`) && value != "true" {
			value = number.ReplaceAllStringFunc(value, func(s string) string {
				var v float64
				_, err := fmt.Sscanf(s, "%g", &v)
				require.NoError(t, err)
				return fmt.Sprintf("%.12f", v/25.4)
			})
			l = key + " = " + value
		}
		lines = append(lines, l)
	}
	inches := strings.Replace(strings.Join(lines, "\n"), "[vehicle]", "[units]\nlength = \"in\"\n[vehicle]", 1)
	mm, in := pickupFindings(pickedUp(t, example.Pickups())), pickupFindings(pickedUp(t, inches))
	require.Len(t, in, len(mm))
	for id, f := range mm {
		assert.InDelta(t, f.Value, in[id].Value, 1e-5, id)
		assert.Equal(t, f.Status, in[id].Status, id)
	}
}

// A vehicle that is its own mirror image has mirrored findings: what is left on one is
// right on the other.
func TestMirroredPickups(t *testing.T) {
	text := strings.Replace(example.Pickups(), "lower = [0, -590, -100]", "lower = [7, -596, -104]", 1) // left only
	text = strings.Replace(text, "chassis = [470, 450, -76]", "chassis = [462, 441, -70]", 1)           // right only
	offset := regexp.MustCompile(`\[([^,\]]+), (-?)([^,\]]+), ([^,\]]+)\]`)
	other := offset.ReplaceAllStringFunc(text, func(s string) string {
		m := offset.FindStringSubmatch(s)
		sign := "-"
		if m[2] == "-" {
			sign = ""
		}
		return "[" + m[1] + ", " + sign + m[3] + ", " + m[4] + "]"
	})
	swap := strings.NewReplacer("left", "right", "right", "left")
	a, b := pickupFindings(pickedUp(t, text)), pickupFindings(pickedUp(t, swap.Replace(other)))
	require.Len(t, b, len(a))
	for id, f := range a {
		g, ok := b[swap.Replace(id)]
		if strings.Contains(id, ".rod.") && !ok {
			continue
		}
		require.True(t, ok, id)
		assert.InDelta(t, f.Value, g.Value, 1e-6, id)
		assert.Equal(t, f.Status, g.Status, id)
	}
	assert.Equal(t, Over, a[finding.PickupRodPlace("front", 1)].Status)
	assert.Equal(t, Over, a[finding.PickupTowers("front")].Status)
}

// The suspension of a line moves the axle: what hangs on it goes as that goes.
func TestAxleOfALine(t *testing.T) {
	text := `format = 3
[line.rear.suspension]
kind = "trailing arms"
bump = 80
droop = 80
axle = [2800, 0, 0]
[[line.rear.suspension.pivot]]
name = "left"
at = [2000, -400, 0]
[[line.rear.suspension.pivot]]
name = "right"
at = [2000, 400, 0]
[pickup.rear]
carried = "axle"
line = "rear"
bump = 80
droop = 80
[pickup.rear.left]
wheel = [2800, -700, 0]
[pickup.rear.right]
wheel = [2800, 700, 0]
[[pickup.rear.left.rod]]
name = "arm"
alone = true
chassis = [2000, -400, 0]
end = [2700, -400, 20]
[[pickup.rear.left.rod]]
name = "other"
alone = true
chassis = [2100, -400, 0]
end = [2700, -400, 0]
`
	a := pickedUp(t, text)
	f, ok := a.Finding(finding.PickupRodGive("rear", "left", 1))
	require.True(t, ok)
	longer := func(a *Assessment, rod, end int) float64 { return a.Pickups.Axles[0].Sides[0].Rods[rod].Longer[end].V }
	assert.InDelta(t, 0, longer(a, 0, 0), 1e-6, "it is one with the arm")
	assert.InDelta(t, 0, longer(a, 0, 1), 1e-6)
	// In full roll its end goes 400 of 1400 mm of track up, of 160, and the bushes of the
	// arms cannot take it along.
	assert.InDelta(t, math.Hypot(700, 20+400*160/1400.0)-math.Hypot(700, 20), f.Value, 0.05)
	assert.InDelta(t, math.Asin(80./800), a.Pickups.Axles[0].Sides[0].Rods[0].Turned[0].V, 1e-6)
	// The other one by the triangle of the axle's turn.
	turn := math.Asin(80. / 800)
	assert.InDelta(t, math.Hypot(700*math.Cos(turn)-100, 700*math.Sin(turn))-600, longer(a, 1, 0), 1e-6)
	none := pickedUp(t, strings.Replace(text, "axle = [2800, 0, 0]\n", "", 1))
	f, _ = none.Finding(finding.PickupRodGive("rear", "left", 1))
	assert.Equal(t, NotKnown, f.Status)
	assert.Equal(t, []string{"line.rear.suspension.axle"}, f.Lacks())
	// A ± of the line's pivots reaches the rod.
	wide := pickedUp(t, strings.Replace(text, "at = [2000, -400, 0]", `at = [2000, -400, "0 mm ± 5"]`, 1))
	f, _ = wide.Finding(finding.PickupRodGive("rear", "left", 2))
	assert.Greater(t, f.Uncertainty, 0.01)
}

// betweenRails is a powertrain of one block between two straight rails.
const betweenRails = `format = 3
[vehicle]
front_axle = 0
wheelbase = 2800
[powertrain.pads]
left_front = [0, -200, 0]
right_front = [0, 200, 0]
rear = [600, 0, 0]
[[powertrain.part]]
name = "block"
from = [-300, -200, -300]
to = [600, 200, 600]
[placement]
left_front = 0
right_front = 0
rear = 0
setback = 0
offset = "0 mm"
[rails.left]
points = [[-500, -450, 0], [3000, -450, 0]]
[rails.right]
points = [[-500, 450, 0], [3000, 450, 0]]
`

// Towers and springs are among what the powertrain stays clear of. By hand: a block whose
// side stands at 200, a post at 410 that is 80 over its corners, and an upright spring of
// 100 at 500 that goes straight up and down; without a size or a place they are not known.
func TestTowersAndSpringsTakeRoom(t *testing.T) {
	const text = betweenRails + `[pickup.front]
carried = "axle"
bump = 60
droop = 50
[pickup.front.left]
wheel = [0, -700, 0]
[pickup.front.left.spring]
kind = "coil"
lower = [0, -500, 50]
upper = [0, -500, 350]
diameter = 100
[pickup.front.left.tower]
foot = [0, -410, 370]
stack = 120
diameter = 80
[pickup.front.right]
wheel = [0, 700, 0]
`
	a := pickedUp(t, text)
	room := func(a *Assessment, id string) Finding {
		f, ok := a.Finding(finding.Clearance(id))
		require.True(t, ok, id)
		return f
	}
	side := 200.0
	require.True(t, a.Pose.Known, a.Pose.Why)
	side -= a.Pose.V.At.Y // to the left where it stands
	assert.InDelta(t, 410-side-40, room(a, "front_left_tower").Value, 1e-6)
	// In full roll with its own side up the spring's lower end comes nearest to the middle.
	// Of 110 mm of travel each of 16 steps is 6.875 mm, and half of that all round is added.
	spring := room(a, "front_left_spring")
	assert.Less(t, spring.Value, 500-side-50-6.875/2)
	assert.Greater(t, spring.Value, 500-side-50-6.875/2-10.0)
	assert.Contains(t, strings.Join(spring.Assumes, " "), "17 places of its travel are looked at, and it is taken thicker all round")
	for _, c := range [][2]string{{"diameter = 80\n", "front_left_tower"}, {"foot = [0, -410, 370]\n", "front_left_tower"}, {"diameter = 100\n", "front_left_spring"}, {"bump = 60\n", "front_left_spring"}} {
		f := room(pickedUp(t, strings.Replace(text, c[0], "", 1)), c[1])
		assert.Equal(t, NotKnown, f.Status, c[0])
		assert.Len(t, f.Lacks(), 1, c[0])
	}
}

// Rods and the anti-roll bar take room over the travel. By hand: on straight trailing arms
// about a line across, a rod's end goes round a circle, and so does the bar's.
func TestRodsAndTheBarTakeRoom(t *testing.T) {
	t.Parallel()
	const text = betweenRails + `[pickup.front]
carried = "trailing arm"
bump = 60
droop = 60
[pickup.front.bar]
diameter = 20
[pickup.front.bar.left]
bush = [0, -300, -400]
arm = [200, -330, -400]
link = [200, -330, -500]
[pickup.front.bar.right]
bush = [0, 300, -400]
arm = [200, 330, -400]
link = [200, 330, -500]
[pickup.front.left]
wheel = [400, -700, -350]
pivot_a = [0, -400, -350]
pivot_b = [0, -600, -350]
[[pickup.front.left.rod]]
name = "lateral rod"
alone = true
diameter = 30
chassis = [200, -250, -200]
end = [200, -500, -340]
[pickup.front.right]
wheel = [400, 700, -350]
pivot_a = [0, 400, -350]
pivot_b = [0, 600, -350]
`
	a := pickedUp(t, text)
	require.True(t, a.Pose.Known, a.Pose.Why)
	of := func(a *Assessment, id string) Finding {
		f, ok := a.Finding(finding.Clearance(id))
		require.True(t, ok, id)
		assert.Equal(t, finding.RoomSuspension, f.Group)
		return f
	}
	side := 200 - a.Pose.V.At.Y
	// The rod is nearest with its joint on the frame, and thicker by half of the longest
	// step of its end.
	end := func(rise float64) r3.Vec {
		turn := math.Asin(rise / 400)
		d := r3.Vec{X: 200, Z: 10}
		return r3.Vec{X: math.Cos(turn)*d.X - math.Sin(turn)*d.Z, Z: math.Sin(turn)*d.X + math.Cos(turn)*d.Z}
	}
	step := 0.0
	for i := range 16 {
		at := -60 + 7.5*float64(i)
		step = max(step, r3.Norm(r3.Sub(end(at+7.5), end(at))))
	}
	assert.InDelta(t, 250-side-15-step/2, of(a, "front_left_lateral_rod").Value, 1e-3)
	// The bar's axis runs under the sump: its ends stand below.
	bar := of(a, "front_anti_roll_bar")
	require.True(t, bar.HasValue)
	floor := -300 + a.Pose.V.At.Z
	assert.Less(t, bar.Value, floor+400-10)
	assert.Greater(t, bar.Value, floor+400-10-10)
	assert.Contains(t, strings.Join(bar.Assumes, " "), "drop links as thick as the bar")
	for _, c := range [][2]string{{"diameter = 30\n", "front_left_lateral_rod"}, {"diameter = 20\n", "front_anti_roll_bar"}, {"bump = 60\n", "front_anti_roll_bar"}, {"arm = [200, 330, -400]\n", "front_anti_roll_bar"}} {
		f := of(pickedUp(t, strings.Replace(text, c[0], "", 1)), c[1])
		assert.Equal(t, NotKnown, f.Status, c[0])
		assert.Len(t, f.Lacks(), 1, c[0])
	}
}
