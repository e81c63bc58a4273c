package frame

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"
	"fitup/internal/uncertain/coverage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// never fails the test where a verdict on the frame is ok.
func neverOK(t *testing.T, r *Result) {
	t.Helper()
	for _, id := range []string{finding.SurveyFit, finding.FrameSquare, finding.FrameDiagonals} {
		assert.NotEqual(t, finding.OK, found(t, r, id).Status, id)
	}
}

// A distance that is longer than the path of two others is named, whichever it is,
// and what is judged without it is what is true.
func TestLongerThanTheWayRound(t *testing.T) {
	for line := range 28 {
		b := four(t)
		l := &b.lines[line]
		l.Value.Number = l.Value.Shift(2500)
		r := b.survey(t)
		require.NotEmpty(t, r.Now.Suspects, l.Name)
		assert.Equal(t, l.Name, r.Now.Suspects[0].Line.Name)
		assert.Equal(t, finding.Over, found(t, r, finding.SurveyFit).Status, l.Name)
		if f := found(t, r, finding.FrameSquare); f.Status == finding.OK {
			assert.True(t, r.Now.Suspects[0].Out, l.Name)
			assert.InDelta(t, 0, r.Frame.Square.V, 1e-3, l.Name)
		}
	}
	b := skewed(700, 2500, 0) // with one tape more than it takes nothing is judged
	b.all(t, 0.5, quiet)
	b.spoil(2, 2500)
	neverOK(t, b.survey(t))
}

// A rail point that nothing was measured to is said, and no verdict rests on it.
func TestPointNamedInNoMeasurement(t *testing.T) {
	b := four(t)
	b.names = append(b.names, "l5", "r5")
	b.table = "[survey]\nleft = [\"point.l1\", \"point.l2\", \"point.l5\"]\nright = [\"point.r1\", \"point.r2\", \"point.r5\"]\n"
	r := b.survey(t)
	f := found(t, r, finding.FrameSquare)
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "nothing is measured to")
	for _, f := range r.Findings() {
		if f.ID != finding.SurveyFit && f.ID != finding.SurveyHidden {
			assert.NotEqual(t, finding.OK, f.Status, f.ID)
		}
	}
}

// Two points, or three, make no frame.
func TestTooFewPoints(t *testing.T) {
	for _, tapes := range [][]string{{"ab"}, {"ab", "ac"}, {"ab", "ac", "bc"}} {
		b := &bench{table: "[survey]\ndatum = \"free\"\n"}
		b.add("a", 0, 0)
		b.add("b", 1000, 0)
		if len(tapes) > 1 {
			b.add("c", 0, 700)
		}
		for _, l := range tapes {
			b.tape(t, l[:1], l[1:], 0, 0.5)
		}
		neverOK(t, b.survey(t))
	}
}

// Zero, negative, and not a number at all are refused where they stand in the file.
func TestDistancesThatCannotBe(t *testing.T) {
	for _, v := range []string{"0", "-5", "\"-1 in\"", "nan", "inf", "\"3 deg\""} {
		_, err := project.Parse("x.toml", []byte("format = 3\n[point.a]\n[point.b]\n[[measure]]\nfrom = \"point.a\"\nto = \"point.b\"\nlengths = [1000, "+v+"]\n"))
		require.Error(t, err, v)
		assert.Contains(t, err.Error(), "x.toml:7:18", v)
	}
}

// The verdict on a surveyed frame: the ± holds the truth, and of what is called square
// hardly any is not, by the bounds of all simulations here.
func TestSurveyedSquareIsSquare(t *testing.T) {
	got, err := coverage.Run(coverage.Trial[float64]{
		Truth: func(dice *rand.Rand) float64 { return (dice.Float64() - 0.5) * 0.02 },
		Judge: func(dice *rand.Rand, e float64, say func(coverage.Outcome)) error {
			b := skewed(760, 2600, e)
			b.all(t, 0.6, func() float64 { return 0.6 * dice.NormFloat64() })
			r := b.survey(t)
			f := found(t, r, finding.FrameSquare)
			truth := 760 * math.Sin(e)
			o := coverage.Outcome{Of: "one rail ahead", Truth: truth, Known: f.Status != finding.NotKnown, OK: f.Status == finding.OK, Keeps: math.Abs(truth) <= 3}
			if o.Known {
				m := r.Frame.Square
				o.Lower, o.Upper = m.V-m.Expanded(), m.V+m.Expanded()
			}
			say(o)
			return nil
		},
	}, coverage.Plan{Builds: 400, Start: 2, At: 2})
	require.NoError(t, err)
	assert.Empty(t, got.Fails(0.975))
	assert.Greater(t, got.Rows[0].OK.Hits, 30)
}

// scaled measures all distances with one tape that is off by as much of every length, the
// half width of which is said, and good to sigma besides.
func (b *bench) scaled(t *testing.T, half, off, sigma float64) {
	t.Helper()
	scale, err := b.from.Add(uncertain.Half("the tape's scale", half))
	require.NoError(t, err)
	b.all(t, sigma, quiet)
	for i := range b.lines {
		l := &b.lines[i]
		l.Value = finding.Of(l.Value.Plus(b.from.Number(off*l.Value.V, uncertain.Part{Of: scale, C: l.Value.V})))
	}
}

// A tape whose scale is off by 2 mm in every metre, as much as is said of it, makes all of
// a frame larger alike and contradicts nothing. So one line that is 4 mm off stands out
// among the others, which it would not were each line open by its scale alone.
func TestATapesScaleHidesNoSlip(t *testing.T) {
	b := skewed(760, 3000, 0)
	b.add("l3", 1500, -2)
	b.add("r3", 1500, 761)
	b.table = "[survey]\nleft = [\"point.l1\", \"point.l3\", \"point.l2\"]\nright = [\"point.r1\", \"point.r3\", \"point.r2\"]\n"
	b.scaled(t, 0.002, 0.002, 0.5)
	r := b.survey(t)
	assert.InDelta(t, 0, r.Now.Scatter, 1e-3, "a scale fits itself")
	assert.Empty(t, r.Now.Suspects)
	// The sides are as open as the scale makes them, their difference is not.
	assert.InDelta(t, 2*0.002*3097/math.Sqrt(3), r.Frame.Diagonals.LeftFront.Expanded(), 0.35)
	assert.Less(t, r.Frame.Diagonals.Difference.Expanded(), 2.0)

	const slipped = 3
	b.lines[slipped].Value = finding.Of(b.lines[slipped].Value.Shift(4))
	r = b.survey(t)
	require.NotEmpty(t, r.Now.Suspects)
	assert.Equal(t, b.lines[slipped].Name, r.Now.Suspects[0].Line.Name)
	assert.InDelta(t, 4, r.Now.Suspects[0].Off, 1)
}
