package travel

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// LeafShape is the spring at one rise.
type LeafShape struct {
	Rise         float64
	SlopeChange  geom.Angle // of seat, axle and pinion; nose up positive
	Seat         r3.Vec     // main leaf at the clamp, X and Z; Y is zero
	ShackleEye   r3.Vec     // X and Z; Y is zero
	ShackleAngle geom.Angle // between shackle and the line from its pivot to the fixed eye
	// FixedHalf and ShackledHalf are how far each eye has moved up against the
	// seat, mm; negative is the spring flattening and bending down at its ends.
	FixedHalf, ShackledHalf float64
}

// stance is a trial position of seat and eyes.
type stance struct {
	seat, eye      flat    // spring seat, shackle eye
	fixed, shackle float64 // change of each eye's height against the seat, mm
}

// stand places the spring for a rise of the axle centre and a turn of the
// seat. It fails where link and shackle do not reach.
func (l *Leaf) stand(rise, turn float64) (stance, bool) {
	s, c := math.Sincos(turn)
	centre := side(l.axle.Centre)
	toSeat := l.seat.sub(centre)
	// The seat's height follows from the rise and the turn; its station is
	// where the fixed half's link reaches it.
	seat := centre.add(flat{0, rise}).add(toSeat.turn(s, c))
	pin := l.fixed.pin.turn(s, c)
	drop := seat.z + pin.z - l.fixed.eye.z
	reach := (l.fixed.link - drop) * (l.fixed.link + drop)
	if !(reach > 0) {
		return stance{}, false
	}
	run := math.Copysign(math.Sqrt(reach), l.seat.x-l.fixed.eye.x)
	seat.x = l.fixed.eye.x + run - pin.x

	hung := seat.add(l.shackled.pin.turn(s, c))
	eye, ok := meet(hung, l.shackled.link, l.pivot, l.shackle, l.bend)
	if !ok {
		return stance{}, false
	}
	up := l.up.turn(s, c)
	return stance{
		seat: seat, eye: eye,
		fixed:   l.fixed.eye.sub(seat).sub(pin).dot(up) - l.fixed.cross,
		shackle: eye.sub(hung).dot(up) - l.shackled.cross,
	}, true
}

// meet returns where circles about a and b cross, on the given side of the
// line from a to b: the sign of (b - a) × (crossing - b).
func meet(a flat, ra float64, b flat, rb, bend float64) (flat, bool) {
	ab := b.sub(a)
	d2 := ab.dot(ab)
	along := (ra*ra - rb*rb + d2) / (2 * d2) // in parts of ab
	h2 := ra*ra/d2 - along*along
	if !(h2 > 0) {
		return flat{}, false
	}
	return a.add(ab.scale(along)).add(ab.normal().scale(math.Copysign(math.Sqrt(h2), bend))), true
}

// uneven is the difference of the curvature changes of the halves, made a
// slope by the fixed half's length.
func (l *Leaf) uneven(s stance) float64 {
	ratio := l.fixed.length / l.shackled.length
	return (s.fixed - s.shackle*ratio*ratio) / l.fixed.length
}

// solve finds the turn of the seat by torque-free balance near a guess, by the
// secant rule. A trial that link and shackle do not reach is drawn back by
// halves.
func (l *Leaf) solve(rise, guess float64) (float64, bool) {
	trial := func(x float64) (float64, bool) {
		s, ok := l.stand(rise, x)
		return l.uneven(s), ok
	}
	x0, x1 := guess, guess+1e-6
	f0, ok := trial(x0)
	if !ok {
		return 0, false
	}
	f1, ok := trial(x1)
	if !ok {
		x1 = guess - 1e-6
		if f1, ok = trial(x1); !ok {
			return 0, false
		}
	}
	for range 60 {
		if math.Abs(x1-x0) < 1e-14 || f1 == f0 {
			break
		}
		next := x1 - f1*(x1-x0)/(f1-f0)
		f, ok := trial(next)
		for range 40 {
			if ok {
				break
			}
			next = (next + x1) / 2
			f, ok = trial(next)
		}
		if !ok {
			return 0, false
		}
		x0, x1, f0, f1 = x1, next, f1, f
	}
	return x1, math.Abs(f1) < 1e-10 && math.Abs(x1-guess) < 0.2
}

// at finds turn and stance at a rise. Torque-free balance is followed from
// ride height; the wind-up comes on top.
func (l *Leaf) at(rise float64) (float64, stance, error) {
	if err := checkRise(rise); err != nil {
		return 0, stance{}, err
	}
	var turn, rate, last float64
	var now stance
	got, ok := advance(0, rise, 0.1*min(l.fixed.link, l.shackled.link), func(v float64) bool {
		t, ok := l.solve(v, turn+rate*(v-last))
		if !ok {
			if t, ok = l.solve(v, turn); !ok {
				return false
			}
		}
		s, ok := l.stand(v, t+l.windUp.Rad())
		if ok {
			rate = (t - turn) / (v - last)
			turn, last, now = t, v, s
		}
		return ok
	})
	if ok && rise == 0 {
		now, ok = l.stand(0, l.windUp.Rad())
	}
	if !ok {
		return 0, now, &BindError{Rise: got, Why: "the spring and its shackle reach no farther"}
	}
	return turn + l.windUp.Rad(), now, nil
}

// At implements Suspension.
func (l *Leaf) At(rise float64) (Point, error) {
	turn, s, err := l.at(rise)
	if err != nil {
		return Point{}, err
	}
	if rise == 0 && l.windUp == 0 {
		return l.axle.point(0, geom.Identity()), nil
	}
	centre := l.axle.Centre
	sn, c := math.Sincos(turn)
	toSeat := l.seat.sub(side(centre)).turn(sn, c)
	moved := r3.Vec{X: s.seat.x - toSeat.x, Y: centre.Y, Z: centre.Z + rise}
	return l.axle.point(rise, carry(geom.Orient(geom.Angle(turn), 0, 0, r3.Vec{}), centre, moved)), nil
}

// Shape returns the spring at one rise: how far each half is bent and where
// the shackle stands.
func (l *Leaf) Shape(rise float64) (LeafShape, error) {
	turn, s, err := l.at(rise)
	if err != nil {
		return LeafShape{}, err
	}
	swing := s.eye.sub(l.pivot)
	base := l.fixed.eye.sub(l.pivot)
	return LeafShape{
		Rise: rise, SlopeChange: geom.Angle(turn),
		Seat:         r3.Vec{X: s.seat.x, Z: s.seat.z},
		ShackleEye:   r3.Vec{X: s.eye.x, Z: s.eye.z},
		ShackleAngle: geom.Angle(math.Atan2(math.Abs(base.cross(swing)), base.dot(swing))),
		FixedHalf:    s.fixed, ShackledHalf: s.shackle,
	}, nil
}
