//go:build unix

package keep

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// told is what a run of the journal promised.
type told struct {
	tried [2][]Entry // before and after the save
	sure  [2]int     // how many of them, from the first, Append said are written
}

// drive edits, saves and edits on, as a session does, and goes on whatever
// fails.
func drive(d *badDisk, name string) (told, error) {
	var p told
	j, _, err := openOn(d, name, *sum("A"))
	if err != nil {
		return p, err
	}
	var bad []error
	add := func(part, n int) {
		p.tried[part] = append(p.tried[part], entry(n))
		if err := j.Append(entry(n)); err != nil {
			bad = append(bad, err)
			return
		}
		p.sure[part] = len(p.tried[part])
	}
	for n := 1; n <= 3; n++ {
		add(0, n)
	}
	bad = append(bad, j.Saving(*sum("B")), os.WriteFile(name, []byte("B"), 0o644), j.Reset(*sum("B")))
	for n := 4; n <= 6; n++ {
		add(1, n)
	}
	bad = append(bad, j.Sync())
	return p, errors.Join(bad...)
}

func leftBehind(how string) func(t *testing.T, name string) {
	return func(t *testing.T, name string) {
		switch how {
		case "foreign":
			j, _ := reopen(t, name, "Z")
			appendAll(t, j, entries(90, 91))
		case "damaged":
			j, _ := reopen(t, name, "A")
			appendAll(t, j, nil)
			require.NoError(t, j.Reset(*sum("A")))
			text := read(t, journalOf(name))
			write(t, journalOf(name), text+"bad line\nand more\n", 0o644)
		case "torn":
			j, _ := reopen(t, name, "A")
			require.NoError(t, j.Reset(*sum("A")))
			text := read(t, journalOf(name))
			write(t, journalOf(name), text+"0123", 0o644)
		}
	}
}

// Every single call is made to fail. What Append promised is there, in order
// and without a gap, and what an earlier run left is still somewhere.
func TestJournalSurvivesEveryFailure(t *testing.T) {
	shapes := []badDisk{
		{err: syscall.ENOSPC}, {err: syscall.EIO, half: true}, {err: io.ErrShortWrite, half: true, silent: true},
		{err: syscall.EIO, stays: true}, {err: syscall.ENOSPC, half: true, stays: true},
	}
	for _, start := range []string{"nothing", "foreign", "damaged", "torn"} {
		t.Run(start, func(t *testing.T) {
			name := build(t, "A")
			leftBehind(start)(t, name)
			good := &badDisk{}
			_, err := drive(good, name)
			require.NoError(t, err)
			for at := 1; at <= len(good.calls); at++ {
				for _, shape := range shapes {
					if shape.half && good.calls[at-1] != "write" {
						continue
					}
					d := shape
					d.failAt = at
					t.Run(fmt.Sprintf("%d %s half=%v stays=%v", at, good.calls[at-1], d.half, d.stays), func(t *testing.T) {
						name := build(t, "A")
						leftBehind(start)(t, name)
						p, err := drive(&d, name)
						require.NotEmpty(t, d.failed())
						if err != nil {
							assert.ErrorIs(t, err, d.err)
						}
						checkPromises(t, name, p)
						if start == "foreign" {
							assert.True(t, holds(t, name, entries(90, 91)), "the earlier run's edits")
						}
					})
				}
			}
		})
	}
}

func checkPromises(t *testing.T, name string, p told) {
	on, err := os.ReadFile(name)
	require.NoError(t, err)
	j, left := reopen(t, name, string(on))
	defer func() { require.NoError(t, j.Close()) }()
	got, tried, sure := []Entry(nil), p.tried[1], p.sure[1]
	if left != nil {
		got = left.Entries
		if string(on) == "B" && left.Base == *sum("A") { // neither Saving nor Reset could write
			tried, sure = append(p.tried[0], p.tried[1]...), p.sure[0]
			if p.sure[1] > 0 {
				sure = len(p.tried[0]) + p.sure[1]
			}
		}
		if left.Base == *sum("Z") {
			got = nil
		}
	}
	require.LessOrEqual(t, len(got), len(tried))
	require.GreaterOrEqual(t, len(got), sure)
	for i := range got {
		assert.Equal(t, tried[i], got[i])
	}
}

// holds reports whether the entries are in the journal or one put aside.
func holds(t *testing.T, name string, want []Entry) bool {
	all, err := Aside(name)
	require.NoError(t, err)
	if _, left := reopen(t, name, "Z"); left != nil {
		all = append(all, *left)
	}
	for _, left := range all {
		if assert.ObjectsAreEqual(want, left.Entries) {
			return true
		}
	}
	return false
}

