package shaft

import (
	"fmt"
	"math"
	"math/cmplx"

	"fitup/internal/geom"
)

// Extremes are where in half a turn of the driving shaft a shaft runs fastest and
// slowest against it, from Chain.Arm, in [0°, 180°); they come again half a turn on.
type Extremes struct {
	Fastest, Slowest geom.Angle
	Even             bool // the shaft runs evenly: there is neither
}

// Extremes returns those of a shaft of the mechanism, the last one being the driven
// shaft: where the effort at a steering wheel is least and most.
func (s Shaft) Extremes() Extremes {
	if cmplx.Abs(s.DriveVector) < 1e-12 {
		return Extremes{Even: true}
	}
	at := half(cmplx.Phase(s.DriveVector) / 2)
	return Extremes{Fastest: at, Slowest: half(at.Rad() + math.Pi/2)}
}

// half brings an angle that counts by half turns into [0, π).
func half(a float64) geom.Angle {
	a = math.Mod(a, math.Pi)
	if a < 0 {
		a += math.Pi
	}
	if math.Pi-a < 1e-12 {
		return 0
	}
	return geom.Angle(a)
}

// BestYokes returns the yoke offsets of all shafts between joints, from the driving
// end, that together leave the least residual ripple, and that ripple. Offsets are in
// (−90°, 90°]. Where an offset makes no difference it is 0.
//
// The size k of a line's ripple adds up like a distance in the hyperbolic plane: a
// joint at β has the length ln(1/cos β), an offset is the turn between two of them. So
// a line can be made even where no joint's length is more than the others' together,
// and otherwise has the extremes of what is left of the longest (derived; for two
// joints the known cos β2/cos β1). Each offset is turned so that what has run up lies
// within what the joints behind it can still take back.
func (m *Mechanism) BestYokes() ([]geom.Angle, Ripple, error) {
	if len(m.shafts) == 0 {
		return nil, Ripple{}, errNoJoint
	}
	rest := m.behind()
	offsets := make([]geom.Angle, 0, len(m.shafts)-2)
	total, part := pair{a: 1}, pair{a: 1}
	for i := range m.crosses {
		x := &m.crosses[i]
		part = x.pair.after(part)
		if !x.last {
			continue
		}
		if x.shaft > 1 {
			t := meet(total, part, rest[x.shaft-1])
			offsets = append(offsets, t)
			total = part.after(total.turned(cmplx.Rect(1, t.Rad())))
		} else {
			total = part
		}
		part = pair{a: 1}
	}
	r, err := total.ripple()
	return offsets, r, err
}

// length of a map: of one joint ln(1/cos β).
func (p pair) length() float64 {
	k := math.Sqrt(norm2(p.b) / norm2(p.a))
	return math.Log((1 + k) / (1 - k))
}

// behind returns, for each joint, the least length that all joints behind it can come
// to together.
func (m *Mechanism) behind() []float64 {
	out := make([]float64, len(m.joints))
	lengths := make([]float64, len(m.joints))
	part := pair{a: 1}
	for i := range m.crosses {
		x := &m.crosses[i]
		part = x.pair.after(part)
		if x.last {
			lengths[x.shaft-1] = part.length()
			part = pair{a: 1}
		}
	}
	sum, longest := 0.0, 0.0
	for i := len(out) - 1; i >= 0; i-- {
		out[i] = max(0, 2*longest-sum)
		sum, longest = sum+lengths[i], max(longest, lengths[i])
	}
	return out
}

// meet returns the offset between what has run up and the next joint that brings the
// two together nearest to rest, the least that is still to come.
func meet(before, next pair, rest float64) geom.Angle {
	a, b := before.length(), next.length()
	if a < 1e-9 || b < 1e-9 {
		return InPhase
	}
	want := min(max(math.Abs(a-b), rest), a+b)
	// |b|² of the two together is base + wave·cos(2φ + ψ); with |a|² − |b|² = det it is
	// det·sinh²(want/2).
	det := (norm2(before.a) - norm2(before.b)) * (norm2(next.a) - norm2(next.b))
	base := norm2(next.a)*norm2(before.b) + norm2(next.b)*norm2(before.a)
	w := next.a * cmplx.Conj(next.b) * before.a * before.b
	sh := math.Sinh(want / 2)
	c := (det*sh*sh - base) / (2 * cmplx.Abs(w))
	return halfTurn(geom.Angle((math.Acos(min(1, max(-1, c))) - cmplx.Phase(w)) / 2))
}

// OnSpline returns the offset nearest to one that a spline of some teeth allows, and how
// far off it is: a yoke can be set over by whole teeth.
func OnSpline(offset geom.Angle, teeth int) (set, off geom.Angle, err error) {
	if teeth < 4 || teeth > 200 {
		return 0, 0, fmt.Errorf("a spline of %d teeth is none; 17 to 48 are usual on steering shafts", teeth)
	}
	if !geom.Finite(offset.Rad()) {
		return 0, 0, ErrYoke
	}
	tooth := 2 * math.Pi / float64(teeth)
	best := geom.Angle(math.Inf(1))
	for _, from := range [2]float64{offset.Rad(), offset.Rad() + math.Pi} { // half a turn is the same yoke
		n := geom.Angle(math.Round(from/tooth) * tooth)
		if d := n - geom.Angle(from); d.Abs() < best.Abs() {
			best, set = d, halfTurn(n)
		}
	}
	return set, best, nil
}
