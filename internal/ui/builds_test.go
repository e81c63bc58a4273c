package ui

import (
	"bytes"
	"testing"

	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// readingsOnly is a build of which nothing is known but three gauge readings:
// slopes of 4.4, 2.4 and 4.8 degrees, all down to the rear.
const readingsOnly = `format = 3
name = "three readings"

[line.rear.pinion]

[[reading]]
of = "powertrain"
on = "square face"
shown = "85.6 deg"
lower = "rear"

[[reading]]
of = "line.rear.shaft.1"
on = "along"
shown = "2.4 deg"
lower = "rear"

[[reading]]
of = "line.rear.pinion"
on = "square face"
shown = "85.2 deg"
lower = "rear"
`

// noDirection is readingsOnly without the end of the powertrain that is lower.
func noDirection() []byte {
	return bytes.Replace([]byte(readingsOnly), []byte("shown = \"85.6 deg\"\nlower = \"rear\"\n"), []byte("shown = \"85.6 deg\"\n"), 1)
}

// inches is a build in inches, with fractions in its spelling.
const inches = `format = 3
name = "in inches"

[units]
system = "inch"

[rails.left]
points = [[-18, -15, 0], [165, "-15 1/4 in", 0.5]]

[rails.right]
points = [[-18, 15, 0], [165, 15.125, 0.375]]

[powertrain]
output = [55, 0, 0]

[powertrain.pads]
left_front = [0, -10, -0.75]
right_front = [0, 10, -0.75]
rear = ["49 1/4 in", 0, -4.375]

[placement]
left_front = -4.125
right_front = "-4 1/8 in"
rear = -11.4375
setback = 10.25
offset = "1/4 in right"
heading = "0 deg"

[line.rear.pinion]
at = [122.5, 0.75, -9.875]
slope = "4.8 deg down to the rear"
heading = "0 deg"
`

// sampleBuilds are the builds every screen is tried with.
func sampleBuilds() map[string][]byte {
	return map[string][]byte{
		"demo": starter.Demo(), "starter": starter.New(), "readings": []byte(readingsOnly),
		"nodirection": noDirection(), "inches": []byte(inches), "bare": []byte("format = 3\n"), "lines": []byte(twoLines),
	}
}

func TestSampleBuildsDiffer(t *testing.T) {
	t.Parallel()
	require.NotEqual(t, readingsOnly, string(noDirection()))
}
