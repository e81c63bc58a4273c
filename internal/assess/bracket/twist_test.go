package bracket

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A pad whose edge was measured turned by 2° on its face is told so, whichever of its edges
// it was and from which end, and what its outermost hole has moved; and said how to make up
// for it.
func TestAPadThatIsTurned(t *testing.T) {
	for _, name := range []string{"level_arm_with_perch", "folded_z_plate", "boxed_plate", "clamp_on_tab"} {
		plain := kind(t, name)
		first := runLegs(t, plain)
		b := first.bracketNamed("left_front")
		require.True(t, b.Stands(), b.Why)
		pose, err := b.padPose()
		require.NoError(t, err)
		assert.InDelta(t, 1, r3.Dot(pose.Z, r3.Scale(-1, r3.Unit(b.Leg.Pad.Normal))), 1e-9, name)
		for _, by := range []float64{2, -2, 92, 178, 0.2} {
			sin, cos := math.Sincos(by * math.Pi / 180)
			from, to := pose.Point(r3.Vec{X: 5, Y: 7}), pose.Point(r3.Vec{X: 5 + 40*cos, Y: 7 + 40*sin})
			r := runLegs(t, plain+fmt.Sprintf("\n[mount.left_front.built]\npad_edge = [[%.9f, %.9f, %.9f], [%.9f, %.9f, %.9f]]\n", from.X, from.Y, from.Z, to.X, to.Y, to.Z))
			f := r.Result.last(finding.BuiltTwist("left_front", false))
			want := math.Abs(by - 90*math.Round(by/90))
			assert.InDelta(t, want, geom.Angle(f.Value).Degrees(), 1e-6, "%s %g", name, by)
			c := r.bracketNamed("left_front").Built
			require.NotNil(t, c)
			assert.InDelta(t, 2*b.padReach()*math.Sin(want*math.Pi/360), c.Slot.V, 1e-6)
			assert.Greater(t, b.padReach(), 5.0)
			if want < 0.5 {
				assert.Equal(t, finding.OK, f.Status)
				continue
			}
			assert.Equal(t, finding.Over, f.Status)
			way := "anticlockwise"
			if by == -2 || by == 178 {
				way = " clockwise"
			}
			assert.Contains(t, f.Advice(), way+" seen from the isolator")
			assert.Contains(t, f.Advice(), "slot its holes by")
			assert.Contains(t, f.Advice(), "turn it back")
		}
	}
}

// Two points across the pad's face are no edge of it.
func TestAnEdgeAcrossThePad(t *testing.T) {
	r := runLegs(t, kind(t, "boxed_plate")+"\n[mount.left_front.built]\npad_edge = [[260, -290, -5], [261, -290, 40]]\n")
	f := r.Result.last(finding.BuiltTwist("left_front", false))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "across the pad's face")
}

// What makes up for a pad off its place is said by which way it is off: short of it a shim,
// beyond it none, aside a slot.
func TestWhatMakesUpForAPadOffItsPlace(t *testing.T) {
	plain := kind(t, "boxed_plate")
	for pad, c := range map[string]struct {
		says []string
		not  string
	}{
		"[260, -290, -9]": {[]string{"4.0 mm short of its place", "a shim of that thickness"}, "slot"},
		"[260, -290, -1]": {[]string{"4.0 mm beyond its place", "no shim takes that away"}, "slot"},
		"[264, -290, -5]": {[]string{"4.0 mm aside, toward the rear", "slot its holes by that"}, "shim"},
		"[260, -295, -9]": {[]string{"a shim of that thickness", "5.0 mm aside, toward the left"}, "beyond"},
	} {
		r := runLegs(t, plain+"\n[mount.left_front.built]\npad = "+pad+"\n")
		f := r.Result.last(finding.BuiltPlace("left_front", false))
		require.Equal(t, finding.Over, f.Status)
		for _, s := range c.says {
			assert.Contains(t, f.Advice(), s, pad)
		}
		assert.False(t, strings.Contains(f.Advice(), c.not), f.Advice())
	}
}
