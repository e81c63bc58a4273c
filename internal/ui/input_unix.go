//go:build unix

package ui

import (
	"io"
	"os"
	"os/signal"
	"syscall"

	"golang.org/x/sys/unix"
)

// escapeWait is how long a lone escape waits for the rest of a sequence that a
// slow link has split, in milliseconds.
const escapeWait = 30

// escapeJoiner is a terminal input that never returns the beginning of an
// escape sequence alone: the screen library would read "escape, bracket, B"
// where the down arrow was pressed.
type escapeJoiner struct{ *os.File }

func joinEscapes(f *os.File) io.Reader { return escapeJoiner{f} }

// Read implements io.Reader.
func (e escapeJoiner) Read(p []byte) (int, error) {
	n, err := e.File.Read(p)
	for err == nil && n > 0 && n < len(p) && cutEscape(p[:n]) && e.ready() {
		var more int
		more, err = e.File.Read(p[n:])
		n += more
	}
	return n, err
}

// ready waits briefly for more input.
func (e escapeJoiner) ready() bool {
	fds := []unix.PollFd{{Fd: int32(e.Fd()), Events: unix.POLLIN}} //nolint:gosec // a file descriptor fits
	k, err := unix.Poll(fds, escapeWait)
	return err == nil && k > 0 && fds[0].Revents&unix.POLLIN != 0
}

func notifyHangup(c chan os.Signal) { signal.Notify(c, syscall.SIGHUP) }
