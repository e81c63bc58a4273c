package abreast

import (
	"runtime"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEveryPieceIsDoneOnce(t *testing.T) {
	for _, processors := range []int{1, 2, 3} {
		was := runtime.GOMAXPROCS(processors)
		for n := range 20 {
			done := make([]atomic.Int32, n)
			Each(n, func(i int) { done[i].Add(1) })
			for i := range done {
				assert.EqualValues(t, 1, done[i].Load(), "%d of %d on %d", i, n, processors)
			}
		}
		runtime.GOMAXPROCS(was)
	}
	var a, b int
	Do(func() { a = 1 }, func() { b = 2 })
	assert.Equal(t, [2]int{1, 2}, [2]int{a, b})
}

// A panic reaches the caller from wherever it was, with its place, and the others are
// done before.
func TestAPanicIsTheCallers(t *testing.T) {
	was := runtime.GOMAXPROCS(2)
	defer runtime.GOMAXPROCS(was)
	for at := range 4 {
		var done atomic.Int32
		caught := func() (p any) {
			defer func() { p = recover() }()
			Each(4, func(i int) {
				if done.Add(1); i == at {
					Do(func() { broken("it broke") }, func() {})
				}
			})
			return nil
		}()
		p, ok := caught.(*Panic)
		if assert.True(t, ok, "%v", caught) {
			assert.Equal(t, "it broke", p.Value)
			assert.Contains(t, p.String(), "abreast.broken")
			assert.EqualValues(t, 4, done.Load())
		}
	}
}

func broken(why string) { panic(why) }
