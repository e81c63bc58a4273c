package frame

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// bench is a frame on the floor: where its points truly are, and the tapes between
// them.
type bench struct {
	names []string
	at    map[string]r3.Vec
	table string // [survey]
	lines []Line
	from  uncertain.Sources
}

// add puts a point into the bench.
func (b *bench) add(name string, x, y float64) {
	if b.at == nil {
		b.at = map[string]r3.Vec{}
	}
	b.names = append(b.names, name)
	b.at[name] = r3.Vec{X: x, Y: y}
}

// tape measures a distance that is off by so much, good to sigma.
func (b *bench) tape(t *testing.T, from, to string, off, sigma float64) {
	t.Helper()
	v := r3.Norm(r3.Sub(b.at[from], b.at[to])) + off
	n, err := b.from.With(v, uncertain.Source{Label: from + " to " + to, U: sigma})
	require.NoError(t, err)
	b.lines = append(b.lines, Line{Name: from + " to " + to, Index: len(b.lines), As: project.DistanceLine, From: "point." + from, To: "point." + to, Value: finding.Of(n), After: project.Hung})
}

// all measures every distance.
func (b *bench) all(t *testing.T, sigma float64, noise func() float64) {
	t.Helper()
	for j := range b.names {
		for i := range j {
			b.tape(t, b.names[i], b.names[j], noise(), sigma)
		}
	}
}

func quiet() float64 { return 0 }

func (b *bench) survey(t *testing.T) *Result {
	t.Helper()
	var text strings.Builder
	text.WriteString("format = 3\n")
	for _, n := range b.names {
		text.WriteString("[point." + n + "]\n")
	}
	text.WriteString(b.table)
	f, err := project.Parse("frame", []byte(text.String()))
	require.NoError(t, err)
	return of(f.Build, b.lines, &b.from)
}

const rails2 = "[survey]\nleft = [\"point.l1\", \"point.l2\"]\nright = [\"point.r1\", \"point.r2\"]\n"

// skewed is a frame of two sides a and b whose cross lines are out of square by e.
func skewed(a, b, e float64) *bench {
	x := &bench{table: rails2}
	s, c := math.Sincos(e)
	x.add("l1", 0, 0)
	x.add("r1", a*s, a*c)
	x.add("l2", b, 0)
	x.add("r2", b+a*s, a*c)
	return x
}

func found(t *testing.T, r *Result, id string) finding.Finding {
	t.Helper()
	for _, f := range r.Findings() {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "no finding "+id)
	return finding.Finding{}
}

// The diagonals of a frame of 700 by 2500 that is out of square by e: D² = a² + b²
// ± 2ab·sin e, derived; 5 mm of difference are 0.2125°.
func TestDiagonalsOfASkewedFrame(t *testing.T) {
	for _, c := range []struct{ deg, long, short float64 }{
		{0.25, 2599.0905, 2593.2081}, {0.5, 2602.0267, 2590.2620}, {1, 2607.8887, 2584.3600},
	} {
		e := c.deg * math.Pi / 180
		b := skewed(700, 2500, e)
		b.all(t, 0.5, quiet)
		f := b.survey(t).Frame
		assert.InDelta(t, c.long, f.Diagonals.LeftFront.V, 1e-4)
		assert.InDelta(t, c.short, f.Diagonals.RightFront.V, 1e-4)
		assert.InDelta(t, c.long-c.short, f.Diagonals.Difference.V, 2e-4)
		assert.InDelta(t, 700*math.Sin(e), f.Square.V, 1e-5, "the right rail stands behind")
		assert.InDelta(t, e, f.Skew.V, 1e-8)
		assert.InDelta(t, 2500*math.Tan(e), f.Swing.V, 1e-4)
		assert.InDelta(t, 0, f.Diagonals.OfSides.V, 1e-4, "the sides are equal")
	}
}

