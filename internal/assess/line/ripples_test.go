package line

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// The ± of an equivalent angle against another way to it: among all readings
// that are off by two standard uncertainties together, the ones that make the
// line run most unevenly, found by climbing. Slopes and directions from above
// were read, so that the two parts of the ripple go together.
func TestTheFarPointOfARipple(t *testing.T) {
	for _, c := range []struct{ engine, shaft, pinion, right, over float64 }{
		{5, 2, 4, 20, 1000}, {4, 2, 4.2, 5, 1000}, {2, 5, 1, -35, 1000}, {3, 3, 3, 40, 1000}, {6, 2, 4, 2, 600}, {8, 2, 3, 15, 800},
	} {
		text := example.Slopes(c.engine, c.shaft, c.pinion)
		asides := []float64{0, c.right, 0.3 * c.right}
		for i, of := range []string{"powertrain", "line.rear.shaft.1", "line.rear.pinion"} {
			side := "right"
			if asides[i] < 0 {
				side = "left"
			}
			text += fmt.Sprintf("[[reading]]\nof = %q\naside = \"%g mm %s\"\nover = \"%g mm\"\n", of, math.Abs(asides[i]), side, c.over)
		}
		l := run(build(t, text)).Lines[0]
		require.True(t, l.Read.Known, l.Read.Why)

		slope, turn := (0.1*geom.Deg).Rad()/math.Sqrt(3), math.Sqrt2/math.Sqrt(3)/c.over
		u := []float64{slope, slope, slope, turn, turn, turn}
		size := func(w []float64) float64 {
			var d [3]r3.Vec
			for i, s := range []float64{c.engine, c.shaft, c.pinion} {
				d[i] = geom.Direction(geom.Angle(s)*geom.Deg+geom.Angle(w[i]*u[i]), geom.Angle(math.Atan(asides[i]/c.over)+w[i+3]*u[i+3]))
			}
			m, err := shaft.NewMechanism(shaft.Chain{In: d[0], Joints: []shaft.Joint{{}, {At: r3.Scale(1000, d[1])}}, Out: d[2]})
			require.NoError(t, err)
			return cmplx.Abs(m.Shafts()[2].DriveVector)
		}
		far := 0.0
		for start := range 6 {
			w := make([]float64, 6)
			w[start] = 2
			for range 60 {
				far = max(far, size(w))
				slopes, length := make([]float64, 6), 0.0
				for i := range w {
					old := w[i]
					w[i] = old + 1e-3
					up := size(w)
					w[i] = old - 1e-3
					slopes[i] = up - size(w)
					w[i] = old
					length += slopes[i] * slopes[i]
				}
				for i := range w {
					w[i] = 2 * slopes[i] / math.Sqrt(length)
				}
			}
		}
		angle := func(k float64) float64 { return 2 * math.Atan(math.Sqrt(k)) }
		want := (angle(far) - angle(size(make([]float64, 6)))) / 2
		between(t, want, l.Read.Equivalent.U(), 0.3)
	}
}
