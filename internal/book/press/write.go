// Package press makes what is printed of a build file and puts it into a folder: the
// book, the bench sheet, templates, with the earlier states of the file. Whoever asks is
// told how far it is and may end it, and then nothing is left half-made.
package press

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"fitup/internal/book"
)

// writeAll writes files into a folder, all of them or none: each is written
// under a name of its own beside its place first, and only when all are on the
// disk do they take their places. Should one not, those before
// it are put back as they were. Folders that it made are gone again when it fails.
func writeAll(ctx context.Context, dir string, files []book.Output, at func(done int)) (err error) {
	var made, waiting []string
	defer func() {
		if err == nil {
			return
		}
		for _, f := range waiting {
			err = errors.Join(err, gone(os.Remove(f)))
		}
		for _, d := range slices.Backward(made) {
			err = errors.Join(err, gone(os.Remove(d)))
		}
	}()
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, f := range files {
		m, err := makeFolders(filepath.Dir(filepath.Join(dir, filepath.FromSlash(f.Name))))
		made = append(made, m...)
		if err != nil {
			return err
		}
	}
	for i, f := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		at(i)
		name, err := writeBeside(filepath.Join(dir, filepath.FromSlash(f.Name)), f.Data)
		if name != "" {
			waiting = append(waiting, name)
		}
		if err != nil {
			return err
		}
	}
	for _, f := range files { // the one thing that a file cannot take the place of
		to := filepath.Join(dir, filepath.FromSlash(f.Name))
		if st, err := os.Lstat(to); err == nil && st.IsDir() {
			return fmt.Errorf("%s is a folder, and a file is to stand there; nothing was left half-made", to)
		}
	}
	var undo []func() error
	for i, f := range files {
		back, err := takePlace(waiting[i], filepath.Join(dir, filepath.FromSlash(f.Name)))
		if back != nil {
			undo = append(undo, back)
		}
		if err != nil {
			for _, u := range slices.Backward(undo) {
				err = errors.Join(err, u())
			}
			return err
		}
	}
	return dropOld(dir, files)
}

// oldMark is behind the name of a file that another one has taken the place of,
// until all have.
const oldMark = ".fitup-old"

// takePlace moves a file to where it belongs, and keeps what was there beside
// it; back undoes it.
func takePlace(from, to string) (back func() error, err error) {
	old := to + oldMark
	err = os.Rename(to, old)
	had := err == nil
	if gone(err) != nil {
		return nil, plainPath(err)
	}
	back = func() error {
		if had {
			return os.Rename(old, to)
		}
		return gone(os.Remove(to))
	}
	if err := os.Rename(from, to); err != nil {
		return back, plainPath(err)
	}
	return back, nil
}

// dropOld removes what was kept of the files before.
func dropOld(dir string, files []book.Output) error {
	for _, f := range files {
		if err := gone(os.Remove(filepath.Join(dir, filepath.FromSlash(f.Name)) + oldMark)); err != nil {
			return plainPath(err)
		}
	}
	return nil
}

// gone is err, unless it says that something is not there any more.
func gone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// makeFolders makes a folder and those above it, and returns those that were not
// there, the uppermost first.
func makeFolders(dir string) (made []string, err error) {
	st, err := os.Stat(dir)
	switch {
	case err == nil && st.IsDir():
		return nil, nil
	case err == nil:
		return nil, fmt.Errorf("%s is a file, and a folder is wanted there; name another", dir)
	case !errors.Is(err, fs.ErrNotExist):
		return nil, plainPath(err)
	}
	if up := filepath.Dir(dir); up != dir {
		if made, err = makeFolders(up); err != nil {
			return made, err
		}
	}
	if err := os.Mkdir(dir, 0o777); err != nil {
		return made, plainPath(err)
	}
	return append(made, dir), nil
}

// writeBeside writes data under a name of its own beside path, down to the disk.
func writeBeside(path string, data []byte) (name string, err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".fitup-*")
	if err != nil {
		return "", plainPath(err)
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return f.Name(), plainPath(err)
	}
	return f.Name(), nil
}

// plainPath says what the system says of a path in the order of our errors.
func plainPath(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return fmt.Errorf("%s cannot be written: %w; nothing was left half-made", p.Path, p.Err)
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return fmt.Errorf("%s cannot be written: %w; nothing was left half-made", l.New, l.Err)
	}
	return err
}
