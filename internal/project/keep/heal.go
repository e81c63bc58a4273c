package keep

import (
	"crypto/sha256"
	"errors"
	"io/fs"
)

// Holds says which text the journal's entries apply to. Journals started from
// now on carry it, so that what is left over after a crash can be merged with a
// file that somebody else has changed meanwhile. A text with another hash than
// the one the journal is started for is left out.
func (j *Journal) Holds(text []byte) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.text = text
}

func (j *Journal) header(base [sha256.Size]byte) header {
	h := header{Version: journalVersion, Base: base, Time: j.last}
	if len(j.text) > 0 && sha256.Sum256(j.text) == base {
		h.Text = j.text
	}
	return h
}

// Lost reports whether the journal is no longer where it was written: somebody
// took the hidden folder away, or put another in its place. What was appended is
// gone then, and so would be every entry to come; Rebase writes it anew.
func (j *Journal) Lost() bool {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed || j.stands != ours {
		return false
	}
	info, err := j.d.Lstat(j.name())
	switch {
	case errors.Is(err, fs.ErrNotExist), isNotFolder(err):
		return true
	case err != nil:
		return false
	}
	return !info.Mode().IsRegular() || info.Size() < j.size
}
