//go:build unix

package keep

import (
	"io/fs"
	"slices"
)

// badDisk is the real disk with one call, or from one call on every call of its
// kind, going wrong.
type badDisk struct {
	osDisk
	calls  []string // the kinds of the calls so far
	failAt int      // 1-based; 0 never
	stays  bool     // every later call of the same kind fails as well
	half   bool     // a failing write puts half of its bytes on disk
	silent bool     // and says nothing about it
	err    error
	before func(call string) // runs before every call
}

// fails counts a call and reports whether it is to go wrong.
func (d *badDisk) fails(kind string) bool {
	if d.before != nil {
		d.before(kind)
	}
	d.calls = append(d.calls, kind)
	if d.failAt == 0 || len(d.calls) < d.failAt {
		return false
	}
	return len(d.calls) == d.failAt || d.stays && kind == d.calls[d.failAt-1]
}

// failed is the kind of call that went wrong, "" when none did.
func (d *badDisk) failed() string {
	if d.failAt == 0 || len(d.calls) < d.failAt {
		return ""
	}
	return d.calls[d.failAt-1]
}

func call[T any](d *badDisk, kind string, do func() (T, error)) (T, error) {
	if d.fails(kind) {
		var none T
		return none, &fs.PathError{Op: kind, Path: "somewhere", Err: d.err}
	}
	return do()
}

func act(d *badDisk, kind string, do func() error) error {
	_, err := call(d, kind, func() (struct{}, error) { return struct{}{}, do() })
	return err
}

func (d *badDisk) Lstat(n string) (fs.FileInfo, error) {
	return call(d, "lstat", func() (fs.FileInfo, error) { return d.osDisk.Lstat(n) })
}
func (d *badDisk) ReadFile(n string) ([]byte, error) {
	return call(d, "read", func() ([]byte, error) { return d.osDisk.ReadFile(n) })
}
func (d *badDisk) ReadDir(n string) ([]fs.DirEntry, error) {
	return call(d, "readdir", func() ([]fs.DirEntry, error) { return d.osDisk.ReadDir(n) })
}
func (d *badDisk) TryWrite(n string) error {
	return act(d, "trywrite", func() error { return d.osDisk.TryWrite(n) })
}
func (d *badDisk) Create(n string, perm fs.FileMode) (file, error) {
	return d.wrap("create", func() (file, error) { return d.osDisk.Create(n, perm) })
}
func (d *badDisk) OpenAppend(n string) (file, error) {
	return d.wrap("openappend", func() (file, error) { return d.osDisk.OpenAppend(n) })
}
func (d *badDisk) Truncate(n string, size int64) error {
	return act(d, "truncate", func() error { return d.osDisk.Truncate(n, size) })
}
func (d *badDisk) Mkdir(n string, perm fs.FileMode, like fs.FileInfo) error {
	return act(d, "mkdir", func() error { return d.osDisk.Mkdir(n, perm, like) })
}
func (d *badDisk) Rename(from, to string) error {
	return act(d, "rename", func() error { return d.osDisk.Rename(from, to) })
}
func (d *badDisk) Link(from, to string) error {
	return act(d, "link", func() error { return d.osDisk.Link(from, to) })
}
func (d *badDisk) Remove(n string) error {
	return act(d, "remove", func() error { return d.osDisk.Remove(n) })
}
func (d *badDisk) SyncDir(n string) error {
	return act(d, "syncdir", func() error { return d.osDisk.SyncDir(n) })
}

func (d *badDisk) wrap(kind string, open func() (file, error)) (file, error) {
	f, err := call(d, kind, open)
	if err != nil {
		return nil, err
	}
	return badFile{file: f, d: d}, nil
}

type badFile struct {
	file
	d *badDisk
}

func (f badFile) Write(p []byte) (int, error) {
	if !f.d.fails("write") {
		return f.file.Write(p)
	}
	n := 0
	if f.d.half {
		n, _ = f.file.Write(p[:len(p)/2])
	}
	if f.d.silent {
		return n, nil
	}
	return n, &fs.PathError{Op: "write", Path: "somewhere", Err: f.d.err}
}
func (f badFile) Sync() error { return act(f.d, "sync", f.file.Sync) }
func (f badFile) Like(info fs.FileInfo) error {
	return act(f.d, "like", func() error { return f.file.Like(info) })
}

// Close closes whatever it says.
func (f badFile) Close() error {
	err := f.file.Close()
	return act(f.d, "close", func() error { return err })
}

func kinds(calls []string) []string {
	return slices.Compact(slices.Sorted(slices.Values(calls)))
}
