package keep

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"sync"
	"time"
)

// Journal holds every edit of one file since its last save. It is safe for
// concurrent use within one program; nothing here keeps a second program from
// the same file.
type Journal struct {
	mu     sync.Mutex
	d      disk
	at     spot
	base   [sha256.Size]byte
	text   []byte // what base is the hash of, when the caller has said so
	stands standing
	end    ending
	f      file   // nil until something is appended
	size   int64  // bytes of the file that are good
	queue  []byte // lines that are to be written before any other
	waits  int    // entries among them
	count  int    // entries on disk that are not in the saved text
	last   time.Time
	draft  *Draft
	bare   bool  // of another text, and with nothing but a draft
	drafts int64 // bytes of drafts written since the journal was begun
	full   bool  // an entry had no room; a later one must not get in before it
	closed bool
	sync   syncing
}

// standing is how the journal on disk relates to the text being edited.
type standing int

const (
	absent  standing = iota
	ours             // its entries go on from base
	foreign          // of another text, or unreadable: to be put aside, never written to
)

// Leftover is what an earlier run did not save.
type Leftover struct {
	// Base is the SHA-256 of the text the entries apply to. When it is not the
	// text on disk, Before may hold that text.
	Base    [sha256.Size]byte
	Text    []byte // the text with that hash; nil when the journal does not hold it
	Entries []Entry
	// Torn: the journal stops at a line that cannot be read; what it and any
	// lines behind it said is not in Entries.
	Torn bool
	// When is the time of the last entry, zero when not even that can be read.
	When time.Time
	// Draft is what was being typed and not taken, whatever text Base is of; nil
	// when there is nothing of that.
	Draft *Draft
	// File is where the leftover lies on disk.
	File string
}

// Open opens the journal of the build file at path for edits of the text whose
// SHA-256 is base. It changes nothing on disk: the journal is made by the first
// Append. What an earlier run left is returned, nil when there is nothing, and
// stays on disk until Reset or Discard; answer it before appending, because
// appended entries follow those of a leftover that applies to base. A leftover
// of another text is put aside, as journal.old-1 and so on, before anything is
// written.
func Open(path string, base [sha256.Size]byte) (*Journal, *Leftover, error) {
	return openOn(osDisk{}, path, base)
}

func openOn(d disk, path string, base [sha256.Size]byte) (*Journal, *Leftover, error) {
	target, err := locate(path)
	j := &Journal{d: d, at: spot{path: path, target: target}, base: base, sync: syncing{folders: true}}
	if err != nil {
		return nil, nil, j.at.journalFault("opened", err)
	}
	c, err := load(d, j.name())
	if err != nil {
		return nil, nil, j.at.journalFault("opened", err)
	}
	if c == nil {
		return j, nil, nil
	}
	entries, fits := c.since(base)
	j.stands, j.end = foreign, c.end
	left := c.leftover(j.name(), entries)
	j.draft, j.bare = c.draft, !fits && c.readable && c.end == clean && len(entries) == 0
	if fits {
		j.stands, j.size, j.count = ours, c.good, len(entries)
		left.Base = base
	}
	if len(c.header.Text) > 0 && sha256.Sum256(c.header.Text) == left.Base {
		left.Text = c.header.Text
	}
	j.last = left.When
	if len(entries) == 0 && c.readable && c.end == clean && c.draft == nil {
		return j, nil, nil
	}
	return j, left, nil
}

// load reads a journal; nil when there is none or it is empty.
func load(d disk, name string) (*contents, error) {
	info, err := d.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular() || info.Size() > maxJournal:
		return nil, errStrange
	}
	data, err := d.ReadFile(name)
	if err != nil || len(data) == 0 {
		return nil, err
	}
	c := readJournal(data)
	return &c, nil
}

func (c *contents) leftover(name string, entries []Entry) *Leftover {
	left := &Leftover{Base: c.header.Base, Entries: entries, Torn: c.end != clean, When: c.header.Time, Draft: c.draft, File: name}
	if len(entries) > 0 {
		left.When = entries[len(entries)-1].Time
	}
	return left
}

func (j *Journal) name() string { return filepath.Join(sidecar(j.at.target), journalName) }

