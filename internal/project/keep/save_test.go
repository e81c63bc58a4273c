package keep

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func sum(text string) *[sha256.Size]byte {
	h := sha256.Sum256([]byte(text))
	return &h
}

func write(t *testing.T, name, text string, mode fs.FileMode) {
	t.Helper()
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	require.NoError(t, os.Chmod(name, mode))
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(text)
}

// temps lists what a save should have cleared away, at any depth.
func temps(t *testing.T, dir string) []string {
	t.Helper()
	var found []string
	require.NoError(t, filepath.WalkDir(dir, func(path string, _ fs.DirEntry, err error) error {
		if strings.HasSuffix(path, tempSuffix) {
			found = append(found, path)
		}
		return err
	}))
	return found
}

func unixOnly(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("modes and links work differently here")
	}
}

func TestSaveKeepsPreviousText(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "build.toml")
	_, err := Before(name)
	require.ErrorIs(t, err, fs.ErrNotExist)

	require.NoError(t, Save(name, []byte("one"), Options{New: true}))
	assert.Equal(t, "one", read(t, name))
	assert.NoDirExists(t, sidecar(name), "a new file has nothing to keep")

	require.NoError(t, Save(name, []byte("two"), Options{Expect: sum("one")}))
	require.NoError(t, Save(name, []byte("three"), Options{Expect: sum("two")}))
	assert.Equal(t, "three", read(t, name))
	before, err := Before(name)
	require.NoError(t, err)
	assert.Equal(t, "two", string(before))

	require.NoError(t, Save(name, []byte("three"), Options{Expect: sum("two")}), "already there: nobody's text is lost")
	before, err = Before(name)
	require.NoError(t, err)
	assert.Equal(t, "two", string(before), "saving the same text again must not use up the backup")

	require.NoError(t, Save(name, nil, Options{}))
	assert.Empty(t, read(t, name))
	assert.Empty(t, temps(t, dir))
}

func TestSaveRefuses(t *testing.T) {
	tests := []struct {
		name string
		make func(t *testing.T, dir string) string // returns the path to save
		opt  Options
		is   []error
		says string
	}{
		{"changed outside", func(t *testing.T, dir string) string {
			write(t, filepath.Join(dir, "b.toml"), "theirs", 0o644)
			return filepath.Join(dir, "b.toml")
		}, Options{Expect: sum("ours")}, []error{ErrChangedOutside}, "somebody else changed it"},
		{"vanished", func(_ *testing.T, dir string) string {
			return filepath.Join(dir, "b.toml")
		}, Options{Expect: sum("ours")}, []error{ErrChangedOutside, fs.ErrNotExist}, "moved or deleted since it was read"},
		{"exists", func(t *testing.T, dir string) string {
			write(t, filepath.Join(dir, "b.toml"), "theirs", 0o644)
			return filepath.Join(dir, "b.toml")
		}, Options{New: true}, []error{ErrExists}, "already a file of that name"},
		{"read-only", func(t *testing.T, dir string) string {
			write(t, filepath.Join(dir, "b.toml"), "theirs", 0o444)
			return filepath.Join(dir, "b.toml")
		}, Options{}, []error{fs.ErrPermission}, "the file is read-only"},
		{"folder", func(t *testing.T, dir string) string {
			require.NoError(t, os.Mkdir(filepath.Join(dir, "b.toml"), 0o755))
			return filepath.Join(dir, "b.toml")
		}, Options{}, []error{errIsFolder}, "it is a folder; name a file in it"},
		{"folder by its ending", func(_ *testing.T, dir string) string {
			return filepath.Join(dir, "b") + string(os.PathSeparator)
		}, Options{}, []error{errIsFolder}, "it is a folder"},
		{"no folder", func(_ *testing.T, dir string) string {
			return filepath.Join(dir, "nowhere", "b.toml")
		}, Options{}, []error{fs.ErrNotExist}, "check the path"},
		{"file as folder", func(t *testing.T, dir string) string {
			unixOnly(t)
			write(t, filepath.Join(dir, "b.toml"), "theirs", 0o644)
			return filepath.Join(dir, "b.toml", "c.toml")
		}, Options{}, nil, "part of that path is a file"},
		{"links in a circle", func(t *testing.T, dir string) string {
			unixOnly(t)
			require.NoError(t, os.Symlink("b", filepath.Join(dir, "a")))
			require.NoError(t, os.Symlink("a", filepath.Join(dir, "b")))
			return filepath.Join(dir, "a")
		}, Options{}, []error{errManyLinks}, "lead in a circle"},
		{"long name", func(t *testing.T, dir string) string {
			unixOnly(t)
			return filepath.Join(dir, strings.Repeat("n", 250))
		}, Options{}, nil, "choose a shorter, plainer one"},
		{"hidden folder is a file", func(t *testing.T, dir string) string {
			write(t, filepath.Join(dir, "b.toml"), "theirs", 0o644)
			write(t, filepath.Join(dir, ".b.toml.fitup"), "what", 0o644)
			return filepath.Join(dir, "b.toml")
		}, Options{}, []error{errInTheWay}, "needed as a folder"},
		{"no name", func(*testing.T, string) string { return "" }, Options{}, []error{fs.ErrNotExist}, "not saved"},
		{"device", func(t *testing.T, _ string) string {
			unixOnly(t)
			return os.DevNull
		}, Options{}, []error{errNotOrdinary}, "not an ordinary file"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			path := tt.make(t, dir)
			was := list(t, dir)
			err := Save(path, []byte("ours, newer"), tt.opt)
			require.Error(t, err)
			for _, target := range tt.is {
				assert.ErrorIs(t, err, target)
			}
			assert.Contains(t, err.Error(), tt.says)
			assert.True(t, strings.HasSuffix(err.Error(), "; nothing was changed"), err.Error())
			assert.Equal(t, was, list(t, dir))
		})
	}
}

