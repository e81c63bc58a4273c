package propose_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/uncertain/coverage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// calibrated is a build with its truth, moved as a proposal would move it.
type calibrated struct {
	kind  *aimedKind
	truth *project.Build
	read  func(dice *rand.Rand) string
	err   error
}

func (k *aimedKind) drawCalibrated(dice *rand.Rand) *calibrated {
	c := &calibrated{kind: k}
	text, read, err := k.draw(dice)
	if c.read, c.err = read, err; err == nil {
		c.truth, c.err = built(text, nil)
	}
	return c
}

// moved is a build where its things are moved by so many steps each.
func (k *aimedKind) moved(b *project.Build, steps map[string]float64) (*assess.Assessment, error) {
	p := assess.Prepare(b)
	var moves []project.Move
	for _, of := range slices.Sorted(maps.Keys(steps)) {
		m, err := p.Build.MovableNamed(of)
		if err != nil {
			return nil, err
		}
		at, err := standing(p, m)
		if err != nil {
			return nil, err
		}
		if n := steps[of]; n != 0 {
			moves = append(moves, project.Move{Of: m, To: at + n*k.moves[of][1]})
		}
	}
	return p.At(moves, ofProposals)
}

// limitsEach is how many limits each finding is held to: they cost nothing beside it.
const limitsEach = 6

// judge reads the build, moves it and the truth alike, and holds what is stated of limits
// that know of neither against what is true.
func (c *calibrated) judge(dice *rand.Rand, middle map[string]finding.Finding, say func(coverage.Outcome)) error {
	if c.err != nil {
		return c.err
	}
	b, err := built(c.read(dice), nil)
	if err != nil {
		return err
	}
	steps := map[string]float64{}
	for _, of := range slices.Sorted(maps.Keys(c.kind.moves)) {
		by := c.kind.moves[of]
		most := math.Round(by[0] / by[1])
		steps[of] = math.Round(most * (2*dice.Float64() - 1))
	}
	as, err := c.kind.moved(b, steps)
	if err != nil {
		return err
	}
	is, err := c.kind.moved(c.truth, steps)
	if err != nil {
		return err
	}
	for _, one := range c.kind.hold {
		mid, known := middle[one[0]]
		f, read := as.Finding(one[0])
		g, there := is.Finding(one[0])
		if !known || !read || !there || !f.HasValue || !g.HasValue || f.Title != g.Title {
			continue
		}
		for range limitsEach {
			f.Limit = mid.Value + 4*mid.Uncertainty*(2*dice.Float64()-1)
			sure, stated := f.Within()
			if f.Limit <= 0 || !stated {
				continue
			}
			keeps := g.Value <= f.Limit
			if f.AtLeast {
				keeps = g.Value >= f.Limit
			}
			// The mean of what was stated is kept as the mean width up to it.
			say(coverage.Outcome{Of: classOf(sure), Known: true, Truth: 0, Lower: math.Inf(-1), Upper: sure, OK: true, Keeps: keeps})
		}
	}
	return nil
}

// classes are those of stated probabilities, by their upper ends.
var classes = []float64{0.025, 0.1, 0.3, 0.5, 0.7, 0.9, 0.975, 1}

func classOf(sure float64) string {
	for _, to := range classes {
		if sure <= to {
			return fmt.Sprintf("up to %5.1f %%", 100*to)
		}
	}
	return "more than all"
}

// What is stated as the probability that a finding keeps its limit after a move is how often
// it does: the reliability table is printed. Limits are drawn that know of no reading and of
// no truth, so that each is as likely to be kept as what is known says.
func TestStatedProbabilitiesOfProposalsAreCalibrated(t *testing.T) {
	plan := coverage.Plan{Builds: *simulated, Each: *readings, At: runtime.GOMAXPROCS(0)}
	sure := coverage.Confidence
	if *simulated == defaultBuilds {
		sure = 0.9999 // of few builds some are odd by chance
	}
	for i, k := range aimedKinds() {
		if !strings.Contains(k.name, *only) || *simulated == defaultBuilds && !inturn.Try(t, i, 3) {
			continue
		}
		middle := map[string]finding.Finding{}
		first := k.drawCalibrated(rand.New(rand.NewPCG(4, uint64(i))))
		require.NoError(t, first.err)
		b, err := built(first.read(rand.New(rand.NewPCG(5, uint64(i)))), nil)
		require.NoError(t, err)
		for _, f := range assess.Run(b).Findings {
			middle[f.ID] = f
		}
		plan.Start = uint64(5000 + i)
		r, err := coverage.Run(coverage.Trial[*calibrated]{
			Truth: k.drawCalibrated,
			Judge: func(dice *rand.Rand, c *calibrated, say func(coverage.Outcome)) error {
				return c.judge(dice, middle, say)
			},
		}, plan)
		require.NoError(t, err)
		require.NotEmpty(t, r.Rows)
		t.Logf("%s: stated, mean of that, kept, of so many", k.name)
		for _, row := range r.Rows {
			kept := 1 - row.False.Value()
			t.Logf("  %s  %5.1f %%  %5.1f %%  %d", row.Of, 100*row.Width, 100*kept, row.False.Of)
			// Nobody is told more than is so, and no more than a little less.
			assert.LessOrEqual(t, row.False.Lower(sure), 1-row.Width+0.02, "%s, %s: stated %.3f, kept %.3f", k.name, row.Of, row.Width, kept)
			assert.GreaterOrEqual(t, row.False.Upper(sure), 1-row.Width-0.1, "%s, %s: stated %.3f, kept %.3f", k.name, row.Of, row.Width, kept)
		}
	}
}
