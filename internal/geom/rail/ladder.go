package rail

import (
	"math"

	"fitup/internal/geom"
)

// Twisted is a piece of the rail with its torsion constant.
type Twisted struct {
	From, To float64
	J        float64 // mm⁴
}

// Torsion is the torsional stiffness (N·mm per rad) of a rail between two stations:
// G over the sum of length over J (St Venant; joints that hold its ends from warping
// make it stiffer, and are not counted). G in MPa. Fails on stations that are not on
// the rail, front to rear, and on a piece without a torsion constant.
func Torsion(name string, pieces []Twisted, from, to, g float64) (float64, error) {
	bad := func(format string, args ...any) error { return geom.PartFault("rail", name, format, args...) }
	if !(to-from > geom.Tiny) || !(g > 0) || !geom.LoadOK(g) {
		return 0, bad("torsion wants two stations, front to rear")
	}
	sum, done := 0.0, from
	for _, p := range pieces {
		a, z := max(p.From, from), min(p.To, to)
		if z <= a {
			continue
		}
		if !(p.J > geom.Least) || math.Abs(a-done) > 1e-6 {
			return 0, bad("at %.4g mm nothing is known of its torsion", a)
		}
		sum += (z - a) / p.J
		done = z
	}
	if math.Abs(done-to) > 1e-6 {
		return 0, bad("it ends at %.4g mm, short of %.4g", done, to)
	}
	return g / sum, nil
}

// LadderTwist is a frame of two rails with one wheel lifted.
type LadderTwist struct {
	Angle  float64 // that the frame twists by, rad
	Moment float64 // that twists it, N·mm
	Rails  []float64
}

// OneWheelUp twists a frame by lifting one wheel: lift over track is shared between
// the frame and the roll stiffness of either axle on its springs (N·mm per rad;
// infinite where it is not known, which puts all of it into the frame). Each rail takes
// its part of the moment by its own stiffness.
func OneWheelUp(lift, track float64, rails []float64, rolls []float64) (LadderTwist, error) {
	var out LadderTwist
	frame, give := 0.0, 0.0
	for _, k := range rails {
		if !(k > 0) || !geom.Finite(k) {
			return out, geom.PartFault("frame", "", "a rail without torsional stiffness cannot be twisted")
		}
		frame += k
	}
	if len(rails) == 0 || !geom.LengthOK(track) || !(lift >= 0 && lift <= geom.LimitLength) {
		return out, geom.PartFault("frame", "", "one wheel up wants two rails, a track and a lift")
	}
	for _, k := range rolls {
		if !(k > 0) {
			return out, geom.PartFault("frame", "", "an axle without roll stiffness takes all of the lift")
		}
		give += 1 / k
	}
	out.Moment = lift / track / (1/frame + give)
	out.Angle = out.Moment / frame
	for _, k := range rails {
		out.Rails = append(out.Rails, out.Moment*k/frame)
	}
	return out, nil
}
