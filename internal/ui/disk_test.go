package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fitup/internal/assess"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/session"
	"fitup/internal/project/starter"
	"fitup/internal/ui/paint"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stuck is a disk that stops at a step and stays so until it is let go.
type stuck struct {
	mu    sync.Mutex
	after int // steps that still pass; negative for all
	went  int // steps that passed
	block chan struct{}
	hangs chan struct{} // told once when the first step hangs
	err   error         // of the steps that hung
}

func newStuck() *stuck {
	return &stuck{after: -1, block: make(chan struct{}), hangs: make(chan struct{}, 1)}
}

func (s *stuck) gate(string, string) error {
	s.mu.Lock()
	if s.after != 0 {
		s.after--
		s.went++
		s.mu.Unlock()
		return nil
	}
	block := s.block
	select {
	case s.hangs <- struct{}{}:
	default:
	}
	s.mu.Unlock()
	<-block
	return s.err
}

// hang lets n more steps pass and then none.
func (s *stuck) hang(n int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.after = n
}

// release lets everything pass again, or fail with err.
func (s *stuck) release(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.err = err
	if err == nil {
		s.after = -1
	}
	close(s.block)
}

// beside is a bench whose commands run beside it, as in the program.
type beside struct {
	*driver
	disk  *stuck
	back  chan tea.Msg
	under int // commands that have not come back
}

func demoBeside(t *testing.T) *beside {
	t.Helper()
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
	disk := newStuck()
	b := &beside{driver: driveOn(t, path, 120, 36, "plain", theme.Unicode(), disk.gate), disk: disk, back: make(chan tea.Msg, 100)}
	return b
}

// post delivers a message and waits for nothing.
func (b *beside) post(msg tea.Msg) {
	b.t.Helper()
	if _, ok := msg.(tea.QuitMsg); ok {
		b.quit = true
		return
	}
	_, cmd := b.m.Update(msg)
	b.checkFrame()
	b.start(cmd)
}

func (b *beside) start(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	b.under++
	go func() { b.back <- cmd() }()
}

// take delivers one answer.
func (b *beside) take(msg tea.Msg) {
	b.t.Helper()
	b.under--
	if batch, ok := msg.(tea.BatchMsg); ok {
		for _, c := range batch {
			b.start(c)
		}
		return
	}
	if msg != nil {
		b.post(msg)
	}
}

// settle waits until everything has come back, or the disk hangs.
func (b *beside) settle() {
	b.t.Helper()
	for b.under > 0 {
		select {
		case msg := <-b.back:
			b.take(msg)
		case <-b.disk.hangs:
			b.disk.hangs <- struct{}{}
			return
		}
	}
}

// all waits until everything has come back.
func (b *beside) all() {
	b.t.Helper()
	for b.under > 0 {
		b.take(<-b.back)
	}
}

func (b *beside) press(names ...string) *beside {
	b.t.Helper()
	for _, n := range names {
		k, ok := named[n]
		if !ok {
			for _, r := range strings.TrimPrefix(n, "text:") {
				b.post(rune1(r))
			}
			continue
		}
		b.post(tea.KeyMsg{Type: k})
	}
	return b
}

// slow is what the clock tells when nothing has come back for a while.
func (b *beside) slow() *beside {
	b.t.Helper()
	b.post(slowMsg{b.m.disk.ended.count, b.m.disk.synced.count})
	return b
}

// Keys are answered while the disk hangs, in order, and the screen says that
// nothing is on disk; when it goes on, all of it is there.
func TestKeysAreAnsweredWhileTheDiskHangs(t *testing.T) {
	t.Parallel()
	b := demoBeside(t)
	b.disk.hang(0)
	b.press("down", "down", "right")
	assert.Contains(t, b.screen(), "-289.0 mm")
	b.press("right", "right")
	assert.Contains(t, b.screen(), "-288.0 mm")
	assert.Contains(t, b.screen(), "unsaved")
	assert.NotContains(t, b.screen(), "waiting for the disk")
	assert.Equal(t, 3, b.m.sess.Behind())
	assert.True(t, b.m.disk.owed, "no frame goes to the screen yet")
	b.post(lateMsg{b.m.disk.waits - 1})
	assert.True(t, b.m.disk.owed, "that was another frame")
	b.post(lateMsg{b.m.disk.waits})
	assert.False(t, b.m.disk.owed)
	assert.Contains(t, b.screen(), "unsaved  not written yet")
	b.press("right", "left")
	assert.False(t, b.m.disk.owed, "from then on each goes at once")
	b.slow()
	assert.Contains(t, b.screen(), "unsaved  waiting for the disk")
	assert.Contains(t, b.screen(), "5 edits are not written down yet")

	b.press("s")
	assert.Contains(t, b.screen(), "Saving ")
	saved := b.bytes()
	b.press("right", "u", "left")
	assert.Contains(t, b.screen(), "-288.5 mm")
	assert.True(t, b.m.sess.Unsaved())
	same(t, string(starter.Demo()), b.file())

	b.disk.release(nil)
	b.all()
	same(t, saved, b.file(), "as it was at the key")
	assert.Contains(t, b.screen(), "Saved as it was at the key; what came behind it is unsaved.")
	assert.NotContains(t, b.screen(), "waiting for the disk")
	assert.NotContains(t, b.screen(), "not written yet")
	b.press("right", "u")
	assert.True(t, b.m.disk.owed)
	b.all()
	assert.False(t, b.m.disk.owed)
	assert.True(t, b.m.sess.Unsaved())
	assert.Zero(t, b.m.sess.Behind())
	next := driveFile(t, b.path, 80, 24)
	require.Contains(t, next.screen(), "5 edits from")
	same(t, b.bytes(), next.keys("t").bytes(), "a crash loses nothing now")
	b.press("u")
	b.all()
	same(t, saved, b.bytes())
	assert.False(t, b.m.sess.Unsaved(), "the state that was saved is known again")
}

