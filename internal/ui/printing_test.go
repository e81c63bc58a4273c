package ui

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"fitup/internal/project/starter"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// printed is a bench whose printing stands still until it is let go.
func printBeside(t *testing.T) (b *beside, begun, let chan struct{}) {
	t.Helper()
	b = demoBeside(t)
	b.m.disk.after = func(time.Duration, tea.Msg) tea.Cmd { return nil }
	begun, let = make(chan struct{}, 1), make(chan struct{})
	b.m.begins = func(ctx context.Context, _ work) error {
		begun <- struct{}{}
		select {
		case <-let:
			return nil
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return b, begun, let
}

// begins takes what comes back until the work has begun.
func (b *beside) begins(begun chan struct{}) {
	for {
		select {
		case <-begun:
			return
		case msg := <-b.back:
			b.take(msg)
		}
	}
}

func bookOf(b *beside) string {
	return filepath.Join(filepath.Dir(b.path), "build-book")
}

// The book is printed beside the keys: the title says so, edits go on, and in the end the
// screen says where it is and what it says.
func TestTheBookIsPrintedBesideTheKeys(t *testing.T) {
	t.Parallel()
	b, begun, let := printBeside(t)
	b.press("P")
	assert.Contains(t, b.screen(), "build-book")
	assert.Contains(t, b.screen(), "On sheets of A4")
	b.press("b")
	b.begins(begun)
	b.press("down", "down", "right")
	assert.Contains(t, b.screen(), "-289.0 mm")
	assert.Contains(t, b.screen(), "printing, P stops")
	close(let)
	b.all()
	assert.NotContains(t, b.screen(), "P stops")
	assert.Contains(t, b.m.message.text, "build-book/book.pdf and ")
	assert.Contains(t, b.m.message.text, "not known: it says which")
	assert.FileExists(t, filepath.Join(bookOf(b), "book.pdf"))
	md, err := os.ReadFile(filepath.Join(bookOf(b), "book.md"))
	require.NoError(t, err)
	assert.Contains(t, string(md), "-289.5 mm", "as it was at the key")
	assert.NotContains(t, string(md), "not saved")
}

// It can be stopped, and leaves nothing; and leaving the bench asks about it.
func TestPrintingIsStopped(t *testing.T) {
	t.Parallel()
	b, begun, _ := printBeside(t)
	b.press("P", "b")
	b.begins(begun)
	b.press("q")
	assert.Contains(t, b.screen(), "Still printing")
	b.press("esc", "P")
	assert.Contains(t, b.screen(), "stop it; nothing is left half-made")
	b.press("s")
	b.all()
	assert.Contains(t, b.m.message.text, "Printing was stopped")
	assert.NoDirExists(t, bookOf(b))
	assert.Nil(t, b.m.print.printing)

	b.press("P", "s")
	b.begins(begun)
	b.press("q", "s")
	b.all()
	assert.True(t, b.quit, "it leaves when that has stopped")
	assert.NoDirExists(t, bookOf(b))
}

// No place to write is said in a box, and another folder can be named.
func TestPrintingWithoutAPlaceSaysSo(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.Demo(), 120, 36)
	d.m.disk.after = func(time.Duration, tea.Msg) tea.Cmd { return nil }
	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(d.path), "build-book"), nil, 0o600))
	d.keys("P", "s")
	assert.Contains(t, d.screen(), "Not printed")
	assert.Contains(t, d.screen(), "is a file, and a folder is wanted there")
	d.keys("enter", "P", "f", "text:paper", "enter")
	assert.Contains(t, d.screen(), "paper")
	d.keys("p", "s")
	assert.Contains(t, d.m.message.text, "paper/sheet.pdf")
	assert.FileExists(t, filepath.Join(filepath.Dir(d.path), "paper", "sheet.pdf"))
}

// What cannot be made of the build is said, with what to do.
func TestTemplatesOfNothingAreNotPrinted(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\n"), 120, 36)
	d.m.disk.after = func(time.Duration, tea.Msg) tea.Cmd { return nil }
	d.keys("P", "t")
	assert.Contains(t, d.m.message.text, "Not printed: no leg is in the file yet")
	d.keys("down", "down", "right")
	d.keys("P")
	assert.Contains(t, d.screen(), "Print")
}
