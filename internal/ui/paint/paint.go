// Package paint puts frames on a terminal as soon as they are drawn, each in
// one write of the rows that differ from what is there. The screen library's
// own renderer draws on a clock; a frame would wait for its tick, and an idle
// screen would wake the machine for nothing.
package paint

import (
	"io"
	"os"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

const (
	// gap is the least time between two writes: more often no display shows it.
	gap = 8 * time.Millisecond
	// patience is how long Close waits for a write that the terminal does not
	// take.
	patience = 200 * time.Millisecond

	// A terminal that knows synchronised output (private mode 2026) shows what
	// stands between these at once; others pass over them.
	begin = "\x1b[?2026h"
	end   = "\x1b[?2026l"
)

// Screen is a terminal as it looks now. Its methods never wait for the
// terminal, but for Close.
type Screen struct {
	out io.Writer

	mu      sync.Mutex
	next    []string // what is to be shown; the latest frame only
	at      Cell     // where the cursor stands in it
	waiting bool     // next has not been taken yet
	all     bool     // the terminal may look different from what was shown
	closed  bool

	wake chan struct{} // holds one entry while there is something to do
	done chan struct{} // closed when nothing more is written
}

// New returns a screen on out that shows nothing yet. It must be closed.
func New(out io.Writer) *Screen {
	s := &Screen{out: out, all: true, wake: make(chan struct{}, 1), done: make(chan struct{})}
	go s.run()
	return s
}

// Cell is a place on the terminal, counted from zero at its upper left corner.
type Cell struct{ X, Y int }

// place moves the terminal's own cursor there and shows it: braille displays and
// screen readers follow it.
func (c Cell) place() string {
	return "\x1b[" + strconv.Itoa(c.Y+1) + ";" + strconv.Itoa(c.X+1) + "H\x1b[?25h"
}

// Show puts a frame on the terminal, one string a row from the top, and the
// terminal's cursor where at says. A frame that comes before the last one was
// taken replaces it. rows is not changed afterwards, neither here nor by the
// caller.
func (s *Screen) Show(rows []string, at Cell) {
	s.mu.Lock()
	s.next, s.at, s.waiting = rows, at, true
	s.mu.Unlock()
	s.nudge()
}

// Repaint makes the next frame a whole one, for when something else has
// written to the terminal or it has another size.
func (s *Screen) Repaint() {
	s.mu.Lock()
	s.all = true
	s.waiting = s.next != nil
	s.mu.Unlock()
	s.nudge()
}

// Close shows what is still waiting and ends the screen: nothing is written
// afterwards, unless the terminal stands still in the middle of a write.
func (s *Screen) Close() {
	s.mu.Lock()
	s.closed = true
	s.mu.Unlock()
	s.nudge()
	select {
	case <-s.done:
	case <-time.After(patience):
	}
}

func (s *Screen) nudge() {
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// run writes frames until the screen is closed. It does nothing that can
// panic: the terminal would stay raw.
func (s *Screen) run() {
	defer close(s.done)
	var shown []string
	var stands Cell
	var last time.Time
	for {
		<-s.wake
		if wait := gap - time.Since(last); wait > 0 {
			time.Sleep(wait)
		}
		s.mu.Lock()
		rows, at, waiting, closed := s.next, s.at, s.waiting, s.closed
		if s.all {
			shown, s.all = nil, false
		}
		s.waiting = false
		s.mu.Unlock()
		if waiting {
			if text := changes(shown, rows, stands, at); text != "" {
				last = time.Now()
				if _, err := io.WriteString(s.out, text); err != nil {
					rows = nil // who knows what it shows
				}
			}
			shown, stands = rows, at
		}
		if closed {
			return
		}
	}
}

// changes is what turns a terminal that shows the rows of was, with the cursor at
// stood, into one that shows those of now, with the cursor at stands; empty when
// they are the same. was is nil when it is not known what is there.
func changes(was, now []string, stood, stands Cell) string {
	var b strings.Builder
	for y, row := range now {
		if y < len(was) && was[y] == row {
			continue
		}
		b.WriteString("\x1b[" + strconv.Itoa(y+1) + ";1H")
		b.WriteString(row)
	}
	if b.Len() == 0 && was != nil && stood == stands {
		return ""
	}
	return begin + b.String() + stands.place() + end
}

// Beside is the terminal for somebody else who writes to it now and then: the
// cursor is put back after each of these writes, until the screen is closed.
func (s *Screen) Beside(f *os.File) *Shared { return &Shared{f, s} }

// Shared is a terminal on which frames are shown as well.
type Shared struct {
	*os.File
	s *Screen
}

// Write implements io.Writer.
func (w *Shared) Write(p []byte) (int, error) {
	n, err := w.File.Write(append(slices.Clone(p), w.s.back()...))
	return min(n, len(p)), err
}

// back puts the cursor back to its place in the last frame; empty before the first
// and after the end.
func (s *Screen) back() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed || s.next == nil {
		return ""
	}
	return s.at.place()
}
