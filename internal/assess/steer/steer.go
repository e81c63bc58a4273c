// Package steer judges the steering shaft: the angles of its joints, how unevenly the
// steering turns and where in the turn, which yoke marks to set, whether it is held,
// and how far it can shorten. It knows the file and the errors behind its numbers, and
// no other trade.
package steer

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// Result is what is known of the steering shaft.
type Result struct {
	Why      string // why nothing is worked out; "" when it is
	Joints   []Joint
	Shafts   []Shaft
	Bearings []Bearing
	// Ripple is how many percent faster the steering turns than the wheel where it
	// turns fastest; Least what is left of that with the yokes set as Shafts say.
	Ripple, Least finding.Number
	Gain          finding.Number // Ripple less Least
	// Where the steering turns fastest and slowest against the wheel, from straight
	// ahead, clockwise as the driver sees it; half a turn on again.
	Where    shaft.Extremes
	Ahead    float64 // how fast it turns straight ahead, for a wheel that turns at 1
	Loose    finding.Number
	Shorten  finding.Number // how far all of it can shorten
	Findings []finding.Finding

	build   *project.Build
	assumes []string
}

// Joint is one joint, from the column.
type Joint struct {
	At    r3.Vec
	Angle finding.Number // a size
	Limit project.Rule
}

// Shaft is one shaft between two joints.
type Shaft struct {
	From, To     r3.Vec
	Length       finding.Number
	Bottom, Pull finding.Number // room at either end of its slip joint
	Slips        bool           // the file has something of its slip joint
	Radius       float64        // mm; 0 where the file has no diameter
	Yoke         geom.Angle     // its lower yoke against the upper one, as it is
	YokeKnown    bool
	Set          geom.Angle // how it is to be set, as near as its spline allows
	Turn         geom.Angle // from as it is to that; from in phase where that is not known
	Teeth        int        // of its spline; 0 where no yoke can be set over
	Over         int        // by how many teeth, with the sign of Turn
}

// fixed reports whether its yokes stay as they are.
func (x *Shaft) fixed() bool { return x.YokeKnown && x.Teeth == 0 }

// Bearing is a support bearing.
type Bearing struct {
	At    r3.Vec
	Shaft int            // counted from 1
	Along float64        // where between its joints, 0 to 1
	Off   finding.Number // from its shaft's axis, a size
}

// Of works out the steering shaft of a build. beside are builds that differ from it by
// a standard uncertainty of one thing each, none where it cannot be that far off. It is
// nil where the file has none.
func Of(b *project.Build, beside []finding.Beside[*project.Build]) *Result {
	if !b.Steering.Given() {
		return nil
	}
	r := &Result{build: b}
	chain, yokes, why := chainOf(b)
	if why == "" {
		why = r.solve(chain, yokes, beside)
	}
	if r.Why = why; why != "" {
		miss := finding.Missing(why)
		r.Joints, r.Shafts, r.Bearings = nil, nil, nil
		r.Ripple, r.Least, r.Gain, r.Loose, r.Shorten = miss, miss, miss, miss, miss
	}
	r.judge()
	return r
}

// shaftKinds are the kinds of joints as the geometry has them.
var shaftKinds = map[project.JointKind]shaft.Kind{
	project.Cardan: shaft.Cardan, project.DoubleCardan: shaft.DoubleCardan, project.ConstantVelocity: shaft.ConstantVelocity,
}

// chainOf is the steering shaft as a chain from the column, its arm that of the
// column's yoke with the wheels straight ahead. Where the file does not say how a
// shaft's yokes stand they are taken in phase, and yokes says what is missing.
func chainOf(b *project.Build) (c shaft.Chain, yokes, why string) {
	s := &b.Steering
	if len(s.Joints) == 0 {
		return c, "", "steering.joint is not in the file yet: one [[steering.joint]] for each joint, from the column on"
	}
	for _, d := range []struct {
		path string
		p    project.Point
		to   *r3.Vec
	}{{"steering.column_axis", s.ColumnAxis, &c.In}, {"steering.input_axis", s.InputAxis, &c.Out}} {
		if !d.p.Known {
			return c, "", d.path + " is not in the file yet"
		}
		*d.to = d.p.At
	}
	for i, j := range s.Joints {
		p, path := s.JointAt(i)
		if !p.Known {
			return c, "", project.SpokenPath(path) + " is not in the file yet"
		}
		c.Joints = append(c.Joints, shaft.Joint{At: p.At, Kind: shaftKinds[j.OfKind()]})
		if i == 0 {
			continue
		}
		yoke, known := s.Shaft(i - 1).Yoke()
		if !known && yokes == "" {
			yokes = fmt.Sprintf("steering.shaft.%d.phase is not in the file yet", i)
		}
		c.Yokes = append(c.Yokes, yoke)
	}
	if !s.Input.Known {
		return c, "", "steering.input is not in the file yet"
	}
	if why := s.Unended(); why != "" {
		return c, "", why
	}
	c.Arm = armOf(c.In, geom.Angle(s.Straight.Or(0)))
	return c, yokes, ""
}

