package session

import (
	"errors"
	"time"

	"fitup/internal/project/keep"
)

// ErrLooking says that this sitting only looks at the file, because another has it.
var ErrLooking = errors.New("another fitup has this file open, so here it can only be looked at")

// OpenShared is Open for a sitting that is to have the file to itself. When
// another program has it, see Holder, the file can be looked at but not changed
// until EditAnyway or the TakeOver of a Queue; its journal is then left to the other.
func OpenShared(path string, now func() time.Time) (*Session, *Leftover, error) {
	// Where there can be no lock the file is used without one: every save
	// looks at what is on disk all the same.
	lock, who, lockErr := keep.TakeLock(path, now())
	if lockErr == nil && lock == nil {
		s := &Session{path: path, now: now, holder: who, looking: true}
		if err := s.load(); err != nil {
			return nil, nil, err
		}
		return s, nil, nil
	}
	s, left, err := Open(path, now)
	if err != nil {
		_ = lock.Release()
		return nil, nil, err
	}
	s.lock, s.elsewhere = lock, who
	return s, left, nil
}

// Holder is who else has the file open on this computer, nil when nobody has.
func (s *Session) Holder() *keep.Holder { return s.holder }

// Elsewhere is who had the file open on another computer and did not sign off,
// nil when there is nobody.
func (s *Session) Elsewhere() *keep.Holder { return s.elsewhere }

// Looking reports whether the file can only be looked at.
func (s *Session) Looking() bool { return s.looking }

// EditAnyway lets this sitting change the file although another has it. There is
// one journal and the other writes it, so unsaved work here is not safe from a
// crash.
func (s *Session) EditAnyway() { s.looking = false }

// takeWith takes the file over with the lock that the other has given back; who
// had it open elsewhere.
func (s *Session) takeWith(lock *keep.Lock, who *keep.Holder) (*Leftover, bool) {
	if s.Unsaved() || s.load() != nil {
		_ = lock.Release()
		return nil, false
	}
	s.lock, s.holder, s.elsewhere, s.looking = lock, nil, who, false
	return s.openJournal(), true
}
