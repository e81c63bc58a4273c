// Package house holds tests about the tree itself: which folder may import
// which, whether the documents name paths that exist, and words that have no
// business in any file. It has no code of its own.
package house

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// moduleRoot is the folder of go.mod.
func moduleRoot(t *testing.T) string {
	t.Helper()
	mod := strings.TrimSpace(output(t, ".", "go", "env", "GOMOD"))
	require.Equal(t, "go.mod", filepath.Base(mod), "these tests run inside the module")
	return filepath.Dir(mod)
}

// output runs a command in dir and returns what it wrote to its standard output.
func output(t *testing.T, dir, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	require.NoError(t, err, "%s %s: %s", name, strings.Join(args, " "), complaint.String())
	return string(out)
}

// allFiles lists every file below root except git's own, slash-separated and
// relative to root. It reads each folder from inside the test, which the go
// command notices: a cached pass is not reused once any file has changed, even
// where the test then asks another program about the tree.
func allFiles(t *testing.T, root string) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if os.IsNotExist(err) {
			return nil // a temporary file that went away meanwhile
		}
		if err != nil {
			return err
		}
		if d.Name() == ".git" {
			if d.IsDir() {
				return filepath.SkipDir
			}
			return nil
		}
		if d.IsDir() {
			return nil
		}
		rel, err := filepath.Rel(root, path)
		files = append(files, filepath.ToSlash(rel))
		return err
	})
	require.NoError(t, err)
	require.Contains(t, files, "go.mod")
	return files
}

// ownFiles lists the files that belong to the project: those git tracks and
// still has on disk, or, where the tree was unpacked without git, all of them.
func ownFiles(t *testing.T, root string) []string {
	t.Helper()
	files := allFiles(t, root)
	if _, err := os.Stat(filepath.Join(root, ".git")); os.IsNotExist(err) {
		return files
	}
	tracked := make(map[string]bool)
	for name := range strings.SplitSeq(output(t, root, "git", "ls-files", "-z"), "\x00") {
		tracked[name] = true
	}
	files = slices.DeleteFunc(files, func(name string) bool { return !tracked[name] })
	require.NotEmpty(t, files, "git lists no files")
	return files
}

// What asks for a method by a name that is only known at run time has the linker keep
// every method of every type: the program is a quarter larger.
func TestNothingKeepsEveryMethod(t *testing.T) {
	root := moduleRoot(t)
	for _, name := range ownFiles(t, root) {
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		require.NoError(t, err)
		for _, word := range []string{`"text/template"`, `"html/template"`, ".SetVersionTemplate(", ".SetUsageTemplate(", ".SetHelpTemplate(", ".MethodByName("} {
			require.NotContains(t, string(text), word, "%s: see the traps in DEVELOPERS.md", name)
		}
	}
}
