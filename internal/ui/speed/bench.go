//go:build linux

package main

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// The keys that a terminal sends.
const (
	up    = "\x1b[A"
	down  = "\x1b[B"
	right = "\x1b[C"
	left  = "\x1b[D"
)

// bench is one program on a terminal, and what is pressed there.
type bench struct {
	name       string
	args       []string
	ready      string // what is on the first frame
	before     string // pressed first
	edit, move [2]string
	marked     bool // each frame ends with the mark of a synchronised one
	hold       int
	search     string // begins a search that goes on beside the keys; "" for none
}

const (
	quiet   = 60 * time.Millisecond // nothing more is being drawn
	idleFor = 10 * time.Second
	warm    = 60 // keys before the memory is read first
)

// run measures the program and prints its rows.
func (b bench) run(keys int) error {
	s, err := start(b.args)
	if err != nil {
		return err
	}
	defer s.end()
	if err := s.wait(b.ready); err != nil {
		return err
	}
	s.settle(quiet)
	row(b.name+": first frame", ms(s.last().Sub(s.begun)))
	s.press(b.before)
	s.settle(quiet)
	if b.marked {
		if _, err := b.press(s, b.edit, warm, short); err != nil {
			return err
		}
		if b.search != "" {
			return b.beside(s, keys*2/3) // of a hundred the p99 would be the largest
		}
		if err := b.memory(s, warm); err != nil {
			return err
		}
	}
	if err := b.timed(s, keys, short, "%s to frame"); err != nil {
		return err
	}
	if !b.marked {
		return nil
	}
	if b.hold > 0 {
		if err := b.held(s); err != nil {
			return err
		}
		if err := b.memory(s, b.hold); err != nil {
			return err
		}
	}
	return b.idle(s)
}

// timed prints what the two kinds of keys take, each so often. as says in its row which
// kind it was, and how.
func (b bench) timed(s *screen, n int, pause time.Duration, as string) error {
	for _, press := range []struct {
		what string
		keys [2]string
	}{{"key that moves the cursor", b.move}, {"key that edits", b.edit}} {
		took, err := b.press(s, press.keys, n, pause)
		if err != nil {
			return err
		}
		row(b.name+": "+fmt.Sprintf(as, press.what)+", p50 and p99", ms(share(took, 0.5))+"  "+ms(share(took, 0.99)))
	}
	return nil
}

// press times n keys, two in turn. The pauses differ, so that every phase of a
// program's own clock is met. Where the machine has much else to do, a frame can come so
// late that the next key is pressed before it: the two keys are then answered by one frame,
// which is the one that is there already, and nothing is drawn. A few of them are left out.
func (b bench) press(s *screen, keys [2]string, n int, pause time.Duration) ([]time.Duration, error) {
	var took []time.Duration
	for left := 0; ; left++ {
		more, err := b.pressed(s, keys, len(took)+left, n, pause)
		if took = append(took, more...); err == nil || left >= n/50 || !errors.Is(err, errNothing) {
			return took, err
		}
	}
}

// pressed presses keys until one is not answered, from the one of that number on.
func (b bench) pressed(s *screen, keys [2]string, from, n int, pause time.Duration) (took []time.Duration, err error) {
	for i := from; i < n; i++ {
		time.Sleep(pause + rand.N(5*pause/2))
		at := s.drawn()
		begin := time.Now()
		s.press(keys[i%2])
		var end time.Time
		if b.marked {
			if end, err = s.frame(at); err != nil {
				return took, err
			}
		} else {
			if err := s.more(at); err != nil {
				return took, err
			}
			s.settle(quiet / 2)
			end = s.last()
		}
		took = append(took, end.Sub(begin))
		s.settle(quiet / 4)
	}
	return took, nil
}

// The shortest pause between two keys: of one who holds a key, and of one who leaves a
// search the time to go on between them.
const (
	short = 10 * time.Millisecond
	slow  = 60 * time.Millisecond
)

// beside prints what keys take while nothing is searched and then while something is, with
// the same pauses. What the screen says of the search in between counts as an answer where
// it comes first, a few times in a hundred.
func (b bench) beside(s *screen, keys int) error {
	for _, what := range []string{"nothing searched", "a search beside it"} {
		from := s.drawn()
		if what != "nothing searched" {
			s.press(b.search)
			if _, err := s.until(from, "searching"); err != nil {
				return err
			}
		}
		if err := b.timed(s, keys, slow, "%s, "+what); err != nil {
			return err
		}
		if s.has(from, "search has ended") {
			row(b.name, "the search ended before the last key")
		}
	}
	return nil
}

// memory prints what the program holds after that many edits.
func (b bench) memory(s *screen, edits int) error {
	kib, err := s.resident()
	if err != nil {
		return err
	}
	row(fmt.Sprintf("%s: memory after %d edits", b.name, edits), fmt.Sprintf("%.0f MiB", kib/1024))
	return nil
}

// held presses the keys of edits quicker than they can be answered.
func (b bench) held(s *screen) error {
	const burst = 50
	for n := 0; n < b.hold; n += burst {
		at := s.drawn()
		s.press(strings.Repeat(b.edit[n/burst%2], burst))
		if err := s.more(at); err != nil {
			return err
		}
		s.settle(quiet)
	}
	return nil
}

// idle prints what the program does when nobody does anything.
func (b bench) idle(s *screen) error {
	s.settle(2 * time.Second)
	at := s.drawn()
	before, err := s.wakeups()
	if err != nil {
		return err
	}
	time.Sleep(idleFor)
	after, err := s.wakeups()
	if err != nil {
		return err
	}
	per := idleFor.Seconds()
	row(b.name+": idle", fmt.Sprintf("%.1f bytes/s  %.1f wake-ups/s", float64(s.drawn()-at)/per, float64(after-before)/per))
	return nil
}