// Append adds an entry with one write and without waiting for the disk, so that
// the entry outlives this program but not a power cut; see Sync. An entry that
// could not be written is kept and written before the next one: the journal has
// no gaps. An entry with an unknown op or broken JSON is refused.
func (j *Journal) Append(e Entry) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if e.Op != OpDo && e.Op != OpUndo && e.Op != OpRedo {
		return fmt.Errorf("%q is no kind of journal entry; want %s, %s or %s", e.Op, OpDo, OpUndo, OpRedo)
	}
	raw, err := encode(line{Entry: &e})
	if err != nil {
		return fmt.Errorf("this edit cannot be written to the journal: %w", err)
	}
	if j.full {
		return j.at.notJournalled(errJournalFull)
	}
	if err := j.enqueue(raw, maxEntries); err != nil {
		j.full = errors.Is(err, errJournalFull)
		return j.at.notJournalled(err)
	}
	j.waits++
	j.last = e.Time
	if err := j.flush(); err != nil {
		return j.at.notJournalled(err)
	}
	return nil
}

// Saving says that the text with the SHA-256 next, which holds every entry so
// far, is about to be saved, and waits for the disk. Call it before Save and
// Reset after: should the program die between the two, the next Open knows that
// nothing is left over. It may be left out; then that leftover is offered with
// the base it had, so an error here is no reason not to save. After a failed
// Save just go on.
func (j *Journal) Saving(next [sha256.Size]byte) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.stands != ours && len(j.queue) == 0 {
		return nil // nothing is journalled
	}
	mark := digest(next)
	raw, err := encode(line{Saving: &mark})
	if err == nil {
		err = j.enqueue(raw, maxJournal)
	}
	if err == nil {
		err = j.flush()
	}
	if err == nil {
		err = j.f.Sync()
	}
	if err != nil {
		return j.at.journalFault("written", err)
	}
	return nil
}

// enqueue puts a line behind all that are waiting, if the journal stays within
// the limit in bytes.
func (j *Journal) enqueue(raw []byte, limit int64) error {
	if j.closed {
		return fs.ErrClosed
	}
	if j.size+int64(len(j.queue)+len(raw)) > limit {
		return errJournalFull
	}
	j.queue = append(j.queue, raw...)
	return nil
}

// flush writes what is waiting in one call.
func (j *Journal) flush() error {
	if len(j.queue) == 0 {
		return nil
	}
	if err := j.ready(); err != nil {
		return err
	}
	if err := writeFull(j.f, j.queue); err != nil {
		j.end = torn
		_ = j.mend() // ready tries again
		return err
	}
	j.size += int64(len(j.queue))
	j.count += j.waits
	j.queue, j.waits = nil, 0
	j.sync.written++
	return nil
}

// ready makes sure that a whole journal of ours is open for appending.
func (j *Journal) ready() error {
	if j.stands == foreign {
		if err := j.putAside(); err != nil {
			return err
		}
	}
	if j.stands == absent {
		if err := j.start(j.base, false); err != nil {
			return err
		}
	}
	if err := j.mend(); err != nil {
		return err
	}
	if j.f != nil {
		return nil
	}
	f, err := j.d.OpenAppend(j.name())
	if err != nil {
		return err
	}
	j.f = f
	return nil
}

// mend cuts off what follows the last good line. Lines behind a damaged one may
// be worth something to somebody, so a copy is put aside first.
func (j *Journal) mend() error {
	if j.end == clean {
		return nil
	}
	if j.end == damaged {
		if err := j.copyAside(); err != nil {
			return err
		}
		j.end = torn
	}
	if err := j.d.Truncate(j.name(), j.size); err != nil {
		return err
	}
	j.end = clean
	return nil
}

// start replaces the journal by an empty one for base.
func (j *Journal) start(base [sha256.Size]byte, sync bool) error {
	raw, err := encode(j.header(base))
	if err != nil {
		return err
	}
	return j.replaceWith(j.withDraft(raw), sync)
}

// replaceWith makes raw the whole journal.
func (j *Journal) replaceWith(raw []byte, sync bool) error {
	info := j.fileInfo()
	if _, err := makeSidecar(j.d, j.at.target, info); err != nil {
		return err
	}
	j.release() // an open file cannot be replaced everywhere
	if err := writeWhole(j.d, j.name(), raw, info, sync); err != nil {
		return err
	}
	j.stands, j.end, j.size, j.count, j.drafts = ours, clean, int64(len(raw)), 0, 0
	j.sync.folders = true
	if !sync {
		j.sync.written++
		return nil
	}
	j.sync.safe = j.sync.written // what was there before is replaced by what is on disk
	return j.d.SyncDir(filepath.Dir(j.name()))
}

