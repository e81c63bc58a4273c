package shop

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const square = "SHS 50x50x3 cold"

// legs are three legs of one section and one of another.
func legs() []CutPiece {
	return []CutPiece{{"a", "a", square, 320}, {"b", "b", "CHS 48.3x3", 90}, {"c", "c", square, 180}, {"d", "d", square, 180}}
}

func bar(section string, length float64) project.StockBar {
	return project.StockBar{Section: section, Length: quantity.MM(length)}
}

// 320 and 180 do not share a bar of 500 with a kerf between them, the two of 180
// do: two bars. What is of another section is nested apart.
func TestNest(t *testing.T) {
	c := Cutting{Pieces: legs(), Stock: []project.StockBar{bar("shs 50 x 50 x 3.0 COLD", 500)}}
	groups := c.Nest(SearchInRun)
	require.Len(t, groups, 2)
	assert.Equal(t, square, groups[0].Section)
	require.True(t, groups[0].HasPlan, groups[0].Why)
	assert.InDelta(t, 1000, groups[0].Plan.Bought, 1e-9)
	assert.InDelta(t, 3, groups[0].List.Kerf, 0, "where the file does not say")
	assert.Len(t, groups[0].Pieces, 3)
	assert.Len(t, groups[1].Pieces, 1)
	assert.False(t, groups[1].HasPlan, "there is no stock of it")
	assert.Empty(t, groups[1].Why)
}

// Two pieces that fill a bar with the kerf between them, and by a hair do not.
func TestKerfAndTrimCount(t *testing.T) {
	pieces := []CutPiece{{"a", "a", square, 300}, {"b", "b", square, 190}}
	for length, want := range map[float64]float64{495: 495, 494.9: 2 * 494.9} {
		c := Cutting{Pieces: pieces, Stock: []project.StockBar{bar(square, length)}, Tools: project.Shop{Trim: quantity.MM(2)}}
		g := c.Nest(SearchInRun)
		require.True(t, g[0].HasPlan, g[0].Why)
		assert.InDelta(t, want, g[0].Plan.Bought, 1e-9, "a bar of %g", length)
	}
}

func TestStockFindings(t *testing.T) {
	find := func(stock ...project.StockBar) finding.Finding {
		c := Cutting{Pieces: legs()[:1], Stock: stock}
		fs := c.Findings(c.Nest(SearchInRun))
		require.Len(t, fs, 1)
		assert.Equal(t, "cuts.shs_50x50x3_cold.stock", fs[0].ID)
		return fs[0]
	}
	f := find(bar(square, 500))
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 500, f.Value, 1e-9)
	assert.Equal(t, quantity.Length, f.Kind)
	f = find(bar(square, 300))
	assert.Equal(t, finding.Over, f.Status)
	assert.False(t, f.HasValue)
	assert.Contains(t, f.Advice(), "300")
	f = find(bar("CHS 48.3x3", 500))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, "there is no [[stock]] of "+square+" in the file", f.Missing)
	gone := bar(square, 500)
	gone.Count = quantity.Ratio(0)
	assert.Equal(t, finding.NotKnown, find(gone).Status, "none of it is left")
	gone.Count = quantity.Ratio(1)
	assert.Equal(t, finding.OK, find(gone).Status)
	assert.Empty(t, Cutting{Pieces: legs()}.Findings(Cutting{Pieces: legs()}.Nest(SearchInRun)), "no stock, no verdict")
}

// Why there is no plan is said in the file's unit.
func TestNoPlanInTheFilesUnit(t *testing.T) {
	c := Cutting{Pieces: legs()[:1], Stock: []project.StockBar{bar(square, 300)}, Units: quantity.Inch()}
	g := c.Nest(SearchInRun)
	assert.NotContains(t, g[0].Why, "mm")
	assert.Contains(t, g[0].Why, "in")
}

func TestCutValues(t *testing.T) {
	c := Cutting{Pieces: legs(), Stock: []project.StockBar{bar(square, 500)}}
	g := c.Nest(SearchInRun)
	var l finding.List
	g[0].Values(&l)
	got := map[string]float64{}
	for _, v := range l {
		got[v.Name] = v.V
	}
	const id = "cuts.shs_50x50x3_cold."
	assert.InDelta(t, 680, got[id+"total"], 1e-9)
	assert.InDelta(t, 320, got[id+"a.overall"], 1e-9)
	assert.InDelta(t, 2, got[id+"bars"], 0)
	assert.InDelta(t, 1000, got[id+"bought"], 1e-9)
	assert.InDelta(t, 1000-680, got[id+"offcuts"]+got[id+"waste"], 1e-9)
}
