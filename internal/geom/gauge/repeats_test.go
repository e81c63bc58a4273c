package gauge

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
)

// A gauge good for 0.1° each way has u = 0.1/√3, and a difference of two has
// √2 of that, 0.08165°: 2 of those are 0.1633°, 3.3 are 0.2694°.
func TestCompareTwoReadings(t *testing.T) {
	u := math.Sqrt2 * Reading{PlusMinus: 0.1 * geom.Deg}.Standard()
	for _, c := range []struct {
		apart float64
		want  Agreement
	}{{0, Agree}, {0.163, Agree}, {0.164, Doubtful}, {0.269, Doubtful}, {0.270, Contradict}, {9.2, Contradict}} {
		assert.Equal(t, c.want, Compare(geom.Angle(c.apart)*geom.Deg, u), "%g", c.apart)
		assert.Equal(t, c.want, Compare(geom.Angle(-c.apart)*geom.Deg, u), "%g", -c.apart)
	}
	assert.Equal(t, Contradict, Compare(0.01*geom.Deg, 0))
	assert.Equal(t, Agree, Compare(0, 0))
}

// JCGM 100:2008, 4.2.2, by hand: 4.0, 4.4 and 4.8 scatter by 0.4; two readings
// by their difference over √2.
func TestScatter(t *testing.T) {
	deg := func(vs ...float64) (out []geom.Angle) {
		for _, v := range vs {
			out = append(out, geom.Angle(v)*geom.Deg)
		}
		return out
	}
	assert.InDelta(t, 0.4, Scatter(deg(4, 4.4, 4.8)).Degrees(), 1e-12)
	assert.InDelta(t, 0.2/math.Sqrt2, Scatter(deg(4.4, 4.6)).Degrees(), 1e-12)
	assert.Zero(t, Scatter(deg(4.4)))
	assert.Zero(t, Scatter(nil))
}
