package session

import (
	"os"
	"path/filepath"
	"testing"

	"fitup/internal/project/edit"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// typedIn is what a crash now would leave of what is typed.
func typedIn(t *testing.T, path string) string {
	t.Helper()
	_, left := open(t, path)
	if left == nil {
		return ""
	}
	return string(left.Draft)
}

func TestWhatIsTypedIsLeftOver(t *testing.T) {
	path := demo(t)
	q := queue(t, path)
	q.Draft([]byte(`"-28"`))
	assert.Zero(t, q.Behind(), "no frame waits for it")
	q.Settle()
	_, left := open(t, path)
	require.NotNil(t, left)
	assert.Equal(t, `"-28"`, string(left.Draft))
	assert.Zero(t, left.Entries, "it is no edit")

	// The edit that takes it and the word that it is taken are written together.
	q.move(-288)
	q.Draft(nil)
	task := q.Next()
	task.Run()
	task.End()
	_, left = open(t, path)
	assert.Equal(t, 1, left.Entries)
	assert.Empty(t, left.Draft)
}

func TestWhatIsTypedOutlivesASaveAndSomebodyElsesChange(t *testing.T) {
	path := demo(t)
	q := queue(t, path)
	q.move(-288)
	q.Draft([]byte(`"412"`))
	saved := q.save(SaveHow{})
	q.Settle()
	require.NoError(t, saved.Err)
	assert.Equal(t, `"412"`, typedIn(t, path))

	outsider(t, path, "name = ", "name  = ")
	q.Alone(func(s *Session) { s.TakeOutside(edit.Neither) }, func() {})
	q.Settle()
	assert.Equal(t, `"412"`, typedIn(t, path))

	// The hidden folder is taken away, and what is typed comes back with the edits.
	require.NoError(t, os.RemoveAll(filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".fitup")))
	q.Draft([]byte(`"4125"`))
	q.Settle()
	assert.Equal(t, `"4125"`, typedIn(t, path))

	other := filepath.Join(filepath.Dir(path), "other.toml")
	q.Alone(func(s *Session) { require.NoError(t, s.SaveAs(other)) }, func() {})
	q.Settle()
	assert.Equal(t, `"4125"`, typedIn(t, other))
	assert.Empty(t, typedIn(t, path))
}

func TestAWayOutKeepsWhatIsTypedUnlessItWasDropped(t *testing.T) {
	path := demo(t)
	for _, typed := range []string{`"412"`, ""} {
		q := queue(t, path)
		q.Draft([]byte(typed))
		q.Alone(func(s *Session) { require.NoError(t, s.Close()) }, func() {})
		q.Settle()
		assert.Equal(t, typed, typedIn(t, path))
		require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
		if typed != "" {
			s, left := open(t, path)
			require.NotNil(t, left)
			require.NoError(t, s.Forget())
		}
	}
}

// Edits that come to what is on disk are nothing left; what is typed still is.
func TestWhatIsTypedIsLeftOverWithoutEdits(t *testing.T) {
	path := demo(t)
	q := queue(t, path)
	q.move(-288)
	_, _, err := q.Undo()
	require.NoError(t, err)
	q.Draft([]byte(`"412"`))
	q.Settle()
	for range 2 {
		_, left := open(t, path)
		require.NotNil(t, left)
		assert.Equal(t, 0, left.Entries)
		assert.Equal(t, `"412"`, string(left.Draft))
	}
}
