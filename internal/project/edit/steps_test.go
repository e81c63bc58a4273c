package edit

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every state can be read, near or far, undone or not, without going there.
func TestAnyStateOfAHistory(t *testing.T) {
	h := NewHistory(demoFile(t))
	texts := []string{h.Now().Doc().Text()}
	for i := range 3 * liveStates {
		e, err := SetText(h.Now(), "placement.rear", fmt.Sprint(-280+i))
		require.NoError(t, err)
		require.NoError(t, h.Do(fmt.Sprintf("step %d", i+1), e))
		texts = append(texts, h.Now().Doc().Text())
	}
	for range 5 {
		_, ok := h.Undo()
		require.True(t, ok)
	}
	now := h.Now()
	steps := h.Steps()
	require.Len(t, steps, len(texts))
	assert.Equal(t, "", steps[0])
	assert.Equal(t, "step 7", steps[7])
	for i, text := range texts {
		f, ok := h.At(i)
		require.True(t, ok, "%d", i)
		assert.Equal(t, text, f.Doc().Text(), "%d", i)
	}
	for _, i := range []int{-1, len(texts)} {
		_, ok := h.At(i)
		assert.False(t, ok)
	}
	assert.Same(t, now, h.Now(), "looking goes nowhere")
}
