package seat

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/geom"

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
	Links      []Tied
	Stops      []Stopped
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

// HangHeld is Hang with links and stops beside the pads, which may lie in one line where
// a link is fitted as built. It fails as Hang and Hold do.
func HangHeld(b Body, pads []Isolator, links []Link, stops []Stop) (*Hung, error) {
	if len(links)+len(stops) == 0 {
		return Hang(b, pads)
	}
	err := checkPads(b, pads, Resting())
	if err != nil && !(errors.Is(err, ErrOneLine) && slices.ContainsFunc(links, func(l Link) bool { return l.Built })) {
		return nil, err
	}
	return newHung(b, pads).Hold(links, stops)
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
	out := &Hung{body: s.body, pads: pads, arms: s.arms, rates: each, reach: s.reach, rested: unmoved()}
	if len(s.links)+len(s.stops) > 0 {
		return out.Hold(s.links, s.stops)
	}
	out.ready()
	return out, nil
}

// Forces fills in what each pad does to the body where it comes to rest under a
// load, N, vehicle axes, in the order of the pads. It fails as Settle does.
func (s *Hung) Forces(load Load, out []r3.Vec) error {
	_, _, err := s.Beside(load, out)
	return err
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

// balance finds where the body rests.
func (s *Hung) balance(load Load) (pos position, size float64, steps int, err error) {
	d := dead{load.Force(s.body), load.Torque}
	if len(s.buffers) > 0 {
		return s.caught(d)
	}
	return s.balanceFrom(s.rested, d)
}

// balanceFrom finds where the body rests with no stop but those that are ties, going from
// a place on: Newton's method, with the stiffness before anything moved, and what the
// steps showed of how that differs, as long as that brings it on.
func (s *Hung) balanceFrom(from position, d dead) (pos position, size float64, steps int, err error) {
	pos = from
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
			if soft == &s.atRest && (steps > 0 || len(s.ties) > 0) {
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
	at := unmoved()
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
	if s.atRest.ok && len(s.ties) == 0 && k.holds() {
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
		f := s.padForce(i, p)
		out.Pads[i] = Pad{Name: pad.Name, Moved: d, Bent: pad.Frame.OwnDir(d), Force: f, Lifts: f.Z < -slack}
	}
	if len(s.links)+len(s.stops) > 0 {
		out.Links, out.Stops = s.beside(p)
	}
	return out
}
