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
	"gonum.org/v1/gonum/spatial/r3"
)

// plain is a result of tapes in plain words only.
type plain struct {
	from  uncertain.Sources
	tapes []Tape
}

func (p *plain) tape(t *testing.T, of string, v, sigma float64) *Tape {
	t.Helper()
	n, err := p.from.With(v, uncertain.Source{Label: of, U: sigma})
	require.NoError(t, err)
	p.tapes = append(p.tapes, Tape{Of: of, Value: finding.Of(n)})
	return &p.tapes[len(p.tapes)-1]
}

func (p *plain) result(t *testing.T) *Result {
	t.Helper()
	f, err := project.Parse("plain", []byte("format = 3\n"))
	require.NoError(t, err)
	r := of(f.Build, nil, &p.from)
	r.Taped(p.tapes)
	return r
}

// six are all tapes between four corners: left and right front, left and right rear.
func six(t *testing.T, lf, rf, lr, rr r3.Vec, sigma float64) *plain {
	t.Helper()
	apart := func(a, b r3.Vec) float64 { return r3.Norm(r3.Sub(a, b)) }
	p := &plain{}
	p.tape(t, "frame diagonal, left front to right rear", apart(lf, rr), sigma)
	p.tape(t, "frame diagonal, right front to left rear", apart(rf, lr), sigma)
	p.tape(t, "left side of the frame", apart(lf, lr), sigma)
	p.tape(t, "right rail, front to rear length", apart(rf, rr), sigma)
	p.tape(t, "across the frame, front", apart(lf, rf), sigma)
	p.tape(t, "left rear to right rear", apart(lr, rr), sigma)
	return p
}

func TestWordsOfATape(t *testing.T) {
	for of, want := range map[string]taped{
		"diagonal, left front to right rear":       diagonalLF,
		"frame diagonal, right front to left rear": diagonalRF,
		"RR to LF":                     diagonalLF,
		"diagonal LR-RF":               diagonalRF,
		"diagonal left front":          diagonalLF,
		"diagonal from the right rear": diagonalLF,
		"front left to rear right":     diagonalLF,
		"left front to left rear":      sideLeft,
		"right side":                   sideRight,
		"left rail, front to rear":     sideLeft,
		"frame length, left":           sideLeft,
		"left front to right front":    acrossFront,
		"frame width at the rear":      acrossRear,
		"wheelbase, left":              wheelbaseLeft,
		"wheelbase right side":         wheelbaseRight,
		"wheelbase lf to lr":           wheelbaseLeft,
	} {
		is, ok, _ := read(of)
		assert.True(t, ok, of)
		assert.Equal(t, want, is, of)
	}
	for _, of := range []string{
		"", "diagonal", "diagonal 1", "diagonal of the crossmember, left front to right rear", "left rail", "rail width", "rail width front", "wheelbase",
		"left", "front", "diagonal, left front to left rear", "diagonal left", "left to right", "left right front rear", "left front to left front", "bed left front to right rear", "height, left front",
	} {
		_, ok, _ := read(of)
		assert.False(t, ok, of)
	}
	for k := range tapedKinds { // what is asked for is understood
		is, ok, _ := read(tapedAs[k])
		assert.True(t, ok && is == k, tapedAs[k])
	}
}

// 740 by 2400 with a difference of the squares of four times 2400·5, derived: the
// right rail stands 5 mm behind, or the other way round. The skew is asin 5/740.
func TestTapedSkew(t *testing.T) {
	p := &plain{}
	p.tape(t, "diagonal, left front to right rear", 2516.2720, 0.5)
	p.tape(t, "diagonal, right front to left rear", 2506.7160, 0.5)
	r := p.result(t)
	d := found(t, r, finding.TapedDiagonals)
	assert.Equal(t, finding.Over, d.Status)
	assert.InDelta(t, 9.556, d.Value, 1e-9)
	assert.Contains(t, d.Advice(), "left front to left rear is not taped yet")
	s := found(t, r, finding.TapedSquare)
	assert.Equal(t, finding.NotKnown, s.Status)
	assert.Contains(t, s.Missing, "left front to left rear is not taped yet")

	p.tape(t, "left side", 2400, 0.5)
	s = found(t, p.result(t), finding.TapedSquare)
	assert.Equal(t, finding.NotKnown, s.Status)
	assert.Contains(t, s.Missing, "right front to right rear is not taped yet")

	p.tape(t, "right side", 2400, 0.5)
	r = p.result(t)
	s = found(t, r, finding.TapedSquare)
	assert.Equal(t, finding.Over, s.Status)
	assert.InDelta(t, 5, r.Plain.Square.V, 1e-3, "the right rail stands behind")
	assert.InDelta(t, math.Asin(5.0/740), r.Plain.Skew.V, 1e-6)
	assert.InDelta(t, 2400*math.Tan(math.Asin(5.0/740)), r.Plain.Swing.V, 1e-2)
	assert.Contains(t, s.Advice(), "the left rail is 5.0 mm ± 0.7 mm ahead: 0.39°")
	assert.InDelta(t, 2*0.5*math.Hypot(2516.272, 2506.716)/4800, r.Plain.Square.Expanded(), 1e-3, "d1 over 2 L, and d2")
	fit := found(t, r, finding.TapedFit)
	assert.Equal(t, finding.NotKnown, fit.Status, "four tapes check nothing")
	assert.Contains(t, fit.Missing, "left front to right front is not taped yet")

	p.tapes[0], p.tapes[1] = Tape{Of: p.tapes[0].Of, Value: p.tapes[1].Value}, Tape{Of: p.tapes[1].Of, Value: p.tapes[0].Value}
	r = p.result(t)
	assert.InDelta(t, -5, r.Plain.Square.V, 1e-3)
	assert.Contains(t, found(t, r, finding.TapedSquare).Advice(), "the right rail is 5.0 mm")
}

