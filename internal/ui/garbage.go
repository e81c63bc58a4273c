package ui

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// Each key leaves an assessment and a frame behind. Left alone, the collection of that
// garbage begins in the middle of every few keys and takes its time from them. So it is
// done after a frame, while a hand is on its way to the next key, where the next one
// would not get by without.

// behindFrame is how long what the start left behind waits for the first frame to be on the
// terminal: it stops everything to be let go of.
const behindFrame = 10 * time.Millisecond

// garbage is what is known of the memory in use.
type garbage struct {
	settled   bool   // the first frame is there, and what the start left behind is gone
	asked     uint64 // all that was ever asked for, as of the last key
	collected chan struct{}

	mu       sync.Mutex
	beside   int // percent of garbage while nothing is searched
	searches int // under way
	room     int // processors that there were before
}

// How much garbage there may be for each part of what is in use, in percent: little
// beside a small build, so that the bench takes little room; more beside a large one,
// which takes long to look through.
const (
	besideSmall = 50
	besideLarge = 150
	largeHeap   = 16 << 20
)

// besideSearch is the same while something is searched beside the keys, which leaves garbage
// behind all the time: every key that comes while it is collected waits for its share of
// that, so it is done seldom.
const besideSearch = 300

// allow is how much garbage there may be while nothing is searched.
func (g *garbage) allow(percent int) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.beside = percent; g.searches == 0 {
		debug.SetGCPercent(percent)
	}
}

// search notes that something is searched, until what it returns is called. Before the
// first frame, and where nobody waits for keys, it is nothing to this.
//
// A search fills one of the runtime's processors. With the key's own waiting in the system
// for the next one, what a key woke had none to go on with until the runtime looked round
// for one, which is every ten milliseconds; so there is one more while a search lasts, and
// the system shares out the real ones.
func (g *garbage) search() (ended func()) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.beside == 0 {
		return func() {}
	}
	if g.searches++; g.searches == 1 {
		debug.SetGCPercent(besideSearch)
		g.room = runtime.GOMAXPROCS(0)
		runtime.GOMAXPROCS(g.room + 1)
	}
	return func() {
		g.mu.Lock()
		defer g.mu.Unlock()
		if g.searches--; g.searches == 0 {
			debug.SetGCPercent(g.beside)
			runtime.GOMAXPROCS(g.room)
		}
	}
}

// collectWork looks after a message whether to collect now; nil where nobody waits for
// keys.
func (m *Model) collectWork(key bool) tea.Cmd {
	g := &m.garbage
	switch {
	case m.screen == nil || !m.sized:
		return nil
	case !g.settled:
		g.settled, g.collected = true, make(chan struct{}, 1)
		return func() tea.Msg {
			time.Sleep(behindFrame)
			g.allow(besideSmall)
			debug.FreeOSMemory()
			if live := read("/gc/heap/live:bytes"); live[0] > largeHeap {
				g.allow(besideLarge)
			}
			return nil
		}
	case !key:
		return nil
	}
	now := read("/gc/heap/allocs:bytes", "/memory/classes/heap/objects:bytes", "/gc/heap/goal:bytes")
	took := now[0] - g.asked // since the last key
	if g.asked = now[0]; now[1]+3*took/2 < now[2] {
		return nil
	}
	select {
	case g.collected <- struct{}{}:
	default: // at it
		return nil
	}
	return func() tea.Msg {
		runtime.GC()
		<-g.collected
		return nil
	}
}

// read are figures of the runtime by their names.
func read(names ...string) []uint64 {
	samples, out := make([]metrics.Sample, len(names)), make([]uint64, len(names))
	for i, name := range names {
		samples[i].Name = name
	}
	metrics.Read(samples)
	for i := range samples {
		if samples[i].Value.Kind() == metrics.KindUint64 {
			out[i] = samples[i].Value.Uint64()
		}
	}
	return out
}
