// Package keep puts a build file on disk so that no crash, full disk or pulled
// plug can cost more than the edit under the finger, and keeps a journal of the
// edits since the last save.
//
// Beside the file, after symbolic links are followed, lies a hidden folder
// .NAME.fitup with
//
//	before         the file as it was before the last save
//	before.1       the file as it was before an earlier save; the highest number
//	               is the newest, and ten states are kept in all
//	journal        the edits since the last save
//	journal.old-1  edits of an earlier run that fit another state of the file
//	undo           the undo steps that lead to the saved text
//	dropped        which of the earlier states are work that was given up
//	turn           locked by whoever is saving
//	lock           who has the file open; it means something only while locked
//
// Whoever may write the file may write that folder: it takes its mode from the
// file. Hard links, access lists and extended attributes of the file are not
// carried over by a save, because a save puts a new file in the old one's place.
package keep

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"io/fs"
	"path/filepath"
	"time"
)

// What can stand behind an error of Save, for errors.Is. The causes that come
// from the system, such as syscall.ENOSPC and fs.ErrPermission, are found too.
var (
	// ErrChangedOutside: the file on disk is not what the caller last read or
	// wrote. With fs.ErrNotExist beside it, the file is gone.
	ErrChangedOutside = errors.New("changed by someone else")
	// ErrExists: a new file was asked for and there already is one.
	ErrExists = errors.New("already exists")
	// ErrUnconfirmed: the new text is in place, but the disk did not confirm
	// that the folder is written. Every other error leaves the old file.
	ErrUnconfirmed = errors.New("not confirmed by the disk")
)

// Options say what Save may assume about the file.
type Options struct {
	// Expect is the SHA-256 of the text the caller last read or wrote; nil to
	// overwrite whatever is there. A file that already holds the very text to
	// be saved is never refused. Ignored with New.
	Expect *[sha256.Size]byte
	// New refuses to replace a file.
	New bool
}

// Save makes data the content of the file at path, all of it or nothing: the
// name never stands for half a text. Symbolic links stay and the file they lead
// to is replaced. The previous text becomes the first earlier state (see States). Mode and,
// where permitted, owner are kept; a new file gets 0644 less the umask. The
// error is a plain sentence and, ErrUnconfirmed apart, means that the file is as
// it was.
func Save(path string, data []byte, opt Options) error {
	return save(osDisk{}, path, data, opt)
}

// Names returns how many hard links lead to the file at path, 1 when there is no
// such file or the disk does not tell. A save puts a new file in the place of
// the one under path, so the other names go on leading to the old text.
func Names(path string) int {
	target, err := locate(path)
	if err != nil {
		return 1
	}
	info, err := osDisk{}.Lstat(target)
	if err != nil || !info.Mode().IsRegular() {
		return 1
	}
	return names(info)
}

// state is what a save found on disk.
type state struct {
	info    fs.FileInfo
	written time.Time
	text    []byte
}

func save(d disk, path string, data []byte, opt Options) error {
	target, err := locate(path)
	at := spot{path: path, target: target}
	if err != nil {
		return at.notSaved(inFolder, err)
	}
	prev, err := look(d, at, data, opt)
	if err != nil {
		return err
	}
	if prev != nil && bytes.Equal(prev.text, data) {
		// Nothing to write, and the backup must not become a second copy of
		// the same text; but an earlier save may have gone unconfirmed.
		return confirm(d, at)
	}
	dir := ""
	if prev != nil {
		// Two programs of this kind take turns from here, so that between the
		// last look and the rename there is no room for another's text, and
		// neither clears away what the other is writing.
		var done func()
		if dir, done, err = takeTurn(d, target, prev.info); err != nil {
			return at.notSaved(inSidecar, err)
		}
		defer done()
		// Whoever had the turn before may have saved meanwhile.
		if prev, err = look(d, at, data, opt); err != nil {
			return err
		}
		if prev != nil && bytes.Equal(prev.text, data) {
			return confirm(d, at)
		}
	}
	tmp, err := writeTemp(d, target, data, like(prev), true)
	if err != nil {
		return at.notSaved(inFolder, err)
	}
	if err := replace(d, at, dir, tmp, prev, opt); err != nil {
		_ = d.Remove(tmp)
		return err
	}
	sweep(d, target)
	return confirm(d, at)
}

