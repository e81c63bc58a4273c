package main

import (
	"bytes"
	"context"
	"testing"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/grown"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A command says on a terminal how far a large survey is, wipes that, and prints what the
// survey says; stopped, it prints nothing and says so.
func TestACommandWorksOutALargeSurvey(t *testing.T) {
	f, err := project.Parse("large.toml", []byte(grown.Survey(62, 186, 40)))
	require.NoError(t, err)
	clock, at := func() func() time.Time {
		n := time.Time{}
		return func() time.Time { n = n.Add(glance); return n }
	}(), &bytes.Buffer{}
	ended, stop := context.WithCancel(t.Context())
	stop()
	_, err = assessedIn(ended, f.Build, nil, clock)
	require.ErrorContains(t, err, "stopped before the survey was worked out")
	assert.Equal(t, exitStopped, exitCode(err))

	x, err := assessedIn(t.Context(), f.Build, at, clock)
	require.NoError(t, err)
	assert.Contains(t, at.String(), "the survey: fitting the measurements, step 1; ctrl+c stops")
	assert.True(t, bytes.HasSuffix(at.Bytes(), []byte(wipe)))
	assert.Nil(t, x.Fitting())
	fit, ok := x.Finding("frame.survey.fit")
	require.True(t, ok)
	assert.Equal(t, assess.Over, fit.Status)
	assert.Contains(t, fit.Advice(), x.Frame.Now.Lines[39].Name+" reads")

	at.Reset()
	_, err = assessedIn(t.Context(), f.Build, at, clock)
	require.NoError(t, err)
	assert.Empty(t, at.String(), "what is known takes no time")
}