// Equal diagonals do not prove a frame square: a trapezium has them too, and a
// frame with one rail ahead can have equal ones if its sides are unequal.
func TestEqualDiagonalsOfUnequalSides(t *testing.T) {
	b := &bench{table: rails2} // the right rail shorter, its marks behind in front and ahead at the rear
	b.add("l1", 0, 0)
	b.add("r1", 8, 700)
	b.add("l2", 2500, 0)
	b.add("r2", 2492, 700)
	b.all(t, 0.5, quiet)
	f := b.survey(t).Frame
	assert.InDelta(t, 0, f.Diagonals.Difference.V, 1e-6)
	assert.InDelta(t, 0, f.Square.V, 1e-6)
	assert.InDelta(t, 16, f.Diagonals.Left.V-f.Diagonals.Right.V, 1e-6)

	b = &bench{table: rails2} // equal diagonals, rear ends level, fronts 20 apart
	b.add("l1", 0, -350)
	b.add("r1", 20, 350)
	b.add("l2", 2500, -350)
	y := 350.0
	x := math.Sqrt(math.Pow(2480, 2) + 700*700 - math.Pow(y+350, 2)) // |l1 r2| = |r1 l2|
	b.add("r2", x, y)
	b.all(t, 0.5, quiet)
	f = b.survey(t).Frame
	assert.InDelta(t, 0, f.Diagonals.Difference.V, 1e-6)
	assert.Greater(t, math.Abs(f.Diagonals.Left.V-f.Diagonals.Right.V), 30.0)
}

// Wheelbase left and right and the axle's turn: 5 mm over a track of 1480 are
// 0.193566°, derived.
func TestThrustAngle(t *testing.T) {
	b := &bench{table: rails2 + "rear_axle = [\"point.al\", \"point.ar\"]\n"}
	b.add("l1", 0, -400)
	b.add("r1", 0, 400)
	b.add("l2", 2500, -400)
	b.add("r2", 2500, 400)
	b.add("al", 2400, -740+2)
	b.add("ar", 2405, 740+2)
	b.all(t, 0.3, quiet)
	r := b.survey(t)
	require.Len(t, r.Frame.Axles, 1)
	assert.InDelta(t, 0.193566*math.Pi/180, r.Frame.Axles[0].Turn.V, 1e-8)
	assert.InDelta(t, 2, r.Frame.Axles[0].Offset.V, 1e-6)
	assert.Equal(t, finding.NotKnown, found(t, r, finding.FrameWheelbase).Status)
	assert.Equal(t, finding.NotKnown, found(t, r, finding.FrameTwist).Status, "no height was measured")
}

// What a survey says of a tape shared by all its lines is carried on: a tape that
// reads long by the same part everywhere turns no angle.
func TestSharedTapeDropsOutOfAngles(t *testing.T) {
	b := skewed(700, 2500, 0.01)
	id, err := b.from.Add(uncertain.Source{Label: "the tape", U: 1})
	require.NoError(t, err)
	for j := range b.names {
		for i := range j {
			v := r3.Norm(r3.Sub(b.at[b.names[i]], b.at[b.names[j]]))
			b.lines = append(b.lines, Line{Name: "tape", Index: len(b.lines), As: project.DistanceLine, From: "point." + b.names[i], To: "point." + b.names[j],
				Value: finding.Of(b.from.Number(v, uncertain.Part{Of: id, C: v / 1000}))})
		}
	}
	f := b.survey(t).Frame
	assert.InDelta(t, 0, f.Skew.Expanded(), 1e-7)
	assert.InDelta(t, 2*f.Diagonals.Left.V/1000, f.Diagonals.Left.Expanded(), 1e-3)
}

