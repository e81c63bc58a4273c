package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// SHS 50x50x3 and HSS 4x4x1/4 as their tables print them.
func TestPower(t *testing.T) {
	for _, c := range []struct {
		v          float64
		power      int
		u          Units
		text, unit string
	}{
		{541, 2, Metric(), "5.41", "cm2"}, {194671, 4, Metric(), "19.5", "cm4"}, {1658750, 4, Metric(), "166", "cm4"},
		{7.80 * 25.4 * 25.4 * 25.4 * 25.4, 4, Inch(), "7.80", "in4"}, {0, 4, Metric(), "0", "cm4"}, {-2360000, 4, Metric(), "-236", "cm4"}, {0.001, 4, Metric(), "0.00000", "cm4"},
	} {
		text, unit := Power(c.v, c.power, c.u)
		assert.Equal(t, c.text, text)
		assert.Equal(t, c.unit, unit)
	}
}
