package session

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
)

// Leftover is unsaved work of an earlier sitting that ended without a word: edits,
// and what was being typed.
type Leftover struct {
	Entries int
	When    time.Time
	Torn    bool   // the end of the journal could not be read
	Fits    bool   // the edits are for the text that is on disk now
	File    string // where the journal lies
	Draft   []byte // what was typed and not taken, as it was handed over; nil for nothing
	raw     []keep.Entry
	base    [sha256.Size]byte
	text    []byte // what the edits are for; nil when the journal does not hold it
}

// openJournal opens the journal of the text on disk and returns what an earlier
// sitting left in it. Work that comes to just what is on disk is nothing left.
func (s *Session) openJournal() *Leftover {
	j, left, err := s.gate.Open(s.path, s.disk)
	if err != nil {
		s.warning = fmt.Errorf("unsaved work cannot be kept safe from a crash: %w; save often", err)
		return nil
	}
	j.Holds(s.src)
	s.journal = j
	if left == nil || (len(left.Entries) == 0 && !left.Torn && left.Draft == nil) {
		return nil
	}
	l := &Leftover{
		Entries: len(left.Entries), When: left.When, Torn: left.Torn,
		Fits: left.Base == s.disk, File: left.File, raw: left.Entries,
		base: left.Base, text: left.Text,
	}
	if left.Draft != nil {
		l.Draft = left.Draft.Typed
	}
	if n := len(l.raw); n > 0 && !l.Torn && l.raw[n-1].After == hex.EncodeToString(s.disk[:]) {
		l.Entries, l.raw = 0, nil
		if l.Draft == nil {
			_ = s.journal.Discard() // what cannot be removed is found to be nothing again
			return nil
		}
		_ = s.journal.Reset(s.disk)
	}
	s.waiting = l.Entries > 0 || l.Torn
	return l
}

// Restored is what became of unsaved work that was to be taken back.
type Restored struct {
	// Clashes: values that the work sets and somebody else has changed since.
	// Nothing was done about them, nor about anything else, when the side to
	// prefer was edit.Neither.
	Clashes []edit.Clash
	// Asked: nothing was done, because the person has to choose first. The work
	// stays where it is, and is offered again should the program end meanwhile.
	Asked bool
	// Err: the work was taken back in part only, with how far and why; or it is
	// back and not safe from a crash, a *JournalError.
	Err error
}

// Restore takes unsaved work of an earlier sitting back. Work on the text that
// is on disk is replayed. When somebody else has changed the file since, the
// work is merged with theirs over the text both began with; prefer decides about
// values that both changed. Replaying stops at the first edit that no longer
// fits. What was restored is in the journal afterwards, whatever happens next.
func (s *Session) Restore(l *Leftover, prefer edit.Whose) Restored {
	if l.Fits {
		_, err := l.replay(s.hist)
		s.waiting = false
		if err != nil {
			err = s.rejournal(err)
		}
		return Restored{Err: err}
	}
	text := l.baseText(s.path)
	if text == nil {
		return s.restoreBlind(l, prefer)
	}
	base, err := project.Parse(s.path, text)
	if err != nil {
		return Restored{Asked: true, Err: err}
	}
	mine := edit.NewHistory(base)
	_, err = l.replay(mine)
	merged, clashes, merr := mine.Onto(base, s.Now(), prefer)
	if merr != nil || merged == nil {
		return Restored{Asked: true, Clashes: clashes, Err: merr}
	}
	if prefer == edit.Theirs && len(clashes) > 0 {
		if kerr := s.gate.KeepDropped(s.path, mine.Now().Bytes(), l.When); kerr != nil {
			return Restored{Asked: true, Clashes: clashes, Err: kerr}
		}
	}
	for _, step := range merged.Since(s.Now()) {
		if derr := s.hist.Do(step.Label, step.Edits...); derr != nil {
			err = errors.Join(err, derr)
			break
		}
	}
	return Restored{Clashes: clashes, Err: s.rejournal(err)}
}

// restoreBlind is for work whose text nobody has any more. What the edits change
// in the text on disk could be somebody else's newer value, so all of it is
// asked about.
func (s *Session) restoreBlind(l *Leftover, prefer edit.Whose) Restored {
	mine := edit.NewHistory(s.Now())
	_, err := l.replay(mine)
	clashes := edit.Clashes(mine.Now(), s.Now())
	switch {
	case prefer == edit.Neither && len(clashes) > 0:
		return Restored{Asked: true, Clashes: clashes, Err: err}
	case prefer == edit.Theirs:
		if kerr := s.gate.KeepDropped(s.path, mine.Now().Bytes(), l.When); kerr != nil {
			return Restored{Asked: true, Clashes: clashes, Err: kerr}
		}
	default:
		_, err = l.replay(s.hist)
	}
	return Restored{Clashes: clashes, Err: s.rejournal(err)}
}

