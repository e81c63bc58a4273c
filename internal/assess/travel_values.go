package assess

import (
	"strconv"

	"fitup/internal/project/quantity"
)

// values lists every number of a line's travel under the line's id, such as
// line.rear. A nil travel has none.
func (t *Travel) values(id string, l *valueList) {
	if t == nil {
		return
	}
	name := id + ".travel"
	for _, w := range t.Worst {
		l.extreme(name+".joint."+strconv.Itoa(w.Number)+".max", quantity.Angle, w.TravelExtreme)
	}
	if s := t.Slip; s != nil {
		l.add(name+".slip.ride", quantity.Length, s.Ride)
		l.extreme(name+".slip.shortest", quantity.Length, s.Shortest)
		l.extreme(name+".slip.longest", quantity.Length, s.Longest)
		l.measure(name+".slip.room_to_bottom", quantity.Length, s.Bottom)
		l.measure(name+".slip.room_to_pull", quantity.Length, s.Pull)
	}
	if r := t.Reach; r != nil {
		l.add(name+".reach.bump", quantity.Length, r.Bump)
		l.add(name+".reach.droop", quantity.Length, r.Droop)
		l.extreme(name+".strain.max", quantity.Length, t.Strain)
	}
	for k, p := range t.Points {
		at := name + ".point." + strconv.Itoa(k+1)
		l.add(at+".rise", quantity.Length, p.Rise)
		for i, angle := range p.Angles {
			l.add(at+".joint."+strconv.Itoa(i+1), quantity.Angle, angle)
		}
		l.add(at+".length", quantity.Length, p.Length)
		l.add(at+".pinion", quantity.Slope, p.PinionSlope)
		l.add(at+".strain", quantity.Length, p.Strain)
	}
	for _, h := range t.HalfShafts {
		h.values(id+".half_shaft."+h.ID, l)
	}
}

func (h HalfShaftTravel) values(name string, l *valueList) {
	if h.Why != "" {
		return
	}
	l.extreme(name+".inner.max", quantity.Angle, h.Inner)
	l.extreme(name+".outer.max", quantity.Angle, h.Outer)
	l.extreme(name+".plunge_in.max", quantity.Length, h.PlungeIn)
	l.extreme(name+".plunge_out.max", quantity.Length, h.PlungeOut)
	for k, p := range h.Points {
		at := name + ".point." + strconv.Itoa(k+1)
		l.add(at+".rise", quantity.Length, p.Rise)
		l.add(at+".inner", quantity.Angle, p.InnerAngle.Rad())
		l.add(at+".outer", quantity.Angle, p.OuterAngle.Rad())
		l.add(at+".length", quantity.Length, p.Length)
		l.add(at+".plunge", quantity.Length, p.Plunge)
	}
}

// extreme lists a worst value and the rise it is at.
func (l *valueList) extreme(name string, k quantity.Kind, e TravelExtreme) {
	l.add(name, k, e.Value)
	l.add(name+".at", quantity.Length, e.Rise)
}
