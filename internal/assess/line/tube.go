package line

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Tube is what follows from a shaft's tube. Strength figures are screening
// figures for the bare tube.
type Tube struct {
	Given     bool           // the file gives its outside diameter
	Whirl     finding.Number // whirling speed, rad/s
	Safe      finding.Number // the part of it that may be used, rad/s
	Mass      finding.Number // kg
	Shear     finding.Number // MPa at the largest torque
	Twist     finding.Number // rad at the largest torque
	Unbalance finding.Number // permissible residual unbalance at the largest speed, g·mm
}

// tubes works out the tube of every shaft that has one.
func (a *judge) tubes() {
	l, out := a.file, a.out
	for i := range out.Shafts {
		if !out.Shafts[i].Tube.Given {
			continue
		}
		spec, s := l.Shaft(i), &out.Shafts[i]
		if !spec.Wall.Known() {
			s.Tube.none(s.Tube.Shear.Why)
		} else if t, err := tubeOf(spec, s.Length); err != nil {
			shear := s.Tube.Shear // the length does not matter to it
			s.Tube.none(err.Error())
			s.Tube.Shear = shear
		} else {
			a.solveTube(t, s)
		}
		if out.Speed.Known || out.Speed.Why != "" {
			a.whirlFinding(i)
		}
		if out.Torque.Known || out.Torque.Why != "" {
			f := a.shears[i]
			f.Assumes = slices.Clone(f.Assumes)
			a.Findings = append(a.Findings, f)
		}
	}
}

// shear works out how much the tubes are sheared, which no length matters to.
func (p *Prepared) shear() {
	p.shears = make([]finding.Finding, len(p.base.Shafts))
	for i := range p.base.Shafts {
		spec, s := p.file.Shaft(i), &p.base.Shafts[i]
		if s.Tube.Given = spec.Outside.Known(); !s.Tube.Given {
			continue
		}
		s.Tube.Shear = shearOf(tubeSpec(spec, 1), &p.base)
		if !spec.Wall.Known() {
			s.Tube.Shear = finding.Missing(fmt.Sprintf("line.%s.shaft.%d.wall is not in the file yet", p.file.Name, i+1))
		}
		p.shears[i] = p.shearFinding(i, &spec)
	}
}

func (t *Tube) none(why string) {
	m := finding.Missing(why)
	t.Whirl, t.Safe, t.Mass, t.Shear, t.Twist, t.Unbalance = m, m, m, m, m, m
}

func tubeOf(spec project.LineShaft, length finding.Number) (shaft.Tube, error) {
	if !length.Known {
		return shaft.Tube{}, fmt.Errorf("%s", length.Why)
	}
	return tubeSpec(spec, length.V), nil
}

// tubeSpec is a shaft's tube as the file has it, of a length in mm.
func tubeSpec(spec project.LineShaft, length float64) shaft.Tube {
	material := shaft.Steel()
	if spec.Material == project.AluminiumTube {
		material = shaft.Aluminium()
	}
	material.E = spec.E.Or(material.E)
	if d, ok := spec.Density.Get(); ok {
		material.Density = d * shaft.KgPerM3
	}
	return shaft.Tube{Outside: spec.Outside.V(), Wall: spec.Wall.V(), Length: length, Material: material}
}

func shearOf(t shaft.Tube, l *Line) finding.Number {
	if !l.Torque.Known {
		return finding.Missing(l.Torque.Why)
	}
	v, err := t.Shear(l.Torque.V)
	if err != nil {
		return finding.Missing(err.Error())
	}
	return finding.Exact(v)
}

// Yield strengths of tubes (MPa) when the file does not say: the weakest and
// the strongest that are usual. Handbook values, from memory.
var usualYield = map[project.TubeMaterial]struct{ weak, strong float64 }{
	project.SteelTube:     {235, 550},
	project.AluminiumTube: {145, 300},
}

