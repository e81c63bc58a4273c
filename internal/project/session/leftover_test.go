package session

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ofAnother is a build whose rear mount was moved to -288 and not saved, and
// which somebody else has set to -250 since.
func ofAnother(t *testing.T) (path, theirs string) {
	path = demo(t)
	s, _ := open(t, path)
	move(t, s, -288)
	return path, outsider(t, path, "rear = -289.5", "rear = -250 ")
}

const bothSay = "rear mount: yours -288.0 mm, theirs -250 mm"

// Work that was left over is merged with what somebody else wrote meanwhile, and
// their value is not overwritten unasked, however often the program is killed
// while it asks.
func TestLeftoverMeetsSomebodyElsesValue(t *testing.T) {
	path, theirs := ofAnother(t)
	for range 3 { // each time killed while the question is up
		s, left := open(t, path)
		require.NotNil(t, left)
		require.False(t, left.Fits)
		done := s.Restore(left, edit.Neither)
		require.NoError(t, done.Err)
		require.True(t, done.Asked)
		require.Len(t, done.Clashes, 1)
		assert.Equal(t, bothSay, done.Clashes[0].String())
		assert.Equal(t, theirs, string(s.Now().Bytes()), "nothing was done")
		assert.Equal(t, theirs, disk(t, path))
	}
	for side, want := range map[edit.Whose]string{edit.Mine: "rear = -288.0", edit.Theirs: "rear = -250 "} {
		path, theirs := ofAnother(t)
		s, left := open(t, path)
		require.True(t, s.Restore(left, edit.Neither).Asked)
		require.NoError(t, s.Restore(left, side).Err)
		assert.Contains(t, string(s.Now().Bytes()), want)
		assert.Equal(t, theirs, disk(t, path), "nothing is written unasked")
		if side == edit.Theirs {
			_, again := open(t, path)
			assert.Nil(t, again, "nothing is left")
			all, err := keep.States(path)
			require.NoError(t, err)
			require.NotEmpty(t, all)
			assert.True(t, all[0].Dropped)
			text, err := all[0].Text()
			require.NoError(t, err)
			assert.Contains(t, string(text), "rear = -288.0", "what was given up is an earlier state")
			continue
		}
		again, left := open(t, path) // killed right after
		require.NotNil(t, left)
		assert.True(t, left.Fits)
		require.NoError(t, again.Restore(left, edit.Neither).Err)
		assert.Equal(t, string(s.Now().Bytes()), string(again.Now().Bytes()))
	}
}

// Killed while a running bench asks about a value that both changed.
func TestKilledWhileTheClashIsUp(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -288)
	require.NoError(t, s.Do("name", edit.Edit{Op: edit.OpSet, Path: "name", Text: `"mine"`}))
	outsider(t, path, "rear = -289.5", "rear = -250 ")
	require.Equal(t, Clashed, s.TakeOutside(edit.Neither).Outcome)

	s, left := open(t, path)
	done := s.Restore(left, edit.Neither)
	require.True(t, done.Asked)
	require.Len(t, done.Clashes, 1, "the name was changed by one side only")
	assert.Equal(t, bothSay, done.Clashes[0].String())
	require.NoError(t, s.Restore(left, edit.Theirs).Err)
	assert.Contains(t, string(s.Now().Bytes()), "rear = -250 ")
	assert.Contains(t, string(s.Now().Bytes()), `name = "mine"`)
}

// A journal that does not hold its text, and a file of which nobody has that
// text either: all that the edits would change is asked about.
func TestLeftoverOfATextThatNobodyHas(t *testing.T) {
	path, theirs := ofAnother(t)
	j, left, err := keep.Open(path, sha256.Sum256([]byte(theirs)))
	require.NoError(t, err)
	require.NotNil(t, left.Text)
	require.NoError(t, j.Discard())
	j, _, err = keep.Open(path, left.Base) // one of before texts were held
	require.NoError(t, err)
	for _, e := range left.Entries {
		require.NoError(t, j.Append(e))
	}

	s, l := open(t, path)
	done := s.Restore(l, edit.Neither)
	require.True(t, done.Asked)
	require.Len(t, done.Clashes, 1)
	assert.Equal(t, bothSay, done.Clashes[0].String())
	assert.Equal(t, theirs, string(s.Now().Bytes()))
	require.NoError(t, s.Restore(l, edit.Mine).Err)
	assert.Contains(t, string(s.Now().Bytes()), "rear = -288.0")
	_, l = open(t, path)
	require.NotNil(t, l)
	assert.True(t, l.Fits)
}