// fileInfo is what the journal takes its mode from; nil for a file that is not
// there yet.
func (j *Journal) fileInfo() fs.FileInfo {
	info, err := j.d.Lstat(j.at.target)
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	return ownWritable{info}
}

// ownWritable is a file's mode with the owner's right to write, because the
// edits of a file that is read-only just now are journalled too.
type ownWritable struct{ fs.FileInfo }

func (o ownWritable) Mode() fs.FileMode { return o.FileInfo.Mode() | 0o600 }

func (j *Journal) release() {
	if j.f != nil {
		_ = j.f.Close()
		j.f = nil
	}
}

// Reset starts an empty journal for the text with the SHA-256 base, which has
// just been saved. A journal of another text, or one with unreadable lines in
// its middle, is put aside. After an error the journal can be used all the same.
func (j *Journal) Reset(base [sha256.Size]byte) error {
	j.lockIdle()
	defer j.mu.Unlock()
	if j.closed {
		return j.at.journalFault("started", fs.ErrClosed)
	}
	j.base, j.queue, j.waits, j.count, j.full = base, nil, 0, 0, false
	var err error
	if j.stands == foreign || j.end == damaged {
		err = j.putAside()
	}
	if err == nil {
		err = j.start(base, true)
	}
	if err == nil {
		return nil
	}
	if j.stands == ours {
		// The old journal goes on; the mark keeps its entries, which are
		// saved, apart from those to come.
		mark := digest(base)
		if raw, bad := encode(line{Saving: &mark}); bad == nil {
			j.queue = raw
		}
	}
	return j.at.journalFault("started", err)
}

// Rebase replaces the journal by one for the text with the SHA-256 base that
// holds entries, in one step: a crash leaves the old journal or the new one. It
// is for edits that were carried over to another text. A journal with lines that
// cannot be read is put aside first.
func (j *Journal) Rebase(base [sha256.Size]byte, entries []Entry) error {
	j.lockIdle()
	defer j.mu.Unlock()
	if j.closed {
		return j.at.journalFault("written", fs.ErrClosed)
	}
	raw, err := encode(j.header(base))
	for i := 0; i < len(entries) && err == nil; i++ {
		var one []byte
		one, err = encode(line{Entry: &entries[i]})
		raw = append(raw, one...)
	}
	if err == nil && int64(len(raw)) > maxEntries {
		err = errJournalFull
	}
	if err == nil && (j.stands == foreign || j.end == damaged) {
		err = j.copyAside() // the old one stays in its place until the new one is there
	}
	if err == nil {
		err = j.replaceWith(j.withDraft(raw), true)
	}
	if err != nil {
		return j.at.journalFault("written", err)
	}
	j.base, j.count = base, len(entries)
	j.queue, j.waits, j.full = nil, 0, false
	return nil
}

// Discard removes the journal with all its entries and what is typed; what was
// put aside stays.
// The journal can be used further, for edits of the same text.
func (j *Journal) Discard() error {
	j.lockIdle()
	defer j.mu.Unlock()
	j.release()
	if err := ignoreMissing(j.d.Remove(j.name())); err != nil {
		return j.at.journalFault("removed", err)
	}
	j.stands, j.end, j.size, j.count = absent, clean, 0, 0
	j.queue, j.waits, j.full, j.draft = nil, 0, false, nil
	j.sync.safe = j.sync.written
	return nil
}

// Close removes the journal when it has no entries and nothing is typed, and
// keeps it when there is either.
func (j *Journal) Close() error {
	j.lockIdle()
	defer j.mu.Unlock()
	if j.closed {
		return nil
	}
	var err error
	if j.waits > 0 {
		err = j.flush()
	}
	j.closed = true
	j.release()
	if err == nil && j.stands == ours && j.count == 0 && j.draft == nil && j.end != damaged {
		err = ignoreMissing(j.d.Remove(j.name()))
	}
	if info, e := j.d.Lstat(sidecar(j.at.target)); e == nil && info.IsDir() {
		_ = j.d.Remove(sidecar(j.at.target)) // goes only when it is empty
	}
	if err != nil {
		return j.at.journalFault("closed", err)
	}
	return nil
}
