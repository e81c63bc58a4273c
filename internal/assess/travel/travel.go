// Package travel takes a line between bump and droop: what the motion of its
// axle does to its joints and its slip joint, and that of its wheels to its half
// shafts.
package travel

import (
	"errors"
	"math"
	"slices"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	suspension "fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// How many positions of the axle are looked at, full droop and full bump among
// them. Under torque only the extremes are wanted; what lies between the
// positions adds a few hundredths of a millimetre to the slip joint's at most.
const (
	travelSteps = 41
	torqueSteps = 11
)

// Travel is a line between bump and droop. Rises are in mm from ride height,
// bump positive.
type Travel struct {
	Kind       string  // the suspension's word in the file
	Why        string  // why the axle is not moved, when it is not
	Caution    string  // what to keep in mind about the model, may be empty
	Points     []Point // in order of rise, at rest; fewer where it binds
	Worst      []Joint // one for each joint
	Slip       *Slip   // of the last shaft; nil when the axle is not moved
	Reach      *Reach  // nil when the axle is not moved
	Strain     Extreme // most that a link has to stretch or shorten, mm
	HalfShafts []HalfShaft
	Cases      []Case // the axle's own motion, at rest first
	Straps     []Strap
	Held       string // what ends the droop before the file's does, "" for nothing
}

// Case is the axle under one kind of torque, at each place it gets to.
type Case struct {
	Under      string // "", "under drive" or "coasting"
	Suspension suspension.Suspension
	Points     []suspension.Point
}

// Point is the line at one rise, with no torque on the axle.
type Point struct {
	Rise        float64
	Angles      []float64 // rad, of each joint
	Length      float64   // of the last shaft between joint centres, mm
	PinionSlope float64   // rad, down to the rear positive
	Strain      float64   // mm
}

// Extreme is the worst of something over the travel, and where it is.
type Extreme struct {
	Value float64 // internal unit of what it is
	Rise  float64
	Under string // "", "under drive", "coasting" or where the powertrain stands
}

// Most keeps the larger of two. Of two alike the first stays, so that what is
// worst at rest already is not put down to torque.
func (e *Extreme) Most(x Extreme) {
	if x.Value > e.Value {
		*e = x
	}
}

// Where says at which rise it is, and under which torque.
func (e Extreme) Where(u quantity.Units) string { return finding.AtRise(e.Rise, e.Under, u) }

// Joint is the largest angle (rad) of a joint over the travel.
type Joint struct {
	Number int
	Extreme
}

// Slip is the last shaft over the travel. Room is what is left of the
// slip joint, mm; negative is beyond its end.
type Slip struct {
	Ride              float64
	Shortest, Longest Extreme        // lengths, mm
	Bottom, Pull      finding.Number // room at the shortest and at the longest
}

// Reach is how far the axle gets, distances from ride height in mm.
type Reach struct {
	Droop, Bump             float64
	WantedDroop, WantedBump float64
	Binds                   []Bind
}

// Bind is one way that the suspension binds.
type Bind struct {
	Rise  float64
	Under string
	Why   string
}

// bindsOf takes the ways a sweep binds out of its error; another error is
// returned as it is.
func bindsOf(err error, under string) ([]Bind, error) {
	if err == nil {
		return nil, nil
	}
	parts := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		parts = joined.Unwrap()
	}
	var out []Bind
	for _, p := range parts {
		var bind *suspension.BindError
		if !errors.As(p, &bind) {
			return nil, p
		}
		out = append(out, Bind{Rise: bind.Rise, Under: under, Why: bind.Why})
	}
	return out, nil
}

// follower carries a chain along with the points of a sweep.
type follower struct {
	axes   []r3.Vec // of the chain; the last two move
	from   r3.Vec   // joint ahead of the last shaft
	away   float64  // -1 where the line runs forward, so against the pinion axis
	angles []float64
	ride   []float64 // those at ride height
	worst  []Joint
	slip   Slip
	reach  Reach
	strain Extreme
}

