package frame

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A frame whose right rail is shorter at both ends agrees in the mean, has equal
// diagonals, and is not square: each cross line is.
func TestRailsOfUnequalLengthAreNotSquare(t *testing.T) {
	b := &bench{table: rails2}
	b.add("l1", 0, 0)
	b.add("r1", 8, 700)
	b.add("l2", 2500, 0)
	b.add("r2", 2492, 700)
	b.all(t, 0.5, quiet)
	r := b.survey(t)
	f := found(t, r, finding.FrameSquare)
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 8, f.Value, 1e-4)
	assert.Contains(t, f.Advice(), "At l1 and r1 the left rail stands 8.0 mm ahead of the other")
	assert.Equal(t, finding.OK, found(t, r, finding.FrameDiagonals).Status, "which only says that they are equal")
}

// An axle that sits 20 mm to one side under a true rectangle: no word of pulling the
// frame, and nothing of its diagonals comes from its sides.
func TestAnAxleAsideIsNotTheFrame(t *testing.T) {
	b := &bench{table: rails2 + "front_axle = [\"point.fl\", \"point.fr\"]\nrear_axle = [\"point.rl\", \"point.rr\"]\n"}
	b.add("l1", 0, -400)
	b.add("r1", 0, 400)
	b.add("l2", 2500, -400)
	b.add("r2", 2500, 400)
	b.add("fl", 100, -740)
	b.add("fr", 100, 740)
	b.add("rl", 2400, -720)
	b.add("rr", 2400, 760)
	b.all(t, 0.5, quiet)
	r := b.survey(t)
	square := found(t, r, finding.FrameSquare)
	assert.Equal(t, finding.Over, square.Status)
	assert.InDelta(t, 800*20/math.Hypot(20, 2300), square.Value, 1e-4)
	assert.Contains(t, square.Advice(), "look whether an axle sits to one side before the frame is pulled")
	assert.NotContains(t, square.Advice(), "Pull the frame")
	assert.InDelta(t, 0, r.Frame.Alone.V, 1e-4)
	assert.InDelta(t, 0, r.Frame.Diagonals.OfSides.V, 1e-4)
	turn := math.Atan2(20, 2300)
	assert.InDelta(t, turn, r.Frame.Axles[1].Turn.V, 1e-6, "both axles stand askew to the line through their middles")
	offset := found(t, r, finding.RailsOffset(2))
	assert.Equal(t, finding.Over, offset.Status)
	assert.Contains(t, offset.Advice(), "an axle sits to one side under them")
}

// Axles askew by as much as the frame hide nothing of it: rails 8 mm out over 800, and
// the line through the axles turned by the same angle.
func TestAxlesAskewHideNoSkew(t *testing.T) {
	b := skewed(800, 2500, 0.01)
	b.table = rails2 + "front_axle = [\"point.fl\", \"point.fr\"]\nrear_axle = [\"point.rl\", \"point.rr\"]\n"
	s, c := math.Sincos(-0.01)
	for n, p := range map[string][2]float64{"fl": {100, -740}, "fr": {100, 740}, "rl": {2400, -740}, "rr": {2400, 740}} {
		b.add(n, c*p[0]-s*p[1], s*p[0]+c*p[1]+400)
	}
	b.all(t, 0.5, quiet)
	r := b.survey(t)
	require.InDelta(t, 0, r.Frame.Square.V, 0.1, "by the axles")
	assert.InDelta(t, 8, r.Frame.Alone.V, 0.01)
	assert.Equal(t, finding.Over, found(t, r, finding.FrameSquare).Status)
}

// Where the tapes leave two places for a point, the one that makes a frame of it is
// taken, whatever the order; a suspect's answer does not come from the other.
func TestOfTwoPlacesTheFrameIsTaken(t *testing.T) {
	for seed := range uint64(6) {
		for without := range 6 {
			b := skewed(800, 2500, 0)
			b.all(t, 0.5, quiet)
			b.lines = append(b.lines[:without], b.lines[without+1:]...)
			rand.New(rand.NewPCG(seed, 1)).Shuffle(len(b.lines), func(i, j int) { b.lines[i], b.lines[j] = b.lines[j], b.lines[i] })
			r := b.survey(t)
			require.Empty(t, r.Now.Why)
			assert.Empty(t, r.Now.Mirrors)
			assert.InDelta(t, 0, r.Frame.Square.V, 0.05, "without line %d", without)
			assert.InDelta(t, 800, r.Frame.Pairs[0].Width.V, 0.05)
			assert.InDelta(t, 800, r.Frame.Pairs[1].Width.V, 0.05)
			for _, id := range []string{finding.FrameSquare, finding.FrameDiagonals} {
				assert.Equal(t, finding.NotKnown, found(t, r, id).Status, "nothing checks it")
			}
		}
	}
	b := skewed(800, 2500, 0)
	b.all(t, 0.5, quiet)
	b.spoil(2, 10)
	for _, s := range b.survey(t).Now.Suspects {
		require.True(t, s.Without.Known, s.Line.Name)
		assert.Less(t, math.Abs(s.Without.Square.V), 11.0, s.Line.Name)
	}
}

// Rail points named across each other are no frame, and the sentence says where to
// look.
func TestRailsNamedAcrossEachOther(t *testing.T) {
	b := skewed(800, 2500, 0)
	b.table = "[survey]\nleft = [\"point.l1\", \"point.r2\"]\nright = [\"point.r1\", \"point.l2\"]\n"
	b.all(t, 0.5, quiet)
	f := found(t, b.survey(t), finding.FrameSquare)
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "the rails cross each other")
}

// Tapes that scatter more than was said of them, none of which stands out, prove
// nothing.
func TestScatterBeyondWhatWasSaidJudgesNothing(t *testing.T) {
	seen := 0
	for seed := range uint64(12) {
		b, d := four(t), rand.New(rand.NewPCG(seed, 9))
		for i := range b.lines {
			b.spoil(i, math.Copysign(0.8, d.Float64()-0.5))
		}
		r := b.survey(t)
		if agrees, _ := r.Now.net.fit.Agrees(globalAlarm); agrees || len(r.Now.Suspects) > 0 {
			continue
		}
		seen++
		for _, id := range []string{finding.SurveyFit, finding.FrameSquare, finding.FrameDiagonals} {
			f := found(t, r, id)
			assert.Equal(t, finding.NotKnown, f.Status, id)
			assert.Contains(t, f.Missing, "more than chance explains", id)
		}
	}
	assert.Positive(t, seen)
}

// What nobody said of the tapes, and points that no measurement names, stand with all
// that the survey says.
func TestWhatTheSurveyTakesForGranted(t *testing.T) {
	b := skewed(800, 2500, 0)
	b.all(t, 0.5, quiet)
	b.names = append(b.names, "lost", "gone")
	for i := range b.lines {
		b.lines[i].Supposed = 1
	}
	f := found(t, b.survey(t), finding.FrameSquare)
	assert.Contains(t, f.Assumes, "all measurements good to ±1.0 mm, for no ± of them or of their tool is in the file")
	assert.Contains(t, f.Assumes, "lost and gone have no place by this survey: no measurement names them")
	b.lines[0].Supposed, b.names = 0, b.names[:4]
	f = found(t, b.survey(t), finding.FrameSquare)
	assert.Contains(t, f.Assumes, "5 of 6 measurements good to ±1.0 mm, for no ± of them or of their tool is in the file")
}
