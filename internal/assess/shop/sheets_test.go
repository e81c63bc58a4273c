package shop

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

func flats() []FlatPiece {
	moved := bracket.Plate{Thickness: 6, Outline: []r2.Vec{{X: -60, Y: 20}, {X: 60, Y: 20}, {X: 0, Y: 90}}, Holes: []bracket.Hole{{At: r2.Vec{Y: 40}, Diameter: 11}}}
	return []FlatPiece{
		Flat("left", "left gusset", 2, moved),
		Flat("left", "left foot", 1, bracket.Plate{Thickness: 10, Outline: bracket.Rectangle(120, 100)}),
		Flat("right", "right foot", 1, bracket.Plate{Thickness: 10.01, Outline: bracket.Rectangle(120, 100)}),
	}
}

func sheet(t, long, wide float64) project.SheetStock {
	return project.SheetStock{Thickness: quantity.MM(t), Length: quantity.MM(long), Width: quantity.MM(wide)}
}

// Plates are nested by their thickness, each by the box round it from 0, 0, with its kerf.
func TestPlatesByThickness(t *testing.T) {
	s := Sheeting{Pieces: flats(), Stock: []project.SheetStock{sheet(10, 243, 110)}, Units: quantity.Units{}}
	g := s.Nest()
	require.Len(t, g, 2)
	assert.InDelta(t, 10, g[0].Thickness, 0.01)
	require.True(t, g[0].HasPlan, g[0].Why)
	require.Len(t, g[0].Plan.Sheets, 1, "with a kerf of 3 mm between them")
	assert.InDelta(t, 123, g[0].Plan.Sheets[0].Strips[0].Pieces[1].X, 1e-9)
	assert.False(t, g[1].HasPlan, "there is no sheet of it")
	assert.Empty(t, g[1].Why)
	gusset := g[1].Pieces[0]
	assert.Equal(t, r2.Vec{X: 60, Y: 70}, gusset.Outline[2])
	assert.Equal(t, r2.Vec{X: 60, Y: 20}, gusset.Holes[0].At)
	s.Tools.PlateKerf = quantity.MM(3.1)
	assert.Len(t, s.Nest()[0].Plan.Sheets, 2, "and a wider one")
}

func TestSheetFindings(t *testing.T) {
	find := func(stock ...project.SheetStock) []finding.Finding {
		s := Sheeting{Pieces: flats()[1:], Stock: stock}
		return s.Findings(s.Nest())
	}
	assert.Empty(t, find(), "no sheets, no verdict")
	f := find(sheet(10, 300, 200))[0]
	assert.Equal(t, "cuts.plate_10_mm.stock", f.ID)
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 1, f.Value, 0)
	assert.Contains(t, f.Advice(), "not in the file")
	priced := sheet(10, 300, 200)
	priced.Cost = quantity.Ratio(7.5)
	assert.Contains(t, find(priced)[0].Advice(), "costs 7.50")
	f = find(sheet(10, 100, 90))[0]
	assert.Equal(t, finding.Over, f.Status)
	assert.False(t, f.HasValue)
	assert.Contains(t, f.Advice(), "left foot")
	assert.Equal(t, finding.NotKnown, find(sheet(6, 300, 200))[0].Status)
	gone := sheet(10, 300, 200)
	gone.Count = quantity.Ratio(0)
	assert.Equal(t, finding.NotKnown, find(gone)[0].Status, "none of it is left")
	gone.Count, gone.OnHand = quantity.Ratio(1), true
	f = find(gone)[0]
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 0, f.Value, 0, "nothing is bought")
	var l finding.List
	s := Sheeting{Pieces: flats(), Stock: []project.SheetStock{priced}}
	for _, g := range s.Nest() {
		g.Values(&l)
	}
	got := map[string]float64{}
	for _, v := range l {
		got[v.Name] = v.V
	}
	assert.InDelta(t, 7.5, got["cuts.plate_10_mm.cost"], 0)
	assert.InDelta(t, 2*12000.0/60000, got["cuts.plate_10_mm.used"], 1e-9)
	assert.InDelta(t, 2, got["cuts.plate_6_mm.pieces"], 0)
}
