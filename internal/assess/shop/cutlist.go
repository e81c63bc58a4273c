package shop

import (
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// CutGroup is what has to be cut from one section, and from which bars.
type CutGroup struct {
	Section string
	Pieces  []CutPiece
	Stock   []project.StockBar // of this section
	List    bracket.CutList
	Plan    bracket.CutPlan
	HasPlan bool
	Why     string // why there is no plan, where there is stock
}

// CutPiece is one leg to be cut.
type CutPiece struct {
	Mount, Label string
	Section      string
	Overall      float64 // tip to tip, mm, without the kerf
}

// Effort of the search for the plan that buys least: places it may try. A
// command may take the time that a screen cannot.
const (
	SearchInRun  = 2000
	SearchAtEase = 200000
)

// Cutting is what a cut list follows from.
type Cutting struct {
	Pieces []CutPiece
	Stock  []project.StockBar
	Tools  project.Shop
	Units  quantity.Units // in which it is said why there is no plan
}

// Nest groups the pieces by section and nests each group on the stock of that
// section, trying at most so many places.
func (c Cutting) Nest(effort int) []CutGroup {
	var out []CutGroup
	for _, p := range c.Pieces {
		k := slices.IndexFunc(out, func(g CutGroup) bool { return g.Section == p.Section })
		if k < 0 {
			k = len(out)
			out = append(out, CutGroup{Section: p.Section})
		}
		out[k].Pieces = append(out[k].Pieces, p)
	}
	for i := range out {
		c.nest(&out[i], effort)
	}
	return out
}

const usualKerf = 3 // mm

func (c Cutting) nest(g *CutGroup, effort int) {
	l := bracket.CutList{Name: g.Section, Kerf: c.Tools.Kerf.Or(usualKerf), Trim: c.Tools.Trim.Or(0), Budget: effort}
	for _, p := range g.Pieces {
		l.Pieces = append(l.Pieces, bracket.Piece{Name: p.Label, Length: p.Overall})
	}
	for _, s := range c.Stock {
		if stockName(s.Section) != g.Section {
			continue
		}
		if s.Count.Known() && s.Count.V() < 1 {
			continue // none is left of it
		}
		g.Stock = append(g.Stock, s)
		l.Stock = append(l.Stock, bracket.StockBar{
			Name: s.Section, Length: s.Length.V(), Count: int(s.Count.Or(0)), Cost: s.Cost.Or(0), OnHand: s.OnHand,
		})
	}
	g.List = l
	if len(l.Stock) == 0 {
		return
	}
	var err error
	if g.Plan, err = l.Plan(); err != nil {
		g.Why = quantity.Restate(err.Error(), c.Units)
		return
	}
	g.HasPlan = true
}

// stockName is the name a stock section goes by in the table, or its own.
func stockName(name string) string {
	if e, ok := section.Named(name); ok {
		return e.Name
	}
	return name
}

// Findings say whether the stock holds all the pieces; none where there is no
// stock.
func (c Cutting) Findings(groups []CutGroup) []finding.Finding {
	if len(c.Stock) == 0 {
		return nil
	}
	out := make([]finding.Finding, 0, len(groups))
	for _, g := range groups {
		f := finding.Finding{ID: finding.Stock(finding.Slug(g.Section)), Title: g.Section + ", stock bought", Kind: quantity.Length, Source: "the stock in the file"}
		switch {
		case len(g.Stock) == 0:
			f.Unknown("there is no [[stock]] of " + g.Section + " in the file")
			f.Says = finding.Say(finding.NotYet(f.Missing))
		case g.Why != "":
			f.Status, f.Says = finding.Over, finding.Say(finding.Sentence(g.Why))
		default:
			f.Figure(finding.Exact(g.Plan.Bought))
			f.Says = finding.Say("Every piece has its place on a bar, and this is the least that can be bought.")
			if !g.Plan.Optimal {
				f.Says = finding.Say("Every piece has its place on a bar; fitup cuts FILE looks longer for a plan that buys less.")
			}
		}
		out = append(out, f)
	}
	return out
}

// Values lists every number of the group.
func (g *CutGroup) Values(l *finding.List) {
	id := "cuts." + finding.Slug(g.Section)
	total := 0.0
	for _, p := range g.Pieces {
		l.Add(id+"."+p.Mount+".overall", quantity.Length, p.Overall)
		total += p.Overall
	}
	l.Add(id+".total", quantity.Length, total)
	if g.HasPlan {
		l.Add(id+".bars", quantity.Count, float64(len(g.Plan.Bars)))
		l.Add(id+".bought", quantity.Length, g.Plan.Bought)
		l.Add(id+".offcuts", quantity.Length, g.Plan.Offcuts)
		l.Add(id+".waste", quantity.Length, g.Plan.Waste)
	}
}
