package assembly

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func stock(t testing.TB, name string) section.Shape {
	t.Helper()
	e, err := section.Find("test", name)
	require.NoError(t, err)
	return e.Shape
}

// site is a pad 200 mm from the left rail, which looks inward and toes in.
func site(toe geom.Angle) Site {
	s, c := math.Sincos(toe.Rad())
	return Site{
		Pad: bracket.Face{Point: r3.Vec{X: 100, Y: -180, Z: 60}, Normal: r3.Vec{Z: 1}}, PadPlate: 8,
		Rail: bracket.Face{Point: r3.Vec{X: 100, Y: -380, Z: 20}, Normal: r3.Vec{X: -s, Y: c}},
		Foot: r3.Vec{X: 100, Y: -380, Z: -20},
	}
}

var inward = r3.Vec{Y: 1}

func solve(t testing.TB, s Site, perch string, members ...Member) Solved {
	t.Helper()
	out, err := Assembly{Name: "test", Members: members, Pad: s.Pad.Point, Perch: perch}.Solve()
	require.NoError(t, err)
	return out
}

// A level arm lies with its top under the plate; on a rail that toes in it is
// longer on one side by its width times the tangent.
func TestLevelArm(t *testing.T) {
	s := site(5 * geom.Deg)
	arm, err := LevelArm(s, stock(t, "SHS 60x60x4 cold"), 50, inward)
	require.NoError(t, err)
	p := solve(t, s, Arm, arm).Parts[0]
	assert.InDelta(t, 60-8-30, p.Cut.Pad.At.Z, 1e-9)
	assert.InDelta(t, 250, p.Cut.Length, 1e-9)
	assert.InDelta(t, 60*math.Tan((5*geom.Deg).Rad()), math.Abs(p.Cut.Sides[bracket.Left]-p.Cut.Sides[bracket.Right]), 1e-9)
	assert.InDelta(t, 0, p.Cut.Sides[bracket.Top]-p.Cut.Sides[bracket.Bottom], 1e-9)
	assert.InDelta(t, 5, p.Cut.Pad.Angle.Degrees(), 1e-9)
	assert.InDelta(t, 0, p.Cut.Rail.Angle.Degrees(), 1e-9)
}

// A brace at 45° under an arm is cut at 45° at both ends: by hand from the triangle
// of arm, rail and brace.
func TestBracedArm(t *testing.T) {
	s := site(0)
	a, b := stock(t, "SHS 60x60x4 cold"), stock(t, "SHS 40x40x3 cold")
	members, err := BracedArm(s, a, b, 50, 130, 130, inward)
	require.NoError(t, err)
	got := solve(t, s, Arm, members...)
	c := got.Parts[1].Cut
	assert.Equal(t, bracket.Bottom, got.Parts[1].Side[1])
	assert.InDelta(t, 45, c.Pad.Angle.Degrees(), 1e-9)
	assert.InDelta(t, 45, c.Rail.Angle.Degrees(), 1e-9)
	assert.InDelta(t, (130-30)*math.Sqrt2, c.Length, 1e-9) // the arm's lower half is cut off it
	assert.InDelta(t, c.Length+40, c.LongPoint, 1e-9)      // both cuts lean away from each other
	assert.InDelta(t, c.Length-40, c.ShortPoint, 1e-9)
}

func TestTwoLegs(t *testing.T) {
	s := site(0)
	legs, err := TwoLegs(s, stock(t, "CHS 42.4x2.6"), 80, 240)
	require.NoError(t, err)
	got := solve(t, s, "", legs...)
	front, rear := got.Parts[0].Cut, got.Parts[1].Cut
	assert.InDelta(t, front.Length, rear.Length, 1e-9)
	// From 8 mm under the pad's face to the rail: 80 along, 200 across, 80 down.
	whole := math.Sqrt(80*80 + 200*200 + 80*80)
	assert.InDelta(t, whole-8*whole/80, front.Length, 1e-9)
	assert.InDelta(t, -front.Axis.X, rear.Axis.X, 1e-12)
}

