//go:build linux

package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/creack/pty"
)

// frameEnd is the mark behind each frame of the bench (private mode 2026).
const frameEnd = "\x1b[?2026l"

// patience is how long anything may take.
const patience = 10 * time.Second

var errNothing = errors.New("nothing was drawn for a long time")

// screen is a program on a terminal that takes all that is drawn and answers no
// question.
type screen struct {
	cmd   *exec.Cmd
	tty   *os.File
	begun time.Time

	mu    sync.Mutex
	reads []read
	bytes []byte
	came  chan struct{}
}

// read is when the drawing up to there had come.
type read struct {
	upTo int
	when time.Time
}

// start runs a program on a terminal of 120 by 40.
func start(args []string) (*screen, error) {
	s := &screen{cmd: exec.Command(args[0], args[1:]...), came: make(chan struct{}, 1), begun: time.Now()}
	s.cmd.Env = append(os.Environ(), "TERM=xterm-256color", "COLORTERM=truecolor")
	tty, err := pty.StartWithSize(s.cmd, &pty.Winsize{Rows: 40, Cols: 120})
	if err != nil {
		return nil, err
	}
	s.tty = tty
	go s.read()
	return s, nil
}

func (s *screen) read() {
	chunk := make([]byte, 1<<16)
	for {
		n, err := s.tty.Read(chunk)
		now := time.Now()
		if n > 0 {
			s.mu.Lock()
			s.bytes = append(s.bytes, chunk[:n]...)
			s.reads = append(s.reads, read{len(s.bytes), now})
			s.mu.Unlock()
			select {
			case s.came <- struct{}{}:
			default:
			}
		}
		if err != nil {
			return
		}
	}
}

func (s *screen) press(keys string) { _, _ = s.tty.WriteString(keys) }

// drawn is how much has been drawn so far.
func (s *screen) drawn() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.bytes)
}

// has reports whether something was drawn behind from.
func (s *screen) has(from int, what string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return bytes.Contains(s.bytes[from:], []byte(what))
}

// last is when something was drawn last.
func (s *screen) last() time.Time {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.reads) == 0 {
		return s.begun
	}
	return s.reads[len(s.reads)-1].when
}

// settle waits until nothing has been drawn for so long.
func (s *screen) settle(long time.Duration) {
	for {
		left := long - time.Since(s.last())
		if left <= 0 {
			return
		}
		time.Sleep(left)
	}
}

// until waits for what is found in the drawing behind from, and returns where it
// ends there.
func (s *screen) until(from int, what string) (int, error) {
	limit := time.After(patience)
	for {
		s.mu.Lock()
		at := bytes.Index(s.bytes[from:], []byte(what))
		enough := at >= 0 && len(s.bytes) > from
		s.mu.Unlock()
		if enough {
			return from + at + len(what), nil
		}
		select {
		case <-s.came:
		case <-limit:
			return 0, errNothing
		}
	}
}

func (s *screen) wait(text string) error {
	_, err := s.until(0, text)
	return err
}

// more waits until more than from has been drawn.
func (s *screen) more(from int) error {
	_, err := s.until(from, "")
	return err
}

// frame waits for the end of the first frame behind from, and returns when it came.
func (s *screen) frame(from int) (time.Time, error) {
	end, err := s.until(from, frameEnd)
	if err != nil {
		return time.Time{}, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	for i := len(s.reads) - 1; ; i-- {
		if i == 0 || s.reads[i-1].upTo < end {
			return s.reads[i].when, nil
		}
	}
}

// end ends the program without a word.
func (s *screen) end() {
	_ = s.cmd.Process.Kill()
	_ = s.cmd.Wait()
	_ = s.tty.Close()
}

// resident is the memory that the program has, in KiB.
func (s *screen) resident() (float64, error) {
	return s.status(strconv.Itoa(s.cmd.Process.Pid), "VmRSS:")
}

// wakeups is how often its threads have gone to sleep so far.
func (s *screen) wakeups() (float64, error) {
	pid := strconv.Itoa(s.cmd.Process.Pid)
	threads, err := os.ReadDir(filepath.Join("/proc", pid, "task"))
	if err != nil {
		return 0, err
	}
	var sum float64
	for _, t := range threads {
		n, err := s.status(filepath.Join(pid, "task", t.Name()), "voluntary_ctxt_switches:")
		if err != nil {
			return 0, err
		}
		sum += n
	}
	return sum, nil
}

// status is a number in a status file of the system.
func (s *screen) status(of, key string) (float64, error) {
	text, err := os.ReadFile(filepath.Join("/proc", of, "status"))
	if err != nil {
		return 0, err
	}
	for line := range strings.Lines(string(text)) {
		if rest, ok := strings.CutPrefix(line, key); ok {
			return strconv.ParseFloat(strings.Fields(rest)[0], 64)
		}
	}
	return 0, fmt.Errorf("no %s of process %s", key, of)
}
