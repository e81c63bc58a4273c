package seat

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Pad is one isolator at rest under a load.
type Pad struct {
	Name  string
	Moved r3.Vec // the pad point, mm, vehicle axes
	Bent  r3.Vec // the same along the isolator's own axes, mm
	Force r3.Vec // on the powertrain, N, vehicle axes
	Lifts bool   // the isolator is in tension upward: the powertrain pulls at it
}

// Settled is the powertrain in balance on its isolators.
type Settled struct {
	// Motion is the rigid motion from where it would stand with nothing
	// resting on the isolators; Pose.Then(Motion) is where it stands.
	Motion   geom.Pose
	Drop     float64 // of the centre of mass, mm, down positive
	Pads     []Pad
	Residual float64 // force left out of balance, N; moments count over the arm of the mounts
	Steps    int     // steps of the solution
}

// Why no balance is found.
var (
	ErrTips = errors.New("the mounts do not hold the powertrain upright: it tips over on them; set them wider or stiffer, or nearer the height of its centre of mass")
	ErrSoft = errors.New("the mounts are too soft for this load: no balance is found within a turn of 30 degrees; check the rates and the load")
)

const (
	maxSteps   = 80
	maxTurn    = math.Pi / 6
	balanced   = 1e-6 // N
	straighten = 40   // halvings of a step before giving up
)

// Settle returns the true equilibrium of a rigid powertrain on its isolators
// under weight and load. Newton's method on the six balance equations, with
// the exact stiffness of the turned body at every step (the isolators' springs
// and the swing of their forces), so the answer holds for large sag and tilt.
// The load keeps its direction in vehicle axes.
//
// It returns an error that names the mount when a number is impossible, ErrSoft
// when no balance is found and ErrTips when the balance found is one the
// powertrain falls away from.
func Settle(b Body, pads []Isolator, load Load) (Settled, error) {
	if err := checkPads(b, pads, load); err != nil {
		return Settled{}, err
	}
	s := newSprung(b, pads, load)
	pos := position{turn: quat.Number{Real: 1}}
	left := s.residual(pos)
	size := s.norm(left)
	steps := 0
	for ; steps < maxSteps && size > balanced*1e-3; steps++ {
		move, err := s.solve(pos, left)
		if err != nil {
			return Settled{}, fmt.Errorf("%s mounts: %w", namesOf(mountsOf(pads)), err)
		}
		next, nextLeft, nextSize := s.line(pos, move, size)
		if nextSize >= size {
			break // as good as rounding lets it be, or stuck
		}
		pos, left, size = next, nextLeft, nextSize
	}
	if size > balanced || 2*math.Acos(min(1, math.Abs(pos.turn.Real))) > maxTurn {
		return Settled{}, ErrSoft
	}
	if !s.stable(pos) {
		return Settled{}, ErrTips
	}
	return s.report(pos, size, steps), nil
}

func mountsOf(pads []Isolator) []Mount {
	mounts := make([]Mount, len(pads))
	for i, p := range pads {
		mounts[i] = Mount{Name: p.Name, At: p.Frame.At}
	}
	return mounts
}

func checkPads(b Body, pads []Isolator, load Load) error {
	for _, p := range pads {
		if err := p.check(); err != nil {
			return err
		}
	}
	if err := b.check(); err != nil {
		return err
	}
	if err := load.check(); err != nil {
		return err
	}
	mounts := mountsOf(pads)
	if err := checkMounts(mounts); err != nil {
		return err
	}
	return inLine(mounts)
}

// position is where the body is: its centre moved by shift, mm, and turned.
type position struct {
	shift r3.Vec
	turn  quat.Number // of length 1
}

// swing returns how far the tip of an arm r from the centre moves by turning.
// Written so that small turns keep all their digits.
func (p position) swing(r r3.Vec) r3.Vec {
	v := r3.Vec{X: p.turn.Imag, Y: p.turn.Jmag, Z: p.turn.Kmag}
	return r3.Scale(2, r3.Cross(v, r3.Add(r3.Scale(p.turn.Real, r), r3.Cross(v, r))))
}

// by returns the position after a further shift and turn (rotation vector).
func (p position) by(m [6]float64) position {
	w := r3.Vec{X: m[3], Y: m[4], Z: m[5]}
	a := r3.Norm(w)
	half := 0.5
	if a > 1e-9 {
		half = math.Sin(a/2) / a
	}
	q := quat.Mul(quat.Number{Real: math.Cos(a / 2), Imag: half * w.X, Jmag: half * w.Y, Kmag: half * w.Z}, p.turn)
	return position{
		shift: r3.Add(p.shift, r3.Vec{X: m[0], Y: m[1], Z: m[2]}),
		turn:  quat.Scale(1/quat.Abs(q), q),
	}
}

// sprung is the body on its springs with the load on it.
type sprung struct {
	body   Body
	pads   []Isolator
	arms   []r3.Vec // from the centre to the pads before anything moves
	force  r3.Vec
	moment r3.Vec
	reach  float64 // mm, to weigh moments against forces
}

