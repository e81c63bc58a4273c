package ui

import (
	"runtime"
	"runtime/debug"
	"testing"

	"github.com/stretchr/testify/assert"
)

// While something is searched garbage is collected seldom, and as before when the last
// search has ended, whatever was settled in between.
func TestASearchLeavesItsGarbage(t *testing.T) {
	was := debug.SetGCPercent(besideLarge)
	defer debug.SetGCPercent(was)
	now := func() int {
		p := debug.SetGCPercent(-1)
		debug.SetGCPercent(p)
		return p
	}
	processors := runtime.GOMAXPROCS(0)
	var g garbage
	g.search()()
	assert.Equal(t, besideLarge, now(), "before the first frame it is nothing to this")
	g.allow(besideSmall)
	first := g.search()
	second := g.search()
	assert.Equal(t, besideSearch, now())
	assert.Equal(t, processors+1, runtime.GOMAXPROCS(0), "with one more there is always one for what a key wakes")
	first()
	g.allow(besideLarge)
	assert.Equal(t, besideSearch, now())
	second()
	assert.Equal(t, besideLarge, now())
	assert.Equal(t, processors, runtime.GOMAXPROCS(0))
}
