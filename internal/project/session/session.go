// Package session is one sitting with one build file: the history of its
// states, the journal of what is not saved yet, and saving without ever
// overwriting somebody else's work.
package session

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
)

// Session is an open build file. It is used by one goroutine.
type Session struct {
	path    string
	hist    *edit.History
	disk    [sha256.Size]byte // of the text last read from or written to disk
	src     []byte            // that text
	base    *project.File     // what that text says
	journal *keep.Journal     // nil when there can be none
	now     func() time.Time
	warning error

	lock      *keep.Lock   // nil when another has it, or there can be none
	holder    *keep.Holder // who else has the file open on this computer
	elsewhere *keep.Holder // who may have it open on another
	looking   bool         // nothing may be changed here
	waiting   bool         // leftover work has not been answered yet
}

// Open loads the file at path and looks for unsaved work left over from an
// earlier sitting. now is the clock, for the journal. A journal that cannot be
// opened does not keep the file closed: see Warning.
func Open(path string, now func() time.Time) (*Session, *Leftover, error) {
	s := &Session{path: path, now: now}
	if err := s.load(); err != nil {
		return nil, nil, err
	}
	left := s.openJournal()
	return s, left, nil
}

// load takes the file as it is on disk, with the undo steps that lead to it.
func (s *Session) load() error {
	src, err := project.Read(s.path)
	if err != nil {
		return err
	}
	f, err := project.Parse(s.path, src)
	if err != nil {
		return err
	}
	s.hist, s.disk, s.src, s.base = edit.NewHistory(f), sha256.Sum256(src), src, f
	if steps, err := keep.ReadUndo(s.path); err == nil && len(steps) > 0 {
		s.hist.Resume(steps)
	}
	return nil
}

// From is the older format that the file on disk is in, 0 when it is of today's.
// The next save writes today's.
func (s *Session) From() int64 { return s.base.From }

// Warning says what the user should know about this sitting, or nil.
func (s *Session) Warning() error { return s.warning }

// Path returns the file's path as it was given.
func (s *Session) Path() string { return s.path }

// Clock returns the time of day as this session knows it.
func (s *Session) Clock() time.Time { return s.now() }

// Now returns the present state of the build file.
func (s *Session) Now() *project.File { return s.hist.Now() }

// Unsaved reports whether the present state differs from the one on disk.
func (s *Session) Unsaved() bool {
	return s.hist.Unsaved() && !bytes.Equal(s.Now().Bytes(), s.base.Bytes())
}

// Depth returns how many steps can be undone and redone.
func (s *Session) Depth() (undo, redo int) { return s.hist.Depth() }

// Do applies edits and writes them to the journal. A journal that cannot be
// written does not undo the edit: the error then is a *JournalError.
func (s *Session) Do(label string, edits ...edit.Edit) error {
	if s.looking {
		return ErrLooking
	}
	before := s.hist.Now()
	edits, err := edit.WithPlaces(before, edits)
	if err != nil {
		return err
	}
	if err := s.hist.Do(label, edits...); err != nil {
		return err
	}
	if s.hist.Now() == before {
		return nil
	}
	return s.note(keep.OpDo, label, edits)
}

// Undo steps back; the label says what was undone.
func (s *Session) Undo() (string, bool, error) { return s.rewind(keep.OpUndo, s.hist.Undo) }

// Redo steps forward again.
func (s *Session) Redo() (string, bool, error) { return s.rewind(keep.OpRedo, s.hist.Redo) }

// rewind steps through the history. The journal notes what that did to the
// text, because a step can reach behind the last save, where the journal
// begins.
func (s *Session) rewind(op string, step func() (string, bool)) (string, bool, error) {
	if s.looking {
		return "", false, nil
	}
	before := s.Now()
	label, ok := step()
	if !ok {
		return "", false, nil
	}
	return label, true, s.note(op, label, []edit.Edit{edit.Splice(before, s.Now())})
}

