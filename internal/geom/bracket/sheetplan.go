package bracket

import (
	"cmp"
	"math"
	"slices"

	"fitup/internal/geom"
)

// FlatPiece is a plate that is to be cut from a sheet: the upright box round its outline,
// mm. Count of them are alike; 0 is one.
type FlatPiece struct {
	Name          string
	Width, Height float64
	Count         int
}

// StockSheet is a sheet or a strip of plate to cut from, mm.
type StockSheet struct {
	Name          string
	Length, Width float64
	Count         int // how many there are; 0 is any number
	Cost          float64
	OnHand        bool // it costs nothing
}

// SheetList are pieces of one thickness and the sheets that they are cut from.
type SheetList struct {
	Name   string
	Kerf   float64 // width of the cut
	Pieces []FlatPiece
	Stock  []StockSheet
}

// PlacedPiece is a piece on its strip. It lies with its box from X, along the sheet, and
// from the strip's edge up.
type PlacedPiece struct {
	Piece         int
	X             float64
	Along, Across float64 // its box, along the sheet and across it
	Turned        bool    // its height lies along the sheet
}

// CutStrip is a strip that is cut off a sheet from end to end.
type CutStrip struct {
	From, High float64 // its lower edge from the sheet's, and how high it is
	Pieces     []PlacedPiece
	used       float64
}

// PlannedSheet is a sheet with its strips, from its lower edge up.
type PlannedSheet struct {
	Stock  int
	Strips []CutStrip
	used   float64
}

// SheetPlan is how all pieces are cut.
type SheetPlan struct {
	Sheets []PlannedSheet
	Bought int     // sheets that are bought
	Cost   float64 // of those
	Priced bool    // all that are bought have a price
	Area   float64 // of the boxes of all pieces, mm²
	Of     float64 // and of the sheets that they are cut from
}

// flat is one piece to be placed, its longer side along the sheet.
type flat struct {
	piece         int
	along, across float64
	turned        bool
}

// Plan places all pieces: strips across the whole sheet, cut with a guillotine, a saw or
// a torch along a straight edge, and pieces cut off those. The highest come first; each
// goes on the first strip that has room, else on a new strip of the first sheet that has,
// else on a new sheet: of those on hand first, then of the smallest that it fits on. A
// piece lies with its longer side along the sheet, or turned where that does not fit.
// What first fit by height leaves is no more than 1.7 times the height of the best plus
// one strip (Coffman and others, 1980, from memory); it is not proved to be the least.
func (l SheetList) Plan() (SheetPlan, error) {
	list, err := l.prepare()
	if err != nil {
		return SheetPlan{}, err
	}
	p := SheetPlan{Priced: true}
	left := make([]int, len(l.Stock))
	for i, s := range l.Stock {
		if left[i] = s.Count; s.Count == 0 {
			left[i] = math.MaxInt
		}
	}
	for _, f := range list {
		p.Area += f.along * f.across
		if l.place(&p, f) {
			continue
		}
		best := -1
		for i, s := range l.Stock {
			if _, fits := l.turn(f, s); !fits || left[i] < 1 {
				continue
			}
			if best < 0 || l.sooner(s, l.Stock[best]) {
				best = i
			}
		}
		if best < 0 {
			piece := l.Pieces[f.piece]
			return SheetPlan{}, bad("plate", piece.Name, "its box of %.1f by %.1f mm fits on no sheet of %s that is left; give a larger sheet, or more of them", piece.Width, piece.Height, l.Name)
		}
		left[best]--
		s := l.Stock[best]
		p.Of += s.Length * s.Width
		if !s.OnHand {
			p.Bought++
			p.Cost += s.Cost
			p.Priced = p.Priced && s.Cost > 0
		}
		p.Sheets = append(p.Sheets, PlannedSheet{Stock: best})
		l.place(&p, f)
	}
	return p, nil
}

// sooner says that a sheet is taken before another one.
func (l *SheetList) sooner(a, b StockSheet) bool {
	if a.OnHand != b.OnHand {
		return a.OnHand
	}
	return a.Length*a.Width < b.Length*b.Width
}

// prepare lists every single piece, the highest first.
func (l *SheetList) prepare() (out []flat, err error) {
	if !(l.Kerf >= 0 && l.Kerf <= geom.LimitLength) {
		return nil, bad("plate", l.Name, "a kerf of %g mm is none", l.Kerf)
	}
	for _, s := range l.Stock {
		if !geom.LengthOK(s.Length) || !geom.LengthOK(s.Width) || s.Count < 0 || !(s.Cost >= 0) {
			return nil, bad("plate", l.Name, "a sheet of %g by %g mm is none", s.Length, s.Width)
		}
	}
	const most = 10000
	for i, p := range l.Pieces {
		if !geom.LengthOK(p.Width) || !geom.LengthOK(p.Height) || p.Count < 0 || len(out)+p.Count > most {
			return nil, bad("plate", p.Name, "%d of %g by %g mm is no piece", p.Count, p.Width, p.Height)
		}
		f := flat{piece: i, along: p.Width, across: p.Height}
		if p.Height > p.Width {
			f = flat{i, p.Height, p.Width, true}
		}
		for range max(1, p.Count) {
			out = append(out, f)
		}
	}
	slices.SortStableFunc(out, func(a, b flat) int {
		return cmp.Or(cmp.Compare(b.across, a.across), cmp.Compare(b.along, a.along))
	})
	return out, nil
}

// closeFit is how much a piece may be too large by for rounding, mm.
const closeFit = 1e-6

// turn is a piece as it fits on an empty sheet.
func (l *SheetList) turn(f flat, s StockSheet) (flat, bool) {
	if f.along <= s.Length+closeFit && f.across <= s.Width+closeFit {
		return f, true
	}
	f.along, f.across, f.turned = f.across, f.along, !f.turned
	return f, f.along <= s.Length+closeFit && f.across <= s.Width+closeFit
}

// place puts a piece on a sheet that was begun; false where none has room.
func (l *SheetList) place(p *SheetPlan, f flat) bool {
	for i := range p.Sheets {
		s := &p.Sheets[i]
		stock := l.Stock[s.Stock]
		g, ok := l.turn(f, stock)
		if !ok {
			continue
		}
		for k := range s.Strips {
			if l.onStrip(&s.Strips[k], stock, g) {
				return true
			}
		}
		from := s.used
		if len(s.Strips) > 0 {
			from += l.Kerf
		}
		if from+g.across > stock.Width+closeFit {
			continue
		}
		s.Strips = append(s.Strips, CutStrip{From: from, High: g.across})
		s.used = from + g.across
		return l.onStrip(&s.Strips[len(s.Strips)-1], stock, g)
	}
	return false
}

// onStrip puts a piece behind those on a strip; false where there is no room.
func (l *SheetList) onStrip(s *CutStrip, stock StockSheet, f flat) bool {
	x := s.used
	if len(s.Pieces) > 0 {
		x += l.Kerf
	}
	if f.across > s.High+closeFit || x+f.along > stock.Length+closeFit {
		return false
	}
	s.Pieces = append(s.Pieces, PlacedPiece{Piece: f.piece, X: x, Along: f.along, Across: f.across, Turned: f.turned})
	s.used = x + f.along
	return true
}
