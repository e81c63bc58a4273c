package keep

import (
	"io/fs"
	"path/filepath"
)

// syncing says how much of the journal the disk is known to have. Its numbers
// count writes.
type syncing struct {
	written, safe int
	folders       bool    // the names of the journal and of its folder may not be on disk yet
	run           *oneRun // the sync that is under way, nil when there is none
}

// oneRun is one wait for the disk, which others may wait for as well.
type oneRun struct {
	upTo int           // the writes it takes in
	done chan struct{} // closed when it has ended
	err  error         // how it ended, once done is closed
}

// Sync waits until the disk has every entry appended so far. While it waits,
// entries can be appended. Of several callers one waits for the disk at a time,
// and for all that had been written when it began; where nothing was written
// since the last time, nothing is done.
func (j *Journal) Sync() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.closed {
		return j.at.journalFault("written", fs.ErrClosed)
	}
	if err := j.flush(); err != nil {
		return j.at.journalFault("written", err)
	}
	want := j.sync.written
	for {
		var err error
		switch run := j.sync.run; {
		case run != nil:
			j.mu.Unlock()
			<-run.done
			j.mu.Lock()
			if run.upTo < want {
				continue
			}
			err = run.err
		case j.stands == ours && (j.sync.safe < want || j.sync.folders):
			err = j.syncNow()
		}
		if err != nil {
			return j.at.journalFault("written", err)
		}
		return nil
	}
}

// syncNow waits for the disk, without the lock, which is held before and after.
// The open file stays in its place meanwhile: see lockIdle.
func (j *Journal) syncNow() error {
	run := &oneRun{upTo: j.sync.written, done: make(chan struct{})}
	f, folders := j.f, j.sync.folders
	j.sync.run, j.sync.folders = run, false
	j.mu.Unlock()
	var steps []func() error
	if f != nil {
		steps = append(steps, f.Sync)
	}
	if folders {
		steps = append(steps, func() error { return j.d.SyncDir(filepath.Dir(j.name())) },
			func() error { return j.d.SyncDir(filepath.Dir(j.at.target)) })
	}
	run.err = firstError(steps...)
	j.mu.Lock()
	if run.err == nil {
		j.sync.safe = max(j.sync.safe, run.upTo)
	} else {
		j.sync.folders = j.sync.folders || folders
	}
	j.sync.run = nil
	close(run.done)
	return run.err
}

// lockIdle takes the lock when no sync is under way, for what closes or replaces
// the file. None can begin before the lock is given back.
func (j *Journal) lockIdle() {
	for j.mu.Lock(); j.sync.run != nil; j.mu.Lock() {
		run := j.sync.run
		j.mu.Unlock()
		<-run.done
	}
}
