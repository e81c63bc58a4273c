package assembly

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func framed(t testing.TB, s *Solved) *Frame {
	t.Helper()
	f, err := s.Frame()
	require.NoError(t, err)
	return f
}

// One leg is a cantilever: what it carries at its foot is found by hand from the
// force and its arm, as package bracket does for a single leg.
func TestOneLegIsACantilever(t *testing.T) {
	s := site(3 * geom.Deg)
	got := solve(t, s, "", InclinedLeg(s, stock(t, "SHS 50x50x3 cold")))
	force, at := r3.Vec{X: 400, Y: -900, Z: -4000}, r3.Add(s.Pad.Point, r3.Vec{Z: 40})
	f := framed(t, &got)
	r, err := f.Under(force, at)
	require.NoError(t, err)
	_, push := f.AtEnd(r, 0, 1) // the rail on the leg
	c := got.Parts[0].Cut
	assert.InDelta(t, 0, r3.Norm(r3.Add(push.Force, force)), 1e-6)
	assert.InDelta(t, 0, r3.Norm(r3.Add(push.Moment, r3.Cross(r3.Sub(at, c.Rail.At), force))), 1e-3)
	worst, along, err := f.Stress(r, 0)
	require.NoError(t, err)
	byHand, err := c.Forces(force, at)
	require.NoError(t, err)
	foot, err := c.Section.Screen("leg", byHand, 235, section.TorsionModulus)
	require.NoError(t, err)
	assert.InDelta(t, c.Length, along, 1e-9)
	assert.InEpsilon(t, foot.Equivalent, worst.Equivalent, 1e-6)
}

// A level arm with a force on its perch: M = F l at the rail, and the arm past the
// perch carries nothing.
func TestArmWithPerch(t *testing.T) {
	s := site(0)
	arm, err := LevelArm(s, stock(t, "SHS 60x60x4 cold"), 50, inward)
	require.NoError(t, err)
	got := solve(t, s, Arm, arm)
	f := framed(t, &got)
	r, err := f.Under(r3.Vec{Z: -3000}, s.Pad.Point)
	require.NoError(t, err)
	worst, along, err := f.Stress(r, 0)
	require.NoError(t, err)
	p := got.Parts[0].Cut.Section
	assert.InDelta(t, 0, along, 1e-9)
	assert.InEpsilon(t, 3000*200/p.Wy, math.Abs(worst.BendY), 0.01) // Wy of the rounded tube against Iy over H/2
	_, end := f.AtEnd(r, 0, 1)
	assert.InDelta(t, 0, r3.Norm(end.Force), 1e-6)
}

// A brace on balls makes the arm a propped beam: the brace's force by the force
// method, with bending alone (Timoshenko and Young, Theory of Structures, from
// memory), within what shear and the offsets add.
func TestBraceTakesMostOfIt(t *testing.T) {
	s := site(0)
	members, err := BracedArm(s, stock(t, "SHS 60x60x4 cold"), stock(t, "SHS 40x40x3 cold"), 50, 150, 150, inward)
	require.NoError(t, err)
	members[1].Ends[0].Ball, members[1].Ends[1].Ball = true, true
	got := solve(t, s, Arm, members...)
	f := framed(t, &got)
	force := r3.Vec{Z: -3000}
	r, err := f.Under(force, s.Pad.Point)
	require.NoError(t, err)
	_, brace := f.AtEnd(r, 1, 0)
	_, root := f.AtEnd(r, 0, 0)
	assert.InDelta(t, 0, r3.Norm(r3.Add(force, r3.Add(brace.Force, root.Force))), 1e-6)
	assert.InDelta(t, 0, r3.Norm(brace.Moment), 1e-3) // a ball
	up := brace.Force.Z
	assert.Greater(t, up, 3000.0) // it lifts more than all of it: the load hangs over
	used, err := f.Strut(r, 1, 235)
	require.NoError(t, err)
	c := got.Parts[1].Cut
	pressed := r3.Norm(brace.Force)
	assert.InDelta(t, pressed/(c.Section.Area*235), used, 0.05*used+1e-9) // short: no buckling to speak of

	members[0].Ends[0].Ball = true // now nothing holds it sideways
	members[1].Ends[0].Ball = true
	loose := solve(t, s, Arm, members...)
	_, err = loose.Frame()
	var m *frame.MechanismError
	require.ErrorAs(t, err, &m)
	require.ErrorContains(t, err, "add a brace")
}

