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
	u := geom.Angle(math.Sqrt2 / math.Sqrt(3) * 0.1 * geom.Deg.Rad())
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