// armOf is upright, as far as it is square to the column, turned about the column.
func armOf(axis r3.Vec, by geom.Angle) r3.Vec {
	u := r3.Unit(axis)
	up := r3.Sub(r3.Vec{Z: 1}, r3.Scale(u.Z, u))
	if r3.Norm(up) < 1e-6 {
		up = r3.Sub(r3.Vec{Y: 1}, r3.Scale(u.Y, u))
	}
	up = r3.Unit(up)
	return r3.Add(r3.Scale(math.Cos(by.Rad()), up), r3.Scale(math.Sin(by.Rad()), r3.Cross(u, up)))
}

// solve fills in all numbers; why says what cannot be worked out at all.
func (r *Result) solve(c shaft.Chain, yokes string, beside []finding.Beside[*project.Build]) (why string) {
	m, err := shaft.NewMechanism(c)
	if err != nil {
		return "the steering shaft cannot turn: " + err.Error()
	}
	r.shafts(c)
	f := frameOf(r.build, c)
	turns, others := r.best(m, c)
	f.turns = turns
	at, err := f.figures(r.build)
	if err != nil {
		return err.Error()
	}
	all, why := opened(f, at, beside)
	if why != "" {
		return why
	}
	r.fill(f, all)
	r.ripple(m, yokes, all)
	r.gain(&saving{from: c, beside: beside, ripple: r.Ripple}, others)
	r.held(c)
	r.shortens()
	return ""
}

// beyond says that the file leaves more open than can be told.
const beyond = "within the ± of its points the steering shaft cannot be worked out"

// rounding is what two of the same figure may differ by and be the same.
const rounding = 1e-11

// opened are the figures with what each thing beside leaves open of them.
func opened(f *frame, at []float64, beside []finding.Beside[*project.Build]) ([]uncertain.Number, string) {
	by := make([][]uncertain.Weighted, len(at))
	for _, b := range beside {
		if b.V == nil {
			return nil, beyond
		}
		there, err := f.figures(b.V)
		if err != nil || len(there) != len(at) {
			return nil, beyond
		}
		for i := range at {
			if math.Abs(there[i]-at[i]) > rounding*(1+math.Abs(at[i])) {
				by[i] = append(by[i], b.Slope(at[i], there[i]))
			}
		}
	}
	out := make([]uncertain.Number, len(at))
	for i, v := range at {
		out[i] = uncertain.Smooth(v, by[i]...)
	}
	return out, ""
}

// percent is how many percent faster than the wheel the steering turns at the most,
// for a ripple of size k: 1/cos β − 1 of the one joint that runs like it.
func percent(k float64) float64 {
	k = min(max(k, 0), 0.99) // 0.99 is one joint at 89.7°
	return 100 * 2 * k / (1 - k)
}

// ripple is how unevenly it turns, as it is and with the yokes set as well as they can
// be.
func (r *Result) ripple(m *shaft.Mechanism, yokes string, all []uncertain.Number) {
	as := func(i int) finding.Number {
		return finding.Rising(finding.Size(uncertain.Norm(all[i], all[i+1])), percent)
	}
	r.Least = as(len(all) - 2)
	if yokes != "" {
		r.Ripple = finding.Missing(yokes)
		return
	}
	r.Ripple = as(0)
	last := len(m.Shafts()) - 1
	r.Where = m.Shafts()[last].Extremes()
	states := m.At(0, nil)
	r.Ahead = states[len(states)-1].Ratio
	if !r.build.Steering.Straight.Known() {
		r.assumes = append(r.assumes, "the ears of the column's yoke upright with the wheels straight ahead: steering.straight_ahead is not in the file yet")
	}
}

// held counts the motions that are left.
func (r *Result) held(c shaft.Chain) {
	slides := make([]bool, len(r.Shafts))
	for i, x := range r.Shafts {
		slides[i] = x.Slips
		if !x.Slips && len(r.Joints) > 2 {
			r.assumes = append(r.assumes, fmt.Sprintf("shaft %d does not slide: steering.shaft.%d.slip_closed is not in the file yet", i+1, i+1))
		}
	}
	var supports []shaft.Support
	for _, x := range r.Bearings {
		supports = append(supports, shaft.Support{Shaft: x.Shaft, At: x.Along})
	}
	n, err := c.Loose(slides, supports)
	r.Loose = finding.Exact(float64(n))
	if err != nil {
		r.Loose = finding.Missing(err.Error())
	}
	for i, x := range r.build.Steering.Bearings {
		if !x.At.Known {
			r.Loose = finding.Missing(fmt.Sprintf("steering.bearing.%d.at is not in the file yet", i+1))
		}
	}
}

// shortens adds up how far it can shorten.
func (r *Result) shortens() {
	sum := uncertain.Exact(0)
	some := false
	for _, x := range r.Shafts {
		if x.Bottom.Known {
			sum, some = sum.Plus(x.Bottom.Number), true
		}
	}
	switch {
	case len(r.Shafts) == 0:
		r.Shorten = finding.Missing("with one joint there is no shaft that could shorten")
	case !some:
		r.Shorten = finding.Missing("steering.shaft.1.slip_closed is not in the file yet")
	default:
		r.Shorten = finding.Of(sum)
	}
}