func newSprung(b Body, pads []Isolator, load Load) *sprung {
	s := &sprung{body: b, pads: pads, force: load.Force(b), moment: load.Torque, arms: make([]r3.Vec, len(pads))}
	for i, p := range pads {
		s.arms[i] = r3.Sub(p.Frame.At, b.Centre)
	}
	_, s.reach = middle(mountsOf(pads))
	return s
}

// residual is the force and, about the centre, the moment out of balance.
func (s *sprung) residual(p position) [6]float64 {
	f, m := s.force, s.moment
	for i, pad := range s.pads {
		d := p.swing(s.arms[i])
		r := r3.Add(s.arms[i], d)
		sf := pad.spring(r3.Add(p.shift, d))
		f = r3.Add(f, sf)
		m = r3.Add(m, r3.Cross(r, sf))
	}
	return [6]float64{f.X, f.Y, f.Z, m.X, m.Y, m.Z}
}

func (s *sprung) norm(r [6]float64) float64 {
	n := 0.0
	for i, v := range r {
		if i >= 3 {
			v /= s.reach
		}
		n += v * v
	}
	return math.Sqrt(n)
}

// stiffness is minus the derivative of residual by shift and turn: 6×6, in
// N/mm, N and N·mm.
func (s *sprung) stiffness(p position) *mat.Dense {
	k := mat.NewDense(6, 6, nil)
	for j := range 6 {
		var m [6]float64
		m[j] = 1
		u, w := r3.Vec{X: m[0], Y: m[1], Z: m[2]}, r3.Vec{X: m[3], Y: m[4], Z: m[5]}
		var df, dm r3.Vec
		for i, pad := range s.pads {
			d := p.swing(s.arms[i])
			r := r3.Add(s.arms[i], d)
			f := pad.spring(r3.Add(p.shift, d))
			swing := r3.Cross(w, r)
			g := pad.spring(r3.Add(u, swing))
			df = r3.Add(df, g)
			dm = r3.Add(dm, r3.Add(r3.Cross(swing, f), r3.Cross(r, g)))
		}
		for i, v := range [6]float64{df.X, df.Y, df.Z, dm.X, dm.Y, dm.Z} {
			k.Set(i, j, -v)
		}
	}
	return k
}

// scaled is stiffness with turns counted as travel at reach: all in N/mm.
func (s *sprung) scaled(p position) *mat.Dense {
	k := s.stiffness(p)
	k.Apply(func(i, j int, v float64) float64 {
		if i >= 3 {
			v /= s.reach
		}
		if j >= 3 {
			v /= s.reach
		}
		return v
	}, k)
	return k
}

func (s *sprung) solve(p position, left [6]float64) ([6]float64, error) {
	for i := 3; i < 6; i++ {
		left[i] /= s.reach
	}
	var lu mat.LU
	lu.Factorize(s.scaled(p))
	if c := lu.Cond(); !(c < 1e13) {
		return [6]float64{}, errors.New("nothing holds the powertrain against one way of turning; set the pads apart")
	}
	var x mat.VecDense
	if err := lu.SolveVecTo(&x, false, mat.NewVecDense(6, left[:])); err != nil {
		return [6]float64{}, err
	}
	var m [6]float64
	for i := range m {
		m[i] = x.AtVec(i)
		if i >= 3 {
			m[i] /= s.reach
		}
	}
	return m, nil
}

// line takes as much of the step as brings the powertrain nearer to balance.
func (s *sprung) line(p position, move [6]float64, size float64) (position, [6]float64, float64) {
	if t := math.Sqrt(move[3]*move[3] + move[4]*move[4] + move[5]*move[5]); t > 0.2 {
		for i := range move {
			move[i] *= 0.2 / t
		}
	}
	var next position
	var left [6]float64
	for range straighten {
		next = p.by(move)
		left = s.residual(next)
		if n := s.norm(left); n < size {
			return next, left, n
		}
		for i := range move {
			move[i] /= 2
		}
	}
	return p, left, size
}

// stable reports whether any small push is answered by a push back.
func (s *sprung) stable(p position) bool {
	k := s.scaled(p)
	sym := mat.NewSymDense(6, nil)
	for i := range 6 {
		for j := i; j < 6; j++ {
			sym.SetSym(i, j, (k.At(i, j)+k.At(j, i))/2)
		}
	}
	var c mat.Cholesky
	return c.Factorize(sym)
}

func (s *sprung) report(p position, size float64, steps int) Settled {
	out := Settled{Drop: -p.shift.Z, Residual: size, Steps: steps, Pads: make([]Pad, len(s.pads))}
	axis := func(e r3.Vec) r3.Vec { return r3.Add(e, p.swing(e)) }
	out.Motion = geom.Pose{
		X: axis(r3.Vec{X: 1}), Y: axis(r3.Vec{Y: 1}), Z: axis(r3.Vec{Z: 1}),
		At: r3.Sub(p.shift, p.swing(s.body.Centre)),
	}
	for i, pad := range s.pads {
		d := r3.Add(p.shift, p.swing(s.arms[i]))
		f := pad.spring(d)
		out.Pads[i] = Pad{Name: pad.Name, Moved: d, Bent: pad.Frame.OwnDir(d), Force: f, Lifts: f.Z < -slack}
	}
	return out
}
