package keep

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"path/filepath"
	"time"
)

const droppedName = "dropped"

// KeepDropped keeps text, work on the file at path that is given up unsaved, as
// the newest earlier state of the file. A text that is on disk already is not
// kept twice.
func (g Gate) KeepDropped(path string, text []byte, when time.Time) error {
	return keepDropped(g.disk(), path, text, when)
}

func keepDropped(d disk, path string, text []byte, when time.Time) error {
	target, err := locate(path)
	at := spot{path: path, target: target}
	if err != nil {
		return at.notKept(err)
	}
	info, err := d.Lstat(target)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		info = nil
	case err != nil:
		return at.notKept(err)
	case info.Mode().IsRegular():
		if now, err := d.ReadFile(target); err == nil && bytes.Equal(now, text) {
			return nil
		}
	}
	dir, done, err := takeTurn(d, target, info)
	if err != nil {
		return at.notKept(err)
	}
	defer done()
	if err := keepState(d, dir, &state{info: info, written: when, text: text}); err != nil {
		return at.notKept(err)
	}
	if err := d.SyncDir(dir); err != nil {
		return at.notKept(err)
	}
	noteDropped(d, dir, info, text)
	return nil
}

func (s spot) notKept(cause error) error {
	return s.fault("what is given up in "+show(s.path)+" cannot be kept as an earlier state: ", inSidecar, "", cause)
}

// noteDropped adds a text to the list that says which states were given up.
// Without it such a state looks like any other: no loss, so no word.
func noteDropped(d disk, dir string, like fs.FileInfo, text []byte) {
	name := filepath.Join(dir, droppedName)
	sum := sha256.Sum256(text)
	list := append(droppedSums(d, dir), hex.AppendEncode(nil, sum[:]))
	list = list[max(0, len(list)-StatesKept):]
	if like != nil {
		like = ownWritable{like}
	}
	_ = writeWhole(d, name, append(bytes.Join(list, []byte("\n")), '\n'), like, false)
}

func droppedSums(d disk, dir string) [][]byte {
	data, err := d.ReadFile(filepath.Join(dir, droppedName))
	if err != nil {
		return nil
	}
	return bytes.Fields(data)
}

// markDropped says of each state whether it was given up unsaved.
func markDropped(d disk, target string, all []State) {
	sums := droppedSums(d, sidecar(target))
	if len(sums) == 0 {
		return
	}
	for i := range all {
		text, err := all[i].Text()
		if err != nil {
			continue
		}
		sum := sha256.Sum256(text)
		mine := hex.AppendEncode(nil, sum[:])
		for _, s := range sums {
			all[i].Dropped = all[i].Dropped || bytes.Equal(s, mine)
		}
	}
}
