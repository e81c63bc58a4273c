package reading

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRepeats(t *testing.T) {
	m, spread, n := repeats([]float64{10, 12}, 1)
	assert.InDelta(t, 11, m.V, 1e-12)
	assert.InDelta(t, 1/math.Sqrt(3), m.U, 1e-12)
	assert.InDelta(t, 2, spread, 1e-12)
	assert.Equal(t, 2, n)
	// Standard deviation of 1, 2, 3 is 1 (JCGM 100:2008, 4.2.2).
	m, _, _ = repeats([]float64{1, 2, 3}, 0.1)
	assert.InDelta(t, 1, m.U, 1e-12)
	m, _, _ = repeats(nil, 1)
	assert.False(t, m.Known)
}
