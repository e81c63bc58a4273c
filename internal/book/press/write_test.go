package press

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/book"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Files are written all or none: where the last cannot take its place, those
// that had are put back, and what was made on the way is gone.
func TestWriteAllOrNothing(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, writeAll(context.Background(), dir, []book.Output{{Name: "a", Data: []byte("one")}, {Name: "in/b", Data: []byte("two")}}, func(int) {}))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "own"), []byte("mine"), 0o600))
	before := tree(t, dir)
	assert.Equal(t, map[string]string{"a": "one", "in/b": "two", "own": "mine"}, before)

	long := strings.Repeat("n", 300) // no disk takes such a name
	err := writeAll(context.Background(), dir, []book.Output{{Name: "a", Data: []byte("new")}, {Name: "c", Data: []byte("new")}, {Name: "new/d", Data: []byte("new")}, {Name: long}}, func(int) {})
	require.ErrorContains(t, err, "nothing was left half-made")
	assert.Equal(t, before, tree(t, dir))
	assert.NoDirExists(t, filepath.Join(dir, "new"))

	require.NoError(t, writeAll(context.Background(), dir, []book.Output{{Name: "a", Data: []byte("new")}}, func(int) {}))
	assert.Equal(t, map[string]string{"a": "new", "in/b": "two", "own": "mine"}, tree(t, dir))
}

func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		out[filepath.ToSlash(name)] = string(data)
		return err
	}))
	return out
}
