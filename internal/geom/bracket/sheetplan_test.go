package bracket

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Two plates fill a strip with the kerf between them, and by a hair do not; what is lower
// goes on the first strip that has room, turned or not.
func TestPlatesOnStrips(t *testing.T) {
	l := SheetList{Name: "plate 6 mm", Kerf: 3, Stock: []StockSheet{{Name: "strip", Length: 303, Width: 203, Cost: 20}},
		Pieces: []FlatPiece{{Name: "a", Width: 150, Height: 100, Count: 2}, {Name: "b", Width: 90, Height: 200}}}
	p, err := l.Plan()
	require.NoError(t, err)
	require.Len(t, p.Sheets, 1)
	require.Len(t, p.Sheets[0].Strips, 2)
	first, second := p.Sheets[0].Strips[0], p.Sheets[0].Strips[1]
	assert.Equal(t, CutStrip{From: 0, High: 100, Pieces: []PlacedPiece{{Piece: 0, Along: 150, Across: 100}, {Piece: 0, X: 153, Along: 150, Across: 100}}, used: 303}, first)
	assert.InDelta(t, 103, second.From, 1e-9)
	assert.Equal(t, PlacedPiece{Piece: 1, Along: 200, Across: 90, Turned: true}, second.Pieces[0])
	assert.Equal(t, 1, p.Bought)
	assert.InDelta(t, 20, p.Cost, 0)
	assert.True(t, p.Priced)
	assert.InDelta(t, 2*15000+18000, p.Area, 1e-9)
	l.Stock[0].Length = 302.9
	p, err = l.Plan()
	require.NoError(t, err)
	assert.Equal(t, 2, p.Bought, "a strip more does not fit on the first")
	assert.InDelta(t, 40, p.Cost, 0)
}

// What is on hand comes first, as many as there are; then the smallest that holds a piece.
func TestSheetsOnHandComeFirst(t *testing.T) {
	l := SheetList{Name: "plate 6 mm", Stock: []StockSheet{{Length: 1000, Width: 500, Cost: 90}, {Length: 210, Width: 110}, {Length: 400, Width: 300, Count: 1, OnHand: true}},
		Pieces: []FlatPiece{{Name: "a", Width: 380, Height: 290}, {Name: "b", Width: 200, Height: 100}, {Name: "c", Width: 600, Height: 80}}}
	p, err := l.Plan()
	require.NoError(t, err)
	require.Len(t, p.Sheets, 3)
	assert.Equal(t, []int{2, 1, 0}, []int{p.Sheets[0].Stock, p.Sheets[1].Stock, p.Sheets[2].Stock})
	assert.Equal(t, 2, p.Bought)
	assert.False(t, p.Priced, "one has no price")
	l.Pieces[2].Width = 1001
	_, err = l.Plan()
	assert.ErrorContains(t, err, "plate c: its box of 1001.0 by 80.0 mm fits on no sheet of plate 6 mm that is left")
}

// Whatever is placed lies on its sheet, no two closer than the kerf, each strip cut from end
// to end, and no piece is left out; the same list gives the same plan.
func TestPlatesDoNotOverlap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(5, 400)
		l := SheetList{Name: "plate", Kerf: rapid.Float64Range(0, 6).Draw(t, "kerf"), Stock: []StockSheet{{Length: 800, Width: 400}, {Length: 500, Width: 420, OnHand: true, Count: 2}}}
		want := 0
		for range rapid.IntRange(1, 25).Draw(t, "pieces") {
			n := rapid.IntRange(0, 3).Draw(t, "count")
			l.Pieces = append(l.Pieces, FlatPiece{Name: "p", Width: size.Draw(t, "w"), Height: size.Draw(t, "h"), Count: n})
			want += max(1, n)
		}
		p, err := l.Plan()
		require.NoError(t, err)
		got := 0
		for _, s := range p.Sheets {
			top := -l.Kerf
			for _, strip := range s.Strips {
				require.GreaterOrEqual(t, strip.From, top+l.Kerf-1e-9)
				top = strip.From + strip.High
				end := -l.Kerf
				for _, q := range strip.Pieces {
					got++
					piece := l.Pieces[q.Piece]
					a, b := piece.Width, piece.Height
					if q.Turned {
						a, b = b, a
					}
					require.Equal(t, [2]float64{a, b}, [2]float64{q.Along, q.Across})
					require.GreaterOrEqual(t, q.X, end+l.Kerf-1e-9)
					end = q.X + q.Along
					require.LessOrEqual(t, q.Across, strip.High+closeFit)
				}
				require.LessOrEqual(t, end, l.Stock[s.Stock].Length+closeFit)
			}
			require.LessOrEqual(t, top, l.Stock[s.Stock].Width+closeFit)
		}
		require.Equal(t, want, got)
		again, _ := l.Plan()
		require.Equal(t, p, again)
	})
}
