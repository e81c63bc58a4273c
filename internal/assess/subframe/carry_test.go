package subframe

import (
	"strings"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// loaded is a subframe with corners 300 before and 320 behind the middle of its wheels,
// and two wheels of 4 kN on tyres of 350 mm.
func loaded(t *testing.T) (*Subframe, *Carried) {
	t.Helper()
	f, err := project.Parse("x.toml", []byte(file()))
	require.NoError(t, err)
	s := Of(f.Build, Input{}).Named("front")
	require.NotNil(t, s)
	in := &Carried{Radius: 350}
	for i, y := range []float64{-740, 740} {
		in.Wheels[i] = Wheel{At: r3.Vec{Y: y, Z: -260}, Load: 4000, Spring: r3.Vec{Y: y * 0.75, Z: -300}, Way: r3.Vec{Z: -1}, Ratio: 0.8, Tower: true}
	}
	return s, in
}

func caseOf(t *testing.T, of map[string][]Load, name string) (sum r3.Vec, each map[string]r3.Vec) {
	t.Helper()
	each = map[string]r3.Vec{}
	for path, loads := range of {
		for _, l := range loads {
			if l.Name == name {
				each[path] = l.Force
				sum = r3.Add(sum, l.Force)
			}
		}
	}
	require.Len(t, each, 4, name)
	return sum, each
}

// What the corners carry together is all that acts, by hand: springs of ratio 0.8 that
// stand on the rails push the arms down by 5 kN for each 4 kN at a wheel, and those on the
// subframe nothing.
func TestWhatTheCornersCarry(t *testing.T) {
	s, in := loaded(t)
	of, _, why := s.Loads(in)
	require.Empty(t, why)
	rest, each := caseOf(t, of, "at rest")
	assert.InDelta(t, 8000-10000, rest.Z, 1e-6)
	// Wheels and springs are both over the middle of the wheels, 300 behind the front pair.
	assert.InDelta(t, -2000*320.0/620/2, each["point.lf"].Z, 2)
	assert.InDelta(t, -2000*300.0/620/2, each["point.rr"].Z, 2)
	bump, _ := caseOf(t, of, "bump")
	assert.InDelta(t, -6000, bump.Z, 1e-6)
	brake, _ := caseOf(t, of, "braking")
	assert.InDelta(t, 8000, brake.X, 1e-6)
	both, _ := caseOf(t, of, "braking over a bump")
	assert.InDelta(t, 0.8*2*8000, both.X, 1e-6)
	assert.InDelta(t, 2*-2000, both.Z, 1e-6)

	for i := range in.Wheels {
		in.Wheels[i].Tower = false
	}
	of, rests, why := s.Loads(in)
	require.Empty(t, why)
	own, _ := caseOf(t, of, "at rest, springs on the subframe")
	assert.InDelta(t, 8000, own.Z, 1e-6)
	frame, _ := caseOf(t, of, "at rest, springs on the frame")
	assert.InDelta(t, -2000, frame.Z, 1e-6)
	assert.Contains(t, strings.Join(rests, " "), "the worse counts")
	brake, each = caseOf(t, of, "braking, springs on the subframe")
	assert.InDelta(t, 8000, brake.Z, 1e-6)
	// At the floor, 485 below the middle of all corners: the front pair is drawn down by what the rear one is lifted.
	_, still := caseOf(t, of, "at rest, springs on the subframe")
	assert.InDelta(t, -8000*485/620.0/2, each["point.lf"].Z-still["point.lf"].Z, 20)
	assert.InDelta(t, +8000*485/620.0/2, each["point.rr"].Z-still["point.rr"].Z, 20)
}

// In a turn to the right the floor pushes to the right, and the left wheel carries the
// axle; in one to the left the other way.
func TestCornersInATurn(t *testing.T) {
	s, in := loaded(t)
	for i := range in.Wheels {
		in.Wheels[i].Tower = false
	}
	of, _, why := s.Loads(in)
	require.Empty(t, why)
	right, each := caseOf(t, of, "cornering right, springs on the subframe")
	assert.InDelta(t, 8000, right.Y, 1e-6)
	assert.InDelta(t, 8000, right.Z, 1e-6)
	// About a line along the vehicle: 8 kN up at 740 to the left lift the left corners, and
	// 8 kN to the right 485 below them press those down, for the bottom is pushed to the right.
	assert.InDelta(t, 8000*(740-485), (each["point.lf"].Z+each["point.lr"].Z-each["point.rf"].Z-each["point.rr"].Z)*395, 8000)
	left, mirror := caseOf(t, of, "cornering left, springs on the subframe")
	assert.InDelta(t, -8000, left.Y, 1e-6)
	assert.InDelta(t, each["point.lf"].Z, mirror["point.rf"].Z, 1e-6)
	assert.InDelta(t, each["point.lr"].X, mirror["point.rr"].X, 1e-6)
}

// What drives the wheels pulls at their centres.
func TestCornersOfDrivenWheels(t *testing.T) {
	s, in := loaded(t)
	of, _, _ := s.Loads(in)
	for _, l := range of["point.lf"] {
		assert.NotContains(t, l.Name, "pulling")
	}
	in.Driven = true
	of, _, why := s.Loads(in)
	require.Empty(t, why)
	pull, each := caseOf(t, of, "pulling away as hard as it brakes")
	assert.InDelta(t, -8000, pull.X, 1e-6)
	_, still := caseOf(t, of, "at rest")
	// 135 below the middle of all corners.
	assert.InDelta(t, 8000*135/620.0/2, each["point.lf"].Z-still["point.lf"].Z, 20)
}

// What is not known of a wheel or a corner leaves all corners not known.
func TestCornersOfWhatIsNotKnown(t *testing.T) {
	s, in := loaded(t)
	in.Wheels[1].Why = "pickup.front.right.load is not in the file yet"
	_, _, why := s.Loads(in)
	assert.Equal(t, in.Wheels[1].Why, why)
	_, _, why = s.Loads(&Carried{Why: "nothing"})
	assert.Equal(t, "nothing", why)
	f, err := project.Parse("x.toml", []byte(file("# rr")))
	require.NoError(t, err)
	_, in = loaded(t)
	_, _, why = Of(f.Build, Input{}).Named("front").Loads(in)
	assert.Contains(t, why, "where rr is on the bench is not in the file yet")
	two := strings.Replace(file(), "# rf\ncorner = true", "# rf", 1)
	f, err = project.Parse("x.toml", []byte(strings.Replace(two, "# rr\ncorner = true", "# rr", 1)))
	require.NoError(t, err)
	_, _, why = Of(f.Build, Input{}).Named("front").Loads(in)
	assert.Contains(t, why, "three of them at least that are not on one line")
	assert.Nil(t, Of(f.Build, Input{}).Named("rear"))
}

// A corner is taken where it is to be, off by what it may be there, until all are there.
func TestWhereACornerIsTaken(t *testing.T) {
	s := hung(t, file(), stand{}, nil)
	at, says, why := s.CornerAt("point.lf")
	require.Empty(t, why)
	assert.Contains(t, says, "hangs, which is where it is to be")
	assert.InDelta(t, -300, at.At.X, 0.01)
	assert.Less(t, at.Half.X, 2.0)
	assert.Positive(t, at.Half.X)
	s = hung(t, file(), stand{back: 30}, nil)
	at, says, why = s.CornerAt("point.lf")
	require.Empty(t, why)
	assert.Contains(t, says, "is to be: nothing proves yet that it hangs there")
	assert.InDelta(t, -300, at.At.X, 0.01)
	assert.InDelta(t, 3, at.Half.Z, 1e-9)
	s = hung(t, file("front_axle"), stand{back: 30}, nil)
	at, says, why = s.CornerAt("point.lf")
	require.Empty(t, why)
	assert.Contains(t, says, "as it hangs")
	assert.InDelta(t, -270, at.At.X, 0.1)
	_, _, why = s.CornerAt("point.none")
	assert.NotEmpty(t, why)
}
