package session

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sync/atomic"
	"testing"

	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// queued is a queue on the demo, and what it said of the journal.
type queued struct {
	*Queue
	t    *testing.T
	path string
	told []error
}

func queue(t *testing.T, path string, gates ...keep.Gate) *queued {
	t.Helper()
	s, left, err := Open(path, clock, gates...)
	require.NoError(t, err)
	require.Nil(t, left)
	q := &queued{t: t, path: path}
	q.Queue = NewQueue(s, func(err error) { q.told = append(q.told, err) })
	return q
}

func (q *queued) move(height float64) {
	q.t.Helper()
	edits, err := edit.MoveRow(q.Now(), 2, height)
	require.NoError(q.t, err)
	require.NoError(q.t, q.Do("rear mount", edits...))
}

func (q *queued) save(how SaveHow) *Saved {
	out := &Saved{Err: errors.New("not answered")}
	q.Save(how, func(s Saved) { *out = s })
	return out
}

// after is what a crash now would leave.
func (q *queued) after() string {
	q.t.Helper()
	s, left := open(q.t, q.path)
	if left != nil {
		require.True(q.t, left.Fits)
		require.NoError(q.t, s.Restore(left, edit.Neither).Err)
	}
	return string(s.Now().Bytes())
}

// What is asked for while a save is under way comes behind it.
func TestEditsBehindASave(t *testing.T) {
	q := queue(t, demo(t))
	q.move(-280)
	saved := string(q.Now().Bytes())
	out := q.save(SaveHow{})
	for i := range 12 { // more than the states that are held ready
		q.move(-281 - float64(i))
	}
	task := q.Next()
	require.Nil(t, q.Next(), "one at a time")
	assert.Equal(t, 13, q.Behind())
	task.Run()
	task.End()
	assert.Equal(t, 12, q.Behind())
	assert.Equal(t, string(starter.Demo()), disk(t, q.path))
	q.Settle()
	require.NoError(t, out.Err)
	assert.Equal(t, saved, disk(t, q.path), "what stood when it was asked for")
	assert.True(t, q.Unsaved())
	assert.Equal(t, string(q.Now().Bytes()), q.after())
	for range 12 {
		_, ok, err := q.Undo()
		require.NoError(t, err)
		require.True(t, ok)
	}
	assert.False(t, q.Unsaved(), "the saved state is known again")
	q.Settle()
	assert.Equal(t, []error{nil, nil, nil}, q.told)
}

func TestSaveWithNothingNew(t *testing.T) {
	q := queue(t, demo(t))
	out := q.save(SaveHow{})
	q.Settle()
	assert.Equal(t, Saved{Nothing: true}, *out)
	outsider(t, q.path, "setback = 260", "setback = 270")
	out = q.save(SaveHow{})
	q.Settle()
	require.ErrorIs(t, out.Err, keep.ErrChangedOutside)
	out = q.save(SaveHow{Force: true})
	q.Settle()
	require.NoError(t, out.Err)
	assert.Equal(t, string(starter.Demo()), disk(t, q.path))

	if os.Link(q.path, filepath.Join(t.TempDir(), "other.toml")) != nil {
		t.Skip("this disk has no hard links")
	}
	q.move(-280)
	out = q.save(SaveHow{})
	q.Settle()
	assert.Equal(t, Saved{Names: 2}, *out)
	assert.Equal(t, string(starter.Demo()), disk(t, q.path))
	out = q.save(SaveHow{Part: true})
	q.Settle()
	assert.Equal(t, Saved{}, *out)
	assert.Equal(t, string(q.Now().Bytes()), disk(t, q.path))
}

// Two saves in a row, the first of which has not been answered.
func TestTwoSaves(t *testing.T) {
	q := queue(t, demo(t))
	q.move(-280)
	first := q.save(SaveHow{})
	q.move(-270)
	second := q.save(SaveHow{})
	assert.True(t, q.Saving())
	q.Settle()
	require.NoError(t, first.Err)
	require.NoError(t, second.Err)
	assert.False(t, q.Saving())
	assert.False(t, q.Unsaved())
	assert.Equal(t, string(q.Now().Bytes()), disk(t, q.path))
}

// Somebody takes the hidden folder away. The journal is written anew with all
// that stands, and with a save that waits nothing is lost either.
func TestTheQueueHealsTheJournal(t *testing.T) {
	for _, save := range []bool{false, true} {
		q := queue(t, demo(t))
		q.move(-280)
		q.Settle()
		require.NoError(t, os.RemoveAll(filepath.Join(filepath.Dir(q.path), ".build.toml.fitup")))
		q.move(-281)
		out := &Saved{}
		if save {
			out = q.save(SaveHow{})
		}
		q.move(-282)
		task := q.Next()
		q.move(-283)
		task.Run()
		task.End()
		q.Settle()
		require.NoError(t, out.Err)
		assert.Equal(t, string(q.Now().Bytes()), q.after())
		for _, err := range q.told {
			require.NoError(t, err)
		}
		q.move(-284)
		q.Settle()
		assert.Equal(t, string(q.Now().Bytes()), q.after())
	}
}

