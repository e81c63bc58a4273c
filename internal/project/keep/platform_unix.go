//go:build unix

package keep

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// syncDir makes the names in a folder durable. Some network and user-space
// disks cannot do it and say so; there is nothing more to be had from them.
func syncDir(name string) error {
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrPermission) {
		return nil // a folder that may be written but not listed
	}
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) || errors.Is(err, syscall.ENOTTY) {
		err = nil
	}
	return firstError(func() error { return err }, f.Close)
}

// takeOwner hands a file to the owner of another one, or at least to its group.
func takeOwner(chown func(uid, gid int) error, like fs.FileInfo) {
	st, ok := like.Sys().(*syscall.Stat_t)
	if !ok {
		return
	}
	if chown(int(st.Uid), int(st.Gid)) != nil {
		_ = chown(-1, int(st.Gid))
	}
}

// names is how many names of the same disk lead to a file; 1 when it cannot be
// told.
func names(info fs.FileInfo) int {
	if st, ok := info.Sys().(*syscall.Stat_t); ok && st.Nlink > 1 {
		return int(st.Nlink) //nolint:gosec,unconvert // no disk has that many
	}
	return 1
}

// hide has nothing to do where a leading dot hides a folder.
func hide(string) {}

func isFull(err error) bool         { return errors.Is(err, syscall.ENOSPC) }
func isQuota(err error) bool        { return errors.Is(err, syscall.EDQUOT) }
func isReadOnlyDisk(err error) bool { return errors.Is(err, syscall.EROFS) }
func isBusy(err error) bool {
	return errors.Is(err, syscall.EBUSY) || errors.Is(err, syscall.ETXTBSY)
}
func isLongName(err error) bool  { return errors.Is(err, syscall.ENAMETOOLONG) }
func isNotFolder(err error) bool { return errors.Is(err, syscall.ENOTDIR) }
