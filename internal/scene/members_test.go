package scene

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every member of a mount is a solid of its own by name, with the plate at its pad and
// one at each foot that has one, and its overall length.
func TestMembersAreDrawn(t *testing.T) {
	both := []string{"left front", "right front"}
	for _, c := range []struct {
		build   string
		members []string
		plates  int
		mounts  []string
	}{
		// of a channel two flanges, and of an angle one, are drawn beside what is named
		{"level_arm_with_perch", []string{"arm"}, 1, both}, {"inclined_leg", []string{"leg"}, 2, both}, {"two_legs_in_an_a", []string{"front leg", "rear leg"}, 1, both},
		{"arm_with_a_brace", []string{"arm", "brace"}, 1, both}, {"channel_arm_with_a_brace", []string{"arm", "brace"}, 1 + 3, both}, {"own_members", []string{"arm", "tie"}, 1, both}, {"coped_members", []string{"arm", "tie"}, 1 + copedStrips - 1, both},
		{"boxed_plate", []string{"upper plate", "side"}, 0, both}, {"clamp_on_tab", []string{"tab"}, 0, both},
		{"twin_ears", []string{"front ear", "rear ear", "through bolt"}, 0, both},
		{"dropped_crossmember", []string{"left leg", "beam", "right leg"}, 3, []string{"rear"}},
		{"raised_crossmember", []string{"left leg", "beam", "right leg"}, 3, []string{"rear"}}, {"straight_crossmember", []string{"beam"}, 3, []string{"rear"}},
		{"straight_crossmember_in_ears", []string{"beam", "left front ear", "right rear ear", "left rear ear", "right front ear", "through bolt"}, 1, []string{"rear"}},
		{"straight_crossmember_in_bolted_ears", []string{"beam", "left front ear", "right rear ear", "left rear ear", "right front ear", "through bolt"}, 3, []string{"rear"}},
		{"dropped_crossmember_in_sockets", []string{"left leg", "beam", "right leg", "left socket", "right socket", "through bolt"}, 3, []string{"rear"}},
		{"sleeved_crossmember", []string{"beam", "sleeve"}, 1, []string{"rear"}},
		{"carrier_bearing", []string{"beam"}, 3, []string{"bearing"}}, {"transfer_case", []string{"arm"}, 1, []string{"case left", "case right"}}, {"transfer_case", []string{"beam"}, 3, []string{"case rear"}},
	} {
		text, err := os.ReadFile(filepath.Join("../../testdata/mounts", c.build+".toml"))
		require.NoError(t, err)
		f, err := project.Parse(c.build, text)
		require.NoError(t, err)
		s := Of(assess.Run(f.Build))
		for _, side := range c.mounts {
			id := "bracket." + strings.ReplaceAll(side, " ", "_")
			named, plates, sizes := map[string]bool{}, 0, 0
			for _, p := range s.Parts {
				if p.ID != id || p.Solid == nil {
					continue
				}
				if p.Name == "" {
					plates++
				}
				named[p.Name] = true
			}
			for _, d := range s.Dimensions {
				if d.ID == id {
					sizes++
				}
			}
			for _, m := range c.members {
				assert.True(t, named[side+" "+m], "%s: %s %s", c.build, side, m)
			}
			assert.Equal(t, c.plates, plates, "%s: %s", c.build, side)
			measured := slices.DeleteFunc(slices.Clone(c.members), func(m string) bool { return m == "through bolt" || m == "sleeve" })
			assert.Equal(t, len(measured), sizes, "%s: %s", c.build, side)
		}
	}
}

// An adapter plate is a solid between the block and the pad, and goes with the powertrain.
func TestAnAdapterIsDrawn(t *testing.T) {
	text, err := os.ReadFile("../../testdata/mounts/adapter_plate.toml")
	require.NoError(t, err)
	for _, c := range []struct {
		edit string
		want int
	}{{"left_front = 70", 1}, {"left_front = 60", 1}} {
		f, err := project.Parse("a", []byte(strings.Replace(string(text), "left_front = 70", c.edit, 1)))
		require.NoError(t, err)
		a := assess.Run(f.Build)
		seen := 0
		for _, p := range Of(a).Parts {
			if p.ID != "adapter.left_front" {
				continue
			}
			seen++
			require.NotNil(t, p.Solid)
			at := a.Pose.V.Point(f.Build.Powertrain.Pads.LeftFront.At)
			least := 1e9
			for _, q := range p.Solid.Points {
				least = min(least, q.Y)
			}
			assert.InDelta(t, at.Y, least, 3, "its outer face is at the pad, the powertrain a little tilted")
		}
		assert.Equal(t, c.want, seen)
	}
	assert.True(t, under("adapter.left_front", Subject("adapter.left_front.bending")))
}
