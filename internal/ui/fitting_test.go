package ui

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/grown"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// surveying is a bench with a large survey, each working out of which stands still until
// it is let go.
type surveying struct {
	*beside
	begun chan struct{} // has a word for each that has begun
	let   chan struct{} // a word lets one go on
}

func largeSurvey(t *testing.T) *surveying {
	t.Helper()
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, []byte(grown.Survey(64, 190, 0)), 0o644))
	disk := newStuck()
	s := &surveying{begun: make(chan struct{}, 10), let: make(chan struct{}, 10)}
	s.beside = &beside{driver: driveOn(t, path, 120, 36, "plain", theme.Unicode(), disk.gate), disk: disk, back: make(chan tea.Msg, 100)}
	s.m.begins = func(context.Context, work) error {
		s.begun <- struct{}{}
		<-s.let
		return nil
	}
	return s
}

// begins takes what comes back until one more has begun.
func (s *surveying) begins() {
	s.t.Helper()
	for {
		select {
		case <-s.begun:
			return
		case msg := <-s.back:
			s.take(msg)
		}
	}
}

func (s *surveying) fits() assess.Finding {
	f, ok := s.m.now.Finding(finding.SurveyFit)
	require.True(s.t, ok)
	return f
}

// tapes is one measurement more, typed on the screen.
func (s *surveying) tapes(from, to, length string) {
	s.t.Helper()
	n := len(s.m.now.Build.Measurements)
	s.press("4", "m", "text:point."+from+" to point."+to, "down", "down", "down", "text:"+length, "enter")
	require.Len(s.t, s.m.now.Build.Measurements, n+1, s.m.message.text)
}

// While a large survey is worked out the bench takes keys, nothing that rests on it is
// known, and it says how far it is; then it is there.
func TestALargeSurveyIsWorkedOutBesideTheKeys(t *testing.T) {
	s := largeSurvey(t)
	require.Equal(t, assess.OK, s.fits().Status, s.fits().Advice())
	count := len(s.m.now.Findings)
	s.tapes("l0", "r2", "870.6")
	s.begins()
	assert.Equal(t, assess.NotKnown, s.fits().Status)
	assert.Contains(t, s.fits().Advice(), "being worked out")
	assert.Len(t, s.m.now.Findings, count, "none is absent meanwhile")
	for _, f := range s.m.now.Findings {
		if f.By == finding.FrameTrade {
			assert.Equal(t, assess.NotKnown, f.Status, f.ID)
		}
	}
	assert.NotContains(t, s.m.message.text, "not known", "what waits has not changed")
	assert.Contains(t, s.screen(), "working out the survey, esc stops")
	s.m.fit.fitting.at.Store(&assess.Progress{At: "fitting the measurements", Done: 3})
	s.post(glanceMsg{s.m.fit.fitting})
	assert.Contains(t, s.screen(), "survey: fitting the measurements, step 3, esc stops")
	s.press("z", "]")
	assert.Contains(t, s.screen(), "square", "pages turn")
	s.press("[")
	assert.Contains(t, flat(s.driver), "Nothing is placed: the survey is being worked out")
	s.let <- struct{}{}
	s.all()
	assert.Equal(t, assess.OK, s.fits().Status, s.fits().Advice())
	assert.Contains(t, s.m.message.text, "The survey is worked out: 64 points, 191 measurements")
	assert.NotContains(t, s.screen(), "esc stops")
}

// A newer edit ends what an older one began. What comes of that late is dropped, whether
// it was ended or had just come to its end.
func TestWhatComesLateOfAnOlderSurveyIsDropped(t *testing.T) {
	s := largeSurvey(t)
	s.tapes("l0", "r2", "900.0") // a slip
	s.begins()
	old := s.m.fit.fitting
	s.press("u")
	s.tapes("l0", "r2", "870.6")
	s.begins()
	require.NotSame(t, old, s.m.fit.fitting)
	now := s.m.now
	s.post(overMsg{old})
	assert.Same(t, now, s.m.now)
	assert.Equal(t, assess.NotKnown, s.fits().Status)
	s.let <- struct{}{}
	s.let <- struct{}{}
	s.all()
	require.ErrorIs(t, old.failed, context.Canceled)
	assert.Equal(t, assess.OK, s.fits().Status, "of the last edit: "+s.fits().Advice())
	assert.Len(t, s.m.now.Build.Measurements, 191)

	s.tapes("l1", "r3", "700.0") // and a slip is found as ever
	s.begins()
	s.let <- struct{}{}
	s.all()
	assert.Equal(t, assess.Over, s.fits().Status)
	assert.Contains(t, s.fits().Advice(), "l1 to r3")
	assert.Contains(t, s.m.message.text, "survey, largest misfit: ok → over")
}

// Escape stops it, which stays said, and Escape goes on with it.
func TestALargeSurveyIsStopped(t *testing.T) {
	s := largeSurvey(t)
	s.tapes("l0", "r2", "870.6")
	s.begins()
	s.press("esc")
	assert.Contains(t, s.screen(), "survey stopped, esc goes on")
	assert.Equal(t, assess.NotKnown, s.fits().Status)
	assert.Contains(t, s.fits().Advice(), "working out the survey was stopped")
	s.let <- struct{}{}
	s.all()
	assert.Equal(t, assess.NotKnown, s.fits().Status)
	s.press("down", "2", "f", "esc")
	s.all()
	assert.Contains(t, s.screen(), "survey stopped", "no other key begins it again")
	assert.Nil(t, s.m.fit.fitting)
	s.press("esc")
	s.begins()
	assert.Contains(t, s.screen(), "esc stops")
	s.let <- struct{}{}
	s.all()
	assert.Equal(t, assess.OK, s.fits().Status)
	assert.Empty(t, s.begun)
}

// A small survey is there in the frame that answers the key.
func TestASmallSurveyDoesNotWait(t *testing.T) {
	s := largeSurvey(t)
	path := filepath.Join(t.TempDir(), "small.toml")
	require.NoError(t, os.WriteFile(path, []byte(grown.Survey(40, 160, 0)), 0o644))
	d := driveFile(t, path, 120, 36)
	d.m.begins = s.m.begins
	s.beside.driver = d
	s.tapes("l0", "r3", "869.0")
	assert.Empty(t, s.begun)
	assert.Nil(t, d.m.now.Fitting())
	assert.NotEqual(t, assess.NotKnown, s.fits().Status)
	s.all() // the journal is not written into a folder that is gone
}
