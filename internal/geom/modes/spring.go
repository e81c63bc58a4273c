package modes

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// six are shifts of the centre and turns about it, or forces and moments.
type six [6]float64

func (a *six) dot(b *six) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

func sixOf(shift, turn r3.Vec) six {
	return six{shift.X, shift.Y, shift.Z, turn.X, turn.Y, turn.Z}
}

func (a *six) vectors() (shift, turn r3.Vec) {
	return r3.Vec{X: a[0], Y: a[1], Z: a[2]}, r3.Vec{X: a[3], Y: a[4], Z: a[5]}
}

// square is a symmetric matrix between sixes.
type square [6][6]float64

// along adds k times the square of a.
func (m *square) along(k float64, a *six) {
	for i, v := range a {
		for j, w := range a {
			m[i][j] += k * v * w
		}
	}
}

func (m *square) times(a *six) (out six) {
	for i := range m {
		for j, v := range a {
			out[i] += m[i][j] * v
		}
	}
	return out
}

// spring is one direction in which something holds the body: way is how far its
// point goes along that direction for each of the six.
type spring struct {
	part     int // mounts, then links, then stops
	way      six
	rate     float64 // static
	dynamic  float64 // ratio
	loss     float64
	forward  float64 // of a stop: free play, NaN for none
	backward float64
}

// toWay is how far a point goes along a unit direction.
func (s *System) toWay(at, dir r3.Vec) six {
	return sixOf(dir, r3.Cross(r3.Sub(at, s.Body.Centre), dir))
}

// springs returns those of the mounts and links, and apart those of the stops.
func (s *System) springs() (always, stops []spring) {
	for i := range s.Mounts {
		m := &s.Mounts[i]
		for j, e := range [3]r3.Vec{m.Frame.X, m.Frame.Y, m.Frame.Z} {
			k := [3]float64{m.Rates.X, m.Rates.Y, m.Rates.Z}[j]
			always = append(always, spring{part: i, way: s.toWay(m.Frame.At, e), rate: k, dynamic: m.Dynamic, loss: m.Loss})
		}
	}
	for i, l := range s.Links {
		u := r3.Unit(r3.Sub(l.On, l.To))
		always = append(always, spring{part: len(s.Mounts) + i, way: s.toWay(l.On, u), rate: l.Rate, dynamic: l.Dynamic, loss: l.Loss})
	}
	for i, p := range s.Stops {
		u, _ := geom.Unit(p.Axis)
		q := spring{part: len(s.Mounts) + len(s.Links) + i, way: s.toWay(p.At, u), rate: p.Rate, dynamic: p.Dynamic, loss: p.Loss, forward: p.Forward, backward: p.Backward}
		if q.forward < 0 {
			q.forward = math.Inf(1)
		}
		if q.backward < 0 {
			q.backward = math.Inf(1)
		}
		stops = append(stops, q)
	}
	return always, stops
}

// pressed is how far a stop is pressed in when its point has gone d along its axis,
// with the sign of d.
func (q *spring) pressed(d float64) float64 {
	switch {
	case d > q.forward:
		return d - q.forward
	case d < -q.backward:
		return d + q.backward
	}
	return 0
}
