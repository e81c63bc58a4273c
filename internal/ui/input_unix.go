//go:build unix

package ui

import (
	"bytes"
	"io"
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/sys/unix"
)

// How long the beginning of a sequence that a slow link has split waits for its
// rest, in milliseconds. A lone escape is a key, and whoever presses it should
// not notice; behind ESC [ or ESC O there is nearly always more to come, and what
// comes would be a letter that does something else.
const (
	escapeWait     = 100
	introducerWait = 700
)

// escapeJoiner is a terminal input that never returns the beginning of an
// escape sequence alone: the screen library would read "escape, bracket, B"
// where the down arrow was pressed. What the terminal answers it keeps from the
// library, which would take it for keys, and tells of the background.
type escapeJoiner struct {
	*os.File
	told func(backgroundMsg)
}

func joinEscapes(f *os.File, told func(backgroundMsg)) io.Reader { return escapeJoiner{f, told} }

// canAsk says that answers of the terminal can be told from keys.
const canAsk = true

// Read implements io.Reader.
func (e escapeJoiner) Read(p []byte) (int, error) {
	n, err := e.File.Read(p)
	for err == nil && n > 0 && n < len(p) && cutEscape(p[:n]) && e.ready(waitFor(p[:n])) {
		var more int
		more, err = e.File.Read(p[n:])
		n += more
	}
	keys, told := takeAnswers(p[:n])
	if told != nil {
		e.told(*told)
	}
	return len(keys), err
}

// waitFor is how long the cut sequence at the end of b waits for its rest.
func waitFor(b []byte) int {
	i := bytes.LastIndexByte(b, 0x1b)
	if s := b[i+1:]; len(s) == 0 || string(s) == "]" {
		return escapeWait
	}
	return introducerWait
}

// ready waits so many milliseconds for more input.
func (e escapeJoiner) ready(wait int) bool {
	fds := []unix.PollFd{{Fd: int32(e.Fd()), Events: unix.POLLIN}} //nolint:gosec // a file descriptor fits
	k, err := unix.Poll(fds, wait)
	return err == nil && k > 0 && fds[0].Revents&unix.POLLIN != 0
}

// notifyHangup listens to what ends the program from outside. Without it the
// runtime would die of SIGQUIT and SIGABRT with the terminal still raw.
func notifyHangup(c chan os.Signal) {
	signal.Notify(c, syscall.SIGHUP, syscall.SIGQUIT, syscall.SIGABRT)
}
