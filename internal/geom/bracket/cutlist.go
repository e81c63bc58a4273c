package bracket

import (
	"math"
	"slices"

	"fitup/internal/geom"
)

// Piece is a length to be cut, mm; Count zero means one. A leg's length here
// is its Overall.
type Piece struct {
	Name   string
	Length float64
	Count  int
}

// StockBar is a length to be cut from, mm. Count limits how many there are,
// zero for any number. OnHand bars cost nothing and need a Count. Cost is per
// bar; when no bar has one, the length bought is what counts.
type StockBar struct {
	Name   string
	Length float64
	Count  int
	Cost   float64
	OnHand bool
}

// CutList asks which bars to buy and how to cut them, for pieces of one
// section.
type CutList struct {
	Name   string
	Kerf   float64 // width of the saw's cut, mm
	Trim   float64 // taken off each bar to square and clean its end, mm
	Pieces []Piece
	Stock  []StockBar
	Budget int // places the exact search may try, zero for 200000
}

// PlannedCut is one piece on a bar, mm from the bar's trimmed end.
type PlannedCut struct {
	Piece    int // index in CutList.Pieces
	From, To float64
}

// PlannedBar is one bar and what is cut from it.
type PlannedBar struct {
	Stock  int // index in CutList.Stock
	Cuts   []PlannedCut
	Offcut float64 // mm left whole
}

// CutPlan is the nesting that buys least.
type CutPlan struct {
	Bars    []PlannedBar
	Cost    float64 // in the stock's cost, or mm bought
	Bound   float64 // no plan costs less than this
	Optimal bool    // proved: no plan costs less
	Bought  float64 // mm of stock bought
	Offcuts float64 // mm left whole, all bars
	Waste   float64 // mm lost in kerfs and trimming
}

// exactPieces is the most pieces the exact search is tried on.
const exactPieces = 24

// Plan nests the pieces so that the stock bought costs least. Up to 24 pieces
// are searched exactly, by branch and bound within the budget; beyond that, or
// when the budget runs out, the best of several first-fit and best-fit
// decreasing plans is taken. Optimal says whether the result is proved, by the
// search or because it meets the bound.
func (l CutList) Plan() (CutPlan, error) {
	n, err := l.prepare()
	if err != nil {
		return CutPlan{}, err
	}
	best, ok := n.firstFit()
	bound := n.bound()
	proved := ok && best.cost <= bound+n.eps
	if !proved && len(n.items) <= exactPieces {
		s := search{nest: n, best: best, found: ok, bound: bound, budget: n.budget}
		s.place(0)
		best, ok = s.best, s.found
		proved = ok && (s.budget > 0 || best.cost <= bound+n.eps)
		if !ok && s.budget > 0 {
			return CutPlan{}, l.bad("the stock there is cannot hold all the pieces; add a bar")
		}
	}
	if !ok {
		return CutPlan{}, l.bad("no way was found to cut all pieces from the stock there is; add a bar")
	}
	if proved {
		bound = best.cost
	}
	return n.plan(best, bound, proved), nil
}

func (l CutList) bad(format string, args ...any) error {
	return bad("cut list", l.Name, format, args...)
}

// nest is a cut list made ready: pieces one by one, longest first, each with
// its kerf; bars with a kerf to spare, as the last cut may fall beyond the end.
type nest struct {
	list   CutList
	items  []item
	types  []barType
	free   int // the first so many types are on hand
	eps    float64
	budget int
}

type item struct {
	piece int
	size  float64
}

type barType struct {
	stock int
	room  float64
	cost  float64
	count int // how many there are
}

// manyBars stands for any number.
const manyBars = 1 << 30

