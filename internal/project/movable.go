package project

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Movable is one thing that can be given another place or angle to see what
// follows, named as a file and `fitup set` name it.
type Movable struct {
	path string
	row  RowInfo // of the placement, when line is empty
	line string
	n    int // joint or shaft, from 0
	what movableOf
}

type movableOf uint8

const (
	ofPlacement   movableOf = iota
	ofCase                  // a transfer case turned on the gearbox
	ofPinion                // its slope: a wedge, or the housing turned
	ofJointHeight           // a joint between two shafts goes where its carrier bearing goes
	ofJointOffset
	ofYokes       // rear yoke of a shaft against its front yoke
	ofOutSpacer   // between the output's flange and the shaft
	ofSpacer      // between the pinion's flange and the shaft
	ofShaftLength // of the last shaft: both ends of its slip joint
	ofStrap       // a limiting strap
)

// Path is the movable's name.
func (m Movable) Path() string { return m.path }

// Row is the row of the placement that it is, false of anything else.
func (m Movable) Row() (RowInfo, bool) { return m.row, m.what == ofPlacement }

// Case reports whether it is how far the transfer case is turned on the gearbox.
func (m Movable) Case() bool { return m.what == ofCase }

// Line is the line that it is of, "" for the powertrain.
func (m Movable) Line() string { return m.line }

// Pinion reports whether it is the slope of a line's pinion.
func (m Movable) Pinion() bool { return m.what == ofPinion }

// Bearing is the joint, from 1, whose carrier bearing it moves, and whether that goes
// aside and not up; 0 of anything else.
func (m Movable) Bearing() (joint int, aside bool) {
	if m.what == ofJointHeight || m.what == ofJointOffset {
		return m.n + 1, m.what == ofJointOffset
	}
	return 0, false
}

// Yokes is the shaft, from 1, whose rear yoke it turns; 0 of anything else.
func (m Movable) Yokes() int {
	if m.what == ofYokes {
		return m.n + 1
	}
	return 0
}

// Spacer reports whether it is a spacer at a flange, and whether at the pinion's.
func (m Movable) Spacer() (is, pinion bool) {
	return m.what == ofOutSpacer || m.what == ofSpacer, m.what == ofSpacer
}

// ShaftLength is the shaft, from 1, that it makes longer: joint to joint with its slip joint
// home, and drawn out as much; 0 of anything else.
func (m Movable) ShaftLength() int {
	if m.what == ofShaftLength {
		return m.n + 1
	}
	return 0
}

// Strap is the limiting strap, from 1, whose length it is; 0 of anything else.
func (m Movable) Strap() int {
	if m.what == ofStrap {
		return m.n + 1
	}
	return 0
}

// atLeastNothing reports whether it is a length that cannot be below 0.
func (m Movable) atLeastNothing() bool { return m.what >= ofOutSpacer }

// MovesJoints reports whether a joint of its line goes elsewhere or its pinion is turned,
// so that what was read of it then describes it no longer.
func (m Movable) MovesJoints() bool {
	switch m.what {
	case ofPinion, ofJointHeight, ofJointOffset, ofOutSpacer, ofSpacer, ofCase:
		return true
	}
	return false
}

// Kind is what it is measured in.
func (m Movable) Kind() quantity.Kind {
	switch m.what {
	case ofPlacement:
		return m.row.Kind
	case ofPinion:
		return quantity.Slope
	case ofJointOffset:
		return quantity.Offset
	case ofYokes, ofCase:
		return quantity.Angle
	}
	return quantity.Length
}

// Movables lists what can be moved in this build: the rows of the placement,
// and of each line its pinion, the bearings between its shafts and their yokes, spacers at
// its flanges, the length of the shaft with its slip joint, and limiting straps.
func (b *Build) Movables() []Movable {
	var out []Movable
	for _, r := range PlacementRows() {
		out = append(out, Movable{path: r.Name, row: r})
	}
	if b.Powertrain.Case.Turns() {
		out = append(out, Movable{path: "powertrain.transfer_case.turned", what: ofCase})
	}
	for _, l := range b.Lines {
		if b.Direct(l) {
			continue
		}
		add := func(what movableOf, n int, path string) {
			out = append(out, Movable{path: "line." + l.Name + "." + path, line: l.Name, n: n, what: what})
		}
		add(ofPinion, 0, "pinion.slope")
		joints := l.JointCount()
		for i := 1; i+1 < joints; i++ {
			at := "joint." + strconv.Itoa(i+1) + ".at."
			add(ofJointHeight, i, at+"height")
			add(ofJointOffset, i, at+"offset")
		}
		for i := range joints - 1 {
			add(ofYokes, i, "shaft."+strconv.Itoa(i+1)+".yoke_offset")
		}
		add(ofOutSpacer, 0, "output_spacer")
		add(ofSpacer, 0, "pinion.spacer")
		add(ofShaftLength, joints-2, "shaft."+strconv.Itoa(joints-1)+".slip_closed")
		for i := range l.Suspension.Strap {
			add(ofStrap, i, "suspension.strap."+strconv.Itoa(i+1)+".length")
		}
	}
	return out
}

