package seat

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/geom"

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
	Motion     geom.Pose
	Drop       float64 // of the centre of mass, mm, down positive
	Pads       []Pad
	Residual   float64 // force left out of balance, N; moments count over the arm of the mounts
	Iterations int     // of the solution
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
	return newHung(b, pads).settle(load)
}

// Hang returns a powertrain on its isolators, ready for one load after another.
// It fails as Settle does.
func Hang(b Body, pads []Isolator) (*Hung, error) {
	if err := checkPads(b, pads, Resting()); err != nil {
		return nil, err
	}
	return newHung(b, pads), nil
}

// Settle is that of the body on the pads.
func (s *Hung) Settle(load Load) (Settled, error) {
	if err := load.check(); err != nil {
		return Settled{}, err
	}
	return s.settle(load)
}

// With is the body on the same pads, pad i with other rates. It fails as Hang
// does.
func (s *Hung) With(i int, rates Rates) (*Hung, error) {
	pads, each := slices.Clone(s.pads), slices.Clone(s.rates)
	pads[i].Rates = rates
	if err := pads[i].check(); err != nil {
		return nil, err
	}
	each[i] = pads[i].stiffness()
	out := &Hung{body: s.body, pads: pads, arms: s.arms, rates: each, reach: s.reach}
	out.ready()
	return out, nil
}

// Forces fills in what each pad does to the body where it comes to rest under a
// load, N, vehicle axes, in the order of the pads. It fails as Settle does.
func (s *Hung) Forces(load Load, out []r3.Vec) error {
	if err := load.check(); err != nil {
		return err
	}
	pos, _, _, err := s.balance(load)
	if err != nil {
		return err
	}
	for i := range out {
		out[i] = s.pull(i, r3.Add(pos.shift, pos.swing(s.arms[i])))
	}
	return nil
}

func (s *Hung) settle(load Load) (Settled, error) {
	pos, size, steps, err := s.balance(load)
	if err != nil {
		return Settled{}, err
	}
	return s.report(pos, size, steps), nil
}

// keepsUp is the part of what is out of balance that a step may leave for the next
// one to go by the same stiffness: where the body turns little that is nearly the
// same, and worked out already.
const keepsUp = 0.1

// balance finds where the body rests: Newton's method, with the stiffness before
// anything moved, and what the steps showed of how that differs, as long as that brings
// it on.
func (s *Hung) balance(load Load) (pos position, size float64, steps int, err error) {
	d := dead{load.Force(s.body), load.Torque}
	pos = position{turn: quat.Number{Real: 1}}
	left := s.residual(d, pos)
	size = s.norm(left)
	before := math.Inf(1)
	var shown shown
	for ; steps < maxSteps && size > balanced*1e-3; steps++ {
		soft := &s.atRest
		if size > keepsUp*before {
			now := s.softness(pos)
			soft, shown.steps = &now, 0
		}
		if !soft.ok {
			return pos, size, steps, fmt.Errorf("%s mounts: %w", namesOf(mountsOf(s.pads)), errTurns)
		}
		next, nextLeft, nextSize, whole := s.line(d, pos, s.turning(shown.next(s.step(soft, left))), size)
		if nextSize >= size {
			if soft == &s.atRest && steps > 0 {
				before = 0 // the stiffness where it stands may do better
				continue
			}
			break // as good as rounding lets it be, or stuck
		}
		if !whole || soft != &s.atRest {
			shown.steps = 0
		}
		before, pos, left, size = size, next, nextLeft, nextSize
	}
	if size > balanced || 2*math.Acos(min(1, math.Abs(pos.turn.Real))) > maxTurn {
		return pos, size, steps, ErrSoft
	}
	if s.softens(pos) < s.least {
		return pos, size, steps, nil
	}
	if k := s.scaled(pos); !k.holds() {
		return pos, size, steps, ErrTips
	}
	return pos, size, steps, nil
}

