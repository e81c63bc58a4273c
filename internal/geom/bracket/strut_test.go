package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEuler(t *testing.T) {
	p, err := Buckling("leg", 210e3, 1e5, 1000, 2)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Pi*math.Pi*210e3*1e5/4e6, p, 1e-12)
}

func TestStrutsRefused(t *testing.T) {
	for name, f := range map[string]func() error{
		"strut":       func() error { _, err := Buckling("cross", 1, 1, 0, 1); return err },
		"short strut": func() error { _, err := Buckling("cross", 1e12, 1e23, 1e-300, 1); return err },
	} {
		assert.ErrorContains(t, f(), "cross", name)
	}
}

// L tan a, worked out apart.
func TestWedges(t *testing.T) {
	for _, c := range []struct{ deg, length, want float64 }{
		{2, 100, 3.492077}, {3, 76.2, 3.993473}, {2.5, 127, 5.544940}, {6, 100, 10.510424},
	} {
		got, err := Wedge("", c.length, geom.Angle(c.deg)*geom.Deg)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 6e-7)
	}
	for name, f := range map[string]func() error{
		"wedge":       func() error { _, err := Wedge("shim", 0, 1); return err },
		"steep wedge": func() error { _, err := Wedge("shim", 10, 90*geom.Deg); return err },
	} {
		assert.ErrorContains(t, f(), "shim", name)
	}
}
