package session

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
)

// Changed is what Change did.
type Changed struct {
	Before, After *project.File
	// Holder is another program that has the file open. It takes the change in
	// by itself.
	Holder *keep.Holder
	// Leftover is how many edits of an earlier sitting still wait to be taken
	// up or dropped.
	Leftover int
	// Warning: the file is written, but something about it is not as it should
	// be.
	Warning error
}

// changeTries is more than the programs that can be at one file at a time: each
// time one is refused, another has got its change in.
const changeTries = 64

// Change makes edits to the file at path in one go, for programs without a
// screen: as one step that can be undone in the next sitting, and never over
// what somebody else has written. edits is asked again when somebody did.
func Change(path string, now func() time.Time, label string, edits func(*project.File) ([]edit.Edit, error)) (*Changed, error) {
	s := &Session{path: path, now: now}
	lock, who, err := keep.TakeLock(path, now())
	if err == nil && lock == nil {
		s.holder = who
	}
	defer func() { _ = lock.Release() }()
	for try := 1; ; try++ {
		done, err := s.change(label, edits)
		if err == nil || try == changeTries || !errors.Is(err, keep.ErrChangedOutside) {
			return done, err
		}
	}
}

func (s *Session) change(label string, edits func(*project.File) ([]edit.Edit, error)) (*Changed, error) {
	if err := s.load(); err != nil {
		return nil, err
	}
	done := &Changed{Before: s.Now(), Holder: s.holder}
	if s.holder == nil {
		done.Leftover = s.leftover()
	}
	list, err := edits(s.Now())
	if err != nil {
		return nil, err
	}
	if list, err = edit.WithPlaces(s.Now(), list); err == nil {
		err = s.hist.Do(label, list...)
	}
	if err != nil {
		return nil, &EditError{err}
	}
	done.After = s.Now()
	if !s.hist.Unsaved() && s.From() == 0 {
		return done, nil
	}
	if n := s.Names(); n > 1 {
		return nil, &NamesError{n}
	}
	err = keep.Save(s.path, done.After.Bytes(), keep.Options{Expect: &s.disk})
	if err != nil && !errors.Is(err, keep.ErrUnconfirmed) {
		return nil, err
	}
	done.Warning = err
	s.disk = sha256.Sum256(done.After.Bytes())
	s.keepUndo()
	return done, nil
}

// NamesError says that the file has other names on the disk (hard links), which
// a save would leave with the old text; nothing was written.
type NamesError struct{ Names int }

func (e *NamesError) Error() string {
	return fmt.Sprintf("this file has %d names on the disk (hard links), and a save would leave the others with the old text; nothing was written: save on the bench, which asks, or write a new file", e.Names)
}

// EditError says that an edit does not make a build file; nothing was written.
type EditError struct{ Err error }

func (e *EditError) Error() string { return e.Err.Error() }

// Unwrap returns the cause.
func (e *EditError) Unwrap() error { return e.Err }

// leftover counts the edits that an earlier sitting left, and leaves them.
func (s *Session) leftover() int {
	j, left, err := keep.Open(s.path, s.disk)
	if err != nil {
		return 0
	}
	defer func() { _ = j.Close() }()
	if left == nil {
		return 0
	}
	return len(left.Entries)
}
