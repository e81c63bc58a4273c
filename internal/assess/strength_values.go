package assess

import (
	"fitup/internal/project/quantity"
)

// values lists every number of a bracket's strength.
func (s *Strength) values(id string, l *valueList) {
	if !s.Begun {
		return
	}
	if u := s.Leg; u.Of.Known {
		l.add(id+".leg.stress", quantity.Stress, u.Stress.Equivalent)
		l.add(id+".leg.axial", quantity.Stress, u.Stress.Axial)
		l.add(id+".leg.bending", quantity.Stress, u.Stress.BendY+u.Stress.BendZ)
		l.add(id+".leg.torsion", quantity.Stress, u.Stress.Torsion)
		l.add(id+".leg.yield", quantity.Stress, u.Stress.Allowable)
	}
	if u := s.Weld; u.Of.Known {
		l.add(id+".weld.length", quantity.Length, u.Line.Length)
		l.add(id+".weld.throat", quantity.Stress, u.Stress.Throat)
		l.add(id+".weld.counted", quantity.Length, u.Counted)
		l.add(id+".weld.strength", quantity.Stress, u.Stress.Strength.Throat)
	}
	s.PadPlate.values(id+".pad_plate", l)
	s.RailPlate.values(id+".rail_plate", l)
	if u := s.Bolts; u.Of.Known {
		l.add(id+".bolts.shear", quantity.Force, u.Shear)
		l.add(id+".bolts.tension", quantity.Force, u.Tension)
		l.add(id+".bolts.parting", quantity.Number, u.Check.Parting)
	}
	if t := s.Bolts.Tighten; t.Torque > 0 {
		l.add(id+".bolts.area", quantity.Number, t.Area)
		l.add(id+".bolts.proof", quantity.Force, t.Proof)
		l.add(id+".bolts.preload", quantity.Force, t.Preload)
		l.add(id+".bolts.torque", quantity.Torque, t.Torque)
	}
}

func (u PlateUse) values(id string, l *valueList) {
	if !u.Of.Known {
		return
	}
	l.add(id+".bends_through", quantity.Number, u.Of.V)
	l.add(id+".arm", quantity.Length, u.Bending.Arm)
	l.add(id+".spread", quantity.Length, u.Bending.Width)
}
