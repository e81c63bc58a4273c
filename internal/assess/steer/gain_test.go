package steer

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What other marks would save has its ± where another tooth becomes the best within it:
// no less than what 97.5 % of draws come to (JCGM 101:2008), each with its own best
// teeth, and not much more. Half way between two teeth, at the very tooth, on fine
// splines, odd ones, and two of them.
func TestWhatOtherTeethSaveAgainstDraws(t *testing.T) {
	for name, c := range map[string]struct {
		angles, twists, yokes []float64
		teeth                 []int
		half                  []float64
		wide                  float64 // the most that its ± is of what is drawn; 0 where a bend makes it much more
	}{
		"half way":                {[]float64{20, 20}, []float64{30}, []float64{25}, []int{36}, []float64{1}, 1.4},
		"half way, unsure":        {[]float64{20, 20}, []float64{30}, []float64{25}, []int{36}, []float64{4}, 1.3},
		"nearer to one":           {[]float64{20, 20}, []float64{30}, []float64{26}, []int{36}, []float64{2}, 1.6},
		"at it":                   {[]float64{20, 20}, []float64{30}, []float64{30}, []int{36}, []float64{6}, 0},
		"a fine spline":           {[]float64{20, 20}, []float64{30}, []float64{30}, []int{72}, []float64{9}, 1.6},
		"one tooth off":           {[]float64{20, 20}, []float64{30}, []float64{44}, []int{36}, []float64{3}, 1.5},
		"an odd count":            {[]float64{20, 20}, []float64{30}, []float64{35}, []int{17}, []float64{3}, 1.3},
		"joints that do not pair": {[]float64{20, 15}, []float64{30}, []float64{25}, []int{36}, []float64{3}, 1.7},
		"two splines":             {[]float64{20, 25, 15}, []float64{30, 20}, []float64{25, 10}, []int{36, 36}, []float64{3, 2}, 2.2},
		"two, and much to save":   {[]float64{20, 25, 15}, []float64{30, 20}, []float64{29, 100}, []int{20, 18}, []float64{3, 2}, 0},
	} {
		dice := rand.New(rand.NewPCG(1, uint64(len(name))))
		text := func(off float64, stated bool) string {
			var shafts []string
			for i := range c.yokes {
				at := fmt.Sprintf("%.9f deg", c.yokes[i]+off*c.half[i]*(2*dice.Float64()-1))
				if stated {
					at += fmt.Sprintf(" ± %g", c.half[i])
				}
				shafts = append(shafts, fmt.Sprintf("yoke_offset = %q\nteeth = %d\n", at, c.teeth[i]))
			}
			return line(c.angles, c.twists, shafts...)
		}
		f, err := project.Parse("x.toml", []byte("format = 3\n"+text(0, true)))
		require.NoError(t, err)
		g := of(t, Of(f.Build, besides(t, f.Build)), finding.SteeringPhase)
		assert.GreaterOrEqual(t, g.Value, 0.0)
		draws := make([]float64, 120)
		for i := range draws {
			draws[i] = run(t, text(1, false)).Gain.V - g.Value
		}
		slices.Sort(draws)
		most := draws[len(draws)*39/40]
		require.Positive(t, most)
		assert.LessOrEqual(t, most, g.Uncertainty, name)
		if c.wide > 0 {
			assert.LessOrEqual(t, g.Uncertainty, c.wide*most, "%s is wider than it has to be", name)
		}
		assert.NotEmpty(t, g.Largest(), name)
	}
}

// Yokes that stand at their best tooth by more than their ± save nothing, whatever their
// ± is, and so do those that cannot be set over.
func TestNothingToSave(t *testing.T) {
	for name, x := range map[string]string{"at its best tooth": "yoke_offset = \"30 deg ± 2\"\nteeth = 36", "welded": "yoke_offset = \"25 deg ± 2\""} {
		f, err := project.Parse("x.toml", []byte("format = 3\n"+line([]float64{20, 20}, []float64{30}, x)))
		require.NoError(t, err)
		g := of(t, Of(f.Build, besides(t, f.Build)), finding.SteeringPhase)
		assert.Zero(t, g.Value+g.Uncertainty, name)
		assert.Equal(t, finding.OK, g.Status, name)
	}
}

// Where marks that may be the best cannot be told within the ±, neither can what they
// would save.
func TestMarksThatCannotBeToldAreNotPassedOver(t *testing.T) {
	f, err := project.Parse("x.toml", []byte("format = 3\n"+line([]float64{20, 20}, []float64{30}, "yoke_offset = \"25 deg ± 1\"\nteeth = 36")))
	require.NoError(t, err)
	all := besides(t, f.Build)
	c, _, why := chainOf(f.Build)
	require.Empty(t, why)
	r := Of(f.Build, all)
	all[0].V = new(project.Build)
	r.gain(&saving{from: c, beside: all, ripple: r.Ripple}, []marks{{turns: []geom.Angle{0}}})
	assert.False(t, r.Gain.Known)
	assert.True(t, strings.Contains(r.Gain.Why, "within the ±"))
	s := saving{from: c}
	_, ok := s.vector(shaft.Chain{}, nil)
	assert.False(t, ok)
}

// The limit that the largest of several numbers keeps: of one its own; of two that are
// independent and alike the one that each keeps with 98.75 %, 2.2414 standard
// uncertainties; one far below the other makes no difference.
func TestUpperOfTheLargest(t *testing.T) {
	from := new(uncertain.Sources)
	of := func(v float64) finding.Number {
		n, err := from.With(v, uncertain.Source{Label: "x", U: 1, Shape: uncertain.Normal})
		require.NoError(t, err)
		return finding.Of(n)
	}
	a, b, low := of(5), of(5), of(-5)
	assert.InDelta(t, 7, upper([]finding.Number{a}, 7), 0)
	assert.InDelta(t, 5+2.2414, upper([]finding.Number{a, b}, 7), 1e-4)
	assert.InDelta(t, 7, upper([]finding.Number{a, low}, 7), 0)
}
