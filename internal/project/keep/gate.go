package keep

import (
	"crypto/sha256"
	"errors"
	"io/fs"
)

// Gate is asked before each step on the disk, by what is done and to which name.
// It can keep that step waiting, and its error is the step's: so tests have a
// disk that hangs or fails. The nil Gate lets everything pass.
type Gate func(step, name string) error

// ErrNoWait as a gate's error at a "sync" leaves the wait for the disk out, for
// tests of anything but a power cut.
var ErrNoWait = errors.New("the disk is not waited for")

// Pass asks the gate, if there is one.
func (g Gate) Pass(step, name string) error {
	if g == nil {
		return nil
	}
	return g(step, name)
}

func (g Gate) disk() disk {
	if g == nil {
		return osDisk{}
	}
	return gated{osDisk{}, g}
}

// Save is the function of that name behind the gate.
func (g Gate) Save(path string, data []byte, opt Options) error {
	return save(g.disk(), path, data, opt)
}

// Open is the function of that name behind the gate.
func (g Gate) Open(path string, base [sha256.Size]byte) (*Journal, *Leftover, error) {
	return openOn(g.disk(), path, base)
}

// gated is a disk behind a gate.
type gated struct {
	disk
	gate Gate
}

func (d gated) Lstat(name string) (fs.FileInfo, error) {
	if err := d.gate("look", name); err != nil {
		return nil, err
	}
	return d.disk.Lstat(name)
}

func (d gated) ReadFile(name string) ([]byte, error) {
	if err := d.gate("read", name); err != nil {
		return nil, err
	}
	return d.disk.ReadFile(name)
}

func (d gated) Create(name string, perm fs.FileMode) (file, error) {
	if err := d.gate("create", name); err != nil {
		return nil, err
	}
	f, err := d.disk.Create(name, perm)
	return d.through(f, name, err)
}

func (d gated) OpenAppend(name string) (file, error) {
	if err := d.gate("open", name); err != nil {
		return nil, err
	}
	f, err := d.disk.OpenAppend(name)
	return d.through(f, name, err)
}

func (d gated) Rename(from, to string) error {
	if err := d.gate("rename", to); err != nil {
		return err
	}
	return d.disk.Rename(from, to)
}

func (d gated) Remove(name string) error {
	if err := d.gate("remove", name); err != nil {
		return err
	}
	return d.disk.Remove(name)
}

func (d gated) SyncDir(name string) error {
	return synced(d.gate("sync", name), func() error { return d.disk.SyncDir(name) })
}

func (d gated) through(f file, name string, err error) (file, error) {
	if err != nil {
		return nil, err
	}
	return gatedFile{f, d.gate, name}, nil
}

type gatedFile struct {
	file
	gate Gate
	name string
}

func (f gatedFile) Write(b []byte) (int, error) {
	if err := f.gate("write", f.name); err != nil {
		return 0, err
	}
	return f.file.Write(b)
}

func (f gatedFile) Sync() error {
	return synced(f.gate("sync", f.name), f.file.Sync)
}

func synced(err error, sync func() error) error {
	switch {
	case errors.Is(err, ErrNoWait):
		return nil
	case err != nil:
		return err
	}
	return sync()
}
