package tape

import (
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// stations is a frame seen from above: pairs of points on two rails, with the
// sides of each bay, its cross pieces and its diagonals, and the diagonals over
// as many bays as far says.
func stations(r *rand.Rand, pairs, far int, sigma float64) *Net {
	n := &Net{}
	var truth []r3.Vec
	for k := range pairs {
		x := 900*float64(k) + 60*r.Float64()
		truth = append(truth, r3.Vec{X: x, Y: -400 + 20*r.Float64()}, r3.Vec{X: x, Y: 400 + 20*r.Float64()})
	}
	for i, p := range truth {
		free := plan
		switch i {
		case 0:
			free = none
		case 1:
			free = [3]bool{false, true, false}
		}
		n.Add(Point{Name: strconv.Itoa(i), At: p, Free: free})
	}
	tape := func(i, j int) {
		n.Distance(strconv.Itoa(i)+"-"+strconv.Itoa(j), i, j, r3.Norm(r3.Sub(truth[i], truth[j]))+sigma*r.NormFloat64(), sigma)
	}
	for k := range pairs {
		tape(2*k, 2*k+1)
		for d := 1; d <= far && k+d < pairs; d++ {
			tape(2*k, 2*(k+d))
			tape(2*k+1, 2*(k+d)+1)
			tape(2*k, 2*(k+d)+1)
			tape(2*k+1, 2*(k+d))
		}
	}
	return n
}

// trial is what became of one blunder.
type trial struct {
	clear bool // large enough to show, and alike no other
	named bool // and named first
	among bool // or in the group that is named
	said  bool // something was said to be wrong
	shows bool // large enough to show
}

func blunder(t *testing.T, r *rand.Rand, n *Net, size float64) trial {
	t.Helper()
	i := r.IntN(len(n.measure))
	n.measure[i].Value += size * n.measure[i].Sigma * float64(2*r.IntN(2)-1)
	p := n.Problem()
	f, err := Solve(t.Context(), p)
	require.NoError(t, err)
	var out trial
	out.shows = f.Each[i].Redundancy > 0 && 4.94/math.Sqrt(f.Each[i].Redundancy) < size
	out.clear = out.shows && len(f.Group(i, alike)) == 1
	suspects, err := Suspects(t.Context(), p, f)
	require.NoError(t, err)
	if len(suspects) > 0 {
		out.said = true
		out.named = suspects[0].Observation == i
		for _, s := range suspects {
			out.among = out.among || s.Observation == i || slices.Contains(s.Alike, i)
		}
	}
	return out
}

// blunderTrials is how many random blunders are tried; TAPE_BLUNDERS=2000 makes
// it two thousand.
func blunderTrials() int {
	if n, err := strconv.Atoi(os.Getenv("TAPE_BLUNDERS")); err == nil {
		return n
	}
	return 250
}

// Random blunders in frames of random size and density, and in a net in space. One
// that shows by 4.94·σ/√r and leaves residuals like no other's is named. One that
// cannot be told apart stands in the group that is named. One that nobody can see
// is within what the fit says it could hide.
func TestRandomBlunders(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 2026))
	var clear, named, group, among, hidden, silent int
	for range blunderTrials() {
		n := stations(r, 3+r.IntN(5), 1+r.IntN(3), 0.58)
		if r.IntN(3) == 0 {
			n, _ = mixed(r, 0.58)
		}
		switch o := blunder(t, r, n, 2+23*r.Float64()); {
		case o.clear:
			clear++
			if o.named {
				named++
			}
		case o.shows:
			group++
			if o.among {
				among++
			}
		default:
			hidden++
			if !o.said {
				silent++
			}
		}
	}
	t.Logf("clear %d, named %d; in a group %d, within it %d; hidden %d, of which nothing is said %d", clear, named, group, among, hidden, silent)
	assert.GreaterOrEqual(t, float64(named), 0.95*float64(clear))
	assert.GreaterOrEqual(t, float64(among), 0.95*float64(group))
	assert.Positive(t, clear)
	assert.Positive(t, group)
	assert.Positive(t, hidden)
}

