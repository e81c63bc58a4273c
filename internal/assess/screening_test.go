package assess

import (
	"os"
	"regexp"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Strength, whirl and loads are called screening wherever a finding of them
// shows: its title is on the screen, in check and in the JSON.
func TestStrengthWhirlAndLoadsAreScreening(t *testing.T) {
	ids := regexp.MustCompile(`^bracket\..*\.(bending|weld|welded|bolts|plate)$|\.(whirl|torque|shear|lifts|rock)$`)
	text, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	example, err := project.Parse("example.toml", text)
	require.NoError(t, err)
	kinds := map[string]bool{}
	for _, f := range []*project.File{demoFile(t), example} {
		for _, got := range Run(f.Build).Findings {
			if m := ids.FindString(got.ID); m != "" {
				kinds[regexp.MustCompile(`[a-z]+$`).FindString(m)] = true
				assert.Contains(t, got.Title, "screening", got.ID)
			}
		}
	}
	for _, k := range []string{"bending", "weld", "bolts", "whirl", "lifts", "rock"} {
		assert.True(t, kinds[k], k)
	}
}
