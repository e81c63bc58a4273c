package session

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func clock() time.Time { return time.Date(2026, 5, 14, 9, 0, 0, 0, time.UTC) }

func demo(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
	return path
}

// light is a build with no more than stands where things are moved, for what is done
// hundreds of times.
func light(t testing.TB) string {
	t.Helper()
	text := string(starter.Demo())
	for _, cut := range [][2]string{{"[rails.left]", "[powertrain]"}, {"[[powertrain.part]]", "[placement]"}, {"[[chassis]]", "[gauge]"}} {
		before, rest, _ := strings.Cut(text, "\n"+cut[0])
		_, after, ok := strings.Cut(rest, "\n"+cut[1])
		require.True(t, ok, cut[1])
		text = before + "\n" + cut[1] + after
	}
	before, _, ok := strings.Cut(text, "\n[[reading]]")
	require.True(t, ok)
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, []byte(before), 0o644))
	return path
}

func open(t testing.TB, path string) (*Session, *Leftover) {
	t.Helper()
	s, left, err := Open(path, clock)
	require.NoError(t, err)
	return s, left
}

func move(t testing.TB, s *Session, height float64) {
	t.Helper()
	edits, err := edit.MoveRow(s.Now(), 2, height)
	require.NoError(t, err)
	require.NoError(t, s.Do("rear mount", edits...))
}

func undo(t testing.TB, s *Session) {
	t.Helper()
	_, _, err := s.Undo()
	require.NoError(t, err)
}

func disk(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(b)
}

func TestSaveIsAOneLineDiff(t *testing.T) {
	path := demo(t)
	before := disk(t, path)
	s, left := open(t, path)
	require.Nil(t, left)
	move(t, s, -280)
	assert.True(t, s.Unsaved())
	assert.Equal(t, before, disk(t, path), "nothing is written before a save")
	require.NoError(t, s.Save(false))
	assert.False(t, s.Unsaved())
	a, b := strings.Split(before, "\n"), strings.Split(disk(t, path), "\n")
	require.Len(t, b, len(a))
	n := 0
	for i := range a {
		if a[i] != b[i] {
			n++
		}
	}
	assert.Equal(t, 1, n)
	require.NoError(t, s.Close())
	_, left = open(t, path)
	assert.Nil(t, left)
}

// Every way a sitting can end without a word: what was done is offered.
func TestUnsavedWorkComesBack(t *testing.T) {
	for name, work := range map[string]func(t *testing.T, s *Session){
		"edits":  func(t *testing.T, s *Session) { move(t, s, -280); move(t, s, -281) },
		"undone": func(t *testing.T, s *Session) { move(t, s, -280); move(t, s, -281); undo(t, s) },
		"done again": func(t *testing.T, s *Session) {
			move(t, s, -280)
			undo(t, s)
			_, _, err := s.Redo()
			require.NoError(t, err)
		},
		"undone behind a save": func(t *testing.T, s *Session) {
			move(t, s, -280)
			require.NoError(t, s.Save(false))
			undo(t, s)
		},
		"undone behind a save, then edited": func(t *testing.T, s *Session) {
			move(t, s, -280)
			move(t, s, -281)
			require.NoError(t, s.Save(false))
			undo(t, s)
			move(t, s, -270)
			undo(t, s)
			undo(t, s)
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := demo(t)
			s, _ := open(t, path)
			work(t, s)
			want := string(s.Now().Bytes())

			again, left := open(t, path) // the first session ends here, unclosed
			require.NotNil(t, left)
			assert.True(t, left.Fits)
			require.NoError(t, again.Restore(left, edit.Neither).Err)
			assert.Equal(t, want, string(again.Now().Bytes()))

			// and once more: a second crash loses nothing either
			move(t, again, -260)
			want = string(again.Now().Bytes())
			third, left := open(t, path)
			require.NotNil(t, left)
			require.NoError(t, third.Restore(left, edit.Neither).Err)
			assert.Equal(t, want, string(third.Now().Bytes()))
		})
	}
}

