//go:build linux

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// On a terminal a new file is begun by questions; what is wrong is asked again,
// and the answers give the file that their flags give.
func testNewByQuestions(t *testing.T, program string) {
	dir := t.TempDir()
	x := open(t, program, dir, "new", "asked.toml", "--fixing", "welded")
	at := x.sees("What do you measure in?", 0)
	for _, step := range []struct{ typed, sees string }{
		{"2\n", "How does the engine lie?"},
		{"askew\n", `read "askew"; want one of: along, across`},
		{"along\n", "Which wheels does it drive?"},
		{"all\n", "How is its propshaft made?"},
		{"2\n", "What carries the rear axle?"},
		{"LEAF\n", "What carries the front axle?"},
		{"\n", "Which mounts will carry it"},
		{"1, 2, 3\n", "wrote asked.toml"},
	} {
		x.types(step.typed)
		at = x.sees(step.sees, at)
	}
	assert.Equal(t, exitDone, x.ends())
	assert.NotContains(t, x.screen(), "hold to the frame", "a flag has answered it")

	cmd := exec.Command(program, "new", "flags.toml", "--units", "inch", "--drives", "all", "--shaft", "two",
		"--axle", "leaf", "--fixing", "welded", "--mounts", "left_front,right_front,rear")
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	asked, err := os.ReadFile(filepath.Join(dir, "asked.toml"))
	require.NoError(t, err)
	flags, err := os.ReadFile(filepath.Join(dir, "flags.toml"))
	require.NoError(t, err)
	assert.Equal(t, string(flags), string(asked))
}

// Whoever leaves in the middle of the questions leaves nothing behind.
func testNewLeft(t *testing.T, program string) {
	for key, code := range map[string]int{"\x03": -1, "\x04": exitUsage} {
		dir := t.TempDir()
		x := open(t, program, dir, "new", "left.toml")
		at := x.sees("What do you measure in?", 0)
		x.types("1\n")
		x.sees("How does the engine lie?", at)
		x.types(key)
		assert.Equal(t, code, x.ends())
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Empty(t, left)
	}
}
