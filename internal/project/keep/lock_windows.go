package keep

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// lockFile locks an open file for this program alone, without waiting. The
// error is errHeld when another has it. The byte that is locked lies far behind
// the text, because a locked byte cannot be read by others here.
func lockFile(f *os.File) error {
	at := windows.Overlapped{Offset: 1 << 30}
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &at)
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_IO_PENDING) {
		return errHeld
	}
	return err
}
