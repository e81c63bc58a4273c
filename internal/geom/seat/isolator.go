package seat

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Isolator is a rubber mount as three springs at a point, one along each of
// its own axes, straight both in push and pull. It does not resist turning.
type Isolator struct {
	Name string
	// Frame has its origin at the pad point with nothing resting on it, mm,
	// and X, Y, Z along the isolator's fore-aft, lateral and vertical axes,
	// all in vehicle axes.
	Frame geom.Pose
	Rates Rates // N/mm along the frame's axes, static
	Built Construction
}

// Upright returns an isolator whose axes are those of the vehicle.
func Upright(name string, at r3.Vec, rates Rates) Isolator {
	f := geom.Identity()
	f.At = at
	return Isolator{Name: name, Frame: f, Rates: rates}
}

// Leaning returns an isolator whose vertical axis looks along up and whose
// fore-aft axis along along, directions of any length in vehicle axes, as a
// pair of mounts leaning towards each other has it. It returns an error when
// one has no direction or they are not square to each other within 2 degrees;
// what is left of that is taken off along.
func Leaning(name string, at, up, along r3.Vec, rates Rates) (Isolator, error) {
	z, err := geom.Unit(up)
	if err != nil {
		return Isolator{}, fmt.Errorf("%s mount: its upward axis has no direction", name)
	}
	x, err := geom.Unit(along)
	if err != nil {
		return Isolator{}, fmt.Errorf("%s mount: its fore-aft axis has no direction", name)
	}
	if off := geom.Angle(math.Asin(min(1, math.Abs(r3.Dot(x, z))))); off > 2*geom.Deg {
		return Isolator{}, fmt.Errorf("%s mount: its upward and its fore-aft axis are %.0f degrees off square; an isolator's axes are square to each other", name, off.Degrees())
	}
	y, _ := geom.Unit(r3.Cross(z, x))
	return Isolator{Name: name, Rates: rates, Frame: geom.Pose{X: r3.Cross(y, z), Y: y, Z: z, At: at}}, nil
}

func (s Isolator) check() error {
	f := s.Frame
	for _, v := range []r3.Vec{f.At, f.X, f.Y, f.Z} {
		if !geom.Finite(v.X, v.Y, v.Z) {
			return fmt.Errorf("%s mount: its place is not a number", s.Name)
		}
	}
	const tol = 1e-6
	if !geom.Near(r3.Dot(r3.Cross(f.X, f.Y), f.Z), 1, tol) || !geom.Near(r3.Norm(f.X), 1, tol) || !geom.Near(r3.Norm(f.Y), 1, tol) {
		return fmt.Errorf("%s mount: its axes are not square to each other; give its tilt again", s.Name)
	}
	return s.Rates.check(s.Name)
}

// spring returns the force, N, on the powertrain when the pad has moved by d,
// mm, both in vehicle axes.
func (s Isolator) spring(d r3.Vec) r3.Vec {
	own := s.Frame.OwnDir(d)
	return s.Frame.Dir(r3.Vec{X: -s.Rates.X * own.X, Y: -s.Rates.Y * own.Y, Z: -s.Rates.Z * own.Z})
}

// stiffness returns the 3×3 stiffness in vehicle axes, N/mm.
func (s Isolator) stiffness() [3][3]float64 {
	var k [3][3]float64
	for i, e := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		f := s.spring(e)
		k[0][i], k[1][i], k[2][i] = -f.X, -f.Y, -f.Z
	}
	return k
}

// Construction is what holds the two halves of a mount together.
type Construction uint8

// The ways a mount is built.
const (
	ConstructionUnknown Construction = iota
	Interlocked
	BondedOnly
	Solid
)

// Hold says what happens to a mount of some construction when its rubber
// fails.
type Hold struct {
	Name    string
	Known   bool
	Captive bool   // the halves cannot part
	Verdict string // common practice, no source
}

var holds = [...]Hold{
	{Name: "not known", Verdict: "look at how the mount is built: whether metal still hooks in metal when the rubber is gone"},
	{Name: "interlocked", Known: true, Captive: true, Verdict: "captive: metal stays hooked in metal when the rubber fails"},
	{Name: "bonded only", Known: true, Verdict: "not captive: the halves part when the rubber or its bond fails; fit a captive mount, or a restraint the powertrain's pull cannot break"},
	{Name: "solid", Known: true, Captive: true, Verdict: "held by its bolts; nothing soaks up vibration, and twist of the frame goes into the castings"},
}

// Hold returns the verdict on a construction.
func (c Construction) Hold() Hold {
	if int(c) >= len(holds) {
		return holds[ConstructionUnknown]
	}
	return holds[c]
}

// String names the construction as the trade does.
func (c Construction) String() string { return c.Hold().Name }