// The ± of what is said holds the truth about 95 times in 100.
func TestStatedUncertaintyHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	const runs = 300
	inside, all := 0, 0
	for range runs {
		b := skewed(800, 2600, 0.004)
		b.all(t, 0.6, func() float64 { return 0.6 * r.NormFloat64() })
		f := b.survey(t).Frame
		for _, m := range []struct {
			is   finding.Number
			true float64
		}{{f.Square, 800 * math.Sin(0.004)}, {f.Diagonals.Left, 2600}, {f.Pairs[1].Width, 800}} {
			if !m.is.Known {
				continue // a slip was accused
			}
			all++
			if math.Abs(m.is.V-m.true) <= m.is.Expanded() {
				inside++
			}
		}
	}
	assert.Greater(t, all, 3*runs*95/100)
	assert.InDelta(t, 0.954, float64(inside)/float64(all), 0.03)
}

// four is a frame of four stations with every tape.
func four(t *testing.T) *bench {
	b := &bench{table: "[survey]\nleft = [\"point.l1\", \"point.l2\", \"point.l3\", \"point.l4\"]\nright = [\"point.r1\", \"point.r2\", \"point.r3\", \"point.r4\"]\n"}
	for i := range 4 {
		b.add(fmt.Sprintf("l%d", i+1), 900*float64(i), -400)
		b.add(fmt.Sprintf("r%d", i+1), 900*float64(i), 400)
	}
	b.all(t, 0.5, quiet)
	return b
}

// spoil makes a line off by so much.
func (b *bench) spoil(line int, off float64) Line {
	b.lines[line].Value.Number = b.lines[line].Value.Shift(off)
	return b.lines[line]
}

// One misread tape is named, left out and said; with it gone the frame is judged.
func TestMisreadTapeIsNamed(t *testing.T) {
	b := four(t)
	bad := b.spoil(9, 10)
	r := b.survey(t)
	require.Len(t, r.Now.Suspects, 1)
	s := r.Now.Suspects[0]
	assert.Equal(t, bad.Name, s.Line.Name)
	assert.True(t, s.Out)
	assert.InDelta(t, 10, s.Off, 1e-3)
	assert.True(t, s.Without.Known)
	fit := found(t, r, finding.SurveyFit)
	assert.Equal(t, finding.Over, fit.Status)
	assert.Contains(t, fit.Advice(), bad.Name+" reads 10.0 mm more than the others say")
	square := found(t, r, finding.FrameSquare)
	assert.Equal(t, finding.OK, square.Status)
	assert.Contains(t, strings.Join(square.Assumes, "; "), bad.Name+" is left out")

	b.spoil(20, -14) // and a second one
	r = b.survey(t)
	require.Len(t, r.Now.Suspects, 2)
	assert.True(t, r.Now.Suspects[0].Out && r.Now.Suspects[1].Out && r.Now.Fits)
}

// With one more tape than it takes nobody can say which was misread: nothing is
// judged, and the whole group is named.
func TestWhatCannotBeToldIsNotJudged(t *testing.T) {
	b := skewed(700, 2500, 0)
	b.all(t, 0.5, quiet)
	b.spoil(2, 12)
	r := b.survey(t)
	assert.False(t, r.Now.Fits)
	require.NotEmpty(t, r.Now.Suspects)
	assert.Len(t, r.Now.Suspects[0].Alike, 5)
	assert.Contains(t, found(t, r, finding.SurveyFit).Advice(), "cannot be told from one in")
	for _, id := range []string{finding.FrameSquare, finding.FrameDiagonals} {
		f := found(t, r, id)
		assert.Equal(t, finding.NotKnown, f.Status, id)
		assert.Contains(t, f.Missing, "frame.survey.fit")
	}
}

