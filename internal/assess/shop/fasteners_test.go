package shop

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
)

// M10 8.8: 75 % of 580 MPa (ISO 898-1, proof) on 58.0 mm² (ISO 898-1, table 4),
// 25 230 N; with K = 0.2, T = 0.2·10·25 230 = 50 460 N·mm.
func TestFasteners(t *testing.T) {
	km := func(v ...float64) (out []quantity.NumberQ) {
		for _, x := range v {
			out = append(out, quantity.Ratio(x))
		}
		return out
	}
	table, facts := Fasteners([]project.Fastener{
		{Name: "a", Thread: "M10", Class: "8.8", Marked: true},
		{Name: "b", Thread: "M9", Class: "8.8", RecheckKm: km(900, 40)},
		{Name: "c", Marked: true, RecheckedKm: quantity.Ratio(500)},
	}, finding.Exact(60))
	assert.InEpsilon(t, 50460, table[0].Torque.V, 0.005)
	assert.InEpsilon(t, 25230, table[0].Preload.V, 0.005)
	assert.False(t, table[0].Maker)
	assert.Contains(t, table[1].Torque.Why, `"M9" is no thread`)
	assert.Contains(t, table[2].Preload.Why, "not in the file yet")
	assert.Equal(t, []float64{50}, table[0].Due)
	assert.Equal(t, []float64{40}, table[1].Due)
	assert.Empty(t, table[2].Due)
	want := map[string]finding.Status{"fasteners.marked": finding.Over, "fasteners.recheck": finding.Over,
		"fasteners.recheck.first": finding.NotKnown, "fasteners.recheck.last": finding.NotKnown}
	for _, f := range facts {
		assert.Equal(t, want[f.ID], f.Status, f.ID)
		if strings.HasPrefix(f.ID, "fasteners.recheck.") {
			assert.Equal(t, "not checked again yet: a, b", f.Text, "c was, at its last distance")
		}
	}
	assert.Len(t, facts, len(want))
	assert.Equal(t, "due to be checked again: a after 50 km", facts[1].Text)
}

// Without a distance nothing is said to be checked, and an empty table proves
// nothing.
func TestFastenersUnknown(t *testing.T) {
	_, facts := Fasteners(nil, finding.Exact(0))
	for _, f := range facts {
		assert.Equal(t, finding.NotKnown, f.Status, f.ID)
	}
	table, facts := Fasteners([]project.Fastener{{Name: "a", Marked: true, RecheckedKm: quantity.Ratio(500)}}, finding.Missing(""))
	assert.Empty(t, table[0].Due)
	assert.Equal(t, finding.OK, facts[0].Status)
	assert.Equal(t, finding.NotKnown, facts[1].Status)
	assert.Equal(t, finding.OK, facts[3].Status)
}