// The disk stops for ever at every step there is, and the program is killed: what
// was acknowledged as saved is in the file, what was journalled comes back, and
// what comes back is a state that was on the screen.
func TestADiskThatNeverAnswersLosesNothingAcknowledged(t *testing.T) {
	t.Parallel()
	keys := []string{"right", "right", "s", "right", "down", "right", "u", "s", "left", "s", "right"}
	whole := demoBeside(t)
	for _, k := range keys {
		whole.press(k)
		whole.all()
	}
	steps := whole.disk.went
	require.Greater(t, steps, 60)
	for n := range steps {
		if !inturn.Try(t, n, 27) {
			continue
		}
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			b := demoBeside(t)
			b.disk.hang(n)
			t.Cleanup(func() {
				b.disk.release(errors.New("the program is gone"))
				b.all()
			})
			texts := []string{b.bytes()}
			safe, saved := 0, string(starter.Demo())
			var asked []string // what may be in the file as well
			for _, k := range keys {
				b.press(k)
				texts = append(texts, b.bytes())
				if k == "s" {
					asked = append(asked, b.bytes())
				}
				b.settle()
				if b.m.sess.Behind() == 0 {
					safe = len(texts) - 1
				}
				if !b.m.sess.Unsaved() {
					saved, asked = b.bytes(), nil
				}
			}
			if file := b.file(); file != saved {
				require.Contains(t, asked, file, "what was acknowledged is in the file")
			}
			s, left, err := session.Open(b.path, clock)
			require.NoError(t, err)
			if left != nil {
				require.NoError(t, s.Restore(left, edit.Neither).Err)
			}
			got := string(s.Now().Bytes())
			require.True(t, slices.Contains(texts[safe:], got), "step %d: what comes back is none of the last %d states", n, len(texts)-safe)
		})
	}
}

// That the disk is waited for is said as long as it is, and then what was said before.
func TestASlowDiskIsNoLongerSaidOnceItAnswers(t *testing.T) {
	t.Parallel()
	b := demoBeside(t)
	b.disk.hang(0)
	b.press("right")
	said := b.m.message
	b.slow()
	require.Contains(t, b.screen(), "Waiting for the disk")
	b.disk.release(nil)
	b.all()
	assert.NotContains(t, b.screen(), "Waiting for the disk")
	assert.Equal(t, said, b.m.message)
}

// The way out waits for the disk, says so when that takes long, and no key comes
// between.
func TestTheWayOutWaitsForTheDisk(t *testing.T) {
	b := demoBeside(t)
	b.disk.hang(0)
	b.press("right", "q", "s")
	work := b.bytes()
	b.press("right")
	same(t, work, b.bytes(), "a key that comes behind it waits")
	assert.Empty(t, b.m.dialogs)
	b.slow()
	require.Contains(t, b.screen(), "Waiting for the disk")
	assert.Contains(t, b.screen(), "1 edit is not written down yet: a crash now")
	b.press("esc", "enter", "right", "q", "s")
	assert.Len(t, b.m.dialogs, 1)
	b.disk.release(nil)
	b.all()
	assert.True(t, b.quit)
	same(t, work, b.file())
	require.NoError(t, b.m.finish(os.Stderr))
	assert.Empty(t, driveFile(t, b.path, 80, 24).m.dialogs)
}

