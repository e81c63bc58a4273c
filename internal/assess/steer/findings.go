package steer

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Caution goes with whatever is said of the steering shaft.
const Caution = "Steering: made, fitted and checked by qualified people, under local rules."

// judge makes the findings.
func (r *Result) judge() {
	joints, bearings, shafts := r.asked()
	for i := range joints {
		r.jointFinding(i, &joints[i])
	}
	r.rippleFinding()
	r.phaseFinding()
	r.supportFinding()
	for i := range bearings {
		r.bearingFinding(i, &bearings[i])
	}
	room := r.build.Limit("slip_room")
	for i := range shafts {
		x := &shafts[i]
		if !x.Slips {
			continue
		}
		r.add(finding.SteeringBottom(i+1), fmt.Sprintf("steering shaft %d, room before its slip joint bottoms", i+1), x.Bottom, room, true, map[finding.Status]string{
			finding.OK:   "It can still be pushed together.",
			finding.Over: "It is nearly home as it is fitted; a shorter shaft, or one with more travel.",
		})
		r.add(finding.SteeringPull(i+1), fmt.Sprintf("steering shaft %d, room before its slip joint pulls out", i+1), x.Pull, room, true, map[finding.Status]string{
			finding.OK:   "Its spline is engaged as far as it has to be.",
			finding.Over: "Its spline is not engaged far enough; a longer shaft.",
		})
	}
	r.shortenFinding()
}

// add judges a number. What is done about it ends with the caution.
func (r *Result) add(id, title string, m finding.Number, rule project.Rule, atLeast bool, says map[finding.Status]string) {
	f := finding.Finding{ID: id, Title: title, Assumes: r.assumes}
	f.Judge(m, rule, atLeast)
	if says[finding.Tight] == "" {
		says[finding.Tight] = "It keeps its limit by less than its ±; measure the points of the steering shaft more closely."
	}
	text := finding.Asked(f, func() map[finding.Status]string { return says })
	f.Says = func() string { return strings.TrimSpace(text() + " " + Caution) }
	r.Findings = append(r.Findings, f)
}

// asked are the joints, bearings and shafts that findings are of: where nothing is worked
// out those of the file, all of them not known.
func (r *Result) asked() ([]Joint, []Bearing, []Shaft) {
	if r.Why == "" {
		return r.Joints, r.Bearings, r.Shafts
	}
	s, miss := &r.build.Steering, finding.Missing(r.Why)
	var joints []Joint
	var shafts []Shaft
	for i, j := range s.Joints {
		joints = append(joints, Joint{Angle: miss, Limit: r.jointLimit(j)})
		if x := s.Shaft(i); i+1 < len(s.Joints) {
			shafts = append(shafts, Shaft{Bottom: miss, Pull: miss, Slips: slips(x)})
		}
	}
	bearings := make([]Bearing, len(s.Bearings))
	for i := range bearings {
		bearings[i].Off = miss
	}
	return joints, bearings, shafts
}

func (r *Result) jointFinding(i int, j *Joint) {
	r.add(finding.SteeringJoint(i+1), fmt.Sprintf("steering joint %d, angle", i+1), j.Angle, j.Limit, false, map[finding.Status]string{
		finding.OK:   "The joint works within what it may.",
		finding.Over: "The joint works at too large an angle and can bind; move a joint or a support bearing, or share the angle with one joint more.",
	})
}

func (r *Result) rippleFinding() {
	r.add(finding.SteeringRipple, "steering, percent faster than the wheel in the turn", r.Ripple, r.build.Limit("steering_ripple"), false, map[finding.Status]string{
		finding.OK:   r.where(),
		finding.Over: r.where() + " " + r.Marks(),
	})
}

// where says where in the turn the steering is quickest and slowest.
func (r *Result) where() string {
	if !r.Ripple.Known || r.Where.Even {
		return "The steering turns as evenly as the wheel."
	}
	angle := func(v float64) string { return quantity.Format(quantity.Angle, v, r.build.Units, 0) }
	return fmt.Sprintf("The steering is quickest with the wheel %s clockwise of straight ahead, slowest at %s, and both again half a turn on; straight ahead it turns at %.3f of the wheel.",
		angle(r.Where.Fastest.Rad()), angle(r.Where.Slowest.Rad()), r.Ahead)
}

