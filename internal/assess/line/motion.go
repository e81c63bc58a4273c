package line

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// TurnSteps is how finely one turn is drawn; the last sample repeats the first.
const TurnSteps = 72

// Motion is how unevenly a line runs, exactly, and what that amounts to at its
// largest speed.
type Motion struct {
	Known      bool
	Why        string
	Unusable   bool           // a reading hides it that cannot be used
	Max, Min   float64        // output speed over input speed
	Swing      float64        // of the output ahead and behind, peak to peak, rad
	Equivalent finding.Number // angle of the one joint that runs as unevenly, rad
	SmallAngle float64        // the same by the small-angle rule, rad
	Second     float64        // part of the ratio that comes twice a turn
	Fourth     float64        // and four times
	Residual   finding.Number // rad/s² at the largest speed
	Drive      []finding.Number
	Coast      []finding.Number // of each shaft between two joints, rad/s²
	Best       []BestYoke
	Curve      []float64 // output speed over input speed, TurnSteps+1 over one turn
}

// BestYoke is the yoke offset of a shaft that leaves the least unevenness.
type BestYoke struct {
	Shaft      int
	Offset     float64        // rear yoke against front yoke, rad
	Turn       float64        // to there from where the yoke stands, the short way, rad
	Equivalent float64        // angle of the one joint that runs as unevenly then, rad
	Residual   finding.Number // rad/s²
}

// motionFindings works out the exact motion, planned and read, and holds it
// against the limits.
func (a *judge) motionFindings() {
	out := a.out
	a.mech = new(shaft.Mechanism)
	out.Planned = Motion{Why: out.PlanWhy}
	if a.planErr == nil {
		out.Planned = a.motionOf(a.chain, !a.Light)
		a.loads()
		if a.opened {
			out.Planned = a.withRipples(out.Planned, out.planned(), (*Axis).asPlanned)
		}
	} else {
		a.noLoads(out.PlanWhy)
	}
	if m := out.unread(0); m.Known {
		out.Read = a.motionWith(out.read(), !a.Light)
	} else {
		out.Read = Motion{Why: m.Why, Unusable: m.Unusable}
	}
	a.evenFindings()
	a.ratings()
	if !out.Speed.Known && out.Speed.Why == "" {
		return // the file says nothing about speed
	}
	a.speedFindings()
}

// motionOf solves a chain. curve asks for one turn to be drawn as well.
func (a *judge) motionOf(c shaft.Chain, curve bool) Motion {
	if err := a.mech.Set(c); err != nil {
		return Motion{Why: err.Error()}
	}
	speed := a.out.Speed.Number
	shafts := a.mech.Shafts()
	last := shafts[len(shafts)-1]
	m := Motion{
		Known: true, Max: last.Drive.Max(), Min: last.Drive.Min(), Swing: last.Drive.Swing().Rad(),
		Equivalent: finding.Exact(last.Drive.Angle().Rad()), SmallAngle: last.SmallAngle.Rad(),
		Second: last.Drive.Order(2), Fourth: last.Drive.Order(4),
		Residual: atSpeed(last.Drive, speed),
	}
	if between := shafts[1 : len(shafts)-1]; len(between) > 0 {
		both := make([]finding.Number, 2*len(between))
		m.Drive, m.Coast = both[:len(between):len(between)], both[len(between):]
		for i, s := range between {
			m.Drive[i], m.Coast[i] = atSpeed(s.Drive, speed), atSpeed(s.Coast, speed)
		}
	}
	if !curve {
		return m
	}
	for i := 1; i < len(shafts)-1; i++ {
		if offset, r, err := a.mech.BestYoke(i); err == nil {
			m.Best = append(m.Best, BestYoke{Shaft: i, Offset: offset.Rad(), Turn: shaft.TurnTo(offset, yokeOf(c, i)).Rad(),
				Equivalent: r.Angle().Rad(), Residual: atSpeed(r, speed)})
		}
	}
	m.draw(a.mech)
	return m
}

// motionWith is the motion with the axes so, its numbers with their ±.
func (a *judge) motionWith(d directions, curve bool) Motion {
	return a.withRipples(a.motionOf(a.readChain(d), curve), d, (*Axis).asRead)
}

// withRipples gives the numbers of a motion with the axes so their ±.
func (a *judge) withRipples(m Motion, d directions, as func(*Axis) aimed) Motion {
	if !m.Known {
		return m
	}
	speed := a.out.Speed
	r, err := a.readRipples(d, as, 0, speed.Known)
	if err != nil {
		return Motion{Why: err.Error(), Unusable: a.out.HasReads}
	}
	m.Equivalent = finding.Rising(r.whole, equivalentOfRipple)
	if !speed.Known {
		return m
	}
	at := accelerationAt(speed.V)
	m.Residual = finding.Rising(r.whole, at)
	for i := range m.Drive {
		m.Drive[i], m.Coast[i] = finding.Rising(r.drive[i], at), finding.Rising(r.coast[i], at)
	}
	return m
}