// list maps every path below dir to its content and mode.
func list(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		all[path] = info.Mode().String()
		if e.Type().IsRegular() {
			all[path] += read(t, path)
		}
		return nil
	}))
	return all
}

func TestSaveInReadOnlyFolder(t *testing.T) {
	unixOnly(t)
	if os.Geteuid() == 0 {
		t.Skip("root may write anywhere")
	}
	dir := t.TempDir()
	name := filepath.Join(dir, "b.toml")
	write(t, name, "old", 0o644)
	require.NoError(t, os.Chmod(dir, 0o555))
	t.Cleanup(func() { _ = os.Chmod(dir, 0o755) })
	err := Save(name, []byte("new"), Options{})
	require.ErrorIs(t, err, fs.ErrPermission)
	assert.Contains(t, err.Error(), "is read-only; allow writing to it, or save in another folder")
	assert.Equal(t, "old", read(t, name))
}

func TestSaveKeepsModeAndLinks(t *testing.T) {
	unixOnly(t)
	for _, mode := range []fs.FileMode{0o600, 0o640, 0o664, 0o644, 0o200, 0o755} {
		if mode&0o400 == 0 && os.Geteuid() != 0 {
			continue // could not be read
		}
		dir := t.TempDir()
		shop, bench := filepath.Join(dir, "shop"), filepath.Join(dir, "bench")
		require.NoError(t, os.Mkdir(shop, 0o755))
		require.NoError(t, os.Mkdir(bench, 0o755))
		real := filepath.Join(shop, "build.toml")
		write(t, real, "old", mode)
		link, second := filepath.Join(bench, "current.toml"), filepath.Join(bench, "link.toml")
		require.NoError(t, os.Symlink(filepath.Join("..", "shop", "build.toml"), link))
		require.NoError(t, os.Symlink(link, second))

		require.NoError(t, Save(second, []byte("new"), Options{Expect: sum("old")}))
		assert.Equal(t, "new", read(t, real))
		for _, l := range []string{link, second} {
			info, err := os.Lstat(l)
			require.NoError(t, err)
			assert.NotZero(t, info.Mode()&fs.ModeSymlink, "the link stays a link")
		}
		for _, name := range []string{real, filepath.Join(sidecar(real), beforeName)} {
			info, err := os.Stat(name)
			require.NoError(t, err)
			assert.Equal(t, mode, info.Mode().Perm(), name)
		}
		info, err := os.Stat(sidecar(real))
		require.NoError(t, err)
		assert.Equal(t, folderMode(mode), info.Mode().Perm())
		entries, err := os.ReadDir(bench)
		require.NoError(t, err)
		assert.Len(t, entries, 2, "nothing is put beside a link")
	}
}

func TestFolderMode(t *testing.T) {
	for file, want := range map[fs.FileMode]fs.FileMode{
		0o600: 0o700, 0o640: 0o750, 0o644: 0o755, 0o660: 0o770, 0o664: 0o775, 0o666: 0o777, 0o622: 0o733,
	} {
		assert.Equal(t, want, folderMode(file), "%o", file)
	}
}

func TestSaveThroughLinkToMissingFile(t *testing.T) {
	unixOnly(t)
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "shop"), 0o755))
	link := filepath.Join(dir, "link.toml")
	require.NoError(t, os.Symlink("shop/new.toml", link))
	require.NoError(t, Save(link, []byte("text"), Options{New: true}))
	assert.Equal(t, "text", read(t, filepath.Join(dir, "shop", "new.toml")))
	require.ErrorIs(t, Save(link, []byte("other"), Options{New: true}), ErrExists)
}

func TestSaveSweepsOnlyItsOwnTemps(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "b.toml")
	write(t, name, "old", 0o644)
	stale := filepath.Join(dir, ".b.toml.fitup-0123abcd.tmp")
	others := []string{".c.toml.fitup-0123abcd.tmp", ".b.toml.fitup-notes.tmp", ".b.toml.fitup-01234.tmp", "b.toml.tmp"}
	write(t, stale, "half", 0o600)
	for _, o := range others {
		write(t, filepath.Join(dir, o), "not ours", 0o600)
	}
	require.NoError(t, Save(name, []byte("new"), Options{}))
	assert.NoFileExists(t, stale)
	for _, o := range others {
		assert.FileExists(t, filepath.Join(dir, o))
	}
}

func TestSaveRelativePath(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, Save("b.toml", []byte("one"), Options{}))
	require.NoError(t, Save("b.toml", []byte("two"), Options{}))
	assert.Equal(t, "two", read(t, "b.toml"))
	before, err := Before("b.toml")
	require.NoError(t, err)
	assert.Equal(t, "one", string(before))
}

func TestErrorsAreSafeForATerminal(t *testing.T) {
	err := Save(filepath.Join(t.TempDir(), "no\x1b[2J", "b\n.toml"), nil, Options{})
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "\x1b")
	assert.NotContains(t, err.Error(), "\n")
	assert.True(t, errors.Is(err, fs.ErrNotExist) || runtime.GOOS == "windows")
}