func (l CutList) prepare() (*nest, error) {
	if !(l.Kerf >= 0 && l.Kerf <= 50) || !(l.Trim >= 0 && l.Trim <= 1000) {
		return nil, l.bad("a kerf of %g mm and a trim of %g mm are no saw", l.Kerf, l.Trim)
	}
	if len(l.Pieces) == 0 || len(l.Stock) == 0 || len(l.Stock) > 50 {
		return nil, l.bad("it needs pieces to cut and stock to cut from")
	}
	n := &nest{list: l, budget: l.Budget}
	if n.budget <= 0 {
		n.budget = 200000
	}
	longest, err := n.addStock(l)
	if err != nil {
		return nil, err
	}
	for i, p := range l.Pieces {
		if !geom.LengthOK(p.Length) || p.Count < 0 || p.Count > 10000 {
			return nil, bad("piece", p.Name, "%g mm, %d of them, cannot be cut", p.Length, p.Count)
		}
		if p.Length+l.Kerf > longest+1e-9 {
			return nil, bad("piece", p.Name, "%.1f mm is longer than any stock gives (%.1f mm)", p.Length, longest-l.Kerf)
		}
		for range max(1, p.Count) {
			n.items = append(n.items, item{i, p.Length + l.Kerf})
		}
		if len(n.items) > 2000 {
			return nil, l.bad("more than 2000 pieces; split the list")
		}
	}
	slices.SortStableFunc(n.items, func(a, b item) int {
		switch {
		case a.size > b.size:
			return -1
		case a.size < b.size:
			return 1
		}
		return 0
	})
	return n, nil
}

// pricedAlike refuses bars of which only some have a cost.
func (l CutList) pricedAlike() error {
	priced, unpriced := 0, 0
	for _, s := range l.Stock {
		switch {
		case s.OnHand:
		case s.Cost > 0:
			priced++
		default:
			unpriced++
		}
	}
	if priced > 0 && unpriced > 0 {
		return l.bad("give every bar to be bought a cost, or none")
	}
	return nil
}

// addStock fills in the bar types, those on hand first, and returns the
// greatest room.
func (n *nest) addStock(l CutList) (float64, error) {
	if err := l.pricedAlike(); err != nil {
		return 0, err
	}
	longest, largest := 0.0, 1.0
	for i, s := range l.Stock {
		if !geom.LengthOK(s.Length) || s.Count < 0 || !(s.Cost >= 0) || !geom.LoadOK(s.Cost) {
			return 0, bad("stock", s.Name, "length %g mm, cost %g or count %d is not usable", s.Length, s.Cost, s.Count)
		}
		if s.Length <= l.Trim {
			return 0, bad("stock", s.Name, "a bar of %g mm is all trim (%g mm)", s.Length, l.Trim)
		}
		if s.OnHand && s.Count == 0 {
			return 0, bad("stock", s.Name, "say how many are on hand")
		}
		t := barType{stock: i, room: s.Length - l.Trim + l.Kerf, cost: s.Cost, count: s.Count}
		if t.cost == 0 {
			t.cost = s.Length
		}
		if s.OnHand {
			t.cost = 0
		}
		if t.count == 0 {
			t.count = manyBars
		}
		longest, largest = math.Max(longest, t.room), math.Max(largest, t.cost)
		n.types = append(n.types, t)
	}
	slices.SortStableFunc(n.types, func(a, b barType) int {
		switch {
		case (a.cost == 0) != (b.cost == 0):
			if a.cost == 0 {
				return -1
			}
			return 1
		case a.room < b.room:
			return -1
		case a.room > b.room:
			return 1
		}
		return 0
	})
	for _, t := range n.types {
		if t.cost == 0 {
			n.free++
		}
	}
	n.eps = 1e-9 * largest
	return longest, nil
}

// plan writes a nesting out.
func (n *nest) plan(b packing, bound float64, optimal bool) CutPlan {
	p := CutPlan{Cost: b.cost, Bound: bound, Optimal: optimal}
	for _, bar := range b.bars {
		t := n.types[bar.kind]
		stock := n.list.Stock[t.stock]
		out := PlannedBar{Stock: t.stock}
		at, cut := 0.0, 0.0
		for _, i := range bar.items {
			length := n.items[i].size - n.list.Kerf
			out.Cuts = append(out.Cuts, PlannedCut{n.items[i].piece, at, at + length})
			at += n.items[i].size
			cut += length
		}
		out.Offcut = math.Max(0, stock.Length-n.list.Trim-at)
		if !stock.OnHand {
			p.Bought += stock.Length
		}
		p.Offcuts += out.Offcut
		p.Waste += stock.Length - cut - out.Offcut
		p.Bars = append(p.Bars, out)
	}
	return p
}
