package shaft

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bend is what a joint is asked to do.
type Bend struct {
	Kind  Kind
	Angle geom.Angle // between the two axes that meet here
	// First and Second are the angles of the two crosses of a DoubleCardan; 0
	// for other kinds.
	First, Second geom.Angle
}

// Shaft is how one shaft of a chain runs.
type Shaft struct {
	Axis r3.Vec // unit, towards the driven end, vehicle axes
	// Drive is the ripple while the driving shaft turns steadily; on the last
	// shaft it is the residual ripple of the line, on the others it is what the
	// inertia of that shaft feels under drive.
	Drive Ripple
	// Coast is the ripple while the driven shaft turns steadily.
	Coast Ripple
	// SmallAngle is the equivalent joint angle of Drive by the small-angle rule
	// β² = |Σ (-1)^(i-1)·βi²·exp 2i(Pi-Gi)|, Pi the yoke offsets and Gi the turns
	// of the joint planes ahead of joint i. Derived; SAE AE-7, Universal Joint
	// and Driveshaft Design Manual, has the coplanar form (from memory). Drive
	// is exact, this is shown beside it.
	SmallAngle geom.Angle
	// DriveVector and CoastVector are Drive and Coast with their place in the
	// turn: as large as k = tan²(β/2), turning as the place of the highest speed
	// does, twice as fast. Where the joints cancel, k has a kink at zero and its
	// vector has none, so how a line answers to a small change is taken from it.
	// That of Drive is in the frame of Chain.Arm, that of Coast in the shaft's own.
	DriveVector, CoastVector complex128
}

// Mechanism is a chain that has been checked and solved: the light path, with
// joint angles and exact extremes from closed forms. It keeps its buffers: Set
// may be called again and again without allocating. It is not safe for use
// from several goroutines at once.
type Mechanism struct {
	arm     r3.Vec
	axes    []r3.Vec
	crosses []cross
	joints  []Bend
	shafts  []Shaft
}

// cross is one step of the chain, from axis u to axis v.
type cross struct {
	u, v  r3.Vec
	n     r3.Vec // v×u
	cos   float64
	sin2  float64
	even  bool // constant velocity: the arm is carried over, not crossed
	last  bool // the step ends its joint: v is the next shaft
	shaft int  // number of that shaft
	yoke  geom.Angle
	turn  complex128 // exp(i·yoke)
	pair  pair
}

// NewMechanism checks and solves a chain. Errors about one joint are
// JointErrors.
func NewMechanism(c Chain) (*Mechanism, error) {
	m := new(Mechanism)
	if err := m.Set(c); err != nil {
		return nil, err
	}
	return m, nil
}

// Set checks and solves another chain in the same memory. After an error the
// mechanism has no joints and no shafts.
func (m *Mechanism) Set(c Chain) error {
	err := m.set(c)
	if err != nil {
		m.crosses, m.joints, m.shafts = m.crosses[:0], m.joints[:0], m.shafts[:0]
	}
	return err
}

func (m *Mechanism) set(c Chain) error {
	m.crosses, m.joints, m.shafts = m.crosses[:0], m.joints[:0], m.shafts[:0]
	if err := c.check(); err != nil {
		return err
	}
	n := len(c.Joints)
	m.axes, m.joints = slices.Grow(m.axes[:0], n+1), slices.Grow(m.joints, n)
	m.crosses, m.shafts = slices.Grow(m.crosses, 2*n), slices.Grow(m.shafts, n+1) // a double joint has two crosses
	axes, at, err := appendAxes(m.axes[:0], c.In, c.Out, len(c.Joints),
		func(i int) r3.Vec { return c.Joints[i].At })
	m.axes = axes
	if err != nil {
		return atJoint(at, err)
	}
	if m.arm, err = c.arm(axes[0]); err != nil {
		return err
	}
	for i, j := range c.Joints {
		b, err := bend(j, geom.Between(axes[i], axes[i+1]))
		if err != nil {
			return &JointError{i + 1, err}
		}
		m.joints = append(m.joints, b)
		yoke := InPhase
		if i < len(c.Yokes) {
			yoke = c.Yokes[i]
		}
		m.add(b, axes[i], axes[i+1], yoke)
	}
	return m.run()
}

// bend shares the angle of a joint among its crosses.
func bend(j Joint, angle geom.Angle) (Bend, error) {
	b := Bend{Kind: j.Kind, Angle: angle}
	if angle >= 90*geom.Deg {
		return b, ErrSquare
	}
	if j.Kind == DoubleCardan {
		if !(j.Uneven.Abs() <= angle) { // also refuses what is not a number
			return b, ErrUneven
		}
		b.First, b.Second = (angle+j.Uneven)/2, (angle-j.Uneven)/2
	}
	return b, nil
}

// add appends the crosses of one joint between axes u and v.
func (m *Mechanism) add(b Bend, u, v r3.Vec, yoke geom.Angle) {
	if b.Kind == DoubleCardan {
		mid := between(u, v, b)
		m.crosses = append(m.crosses, step(u, mid))
		u = mid
	}
	x := step(u, v)
	x.even = b.Kind == ConstantVelocity
	x.last, x.shaft, x.yoke = true, len(m.joints), yoke
	if yoke != 0 {
		x.turn = cmplx.Rect(1, yoke.Rad())
	}
	m.crosses = append(m.crosses, x)
}

