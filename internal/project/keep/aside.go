package keep

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

const asidePrefix = journalName + ".old-"

// numbered lists the numbers that stand behind a prefix in a folder, rising.
func numbered(d disk, dir, prefix string) ([]int, error) {
	entries, err := d.ReadDir(dir)
	if err != nil {
		return nil, ignoreMissing(err)
	}
	var numbers []int
	for _, e := range entries {
		digits, ok := strings.CutPrefix(e.Name(), prefix)
		if n, err := strconv.Atoi(digits); ok && err == nil && n > 0 && strconv.Itoa(n) == digits {
			numbers = append(numbers, n)
		}
	}
	slices.Sort(numbers)
	return numbers, nil
}

// asideName is a name that is still free.
func (j *Journal) asideName() (string, error) {
	dir := sidecar(j.at.target)
	numbers, err := numbered(j.d, dir, asidePrefix)
	if err != nil {
		return "", err
	}
	next := 1
	if len(numbers) > 0 {
		next = numbers[len(numbers)-1] + 1
	}
	return filepath.Join(dir, asidePrefix+strconv.Itoa(next)), nil
}

// CopyAside puts a copy of the journal aside, for a caller that is about to
// replace it and could not take up all it holds.
func (j *Journal) CopyAside() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.stands != ours {
		return nil // a foreign one is put aside when it is replaced, in any case
	}
	if err := j.copyAside(); err != nil {
		return j.at.journalFault("put aside", err)
	}
	return nil
}

// copyAside puts a copy of the journal aside and waits for the disk, so that the
// journal itself can be changed or replaced.
func (j *Journal) copyAside() error {
	data, err := j.d.ReadFile(j.name())
	if err != nil {
		return ignoreMissing(err)
	}
	to, err := j.asideName()
	if err != nil {
		return err
	}
	if err := writeWhole(j.d, to, data, j.fileInfo(), true); err != nil {
		return err
	}
	return j.d.SyncDir(filepath.Dir(to))
}

// putAside renames the journal, so that another can take its place. A crash
// right after leaves no journal and everything in the renamed one.
func (j *Journal) putAside() error {
	to, err := j.asideName()
	if err != nil {
		return err
	}
	j.release()
	if err := j.d.Rename(j.name(), to); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	j.stands, j.end, j.size, j.count = absent, clean, 0, 0
	return nil
}

// SetAside puts the journal with all its entries aside, as Reset does with one
// of another text, and starts afresh for the same text. It is for a leftover
// that could be taken up only in part: set it aside, then append what was taken
// up; no crash in between loses anything.
func (j *Journal) SetAside() error {
	j.lockIdle()
	defer j.mu.Unlock()
	if j.stands != absent {
		if err := j.putAside(); err != nil {
			return j.at.journalFault("put aside", err)
		}
	}
	j.queue, j.waits, j.full = nil, 0, false
	return nil
}
