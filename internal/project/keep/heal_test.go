//go:build unix

package keep

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The journal holds the text its entries are for, so that they can be merged
// with what somebody else has made of the file.
func TestJournalHoldsItsText(t *testing.T) {
	path := build(t, "one")
	j, _ := reopen(t, path, "one")
	j.Holds([]byte("one"))
	require.NoError(t, j.Append(entry(1)))
	write(t, path, "theirs", 0o644)
	_, left := reopen(t, path, "theirs")
	require.NotNil(t, left)
	assert.Equal(t, "one", string(left.Text))
	assert.Equal(t, *sum("one"), left.Base)

	j.Holds([]byte("another text than the hash is of"))
	require.NoError(t, j.Reset(*sum("two")))
	require.NoError(t, j.Append(entry(2)))
	_, left = reopen(t, path, "two")
	require.NotNil(t, left)
	assert.Nil(t, left.Text)
}

func TestLostJournal(t *testing.T) {
	path := build(t, "one")
	j, _ := reopen(t, path, "one")
	assert.False(t, j.Lost(), "nothing is written yet")
	require.NoError(t, j.Append(entry(1)))
	assert.False(t, j.Lost())
	require.NoError(t, os.RemoveAll(sidecar(path)))
	assert.True(t, j.Lost())
	require.NoError(t, j.Rebase(*sum("one"), entries(1, 2)))
	assert.False(t, j.Lost())
	require.NoError(t, j.Append(entry(3)))
	_, left := reopen(t, path, "one")
	require.NotNil(t, left)
	assert.Len(t, left.Entries, 3)
}

// A rebase over a journal of another text leaves that journal in its place
// until the new one is there: no moment at which neither would be offered.
func TestRebaseOverAForeignJournal(t *testing.T) {
	path := build(t, "A")
	j, _ := reopen(t, path, "Z")
	require.NoError(t, j.Append(entry(1)))
	d := &badDisk{}
	d.before = func(call string) {
		assert.FileExists(t, journalOf(path), "before %s", call)
	}
	k, left, err := openOn(d, path, *sum("A"))
	require.NoError(t, err)
	require.NotNil(t, left)
	require.NoError(t, k.Rebase(*sum("A"), entries(7, 7)))
	_, left = reopen(t, path, "A")
	require.Len(t, left.Entries, 1)
	old, err := Aside(path)
	require.NoError(t, err)
	require.Len(t, old, 1)
	assert.Len(t, old[0].Entries, 1)
}

func TestDroppedWorkIsAnEarlierState(t *testing.T) {
	path := build(t, "one")
	require.NoError(t, Save(path, []byte("two"), Options{}))
	require.NoError(t, Gate(nil).KeepDropped(path, []byte("given up"), noon))
	require.NoError(t, Gate(nil).KeepDropped(path, []byte("two"), noon), "that is the file itself")
	require.NoError(t, Save(path, []byte("three"), Options{}))
	all, err := States(path)
	require.NoError(t, err)
	var got []string
	for _, s := range all {
		text, err := s.Text()
		require.NoError(t, err)
		got = append(got, string(text))
		assert.Equal(t, string(text) == "given up", s.Dropped)
		if s.Dropped {
			assert.True(t, s.Written.Equal(noon), "dated by when it was given up")
		}
	}
	assert.Equal(t, []string{"two", "given up", "one"}, got)

	for i := range 2 * StatesKept {
		require.NoError(t, Gate(nil).KeepDropped(path, []byte(strings.Repeat("x", i+1)), noon))
	}
	all, err = States(path)
	require.NoError(t, err)
	assert.Len(t, all, StatesKept)
	data, err := os.ReadFile(filepath.Join(sidecar(path), droppedName))
	require.NoError(t, err)
	assert.LessOrEqual(t, strings.Count(string(data), "\n"), StatesKept)
}
