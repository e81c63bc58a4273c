//go:build unix

package ui

import (
	"io"
	"os"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

func TestCutEscape(t *testing.T) {
	for _, c := range []struct {
		in  string
		cut bool
	}{
		{"", false}, {"a", false}, {"\x1b", true}, {"ab\x1b", true},
		{"\x1b[", true}, {"\x1b[1;5", true}, {"\x1b[A", false}, {"\x1b[1;5A", false}, {"\x1b[200~", false},
		{"\x1bO", true}, {"\x1bOP", false}, {"\x1ba", false}, {"\x1b[A\x1b", true}, {"\x1b[Ax", false},
		{"\x1b\x1b", true}, {"\x1b[<0;10;20", true}, {"\x1b[<0;10;20M", false},
		{"\x1b]", true}, {"\x1b]a", false}, {"\x1b]11;rgb:0", true}, {"\x1b]11;rgb:0\a", false}, {"\x1b]11;rgb:0\x1b", true}, {"\x1b]11;rgb:0\x1b\\", false},
	} {
		assert.Equal(t, c.cut, cutEscape([]byte(c.in)), "%q", c.in)
	}
}

type got struct {
	text string
	err  error
}

// readers starts reading a pipe through the joiner.
func readers(t *testing.T) (w *os.File, reads <-chan got) {
	t.Helper()
	r, w, err := os.Pipe()
	require.NoError(t, err)
	out := make(chan got, 8)
	in := joinEscapes(r, func(backgroundMsg) {})
	go func() {
		defer close(out)
		defer r.Close()
		for {
			b := make([]byte, 256)
			n, err := in.Read(b)
			out <- got{string(b[:n]), err}
			if err != nil {
				return
			}
		}
	}()
	t.Cleanup(func() {
		_ = w.Close()
		for range out {
		}
	})
	return w, out
}

// taken waits until everything written has been read out of the pipe.
func taken(t *testing.T, w *os.File) {
	t.Helper()
	for {
		n, err := unix.IoctlGetInt(int(w.Fd()), unix.TIOCINQ)
		require.NoError(t, err)
		if n == 0 {
			return
		}
		runtime.Gosched()
	}
}

// The rest of a sequence comes after its escape has been read, within the time
// the joiner gives it. On a machine so busy that even that is missed, it is
// tried again.
func TestSplitSequenceArrivesWhole(t *testing.T) {
	for _, c := range [][]string{{"\x1b", "[B"}, {"\x1b[", "B"}, {"\x1bO", "P"}, {"\x1b", "[", "1", ";", "5", "C"}, {"a\x1b", "[A"}} {
		want := ""
		for _, part := range c {
			want += part
		}
		joined := false
		for range 20 {
			w, reads := readers(t)
			for _, part := range c {
				_, err := io.WriteString(w, part)
				require.NoError(t, err)
				taken(t, w)
			}
			if first := <-reads; first.text == want {
				joined = true
				break
			}
		}
		assert.True(t, joined, "%q never arrives in one read", c)
	}
}

// A lone escape is a key and comes through by itself.
func TestLoneEscapeArrivesAlone(t *testing.T) {
	w, reads := readers(t)
	_, err := io.WriteString(w, "\x1b")
	require.NoError(t, err)
	assert.Equal(t, got{"\x1b", nil}, <-reads)
	_, err = io.WriteString(w, "j")
	require.NoError(t, err)
	assert.Equal(t, got{"j", nil}, <-reads)
}

func TestJoinerPassesOtherInputOn(t *testing.T) {
	for _, text := range []string{"j", "jjj", "\x1b[A", "\x1b[200~paste\x1b[201~"} {
		w, reads := readers(t)
		_, err := io.WriteString(w, text)
		require.NoError(t, err)
		assert.Equal(t, got{text, nil}, <-reads)
	}
	w, reads := readers(t)
	_, err := io.WriteString(w, "\x1b")
	require.NoError(t, err)
	require.NoError(t, w.Close())
	assert.Equal(t, "\x1b", (<-reads).text, "the end of input does not swallow an escape")
	assert.Equal(t, got{"", io.EOF}, <-reads)
}

// What follows an introducer is waited for much longer than what follows a lone
// escape: slow links put 60 ms and more between the bytes.
func TestIntroducersWaitLonger(t *testing.T) {
	assert.GreaterOrEqual(t, waitFor([]byte("\x1b")), 75)
	assert.LessOrEqual(t, waitFor([]byte("\x1b")), 150, "a lone escape is a key")
	for _, b := range []string{"\x1b[", "\x1bO", "\x1b[1;5"} {
		assert.GreaterOrEqual(t, waitFor([]byte(b)), 300, "%q", b)
	}
}
