package session

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fitup/internal/project/edit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// outsider changes the file as an editor would.
func outsider(t testing.TB, path, old, now string) string {
	t.Helper()
	text := disk(t, path)
	require.Contains(t, text, old)
	text = strings.Replace(text, old, now, 1)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	return text
}

func TestOutsideChangeIsLoadedBeneathTheWork(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -280)
	move(t, s, -281)
	theirs := outsider(t, path, "setback = 260", "setback = 270   # moved back")
	out := s.TakeOutside(edit.Neither)
	require.NoError(t, out.Err)
	require.Equal(t, Merged, out.Outcome)
	require.Len(t, out.Changes, 1)
	assert.Equal(t, "setback 260 → 270 mm", out.Changes[0].String())
	want := strings.Replace(theirs, "rear = -289.5", "rear = -281.0", 1)
	assert.Equal(t, want, string(s.Now().Bytes()), "their text with my edits")
	assert.Equal(t, theirs, disk(t, path), "nothing is written unasked")
	assert.Equal(t, Same, s.TakeOutside(edit.Neither).Outcome)

	// A crash now loses nothing, and what comes back fits the new text.
	again, left := open(t, path)
	require.NotNil(t, left)
	assert.True(t, left.Fits)
	assert.Equal(t, 2, left.Entries)
	require.NoError(t, again.Restore(left, edit.Neither).Err)
	assert.Equal(t, want, string(again.Now().Bytes()))

	undo(t, s)
	assert.Contains(t, string(s.Now().Bytes()), "rear = -280.0")
	require.NoError(t, s.Save(false), "the save finds the text it knows")
	undo(t, s)
	assert.Equal(t, theirs, string(s.Now().Bytes()), "undo takes back only what was done here")
	_, ok, err := s.Undo()
	require.NoError(t, err)
	assert.False(t, ok)
}

func TestOutsideChangeWithNothingUnsaved(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -280)
	require.NoError(t, s.Save(false))
	theirs := outsider(t, path, "setback = 260", "setback = 270")
	require.Equal(t, Loaded, s.TakeOutside(edit.Neither).Outcome)
	assert.Equal(t, theirs, string(s.Now().Bytes()))
	assert.False(t, s.Unsaved())
	undo(t, s)
	assert.Contains(t, string(s.Now().Bytes()), "rear = -289.5")
	assert.Contains(t, string(s.Now().Bytes()), "setback = 270", "undo leaves their change alone")
}

func TestOutsideChangeOfTheSameValue(t *testing.T) {
	for side, want := range map[edit.Whose]string{edit.Mine: "rear = -280.0", edit.Theirs: "rear = -250 "} {
		path := demo(t)
		s, _ := open(t, path)
		move(t, s, -280)
		mine := string(s.Now().Bytes())
		theirs := outsider(t, path, "rear = -289.5", "rear = -250 ")
		out := s.TakeOutside(edit.Neither)
		require.Equal(t, Clashed, out.Outcome)
		require.Len(t, out.Clashes, 1)
		assert.Equal(t, "rear mount: yours -280.0 mm, theirs -250 mm", out.Clashes[0].String())
		assert.Equal(t, mine, string(s.Now().Bytes()), "nothing was done")
		require.Error(t, s.Save(false))
		assert.Equal(t, theirs, disk(t, path))

		require.Equal(t, Merged, s.TakeOutside(side).Outcome)
		assert.Contains(t, string(s.Now().Bytes()), want)
		require.NoError(t, s.Save(false))
	}
}

func TestOutsideTextThatIsNoBuild(t *testing.T) {
	path := demo(t)
	s, _ := open(t, path)
	move(t, s, -280)
	mine := string(s.Now().Bytes())
	require.NoError(t, os.WriteFile(path, []byte("format = 2\nhalf ="), 0o644))
	out := s.TakeOutside(edit.Mine)
	assert.Equal(t, Broken, out.Outcome)
	require.Error(t, out.Err)
	require.NoError(t, os.Remove(path))
	assert.Equal(t, Gone, s.TakeOutside(edit.Mine).Outcome)
	assert.True(t, s.differs(s.disk))
	assert.Equal(t, mine, string(s.Now().Bytes()))
}

func TestGlanceNoticesWrites(t *testing.T) {
	path := demo(t)
	later := time.Now().Add(time.Hour)
	a := Glance(path, later)
	assert.Equal(t, a, Glance(path, later.Add(time.Second)))
	require.NoError(t, os.WriteFile(path, []byte("x"), 0o644))
	b := Glance(path, later)
	assert.NotEqual(t, a, b)
	require.NoError(t, os.Remove(path))
	assert.NotEqual(t, b, Glance(path, later))
	// Just after a write the clock of the disk is not trusted.
	require.NoError(t, os.WriteFile(path, []byte("x"), 0o644))
	info, err := os.Stat(path)
	require.NoError(t, err)
	soon := info.ModTime().Add(time.Second)
	assert.NotEqual(t, Glance(path, soon), Glance(path, soon.Add(time.Second)))
}

