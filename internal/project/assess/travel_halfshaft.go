package assess

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"fitup/internal/geom"
	"fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Largest angles of a half shaft's joints when the file gives none.
const (
	innerJointMax = 23 * geom.Deg
	outerJointMax = 47 * geom.Deg

	halfShaftPractice = "common practice, not a standard"
	makersFigure      = "the joint maker's figure, in this build's file"
	shaftFigure       = "the shaft's own figure, in this build's file"
)

// HalfShaftTravel is a half shaft between bump and droop of its wheel. Its
// inner axis is taken as level and square to the pinion's heading, the hub's
// as straight across the vehicle at ride height.
type HalfShaftTravel struct {
	Name   string // as the file has it
	ID     string // part of its findings' ids
	Why    string // why it is not moved, when it is not
	Points []travel.ShaftPoint
	// Angles in rad, plunges from ride height in mm; not negative.
	Inner, Outer, PlungeIn, PlungeOut TravelExtreme
}

func (a *Assessment) halfShafts(l project.Line, t *Travel) {
	taken := map[string]bool{}
	for i, h := range l.Suspension.HalfShaft {
		s := HalfShaftTravel{Name: nameOr(h.Name, "half shaft", i), ID: idOf(h.Name, i, taken)}
		if err := s.move(l, i); err != nil {
			s = HalfShaftTravel{Name: s.Name, ID: s.ID, Why: err.Error()}
		}
		a.halfShaftFindings(l, i, s)
		t.HalfShafts = append(t.HalfShafts, s)
	}
}

// idOf makes a name fit to stand between the dots of an id.
func idOf(name string, i int, taken map[string]bool) string {
	id := strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '_'
	}, strings.TrimSpace(name))
	if id == "" || taken[id] {
		id = fmt.Sprintf("%s%d", id, i+1)
	}
	for taken[id] {
		id += "_"
	}
	taken[id] = true
	return id
}

// move takes half shaft i of the line through its wheel's travel.
func (s *HalfShaftTravel) move(l project.Line, i int) error {
	n := needs{prefix: "line." + l.Name + ".suspension."}
	bump, droop := n.length(l.Suspension.Bump, "bump"), n.length(l.Suspension.Droop, "droop")
	n.prefix += fmt.Sprintf("half_shaft[%d].", i)
	file := l.Suspension.HalfShaft[i]
	h := travel.HalfShaft{Inner: n.point(file.Inner, "inner"), Outer: n.point(file.Outer, "outer")}
	pivotA, pivotB := n.point(file.PivotA, "pivot_a"), n.point(file.PivotB, "pivot_b")
	if err := n.err(); err != nil {
		return err
	}
	out := math.Copysign(1, h.Outer.Y-h.Inner.Y)
	across := r3.Cross(r3.Vec{Z: 1}, geom.Direction(0, quantity.AsAngle(l.Pinion.Heading)))
	h.InnerAxis, h.OuterAxis = r3.Scale(out, across), r3.Vec{Y: out}
	h.Path = travel.SwingArm{PivotA: pivotA, PivotB: pivotB}
	if file.Ball.Known {
		h.Path = travel.ControlArm{PivotA: pivotA, PivotB: pivotB, Ball: file.Ball.At}
	}
	var err error
	if s.Points, err = h.Sweep(droop, bump, travelSteps); err != nil {
		return err
	}
	// What the file allows is judged finding by finding; here only the worst is
	// wanted.
	r, err := travel.CheckShaft(s.Points, travel.ShaftLimits{Inner: innerJointMax, Outer: outerJointMax})
	if err != nil {
		return err
	}
	worst := func(e travel.Extreme) TravelExtreme { return TravelExtreme{Value: e.Value, Rise: e.Rise} }
	s.Inner, s.Outer, s.PlungeIn, s.PlungeOut = worst(r.Inner), worst(r.Outer), worst(r.PlungeIn), worst(r.PlungeOut)
	return nil
}

func (a *Assessment) halfShaftFindings(l project.Line, i int, s HalfShaftTravel) {
	file := l.Suspension.HalfShaft[i]
	for _, f := range []struct {
		id, title, over string
		worst           TravelExtreme
		rule            project.Rule
		known           bool
	}{
		{"inner", "inner joint, largest angle", "The inner joint goes past its angle", s.Inner,
			angleRule(file.InnerMax, innerJointMax), true},
		{"outer", "outer joint, largest angle", "The outer joint goes past its angle", s.Outer,
			angleRule(file.OuterMax, outerJointMax), true},
		{"plunge_in", "shortening from ride height", "The shaft has to shorten more than it can", s.PlungeIn,
			plungeRule(file.PlungeIn), file.PlungeIn.Known()},
		{"plunge_out", "lengthening from ride height", "The shaft has to lengthen more than it can", s.PlungeOut,
			plungeRule(file.PlungeOut), file.PlungeOut.Known()},
	} {
		out := Finding{ID: fmt.Sprintf("line.%s.half_shaft.%s.%s", l.Name, s.ID, f.id),
			Title: fmt.Sprintf("%s half shaft %s, %s", l.Name, s.Name, f.title)}
		m := known(f.worst.Value, 0)
		if s.Why != "" {
			m = missing(s.Why)
		}
		if !f.known {
			key := fmt.Sprintf("line.%s.suspension.half_shaft[%d].%s is not in the file yet", l.Name, i, f.id)
			if s.Why != "" {
				key = s.Why + ", and " + key
			}
			out.Kind = quantity.Length
			if m.Known {
				out.number(m.V, 0)
			}
			out.unknown(key)
		} else {
			out.judge(m, f.rule, false)
		}
		out.Advice = advise(out, map[Status]string{
			OK:   "It stays within what it allows over the wheel's travel; it is most " + a.where(f.worst) + ".",
			Over: f.over + " " + a.where(f.worst) + "; limit the wheel's travel there, or fit a shaft that allows more.",
		})
		a.Findings = append(a.Findings, out)
	}
}

// angleRule is a joint's own figure, or what is usual.
func angleRule(q quantity.AngleQ, usual geom.Angle) project.Rule {
	if v, ok := q.Get(); ok {
		return project.Rule{Kind: quantity.Angle, Value: v, Source: makersFigure}
	}
	return project.Rule{Kind: quantity.Angle, Value: usual.Rad(), Source: halfShaftPractice}
}

func plungeRule(q quantity.LengthQ) project.Rule {
	return project.Rule{Kind: quantity.Length, Value: q.V(), Source: shaftFigure}
}
