package seat

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Link is a torque link or strut between a joint on the powertrain and one on the
// vehicle: it only pulls or pushes along the straight line between the two, wherever
// that lies.
type Link struct {
	Name string
	On   r3.Vec  // joint on the powertrain before anything rests on the isolators, mm, vehicle axes
	To   r3.Vec  // joint on the vehicle, mm, vehicle axes
	Rate float64 // N/mm along the line, static: both bushes, one behind the other
	// Built says that it carries nothing before anything rests on the isolators: it takes
	// its share of the weight. Without it it carries nothing once the weight is on them.
	Built bool
}

// Stop is a buffer that a point of the powertrain meets after some free play: a roll
// stop, the snubber or the rebound washer of a mount. It pushes back along its axis,
// which keeps its direction, and never pulls.
type Stop struct {
	Name string
	At   r3.Vec // on the powertrain before anything rests on the isolators, mm, vehicle axes
	Axis r3.Vec // vehicle axes, any length: the way that Forward counts
	// Forward and Backward are how far the point goes along the axis and against it until
	// it is met, mm; +Inf on a side that has none.
	Forward, Backward float64
	Rate              float64 // N/mm once it is met, static
	// Built says that the free play is that before anything rests on the isolators, else
	// it is that with the weight on them.
	Built bool
	// Pad is the place among the isolators, from 1, of that which it is a part of and adds
	// its force to; 0 for none.
	Pad int
}

func (l *Link) check() error {
	apart := r3.Sub(l.On, l.To)
	switch {
	case !geom.Finite(apart.X, apart.Y, apart.Z) || r3.Norm(apart) < 1e-3:
		return geom.PartFault("torque link", l.Name, "its two joints are in one place or are not numbers, so it has no direction")
	case !(l.Rate > 0 && l.Rate <= 1e9):
		return geom.PartFault("torque link", l.Name, "a rate of %g N/mm is none; more than 0 is wanted", l.Rate)
	}
	return nil
}

func (q *Stop) check(pads int) error {
	switch _, err := geom.Unit(q.Axis); {
	case err != nil || !geom.Finite(q.At.X, q.At.Y, q.At.Z):
		return geom.PartFault("roll stop", q.Name, "its place is not a number or its axis has no direction")
	case !(q.Rate > 0 && q.Rate <= 1e9):
		return geom.PartFault("roll stop", q.Name, "a rate of %g N/mm is none; more than 0 is wanted", q.Rate)
	case !(q.Forward >= 0 && q.Backward >= 0):
		return geom.PartFault("roll stop", q.Name, "its free play is less than nothing; 0 or more is wanted")
	case math.IsInf(q.Forward, 1) && math.IsInf(q.Backward, 1):
		return geom.PartFault("roll stop", q.Name, "it has free play on neither side, so it is met on none; give at least one")
	case q.Pad < 0 || q.Pad > pads:
		return geom.PartFault("roll stop", q.Name, "it is a part of mount %d, of which there are %d", q.Pad, pads)
	}
	return nil
}

// tie is a link, or a stop that is met, as a spring on the body.
type tie struct {
	arm  r3.Vec // from the centre of mass to its point before anything moves
	rate float64
	link bool
	far  r3.Vec  // of a link: from its point before anything moves to its other joint
	zero float64 // of a link its length that carries nothing, of a stop how far along its axis that is
	axis r3.Vec  // of a stop, of length 1
}

// longer is how much longer than at rest a link is where its point has moved by d, or how
// far a stop is pressed in, and the unit direction in which that grows.
func (t *tie) longer(d r3.Vec) (float64, r3.Vec) {
	if !t.link {
		return r3.Dot(d, t.axis) - t.zero, t.axis
	}
	line := r3.Sub(d, t.far)
	length := r3.Norm(line)
	if length < 1e-6 { // the joints meet: no direction, and far past what is solved
		return -t.zero, r3.Unit(r3.Scale(-1, t.far))
	}
	return length - t.zero, r3.Scale(1/length, line)
}

// push is what it does to the body where its point has moved by d, N.
func (t *tie) push(d r3.Vec) r3.Vec {
	by, along := t.longer(d)
	return r3.Scale(-t.rate*by, along)
}

// stiffness is minus the derivative of push: k·u·uᵀ, and for a link, whose force turns
// with it, the force over the length across it.
func (t *tie) stiffness(d r3.Vec) (k [3][3]float64) {
	by, along := t.longer(d)
	across := 0.0
	if t.link {
		across = t.rate * by / max(t.zero+by, 1e-6)
	}
	u := [3]float64{along.X, along.Y, along.Z}
	for i := range 3 {
		k[i][i] = across
		for j := range 3 {
			k[i][j] += (t.rate - across) * u[i] * u[j]
		}
	}
	return k
}

// buffer is a stop on a body: its axis of length 1, and its free play counted from where
// its point was before anything rested on the isolators.
type buffer struct {
	Stop
	arm  r3.Vec
	axis r3.Vec
	from float64 // how far along the axis the play counts from
}

// gone is how far the point has gone along the axis from where its free play counts.
func (b *buffer) gone(d r3.Vec) float64 { return r3.Dot(d, b.axis) - b.from }

