package gauge

import (
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Half way between along and square, 45° itself, is still taken as said; a hair
// beyond looks like the other surface. A billionth of a radian off level has a
// direction like any other slope.
func TestWhereAReadingTurnsIntoAnother(t *testing.T) {
	const half = 45 * geom.Deg
	for _, on := range []Surface{Along, SquareFace} {
		s, err := Reading{Shown: half, On: on, Lower: Rear}.Slope()
		require.NoError(t, err)
		assert.Equal(t, half, s)
	}
	_, err := Reading{Shown: half + 1e-6, On: Along, Lower: Rear}.Slope()
	assert.ErrorIs(t, err, ErrLikeFace)
	_, err = Reading{Shown: half - 1e-6, On: SquareFace, Lower: Rear}.Slope()
	assert.ErrorIs(t, err, ErrLikeAlong)
	s, err := Reading{Shown: 1e-9, On: Along, Lower: Front}.Slope()
	require.NoError(t, err)
	assert.Equal(t, geom.Angle(-1e-9), s)
}
