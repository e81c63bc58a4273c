package session

import (
	"crypto/sha256"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
)

// Sight is what a glance at a file tells without reading it. Sights can be
// compared with ==; two that differ mean that the file is worth reading.
type Sight struct {
	mod  int64
	size int64
	kind fs.FileMode
	// fresh: written so lately that a second write in the same tick of the
	// disk's clock would look the same. FAT counts in two seconds.
	fresh int64
}

// Glance looks at the file at path. It is safe beside a running Session.
func Glance(path string, now time.Time) Sight {
	info, err := os.Stat(path)
	if err != nil {
		return Sight{size: -1}
	}
	s := Sight{mod: info.ModTime().UnixNano(), size: info.Size(), kind: info.Mode()}
	if age := now.Sub(info.ModTime()); age >= 0 && age < 4*time.Second {
		s.fresh = now.UnixNano()
	}
	return s
}

// Outcome is what became of a change that somebody else made to the file.
type Outcome uint8

// The outcomes.
const (
	Same    Outcome = iota // there is none
	Loaded                 // nothing was unsaved here: the file is loaded as it is now
	Merged                 // my unsaved changes stand on top of it
	Clashed                // both changed the same; nothing was done
	Broken                 // what is on disk cannot be read; nothing was done
	Gone                   // there is no file any more; nothing was done
)

// Outside is a change that somebody else made to the file on disk.
type Outside struct {
	Outcome Outcome
	Changes []edit.Change // what they changed
	Clashes []edit.Clash  // what both changed
	Err     error         // why it cannot be read, or a *JournalError
}

// TakeOutside looks at the file on disk, and where somebody else has changed it
// brings that in beneath the unsaved work of this sitting. Values that both
// changed are decided by prefer; with edit.Neither nothing is done about them.
// Nothing is written to the file.
func (s *Session) TakeOutside(prefer edit.Whose) Outside {
	src, err := s.read()
	if errors.Is(err, fs.ErrNotExist) || err != nil && !exists(s.path) {
		return Outside{Outcome: Gone, Err: err}
	}
	if err != nil {
		return Outside{Outcome: Broken, Err: err}
	}
	sum := sha256.Sum256(src)
	if sum == s.disk {
		return Outside{}
	}
	theirs, err := project.Parse(s.path, src)
	if err != nil {
		return Outside{Outcome: Broken, Err: err}
	}
	out := Outside{Outcome: Loaded, Changes: edit.Diff(s.base, theirs)}
	if s.Unsaved() {
		out.Outcome = Merged
	}
	hist, clashes, err := s.hist.Onto(s.base, theirs, prefer)
	out.Clashes = clashes
	switch {
	case err != nil && out.Outcome == Loaded:
		hist = edit.NewHistory(theirs)
	case err != nil:
		return Outside{Outcome: Clashed, Changes: out.Changes, Clashes: clashes, Err: err}
	case hist == nil:
		out.Outcome = Clashed
		return out
	}
	if prefer == edit.Theirs && len(clashes) > 0 {
		if err := s.keepDropped(); err != nil {
			return Outside{Outcome: Clashed, Changes: out.Changes, Clashes: clashes, Err: err}
		}
	}
	s.hist, s.disk, s.src, s.base = hist, sum, src, theirs
	if err := s.carryJournal(); err != nil {
		out.Err = &JournalError{err}
	}
	return out
}

// carryJournal makes the journal one of the text on disk and of the steps upon
// it. Where that fails the next entry tries again.
func (s *Session) carryJournal() error {
	if s.journal == nil {
		return nil
	}
	c, err := s.carry()
	if err == nil {
		err = c.run()
	}
	s.astray = err != nil
	return err
}

// carriage is a journal that is to be written anew, with all that it needs of
// the session.
type carriage struct {
	journal *keep.Journal
	src     []byte
	entries []keep.Entry
}

func (s *Session) carry() (carriage, error) {
	steps := s.hist.Since(s.base)
	c := carriage{journal: s.journal, src: s.src, entries: make([]keep.Entry, len(steps))}
	for i, step := range steps {
		raw, err := json.Marshal(step.Edits)
		if err != nil {
			return c, err
		}
		c.entries[i] = keep.Entry{Time: s.now(), Op: keep.OpDo, Label: step.Label, Edits: raw, After: step.After}
	}
	return c, nil
}

// run writes the journal. It may be called beside the session.
func (c carriage) run() error {
	c.journal.Holds(c.src)
	sum := sha256.Sum256(c.src)
	if len(c.entries) == 0 {
		return c.journal.Reset(sum)
	}
	return c.journal.Rebase(sum, c.entries)
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return !errors.Is(err, fs.ErrNotExist)
}