// Nothing unsaved, nothing offered: closed or killed.
func TestNothingUnsavedIsNothingOffered(t *testing.T) {
	for name, work := range map[string]func(t *testing.T, s *Session){
		"undone": func(t *testing.T, s *Session) { move(t, s, -288); undo(t, s) },
		"there and back": func(t *testing.T, s *Session) {
			edits, err := edit.MoveRow(s.Now(), 2, -288)
			require.NoError(t, err)
			before := s.Now()
			require.NoError(t, s.Do("there", edits...))
			require.NoError(t, s.Do("back", edit.Splice(s.Now(), before)))
		},
		"undone behind a save and done again": func(t *testing.T, s *Session) {
			move(t, s, -288)
			require.NoError(t, s.Save(false))
			undo(t, s)
			_, _, err := s.Redo()
			require.NoError(t, err)
		},
	} {
		for _, closed := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s, closed %v", name, closed), func(t *testing.T) {
				path := demo(t)
				s, _ := open(t, path)
				work(t, s)
				assert.False(t, s.Unsaved())
				if closed {
					require.NoError(t, s.Close())
				}
				_, left := open(t, path)
				assert.Nil(t, left)
			})
		}
	}
}

// Leftover work that is not answered stays, also when the sitting is closed.
func TestUnansweredWorkStays(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -288)
	for range 2 {
		s, left := open(t, path)
		require.NotNil(t, left)
		require.NoError(t, s.Close())
	}
}

// The hidden folder is taken away while the file is open: from the next edit on
// everything is safe again, also what was done before.
func TestHiddenFolderTakenAway(t *testing.T) {
	path := demo(t)
	s, _, err := OpenShared(path, clock)
	require.NoError(t, err)
	move(t, s, -288)
	require.NoError(t, os.RemoveAll(filepath.Join(filepath.Dir(path), ".build.toml.fitup")))
	move(t, s, -287)
	move(t, s, -286)
	want := string(s.Now().Bytes())
	other, _, err := OpenShared(path, clock)
	require.NoError(t, err)
	assert.True(t, other.Looking(), "the lock is there again")

	again, left := open(t, path)
	require.NotNil(t, left)
	assert.Equal(t, 3, left.Entries)
	require.NoError(t, again.Restore(left, edit.Neither).Err)
	assert.Equal(t, want, string(again.Now().Bytes()))
}

func TestDroppedWorkIsKept(t *testing.T) {
	newest := func(path string) string {
		all, err := keep.States(path)
		require.NoError(t, err)
		require.NotEmpty(t, all)
		assert.True(t, all[0].Dropped)
		text, err := all[0].Text()
		require.NoError(t, err)
		return string(text)
	}
	for name, drop := range map[string]func(t *testing.T, s *Session, path string){
		"on the way out": func(t *testing.T, s *Session, _ string) { require.NoError(t, s.Discard()) },
		"for the file on disk": func(t *testing.T, s *Session, path string) {
			outsider(t, path, "setback = 260", "setback = 270")
			require.NoError(t, s.Reload())
		},
		"for their value": func(t *testing.T, s *Session, path string) {
			outsider(t, path, "rear = -289.5", "rear = -250 ")
			require.Equal(t, Merged, s.TakeOutside(edit.Theirs).Outcome)
		},
		"at the next start": func(t *testing.T, _ *Session, path string) {
			s, left := open(t, path)
			require.NoError(t, s.Drop(left))
		},
		"at the next start, of another text": func(t *testing.T, _ *Session, path string) {
			outsider(t, path, "rear = -289.5", "rear = -250 ")
			s, left := open(t, path)
			require.NoError(t, s.Drop(left))
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := demo(t)
			s, _ := open(t, path)
			move(t, s, -288)
			work := string(s.Now().Bytes())
			drop(t, s, path)
			assert.Equal(t, work, newest(path))
			_, left := open(t, path)
			assert.Nil(t, left)
		})
	}
}

