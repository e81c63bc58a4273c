//go:build unix

package keep

import (
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inTime fails instead of hanging for ever, which is what a pipe would do.
func inTime(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() {
		defer close(done)
		do()
	}()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		require.Fail(t, "it hangs", what)
	}
}

// A pipe, or a link to a device, under any name that lies in the hidden folder
// keeps nothing waiting.
func TestStrangersInTheHiddenFolderHangNothing(t *testing.T) {
	for _, stranger := range []string{"pipe", "device"} {
		for _, name := range []string{beforeName, beforeName + ".1", journalName, undoName, droppedName, lockName, whoName, turnName} {
			t.Run(stranger+" "+name, func(t *testing.T) {
				path := build(t, "one")
				require.NoError(t, os.Mkdir(sidecar(path), 0o755))
				at := filepath.Join(sidecar(path), name)
				if stranger == "pipe" {
					require.NoError(t, syscall.Mkfifo(at, 0o644))
				} else {
					require.NoError(t, os.Symlink("/dev/zero", at))
				}
				inTime(t, "all that is done with a file", func() {
					l, _, _ := TakeLock(path, noon)
					defer func() { _ = l.Release() }()
					_, _ = States(path)
					_, _ = Before(path)
					_, _ = ReadUndo(path)
					j, _, err := Open(path, *sum("one"))
					if err == nil {
						_ = j.Append(entry(1))
						_ = j.Sync()
					}
					assert.NoError(t, Save(path, []byte("two"), Options{Expect: sum("one")}))
					_ = Gate(nil).WriteUndo(path, []byte("steps"))
					assert.NoError(t, Gate(nil).KeepDropped(path, []byte("three"), noon))
				})
				assert.Equal(t, "two", read(t, path))
				before, err := Before(path)
				require.NoError(t, err)
				assert.Equal(t, "three", string(before))
			})
		}
	}
}

// A journal that becomes a pipe while it is in use is noticed as well.
func TestJournalThatBecomesAPipe(t *testing.T) {
	path := build(t, "one")
	j, _ := reopen(t, path, "one")
	require.NoError(t, j.Append(entry(1)))
	require.NoError(t, os.Remove(journalOf(path)))
	require.NoError(t, syscall.Mkfifo(journalOf(path), 0o600))
	assert.True(t, j.Lost())
	j.release()
	inTime(t, "the next edit", func() { assert.Error(t, j.Append(entry(2))) })
}

// A mode made stricter later holds for all that lies beside the file.
func TestStricterModeIsFollowed(t *testing.T) {
	path := build(t, "one")
	require.NoError(t, os.Chmod(path, 0o664))
	j, _ := reopen(t, path, "one")
	require.NoError(t, j.Append(entry(1)))
	require.NoError(t, Save(path, []byte("two"), Options{}))
	require.NoError(t, Gate(nil).WriteUndo(path, []byte("steps")))
	require.NoError(t, j.Close())

	require.NoError(t, os.Chmod(path, 0o600))
	l, _, err := TakeLock(path, noon) // as at the next start
	require.NoError(t, err)
	defer func() { require.NoError(t, l.Release()) }()
	info, err := os.Stat(sidecar(path))
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o700), info.Mode().Perm())
	for _, name := range []string{beforeName, journalName, undoName} {
		info, err := os.Stat(filepath.Join(sidecar(path), name))
		require.NoError(t, err)
		assert.Zero(t, info.Mode().Perm()&0o077, name)
	}

	require.NoError(t, os.Chmod(path, 0o644))
	require.NoError(t, Save(path, []byte("three"), Options{}))
	info, err = os.Stat(sidecar(path))
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o700), info.Mode().Perm(), "what was made private stays so")
}

func TestNames(t *testing.T) {
	path := build(t, "one")
	assert.Equal(t, 1, Names(path))
	other := filepath.Join(t.TempDir(), "other.toml")
	if os.Link(path, other) != nil {
		t.Skip("this disk has no hard links")
	}
	assert.Equal(t, 2, Names(path))
	require.NoError(t, Save(path, []byte("two"), Options{}))
	assert.Equal(t, 1, Names(path), "a save parts them")
	assert.Equal(t, "one", read(t, other))
	assert.Equal(t, 1, Names(filepath.Join(t.TempDir(), "none")))
}
