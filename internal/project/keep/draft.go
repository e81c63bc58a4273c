package keep

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"time"
)

// A draft stands in a line that is also a mark of a save, of a text that there
// cannot be: a program from before drafts reads it as that, and all behind it.

// Draft is what a person is typing and has not given to the build yet.
type Draft struct {
	Time  time.Time       `json:"time"`
	Typed json.RawMessage `json:"typed,omitempty"` // the caller's own; nothing when nothing is typed
}

// none reports whether nothing is typed.
func (d Draft) none() bool { return len(d.Typed) == 0 || bytes.Equal(d.Typed, []byte("null")) }

// maxDrafts is how many bytes of drafts a journal holds before those that are
// past are left out.
const maxDrafts = 256 << 10

// Draft notes what is typed, in place of what was noted before, with one write
// and without waiting for the disk. It goes with the journal through Reset and
// Rebase until another takes its place; Discard removes it. One that cannot be
// written is not kept for later: the next is more than it was.
func (j *Journal) Draft(d Draft) error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return j.at.notJournalled(fs.ErrClosed)
	}
	if d.none() && j.draft == nil {
		return nil
	}
	raw, err := encode(d.line())
	if err != nil {
		return fmt.Errorf("what is typed cannot be written to the journal: %w", err)
	}
	fresh := j.stands != ours
	j.draft = &d
	if d.none() {
		j.draft = nil
		if fresh && len(j.queue) == 0 {
			return j.forgetBare() // nothing to begin a journal for
		}
	}
	if j.drafts+int64(len(raw)) > maxDrafts && !fresh {
		if err := j.thin(); err != nil {
			return j.at.notJournalled(err)
		}
		return nil
	}
	waiting := len(j.queue)
	if fresh && j.draft != nil { // a journal that is begun begins with it
		err = j.ready()
	} else {
		err = j.enqueue(raw, maxEntries)
	}
	if err == nil {
		err = j.flush()
	}
	if err != nil {
		j.queue = j.queue[:min(waiting, len(j.queue))]
		return j.at.notJournalled(err)
	}
	j.drafts += int64(len(raw))
	return nil
}

// forgetBare removes a journal of another text that held nothing but a draft.
func (j *Journal) forgetBare() error {
	if !j.bare {
		return nil
	}
	if err := ignoreMissing(j.d.Remove(j.name())); err != nil {
		return j.at.journalFault("removed", err)
	}
	j.stands, j.bare = absent, false
	return nil
}

// Drafted reports whether something is typed that was not taken.
func (j *Journal) Drafted() bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.draft != nil
}

// DraftAs notes in a journal what is typed as in another, for a file that goes on
// under another name.
func (j *Journal) DraftAs(other *Journal) error {
	other.mu.Lock()
	d := other.draft
	other.mu.Unlock()
	if d == nil {
		return nil
	}
	return j.Draft(*d)
}

func (d Draft) line() line { return line{Saving: new(digest), Draft: &d} }

// withDraft is the lines of a new journal with what is typed behind them.
func (j *Journal) withDraft(raw []byte) []byte {
	if j.draft == nil {
		return raw
	}
	if one, err := encode(j.draft.line()); err == nil {
		return append(raw, one...)
	}
	return raw
}

// thin writes the journal anew without the drafts that are past.
func (j *Journal) thin() error {
	if err := j.mend(); err != nil {
		return err
	}
	data, err := j.d.ReadFile(j.name())
	if err != nil {
		return err
	}
	data = data[:min(int64(len(data)), j.size)]
	kept := make([]byte, 0, len(data))
	for len(data) > 0 {
		raw, next, _ := bytes.Cut(data, []byte{'\n'})
		var l line
		if !decode(raw, &l) || l.Draft == nil {
			kept = append(append(kept, raw...), '\n')
		}
		data = next
	}
	count := j.count
	if err := j.replaceWith(j.withDraft(kept), false); err != nil {
		return err
	}
	j.count, j.drafts = count, 0
	return j.flush()
}
