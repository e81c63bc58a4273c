package assess

import (
	"fmt"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/shop"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// To the shop trade: the legs to be cut, the tables of fasteners and welds, and
// whether what finish welds rest on is proved.

// What the bench keeps lists of goes by the same names here.
type (
	// Fastener is one line of the table of fasteners.
	Fastener = shop.Fastener
	// CutGroup is what has to be cut from one section, and from which bars.
	CutGroup = shop.CutGroup
	// SheetGroup is what has to be cut from plate of one thickness, and from which sheets.
	SheetGroup = shop.SheetGroup
	// Packing is a wedge, a shim or a spring perch.
	Packing = shop.Packing
	// Weld is one weld of a bracket. Only what is finished counts as carrying.
	Weld = shop.Weld
)

// SearchAtEase is how hard CutPlans may look where nobody waits.
const SearchAtEase = shop.SearchAtEase

// cuts nests the legs on the stock.
func (a *Assessment) cuts() {
	c := a.cutting()
	a.Cuts = c.Nest(shop.SearchInRun)
	p := a.sheeting()
	a.Sheets = p.Nest()
	a.take(finding.ShopTrade, append(c.Findings(a.Cuts), p.Findings(a.Sheets)...))
}

// sheeting are the plates of all brackets and the sheets that they are cut from.
func (a *Assessment) sheeting() shop.Sheeting {
	p := shop.Sheeting{Stock: a.Build.Sheets, Tools: a.Build.Shop, Units: a.Build.Units}
	for i := range a.Brackets {
		for _, x := range a.Brackets[i].FlatPieces() {
			p.Pieces = append(p.Pieces, shop.Flat(a.Brackets[i].Name, x.Name, x.Count, x.Plate))
		}
	}
	for _, x := range a.Adapters {
		if x.Why == "" {
			p.Pieces = append(p.Pieces, shop.Flat(x.Name, x.Label+" adapter", 1, x.Plate))
		}
	}
	if a.as.end {
		p.LikeIn(a.as.of.sheeting())
	}
	return p
}

// CutPlans groups the legs by section and nests each group on the stock of
// that section, trying at most so many places.
func (a *Assessment) CutPlans(effort int) []CutGroup { return a.cutting().Nest(effort) }

func (a *Assessment) cutting() shop.Cutting {
	c := shop.Cutting{Stock: a.Build.Stock, Tools: a.Build.Shop, Units: a.Build.Units}
	for i := range a.Brackets {
		if b := &a.Brackets[i]; b.HasCut {
			c.Pieces = append(c.Pieces, shop.CutPiece{Mount: b.Name, Label: b.Label, Section: b.Section, Overall: b.Overall()})
		}
		for _, m := range a.Brackets[i].MemberCuts() {
			c.Pieces = append(c.Pieces, shop.CutPiece{Mount: a.Brackets[i].Name, Label: a.Brackets[i].Label + " " + m.Name, Section: m.Section, Overall: m.Overall})
		}
	}
	return c
}

// fasteners draws up the table of fasteners.
func (a *Assessment) fasteners() {
	var marks []Fact
	a.Fasteners, marks = shop.Fasteners(a.Build.Fasteners, finding.Given(a.Build.Vehicle.DrivenKm.Get()))
	a.note(finding.ShopTrade, marks...)
	a.Packings = shop.Packings(a.Build.Packing)
}

// welds draws up the weld map.
func (a *Assessment) welds() {
	m := shop.WeldMap{
		Map: a.Build.Welds, Bolted: a.Build.Powertrain.Fixing == project.BoltedOn,
		Proved: a.proved(),
	}
	for i := range a.Brackets {
		if _, ok := a.declared(finding.Bracket(a.Brackets[i].Name)); !ok {
			m.Brackets = append(m.Brackets, a.Brackets[i].Name)
			for _, part := range a.Brackets[i].NotMapped() {
				m.Absent = append(m.Absent, fmt.Sprintf("the weld %q of the %s bracket", part, a.Brackets[i].Label))
			}
		}
	}
	var facts []Fact
	a.Welds, facts = m.Welds()
	a.note(finding.ShopTrade, facts...)
}

// listShop lists what the maps have in numbers.
func (a *Assessment) listShop(l *finding.List) {
	for _, w := range a.Welds {
		l.Number(w.ID+".carries", quantity.Length, w.Carries)
		l.Number(w.ID+".length", quantity.Length, w.AllSides)
	}
	for i := range a.Packings {
		a.Packings[i].Values(l)
	}
	for _, f := range a.Fasteners {
		id := "fastener." + strconv.Itoa(f.Index+1)
		l.Number(id+".torque", quantity.Torque, f.Torque)
		l.Number(id+".torque.computed", quantity.Torque, f.Computed)
		l.Number(id+".preload", quantity.Force, f.Preload)
	}
	for _, m := range a.Measurements {
		id := "measure." + strconv.Itoa(m.Index+1)
		l.Number(id+".mean", m.Kind, m.Mean)
		l.Add(id+".spread", m.Kind, m.Spread)
		l.Add(id+".repeats", quantity.Count, float64(m.Count))
		l.Uncertainty(id, m.Kind, m.Mean)
	}
}
