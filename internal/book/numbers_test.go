package book

import (
	"testing"

	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
)

func TestSense(t *testing.T) {
	u := quantity.Metric()
	for _, c := range []struct {
		kind quantity.Kind
		v    float64
		want string
	}{
		{quantity.Slope, 0.1, "down to the rear"},
		{quantity.Slope, -0.1, "up to the rear"},
		{quantity.Heading, 0.1, "rear to the right"},
		{quantity.Heading, -0.1, "rear to the left"},
		{quantity.Offset, 12, "right"},
		{quantity.Offset, -12, "left"},
		{quantity.Offset, 0, ""},
		{quantity.Angle, 1, ""},
		{quantity.Length, -3, ""},
	} {
		assert.Equal(t, c.want, Sense(c.kind, c.v, u), "%s %g", c.kind, c.v)
	}
}
