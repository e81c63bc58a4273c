package line

import (
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// usualWindUp is how far full torque is taken to turn an axle when the file
// does not say: common practice, no source.
const usualWindUp = 1 * geom.Deg

// carried reports whether a carrier bearing holds the shaft behind joint i, so
// that the joint should hardly work.
func (l *Line) carried(i int) bool { return i == 0 && len(l.Shafts) > 1 }

// lone is the one Cardan joint of a shaft whose other joint runs evenly, so
// that nothing cancels it.
func (l *Line) lone() (int, bool) {
	if len(l.Joints) != 2 {
		return 0, false
	}
	first, second := l.Joints[0].Kind == project.Cardan, l.Joints[1].Kind == project.Cardan
	if second {
		return 1, !first
	}
	return 0, first
}

// runningLimit is the angle that joint i may run at, at ride height: its
// maker's figure for running, or the rule for its kind and place; and never
// more than the angle it binds at.
func (a *judge) runningLimit(i int) project.Rule {
	l, out := a.file, a.out
	lone, single := out.lone()
	rule := a.Build.Limit("joint_max")
	switch {
	case out.Joints[i].Kind != project.Cardan:
		rule = a.Build.Limit("even_joint")
	case single && i == lone:
		rule = a.Build.Limit("lone_joint")
		if aim, ok := out.aim(); ok && lone == 1 && out.winds && aim < -geom.Deg/10 {
			up := geom.Angle(l.Suspension.WindUp.Or(usualWindUp.Rad()))
			rule.Value = max(rule.Value-up.Rad(), 0)
			rule.Source += fmt.Sprintf("; less %.1f degrees of wind-up, which adds to it this way round", up.Degrees())
		}
	case out.carried(i):
		rule = a.Build.Limit("front_joint")
	}
	if v, ok := l.Joint(i).RunAngle.Get(); ok {
		rule = project.Rule{Kind: quantity.Angle, Value: v, Source: "the joint maker's figure for running, in this build's file"}
	}
	if v, ok := l.Joint(i).MaxAngle.Get(); ok && v < rule.Value {
		rule = project.Rule{Kind: quantity.Angle, Value: v, Source: finding.MakersFigure + ": the angle it binds at"}
	}
	return rule
}

// aim is how far the pinion is turned from looking along the shaft, against the
// way full torque winds the axle up: a pinion ahead of its axle looks low then,
// one behind a front axle high.
func (l *Line) aim() (geom.Angle, bool) {
	slope := func(x *Axis) (float64, bool) {
		m, _, _ := l.judged(x.Planned, x.Read, x.Basis, x.Moved)
		return m.V, m.Known
	}
	n := len(l.Axes)
	behind, ok1 := slope(&l.Axes[n-2])
	pinion, ok2 := slope(&l.Axes[n-1])
	return geom.Angle(behind - pinion), ok1 && ok2
}

// loneRule is the rule for a joint that nothing cancels, with its figure.
func (l *Line) loneRule(i int) string {
	other := l.Joints[1-i]
	s := fmt.Sprintf("Joint %d is a %s joint and runs evenly by itself, so nothing cancels joint %d, and equal angles are of no use: ", other.Number, other.Kind, i+1)
	if i == 0 {
		return s + "let the driving axis look along the shaft."
	}
	if !l.winds {
		return s + "the pinion has to look along the shaft." + l.aimWord()
	}
	return s + "turn the axle housing until the pinion looks along the shaft, a degree or two " + l.against() + " at rest for the wind-up of its axle." + l.aimWord()
}

// against is the way a pinion is turned at rest, against its axle's wind-up.
func (l *Line) against() string {
	if l.Front {
		return "high"
	}
	return "low"
}

func (l *Line) aimWord() string {
	aim, ok := l.aim()
	if !ok {
		return ""
	}
	way := "low"
	if (aim < 0) != l.Front {
		way = "high"
	}
	return fmt.Sprintf(" In side view it looks %.1f degrees %s now.", aim.Abs().Degrees(), way)
}

// loneWord is the rule as it stands with a joint that keeps it.
func (l *Line) loneWord(i int) string {
	if lone, ok := l.lone(); !ok || i != lone || i == 0 {
		return ""
	}
	if !l.winds {
		return " Nothing cancels it: the pinion has to look along the shaft." + l.aimWord()
	}
	return " Nothing cancels it: the pinion has to look along the shaft, a degree or two " + l.against() + " at rest." + l.aimWord()
}

// otherArrangement says, for a line that does not serve with its joints as
// they are, when it would with single joints, or with a double one at its
// driving end.
func (a *judge) otherArrangement() string {
	out := a.out
	if len(out.Joints) != 2 {
		return ""
	}
	chain := a.chain
	if out.HasReads {
		if !out.unread(0).Known {
			return ""
		}
		chain = a.readChain(out.read())
	} else if a.planErr != nil {
		return ""
	}
	chain.Joints = []shaft.Joint{{At: chain.Joints[0].At}, {At: chain.Joints[1].At}}
	chain.Yokes = nil
	mech, err := shaft.NewMechanism(chain)
	if err != nil {
		return ""
	}
	first, second := mech.Joints()[0].Angle.Rad(), mech.Joints()[1].Angle.Rad()
	most, least := a.Build.Limit("joint_max").Value, a.Build.Limit("joint_min").Value
	_, single := out.lone()
	switch {
	case single && max(first, second) <= most && min(first, second) >= least && mech.Shafts()[2].Drive.Angle().Rad() <= a.Build.Limit("equivalent").Value:
		return " Two single joints with their yokes in phase would serve here: their angles are nearly equal."
	case !single && out.bothCardan(0) && first > most && first <= a.Build.Limit("even_joint").Value && second <= a.Build.Limit("lone_joint").Value:
		return " With the pinion nearly along the shaft, as it is, a double Cardan joint in place of joint 1 would serve."
	}
	return ""
}
