package assess

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// finishedAs is a build with the mount of it measured as it was finished: its pad moved by
// down along its own face's normal and aside along the vehicle, leaning about the vehicle's
// length and turned on its face, and its foot as far off as it says.
type finishedAs struct {
	down, aside float64 // mm
	lean, turn  float64 // rad
	foot        float64 // mm, along the vehicle
}

func (m finishedAs) measured(t *testing.T, a *Assessment, mount string) string {
	t.Helper()
	b, ok := a.Bracket(mount)
	require.True(t, ok)
	at, up, _, ok := b.Pad()
	require.True(t, ok)
	along := r3.Vec{X: 1}
	if math.Abs(up.X) > 0.9 {
		along = r3.Vec{Y: 1}
	}
	aft := r3.Unit(r3.Sub(along, r3.Scale(r3.Dot(along, up), up))) // in the pad's face
	side := r3.Cross(up, aft)
	pad := r3.Add(at, r3.Add(r3.Scale(-m.down, up), r3.Scale(m.aside, aft)))
	lean := func(v r3.Vec) r3.Vec { return r3.Rotate(v, m.lean, aft) }
	turn := func(v r3.Vec) r3.Vec { return r3.Rotate(v, m.turn, up) }
	point := func(v r3.Vec) string { return fmt.Sprintf("[%.6f, %.6f, %.6f]", v.X, v.Y, v.Z) }
	on := func(x, y float64) string {
		return point(r3.Add(pad, lean(r3.Add(r3.Scale(x, aft), r3.Scale(y, side)))))
	}
	edge := func(x float64) string {
		return point(r3.Add(pad, lean(turn(r3.Add(r3.Scale(x, aft), r3.Scale(30, side))))))
	}
	foot, ok := b.FootPlace()
	require.True(t, ok)
	return fmt.Sprintf("\n[mount.%s.built]\npad = %s\npad_points = [%s, %s, %s]\npad_edge = [%s, %s]\nfoot = %s\n", mount, point(pad), on(-40, -40), on(40, -40), on(0, 40),
		edge(-40), edge(40), point(r3.Add(foot, r3.Vec{X: m.foot})))
}

// putRight is what is said besides shims under the isolator, by the kind: where the pad stands
// aside, where it is turned, and where the foot is off.
func putRight(build string) (aside, turned, foot string) {
	switch {
	case build == "clamp_on_tab":
		return "slide it along its tube", "loosen its clamp and turn it back", "slide it along its tube"
	case build == "bolted_tab" || build == "folded_angle_plate" || build == "folded_z_plate":
		return "slotted holes of its foot", "loosen its bolts and turn it back", "slot the holes of its foot"
	case strings.HasSuffix(build, "crossmember_in_ears"):
		return "cut its ears off the rail", "cut its weld, turn it back", "cut its ears off the rail"
	case build == "sleeved_crossmember":
		return "by the play of its bolts", "cut its weld, turn it back", "no slot into the rail's flange"
	case build == "inclined_leg" || build == "carrier_bearing" || build == "dropped_crossmember_in_sockets" || build == "dropped_crossmember" || build == "raised_crossmember" || build == "straight_crossmember" || build == "straight_crossmember_in_bolted_ears":
		return "slotted holes of its rail plate", "cut its weld, turn it back", "slot the holes of its rail plate"
	}
	return "cut it and set it again", "cut its weld, turn it back", "before the weld"
}

// Every ready kind is finished off its place and measured with the forms of the sheet: how
// far off, leaning and turned it is comes out as it was made, and what makes up for it is
// said as a fabricator would: by what the mount is held by.
func TestFinishedMountOfEveryReadyKind(t *testing.T) {
	files, err := filepath.Glob("../../testdata/mounts/*.toml")
	require.NoError(t, err)
	for _, path := range files {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		build := strings.TrimSuffix(filepath.Base(path), ".toml")
		right := Run(file(t, string(text)).Build)
		if len(right.Brackets) == 0 {
			continue // a plate on the block alone
		}
		mount := right.Brackets[0].Name
		m := finishedAs{down: 3, aside: 4, lean: 2 * math.Pi / 180, turn: 3 * math.Pi / 180, foot: 5}
		a := Run(file(t, string(text)+m.measured(t, right, mount)).Build)
		aside, turned, foot := putRight(build)
		shim, taper := "a shim of that thickness", "a tapered shim of"
		if build == "twin_ears" {
			shim, taper = "no shim goes under a bolt", "packing washers on one side of the sleeve"
		}
		for _, c := range []struct {
			id    string
			value float64
			words []string
		}{
			{finding.BuiltPlace(mount, false), 5, []string{"3.0 mm short of its place", shim, "4.0 mm aside, toward the ", "slot its holes by that the other way", aside}},
			{finding.BuiltLean(mount, false), m.lean, []string{taper}},
			{finding.BuiltTwist(mount, false), m.turn, []string{"anticlockwise seen from the isolator", "slot its holes by", turned}},
			{finding.BuiltFoot(mount, false), 5, []string{foot}},
		} {
			f := found(t, a, c.id)
			assert.InDelta(t, c.value, f.Value, 1e-4, build+": "+c.id) // the file has six decimals
			assert.Equal(t, Over, f.Status, build+": "+c.id)
			for _, w := range c.words {
				assert.Contains(t, f.Advice(), w, build+": "+c.id)
			}
		}
		right = Run(file(t, string(text)+finishedAs{}.measured(t, right, mount)).Build)
		for _, id := range []string{finding.BuiltPlace(mount, false), finding.BuiltLean(mount, false), finding.BuiltTwist(mount, false), finding.BuiltFoot(mount, false)} {
			assert.Equal(t, OK, found(t, right, id).Status, build+": "+id)
		}
	}
}
