package assess

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Largest angles of a half shaft's joints when the file gives none: about 47° for
// a fixed ball joint and 23 to 26° for a plunging tripod are in circulation.
const (
	innerJointMax = 23 * geom.Deg
	outerJointMax = 47 * geom.Deg

	halfShaftPractice = "common practice, not a standard"
	makersFigure      = "the joint maker's figure, in this build's file"
	shaftFigure       = "the shaft's own figure, in this build's file"
)

// HalfShaftTravel is a half shaft between bump and droop of its wheel, wherever
// the powertrain can stand when the shaft hangs on it. The hub's axis is taken
// as straight across the vehicle at ride height.
type HalfShaftTravel struct {
	Name   string // as the file has it
	ID     string // part of its findings' ids
	Why    string // why it is not moved, when it is not
	Points []travel.ShaftPoint
	Inner0 r3.Vec  // inner joint with the powertrain as built, vehicle axes
	Ride   float64 // length at ride height with the powertrain as built, mm
	// Angles in rad; plunges from the length at ride height, mm, not negative.
	Inner, Outer, PlungeIn, PlungeOut TravelExtreme

	spread  [4]float64 // uncertainty of those four, by estimated rates of the mounts
	assumes []string
	stands  []shaftStand
	shaft   travel.HalfShaft
}

// shaftStand is where a half shaft's inner joint stands, and which way the
// output it sits on points outboard.
type shaftStand struct {
	name        string // "" for as built
	inner, axis r3.Vec
	soft        bool // with estimated rates of the mounts at their softest
}

// halfShafts moves the half shafts of a line. The differential of one that is
// hung stands wherever the powertrain does.
func (a *Assessment) halfShafts(l project.Line, t *Travel) {
	taken := map[string]bool{}
	for i, h := range l.Suspension.HalfShaft {
		s := HalfShaftTravel{Name: nameOr(h.Name, "half shaft", i), ID: idOf(h.Name, i, taken)}
		if err := a.moveHalfShaft(l, i, &s); err != nil {
			s = HalfShaftTravel{Name: s.Name, ID: s.ID, Why: err.Error()}
		}
		a.halfShaftFindings(l, i, s)
		t.HalfShafts = append(t.HalfShafts, s)
	}
}

// moveHalfShaft takes half shaft i of the line through its wheel's travel.
func (a *Assessment) moveHalfShaft(l project.Line, i int, s *HalfShaftTravel) error {
	n := needs{prefix: "line." + l.Name + ".suspension."}
	bump, droop := n.length(l.Suspension.Bump, "bump"), n.length(l.Suspension.Droop, "droop")
	n.prefix += fmt.Sprintf("half_shaft[%d].", i)
	file := l.Suspension.HalfShaft[i]
	outer := n.point(file.Outer, "outer")
	pivotA, pivotB := n.point(file.PivotA, "pivot_a"), n.point(file.PivotB, "pivot_b")
	hung := a.Build.Hung(l)
	if !hung {
		n.point(file.Inner, "inner")
	}
	if err := n.err(); err != nil {
		return err
	}
	var err error
	if hung {
		err = a.hungStands(file, n.prefix, s)
	} else {
		s.fixedStand(l, file)
	}
	if err != nil {
		return err
	}
	s.shaft = travel.HalfShaft{Outer: outer, OuterAxis: r3.Vec{Y: s.outboard(file)}, Lock: quantity.AsAngle(file.Lock)}
	s.assumes = append(s.assumes, "the hub's axis straight across the vehicle at ride height: camber and toe are not in it")
	s.shaft.Path = travel.SwingArm{PivotA: pivotA, PivotB: pivotB}
	if file.Ball.Known {
		s.shaft.Path = travel.ControlArm{PivotA: pivotA, PivotB: pivotB, Ball: file.Ball.At}
		s.assumes = append(s.assumes, "a hub that stays parallel to itself as it rises")
	}
	return s.sweep(droop, bump)
}

// outboard is 1 for a shaft to the right, -1 for one to the left.
func (s *HalfShaftTravel) outboard(file project.HalfShaft) float64 {
	return math.Copysign(1, file.Outer.At.Y-s.stands[0].inner.Y)
}

