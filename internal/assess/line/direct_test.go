package line

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/geom/wheel"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const halfShafts = `format = 3
[powertrain]
layout = "transaxle"
torque = "200 N m"
gears = [3.5, 2, 1, 0.8]
reverse = 3.2
final = 4
redline = "6000 rpm"
[line.front]
toward = "front"
[line.front.suspension]
kind = "fixed"
differential_in = "gearbox"
`

// Half shafts of a transaxle turn behind its final drive, and each carries half
// of what comes out of an open differential. By hand: 6000/0.8/4 = 1875 rpm, and
// 200·3.5·4/2 = 1400 N·m.
func TestHalfShaftsOfATransaxle(t *testing.T) {
	of := func(more ...string) Line {
		b := build(t, strings.NewReplacer(more...).Replace(halfShafts))
		r := Judge(inputOf(b), placeOf(b), b.Lines[0])
		require.True(t, r.Line.Direct)
		assert.Empty(t, r.Findings)
		assert.Empty(t, r.Line.Joints)
		return r.Line
	}
	l := of()
	assert.True(t, l.Front)
	assert.InDelta(t, 1875, l.Speed.V/rpm, 1e-9)
	assert.Equal(t, "redline in top gear (0.8), behind the final drive", l.Speed.From)
	assert.InDelta(t, 1400e3, l.Torque.V, 1e-6)
	assert.NotContains(t, l.Torque.From, "reverse")
	assert.InDelta(t, 2*1400e3, of("3.2", "7").Torque.V, 1e-6, "reverse is the lowest")
	assert.InDelta(t, 0.4*1400e3, of("toward", "share = 0.4\ntoward").Torque.V, 1e-6)
	assert.Contains(t, of("reverse = 3.2\n", "").Torque.From, "taken to be no lower than first")

	// The wheel at top speed, by the tyre that rolls 3.05 diameters, is slower.
	road := "[vehicle]\ntop_speed = \"100 km/h\"\ntyre_diameter = 600\n[line.front]\n"
	want := 100 * wheel.KmH / (3.05 * 600) * 2 * math.Pi
	assert.InDelta(t, want, of("[line.front]\n", road).Speed.V, 1e-9)
	assert.Equal(t, "top speed and tyre", of("[line.front]\n", road).Speed.From)
	assert.InDelta(t, 1875, of("[line.front]\n", strings.Replace(road, "100 km/h", "900 km/h", 1)).Speed.V/rpm, 1e-9)
	// What is given counts, and what is missing is said.
	assert.InDelta(t, 700, of("toward", "speed = \"700 rpm\"\ntoward").Speed.V/rpm, 1e-9)
	for _, r := range []Rate{of("final = 4\n", "").Speed, of("final = 4\n", "").Torque} {
		assert.False(t, r.Known)
		assert.Equal(t, "powertrain.final is not in the file yet", r.Why)
	}
	assert.InDelta(t, want, of("final = 4\n", "", "[line.front]\n", road).Speed.V, 1e-9, "the road still says how fast it turns")
}

// A propshaft from a transaxle turns by a ratio that the file cannot say.
func TestAPropshaftFromATransaxle(t *testing.T) {
	text := strings.Replace(halfShafts, "[line.front]\n", "[line.rear.pinion]\nslope = \"2 deg down to the rear\"\n[line.rear]\nratio = 2.5\n[line.front]\n", 1)
	l := run(build(t, text)).Lines[0]
	require.Equal(t, "rear", l.Name)
	assert.False(t, l.Direct)
	assert.Contains(t, l.Speed.Why, "take-off")
	assert.Contains(t, l.Speed.Why, "give line.rear.speed")
	assert.Contains(t, l.Torque.Why, "take-off")
	l = run(build(t, strings.Replace(text, "ratio = 2.5", "speed = \"900 rpm\"", 1))).Lines[0]
	assert.InDelta(t, 900, l.Speed.V/rpm, 1e-9)
}