// Equal diagonals with unequal sides: in the mean the cross lines are square, and
// neither of them alone.
func TestTapedTrapezium(t *testing.T) {
	p := six(t, r3.Vec{}, r3.Vec{X: 8, Y: 700}, r3.Vec{X: 2500}, r3.Vec{X: 2492, Y: 700}, 0.3)
	r := p.result(t)
	assert.InDelta(t, 0, r.Plain.Apart.V, 1e-9)
	assert.Equal(t, finding.OK, found(t, r, finding.TapedDiagonals).Status)
	assert.InDelta(t, 0, r.Plain.Square.V, 1e-9)
	assert.InDelta(t, 8, r.Plain.Front.V, 1e-9, "the right front mark stands behind")
	assert.InDelta(t, -8, r.Plain.Rear.V, 1e-9)
	s := found(t, r, finding.TapedSquare)
	assert.Equal(t, finding.Over, s.Status)
	assert.Contains(t, s.Advice(), "the left one is 16.0 mm longer")
	assert.Equal(t, finding.OK, found(t, r, finding.TapedFit).Status)
}

// A tapered frame that stands evenly about its centre line is square.
func TestTapedTaper(t *testing.T) {
	r := six(t, r3.Vec{Y: -350}, r3.Vec{Y: 350}, r3.Vec{X: 2500, Y: -400}, r3.Vec{X: 2500, Y: 400}, 0.3).result(t)
	s := found(t, r, finding.TapedSquare)
	assert.Equal(t, finding.OK, s.Status)
	assert.Contains(t, s.Advice(), "It is 100.0 mm wider at the rear.")
}

// The closed form agrees with the adjustment of the same tapes between points, and
// their ± too.
func TestTapedAgainstTheSurvey(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 2))
	for range 20 {
		e := 0.02 * (rnd.Float64() - 0.5)
		b := skewed(650+200*rnd.Float64(), 2000+1500*rnd.Float64(), e)
		b.all(t, 0.4, quiet)
		want := b.survey(t).Frame
		r := six(t, b.at["l1"], b.at["r1"], b.at["l2"], b.at["r2"], 0.4).result(t)
		assert.InDelta(t, want.Square.V, r.Plain.Square.V, 1e-4)
		assert.InDelta(t, want.Skew.V, r.Plain.Skew.V, 1e-7)
		assert.InDelta(t, want.Swing.V, r.Plain.Swing.V, 1e-3)
		assert.InDelta(t, 0, r.Plain.Gap.V, 1e-6)
		assert.Less(t, want.Square.Expanded(), 1.01*r.Plain.Square.Expanded(), "six adjusted say more than four")
		assert.Greater(t, 1.6*want.Square.Expanded(), r.Plain.Square.Expanded())
	}
}

// Six tapes with a slip in one: nothing is judged, for nobody can say which it is.
func TestTapedSlip(t *testing.T) {
	for k := range 6 {
		p := six(t, r3.Vec{}, r3.Vec{Y: 700}, r3.Vec{X: 2500}, r3.Vec{X: 2500, Y: 700}, 0.4)
		p.tapes[k].Value.Number = p.tapes[k].Value.Shift(25)
		r := p.result(t)
		assert.Equal(t, finding.Over, found(t, r, finding.TapedFit).Status, p.tapes[k].Of)
		for _, id := range []string{finding.TapedSquare, finding.TapedDiagonals} {
			f := found(t, r, id)
			assert.Equal(t, finding.NotKnown, f.Status, "%s %s", p.tapes[k].Of, id)
			assert.Contains(t, f.Missing, "do not fit each other")
		}
	}
}

