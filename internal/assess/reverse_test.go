package assess

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Reverse as far as the wheels grip is held to the limit with its ± too: what the file
// states of the weight on the wheels makes a mount tight that by its own load is well
// within.
func TestReverseAsFarAsTheWheelsGripHasItsPlusMinus(t *testing.T) {
	const id = "mount.right_front.lifts"
	at := func(rear string) Finding { return findingOf(t, Run(build(t, weakWithoutReverse(rear))), id) }
	most := 0
	for kg := 500; kg < 900; kg += 5 {
		if f := at(fmt.Sprint(kg)); f.Status == OK {
			require.Contains(t, f.Assumes, "reverse as far as the wheels grip")
			most = kg
		}
	}
	require.Greater(t, most, 500)
	require.Less(t, most, 890)
	assert.Equal(t, OK, at(fmt.Sprintf(`"%d kg ± 0.01"`, most-5)).Status)
	f := at(fmt.Sprintf(`"%d kg ± 20"`, most-5))
	assert.Equal(t, Tight, f.Status, f.Missing)
	assert.Contains(t, f.Advice(), "as far as the wheels grip")
	assert.Equal(t, OK, at(fmt.Sprintf(`"%d kg ± 5"`, most-40)).Status, "farther from it the same ± does not matter")
}

// weakWithoutReverse is a powertrain on bonded mounts, its reverse not in the file, and
// a vehicle whose wheels slip with so much weight on the driven ones.
func weakWithoutReverse(rear string) string {
	heavy := strings.NewReplacer("reverse = 3.5\n", "", "300 N m", "100 N m").Replace(example.Heavy)
	return example.Level + heavy + strings.ReplaceAll(example.Rubbers, `"captive"`, `"bonded only"`) + `
[line.rear]
ratio = 4
[vehicle]
tyre_diameter = 800
front_laden = 1000
rear_laden = ` + rear + `
[loads]
friction = { value = 0.8, source = "gravel" }
rebound = { value = 0, source = "a test" }
overrun = { value = 0.1, source = "a test" }
`
}
