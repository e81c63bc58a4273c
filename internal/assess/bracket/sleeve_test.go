package bracket

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Under the rails the pad's load pulls at the bolts: half of 3000 N at each. A push to the
// rear of 300 N is half of it aside at each, and tips the crossmember by its height over
// the flange, 8 mm, against the edge 20 mm from the bolts.
func TestSleevesByHand(t *testing.T) {
	for _, c := range []struct {
		force          r3.Vec
		shear, tension float64
	}{{r3.Vec{Z: -3000}, 0, 1500}, {r3.Vec{X: 300}, 150, 150 * 8. / 20}, {r3.Vec{Z: 3000}, 0, 0}} {
		r := runLegs(t, kind(t, "sleeved_crossmember"), rearLoads(c.force)...)
		b := r.bracketNamed("rear")
		require.NotNil(t, b.Members, b.Why)
		f := r.Result.last(finding.BracketBolts("rear"))
		require.Equal(t, finding.OK, f.Status, f.Missing)
		assert.Contains(t, strings.Join(f.Assumes, "; "), "one bolt at each")
		assert.InDelta(t, c.shear, b.Strength.Bolts.Shear, c.shear*0.01+1e-3)
		assert.InDelta(t, c.tension, b.Strength.Bolts.Tension, c.tension*0.01+1e-3)
		assert.False(t, b.Strength.RailPlate.Begun)
		require.Len(t, b.fixings(), 1, "one bolt holds against no turn")
	}
	r := runLegs(t, kind(t, "sleeved_crossmember"), rearLoads(r3.Vec{Z: -3000})...)
	b := r.bracketNamed("rear")
	w, ok := b.Sleeves()
	require.True(t, ok)
	assert.Equal(t, 2, w.Count)
	assert.InDelta(t, 80, w.Length, 1e-9, "through the height of the tube")
	// Preload of M12 8.8 at 0.75 of its proof load: 84.27 mm² at 580 MPa, 36656 N, on 314.16 mm².
	assert.InEpsilon(t, 0.75*84.2665*580/(math.Pi/4*(25*25-15*15)), w.Clamp, 1e-4)
	assert.InEpsilon(t, 2*314.159*80*7.85e-6, w.mass(), 1e-4)
	assert.True(t, b.ComesOut())
	// They stand upright over its feet, flush with its under and its upper side.
	rods := b.SleeveRods()
	require.Len(t, rods, 2)
	for i, x := range rods {
		f, p := &b.Members.Feet[i], &b.Members.Solved.Parts[0]
		assert.InDelta(t, 80, r3.Norm(r3.Sub(x.To, x.From)), 1e-9)
		assert.InDelta(t, 25, x.Diameter, 1e-9)
		assert.InDelta(t, p.Ends[f.End].At.Y, (x.From.Y+x.To.Y)/2, 1)
		assert.InDelta(t, 1, math.Abs(r3.Unit(r3.Sub(x.To, x.From)).Z), 1e-3)
		assert.InDelta(t, 40, math.Abs(r3.Dot(p.Cut.V, r3.Sub(x.From, p.Ends[f.End].At))), 1e-6)
	}
}

// Sleeves that cannot be are named, and one that is not whole waits.
func TestSleevesThatCannotBe(t *testing.T) {
	for _, c := range []struct{ was, is, want string }{
		{"diameter = 25", "diameter = 34", "does not go between the walls of its beam, which stand 32.0 mm apart"},
		{"past = 45", "past = 25", "at least 30.0 mm is wanted"},
		{"wall = 5", "wall = 7", "do not go through sleeves of 11.0 mm inside"},
		{"wall = 5", "wall = 13", "has no hole"},
		{"wall = 5", "wall = 2", "clamp their sleeves with 254 MPa"},
		{"RHS 80x40x4 cold", "PFC 100x50x10", "goes through a box tube"},
		{"wall = 5", "", "mount.rear.bracket.sleeve.wall is not in the file yet"},
		{"diameter = 25", "", "mount.rear.bracket.sleeve.diameter is not in the file yet"},
	} {
		t.Run(c.want, func(t *testing.T) {
			text := kind(t, "sleeved_crossmember")
			require.Contains(t, text, c.was)
			r := runLegs(t, strings.Replace(text, c.was, c.is, 1), rearLoads(r3.Vec{Z: -3000})...)
			b := r.bracketNamed("rear")
			assert.Nil(t, b.Members)
			assert.Contains(t, b.Why, c.want)
		})
	}
}
