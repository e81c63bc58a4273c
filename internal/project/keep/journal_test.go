package keep

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var noon = time.Date(2024, 3, 9, 12, 0, 0, 0, time.UTC)

func entry(n int) Entry {
	return Entry{Time: noon.Add(time.Duration(n) * time.Second), Op: OpDo, Label: "edit " + strconv.Itoa(n),
		Edits: json.RawMessage(fmt.Sprintf(`[{"path":"mount.left.at","n":%d}]`, n))}
}

func entries(from, to int) []Entry {
	var all []Entry
	for n := from; n <= to; n++ {
		all = append(all, entry(n))
	}
	return all
}

func appendAll(t *testing.T, j *Journal, all []Entry) {
	t.Helper()
	for _, e := range all {
		require.NoError(t, j.Append(e))
	}
}

// build makes a build file with the text and returns its path.
func build(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "build.toml")
	write(t, name, text, 0o644)
	return name
}

func reopen(t *testing.T, name, text string) (*Journal, *Leftover) {
	t.Helper()
	j, left, err := Open(name, *sum(text))
	require.NoError(t, err)
	return j, left
}

func journalOf(name string) string { return filepath.Join(sidecar(name), journalName) }

func TestJournalAfterCrash(t *testing.T) {
	name := build(t, "A")
	j, left := reopen(t, name, "A")
	require.Nil(t, left)
	assert.NoDirExists(t, sidecar(name), "looking at a file leaves nothing beside it")

	all := []Entry{entry(1), entry(2), {Time: noon, Op: OpUndo}, {Time: noon.Add(time.Hour), Op: OpRedo, Label: "line\nbreak <b> \u2028"}}
	appendAll(t, j, all)
	require.NoError(t, j.Sync())

	// The program is gone; the next run finds it all and destroys nothing.
	bytesBefore := read(t, journalOf(name))
	for range 2 {
		_, left = reopen(t, name, "A")
		require.NotNil(t, left)
		assert.Equal(t, &Leftover{Base: *sum("A"), Entries: all, When: noon.Add(time.Hour), File: journalOf(name)}, left)
		assert.Equal(t, bytesBefore, read(t, journalOf(name)))
	}

	// Taking it up and crashing again loses neither.
	j, _ = reopen(t, name, "A")
	appendAll(t, j, entries(5, 6))
	_, left = reopen(t, name, "A")
	assert.Equal(t, append(all, entries(5, 6)...), left.Entries)
}

func TestJournalClose(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Close())
	assert.NoDirExists(t, sidecar(name))

	j, _ = reopen(t, name, "A")
	appendAll(t, j, entries(1, 2))
	require.NoError(t, j.Close())
	require.NoError(t, j.Close(), "twice does no harm")
	require.Error(t, j.Append(entry(3)))
	require.Error(t, j.Reset(*sum("A")))
	require.Error(t, j.Sync())
	j, left := reopen(t, name, "A")
	assert.Equal(t, entries(1, 2), left.Entries)

	require.NoError(t, j.Close())
	assert.FileExists(t, journalOf(name), "an unanswered leftover is kept")

	j, _ = reopen(t, name, "A")
	require.NoError(t, j.Reset(*sum("B")))
	_, left = reopen(t, name, "B")
	assert.Nil(t, left)
	assert.FileExists(t, journalOf(name))
	require.NoError(t, j.Close())
	assert.NoDirExists(t, sidecar(name), "an empty journal is removed, and its folder with it")
}

func TestJournalDiscard(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Discard(), "nothing there is fine")
	appendAll(t, j, entries(1, 2))
	require.NoError(t, j.Discard())
	assert.NoFileExists(t, journalOf(name))
	appendAll(t, j, entries(3, 4))
	_, left := reopen(t, name, "A")
	assert.Equal(t, entries(3, 4), left.Entries)
}

func TestJournalOfAnotherText(t *testing.T) {
	ways := map[string]func(t *testing.T, j *Journal){
		"reset":          func(t *testing.T, j *Journal) { require.NoError(t, j.Reset(*sum("B"))) },
		"append":         func(*testing.T, *Journal) {},
		"saving, append": func(t *testing.T, j *Journal) { require.NoError(t, j.Saving(*sum("C"))) },
	}
	for way, answer := range ways {
		t.Run(way, func(t *testing.T) {
			name := build(t, "A")
			j, _ := reopen(t, name, "A")
			appendAll(t, j, entries(1, 2))
			for round := 1; round <= 3; round++ {
				write(t, name, "B", 0o644) // somebody else's
				j, left := reopen(t, name, "B")
				require.NotNil(t, left)
				if round == 1 {
					assert.Equal(t, *sum("A"), left.Base)
					assert.Equal(t, entries(1, 2), left.Entries)
					answer(t, j)
				}
				appendAll(t, j, entries(round*10, round*10))
			}
			_, left := reopen(t, name, "B")
			assert.Equal(t, []Entry{entry(10), entry(20), entry(30)}, left.Entries)
			old, err := Aside(name)
			require.NoError(t, err)
			require.Len(t, old, 1)
			assert.Equal(t, entries(1, 2), old[0].Entries)
			assert.Equal(t, *sum("A"), old[0].Base)
			assert.Equal(t, journalOf(name)+".old-1", old[0].File)
		})
	}
}

