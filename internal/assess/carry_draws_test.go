package assess

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is stated of findings of every trade against draws (JCGM 101:2008): each value
// drawn anew within its ±, and the build worked out for each with no ± at all. What
// 97.5 % of the draws reach towards the limit is no more than the ±; and what they reach
// to either side is not much less than what the ± has of them, so that one that is half
// as wide, or twice, is found.
func TestStatedValuesAgainstDraws(t *testing.T) {
	n := 0
	b := unsure(build(t, string(starter.Demo())), func() bool { n++; return n%7 == 3 })
	before := Run(build(t, string(starter.Demo())))
	stated := b.StatedValues()
	require.Greater(t, len(stated), 15)
	a := Run(b)
	draws := inturn.Count(120, 4000)
	dice := rand.New(rand.NewPCG(11, 11))
	reach := map[string][]float64{}
	for range draws {
		one := b
		for _, v := range stated {
			var err error
			one, err = one.Varied(v.Path, either(dice, v.Half))
			require.NoError(t, err, v.Path)
		}
		for _, f := range plainly(one).Findings {
			g, _ := a.Finding(f.ID)
			switch {
			case !f.HasValue || !g.HasValue:
			case !f.HasLimit:
				reach[f.ID] = append(reach[f.ID], f.Value-g.Value)
			default:
				reach[f.ID] = append(reach[f.ID], g.Margin-f.Margin)
			}
		}
	}
	tried, bounded := map[finding.Trade]int{}, map[finding.Trade]int{}
	for _, f := range a.Findings {
		all := reach[f.ID]
		if len(all) < draws || f.Uncertainty == 0 {
			continue
		}
		slices.Sort(all)
		most := all[draws*39/40]
		assert.LessOrEqual(t, most, 1.1*f.Uncertainty, f.ID)
		was, _ := before.Finding(f.ID)
		if own := math.Sqrt(max(0, f.Uncertainty*f.Uncertainty-was.Uncertainty*was.Uncertainty)); own > was.Uncertainty/3 && own > 1e-9*math.Abs(f.Value) {
			assert.GreaterOrEqual(t, max(most, -all[draws/40]), 0.65*own, "%s is wider than it has to be", f.ID)
			bounded[f.By]++
		}
		if f.By == finding.TravelTrade || f.By == finding.MountTrade || f.By == finding.BracketTrade || finding.Matches(finding.Moving(finding.Clearance("*")), f.ID) {
			tried[f.By]++
		}
	}
	for _, trade := range []finding.Trade{finding.TravelTrade, finding.MountTrade, finding.BracketTrade, finding.ClearTrade} {
		assert.Positive(t, tried[trade], trade)
		assert.Positive(t, bounded[trade], trade)
	}
}

// plainly assesses a build without its ±.
func plainly(b *project.Build) *Assessment { return Prepare(b).besideNothing().at(b, Everything) }
