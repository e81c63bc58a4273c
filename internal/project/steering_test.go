package project

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const soundSteering = `format = 3
[steering]
column = [900, -300, 400]
column_axis = [-1, 0, -0.3]
input = [100, -300, 0]
input_axis = [-1, 0, -0.6]
[[steering.joint]]
[[steering.joint]]
at = [500, -320, 200]
[[steering.joint]]
max_angle = "35 deg"
[[steering.shaft]]
diameter = 19
teeth = 36
slip_closed = 300
slip_open = 400
`

// Each slip of the pen has its message at its place.
func TestSteeringThatCannotBe(t *testing.T) {
	_, err := Parse("x.toml", []byte(soundSteering))
	require.NoError(t, err)
	for name, c := range map[string]struct{ from, to, want string }{
		"no direction":         {"column_axis = [-1, 0, -0.3]", "column_axis = [0, 0, 0]", "x.toml:4:15: steering.column_axis: a direction is three numbers that are not all 0"},
		"column turned round":  {"column_axis = [-1, 0, -0.3]", "column_axis = [1, 0, 0.3]", "x.toml:4:15: steering.column_axis: the column points away from the next joint"},
		"input turned round":   {"input_axis = [-1, 0, -0.6]", "input_axis = [1, 0, 0.6]", "x.toml:6:14: steering.input_axis: the input shaft points back"},
		"no length":            {"at = [500, -320, 200]", "at = [900, -300, 400]", "joint 2 stands where joint 1 does"},
		"no length at the end": {"at = [500, -320, 200]", "at = [100, -300, 0]", "joint 3 stands where joint 2 does"},
		"turns back":           {"at = [500, -320, 200]", "at = [1300, -320, 200]", "column points away"},
		"sharp":                {"input = [100, -300, 0]", "input = [560, -300, 700]", "joint 2 would work past 90 degrees"},
		"past 180":             {"max_angle = \"35 deg\"", "max_angle = \"190 deg\"", "read the text \"190 deg\"; a universal joint works at more than 0 and less than 90 degrees"},
		"straight":             {"max_angle = \"35 deg\"", "max_angle = 0", "a universal joint works at"},
		"half a tooth":         {"teeth = 36", "teeth = 35.5", "a spline has 4 to 200 whole teeth"},
		"no spline":            {"teeth = 36", "teeth = 2", "a spline has 4 to 200 whole teeth"},
		"no diameter":          {"diameter = 19", "diameter = 0", "a shaft has a diameter above 0"},
		"negative":             {"diameter = 19", "diameter = -19", "diameter"},
		"slips backwards":      {"slip_open = 400", "slip_open = 300", "slip_open has to be longer"},
		"yokes twice":          {"teeth = 36", "phase = \"crossed\"\nyoke_offset = \"3 deg\"", "leave one of them out"},
		"first has a place":    {"[[steering.joint]]\n[[steering.joint]]", "[[steering.joint]]\nat = [1, 2, 3]\n[[steering.joint]]", "the first joint stands at steering.column"},
		"too many shafts":      {"diameter = 19", "[[steering.shaft]]\n[[steering.shaft]]\ndiameter = 19", "a steering shaft of 3 joints has 2 shafts between them; 3 [[steering.shaft]] were read"},
		"no such point":        {"column = [900, -300, 400]", "column = \"point.column\"", "there is no [point.column] in this file"},
		"a point for a way":    {"column_axis = [-1, 0, -0.3]", "column_axis = \"point.column\"", "a direction is three numbers"},
	} {
		require.Contains(t, soundSteering, c.from, name)
		_, err := Parse("x.toml", []byte(strings.Replace(soundSteering, c.from, c.to, 1)))
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.want, name)
	}
}

// What is not typed yet is no fault.
func TestSteeringCanBeBegunAnywhere(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(soundSteering), "\n")
	for i := range lines {
		if strings.HasPrefix(lines[i], "[") || i == 0 {
			continue
		}
		kept := append(append([]string{}, lines[:i]...), lines[i+1:]...)
		_, err := Parse("x.toml", []byte(strings.Join(kept, "\n")))
		assert.NoError(t, err, lines[i])
	}
}