// shearFinding holds the shear of the bare tube against its yield in shear,
// 1/√3 of that in tension (von Mises). A tube whose steel is not named is ok
// when the weakest usual one would do, over when the strongest would not, and
// not known between.
func (p *Prepared) shearFinding(i int, spec *project.LineShaft) finding.Finding {
	l, s, n := &p.base, &p.base.Shafts[i], &p.names.shafts[i].shear
	f := finding.Finding{ID: n.id, Title: n.title, Kind: quantity.Stress}
	rule := p.Build.Limit("tube_use")
	inShear := rule.Value / math.Sqrt(3)
	yield, named := spec.Yield.Get()
	usual := usualYield[project.TubeMaterial(materialOf(*spec))]
	if !named {
		yield = usual.weak
		if s.Tube.Shear.Known && s.Tube.Shear.V > inShear*usual.strong {
			yield = usual.strong
		}
	}
	f.JudgeAt(s.Tube.Shear, inShear*yield, rule, false)
	stress := func(v float64) string { return quantity.Plain(quantity.Stress, v, p.Build.Units, 0) }
	f.Source = fmt.Sprintf("%g of the yield in shear, 1/√3 of %s (von Mises); %s", rule.Value, stress(yield), rule.Source)
	switch {
	case !f.HasValue:
	case !named && f.Status == finding.Over && yield == usual.weak:
		f.Unknown(fmt.Sprintf("line.%s.shaft.%d.yield is not in the file; a tube of %s yield strength or more would do", p.file.Name, s.Number, stress(s.Tube.Shear.V/inShear)))
	case !named:
		f.Assumes = append(f.Assumes, fmt.Sprintf("the tube's yield strength is not in the file: taken as %s, the %s that is usual", stress(yield), map[bool]string{true: "weakest", false: "strongest"}[yield == usual.weak]))
	}
	if f.HasValue {
		if spec.Material == "" && !named {
			f.Assumes = append(f.Assumes, "the tube's material is not in the file: taken as steel")
		}
		f.Assumes = append(f.Assumes, l.torqueAssumes...)
	}
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The bare tube carries the largest torque, by a screening figure: its welds, splines and fatigue are its maker's to judge. The torque is " + l.Torque.From + ".",
			finding.Over: "The tube yields under the largest torque: a larger or thicker tube, or less torque. The torque is " + l.Torque.From + ".",
		}
	})
	return f
}

func (a *judge) solveTube(t shaft.Tube, s *Shaft) {
	l := a.out
	get := func(v float64, err error) finding.Number {
		if err != nil {
			return finding.Missing(err.Error())
		}
		return finding.Exact(v)
	}
	s.Tube.Whirl = get(t.Whirl())
	s.Tube.Safe = s.Tube.Whirl
	if s.Tube.Whirl.Known {
		s.Tube.Safe = get(shaft.Safe(s.Tube.Whirl.V, a.Build.Limit("whirl_fraction").Value))
	}
	s.Tube.Mass = get(t.Mass())
	s.Tube.Twist = finding.Missing(l.Torque.Why)
	if l.Torque.Known {
		twist, err := t.Twist(l.Torque.V)
		s.Tube.Twist = get(twist.Rad(), err)
	}
	s.Tube.Unbalance = finding.Missing(l.Speed.Why)
	if l.Speed.Known && s.Tube.Mass.Known {
		s.Tube.Unbalance = get(shaft.Unbalance(shaft.GradeShaft, s.Tube.Mass.V, l.Speed.V))
	}
}

func (a *judge) whirlFinding(i int) {
	l, s, n := a.out, &a.out.Shafts[i], &a.names.shafts[i].whirl
	f := finding.Finding{ID: n.id, Title: n.title, Kind: quantity.Speed}
	m := l.Speed.Number
	if m.Known && !s.Tube.Safe.Known {
		m = finding.Missing(s.Tube.Safe.Why)
	}
	rule := a.Build.Limit("whirl_fraction")
	f.JudgeAt(m, s.Tube.Safe.V, rule, false)
	f.HasLimit = s.Tube.Safe.Known
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The shaft stays well below the speed at which it whirls. The largest speed is " + l.Speed.From + ".",
			finding.Over: "The shaft can whirl and break out: a larger tube, a shorter shaft with a carrier bearing, or less speed. Fit a safety loop whatever the figure. The largest speed is " + l.Speed.From + ".",
		}
	})
	a.Findings = append(a.Findings, f)
}
