package modes

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Load is a steady force, N, at the centre of mass and a torque, N·mm, vehicle axes;
// the weight is not in it unless it is given.
type Load struct{ Force, Torque r3.Vec }

// Moved is where a load takes the body, static rates.
type Moved struct {
	Shift, Turn r3.Vec    // of the centre, mm and rad, vehicle axes
	Parts       []r3.Vec  // force on the body of each mount, link and stop, N, vehicle axes
	Met         []bool    // of the stops
	Pressed     []float64 // how far each stop is pressed in, mm, along its axis; against it negative
}

// Under returns where a load takes the body: the one place where the energy of all
// springs, with the free play of the stops, is least. Newton's method on that energy,
// which has one lowest place. Turns are small; a turn of more than a tenth of a rad is
// refused.
func (s *System) Under(l Load) (Moved, error) {
	if err := s.check(); err != nil {
		return Moved{}, err
	}
	load := sixOf(l.Force, l.Torque)
	for _, v := range load {
		if !geom.LoadOK(v) {
			return Moved{}, fmt.Errorf("the load is not a number that can be used")
		}
	}
	always, stops := s.springs()
	var base square
	for i := range always {
		base.along(always[i].rate, &always[i].way)
	}
	if err := s.holds(&base, geom.Identity()); err != nil {
		return Moved{}, err
	}
	u, err := least(&base, stops, &load)
	if err != nil {
		return Moved{}, err
	}
	shift, turn := u.vectors()
	if r3.Norm(turn) > 0.1 {
		return Moved{}, fmt.Errorf("the load turns the powertrain by %.0f°, past what small motions tell; check the load and the rates", geom.Angle(r3.Norm(turn)).Degrees())
	}
	out := Moved{Shift: shift, Turn: turn, Met: make([]bool, len(stops)), Pressed: make([]float64, len(stops)),
		Parts: make([]r3.Vec, len(s.Mounts)+len(s.Links)+len(s.Stops))}
	push := func(q *spring, by float64) {
		dir, _ := q.way.vectors()
		out.Parts[q.part] = r3.Add(out.Parts[q.part], r3.Scale(-q.rate*by, dir))
	}
	for i := range always {
		push(&always[i], always[i].way.dot(&u))
	}
	for i := range stops {
		out.Pressed[i] = stops[i].pressed(stops[i].way.dot(&u))
		out.Met[i] = out.Pressed[i] != 0
		push(&stops[i], out.Pressed[i])
	}
	return out, nil
}

// least finds the place of least energy.
func least(base *square, stops []spring, load *six) (six, error) {
	energy := func(u *six) float64 {
		ku := base.times(u)
		e := u.dot(&ku)/2 - u.dot(load)
		for i := range stops {
			d := stops[i].pressed(stops[i].way.dot(u))
			e += stops[i].rate * d * d / 2
		}
		return e
	}
	var u six
	size := math.Inf(1)
	for range 200 {
		k, left := *base, *load
		ku := base.times(&u)
		for i := range left {
			left[i] -= ku[i]
		}
		for i := range stops {
			q := &stops[i]
			if d := q.pressed(q.way.dot(&u)); d != 0 {
				k.along(q.rate, &q.way)
				for j, w := range q.way {
					left[j] -= q.rate * d * w
				}
			}
		}
		step, ok := solveReal(&k, &left)
		if !ok {
			break
		}
		slope := step.dot(&left)
		// What the step would still gain, over what the load has done.
		if slope <= 1e-24*math.Abs(u.dot(load)) || slope == 0 {
			return u, nil
		}
		now, by := energy(&u), 1.0
		var next six
		for range 60 {
			for i := range next {
				next[i] = u[i] + by*step[i]
			}
			if energy(&next) <= now-1e-4*by*slope {
				break
			}
			by /= 2
		}
		u = next
		if slope >= size && slope < 1e-18*math.Abs(u.dot(load)) { // rounding is all that is left
			return u, nil
		}
		size = slope
	}
	return u, fmt.Errorf("the place where the load takes the powertrain is not found; check the stops' rates and free play")
}
