package keep

import (
	"errors"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slowDisk is a disk on which each sync of a file waits to be let go.
type slowDisk struct {
	osDisk
	began   chan struct{}
	letGo   chan error // what the sync ends with
	mu      sync.Mutex
	folders int
}

func newSlowDisk() *slowDisk {
	return &slowDisk{began: make(chan struct{}), letGo: make(chan error)}
}

func (d *slowDisk) OpenAppend(name string) (file, error) {
	f, err := d.osDisk.OpenAppend(name)
	return slowFile{f, d}, err
}

func (d *slowDisk) SyncDir(name string) error {
	d.mu.Lock()
	d.folders++
	d.mu.Unlock()
	return d.osDisk.SyncDir(name)
}

type slowFile struct {
	file
	d *slowDisk
}

func (f slowFile) Sync() error {
	f.d.began <- struct{}{}
	return <-f.d.letGo
}

// startSync starts a sync and returns what tells how it ended.
func startSync(j *Journal) chan error {
	out := make(chan error, 1)
	go func() { out <- j.Sync() }()
	return out
}

// An edit does not wait for a sync that is under way, syncs wait for one another
// and are shared, and what is safe already is not waited for.
func TestOneSyncForManyEntries(t *testing.T) {
	name := build(t, "A")
	d := newSlowDisk()
	j, _, err := openOn(d, name, *sum("A"))
	require.NoError(t, err)
	require.NoError(t, j.Append(entry(1)))
	first := startSync(j)
	<-d.began
	require.NoError(t, j.Append(entry(2)), "while the disk is busy")
	var rest []chan error
	for range 5 {
		rest = append(rest, startSync(j))
	}
	select {
	case err := <-first:
		t.Fatalf("it did not wait for the disk: %v", err)
	case err := <-rest[0]:
		t.Fatalf("said to be safe before the disk had it: %v", err)
	default:
	}
	d.letGo <- nil
	require.NoError(t, <-first)
	<-d.began // one more, for the second entry
	require.NoError(t, j.Append(entry(3)))
	last := startSync(j)
	d.letGo <- nil
	for _, r := range rest {
		select {
		case err := <-r:
			require.NoError(t, err)
		case <-d.began: // those that came after the third entry wait for it too
			d.letGo <- nil
			require.NoError(t, <-r)
		}
	}
	select {
	case err := <-last:
		require.NoError(t, err)
	case <-d.began:
		d.letGo <- nil
		require.NoError(t, <-last)
	}
	assert.Equal(t, 2, d.folders, "the folders once")
	require.NoError(t, j.Sync(), "nothing new, nothing to wait for")
	assert.Equal(t, 2, d.folders)
	_, left := reopen(t, name, "A")
	assert.Equal(t, entries(1, 3), left.Entries)
}

// A sync that went wrong is told to all that waited for it, and the next one
// tries again, folders and all.
func TestFailedSyncIsTold(t *testing.T) {
	d := newSlowDisk()
	j, _, err := openOn(d, build(t, "A"), *sum("A"))
	require.NoError(t, err)
	require.NoError(t, j.Append(entry(1)))
	first := startSync(j)
	<-d.began
	second := startSync(j)
	bad := errors.New("no answer")
	d.letGo <- bad
	require.ErrorIs(t, <-first, bad)
	select { // it shared the first one or came after it
	case err := <-second:
		require.ErrorIs(t, err, bad)
	case <-d.began:
		d.letGo <- bad
		require.ErrorIs(t, <-second, bad)
	}
	before := d.folders
	third := startSync(j)
	<-d.began
	d.letGo <- nil
	require.NoError(t, <-third)
	assert.Equal(t, before+2, d.folders)
}

// What closes or replaces the journal waits for a sync that is under way, and an
// entry that comes meanwhile is not lost with it.
func TestResetWaitsForTheSync(t *testing.T) {
	for name, do := range map[string]func(*Journal) error{
		"reset": func(j *Journal) error { return j.Reset(*sum("B")) },
		"rebase": func(j *Journal) error {
			return j.Rebase(*sum("B"), nil)
		},
		"discard": (*Journal).Discard,
		"aside":   (*Journal).SetAside,
		"close":   (*Journal).Close,
	} {
		t.Run(name, func(t *testing.T) {
			d := newSlowDisk()
			j, _, err := openOn(d, build(t, "A"), *sum("A"))
			require.NoError(t, err)
			require.NoError(t, j.Append(entry(1)))
			syncs := startSync(j)
			<-d.began
			done := make(chan error, 1)
			go func() { done <- do(j) }()
			require.NoError(t, j.Append(entry(2)))
			select {
			case err := <-done:
				t.Fatalf("it did not wait: %v", err)
			default:
			}
			d.letGo <- nil
			require.NoError(t, <-syncs)
			require.NoError(t, <-done)
		})
	}
}
