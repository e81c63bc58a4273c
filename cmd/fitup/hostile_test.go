package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// hostileText has an example of each kind of sign that a terminal acts on, that
// hides, turns or stacks: as TOML escapes.
const hostileText = `\u001b[2J\u009b31m\u0007\u202eabc\u2066\u200b\u200d\ufeff\u2028\u2800\u3164 \u3000x\u0300\u0301\u0302\u0303\U000e0041\ue000\u0000`

// No command lets what stands in a file act on the terminal, whether it prints a
// result, JSON, a difference or a problem.
func TestNothingHostileIsPrinted(t *testing.T) {
	free := regexp.MustCompile(`(?m)^(name|note|origin|title|stage|id) = "(.*)"`)
	src := free.ReplaceAllString(string(starter.Demo()), `$1 = "$2`+strings.ReplaceAll(hostileText, `$`, `$$`)+`"`)
	src = strings.Replace(src, `source = "`, `source = "`+hostileText, 1)
	require.Greater(t, strings.Count(src, hostileText), 30)
	dir := t.TempDir()
	path := filepath.Join(dir, "build.toml")
	require.NoError(t, os.WriteFile(path, []byte(src), 0o644))
	bad := filepath.Join(dir, "bad.toml")
	require.NoError(t, os.WriteFile(bad, []byte("format = 3\n\"k"+hostileText+"\" = 1\n[placement]\nrear = \"4"+hostileText+"\"\n[line.\"r"+hostileText+"\"]\n"), 0o644))
	for _, args := range [][]string{
		{"check", path}, {"check", "--json", path}, {"get", path}, {"get", path, "name", "job.1.title"},
		{"set", path, "name=plain", "vehicle.name=plain"}, {"set", path, "job.2.done=false"}, {"set", path, "job.11.done=true"},
		{"read", path, "pinion", "85", "--lower", "rear", "--note", "a\x1b[2J\u202e"}, {"history", path}, {"history", path, "--diff", "1"},
		{"history", path, "--restore", "1"}, {"rename", path, "line.rear", "a\x1b[2J"}, {"set", path, "a\x1b[2J\u202e=1"}, {"get", path, "a\x1b[2J\u202e"},
		{"check", bad}, {"get", bad}, {"set", bad, "name=x"}, {"check", filepath.Join(dir, "none\x1b[2J\u202e.toml")},
	} {
		var out, errs bytes.Buffer
		run(args, Env{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Getenv: func(string) string { return "" }, Now: time.Now})
		require.Positive(t, out.Len()+errs.Len(), "%q", args)
		for line := range strings.Lines(out.String() + errs.String()) {
			line = strings.TrimSuffix(line, "\n")
			assert.Equal(t, project.Printable(line), line, "%q", args)
		}
	}
}

// A command does not part a file from its other name unasked: the other would go
// stale without a word.
func TestAHardLinkIsNoticedBeforeTheWrite(t *testing.T) {
	dir := t.TempDir()
	path, other := filepath.Join(dir, "a.toml"), filepath.Join(dir, "b.toml")
	require.NoError(t, os.WriteFile(path, []byte("format = 3\n[vehicle]\nwheelbase = 3000\n"), 0o644))
	if err := os.Link(path, other); err != nil {
		t.Skip("this disk has no hard links")
	}
	var out, errs bytes.Buffer
	env := Env{Stdin: strings.NewReader(""), Stdout: &out, Stderr: &errs, Getenv: func(string) string { return "" }, Now: time.Now}
	code := run([]string{"set", path, "vehicle.wheelbase=3100"}, env)
	assert.Equal(t, exitSave, code)
	assert.Contains(t, errs.String(), "2 names on the disk")
	was, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(was), "3000")
	assert.Zero(t, run([]string{"set", "-o", filepath.Join(dir, "c.toml"), path, "vehicle.wheelbase=3100"}, env), errs.String())
}
