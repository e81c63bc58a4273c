package travel

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Strap ends the droop of an axle: a limiting strap, or a damper drawn out to its end,
// between a point of the chassis and a point of the axle where it stands at ride height;
// vehicle axes, mm. It holds nothing until it is taut.
type Strap struct {
	Name          string // in errors
	Chassis, Axle r3.Vec
	Length        float64 // between the two points when it is taut, mm
}

// Span is how far the strap's ends are apart with the axle at p, mm.
func (s Strap) Span(p Point) float64 { return r3.Norm(r3.Sub(p.Motion.Point(s.Axle), s.Chassis)) }

// strapStep is how far apart the rises are at which a span is looked at, mm: an axle does
// not come and go within it.
const strapStep = 1

// Descent is an axle on its way down from ride height.
type Descent struct {
	of     Suspension
	Points []Point // from ride height on down, at steps of 1 mm at most
	// Binds says that the suspension binds below the last of them.
	Binds bool
}

// DescentOf takes an axle down from ride height, by droop mm or until it binds.
func DescentOf(s Suspension, droop float64) (*Descent, error) {
	if s == nil {
		return nil, fmt.Errorf("no suspension was given to move")
	}
	if !geom.Finite(droop) || droop < 0 {
		return nil, fmt.Errorf("a droop of %g mm: give it as a distance down from ride height, zero or more", droop)
	}
	d := &Descent{of: s}
	at := s.At
	if tr, ok := s.(tracker); ok {
		at = tr.track().to
	}
	n := max(1, int(math.Ceil(droop/strapStep)))
	for i := range n + 1 {
		rise := -droop * float64(i) / float64(n)
		if i == 0 {
			rise = 0
		}
		p, err := at(rise)
		if err != nil {
			if d.Binds = i > 0; d.Binds {
				return d, nil
			}
			return nil, err
		}
		d.Points = append(d.Points, p)
	}
	return d, nil
}

// Droop is how far down it gets, mm from ride height.
func (d *Descent) Droop() float64 { return -d.Points[len(d.Points)-1].Rise }

// Taut returns where on the way down the strap first comes taut; false where it does not.
// The error says that it is shorter than its ends are apart at ride height.
func (d *Descent) Taut(s Strap) (Point, bool, error) {
	if span := s.Span(d.Points[0]); s.Length < span {
		return Point{}, false, fmt.Errorf("%s is %.1f mm long and its ends are %.1f mm apart at ride height", s.Name, s.Length, span)
	}
	p, k := d.First(func(p Point) float64 { return s.Length - s.Span(p) })
	return p, k >= 0, nil
}

// First returns the first place on the way down at which room, which is not below 0 at
// ride height, is used up: the last at which some is left, to a thousandth of a mm, and the number
// of the point before it; -1 where there is none. Rooms that are used up and come again
// within a step are passed over.
func (d *Descent) First(room func(Point) float64) (Point, int) {
	if room(d.Points[0]) < 0 {
		return d.Points[0], 0
	}
	for k := 1; k < len(d.Points); k++ {
		if room(d.Points[k]) < 0 {
			return d.between(room, k-1), k - 1
		}
	}
	return Point{}, -1
}

// between is the last place with room between point k and the next: beside where the room
// would be used up along a straight line, and by halving where it is not.
func (d *Descent) between(room func(Point) float64, k int) Point {
	const close = 1e-3
	up, down := d.Points[k], d.Points[k+1].Rise
	try := func(rise float64) {
		if p, err := d.of.At(rise); err != nil || room(p) < 0 {
			down = rise
		} else {
			up = p
		}
	}
	if a, b := room(up), room(d.Points[k+1]); a > b {
		guess := up.Rise + (down-up.Rise)*a/(a-b)
		for _, beside := range [2]float64{close / 2, -close / 2} {
			if rise := guess + beside; rise < up.Rise && rise > down {
				try(rise)
			}
		}
	}
	for up.Rise-down > 1.001*close {
		try((up.Rise + down) / 2)
	}
	return up
}

// Longest returns the most that the strap's ends are apart from ride height down to an end,
// which lies behind point k: a strap of that length, and no longer one, is taut by then.
func (d *Descent) Longest(s Strap, end Point, k int) float64 {
	most := s.Span(end)
	for i := 0; i <= k; i++ {
		most = max(most, s.Span(d.Points[i]))
	}
	return most
}
