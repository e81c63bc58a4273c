package propose

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Against drawing truths and readings; and at its two ends: nothing learned is the tail
// of the normal distribution, all learned is no wrong weld.
func TestWrongWeldAgainstDraws(t *testing.T) {
	assert.InDelta(t, 0.158655, WrongWeld(1, 1, 1), 1e-6, "one standard uncertainty, any table")
	assert.Zero(t, WrongWeld(1, 1, 0))
	assert.Zero(t, WrongWeld(-1, 1, 1), "nobody welds on what is past its limit")
	assert.Zero(t, WrongWeld(1, 0, 0))
	assert.InDelta(t, 0.25, WrongWeld(0, 1, math.Sqrt(1-1e-9)), 1e-3, "a reading that says nothing, on the limit")
	r := rand.New(rand.NewPCG(5, 5))
	for range draws(6) {
		u := 0.1 + r.Float64()
		left := u * (0.1 + 0.85*r.Float64())
		margin := u * (3*r.Float64() - 1)
		const n = 100000
		wrong := 0
		for range n {
			// What the reading makes of the number is spread by what it takes away, and
			// the truth about that by what it leaves.
			value := math.Sqrt(u*u-left*left) * r.NormFloat64()
			truth := value + left*r.NormFloat64()
			if value <= margin && truth > margin {
				wrong++
			}
		}
		got := WrongWeld(margin, u, left)
		require.InDelta(t, float64(wrong)/n, got, 4*math.Sqrt(max(got, 1e-4)/n)+1e-4)
		if margin > 0 {
			require.LessOrEqual(t, got, WrongWeld(margin, u, u)+1e-9, "a reading never makes a weld that would be made worse")
		}
	}
}

// A bench of three axes and the findings on their differences, read one after the other:
// choosing by the expected drop leaves fewer wrong welds than choosing at random, and
// than the best of all fixed orders.
func TestChoosingByTheDropBeatsOthers(t *testing.T) {
	runs := draws(1500)
	r := rand.New(rand.NewPCG(9, 9))
	fixed := [][]int{{0, 1}, {0, 2}, {1, 0}, {1, 2}, {2, 0}, {2, 1}, {0, 0}, {1, 1}, {2, 2}}
	wrong := make([]float64, 2+len(fixed))
	for range runs {
		b := drawnBench(r)
		for k := range wrong {
			x := b
			for step := range 2 {
				pick := 0
				switch {
				case k == 0:
					pick = x.best()
				case k == 1:
					pick = r.IntN(3)
				default:
					pick = fixed[k-2][step]
				}
				x = x.read(pick, r)
			}
			wrong[k] += x.wrongNow()
		}
	}
	best := math.Inf(1)
	for _, w := range wrong[2:] {
		best = min(best, w)
	}
	t.Logf("wrong welds per hundred: by the drop %.3f, at random %.3f, best fixed order %.3f", 100*wrong[0]/float64(runs), 100*wrong[1]/float64(runs), 100*best/float64(runs))
	assert.Less(t, wrong[0], 0.9*wrong[1])
	assert.Less(t, wrong[0], 0.95*best)
}

// bench is what is believed of three slopes that are independent, and findings on
// differences of them.
type bench struct {
	truth, mean, u [3]float64
	gauge          [3]float64 // standard uncertainty of one more reading of each
	of             [2][3]float64
	limit          [2]float64
}

func drawnBench(r *rand.Rand) bench {
	b := bench{of: [2][3]float64{{1, -1, 0}, {0, 1, -1}}}
	for i := range 3 {
		b.u[i], b.gauge[i] = 0.02+0.4*r.Float64()*r.Float64(), 0.05+0.1*r.Float64()
		b.truth[i] = b.u[i] * r.NormFloat64()
	}
	for k := range b.limit {
		b.limit[k] = 0.05 + 0.4*r.Float64()
	}
	return b
}

func (b bench) finding(k int) (margin, u float64) {
	v, sum := 0.0, 0.0
	for i, c := range b.of[k] {
		v, sum = v+c*b.mean[i], sum+c*c*b.u[i]*b.u[i]
	}
	return b.limit[k] - v, math.Sqrt(sum)
}

func after(u, gauge float64) float64 { return u * gauge / math.Hypot(u, gauge) }

func (b bench) best() int {
	pick, most := 0, -1.0
	for i := range 3 {
		drop := 0.0
		for k := range b.limit {
			margin, u := b.finding(k)
			c := b
			c.u[i] = after(b.u[i], b.gauge[i])
			_, left := c.finding(k)
			drop += WrongWeld(margin, u, u) - WrongWeld(margin, u, left)
		}
		if drop > most {
			pick, most = i, drop
		}
	}
	return pick
}

