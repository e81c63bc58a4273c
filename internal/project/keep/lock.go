package keep

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

const (
	lockName  = "lock"
	maxHolder = 4 << 10 // bytes
	lockTries = 5
)

// errHeld: another program has the lock.
var errHeld = errors.New("is locked")

// Holder is who has, or had, a file open.
type Holder struct {
	PID   int       `json:"pid"`
	Host  string    `json:"host"`
	Since time.Time `json:"since"`
}

// String says who it is, fit for a terminal.
func (h Holder) String() string {
	s := "another fitup"
	if h.PID > 0 {
		s = fmt.Sprintf("process %d", h.PID)
	}
	if h.Host != "" {
		s += " on " + show(h.Host)
	}
	if !h.Since.IsZero() {
		s += ", since " + h.Since.Local().Format("2 January 2006, 15:04")
	}
	return s
}

// Lock says to other programs of this kind that a file is open. It is advice:
// an editor does not ask for it. The system lets go of it when the program
// ends, however it ends, so a lock left by a crash stands in nobody's way.
type Lock struct {
	file *os.File
	dir  string
}

// TakeLock takes the lock of the build file at path. When another program has
// it, the lock is nil and the Holder says who. With a lock in hand, a Holder is
// somebody on another computer who wrote there and did not sign off: over a
// synced folder or a stick, only the person can know whether they are still at
// it. The error says why there can be no lock at all, such as in a folder that
// may not be written; a file can be used without one.
func TakeLock(path string, now time.Time) (*Lock, *Holder, error) {
	target, err := locate(path)
	at := spot{path: path, target: target}
	if err != nil {
		return nil, nil, at.noLock(err)
	}
	info, err := os.Lstat(target)
	if err != nil {
		return nil, nil, at.noLock(err)
	}
	for range lockTries {
		l, old, err := tryLock(target, info)
		switch {
		case errors.Is(err, errHeld):
			return nil, &old, nil
		case errors.Is(err, fs.ErrNotExist):
			continue // it was being given back just then
		case err != nil:
			return nil, nil, at.noLock(err)
		}
		host, _ := os.Hostname()
		if err := l.sign(Holder{PID: os.Getpid(), Host: host, Since: now}); err != nil {
			_ = l.Release()
			return nil, nil, at.noLock(err)
		}
		if old.Host != "" && old.Host != host {
			return l, &old, nil
		}
		return l, nil, nil
	}
	return nil, &Holder{}, nil
}

func (s spot) noLock(cause error) error {
	return &fault{
		msg:    "a second fitup on " + show(s.path) + " could not be noticed: " + s.explain(inSidecar, cause),
		causes: []error{cause},
	}
}

// tryLock opens and locks the lock file. The name must still lead to the very
// file that was locked: the one before may have taken it away meanwhile.
func tryLock(target string, like fs.FileInfo) (*Lock, Holder, error) {
	dir, err := makeSidecar(osDisk{}, target, like)
	if err != nil {
		return nil, Holder{}, err
	}
	name := filepath.Join(dir, lockName)
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return nil, Holder{}, errInTheWay
	}
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, Holder{}, err
	}
	if err := lockFile(f); err != nil {
		h := readHolder(f)
		_ = f.Close()
		return nil, h, err
	}
	mine, err := f.Stat()
	if err == nil {
		var there fs.FileInfo
		if there, err = os.Lstat(name); err == nil && !os.SameFile(mine, there) {
			err = fs.ErrNotExist
		}
	}
	if err != nil {
		_ = f.Close()
		return nil, Holder{}, err
	}
	return &Lock{file: f, dir: dir}, readHolder(f), nil
}

// readHolder reads who signed a lock file; nobody when that cannot be read.
func readHolder(f *os.File) Holder {
	var h Holder
	data, err := io.ReadAll(io.NewSectionReader(f, 0, maxHolder))
	if err != nil || json.Unmarshal(data, &h) != nil {
		return Holder{}
	}
	return h
}

func (l *Lock) sign(h Holder) error {
	data, err := json.Marshal(h)
	if err != nil {
		return err
	}
	return firstError(
		func() error { return l.file.Truncate(0) },
		func() error { _, err := l.file.WriteAt(append(data, '\n'), 0); return err },
	)
}

const (
	turnName  = "turn"
	turnWait  = 5 * time.Millisecond
	turnTries = 400
)

// takeTurn waits until no other program saves beside dir. Where that cannot be
// told, or somebody takes seconds, the save goes on without: it looks at the
// file once more in any case. The file stays, because taking it away would let
// two in.
func takeTurn(dir string) (done func()) {
	name := filepath.Join(dir, turnName)
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return func() {}
	}
	f, err := os.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return func() {}
	}
	for range turnTries {
		if err := lockFile(f); !errors.Is(err, errHeld) {
			break
		}
		time.Sleep(turnWait)
	}
	return func() { _ = f.Close() }
}

// Release gives the lock back. It may be called twice.
func (l *Lock) Release() error {
	if l == nil || l.file == nil {
		return nil
	}
	f := l.file
	l.file = nil
	// Taken away while still locked, where a system allows that, so that it is
	// never the next one's that goes.
	first := os.Remove(f.Name())
	err := f.Close()
	if first != nil {
		_ = os.Remove(f.Name())
	}
	_ = os.Remove(l.dir) // goes only when it is empty
	return err
}
