package hung

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// seated gives the scene its mounts, and a plan from which it hangs elsewhere.
func (s *scene) seated(t *testing.T, off func(p *seat.Placement)) (in Input, planned seat.Placement) {
	t.Helper()
	in = s.input()
	in.Supports = finding.Maybe[seat.Supports]{V: seat.Supports{LeftFront: r3.Vec{Y: -250, Z: -50}, RightFront: r3.Vec{Y: 250, Z: -50}, Rear: r3.Vec{X: 1200, Z: -100}}, Known: true}
	planned = in.Supports.V.Placement(s.is)
	off(&planned)
	return in, planned
}

// How it hangs against the plan is said by each row that it is moved by, in mm and degrees
// with its ±, the right way round; a caution only where findings come out otherwise.
func TestAsMeasuredAgainstPlanned(t *testing.T) {
	s := newScene(t, 0.5).taped(t).read(t)
	none := func(seat.Placement) []string { return nil }
	for _, c := range []struct {
		off   func(p *seat.Placement)
		says  []string
		value float64
	}{
		{func(*seat.Placement) {}, []string{"where it is planned to"}, 0},
		{func(p *seat.Placement) { p.Rear += 6 }, []string{"6.0 ± ", " mm lower at the rear mount", "° more down to the rear"}, 6},
		{func(p *seat.Placement) { p.LeftFront -= 7 }, []string{"7.0 ± ", "higher at the left front mount"}, 7},
		{func(p *seat.Placement) { p.RightFront += 7 }, []string{"lower at the right front mount"}, 7},
		{func(p *seat.Placement) { p.Setback -= 9 }, []string{"9.0 ± ", "farther back"}, 9},
		{func(p *seat.Placement) { p.Offset += 9 }, []string{"9.0 ± ", "farther left"}, 9},
		{func(p *seat.Placement) { p.Heading += geom.Deg }, []string{"1.00 ± ", "° with its rear to the left"}, 0},
	} {
		in, planned := s.seated(t, c.off)
		p := Of(in)
		f, ok := p.PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, none)
		require.True(t, ok)
		assert.Equal(t, finding.OK, f.Status)
		assert.False(t, f.HasLimit, "the plan is no limit")
		for _, says := range c.says {
			assert.Contains(t, f.Advice(), says)
		}
		assert.InDelta(t, c.value, f.Value, 0.01)
		assert.Greater(t, f.Uncertainty, 0.1)
		says, beyond := p.Apart(planned)
		assert.Equal(t, !strings.Contains(f.Advice(), "where it is planned to"), beyond, says)

		f, _ = p.PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, func(is seat.Placement) []string {
			assert.InDelta(t, in.Supports.V.Placement(s.is).Rear, is.Rear, 0.01)
			return []string{"rear joint 1, largest angle over limit"}
		})
		assert.Equal(t, beyond, f.Status == finding.Tight)
	}
	in, planned := s.seated(t, func(*seat.Placement) {})
	in.Lines = nil
	_, ok := Of(in).PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, none)
	assert.False(t, ok)
	in, planned = s.seated(t, func(p *seat.Placement) { p.Rear += 6 })
	in.Lines = in.Lines[:1] // one height and the gauge: no front mount, for it may lean
	f, _ := Of(in).PlacedFinding(finding.Maybe[seat.Placement]{V: planned, Known: true}, none)
	assert.Contains(t, f.Advice(), "more down to the rear")
	assert.Contains(t, f.Advice(), "lower at the rear mount")
	assert.NotContains(t, f.Advice(), "front mount")
}

// What is said of each row holds by simulation (JCGM 101:2008).
func TestRowsAgainstMonteCarlo(t *testing.T) {
	const n = 100
	s := newScene(t, 0.5).taped(t).read(t)
	dice := rand.New(rand.NewPCG(9, 101))
	held, all, square := map[string]int{}, 0, map[string]float64{}
	var u map[string]float64
	for range n {
		in, planned := s.drawn(dice).seated(t, func(*seat.Placement) {})
		p := Of(in)
		if p.Why != "" || len(p.Suspects) > 0 {
			continue
		}
		all++
		u = map[string]float64{}
		for _, o := range p.Against(planned) {
			if !o.Beyond() {
				held[o.Name]++
			}
			square[o.Name] += o.By.V * o.By.V
			u[o.Name] = o.By.U()
		}
	}
	require.Greater(t, all, n*9/10)
	require.Len(t, u, 7)
	for name, u := range u {
		assert.GreaterOrEqual(t, float64(held[name]), 0.88*float64(all), name)
		assert.InDelta(t, 1, math.Sqrt(square[name]/float64(all))/u, 0.25, name)
	}
}
