//go:build unix && !aix && !solaris

package keep

import (
	"errors"
	"os"
	"syscall"
)

// lockFile locks an open file for this program alone, without waiting. The
// error is errHeld when another has it.
func lockFile(f *os.File) error {
	for {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch {
		case errors.Is(err, syscall.EINTR):
			continue
		case errors.Is(err, syscall.EWOULDBLOCK):
			return errHeld
		}
		return err
	}
}
