package fold

// Practice is a rule of the trade held against a folded strip: what it has and the
// least that is wanted, mm.
type Practice struct {
	Of        string // what of it
	Has, Want float64
}

// Share is how much of what is wanted it has; 1 and more keeps it.
func (p *Practice) Share() float64 { return p.Has / p.Want }

// Rules of folding plate of mild steel, all common practice, no source: an inside radius
// of a thickness and more, or the outside of the bend cracks; metal of two thicknesses and more between a hole's edge and
// where the bend begins, or the hole is drawn out of round; and a flat of four
// thicknesses and the radius over its outside corner, or the die does not hold it.
const (
	leastRadius  = 1.0 // thicknesses
	leastToBend  = 2.0
	leastOutside = 4.0
)

// Practices are the rules that a folded strip is held against, its bends first; nil
// where it has no bends.
func (f *Folded) Practices() (out []Practice) {
	if len(f.Bends) == 0 {
		return nil
	}
	out = append(out, Practice{"inside radius of its bends", f.Radius, leastRadius * f.Thickness})
	for i := range f.Flats {
		flat := &f.Flats[i]
		if i == 0 || i == len(f.Flats)-1 {
			out = append(out, Practice{"outside size of the flat " + f.end(i), flat.Outside, leastOutside*f.Thickness + f.Radius})
		}
	}
	for i, h := range f.Holes {
		at, err := f.onBlank(i)
		if err != nil {
			continue // Fold refuses it
		}
		y, flat := at.Y+f.Length/2, &f.Flats[h.Flat]
		room := flat.To - flat.From
		if h.Flat > 0 {
			room = y - flat.From
		}
		if h.Flat < len(f.Bends) {
			room = min(room, flat.To-y)
		}
		out = append(out, Practice{"metal between the holes " + f.end(h.Flat) + " and the bend", room - h.Diameter/2, leastToBend * f.Thickness})
	}
	return out
}

func (f *Folded) end(flat int) string {
	if flat == 0 {
		return "at its foot"
	}
	if flat == len(f.Flats)-1 {
		return "at its pad"
	}
	return "of its web"
}
