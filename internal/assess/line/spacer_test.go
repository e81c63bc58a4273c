package line

import (
	"strings"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A spacer puts the joint off along the axis of its flange, toward the shaft, at either end
// and on lines of either way; the shaft is shorter by what lies along it, and may turn
// faster before it whirls.
func TestSpacersAtFlanges(t *testing.T) {
	for line, toward := range map[string]float64{"rear": 1, "front": -1} {
		at := func(more string) (joints [2]r3.Vec, length, safe float64) {
			text := strings.Replace(example.Lifted, "[line."+line+"]\n", "[line."+line+"]\n"+more, 1)
			for _, l := range run(build(t, text)).Lines {
				if l.Name == line {
					return [2]r3.Vec{l.Joints[0].At.V, l.Joints[1].At.V}, l.Shafts[0].Length.V, l.Shafts[0].Tube.Safe.V
				}
			}
			return
		}
		was, long, slow := at("")
		out, shorter, faster := at("output_spacer = 20\n")
		assert.InDelta(t, 20, r3.Norm(r3.Sub(out[0], was[0])), 1e-9)
		assert.InDelta(t, toward*20, out[0].X-was[0].X, 0.3, "toward the shaft")
		assert.Equal(t, was[1], out[1])
		assert.InDelta(t, long-20, shorter, 1.2)
		assert.Greater(t, faster, slow)
	}
	b := build(t, strings.Replace(example.Lifted, "[line.rear.pinion]\n", "[line.rear.pinion]\nspacer = 15\n", 1))
	for _, l := range run(b).Lines {
		if l.Name == "rear" {
			want := r3.Sub(r3.Vec{X: 2330, Z: -330}, r3.Scale(15, geom.Direction(4*geom.Deg, 0)))
			assert.InDelta(t, 0, r3.Norm(r3.Sub(want, l.Joints[1].At.V)), 1e-9)
		}
	}
	b = build(t, strings.Replace(example.Lifted, "[line.front.pinion]\n", "[line.front.pinion]\nspacer = 15\n", 1))
	for _, l := range run(b).Lines {
		if l.Name == "front" { // its shaft comes from behind
			want := r3.Add(r3.Vec{X: 420, Y: -250, Z: -340}, r3.Scale(15, geom.Direction(-14*geom.Deg, 0)))
			assert.InDelta(t, 0, r3.Norm(r3.Sub(want, l.Joints[1].At.V)), 1e-9)
		}
	}
	_, err := project.Parse("test.toml", []byte(strings.Replace(example.Lifted, "[line.rear.pinion]\n", "[line.rear.pinion]\nspacer = -15\n", 1)))
	require.ErrorContains(t, err, "line.rear.pinion.spacer")
}