func TestAsideIsNumberedOn(t *testing.T) {
	name := build(t, "A")
	for n := 1; n <= 11; n++ {
		j, _ := reopen(t, name, strconv.Itoa(n)) // every time another text
		appendAll(t, j, entries(n, n))
	}
	write(t, filepath.Join(sidecar(name), "journal.old-x"), "not ours", 0o644)
	old, err := Aside(name)
	require.NoError(t, err)
	require.Len(t, old, 10)
	for i := range old {
		assert.Equal(t, entries(i+1, i+1), old[i].Entries)
	}
	none, err := Aside(filepath.Join(t.TempDir(), "build.toml"))
	require.NoError(t, err)
	assert.Empty(t, none)
}

func TestSetAside(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.SetAside(), "nothing there is fine")
	appendAll(t, j, entries(1, 3))
	j, _ = reopen(t, name, "A")
	require.NoError(t, j.SetAside())
	_, left := reopen(t, name, "A")
	assert.Nil(t, left)
	appendAll(t, j, entries(1, 2))
	_, left = reopen(t, name, "A")
	assert.Equal(t, entries(1, 2), left.Entries)
	old, err := Aside(name)
	require.NoError(t, err)
	require.Len(t, old, 1)
	assert.Equal(t, entries(1, 3), old[0].Entries)
}

// The program can die at any moment between Saving and Reset.
func TestSavingMark(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Saving(*sum("A")), "nothing to mark")
	assert.NoDirExists(t, sidecar(name))
	appendAll(t, j, entries(1, 2))
	require.NoError(t, j.Saving(*sum("B")))

	_, left := reopen(t, name, "A")
	assert.Equal(t, entries(1, 2), left.Entries, "the save did not come about")
	assert.Equal(t, *sum("A"), left.Base)
	j, left = reopen(t, name, "B")
	assert.Nil(t, left, "the save came about")

	appendAll(t, j, entries(3, 3))
	_, left = reopen(t, name, "B")
	assert.Equal(t, entries(3, 3), left.Entries)
	assert.Equal(t, *sum("B"), left.Base)
	_, left = reopen(t, name, "A")
	assert.Equal(t, entries(1, 3), left.Entries, "the earlier file was put back by hand")

	// Back to a text that was saved before: the latest mark counts.
	require.NoError(t, j.Saving(*sum("A")))
	_, left = reopen(t, name, "A")
	assert.Nil(t, left)
	_, left = reopen(t, name, "C")
	assert.Equal(t, entries(1, 3), left.Entries)

	j, _ = reopen(t, name, "B")
	require.NoError(t, j.Discard())
	j, _ = reopen(t, name, "A")
	appendAll(t, j, entries(1, 1))
	require.NoError(t, j.Saving(*sum("B")))
	j, _ = reopen(t, name, "B")
	require.NoError(t, j.Close())
	assert.NoFileExists(t, journalOf(name), "all of it is saved")
}

func TestJournalCutAnywhere(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	var ends []int
	for n := 1; n <= 3; n++ {
		require.NoError(t, j.Append(entry(n)))
		ends = append(ends, len(read(t, journalOf(name))))
	}
	whole := read(t, journalOf(name))
	head := strings.IndexByte(whole, '\n') + 1
	for cut := 0; cut <= len(whole); cut++ {
		write(t, journalOf(name), whole[:cut], 0o644)
		n, atEnd := 0, cut == 0 || cut == head
		for i, end := range ends {
			if cut >= end {
				n = i + 1
			}
			atEnd = atEnd || cut == end
		}
		j, left := reopen(t, name, "A")
		if atEnd && n == 0 {
			require.Nil(t, left, cut)
		} else {
			require.NotNil(t, left, cut)
			require.Equal(t, entries(1, n), left.Entries, cut)
			require.Equal(t, !atEnd, left.Torn, cut)
		}
		require.Equal(t, whole[:cut], read(t, journalOf(name)))
		require.NoError(t, j.Append(entry(9)))
		_, left = reopen(t, name, "A")
		require.Equal(t, append(entries(1, n), entry(9)), left.Entries, cut)
		require.False(t, left.Torn)
		require.NoError(t, os.RemoveAll(sidecar(name)))
		require.NoError(t, os.Mkdir(sidecar(name), 0o755))
	}
}

