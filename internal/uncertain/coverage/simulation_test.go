package coverage

import (
	"flag"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/geom/shaft"
	"fitup/internal/uncertain"
	"fitup/internal/uncertain/instrument"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// builds is how many builds each simulation draws: few for every change, many on
// demand: go test ./internal/uncertain/coverage -run Simulat -v -builds 100000.
var builds = flag.Int("builds", 700, "how many builds each simulation draws")

const deg = math.Pi / 180

// bench is a truth: three axes, and a gauge with the errors that it has.
type bench struct {
	stated  bool // all that the gauge does
	tool    instrument.Tool
	scatter func(*rand.Rand) float64
	zero    float64
	slope   [3]float64
	faces   [3][]face
}

// face is a surface of an axis that was read.
type face struct {
	name     string
	accuracy float64 // its error
	sign     int     // of the zero
	said     int     // what is written of it
	readings int
}

func pick[T any](dice *rand.Rand, from ...T) T { return from[dice.IntN(len(from))] }

func either(dice *rand.Rand, half float64) float64 { return half * (2*dice.Float64() - 1) }

// axes draws three axes whose first joint has about its 3°, with up to three
// surfaces each, read up to most times.
func (b *bench) axes(dice *rand.Rand, accuracy float64, faces, most int) {
	first := either(dice, 8)
	second := first + pick(dice, -1.0, 1)*(2+2*dice.Float64())
	b.slope = [3]float64{first * deg, second * deg, (first + either(dice, 1)) * deg}
	for i, axis := range [...]string{"the output", "the shaft", "the pinion"} {
		for k := range 1 + dice.IntN(faces) {
			f := face{name: axis + [...]string{"", ", its flange", ", its housing"}[k], accuracy: either(dice, accuracy), sign: pick(dice, -1, 1), readings: 1 + dice.IntN(most)}
			f.said = pick(dice, f.sign, 0)
			b.faces[i] = append(b.faces[i], f)
		}
	}
}

// read reads all axes anew.
func (b *bench) read(dice *rand.Rand) (*instrument.Read, error) {
	sets := make([]instrument.Set, 3)
	for i := range sets {
		sets[i].Of = b.faces[i][0].name
		for _, f := range b.faces[i] {
			for range f.readings {
				v := b.slope[i] + f.accuracy + b.scatter(dice) + float64(f.sign)*b.zero
				if step := b.tool.Resolution; step > 0 {
					v = step * math.Round(v/step)
				}
				sets[i].Readings = append(sets[i].Readings, instrument.Reading{Value: v, Surface: f.name, Sign: f.said})
			}
		}
	}
	return b.tool.Read(new(uncertain.Sources), sets)
}

// judge says what came out of the axes, the joint and the mismatch.
func judge(dice *rand.Rand, b *bench, say func(Outcome)) error {
	read, err := b.read(dice)
	if err != nil {
		return err
	}
	n := make([]uncertain.Number, 3)
	for i, set := range read.Sets {
		if set.Agreement == gauge.Contradict {
			say(Outcome{Of: "axis"})
			return nil
		}
		n[i] = set.Number
		half := n[i].Expanded()
		say(Outcome{Of: "axis", Truth: b.slope[i], Lower: n[i].V - half, Upper: n[i].V + half, Known: true})
	}
	const most = 3 * deg
	bend, truth := n[0].Minus(n[1]), b.slope[0]-b.slope[1]
	if truth < 0 {
		bend, truth = bend.Times(-1), -truth
	}
	joint := uncertain.Norm(bend)
	say(Outcome{Of: "joint", Truth: truth, Lower: joint.Lower, Upper: joint.Upper, Known: true, OK: joint.Upper <= most, Keeps: truth <= most})
	if b.stated {
		say(Outcome{Of: "joint, by probability", Truth: truth, Lower: math.Inf(-1), Upper: bend.V + bend.Exceeded(0.025), Known: true, OK: bend.AtMost(most) >= 0.975, Keeps: truth <= most})
	}
	mismatch := uncertain.Sum(uncertain.Weighted{K: 1, N: n[0]}, uncertain.Weighted{K: -2, N: n[1]}, uncertain.Weighted{K: 1, N: n[2]})
	truth = b.slope[0] - 2*b.slope[1] + b.slope[2]
	half := mismatch.Expanded()
	say(Outcome{Of: "mismatch", Truth: truth, Lower: mismatch.V - half, Upper: mismatch.V + half, Known: true})
	return nil
}

func run[B any](t *testing.T, trial Trial[B]) Report {
	t.Helper()
	out, err := Run(trial, Plan{Builds: *builds, Each: 3, Start: 1, At: 2})
	require.NoError(t, err)
	var text strings.Builder
	require.NoError(t, out.Write(&text))
	t.Logf("\n%s", text.String())
	return out
}

// A gauge that is as it was stated: repeat, resolution, zero and accuracy each
// within their bounds, on one to three surfaces, one to four times each, the way
// it stood written down or not.
func TestSimulateAGaugeAsStated(t *testing.T) {
	got := run(t, Trial[*bench]{
		Truth: func(dice *rand.Rand) *bench {
			accuracy, repeat := pick(dice, 0.05, 0.1, 0.2, 0.3)*deg, pick(dice, 0.05, 0.1, 0.3)*deg
			zero := pick(dice, 0, 0.1, 0.5) * deg
			b := &bench{
				stated: true,
				tool: instrument.Tool{Name: "the gauge", Accuracy: accuracy, Repeat: repeat,
					Resolution: pick(dice, 0, 0.05, 0.1, 0.2) * deg, Zero: zero, MostZero: 1 * deg},
				scatter: func(dice *rand.Rand) float64 { return either(dice, repeat) },
				zero:    either(dice, zero),
			}
			b.axes(dice, accuracy, 3, 4)
			return b
		},
		Judge: judge,
	})
	assert.Empty(t, got.Fails(0.975))
	for _, row := range got.Rows {
		assert.Greater(t, row.Known.Value(), 0.97, row.Of)
	}
}

// Nothing is stated but the accuracy, and that bounds each single reading: what
// part of it scatters is drawn.
func TestSimulateAGaugeOfAccuracyAlone(t *testing.T) {
	got := run(t, Trial[*bench]{
		Truth: func(dice *rand.Rand) *bench {
			accuracy, part := pick(dice, 0.1, 0.2, 0.3)*deg, pick(dice, 0, 0.2, 0.5, 0.8)
			b := &bench{
				tool:    instrument.Tool{Name: "the gauge", Accuracy: accuracy, Resolution: pick(dice, 0, 0.05) * deg},
				scatter: func(dice *rand.Rand) float64 { return either(dice, part*accuracy) },
			}
			b.axes(dice, (1-part)*accuracy, 1, 5)
			return b
		},
		Judge: judge,
	})
	assert.Empty(t, got.Fails(0.975))
}

// The same with a normal scatter beside the whole accuracy, of which a single
// reading says nothing: shown, by how large the scatter is and how often each
// axis was read, and held where it is small or repeats tell of it. An ok is not
// false more often than promised in any of them.
func TestSimulateAnUnstatedScatter(t *testing.T) {
	for _, c := range []struct {
		name  string
		part  float64
		times int
		must  bool
	}{
		{"a tenth of the accuracy, once", 0.1, 1, true},
		{"a quarter, once", 0.25, 1, false},
		{"a quarter, three times", 0.25, 3, true},
		{"half, once", 0.5, 1, false},
		{"half, twice", 0.5, 2, false},
		{"half, five times", 0.5, 5, true},
		{"as large, five times", 1, 5, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := run(t, Trial[*bench]{
				Truth: func(dice *rand.Rand) *bench {
					accuracy := 0.2 * deg
					b := &bench{
						tool:    instrument.Tool{Name: "the gauge", Accuracy: accuracy},
						scatter: func(dice *rand.Rand) float64 { return c.part * accuracy * dice.NormFloat64() },
					}
					b.axes(dice, accuracy, 1, 1)
					for i := range b.faces {
						b.faces[i][0].readings = c.times
					}
					return b
				},
				Judge: judge,
			})
			if c.must {
				assert.Empty(t, got.Fails(0.975))
			}
			for _, row := range got.Rows {
				assert.LessOrEqual(t, row.False.Lower(Confidence), 0.025, row.Of)
			}
		})
	}
}

