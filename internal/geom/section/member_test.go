package section

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func stock(t require.TestingT, name string) Properties {
	e, err := Find("test", name)
	require.NoError(t, err)
	p, err := e.Properties()
	require.NoError(t, err)
	return p
}

// RHS 100x50x5 with 600 N m: the EN 10219-2 torsion modulus and Bredt's mean
// stress give two figures, and the twist with G 81 GPa is 0.31468 deg/m.
func TestTorsionOfTube(t *testing.T) {
	p := stock(t, "RHS 100x50x5 cold")
	s, err := p.Screen("leg", Forces{Torsion: 600e3}, 235, TorsionModulus)
	require.NoError(t, err)
	assert.InDelta(t, 16.303, s.Torsion, 5e-4)
	assert.InEpsilon(t, s.Torsion*math.Sqrt(3)/235, s.Utilisation, 1e-12)
	assert.Contains(t, s.By.String(), "Wt")
	s, err = p.Screen("leg", Forces{Torsion: -600e3}, 235, TorsionBredt)
	require.NoError(t, err)
	assert.InDelta(t, 14.195, s.Torsion, 5e-4)
	assert.Contains(t, s.By.String(), "Bredt")
	twist, err := p.Twist("leg", 600e3, 1000, SteelG)
	require.NoError(t, err)
	assert.InDelta(t, 0.31468, twist*180/math.Pi, 5e-6)
}

func TestScreen(t *testing.T) {
	p := stock(t, "RHS 60x40x3 cold")
	s, err := p.Screen("leg", Forces{Axial: -5000, MomentY: 2e5, MomentZ: -1e5, ShearZ: 1000}, 200, TorsionModulus)
	require.NoError(t, err)
	assert.InEpsilon(t, 5000/p.Area+2e5/p.Wy+1e5/p.Wz, s.Normal, 1e-12)
	assert.Negative(t, s.Axial)
	assert.InEpsilon(t, 1000/(p.Area*60/100), s.Shear, 1e-12)

	// A round tube does not mind which way it is bent.
	r := stock(t, "CHS 48.3x3")
	s1, err := r.Screen("", Forces{MomentY: 3e5, MomentZ: 4e5}, 200, TorsionModulus)
	require.NoError(t, err)
	s2, err := r.Screen("", Forces{MomentY: 5e5}, 200, TorsionModulus)
	require.NoError(t, err)
	assert.InEpsilon(t, s2.Equivalent, s1.Equivalent, 1e-12)
}

func TestMembersRefused(t *testing.T) {
	for name, f := range map[string]func() error{
		"no props":  func() error { _, err := Properties{}.Screen("cross", Forces{}, 1, 0); return err },
		"allowable": func() error { _, err := stock(t, "CHS 48.3x3").Screen("cross", Forces{}, 0, 0); return err },
		"force": func() error {
			_, err := stock(t, "CHS 48.3x3").Screen("cross", Forces{Axial: math.NaN()}, 1, 0)
			return err
		},
		"open Bredt": func() error {
			_, err := stock(t, "PFC 100x50x10").Screen("cross", Forces{}, 1, TorsionBredt)
			return err
		},
		"twist": func() error { _, err := Properties{It: 1}.Twist("cross", 1, 1, 0); return err },
	} {
		assert.ErrorContains(t, f(), "cross", name)
	}
}
