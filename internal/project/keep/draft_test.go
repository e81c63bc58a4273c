package keep

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func typed(text string) Draft {
	raw, _ := json.Marshal(text)
	return Draft{Time: noon, Typed: raw}
}

func draftOf(left *Leftover) string {
	if left == nil || left.Draft == nil {
		return ""
	}
	return string(left.Draft.Typed)
}

func TestWhatIsTypedOutlivesTheProgram(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Draft(Draft{Time: noon}))
	assert.NoDirExists(t, sidecar(name), "nothing typed is nothing to note")
	require.NoError(t, j.Draft(typed("11")))
	require.NoError(t, j.Draft(typed("118")))

	_, left := reopen(t, name, "A") // the program is gone
	assert.Equal(t, `"118"`, draftOf(left))
	assert.Empty(t, left.Entries)
	assert.False(t, left.Torn)

	// Edits do not count it, and it does not count as one of them.
	require.NoError(t, j.Append(entry(1)))
	require.NoError(t, j.Draft(typed("1182")))
	require.NoError(t, j.Append(entry(2)))
	_, left = reopen(t, name, "A")
	assert.Equal(t, `"1182"`, draftOf(left))
	assert.Equal(t, entries(1, 2), left.Entries)

	// Taken, it is gone.
	require.NoError(t, j.Draft(Draft{Time: noon}))
	_, left = reopen(t, name, "A")
	assert.Nil(t, left.Draft)
	assert.Equal(t, entries(1, 2), left.Entries)
}

func TestWhatIsTypedGoesAlongWithASaveAndAnotherText(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Append(entry(1)))
	require.NoError(t, j.Draft(typed("1182")))
	require.NoError(t, j.Saving(*sum("B")))
	write(t, name, "B", 0o644)
	_, left := reopen(t, name, "B")
	assert.Equal(t, `"1182"`, draftOf(left), "between the save and the journal's new beginning")
	assert.Empty(t, left.Entries)
	require.NoError(t, j.Reset(*sum("B")))
	_, left = reopen(t, name, "B")
	assert.Equal(t, `"1182"`, draftOf(left))

	require.NoError(t, j.Rebase(*sum("C"), entries(1, 1)))
	k, left := reopen(t, name, "C")
	assert.Equal(t, `"1182"`, draftOf(left))
	assert.Equal(t, entries(1, 1), left.Entries)

	// A sitting that only looks at it leaves it where it is.
	require.NoError(t, k.Close())
	_, left = reopen(t, name, "C")
	assert.Equal(t, `"1182"`, draftOf(left))
}

func TestWhatIsTypedIsKeptForATextThatSomebodyElseHasChanged(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Draft(typed("1182")))
	k, left := reopen(t, name, "Z")
	assert.Equal(t, `"1182"`, draftOf(left))
	require.NoError(t, k.Close())
	k, left = reopen(t, name, "Z")
	assert.Equal(t, `"1182"`, draftOf(left), "closing it is no answer")
	require.NoError(t, k.Draft(typed("1183")))
	_, left = reopen(t, name, "Z")
	assert.Equal(t, `"1183"`, draftOf(left))

	k, _ = reopen(t, name, "Y")
	require.NoError(t, k.Draft(Draft{Time: noon}))
	require.NoError(t, k.Close())
	_, left = reopen(t, name, "Y")
	assert.Nil(t, left, "dropped is dropped")
}

// A program from before drafts reads a line of them as a mark of a save, and so all
// that stands behind it.
func TestAnOlderProgramReadsAJournalWithDrafts(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Append(entry(1)))
	require.NoError(t, j.Draft(typed("1182")))
	require.NoError(t, j.Append(entry(2)))
	type older struct {
		Entry  *Entry  `json:"entry,omitempty"`
		Saving *digest `json:"saving,omitempty"`
	}
	lines := strings.Split(strings.TrimSuffix(read(t, journalOf(name)), "\n"), "\n")
	require.Len(t, lines, 4)
	for _, l := range lines[1:] {
		var o older
		require.True(t, decode([]byte(l), &o), l)
		assert.NotEqual(t, o.Entry == nil, o.Saving == nil, l)
		if o.Saving != nil {
			assert.Equal(t, digest{}, *o.Saving, "of no text there is")
		}
	}
}

func TestDraftsDoNotFillAJournal(t *testing.T) {
	name := build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Append(entry(1)))
	long := strings.Repeat("x", 4000)
	for range 200 {
		require.NoError(t, j.Draft(typed(long)))
	}
	require.NoError(t, j.Append(entry(2)))
	require.NoError(t, j.Draft(typed("last")))
	assert.Less(t, len(read(t, journalOf(name))), 2*maxDrafts)
	_, left := reopen(t, name, "A")
	assert.Equal(t, `"last"`, draftOf(left))
	assert.Equal(t, entries(1, 2), left.Entries)
}

func TestWhatIsTypedGoesToAnotherName(t *testing.T) {
	name, other := build(t, "A"), build(t, "A")
	j, _ := reopen(t, name, "A")
	require.NoError(t, j.Draft(typed("1182")))
	k, _ := reopen(t, other, "A")
	require.NoError(t, k.DraftAs(j))
	_, left := reopen(t, other, "A")
	assert.Equal(t, `"1182"`, draftOf(left))
}
