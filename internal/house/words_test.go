package house

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// strangers are words that belong in no file of the tree, and why. Each is
// written in two halves, so that this file passes its own test.
var strangers = []struct{ head, tail, why string }{
	{"/wo", "rk/", "a path of one machine"},
	{"/ro", "ot/", "a path of one machine"},
	{"/tmp/", "bash_jobs", "a path of one machine"},
	{"/tmp/", "rules", "a path of one machine"},
	{"proxy.", "golang.org", "where modules come from is the reader's setting"},
	{"sum.", "golang.org", "where modules come from is the reader's setting"},
	{"shared/", "design.md", "a document that is not in the tree"},
	{"shared/", "libraries.md", "a document that is not in the tree"},
	{"shared/", "references.md", "a document that is not in the tree"},
	{"seed ", "document", "a document that is not in the tree"},
	{"TO", "DO", "finish it, or leave it out"},
	{"FIX", "ME", "fix it, or leave it out"},
	{"lorem ", "ipsum", "filling, not content"},
	{"<<<<", "<<< ", "a merge that was not finished"},
	{">>>>", ">>> ", "a merge that was not finished"},
}

func TestNoStrangeWords(t *testing.T) {
	root := moduleRoot(t)
	read := 0
	for _, name := range ownFiles(t, root) {
		text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(name)))
		require.NoError(t, err)
		if !isText(text) {
			continue
		}
		read++
		assert.Empty(t, strangeWords(string(text)), name)
	}
	assert.Positive(t, read, "no text was read")
}

// Every word of the table is found where it stands, and a clean text passes.
func TestStrangeWordsAreFound(t *testing.T) {
	for _, s := range strangers {
		word := s.head + s.tail
		assert.Equal(t, []string{fmt.Sprintf("line 2: %q: %s", word, s.why)},
			strangeWords("one line\nand "+word+"x on another\n"))
	}
	assert.Empty(t, strangeWords("a clean text\nabout the network/work of a root/branch\n"))
}

func TestOnlyTextIsRead(t *testing.T) {
	assert.True(t, isText([]byte("4°24' down to the rear\n")))
	assert.False(t, isText([]byte("\x7fELF\x00\x01")))
	assert.False(t, isText([]byte{0xff, 0xfe, 0x41}))
}

func isText(content []byte) bool {
	return utf8.Valid(content) && !bytes.ContainsRune(content, 0)
}

func strangeWords(text string) []string {
	var found []string
	number := 0
	for line := range strings.Lines(text) {
		number++
		for _, s := range strangers {
			if strings.Contains(line, s.head+s.tail) {
				found = append(found, fmt.Sprintf("line %d: %q: %s", number, s.head+s.tail, s.why))
			}
		}
	}
	return found
}