// Somebody who does not want to wait any longer can leave, and is told.
func TestLeavingWithoutTheDisk(t *testing.T) {
	b := demoBeside(t)
	b.disk.hang(0)
	b.press("right", "q", "d")
	b.slow()
	require.Contains(t, b.screen(), "Waiting for the disk")
	b.press("x")
	assert.True(t, func() bool { b.take(<-b.back); return b.quit }())
	require.ErrorContains(t, b.m.finish(os.Stderr), "the last edits may be lost")
	b.disk.release(errors.New("the program is gone"))
	b.all()
}

// s and q in one breath: nothing is asked, because it is being saved.
func TestSaveAndQuitInOneBreath(t *testing.T) {
	t.Parallel()
	b := demoBeside(t)
	b.disk.hang(0)
	b.press("right", "s", "q")
	assert.NotContains(t, b.screen(), "Unsaved work")
	work := b.bytes()
	b.disk.release(nil)
	b.all()
	assert.True(t, b.quit)
	same(t, work, b.file())
}

// What is typed while a box's answer is carried out follows on it.
func TestKeysWaitForAnAnswerOnDisk(t *testing.T) {
	t.Parallel()
	b := demoBeside(t)
	b.press("right", "S", "text:two.toml")
	b.all()
	b.disk.hang(0)
	b.press("enter", "right", "s")
	assert.Contains(t, b.screen(), "Save under another name", "not written yet")
	b.disk.release(nil)
	b.all()
	assert.Empty(t, b.m.dialogs)
	assert.Contains(t, b.screen(), " fitup  two.toml")
	text, err := os.ReadFile(filepath.Join(filepath.Dir(b.path), "two.toml"))
	require.NoError(t, err)
	same(t, b.bytes(), string(text))
	assert.Contains(t, string(text), "left_front = -105.0")
	same(t, string(starter.Demo()), b.file())
}

// A save and a change from outside that both hang: the keys go on, and what both
// of them did is there in the end.
func TestOutsideChangeWhileTheDiskHangs(t *testing.T) {
	t.Parallel()
	b := demoBeside(t)
	b.write("setback = 260", "setback = 270")
	b.disk.hang(0)
	b.post(lookMsg{sight: session.Glance(b.path, clock())})
	b.press("down", "down", "right", "s", "right")
	assert.Contains(t, b.screen(), "-288.5 mm")
	b.disk.release(nil)
	b.all()
	b.press("s")
	b.all()
	assert.Contains(t, b.file(), "setback = 270")
	assert.Contains(t, b.file(), "rear = -288.5")
	same(t, b.bytes(), b.file())
	assert.False(t, b.m.sess.Unsaved())
}

// A fault in a task ends the bench in order, and the rest of what was queued is
// still written.
func TestPanicInATask(t *testing.T) {
	b := demoBeside(t)
	b.press("right")
	b.all()
	b.m.alone(func(*session.Session) { panic("a bent needle") }, func() {})
	b.post(nil)
	b.all()
	require.True(t, b.quit)
	require.NotNil(t, b.m.failure)
	require.NoError(t, b.m.finish(os.Stderr))
	same(t, b.bytes(), driveFile(t, b.path, 80, 24).keys("t").bytes())
}

// An edit is journalled while the build is assessed: its frame goes to the terminal without
// another word from the disk where the journal has it by then, and waits for it otherwise.
func TestAnEditIsJournalledAhead(t *testing.T) {
	b := demoBeside(t)
	b.keys("down", "down")
	terminal, err := os.Create(filepath.Join(t.TempDir(), "terminal"))
	require.NoError(t, err)
	b.m.screen = paint.New(terminal)
	defer b.m.screen.Close()
	again := b.m.again
	b.m.again = func(before *assess.Assessment, now *project.Build) *assess.Assessment {
		require.Eventually(t, func() bool { return len(b.m.disk.ahead) == 1 }, 5*time.Second, time.Millisecond)
		return again(before, now)
	}
	b.m.Update(tea.KeyMsg{Type: tea.KeyRight})
	assert.Zero(t, b.m.sess.Behind())
	assert.False(t, b.m.disk.owed, "the frame is on its way")

	b.m.again = again
	b.disk.hang(0)
	_, cmd := b.m.Update(tea.KeyMsg{Type: tea.KeyRight})
	<-b.disk.hangs
	assert.Equal(t, 1, b.m.sess.Behind())
	assert.True(t, b.m.disk.owed)
	assert.True(t, b.m.disk.ended.under)
	assert.Nil(t, b.m.disk.ahead, "what comes of it comes as a message")
	require.NotNil(t, cmd)
	b.disk.release(nil)
	b.m.screen.Close()
	b.m.screen = nil
	b.start(cmd)
	b.settle()
	assert.Zero(t, b.m.sess.Behind())
}