func (b bench) read(i int, r *rand.Rand) bench {
	shown := b.truth[i] + b.gauge[i]*r.NormFloat64()
	left := after(b.u[i], b.gauge[i])
	b.mean[i] += (shown - b.mean[i]) * left * left / (b.gauge[i] * b.gauge[i])
	b.u[i] = left
	return b
}

// wrongNow is the chance of a wrong weld on what is within, for its truth not drawn but
// taken over what is believed: less noise than counting.
func (b bench) wrongNow() float64 {
	sum := 0.0
	for k := range b.limit {
		margin, u := b.finding(k)
		sum += WrongWeld(margin, u, u)
	}
	return sum
}

// nearLine is a line that was read, and that limit of its joints.
func nearLine(t *testing.T, limit string) *project.Build {
	t.Helper()
	var b strings.Builder
	b.WriteString("format = 3\n[line.rear.pinion]\n[limits]\njoint_max = \"" + limit + "\"\nmismatch = \"" + limit + "\"\nequivalent = \"" + limit + "\"\n[gauge]\naccuracy = \"0.1 deg\"\n")
	for _, x := range [][2]string{{"powertrain", "4.4 deg"}, {"line.rear.shaft.1", "2.4 deg"}, {"line.rear.pinion", "4.8 deg"}} {
		b.WriteString("[[reading]]\nof = \"" + x[0] + "\"\non = \"along\"\nshown = \"" + x[1] + "\"\nlower = \"rear\"\n")
	}
	return parsed(t, b.String())
}

// Of a build near its limit the other kind of surface helps and the same one not, since
// the accuracy of the gauge there is shared; of one far from it nothing is worth taking.
func TestNextReadingOfABuild(t *testing.T) {
	n := NextReading(nearLine(t, "2.45 deg"))
	require.NotEmpty(t, n.Readings)
	assert.False(t, n.Enough)
	assert.Greater(t, n.Chance, 0.1)
	best := n.Readings[0]
	assert.Contains(t, []string{"line.rear.shaft.1", "line.rear.pinion"}, best.Of)
	assert.Contains(t, best.How, "square face")
	assert.Greater(t, best.Drop, Worth)
	assert.Contains(t, best.Helps, "line.rear.joint.2.max")
	n = NextReading(nearLine(t, "9 deg"))
	assert.Less(t, n.Chance, 1e-6)
	for _, r := range n.Readings {
		assert.Less(t, r.Drop, Worth)
	}
	assert.True(t, n.Enough)
	n = NextReading(parsed(t, "format = 3\n"))
	assert.False(t, n.Enough, "an empty list proves nothing")
}

// What is said before a hold point goes by the findings that the job waits for alone, adds up
// to what is said of all, and is nothing where one of them is past its limit or not known.
func TestTheNextReadingOfAJob(t *testing.T) {
	b := nearLine(t, "2.45 deg")
	n := NextReading(b)
	a := assess.Run(b)
	holding := func(ids ...string) assess.Job {
		j := assess.Job{}
		for _, id := range ids {
			j.Holds = append(j.Holds, assess.Hold{ID: id})
		}
		return j
	}
	chance, drop := 0.0, 0.0
	for i := range a.Findings {
		one := n.of(func(id string) bool { return id == a.Findings[i].ID })
		chance += one.Chance
		for _, r := range one.Readings {
			if r.Of == n.Readings[0].Of && r.How == n.Readings[0].How {
				drop += r.Drop
			}
		}
	}
	assert.InDelta(t, n.Chance, chance, 1e-12)
	assert.InDelta(t, n.Readings[0].Drop, drop, 1e-12)
	assert.Contains(t, n.For(holding("line.rear.joint.2.max")), "Measure next: ")
	assert.Contains(t, n.For(holding("line.rear.joint.1.min")), "Enough: weld")
	assert.Empty(t, n.For(holding("welds.given")))
	assert.Empty(t, n.For(holding()))
	n.Open = append(n.Open, "clearance.tank")
	assert.Empty(t, n.For(holding("line.rear.joint.2.max", "clearance.tank")))
}

// Where the whole chance is too small for any reading to be worth it, none is weighed.
func TestNothingIsWeighedWhereNothingIsAtStake(t *testing.T) {
	b := nearLine(t, "9 deg")
	steps := 0
	n, err := NextReadingBeside(t.Context(), b, func() { steps++ })
	require.NoError(t, err)
	all := NextReading(b)
	assert.InDelta(t, all.Chance, n.Chance, 1e-15)
	assert.Less(t, all.Chance, Worth)
	assert.Len(t, n.Readings, len(all.Readings))
	assert.Less(t, steps, 30, "one assessment")
	for _, r := range all.Readings {
		assert.Less(t, r.Drop, Worth)
	}
}
