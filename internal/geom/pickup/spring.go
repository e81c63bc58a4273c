package pickup

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Span lies between the chassis and a body that moves with the wheel: a spring or a damper
// by its two ends, vehicle axes at ride height, mm.
type Span struct {
	Chassis, End r3.Vec
	On           Body // that End is on
}

// check refuses one without length.
func (x Span) check() error {
	if !finite(x.Chassis, x.End) {
		return errNumbers
	}
	if x.At(nil) < leastArm {
		return errors.New("both its ends stand at the same place")
	}
	return nil
}

// At is its length in that state, mm; at ride height for nil.
func (x Span) At(s *State) float64 {
	if s == nil {
		return r3.Norm(r3.Sub(x.End, x.Chassis))
	}
	return r3.Norm(r3.Sub(s.Point(x.On, x.End), x.Chassis))
}

// probe is how far (mm of rise) slopes over the rise are taken to either side: small
// beside any arm, large beside the rounding of a length.
const probe = 0.25

// around are the states a little below and above one.
func (p *Path) around(s *State, by float64) (low, high State, err error) {
	if low, err = p.from(s, s.Rise-by); err != nil {
		return low, high, err
	}
	high, err = p.from(s, s.Rise+by)
	return low, high, err
}

// Motion is how the end of a span moves with the wheel.
type Motion struct {
	// Ratio is how much the span shortens for each mm that the wheel rises: the lever
	// times the cosine of the lean. By the principle of virtual work a force F of the
	// spring is F·Ratio at the wheel, upright.
	Ratio float64
	Lever float64    // how far its lower end moves for each mm that the wheel rises
	Lean  geom.Angle // between the span and the way its lower end goes
}

// Motion is how the end of a span moves with the wheel at a rise.
func (p *Path) Motion(x Span, rise float64) (Motion, error) {
	if err := x.check(); err != nil {
		return Motion{}, err
	}
	here, err := p.At(rise)
	if err != nil {
		return Motion{}, err
	}
	return p.motion(x, &here)
}

func (p *Path) motion(x Span, here *State) (Motion, error) {
	low, high, err := p.around(here, probe)
	if err != nil {
		return Motion{}, err
	}
	way := r3.Sub(high.Point(x.On, x.End), low.Point(x.On, x.End))
	up := r3.Sub(x.Chassis, here.Point(x.On, x.End))
	return Motion{
		Ratio: (x.At(&low) - x.At(&high)) / (2 * probe),
		Lever: r3.Norm(way) / (2 * probe),
		Lean:  geom.Between(way, up),
	}, nil
}

// Spring is a coil spring on a span.
type Spring struct {
	Span
	Coil float64 // length of the coil at ride height, mm; the rest of the span is rigid
	Free float64 // length of the coil unloaded, mm
	Rate float64 // N/mm
}

// Check refuses a spring that cannot be.
func (s Spring) Check() error {
	if err := s.check(); err != nil {
		return err
	}
	if !geom.Finite(s.Coil, s.Free, s.Rate) || s.Coil <= 0 || s.Free <= 0 || s.Rate <= 0 {
		return errors.New("the spring's lengths and its rate are above 0")
	}
	return nil
}

// CoilAt is the length of the coil in a state, mm: it is longer than Free where the
// spring has come off its seats.
func (s Spring) CoilAt(at *State) float64 { return s.Coil + s.At(at) - s.At(nil) }

// Force is what the spring pushes with at that length of its coil, N; nothing where it
// is off its seats.
func (s Spring) Force(coil float64) float64 { return s.Rate * max(0, s.Free-coil) }

// AtWheel is what the spring carries at the wheel at a rise, N, upright: its force times
// how much it shortens for each mm that the wheel rises.
func (p *Path) AtWheel(s Spring, rise float64) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	here, err := p.At(rise)
	if err != nil {
		return 0, err
	}
	return p.carries(s, &here)
}

func (p *Path) carries(s Spring, here *State) (float64, error) {
	m, err := p.motion(s.Span, here)
	return s.Force(s.CoilAt(here)) * m.Ratio, err
}

