package modes

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// TorqueAxis is the line a powertrain turns about under a torque along its crank.
type TorqueAxis struct {
	// Free is the torque-roll axis: what the body turns about, through its centre of
	// mass, when it is shaken by a torque far above its natural frequencies, J⁻¹t; unit,
	// on the side of the torque. FromCrank is its angle to the crank.
	Free      r3.Vec
	FromCrank geom.Angle
	// Held is the axis it turns about on its springs under a steady torque, unit, and
	// Through its place nearest the centre of mass, mm; Slide is how far it goes along
	// that axis for each rad. Rate is the torque for each rad, N·mm, static rates.
	Held    r3.Vec
	Through r3.Vec
	Slide   float64
	Rate    float64
}

// TorqueRoll returns the two axes for a crankshaft along crank, any length. Stops do
// not count. Mounts on a line through the torque-roll axis, or whose own roll axis is
// it, pass least of the engine's torque shaking on as other motion (Harris' Shock and
// Vibration Handbook, isolation of engines, from memory).
func (s *System) TorqueRoll(crank r3.Vec) (TorqueAxis, error) {
	if err := s.check(); err != nil {
		return TorqueAxis{}, err
	}
	u, err := geom.Unit(crank)
	if err != nil {
		return TorqueAxis{}, fmt.Errorf("powertrain: its crankshaft has no direction")
	}
	j := s.Inertia.tensor()
	var spin square
	for i := range 3 {
		spin[i][i] = 1
		for k := range 3 {
			spin[3+i][3+k] = j[i][k]
		}
	}
	load := sixOf(r3.Vec{}, u)
	free, ok := solveReal(&spin, &load)
	if !ok {
		return TorqueAxis{}, fmt.Errorf("powertrain: its moments of inertia cannot be worked with")
	}
	_, turn := free.vectors()
	out := TorqueAxis{Free: r3.Unit(turn)}
	out.FromCrank = geom.Between(out.Free, u)

	always, _ := s.springs()
	var k square
	for i := range always {
		k.along(always[i].rate, &always[i].way)
	}
	if err := s.holds(&k, geom.Identity()); err != nil {
		return TorqueAxis{}, err
	}
	moved, ok := solveReal(&k, &load)
	if !ok {
		return TorqueAxis{}, fmt.Errorf("powertrain: its stiffness cannot be worked with")
	}
	shift, turn := moved.vectors()
	w := r3.Norm(turn)
	out.Held = r3.Scale(1/w, turn)
	// The points that go along the axis alone: r = ω × v/ω².
	out.Through = r3.Add(s.Body.Centre, r3.Scale(1/(w*w), r3.Cross(turn, shift)))
	out.Slide = r3.Dot(shift, out.Held) / w
	out.Rate = 1 / r3.Dot(turn, u)
	return out, nil
}

// Pair is what a pair of like mounts does together, across the vehicle.
type Pair struct {
	Side, Up float64 // rates sideways and vertical, N/mm
	// Height is how far their elastic centre lies above them, mm: a side push there
	// shifts them and does not turn them.
	Height float64
	Roll   float64 // rate of turning about that centre, N·mm/rad
}

// VPair is the pair of equal mounts at half mm either side of the middle, their axes
// leaning lean from upright, tops inwards; press and shear are the rates along each
// axis and square to it, N/mm (statics; see the tests).
func VPair(half, press, shear float64, lean geom.Angle) (Pair, error) {
	if !geom.LengthOK(half) || !(press > 0 && shear > 0) || !geom.LoadOK(press, shear) {
		return Pair{}, fmt.Errorf("a pair of mounts wants a distance and two rates above 0; %g mm, %g and %g N/mm were given", half, press, shear)
	}
	if !(lean.Abs() < 90*geom.Deg) {
		return Pair{}, fmt.Errorf("a lean of %.0f° is no mount; less than 90° is wanted", lean.Degrees())
	}
	sin, cos := math.Sincos(lean.Rad())
	side := press*sin*sin + shear*cos*cos
	return Pair{
		Side: 2 * side, Up: 2 * (press*cos*cos + shear*sin*sin),
		Height: half * (press - shear) * sin * cos / side,
		Roll:   2 * half * half * press * shear / side,
	}, nil
}

// BestLean returns the lean at which a pair's elastic centre lies highest above it,
// atan √(shear/press), and that height over half the distance between them.
func BestLean(press, shear float64) (geom.Angle, float64, error) {
	if !(press > 0 && shear > 0) || !geom.LoadOK(press, shear) {
		return 0, 0, fmt.Errorf("a mount wants two rates above 0; %g and %g N/mm were given", press, shear)
	}
	l := press / shear
	return geom.Angle(math.Atan(math.Sqrt(1 / l))), (l - 1) / (2 * math.Sqrt(l)), nil
}

// PairOf returns the same of any mounts, from their stiffness: sideways is along axes'
// Y, up along its Z and turning about its X, the height counted from axes' own origin.
func PairOf(mounts []Mount, axes geom.Pose) (Pair, error) {
	var k square
	for i := range mounts {
		m := &mounts[i]
		for j, e := range [3]r3.Vec{m.Frame.X, m.Frame.Y, m.Frame.Z} {
			rate := [3]float64{m.Rates.X, m.Rates.Y, m.Rates.Z}[j]
			if !(rate > 0) || !geom.LoadOK(rate) || !finite(m.Frame.At, e) {
				return Pair{}, geom.PartFault("mount", m.Name, "its rates must be above 0 and its place a number")
			}
			way := sixOf(axes.OwnDir(e), axes.OwnDir(r3.Cross(r3.Sub(m.Frame.At, axes.At), e)))
			k.along(rate, &way)
		}
	}
	if !(k[1][1] > 0) {
		return Pair{}, fmt.Errorf("there are no mounts to find the elastic centre of")
	}
	p := Pair{Side: k[1][1], Up: k[2][2], Height: -k[1][3] / k[1][1]}
	p.Roll = k[3][3] - k[1][3]*k[1][3]/k[1][1]
	return p, nil
}
