package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is read is named as people do, by its line where there are several.
func TestTargetsInWords(t *testing.T) {
	words := func(text string, targets ...string) string {
		f, err := Parse("x.toml", []byte("format = 3\n"+text))
		require.NoError(t, err)
		return f.Build.TargetWords(targets...)
	}
	const rear = "[line.rear.pinion]\n"
	assert.Equal(t, "the powertrain, the shaft, the pinion", words(rear, "powertrain", "line.rear.shaft.1", "line.rear.pinion"))
	assert.Equal(t, "the shaft of the rear line, the output of the front left line, the floor", words(rear+"[line.front_left.pinion]\n", "line.rear.shaft.1", "line.front_left.first", "floor"))
	assert.Equal(t, "shaft 2", words("[[line.rear.joint]]\n[[line.rear.joint]]\n[[line.rear.joint]]\n", "line.rear.shaft.2"))
	assert.Equal(t, "line.rear.none", words(rear, "line.rear.none"), "what there is not is named as it is")
}
