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
	settled bool   // the first frame is there, and what the start left behind is gone
	asked   uint64 // all that was ever asked for, as of the last key
	begun   uint64 // the same when it was begun to collect last
	cycles  uint64 // how often had been collected then
	begins  []byte // see collect

	mu       sync.Mutex
	waited   bool // somebody waits for keys
	searches int  // under way
	room     int  // processors that there were before
}

// atMost is how much garbage there may be for each part of what is in use, in percent,
// before the runtime collects it by itself, in the middle of whatever is done: what is
// searched beside the keys leaves garbage behind all the time, and every key that comes
// while it is collected waits for its share of that.
const atMost = 300

// How much garbage there may be after a frame, in the same measure: little beside a small
// build, so that the bench takes little room; more beside a large one, which takes long to
// look through.
const (
	besideSmall = 50
	besideLarge = 200
	largeHeap   = 8 << 20
)

// wait notes that somebody waits for keys from here on.
func (g *garbage) wait() {
	g.mu.Lock()
	defer g.mu.Unlock()
	g.waited = true
	debug.SetGCPercent(atMost)
}

// search notes that something is searched, until what it returns is called. Before the
// first frame, and where nobody waits for keys, it is nothing to this.
//
// A search fills one of the runtime's processors. With the key's own waiting in the system
// for the next one, what a key woke had none to go on with until the runtime looked round
// for one, which is every ten milliseconds; so there is one more while a search lasts, and
// the system shares out the real ones: to keys first (behindKeys).
func (g *garbage) search() (ended func()) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if !g.waited {
		return func() {}
	}
	behindKeys()
	if g.searches++; g.searches == 1 {
		g.room = runtime.GOMAXPROCS(0)
		runtime.GOMAXPROCS(g.room + 1)
	}
	return func() {
		g.mu.Lock()
		defer g.mu.Unlock()
		if g.searches--; g.searches == 0 {
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
		g.settled = true
		return func() tea.Msg {
			time.Sleep(behindFrame)
			g.wait()
			debug.FreeOSMemory()
			return nil
		}
	case key && g.due(read("/gc/heap/allocs:bytes", "/gc/heap/live:bytes", "/gc/cycles/total:gc-cycles")):
		return func() tea.Msg { g.collect(); return nil }
	}
	return nil
}

// due reports whether to collect before the next key, and notes that it is begun: now is
// what was ever asked for, what was in use when it was collected last, and how often it was.
// A collection that is under way is not begun again, and the next key is taken to leave as
// much behind as this one.
func (g *garbage) due(now []uint64) bool {
	asked, live, cycles := now[0], now[1], now[2]
	took := asked - g.asked
	g.asked = asked
	switch cycles {
	case g.cycles: // at it
		return false
	case g.cycles + 1:
	default: // the runtime has, by itself
		g.begun, g.cycles = asked, cycles-1
		return false
	}
	share := uint64(besideSmall)
	if live > largeHeap {
		share = besideLarge
	}
	if asked-g.begun+took <= live*share/100 {
		return false
	}
	g.begun, g.cycles = asked, cycles
	return true
}

// collect begins a collection and does not wait for its end. Who calls runtime.GC waits,
// and meanwhile takes part: behind each piece of memory that it has swept it lets others go
// first, tens of thousands of times for one collection, and the processors did little else.
func (g *garbage) collect() {
	g.mu.Lock()
	defer g.mu.Unlock()
	debug.SetGCPercent(0)
	g.begins = make([]byte, aLot) // before it gives that out, the runtime looks whether to collect
	debug.SetGCPercent(atMost)
	g.begins = nil
}

// aLot is more than the runtime has lying ready of any size, in bytes.
const aLot = 64 << 10

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
