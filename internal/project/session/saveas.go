package session

import (
	"errors"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
)

// SaveAs writes the present state to a new file at path and goes on with that
// one. The file so far stays as it is on disk. A file of that name is never
// replaced: the error then answers to keep.ErrExists.
func (s *Session) SaveAs(path string) error {
	f := s.Now()
	err := s.gate.Save(path, f.Bytes(), keep.Options{New: true})
	if err != nil && !errors.Is(err, keep.ErrUnconfirmed) {
		return err
	}
	var was *keep.Journal
	if s.journal != nil { // what it holds is saved, under another name
		was = s.journal
		s.journal = nil
	}
	_ = s.lock.Release()
	s.lock, s.holder, s.elsewhere, s.looking, s.waiting, s.warning = nil, nil, nil, false, false, nil
	s.path = path
	if lock, _, lerr := keep.TakeLock(path, s.now()); lerr == nil {
		s.lock = lock
	}
	s.onDisk(f, s.hist.Mark())
	s.astray = false
	s.keepUndo()
	s.openJournal()
	if was != nil {
		if s.journal != nil {
			_ = s.journal.DraftAs(was) // the bench notes it again with the next key
		}
		_ = was.Discard()
		_ = was.Close()
	}
	return err
}

// Names is how many hard links lead to the file. A save parts them: only the one
// it was opened under gets the new text.
func (s *Session) Names() int {
	if s.gate.Pass("look", s.path) != nil {
		return 1
	}
	return keep.Names(s.path)
}

// ChangeInto is Change with the result in a new file at out; the file at path
// stays as it is. A file that is there already is never replaced.
func ChangeInto(path, out string, edits func(*project.File) ([]edit.Edit, error)) (*Changed, error) {
	f, err := project.Load(path)
	if err != nil {
		return nil, err
	}
	list, err := edits(f)
	if err != nil {
		return nil, err
	}
	after, err := edit.Apply(f, list...)
	if err != nil {
		return nil, &EditError{err}
	}
	done := &Changed{Before: f, After: after}
	done.Warning = keep.Save(out, after.Bytes(), keep.Options{New: true})
	if done.Warning != nil && !errors.Is(done.Warning, keep.ErrUnconfirmed) {
		return nil, done.Warning
	}
	return done, nil
}
