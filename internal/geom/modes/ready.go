package modes

import (
	"fmt"
	"math"

	"fitup/internal/geom"
)

// Ready is a system that was looked over once, to be asked in many states that differ
// in rates and in moments of inertia alone.
type Ready struct {
	s      *System
	list   []spring
	reach6 six // turns counted over the reach of what holds it
}

// Ready looks the system over. Stops count where met says so, in their order; nil means
// that none is met. It fails as Modes does.
func (s *System) Ready(met []bool) (*Ready, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	r := &Ready{s: s, list: s.counted(met)}
	by := 1 / s.reach()
	r.reach6 = six{1, 1, 1, by, by, by}
	_, err := s.stiffness(r.list, geom.Identity())
	return r, err
}

// State is a system with other rates and moments of inertia.
type State struct {
	// Stiffer is by how much the vibrating stiffness of each mount's X, Y and Z, then of
	// each link and stop (three times), is multiplied; nil for none. All above 0.
	Stiffer [][3]float64
	Heavier float64 // by how much all moments of inertia are; 0 means 1
}

// Passes are the transmissibilities of Shake in a state, of each shaking by itself; all
// are at the frequency of the first.
func (r *Ready) Passes(st State, fs ...Shaking) ([]float64, error) {
	if len(fs) == 0 {
		return nil, nil
	}
	hz := fs[0].Frequency
	if !(hz >= 0 && hz <= 1e5) {
		return nil, fmt.Errorf("the shaking at %g Hz is not usable", hz)
	}
	omega2 := math.Pow(2*math.Pi*hz, 2) / perSecond
	var k, lost square
	r.each(&st, func(q *spring, rate float64) {
		k.along(rate, &q.way)
		lost.along(rate*q.loss, &q.way)
	})
	m, by := r.mass(&st), &r.reach6
	var z factored
	for a := range 6 {
		for b := range 6 {
			w := by[a] * by[b]
			z.of[a][b] = complex((k[a][b]-omega2*m[a][b])*w, lost[a][b]*w)
		}
	}
	if !z.factor() {
		return nil, noDamping(hz)
	}
	out := make([]float64, len(fs))
	for i, f := range fs {
		load := sixOf(f.Force, f.Torque)
		if load.dot(&load) == 0 {
			return nil, fmt.Errorf("the shaking at %g Hz has no force and no torque", hz)
		}
		var u, passed [6]complex128
		for a := range u {
			u[a] = complex(load[a]*by[a], 0)
		}
		z.solve(&u)
		for a := range 6 {
			for b := range 6 {
				passed[a] += complex(k[a][b]*by[b], lost[a][b]*by[b]) * u[b]
			}
		}
		out[i] = alongLoad(&passed, &load)
	}
	return out, nil
}

// factored is a matrix taken apart by elimination, with the largest of each column as
// its pivot.
type factored struct {
	of  [6][6]complex128
	row [6]int
}

// factor takes it apart; false where a pivot is next to nothing.
func (z *factored) factor() bool {
	size := func(c complex128) float64 { return math.Abs(real(c)) + math.Abs(imag(c)) }
	most := 0.0
	for a := range z.of {
		for _, c := range z.of[a] {
			most = max(most, size(c))
		}
	}
	for c := range 6 {
		p := c
		for r := c + 1; r < 6; r++ {
			if size(z.of[r][c]) > size(z.of[p][c]) {
				p = r
			}
		}
		if !(size(z.of[p][c]) > 1e-12*most) {
			return false
		}
		z.of[c], z.of[p], z.row[c] = z.of[p], z.of[c], p
		v := z.of[c][c]
		d := real(v)*real(v) + imag(v)*imag(v)
		over := complex(real(v)/d, -imag(v)/d)
		for r := c + 1; r < 6; r++ {
			f := z.of[r][c] * over
			z.of[r][c] = f
			for j := c + 1; j < 6; j++ {
				z.of[r][j] -= f * z.of[c][j]
			}
		}
		z.of[c][c] = over
	}
	return true
}

// solve turns the right side into the answer.
func (z *factored) solve(x *[6]complex128) {
	for i, p := range z.row { // whole rows were exchanged, what was taken out with them
		x[i], x[p] = x[p], x[i]
	}
	for i := range x {
		for j := range i {
			x[i] -= z.of[i][j] * x[j]
		}
	}
	for i := 5; i >= 0; i-- {
		for j := i + 1; j < 6; j++ {
			x[i] -= z.of[i][j] * x[j]
		}
		x[i] *= z.of[i][i]
	}
}

// Frequencies are those of the six modes in a state, in order, Hz.
func (r *Ready) Frequencies(st State) (out [6]float64, err error) {
	var k square
	r.each(&st, func(q *spring, rate float64) { k.along(rate, &q.way) })
	m := r.mass(&st)
	value, _, ok := swing(&k, &m)
	if !ok {
		return out, fmt.Errorf("powertrain: its modes are not found; check masses and rates")
	}
	for i, v := range value {
		out[i] = math.Sqrt(v) / (2 * math.Pi)
	}
	return out, nil
}

// each calls f for each spring with its vibrating stiffness in a state.
func (r *Ready) each(st *State, f func(q *spring, rate float64)) {
	n, part := 0, -1
	for i := range r.list {
		q := &r.list[i]
		if n++; q.part != part {
			n, part = 0, q.part
		}
		k := q.rate * q.dynamic
		if st.Stiffer != nil {
			k *= st.Stiffer[q.part][n]
		}
		f(q, k)
	}
}

// mass is the mass matrix in a state.
func (r *Ready) mass(st *State) square {
	m := r.s.mass()
	if st.Heavier > 0 {
		for i := 3; i < 6; i++ {
			for j := 3; j < 6; j++ {
				m[i][j] *= st.Heavier
			}
		}
	}
	return m
}
