//go:build unix

package keep

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	oldText = "old text, all of it\n"
	newText = "new text, rather longer than the old one\n"
	older   = "the text before the old one\n"
)

type situation struct {
	name           string
	exists, before bool
	opt            Options
}

var situations = []situation{
	{"new", false, false, Options{}},
	{"must be new", false, false, Options{New: true}},
	{"first replacement", true, false, Options{}},
	{"later replacement", true, true, Options{Expect: sum(oldText)}},
}

func (s situation) set(t *testing.T) (dir, name string) {
	dir = t.TempDir()
	name = filepath.Join(dir, "build.toml")
	if s.exists {
		write(t, name, oldText, 0o640)
	}
	if s.before {
		require.NoError(t, os.Mkdir(sidecar(name), 0o755))
		write(t, filepath.Join(sidecar(name), beforeName), older, 0o640)
	}
	return dir, name
}

// Every single call of a save is made to fail, once and from then on, with every
// kind of error.
func TestSaveSurvivesEveryFailure(t *testing.T) {
	shapes := []badDisk{
		{err: syscall.EIO}, {err: syscall.ENOSPC}, {err: syscall.EDQUOT}, {err: syscall.EACCES}, {err: syscall.EROFS},
		{err: syscall.ENOSPC, half: true}, {err: io.ErrShortWrite, half: true, silent: true},
		{err: syscall.EIO, stays: true}, {err: syscall.ENOSPC, half: true, stays: true},
	}
	for _, s := range situations {
		t.Run(s.name, func(t *testing.T) {
			_, name := s.set(t)
			good := &badDisk{}
			require.NoError(t, save(good, name, []byte(newText), s.opt))
			for _, must := range []string{"create", "write", "sync", "close", "syncdir"} {
				require.Contains(t, kinds(good.calls), must)
			}
			for at := 1; at <= len(good.calls); at++ {
				for _, shape := range shapes {
					if shape.half && good.calls[at-1] != "write" {
						continue // only a write can be done by halves
					}
					d := shape
					d.failAt = at
					t.Run(fmt.Sprintf("%d %s %v half=%v stays=%v", at, good.calls[at-1], d.err, d.half, d.stays), func(t *testing.T) {
						s.check(t, &d)
					})
				}
			}
		})
	}
}

func (s situation) check(t *testing.T, d *badDisk) {
	dir, name := s.set(t)
	err := save(d, name, []byte(newText), s.opt)
	require.NotEmpty(t, d.failed(), "the failure must come to pass")

	saved := err == nil || errors.Is(err, ErrUnconfirmed)
	want := oldText
	if saved {
		want = newText
	}
	if saved || s.exists {
		assert.Equal(t, want, read(t, name))
	} else {
		assert.NoFileExists(t, name)
	}
	if s.exists {
		info, err := os.Stat(name)
		require.NoError(t, err)
		assert.Equal(t, fs.FileMode(0o640), info.Mode().Perm())
	}
	if err != nil {
		assert.ErrorIs(t, err, d.err)
		assert.Equal(t, !saved, strings.HasSuffix(err.Error(), "; nothing was changed"), err.Error())
	}
	// Clearing away and the test for links are the only things a save can do
	// without.
	if err == nil {
		assert.Contains(t, []string{"remove", "readdir", "link"}, d.failed())
	}
	s.checkBefore(t, name, saved)
	if d.failed() != "remove" {
		assert.Empty(t, temps(t, dir))
	}

	// Whatever it was, the next save works and leaves nothing lying about.
	opt := s.opt
	opt.New = opt.New && !saved
	if opt.Expect != nil {
		opt.Expect = sum(want)
	}
	require.NoError(t, Save(name, []byte("last"), opt))
	assert.Equal(t, "last", read(t, name))
	assert.Empty(t, temps(t, dir))
}

func (s situation) checkBefore(t *testing.T, name string, saved bool) {
	before, err := Before(name)
	switch {
	case !s.exists:
		require.ErrorIs(t, err, fs.ErrNotExist)
	case saved:
		require.NoError(t, err)
		assert.Equal(t, oldText, string(before))
	case s.before:
		require.NoError(t, err)
		assert.Contains(t, []string{older, oldText}, string(before))
	case err == nil:
		assert.Equal(t, oldText, string(before))
	default:
		require.ErrorIs(t, err, fs.ErrNotExist)
	}
}

