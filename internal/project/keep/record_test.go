package keep

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzReadJournal(f *testing.F) {
	var whole []byte
	for _, v := range []any{
		header{Version: journalVersion, Base: *sum("A"), Time: noon}, line{Entry: new(Entry)},
		line{Saving: new(digest)}, line{}, line{Entry: &Entry{Op: OpUndo, Edits: json.RawMessage("[1]")}},
	} {
		raw, err := encode(v)
		require.NoError(f, err)
		f.Add(raw)
		whole = append(whole, raw...)
		f.Add(bytes.Clone(whole))
	}
	f.Add(whole[:len(whole)-3])
	f.Add([]byte("00000000 \n"))
	f.Add([]byte("zz"))
	f.Fuzz(func(t *testing.T, data []byte) {
		checkReading(t, data)
		// The same, with sums that are right, to get past them.
		var summed []byte
		for raw := range bytes.SplitSeq(data, []byte{'\n'}) {
			if json.Valid(raw) {
				again, err := encode(json.RawMessage(raw))
				require.NoError(t, err)
				summed = append(summed, again...)
			}
		}
		checkReading(t, summed)
	})
}

func checkReading(t *testing.T, data []byte) {
	c := readJournal(data)
	require.LessOrEqual(t, c.good, int64(len(data)))
	if c.end == clean {
		require.Equal(t, int64(len(data)), c.good)
	}
	again := readJournal(data[:c.good])
	require.Equal(t, clean, again.end)
	require.Equal(t, c.lines, again.lines)
	got, _ := c.since([sha256.Size]byte{})
	require.LessOrEqual(t, len(got), len(c.lines))
	for _, e := range got {
		_, err := encode(line{Entry: &e})
		require.NoError(t, err, "what was read can be written")
	}
}
