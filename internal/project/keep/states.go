package keep

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"
)

// StatesKept is how many earlier states of a file are kept.
const StatesKept = 10

const statePrefix = beforeName + "."

// State is one earlier state of a file.
type State struct {
	// N counts back: 1 is the state before the last save, 2 the one before
	// that.
	N int
	// Written is when that state was put on disk, as far as the disk kept the
	// time.
	Written time.Time
	Size    int64
	// Dropped: it was never the file; it is work that was given up unsaved.
	Dropped bool
	file    string
}

// States returns the earlier states of the file at path that are still there,
// the newest first.
func States(path string) ([]State, error) {
	target, err := locate(path)
	if err != nil {
		return nil, noBefore(path, err)
	}
	all, err := states(osDisk{}, target)
	if err != nil {
		return nil, noBefore(path, err)
	}
	markDropped(osDisk{}, target, all)
	return all, nil
}

// Text returns the whole text of the state.
func (s State) Text() ([]byte, error) { return s.read(filepath.Base(s.file)) }

func (s State) read(path string) ([]byte, error) {
	text, err := osDisk{}.ReadFile(s.file)
	if err != nil {
		return nil, noBefore(path, err)
	}
	return text, nil
}

func states(d disk, target string) ([]State, error) {
	dir := sidecar(target)
	numbers, err := numbered(d, dir, statePrefix)
	if err != nil {
		return nil, err
	}
	names := []string{filepath.Join(dir, beforeName)}
	for _, n := range slices.Backward(numbers) {
		names = append(names, stateName(dir, n))
	}
	var all []State
	for _, name := range names {
		info, err := d.Lstat(name)
		if errors.Is(err, fs.ErrNotExist) {
			continue // a kill between two renames leaves no newest one
		}
		if err != nil {
			return nil, err
		}
		if info.Mode().IsRegular() {
			all = append(all, State{N: len(all) + 1, Written: info.ModTime(), Size: info.Size(), file: name})
		}
	}
	return all, nil
}

func stateName(dir string, n int) string { return filepath.Join(dir, statePrefix+strconv.Itoa(n)) }

// keepState makes prev the newest earlier state and moves the others back by
// one. What is whole in the folder stays whole whenever it stops.
func keepState(d disk, dir string, prev *state) error {
	name := filepath.Join(dir, beforeName)
	newest, err := d.ReadFile(name)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, errNotOrdinary):
		newest = nil // a pipe or a link of that name is nothing of ours, and makes room
	case err != nil:
		return err
	case bytes.Equal(newest, prev.text):
		newest = nil // a save that failed later has kept it already
	}
	numbers, err := numbered(d, dir, statePrefix)
	if err != nil {
		return err
	}
	tmp, err := writeTemp(d, name, prev.text, prev.info, true)
	if err != nil {
		return err
	}
	_ = os.Chtimes(tmp, time.Time{}, prev.written) // the list of states is dated by it; nothing else is
	if newest != nil {
		next := 1
		if len(numbers) > 0 {
			next = numbers[len(numbers)-1] + 1
		}
		if err := d.Rename(name, stateName(dir, next)); err != nil {
			_ = d.Remove(tmp)
			return err
		}
		numbers = append(numbers, next)
	}
	if err := d.Rename(tmp, name); err != nil {
		_ = d.Remove(tmp)
		return err
	}
	for len(numbers) > StatesKept-1 {
		_ = d.Remove(stateName(dir, numbers[0]))
		numbers = numbers[1:]
	}
	sweep(d, name)
	return nil
}