// fixedStand is the one of a differential on the chassis.
func (s *HalfShaftTravel) fixedStand(l project.Line, file project.HalfShaft) {
	across := r3.Cross(r3.Vec{Z: 1}, geom.Direction(0, quantity.AsAngle(l.Pinion.Heading)))
	s.stands = []shaftStand{{inner: file.Inner.At}}
	s.stands[0].axis = r3.Scale(s.outboard(file), across)
	s.assumes = append(s.assumes, "the differential's outputs level and square to its pinion")
}

// hungStands are those of a differential that hangs on the powertrain: its
// outputs lie along the powertrain's own Y axis.
func (a *Assessment) hungStands(file project.HalfShaft, prefix string, s *HalfShaftTravel) error {
	if !a.Pose.Known {
		return errors.New(a.Pose.Why)
	}
	if !file.Output.Known {
		return errors.New(a.lacksOutput(file, prefix))
	}
	st := a.mounts.Standings()
	for k, p := range st.All {
		x := shaftStand{name: p.Name, inner: p.Pose.Point(file.Output.At), axis: p.Pose.Y, soft: p.Soft}
		if k == 0 {
			x.name = ""
		}
		s.stands = append(s.stands, x)
	}
	out := s.outboard(file)
	for k := range s.stands {
		s.stands[k].axis = r3.Scale(out, s.stands[k].axis)
	}
	s.assumes = append(s.assumes, st.Assumes...)
	return nil
}

// lacksOutput asks for the inner joint in the frame that it moves with, and
// turns one that was given in the vehicle's axes into it.
func (a *Assessment) lacksOutput(file project.HalfShaft, prefix string) string {
	why := prefix + "output is not in the file yet"
	if !file.Inner.Known {
		return why + " (the inner joint hangs on the powertrain, so it is given in the powertrain's own frame)"
	}
	own := a.Pose.V.Own(file.Inner.At)
	num := func(v float64) string {
		return strconv.FormatFloat(quantity.InUnit(quantity.Length, v, a.Build.Units), 'f', 2, 64)
	}
	return fmt.Sprintf("%s: the inner joint hangs on the powertrain, and inner stays behind when that moves; if it was measured with the powertrain where it stands now, write output = [%s, %s, %s] in its place",
		why, num(own.X), num(own.Y), num(own.Z))
}

// sweep fills in the points as built and the worst over all stands.
func (s *HalfShaftTravel) sweep(droop, bump float64) error {
	var soft [4]TravelExtreme
	for k, st := range s.stands {
		h := s.shaft
		h.Inner, h.InnerAxis = st.inner, st.axis
		points, err := h.Sweep(droop, bump, travelSteps)
		if err != nil {
			return err
		}
		if k == 0 {
			ride, err := h.At(0)
			if err != nil {
				return err
			}
			s.Points, s.Inner0, s.Ride = points, st.inner, ride.Length
		}
		for _, p := range points {
			in, out := s.Ride-p.Length, p.Length-s.Ride
			for e, v := range [4]float64{p.InnerAngle.Rad(), p.OuterAngle.Rad(), in, out} {
				x := TravelExtreme{v, p.Rise, st.name}
				soft[e].most(x)
				if !st.soft {
					s.worst(e).most(x)
				}
			}
		}
	}
	for e := range soft {
		s.spread[e] = spread(s.worst(e).Value, soft[e].Value).U
	}
	return nil
}

// worst is the extreme of that number: inner and outer angle, plunge in and out.
func (s *HalfShaftTravel) worst(e int) *TravelExtreme {
	return [4]*TravelExtreme{&s.Inner, &s.Outer, &s.PlungeIn, &s.PlungeOut}[e]
}

