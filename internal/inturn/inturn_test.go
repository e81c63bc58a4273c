package inturn

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Whatever the turn is, each kind has a case and none too many; turns together try all.
func TestEachKindHasACase(t *testing.T) {
	cases := []int{10, 20, 21, 22, 23, 24, 30, 31}
	kind := func(n int) string { return string(rune('0' + n/10)) }
	tried := map[int]bool{}
	for turn := 1; turn < 10; turn++ {
		picked := kinds(cases, 3, turn, kind)
		of := map[string]int{}
		for i, n := range picked {
			of[kind(n)]++
			tried[n] = true
			assert.True(t, i == 0 || picked[i-1] < n, "in the order given")
		}
		assert.Equal(t, 1, of["1"])
		assert.GreaterOrEqual(t, of["2"], 1)
		assert.LessOrEqual(t, of["2"], 2)
		assert.Equal(t, 1, of["3"])
	}
	assert.Len(t, tried, len(cases))
}

func TestOneInSoMany(t *testing.T) {
	if Whole() {
		assert.True(t, Try(t, 1, 5) && Try(t, 2, 5))
		assert.Equal(t, 9, Count(2, 9))
		return
	}
	n := 0
	for i := range 50 {
		if Try(t, i, 5) {
			n++
		}
	}
	assert.Equal(t, 10, n)
	assert.Equal(t, 2, Count(2, 9))
}
