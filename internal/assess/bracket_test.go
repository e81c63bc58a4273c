package assess_test

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func runLegs(t *testing.T, text string) *assess.Assessment {
	t.Helper()
	f, err := project.Parse("legs.toml", []byte(text))
	require.NoError(t, err)
	return assess.Run(f.Build)
}

func leg(t *testing.T, a *assess.Assessment, name string) assess.Bracket {
	t.Helper()
	b, ok := a.Bracket(name)
	require.True(t, ok)
	require.True(t, b.HasCut, b.Why)
	return b
}

func value(t *testing.T, a *assess.Assessment, name string) float64 {
	t.Helper()
	for _, v := range a.Values() {
		if v.Name == name {
			require.True(t, v.Known, name)
			return v.V
		}
	}
	require.Fail(t, "no value "+name)
	return 0
}

// Nothing is said about a bracket that is not begun. Of one that is, whether it
// fits, that its strength and weld are not known before there is a weight, and its room
// before the powertrain has a piece:
// what nobody has worked out must not pass for nothing wrong.
func TestNothingIsSaidOfWhatIsNotBegun(t *testing.T) {
	for text, most := range map[string]int{
		strings.Split(example.Legs("", "", ""), "[mount")[0]: 0,
		example.Legs("", "", ""):                             4,
	} {
		n := 0
		for _, f := range runLegs(t, text).Findings {
			if strings.HasPrefix(f.ID, "bracket.") || strings.HasPrefix(f.ID, "cuts.") {
				n++
				lacks := "powertrain.mass"
				if f.ID == "bracket.left_front.room" {
					lacks = "powertrain.part"
				}
				if f.ID != "bracket.left_front.fits" {
					assert.Equal(t, assess.NotKnown, f.Status, f.ID)
					assert.Contains(t, f.Missing, lacks, f.ID)
				}
			}
		}
		assert.Equal(t, most, n)
	}
}

func TestFilesThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"negative mass":     {example.Legs("mass = -3", "", ""), "powertrain.mass: "},
		"negative wall":     {example.Legs("", "wall = -3", ""), "mount.left_front.leg.wall: wall cannot be negative"},
		"pads in a line":    {strings.Replace(example.Legs("", "", ""), "rear = [1200, 0, 0]", "rear = [0, 0, 0]", 1), "powertrain.pads: the three pads lie in one line"},
		"matches nobody":    {example.Legs("", "", "[mount.right_front.leg]\nmatch = \"left\"\n"), "mount.right_front.leg.match: the leg of the right front mount mirrors \"left\", which has no leg; want one of: left_front"},
		"matches itself":    {example.Legs("", "", "[mount.right_front.leg]\nmatch = \"right_front\"\n"), "mirrors itself"},
		"match and its own": {example.Legs("", "", "[mount.right_front.leg]\nmatch = \"left_front\"\nsection = \"x\"\n"), "takes its section from the leg it mirrors"},
		"points in a line":  {example.Legs("", "", "[mount.left_front.built]\npad_points = [[0,0,0],[10,0,0],[20,0,0]]\n"), "the left front mount as built: want three points that do not lie in a line"},
		"two facings":       {example.Legs("", "pad_facing = \"left\"\npad_normal = [0,1,0]", ""), "both pad_facing and pad_normal"},
		"no direction":      {example.Legs("", "up = [0,0,0]", ""), "up without a direction"},
		"no preload":        {example.Legs("", "bolts = { thread = \"M10\", class = \"8.8\", preload = 0 }", ""), "the leg of the left front mount has bolts.preload = 0; want more"},
		"no friction":       {example.Legs("", "bolts = { thread = \"M10\", class = \"8.8\", torque_k = 0 }", ""), "has bolts.torque_k = 0; want more"},
		"no fillet":         {example.Legs("", "weld = { size = 0 }", ""), "has weld.size = 0; want more"},
		"no bolts":          {example.Legs("", "rail_plate = { across = 0 }", ""), "has rail_plate.across = 0; want more"},
		"stock for nothing": {example.Legs("", "", "[[stock]]\nsection = \"SHS 50x50x3 cold\"\nlength = 6000\ncost = 0\n"), "costs 0; want its price"},
		"slippery fastener": {example.Legs("", "", "[[fastener]]\nname = \"mount bolt\"\nk = 0\n"), "k = 0 of the fastener mount bolt"},
		"stock, no length":  {example.Legs("", "", "[[stock]]\nsection = \"SHS 50x50x3 cold\"\n"), "has no length"},
	} {
		_, err := project.Parse("legs.toml", []byte(c.text))
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.want, name)
	}
}

// 320, 180 and 180 mm come out of two bars of 500 with 3 mm kerfs: 320 and 180
// do not share one (503), the two of 180 do. No bar of 300 holds the 320.
func TestStock(t *testing.T) {
	const rest = `[mount.right_front.leg]
section = "SHS 50x50x3 cold"
standing = 40
[mount.extra]
at = [0, 60, 0]
[mount.extra.leg]
section = "shs 50 x 50 x 3.0 cold"
rail = "right"
standing = 40
[shop]
kerf = 3
trim = 0
[[stock]]
section = "shs 50x50x3 COLD"
length = %g
`
	one := runLegs(t, example.Legs("", "pad_plate = { thickness = 8 }\nrail_plate = { thickness = 6, gap = 1 }", ""))
	assert.InDelta(t, 165, value(t, one, "cuts.shs_50x50x3_cold.total"), 1e-9)
	a := runLegs(t, example.Legs("", "", fmt.Sprintf(rest, 500.0)))
	require.Len(t, a.Cuts, 1)
	assert.InDelta(t, 180+180+320, value(t, a, "cuts.shs_50x50x3_cold.total"), 1e-9)
	assert.InDelta(t, 1000, value(t, a, "cuts.shs_50x50x3_cold.bought"), 1e-9)
	f, _ := a.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.OK, f.Status)
	short := runLegs(t, example.Legs("", "", fmt.Sprintf(rest, 300.0)))
	f, _ = short.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.Over, f.Status)
	gone := runLegs(t, example.Legs("", "", fmt.Sprintf(rest, 500.0)+"count = 0\n"))
	f, _ = gone.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.NotKnown, f.Status, "none of it is left")
	none := runLegs(t, example.Legs("", "", "[[stock]]\nsection = \"CHS 48.3x3\"\nlength = 1000\n"))
	f, _ = none.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.NotKnown, f.Status)
}