func like(prev *state) fs.FileInfo {
	if prev == nil {
		return nil
	}
	return prev.info
}

// look reads what is on disk and refuses, before anything is touched, what must
// not be replaced. The state is nil when there is no file.
func look(d disk, at spot, data []byte, opt Options) (*state, error) {
	info, err := d.Lstat(at.target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if opt.Expect != nil && !opt.New {
			return nil, at.notSaved(inFile, err, ErrChangedOutside)
		}
		return nil, nil
	case err != nil:
		return nil, at.notSaved(inFile, err)
	case info.IsDir():
		return nil, at.notSaved(inFile, errIsFolder)
	case !info.Mode().IsRegular():
		return nil, at.notSaved(inFile, errNotOrdinary)
	case opt.New:
		return nil, at.notSaved(inFile, ErrExists)
	case info.Mode().Perm()&0o222 == 0:
		// The folder would allow the replacement, and so would any file to
		// root; the owner of the file has said no.
		return nil, at.notSaved(inFile, fs.ErrPermission)
	}
	if err := d.TryWrite(at.target); err != nil {
		return nil, at.notSaved(inFile, err)
	}
	text, err := d.ReadFile(at.target)
	if err != nil {
		return nil, at.notSaved(inFile, err)
	}
	if opt.Expect != nil && sha256.Sum256(text) != *opt.Expect && !bytes.Equal(text, data) {
		return nil, at.notSaved(inFile, ErrChangedOutside)
	}
	return &state{info: info, written: info.ModTime(), text: text}, nil
}

// replace keeps the previous text and puts the finished temporary file in its
// place.
func replace(d disk, at spot, dir, tmp string, prev *state, opt Options) error {
	if prev == nil {
		return place(d, at, tmp, opt)
	}
	err := keepState(d, dir, prev)
	if err == nil {
		err = d.SyncDir(dir)
	}
	if err != nil {
		return at.notSaved(inSidecar, err)
	}
	if opt.Expect != nil {
		// Writing took a while; look once more, so that the gap in which
		// somebody else's text could be lost is as small as it gets.
		now, err := d.ReadFile(at.target)
		if err != nil {
			if errors.Is(err, fs.ErrNotExist) {
				return at.notSaved(inFile, err, ErrChangedOutside)
			}
			return at.notSaved(inFile, err)
		}
		if !bytes.Equal(now, prev.text) {
			return at.notSaved(inFile, ErrChangedOutside)
		}
	}
	if err := d.Rename(tmp, at.target); err != nil {
		return at.notSaved(inFolder, err)
	}
	return nil
}

// place gives the temporary file a name that nobody has yet. A hard link,
// unlike a rename, fails when somebody was faster; not every disk has them.
func place(d disk, at spot, tmp string, opt Options) error {
	taken := ErrChangedOutside
	if opt.New {
		taken = ErrExists
	}
	err := d.Link(tmp, at.target)
	if err == nil {
		_ = d.Remove(tmp)
		return nil
	}
	if errors.Is(err, fs.ErrExist) {
		return at.notSaved(inFile, taken)
	}
	if _, err := d.Lstat(at.target); err == nil {
		return at.notSaved(inFile, taken)
	}
	if err := d.Rename(tmp, at.target); err != nil {
		return at.notSaved(inFolder, err)
	}
	return nil
}

func confirm(d disk, at spot) error {
	if err := d.SyncDir(filepath.Dir(at.target)); err != nil {
		return at.unconfirmed(err)
	}
	return nil
}