// CaseApart says of a transfer case on mounts of its own why it is not turned, where the build
// has one; as a movable it has a name alone.
func (b *Build) CaseApart() (m Movable, why string, ok bool) {
	if c := &b.TransferCase; !c.Mass.Known() && !c.CentreOfMass.Known || b.Powertrain.Case.Turns() {
		return Movable{}, "", false
	}
	return Movable{path: "transfer_case.turned", what: ofCase},
		"it stands on mounts of its own, and its outputs, its pads and their brackets are each where the file has them: turn it by typing those anew, or where it is bolted to the gearbox give powertrain.transfer_case in place of transfer_case", true
}

// MovableNamed returns the movable of that path.
func (b *Build) MovableNamed(path string) (Movable, error) {
	all := b.Movables()
	names := make([]string, len(all))
	for i, m := range all {
		if m.path == path {
			return m, nil
		}
		names[i] = m.path
	}
	if apart, why, ok := b.CaseApart(); ok && (path == apart.path || path == "powertrain.transfer_case.turned") {
		return Movable{}, fmt.Errorf("the transfer case cannot be turned to see what follows: %s", why)
	}
	near := ""
	if n, ok := Nearest(path, names); ok {
		near = "; did you mean " + n + "?"
	}
	return Movable{}, fmt.Errorf("%s cannot be moved to see what follows%s", Printable(path), near)
}

// Move puts one movable thing to a value, in the internal unit of its kind.
type Move struct {
	Of Movable
	To float64
}

// Reads returns what a movable stands at. The error says what the file lacks.
func (b *Build) Reads(m Movable) (float64, error) {
	if m.what == ofPlacement {
		s, p, err := b.Seat()
		if err != nil {
			return 0, err
		}
		return s.Value(p, m.row.Row)
	}
	if m.what == ofCase {
		return b.Powertrain.Case.Turned.Or(0), nil
	}
	l, err := b.lineOf(m)
	if err != nil {
		return 0, err
	}
	v, known := 0.0, false
	switch m.what {
	case ofPinion:
		v, known = l.Pinion.Slope.Get()
	case ofJointHeight:
		v, known = l.Joint(m.n).At.At.Z, l.Joint(m.n).At.Known
	case ofJointOffset:
		v, known = l.Joint(m.n).At.At.Y, l.Joint(m.n).At.Known
	case ofYokes:
		if v, known = l.Shaft(m.n).YokeOffset.Get(); !known { // in phase where nothing is said
			v, known = 0, true
			if l.Shaft(m.n).Phase == Crossed {
				v = math.Pi / 2
			}
		}
	case ofOutSpacer:
		v, known = l.OutSpacer.Or(0), true // none where nothing is said
	case ofSpacer:
		v, known = l.Pinion.Spacer.Or(0), true
	case ofShaftLength:
		if v, known = l.Shaft(m.n).SlipClosed.Get(); known && !l.Shaft(m.n).SlipOpen.Known() {
			return 0, fmt.Errorf("line.%s.shaft.%d.slip_open is not in the file yet", l.Name, m.n+1)
		}
	case ofStrap:
		v, known = l.Suspension.Strap[m.n].Length.Get()
	}
	switch {
	case !known && m.what == ofStrap:
		return 0, fmt.Errorf("%s is not in the file yet: type one to begin from, such as the longest that the travel of the line says holds its joints, and it can be moved from there", m.path)
	case !known:
		return 0, fmt.Errorf("%s is not in the file yet", m.path)
	}
	return v, nil
}

func (b *Build) lineOf(m Movable) (*Line, error) {
	i := slices.IndexFunc(b.Lines, func(l Line) bool { return l.Name == m.line })
	if i < 0 {
		return nil, fmt.Errorf("there is no line %s", Printable(m.line))
	}
	return &b.Lines[i], nil
}

// With returns the build as it is after moves, made one after the other, and
// shares with it what is not moved. Readings of what hangs on the powertrain
// keep the place they were taken at. What is moved goes by steps from where it stands, so
// a ± typed of that stays, and so does what a survey or a measured point leaves open of
// it: a shim under a mount makes nobody surer of how high it is. A reading of a pinion
// that is turned, or of a shaft whose end is moved, describes it no longer and is not in
// the new build, so that nothing rests on it.
func (b *Build) With(moves ...Move) (*Build, error) {
	out := b
	own := func() *Build {
		if out == b {
			c := *b
			out = &c
		}
		return out
	}
	for _, m := range moves {
		if m.Of.what != ofPlacement {
			out = own()
			out.Lines = slices.Clone(out.Lines)
			if m.Of.what == ofCase {
				if err := out.moveCase(m); err != nil {
					return nil, err
				}
				continue
			}
			if err := out.moveLine(m); err != nil {
				return nil, err
			}
			continue
		}
		s, p, err := out.Seat()
		if err != nil {
			return nil, err
		}
		if p, err = s.Solve(p, m.Of.row.Row, m.To); err != nil {
			return nil, fmt.Errorf("%s: %w", m.Of.path, err)
		}
		half := out.Placement
		out = out.Placed(p)
		out.Placement.assureAs(&half)
	}
	return own(), nil
}