func (a *Assessment) halfShaftFindings(l project.Line, i int, s HalfShaftTravel) {
	file := l.Suspension.HalfShaft[i]
	for e, f := range a.halfShaftLimits(l, i, &s) {
		out := Finding{ID: fmt.Sprintf("line.%s.half_shaft.%s.%s", l.Name, s.ID, f.id),
			Title: fmt.Sprintf("%s half shaft %s, %s", l.Name, s.Name, f.title)}
		m := finding.Known(s.worst(e).Value, s.spread[e])
		if s.Why != "" {
			m = finding.Missing(s.Why)
		}
		out.Kind = f.rule.Kind
		switch {
		case f.judged:
			out.Judge(m, f.rule, false)
		case m.Known:
			out.Figure(m)
		}
		switch {
		case out.Status == Over:
		case s.Why != "" && f.lacks != "":
			out.Unknown(s.Why + ", and " + f.lacks)
		case s.Why != "":
			out.Unknown(s.Why)
		case f.lacks != "":
			out.Unknown(f.lacks)
		}
		if s.Why == "" {
			out.Assumes = append(out.Assumes, s.assumes...)
			if e == outerAngle && file.Lock.V() > 0 {
				out.Assumes = append(out.Assumes, "a wheel that steers about an upright line through the joint: kingpin inclination and caster are not in it")
			}
		}
		where := a.where(*s.worst(e))
		out.Says = finding.Say(finding.Advise(out, map[Status]string{
			OK:    "It stays within what it allows over the wheel's travel; it is most " + where + ".",
			Tight: "It is most " + where + "; the mounts' rates are estimates, and rubber softer than that would take it past what it allows.",
			Over:  f.over + " " + where + "; " + f.cure + ".",
		}))
		a.Findings = append(a.Findings, out)
	}
}

// outerAngle is the place of the outer joint's angle among the four numbers.
const outerAngle = 1

// shaftLimit is what one number of a half shaft is held against.
type shaftLimit struct {
	id, title, over, cure string
	rule                  project.Rule
	judged                bool   // there is a limit
	lacks                 string // what is missing for a verdict that it is within it
}

const (
	limitTravel = "limit the wheel's travel there, or fit a shaft that allows more"
	shaftLength = "a shaft of another length, or the powertrain elsewhere"
)

func (a *Assessment) halfShaftLimits(l project.Line, i int, s *HalfShaftTravel) [4]shaftLimit {
	file := l.Suspension.HalfShaft[i]
	key := fmt.Sprintf("line.%s.suspension.half_shaft[%d].", l.Name, i)
	outer := shaftLimit{"outer", "outer joint, largest angle", "The outer joint goes past its angle", limitTravel,
		angleRule(file.OuterMax, outerJointMax), true, ""}
	if file.Lock.V() > 0 {
		outer.title = "outer joint, largest angle at full lock"
	}
	if steers := l.Toward == project.TowardFront || l.Toward == "" && a.Build.Hung(l); steers && !file.Lock.Known() {
		outer.lacks = key + "lock is not in the file yet: steering bends the outer joint most (0 deg for a wheel that does not steer)"
	}
	return [4]shaftLimit{
		{"inner", "inner joint, largest angle", "The inner joint goes past its angle", limitTravel,
			angleRule(file.InnerMax, innerJointMax), true, ""},
		outer,
		a.plungeLimit(l, s, shaftLimit{id: "plunge_in", title: "shortening from ride height",
			over: "The shaft has to shorten more than it can"}, file.PlungeIn, file.Closed, key+"plunge_closed", -1),
		a.plungeLimit(l, s, shaftLimit{id: "plunge_out", title: "lengthening from ride height",
			over: "The shaft has to lengthen more than it can and may come apart"}, file.PlungeOut, file.Open, key+"plunge_open", 1),
	}
}

// plungeLimit is how far a half shaft may change its length one way: sense 1 to
// lengthen. From the length of its end it is what is left from ride height. A
// room counted from ride height is one for the place that it was counted at, so
// it serves only where nothing moves the inner joint.
func (a *Assessment) plungeLimit(l project.Line, s *HalfShaftTravel, out shaftLimit, room, end quantity.LengthQ, endKey string, sense float64) shaftLimit {
	out.rule, out.judged, out.cure = plungeRule(room), true, limitTravel
	v, ok := end.Get()
	switch hung := a.Build.Hung(l); {
	case ok:
		out.rule.Value, out.cure = sense*(v-s.Ride), shaftLength
		out.judged = s.Why == ""
	case hung:
		out.judged, out.lacks = false, endKey+" is not in the file yet"
		if room.Known() {
			out.lacks += " (" + out.id + " counts from ride height, which is another length once the powertrain moves)"
		}
	case !room.Known():
		out.judged, out.lacks = false, strings.TrimSuffix(strings.TrimSuffix(endKey, "plunge_closed"), "plunge_open")+out.id+" is not in the file yet"
	}
	return out
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
