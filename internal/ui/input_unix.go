//go:build unix

package ui

import (
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
// where the down arrow was pressed.
type escapeJoiner struct{ *os.File }

func joinEscapes(f *os.File) io.Reader { return escapeJoiner{f} }

// Read implements io.Reader.
func (e escapeJoiner) Read(p []byte) (int, error) {
	n, err := e.File.Read(p)
	for err == nil && n > 0 && n < len(p) && cutEscape(p[:n]) && e.ready(waitFor(p[:n])) {
		var more int
		more, err = e.File.Read(p[n:])
		n += more
	}
	return n, err
}

// waitFor is how long the cut sequence at the end of b waits for its rest.
func waitFor(b []byte) int {
	if b[len(b)-1] == 0x1b {
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
