package assess

import (
	"fmt"

	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Tube is what follows from a shaft's tube. Strength figures are screening
// figures for the bare tube.
type Tube struct {
	Given     bool    // the file gives its outside diameter
	Whirl     Measure // whirling speed, rad/s
	Safe      Measure // the part of it that may be used, rad/s
	Mass      Measure // kg
	Shear     Measure // MPa at the largest torque
	Twist     Measure // rad at the largest torque
	Unbalance Measure // permissible residual unbalance at the largest speed, g·mm
}

// tubes works out the tube of every shaft that has one.
func (a *Assessment) tubes(l project.Line, out *Line) {
	for i := range out.Shafts {
		spec, s := l.Shaft(i), &out.Shafts[i]
		if !spec.Outside.Known() {
			continue
		}
		s.Tube.Given = true
		id := fmt.Sprintf("line.%s.shaft.%d", l.Name, i+1)
		t, err := tubeOf(spec, s.Length)
		if err == nil && !spec.Wall.Known() {
			err = fmt.Errorf("line.%s.shaft[%d].wall is not in the file yet", l.Name, i)
		}
		if err != nil {
			s.Tube.none(err.Error())
		} else {
			a.solveTube(t, out, s)
		}
		if out.Speed.Known || out.Speed.Why != "" {
			a.whirlFinding(id, out, s)
		}
	}
}

func (t *Tube) none(why string) {
	m := missing(why)
	t.Whirl, t.Safe, t.Mass, t.Shear, t.Twist, t.Unbalance = m, m, m, m, m, m
}

func tubeOf(spec project.LineShaft, length Measure) (shaft.Tube, error) {
	if !length.Known {
		return shaft.Tube{}, fmt.Errorf("%s", length.Why)
	}
	material := shaft.Steel()
	if spec.Material == project.AluminiumTube {
		material = shaft.Aluminium()
	}
	material.E = spec.E.Or(material.E)
	if d, ok := spec.Density.Get(); ok {
		material.Density = d * shaft.KgPerM3
	}
	return shaft.Tube{Outside: spec.Outside.V(), Wall: spec.Wall.V(), Length: length.V, Material: material}, nil
}

func (a *Assessment) solveTube(t shaft.Tube, l *Line, s *Shaft) {
	get := func(v float64, err error) Measure {
		if err != nil {
			return missing(err.Error())
		}
		return known(v, 0)
	}
	s.Tube.Whirl = get(t.Whirl())
	s.Tube.Safe = s.Tube.Whirl
	if s.Tube.Whirl.Known {
		s.Tube.Safe = get(shaft.Safe(s.Tube.Whirl.V, a.Build.Limit("whirl_fraction").Value))
	}
	s.Tube.Mass = get(t.Mass())
	s.Tube.Shear, s.Tube.Twist = missing(l.Torque.Why), missing(l.Torque.Why)
	if l.Torque.Known {
		s.Tube.Shear = get(t.Shear(l.Torque.V))
		twist, err := t.Twist(l.Torque.V)
		s.Tube.Twist = get(twist.Rad(), err)
	}
	s.Tube.Unbalance = missing(l.Speed.Why)
	if l.Speed.Known && s.Tube.Mass.Known {
		s.Tube.Unbalance = get(shaft.Unbalance(shaft.GradeShaft, s.Tube.Mass.V, l.Speed.V))
	}
}

func (a *Assessment) whirlFinding(id string, l *Line, s *Shaft) {
	f := Finding{ID: id + ".whirl", Title: fmt.Sprintf("%s shaft %d, largest speed against whirl (screening)", l.Name, s.Number), Kind: quantity.Speed}
	m := l.Speed.Measure
	if m.Known && !s.Tube.Safe.Known {
		m = missing(s.Tube.Safe.Why)
	}
	rule := a.Build.Limit("whirl_fraction")
	f.judgeAt(m, s.Tube.Safe.V, rule, false)
	f.HasLimit = s.Tube.Safe.Known
	f.Advice = advise(f, map[Status]string{
		OK:   "The shaft stays well below the speed at which it whirls.",
		Over: "The shaft can whirl and break out: a larger tube, a shorter shaft with a carrier bearing, or less speed. Fit a safety loop whatever the figure.",
	})
	a.Findings = append(a.Findings, f)
}
