package propose

import (
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What could still be measured to marks is among what to measure next: each that was not,
// by what all that was measured says it would read, so that nothing contradicts it; and where
// the axle stands is no less sure by any of them, and surer by one.
func TestWhatIsNotMeasuredToMarksYetIsWeighed(t *testing.T) {
	f, err := project.Parse("x.toml", []byte(example.MarkedAxle()))
	require.NoError(t, err)
	now := assess.Run(f.Build)
	was := map[string]bool{}
	for i := range f.Build.Measurements {
		was[f.Build.Measurements[i].Title()] = true
	}
	found := untaken(f.Build, now)
	require.NotEmpty(t, found)
	surer := false
	axle, engine := 0, 0
	for i, c := range found {
		assert.False(t, was[c.of], c.of)
		if m := c.build.Measurements[len(c.build.Measurements)-1]; c.build.ToAxle(&m) {
			axle++
		} else {
			engine++
		}
		if i%3 > 0 {
			continue
		}
		a := assess.Run(c.build)
		assert.Empty(t, a.Hung.Suspects, c.of)
		for k, r := range now.Hung.Axles[0].Rows {
			is := a.Hung.Axles[0].Rows[k].Is
			require.True(t, is.Known)
			assert.LessOrEqual(t, is.U(), r.Is.U()*(1+1e-6), "%s, %s", c.of, r.Key)
			assert.InDelta(t, r.Is.V, is.V, 0.1*r.Is.U(), "%s, %s: it says about what the others say", c.of, r.Key)
			surer = surer || is.U() < 0.99*r.Is.U()
		}
	}
	assert.True(t, surer)
	assert.Equal(t, 3, axle, "heights over the right rail")
	assert.Positive(t, engine)
}
