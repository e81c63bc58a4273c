package pickup

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/travel"

	"gonum.org/v1/gonum/spatial/r3"
)

// Body is one of the bodies that move with a wheel.
type Body uint8

// The bodies. Of an axle all three are the axle; of a trailing arm all three are the
// arm; a strut has no upper arm, and its Upper is the hub.
const (
	Lower Body = iota // the lower arm
	Upper             // the upper arm
	Hub               // what carries the wheel
	bodies
)

// State is where a wheel and its bodies are at one rise.
type State struct {
	Rise   float64 // of the wheel centre from ride height, mm
	Wheel  r3.Vec  // wheel centre, vehicle axes, mm
	Motion [bodies]geom.Pose

	turn, slope float64 // of what moves it, and mm of rise for a turn of 1 near there
}

// Point is where a point of a body is, from where it stands at ride height.
func (s *State) Point(b Body, at r3.Vec) r3.Vec { return s.Motion[b].Point(at) }

// Arms is a wheel on a lower and an upper arm, vehicle axes at ride height, mm.
type Arms struct {
	PivotA, PivotB           r3.Vec // of the lower arm
	Ball                     r3.Vec // lower ball joint
	UpperPivotA, UpperPivotB r3.Vec
	UpperBall                r3.Vec
	Tie                      *Tie // nil: the hub does not turn about its steering axis
	Wheel                    r3.Vec
}

// Strut is a wheel on a lower arm and a strut that is rigid with the hub, slides and
// turns in its top, vehicle axes at ride height, mm.
type Strut struct {
	PivotA, PivotB r3.Vec // of the lower arm
	Ball           r3.Vec // lower ball joint
	Top            r3.Vec // centre of the strut's upper mount
	Tie            *Tie
	Wheel          r3.Vec
}

// TrailingArm carries its wheel rigidly, vehicle axes at ride height, mm.
type TrailingArm struct{ PivotA, PivotB, Wheel r3.Vec }

// Tie is the tie rod that steers the hub, with the steering held straight ahead.
type Tie struct{ Inner, Outer r3.Vec }

// Path is how a wheel goes up and down. It is not changed by use.
type Path struct {
	at    func(turn float64) ([bodies]geom.Pose, error)
	wheel r3.Vec
	rate  float64 // mm of rise of the wheel for a turn of 1 at ride height
}

// hub is how a hub follows its steering axis.
type hub struct {
	ball, top r3.Vec // at ride height
	axis      r3.Vec // unit vector from ball to top
	tie       *Tie
	outer     meeting
}

// newHub checks the steering axis and its tie rod.
func newHub(ball, top r3.Vec, tie *Tie) (*hub, error) {
	h := &hub{ball: ball, top: top, tie: tie}
	if r3.Norm(r3.Sub(top, ball)) < leastArm {
		return nil, errors.New("both ends of the steering axis stand at the same place")
	}
	h.axis = r3.Unit(r3.Sub(top, ball))
	if tie == nil {
		return h, nil
	}
	c, err := circleOf(ball, top, tie.Outer)
	if err != nil {
		return nil, errors.New("the tie rod: its outer end lies on the steering axis")
	}
	if h.outer, err = meet(c, tie.Inner); err != nil {
		return nil, fmt.Errorf("the tie rod: %w", err)
	}
	return h, nil
}

// motion is the hub's from ride height with its steering axis through ball and top: it
// is turned by the least that turns the axis, and about it as its tie rod says.
func (h *hub) motion(ball, top r3.Vec) (geom.Pose, error) {
	to := r3.Unit(r3.Sub(top, ball))
	// With w = u × v and c = u·v the least rotation from u to v is c + [w]× + w wᵀ/(1+c).
	w, c := r3.Cross(h.axis, to), r3.Dot(h.axis, to)
	if c < -0.9 {
		return geom.Identity(), errors.New("the steering axis has turned over")
	}
	m := rotation(w, r3.Scale(1/(1+c), w), w, c)
	m.At = r3.Sub(ball, m.Dir(h.ball))
	if h.tie == nil {
		return m, nil
	}
	// Turned back into the hub, the inner end is what moves.
	a, err := h.outer.angle(m.Own(h.tie.Inner))
	if err != nil {
		return m, fmt.Errorf("the tie rod: %w", err)
	}
	return h.outer.turn(a).Then(m), nil
}