// A frame of four stations with tapes in adjacent bays only hides a blunder of 5 mm
// nearly always; it is told which tape it needs, and with those it names it.
func TestWeakFrameIsToldWhatItNeeds(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	mean := func(f *Fit) float64 {
		sum := 0.0
		for _, e := range f.Each {
			sum += e.Detectable * e.Detectable
		}
		return math.Sqrt(sum / float64(len(f.Each)))
	}
	n := stations(r, 4, 1, 0.58)
	f, err := Solve(t.Context(), n.Problem())
	require.NoError(t, err)
	before := mean(f)
	assert.Greater(t, before, 5.0, "it says itself that it could hide 5 mm")
	for k := range 6 {
		further := n.Furthers(f.X, Sigmas{Distance: 0.58})
		b := f.Best(further)
		require.GreaterOrEqual(t, b, 0)
		c := further[b]
		require.Equal(t, Distance, c.Kind)
		if k == 0 {
			assert.Equal(t, []int{0, 7}, c.Points, "from corner to corner of the whole")
		}
		n.Distance("more", c.Points[0], c.Points[1], distance(n, c.Points[0], c.Points[1], f.X), 0.58)
		f, err = Solve(t.Context(), n.Problem())
		require.NoError(t, err)
	}
	assert.Less(t, mean(f), 4.0)
}

// A loose point is tied down by the measurement that is named.
func TestLoosePointIsTiedDown(t *testing.T) {
	n := &Net{}
	a, b := n.Add(known(0, 0, 0)), n.Add(known(1000, 0, 0))
	p := n.Add(Point{Name: "P", At: r3.Vec{X: 400, Y: 300}, Free: plan})
	n.Distance("AP", a, p, 500, 1)
	_, err := Solve(t.Context(), n.Problem())
	var loose *LooseError
	require.ErrorAs(t, err, &loose)
	x := n.Problem().Start
	further := n.Furthers(x, Sigmas{Distance: 1, Offset: 1})
	k := loose.Ties(further, x)
	require.GreaterOrEqual(t, k, 0)
	assert.Equal(t, []int{b, p}, further[k].Points)

	line := &Net{} // on one line no distance helps, but an offset from the string does
	for i := range 4 {
		free := plan
		if i == 0 || i == 3 {
			free = none
		}
		line.Add(Point{At: r3.Vec{X: 100 * float64(i)}, Free: free})
		if i > 0 {
			line.Distance("next", i-1, i, 100, 1)
		}
	}
	_, err = Solve(t.Context(), line.Problem())
	require.ErrorAs(t, err, &loose)
	x = line.Problem().Start
	further = line.Furthers(x, Sigmas{Distance: 1, Offset: 1})
	k = loose.Ties(further, x)
	require.GreaterOrEqual(t, k, 0)
	assert.Equal(t, Offset, further[k].Kind)
	assert.Equal(t, -1, loose.Ties(line.Furthers(x, Sigmas{Distance: 1}), x), "no distance along the line helps")
}

// How a measurement would fit with another value is how it does fit when it is fitted
// anew with that value, with errors that are shared as well as without.
func TestWouldIsWhatFittingAnewSays(t *testing.T) {
	for seed := range 6 {
		r := rand.New(rand.NewPCG(uint64(seed), 77))
		n := stations(r, 4, 2, 0.5)
		i := r.IntN(len(n.measure))
		if seed%2 == 1 { // the scale of the tape
			c := Common{Name: "scale", Of: make([]float64, len(n.measure))}
			for k := range c.Of {
				c.Of[k] = 2e-4 * n.measure[k].Value
			}
			n.Share(c)
		}
		p := n.Problem()
		less := p
		less.Observations = slices.Delete(slices.Clone(p.Observations), i, i+1)
		f, err := Solve(t.Context(), less)
		require.NoError(t, err)
		for _, off := range []float64{-2, 0.3, 1.5} {
			o := p.Observations[i]
			value := o.Of.At(f.X) + off
			w, sum := f.Would(o)(value)
			p.Observations = slices.Clone(p.Observations)
			p.Observations[i].Value = value
			g, err := Solve(t.Context(), p)
			require.NoError(t, err)
			assert.InDelta(t, g.SumSquare, sum, 2e-3*(1+g.SumSquare))
			assert.InDelta(t, -g.Each[i].W, w, 2e-3*(1+math.Abs(w)))
			ok, _ := g.Agrees(0.001)
			assert.Equal(t, ok, f.AgreesWith(sum, 0.001))
		}
	}
}
