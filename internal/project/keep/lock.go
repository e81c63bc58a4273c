package keep

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

const (
	lockName  = "lock"
	whoName   = "lock.who" // apart from the lock, whose bytes others cannot read on some systems
	maxHolder = 4 << 10    // bytes
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
	lock *flock.Flock
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
	l, err := openLock(filepath.Join(dir, lockName), 0o644)
	if err != nil {
		return nil, Holder{}, err
	}
	who := filepath.Join(dir, whoName)
	got, err := l.TryLock()
	if err != nil {
		return nil, Holder{}, err
	}
	if !got {
		_ = l.Close()
		return nil, readHolder(who), errHeld
	}
	mine, err := l.Stat()
	if err == nil {
		var there fs.FileInfo
		if there, err = os.Lstat(l.Path()); err == nil && !os.SameFile(mine, there) {
			err = fs.ErrNotExist
		}
	}
	if err != nil {
		_ = l.Unlock()
		return nil, Holder{}, err
	}
	return &Lock{lock: l, dir: dir}, readHolder(who), nil
}

// openLock is the lock on the file called name, not taken yet.
func openLock(name string, mode fs.FileMode) (*flock.Flock, error) {
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return nil, errInTheWay
	}
	return flock.New(name, flock.SetFlag(os.O_RDWR|os.O_CREATE), flock.SetPermissions(mode)), nil
}

// readHolder reads who signed a lock; nobody when that cannot be read.
func readHolder(name string) Holder {
	info, err := os.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return Holder{}
	}
	f, err := os.Open(name)
	if err != nil {
		return Holder{}
	}
	defer func() { _ = f.Close() }()
	var h Holder
	data, err := io.ReadAll(io.LimitReader(f, maxHolder))
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
	name := filepath.Join(l.dir, whoName)
	if info, err := os.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return errInTheWay
	}
	return os.WriteFile(name, append(data, '\n'), 0o644)
}

const (
	turnName = "turn"
	turnStep = 5 * time.Millisecond
	turnWait = 2 * time.Second
)

// takeTurn makes the hidden folder of target and waits until no other program
// saves there. Where that cannot be told, or somebody takes seconds, the save
// goes on without: it looks at the file once more in any case. The lock's file
// stays, because taking it away would let two in.
func takeTurn(d disk, target string, like fs.FileInfo) (dir string, done func(), err error) {
	for range lockTries {
		if dir, err = makeSidecar(d, target, like); err != nil {
			return "", nil, err
		}
		l, bad := openLock(filepath.Join(dir, turnName), 0o600)
		if bad != nil {
			return dir, func() {}, nil
		}
		ctx, cancel := context.WithTimeout(context.Background(), turnWait)
		_, bad = l.TryLockContext(ctx, turnStep)
		cancel()
		if errors.Is(bad, fs.ErrNotExist) {
			continue // whoever was here before has taken the empty folder away
		}
		return dir, func() { _ = l.Unlock() }, nil
	}
	return dir, func() {}, nil
}

// Release gives the lock back. It may be called twice.
func (l *Lock) Release() error {
	if l == nil || l.lock == nil {
		return nil
	}
	k := l.lock
	l.lock = nil
	_ = os.Remove(filepath.Join(l.dir, whoName))
	// Taken away while still locked, where a system allows that, so that it is
	// never the next one's that goes.
	first := os.Remove(k.Path())
	err := k.Unlock()
	if first != nil {
		_ = os.Remove(k.Path())
	}
	_ = os.Remove(l.dir) // goes only when it is empty
	return err
}
