package ui

import (
	"runtime"
	"runtime/debug"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// While something is searched there is one processor more, until the last search has ended.
func TestASearchHasAProcessorMore(t *testing.T) {
	was := debug.SetGCPercent(besideLarge)
	defer debug.SetGCPercent(was)
	now := func() int {
		p := debug.SetGCPercent(-1)
		debug.SetGCPercent(p)
		return p
	}
	processors := runtime.GOMAXPROCS(0)
	var g garbage
	ended := g.search()
	assert.Equal(t, processors, runtime.GOMAXPROCS(0), "before the first frame it is nothing to this")
	ended()
	g.wait()
	assert.Equal(t, atMost, now())
	first := g.search()
	second := g.search()
	assert.Equal(t, processors+1, runtime.GOMAXPROCS(0), "with one more there is always one for what a key wakes")
	first()
	assert.Equal(t, processors+1, runtime.GOMAXPROCS(0))
	second()
	assert.Equal(t, processors, runtime.GOMAXPROCS(0))
}

// It is collected after a frame, where the next key would leave too much behind, and once at
// a time.
func TestGarbageIsCollectedBeforeTheNextKeyWouldHaveTo(t *testing.T) {
	const mb = 1 << 20
	g := garbage{}
	after := func(asked, live, cycles uint64) bool { return g.due([]uint64{asked * mb, live * mb, cycles}) }
	assert.False(t, after(100, 7, 4), "the runtime has, before the first key")
	assert.False(t, after(101, 7, 4))
	assert.False(t, after(102, 7, 4), "another key of 1 MB leaves 3, where 3.5 are half of 7")
	assert.True(t, after(104, 7, 4), "and one of 2 leaves 6")
	assert.False(t, after(110, 7, 4), "it is at it")
	assert.True(t, after(112, 7, 5), "8 since it was begun, of which a part was in the way of it")
	assert.False(t, after(113, 7, 7), "the runtime has, by itself")
	assert.False(t, after(120, 20, 7), "beside what is large there may be twice as much")
	assert.True(t, after(140, 20, 7))
}

// Who begins to collect does not wait for it, and there may be as much as before then.
func TestACollectionIsBegun(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	var g garbage
	g.wait()
	cycles := func() uint64 { return read("/gc/cycles/total:gc-cycles")[0] }
	runtime.GC() // nothing is under way
	before := cycles()
	g.collect()
	assert.Eventually(t, func() bool { return cycles() > before }, 5*time.Second, time.Millisecond)
	assert.Equal(t, atMost, debug.SetGCPercent(100))
}
