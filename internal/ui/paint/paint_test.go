package paint

import (
	"errors"
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
	assert.Equal(t, begin+"\x1b[1;1Ha\x1b[2;1Hb"+end, changes(nil, []string{"a", "b"}))
	assert.Equal(t, begin+"\x1b[2;1Hc"+end, changes([]string{"a", "b"}, []string{"a", "c"}))
	assert.Empty(t, changes([]string{"a", "b"}, []string{"a", "b"}))
	assert.Equal(t, begin+"\x1b[3;1Hc"+end, changes([]string{"a", "b"}, []string{"a", "b", "c"}))
}

func TestAFrameIsOneWriteAndTheSameFrameNone(t *testing.T) {
	term := &terminal{began: make(chan struct{}, 9)}
	s := New(term)
	s.Show([]string{"one", "two"})
	<-term.began
	s.Show([]string{"one", "two"})
	s.Close()
	assert.Equal(t, []string{begin + "\x1b[1;1Hone\x1b[2;1Htwo" + end}, term.all())
}

// A terminal that stands still holds up neither frames nor the end.
func TestAStalledTerminal(t *testing.T) {
	term := &terminal{hold: make(chan struct{}), began: make(chan struct{}, 9)}
	s := New(term)
	s.Show([]string{"0"})
	<-term.began
	for range 10_000 {
		s.Show([]string{"old"})
	}
	s.Show([]string{"last"})
	term.hold <- struct{}{}
	<-term.began
	term.hold <- struct{}{}
	s.Close()
	require.Len(t, term.all(), 2, "frames that nobody could see are left out")
	assert.Contains(t, term.all()[1], "last")

	stuck := &terminal{hold: make(chan struct{}), began: make(chan struct{}, 9)}
	s = New(stuck)
	s.Show([]string{"0"})
	<-stuck.began
	from := time.Now()
	s.Close()
	assert.GreaterOrEqual(t, time.Since(from), patience)
	close(stuck.hold)
}

func TestRepaintWritesEveryRow(t *testing.T) {
	term := &terminal{began: make(chan struct{}, 9)}
	s := New(term)
	s.Show([]string{"one", "two"})
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
	s.Show([]string{"one", "two"})
	<-term.began
	s.Show([]string{"one", "three"})
	s.Close()
	require.Len(t, term.all(), 2)
	assert.True(t, strings.Contains(term.all()[1], "one"))
}

// What is shown last is on the terminal before the screen is closed.
func TestCloseShowsTheLastFrame(t *testing.T) {
	term := &terminal{}
	s := New(term)
	for range 50 {
		s.Show([]string{"x"})
		s.Show([]string{"y"})
	}
	s.Show([]string{"end"})
	s.Close()
	ws := term.all()
	assert.Contains(t, ws[len(ws)-1], "end")
	s.Show([]string{"late"})
	time.Sleep(2 * gap)
	assert.Equal(t, ws, term.all())
}
