package keep

import (
	"errors"
	"io/fs"
	"syscall"
)

// Error numbers of the Windows API, from its published header winerror.h.
const (
	errSharing       = syscall.Errno(32)
	errLock          = syscall.Errno(33)
	errHandleFull    = syscall.Errno(39)
	errWriteProtect  = syscall.Errno(19)
	errDiskFull      = syscall.Errno(112)
	errBadName       = syscall.Errno(123)
	errLongName      = syscall.Errno(206)
	errDirectoryName = syscall.Errno(267)
	errQuota         = syscall.Errno(1295)
)

// syncDir has nothing to do: a folder cannot be flushed here, the disk keeps
// its own journal of names.
func syncDir(string) error { return nil }

// takeOwner has nothing to do: a new file takes its rights from its folder.
func takeOwner(func(uid, gid int) error, fs.FileInfo) {}

// hide sets the hidden attribute, as a leading dot hides nothing here. A disk
// without that attribute shows the folder, which does no harm.
func hide(name string) {
	p, err := syscall.UTF16PtrFromString(name)
	if err != nil {
		return
	}
	attrs, err := syscall.GetFileAttributes(p)
	if err != nil {
		return
	}
	_ = syscall.SetFileAttributes(p, attrs|syscall.FILE_ATTRIBUTE_HIDDEN)
}

func isFull(err error) bool {
	return errors.Is(err, errDiskFull) || errors.Is(err, errHandleFull)
}
func isQuota(err error) bool        { return errors.Is(err, errQuota) }
func isReadOnlyDisk(err error) bool { return errors.Is(err, errWriteProtect) }
func isBusy(err error) bool         { return errors.Is(err, errSharing) || errors.Is(err, errLock) }
func isLongName(err error) bool     { return errors.Is(err, errLongName) || errors.Is(err, errBadName) }
func isNotFolder(err error) bool    { return errors.Is(err, errDirectoryName) }

// names is 1: a FileInfo here does not say how many names a file has.
func names(fs.FileInfo) int { return 1 }