// softens is more than the scaled stiffness at p differs from that before anything
// moved, as what it does to a vector of length 1, N/mm. With t the most that a point at
// unit distance moves by the turn, K and a the stiffness and arm of a pad, all bounded
// by their sizes: in the shifts' block nothing, in those beside it K·t·a, in the turns'
// 2·K·t·a² by the arms and 2·f·a by the forces, f being K·(shift + t·a).
func (s *Hung) softens(p position) float64 {
	q := p.turn
	t := 2 * math.Sqrt(q.Imag*q.Imag+q.Jmag*q.Jmag+q.Kmag*q.Kmag)
	return t*s.stiff[0]/s.reach + (4*t*s.stiff[1]+2*r3.Norm(p.shift)*s.stiff[0])/(s.reach*s.reach)
}

// ready works out what is the same for every load.
func (s *Hung) ready() {
	at := position{turn: quat.Number{Real: 1}}
	k := s.scaled(at)
	inv, ok := k.inverse()
	s.atRest = softness{inv, ok && k.norm()*inv.norm() < mostSkew}
	s.stiff, s.least = [2]float64{}, 0
	for i := range s.pads {
		r, a := s.pads[i].Rates, r3.Norm(s.arms[i])
		most := max(r.X, r.Y, r.Z)
		s.stiff[0] += most * a
		s.stiff[1] += most * a * a
	}
	if s.atRest.ok && k.holds() {
		s.least = 1 / inv.norm()
	}
}

func mountsOf(pads []Isolator) []Mount { return appendMounts(nil, pads) }