// between returns the axis of a double joint's coupling, in the plane of u
// and v.
func between(u, v r3.Vec, b Bend) r3.Vec {
	sin := math.Sin(b.Angle.Rad())
	if sin < 1e-12 {
		return u
	}
	return unit(r3.Add(r3.Scale(math.Sin(b.Second.Rad())/sin, u), r3.Scale(math.Sin(b.First.Rad())/sin, v)))
}

func step(u, v r3.Vec) cross {
	n := r3.Cross(v, u)
	s2 := r3.Norm2(n)
	// The cosine keeps its digits near 90° in the dot product and near 0 in the
	// sine; a straight joint gives exactly 1.
	cos := r3.Dot(u, v)
	if s2 < 0.5 {
		cos = math.Sqrt(1 - s2)
	}
	return cross{u: u, v: v, n: n, cos: cos, sin2: s2, turn: 1}
}

// run multiplies the maps of the crosses from the driving end (Drive, small
// angle) and from the driven end (Coast).
func (m *Mechanism) run() error {
	m.shafts = append(m.shafts, Shaft{Axis: m.crosses[0].u})
	f := m.arm
	total, phase, small := pair{a: 1}, complex(1, 0), complex(0, 0)
	for i := range m.crosses {
		x := &m.crosses[i]
		x.pair, f = x.across(f)
		total = x.pair.after(total)
		if !x.even {
			small += x.smallTerm() * cmplx.Conj(phase*phase)
			phase *= 1i
		}
		if !x.last {
			continue
		}
		r, err := total.ripple()
		if err != nil {
			return &JointError{x.shaft, err}
		}
		m.shafts = append(m.shafts, Shaft{Axis: x.v, Drive: r, DriveVector: -total.b / total.a,
			SmallAngle: geom.Angle(2 * math.Sqrt(cmplx.Abs(small)))})
		total, phase = total.turned(x.turn), phase*x.turn
	}
	rest := pair{a: 1}
	for i := len(m.crosses) - 1; i >= 0; i-- {
		x := &m.crosses[i]
		if x.last {
			r, err := rest.ripple()
			if err != nil {
				return &JointError{x.shaft, err}
			}
			m.shafts[x.shaft].Coast, m.shafts[x.shaft].CoastVector = r, rest.b/rest.a
		}
		rest = rest.after(x.pair.turned(x.turn))
	}
	// The whole line looks the same from either end.
	m.shafts[0].Coast = m.shafts[len(m.shafts)-1].Drive
	m.shafts[0].CoastVector = m.shafts[len(m.shafts)-1].DriveVector
	return nil
}

// Joints returns the angle of each joint from the driving end. The slice is
// the mechanism's own: it changes with the next Set.
func (m *Mechanism) Joints() []Bend { return m.joints }

// Shafts returns how each shaft runs, the driving shaft first, the driven one
// last: one more than joints. The slice is the mechanism's own: it changes
// with the next Set.
func (m *Mechanism) Shafts() []Shaft { return m.shafts }

// TurnTo returns the smallest turn that brings a yoke that stands at present to
// where it stands at wanted, in (-90°, 90°]: half a turn changes nothing.
func TurnTo(wanted, present geom.Angle) geom.Angle { return halfTurn(wanted - present) }

// halfTurn brings an angle that counts by half turns into (-90°, 90°].
func halfTurn(a geom.Angle) geom.Angle {
	return a - geom.Angle(math.Pi*math.Ceil(a.Rad()/math.Pi-0.5))
}

// BestYoke returns the yoke offset of an intermediate shaft (1 is behind the
// first joint) that leaves the least residual ripple, with the other offsets
// as they are, and that ripple. The offset is in (-90°, 90°]; where the offset
// makes no difference, the present one is returned. Closed form: the part of
// the ripple made ahead of the shaft and the part made behind it are turned
// against each other.
func (m *Mechanism) BestYoke(shaft int) (geom.Angle, Ripple, error) {
	if shaft < 1 || shaft > len(m.shafts)-2 {
		return 0, Ripple{}, fmt.Errorf("shaft %d does not run between two joints, so it has no yoke offset to choose", shaft)
	}
	pre, post, present := pair{a: 1}, pair{a: 1}, InPhase
	side := &pre
	for i := range m.crosses {
		x := &m.crosses[i]
		*side = x.pair.after(*side)
		switch {
		case x.last && x.shaft == shaft:
			present, side = x.yoke, &post
		case x.last:
			*side = side.turned(x.turn)
		}
	}
	ahead, behind := post.a*pre.b, post.b*cmplx.Conj(pre.a)
	best := present
	if cmplx.Abs(ahead) > 1e-15 && cmplx.Abs(behind) > 1e-15 {
		best = halfTurn(geom.Angle((cmplx.Phase(behind) - cmplx.Phase(ahead) + math.Pi) / 2))
	}
	r, err := post.after(pre.turned(cmplx.Rect(1, best.Rad()))).ripple()
	return best, r, err
}
