package keep

import (
	"errors"
	"io"
	"io/fs"
	"os"
)

// disk is every call that can go wrong while a file is being kept, so that a
// test can make each of them fail.
type disk interface {
	Lstat(name string) (fs.FileInfo, error)
	ReadFile(name string) ([]byte, error)
	ReadDir(name string) ([]fs.DirEntry, error)
	TryWrite(name string) error // whether the file may be written; changes nothing
	Create(name string, perm fs.FileMode) (file, error)
	OpenAppend(name string) (file, error)
	Truncate(name string, size int64) error
	Mkdir(name string, perm fs.FileMode, like fs.FileInfo) error
	Rename(from, to string) error
	Link(from, to string) error
	Remove(name string) error
	SyncDir(name string) error
}

// file is an open file that is being written.
type file interface {
	io.WriteCloser
	Sync() error
	Like(fs.FileInfo) error // take mode and, where permitted, owner
}

type osDisk struct{}

func (osDisk) Lstat(name string) (fs.FileInfo, error)     { return os.Lstat(name) }
func (osDisk) ReadDir(name string) ([]fs.DirEntry, error) { return os.ReadDir(name) }
func (osDisk) Truncate(name string, size int64) error     { return os.Truncate(name, size) }
func (osDisk) Rename(from, to string) error               { return os.Rename(from, to) }
func (osDisk) Link(from, to string) error                 { return os.Link(from, to) }
func (osDisk) Remove(name string) error                   { return os.Remove(name) }
func (osDisk) SyncDir(name string) error                  { return syncDir(name) }

// ReadFile reads an ordinary file. A pipe would keep the program waiting for
// ever, and a link could lead to a device that never ends.
func (osDisk) ReadFile(name string) ([]byte, error) {
	if err := ordinary(name); err != nil {
		return nil, err
	}
	return os.ReadFile(name)
}

// ordinary refuses what is there and is no ordinary file.
func ordinary(name string) error {
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return &fs.PathError{Op: "open", Path: name, Err: errNotOrdinary}
	}
	return nil
}

func (osDisk) TryWrite(name string) error {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

func (osDisk) Create(name string, perm fs.FileMode) (file, error) {
	return open(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, perm)
}

func (osDisk) OpenAppend(name string) (file, error) {
	if err := ordinary(name); err != nil {
		return nil, err
	}
	return open(name, os.O_APPEND|os.O_WRONLY, 0)
}

func open(name string, flag int, perm fs.FileMode) (file, error) {
	f, err := os.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err // not a nil *os.File in an interface
	}
	return osFile{f}, nil
}

func (osDisk) Mkdir(name string, perm fs.FileMode, like fs.FileInfo) error {
	if err := os.Mkdir(name, perm); err != nil {
		return err
	}
	hide(name)
	if like == nil {
		return nil
	}
	takeOwner(func(uid, gid int) error { return os.Lchown(name, uid, gid) }, like)
	info, err := os.Lstat(name)
	if err != nil || info.Mode().Perm() == perm {
		return err
	}
	return os.Chmod(name, perm|info.Mode()&fs.ModeSetgid) // the umask had its say
}

type osFile struct{ *os.File }

func (f osFile) Like(like fs.FileInfo) error {
	takeOwner(f.Chown, like)
	want := like.Mode().Perm()
	// Disks without modes of their own refuse a change even to what they show.
	if info, err := f.Stat(); err == nil && info.Mode().Perm() == want {
		return nil
	}
	return f.Chmod(want)
}

// writeFull writes all of data in one call. A file that takes less and says
// nothing has failed as well.
func writeFull(w io.Writer, data []byte) error {
	n, err := w.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	return err
}

// firstError runs every step of a clean-up and returns what failed first.
func firstError(steps ...func() error) error {
	var first error
	for _, step := range steps {
		if err := step(); err != nil && first == nil {
			first = err
		}
	}
	return first
}

func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
