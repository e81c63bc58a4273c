package assess

import (
	"errors"
	"fmt"
	"math"
	"reflect"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/geom/travel"
	"fitup/internal/project"

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
	Kind       string        // the suspension's word in the file
	Why        string        // why the axle is not moved, when it is not
	Caution    string        // what to keep in mind about the model, may be empty
	Points     []TravelPoint // in order of rise, at rest; fewer where it binds
	Worst      []JointTravel // one for each joint
	Slip       *SlipTravel   // of the last shaft; nil when the axle is not moved
	Reach      *TravelReach  // nil when the axle is not moved
	Strain     TravelExtreme // most that a link has to stretch or shorten, mm
	HalfShafts []HalfShaftTravel

	cases []movedCase // the axle's own motion, at rest first
}

// movedCase is the axle under one kind of torque, at each place it gets to.
type movedCase struct {
	axleCase
	points []travel.Point
}

// TravelPoint is the line at one rise, with no torque on the axle.
type TravelPoint struct {
	Rise        float64
	Angles      []float64 // rad, of each joint
	Length      float64   // of the last shaft between joint centres, mm
	PinionSlope float64   // rad, down to the rear positive
	Strain      float64   // mm
}

// TravelExtreme is the worst of something over the travel and where it is.
type TravelExtreme struct {
	Value float64
	Rise  float64
	Under string // "", "under drive" or "coasting"
}

// JointTravel is the largest angle (rad) of a joint over the travel.
type JointTravel struct {
	Number int
	TravelExtreme
}

// SlipTravel is the last shaft over the travel. Room is what is left of the
// slip joint, mm; negative is beyond its end.
type SlipTravel struct {
	Ride              float64
	Shortest, Longest TravelExtreme // lengths, mm
	Bottom, Pull      Number        // room at the shortest and at the longest
}

// TravelReach is how far the axle gets, distances from ride height in mm.
type TravelReach struct {
	Droop, Bump             float64
	WantedDroop, WantedBump float64
	Binds                   []TravelBind
}

// TravelBind is one way that the suspension binds.
type TravelBind struct {
	Rise  float64
	Under string
	Why   string
}

// travel moves the axle of a line between bump and droop and judges what that
// does to its joints, its slip joint and its half shafts. The chain is the
// planned line at ride height: its last joint and its driven axis go with the
// axle. A chain without joints stands for a line that is not planned yet. A
// line without a suspension has no travel.
func (a *Assessment) travel(l project.Line, chain shaft.Chain, out *Line) {
	if reflect.ValueOf(l.Suspension).IsZero() {
		return
	}
	t := &Travel{Kind: string(l.Suspension.Kind)}
	out.Travel = t
	fixed := l.Suspension.Kind == project.FixedDiff
	switch {
	case fixed && len(l.Suspension.HalfShaft) == 0:
		t.Why = "the differential is fixed, and no half shaft is in the file"
	case fixed:
		t.Why = "the differential is fixed, so the line does not move"
	case len(chain.Joints) < 2:
		t.Why = out.PlanWhy
		if t.Why == "" {
			t.Why = "the line is not planned yet"
		}
	default:
		if err := t.move(l, chain); err != nil {
			*t = Travel{Kind: t.Kind, Why: err.Error()}
		}
	}
	switch {
	case a.Build.Hung(l):
		return // its half shafts follow the powertrain: hungShafts, once that is settled
	case fixed:
		a.halfShafts(l, t)
		return
	}
	a.travelFindings(l, len(out.Joints), t)
}

// move fills in everything that follows from moving a live axle.
func (t *Travel) move(l project.Line, chain shaft.Chain) error {
	m, err := modelOf(l, chain)
	if err != nil {
		return err
	}
	f, err := newFollower(chain, m.bump, m.droop)
	if err != nil {
		return err
	}
	for _, c := range m.cases {
		steps := travelSteps
		if c.under != "" {
			steps = torqueSteps
		}
		points, err := travel.Sweep(c.suspension, m.droop, m.bump, steps)
		binds, err := bindsOf(err, c.under)
		if err != nil {
			return err
		}
		if len(points) == 0 {
			return errors.New(binds[0].Why)
		}
		if err := f.follow(t, points, c.under); err != nil {
			return err
		}
		f.reach.add(points, binds)
		t.cases = append(t.cases, movedCase{c, points})
	}
	t.Caution, t.Worst, t.Reach, t.Slip = m.caution, f.worst, &f.reach, &f.slip
	t.Strain = f.strain
	f.slip.room(l)
	return nil
}

