package travel

import (
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// Values lists every number of a line's travel under the line's id, such as
// line.rear. A nil travel has none.
func (t *Travel) Values(id string, l *finding.List) {
	if t == nil {
		return
	}
	name := id + ".travel"
	for _, w := range t.Worst {
		listExtreme(l, name+".joint."+strconv.Itoa(w.Number)+".max", quantity.Angle, w.Extreme)
	}
	if s := t.Slip; s != nil {
		l.Add(name+".slip.ride", quantity.Length, s.Ride)
		listExtreme(l, name+".slip.shortest", quantity.Length, s.Shortest)
		listExtreme(l, name+".slip.longest", quantity.Length, s.Longest)
		l.Number(name+".slip.room_to_bottom", quantity.Length, s.Bottom)
		l.Number(name+".slip.room_to_pull", quantity.Length, s.Pull)
	}
	if r := t.Reach; r != nil {
		l.Add(name+".reach.bump", quantity.Length, r.Bump)
		l.Add(name+".reach.droop", quantity.Length, r.Droop)
		listExtreme(l, name+".strain.max", quantity.Length, t.Strain)
	}
	for k, p := range t.Points {
		at := name + ".point." + strconv.Itoa(k+1)
		l.Add(at+".rise", quantity.Length, p.Rise)
		for i, angle := range p.Angles {
			l.Add(at+".joint."+strconv.Itoa(i+1), quantity.Angle, angle)
		}
		l.Add(at+".length", quantity.Length, p.Length)
		l.Add(at+".pinion", quantity.Slope, p.PinionSlope)
		l.Add(at+".strain", quantity.Length, p.Strain)
	}
	for i := range t.Straps {
		s := &t.Straps[i]
		at := id + ".strap." + s.ID
		l.Number(at+".ride", quantity.Length, s.Ride)
		l.Number(at+".taut", quantity.Length, s.Taut)
		l.Number(at+".longest", quantity.Length, s.Longest)
		l.Number(at+".longest.droop", quantity.Length, s.Droop)
	}
	for _, h := range t.HalfShafts {
		h.values(id+".half_shaft."+h.ID, l)
	}
}

func (h HalfShaft) values(name string, l *finding.List) {
	if h.Why != "" {
		return
	}
	listExtreme(l, name+".inner.max", quantity.Angle, h.Inner)
	listExtreme(l, name+".outer.max", quantity.Angle, h.Outer)
	listExtreme(l, name+".plunge_in.max", quantity.Length, h.PlungeIn)
	listExtreme(l, name+".plunge_out.max", quantity.Length, h.PlungeOut)
	for k, p := range h.Points {
		at := name + ".point." + strconv.Itoa(k+1)
		l.Add(at+".rise", quantity.Length, p.Rise)
		l.Add(at+".inner", quantity.Angle, p.InnerAngle.Rad())
		l.Add(at+".outer", quantity.Angle, p.OuterAngle.Rad())
		l.Add(at+".length", quantity.Length, p.Length)
		l.Add(at+".plunge", quantity.Length, p.Plunge)
	}
}

// listExtreme lists a worst value and the rise it is at.
func listExtreme(l *finding.List, name string, k quantity.Kind, e Extreme) {
	l.Add(name, k, e.Value)
	l.Add(name+".at", quantity.Length, e.Rise)
}
