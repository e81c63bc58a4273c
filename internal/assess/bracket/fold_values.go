package bracket

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// PlateRows are what is needed to cut and fold a mount that is plate, in the order of
// the work. Nil where it is none.
func (b *Bracket) PlateRows() (rows []Row) {
	m := b.Plates
	if m == nil {
		return nil
	}
	id := "bracket." + b.Name + ".plate."
	add := func(label, name string, k quantity.Kind, v float64, words string) {
		rows = append(rows, Row{label, id + name, k, v, words})
	}
	switch {
	case m.Box != nil:
		b.boxRows(add)
	case m.Clip != nil:
		b.clampRows(add)
	default:
		b.stripRows(add)
	}
	if k, ok := b.PlateStiffness(); ok {
		on := "on a rail that does not give way"
		if m.Clip != nil {
			on = "on a clamp and a tube that do not give way"
		}
		add("stiffness, fore and aft", "stiffness.along", quantity.Rate, k.X, "of its pad, "+on)
		add("stiffness, across", "stiffness.across", quantity.Rate, k.Y, "")
		add("stiffness, up", "stiffness.up", quantity.Rate, k.Z, "")
	}
	if g := b.Strength.Gives; g.Known {
		add("pad goes", "gives", quantity.Length, g.V, b.Strength.Leg.Case)
	}
	add("mass", "mass", quantity.Mass, b.Mass.V, b.massWords())
	return rows
}

// massWords say what is not in the mass of a mount that is plate.
func (b *Bracket) massWords() string {
	if b.Plates.Clip != nil {
		return "the tab and the clamp's sleeve, without its ears and bolts"
	}
	return ""
}

// addRow puts one more row down, its name behind that of the plate.
type addRow = func(label, name string, k quantity.Kind, v float64, words string)

// stripRows are those of one strip, folded or flat.
func (b *Bracket) stripRows(add addRow) {
	m := b.Plates
	f := m.Fold
	add("thickness", "thickness", quantity.Length, f.Thickness, "")
	add("width", "width", quantity.Length, f.Width, "")
	add("flat length", "length", quantity.Length, f.Length, "laid flat, from the free end of its foot to that of its pad")
	if len(f.Bends) > 0 {
		add("inside radius", "radius", quantity.Length, f.Radius, "of every bend")
	}
	for i := range f.Bends {
		x, n := &f.Bends[i], fmt.Sprint(i+1)
		way := "down"
		if x.Up {
			way = "up"
		}
		add("bend "+n+", line", "bend."+n+".at", quantity.Length, x.Middle, "its middle, from the free end of the foot, on the upper face: the one that does not go on the rail")
		add("bend "+n+", begins", "bend."+n+".from", quantity.Length, x.From, "from the same")
		add("bend "+n+", ends", "bend."+n+".to", quantity.Length, x.To, "from the same")
		add("bend "+n+", turned", "bend."+n+".turn", quantity.Angle, x.Turn.Abs().Rad(), way+", from flat")
		add("bend "+n+", between flats", "bend."+n+".between", quantity.Angle, x.Between, "what an angle gauge shows inside the bend")
		add("bend "+n+", takes", "bend."+n+".deduction", quantity.Length, x.Deduction, "from the outside sizes of its two flats")
	}
	for i := range f.Flats {
		if len(f.Bends) > 0 {
			add("flat "+fmt.Sprint(i+1)+", outside", "flat."+fmt.Sprint(i+1)+".outside", quantity.Length, f.Flats[i].Outside, endOfFlat(m, i)+", over the outside corners of its bends")
		}
	}
	s := &b.ready.kind.spec
	b.holeRows("foot", &s.RailPlate, f.Width, m.Ends[0], "the free end of the foot", add)
	b.holeRows("pad", &s.PadPlate, f.Width, s.Past.V(), "the free end of the pad", add)
	if m.Kind == project.BoltedTab {
		add("packing", "packing", quantity.Length, m.Packing, "between the tab and what its pad carries")
	}
}

// holeRows say where the holes of an end of a plate are: from its edges, and from each
// other.
func (b *Bracket) holeRows(name string, p *project.MountPlate, width, end float64, from string, add addRow) {
	d, ok := p.Hole.Get()
	if !ok {
		return
	}
	key := map[string]string{"foot": "rail_plate", "pad": "pad_plate"}[name]
	across, high := acrossOf(key, p), highOf(key, p)
	wide, deep := float64(across-1)*p.PitchAcross.V(), float64(high-1)*p.PitchHigh.V()
	add(name+" holes", name+".hole", quantity.Length, d, fmt.Sprintf("diameter, %d of them", across*high))
	add(name+" holes, from the end", name+".end", quantity.Length, end-deep/2, "middle of the first row, from "+from)
	add(name+" holes, from the side", name+".side", quantity.Length, (width-wide)/2, "middle of the outer hole, from either side")
	if across > 1 {
		add(name+" holes, pitch across", name+".pitch_across", quantity.Length, p.PitchAcross.V(), "")
	}
	if high > 1 {
		add(name+" holes, pitch along", name+".pitch_along", quantity.Length, p.PitchHigh.V(), "")
	}
}