// line is a line of three axes with two joints, by slope and heading.
type line struct {
	slope, heading [3]float64
	half, plan     float64
}

// far is the shaft behind the last joint, by the exact chain. x are three slopes
// and three headings.
func far(x []float64) (shaft.Shaft, error) {
	axis := func(i int) r3.Vec { return geom.Direction(geom.Angle(x[i]), geom.Angle(x[3+i])) }
	at := r3.Vec{X: 1000, Z: 400}
	m, err := shaft.NewMechanism(shaft.Chain{In: axis(0), Out: axis(2), Joints: []shaft.Joint{{At: at}, {At: r3.Add(at, r3.Scale(1000, axis(1)))}}})
	if err != nil {
		return shaft.Shaft{}, err
	}
	shafts := m.Shafts()
	return shafts[len(shafts)-1], nil
}

// byFormula is what the line leaves, as k = tan²(β/2): the sum of the squares of
// its bends as complex numbers, the second joint against the first.
func byFormula(slope, heading []uncertain.Number) (uncertain.Magnitude, error) {
	square := func(i int) (re, im uncertain.Number) {
		side, plan := slope[i+1].Minus(slope[i]), heading[i+1].Minus(heading[i]).Times(math.Cos((slope[i].V+slope[i+1].V)/2))
		b := math.Hypot(side.V, plan.V)
		scale := 0.5
		if b > 1e-9 {
			scale = math.Tan(b/2) / b
		}
		return uncertain.Square(side.Times(scale), plan.Times(scale))
	}
	re1, im1 := square(0)
	re2, im2 := square(1)
	return uncertain.Norm(re1.Minus(re2), im1.Minus(im2)), nil
}