// Somebody writes, deletes or makes the file while a save is under way.
func TestSaveNoticesOthers(t *testing.T) {
	tests := []struct {
		name   string
		exists bool
		opt    Options
		call   string // just before which it happens
		do     func(name string) error
		is     error
		left   string
	}{
		{"changed during the save", true, Options{Expect: sum(oldText)}, "mkdir",
			func(n string) error { return os.WriteFile(n, []byte("theirs"), 0o644) }, ErrChangedOutside, "theirs"},
		{"deleted during the save", true, Options{Expect: sum(oldText)}, "mkdir",
			os.Remove, fs.ErrNotExist, ""},
		{"made during the save", false, Options{New: true}, "link",
			func(n string) error { return os.WriteFile(n, []byte("theirs"), 0o644) }, ErrExists, "theirs"},
		{"made during a save that expected nothing", false, Options{}, "link",
			func(n string) error { return os.WriteFile(n, []byte("theirs"), 0o644) }, ErrChangedOutside, "theirs"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir, name := situation{exists: tt.exists}.set(t)
			done := false
			d := &badDisk{before: func(call string) {
				if call == tt.call && !done {
					done = true
					require.NoError(t, tt.do(name))
				}
			}}
			require.ErrorIs(t, save(d, name, []byte(newText), tt.opt), tt.is)
			require.True(t, done)
			if tt.left == "" {
				assert.NoFileExists(t, name)
			} else {
				assert.Equal(t, tt.left, read(t, name))
			}
			assert.Empty(t, temps(t, dir))
		})
	}
}

// A file that only its owner may read is at no moment open to others.
func TestSaveOfPrivateFile(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "build.toml")
	write(t, name, oldText, 0o600)
	seen := 0
	d := &badDisk{before: func(string) {
		for _, tmp := range temps(t, dir) {
			info, err := os.Stat(tmp)
			require.NoError(t, err)
			assert.Zero(t, info.Mode().Perm()&0o077)
			seen++
		}
	}}
	require.NoError(t, save(d, name, []byte(newText), Options{}))
	assert.Positive(t, seen)
}

// A disk without hard links.
func TestSaveNewWithoutLinks(t *testing.T) {
	dir, name := situation{}.set(t)
	d := &badDisk{}
	require.NoError(t, save(d, name, []byte(newText), Options{New: true}))
	for i, c := range d.calls {
		if c == "link" {
			require.NoError(t, os.Remove(name))
			require.NoError(t, save(&badDisk{failAt: i + 1, err: syscall.EPERM}, name, []byte(newText), Options{New: true}))
		}
	}
	assert.Equal(t, newText, read(t, name))
	assert.Empty(t, temps(t, dir))
}

func TestSentences(t *testing.T) {
	s := spot{path: "build.toml", target: "/shop/build.toml"}
	tests := []struct {
		at   where
		err  error
		want string
	}{
		{inFolder, syscall.ENOSPC, "build.toml is not saved: the disk is full; free some space, then try again; nothing was changed"},
		{inSidecar, syscall.EDQUOT, "build.toml is not saved: your share of the disk is used up; free some space, then try again; nothing was changed"},
		{inFolder, syscall.EROFS, "build.toml is not saved: the disk is read-only; use another disk, or make this one writable; nothing was changed"},
		{inFile, syscall.EACCES, "build.toml is not saved: the file is read-only; allow writing to it, or save under another name; nothing was changed"},
		{inFolder, syscall.EPERM, "build.toml is not saved: the folder /shop is read-only; allow writing to it, or save in another folder; nothing was changed"},
		{inSidecar, syscall.EACCES, "build.toml is not saved: the hidden folder /shop/.build.toml.fitup is read-only; allow writing to it, or save in another folder; nothing was changed"},
		{inFile, syscall.ETXTBSY, "build.toml is not saved: another program is holding the file; close it there, then try again; nothing was changed"},
		{inFile, syscall.ENOENT, "build.toml is not saved: it was moved or deleted just now; put it back, or save under another name; nothing was changed"},
		{inFolder, syscall.ENOENT, "build.toml is not saved: the folder /shop, or what was just written in it, is not there; check the path, then try again; nothing was changed"},
		{inFolder, &fs.PathError{Op: "write", Path: "x", Err: syscall.EIO}, `build.toml is not saved: the disk reports "input/output error"; check the disk, then try again; nothing was changed`},
	}
	for _, tt := range tests {
		err := s.notSaved(tt.at, tt.err)
		assert.Equal(t, tt.want, err.Error())
		assert.ErrorIs(t, err, tt.err)
	}
	assert.ErrorIs(t, s.unconfirmed(syscall.EIO), ErrUnconfirmed)
	assert.ErrorIs(t, s.notJournalled(syscall.ENOSPC), syscall.ENOSPC)
}
