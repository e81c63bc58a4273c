package project_test

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// clocked is the lifted build with its transfer case turned, and the rear pad on it.
func clocked(turned string, more ...string) string {
	pairs := append([]string{"step = \"5 deg\"", "step = \"5 deg\"\nmounts = [\"rear\"]\nturned = \"" + turned + "\""}, more...)
	return strings.NewReplacer(pairs...).Replace(example.Lifted)
}

func built(t *testing.T, text string) *project.Build {
	t.Helper()
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return f.Build
}

// Clockwise as one looks to the rear the left side goes down, by the sine and cosine of what
// it is turned; what is not on the case stays.
func TestACaseIsTurnedOnTheGearbox(t *testing.T) {
	was, is := built(t, clocked("0 deg")), built(t, clocked("20 deg"))
	sin, cos := math.Sincos(20 * math.Pi / 180)
	turned := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Y*cos - v.Z*sin, Z: v.Y*sin + v.Z*cos} }
	alike := func(want, got r3.Vec) { t.Helper(); assert.InDelta(t, 0, r3.Norm(r3.Sub(want, got)), 1e-9) }
	alike(turned(was.Lines[0].Output.At), is.Lines[0].Output.At)
	assert.Less(t, is.Lines[0].Output.At.Z, was.Lines[0].Output.At.Z, "the left goes down")
	alike(turned(was.Powertrain.Pads.Rear.At), is.Powertrain.Pads.Rear.At)
	assert.Equal(t, was.Powertrain.Pads.LeftFront, is.Powertrain.Pads.LeftFront)
	assert.Equal(t, was.Powertrain.Output, is.Powertrain.Output)
	corner := is.Powertrain.Parts[2].From.At
	alike(turned(corner), is.Powertrain.Parts[2].Turned.Pose().Point(corner))
	alike(corner, is.Powertrain.Parts[1].Turned.Pose().Point(corner))

	// An output that is not parallel to the crankshaft looks aside as it goes round.
	slope := built(t, clocked("90 deg", "output = [1080, -250, -110]", "output = [1080, -250, -110]\noutput_slope = \"3 deg down to the rear\""))
	dir := slope.Lines[0].OutputDir()
	assert.InDelta(t, math.Sin(3*math.Pi/180), dir.Y, 1e-9, "from down to the right")
	assert.InDelta(t, 0, dir.Z, 1e-9)
}

// It can be moved, says what the file would say, and taken back.
func TestACaseIsMoved(t *testing.T) {
	b := built(t, clocked("10 deg"))
	m, err := b.MovableNamed("powertrain.transfer_case.turned")
	require.NoError(t, err)
	for _, deg := range []float64{0, 25, -15} {
		c, err := b.With(project.Move{Of: m, To: deg * math.Pi / 180})
		require.NoError(t, err)
		want := built(t, clocked(map[float64]string{0: "0 deg", 25: "25 deg", -15: "-15 deg"}[deg]))
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want.Lines[0].Output.At, c.Lines[0].Output.At)), 1e-9)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want.Powertrain.Pads.Rear.At, c.Powertrain.Pads.Rear.At)), 1e-9)
		assert.InDelta(t, want.Powertrain.Parts[2].Turned.By, c.Powertrain.Parts[2].Turned.By, 1e-12)
		assert.InDelta(t, want.Lines[0].Turned, c.Lines[0].Turned, 1e-12)
	}
	_, err = b.With(project.Move{Of: m, To: 12 * math.Pi / 180})
	require.ErrorContains(t, err, "its bolts do not let it turn there")
	v, err := b.Varied("line.front.output[1]", 1)
	require.NoError(t, err)
	d := r3.Sub(v.Lines[0].Output.At, b.Lines[0].Output.At)
	assert.InDelta(t, math.Cos(10*math.Pi/180), d.Y, 1e-9, "a ± of its output goes round with it")
	assert.InDelta(t, math.Sin(10*math.Pi/180), d.Z, 1e-9)
}

// What cannot be turned is said where it stands.
func TestACaseThatCannotBe(t *testing.T) {
	for want, text := range map[string]string{
		"there is no case to turn":                          clocked("10 deg", "about = [1010, 0, 0]\n", ""),
		"its bolts let it turn in steps of 5.00°":           clocked("12 deg"),
		"there is no line \"frnt\"; did you mean \"front\"": clocked("0 deg", "lines = [\"front\"]", "lines = [\"frnt\"]"),
		"there is no piece of the powertrain":               clocked("0 deg", "parts = [\"transfer case\"]", "parts = [\"transfer\"]"),
		"line.rear begins at powertrain.output":             clocked("10 deg", "lines = [\"front\"]", "lines = [\"rear\"]"),
		"as heavy as all of the powertrain":                 clocked("0 deg", "torque = \"310 N m\"", "mass = 250", "about = [1010, 0, 0]", "about = [1010, 0, 0]\nmass = 250"),
		"its bolts let it turn in steps of 5.00°; take":     clocked("0 deg") + "[[find.move]]\nof = \"powertrain.transfer_case.turned\"\nrange = [\"-10 deg\", \"10 deg\"]\nstep = \"2 deg\"\n",
	} {
		_, err := project.Parse("test.toml", []byte(text))
		if assert.Error(t, err, want) {
			assert.Contains(t, err.Error(), want)
			assert.Regexp(t, `test\.toml:\d+:\d+: `, err.Error())
		}
	}
}