// NewArms is the path of a wheel on two arms. The error says which part cannot be so.
func NewArms(a Arms) (*Path, error) {
	if !finite(a.PivotA, a.PivotB, a.Ball, a.UpperPivotA, a.UpperPivotB, a.UpperBall, a.Wheel) || !a.Tie.finite() {
		return nil, errNumbers
	}
	lower, err := circleOf(a.PivotA, a.PivotB, a.Ball)
	if err != nil {
		return nil, fmt.Errorf("the lower arm: %w", err)
	}
	upper, err := circleOf(a.UpperPivotA, a.UpperPivotB, a.UpperBall)
	if err != nil {
		return nil, fmt.Errorf("the upper arm: %w", err)
	}
	h, err := newHub(a.Ball, a.UpperBall, a.Tie)
	if err != nil {
		return nil, err
	}
	meets, err := meet(upper, a.Ball)
	if err != nil {
		return nil, fmt.Errorf("the upper arm: %w", err)
	}
	return newPath(a.Wheel, lower.r, func(turn float64) (out [bodies]geom.Pose, err error) {
		out[Lower] = lower.turn(turn)
		ball := lower.at(turn)
		over, err := meets.angle(ball)
		if err != nil {
			return out, fmt.Errorf("the upper arm: %w", err)
		}
		out[Upper] = upper.turn(over)
		out[Hub], err = h.motion(ball, upper.at(over))
		return out, err
	})
}

// NewStrut is the path of a wheel on a strut.
func NewStrut(a Strut) (*Path, error) {
	if !finite(a.PivotA, a.PivotB, a.Ball, a.Top, a.Wheel) || !a.Tie.finite() {
		return nil, errNumbers
	}
	lower, err := circleOf(a.PivotA, a.PivotB, a.Ball)
	if err != nil {
		return nil, fmt.Errorf("the lower arm: %w", err)
	}
	h, err := newHub(a.Ball, a.Top, a.Tie)
	if err != nil {
		return nil, err
	}
	return newPath(a.Wheel, lower.r, func(turn float64) (out [bodies]geom.Pose, err error) {
		out[Lower] = lower.turn(turn)
		if out[Hub], err = h.motion(lower.at(turn), a.Top); err != nil {
			return out, err
		}
		out[Upper] = out[Hub]
		return out, nil
	})
}

// NewTrailingArm is the path of a wheel that an arm carries rigidly.
func NewTrailingArm(a TrailingArm) (*Path, error) {
	if !finite(a.PivotA, a.PivotB, a.Wheel) {
		return nil, errNumbers
	}
	c, err := circleOf(a.PivotA, a.PivotB, a.Wheel)
	if err != nil {
		return nil, fmt.Errorf("the arm: %w", err)
	}
	return newPath(a.Wheel, c.r, func(turn float64) ([bodies]geom.Pose, error) {
		m := c.turn(turn)
		return [bodies]geom.Pose{m, m, m}, nil
	})
}

// NewAxle is the path of a wheel that an axle carries, both wheels rising alike. A nil
// suspension lifts the axle straight up and turns it nowhere.
func NewAxle(s travel.Suspension, wheel r3.Vec) (*Path, error) {
	if !finite(wheel) {
		return nil, errNumbers
	}
	return newPath(wheel, 1, func(rise float64) ([bodies]geom.Pose, error) {
		m := geom.Identity()
		if s == nil {
			m.At.Z = rise
			return [bodies]geom.Pose{m, m, m}, nil
		}
		p, err := s.At(rise)
		return [bodies]geom.Pose{p.Motion, p.Motion, p.Motion}, err
	})
}

func (t *Tie) finite() bool { return t == nil || finite(t.Inner, t.Outer) }

