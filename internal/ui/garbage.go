package ui

import (
	"runtime"
	"runtime/metrics"

	tea "github.com/charmbracelet/bubbletea"
)

// Each key leaves an assessment and a frame behind. Left alone, the collection of that
// garbage begins in the middle of every few keys and takes its time from them. So it is
// done after a frame, while a hand is on its way to the next key, where the next one
// would not get by without.

// garbage is what is known of the memory in use.
type garbage struct {
	asked     uint64 // all that was ever asked for, as of the last key
	collected chan struct{}
}

// collectWork looks after a key whether to collect now; nil where nobody waits for keys.
func (m *Model) collectWork() tea.Cmd {
	if m.screen == nil {
		return nil
	}
	if m.garbage.collected == nil {
		m.garbage.collected = make(chan struct{}, 1)
	}
	s := [3]metrics.Sample{{Name: "/gc/heap/allocs:bytes"}, {Name: "/memory/classes/heap/objects:bytes"}, {Name: "/gc/heap/goal:bytes"}}
	metrics.Read(s[:])
	asked, used, goal := s[0].Value.Uint64(), s[1].Value.Uint64(), s[2].Value.Uint64()
	key := asked - m.garbage.asked
	m.garbage.asked = asked
	if used+2*key < goal {
		return nil
	}
	select {
	case m.garbage.collected <- struct{}{}:
	default: // at it
		return nil
	}
	done := m.garbage.collected
	return func() tea.Msg {
		runtime.GC()
		<-done
		return nil
	}
}
