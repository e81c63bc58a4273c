package modes

import (
	"fmt"
	"math"
	"math/cmplx"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Shaking is what an engine order does to the body: a force at its centre of mass, N,
// and a torque, N·mm, amplitudes that rise and fall together, vehicle axes.
type Shaking struct {
	Frequency     float64 // Hz
	Force, Torque r3.Vec
}

// Order returns the frequency, Hz, of an engine order: times per turn of the crank.
func Order(rpm, order float64) float64 { return rpm * order / 60 }

// Response is the body's answer, amplitudes.
type Response struct {
	Shift, Turn [3]complex128 // of the centre, mm and rad, vehicle axes
	// Passed is what reaches the vehicle through all mounts, links and stops met,
	// force N and moment about the centre N·mm.
	Force, Moment [3]complex128
	// Transmissibility is what is passed on along the shaking, torque for a torque
	// and force for a force, over the shaking itself; of both together by their sizes.
	Transmissibility float64
	// Parts is the size of the force in each mount, link and stop, N.
	Parts []float64
}

// Shake returns the steady answer to a shaking: (K(1+iη) − ω²M) u = f, each spring
// with its own loss factor (hysteretic damping: Den Hartog, Mechanical Vibrations, and
// Harris, from memory). Stops count where met says so.
func (s *System) Shake(f Shaking, met []bool) (Response, error) {
	var out Response
	if err := s.check(); err != nil {
		return out, err
	}
	if !(f.Frequency >= 0 && f.Frequency <= 1e5) || !finite(f.Force) || !geom.Finite(f.Torque.X, f.Torque.Y, f.Torque.Z) || !geom.LoadOK(f.Torque.X, f.Torque.Y, f.Torque.Z) {
		return out, fmt.Errorf("the shaking at %g Hz is not usable", f.Frequency)
	}
	load := sixOf(f.Force, f.Torque)
	size := math.Sqrt(load.dot(&load))
	if size == 0 {
		return out, fmt.Errorf("the shaking at %g Hz has no force and no torque", f.Frequency)
	}
	list := s.counted(met)
	if _, err := s.stiffness(list, geom.Identity()); err != nil {
		return out, err
	}
	u, err := s.steady(list, f.Frequency, &load)
	if err != nil {
		return out, err
	}
	out.Parts = make([]float64, len(s.Mounts)+len(s.Links)+len(s.Stops))
	var passed [6]complex128
	for i := range list {
		q := &list[i]
		d := complex(0, 0)
		for j, w := range q.way {
			d += complex(w, 0) * u[j]
		}
		p := complex(q.rate*q.dynamic, q.rate*q.dynamic*q.loss) * d
		out.Parts[q.part] = math.Hypot(out.Parts[q.part], cmplx.Abs(p))
		for j, w := range q.way {
			passed[j] += complex(w, 0) * p
		}
	}
	copy(out.Shift[:], u[:3])
	copy(out.Turn[:], u[3:])
	copy(out.Force[:], passed[:3])
	copy(out.Moment[:], passed[3:])
	out.Transmissibility = alongLoad(&passed, &load)
	return out, nil
}

// alongLoad is what is passed on along the force and along the torque, over them.
func alongLoad(passed *[6]complex128, load *six) float64 {
	part := func(from int) (along, size float64) {
		var dot complex128
		for i := from; i < from+3; i++ {
			dot += passed[i] * complex(load[i], 0)
			size += load[i] * load[i]
		}
		if size == 0 {
			return 0, 0
		}
		return cmplx.Abs(dot) / math.Sqrt(size), math.Sqrt(size)
	}
	f, fs := part(0)
	m, ms := part(3)
	switch {
	case ms == 0:
		return f / fs
	case fs == 0:
		return m / ms
	}
	return math.Max(f/fs, m/ms)
}

// steady solves for the six amplitudes, turns counted over the reach so that the
// pivots compare.
func (s *System) steady(list []spring, hz float64, load *six) ([6]complex128, error) {
	omega := 2 * math.Pi * hz
	m, reach := s.mass(), s.reach()
	by := six{1, 1, 1, 1 / reach, 1 / reach, 1 / reach}
	var z [6][7]complex128
	for i := range list {
		q := &list[i]
		k := complex(q.rate*q.dynamic, q.rate*q.dynamic*q.loss)
		for a, v := range q.way {
			for b, w := range q.way {
				z[a][b] += k * complex(v*w*by[a]*by[b], 0)
			}
		}
	}
	most := 0.0
	for a := range z {
		for b := range 6 {
			z[a][b] -= complex(omega*omega/perSecond*m[a][b]*by[a]*by[b], 0)
			most = max(most, cmplx.Abs(z[a][b]))
		}
		z[a][6] = complex(load[a]*by[a], 0)
	}
	x, ok := eliminate(&z, 1e-12*most)
	if !ok {
		return x, noDamping(hz)
	}
	for i := range x {
		x[i] *= complex(by[i], 0)
	}
	return x, nil
}

func noDamping(hz float64) error {
	return fmt.Errorf("at %.3g Hz the powertrain is shaken at one of its natural frequencies and nothing damps it: it grows without limit; give the rubber's loss factor", hz)
}

// eliminate solves six equations, the right side in the last column, by Gauss with the
// largest of each column as its pivot; false where one is not above least.
func eliminate(z *[6][7]complex128, least float64) (x [6]complex128, ok bool) {
	for c := range 6 {
		p := c
		for r := c + 1; r < 6; r++ {
			if cmplx.Abs(z[r][c]) > cmplx.Abs(z[p][c]) {
				p = r
			}
		}
		if !(cmplx.Abs(z[p][c]) > least) {
			return x, false
		}
		z[c], z[p] = z[p], z[c]
		for r := c + 1; r < 6; r++ {
			by := z[r][c] / z[c][c]
			for j := c; j < 7; j++ {
				z[r][j] -= by * z[c][j]
			}
		}
	}
	for i := 5; i >= 0; i-- {
		v := z[i][6]
		for j := i + 1; j < 6; j++ {
			v -= z[i][j] * x[j]
		}
		x[i] = v / z[i][i]
	}
	return x, true
}

// solveReal solves k x = f, scaled to a diagonal of ones; false where k is singular.
func solveReal(k *square, f *six) (x six, ok bool) {
	var z [6][7]complex128
	var root six
	for i := range 6 {
		if !(k[i][i] > 0) {
			return x, false
		}
		root[i] = 1 / math.Sqrt(k[i][i])
	}
	for i := range 6 {
		for j := range 6 {
			z[i][j] = complex(k[i][j]*root[i]*root[j], 0)
		}
		z[i][6] = complex(f[i]*root[i], 0)
	}
	c, ok := eliminate(&z, 1e-13)
	for i := range x {
		x[i] = real(c[i]) * root[i]
	}
	return x, ok
}