// WheelRate is how much more the spring carries at the wheel for each mm that it rises,
// N/mm. With L the length of the coil and z the rise, the energy of the spring is
// ½k(Free−L)² and the force at the wheel its slope F·(−dL/dz), so the rate is
// k(dL/dz)² − F·d²L/dz²: the second part is what a lever or a lean that changes adds.
func (p *Path) WheelRate(s Spring, rise float64) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	here, err := p.At(rise)
	if err != nil {
		return 0, err
	}
	// The lengths go wider apart than slopes do: their second difference is small.
	const wide = 8 * probe
	low, high, err := p.around(&here, wide)
	if err != nil {
		return 0, err
	}
	m, err := p.motion(s.Span, &here)
	if err != nil {
		return 0, err
	}
	bend := (s.At(&high) - 2*s.At(&here) + s.At(&low)) / (wide * wide)
	if s.Force(s.CoilAt(&here)) == 0 {
		return 0, nil
	}
	return s.Rate*m.Ratio*m.Ratio - s.Force(s.CoilAt(&here))*bend, nil
}

// CoilFor is how long the coil has to be at ride height to carry load (N) at the wheel:
// free − load/(rate·ratio). It fails where the spring does not shorten as the wheel
// rises, or would be pressed to nothing.
func (p *Path) CoilFor(x Span, free, rate, load float64) (float64, error) {
	m, err := p.Motion(x, 0)
	if err != nil {
		return 0, err
	}
	if m.Ratio < leastRatio {
		return 0, errNotShorter
	}
	coil := free - load/(rate*m.Ratio)
	if !geom.Finite(coil) || coil <= 0 {
		return 0, errors.New("the load would press the spring to less than nothing")
	}
	return coil, nil
}

// leastRatio is how little a spring may shorten for each mm of rise to be one at all.
const leastRatio = 0.02

var errNotShorter = errors.New("it does not shorten as the wheel rises; its two ends may be exchanged, or it stands square to the way its end goes")

// Settle is the rise at which the spring carries load (N) at the wheel, above 0 where
// the vehicle stands lower than wanted. It fails where that is not between droop and
// bump (mm, neither below 0).
func (p *Path) Settle(s Spring, load, droop, bump float64) (float64, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	here := State{slope: p.rate}
	over := func(rise float64) (float64, error) {
		at, err := p.from(&here, rise)
		if err != nil {
			return 0, err
		}
		here = at
		f, err := p.carries(s, &at)
		return f - load, err
	}
	low, err := over(-droop)
	if err != nil {
		return 0, err
	}
	if low > 0 {
		return 0, errors.New("the spring carries more than the load over the whole of its travel")
	}
	high, err := over(bump)
	if err != nil {
		return 0, err
	}
	if high < 0 {
		return 0, errors.New("the spring does not carry the load anywhere in its travel")
	}
	return root(over, -droop, low, bump, high)
}

// root is where f crosses zero between lo and hi, by halves of the way and secants in
// turn. At lo f is below zero, at hi it is not.
func root(f func(float64) (float64, error), lo, atLo, hi, atHi float64) (float64, error) {
	for n := 0; hi-lo > 1e-7 && n < 100; n++ {
		mid := lo + (hi-lo)/2
		if n%2 == 0 && atHi > atLo {
			mid = lo + (hi-lo)*min(0.999, max(0.001, -atLo/(atHi-atLo)))
		}
		at, err := f(mid)
		if err != nil {
			return 0, err
		}
		if math.Abs(at) < 1e-9 {
			return mid, nil
		}
		if at < 0 {
			lo, atLo = mid, at
		} else {
			hi, atHi = mid, at
		}
	}
	return lo + (hi-lo)/2, nil
}

// RiseAt is the rise at which a span has become as short as length (mm), between droop
// and bump; false where it does not become so short there.
func (p *Path) RiseAt(x Span, length, droop, bump float64) (rise float64, reached bool, err error) {
	if err := x.check(); err != nil {
		return 0, false, err
	}
	here := State{slope: p.rate}
	past := func(rise float64) (float64, error) {
		at, err := p.from(&here, rise)
		if err != nil {
			return 0, err
		}
		here = at
		return length - x.At(&at), nil
	}
	low, err := past(-droop)
	if err != nil || low >= 0 {
		return -droop, err == nil, err
	}
	high, err := past(bump)
	if err != nil || high < 0 {
		return bump, false, err
	}
	rise, err = root(past, -droop, low, bump, high)
	return rise, true, err
}

