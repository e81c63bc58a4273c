package instrument

import (
	"math"
	"testing"

	"fitup/internal/geom/gauge"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const deg = math.Pi / 180

// angle is a gauge, its figures in degrees.
func angle(accuracy, repeat, resolution, zero float64) Tool {
	return Tool{Name: "the gauge", Accuracy: accuracy * deg, Repeat: repeat * deg, Resolution: resolution * deg, Zero: zero * deg, MostZero: 1 * deg}
}

// along are readings of one surface, in degrees, with the gauge one way round.
func along(of string, sign int, shown ...float64) Set {
	set := Set{Of: of}
	for _, v := range shown {
		set.Readings = append(set.Readings, Reading{Value: v * deg, Surface: of, Sign: sign})
	}
	return set
}

func read(t testing.TB, tool Tool, sets ...Set) *Read {
	t.Helper()
	out, err := tool.Read(new(uncertain.Sources), sets)
	require.NoError(t, err)
	return out
}

func halfOf(t testing.TB, tool Tool, set Set) float64 {
	t.Helper()
	return read(t, tool, set).Sets[0].Number.Expanded() / deg
}

// What an instrument is good for on one surface does not average away: u is the
// half width over √3 (JCGM 100:2008, 4.3.7), k = 2.
func TestAccuracyDoesNotAverage(t *testing.T) {
	tool := angle(0.2, 0, 0, 0)
	shown := make([]float64, 25)
	for i := range shown {
		shown[i] = 4.6
	}
	one := halfOf(t, tool, along("the pinion", 1, 4.6))
	assert.InDelta(t, 0.4/math.Sqrt(3), one, 1e-9)
	assert.InDelta(t, one, halfOf(t, tool, along("the pinion", 1, shown...)), 1e-9)
	// Another surface is the repeat that helps.
	other := along("the pinion", 1, 4.6, 4.6)
	other.Readings[1].Surface = "the pinion's flange"
	assert.InDelta(t, one/math.Sqrt2, halfOf(t, tool, other), 1e-9)
	// What is stated of the scatter averages, to the accuracy and no lower.
	tool.Repeat = 0.3 * deg
	assert.InDelta(t, 2*math.Hypot(0.2, 0.3)/math.Sqrt(3), halfOf(t, tool, along("the pinion", 1, 4.6)), 1e-9)
	assert.InDelta(t, 2*math.Hypot(0.2, 0.06)/math.Sqrt(3), halfOf(t, tool, along("the pinion", 1, shown...)), 1e-9)
}

// Three readings 1° from one to the next: nothing that a gauge of ±0.1 does. With
// a repeat of 1° stated they are a slope to about ±1.2.
func TestScatterBeyondTheGauge(t *testing.T) {
	set := along("the pinion", 1, 3.6, 4.6, 5.6)
	tool := angle(0.1, 0, 0, 0)
	got := read(t, tool, set)
	assert.Equal(t, gauge.Contradict, got.Sets[0].Agreement)
	assert.Zero(t, got.Scatter, "and says nothing of other readings")
	assert.Equal(t, uncertain.Number{}, got.Sets[0].Number)

	tool.Repeat = 1 * deg
	got = read(t, tool, set, along("the output", 1, 2.4))
	require.Equal(t, gauge.Agree, got.Sets[0].Agreement)
	n := got.Sets[0].Number
	assert.InDelta(t, 4.6, n.V/deg, 1e-9)
	assert.InDelta(t, 2*math.Hypot(1/math.Sqrt(3), 0.1/math.Sqrt(3)), n.Expanded()/deg, 1e-9)
	assert.InDelta(t, 1.2, n.Expanded()/deg, 0.05)
	assert.Equal(t, "the scatter of the readings of the pinion", n.Largest()[0].Label)
	// The pooled scatter, 1°, is that of a single reading too; k stays 2.
	assert.InDelta(t, 1, got.Scatter/deg, 1e-9)
	single := got.Sets[1].Number
	assert.InDelta(t, 2*math.Hypot(1, 0.1/math.Sqrt(3)), single.Expanded()/deg, 1e-9)
	assert.Equal(t, "the reading of the output", single.Largest()[0].Label)
	assert.Equal(t, "the gauge's accuracy on the output", single.Largest()[1].Label)

	// Against an axis at 2.4° the joint of 2.2° stays within its 3°, but not surely.
	joint := n.Shift(-2.4 * deg)
	assert.Less(t, joint.AtMost(3*deg), 0.975)
	assert.Greater(t, joint.AtMost(3*deg), 0.5)
}

// One reading an axis is what it was: joints 0.3° inside their limit are ok.
func TestOneReadingAnAxis(t *testing.T) {
	got := read(t, angle(0.1, 0, 0, 0), along("the output", 0, 4), along("the pinion", 0, 1.3))
	joint := got.Sets[0].Number.Minus(got.Sets[1].Number)
	assert.InDelta(t, 0.163299, joint.Expanded()/deg, 1e-6)
	assert.Less(t, joint.Expanded(), 0.3*deg)
	assert.Zero(t, got.Scatter)
}

// A second reading makes the mean no worse than half of what the two are apart,
// and a third no worse than its distance from the mean; readings elsewhere are
// made no worse than that either.
func TestRepeatsPunishNoMoreThanTheyDeserve(t *testing.T) {
	tool := angle(0.1, 0, 0, 0)
	one := halfOf(t, tool, along("the pinion", 1, 4.6))
	assert.InDelta(t, one, halfOf(t, tool, along("the pinion", 1, 4.6, 4.6)), 1e-9)
	for _, apart := range []float64{0.02, 0.05, 0.1, 0.15, 0.2, 0.25} {
		got := read(t, tool, along("the pinion", 1, 4.6, 4.6+apart), along("the output", 1, 2))
		require.NotEqual(t, gauge.Contradict, got.Sets[0].Agreement)
		half := got.Sets[0].Number.Expanded() / deg
		t.Logf("%.2f apart: ±%.4f, one reading ±%.4f, elsewhere ±%.4f", apart, half, one, got.Sets[1].Number.Expanded()/deg)
		assert.Greater(t, half, one)
		assert.LessOrEqual(t, half, one+apart/2+1e-9)
		assert.LessOrEqual(t, got.Sets[1].Number.Expanded()/deg, one+apart/2+1e-9)
	}
	// Three, one of them 0.08 from their mean: a reading elsewhere is no worse than
	// by that.
	got := read(t, tool, along("the pinion", 1, 4.48, 4.6, 4.6), along("the output", 1, 2))
	assert.InDelta(t, one+0.08, got.Sets[1].Number.Expanded()/deg, 1e-9)
	rapid.Check(t, func(t *rapid.T) {
		shown := rapid.SliceOfN(rapid.Float64Range(4.4, 4.8), 1, 6).Draw(t, "shown")
		tool := angle(0.1, 0, rapid.SampledFrom([]float64{0, 0.05, 0.1}).Draw(t, "resolution"), 0)
		out, err := tool.Read(new(uncertain.Sources), []Set{along("the pinion", 1, shown...)})
		if err != nil {
			t.Fatal(err)
		}
		if out.Sets[0].Agreement == gauge.Contradict {
			return
		}
		n, far := out.Sets[0].Number, 0.0
		for _, v := range shown {
			far = max(far, math.Abs(v-n.V/deg))
		}
		alone := 2 * math.Hypot(0.1/math.Sqrt(3), tool.stepU()/deg)
		if got := n.Expanded() / deg; got > alone+far+1e-9 || got < 0.2/math.Sqrt(3)-1e-9 {
			t.Fatalf("±%g, one reading ±%g, farthest %g", got, alone, far)
		}
	})
}

// Many repeats that agree well within the accuracy: Student's factor for their
// pooled degrees of freedom, which soon is 2.
func TestManyRepeatsAreEstimated(t *testing.T) {
	shown := []float64{4.58, 4.62, 4.60, 4.63, 4.57, 4.60, 4.61, 4.59}
	tool := angle(0.1, 0, 0, 0)
	got := read(t, tool, along("the pinion", 1, shown...), along("the output", 1, 2.02, 1.98))
	sum := 0.0
	for _, v := range shown {
		sum += (v - 4.6) * (v - 4.6)
	}
	sum += 2 * 0.02 * 0.02
	assert.InDelta(t, math.Sqrt(sum/8), got.Scatter/deg, 1e-9)
	assert.InDelta(t, 8, got.DoF, 0)
	n := got.Sets[0].Number
	assert.InDelta(t, math.Sqrt(0.01/3+sum/8/8), n.U()/deg, 1e-9)
	assert.False(t, math.IsInf(n.DoF(), 1))
	alone := n.Minus(got.Sets[1].Number) // one pool
	assert.InDelta(t, math.Pow(alone.U(), 4)/math.Pow(got.Scatter*got.Scatter*(1.0/8+1.0/2), 2)*8, alone.DoF(), 1e-6)
}

// The display's steps average where the readings scatter over them, and do not
// where all show the same step.
func TestResolution(t *testing.T) {
	tool := angle(0.1, 0.2, 0.1, 0)
	step := 0.05 / math.Sqrt(3)
	same := read(t, tool, along("the pinion", 1, 4.6, 4.6, 4.6, 4.6)).Sets[0].Number
	assert.InDelta(t, math.Sqrt((0.01+0.04/4)/3+step*step), same.U()/deg, 1e-9)
	over := read(t, tool, along("the pinion", 1, 4.5, 4.6, 4.6, 4.7)).Sets[0].Number
	assert.InDelta(t, math.Sqrt((0.01+0.04/4)/3+step*step/4), over.U()/deg, 1e-9)
}

// A zero of 1°: it drops out between two readings that have it alike, counts
// twice between opposite ones, and twice between a square face and an axis of
// which nobody said how the gauge stood.
func TestZeroCountsWithTheWorseSign(t *testing.T) {
	tool := angle(0.1, 0, 0, 1)
	between := func(face, axis int) float64 {
		got := read(t, tool, along("the pinion's flange", face, 4.8), along("the output", axis, 3))
		return got.Sets[0].Number.Minus(got.Sets[1].Number).Expanded() / deg
	}
	alike := 2 * math.Sqrt2 * 0.1 / math.Sqrt(3)
	worse := 2 * math.Sqrt(2*0.01/3+4.0/3)
	top := gauge.ZeroSign(gauge.ToRear, gauge.Upward)
	assert.InDelta(t, alike, between(gauge.ZeroSign(gauge.Downward, gauge.ToRear), top), 1e-9)
	assert.InDelta(t, worse, between(gauge.ZeroSign(gauge.Upward, gauge.ToRear), top), 1e-9)
	assert.InDelta(t, worse, between(0, top), 1e-9)
	assert.InDelta(t, worse, between(0, 0), 1e-9)
}

// A gauge turned round on one surface: the zero drops out of the mean, and what
// it was found to be comes off other readings and with a worse sign off those
// that do not say how it stood.
func TestTurnedRound(t *testing.T) {
	turned := along("the output", 1, 3.2)
	turned.Readings = append(turned.Readings, Reading{Value: 2.8 * deg, Surface: "the output", Sign: -1})
	got := read(t, angle(0.1, 0, 0, 0), turned, along("the pinion", -1, 1), along("the shaft", 0, 2))
	require.True(t, got.HasBias)
	assert.InDelta(t, 0.2, got.Bias.V/deg, 1e-9)
	require.Equal(t, gauge.Agree, got.Sets[0].Agreement)
	assert.InDelta(t, 3, got.Sets[0].Number.V/deg, 1e-9)
	assert.InDelta(t, 0.2/math.Sqrt(3), got.Sets[0].Number.Expanded()/deg, 1e-9)
	assert.InDelta(t, 1.2, got.Sets[1].Number.V/deg, 1e-9)
	assert.InDelta(t, 0.2*math.Sqrt2/math.Sqrt(3), got.Sets[1].Number.Expanded()/deg, 1e-9, "freed, by a gauge of its own accuracy")
	assert.InDelta(t, 2, got.Sets[2].Number.V/deg, 1e-9)
	assert.InDelta(t, 2*math.Hypot(0.1, 0.2)/math.Sqrt(3), got.Sets[2].Number.Expanded()/deg, 1e-9)

	// The other way round: the bias is below zero, and counts by its size.
	turned.Readings[0].Sign, turned.Readings[1].Sign = -1, 1
	got = read(t, angle(0.1, 0, 0, 0), turned, along("the shaft", 0, 2))
	assert.InDelta(t, -0.2, got.Bias.V/deg, 1e-9)
	assert.InDelta(t, 2*math.Hypot(0.1, 0.2)/math.Sqrt(3), got.Sets[1].Number.Expanded()/deg, 1e-9)

	// Too far apart for any zero: a slip.
	turned.Readings[1].Value = 0.2 * deg
	got = read(t, angle(0.1, 0, 0, 0), turned)
	assert.False(t, got.HasBias)
	assert.Equal(t, gauge.Contradict, got.Sets[0].Agreement)
	assert.Equal(t, [2]int{0, 1}, [2]int{got.Sets[0].One, got.Sets[0].Other})
	assert.InDelta(t, 3, got.Sets[0].Apart/deg, 1e-9)
}

// Two readings: agree, doubtful, contradict where gauge.Compare says so; one that
// stands apart from the others; two surfaces.
func TestAgreement(t *testing.T) {
	tool := angle(0.1, 0, 0, 0)
	for _, c := range []struct {
		shown []float64
		want  gauge.Agreement
		pair  [2]int
	}{
		{[]float64{4.6}, gauge.Agree, [2]int{0, 0}},
		{[]float64{4.6, 4.76}, gauge.Agree, [2]int{0, 1}},
		{[]float64{4.77, 4.6}, gauge.Doubtful, [2]int{0, 1}},
		{[]float64{4.6, 4.871}, gauge.Contradict, [2]int{0, 1}},
		{[]float64{4.6, 4.7, 4.8}, gauge.Agree, [2]int{0, 2}},                           // chi-squared 6 with 2, 5.0 %
		{[]float64{4.6, 4.708, 4.816}, gauge.Doubtful, [2]int{0, 2}},                    // 7, 3.0 %
		{[]float64{4.6, 4.6, 4.6, 4.6, 4.6, 4.6, 4.88}, gauge.Contradict, [2]int{5, 6}}, // one that stands apart: the gap
		{[]float64{4.6, 4.6, 5, 4.62}, gauge.Contradict, [2]int{0, 2}},
		{[]float64{4.6, 4.8, 5, 5.2}, gauge.Contradict, [2]int{0, 3}},
	} {
		got := read(t, tool, along("the pinion", 1, c.shown...)).Sets[0]
		assert.Equal(t, c.want, got.Agreement, "%v", c.shown)
		assert.Equal(t, c.pair, [2]int{got.One, got.Other}, "%v", c.shown)
	}
	set := along("the pinion", 1, 4.6, 4.75)
	set.Readings[1].Surface = "the flange"
	assert.Equal(t, gauge.Agree, read(t, tool, set).Sets[0].Agreement)
	set.Readings[1].Value = 4.9 * deg
	assert.Equal(t, gauge.Contradict, read(t, tool, set).Sets[0].Agreement)
	set.Readings[1].Sign = 0 // with a zero that may be off, they may both be true
	tool.Zero = 1 * deg
	assert.Equal(t, gauge.Agree, read(t, tool, set).Sets[0].Agreement)
	tool.Repeat = 0.01 * deg
	assert.Equal(t, gauge.Contradict, read(t, tool, along("the pinion", 1, 4.6, 4.75)).Sets[0].Agreement, "the stated repeat is refuted")
	assert.InDelta(t, gauge.Coverage, uncertain.Coverage, 0)
}

// Two surfaces of one thing, or one surface read two ways: what they do not share
// explains a difference, and no more.
func TestAgreementOfSurfaces(t *testing.T) {
	pair := func(tool Tool, apart float64, same bool, first, second int) gauge.Agreement {
		set := along("the pinion", first, 4.6, 4.6+apart)
		set.Readings[1].Sign = second
		if !same {
			set.Readings[1].Surface = "the flange"
		}
		return read(t, tool, set).Sets[0].Agreement
	}
	bare, zero, repeat := angle(0.1, 0, 0, 0), angle(0.1, 0, 0, 0.5), angle(0.1, 0.01, 0, 0)
	assert.Equal(t, gauge.Contradict, pair(zero, 0.3, false, 1, 1), "a zero that both have alike explains nothing")
	assert.Equal(t, gauge.Agree, pair(zero, 0.3, false, 0, 0))
	assert.Equal(t, gauge.Agree, pair(zero, 0.3, false, 1, -1))
	assert.Equal(t, gauge.Agree, pair(zero, 0.3, false, 0, 1))
	assert.Equal(t, gauge.Agree, pair(bare, 0.15, true, 1, 0), "nothing stated of the repeat: the accuracy bounds it")
	assert.Equal(t, gauge.Contradict, pair(bare, 0.28, true, 1, 0))
	assert.Equal(t, gauge.Agree, pair(repeat, 0.15, false, 1, 1), "each surface has its own accuracy")
	assert.Equal(t, gauge.Contradict, pair(repeat, 0.15, true, 1, 0), "and one surface one")

	// The bias that was found comes off before surfaces are compared, and a way
	// round that is torn itself finds none.
	turned := along("the pinion", 1, 3.2, 2.8, 2.8)
	turned.Readings[1].Sign = -1
	turned.Readings[2].Surface, turned.Readings[2].Sign = "the flange", -1
	got := read(t, bare, turned)
	assert.Equal(t, gauge.Agree, got.Sets[0].Agreement)
	assert.InDelta(t, 3, got.Sets[0].Number.V/deg, 1e-9)
	turned.Readings[2] = Reading{Value: 2.2 * deg, Surface: "the pinion", Sign: -1}
	got = read(t, bare, turned)
	assert.False(t, got.HasBias)
	assert.Equal(t, gauge.Contradict, got.Sets[0].Agreement)
}

// A tape: its scale is the same on all lengths, its accuracy belongs to each.
func TestTape(t *testing.T) {
	tape := Tool{Name: "the tape", Accuracy: 0.5, Repeat: 1, Scale: 0.2e-3}
	got, err := tape.Read(new(uncertain.Sources), []Set{
		{Of: "the left rail", Readings: []Reading{{Value: 4000, Surface: "the left rail"}, {Value: 4000.5, Surface: "the left rail"}}},
		{Of: "the right rail", Readings: []Reading{{Value: 4000, Surface: "the right rail", Accuracy: 2}}},
	})
	require.NoError(t, err)
	left, right := got.Sets[0].Number, got.Sets[1].Number
	assert.InDelta(t, math.Sqrt((0.25+1.0/2+0.80005*0.80005)/3), left.U(), 1e-9)
	assert.InDelta(t, math.Sqrt((4+1+0.8*0.8)/3), right.U(), 1e-9)
	assert.InDelta(t, math.Sqrt((0.25+1.0/2+4+1)/3), left.Minus(right).U(), 1e-6, "the scale drops out")
}

func TestRefuses(t *testing.T) {
	for _, c := range []struct {
		tool Tool
		set  Set
	}{
		{angle(-0.1, 0, 0, 0), along("the pinion", 1, 4)},
		{angle(math.NaN(), 0, 0, 0), along("the pinion", 1, 4)},
		{angle(0.1, 0, math.Inf(1), 0), along("the pinion", 1, 4)},
		{angle(0.1, 0, 0, 0), along("the pinion", 1)},
		{angle(0.1, 0, 0, 0), along("the pinion", 1, math.NaN())},
		{angle(0.1, 0, 0, 0), Set{Of: "x", Readings: []Reading{{Accuracy: -1}}}},
	} {
		_, err := c.tool.Read(new(uncertain.Sources), []Set{c.set})
		assert.Error(t, err)
	}
	got := read(t, angle(0, 0, 0, 0), along("the pinion", 1, 4, 4))
	assert.Zero(t, got.Sets[0].Number.U())
	assert.Equal(t, gauge.Contradict, read(t, angle(0, 0, 0, 0), along("the pinion", 1, 4, 4.1)).Sets[0].Agreement)
}

func BenchmarkRead(b *testing.B) {
	sets := []Set{along("a", 1, 4, 4.05), along("b", 1, 2), along("c", -1, 3), along("d", 0, 1, 1.02, 1.01)}
	tool := angle(0.1, 0, 0.05, 0.1)
	b.ReportAllocs()
	for b.Loop() {
		_, _ = tool.Read(new(uncertain.Sources), sets)
	}
}