// PlateMatches list how a plate that is made after the other side's differs from the
// plain mirror image of that one. Nil where it mirrors none.
func (b *Bracket) PlateMatches() (out []MatchRow) {
	if b.Plates == nil || b.Plates.mirrors == nil {
		return nil
	}
	add := func(label, key string, k quantity.Kind, mirror, made float64) {
		out = append(out, MatchRow{label, "match." + b.Name + ".plate." + key, k, mirror, made, made - mirror})
	}
	if b.Plates.Fold == nil {
		b.sheetMatches(add)
		return out
	}
	was, is := b.Plates.mirrors.Fold, b.Plates.Fold
	if was == nil || len(was.Bends) != len(is.Bends) {
		return nil
	}
	add("flat length", "length", quantity.Length, was.Length, is.Length)
	for i := range is.Bends {
		n := fmt.Sprint(i + 1)
		add("bend "+n+", line", "bend."+n+".at", quantity.Length, was.Bends[i].Middle, is.Bends[i].Middle)
		add("bend "+n+", turned", "bend."+n+".turn", quantity.Angle, math.Abs(was.Bends[i].Turn.Rad()), math.Abs(is.Bends[i].Turn.Rad()))
	}
	return out
}

// plateValues lists every number of a mount that is plate.
func (b *Bracket) plateValues(l *finding.List) {
	if b.Plates == nil {
		return
	}
	l.Point("bracket."+b.Name+".pad", b.Plates.Pad.Point)
	l.Point("bracket."+b.Name+".foot", b.Plates.Foot.At)
	for _, r := range b.PlateRows() {
		l.Add(r.Name, r.Kind, r.V)
	}
	for _, r := range b.PlateMatches() {
		l.Add(r.Name+".mirror", r.Kind, r.Mirror)
		l.Add(r.Name+".made", r.Kind, r.Made)
		l.Add(r.Name+".by", r.Kind, r.By)
	}
}

// folds says that a mount that is plate closes and can be folded: by the rule of the
// trade that it is nearest to.
func (r *Result) folds(b *Bracket, f *finding.Finding) {
	m := b.Plates
	f.Title, f.Kind, f.Source = b.Label+" bracket, its plate", quantity.Length, finding.Practice
	if m.Lean > 0.05*geom.Deg {
		as := "as the rail's face does"
		if m.Clip != nil {
			as = "as the tube runs, or square to it"
		}
		f.Assumes = append(f.Assumes, fmt.Sprintf("a pad that looks %s, %.1f° from what the file says", as, m.Lean.Degrees()))
	}
	if m.Fold == nil {
		r.cutsOut(b, f)
		return
	}
	rules := m.Fold.Practices()
	if len(rules) == 0 {
		f.Title += ", length"
		f.Figure(finding.Exact(m.Fold.Length))
		f.Says = finding.Say("The plate lies flat from its foot to its pad; fitup cuts FILE prints it.")
		return
	}
	worst := rules[0]
	for _, p := range rules[1:] {
		if p.Share() < worst.Share() {
			worst = p
		}
	}
	f.Title += ", " + worst.Of
	f.JudgeAt(finding.Exact(worst.Has), worst.Want, project.Rule{Kind: quantity.Length, Source: finding.Practice}, true)
	f.Says = finding.Asked(*f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:   "The plate closes and can be folded; fitup cuts FILE prints it laid flat, with its bend lines.",
			finding.Over: "Too little " + worst.Of + " to fold it well: take a larger radius, a longer flat, or holes farther from the bend.",
		}
	})
}

// edged is an end of a mount with holes in it, and how far their middles are from its
// edges.
type edged struct {
	end        string
	hole, edge float64
}

// holesToEdge are the ends of the bracket that have holes.
func (b *Bracket) holesToEdge() (out []edged) {
	switch {
	case b.Plates != nil && b.Plates.Fold == nil:
		w := &b.Sheets[0] // which the pad is on
		if d := b.ready.kind.spec.PadPlate.Hole.V(); d > 0 {
			out = append(out, edged{"pad", d, w.Figures.Edge + d/2})
		}
		return out
	case b.Plates != nil:
		s := &b.ready.kind.spec
		if d := s.PadPlate.Hole.V(); d > 0 {
			out = append(out, edged{"pad", d, b.padEdge()})
		}
		if d := s.RailPlate.Hole.V(); d > 0 {
			out = append(out, edged{"rail", d, b.footEdge()})
		}
		return out
	}
	for _, w := range []*PlateWork{b.PadPlate, b.RailPlate} {
		if w != nil && len(w.Plate.Holes) > 0 {
			d := w.Spec.Hole.V()
			out = append(out, edged{w.End, d, w.Figures.Edge + d/2})
		}
	}
	return out
}

// plateBodies are a folded plate as what else has to stay clear of it: a box for each
// flat, and some for each bend.
func (b *Bracket) plateBodies() (out []Body) {
	for i := range b.Plates.Sheets() {
		s := &b.Plates.Sheets()[i]
		for _, pose := range s.Poses() {
			out = append(out, flatBody(s.Name, s.Plate, pose))
		}
	}
	if c := b.Plates.Clip; c != nil {
		r := c.Tube/2 + c.Wall
		out = append(out, Body{Name: "clamp", Pose: geom.Pose{X: c.Axis, Y: c.Pose.X, Z: r3.Cross(c.Axis, c.Pose.X), At: c.Pose.At}, Half: r3.Vec{X: c.Length / 2, Y: r, Z: r}, Round: true})
	}
	if f := b.Plates.Fold; f != nil {
		for _, p := range f.Pieces(bendPieces) {
			out = append(out, boxRound("plate", f.Pose, p.A, p.B))
		}
	}
	return out
}

// bendPieces is in how many a bend is taken.
const bendPieces = 4
