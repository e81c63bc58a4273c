package book

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book/paper"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// sheetLines say from which sheets the plates of one thickness are cut, strip by strip.
func sheetLines(g *assess.SheetGroup, u quantity.Units) []string {
	mm := func(v float64) string { return Magnitude(quantity.Length, v, u) }
	switch {
	case len(g.List.Stock) == 0:
		var out []string
		for _, p := range g.Pieces {
			out = append(out, fmt.Sprintf("%s, %d of %s by %s", p.Label, max(1, p.Count), mm(p.Width), mm(p.Height)))
		}
		return append(out, "no [[sheet]] of it is in the file; give one and they are placed on it")
	case !g.HasPlan:
		return []string{g.Why}
	}
	var out []string
	for i, s := range g.Plan.Sheets {
		stock := g.List.Stock[s.Stock]
		from := "bought"
		if stock.OnHand {
			from = "on hand"
		}
		out = append(out, fmt.Sprintf("sheet %d, %s by %s, %s:", i+1, mm(stock.Length), mm(stock.Width), from))
		for k, strip := range s.Strips {
			var pieces []string
			for _, p := range strip.Pieces {
				pieces = append(pieces, fmt.Sprintf("%s at %s", g.List.Pieces[p.Piece].Name, mm(p.X)))
			}
			out = append(out, fmt.Sprintf("  strip %d, %s high, from %s: %s", k+1, mm(strip.High), mm(strip.From), strings.Join(pieces, "; ")))
		}
	}
	return append(out, fmt.Sprintf("%s; kerf %s; the plates' boxes are %.0f %% of the sheets. By strips from end to end, first fit by height: not proved to be the least",
		g.Bought(), mm(g.List.Kerf), 100*g.Plan.Area/g.Plan.Of))
}

// sheetNesting draws the sheets of one thickness with what is cut from each.
func (m *maker) sheetNesting(g *assess.SheetGroup) (out []Item) {
	const most = 12
	for i := range g.Plan.Sheets[:min(most, len(g.Plan.Sheets))] {
		out = append(out, figure(m.sheetFigure(g, i)))
	}
	return out
}

// sheetFigure is one sheet to a scale, with strips, plates and their holes.
func (m *maker) sheetFigure(g *assess.SheetGroup, at int) Figure {
	const widest, highest, least = 165.0, 90.0, 2.0
	sheet := &g.Plan.Sheets[at]
	stock := g.List.Stock[sheet.Stock]
	by := min(widest/stock.Length, highest/stock.Width)
	title := fmt.Sprintf("Sheet %d of %d, %s, %s by %s: strips from the lower edge up, plates from the left.",
		at+1, len(g.Plan.Sheets), g.Name, Magnitude(quantity.Length, stock.Length, m.u), Magnitude(quantity.Length, stock.Width, m.u))
	return Figure{Name: fmt.Sprintf("sheet-%s-%d", fileName(g.Name), at+1), Title: title, High: by*stock.Width + 4, draw: func(p *paper.Page, place r2.Box) {
		low := r2.Vec{X: (place.Min.X+place.Max.X)/2 - by*stock.Length/2, Y: place.Max.Y - by*stock.Width - 2}
		on := func(x, y float64) r2.Vec { return r2.Vec{X: low.X + by*x, Y: low.Y + by*y} }
		box := func(x0, y0, x1, y1 float64) []r2.Vec { return corners(r2.Box{Min: on(x0, y0), Max: on(x1, y1)}) }
		p.Polygon(box(0, 0, stock.Length, stock.Width), scene.Style{Role: scene.RolePaper})
		for _, strip := range sheet.Strips {
			if top := strip.From + strip.High; top < stock.Width {
				p.Line([]r2.Vec{on(0, top), on(stock.Length, top)}, scene.Style{Role: scene.RolePaper})
			}
			for _, q := range strip.Pieces {
				piece := &g.Pieces[q.Piece]
				lie := func(v r2.Vec) r2.Vec {
					if q.Turned { // a quarter turn clockwise
						v = r2.Vec{X: v.Y, Y: piece.Width - v.X}
					}
					return on(q.X+v.X, strip.From+v.Y)
				}
				line := make([]r2.Vec, len(piece.Outline))
				for i, v := range piece.Outline {
					line[i] = lie(v)
				}
				p.Polygon(line, heavy)
				for _, h := range piece.Holes {
					p.Arc(lie(h.At), by*h.Diameter/2, 0, 2*math.Pi, scene.Style{Role: scene.RolePaper})
				}
				if room := by*q.Along - 2; room > least && by*q.Across > 3.5 {
					p.Type(r2.Vec{X: low.X + by*q.X + 1, Y: low.Y + by*(strip.From+q.Across) - 3}, paper.Regular().Fit(settled(piece.Label), 2.2, room), 2.2, false)
				}
			}
		}
	}}
}