func TestASecondSittingLooksOnly(t *testing.T) {
	path := demo(t)
	first, left, err := OpenShared(path, clock)
	require.NoError(t, err)
	require.Nil(t, left)
	require.Nil(t, first.Holder())
	move(t, first, -280)

	second, left, err := OpenShared(path, clock)
	require.NoError(t, err)
	assert.Nil(t, left, "the work of the one who has it is no leftover")
	require.NotNil(t, second.Holder())
	assert.Equal(t, os.Getpid(), second.Holder().PID)
	assert.True(t, second.Looking())
	edits, err := edit.MoveRow(second.Now(), 2, -270)
	require.NoError(t, err)
	require.ErrorIs(t, second.Do("up", edits...), ErrLooking)
	require.ErrorIs(t, second.Save(true), ErrLooking)
	_, ok := second.TakeOver()
	assert.False(t, ok, "the first still has it")

	require.NoError(t, first.Save(false))
	require.Equal(t, Loaded, second.TakeOutside(edit.Neither).Outcome)
	assert.Equal(t, string(first.Now().Bytes()), string(second.Now().Bytes()))

	second.EditAnyway()
	require.NoError(t, second.Do("up", edits...))
	_, ok = second.TakeOver()
	assert.False(t, ok, "unsaved work is not dropped for it")
	require.NoError(t, second.Save(false))
	require.Equal(t, Loaded, first.TakeOutside(edit.Neither).Outcome)

	move(t, first, -265)
	require.NoError(t, first.lock.Release()) // as a crash does, with work left over
	left, ok = second.TakeOver()
	require.True(t, ok)
	assert.Nil(t, second.Holder())
	require.NotNil(t, left)
	require.NoError(t, second.Restore(left, edit.Neither).Err)
	assert.Equal(t, string(first.Now().Bytes()), string(second.Now().Bytes()))
	require.NoError(t, second.Discard())
	require.NoError(t, second.Close())
	third, _, err := OpenShared(path, clock)
	require.NoError(t, err)
	assert.Nil(t, third.Holder())
	require.NoError(t, third.Close())
}

func TestUndoSurvivesARestart(t *testing.T) {
	path := demo(t)
	loaded := disk(t, path)
	s, _ := open(t, path)
	move(t, s, -280)
	move(t, s, -270)
	require.NoError(t, s.Save(false))
	require.NoError(t, s.Close())

	s, left := open(t, path)
	require.Nil(t, left)
	assert.False(t, s.Unsaved())
	undo(t, s)
	undo(t, s)
	assert.Equal(t, loaded, string(s.Now().Bytes()))
	assert.True(t, s.Unsaved())
	again, left := open(t, path) // a crash after steps that an earlier sitting had done
	require.NotNil(t, left)
	require.NoError(t, again.Restore(left, edit.Neither).Err)
	assert.Equal(t, loaded, string(again.Now().Bytes()))
	require.NoError(t, again.Discard())

	outsider(t, path, "setback = 260", "setback = 270")
	s, _ = open(t, path)
	_, ok, err := s.Undo()
	require.NoError(t, err)
	assert.False(t, ok, "the steps lead to another text")
}

// A file of format 1 is written as format 2 by the first save and not before,
// and its old journal is still good.
func TestOldFormatIsWrittenAnewAtTheNextSave(t *testing.T) {
	src, err := os.ReadFile("../../../testdata/old/format1-demo.toml")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, src, 0o644))
	s, _ := open(t, path)
	assert.EqualValues(t, 1, s.From())
	assert.False(t, s.Unsaved(), "reading alone changes nothing")
	require.NoError(t, s.Do("tyre", edit.Edit{Op: edit.OpSet, Path: "vehicle.wheel_diameter", Text: "750"})) // as format 1 noted it
	assert.Equal(t, string(src), disk(t, path))

	s, left := open(t, path)
	require.NotNil(t, left)
	require.NoError(t, s.Restore(left, edit.Neither).Err)
	require.NoError(t, s.Save(false))
	assert.Zero(t, s.From())
	want := strings.NewReplacer("format = 1", "format = 3", "wheel_diameter = 740", "tyre_diameter = 750", "[gauge]\nplus_minus =", "[gauge]\naccuracy =").Replace(string(src))
	assert.Equal(t, want, disk(t, path))
	undo(t, s)
	require.NoError(t, s.Save(false))
	assert.Contains(t, disk(t, path), "tyre_diameter = 740")
}
