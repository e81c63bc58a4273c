package finding

import (
	"errors"
	"fmt"
	"testing"

	"fitup/internal/geom/gauge"

	"github.com/stretchr/testify/assert"
)

func TestUnreadable(t *testing.T) {
	slip := fmt.Errorf("1 and 2 are apart: %w", ErrContradict)
	for want, err := range map[string]error{
		"two readings of the pinion cannot both be true: 1 and 2 are apart: the readings cannot all be true":   slip,
		"the reading of the pinion has no direction; which end is lower, front or rear?":                       gauge.ErrNoSense,
		"the reading of the pinion does not say what the gauge stood on; along the axis, or on a square face?": gauge.ErrNoSurface,
		"the reading of the pinion: of no use":                                                                 errors.New("of no use"),
	} {
		assert.Equal(t, want, Unreadable("the pinion", Number{Why: "of no use", Err: err}, nil, nil))
	}
}