// A journal that cannot be written anew is tried again at the next edit, with all
// that stands.
func TestTheQueueTriesTheJournalAgain(t *testing.T) {
	var full atomic.Bool
	q := queue(t, demo(t), func(step, _ string) error {
		if full.Load() && step == "create" {
			return errors.New("no room")
		}
		return nil
	})
	q.move(-280)
	q.Settle()
	outsider(t, q.path, "setback = 260", "setback = 270")
	full.Store(true)
	var out Outside
	q.Alone(func(s *Session) { out = s.TakeOutside(edit.Neither) }, func() {})
	q.Settle()
	require.Equal(t, Merged, out.Outcome)
	var je *JournalError
	require.ErrorAs(t, out.Err, &je)
	q.move(-281)
	q.Settle()
	require.ErrorAs(t, q.told[len(q.told)-1], &je)
	full.Store(false)
	q.move(-282)
	q.Settle()
	require.NoError(t, q.told[len(q.told)-1])
	assert.Contains(t, q.after(), "setback = 270")
	assert.Equal(t, string(q.Now().Bytes()), q.after())
}

// The session is lent and comes back; what was queued before is done before.
func TestTheSessionIsLent(t *testing.T) {
	q := queue(t, demo(t))
	q.move(-280)
	out := q.save(SaveHow{})
	back := false
	q.Alone(func(s *Session) {
		assert.False(t, s.Unsaved(), "the save came first")
	}, func() { back = true })
	for i := 0; q.Busy(); i++ {
		task := q.Next()
		assert.Equal(t, i == 2, q.Lent())
		task.Run()
		task.End()
	}
	assert.True(t, back)
	assert.False(t, q.Lent())
	require.NoError(t, out.Err)
}

// A fault in a task keeps the next ones from nothing.
func TestAFaultInATask(t *testing.T) {
	q := queue(t, demo(t))
	q.Alone(func(*Session) { panic("a bent needle") }, func() { t.Error("it did not come to its end") })
	q.move(-280)
	assert.Panics(t, q.Next().Run)
	q.Settle()
	assert.Equal(t, string(q.Now().Bytes()), q.after())
}

// The other program closes the file while this one looks on; work that was begun
// here meanwhile is not overrun.
func TestTheQueueTakesOver(t *testing.T) {
	path := demo(t)
	first, _, err := OpenShared(path, clock)
	require.NoError(t, err)
	s, _, err := OpenShared(path, clock)
	require.NoError(t, err)
	q := &queued{t: t, path: path, Queue: NewQueue(s, func(error) {})}
	taken, freed := 0, 0
	try := func() {
		q.TakeOver(func() { freed++ }, func(_ *Leftover, ok bool) {
			if ok {
				taken++
			}
		})
	}
	try()
	q.Settle()
	assert.Zero(t, freed, "the other has it")
	require.NoError(t, first.Close())
	q.EditAnyway()
	try()
	q.move(-280)
	q.Settle()
	assert.Equal(t, []int{1, 0}, []int{freed, taken})
	_, _, _ = q.Undo()
	try()
	q.Settle()
	assert.Equal(t, []int{2, 1}, []int{freed, taken})
	assert.Nil(t, q.Holder())
	q.move(-280)
	q.Settle()
	assert.Equal(t, string(q.Now().Bytes()), q.after())
}

// The program ends at every single step on the disk: the file is what was last
// saved or what was being saved, and what comes back is a state that there was,
// no older than the last one that was acknowledged.
func TestTheQueueSurvivesAnEndAtEveryStep(t *testing.T) {
	for n := 0; ; n++ {
		if done := endAt(t, n); done {
			require.Greater(t, n, 60)
			return
		}
	}
}

// endAt works until n steps on the disk are done, after which none is. It reports
// whether the work was finished before.
func endAt(t *testing.T, n int) bool {
	steps, ended, begun := 0, false, false
	q := queue(t, light(t), func(string, string) error {
		if !begun {
			return nil
		}
		if steps++; steps > n {
			ended = true
			return errors.New("the program is gone")
		}
		return nil
	})
	begun = true
	texts, safe := []string{string(q.Now().Bytes())}, 0
	saved, asked := texts[0], []string(nil)
	end := func() {
		q.Settle()
		if !ended {
			safe = len(texts) - 1
		}
	}
	for i := range 16 {
		switch {
		case i%5 == 3:
			asked = append(asked, texts[len(texts)-1])
			out := q.save(SaveHow{})
			if i%2 == 0 { // an edit behind a save that is not answered
				q.move(-250 + float64(i))
				texts = append(texts, string(q.Now().Bytes()))
			}
			q.Settle()
			if out.Err == nil && !ended {
				saved, asked = asked[len(asked)-1], nil
			}
		case i%7 == 6:
			_, _, err := q.Undo()
			require.NoError(t, err)
		default:
			q.move(-280 + float64(i))
		}
		texts = append(texts, string(q.Now().Bytes()))
		if i%3 != 1 {
			end()
		}
	}
	end()
	file := disk(t, q.path)
	require.True(t, file == saved || slices.Contains(asked, file), "after %d steps the file is neither old nor new", n)
	require.True(t, slices.Contains(texts[safe:], q.after()), fmt.Sprintf("after %d steps what comes back is none of the last states", n))
	return !ended
}

// A word to the journal can be begun early, but never before what was asked for before it.
func TestTheJournalIsWrittenAhead(t *testing.T) {
	q := queue(t, demo(t))
	assert.Nil(t, q.Ahead())
	q.move(-280)
	task := q.Ahead()
	require.NotNil(t, task)
	assert.Nil(t, q.Ahead(), "one at a time")
	q.move(-281)
	assert.Nil(t, q.Ahead())
	task.Run()
	task.End()
	assert.Equal(t, 1, q.Behind())
	q.Settle()
	q.save(SaveHow{})
	q.move(-282)
	assert.Nil(t, q.Ahead(), "a save has the session first")
	q.Settle()
	assert.Equal(t, string(q.Now().Bytes()), q.after())
}