// draw samples one turn; its harmonics are found by fast Fourier transform and
// replace the closed form, which the tests hold against them.
func (m *Motion) draw(mech *shaft.Mechanism) {
	turn, err := mech.Motion(TurnSteps)
	if err != nil {
		return
	}
	n := len(turn.Shafts) - 1
	ratio := turn.Shafts[n].Ratio
	m.Curve = append(append(make([]float64, 0, len(ratio)+1), ratio...), ratio[0])
	if orders, err := turn.Orders(n, nil); err == nil && len(orders) > 4 {
		m.Second, m.Fourth = orders[2], orders[4]
	}
}

func atSpeed(r shaft.Ripple, speed finding.Number) finding.Number {
	if !speed.Known {
		return finding.Missing(speed.Why)
	}
	return finding.Exact(r.Acceleration(speed.V))
}

// speedFindings holds what depends on speed against its limits.
func (a *judge) speedFindings() {
	out := a.out
	for i := range out.Joints {
		a.jointAtSpeed(i)
	}
	for i := range out.Shafts {
		a.inertia(&a.names.shafts[i].drive, driveOf(i))
		a.inertia(&a.names.shafts[i].coast, coastOf(i))
	}
	plan := out.Planned.of(residualOf)
	m, basis, moved := out.better(plan, out.Read.of(residualOf))
	n := &a.names.residual
	f := finding.Finding{ID: n.id, Title: n.title, Basis: basis, Moved: moved, Kind: quantity.AngularAcceleration}
	f.Judge(m, a.Build.Limit("residual"), false)
	out.yokesAssumed(&f, 0)
	a.motionAssumes(&f, residualOf)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "What the joints leave over is small enough.",
			finding.Tight: "The gauge's uncertainty reaches past the limit; read again before the weld.",
			finding.Over:  out.overResidual(),
		}
	})
	a.beside(f, n, plan)
}

// inertia holds what the inertia of a shaft feels against its limit.
func (a *judge) inertia(n *name, number motionNumber) {
	out := a.out
	plan := out.Planned.of(number)
	m, basis, moved := out.better(plan, out.Read.of(number))
	f := finding.Finding{ID: n.id, Title: n.title, Basis: basis, Moved: moved, Kind: quantity.AngularAcceleration}
	f.Judge(m, a.Build.Limit("inertia"), false)
	a.motionAssumes(&f, number)
	f.Says = finding.Asked(f, inertiaAdvice)
	a.beside(f, n, plan)
}

func inertiaAdvice() map[finding.Status]string {
	return map[finding.Status]string{
		finding.OK:    "The shaft itself does not have to speed up and slow down too hard.",
		finding.Tight: "The uncertainty reaches past the limit; read again or reduce the joint angle.",
		finding.Over:  "The shaft's own inertia is sped up and slowed down too hard, twice a turn; reduce the angle of its joints or its largest speed.",
	}
}

// overResidual says what to do about what the joints leave over at speed.
func (l *Line) overResidual() string {
	if _, single := l.lone(); single {
		return l.overEven(0)
	}
	return "The joints do not cancel: check that each shaft's yokes are in phase, then bring the joint angles nearer to each other." + l.yokeAdvice()
}

// jointAtSpeed holds a joint's angle against what its speed allows. Each half
// of a double Cardan joint takes half of the angle, and the table is for one
// cross.
func (a *judge) jointAtSpeed(i int) {
	l, j := a.out, &a.out.Joints[i]
	if j.Kind == project.ConstantVelocity {
		return
	}
	m, basis, moved := l.judged(j.Planned, j.Read, j.Basis, j.Moved)
	rule := a.Build.Limit("joint_at_speed")
	n := &a.names.joints[i].speed
	f := finding.Finding{ID: n.id, Title: n.title, Basis: basis, Moved: moved}
	limit := rule.Value
	if limit == 0 && l.Speed.Known {
		if a.operating.err != nil {
			m = finding.Missing(a.operating.err.Error())
		}
		limit = a.operating.angle
	}
	if j.Kind == project.DoubleCardan {
		limit *= 2
		rule.Source += "; each half of the joint takes half of the angle"
	}
	if !l.Speed.Known {
		m = finding.Missing(l.Speed.Why)
	}
	f.JudgeAt(m, limit, rule, false)
	f.HasLimit = limit > 0
	a.jointAssumes(&f, i)
	f.Says = finding.Asked(f, speedAdvice)
	plan := j.Planned
	if !l.Speed.Known {
		plan = finding.Missing(l.Speed.Why)
	}
	a.beside(f, n, plan)
}

func speedAdvice() map[finding.Status]string {
	return map[finding.Status]string{
		finding.OK:    "The joint's angle suits its speed.",
		finding.Tight: "The gauge's uncertainty reaches past the limit; read both axes again.",
		finding.Over:  "Too much angle for this speed: the joint runs hot and short; reduce its angle or the speed of the line.",
	}
}