func TestLeftoverOfAnotherText(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -280)
	changed := strings.Replace(disk(t, path), "setback = ", "setback = 1", 1)
	require.NoError(t, os.WriteFile(path, []byte(changed), 0o644))

	s, left := open(t, path)
	require.NotNil(t, left)
	assert.False(t, left.Fits)
	require.NoError(t, s.Restore(left, edit.Neither).Err, "the edit touches another value, so it still fits")
	assert.Contains(t, string(s.Now().Bytes()), "setback = 1")
	v, _ := s.Now().Build.Placement.Rear.Get()
	assert.InDelta(t, -280, v, 1e-9)

	again, left := open(t, path)
	require.NotNil(t, left)
	assert.True(t, left.Fits, "what was restored is journalled for the text on disk")
	require.NoError(t, again.Restore(left, edit.Neither).Err)
	assert.Equal(t, string(s.Now().Bytes()), string(again.Now().Bytes()))
}

func TestNeverOverwritesSomebodyElse(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -280)
	theirs := "# mine\n" + disk(t, path)
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o644))
	assert.True(t, s.differs(s.disk))
	err := s.Save(false)
	require.ErrorIs(t, err, keep.ErrChangedOutside)
	assert.Equal(t, theirs, disk(t, path))

	require.NoError(t, s.Save(true))
	assert.Equal(t, string(s.Now().Bytes()), disk(t, path))
	states, err := keep.States(path)
	require.NoError(t, err)
	require.NotEmpty(t, states)
	was, err := states[0].Text()
	require.NoError(t, err)
	assert.Equal(t, theirs, string(was), "what was overwritten is an earlier state")

	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o644))
	require.NoError(t, s.Reload())
	assert.Equal(t, theirs, string(s.Now().Bytes()))
	assert.False(t, s.Unsaved())
}

func TestRefusedEditChangesNothing(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	before := string(s.Now().Bytes())
	err := s.Do("bad", edit.Edit{Op: edit.OpSet, Path: "placement.rear", Text: `"4 kg"`})
	var ps project.Problems
	require.True(t, errors.As(err, &ps), "%v", err)
	assert.Equal(t, before, string(s.Now().Bytes()))
	assert.False(t, s.Unsaved())
	_, left := open(t, path)
	assert.Nil(t, left)
}

func TestAJournalThatCannotBeDoesNotKeepTheFileClosed(t *testing.T) {
	path := demo(t)
	side := filepath.Join(filepath.Dir(path), ".build.toml.fitup")
	require.NoError(t, os.MkdirAll(filepath.Join(side, "journal"), 0o755)) // a folder where the journal should be
	s, left := open(t, path)
	assert.Nil(t, left)
	require.Error(t, s.Warning())
	move(t, s, -280)
	undo(t, s)
	require.NoError(t, s.Sync())
	require.NoError(t, s.Discard())
	require.NoError(t, s.Close())
}

// Whatever is done, undone and done again: undoing everything gives the very
// bytes that were loaded, and a crash at any point loses nothing.
func TestUndoGivesTheBytesBack(t *testing.T) {
	path := light(t)
	loaded := disk(t, path)
	rapid.Check(t, func(rt *rapid.T) {
		require.NoError(rt, os.RemoveAll(filepath.Join(filepath.Dir(path), ".build.toml.fitup")))
		require.NoError(rt, os.WriteFile(path, []byte(loaded), 0o644))
		s, _, err := Open(path, clock)
		require.NoError(rt, err)
		for range rapid.IntRange(0, 15).Draw(rt, "n") {
			switch rapid.IntRange(0, 4).Draw(rt, "what") {
			case 0:
				_, _, err = s.Undo()
			case 1:
				_, _, err = s.Redo()
			case 2:
				err = s.Save(false)
			default:
				var edits []edit.Edit
				edits, err = edit.MoveRow(s.Now(), 2, float64(rapid.IntRange(-300, -250).Draw(rt, "mm")))
				require.NoError(rt, err)
				err = s.Do("move", edits...)
			}
			require.NoError(rt, err)
		}
		want := string(s.Now().Bytes())
		again, left, err := Open(path, clock)
		require.NoError(rt, err)
		if left != nil {
			require.NoError(rt, again.Restore(left, edit.Neither).Err)
		}
		require.Equal(rt, want, string(again.Now().Bytes()))
		for {
			_, ok, err := s.Undo()
			require.NoError(rt, err)
			if !ok {
				break
			}
		}
		require.Equal(rt, loaded, string(s.Now().Bytes()))
	})
}