// pressed is how far it is pressed in, mm, negative against its axis.
func (b *buffer) pressed(d r3.Vec) float64 {
	switch x := b.gone(d); {
	case x > b.Forward:
		return x - b.Forward
	case x < -b.Backward:
		return x + b.Backward
	}
	return 0
}

// push is what it does to the body, N.
func (b *buffer) push(d r3.Vec) r3.Vec { return r3.Scale(-b.Rate*b.pressed(d), b.axis) }

// met is the stop as a spring where it is met along its axis (1) or against it (−1).
func (b *buffer) met(way int8) tie {
	zero := b.from + b.Forward
	if way < 0 {
		zero = b.from - b.Backward
	}
	return tie{arm: b.arm, rate: b.Rate, zero: zero, axis: b.axis}
}

// Hold is the body with links and stops beside its pads. Those that carry nothing at rest
// are fitted where it rests with its weight on pads and on what is fitted as built. It
// fails where one of them is not usable, and where the body does not come to rest before
// they are fitted.
func (s *Hung) Hold(links []Link, stops []Stop) (*Hung, error) {
	for i := range links {
		if err := links[i].check(); err != nil {
			return nil, err
		}
	}
	for i := range stops {
		if err := stops[i].check(len(s.pads)); err != nil {
			return nil, err
		}
	}
	out := *s
	out.links, out.stops = links, stops
	out.ties, out.buffers, out.linkOf, out.stopOf, out.rested = nil, nil, nil, nil, unmoved()
	before := out
	before.add(true, unmoved())
	before.ready()
	rest, _, _, err := before.balance(Resting())
	if err != nil {
		return nil, err
	}
	out.add(true, unmoved())
	out.add(false, rest)
	out.rested = rest
	out.ready()
	return &out, nil
}

// add fits those that are fitted as built, or those that are at rest, where the body is
// at p then.
func (s *Hung) add(built bool, p position) {
	for i := range s.links {
		if l := &s.links[i]; l.Built == built {
			t := tie{arm: r3.Sub(l.On, s.body.Centre), rate: l.Rate, link: true, far: r3.Sub(l.To, l.On)}
			t.zero = r3.Norm(r3.Sub(p.moved(t.arm), t.far))
			s.ties = append(s.ties[:len(s.ties):len(s.ties)], t)
			s.linkOf = append(s.linkOf[:len(s.linkOf):len(s.linkOf)], i)
		}
	}
	for i := range s.stops {
		if q := &s.stops[i]; q.Built == built {
			b := buffer{Stop: *q, arm: r3.Sub(q.At, s.body.Centre), axis: r3.Unit(q.Axis)}
			b.from = r3.Dot(p.moved(b.arm), b.axis)
			s.buffers = append(s.buffers[:len(s.buffers):len(s.buffers)], b)
			s.stopOf = append(s.stopOf[:len(s.stopOf):len(s.stopOf)], i)
		}
	}
}

// Tied is what a link does where the powertrain has come to rest.
type Tied struct {
	Name   string
	Pull   float64 // along it, N: pulled positive, pushed negative
	Longer float64 // than where it carries nothing, mm
	Force  r3.Vec  // on the powertrain, N, vehicle axes
}

// Stopped is what a stop does where the powertrain has come to rest.
type Stopped struct {
	Name    string
	Pressed float64 // in, mm: along its axis positive, against it negative, 0 where it is not met
	Force   r3.Vec  // on the powertrain, N, vehicle axes
	// Forward and Backward are the free play that is left, mm; +Inf on a side without one.
	Forward, Backward float64
}

// beside is what links and stops do at p, in the order in which they were given.
func (s *Hung) beside(p position) (links []Tied, stops []Stopped) {
	links, stops = make([]Tied, len(s.links)), make([]Stopped, len(s.stops))
	for i := range s.ties {
		t := &s.ties[i]
		by, along := t.longer(p.moved(t.arm))
		links[s.linkOf[i]] = Tied{s.links[s.linkOf[i]].Name, t.rate * by, by, r3.Scale(-t.rate*by, along)}
	}
	for i := range s.buffers {
		b := &s.buffers[i]
		d := p.moved(b.arm)
		x := b.gone(d)
		stops[s.stopOf[i]] = Stopped{b.Name, b.pressed(d), b.push(d), max(0, b.Forward-x), max(0, b.Backward+x)}
	}
	return links, stops
}

// Beside fills in what each pad does as Forces does, nil for none, and returns what links
// and stops do there. It fails as Settle does.
func (s *Hung) Beside(load Load, pads []r3.Vec) ([]Tied, []Stopped, error) {
	if err := load.check(); err != nil {
		return nil, nil, err
	}
	p, _, _, err := s.balance(load)
	if err != nil {
		return nil, nil, err
	}
	for i := range pads {
		pads[i] = s.padForce(i, p)
	}
	if len(s.links)+len(s.stops) == 0 {
		return nil, nil, nil
	}
	links, stops := s.beside(p)
	return links, stops, nil
}

// padForce is the force of pad i on the body at p, with the stops that are a part of it.
func (s *Hung) padForce(i int, p position) r3.Vec {
	f := s.pull(i, p.moved(s.arms[i]))
	for k := range s.buffers {
		if b := &s.buffers[k]; b.Pad == i+1 {
			f = r3.Add(f, b.push(p.moved(b.arm)))
		}
	}
	return f
}
