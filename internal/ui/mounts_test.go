package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// brokenMounts is the demo with a bonded mount that is pulled up, one that is
// bolted solid, a powertrain that runs into the axle, and a rate left out.
func brokenMounts() []byte {
	return []byte(strings.NewReplacer(
		"[mount.left_front]\nrate_up = \"400 N/mm\"\nrate_across = \"150 N/mm\"\nrate_along = \"150 N/mm\"\nholds = \"captive\" ",
		"[mount.left_front]\nrate_up = \"400 N/mm\"\nrate_across = \"150 N/mm\"\nholds = \"bonded only\" ",
		"hardness = 50                   # IRHD\nthickness = 30\ndiameter = 60\nholds = \"captive\"", "holds = \"solid\"",
		"from = [0, -600, -210] ", "from = [0, -600, -170] ", "to = [0, 600, -210]", "to = [0, 600, -170]",
	).Replace(string(starter.Demo())))
}

// brokenBrackets is the demo with a section that is in no table on one side, so
// that the other has nothing to mirror.
func brokenBrackets() []byte {
	return []byte(strings.Replace(string(starter.Demo()), "section = \"SHS 60x60x4 cold\"\nstanding", "section = \"SHS 60x61x4 cold\"\nstanding", 1))
}

// example is the annotated build file, whose mounts are built and measured. It
// is read before any test goes to a folder of its own.
var example = func() []byte {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "example.toml"))
	if err != nil {
		panic(err)
	}
	return text
}()

func mountShots() []shot {
	demo := starter.Demo()
	var out []shot
	for _, s := range [][2]int{{140, 45}, {80, 24}, {60, 20}} {
		out = append(out,
			shot{name: "clearances", build: demo, w: s[0], h: s[1], keys: []string{"page:clearances", "down"}},
			shot{name: "loads", build: demo, w: s[0], h: s[1], keys: []string{"page:loads", "down"}},
			shot{name: "brackets", build: demo, w: s[0], h: s[1], keys: []string{"page:brackets", "down"}},
			shot{name: "brackets-broken", build: brokenBrackets(), w: s[0], h: s[1], keys: []string{"page:brackets", "down"}},
			shot{name: "clearances-broken", build: brokenMounts(), w: s[0], h: s[1], keys: []string{"page:clearances"}},
			shot{name: "loads-broken", build: brokenMounts(), w: s[0], h: s[1], keys: []string{"page:loads", "z"}},
		)
	}
	return append(out,
		shot{name: "loads-zoomed", build: demo, w: 120, h: 36, keys: []string{"page:loads", "z"}},
		shot{name: "loads-end", build: demo, w: 60, h: 20, keys: append([]string{"page:loads"}, strings.Fields(strings.Repeat("down ", 30))...)},
		shot{name: "brackets-zoomed", build: demo, w: 120, h: 36, keys: []string{"page:brackets", "z", "down", "down"}},
		shot{name: "brackets-built", build: example, w: 140, h: 60, keys: append([]string{"page:brackets", "z"}, strings.Fields(strings.Repeat("down ", 44))...)},
		shot{name: "brackets-inches", build: []byte(inches), w: 80, h: 24, keys: []string{"page:brackets"}},
		shot{name: "clearances-starter", build: starter.New(), w: 80, h: 24, keys: []string{"page:clearances"}},
		shot{name: "loads-starter", build: starter.New(), w: 80, h: 24, keys: []string{"page:loads"}},
		shot{name: "clearances-inches", build: []byte(inches), w: 80, h: 24, keys: []string{"page:clearances"}},
		shot{name: "front-view", build: demo, w: 80, h: 24, keys: []string{"1", "v", "v"}},
		shot{name: "front-view-zoomed", build: demo, w: 140, h: 45, keys: []string{"1", "v", "v", "z"}},
		shot{name: "plan-and-front", build: demo, w: 140, h: 45, keys: []string{"v"}},
	)
}

// The replacements above must find what they replace.
func TestBrokenMountsAreBroken(t *testing.T) {
	t.Parallel()
	d := drive(t, brokenMounts(), 140, 45)
	for id, want := range map[string]assess.Status{
		"clearance.front_axle_at_full_bump": assess.Over,
		"mount.left_front.captive":          assess.Over,
		"mount.left_front.lifts":            assess.NotKnown, // its springs are not all given
		"mount.rear.captive":                assess.OK,
		"mount.rear.solid":                  assess.Over,
		"mounts.sag":                        assess.NotKnown,
		"clearance.bonnet":                  assess.OK,
		"clearance.bonnet.rocked":           assess.NotKnown,
	} {
		assert.Equal(t, want, d.verdict(id), id)
	}
}

// A page that only shows what follows moves nothing and types nothing: it says so,
// and Enter leads to the values behind the row.
func TestPagesThatShowWhatFollowsMoveNothing(t *testing.T) {
	t.Parallel()
	for _, page := range []string{"clearances", "brackets", "loads"} {
		for _, size := range [][2]int{{140, 45}, {80, 24}, {60, 20}} {
			d := demo(t, size[0], size[1]).keys("down", "down")
			for d.m.mounts().Leaf() != page {
				d.keys("pgdown")
			}
			for _, key := range []string{"left", "right", "+", "-"} {
				d.keys(key)
				assert.Contains(t, d.m.message.text, "Nothing is moved on this page")
			}
			same(t, string(starter.Demo()), d.bytes())
			d.keys("down", "enter")
			require.Len(t, d.m.dialogs, 1, page)
			assert.IsType(t, &dataPage{}, d.m.dialogs[0])
			d.keys("esc", "pgup")
			for d.m.mounts().Leaf() != "placement" {
				d.keys("pgup")
			}
			d.keys("right")
			assert.Contains(t, d.m.message.text, "rear mount", "the cursor is where it was")
		}
	}
	d := demo(t, 140, 45).keys("5", "right")
	assert.Contains(t, d.m.message.text, "change nothing on this page")
}

func TestPagesOfPanesThatHaveOne(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45).keys("1", "]")
	assert.Contains(t, d.screen(), "one page only")
}