// The reduction of a strut by EN 1993-1-1, 6.3.1.2 on curve c: values of figure 6.4's
// table as commonly printed (from memory): 0.54 at 1.0, 0.20 at 2.0.
func TestChi(t *testing.T) {
	assert.InDelta(t, 1, Chi(0.04), 1e-12)
	assert.InDelta(t, 0.540, Chi(1), 5e-4)
	assert.InDelta(t, 0.196, Chi(4), 5e-4)
	assert.InDelta(t, 0.843, Chi(0.25), 5e-4)
}

// A slender leg under pressure alone uses its pressure over χ A fy at twice its
// length, worked out here from the numbers.
func TestStrut(t *testing.T) {
	s := site(0)
	s.Foot = r3.Vec{X: 100, Y: -380, Z: -20}
	leg := Member{Name: "post", Shape: stock(t, "CHS 33.7x2.6"), Ends: [2]End{
		{Kind: Rail, At: r3.Vec{X: 100, Y: -380, Z: 60}, Face: s.Rail}, {Kind: Pad, At: s.Pad.Point, Face: s.Rail}}}
	leg.Ends[1].Face.Normal, leg.Ends[1].Face.Point = r3.Vec{Y: -1}, s.Pad.Point
	got := solve(t, s, "", leg)
	f := framed(t, &got)
	r, err := f.Under(r3.Vec{Y: -10000}, s.Pad.Point)
	require.NoError(t, err)
	used, err := f.Strut(r, 0, 235)
	require.NoError(t, err)
	p := got.Parts[0].Cut.Section
	euler := math.Pi * math.Pi * 210000 * p.Iy / (400 * 400)
	slender := math.Sqrt(p.Area * 235 / euler)
	phi := 0.5 * (1 + 0.49*(slender-0.2) + slender*slender)
	assert.InEpsilon(t, 10000/(p.Area*235)*(phi+math.Sqrt(phi*phi-slender*slender)), used, 1e-6)
	r, err = f.Under(r3.Vec{Y: 10000}, s.Pad.Point) // pulled
	require.NoError(t, err)
	used, err = f.Strut(r, 0, 235)
	require.NoError(t, err)
	assert.InDelta(t, 0, used, 1e-12)
}

// The mirror image of an assembly is as long and as strong.
func TestMirrored(t *testing.T) {
	left := site(4 * geom.Deg)
	flip := func(v r3.Vec) r3.Vec { v.Y = -v.Y; return v }
	right := left
	right.Pad.Point, right.Rail.Point, right.Rail.Normal, right.Foot = flip(left.Pad.Point), flip(left.Rail.Point), flip(left.Rail.Normal), flip(left.Foot)
	for _, x := range []struct {
		site  Site
		force r3.Vec
	}{{left, r3.Vec{X: 700, Y: 900, Z: -4000}}, {right, r3.Vec{X: 700, Y: -900, Z: -4000}}} {
		way := r3.Vec{Y: -x.site.Pad.Point.Y}
		members, err := BracedArm(x.site, stock(t, "SHS 60x60x4 cold"), stock(t, "SHS 40x40x3 cold"), 40, 120, 140, way)
		require.NoError(t, err)
		got := solve(t, x.site, Arm, members...)
		f := framed(t, &got)
		r, err := f.Under(x.force, x.site.Pad.Point)
		require.NoError(t, err)
		for i, want := range mirroredWant(t, left) {
			s, _, err := f.Stress(r, i)
			require.NoError(t, err)
			assert.InEpsilon(t, want[0], s.Equivalent, 1e-6, "%d", i)
			assert.InDelta(t, want[1], got.Parts[i].Cut.Overall, 1e-9, "%d", i)
		}
	}
}

func mirroredWant(t *testing.T, s Site) (out [][2]float64) {
	t.Helper()
	members, err := BracedArm(s, stock(t, "SHS 60x60x4 cold"), stock(t, "SHS 40x40x3 cold"), 40, 120, 140, inward)
	require.NoError(t, err)
	got := solve(t, s, Arm, members...)
	f := framed(t, &got)
	r, err := f.Under(r3.Vec{X: 700, Y: 900, Z: -4000}, s.Pad.Point)
	require.NoError(t, err)
	for i := range got.Parts {
		w, _, err := f.Stress(r, i)
		require.NoError(t, err)
		out = append(out, [2]float64{w.Equivalent, got.Parts[i].Cut.Overall})
	}
	return out
}
