package shop

import (
	"fmt"
	"math"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

// SheetGroup is what has to be cut from plate of one thickness, and from which sheets.
type SheetGroup struct {
	Thickness float64 // mm
	Name      string  // plate 6 mm, in the file's unit
	Pieces    []FlatPiece
	List      bracket.SheetList
	Plan      bracket.SheetPlan
	HasPlan   bool
	Why       string // why there is no plan, where there are sheets
}

// FlatPiece is a plate to be cut, Count of them alike: its outline and holes as it lies
// flat, its box from 0, 0.
type FlatPiece struct {
	Mount, Label  string
	Count         int
	Width, Height float64
	Thickness     float64
	Outline       []r2.Vec
	Holes         []bracket.Hole
}

// Flat is a plate as a piece to be cut.
func Flat(mount, label string, count int, p bracket.Plate) FlatPiece {
	out := FlatPiece{Mount: mount, Label: label, Count: count, Thickness: p.Thickness}
	lo, hi := p.Outline[0], p.Outline[0]
	for _, q := range p.Outline {
		lo, hi = r2.Vec{X: min(lo.X, q.X), Y: min(lo.Y, q.Y)}, r2.Vec{X: max(hi.X, q.X), Y: max(hi.Y, q.Y)}
	}
	out.Width, out.Height = hi.X-lo.X, hi.Y-lo.Y
	for _, q := range p.Outline {
		out.Outline = append(out.Outline, r2.Sub(q, lo))
	}
	for _, h := range p.Holes {
		h.At = r2.Sub(h.At, lo)
		out.Holes = append(out.Holes, h)
	}
	return out
}

// sameThickness is how much plates may differ in thickness and still be of one sheet, mm.
const sameThickness = 0.05

// Sheeting is what the plan of plates follows from.
type Sheeting struct {
	Pieces []FlatPiece
	Stock  []project.SheetStock
	Tools  project.Shop
	Units  quantity.Units
}

// LikeIn takes the thickness of every plate and sheet from the same shop with other values
// within their ±: a plate is cut from the sheet that it was planned from, however thick that
// turns out. Nothing is taken where the two have not the same plates and sheets.
func (s *Sheeting) LikeIn(o Sheeting) {
	if slices.EqualFunc(s.Pieces, o.Pieces, func(a, b FlatPiece) bool { return a.Label == b.Label }) {
		s.Pieces = slices.Clone(s.Pieces)
		for i := range s.Pieces {
			s.Pieces[i].Thickness = o.Pieces[i].Thickness
		}
	}
	if len(s.Stock) == len(o.Stock) {
		s.Stock = slices.Clone(s.Stock)
		for i := range s.Stock {
			s.Stock[i].Thickness = o.Stock[i].Thickness
		}
	}
}

// Nest groups the plates by their thickness, the thickest first, and places each group on
// the sheets of that thickness.
func (s Sheeting) Nest() (out []SheetGroup) {
	for _, p := range s.Pieces {
		k := slices.IndexFunc(out, func(g SheetGroup) bool { return math.Abs(g.Thickness-p.Thickness) < sameThickness })
		if k < 0 {
			k = len(out)
			out = append(out, SheetGroup{Thickness: p.Thickness, Name: "plate " + quantity.Format(quantity.Length, p.Thickness, s.Units, 1)})
		}
		out[k].Pieces = append(out[k].Pieces, p)
	}
	slices.SortStableFunc(out, func(a, b SheetGroup) int { return int(math.Copysign(1, b.Thickness-a.Thickness)) })
	for i := range out {
		s.nest(&out[i])
	}
	return out
}

func (s Sheeting) nest(g *SheetGroup) {
	g.List = bracket.SheetList{Name: g.Name, Kerf: s.Tools.PlateKerf.Or(usualKerf)}
	for _, p := range g.Pieces {
		g.List.Pieces = append(g.List.Pieces, bracket.FlatPiece{Name: p.Label, Width: p.Width, Height: p.Height, Count: p.Count})
	}
	for _, x := range s.Stock {
		if math.Abs(x.Thickness.V()-g.Thickness) >= sameThickness || x.Count.Known() && x.Count.V() < 1 {
			continue
		}
		g.List.Stock = append(g.List.Stock, bracket.StockSheet{
			Name: g.Name, Length: x.Length.V(), Width: x.Width.V(), Count: int(x.Count.Or(0)), Cost: x.Cost.Or(0), OnHand: x.OnHand,
		})
	}
	if len(g.List.Stock) == 0 {
		return
	}
	var err error
	if g.Plan, err = g.List.Plan(); err != nil {
		g.Why = quantity.Restate(err.Error(), s.Units)
		return
	}
	g.HasPlan = true
}

// Findings say whether the sheets hold all the plates; none where there are no sheets.
func (s Sheeting) Findings(groups []SheetGroup) (out []finding.Finding) {
	if len(s.Stock) == 0 {
		return nil
	}
	for i := range groups {
		g := &groups[i]
		f := finding.Finding{ID: finding.Stock(g.slug()), Title: g.Name + ", stock bought", Kind: quantity.Count, Source: "the sheets in the file"}
		switch {
		case len(g.List.Stock) == 0:
			f.Unknown("there is no [[sheet]] of " + g.Name + " in the file")
			f.Says = finding.Say(finding.NotYet(f.Missing))
		case g.Why != "":
			f.Status, f.Says = finding.Over, finding.Say(finding.Sentence(g.Why))
		default:
			f.Figure(finding.Exact(float64(g.Plan.Bought)))
			f.Says = finding.Say(fmt.Sprintf("Every plate has its place on a sheet; %s. That is by strips, first fit by height, and not proved to be the least.", g.Bought()))
		}
		out = append(out, f)
	}
	return out
}

// slug is the thickness as an id has it: plate_6_mm, whatever unit the file has.
func (g *SheetGroup) slug() string { return finding.Slug(fmt.Sprintf("plate %g mm", g.Thickness)) }

// Bought says in words how many sheets are bought and what they cost.
func (g *SheetGroup) Bought() string {
	hand := len(g.Plan.Sheets) - g.Plan.Bought
	words := fmt.Sprintf("%d bought", g.Plan.Bought)
	if hand > 0 {
		words += fmt.Sprintf(", %d on hand", hand)
	}
	switch {
	case g.Plan.Bought == 0:
		return words
	case g.Plan.Priced:
		return words + fmt.Sprintf(", which costs %.2f", g.Plan.Cost)
	}
	return words + ", at a price that is not in the file"
}

// Values lists every number of the group.
func (g *SheetGroup) Values(l *finding.List) {
	id := "cuts." + g.slug()
	count := 0
	for _, p := range g.Pieces {
		count += max(1, p.Count)
	}
	l.Add(id+".pieces", quantity.Count, float64(count))
	if g.HasPlan {
		l.Add(id+".sheets", quantity.Count, float64(len(g.Plan.Sheets)))
		l.Add(id+".bought", quantity.Count, float64(g.Plan.Bought))
		l.Add(id+".used", quantity.Number, g.Plan.Area/g.Plan.Of)
		if g.Plan.Priced {
			l.Add(id+".cost", quantity.Number, g.Plan.Cost)
		}
	}
}
