package assess

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Without errors the axle is found where it is, the shaft as long as it is, and every axis
// as it lies, in plan too; with nothing of it read by gauge as well.
func TestAnAxleIsFoundWhereItIs(t *testing.T) {
	for _, without := range [][]string{nil, {"powertrain", "line.rear.shaft.1", "line.rear.pinion"}} {
		dice := rand.New(rand.NewPCG(3, 41))
		x := drawAxle(dice)
		text := x.head(func(float64) float64 { return 0 })
		for _, r := range x.all(without...) {
			text += r.text(r.is)
		}
		if p := os.Getenv("AXLE_OUT"); p != "" {
			_ = os.WriteFile(p, []byte(text), 0o644)
		}
		a := Run(parsedBuild(t, text))
		require.Empty(t, a.Hung.Why)
		require.Len(t, a.Hung.Axles, 1)
		got := a.Hung.Axles[0]
		require.True(t, got.Pose.Known)
		is := x.is[1]
		for k, want := range []float64{is.At.X, is.At.Y, is.At.Z, is.Slope().Rad(), is.Heading().Rad(), math.Asin(is.Y.Z)} {
			r := got.Rows[k]
			require.True(t, r.Is.Known, "%s: %s", r.Key, r.Is.Why)
			assert.InDelta(t, want, r.Is.V, 1e-5, r.Key)
			assert.Greater(t, r.Is.U(), 0.0, r.Key)
		}
		l := a.Lines[0]
		first, last := x.shaft()
		assert.InDelta(t, r3.Norm(r3.Sub(last, first)), l.Shafts[0].LengthRead.V, 1e-5)
		d := r3.Sub(last, first)
		for i, want := range []r3.Vec{x.is[0].X, d, x.is[1].X} {
			assert.InDelta(t, geom.Slope(want).Rad(), l.Axes[i].Read.V, 1e-7, l.Axes[i].Label)
			assert.InDelta(t, geom.Heading(want).Rad(), l.Axes[i].Plan.V, 1e-7, l.Axes[i].Label)
		}
		for i, pair := range [][2]r3.Vec{{x.is[0].X, d}, {d, x.is[1].X}} { // the angle between two directions, by itself
			cos := r3.Dot(r3.Unit(pair[0]), r3.Unit(pair[1]))
			assert.InDelta(t, math.Acos(cos), l.Joints[i].Read.V, 1e-6)
		}
		f, _ := a.Finding(finding.AxlePlaced("rear"))
		assert.Equal(t, finding.Read, f.Basis)
		assert.NotContains(t, f.Missing, "not")
	}
}
