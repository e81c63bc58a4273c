package keep

import (
	"bytes"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func BenchmarkSave(b *testing.B) {
	name := filepath.Join(b.TempDir(), "build.toml")
	texts := [][]byte{bytes.Repeat([]byte("a = 1\n"), 5000), bytes.Repeat([]byte("b = 2\n"), 5000)}
	for n := 0; b.Loop(); n++ {
		require.NoError(b, Save(name, texts[n%2], Options{}))
	}
}

func BenchmarkAppend(b *testing.B) {
	j, _, err := Open(filepath.Join(b.TempDir(), "build.toml"), *sum(""))
	require.NoError(b, err)
	e := entry(1)
	for b.Loop() {
		if j.Append(e) != nil { // full
			require.NoError(b, j.Reset(*sum("")))
		}
	}
}

func BenchmarkReadJournal(b *testing.B) {
	data, err := encode(header{Version: journalVersion})
	require.NoError(b, err)
	for n := range 1000 {
		e := entry(n)
		raw, err := encode(line{Entry: &e})
		require.NoError(b, err)
		data = append(data, raw...)
	}
	for b.Loop() {
		c := readJournal(data)
		require.Len(b, c.lines, 1000)
	}
}

// BenchmarkAppendAndSync is an edit that the disk has.
func BenchmarkAppendAndSync(b *testing.B) {
	j, _, err := Open(filepath.Join(b.TempDir(), "build.toml"), *sum(""))
	require.NoError(b, err)
	for b.Loop() {
		require.NoError(b, j.Append(entry(1)))
		require.NoError(b, j.Sync())
		if j.size > maxEntries/2 {
			require.NoError(b, j.Reset(*sum("")))
		}
	}
}