// Too few tapes: what is loose is named, with the tape that would help most; a tape
// that nothing checks is said, and never ok.
func TestTooFewTapes(t *testing.T) {
	b := skewed(700, 2500, 0)
	for _, l := range [][2]string{{"l1", "r1"}, {"r1", "r2"}, {"r2", "l2"}, {"l2", "l1"}} {
		b.tape(t, l[0], l[1], 0, 0.5)
	}
	r := b.survey(t)
	assert.Contains(t, r.Now.Why, "can move against each other: measure the distance from")
	assert.Equal(t, finding.NotKnown, found(t, r, finding.SurveyFit).Status)
	assert.Equal(t, finding.NotKnown, found(t, r, finding.FrameSquare).Status)

	b.tape(t, "l1", "r2", 0, 0.5)
	r = b.survey(t)
	assert.Empty(t, r.Now.Why)
	assert.Contains(t, found(t, r, finding.SurveyFit).Missing, "nothing checks the measurements")
	assert.Equal(t, finding.NotKnown, found(t, r, finding.SurveyHidden).Status)

	b.add("lost", 100, 100)
	b.lines = append(b.lines, Line{Name: "lost over l1", Index: 99, As: project.HeightLine, From: "point.l1", To: "point.lost", Value: b.lines[0].Value, After: project.Hung})
	assert.Contains(t, b.survey(t).Now.Why, "no distance leads to lost")
	assert.Equal(t, "nothing is measured between points yet: add [[measure]] with from, to and lengths", (&bench{names: []string{"l1", "l2", "r1", "r2"}, table: rails2}).survey(t).Now.Why)
}

// A value that is ten times off is explained.
func TestSlipOfTheUnitIsAskedAbout(t *testing.T) {
	for times, ask := range map[float64]string{10: "in mm where the tape reads cm: 1204", 0.1: "a tenth as long, in cm: 1204", 25.4: "read in mm and typed as inches: 1204"} {
		b := four(t)
		l := &b.lines[9]
		l.Value.Number = l.Value.Shift((times - 1) * l.Value.V)
		r := b.survey(t)
		require.NotEmpty(t, r.Now.Suspects, "%g", times)
		assert.Equal(t, l.Name, r.Now.Suspects[0].Line.Name, "%g", times)
		assert.Contains(t, found(t, r, finding.SurveyFit).Advice(), ask, "%g", times)
	}
}

// Points in a row fix nothing beside the row, however many they are, and are
// answered at once.
func TestPointsInARow(t *testing.T) {
	b := &bench{table: "[survey]\ndatum = \"free\"\n"}
	for i := range 12 {
		b.add(fmt.Sprintf("p%d", i), 100*float64(i), 0)
	}
	b.all(t, 0.5, quiet)
	r := b.survey(t)
	assert.NotEmpty(t, r.Now.Why)
	assert.NotEqual(t, finding.OK, found(t, r, finding.SurveyFit).Status)
}

// Places do not depend on the order of the measurements, and are in the datum: the
// first pair stands about 0, the centre line along the rails.
func TestPlacesInTheDatum(t *testing.T) {
	b := four(t)
	want := b.survey(t)
	for i, p := range want.Now.Points() {
		truth := b.at[strings.TrimPrefix(p.Path, "point.")]
		assert.InDelta(t, truth.X, p.Place[0].V, 1e-4, p.Name)
		assert.InDelta(t, truth.Y, p.Place[1].V, 1e-4, p.Name)
		assert.False(t, p.Place[2].Known, "no height was measured")
		assert.Greater(t, want.Now.Points()[i].Ellipse.Long, 0.0)
	}
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(b.lines), func(i, j int) { b.lines[i], b.lines[j] = b.lines[j], b.lines[i] })
	got := b.survey(t)
	for _, p := range want.Now.Points() {
		i := slices.IndexFunc(got.Now.Points(), func(q Point) bool { return q.Path == p.Path })
		require.GreaterOrEqual(t, i, 0)
		q := got.Now.Points()[i]
		assert.InDelta(t, p.Place[0].V, q.Place[0].V, 1e-5)
		assert.InDelta(t, p.Place[0].Expanded(), q.Place[0].Expanded(), 1e-5)
	}
}

