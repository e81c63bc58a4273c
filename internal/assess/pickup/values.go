package pickup

import (
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// Values lists the numbers of all pick-ups.
func (r *Result) Values(l *finding.List) {
	if r == nil {
		return
	}
	for _, a := range r.Axles {
		id := "pickup." + a.Name
		for _, s := range a.Sides {
			s.values(l, id+"."+s.Name)
		}
		if b := a.Bar; b != nil {
			l.Number(id+".bar.between", quantity.Length, b.Between)
			l.Number(id+".bar.roll", quantity.Angle, b.Roll)
			l.Number(id+".bar.one_up", quantity.Angle, b.One)
			for i := range b.Halves {
				h := &b.Halves[i]
				at := id + "." + a.Sides[i].Name + ".bar"
				l.Number(at+".arm", quantity.Length, h.Lever)
				l.Number(at+".drop_link", quantity.Length, h.LinkLength)
				l.Number(at+".bump", quantity.Angle, h.Turn[0])
				l.Number(at+".droop", quantity.Angle, h.Turn[1])
			}
		}
	}
}

func (s *Side) values(l *finding.List, id string) {
	if s.Axis.Known {
		x := s.Axis.V
		l.Add(id+".axis.caster", quantity.Angle, x.Caster.Rad())
		l.Add(id+".axis.inclination", quantity.Angle, x.Inclination.Rad())
		if x.Trail != 0 {
			l.Add(id+".axis.trail", quantity.Length, x.Trail)
		}
	}
	if x := s.Spring; x != nil {
		at := id + ".spring"
		if x.Placed {
			l.Point(at+".place", x.Upper)
		}
		for _, v := range []struct {
			key  string
			kind quantity.Kind
			is   finding.Number
		}{
			{"ride_length", quantity.Length, x.Length}, {"ride_coil", quantity.Length, x.Coil}, {"back", quantity.Angle, x.Back}, {"in", quantity.Angle, x.In},
			{"ratio", quantity.Number, x.Ratio}, {"force", quantity.Force, x.Force}, {"at_wheel", quantity.Force, x.AtWheel}, {"wheel_rate", quantity.Rate, x.WheelRate},
		} {
			l.Number(at+"."+v.key, v.kind, v.is)
		}
	}
	if d := s.Damper; d != nil {
		l.Number(id+".damper.length", quantity.Length, d.Length)
		l.Number(id+".damper.touch", quantity.Length, d.Touch)
	}
	if t := s.Tower; t != nil {
		if t.Length.Known {
			l.Point(id+".tower.top", t.Top)
		}
		l.Number(id+".tower.length", quantity.Length, t.Length)
		l.Number(id+".tower.height", quantity.Length, t.Height)
		l.Number(id+".tower.mitre", quantity.Angle, t.Mitre)
		l.Number(id+".tower.foot_cut", quantity.Angle, t.FromUp)
	}
	for k, x := range s.Rods {
		at := fmt.Sprintf("%s.rod.%d", id, k+1)
		l.Number(at+".length", quantity.Length, x.Length)
		l.Number(at+".slope", quantity.Slope, x.Slope)
		l.Number(at+".plan", quantity.Angle, x.Plan)
		for i, end := range []string{"bump", "droop"} {
			l.Number(at+"."+end+".longer", quantity.Length, x.Longer[i])
			l.Number(at+"."+end+".turned", quantity.Angle, x.Turned[i])
		}
	}
}