// What cannot be is said where it stands: a slip of the unit, a length that is longer
// than the way round, the same twice, other marks.
func TestTapedBadInput(t *testing.T) {
	whole := func() *plain { return six(t, r3.Vec{}, r3.Vec{Y: 700}, r3.Vec{X: 2500}, r3.Vec{X: 2500, Y: 700}, 0.4) }
	p := whole()
	p.tapes[0].Value.Number = p.tapes[0].Value.Times(10)
	assert.Contains(t, found(t, p.result(t), finding.TapedDiagonals).Missing, "it is ten times what the others say")
	p = whole()
	p.tapes[4].Value.Number = p.tapes[4].Value.Shift(-650)
	p.tapes[5].Value.Number = p.tapes[5].Value.Shift(-650)
	s := found(t, p.result(t), finding.TapedFit)
	assert.Equal(t, finding.NotKnown, s.Status)
	assert.Contains(t, s.Missing, "is longer than the way by")
	p = whole()
	p.tape(t, "RR to LF", p.tapes[0].Value.V+9, 0.4)
	assert.Contains(t, found(t, p.result(t), finding.TapedSquare).Missing, "more than once, and they do not agree")
	p = whole()
	p.tapes[0].On, p.tapes[2].On = "cab mount holes", "spring hangers"
	assert.Contains(t, found(t, p.result(t), finding.TapedSquare).Missing, "goes between other marks (spring hangers)")
	p = &plain{}
	p.tape(t, "diagonal", 2500, 1)
	assert.Contains(t, found(t, p.result(t), finding.TapedDiagonals).Missing, "say its corners and nothing else")
	p.tapes[0].Of = "diagonal of the crossmember"
	assert.Empty(t, p.result(t).Findings())
}

// After welding all is judged by what was taped after it.
func TestTapedOccasions(t *testing.T) {
	p := six(t, r3.Vec{}, r3.Vec{Y: 700}, r3.Vec{X: 2500}, r3.Vec{X: 2500, Y: 700}, 0.4)
	p.tape(t, "diagonal, left front to right rear", 2600, 0.4).After = project.Welded
	r := p.result(t)
	assert.Equal(t, finding.NotKnown, found(t, r, finding.TapedSquare).Status)
	assert.Contains(t, found(t, r, finding.TapedDiagonals).Missing, "right front to left rear is not taped yet")
	require.NotNil(t, r.PlainBefore)
	assert.True(t, r.PlainBefore.Square.Known)
}

// Wheelbases left and right: the difference says which side is longer.
func TestTapedWheelbase(t *testing.T) {
	p := &plain{}
	p.tape(t, "wheelbase left", 3304, 0.5)
	assert.Contains(t, found(t, p.result(t), finding.TapedWheelbase).Missing, "wheelbase right is not taped yet")
	p.tape(t, "wheelbase right", 3297, 0.5)
	r := p.result(t)
	assert.InDelta(t, 7, r.Wheels.Between.V, 1e-9)
	assert.Equal(t, finding.Over, found(t, r, finding.TapedWheelbase).Status)
}

// The ± of what is said holds the truth, and of those called square hardly any is
// not, by the bounds of all simulations here.
func TestTapedCoverage(t *testing.T) {
	got, err := coverage.Run(coverage.Trial[float64]{
		Truth: func(dice *rand.Rand) float64 { return (dice.Float64() - 0.5) * 0.02 },
		Judge: func(dice *rand.Rand, e float64, say func(coverage.Outcome)) error {
			const a, b = 760.0, 2600.0
			s, c := math.Sincos(e)
			p := six(t, r3.Vec{}, r3.Vec{X: a * s, Y: a * c}, r3.Vec{X: b}, r3.Vec{X: b + a*s, Y: a * c}, 0.6)
			for i := range p.tapes {
				p.tapes[i].Value.Number = p.tapes[i].Value.Shift(0.6 * dice.NormFloat64())
			}
			r := p.result(t)
			f := found(t, r, finding.TapedSquare)
			o := coverage.Outcome{Of: "one rail ahead", Truth: a * s, Known: f.Status != finding.NotKnown, OK: f.Status == finding.OK, Keeps: math.Abs(a*s) <= 3}
			if o.Known {
				o.Lower, o.Upper = r.Plain.Square.V-r.Plain.Square.Expanded(), r.Plain.Square.V+r.Plain.Square.Expanded()
			}
			say(o)
			return nil
		},
	}, coverage.Plan{Builds: 1000, Start: 1, At: 2})
	require.NoError(t, err)
	assert.Empty(t, got.Fails(0.975))
	assert.Greater(t, got.Rows[0].OK.Hits, 50)
}

// An ok wants all six tapes, for nothing checks four: a slip would make it just as
// well. Diagonals that were read twice check themselves.
func TestTapedUncheckedIsNotOK(t *testing.T) {
	p := six(t, r3.Vec{}, r3.Vec{Y: 700}, r3.Vec{X: 2500}, r3.Vec{X: 2500, Y: 700}, 0.3)
	assert.Equal(t, finding.OK, found(t, p.result(t), finding.TapedSquare).Status)
	p.tapes = p.tapes[:5]
	r := p.result(t)
	s := found(t, r, finding.TapedSquare)
	assert.Equal(t, finding.NotKnown, s.Status)
	assert.Contains(t, s.Missing, "left rear to right rear is not taped yet")
	assert.InDelta(t, 0, r.Plain.Square.V, 1e-9, "it is worked out all the same")
	assert.Equal(t, finding.NotKnown, found(t, r, finding.TapedDiagonals).Status)
	p.tapes[0].Count, p.tapes[1].Count, p.tapes[0].Supposed = 2, 3, 1
	d := found(t, p.result(t), finding.TapedDiagonals)
	assert.Equal(t, finding.OK, d.Status)
	assert.Contains(t, d.Assumes, "a tape is right to ±1 mm, for the file does not say what it is good for")
}
