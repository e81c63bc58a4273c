package travel

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/spatial/r3"
)

// coords are the freedoms of the axle that are not prescribed: shift of its
// centre rearward and to the right, then slope, heading and (if it follows)
// roll, each times the linkage's radius so that all are mm.
type coords [5]float64

// place is a solved position.
type place struct {
	rise float64
	q    coords
	left float64 // most that any length is off, mm
}

// How closely positions are found, mm.
const (
	lengthTol = 5e-10 // a rigid link's length
	stepTol   = 1e-8  // Newton's last step; the error left is about its square over a link length
	longStep  = 10.0  // of the rise
	maxNewton = 12
)

// solver holds the work space for moving one linkage: Newton's method on the
// lengths (Gauss-Newton where there is one length too many), each step solved
// by QR.
type solver struct {
	l              *Linkage
	pose           geom.Pose
	left, jac      []float64 // misfit of each length, and its derivative by coords
	fac, tau, work []float64
	rhs            []float64
	past           [3]place // latest last
	known          int
}

func newSolver(l *Linkage) *solver {
	m, n := len(l.links), l.n
	buf := make([]float64, 2*m+2*m*n+n+64)
	cut := func(k int) []float64 { c := buf[:k:k]; buf = buf[k:]; return c }
	return &solver{l: l, left: cut(m), rhs: cut(m), jac: cut(m * n), fac: cut(m * n), tau: cut(n), work: cut(64)}
}

// stand puts the axle at q and fills in misfits and derivatives. It returns
// the largest misfit.
//
// The motion is p -> c + d + R r, with R = Rz(heading) Ry(slope) Rx(roll), so
// the derivative of R r by each angle is that angle's axis crossed with R r:
// the vertical, the turned Y axis, and the axle's own X axis.
func (s *solver) stand(q coords, rise float64, roll geom.Angle) float64 {
	l := s.l
	slope, heading := geom.Angle(q[2]/l.radius), geom.Angle(q[3]/l.radius)
	if l.n == 5 {
		roll = geom.Angle(q[4] / l.radius)
	}
	moved := r3.Add(l.axle.Centre, r3.Vec{X: q[0], Y: q[1], Z: rise})
	s.pose = geom.Orient(slope, heading, roll, moved)
	sh, ch := math.Sincos(heading.Rad())
	across := r3.Vec{X: -sh, Y: ch}
	worst := 0.0
	for i := range l.links {
		k := &l.links[i]
		arm := s.pose.Dir(k.arm)
		v := r3.Sub(r3.Add(moved, arm), k.chassis)
		length := math.Sqrt(r3.Norm2(v))
		u := r3.Scale(1/length, v)
		s.left[i] = length - k.length
		worst = max(worst, math.Abs(s.left[i]))
		turn := r3.Cross(arm, u) // u · (axis × arm) = axis · (arm × u)
		row := s.jac[i*l.n : (i+1)*l.n]
		row[0], row[1] = u.X, u.Y
		row[2] = r3.Dot(across, turn) / l.radius
		row[3] = turn.Z / l.radius
		if l.n == 5 {
			row[4] = r3.Dot(s.pose.X, turn) / l.radius
		}
	}
	return worst
}

// factor takes the QR factors of the derivative and returns the sign of its
// determinant, zero where the links hold nothing. For a derivative that is not
// square the sign only tells zero from not zero.
func (s *solver) factor() float64 {
	m, n := len(s.left), s.l.n
	copy(s.fac, s.jac)
	lapack64.Geqrf(s.facMat(m, n), s.tau, s.work, len(s.work))
	sign := 1.0
	for i := range n {
		d := s.fac[i*n+i]
		if math.Abs(d) < 1e-9 {
			return 0
		}
		if (d < 0) != (s.tau[i] != 0) { // each reflection turns the sign over
			sign = -sign
		}
	}
	return sign
}

func (s *solver) facMat(m, n int) blas64.General {
	return blas64.General{Rows: m, Cols: n, Stride: n, Data: s.fac}
}

// step solves for the Newton step with the factors at hand; it is left in rhs.
func (s *solver) step() bool {
	m, n := len(s.left), s.l.n
	for i, e := range s.left {
		s.rhs[i] = -e
	}
	b := blas64.General{Rows: m, Cols: 1, Stride: 1, Data: s.rhs}
	lapack64.Ormqr(blas.Left, blas.Trans, s.facMat(m, n), s.tau, b, s.work, len(s.work))
	r := blas64.Triangular{Uplo: blas.Upper, Diag: blas.NonUnit, N: n, Stride: n, Data: s.fac}
	return lapack64.Trtrs(blas.NoTrans, r, blas64.General{Rows: n, Cols: 1, Stride: 1, Data: s.rhs})
}