func finite(vs ...r3.Vec) bool {
	for _, v := range vs {
		if !geom.Finite(v.X, v.Y, v.Z) || r3.Norm(v) > geom.LimitLength {
			return false
		}
	}
	return true
}

// leastLift is how steeply a wheel has to leave ride height, by what it would rise if it
// went straight up.
const leastLift = 0.02

// newPath looks how the wheel leaves ride height. size is what it would rise for a turn
// of 1 if it went straight up.
func newPath(wheel r3.Vec, size float64, at func(float64) ([bodies]geom.Pose, error)) (*Path, error) {
	p := &Path{at: at, wheel: wheel}
	const small = 1e-4
	up, err := p.rise(small)
	if err != nil {
		return nil, err
	}
	down, err := p.rise(-small)
	if err != nil {
		return nil, err
	}
	p.rate = (up - down) / (2 * small)
	if math.Abs(p.rate) < leastLift*size {
		return nil, errNotMoved
	}
	return p, nil
}

// rise is how far the wheel has come up.
func (p *Path) rise(turn float64) (float64, error) {
	m, err := p.at(turn)
	if err != nil {
		return 0, err
	}
	return m[Hub].Point(p.wheel).Z - p.wheel.Z, nil
}

// BindError says how far a wheel can go.
type BindError struct {
	Rise float64 // the last that is reached, mm
	Why  string
}

func (e *BindError) Error() string {
	return fmt.Sprintf("the wheel binds at %.1f mm from ride height: %s", e.Rise, e.Why)
}

const (
	stride   = 10.0 // mm of rise in one go, so that no other branch is reached
	settled  = 1e-10
	nothing  = 1e-6 // mm of rise that a straight line is good enough for
	mostRise = 1000.0
)

// At is where the wheel and its bodies are when its centre has risen by rise mm. One
// that cannot be reached gives a *BindError.
func (p *Path) At(rise float64) (State, error) {
	if !geom.Finite(rise) || math.Abs(rise) > mostRise {
		return State{}, fmt.Errorf("a rise of %g mm is asked for; up to %g mm are taken", rise, mostRise)
	}
	return p.from(&State{slope: p.rate}, rise)
}

// from is At, beginning at a state of the path.
func (p *Path) from(s *State, rise float64) (State, error) {
	turn, was, slope := s.turn, s.Rise, s.slope
	for n := math.Ceil(math.Abs(rise-was) / stride); n > 0; n-- {
		to := was + (rise-was)/n
		next, now, err := p.reach(turn, was, to, slope)
		if err != nil {
			return State{}, &BindError{Rise: was, Why: err.Error()}
		}
		turn, was, slope = next, to, now
	}
	m, err := p.at(turn)
	if err != nil {
		return State{}, err
	}
	return State{Rise: rise, Wheel: m[Hub].Point(p.wheel), Motion: m, turn: turn, slope: slope}, nil
}

// reach finds the turn at which the wheel has risen to a height a stride away, by
// secants from where it is: its rise there is was, and slope about how it goes on.
func (p *Path) reach(turn, was, to, slope float64) (at, now float64, err error) {
	x0, y0 := turn, was
	x1 := x0 + (to-was)/slope
	if math.Abs(to-was) < nothing {
		return x1, slope, nil
	}
	for range 60 {
		y1, err := p.rise(x1)
		if err != nil {
			return 0, 0, err
		}
		chord := (y1 - was) / (x1 - turn)
		if chord*slope <= 0 || math.Abs(chord) < leastLift*math.Abs(p.rate) {
			return 0, 0, errTurned
		}
		d := (y1 - y0) / (x1 - x0)
		if math.Abs(y1-to) < settled {
			return x1, chord, nil
		}
		if d == 0 || x1 == x0 {
			break
		}
		x0, y0, x1 = x1, y1, x1+(to-y1)/d
	}
	return 0, 0, errors.New("where it goes is not found")
}

var errTurned = errors.New("it stands so that its turning lifts the wheel no more")

var errNumbers = fmt.Errorf("its points are not all numbers within %g mm", geom.LimitLength)
