package assess

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// wholeBuilds are builds with much in them, by name.
func wholeBuilds(t *testing.T) map[string]*project.Build {
	t.Helper()
	out := map[string]*project.Build{}
	for name, text := range wholeTexts(t) {
		out[name] = build(t, text)
	}
	return out
}

// wholeTexts are the files of wholeBuilds.
func wholeTexts(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{"demo": string(starter.Demo()), "starter": string(starter.New())}
	files, err := filepath.Glob("../../testdata/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		out[filepath.Base(f)] = string(text)
	}
	return out
}

// A build that was prepared once says of every thing moved what assessing the
// moved build from its beginning says, also when several ask at once. By default one in
// three of the things is moved, of the placement and of the lines.
func TestPreparedSaysWhatRunSays(t *testing.T) {
	for name, b := range wholeBuilds(t) {
		p := Prepare(b)
		asked := 0
		var all sync.WaitGroup
		atOnce := make(chan bool, 3) // each holds two assessments
		things := inturn.Kinds(t, b.Movables(), 3, func(m project.Movable) string { of, _, _ := strings.Cut(m.Path(), "."); return of })
		for i, m := range things {
			was, err := b.Reads(m)
			if err != nil {
				continue
			}
			asked++
			all.Go(func() {
				atOnce <- true
				defer func() { <-atOnce }()
				moves := []project.Move{{Of: m, To: was + 0.004*float64(i+1)}}
				moved, err := b.With(moves...)
				if !assert.NoError(t, err) {
					return
				}
				want := Run(moved)
				got, err := p.At(moves, Everything)
				if !assert.NoError(t, err) || !assert.Len(t, got.Findings, len(want.Findings), "%s: %s", name, m.Path()) {
					return
				}
				for k, f := range want.Findings {
					g := got.Findings[k]
					assert.Equal(t, f.ID, g.ID)
					assert.Equal(t, f.Status, g.Status, "%s: %s: %s", name, m.Path(), f.ID)
					assert.Equal(t, f.Value, g.Value, "%s: %s: %s", name, m.Path(), f.ID)
					assert.Equal(t, f.Uncertainty, g.Uncertainty, "%s: %s: %s", name, m.Path(), f.ID)
				}
			})
		}
		all.Wait()
		if name != "starter" {
			assert.NotZero(t, asked, name)
		}
	}
}

// What is asked for by a finding's id is enough for it to be what the whole
// says, whatever is moved.
func TestPartsAreEnoughForTheirFindings(t *testing.T) {
	b := build(t, string(starter.Demo()))
	p := Prepare(b)
	for _, path := range []string{"placement.rear", "line.rear.pinion.slope", "line.rear.shaft.1.yoke_offset"} {
		m, err := b.MovableNamed(path)
		require.NoError(t, err)
		was, err := b.Reads(m)
		require.NoError(t, err)
		moves := []project.Move{{Of: m, To: was + 0.02}}
		whole, err := p.At(moves, Everything)
		require.NoError(t, err)
		require.NotEmpty(t, whole.Findings)
		for _, f := range whole.Findings {
			part, err := p.At(moves, For(f.ID))
			require.NoError(t, err)
			g, ok := part.Finding(f.ID)
			if !assert.True(t, ok, "%s: %s", path, f.ID) {
				continue
			}
			assert.Equal(t, f.Status, g.Status, "%s: %s", path, f.ID)
			assert.Equal(t, f.Advice(), g.Advice(), "%s: %s", path, f.ID)
			assert.InDelta(t, f.Value, g.Value, 1e-12)
		}
	}
}

func TestWhatCannotBePreparedSaysSo(t *testing.T) {
	b := build(t, string(starter.Demo()))
	m, err := b.MovableNamed("placement.tilt")
	require.NoError(t, err)
	_, err = Prepare(b).At([]project.Move{{Of: m, To: 3}}, Everything)
	require.Error(t, err)
}