// solve finds the position at rise and roll near the guess q. far is how far
// (mm) the answer may be from the guess and still be on the same branch.
func (s *solver) solve(q coords, rise float64, roll geom.Angle, far float64) (place, bool) {
	guess := q
	for range maxNewton {
		s.stand(q, rise, roll)
		sign := s.factor()
		if sign == 0 || !s.step() {
			return place{}, false
		}
		move := 0.0
		for i := range s.l.n {
			q[i] += s.rhs[i]
			if !(math.Abs(q[i]-guess[i]) <= far) {
				return place{}, false
			}
			move = max(move, math.Abs(s.rhs[i]))
		}
		if move > stepTol {
			continue
		}
		if s.l.turned && sign != s.l.sense {
			return place{}, false // went through a position that holds nothing
		}
		p := place{rise: rise, q: q, left: s.stand(q, rise, roll)}
		return p, p.left <= max(lengthTol, s.l.give)
	}
	return place{}, false
}

// guess extends the last places to v by the polynomial through them; each has
// its parameter in rise.
func (s *solver) guess(v float64) coords {
	var q coords
	past := s.past[len(s.past)-s.known:]
	for i := range past {
		w := 1.0
		for j := range past {
			if j != i {
				w *= (v - past[j].rise) / (past[i].rise - past[j].rise)
			}
		}
		for k := range q {
			q[k] += w * past[i].q[k]
		}
	}
	return q
}

// keep remembers a place. One that is hardly farther than the last takes its
// stead, since extending from two near places loses all accuracy.
func (s *solver) keep(p place) {
	if s.known > 0 && math.Abs(p.rise-s.past[2].rise) < 1e-3 {
		s.past[2] = p
		return
	}
	s.past[0], s.past[1], s.past[2] = s.past[1], s.past[2], p
	s.known = min(s.known+1, len(s.past))
}

// stretch is the longest step, mm.
func (s *solver) stretch() float64 { return min(longStep, s.l.shortest/10) }

// next guesses the position at v and says how far from it (mm) the answer may
// be. Near the end of the travel positions change much faster than the rise,
// so the correction may be many steps, or as large as the guessed move itself;
// the other branch is two such moves away.
func (s *solver) next(v float64) (guess coords, far float64) {
	guess, last := s.guess(v), s.past[2]
	moved := 0.0
	for i := range guess {
		moved = max(moved, math.Abs(guess[i]-last.q[i]))
	}
	return guess, min(1e-3+20*math.Abs(v-last.rise)+moved, s.l.shortest/10)
}

// rollTo brings the axle from ride height to the prescribed roll at no rise,
// in steps of the roll times the linkage's radius.
func (s *solver) rollTo(roll geom.Angle) (place, error) {
	s.known = 0
	s.keep(place{})
	got, ok := advance(0, roll.Rad()*s.l.radius, s.stretch(), func(v float64) bool {
		q, far := s.next(v)
		p, ok := s.solve(q, 0, geom.Angle(v/s.l.radius), far)
		if ok {
			p.rise = v
			s.keep(p)
		}
		return ok
	})
	if !ok {
		return place{}, &BindError{Roll: geom.Angle(got / s.l.radius), Why: s.why()}
	}
	p := s.past[2]
	p.rise = 0
	return p, nil
}

func (s *solver) why() string {
	if s.l.turned {
		return "the links reach no farther, or line up so that they no longer hold the axle"
	}
	if s.l.give > 0 {
		return "the links would have to change length by more than the give allowed"
	}
	return "the links disagree about where the axle is; they need some give in their bushes, or roll that follows"
}

func (l *Linkage) track() track {
	s := newSolver(l)
	s.keep(l.start)
	return s
}

// to implements track.
func (s *solver) to(rise float64) (Point, error) {
	if err := checkRise(rise); err != nil {
		return Point{}, err
	}
	l := s.l
	got, ok := advance(s.past[2].rise, rise, s.stretch(), func(v float64) bool {
		q, far := s.next(v)
		p, ok := s.solve(q, v, l.roll, far)
		if ok {
			s.keep(p)
		}
		return ok
	})
	if !ok {
		return Point{}, &BindError{Rise: got, Roll: l.roll, Why: s.why()}
	}
	p := s.past[2]
	if rise == 0 && l.roll == 0 {
		return l.axle.point(0, geom.Identity()), nil
	}
	s.stand(p.q, rise, l.roll)
	pt := l.axle.point(rise, carry(s.pose, l.axle.Centre, s.pose.At))
	pt.Strain = p.left
	return pt, nil
}
