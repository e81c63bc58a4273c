package book

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// packings lists the wedges, shims and spring perches, where there are any.
func (s *Sheet) packings(a *assess.Assessment) {
	if len(a.Packings) == 0 {
		return
	}
	u, wedge, perch := a.Build.Units, false, false
	var items []Item
	for i := range a.Packings {
		p := &a.Packings[i]
		items = append(items, text(1, packingLine(p, u))...)
		wedge, perch = wedge || p.Spec.Kind == project.PackWedge, perch || p.Spec.Kind == project.PackPerch
	}
	if wedge {
		items = append(items, text(1, "The pinion's slope in the file is that with its wedge in place: a wedge adds nothing to it here. Its centre bolt is longer by what is over it.")...)
	}
	if perch {
		items = append(items, text(1, "Welding a perch draws the axle tube out of line: tack it, try it with the springs on, weld short runs on both sides in turn. Who is qualified for it, and the local rules, decide.")...)
	}
	s.add("Wedges, shims and spring perches", items...)
}

// packingLine is one of them as it is made or bought.
func packingLine(p *assess.Packing, u quantity.Units) string {
	mm := func(q quantity.LengthQ) string {
		if v, ok := q.Get(); ok {
			return Magnitude(quantity.Length, v, u)
		}
		return "not known"
	}
	out := p.Spec.Name + ", " + string(p.Spec.Kind) + ": " + mm(p.Spec.Length) + " by " + mm(p.Spec.Width) + ", "
	switch {
	case !p.Thick.Known:
		return out + "its thickness is not known: " + p.Thick.Why
	case p.Spec.Kind == project.PackWedge:
		out += Magnitude(quantity.Length, p.Thin.V, u) + " at its thin end and " + Magnitude(quantity.Length, p.Thick.V, u) + " at its thick end, which goes to the " +
			string(p.Spec.ThickEnd) + "; " + Magnitude(quantity.Angle, p.Spec.Angle.V(), u)
	default:
		out += Magnitude(quantity.Length, p.Thin.V, u) + " thick"
	}
	if v, ok := p.Spec.Tube.Get(); ok {
		out += ", its saddle to a tube of " + Magnitude(quantity.Length, v, u)
	}
	if p.Count > 1 {
		out += fmt.Sprintf(", %d of these", p.Count)
	}
	if p.Mass.Known {
		out += ", " + Magnitude(quantity.Mass, p.Mass.V, u)
		if p.Spec.Kind == project.PackPerch {
			out += " before its saddle is cut"
		}
	}
	return out
}
