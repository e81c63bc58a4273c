package travel

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Link is a rigid link between a point of the chassis and a point of the axle,
// free to turn at both ends; vehicle axes at ride height, mm.
type Link struct {
	Name          string // as in "upper left link"
	Chassis, Axle r3.Vec
}

// Links describes an axle on links.
//
// A live axle has six freedoms and should keep two, rise and roll, so four
// links hold it: four of them with one pair triangulated, or three and a
// lateral link. Rise is prescribed and so is Roll; four lengths then fix the
// remaining four freedoms exactly.
//
// Four links and a lateral link make five lengths for those four freedoms, one
// too many. Two exact ways out are offered:
//
//   - With Roll prescribed (the usual case: the springs keep the axle level),
//     the lengths are met as nearly as they can be, by least squares. Links
//     that lie fore and aft in plan agree exactly at no roll, because a
//     sideways shift then takes up the same length on both sides. Where they do
//     not agree, the misfit is the strain its bushes would have to take; more
//     than Give mm of it counts as binding.
//   - With RollFollows, the fifth length fixes the roll. This is refused where
//     all links are nearly parallel in side view, since they then leave the
//     roll open.
type Links struct {
	Axle        Axle
	Links       []Link
	Roll        geom.Angle // held through the travel, right side high positive
	RollFollows bool       // five links only: roll is found, not prescribed
	Give        float64    // mm each link may stretch or shorten; 0 is rigid
}

// Linkage is an axle on links, ready to be moved. It is not changed by use.
type Linkage struct {
	axle     Axle
	links    []linkArm
	n        int // unknowns: 4, or 5 when roll follows
	radius   float64
	shortest float64
	roll     geom.Angle
	give     float64
	turned   bool    // n equations in n unknowns, so the determinant has a sign
	sense    float64 // that sign at ride height
	start    place   // at no rise, with the prescribed roll
}

// linkArm is a link with its axle end taken from the axle centre.
type linkArm struct {
	name    string
	chassis r3.Vec
	arm     r3.Vec
	length  float64
}

// NewLinkage checks the links and brings the axle to its prescribed roll. A
// roll that rigid links do not allow gives a *BindError.
func NewLinkage(d Links) (*Linkage, error) {
	axle, err := d.Axle.checked()
	if err != nil {
		return nil, err
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	l := &Linkage{axle: axle, n: 4, roll: d.Roll, give: d.Give, shortest: math.Inf(1)}
	if d.RollFollows {
		l.n = 5
	}
	l.turned = l.n == len(d.Links)
	for _, k := range d.Links {
		a := linkArm{name: k.Name, chassis: k.Chassis, arm: r3.Sub(k.Axle, axle.Centre)}
		l.radius += r3.Norm2(a.arm) / float64(len(d.Links))
		l.links = append(l.links, a)
	}
	l.radius = max(math.Sqrt(l.radius), 50)
	s := newSolver(l)
	s.stand(coords{}, 0, 0) // lengths are still zero, so what is left over is the length
	for i := range l.links {
		l.links[i].length = s.left[i]
		l.shortest = min(l.shortest, s.left[i])
	}
	if err := l.checkHeld(s); err != nil {
		return nil, err
	}
	l.sense = s.factor()
	l.start, err = s.rollTo(d.Roll)
	return l, err
}

// check refuses what is no set of links.
func (d Links) check() error {
	if n := len(d.Links); n != 4 && n != 5 {
		return fmt.Errorf("%d links are given; an axle that is free to rise and roll takes four, or four and a lateral link", n)
	}
	if d.RollFollows && len(d.Links) != 5 {
		return errors.New("four links leave the roll open: give the roll, or a fifth link that fixes it")
	}
	if d.RollFollows && d.Roll != 0 {
		return errors.New("a roll is given and is also to follow from the links; choose one")
	}
	if !geom.Finite(d.Roll.Rad()) || d.Roll.Abs() > 45*geom.Deg {
		return fmt.Errorf("a roll of %.1f° is asked for; an axle takes less than 45°", d.Roll.Degrees())
	}
	if !geom.Finite(d.Give) || d.Give < 0 || d.Give > 50 {
		return fmt.Errorf("a give of %g mm in the link bushes is asked for; from 0 to 50 mm is taken", d.Give)
	}
	for i, k := range d.Links {
		name := k.Name
		if name == "" {
			name = fmt.Sprintf("link %d", i+1)
		}
		if err := checkPoint(name+", chassis end", k.Chassis); err != nil {
			return err
		}
		if err := checkPoint(name+", axle end", k.Axle); err != nil {
			return err
		}
		if r3.Norm(r3.Sub(k.Axle, k.Chassis)) < 1 {
			return fmt.Errorf("%s: both ends at the same point", name)
		}
		for j, o := range d.Links[:i] {
			if r3.Norm(r3.Sub(k.Axle, o.Axle)) < geom.Tiny && r3.Norm(r3.Sub(k.Chassis, o.Chassis)) < geom.Tiny {
				other := o.Name
				if other == "" {
					other = fmt.Sprintf("link %d", j+1)
				}
				return fmt.Errorf("%s: it lies exactly where %s lies", name, other)
			}
		}
	}
	return nil
}

// heldWell is the least that the links together may change in length per mm of
// the freedom they hold worst. Below it, a millimetre of play lets the axle
// move by most of a metre.
const heldWell = 2e-3

// checkHeld refuses links that leave the axle free at ride height, and says
// which way it is free: the right singular vector of the smallest singular
// value of the lengths' derivative.
func (l *Linkage) checkHeld(s *solver) error {
	m := len(l.links)
	jac := mat.NewDense(m, l.n, append([]float64(nil), s.jac...))
	var svd mat.SVD
	if !svd.Factorize(jac, mat.SVDThin) {
		return errors.New("the links could not be judged at ride height; check their points")
	}
	if svd.Values(nil)[l.n-1] > heldWell {
		return nil
	}
	var v mat.Dense
	svd.VTo(&v)
	worst := 0
	for i := range l.n {
		if math.Abs(v.At(i, l.n-1)) > math.Abs(v.At(worst, l.n-1)) {
			worst = i
		}
	}
	return errors.New([...]string{
		"the links leave the axle free to move fore and aft at ride height; check their points",
		"the links leave the axle free to move sideways at ride height; add a lateral link or triangulate one pair",
		"the links leave the axle free to turn its pinion up and down at ride height; set the upper and lower links apart in height",
		"the links leave the axle free to steer at ride height; set the left and right links apart",
		"the links are too nearly parallel to fix the roll; give the roll instead of letting it follow",
	}[worst])
}

// At implements Suspension. It goes from ride height in steps, so a long way
// costs more; Sweep goes through the travel once.
func (l *Linkage) At(rise float64) (Point, error) { return l.track().to(rise) }