// Sweep are n states from full droop to full bump, both from ride height and neither
// below 0, mm. It fails where the wheel does not get so far.
func (p *Path) Sweep(droop, bump float64, n int) ([]State, error) {
	if !geom.Finite(droop, bump) || droop < 0 || bump < 0 || droop+bump < geom.Tiny || n < 2 {
		return nil, fmt.Errorf("droop %g mm and bump %g mm: each is a distance from ride height, and one of them is above 0", droop, bump)
	}
	out := make([]State, n)
	rise := func(i int) float64 {
		if i == n-1 {
			return bump
		}
		return -droop + (droop+bump)*float64(i)/float64(n-1)
	}
	first := 0 // at or above ride height
	for first < n-1 && rise(first) < 0 {
		first++
	}
	run := func(from, by int) error {
		here := State{slope: p.rate}
		for i := from; i >= 0 && i < n; i += by {
			s, err := p.from(&here, rise(i))
			if err != nil {
				return err
			}
			out[i], here = s, s
		}
		return nil
	}
	if err := run(first, 1); err != nil {
		return nil, err
	}
	if err := run(first-1, -1); err != nil {
		return nil, err
	}
	return out, nil
}

// Tower is where the upper end of a spring has to stand.
type Tower struct {
	Upper r3.Vec
	Axis  r3.Vec // unit vector from the lower end to the upper one
}

// TowerOver is the upper end of a span of that length (mm) over its lower end, which
// leans by back as seen from the side, its top to the rear, and by in as seen from the
// front, its top to the centre line. right says on which side of the vehicle it is.
func TowerOver(lower r3.Vec, length float64, back, in geom.Angle, right bool) (Tower, error) {
	if !finite(lower) || !geom.LengthOK(length) || length < leastArm {
		return Tower{}, errNumbers
	}
	if back.Abs() > mostLean || in.Abs() > mostLean {
		return Tower{}, fmt.Errorf("a lean of %.0f° is asked for; less than %.0f° is taken", max(back.Abs(), in.Abs()).Degrees(), geom.Angle(mostLean).Degrees())
	}
	side := -1.0
	if right {
		side = 1
	}
	u := r3.Unit(r3.Vec{X: math.Tan(back.Rad()), Y: -side * math.Tan(in.Rad()), Z: 1})
	return Tower{Upper: r3.Add(lower, r3.Scale(length, u)), Axis: u}, nil
}

// mostLean bounds what is taken for a spring's lean.
const mostLean = 80 * geom.Deg

// Cut is how the post of a tower is sawn.
type Cut struct {
	Top    r3.Vec     // middle of the cut at its upper end
	Length float64    // along the post, from its foot to there, mm
	Height float64    // upright, mm
	Mitre  geom.Angle // between the post and the spring: how far off square its upper end is cut
	Foot   geom.Angle // between the post and the plumb line
}

// CutFor is the post of a tower from its foot to a place stack (mm) above the upper end
// of a span, along that.
func CutFor(x Span, stack float64, foot r3.Vec) (Cut, error) {
	if err := x.check(); err != nil {
		return Cut{}, err
	}
	if !finite(foot) || !geom.Finite(stack) {
		return Cut{}, errNumbers
	}
	u := r3.Unit(r3.Sub(x.Chassis, x.End))
	c := Cut{Top: r3.Add(x.Chassis, r3.Scale(stack, u))}
	post := r3.Sub(c.Top, foot)
	c.Length, c.Height = r3.Norm(post), post.Z
	if c.Length < leastArm {
		return Cut{}, errors.New("the foot of its tower stands where its top does")
	}
	c.Mitre, c.Foot = geom.Between(post, u), geom.Between(post, r3.Vec{Z: 1})
	return c, nil
}
