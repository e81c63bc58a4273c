package section

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Rows of the section property tables to EN 10219-2, cold formed: mass in kg/m
// and second moment of area about the strong axis in cm⁴, to the three digits
// they print (from memory; 0 is not remembered).
var coldRows = []struct {
	name     string
	mass, iy float64
}{
	{"SHS 20x20x2 cold", 1.05, 0.692}, {"SHS 25x25x2 cold", 1.36, 1.48}, {"SHS 25x25x2.5 cold", 1.64, 1.69},
	{"SHS 30x30x2 cold", 1.68, 2.72}, {"SHS 30x30x2.5 cold", 2.03, 3.16}, {"SHS 30x30x3 cold", 2.36, 3.50},
	{"SHS 40x40x2 cold", 2.31, 6.94}, {"SHS 40x40x2.5 cold", 2.82, 8.22}, {"SHS 40x40x3 cold", 3.30, 9.32},
	{"SHS 40x40x4 cold", 4.20, 11.1}, {"SHS 50x50x2 cold", 2.93, 14.1}, {"SHS 50x50x2.5 cold", 3.60, 16.9},
	{"SHS 50x50x3 cold", 4.25, 19.5}, {"SHS 50x50x4 cold", 5.45, 23.7}, {"SHS 50x50x5 cold", 6.56, 27.0},
	{"SHS 60x60x3 cold", 5.19, 35.1}, {"SHS 60x60x4 cold", 6.71, 43.6}, {"SHS 60x60x5 cold", 8.13, 50.5},
	{"SHS 70x70x3 cold", 6.13, 57.5}, {"SHS 70x70x4 cold", 7.97, 72.1}, {"SHS 80x80x3 cold", 7.07, 87.8},
	{"SHS 80x80x4 cold", 9.22, 111}, {"SHS 80x80x5 cold", 11.3, 131}, {"SHS 100x100x4 cold", 11.7, 226},
	{"SHS 100x100x5 cold", 14.4, 271}, {"SHS 100x100x8 cold", 21.4, 366},
	{"RHS 40x20x2 cold", 1.68, 4.05}, {"RHS 50x30x2 cold", 2.31, 9.54}, {"RHS 50x30x3 cold", 3.30, 12.8},
	{"RHS 60x40x2 cold", 2.93, 18.4}, {"RHS 60x40x3 cold", 4.25, 25.4}, {"RHS 60x40x4 cold", 5.45, 31.0},
	{"RHS 80x40x3 cold", 5.19, 52.3}, {"RHS 80x40x4 cold", 6.71, 64.8}, {"RHS 80x60x3 cold", 6.13, 70.0},
	{"RHS 80x60x4 cold", 7.97, 87.9}, {"RHS 100x50x3 cold", 6.60, 106}, {"RHS 100x50x4 cold", 8.59, 134},
	{"RHS 100x50x5 cold", 10.5, 158}, {"RHS 100x60x4 cold", 9.22, 0},
}

// The formulas give the printed row for each of the common tubes.
func TestFormulasGiveTheRowsOfTheColdTables(t *testing.T) {
	require.Len(t, coldRows, 40)
	for _, c := range coldRows {
		e, err := Find("", c.name)
		require.NoError(t, err, c.name)
		p, err := e.Properties()
		require.NoError(t, err, c.name)
		assert.InDelta(t, c.mass, p.Mass, halfDigit(c.mass), "%s, mass", c.name)
		if c.iy == 0 {
			continue
		}
		assert.InDelta(t, c.iy, p.Iy/1e4, halfDigit(c.iy), "%s, Iy", c.name)
	}
}
