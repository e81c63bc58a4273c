package travel

import (
	"errors"
	"fmt"
	"reflect"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/shaft"
	suspension "fitup/internal/geom/travel"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// End is where a line ends at ride height: the centre of the joint at the
// pinion, vehicle axes, mm, and the pinion's axis, whichever way it points.
type End struct{ At, Axis r3.Vec }

// EndOf is the end of a planned chain; a chain without joints has none.
func EndOf(c shaft.Chain) finding.Maybe[End] {
	if len(c.Joints) < 2 {
		return finding.Maybe[End]{}
	}
	return finding.Maybe[End]{V: End{c.Joints[len(c.Joints)-1].At, c.Out}, Known: true}
}

// Prepared is the travel of one line as far as it is the same wherever the
// powertrain stands: where its axle gets to, and what its half shafts are held
// against. It is not written after it is made.
type Prepared struct {
	build  *project.Build
	line   project.Line
	hung   bool
	from   *axleInput // of the axle's motion; nil where it is not moved
	model  axleModel
	err    error // why the axle is not moved
	sweeps []sweep
	limits limits
	straps straps
	shafts []halfShaft
	fixed  shaftsMoved // of a differential on the chassis, which stands still
}

type shaftsMoved struct {
	shafts   []HalfShaft
	findings []finding.Finding
}

// sweep is the axle taken through its travel under one kind of torque.
type sweep struct {
	Case
	droop, bump float64 // through which it was taken, mm
	binds       []Bind
	err         error
}

// Prepare makes a line of the build ready to be followed. Without an end its
// axle cannot be moved. rates are the estimated ones of the mounts that half
// shafts may hang on. The motion of the axle before, which may be nil, serves where it
// follows from the same.
func Prepare(b *project.Build, l project.Line, end finding.Maybe[End], rates finding.Estimate, before *Prepared) *Prepared {
	p := &Prepared{build: b, line: l, hung: b.Hung(l)}
	if p.none() {
		return p
	}
	p.shafts = halfShaftsOf(l, p.hung, rates)
	if l.Suspension.Kind == project.FixedDiff {
		if !p.hung {
			p.fixed = p.halfShafts(nil)
		}
		return p
	}
	p.limits = limitsOf(b, l)
	p.straps = strapsOf(b, l)
	if !end.Known {
		return p
	}
	p.from = &axleInput{l.Name, l.Suspension, end.V}
	if p.model, p.err = modelOf(p.from); p.err != nil {
		return p
	}
	if p.err = p.straps.hold(&p.model); p.err != nil {
		return p
	}
	p.limits.reach.rule.Value = p.model.bump + p.model.droop
	was := p.sweptBefore(before)
	for _, c := range p.model.cases {
		if i := slices.IndexFunc(was, func(s sweep) bool { return s.Under == c.under && s.droop == c.droop && s.bump == p.model.bump }); i >= 0 {
			p.sweeps = append(p.sweeps, was[i])
		} else {
			p.sweeps = append(p.sweeps, c.sweep(p.model.bump))
		}
	}
	return p
}

// sweptBefore are the sweeps of a line prepared before that follow from the same axle: how
// it moves under each kind of torque is then the same, and what is left to compare is how
// far down and up it is taken.
func (p *Prepared) sweptBefore(before *Prepared) []sweep {
	if before == nil || before.from == nil || !reflect.DeepEqual(before.from, p.from) {
		return nil
	}
	return before.sweeps
}

// none reports whether the file says nothing of the line's suspension.
func (p *Prepared) none() bool { return reflect.ValueOf(p.line.Suspension).IsZero() }

// sweep takes the axle down as far as it goes and up by bump, mm.
func (c *axleCase) sweep(bump float64) sweep {
	steps := travelSteps
	if c.under != "" {
		steps = torqueSteps
	}
	out := sweep{Case: Case{Under: c.under, Suspension: c.suspension}, droop: c.droop, bump: bump}
	var err error
	out.Points, err = suspension.Sweep(c.suspension, c.droop, bump, steps)
	out.binds, out.err = bindsOf(err, c.under)
	return out
}

// Place is a line with the powertrain at one place.
type Place struct {
	// Chain is the planned line at ride height: its last joint and its driven
	// axis go with the axle. One without joints stands for a line that is not
	// planned.
	Chain   shaft.Chain
	PlanWhy string // why it is not planned
}

// Result is the travel of one line and what it is held against. It is not to be
// written: several may share what is the same for all places of the powertrain.
type Result struct {
	Travel   *Travel // nil without a suspension
	Findings []finding.Finding
}

// At moves the axle of the line between bump and droop and judges what that
// does to its joints, its slip joint and its half shafts. Half shafts that hang
// on the powertrain are left to Hung.
func (p *Prepared) At(at Place) Result {
	if p.none() {
		return Result{}
	}
	l := p.line
	t := &Travel{Kind: string(l.Suspension.Kind)}
	out := Result{Travel: t}
	fixed := l.Suspension.Kind == project.FixedDiff
	switch {
	case fixed && len(l.Suspension.HalfShaft) == 0:
		t.Why = "the differential is fixed, and no half shaft is in the file"
	case fixed:
		t.Why = "the differential is fixed, so the line does not move"
	case len(at.Chain.Joints) < 2:
		t.Why = at.PlanWhy
		if t.Why == "" {
			t.Why = "the line is not planned yet"
		}
	default:
		if err := p.move(t, at.Chain); err != nil {
			*t = Travel{Kind: t.Kind, Why: err.Error()}
		}
	}
	switch {
	case p.hung:
	case fixed:
		t.HalfShafts, out.Findings = p.fixed.shafts, p.fixed.findings
	default:
		out.Findings = p.axleFindings(t)
	}
	return out
}

// move fills in everything that follows from moving a live axle.
func (p *Prepared) move(t *Travel, chain shaft.Chain) error {
	if p.err != nil {
		return p.err
	}
	f, err := newFollower(chain, p.model.bump, p.model.droop)
	if err != nil {
		return err
	}
	for i := range p.sweeps {
		s := &p.sweeps[i]
		switch {
		case s.err != nil:
			return s.err
		case len(s.Points) == 0:
			return errors.New(s.binds[0].Why)
		}
		if err := f.follow(t, s.Points, s.Under); err != nil {
			return err
		}
		f.reach.add(s.Points, s.binds)
		t.Cases = append(t.Cases, s.Case)
	}
	t.Caution, t.Worst, t.Reach, t.Slip = p.model.caution, f.worst, &f.reach, &f.slip
	t.Strain = f.strain
	f.slip.room(p.limits.slip)
	p.straps.longest(t, f, &p.limits)
	return nil
}

// Stands are all places where the powertrain can be found, as built first.
type Stands struct {
	Built   finding.Maybe[geom.Pose] // the powertrain as built
	All     []seat.Stand
	Assumes []string // what is not in them
}

// Hung moves the half shafts that hang on the powertrain, and returns the
// travel t of their line with them.
func (p *Prepared) Hung(t Travel, where Stands) Result {
	out := Result{Travel: &t}
	if len(p.line.Suspension.HalfShaft) == 0 {
		out.Findings = []finding.Finding{noHalfShaft(p.line)}
		return out
	}
	moved := p.halfShafts(&where)
	t.HalfShafts, out.Findings = moved.shafts, moved.findings
	return out
}

// AtDroop returns where the end of a line with a live axle stands at full
// droop, from where it is at ride height; the pinion's axis to the rear.
func AtDroop(l project.Line, end End) (End, error) {
	for i := range l.Suspension.Strap {
		if l.Suspension.Strap[i].Length.Known() {
			return End{}, fmt.Errorf("line.%s has straps, and whether the axle hung on them is not known", l.Name)
		}
	}
	m, err := modelOf(&axleInput{l.Name, l.Suspension, end})
	if err != nil {
		return End{}, err
	}
	p, err := m.cases[0].suspension.At(-m.droop)
	if err != nil {
		return End{}, err
	}
	return End{p.PinionAt, p.PinionAxis}, nil
}