// rejournal writes the journal anew for what stands here now. What the one
// before held and could not be taken up is put aside.
func (s *Session) rejournal(err error) error {
	s.waiting = false
	if s.journal == nil {
		return err
	}
	jerr := error(nil)
	if err != nil {
		jerr = s.journal.CopyAside()
	}
	if jerr == nil {
		jerr = s.carryJournal()
	}
	if jerr != nil {
		return errors.Join(err, &JournalError{jerr})
	}
	return err
}

// baseText is the text that the edits are for: from the journal, or from an
// earlier state of the file.
func (l *Leftover) baseText(path string) []byte {
	if l.text != nil {
		return l.text
	}
	states, err := keep.States(path)
	if err != nil {
		return nil
	}
	for _, st := range states {
		if text, err := st.Text(); err == nil && sha256.Sum256(text) == l.base {
			return text
		}
	}
	return nil
}

// replay applies the entries to a history until one does not fit; done is how
// many it took.
func (l *Leftover) replay(h *edit.History) (done int, err error) {
	for i, e := range l.raw {
		var edits []edit.Edit
		if err := json.Unmarshal(e.Edits, &edits); err != nil {
			return i, fmt.Errorf("restored %d of %d edits; the next one cannot be read: %w", i, len(l.raw), err)
		}
		label := e.Label
		if e.Op != keep.OpDo {
			label = e.Op + " of " + label
		}
		if err := h.Do(label, edits...); err != nil {
			return i, fmt.Errorf("restored %d of %d edits; the next one, %q, does not fit the file any more: %w",
				i, len(l.raw), project.Printable(label), err)
		}
	}
	return len(l.raw), nil
}

// heal writes a journal anew that somebody has taken away, with everything since
// the last save, and takes the lock again that lay beside it.
func (s *Session) heal() error {
	s.lockAgain(relock(s.path, s.now(), s.lock))
	if err := s.carryJournal(); err != nil {
		return &JournalError{err}
	}
	return nil
}

// relock takes the lock that lies beside a journal that was taken away; nil where
// there is none to be had. It may be called beside the session.
func relock(path string, now time.Time, had *keep.Lock) *keep.Lock {
	if had == nil {
		return nil
	}
	lock, who, err := keep.TakeLock(path, now)
	if err != nil || who != nil {
		return nil
	}
	return lock
}

func (s *Session) lockAgain(lock *keep.Lock) {
	if lock != nil {
		s.lock = lock // the old one leads nowhere, and goes with the program
	}
}

// keepDropped makes the unsaved state an earlier state of the file.
func (s *Session) keepDropped() error {
	if !s.Unsaved() {
		return nil
	}
	return s.gate.KeepDropped(s.path, s.Now().Bytes(), s.now())
}

// Discard gives up what is not saved. It becomes an earlier state of the file,
// then the journal goes; the file stays. With an error nothing is given up.
func (s *Session) Discard() error {
	if err := s.keepDropped(); err != nil {
		return err
	}
	return s.Forget()
}

// Drop gives up unsaved work of an earlier sitting. What it makes of the text it
// was for becomes an earlier state of the file; where that cannot be told, the
// journal is put aside instead. With an error nothing is given up.
func (s *Session) Drop(l *Leftover) error {
	text := l.baseText(s.path)
	if l.Fits {
		text = s.src
	}
	if text != nil {
		base, err := project.Parse(s.path, text)
		if err == nil {
			h := edit.NewHistory(base)
			if _, err = l.replay(h); err == nil && !l.Torn {
				if !bytes.Equal(h.Now().Bytes(), base.Bytes()) {
					if err := s.gate.KeepDropped(s.path, h.Now().Bytes(), l.When); err != nil {
						return err
					}
				}
				s.waiting = false
				return s.Forget()
			}
		}
	}
	s.waiting = false
	return s.journal.SetAside()
}

// Forget removes the journal, and keeps nothing of what is not saved.
func (s *Session) Forget() error {
	s.waiting = false
	if s.journal == nil {
		return nil
	}
	return s.journal.Discard()
}
