package keep

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

const (
	beforeName  = "before"
	journalName = "journal"
	newFileMode = fs.FileMode(0o644)
	maxLinks    = 40 // as many as Linux follows
)

// sidecar is the hidden folder of a file.
func sidecar(target string) string {
	dir, name := filepath.Split(target)
	return filepath.Join(dir, "."+name+".fitup")
}

// locate follows symbolic links, also one that leads to a file that is not
// there yet, and returns an absolute path.
func locate(path string) (string, error) {
	if path == "" {
		return "", fs.ErrNotExist
	}
	if os.IsPathSeparator(path[len(path)-1]) {
		return "", errIsFolder
	}
	at, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	for range maxLinks {
		dir, err := filepath.EvalSymlinks(filepath.Dir(at))
		if err != nil {
			return "", err
		}
		at = filepath.Join(dir, filepath.Base(at))
		info, err := os.Lstat(at)
		if errors.Is(err, fs.ErrNotExist) {
			return at, nil
		}
		if err != nil {
			return "", err
		}
		if info.Mode()&fs.ModeSymlink == 0 {
			return at, nil
		}
		to, err := os.Readlink(at)
		if err != nil {
			return "", err
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(dir, to)
		}
		at = to
	}
	return "", errManyLinks
}

// makeSidecar makes sure that the hidden folder is there. like is the file it
// belongs to, nil when that does not exist yet.
func makeSidecar(d disk, target string, like fs.FileInfo) (string, error) {
	dir := sidecar(target)
	mode := newFileMode
	if like != nil {
		mode = like.Mode().Perm()
	}
	err := d.Mkdir(dir, folderMode(mode), like)
	if err == nil || !errors.Is(err, fs.ErrExist) {
		return dir, err
	}
	info, err := d.Lstat(dir)
	if err != nil {
		return "", err
	}
	if !info.IsDir() { // a link as well: it could lead anywhere
		return "", errInTheWay
	}
	if like != nil {
		tighten(dir, info, mode)
	}
	return dir, nil
}

// tighten takes from the hidden folder, and from what lies in it, every right
// that the file no longer gives. Rights that it gives anew are left to the
// person. It is tried and no more: no save is refused for it, so it does not go
// through a disk.
func tighten(dir string, info fs.FileInfo, file fs.FileMode) {
	if wide := info.Mode().Perm() &^ folderMode(file); wide != 0 {
		_ = os.Chmod(dir, info.Mode().Perm()&^wide|info.Mode()&fs.ModeSetgid)
	}
	if file&0o077 == 0o077 {
		return
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		name := filepath.Join(dir, e.Name())
		if one, err := os.Lstat(name); err == nil && one.Mode().IsRegular() {
			if wide := one.Mode().Perm() &^ (file | 0o600); wide != 0 {
				_ = os.Chmod(name, one.Mode().Perm()&^wide)
			}
		}
	}
}

// folderMode lets those list a folder who may read the file, and those write in
// it who may write the file.
func folderMode(file fs.FileMode) fs.FileMode {
	mode := fs.FileMode(0o700)
	for _, shift := range []int{0, 3} {
		if file>>shift&0o4 != 0 {
			mode |= 0o5 << shift
		}
		if file>>shift&0o2 != 0 {
			mode |= 0o3 << shift
		}
	}
	return mode
}

func tempPrefix(target string) string { return "." + filepath.Base(target) + ".fitup-" }

const (
	tempSuffix = ".tmp"
	tempRandom = 8 // hex digits between prefix and suffix
)

// writeTemp writes a complete file beside target and returns its name. On an
// error no file is left.
func writeTemp(d disk, target string, data []byte, like fs.FileInfo, sync bool) (string, error) {
	var random [tempRandom / 2]byte
	_, _ = rand.Read(random[:]) // never fails, by its documentation
	name := filepath.Join(filepath.Dir(target), tempPrefix(target)+hex.EncodeToString(random[:])+tempSuffix)
	mode := newFileMode
	if like != nil {
		mode = 0o600 // until it has its owner, nobody else is to read it
	}
	f, err := d.Create(name, mode)
	if err != nil {
		return "", err
	}
	err = fill(f, data, like, sync)
	if err = firstError(func() error { return err }, f.Close); err != nil {
		_ = d.Remove(name)
		return "", err
	}
	return name, nil
}

func fill(f file, data []byte, like fs.FileInfo, sync bool) error {
	if err := writeFull(f, data); err != nil {
		return err
	}
	if like != nil {
		if err := f.Like(like); err != nil {
			return err
		}
	}
	if !sync {
		return nil
	}
	return f.Sync()
}

// writeWhole replaces a file in the hidden folder, all of it or nothing. The
// new name is not durable before the folder is synced, which is left to the
// caller.
func writeWhole(d disk, name string, data []byte, like fs.FileInfo, sync bool) error {
	tmp, err := writeTemp(d, name, data, like, sync)
	if err != nil {
		return err
	}
	if err := d.Rename(tmp, name); err != nil {
		_ = d.Remove(tmp)
		return err
	}
	sweep(d, name)
	return nil
}

// sweep removes what killed runs left beside target. Should another program be
// saving just now, its save fails and leaves the file as it was.
func sweep(d disk, target string) {
	dir, prefix := filepath.Dir(target), tempPrefix(target)
	entries, err := d.ReadDir(dir)
	if err != nil {
		return // an untidy folder is no reason to fail a save
	}
	for _, e := range entries {
		middle, ok := strings.CutPrefix(e.Name(), prefix)
		if !ok || !e.Type().IsRegular() {
			continue
		}
		random, ok := strings.CutSuffix(middle, tempSuffix)
		if _, err := hex.DecodeString(random); ok && err == nil && len(random) == tempRandom {
			_ = d.Remove(filepath.Join(dir, e.Name()))
		}
	}
}