// Eight commands at once: each gets its turn, and none is refused.
func TestEightChangesAtOnce(t *testing.T) {
	path := demo(t)
	f, err := project.Load(path)
	require.NoError(t, err)
	before := len(f.Build.Readings)
	var all sync.WaitGroup
	errs := make([]error, 8)
	for i := range errs {
		all.Go(func() {
			_, errs[i] = Change(path, clock, "reading", func(f *project.File) ([]edit.Edit, error) {
				e, err := edit.AddReading(f, edit.TypedReading{
					Of: "powertrain", On: project.Along, Shown: fmt.Sprintf("3.%d deg", i), Lower: project.RearEnd, After: project.Hung,
				}, clock())
				return []edit.Edit{e}, err
			})
		})
	}
	all.Wait()
	for _, err := range errs {
		assert.NoError(t, err)
	}
	f, err = project.Load(path)
	require.NoError(t, err)
	assert.Len(t, f.Build.Readings, before+8)
	states, err := keep.States(path)
	require.NoError(t, err)
	seen := map[string]bool{}
	for _, s := range states {
		text, err := s.Text()
		require.NoError(t, err)
		assert.False(t, seen[string(text)], "an earlier state is kept twice")
		seen[string(text)] = true
	}
	assert.Len(t, states, 8)
}

func TestSaveUnderAnotherName(t *testing.T) {
	path := demo(t)
	s, _, err := OpenShared(path, clock)
	require.NoError(t, err)
	move(t, s, -288)
	work := string(s.Now().Bytes())
	other := filepath.Join(filepath.Dir(path), "other.toml")
	require.NoError(t, os.WriteFile(other, []byte("theirs"), 0o644))
	require.ErrorIs(t, s.SaveAs(other), keep.ErrExists)
	assert.Equal(t, path, s.Path())
	assert.True(t, s.Unsaved())
	require.NoError(t, os.Remove(other))

	require.NoError(t, s.SaveAs(other))
	assert.Equal(t, work, disk(t, other))
	assert.Equal(t, string(starter.Demo()), disk(t, path), "the file so far stays")
	assert.Equal(t, other, s.Path())
	assert.False(t, s.Unsaved())
	_, left, err := OpenShared(path, clock)
	require.NoError(t, err, "and can be opened by another")
	assert.Nil(t, left)
	move(t, s, -280)
	_, left = open(t, other)
	assert.NotNil(t, left, "the journal is the new file's")
	undo(t, s)
	undo(t, s)
	assert.Equal(t, string(starter.Demo()), string(s.Now().Bytes()), "undo reaches behind it")
}

func TestChangeIntoAnotherFile(t *testing.T) {
	path := demo(t)
	out := filepath.Join(filepath.Dir(path), "out.toml")
	edit := func(f *project.File) ([]edit.Edit, error) { return edit.MoveRow(f, 2, -288) }
	done, err := ChangeInto(path, out, edit)
	require.NoError(t, err)
	assert.Equal(t, string(done.After.Bytes()), disk(t, out))
	assert.Contains(t, disk(t, out), "rear = -288.0")
	assert.Equal(t, string(starter.Demo()), disk(t, path))
	_, err = ChangeInto(path, out, edit)
	require.ErrorIs(t, err, keep.ErrExists)
}

func TestPartlyRestoredWorkIsPutAside(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -288)
	odd, err := s.entry(keep.OpDo, "odd", []edit.Edit{{Op: "no such", Path: "x"}})
	require.NoError(t, err)
	require.NoError(t, s.write(*odd))
	s, left := open(t, path)
	done := s.Restore(left, edit.Neither)
	require.ErrorContains(t, done.Err, "restored 1 of 2")
	old, err := filepath.Glob(filepath.Join(filepath.Dir(path), ".build.toml.fitup", "journal.old-*"))
	require.NoError(t, err)
	require.Len(t, old, 1)
	assert.Contains(t, disk(t, old[0]), "no such")
	_, left = open(t, path)
	require.NotNil(t, left)
	assert.Equal(t, 1, left.Entries)
	assert.True(t, strings.Contains(string(s.Now().Bytes()), "rear = -288.0"))
}