// A CRC-32 finds every change within 32 bits of each other, so no changed byte
// can pass for an entry.
func TestJournalChangedAnywhere(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	appendAll(t, j, entries(1, 3))
	whole := []byte(read(t, journalOf(name)))
	for at := range whole {
		for _, flip := range []byte{1, 0x20, 0x80, whole[at], whole[at] ^ '\n'} {
			if flip == 0 {
				continue
			}
			bad := bytes.Clone(whole)
			bad[at] ^= flip
			c := readJournal(bad)
			got, _ := c.since(*sum("A"))
			if flip == 0x20 && c.end == clean {
				require.Len(t, got, 3) // the case of a hex digit of the CRC
			} else {
				require.NotEqual(t, clean, c.end, "byte %d", at)
			}
			for i := range got {
				require.Equal(t, entry(i+1), got[i])
			}
		}
	}
}

func TestDamagedMiddleIsKept(t *testing.T) {
	for _, how := range []string{"append", "reset"} {
		t.Run(how, func(t *testing.T) {
			name := build(t, "A")
			j, _ := reopen(t, name, "A")
			appendAll(t, j, entries(1, 4))
			bad := strings.Replace(read(t, journalOf(name)), "edit 2", "edit X", 1)
			write(t, journalOf(name), bad, 0o644)
			j, left := reopen(t, name, "A")
			assert.Equal(t, entries(1, 1), left.Entries)
			assert.True(t, left.Torn)
			if how == "append" {
				appendAll(t, j, entries(5, 6))
				_, left = reopen(t, name, "A")
				assert.Equal(t, []Entry{entry(1), entry(5), entry(6)}, left.Entries)
				assert.False(t, left.Torn)
			} else {
				require.NoError(t, j.Reset(*sum("B")))
			}
			assert.Equal(t, bad, read(t, journalOf(name)+".old-1"))
		})
	}
}

func TestUnreadableJournal(t *testing.T) {
	newer, err := encode(header{Version: journalVersion + 1, Base: *sum("A")})
	require.NoError(t, err)
	for what, data := range map[string]string{
		"noise": "\x00\x00\x00\n\x00", "newer version": string(newer), "cut header": string(newer[:20]), "text": "hello\n",
	} {
		t.Run(what, func(t *testing.T) {
			name := build(t, "A")
			require.NoError(t, os.Mkdir(sidecar(name), 0o755))
			write(t, journalOf(name), data, 0o644)
			j, left := reopen(t, name, "A")
			assert.Equal(t, &Leftover{Torn: true, File: journalOf(name)}, left)
			require.NoError(t, j.Close())
			assert.Equal(t, data, read(t, journalOf(name)))
			j, _ = reopen(t, name, "A")
			appendAll(t, j, entries(1, 1))
			assert.Equal(t, data, read(t, journalOf(name)+".old-1"))
			_, left = reopen(t, name, "A")
			assert.Equal(t, entries(1, 1), left.Entries)
		})
	}
}

func TestJournalRefuses(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.ErrorContains(t, j.Append(Entry{Time: noon, Op: "think"}), "want do, undo or redo")
	require.Error(t, j.Append(Entry{Time: noon, Op: OpDo, Edits: json.RawMessage(`{"half":`)}))
	require.Error(t, j.Append(Entry{Time: time.Date(12000, 1, 1, 0, 0, 0, 0, time.UTC), Op: OpDo}))
	assert.NoDirExists(t, sidecar(name))

	require.NoError(t, os.MkdirAll(journalOf(name), 0o755))
	_, _, err := Open(name, *sum("A"))
	require.ErrorContains(t, err, "move it away")
	require.NoError(t, os.Remove(journalOf(name)))
	require.NoError(t, os.WriteFile(journalOf(name), nil, 0o644))
	require.NoError(t, os.Truncate(journalOf(name), maxJournal+1))
	_, _, err = Open(name, *sum("A"))
	require.ErrorContains(t, err, "move it away")
}

// A full journal takes nothing more, not even what would fit: no gaps.
func TestJournalFull(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	big := entry(1)
	big.Label = strings.Repeat("x", maxJournal/2)
	require.NoError(t, j.Append(big))
	require.ErrorIs(t, j.Append(big), errJournalFull)
	require.ErrorContains(t, j.Append(entry(2)), "save the file")
	_, left := reopen(t, name, "A")
	assert.Len(t, left.Entries, 1)
	for range 100 {
		require.NoError(t, j.Saving(*sum("B")), "a full journal is no hindrance to a save")
	}
	_, left = reopen(t, name, "B")
	assert.Nil(t, left)
	require.NoError(t, j.Reset(*sum("B")))
	require.NoError(t, j.Append(entry(3)))
	_, left = reopen(t, name, "B")
	assert.Equal(t, entries(3, 3), left.Entries)
}

func TestJournalTakesTheModeOfTheFile(t *testing.T) {
	unixOnly(t)
	for file, want := range map[os.FileMode]os.FileMode{0o600: 0o600, 0o660: 0o660, 0o444: 0o644} {
		name := build(t, "A")
		require.NoError(t, os.Chmod(name, file))
		j, _ := reopen(t, name, "A")
		appendAll(t, j, entries(1, 1))
		info, err := os.Stat(journalOf(name))
		require.NoError(t, err)
		assert.Equal(t, want, info.Mode().Perm())
	}
}