// Heights, an offset from a string and a square say what they are defined to say:
// to over from; to the right of the string, looking along it; the angle in the
// corner.
func TestEveryKindOfLine(t *testing.T) {
	b := &bench{table: rails2}
	b.add("l1", 0, -400)
	b.add("r1", 0, 400)
	b.add("l2", 2500, -400)
	b.add("r2", 2500, 400)
	b.add("m", 1000, 30)
	for n, z := range map[string]float64{"l2": 12, "r2": 20, "r1": 3} {
		p := b.at[n]
		p.Z = z
		b.at[n] = p
	}
	b.all(t, 0.5, quiet)
	line := func(as project.SurveyLine, from, to, at string, v float64) {
		n, err := b.from.With(v, uncertain.Source{Label: "x", U: 0.5 / map[bool]float64{true: 1000, false: 1}[as == project.SquareLine]})
		require.NoError(t, err)
		l := Line{Name: string(as), Index: len(b.lines), As: as, From: "point." + from, To: "point." + to, Value: finding.Of(n), After: project.Hung}
		if at != "" {
			l.At = "point." + at
		}
		b.lines = append(b.lines, l)
	}
	for _, n := range []string{"l2", "r2", "r1", "m"} {
		line(project.HeightLine, "l1", n, "", b.at[n].Z)
	}
	line(project.OffsetLine, "l1", "l2", "m", -430) // to the rear, the driver's right is on the left
	line(project.OffsetLine, "l2", "l1", "m", 430)
	line(project.SquareLine, "r1", "l2", "l1", math.Acos(r3.Cos(r3.Sub(b.at["r1"], b.at["l1"]), r3.Sub(b.at["l2"], b.at["l1"]))))
	r := b.survey(t)
	require.Empty(t, r.Now.Why)
	for _, l := range r.Now.Lines {
		assert.InDelta(t, 0, l.V, 1e-4, "%s %s %s", l.As, l.From, l.To)
		assert.InDelta(t, l.Value.V, r.Now.net.expected(l.Line), 1e-4, "%s", l.As)
	}
	assert.InDelta(t, 3-0-20+12, r.Frame.Twist.V, 1e-4, "right front over what the other three say")
	assert.InDelta(t, 12, r.Frame.Left.Kick.V, 1e-4)
	assert.False(t, r.Frame.Left.Sag.Known, "no point between the ends")
}

// Sag and sweep of a rail are of the point between its ends.
func TestSagAndSweep(t *testing.T) {
	b := &bench{table: "[survey]\nleft = [\"point.l1\", \"point.l2\", \"point.l3\"]\nright = [\"point.r1\", \"point.r2\", \"point.r3\"]\n"}
	for i, x := range []float64{0, 1200, 2400} {
		side := []float64{0, 6, 0}[i]
		b.add(fmt.Sprintf("l%d", i+1), x, -400+side)
		b.add(fmt.Sprintf("r%d", i+1), x, 400)
	}
	p := b.at["l2"]
	p.Z = -8
	b.at["l2"] = p
	b.all(t, 0.5, quiet)
	for _, n := range b.names[1:] {
		v, err := b.from.With(b.at[n].Z, uncertain.Source{Label: n, U: 0.5})
		require.NoError(t, err)
		b.lines = append(b.lines, Line{Name: n, Index: len(b.lines), As: project.HeightLine, From: "point.l1", To: "point." + n, Value: finding.Of(v), After: project.Hung})
	}
	f := b.survey(t).Frame
	assert.InDelta(t, 8, f.Left.Sag.V, 1e-4)
	assert.InDelta(t, 6, f.Left.Sweep.V, 1e-4)
	assert.InDelta(t, 0, f.Right.Sag.V, 1e-4)
	assert.InDelta(t, 3, f.Pairs[1].Offset.V, 1e-4, "the middle goes half as far")
	assert.True(t, f.Pairs[0].OnLine && f.Pairs[2].OnLine)
}

// Five hundred points in a row are answered, and with no place.
func TestFiveHundredPointsInARow(t *testing.T) {
	b := &bench{table: "[survey]\ndatum = \"free\"\n"}
	for i := range 500 {
		b.add(fmt.Sprintf("p%d", i), 10*float64(i), 0)
		for d := 1; d <= 3 && i >= d; d++ {
			b.tape(t, fmt.Sprintf("p%d", i-d), fmt.Sprintf("p%d", i), 0, 0.5)
		}
	}
	r := b.survey(t)
	assert.NotEmpty(t, r.Now.Why)
	assert.Empty(t, r.Now.Points())
	assert.Equal(t, finding.NotKnown, found(t, r, finding.SurveyFit).Status)
}