// What cannot be made is refused, by the part's name and with what would do.
func TestRefused(t *testing.T) {
	s := site(0)
	box, round := stock(t, "SHS 60x60x4 cold"), stock(t, "CHS 42.4x2.6")
	arm, err := LevelArm(s, box, 50, inward)
	require.NoError(t, err)
	at := func(p r3.Vec) End { return End{Kind: Square, At: p} }
	on := func(host string, along float64) End { return End{Kind: OnMember, Host: host, Along: along} }
	named := func(name string, shape section.Shape, a, b End) Member {
		return Member{Name: name, Shape: shape, Ends: [2]End{a, b}}
	}
	post := named("post", round, at(r3.Vec{X: 100, Y: -300, Z: -200}), at(r3.Vec{X: 100, Y: -300, Z: 200}))
	for name, c := range map[string]struct {
		members []Member
		perch   string
		want    string
	}{
		"none":            {nil, "", "assembly test: it has no members"},
		"no name":         {[]Member{{Shape: box}}, "", "member 1 has no name"},
		"same name":       {[]Member{arm, arm}, "", "member arm: there are two of that name"},
		"no length":       {[]Member{named("x", box, at(s.Pad.Point), at(s.Pad.Point))}, "", "member x: both its ends are at the same place"},
		"unknown host":    {[]Member{named("x", round, at(s.Foot), on("arn", 30))}, "", `member x: it ends on "arn", which is no other member`},
		"on itself":       {[]Member{named("x", round, at(s.Foot), on("x", 30))}, "", "which is no other member"},
		"in a circle":     {[]Member{named("x", box, at(s.Foot), on("y", 30)), named("y", box, at(s.Pad.Point), on("x", 30))}, "", "it stands on a member that stands on it"},
		"off its host":    {[]Member{arm, named("x", round, at(r3.Vec{X: 100, Y: -200, Z: -100}), on(Arm, 400))}, "", "which is off its 250.0 mm"},
		"over the end":    {[]Member{arm, named("x", round, at(r3.Vec{X: 100, Y: -135, Z: -100}), on(Arm, 245))}, "", "beyond the end of arm"},
		"wider":           {[]Member{arm, named("x", stock(t, "SHS 80x80x4 cold"), at(r3.Vec{X: 100, Y: -230, Z: -100}), on(Arm, 150))}, "", "beyond the edge of arm, whose bottom side is 60.0 mm wide"},
		"on a round one":  {[]Member{post, named("x", box, at(r3.Vec{X: 100, Y: -100, Z: 0}), on("post", 200))}, "", "would hang over its sides"},
		"into each other": {[]Member{arm, post}, "", "mm into arm; move them apart"},
		"no perch":        {[]Member{arm}, "leg", `is to lie on "leg", which is no member`},
		"beyond the arm":  {[]Member{named(Arm, box, arm.Ends[0], at(r3.Vec{X: 100, Y: -200, Z: 22}))}, Arm, "the pad lies 20.0 mm beyond its end; make it longer"},
		"from behind":     {[]Member{named("x", box, End{Kind: Rail, At: s.Foot, Face: bracket.Face{Point: s.Foot, Normal: r3.Vec{Y: -1}}}, at(s.Pad.Point))}, "", "it comes at the rail from behind its face"},
		"along the rail":  {[]Member{named("x", box, End{Kind: Rail, At: s.Foot, Face: s.Rail}, at(r3.Vec{X: 500, Y: -370, Z: -20}))}, "", "it runs along the face of the rail"},
		"off the face":    {[]Member{named("x", box, End{Kind: Rail, At: r3.Vec{X: 100, Y: -370, Z: -20}, Face: s.Rail}, at(s.Pad.Point))}, "", "its axis is to meet the rail 10.0 mm off its face"},
		"through itself":  {[]Member{named("x", box, End{Kind: Rail, At: s.Foot, Face: bracket.Face{Point: s.Foot, Normal: r3.Vec{Y: 1, Z: -1}}}, End{Kind: Pad, At: r3.Vec{X: 100, Y: -365, Z: -20}, Face: bracket.Face{Point: r3.Vec{X: 100, Y: -365, Z: -20}, Normal: r3.Vec{Y: -1, Z: -1}}})}, "", "too short for these angles"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Assembly{Name: "test", Members: c.members, Pad: s.Pad.Point, Perch: c.perch}.Solve()
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err = LevelArm(s, box, 50, r3.Vec{X: 1})
	require.ErrorContains(t, err, "does not get to the rail")
	_, err = TwoLegs(s, box, 0, 200)
	require.ErrorContains(t, err, "0 mm apart at the pad")
	_, err = BracedArm(s, box, box, 50, 0, 100, inward)
	require.ErrorContains(t, err, "more than 0 is wanted")
}

// Roll turns the section clockwise as seen from the first end.
func TestRoll(t *testing.T) {
	s := site(0)
	leg := InclinedLeg(s, stock(t, "SHS 40x40x3 cold"))
	plain := solve(t, s, "", leg).Parts[0].Cut
	leg.Roll = 30 * geom.Deg
	rolled := solve(t, s, "", leg).Parts[0].Cut
	assert.InDelta(t, 30, geom.Between(plain.V, rolled.V).Degrees(), 1e-9)
	assert.Positive(t, r3.Dot(rolled.V, plain.U)) // U lies to the right seen from the first end
	assert.InDelta(t, plain.Length, rolled.Length, 1e-9)
}
