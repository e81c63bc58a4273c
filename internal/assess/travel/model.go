package travel

import (
	"errors"
	"fmt"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	suspension "fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// axleModel is a suspension from the file, ready to be moved.
type axleModel struct {
	bump, droop float64
	cases       []axleCase // at rest first
	caution     string
}

// axleCase is the suspension under one kind of torque.
type axleCase struct {
	under      string
	suspension suspension.Suspension
	droop      float64 // how far it goes down, mm
}

// needs collects what the file lacks.
type needs struct {
	prefix  string
	missing []string
}

func (n *needs) lack(key string, known bool) {
	if !known {
		n.missing = append(n.missing, n.prefix+key)
	}
}

func (n *needs) point(p project.Point, key string) r3.Vec {
	n.lack(key, p.Known)
	return p.At
}

func (n *needs) length(q quantity.LengthQ, key string) float64 {
	n.lack(key, q.Known())
	return q.V()
}

func (n *needs) err() error {
	switch len(n.missing) {
	case 0:
		return nil
	case 1:
		return errors.New(n.missing[0] + " is not in the file yet")
	}
	return errors.New("not in the file yet: " + strings.Join(n.missing, ", "))
}

// axleInput is all that the motion of a live axle follows from: modelOf is given nothing
// else.
type axleInput struct {
	line       string // its name
	suspension project.Suspension
	end        End
}

// AxleOf is how the live axle of a line moves with no torque on it, for what hangs on
// the axle alone; or an error that says what the file lacks for it.
func AxleOf(l project.Line) (suspension.Suspension, error) {
	m, err := atMiddle(l)
	if err != nil {
		return nil, err
	}
	if len(m.cases) == 0 {
		return nil, fmt.Errorf("line.%s.suspension.kind is %q, which is no axle", l.Name, l.Suspension.Kind)
	}
	return m.cases[0].suspension, nil
}

// atMiddle is the axle of a line alone: where its pinion is does not matter to that.
func atMiddle(l project.Line) (axleModel, error) {
	return modelOf(&axleInput{l.Name, l.Suspension, End{At: r3.Add(l.Suspension.Axle.At, r3.Vec{X: -100}), Axis: r3.Vec{X: 1}}})
}

// modelOf makes the suspension of a line with a live axle, or says what the
// file lacks for it.
func modelOf(in *axleInput) (axleModel, error) {
	s, end := in.suspension, in.end
	n := needs{prefix: "line." + in.line + ".suspension."}
	n.lack("kind", s.Kind != "")
	m := axleModel{bump: n.length(s.Bump, "bump"), droop: n.length(s.Droop, "droop")}
	axle := suspension.Axle{Centre: n.point(s.Axle, "axle"), Pinion: end.At, PinionAxis: end.Axis}
	if axle.PinionAxis.X < 0 {
		axle.PinionAxis = r3.Scale(-1, axle.PinionAxis)
	}
	var err error
	switch s.Kind {
	case project.LeafSprings:
		err = m.leaf(s, axle, &n)
	case project.LinkAxle:
		err = m.links(s, axle, &n)
	case project.TrailingArms:
		err = m.arms(s, axle, &n)
	default:
		err = n.err()
	}
	if err == nil && m.bump+m.droop < geom.Tiny {
		err = fmt.Errorf("%sbump and %sdroop are both zero, so there is no travel to go through", n.prefix, n.prefix)
	}
	for i := range m.cases {
		m.cases[i].droop = m.droop
	}
	return m, err
}

func (m *axleModel) leaf(s project.Suspension, axle suspension.Axle, n *needs) error {
	d := suspension.LeafSpring{
		Axle:         axle,
		FixedEye:     n.point(s.FixedEye, "fixed_eye"),
		Seat:         n.point(s.Seat, "seat"),
		ShackleEye:   n.point(s.ShackleEye, "shackle_eye"),
		ShacklePivot: n.point(s.ShacklePivot, "shackle_pivot"),
		Clamped:      n.length(s.Clamped, "clamped"),
	}
	n.lack("leaves", s.Leaves != "")
	if err := n.err(); err != nil {
		return err
	}
	if s.Leaves == project.OneLeaf {
		d.Leaves = suspension.OneLeaf
	}
	m.caution = d.Leaves.Caution()
	cases := []struct {
		under string
		turn  geom.Angle
	}{{"", 0}, {"under drive", quantity.AsAngle(s.WindUp)}, {"coasting", -quantity.AsAngle(s.WindUp)}}
	if s.WindUp.V() == 0 {
		cases = cases[:1]
	}
	for _, c := range cases {
		d.WindUp = c.turn
		spring, err := suspension.NewLeaf(d)
		if err != nil {
			return err
		}
		m.cases = append(m.cases, axleCase{under: c.under, suspension: spring})
	}
	return nil
}

func (m *axleModel) links(s project.Suspension, axle suspension.Axle, n *needs) error {
	d := suspension.Links{Axle: axle, Give: s.Give.Or(0)}
	n.lack("link", len(s.Link) > 0)
	for i, k := range s.Link {
		at := fmt.Sprintf("link.%d.", i+1)
		d.Links = append(d.Links, suspension.Link{Name: finding.NameOr(k.Name, "link", i),
			Chassis: n.point(k.Chassis, at+"chassis"), Axle: n.point(k.Axle, at+"axle")})
	}
	if err := n.err(); err != nil {
		return err
	}
	linkage, err := suspension.NewLinkage(d)
	if err != nil {
		return err
	}
	m.cases = []axleCase{{suspension: linkage}}
	return nil
}

func (m *axleModel) arms(s project.Suspension, axle suspension.Axle, n *needs) error {
	var pivots []suspension.ArmPivot
	n.lack("pivot", len(s.Pivot) > 0)
	for i, p := range s.Pivot {
		pivots = append(pivots, suspension.ArmPivot{Name: finding.NameOr(p.Name, "arm", i),
			At: n.point(p.At, fmt.Sprintf("pivot.%d.at", i+1))})
	}
	if err := n.err(); err != nil {
		return err
	}
	arms, err := suspension.NewTrailingArms(axle, pivots...)
	if err != nil {
		return err
	}
	m.cases = []axleCase{{suspension: arms}}
	return nil
}
