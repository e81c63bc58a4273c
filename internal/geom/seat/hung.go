package seat

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Hung is a body on its springs.
type Hung struct {
	body   Body
	pads   []Isolator
	arms   []r3.Vec        // from the centre to the pads before anything moves
	rates  [][3][3]float64 // of the pads in vehicle axes, N/mm
	reach  float64         // mm, to weigh moments against forces
	atRest softness        // before anything moves: the same for every load
	least  float64         // no more than the least of its stiffness along any way; 0 where it does not hold, N/mm
	stiff  [2]float64      // sums over the pads of the largest rate by the arm, and by its square

	links   []Link // what holds it beside its pads
	stops   []Stop
	ties    []tie    // of the links
	buffers []buffer // of the stops
	linkOf  []int    // which link a tie is
	stopOf  []int    // which stop a buffer is
	rested  position // where it rests
}

// dead is what pulls at the body: the force at its centre and a torque.
type dead struct{ force, torque r3.Vec }

func newHung(b Body, pads []Isolator) *Hung {
	s := &Hung{body: b, pads: pads, arms: make([]r3.Vec, len(pads)), rates: make([][3][3]float64, len(pads)), rested: unmoved()}
	for i, p := range pads {
		s.arms[i] = r3.Sub(p.Frame.At, b.Centre)
		s.rates[i] = p.stiffness()
	}
	var few [8]Mount
	_, s.reach = middle(appendMounts(few[:0], pads))
	s.ready()
	return s
}

// pull is the force of pad i on the body where its point has moved by d.
func (s *Hung) pull(i int, d r3.Vec) r3.Vec { return r3.Scale(-1, times(&s.rates[i], d)) }

func times(k *[3][3]float64, v r3.Vec) r3.Vec {
	return r3.Vec{
		X: k[0][0]*v.X + k[0][1]*v.Y + k[0][2]*v.Z,
		Y: k[1][0]*v.X + k[1][1]*v.Y + k[1][2]*v.Z,
		Z: k[2][0]*v.X + k[2][1]*v.Y + k[2][2]*v.Z,
	}
}

// residual is the force and, about the centre, the moment out of balance.
func (s *Hung) residual(l dead, p position) [6]float64 {
	f, m := l.force, l.torque
	swings := p.swings()
	for i, arm := range s.arms {
		d := swings.of(arm)
		r := r3.Add(arm, d)
		sf := s.pull(i, r3.Add(p.shift, d))
		f = r3.Add(f, sf)
		m = r3.Add(m, r3.Cross(r, sf))
	}
	for i := range s.ties {
		t := &s.ties[i]
		d := swings.of(t.arm)
		sf := t.push(r3.Add(p.shift, d))
		f = r3.Add(f, sf)
		m = r3.Add(m, r3.Cross(r3.Add(t.arm, d), sf))
	}
	return [6]float64{f.X, f.Y, f.Z, m.X, m.Y, m.Z}
}

func (s *Hung) norm(r [6]float64) float64 {
	forces := r[0]*r[0] + r[1]*r[1] + r[2]*r[2]
	moments := r[3]*r[3] + r[4]*r[4] + r[5]*r[5]
	return math.Sqrt(forces + moments/(s.reach*s.reach))
}

// scaled is minus the derivative of residual by shift and turn, with turns
// counted as travel at reach: all in N/mm. With K the stiffness of a pad, f its
// force, r its arm and R the matrix that takes v to r × v, a shift asks for the
// force K and the moment R K, and a turn for the force −K R and the moment
// −R K R + (f·r) − r fᵀ.
func (s *Hung) scaled(p position) six {
	var k six
	swings := p.swings()
	for i, arm := range s.arms {
		d := swings.of(arm)
		k.at(s.reach, r3.Add(arm, d), s.pull(i, r3.Add(p.shift, d)), &s.rates[i])
	}
	for i := range s.ties {
		t := &s.ties[i]
		d := swings.of(t.arm)
		moved := r3.Add(p.shift, d)
		rate := t.stiffness(moved)
		k.at(s.reach, r3.Add(t.arm, d), t.push(moved), &rate)
	}
	return k
}

// at adds what a spring of that stiffness and force asks for at the arm r.
func (k *six) at(reach float64, r, f r3.Vec, rate *[3][3]float64) {
	by, by2 := 1/reach, 1/(reach*reach)
	fr := r3.Dot(f, r)
	var rk [3]r3.Vec // the columns of R K, which are the rows of −K R
	for j := range 3 {
		m := r3.Cross(r, r3.Vec{X: rate[0][j], Y: rate[1][j], Z: rate[2][j]})
		rk[j] = m
		k[0][j] += rate[0][j]
		k[1][j] += rate[1][j]
		k[2][j] += rate[2][j]
		k[3][j] += by * m.X
		k[4][j] += by * m.Y
		k[5][j] += by * m.Z
		k[j][3] += by * m.X
		k[j][4] += by * m.Y
		k[j][5] += by * m.Z
	}
	// The columns of −R K R: those of R K by the columns of −R.
	x, y, z := &rk[0], &rk[1], &rk[2]
	turns := [3]r3.Vec{
		{X: r.Y*z.X - r.Z*y.X, Y: r.Y*z.Y - r.Z*y.Y, Z: r.Y*z.Z - r.Z*y.Z},
		{X: r.Z*x.X - r.X*z.X, Y: r.Z*x.Y - r.X*z.Y, Z: r.Z*x.Z - r.X*z.Z},
		{X: r.X*y.X - r.Y*x.X, Y: r.X*y.Y - r.Y*x.Y, Z: r.X*y.Z - r.Y*x.Z},
	}
	for j := range turns {
		m := &turns[j]
		k[3][3+j] += by2 * m.X
		k[4][3+j] += by2 * m.Y
		k[5][3+j] += by2 * m.Z
		k[3+j][3+j] += by2 * fr
	}
	for a, ra := range [3]float64{r.X, r.Y, r.Z} {
		k[3+a][3] -= by2 * ra * f.X
		k[3+a][4] -= by2 * ra * f.Y
		k[3+a][5] -= by2 * ra * f.Z
	}
}

// softness is the inverse of a scaled stiffness.
type softness struct {
	six
	ok bool // false where a way of turning is not held
}

// mostSkew is the condition number from which a stiffness is that of a body that
// nothing holds.
const mostSkew = 1e13

var errTurns = errors.New("nothing holds the powertrain against one way of turning; set the pads apart")

func (s *Hung) softness(p position) softness {
	k := s.scaled(p)
	inv, ok := k.inverse()
	return softness{inv, ok && k.norm()*inv.norm() < mostSkew}
}
