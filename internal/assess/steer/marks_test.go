package steer

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
)

// Whole teeth are counted as they are, either way; of an odd count half a tooth one way is
// whole teeth the other, since half a turn is the same yoke. By hand.
func TestTeethOver(t *testing.T) {
	for _, c := range []struct {
		teeth, half int // halves of a tooth
		want        int
	}{{36, 2, 1}, {36, -6, -3}, {36, 0, 0}, {35, 1, -17}, {35, -1, 17}, {35, 3, -16}, {35, 4, 2}, {0, 5, 0}} {
		turn := geom.Angle(float64(c.half) * math.Pi / float64(max(1, c.teeth)))
		assert.Equal(t, c.want, teethOver(turn, c.teeth), "%+v", c)
	}
}
