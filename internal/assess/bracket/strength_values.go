package bracket

import (
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// sectionValues lists the figures of a leg's section: mm², mm³ and mm⁴ as plain numbers.
func (b *Bracket) sectionValues(l *finding.List) {
	if !b.HasCut {
		return
	}
	p := &b.Cut.Section
	for _, v := range []struct {
		name string
		v    float64
	}{{"area", p.Area}, {"iy", p.Iy}, {"iz", p.Iz}, {"it", p.It}, {"wy", p.Wy}, {"wz", p.Wz}, {"shear_up", p.Avz}, {"shear_across", p.Avy}} {
		l.Add("bracket."+b.Name+".section."+v.name, quantity.Number, v.v)
	}
}

// values lists every number of a bracket's strength.
func (s *Strength) values(id string, l *finding.List) {
	if !s.Begun {
		return
	}
	if u := s.Leg; u.Of.Known {
		l.Add(id+".leg.stress", quantity.Stress, u.Stress.Equivalent)
		l.Add(id+".leg.axial", quantity.Stress, u.Stress.Axial)
		l.Add(id+".leg.bending", quantity.Stress, u.Stress.BendY+u.Stress.BendZ)
		l.Add(id+".leg.torsion", quantity.Stress, u.Stress.Torsion)
		l.Add(id+".leg.yield", quantity.Stress, u.Stress.Allowable)
	}
	if u := s.Pin; u.Of.Known {
		l.Add(id+".pin.across", quantity.Force, u.Across)
		l.Add(id+".pin.along", quantity.Force, u.Along)
		l.Add(id+".pin.beside_hole", quantity.Number, u.NetUsed)
		l.Add(id+".pin.torque", quantity.Torque, u.Tighten.Torque)
	}
	if u := s.Struts; u.Of.Known {
		l.Add(id+".struts.used", quantity.Number, u.Of.V)
	}
	if u := s.Weld; u.Of.Known {
		l.Add(id+".weld.length", quantity.Length, u.Line.Length)
		l.Add(id+".weld.throat", quantity.Stress, u.Stress.Throat)
		l.Add(id+".weld.counted", quantity.Length, u.Counted)
		l.Add(id+".weld.strength", quantity.Stress, u.Stress.Strength.Throat)
	}
	if u := s.Seams; u.Of.Known {
		l.Add(id+".seams.flow", quantity.Number, u.Flow) // N/mm
	}
	s.PadPlate.values(id+".pad_plate", l)
	s.RailPlate.values(id+".rail_plate", l)
	if u := s.Bolts; u.Of.Known {
		l.Add(id+".bolts.shear", quantity.Force, u.Shear)
		l.Add(id+".bolts.tension", quantity.Force, u.Tension)
		l.Add(id+".bolts.parting", quantity.Number, u.Check.Parting)
	}
	if t := s.Bolts.Tighten; t.Torque > 0 {
		l.Add(id+".bolts.area", quantity.Number, t.Area)
		l.Add(id+".bolts.proof", quantity.Force, t.Proof)
		l.Add(id+".bolts.preload", quantity.Force, t.Preload)
		l.Add(id+".bolts.torque", quantity.Torque, t.Torque)
	}
}

func (u PlateUse) values(id string, l *finding.List) {
	if !u.Of.Known {
		return
	}
	l.Add(id+".bends_through", quantity.Number, u.Of.V)
	l.Add(id+".arm", quantity.Length, u.Bending.Arm)
	l.Add(id+".spread", quantity.Length, u.Bending.Width)
}