// byProbe is the same of the exact chain.
func byProbe(slope, heading []uncertain.Number) (uncertain.Magnitude, error) {
	k, err := uncertain.Probe(func(x, out []float64) error {
		s, err := far(x)
		out[0], out[1] = real(s.DriveVector), imag(s.DriveVector)
		return err
	}, 2, append(append([]uncertain.Number(nil), slope...), heading...)...)
	if err != nil {
		return uncertain.Magnitude{}, err
	}
	return uncertain.Norm(k...), nil
}

// acceleration at 4000 rpm of a ripple of size k, rad/s².
func acceleration(k float64) (float64, error) {
	r, err := shaft.RippleOf(geom.Angle(2 * math.Atan(math.Sqrt(k))))
	if err != nil {
		return 0, err
	}
	return r.Acceleration(4000 * shaft.RPM), nil
}

func judgeLine(dice *rand.Rand, l line, say func(Outcome)) error {
	var s uncertain.Sources
	var slope, heading [3]uncertain.Number
	for i := range slope {
		var err error
		if slope[i], err = s.With(l.slope[i]+either(dice, l.half), uncertain.Half("slope", l.half)); err != nil {
			return err
		}
		if heading[i], err = s.With(l.heading[i]+either(dice, l.plan), uncertain.Half("heading", l.plan)); err != nil {
			return err
		}
	}
	exact, err := far(append(append([]float64(nil), l.slope[:]...), l.heading[:]...))
	if err != nil {
		return err
	}
	truth := exact.Drive.Acceleration(4000 * shaft.RPM)
	for name, by := range map[string]func(slope, heading []uncertain.Number) (uncertain.Magnitude, error){"formula": byFormula, "probe": byProbe} {
		m, err := by(slope[:], heading[:])
		if err != nil {
			return err
		}
		upper, err := acceleration(m.Upper)
		if err != nil {
			return err
		}
		say(Outcome{Of: "residual by " + name, Truth: truth, Lower: math.Inf(-1), Upper: upper, Known: true, OK: upper <= 300, Keeps: truth <= 300})
	}
	return nil
}

// What two nearly equal joints leave, 12/2/12 and lines that are nearly straight,
// with a gauge of ±0.3° at 4000 rpm: the upper limit holds the truth, where the
// value alone is near zero and its slope as well.
func TestSimulateNearlyParallel(t *testing.T) {
	for _, c := range []struct {
		name       string
		slope      [3]float64
		half, plan float64
	}{
		{"12/2/12, side view", [3]float64{12, 2, 12}, 0.3, 0},
		{"12/2/12, both views", [3]float64{12, 2, 12}, 0.3, 0.5},
		{"12/2/11.5, both views", [3]float64{12, 2, 11.5}, 0.3, 0.5},
		{"4/2/4, both views", [3]float64{4, 2, 4}, 0.3, 0.3},
		{"2/2/2, both views", [3]float64{2, 2, 2}, 0.3, 0.3},
		{"2/2/4, side view", [3]float64{2, 2, 4}, 0.3, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := run(t, Trial[line]{
				Truth: func(dice *rand.Rand) line {
					l := line{half: c.half * deg, plan: c.plan * deg}
					for i, s := range c.slope { // as it was aimed at
						l.slope[i], l.heading[i] = s*deg+0.1*deg*dice.NormFloat64(), c.plan*0.3*deg*dice.NormFloat64()
					}
					return l
				},
				Judge: judgeLine,
			})
			assert.Empty(t, got.Fails(0.975))
		})
	}
}