// bindsOf takes the ways a sweep binds out of its error; another error is
// returned as it is.
func bindsOf(err error, under string) ([]TravelBind, error) {
	if err == nil {
		return nil, nil
	}
	parts := []error{err}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		parts = joined.Unwrap()
	}
	var out []TravelBind
	for _, p := range parts {
		var bind *travel.BindError
		if !errors.As(p, &bind) {
			return nil, p
		}
		out = append(out, TravelBind{Rise: bind.Rise, Under: under, Why: bind.Why})
	}
	return out, nil
}

// follower carries a chain along with the points of a sweep.
type follower struct {
	axes   []r3.Vec // of the chain; the last two move
	from   r3.Vec   // joint ahead of the last shaft
	away   float64  // -1 where the line runs forward, so against the pinion axis
	angles []float64
	worst  []JointTravel
	slip   SlipTravel
	reach  TravelReach
	strain TravelExtreme
}

func newFollower(c shaft.Chain, bump, droop float64) (*follower, error) {
	axes, err := c.Line().Axes()
	if err != nil {
		return nil, err
	}
	n := len(c.Joints)
	f := &follower{axes: axes, from: c.Joints[n-2].At, away: 1, angles: make([]float64, n), worst: make([]JointTravel, n)}
	if axes[n].X < 0 {
		f.away = -1
	}
	for i := range n {
		f.angles[i] = geom.Between(axes[i], axes[i+1]).Rad()
		f.worst[i].Number = i + 1
	}
	f.slip.Ride = r3.Norm(r3.Sub(c.Joints[n-1].At, f.from))
	f.slip.Shortest = TravelExtreme{Value: f.slip.Ride}
	f.slip.Longest = f.slip.Shortest
	f.reach = TravelReach{Droop: droop, Bump: bump, WantedDroop: droop, WantedBump: bump}
	return f, nil
}

// follow takes the line through a sweep. The points at rest are kept.
func (f *follower) follow(t *Travel, points []travel.Point, under string) error {
	n := len(f.angles)
	var slab []float64
	if under == "" {
		t.Points = make([]TravelPoint, len(points))
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
			f.worst[j].most(TravelExtreme{angle, p.Rise, under})
		}
		length := TravelExtreme{r3.Norm(shaft), p.Rise, under}
		f.slip.Longest.most(length)
		if length.Value < f.slip.Shortest.Value {
			f.slip.Shortest = length
		}
		f.strain.most(TravelExtreme{p.Strain, p.Rise, under})
		if under == "" {
			angles := slab[i*n : (i+1)*n : (i+1)*n]
			copy(angles, f.angles)
			t.Points[i] = TravelPoint{Rise: p.Rise, Angles: angles, Length: length.Value,
				PinionSlope: geom.Slope(p.PinionAxis).Rad(), Strain: p.Strain}
		}
	}
	return nil
}

// most keeps the larger of two. Of two alike the first stays, so that what is
// worst at rest already is not put down to torque.
func (e *TravelExtreme) most(x TravelExtreme) {
	if x.Value > e.Value {
		*e = x
	}
}

// add takes the ways one sweep binds into account.
func (r *TravelReach) add(points []travel.Point, binds []TravelBind) {
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

// room compares the lengths with those of the slip joint.
func (s *SlipTravel) room(l project.Line) {
	n := l.JointCount() - 1
	file := l.Shaft(n - 1)
	name := fmt.Sprintf("line.%s.shaft[%d].", l.Name, n-1)
	s.Bottom, s.Pull = finding.Missing(name+"slip_closed is not in the file yet"), finding.Missing(name+"slip_open is not in the file yet")
	if v, ok := file.SlipClosed.Get(); ok {
		s.Bottom = finding.Known(s.Shortest.Value-v, 0)
	}
	if v, ok := file.SlipOpen.Get(); ok {
		s.Pull = finding.Known(v-s.Longest.Value, 0)
	}
}
