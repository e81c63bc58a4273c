package shop

import (
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Packing is a wedge, a shim or a spring perch, ready to be made or bought.
type Packing struct {
	Spec  project.Packing
	ID    string
	Count int
	Thin  finding.Number // at its thin end, mm
	Thick finding.Number // and at its thick one: L tan a more
	Mass  finding.Number // of one, of steel, kg; of a perch before its saddle is cut
}

// Packings works out the wedges, shims and perches of a file.
func Packings(list []project.Packing) []Packing {
	out := make([]Packing, len(list))
	for i, s := range list {
		p := Packing{Spec: s, ID: "packing." + strconv.Itoa(i+1), Count: max(1, int(s.Count.Or(1))), Thin: finding.Given(s.Thickness.Get())}
		if !p.Thin.Known {
			p.Thin = missing(i, "thickness")
		}
		p.Thick, p.Mass = p.thick(i), missing(i, "length and width")
		l, w := s.Length, s.Width
		switch {
		case !p.Thick.Known:
			p.Mass = p.Thick
		case l.Known() && w.Known():
			p.Mass = finding.Exact(l.V() * w.V() * (p.Thin.V + p.Thick.V) / 2 * section.SteelDensity)
		}
		out[i] = p
	}
	return out
}

// thick is the thickness at the thick end.
func (p *Packing) thick(i int) finding.Number {
	s := &p.Spec
	switch {
	case s.Kind != project.PackWedge || !p.Thin.Known:
		return p.Thin
	case !s.Angle.Known():
		return missing(i, "angle")
	case !s.Length.Known():
		return missing(i, "length")
	}
	more, err := bracket.Wedge(s.Name, s.Length.V(), geom.Angle(s.Angle.V()))
	if err != nil {
		return finding.Missing(err.Error())
	}
	return finding.Exact(p.Thin.V + more)
}

func missing(i int, key string) finding.Number {
	return finding.Missing("packing[" + strconv.Itoa(i) + "]." + key + " is not in the file yet")
}

// Values lists the numbers of a packing.
func (p *Packing) Values(l *finding.List) {
	l.Number(p.ID+".thin", quantity.Length, p.Thin)
	l.Number(p.ID+".thick", quantity.Length, p.Thick)
	l.Number(p.ID+".mass", quantity.Mass, p.Mass)
}
