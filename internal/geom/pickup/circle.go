package pickup

import (
	"errors"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// circle is where a point goes that turns about a line.
type circle struct {
	centre, u r3.Vec // on the line; its unit vector
	e1, e2    r3.Vec // square to it: towards the point at ride height, and u × e1
	r         float64
}

// leastArm is how near its line of turning a point is too near to be moved by it, mm.
const leastArm = 1

var (
	errOneLine  = errors.New("both pivots stand at the same place, so there is no line to turn about")
	errOnLine   = errors.New("what it moves lies on the line of its pivots, so it is not moved")
	errNoReach  = errors.New("its ends are drawn too far apart or pushed too near")
	errInLine   = errors.New("two of its parts stand in one line at ride height and can fold either way")
	errNotMoved = errors.New("it does not lift the wheel at ride height")
)

// circleOf is the circle of p about the line through a and b.
func circleOf(a, b, p r3.Vec) (circle, error) {
	if r3.Norm(r3.Sub(b, a)) < leastArm {
		return circle{}, errOneLine
	}
	u := r3.Unit(r3.Sub(b, a))
	w := r3.Sub(p, a)
	centre := r3.Add(a, r3.Scale(r3.Dot(w, u), u))
	out := r3.Sub(p, centre)
	r := r3.Norm(out)
	if r < leastArm {
		return circle{}, errOnLine
	}
	e1 := r3.Scale(1/r, out)
	return circle{centre: centre, u: u, e1: e1, e2: r3.Cross(u, e1), r: r}, nil
}

// turn is the rigid motion of what turns about the line by angle a.
func (c *circle) turn(a float64) geom.Pose {
	sin, cos := math.Sincos(a)
	p := rotation(r3.Scale(sin, c.u), r3.Scale(1-cos, c.u), c.u, cos)
	p.At = r3.Sub(c.centre, p.Dir(c.centre))
	return p
}

// rotation is Rodrigues' formula, cos·v + w×v + (x·v)y, for the three axes.
func rotation(w, x, y r3.Vec, cos float64) geom.Pose {
	return geom.Pose{
		X: r3.Vec{X: cos + x.X*y.X, Y: w.Z + x.X*y.Y, Z: -w.Y + x.X*y.Z},
		Y: r3.Vec{X: -w.Z + x.Y*y.X, Y: cos + x.Y*y.Y, Z: w.X + x.Y*y.Z},
		Z: r3.Vec{X: w.Y + x.Z*y.X, Y: -w.X + x.Z*y.Y, Z: cos + x.Z*y.Z},
	}
}

// at is where the point is then.
func (c *circle) at(a float64) r3.Vec {
	sin, cos := math.Sincos(a)
	return r3.Add(c.centre, r3.Add(r3.Scale(c.r*cos, c.e1), r3.Scale(c.r*sin, c.e2)))
}

// along is the way it goes there, a unit vector.
func (c *circle) along(a float64) r3.Vec {
	sin, cos := math.Sincos(a)
	return r3.Add(r3.Scale(-sin, c.e1), r3.Scale(cos, c.e2))
}

// meeting is a circle and a sphere that goes through its point at ride height: the
// point is held at that distance from a place that moves.
type meeting struct {
	circle
	distance float64
	branch   float64 // which of the two places where they meet it is, -1 or 1
}

// leastBranch is how far (rad) the two places where circle and sphere meet have to be
// apart at ride height, from their middle, to be told apart.
const leastBranch = 1e-4

// meet holds the point of a circle at the distance that it has from q at ride height.
func meet(c circle, q r3.Vec) (meeting, error) {
	m := meeting{circle: c, distance: r3.Norm(r3.Sub(c.at(0), q)), branch: 1}
	if m.distance < leastArm {
		return m, errors.New("both its ends stand at the same place")
	}
	mid, half, err := m.middle(q)
	if err != nil || half < leastBranch || half > math.Pi-leastBranch {
		return m, errInLine
	}
	if math.Abs(wrapped(mid-half)) < math.Abs(wrapped(mid+half)) {
		m.branch = -1
	}
	return m, nil
}

// middle is the angle halfway between the two places where circle and sphere about q
// meet, and how far each is from it. With w from the centre of the circle to q and the
// point at r(e1 cos a + e2 sin a), the squared distance is |w|² + r² − 2r(w·e1 cos a +
// w·e2 sin a): an equation A cos a + B sin a = K.
func (m *meeting) middle(q r3.Vec) (mid, half float64, err error) {
	w := r3.Sub(q, m.centre)
	a, b := r3.Dot(w, m.e1), r3.Dot(w, m.e2)
	k := (r3.Norm2(w) + m.r*m.r - m.distance*m.distance) / (2 * m.r)
	size := math.Hypot(a, b)
	if size < geom.Tiny || math.Abs(k) > size*(1+1e-12) {
		return 0, 0, errNoReach
	}
	return math.Atan2(b, a), math.Acos(min(1, max(-1, k/size))), nil
}

// angle is how far the point has turned where it keeps its distance from q.
func (m *meeting) angle(q r3.Vec) (float64, error) {
	mid, half, err := m.middle(q)
	if err != nil {
		return 0, err
	}
	return wrapped(mid + m.branch*half), nil
}

// wrapped is an angle between -π and π.
func wrapped(a float64) float64 { return math.Remainder(a, 2*math.Pi) }
