package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Moved in the mind alone, a build says of its readings what it would say after
// the edit: one that has a part of where the powertrain stood keeps that part,
// and one that has nothing of it was taken where it stands now.
func TestPlacedKeepsWhatReadingsSay(t *testing.T) {
	read := func(of, placed string) string {
		return "[[reading]]\nof = \"" + of + "\"\non = \"along\"\nshown = \"1 deg\"\nlower = \"rear\"\n" + placed + "\n"
	}
	f, err := Parse("test.toml", []byte(`format = 3
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1200, 0, 0]
[placement]
left_front = 1
right_front = 2
rear = 3
setback = 4
[line.rear.pinion]
`+read("powertrain", "placed = { rear = 30 }")+read("powertrain", "")+read("line.rear.pinion", "")))
	require.NoError(t, err)
	to, ok := f.Build.Placement.Seat()
	require.True(t, ok)
	to.Rear = 50
	rs := f.Build.Placed(to).Readings
	part, ok := rs[0].Placed.Seat()
	require.True(t, ok)
	assert.Equal(t, 30.0, part.Rear, "it was read there, and not where the powertrain stands now")
	assert.Equal(t, 1.0, part.LeftFront)
	none, ok := rs[1].Placed.Seat()
	require.True(t, ok)
	assert.Equal(t, 3.0, none.Rear)
	assert.False(t, rs[2].Placed.Any(), "the pinion stays where it is")
	assert.False(t, f.Build.Readings[1].Placed.Any(), "the build itself is as it was")

	moved, then, now, err := f.Build.MovedSince(rs[1])
	require.NoError(t, err)
	assert.False(t, moved)
	assert.Equal(t, then, now)
	_, _, _, err = f.Build.MovedSince(f.Build.Readings[0])
	assert.ErrorContains(t, err, "does not say the whole")
}
