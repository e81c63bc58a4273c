package rail

import (
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/section"
	"fitup/internal/project/quantity"
)

// Values lists the numbers of the rails. Areas are mm², second moments and torsion
// constants mm⁴, moduli mm³, as plain numbers.
func (r *Result) Values(l *finding.List) {
	if !r.Given() {
		return
	}
	for _, b := range r.Rails {
		id := "rail." + string(b.Side)
		for _, p := range b.Lengths() {
			at := id + ".length." + strconv.Itoa(p.Length+1)
			l.Add(at+".from", quantity.Length, p.From)
			l.Add(at+".to", quantity.Length, p.To)
			figures(l, at+".now", &p.Now)
			figures(l, at+".was", &p.Was)
		}
		for i, s := range b.Supports {
			at := id + ".support." + strconv.Itoa(i+1)
			l.Add(at+".station", quantity.Length, s.At)
			l.Add(at+".force", quantity.Force, s.Force)
		}
		if b.Why == "" {
			l.Add(id+".bending.station", quantity.Length, b.Bending.At)
			l.Add(id+".bending.moment", quantity.Torque, b.Bending.Moment)
			l.Add(id+".bending.stress", quantity.Stress, b.Bending.Stress)
			l.Add(id+".sinks", quantity.Length, b.Sinks())
		}
		for i, p := range b.Joints {
			at := id + ".splice." + strconv.Itoa(i+1)
			l.Put(at+".stress", quantity.Stress, p.Stress, p.Use.Known)
			l.Put(at+".share", quantity.Number, p.Share, p.Use.Known)
		}
	}
	t := &r.Twist
	known := t.Why == ""
	l.Put("rail.twist.angle", quantity.Angle, t.Angle, known)
	l.Put("rail.twist.stiffness.now", quantity.Torque, t.Now*degree, known) // for each degree
	l.Put("rail.twist.stiffness.was", quantity.Torque, t.Was*degree, known)
	for _, w := range t.Rails {
		l.Put("rail."+string(w.Side)+".twist.torque", quantity.Torque, w.Torque, known)
		l.Put("rail."+string(w.Side)+".twist.shear", quantity.Stress, w.Shear, known)
	}
}

func figures(l *finding.List, id string, f *section.Figures) {
	for _, v := range []struct {
		name string
		v    float64
	}{
		{"area", f.Area}, {"ix", f.Ix}, {"iy", f.Iy}, {"ixy", f.Ixy}, {"wx", f.Wx}, {"wy", f.Wy}, {"j", f.J},
		{"shear_up", f.ShearY}, {"shear_across", f.ShearX},
	} {
		l.Add(id+"."+v.name, quantity.Number, v.v)
	}
	l.Add(id+".principal", quantity.Angle, f.Turn.Rad())
	l.Put(id+".shear_centre.across", quantity.Length, f.ShearCentre.X-f.Centroid.X, f.HasShearCentre)
	l.Put(id+".shear_centre.up", quantity.Length, f.ShearCentre.Y-f.Centroid.Y, f.HasShearCentre)
}

// Lengths are the lengths of the rail with their figures, those of a tapering one at
// its middle.
func (r *Rail) Lengths() []Piece {
	var out []Piece
	for i := range r.Pieces {
		p := r.Pieces[i]
		if n := len(out); n > 0 && out[n-1].Length == p.Length {
			if mid := (out[n-1].From + p.To) / 2; p.From <= mid && i+1 < len(r.Pieces) && p.way <= 0.5 {
				p.From = out[n-1].From
				out[n-1] = p
			}
			out[n-1].To = p.To
			continue
		}
		out = append(out, p)
	}
	return out
}

// Sinks is the most that the rail sinks between its supports over the bump, mm; below
// zero where it only rises.
func (b *Bent) Sinks() float64 {
	most := 0.0
	const steps = 200
	for i := range steps + 1 {
		w := b.Beam.Deflection(b.From+(b.To-b.From)*float64(i)/steps) * b.Bump
		if w > most {
			most = w
		}
	}
	return most
}
