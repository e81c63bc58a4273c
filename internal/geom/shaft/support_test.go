package shaft

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func bent(at ...r3.Vec) Chain {
	c := Chain{In: r3.Vec{X: -1, Z: -1}, Out: r3.Vec{X: -1, Z: -0.2}}
	for _, p := range at {
		c.Joints = append(c.Joints, Joint{At: p})
	}
	return c
}

// By hand: a joint between two shafts goes round the line through the two that stand;
// a bearing near it holds it, one near the joint that stands does not.
func TestLooseJoints(t *testing.T) {
	two := bent(r3.Vec{}, r3.Vec{X: -400, Z: -300})
	three := bent(r3.Vec{}, r3.Vec{X: -200, Y: 50, Z: -200}, r3.Vec{X: -500, Z: -300})
	four := bent(r3.Vec{}, r3.Vec{X: -200, Y: 50, Z: -200}, r3.Vec{X: -400, Y: 40, Z: -260}, r3.Vec{X: -500, Z: -300})
	for name, c := range map[string]struct {
		chain    Chain
		slides   []bool
		supports []Support
		loose    int
	}{
		"two joints":                        {two, []bool{true}, nil, 0},
		"three, none slides":                {three, nil, nil, 1},
		"three, one slides":                 {three, []bool{false, true}, nil, 2},
		"three, both slide":                 {three, []bool{true, true}, nil, 3},
		"three, a bearing":                  {three, []bool{false, true}, []Support{{1, 0.8}}, 0},
		"three, it slides in the bearing":   {three, []bool{true, true}, []Support{{1, 0.8}}, 1},
		"three, a bearing on the second":    {three, []bool{false, true}, []Support{{2, 0.2}}, 0},
		"three, a bearing at the column":    {three, nil, []Support{{1, 0.02}}, 1},
		"three, none slides, at the column": {three, []bool{false, true}, []Support{{1, 0}}, 2},
		"four, one bearing":                 {four, nil, []Support{{1, 0.9}}, 1},
		"four, two bearings":                {four, []bool{false, false, true}, []Support{{1, 0.9}, {2, 0.9}}, 0},
		"four, both on the middle shaft":    {four, []bool{false, false, true}, []Support{{2, 0.1}, {2, 0.9}}, 0},
	} {
		got, err := c.chain.Loose(c.slides, c.supports)
		require.NoError(t, err, name)
		assert.Equal(t, c.loose, got, name)
	}
	_, err := three.Loose(nil, []Support{{3, 0.5}})
	require.ErrorContains(t, err, "shaft 3")
	_, err = three.Loose(nil, []Support{{1, 1.5}})
	require.Error(t, err)
	_, err = bent(r3.Vec{}, r3.Vec{}, r3.Vec{X: 1}).Loose(nil, nil)
	require.ErrorIs(t, err, ErrShort)
}

// A second method: what is held is moved, and lengths and bearings are measured anew.
// Where nothing is loose, any small shift of the joints changes one of them.
func TestWhatIsNotLooseCannotMove(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		part := rapid.Float64Range(-1, 1)
		c := bent(r3.Vec{}, r3.Vec{X: -200, Y: 120 * part.Draw(rt, "y"), Z: -150}, r3.Vec{X: -500, Z: -300 + 80*part.Draw(rt, "z")})
		s := Support{Shaft: rapid.IntRange(1, 2).Draw(rt, "shaft"), At: rapid.Float64Range(0.3, 0.7).Draw(rt, "at")}
		loose, err := c.Loose([]bool{s.Shaft == 2, s.Shaft == 1}, []Support{s})
		require.NoError(rt, err)
		assert.Zero(rt, loose)
		d := r3.Scale(1e-4, r3.Unit(r3.Vec{X: part.Draw(rt, "dx"), Y: part.Draw(rt, "dy"), Z: 1.1 + part.Draw(rt, "dz")}))
		at := [3]r3.Vec{c.Joints[0].At, r3.Add(c.Joints[1].At, d), c.Joints[2].At}
		long := func(p [3]r3.Vec, i int) float64 { return r3.Norm(r3.Sub(p[i], p[i-1])) }
		was := [3]r3.Vec{c.Joints[0].At, c.Joints[1].At, c.Joints[2].At}
		axis := r3.Unit(r3.Sub(was[s.Shaft], was[s.Shaft-1]))
		shift := r3.Add(r3.Scale(1-s.At, r3.Sub(at[s.Shaft-1], was[s.Shaft-1])), r3.Scale(s.At, r3.Sub(at[s.Shaft], was[s.Shaft])))
		aside := r3.Norm(r3.Sub(shift, r3.Scale(r3.Dot(shift, axis), axis)))
		fixed := long(at, s.Shaft) - long(was, s.Shaft) // the one with the bearing does not slide
		assert.Greater(rt, aside+max(fixed, -fixed), 1e-6)
	})
}
