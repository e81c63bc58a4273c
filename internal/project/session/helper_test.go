package session

import "fitup/internal/project/keep"

// What the bench does through a Queue, done at once.

// Undo steps back; the label says what was undone.
func (s *Session) Undo() (string, bool, error) { return s.rewind(keep.OpUndo) }

// Redo steps forward again.
func (s *Session) Redo() (string, bool, error) { return s.rewind(keep.OpRedo) }

func (s *Session) rewind(op string) (string, bool, error) {
	label, e, err := s.step(op)
	if err != nil || e == nil {
		return label, label != "", err
	}
	return label, true, s.write(*e)
}

// TakeOver takes the file over once the other has closed it, as it is on disk
// then. It reports whether it did; the Leftover is what the other did not save.
// With unsaved work here nothing is taken over.
func (s *Session) TakeOver() (*Leftover, bool) {
	if s.holder == nil || s.Unsaved() {
		return nil, false
	}
	lock, who, err := keep.TakeLock(s.path, s.now())
	if err != nil || lock == nil {
		return nil, false
	}
	return s.takeWith(lock, who)
}
