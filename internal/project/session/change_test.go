package session

import (
	"errors"
	"os"
	"sync"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func setTo(path, value string) func(*project.File) ([]edit.Edit, error) {
	return func(f *project.File) ([]edit.Edit, error) {
		e, err := edit.SetText(f, path, value)
		return []edit.Edit{e}, err
	}
}

func TestChangeIsAStepToUndo(t *testing.T) {
	path := demo(t)
	loaded := disk(t, path)
	done, err := Change(path, clock, "setback", setTo("placement.setback", "262"))
	require.NoError(t, err)
	assert.Nil(t, done.Holder)
	assert.Contains(t, disk(t, path), "setback = 262")
	s, left := open(t, path)
	assert.Nil(t, left)
	undo(t, s)
	assert.Equal(t, loaded, string(s.Now().Bytes()))
}

// Somebody writes between the reading and the saving of a change: both stand.
func TestChangeMeetsAnother(t *testing.T) {
	path := demo(t)
	calls := 0
	_, err := Change(path, clock, "setback", func(f *project.File) ([]edit.Edit, error) {
		if calls++; calls == 1 {
			outsider(t, path, "wheelbase = 3400", "wheelbase = 3500")
		}
		return setTo("placement.setback", "262")(f)
	})
	require.NoError(t, err)
	assert.Equal(t, 2, calls)
	assert.Contains(t, disk(t, path), "setback = 262")
	assert.Contains(t, disk(t, path), "wheelbase = 3500")

	_, err = Change(path, clock, "setback", func(f *project.File) ([]edit.Edit, error) {
		require.NoError(t, os.WriteFile(path, append([]byte("# again\n"), disk(t, path)...), 0o644))
		return setTo("placement.setback", "270")(f)
	})
	require.ErrorIs(t, err, keep.ErrChangedOutside, "it gives up and writes nothing")
	assert.Contains(t, disk(t, path), "setback = 262")
}

func TestChangeWhileAnotherHasIt(t *testing.T) {
	path := demo(t)
	s, _, err := OpenShared(path, clock)
	require.NoError(t, err)
	move(t, s, -280)
	done, err := Change(path, clock, "setback", setTo("placement.setback", "262"))
	require.NoError(t, err)
	require.NotNil(t, done.Holder)
	assert.Zero(t, done.Leftover, "what the other has not saved is no leftover")
	require.Equal(t, Merged, s.TakeOutside(edit.Neither).Outcome)
	require.NoError(t, s.Save(false))
	assert.Contains(t, disk(t, path), "setback = 262")
	assert.Contains(t, disk(t, path), "rear = -280.0")
	move(t, s, -281)
	require.NoError(t, s.Close())

	done, err = Change(path, clock, "setback", setTo("placement.setback", "264"))
	require.NoError(t, err)
	assert.Equal(t, 1, done.Leftover)
	again, left := open(t, path)
	require.NotNil(t, left)
	require.NoError(t, again.Restore(left, edit.Neither).Err, "and it can still be taken up")
	assert.Contains(t, string(again.Now().Bytes()), "rear = -281.0")
}

func TestChangeRefusesWhatIsNoBuild(t *testing.T) {
	path := demo(t)
	before := disk(t, path)
	_, err := Change(path, clock, "bad", func(*project.File) ([]edit.Edit, error) {
		return []edit.Edit{{Op: edit.OpSet, Path: "placement.rear", Text: `"4 kg"`}}, nil
	})
	var bad *EditError
	require.ErrorAs(t, err, &bad)
	var ps project.Problems
	require.True(t, errors.As(err, &ps))
	assert.Equal(t, before, disk(t, path))
}

// Many at once: nobody's change is lost without a word.
func TestChangesSideBySide(t *testing.T) {
	path := demo(t)
	paths := []string{"placement.setback", "vehicle.wheelbase", "placement.rear", "vehicle.front_axle", "placement.left_front", "placement.right_front"}
	failed := make([]error, len(paths))
	var all sync.WaitGroup
	for i, p := range paths {
		all.Go(func() { _, failed[i] = Change(path, clock, p, setTo(p, "77")) })
	}
	all.Wait()
	f, err := project.Load(path)
	require.NoError(t, err)
	for i, p := range paths {
		if failed[i] != nil {
			continue // it was told that its change is not there
		}
		text, ok := f.Text(p)
		assert.True(t, ok)
		assert.Regexp(t, `^77(\.0)?$`, text, p)
	}
}