func appendMounts(to []Mount, pads []Isolator) []Mount {
	for i := range pads {
		to = append(to, Mount{Name: pads[i].Name, At: pads[i].Frame.At})
	}
	return to
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
	var few [8]Mount
	mounts := appendMounts(few[:0], pads)
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

// swings takes an arm from the centre to how far its tip moves by turning, as swing
// does, for many arms.
type swings [3][3]float64

func (p position) swings() swings {
	w, x, y, z := p.turn.Real, p.turn.Imag, p.turn.Jmag, p.turn.Kmag
	return swings{
		{-2 * (y*y + z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
		{2 * (x*y + w*z), -2 * (x*x + z*z), 2 * (y*z - w*x)},
		{2 * (x*z - w*y), 2 * (y*z + w*x), -2 * (x*x + y*y)},
	}
}

func (m *swings) of(r r3.Vec) r3.Vec { return times((*[3][3]float64)(m), r) }

// by returns the position after a further shift and turn (rotation vector).
func (p position) by(m [6]float64) position {
	w := r3.Vec{X: m[3], Y: m[4], Z: m[5]}
	a := math.Sqrt(r3.Norm2(w))
	half := 0.5
	if a > 1e-9 {
		half = math.Sin(a/2) / a
	}
	q := quat.Mul(quat.Number{Real: math.Cos(a / 2), Imag: half * w.X, Jmag: half * w.Y, Kmag: half * w.Z}, p.turn)
	return position{
		shift: r3.Add(p.shift, r3.Vec{X: m[0], Y: m[1], Z: m[2]}),
		turn:  quat.Scale(1/math.Sqrt(q.Real*q.Real+q.Imag*q.Imag+q.Jmag*q.Jmag+q.Kmag*q.Kmag), q),
	}
}

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
}

// dead is what pulls at the body: the force at its centre and a torque.
type dead struct{ force, torque r3.Vec }

func newHung(b Body, pads []Isolator) *Hung {
	s := &Hung{body: b, pads: pads, arms: make([]r3.Vec, len(pads)), rates: make([][3][3]float64, len(pads))}
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
	by, by2 := 1/s.reach, 1/(s.reach*s.reach)
	swings := p.swings()
	for i, arm := range s.arms {
		d := swings.of(arm)
		r := r3.Add(arm, d)
		f := s.pull(i, r3.Add(p.shift, d))
		rate := &s.rates[i]
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
	return k
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

// step is the shift and turn that would balance what is left, turns counted as travel
// at reach.
func (s *Hung) step(soft *softness, left [6]float64) [6]float64 {
	for i := 3; i < 6; i++ {
		left[i] /= s.reach
	}
	var m [6]float64
	for i := range m {
		k := &soft.six[i]
		m[i] = k[0]*left[0] + k[1]*left[1] + k[2]*left[2] + k[3]*left[3] + k[4]*left[4] + k[5]*left[5]
	}
	return m
}

// turning is a step with its turns in rad.
func (s *Hung) turning(m [6]float64) [6]float64 {
	for i := 3; i < 6; i++ {
		m[i] /= s.reach
	}
	return m
}

// shown are the steps taken by one stiffness, which show how it differs from that where
// the body is: Broyden's good method, written with nothing but its steps (Kelley,
// Iterative Methods for Linear and Nonlinear Equations, 1995, 7.3, from memory).
type shown struct {
	taken [8][6]float64
	steps int
}

// next is the step to take where the stiffness by itself says m.
func (b *shown) next(m [6]float64) [6]float64 {
	if b.steps == len(b.taken) {
		b.steps = 0
	}
	if n := b.steps; n > 0 {
		for j := range n - 1 {
			by := along(&b.taken[j], &m)
			for i := range m {
				m[i] += by * b.taken[j+1][i]
			}
		}
		const most = 0.5 // of the step before; more is not nearly the same stiffness
		if by := along(&b.taken[n-1], &m); math.Abs(by) < most {
			for i := range m {
				m[i] /= 1 - by
			}
		}
	}
	b.taken[b.steps] = m
	b.steps++
	return m
}

// along is how much of a there is in b.
func along(a, b *[6]float64) float64 {
	ab, aa := 0.0, 0.0
	for i := range a {
		ab += a[i] * b[i]
		aa += a[i] * a[i]
	}
	if aa == 0 {
		return 0
	}
	return ab / aa
}

// line takes as much of the step as brings the powertrain nearer to balance, and says
// whether that was the whole of it.
func (s *Hung) line(l dead, p position, move [6]float64, size float64) (to position, leaves [6]float64, left float64, whole bool) {
	whole = true
	if t := math.Sqrt(move[3]*move[3] + move[4]*move[4] + move[5]*move[5]); t > 0.2 {
		whole = false
		for i := range move {
			move[i] *= 0.2 / t
		}
	}
	tries := straighten
	if size <= balanced {
		tries = 1 // what is left is rounding
	}
	for range tries {
		next := p.by(move)
		leaves = s.residual(l, next)
		if n := s.norm(leaves); n < size {
			return next, leaves, n, whole
		}
		whole = false
		for i := range move {
			move[i] /= 2
		}
	}
	return p, leaves, size, false
}

// motion is the rigid motion that takes the body to p, vehicle axes.
func (s *Hung) motion(p position) geom.Pose {
	axis := func(e r3.Vec) r3.Vec { return r3.Add(e, p.swing(e)) }
	return geom.Pose{
		X: axis(r3.Vec{X: 1}), Y: axis(r3.Vec{Y: 1}), Z: axis(r3.Vec{Z: 1}),
		At: r3.Sub(p.shift, p.swing(s.body.Centre)),
	}
}

func (s *Hung) report(p position, size float64, steps int) Settled {
	out := Settled{Drop: -p.shift.Z, Residual: size, Iterations: steps, Pads: make([]Pad, len(s.pads))}
	out.Motion = s.motion(p)
	for i, pad := range s.pads {
		d := r3.Add(p.shift, p.swing(s.arms[i]))
		f := s.pull(i, d)
		out.Pads[i] = Pad{Name: pad.Name, Moved: d, Bent: pad.Frame.OwnDir(d), Force: f, Lifts: f.Z < -slack}
	}
	return out
}
