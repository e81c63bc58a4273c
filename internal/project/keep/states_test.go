package keep

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTheLastTenStatesAreKept(t *testing.T) {
	name := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, Save(name, []byte("state 0"), Options{New: true}))
	all, err := States(name)
	require.NoError(t, err)
	assert.Empty(t, all, "a new file has no earlier state")
	for n := 1; n <= 14; n++ {
		require.NoError(t, Save(name, fmt.Appendf(nil, "state %d", n), Options{}))
		require.NoError(t, Save(name, fmt.Appendf(nil, "state %d", n), Options{}), "the same again is no new state")
		all, err := States(name)
		require.NoError(t, err)
		require.Len(t, all, min(n, StatesKept))
		for i, s := range all {
			text, err := s.Text()
			require.NoError(t, err)
			assert.Equal(t, fmt.Sprintf("state %d", n-1-i), string(text))
			assert.Equal(t, i+1, s.N)
			assert.EqualValues(t, len(text), s.Size)
		}
	}
}

// A state is dated by when it was put on disk, not by when it was replaced.
func TestStatesAreDated(t *testing.T) {
	name := filepath.Join(t.TempDir(), "build.toml")
	write(t, name, "old", 0o644)
	then := time.Date(2026, 5, 14, 9, 30, 0, 0, time.UTC)
	require.NoError(t, os.Chtimes(name, then, then))
	require.NoError(t, Save(name, []byte("new"), Options{}))
	all, err := States(name)
	require.NoError(t, err)
	require.Len(t, all, 1)
	assert.True(t, then.Equal(all[0].Written))
}

// Between its two renames a killed save leaves the newest state under an older
// one's name; it is found, and the next save goes on from there.
func TestStatesAfterAKillBetweenRenames(t *testing.T) {
	name := filepath.Join(t.TempDir(), "build.toml")
	for _, s := range []string{"a", "b", "c"} {
		require.NoError(t, Save(name, []byte(s), Options{}))
	}
	require.NoError(t, os.Rename(filepath.Join(sidecar(name), beforeName), stateName(sidecar(name), 2)))
	before, err := Before(name)
	require.NoError(t, err)
	assert.Equal(t, "b", string(before))
	require.NoError(t, Save(name, []byte("d"), Options{}))
	all, err := States(name)
	require.NoError(t, err)
	var got []string
	for _, s := range all {
		text, err := s.Text()
		require.NoError(t, err)
		got = append(got, string(text))
	}
	assert.Equal(t, []string{"c", "b", "a"}, got)
}

func TestUndoIsKept(t *testing.T) {
	name := filepath.Join(t.TempDir(), "build.toml")
	write(t, name, "text", 0o640)
	data, err := ReadUndo(name)
	require.NoError(t, err)
	assert.Nil(t, data)
	require.NoError(t, Gate(nil).WriteUndo(name, []byte("steps")))
	data, err = ReadUndo(name)
	require.NoError(t, err)
	assert.Equal(t, "steps", string(data))
	require.NoError(t, Gate(nil).WriteUndo(name, make([]byte, maxUndo+1)))
	data, err = ReadUndo(name)
	require.NoError(t, err)
	assert.Nil(t, data, "too much is nothing, not a part")
	require.Error(t, Gate(nil).WriteUndo(filepath.Join(t.TempDir(), "none.toml"), nil))
}

func TestLock(t *testing.T) {
	name := filepath.Join(t.TempDir(), "build.toml")
	write(t, name, "text", 0o644)
	a, who, err := TakeLock(name, noon)
	require.NoError(t, err)
	require.Nil(t, who)
	require.NotNil(t, a)

	b, who, err := TakeLock(name, noon.Add(time.Hour))
	require.NoError(t, err)
	require.Nil(t, b, "it is taken")
	require.NotNil(t, who)
	assert.Equal(t, os.Getpid(), who.PID)
	assert.True(t, noon.Equal(who.Since))
	assert.Contains(t, who.String(), fmt.Sprintf("process %d", os.Getpid()))

	require.NoError(t, a.Release())
	require.NoError(t, a.Release())
	assert.NoDirExists(t, sidecar(name), "nothing is left beside the file")
	b, who, err = TakeLock(name, noon)
	require.NoError(t, err)
	assert.Nil(t, who)
	require.NotNil(t, b)
	require.NoError(t, b.Release())
}

// What a crash left is no lock; what another computer left is worth a word.
func TestStaleLocksDoNotBlock(t *testing.T) {
	host, err := os.Hostname()
	require.NoError(t, err)
	for text, told := range map[string]bool{
		fmt.Sprintf(`{"pid":1,"host":%q,"since":"2026-05-14T09:00:00Z"}`, host): false,
		`{"pid":77,"host":"bench-2\u001b[2J","since":"2026-05-14T09:00:00Z"}`:   true,
		"half a li": false,
		"":          false,
	} {
		name := filepath.Join(t.TempDir(), "build.toml")
		write(t, name, "text", 0o644)
		require.NoError(t, os.Mkdir(sidecar(name), 0o755))
		write(t, filepath.Join(sidecar(name), whoName), text, 0o644)
		l, who, err := TakeLock(name, noon)
		require.NoError(t, err)
		require.NotNil(t, l, "%q stands in nobody's way", text)
		if told {
			require.NotNil(t, who)
			assert.Equal(t, 77, who.PID)
			assert.NotContains(t, who.String(), "\x1b")
		} else {
			assert.Nil(t, who)
		}
		require.NoError(t, l.Release())
	}
}

func TestNoLockWhereThereIsNoFile(t *testing.T) {
	l, who, err := TakeLock(filepath.Join(t.TempDir(), "none.toml"), noon)
	require.Error(t, err)
	assert.Nil(t, l)
	assert.Nil(t, who)
}

func TestRebase(t *testing.T) {
	name := filepath.Join(t.TempDir(), "build.toml")
	write(t, name, "one", 0o644)
	j, _, err := Open(name, sha256.Sum256([]byte("one")))
	require.NoError(t, err)
	entry := func(label string) Entry {
		return Entry{Time: noon, Op: OpDo, Label: label, Edits: []byte("[]")}
	}
	require.NoError(t, j.Append(entry("mine")))
	two := sha256.Sum256([]byte("two"))
	require.NoError(t, j.Rebase(two, []Entry{entry("carried over")}))
	require.NoError(t, j.Append(entry("next")))
	require.NoError(t, j.Close())
	_, left, err := Open(name, two)
	require.NoError(t, err)
	require.NotNil(t, left)
	require.Len(t, left.Entries, 2)
	assert.Equal(t, two, left.Base)
	assert.Equal(t, "carried over", left.Entries[0].Label)
	assert.Equal(t, "next", left.Entries[1].Label)
	old, err := Aside(name)
	require.NoError(t, err)
	assert.Empty(t, old)
}