// An error of a point that holds the survey moves what is measured from it, by what the
// places move where that point is said to lie a little further on, and by no more.
func TestAnErrorOfTheDatumReachesThePlaces(t *testing.T) {
	place := func(off float64, pm string) [3]finding.Number {
		b := &bench{}
		for name, at := range map[string]r3.Vec{"a": {}, "b": {X: 2000}, "d": {Y: 700}} {
			b.add(name, at.X, at.Y)
		}
		b.add("e", 1900, 800)
		for _, from := range []string{"a", "b", "d"} {
			b.tape(t, from, "e", 0, 0.3)
		}
		f, err := project.Parse("frame", []byte(fmt.Sprintf("format = 3\n[survey]\ndatum = \"points\"\npoints = [\"point.a\", \"point.b\", \"point.d\"]\n"+
			"[point.a]\nstation = \"%g mm%s\"\noffset = \"0 mm\"\nheight = 0\n[point.b]\nstation = 2000\noffset = \"0 mm\"\nheight = 0\n"+
			"[point.d]\nstation = 0\noffset = \"700 mm right\"\nheight = 0\n[point.e]\n", off, pm)))
		require.NoError(t, err)
		places, why := of(f.Build, b.lines, &b.from).Places([]string{"point.e"})
		require.Len(t, places, 1, why)
		return places[0].At
	}
	const h = 0.1
	sure, open, up, down := place(0, ""), place(0, " ± 1"), place(h, ""), place(-h, "")
	for axis := range 2 {
		want := math.Abs(up[axis].V-down[axis].V) / (2 * h) / math.Sqrt(3)
		assert.Positive(t, want)
		assert.InDelta(t, want, math.Sqrt(math.Pow(open[axis].U(), 2)-math.Pow(sure[axis].U(), 2)), 0.01*want)
	}
}

// A survey that is tied to the vehicle's zero by two points takes the mean of their
// stations. What both were measured from moves that mean as far as itself; errors of
// their own move it by half each.
func TestATieKeepsWhatItsPointsShare(t *testing.T) {
	u := func(what string) float64 {
		b := four(t)
		b.table = strings.Replace(b.table, "[survey]\n", "[survey]\ndatum = \"rails\"\npoints = [\"point.l1\", \"point.l4\"]\n", 1)
		f, err := project.Parse("frame", []byte(fmt.Sprintf("format = 3\n[vehicle]\naxle_height = 0\n[point.mark]\nstation = \"0 mm%s\"\noffset = 0\nheight = 0\n"+
			"[point.l1]\nfrom = \"point.mark\"\nstation = \"0 mm%s\"\noffset = 0\nheight = 0\n[point.l4]\nfrom = \"point.mark\"\nstation = \"2700 mm%[2]s\"\noffset = 0\nheight = 0\n", pmOf(what, "mark"), pmOf(what, "own"))+
			"[point.l2]\n[point.l3]\n[point.r1]\n[point.r2]\n[point.r3]\n[point.r4]\n"+b.table))
		require.NoError(t, err)
		r := of(f.Build, b.lines, &b.from)
		places, why := r.Places([]string{"point.r2"})
		require.Len(t, places, 1, why)
		return places[0].At[0].U()
	}
	sure := u("")
	left := func(all float64) float64 { return math.Sqrt(all*all - sure*sure) }
	assert.InDelta(t, 4/math.Sqrt(3), left(u("mark")), 1e-6)
	assert.InDelta(t, 4/math.Sqrt(3)/math.Sqrt2, left(u("own")), 1e-6)
}

func pmOf(of, what string) string {
	if of == what {
		return " ± 4"
	}
	return ""
}