// Marks says how the yokes are to be set.
func (r *Result) Marks() string {
	var out []string
	for i := range r.Shafts {
		x := &r.Shafts[i]
		if x.fixed() || math.Abs(x.Turn.Degrees()) < 0.05 {
			continue
		}
		way := "clockwise"
		if x.Turn < 0 {
			way = "anticlockwise"
		}
		by := quantity.Format(quantity.Angle, math.Abs(x.Turn.Rad()), r.build.Units, 1)
		from := "from where it is"
		if !x.YokeKnown {
			from = "from in phase"
		}
		s := fmt.Sprintf("the lower yoke of shaft %d %s %s %s, looking down it from the column", i+1, by, way, from)
		if x.Over != 0 {
			over, round := x.Over, "clockwise"
			if over < 0 {
				over, round = -over, "anticlockwise"
			}
			s = fmt.Sprintf("the lower yoke of shaft %d %d of its %d teeth %s %s (%s), looking down it from the column", i+1, over, x.Teeth, round, from,
				quantity.Format(quantity.Angle, float64(over)*2*math.Pi/float64(x.Teeth), r.build.Units, 1))
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		if r.Least.Known {
			return fmt.Sprintf("No other yoke marks would leave less than %.1f percent.", r.Least.V)
		}
		return ""
	}
	return fmt.Sprintf("Set %s: %.1f percent are left then.", strings.Join(out, ", and "), r.Least.V)
}

func (r *Result) phaseFinding() {
	r.add(finding.SteeringPhase, "steering, percent of ripple that other yoke marks would save", r.Gain, r.build.Limit("steering_phase"), false, map[finding.Status]string{
		finding.OK:   "Little is to be gained by other marks. " + r.Marks(),
		finding.Over: r.Marks(),
	})
}

func (r *Result) supportFinding() {
	rule := project.Rule{Kind: quantity.Number, Value: 0, Source: "a joint that nothing holds goes round: the kernel of what holds it"}
	says := "Two joints hold themselves."
	if len(r.Joints) > 2 {
		says = "Every joint is held."
	}
	r.add(finding.SteeringSupport, "steering shaft, ways in which its joints are loose", r.Loose, rule, false, map[finding.Status]string{
		finding.OK: says,
		finding.Over: fmt.Sprintf("With %d joints and %d support %s the shaft is a mechanism and can whip or fold; a support bearing on each shaft that ends in a joint which is free, near that joint, or one joint less.",
			len(r.Joints), len(r.Bearings), plural(len(r.Bearings), "bearing")),
	})
}

func plural(n int, what string) string {
	if n == 1 {
		return what
	}
	return what + "s"
}

func (r *Result) bearingFinding(i int, x *Bearing) {
	title := fmt.Sprintf("steering bearing %d, off the axis of its shaft", i+1)
	if x.Shaft > 0 {
		title = fmt.Sprintf("steering bearing %d, off the axis of shaft %d", i+1, x.Shaft)
	}
	r.add(finding.SteeringBearing(i+1), title, x.Off, r.build.Limit("steering_bearing"), false, map[finding.Status]string{
		finding.OK:   "The bearing stands on the shaft's axis.",
		finding.Over: "The shaft does not pass through the bearing as the joints stand; move the bearing, or the joint that it is to hold.",
	})
}

func (r *Result) shortenFinding() {
	rule := project.Rule{Kind: quantity.Length, Source: "steering.shorten, in this build's file"}
	m := r.Shorten
	wanted, ok := r.build.Steering.Shorten.Get()
	if rule.Value = wanted; !ok && m.Known {
		m = finding.Missing("steering.shorten is not in the file yet")
	}
	r.add(finding.SteeringShorten, "steering shaft, how far it can shorten", m, rule, true, map[finding.Status]string{
		finding.OK:   "It gives way as far as it has to when the body moves or in a crash.",
		finding.Over: "It gives way less than it has to when the body moves or in a crash; more travel in a slip joint, or a collapsible shaft.",
	})
}

// Values lists the numbers of the steering shaft.
func (r *Result) Values(l *finding.List) {
	if r == nil || r.Why != "" {
		return
	}
	for i := range r.Shafts {
		x := &r.Shafts[i]
		id := fmt.Sprintf("steering.shaft.%d", i+1)
		l.Number(id+".length", quantity.Length, x.Length)
		l.Uncertainty(id+".length", quantity.Length, x.Length)
		l.Add(id+".set", quantity.Angle, x.Set.Rad())
		l.Add(id+".turn", quantity.Angle, x.Turn.Rad())
		if x.Teeth > 0 {
			l.Add(id+".teeth_over", quantity.Number, float64(x.Over))
		}
	}
	l.Number("steering.ripple.least", quantity.Number, r.Least)
	if r.Ripple.Known && !r.Where.Even {
		l.Add("steering.ripple.fastest", quantity.Angle, r.Where.Fastest.Rad())
		l.Add("steering.ripple.slowest", quantity.Angle, r.Where.Slowest.Rad())
		l.Add("steering.ripple.ahead", quantity.Number, r.Ahead)
	}
	for i := range r.Bearings {
		if x := &r.Bearings[i]; x.Off.Known {
			l.Add(fmt.Sprintf("steering.bearing.%d.along", i+1), quantity.Number, x.Along)
		}
	}
}