// assured makes v the value of q, as sure as the one before.
func assured(q quantity.Settable, v float64) {
	if half, has := q.HalfWidth(); has {
		q.SetStated(quantity.Stated{V: v, Half: half})
		return
	}
	q.SetV(v)
}

// assureAs makes the rows as sure as those of another placement.
func (p *Placement) assureAs(q *Placement) {
	was := []quantity.Gettable{&q.LeftFront, &q.RightFront, &q.Rear, &q.Setback, &q.Offset, &q.Heading}
	for i, to := range []quantity.Settable{&p.LeftFront, &p.RightFront, &p.Rear, &p.Setback, &p.Offset, &p.Heading} {
		if half, has := was[i].HalfWidth(); has {
			v, _ := to.Get()
			to.SetStated(quantity.Stated{V: v, Half: half})
		}
	}
}

// withoutReadings takes out the readings of those targets.
func (b *Build) withoutReadings(of ...string) {
	keep := make([]Reading, 0, len(b.Readings))
	for _, r := range b.Readings {
		if !slices.Contains(of, r.Of) {
			keep = append(keep, r)
		}
	}
	b.Readings = keep
}

// moveLine writes into a line that is this build's own.
func (b *Build) moveLine(m Move) error {
	l, err := b.lineOf(m.Of)
	if err != nil {
		return err
	}
	switch m.Of.what {
	case ofPinion:
		assured(&l.Pinion.Slope, m.To)
		b.withoutReadings(l.PinionTarget())
	case ofJointHeight, ofJointOffset:
		if m.Of.n >= len(l.Joints) || !l.Joints[m.Of.n].At.Known {
			return fmt.Errorf("line.%s.joint.%d.at is not in the file yet", l.Name, m.Of.n+1)
		}
		l.Joints = slices.Clone(l.Joints)
		p := &l.Joints[m.Of.n].At
		was := p.At
		if m.Of.what == ofJointHeight {
			p.At.Z = m.To
		} else {
			p.At.Y = m.To
		}
		if p.Ref != "" { // it goes by steps from where that was measured or surveyed
			p.Off = r3.Add(p.Off, r3.Sub(p.At, was))
		}
		b.withoutReadings(l.ShaftTarget(m.Of.n), l.ShaftTarget(m.Of.n+1))
	case ofYokes:
		shafts := slices.Clone(l.Shafts)
		for len(shafts) <= m.Of.n {
			shafts = append(shafts, LineShaft{})
		}
		assured(&shafts[m.Of.n].YokeOffset, m.To)
		l.Shafts = shafts
	default:
		return b.moveLength(l, m)
	}
	return nil
}

// moveLength writes a length of a line that is this build's own: no spacer is thinner than
// nothing, no shaft and no strap shorter.
func (b *Build) moveLength(l *Line, m Move) error {
	if m.To < 0 {
		return fmt.Errorf("%s cannot be below 0", m.Of.path)
	}
	switch m.Of.what {
	case ofOutSpacer:
		assured(&l.OutSpacer, m.To)
		b.withoutReadings(l.ShaftTarget(1))
	case ofSpacer:
		assured(&l.Pinion.Spacer, m.To)
		b.withoutReadings(l.ShaftTarget(l.JointCount() - 1))
	case ofShaftLength:
		if m.Of.n >= len(l.Shafts) || !l.Shafts[m.Of.n].SlipClosed.Known() || !l.Shafts[m.Of.n].SlipOpen.Known() {
			return fmt.Errorf("line.%s.shaft.%d.slip_closed or slip_open is not in the file yet", l.Name, m.Of.n+1)
		}
		l.Shafts = slices.Clone(l.Shafts)
		s := &l.Shafts[m.Of.n]
		longer := m.To - s.SlipClosed.V()
		assured(&s.SlipClosed, m.To)
		assured(&s.SlipOpen, s.SlipOpen.V()+longer)
	case ofStrap:
		l.Suspension.Strap = slices.Clone(l.Suspension.Strap)
		x := &l.Suspension.Strap[m.Of.n]
		if apart := r3.Norm(r3.Sub(x.Axle.At, x.Chassis.At)); x.Axle.Known && x.Chassis.Known && m.To+x.Stretch.Or(0) < apart {
			return fmt.Errorf("%s: the strap's eyes are %.1f mm apart at ride height", m.Of.path, apart)
		}
		assured(&x.Length, m.To)
	}
	return nil
}
