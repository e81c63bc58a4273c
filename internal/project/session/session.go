// Package session is one sitting with one build file: the history of its
// states, the journal of what is not saved yet, and saving without ever
// overwriting somebody else's work.
package session

import (
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
	gate    keep.Gate
	astray  bool // the journal does not hold all that stands here: the next word writes it anew
	warning error

	lock      *keep.Lock   // nil when another has it, or there can be none
	holder    *keep.Holder // who else has the file open on this computer
	elsewhere *keep.Holder // who may have it open on another
	looking   bool         // nothing may be changed here
	waiting   bool         // leftover work has not been answered yet
}

// Open loads the file at path and looks for unsaved work left over from an
// earlier sitting. now is the clock, for the journal. A journal that cannot be
// opened does not keep the file closed: see Warning. A gate before the disk is
// for tests; there is one at most.
func Open(path string, now func() time.Time, gates ...keep.Gate) (*Session, *Leftover, error) {
	s := &Session{path: path, now: now}
	if len(gates) > 0 {
		s.gate = gates[0]
	}
	if err := s.load(); err != nil {
		return nil, nil, err
	}
	left := s.openJournal()
	return s, left, nil
}

// load takes the file as it is on disk, with the undo steps that lead to it.
func (s *Session) load() error {
	src, err := s.read()
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

// read reads the file as it is on disk. It may be called beside the session.
func (s *Session) read() ([]byte, error) {
	if err := s.gate.Pass("read", s.path); err != nil {
		return nil, err
	}
	return project.Read(s.path)
}

// differs reports whether the file on disk is not the text with that hash. It may
// be called beside the session.
func (s *Session) differs(known [sha256.Size]byte) bool {
	src, err := s.read()
	if err != nil {
		return !exists(s.path)
	}
	return sha256.Sum256(src) != known
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
	return s.hist.Unsaved() && !s.Now().SameText(s.base)
}

// Depth returns how many steps can be undone and redone.
func (s *Session) Depth() (undo, redo int) { return s.hist.Depth() }

// Steps returns what was done to reach each state of this sitting, in words; see
// Depth for where among them the present one stands.
func (s *Session) Steps() []string { return s.hist.Steps() }

// At returns the state behind the first i steps; false when it is not in reach.
func (s *Session) At(i int) (*project.File, bool) { return s.hist.At(i) }

// Do applies edits and writes them to the journal. A journal that cannot be
// written does not undo the edit: the error then is a *JournalError.
func (s *Session) Do(label string, edits ...edit.Edit) error {
	e, err := s.edit(label, edits)
	if err != nil || e == nil {
		return err
	}
	return s.write(*e)
}

// edit applies edits and returns what the journal is to hold of them; nil for
// edits that change nothing.
func (s *Session) edit(label string, edits []edit.Edit) (*keep.Entry, error) {
	if s.looking {
		return nil, ErrLooking
	}
	before := s.hist.Now()
	edits, err := edit.WithPlaces(before, edits)
	if err != nil {
		return nil, err
	}
	if err := s.hist.Do(label, edits...); err != nil {
		return nil, err
	}
	if s.hist.Now() == before {
		return nil, nil
	}
	return s.entry(keep.OpDo, label, edits)
}

// step goes one step through the history. The journal is to hold what that did
// to the text, because a step can reach behind the last save, where the journal
// begins. Where there is no step the entry is nil.
func (s *Session) step(op string) (string, *keep.Entry, error) {
	if s.looking {
		return "", nil, nil
	}
	before, step := s.Now(), s.hist.Undo
	if op == keep.OpRedo {
		step = s.hist.Redo
	}
	label, ok := step()
	if !ok {
		return "", nil, nil
	}
	e, err := s.entry(op, label, []edit.Edit{edit.Splice(before, s.Now())})
	return label, e, err
}

// JournalError says that an edit stands but could not be written to the
// journal, so that a crash before the next save would lose it.
type JournalError struct{ Err error }

func (e *JournalError) Error() string {
	return "not safe from a crash yet: " + e.Err.Error()
}

// Unwrap returns the cause.
func (e *JournalError) Unwrap() error { return e.Err }

// entry is what the journal is to hold of edits that have led to the present
// state.
func (s *Session) entry(op, label string, edits []edit.Edit) (*keep.Entry, error) {
	raw, err := json.Marshal(edits)
	if err != nil {
		return nil, &JournalError{err}
	}
	return &keep.Entry{Time: s.now(), Op: op, Label: label, Edits: raw, After: textSum(s.Now())}, nil
}

// write puts an entry into the journal, of which everything before it must be
// there.
func (s *Session) write(e keep.Entry) error {
	if s.journal == nil {
		return nil
	}
	if s.astray || s.journal.Lost() {
		return s.heal()
	}
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
	w := s.plan(force)
	w.run()
	return s.saved(w)
}

// saving is a save with all that it needs of the session, which can go on beside
// it.
type saving struct {
	path    string
	gate    keep.Gate
	journal *keep.Journal
	force   bool
	expect  [sha256.Size]byte // of the text that is known to be on disk
	file    *project.File     // what is saved
	mark    edit.Mark
	trail   []byte // the undo steps that lead to it

	written bool
	fresh   bool // the journal begins anew behind it
	err     error
}

// plan prepares a save of the present state.
func (s *Session) plan(force bool) *saving {
	w := &saving{path: s.path, gate: s.gate, journal: s.journal, force: force, expect: s.disk, file: s.Now(), mark: s.hist.Mark()}
	if trail, err := s.hist.Trail(); err == nil {
		w.trail = trail
	}
	return w
}

// run does the save. It may be called beside the session.
func (w *saving) run() {
	text := w.file.Bytes()
	next := sha256.Sum256(text)
	opt := keep.Options{Expect: &w.expect}
	if w.force {
		opt.Expect = nil
	}
	if w.journal != nil {
		// Should the note fail, a crash during the save offers work that is
		// saved already: a nuisance and no loss, so the save goes on.
		_ = w.journal.Saving(next)
	}
	w.err = w.gate.Save(w.path, text, opt)
	if w.err != nil && !errors.Is(w.err, keep.ErrUnconfirmed) {
		return
	}
	w.written = true
	if w.trail != nil { // a comfort: what cannot be kept is not worth a word
		_ = w.gate.WriteUndo(w.path, w.trail)
	}
	if w.journal == nil {
		return
	}
	w.journal.Holds(text)
	err := w.journal.Reset(next)
	w.fresh = err == nil
	if err != nil && w.err == nil {
		w.err = &JournalError{err}
	}
}

// saved takes in what became of a save.
func (s *Session) saved(w *saving) error {
	if !w.written {
		return w.err
	}
	s.onDisk(w.file, w.mark)
	s.astray = s.astray && !w.fresh
	return w.err
}

// onDisk says that the file holds the text of f, the state with that mark.
func (s *Session) onDisk(f *project.File, mark edit.Mark) {
	s.disk, s.src, s.base = sha256.Sum256(f.Bytes()), f.Bytes(), f
	if f.From != 0 { // it is today's on disk now
		now := *f
		now.From = 0
		s.base = &now
	}
	s.hist.MarkSaved(mark)
}

// keepUndo writes the undo steps beside the file. They are a comfort: what
// cannot be kept is not worth a word.
func (s *Session) keepUndo() {
	if steps, err := s.hist.Trail(); err == nil {
		_ = s.gate.WriteUndo(s.path, steps)
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
	s.astray = false
	return nil
}

// Reload takes the file as it is on disk now. What is not saved becomes an
// earlier state of the file; when it cannot, nothing is done.
func (s *Session) Reload() error {
	if src, err := s.read(); err != nil {
		return err
	} else if _, err := project.Parse(s.path, src); err != nil {
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
// is unsaved work, of this sitting or of one before that has not been answered, and
// where something is typed that was not taken.
func (s *Session) Close() error {
	var err error
	if s.journal != nil {
		if !s.Unsaved() && !s.waiting && !s.journal.Drafted() {
			err = s.journal.Discard()
		}
		if cerr := s.journal.Close(); err == nil {
			err = cerr
		}
		s.journal = nil
	}
	if lerr := s.lock.Release(); err == nil {
		err = lerr
	}
	return err
}
