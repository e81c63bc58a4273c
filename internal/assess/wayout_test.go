package assess

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A crossmember that is bolted in comes out, or what is in its way is named. By hand: the
// beam of the build is 60 high and 40 wide about station 1510, its underside at -283; its
// pad plate's top at -215.
func TestCrossmemberComesOut(t *testing.T) {
	text, err := os.ReadFile("../../testdata/mounts/dropped_crossmember.toml")
	require.NoError(t, err)
	pipe := "points = [[900, 150, -340], [2200, 150, -340]]"
	for name, c := range map[string]struct {
		pipe, more string
		status     Status
		value      float64
		says       string
	}{
		"a pipe under it":             {pipe, "", Over, -60, "straight down the front pipe is in the way after 24.0 mm"},
		"a pipe over it, clear of it": {"points = [[900, 150, -170], [2200, 150, -170]]", "", OK, 23, "comes out straight down: it passes the front pipe with 23.0 mm"},
		"a bar under it, and a gearbox that it gets away from": {"points = [[900, 600, -340], [2200, 600, -340]]",
			"[[chassis]]\nname = \"bar\"\nfrom = [1500, -50, -400]\nto = [1520, 50, -380]\n[[powertrain.part]]\nname = \"tail\"\nfrom = [1150, -80, -100]\nto = [1330, 80, 80]\n",
			OK, 97, "straight back and down from there: it passes the bar with 97.0 mm"},
		"a bar under it that is longer": {"points = [[900, 600, -340], [2200, 600, -340]]",
			"[[chassis]]\nname = \"bar\"\nfrom = [1400, -50, -400]\nto = [2400, 50, -380]\n[[powertrain.part]]\nname = \"tail\"\nfrom = [1150, -80, -100]\nto = [1330, 80, 80]\n",
			Over, -40, "the bar is in the way after"},
	} {
		t.Run(name, func(t *testing.T) {
			require.Contains(t, string(text), pipe)
			straight := strings.Replace(string(text), "[[-450, 384, -2], [2600, 368, -2]]", "[[-450, 380, 0], [2600, 380, 0]]", 1)
			a := Run(build(t, strings.Replace(straight, pipe, c.pipe, 1)+c.more))
			f := findingOf(t, a, "bracket.rear.out")
			assert.Equal(t, c.status, f.Status, "%g %s", f.Value, f.Missing)
			assert.Contains(t, f.Advice(), c.says)
			assert.InDelta(t, c.value, f.Value, 0.01, f.Advice())
		})
	}

	none := string(text)
	i, j := strings.Index(none, "[[exhaust]]"), strings.Index(none, "[line.rear.pinion]")
	f := findingOf(t, Run(build(t, none[:i]+none[j:])), "bracket.rear.out")
	assert.Equal(t, NotKnown, f.Status, "an empty list proves nothing")
	assert.Contains(t, f.Missing, "nothing that it would pass")

	// On its rails it has no way down; what of the rails is not known is said.
	on := strings.Replace(string(text), "foot_drop = 75", "onto = \"top\"\n#", 1)
	on = strings.Replace(on, "[1250, 0, -170]", "[1250, 0, 250]", 1)
	on = strings.Replace(on, "rear = -170", "rear = 250", 1)
	f = findingOf(t, Run(build(t, on)), "bracket.rear.out")
	assert.Equal(t, Over, f.Status, f.Missing)
	assert.Contains(t, f.Advice(), "rail is in the way")
	f = findingOf(t, Run(build(t, strings.Replace(strings.Replace(string(text), pipe, "points = [[900, 150, -170], [2200, 150, -170]]", 1), "width = 75\n", "", 1))), "bracket.rear.out")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "rails.left.width")
}