// JournalError says that an edit stands but could not be written to the
// journal, so that a crash before the next save would lose it.
type JournalError struct{ Err error }

func (e *JournalError) Error() string {
	return "not safe from a crash yet: " + e.Err.Error()
}

// Unwrap returns the cause.
func (e *JournalError) Unwrap() error { return e.Err }

func (s *Session) note(op, label string, edits []edit.Edit) error {
	if s.journal == nil {
		return nil
	}
	if s.journal.Lost() {
		return s.heal()
	}
	raw, err := json.Marshal(edits)
	if err != nil {
		return &JournalError{err}
	}
	e := keep.Entry{Time: s.now(), Op: op, Label: label, Edits: raw, After: textSum(s.Now())}
	if err := s.journal.Append(e); err != nil {
		return &JournalError{err}
	}
	return nil
}

func textSum(f *project.File) string {
	sum := sha256.Sum256(f.Bytes())
	return hex.EncodeToString(sum[:])
}

// Sync waits until the disk holds every journalled edit.
func (s *Session) Sync() error {
	if s.journal == nil {
		return nil
	}
	return s.journal.Sync()
}

// Save writes the present state to disk. keep.ErrChangedOutside is behind the
// error when the file on disk is no longer what this session read or wrote;
// nothing is written then, unless force is set. With a *JournalError or
// keep.ErrUnconfirmed the file is written all the same.
func (s *Session) Save(force bool) error {
	if s.looking {
		return ErrLooking
	}
	f := s.hist.Now()
	next := sha256.Sum256(f.Bytes())
	opt := keep.Options{Expect: &s.disk}
	if force {
		opt.Expect = nil
	}
	if s.journal != nil {
		// Should the note fail, a crash during the save offers work that is
		// saved already: a nuisance and no loss, so the save goes on.
		_ = s.journal.Saving(next)
	}
	err := keep.Save(s.path, f.Bytes(), opt)
	if err != nil && !errors.Is(err, keep.ErrUnconfirmed) {
		return err
	}
	s.disk, s.src, s.base = next, f.Bytes(), f
	if f.From != 0 { // it is today's on disk now
		now := *f
		now.From = 0
		s.base = &now
	}
	s.hist.MarkSaved(f)
	s.keepUndo()
	if rerr := s.reset(); rerr != nil && err == nil {
		err = rerr
	}
	return err
}

// keepUndo writes the undo steps beside the file. They are a comfort: what
// cannot be kept is not worth a word.
func (s *Session) keepUndo() {
	if steps, err := s.hist.Trail(); err == nil {
		_ = keep.WriteUndo(s.path, steps)
	}
}

// reset starts an empty journal for the text on disk.
func (s *Session) reset() error {
	if s.journal == nil {
		return nil
	}
	s.journal.Holds(s.src)
	if err := s.journal.Reset(s.disk); err != nil {
		return &JournalError{err}
	}
	return nil
}

// ChangedOutside reports whether the file on disk differs from what this
// session last read or wrote.
func (s *Session) ChangedOutside() bool {
	src, err := project.Read(s.path)
	if err != nil {
		return !exists(s.path)
	}
	return sha256.Sum256(src) != s.disk
}

// Reload takes the file as it is on disk now. What is not saved becomes an
// earlier state of the file; when it cannot, nothing is done.
func (s *Session) Reload() error {
	if _, err := project.Load(s.path); err != nil {
		return err
	}
	if err := s.keepDropped(); err != nil {
		return err
	}
	if err := s.load(); err != nil {
		return err
	}
	return s.reset()
}

// Close ends the sitting and gives the lock back. The journal stays where there
// is unsaved work, of this sitting or of one before that has not been answered.
func (s *Session) Close() error {
	var err error
	if s.journal != nil {
		if !s.Unsaved() && !s.waiting {
			err = s.journal.Discard()
		}
		if cerr := s.journal.Close(); err == nil {
			err = cerr
		}
	}
	if lerr := s.lock.Release(); err == nil {
		err = lerr
	}
	return err
}
