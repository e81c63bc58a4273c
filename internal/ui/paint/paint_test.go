package paint

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// terminal takes writes, one at a time when told to.
type terminal struct {
	mu     sync.Mutex
	writes []string
	hold   chan struct{} // when set, each write waits for an entry
	began  chan struct{}
	err    error
}

func (t *terminal) Write(p []byte) (int, error) {
	if t.began != nil {
		t.began <- struct{}{}
	}
	if t.hold != nil {
		<-t.hold
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	t.writes = append(t.writes, string(p))
	return len(p), t.err
}

func (t *terminal) all() []string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.writes
}

func TestOnlyChangedRowsAreWritten(t *testing.T) {
	const home = "\x1b[1;1H\x1b[?25h"
	same := func(was, now []string) string { return changes(was, now, Cell{}, Cell{}) }
	assert.Equal(t, begin+"\x1b[1;1Ha\x1b[2;1Hb"+home+end, same(nil, []string{"a", "b"}))
	assert.Equal(t, begin+"\x1b[2;1Hc"+home+end, same([]string{"a", "b"}, []string{"a", "c"}))
	assert.Empty(t, same([]string{"a", "b"}, []string{"a", "b"}))
	assert.Equal(t, begin+"\x1b[3;1Hc"+home+end, same([]string{"a", "b"}, []string{"a", "b", "c"}))
}

func TestTheCursorIsPutInItsPlace(t *testing.T) {
	rows := []string{"a", "b"}
	assert.Equal(t, begin+"\x1b[2;5H\x1b[?25h"+end, changes(rows, rows, Cell{}, Cell{4, 1}), "also when no row has changed")
	assert.Empty(t, changes(rows, rows, Cell{4, 1}, Cell{4, 1}))
}

// What the screen library writes leaves the cursor where the frame has it, and
// nothing more goes to a terminal that has been given back.
func TestOthersWritesLeaveTheCursorInItsPlace(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tty")
	f, err := os.Create(path)
	require.NoError(t, err)
	s := New(&terminal{})
	w := s.Beside(f)
	write := func(text string) {
		n, err := w.Write([]byte(text))
		require.NoError(t, err)
		assert.Equal(t, len(text), n)
	}
	write("before;")
	s.Show([]string{"one", "two"}, Cell{2, 1})
	write("row")
	s.Close()
	write(";after")
	require.NoError(t, f.Close())
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "before;row\x1b[2;3H\x1b[?25h;after", string(got))
}

func TestAFrameIsOneWriteAndTheSameFrameNone(t *testing.T) {
	term := &terminal{began: make(chan struct{}, 9)}
	s := New(term)
	s.Show([]string{"one", "two"}, Cell{})
	<-term.began
	s.Show([]string{"one", "two"}, Cell{})
	s.Close()
	assert.Equal(t, []string{begin + "\x1b[1;1Hone\x1b[2;1Htwo\x1b[1;1H\x1b[?25h" + end}, term.all())
}

// A terminal that stands still holds up neither frames nor the end.
func TestAStalledTerminal(t *testing.T) {
	term := &terminal{hold: make(chan struct{}), began: make(chan struct{}, 9)}
	s := New(term)
	s.Show([]string{"0"}, Cell{})
	<-term.began
	for range 10_000 {
		s.Show([]string{"old"}, Cell{})
	}
	s.Show([]string{"last"}, Cell{})
	term.hold <- struct{}{}
	<-term.began
	term.hold <- struct{}{}
	s.Close()
	require.Len(t, term.all(), 2, "frames that nobody could see are left out")
	assert.Contains(t, term.all()[1], "last")

	stuck := &terminal{hold: make(chan struct{}), began: make(chan struct{}, 9)}
	s = New(stuck)
	s.Show([]string{"0"}, Cell{})
	<-stuck.began
	from := time.Now()
	s.Close()
	assert.GreaterOrEqual(t, time.Since(from), patience)
	close(stuck.hold)
}

func TestRepaintWritesEveryRow(t *testing.T) {
	term := &terminal{began: make(chan struct{}, 9)}
	s := New(term)
	s.Show([]string{"one", "two"}, Cell{})
	<-term.began
	s.Repaint()
	<-term.began
	s.Close()
	require.Len(t, term.all(), 2)
	assert.Equal(t, term.all()[0], term.all()[1])
}

func TestNothingIsKnownAfterAWriteThatFailed(t *testing.T) {
	term := &terminal{began: make(chan struct{}, 9), err: errors.New("gone")}
	s := New(term)
	s.Show([]string{"one", "two"}, Cell{})
	<-term.began
	s.Show([]string{"one", "three"}, Cell{})
	s.Close()
	require.Len(t, term.all(), 2)
	assert.True(t, strings.Contains(term.all()[1], "one"))
}

// What is shown last is on the terminal before the screen is closed.
func TestCloseShowsTheLastFrame(t *testing.T) {
	term := &terminal{}
	s := New(term)
	for range 50 {
		s.Show([]string{"x"}, Cell{})
		s.Show([]string{"y"}, Cell{})
	}
	s.Show([]string{"end"}, Cell{})
	s.Close()
	ws := term.all()
	assert.Contains(t, ws[len(ws)-1], "end")
	s.Show([]string{"late"}, Cell{})
	time.Sleep(2 * gap)
	assert.Equal(t, ws, term.all())
}