func newFollower(c shaft.Chain, bump, droop float64) (*follower, error) {
	axes, err := c.Line().Axes()
	if err != nil {
		return nil, err
	}
	n := len(c.Joints)
	f := &follower{axes: axes, from: c.Joints[n-2].At, away: 1, angles: make([]float64, n), worst: make([]Joint, n)}
	if axes[n].X < 0 {
		f.away = -1
	}
	for i := range n {
		f.angles[i] = geom.Between(axes[i], axes[i+1]).Rad()
		f.worst[i].Number = i + 1
	}
	f.ride = slices.Clone(f.angles)
	f.slip.Ride = r3.Norm(r3.Sub(c.Joints[n-1].At, f.from))
	f.slip.Shortest = Extreme{Value: f.slip.Ride}
	f.slip.Longest = f.slip.Shortest
	f.reach = Reach{Droop: droop, Bump: bump, WantedDroop: droop, WantedBump: bump}
	return f, nil
}

// follow takes the line through a sweep. The points at rest are kept.
func (f *follower) follow(t *Travel, points []suspension.Point, under string) error {
	n := len(f.angles)
	var slab []float64
	if under == "" {
		t.Points = make([]Point, len(points))
		slab = make([]float64, n*len(points))
	}
	for i, p := range points {
		shaft := r3.Sub(p.PinionAt, f.from)
		axis, err := geom.Unit(shaft)
		if err != nil {
			return errors.New("the two joints of the last shaft come together over the travel; check the points in the file")
		}
		f.axes[n-1], f.axes[n] = axis, r3.Scale(f.away, p.PinionAxis)
		for j := n - 2; j < n; j++ {
			f.angles[j] = geom.Between(f.axes[j], f.axes[j+1]).Rad()
		}
		for j, angle := range f.angles {
			f.worst[j].Most(Extreme{Value: angle, Rise: p.Rise, Under: under})
		}
		length := Extreme{Value: r3.Norm(shaft), Rise: p.Rise, Under: under}
		f.slip.Longest.Most(length)
		if length.Value < f.slip.Shortest.Value {
			f.slip.Shortest = length
		}
		f.strain.Most(Extreme{Value: p.Strain, Rise: p.Rise, Under: under})
		if under == "" {
			angles := slab[i*n : (i+1)*n : (i+1)*n]
			copy(angles, f.angles)
			t.Points[i] = Point{Rise: p.Rise, Angles: angles, Length: length.Value,
				PinionSlope: geom.Slope(p.PinionAxis).Rad(), Strain: p.Strain}
		}
	}
	return nil
}

// add takes the ways one sweep binds into account.
func (r *Reach) add(points []suspension.Point, binds []Bind) {
	r.Binds = append(r.Binds, binds...)
	for _, b := range binds {
		// Which way it binds shows in what is missing: a bind within one step of
		// ride height has a rise of next to nothing.
		if b.Rise > 0 || (b.Rise == 0 && points[len(points)-1].Rise < r.WantedBump) {
			r.Bump = min(r.Bump, b.Rise)
		}
		if b.Rise < 0 || (b.Rise == 0 && points[0].Rise > -r.WantedDroop) {
			r.Droop = min(r.Droop, math.Abs(b.Rise))
		}
	}
}

// slipEnds are the lengths of a slip joint's ends and what to say where the file
// lacks one.
type slipEnds struct {
	closed, open       quantity.LengthQ
	noClosed, noOpened string
}

// slipOf is the slip joint of the last shaft of a line.
func slipOf(l project.Line) slipEnds {
	n := l.JointCount() - 1
	s, name := l.Shaft(n-1), "line."+l.Name+".shaft."+strconv.Itoa(n)+"."
	return slipEnds{s.SlipClosed, s.SlipOpen, name + "slip_closed is not in the file yet", name + "slip_open is not in the file yet"}
}

// room compares the lengths with those of the slip joint.
func (s *Slip) room(ends slipEnds) {
	s.Bottom, s.Pull = finding.Missing(ends.noClosed), finding.Missing(ends.noOpened)
	if v, ok := ends.closed.Get(); ok {
		s.Bottom = finding.Exact(s.Shortest.Value - v)
	}
	if v, ok := ends.open.Get(); ok {
		s.Pull = finding.Exact(v - s.Longest.Value)
	}
}
