package ui

import (
	"context"
	"os"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asking is the demo with things that may move.
func asking(hold string) []byte {
	return append(starter.Demo(), "\n[find]\nhold = ["+hold+"]\naccept = \"tight\"\n"+`
[[find.move]]
of = "placement.rear"
range = ["-300 mm", "-276 mm"]
step = "4 mm"

[[find.move]]
of = "line.rear.pinion.slope"
range = ["2 deg down to the rear", "6 deg down to the rear"]
step = "1 deg"
`...)
}

// The box of proposals says that nothing may move, and leads to where that is typed.
func TestProposalsWithNothingThatMayMove(t *testing.T) {
	d := demo(t, 120, 45)
	d.keys("L")
	assert.Contains(t, flat(d), "Nothing may move yet")
	d.keys("esc")
	assert.Empty(t, d.m.dialogs, "back to the bench")
	d.keys("L", "e")
	assert.True(t, d.m.dataOnTop())
	d = drive(t, asking(""), 120, 45)
	d.keys("L", "t")
	assert.Contains(t, d.m.message.text, "no proposal here yet")
}

// What is found can be tried, in one step that undo takes back, and is what was promised.
func TestAProposalIsTried(t *testing.T) {
	d := drive(t, asking(`"line.rear.joint.1.max", "line.rear.joint.2.max"`), 140, 45)
	before := string(d.s.Now().Bytes())
	d.keys("L", "g")
	s := d.m.finder.last
	require.True(t, s.done)
	require.NoError(t, s.failed)
	require.NotEmpty(t, s.answer.Proposals)
	at := -1
	for i := range s.answer.Proposals {
		if len(s.answer.Proposals[i].Moves) > 0 && at < 0 {
			at = i
		}
	}
	require.GreaterOrEqual(t, at, 0, "one that moves something")
	for range at {
		d.keys("down")
	}
	x := &s.answer.Proposals[at]
	assert.Same(t, x.After, d.m.proposedHere(), "drawn in the sketch")
	assert.Contains(t, flat(d), "before")
	d.keys("t")
	for _, c := range s.problem.Held(x) {
		f, ok := d.m.now.Finding(c.After.ID)
		require.True(t, ok)
		assert.Equal(t, c.After.Status, f.Status, f.ID)
		assert.InDelta(t, c.After.Value, f.Value, 1e-6, f.ID)
	}
	assert.Contains(t, flat(d), "The build has been changed since")
	d.keys("t")
	assert.Contains(t, d.m.message.text, "has been changed since")
	d.keys("u")
	assert.Equal(t, before, string(d.s.Now().Bytes()))
}

// While a search is at work keys are taken; it is stopped by its key, and what comes late
// of an older one is dropped.
func TestASearchBesideTheKeys(t *testing.T) {
	path := t.TempDir() + "/build.toml"
	disk := newStuck()
	require.NoError(t, os.WriteFile(path, asking(`"line.rear.**"`), 0o644))
	s := &beside{driver: driveOn(t, path, 120, 36, "plain", theme.Unicode(), disk.gate), disk: disk, back: make(chan tea.Msg, 100)}
	begun, let := make(chan struct{}, 10), make(chan struct{}, 10)
	s.m.begins = func(context.Context, work) error {
		begun <- struct{}{}
		<-let
		return nil
	}
	s.press("L", "g")
	<-begun
	old := s.m.finder.last
	assert.Contains(t, s.screen(), "searching")
	s.press("esc", "1", "down", "g")
	assert.Same(t, old, s.m.finder.last)
	s.press("L", "g")
	let <- struct{}{}
	s.all()
	require.True(t, old.done)
	require.ErrorIs(t, old.answer.Stopped, context.Canceled)
	assert.Empty(t, old.answer.Proposals)
	s.press("g")
	<-begun
	s.post(overMsg{old})
	assert.False(t, s.m.finder.last.done)
	let <- struct{}{}
	s.all()
	assert.True(t, s.m.finder.last.done)
}

// A search stands still while a key is answered, in the middle of a place too, and goes on
// after; one that is ended then does not wait for the key.
func TestASearchStandsStillWhileAKeyIsAnswered(t *testing.T) {
	t.Parallel()
	f, err := project.Parse("build.toml", asking(`"line.rear.joint.1.max", "line.rear.joint.2.max"`))
	require.NoError(t, err)
	alone := &searching{of: f.Build, aside: newAside()}
	steps := 0
	require.NoError(t, alone.search(func() { steps++ }))
	require.Greater(t, steps, alone.answer.Judged, "it looks up more than once in a place")
	for _, at := range []int{1, steps / 2} {
		for _, ends := range []bool{false, true} {
			var y yields
			naps := make(chan bool)
			y.naps = func() { naps <- true }
			s := &searching{of: f.Build, aside: newAside()}
			n, ended, released := 0, make(chan bool), func() {}
			go func() {
				s.failed = s.search(func() {
					if n++; n == at {
						released = y.keys(true)
					}
					y.wait(s.ctx)
				})
				close(ended)
			}()
			for range 5 { // it does nothing but sleep
				<-naps
				require.Equal(t, at, n)
			}
			if ends {
				s.end()
			} else {
				released()
			}
			for on := true; on; {
				select {
				case <-naps: // the one that had begun
				case <-ended:
					on = false
				}
			}
			require.NoError(t, s.failed)
			if ends {
				require.ErrorIs(t, s.answer.Stopped, context.Canceled)
				continue
			}
			require.Equal(t, steps, n)
			require.Equal(t, alone.answer.Judged, s.answer.Judged)
			require.Len(t, s.answer.Proposals, len(alone.answer.Proposals))
		}
	}
}

// A search waits while a key is answered.
func TestASearchYields(t *testing.T) {
	var y yields
	ended := y.keys(true)
	gone, end := context.WithCancel(context.Background())
	end()
	y.wait(gone) // nobody waits for it
	ended()
	y.wait(context.Background())
	assert.False(t, y.busy.Load())
}