// A disk that was full for a while: the edits of that time follow, in order.
func TestJournalCatchesUp(t *testing.T) {
	name := build(t, "A")
	d := &badDisk{err: syscall.ENOSPC, half: true}
	j, _, err := openOn(d, name, *sum("A"))
	require.NoError(t, err)
	appendAll(t, j, entries(1, 2))
	d.failAt, d.stays = len(d.calls)+1, true // the next call is the write
	for n := 3; n <= 5; n++ {
		err := j.Append(entry(n))
		require.ErrorIs(t, err, syscall.ENOSPC)
		assert.Equal(t, "the last edit of "+name+" is not in the journal: the disk is full; free some space, then try again; "+
			"the edit itself stands, save the file so that no crash can lose it", err.Error())
		_, left := reopen(t, name, "A")
		assert.Equal(t, entries(1, 2), left.Entries)
		assert.False(t, left.Torn, "the half line was taken back")
	}
	d.failAt = 0
	appendAll(t, j, entries(6, 6))
	_, left := reopen(t, name, "A")
	assert.Equal(t, entries(1, 6), left.Entries)

	d.failAt = len(d.calls) + 1
	require.Error(t, j.Append(entry(7)))
	d.failAt = 0
	require.NoError(t, j.Close(), "closing tries once more")
	_, left = reopen(t, name, "A")
	assert.Equal(t, entries(1, 7), left.Entries)
}

// An append is one write and nothing that waits for the disk.
func TestAppendIsOneWrite(t *testing.T) {
	name := build(t, "A")
	d := &badDisk{}
	j, _, err := openOn(d, name, *sum("A"))
	require.NoError(t, err)
	require.NoError(t, j.Append(entry(1)))
	assert.NotContains(t, d.calls, "sync")
	d.calls = nil
	require.NoError(t, j.Append(entry(2)))
	assert.Equal(t, []string{"write"}, d.calls)
	d.calls = nil
	require.NoError(t, j.Saving(*sum("B")))
	assert.Equal(t, []string{"write", "sync"}, d.calls, "before a save the disk has it all")
}

// The old journal goes on when no new one could be started, and what is saved
// stays apart from what is not.
func TestAfterFailedReset(t *testing.T) {
	for _, call := range []string{"create", "rename", "syncdir"} {
		t.Run(call, func(t *testing.T) {
			name := build(t, "A")
			d := &badDisk{err: syscall.EIO}
			j, _, err := openOn(d, name, *sum("A"))
			require.NoError(t, err)
			appendAll(t, j, entries(1, 2))
			d.before = func(kind string) {
				if kind == call && d.failAt == 0 {
					d.failAt = len(d.calls) + 1
				}
			}
			require.ErrorIs(t, j.Reset(*sum("B")), syscall.EIO)
			appendAll(t, j, entries(3, 4))
			_, left := reopen(t, name, "B")
			assert.Equal(t, entries(3, 4), left.Entries)
			assert.Equal(t, *sum("B"), left.Base)
		})
	}
}

// Carrying the journal over to another text leaves the old one or the new one,
// whichever call fails.
func TestRebaseSurvivesEveryFailure(t *testing.T) {
	one, two := sha256.Sum256([]byte("one")), sha256.Sum256([]byte("two"))
	mine := Entry{Time: noon, Op: OpDo, Label: "mine", Edits: []byte("[]")}
	carried := Entry{Time: noon, Op: OpDo, Label: "carried", Edits: []byte("[]")}
	for at := 1; ; at++ {
		name := filepath.Join(t.TempDir(), "build.toml")
		write(t, name, "one", 0o644)
		d := &badDisk{err: syscall.ENOSPC}
		j, _, err := openOn(d, name, one)
		require.NoError(t, err)
		require.NoError(t, j.Append(mine))
		d.failAt = len(d.calls) + at
		err = j.Rebase(two, []Entry{carried})
		reached := d.failed() != ""
		_, left, oerr := Open(name, two)
		require.NoError(t, oerr)
		require.NotNil(t, left)
		require.Len(t, left.Entries, 1, "failing %s", d.failed())
		if err == nil || left.Base == two {
			assert.Equal(t, "carried", left.Entries[0].Label)
		} else {
			assert.Equal(t, one, left.Base)
			assert.Equal(t, "mine", left.Entries[0].Label)
		}
		if !reached {
			require.NoError(t, err)
			break
		}
	}
}
