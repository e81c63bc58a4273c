package reading

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func build(t testing.TB, text string) *project.Build {
	t.Helper()
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return f.Build
}

// readIn is what was read in a build.
func readIn(b *project.Build) *Readings { return Of(b, new(uncertain.Sources), Measure(b)) }

func deg(v float64) float64 { return geom.Angle(v).Degrees() }

// file is a build of a gauge and readings along the axes.
func file(gauge string, readings ...string) string {
	return "format = 3\n[gauge]\n" + gauge + "\n[line.rear.pinion]\n" + strings.Join(readings, "")
}

func read(of, shown, lower, more string) string {
	return fmt.Sprintf("[[reading]]\nof = %q\non = \"along\"\nshown = %q\nlower = %q\n%s\n", of, shown, lower, more)
}

// one is the standard uncertainty, degrees, of a gauge good for 0.1, rectangular
// (JCGM 100:2008, 4.3.7).
var one = 0.1 / math.Sqrt(3)

// Readings of one thing are taken together: their mean, how far it can be
// trusted. Degrees. The gauge's accuracy is the same in all readings of one
// surface and stays whole; a mean lies no farther off than that and half of what
// its two readings differ by.
func TestMeanOfReadings(t *testing.T) {
	for name, c := range map[string]struct {
		text    string
		v, u    float64
		count   int
		doubted bool
	}{
		"one":                       {file("", read("powertrain", "4.4 deg", "rear", "")), 4.4, one, 1, false},
		"up to the rear":            {file("", read("powertrain", "4.4 deg", "front", "")), -4.4, one, 1, false},
		"two":                       {file("", read("powertrain", "4.4 deg", "rear", ""), read("powertrain", "4.5 deg", "rear", "")), 4.45, one + 0.1/4, 2, false},
		"half a step of 0.1 more":   {file("resolution = \"0.1 deg\"", read("powertrain", "4.4 deg", "rear", "")), 4.4, math.Hypot(one, 0.05/math.Sqrt(3)), 1, false},
		"a zero that is not known":  {file("zero = \"0.3 deg\"", read("powertrain", "4.4 deg", "rear", "")), 4.4, math.Hypot(one, 0.3/math.Sqrt(3)), 1, false},
		"both ways round":           {file("zero = \"0.3 deg\"", read("powertrain", "4.6 deg", "rear", `gauge_end = "rear"`), read("powertrain", "4.2 deg", "rear", `gauge_end = "front"`)), 4.4, one, 2, false},
		"front end only":            {file("zero = \"0.3 deg\"", read("powertrain", "4.4 deg", "rear", `gauge_end = "front"`)), 4.4, math.Hypot(one, 0.3/math.Sqrt(3)), 1, false},
		"two in doubt, at their s":  {file("", read("powertrain", "4.3 deg", "rear", ""), read("powertrain", "4.5 deg", "rear", "")), 4.4, one + 0.2/4, 2, true},
		"after tacking anew":        {file("", read("powertrain", "9 deg", "rear", ""), read("powertrain", "4.6 deg", "rear", `after = "tacked"`)), 4.6, one, 1, false},
		"hung, not said, is one":    {file("", read("powertrain", "4.4 deg", "rear", `after = "hung"`), read("powertrain", "4.5 deg", "rear", "")), 4.45, one + 0.1/4, 2, false},
		"at another place anew":     {file("", read("powertrain", "9 deg", "rear", `placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }`), read("powertrain", "4.6 deg", "rear", `placed = { left_front = 0, right_front = 0, rear = 9, setback = 0 }`)), 4.6, one, 1, false},
		"as it stood otherwise, so": {file("", read("powertrain", "9 deg", "rear", ""), read("powertrain", "4.6 deg", "rear", `stood = "axle on stands"`)), 4.6, one, 1, false},
	} {
		t.Run(name, func(t *testing.T) {
			got := readIn(build(t, c.text)).Gauge("powertrain")
			require.True(t, got.Mean.Known, got.Mean.Why)
			assert.InDelta(t, c.v, deg(got.Mean.V), 1e-9)
			assert.InDelta(t, c.u, deg(got.Mean.U()), 1e-9)
			assert.Len(t, got.Set, c.count)
			assert.Equal(t, c.doubted, got.Doubt != "")
			assert.Equal(t, got.Mean, got.Level, "nothing was read of what it stands on")
		})
	}
	assert.Empty(t, readIn(build(t, file(""))).Gauge("powertrain").Set)
}

// Half of what two readings differ by, one each way round, is the gauge's zero:
// it comes off the others, which then rest on those two.
func TestZeroFoundByTurning(t *testing.T) {
	pair := []string{read("powertrain", "4.6 deg", "rear", `gauge_end = "rear"`), read("powertrain", "4.2 deg", "rear", `gauge_end = "front"`)}
	g := readIn(build(t, file("zero = \"0.3 deg\"", append(pair, read("line.rear.shaft.1", "2.6 deg", "rear", `gauge_end = "rear"`))...))).Gauge("line.rear.shaft.1")
	assert.InDelta(t, 2.4, deg(g.Mean.V), 1e-9)
	assert.InDelta(t, one*math.Sqrt2, deg(g.Mean.U()), 1e-9, "its own surface, and the scale where the gauge was turned")
	// Farther apart than any zero takes them they are of two things: nothing is
	// known of the gauge.
	pair[1] = read("powertrain", "1.2 deg", "rear", `gauge_end = "front"`)
	g = readIn(build(t, file("", append(pair, read("line.rear.shaft.1", "2.6 deg", "rear", `gauge_end = "rear"`))...))).Gauge("line.rear.shaft.1")
	assert.InDelta(t, 2.6, deg(g.Mean.V), 1e-9)
}

// Readings that cannot all be true make no number, and say which two and what
// is likely wrong. 0.1 degrees each way: two 0.27 apart contradict.
func TestReadingsThatContradict(t *testing.T) {
	p := func(shown, lower string) string { return read("powertrain", shown, lower, "") }
	for name, c := range map[string]struct {
		readings []string
		says     []string // nothing where they make a number
	}{
		"near":               {[]string{p("4.4 deg", "rear"), p("4.5 deg", "rear")}, nil},
		"apart":              {[]string{p("4.4 deg", "rear"), p("4.7 deg", "rear")}, []string{"reading 1 (4.40° on the axis", "reading 2 (4.70°", "0.30° apart", "another face"}},
		"the other way":      {[]string{p("4.4 deg", "rear"), p("4.4 deg", "front")}, []string{"lower at the rear", "lower at the front", "wrong way round"}},
		"one apart of three": {[]string{p("4.4 deg", "rear"), p("4.45 deg", "rear"), p("4.9 deg", "rear")}, []string{"reading 3"}},
		"three that scatter": {[]string{p("4 deg", "rear"), p("4.5 deg", "rear"), p("5 deg", "rear")}, []string{"reading 1", "reading 3"}},
		"three both ways":    {[]string{p("0.5 deg", "rear"), p("0.5 deg", "front"), p("1.5 deg", "rear")}, []string{"apart"}},
		"the farthest two":   {[]string{p("4 deg", "rear"), p("4.05 deg", "rear"), p("5.05 deg", "rear"), p("5.5 deg", "rear")}, []string{"reading 1", "reading 4", "1.50° apart"}},
		"of another axis":    {[]string{p("4.4 deg", "rear"), p("2.4 deg", "rear"), read("line.rear.shaft.1", "2.4 deg", "rear", "")}, []string{"taken of the shaft, which"}},
	} {
		t.Run(name, func(t *testing.T) {
			m := readIn(build(t, file("", c.readings...))).Gauge("powertrain").Mean
			assert.Equal(t, len(c.says) == 0, m.Known)
			if !m.Known {
				assert.ErrorIs(t, m.Err, finding.ErrContradict)
				assert.True(t, m.Unusable)
			}
			for _, want := range c.says {
				assert.Contains(t, strings.ReplaceAll(m.Why, "shaft 1", "the shaft"), want)
			}
		})
	}
}

// What the frame reads comes off: two readings in each slope.
func TestSlopeOfTheFrame(t *testing.T) {
	shaft := read("line.rear.shaft.1", "3.4 deg", "rear", "")
	g := readIn(build(t, file("", read("frame", "1 deg", "rear", ""), shaft)))
	level := g.Gauge("line.rear.shaft.1").Level
	assert.InDelta(t, 2.4, deg(level.V), 1e-9)
	assert.InDelta(t, one*math.Sqrt2, deg(level.U()), 1e-9)
	assert.True(t, g.Taken().Levelled["on its wheels"])
	assert.False(t, g.Taken().Levelled["axle on stands"])

	floor := readIn(build(t, file("", read("floor", "1 deg", "front", ""), shaft))).Gauge("line.rear.shaft.1").Level
	assert.InDelta(t, 4.4, deg(floor.V), 1e-9)
	both := readIn(build(t, file("", read("floor", "1 deg", "front", ""), read("frame", "1 deg", "rear", ""), shaft))).Gauge("line.rear.shaft.1").Level
	assert.InDelta(t, 2.4, deg(both.V), 1e-9, "the frame before the floor")

	stands := readIn(build(t, file("", read("frame", "1 deg", "rear", `stood = "axle on stands"`), shaft))).Gauge("line.rear.shaft.1")
	assert.True(t, stands.Mean.Known)
	assert.True(t, stands.Level.Unusable, "the frame slopes otherwise then")
	assert.Contains(t, stands.Level.Why, "standing otherwise")

	no := readIn(build(t, file("", "[[reading]]\nof = \"frame\"\non = \"along\"\nshown = \"1 deg\"\n", shaft))).Gauge("line.rear.shaft.1")
	assert.True(t, no.Level.Unusable)
	assert.Contains(t, no.Level.Why, "the reading of the frame has no direction")
}

// A tape reads a heading: 60 over 1000, each end good for 1 mm, rectangular.
func TestTape(t *testing.T) {
	tape := func(aside, more string) string {
		return "[[reading]]\nof = \"line.rear.shaft.1\"\naside = \"" + aside + "\"\nover = \"1000 mm\"\n" + more
	}
	g := readIn(build(t, file("", tape("60 mm right", "")))).Tape("line.rear.shaft.1").Mean
	assert.InDelta(t, math.Atan2(60, 1000), g.V, 1e-12)
	assert.InDelta(t, math.Sqrt2/math.Sqrt(3)/1000, g.U(), 1e-12)
	g = readIn(build(t, file("", tape("60 mm left", "plus_minus = \"0.3 deg\"\n")))).Tape("line.rear.shaft.1").Mean
	assert.InDelta(t, -math.Atan2(60, 1000), g.V, 1e-12)
	assert.InDelta(t, 0.3/math.Sqrt(3), deg(g.U()), 1e-9)
	two := readIn(build(t, file("", tape("60 mm left", ""), tape("61 mm left", "")))).Tape("line.rear.shaft.1").Mean
	assert.InDelta(t, -(math.Atan2(60, 1000)+math.Atan2(61, 1000))/2, two.V, 1e-12)
	assert.InDelta(t, math.Hypot(math.Sqrt2/math.Sqrt(3), 0.5)/1000, two.U(), 1e-5)
	apart := readIn(build(t, file("", tape("60 mm left", ""), tape("60 mm right", "")))).Tape("line.rear.shaft.1").Mean
	assert.ErrorIs(t, apart.Err, finding.ErrContradict)
	assert.Contains(t, apart.Why, "reading 1 (60.0 mm left over 1000 mm)")
	assert.Empty(t, readIn(build(t, file("", tape("60 mm left", "")))).Gauge("line.rear.shaft.1").Set, "a tape gives no slope")
}

// A move is good for a tape's 1 mm in its rows and for the gauge's 0.1 degrees
// in its heading, rectangular.
func TestSourcesOfAMove(t *testing.T) {
	move := readIn(build(t, file(""))).Taken().Moved
	for i, m := range move {
		want := 1 / math.Sqrt(3)
		if i == 5 {
			want = 0.1 * math.Pi / 180 / math.Sqrt(3)
		}
		assert.InDelta(t, want, m.U(), 1e-12)
		assert.Zero(t, m.V)
	}
}

// Welds pull: the difference of two readings, each rectangular within 0.1
// degrees, is good for 2·0.1·√(2/3) = 0.163 degrees; the zero is in both, and drops out
// where it is said which way round the gauge stood.
func TestDrift(t *testing.T) {
	of := func(readings ...string) []finding.Finding {
		return readIn(build(t, file("zero = \"1 deg\"", readings...))).Drift(map[string]string{"powertrain": "engine"})
	}
	p := func(shown, after, more string) string {
		return read("powertrain", shown, "rear", "gauge_end = \"rear\"\nafter = \""+after+"\"\n"+more)
	}
	assert.Empty(t, of(p("9 deg", "hung", ""), p("4.4 deg", "tacked", "")), "nothing is welded yet")
	for shown, c := range map[string]struct {
		v    float64
		is   finding.Status
		says string
	}{
		"4.4 deg": {0, finding.OK, ""}, "4.6 deg": {0.2, finding.Tight, ""}, "4.2 deg": {0.2, finding.Tight, ""},
		"5 deg": {0.6, finding.Over, "0.60° down to the rear"},
	} {
		fs := of(p("9 deg", "hung", ""), p("4.4 deg", "tacked", ""), p(shown, "welded", ""))
		require.Len(t, fs, 1)
		assert.Equal(t, "engine, drift in welding", fs[0].Title)
		assert.InDelta(t, c.v, deg(fs[0].Value), 1e-9)
		assert.InDelta(t, 0.16330, deg(fs[0].Uncertainty), 1e-4)
		assert.Equal(t, c.is, fs[0].Status)
		assert.Contains(t, fs[0].Advice(), c.says)
	}
	assert.InDelta(t, 0.6, deg(of(p("4.4 deg", "hung", ""), p("5 deg", "welded", ""))[0].Value), 1e-9, "hung where it was not tacked")
	at := func(rear string) string {
		return "placed = { left_front = 1, right_front = 1, rear = " + rear + ", setback = 1 }"
	}
	assert.Contains(t, of(p("4.4 deg", "tacked", at("9")), p("5 deg", "welded", at("1")))[0].Missing, "moved between")
	assert.Contains(t, of(p("4.4 deg", "tacked", ""), p("5 deg", "welded", `stood = "axle on stands"`))[0].Missing, "stood otherwise")
}

// Two lengths are compared by the last before welding, tacked before hung, and
// the last after it; the ± is that of both.
func TestDriftOfMeasurements(t *testing.T) {
	angles := build(t, "format = 3\n[[measure]]\nof = \"plate\"\nwith = \"level\"\nangles = [\"0.2 deg\"]\n[[measure]]\nof = \"plate\"\nwith = \"level\"\nangles = [\"0.9 deg\"]\nafter = \"welded\"\n")
	f := readIn(angles).Drift(nil)[0]
	assert.InDelta(t, 0.7, deg(f.Value), 1e-9)
	assert.Equal(t, angles.Limit("weld_drift").Value, f.Limit)

	b := build(t, `format = 1
[[measure]]
of = "diagonal, left"
with = "tape"
lengths = [4000, 4001]
after = "tacked"
[[measure]]
of = "diagonal, left"
with = "tape"
lengths = [3900]
[[measure]]
of = "diagonal, left"
with = "tape"
lengths = [4005.5]
after = "welded"
[[measure]]
of = "plate"
with = "level"
angles = ["0.2 deg"]
`)
	assert.Equal(t, b.Limit("weld_drift_length").Value, readIn(b).Drift(nil)[0].Limit)
	ms, facts := readIn(b).Measurements()
	require.Len(t, ms, 4)
	assert.InDelta(t, 4000.5, ms[0].Mean.V, 1e-9)
	assert.InDelta(t, 1, ms[0].Spread, 1e-9)
	assert.InDelta(t, one, deg(ms[3].Mean.U()), 1e-9)
	assert.Len(t, facts, 2)
	assert.Equal(t, "measure.diagonal-left", facts[0].ID)
	fs := readIn(b).Drift(nil)
	require.Len(t, fs, 1)
	assert.Equal(t, "drift.measure.diagonal-left", fs[0].ID)
	assert.InDelta(t, 5, fs[0].Value, 1e-9)
	assert.InDelta(t, 2*math.Sqrt2*(1/math.Sqrt(3)+0.25), fs[0].Uncertainty, 1e-9, "two that differ by 1 show what one is good for")
	assert.Equal(t, finding.Over, fs[0].Status)
}

// A reading without a direction, or without a surface, cannot be used.
func TestReadingThatLacksSomething(t *testing.T) {
	for text, why := range map[string]string{
		"on = \"along\"\nshown = \"4 deg\"\n":   "no direction",
		"shown = \"4 deg\"\nlower = \"rear\"\n": "what the gauge stood on",
	} {
		m := readIn(build(t, file("", "[[reading]]\nof = \"powertrain\"\n"+text))).Gauge("powertrain").Mean
		assert.True(t, m.Unusable)
		assert.Contains(t, finding.Unreadable("the powertrain", m, nil, nil), why)
	}
}

// Everything was read after a step where every end was, and stands there still.
func TestFactsOfReadings(t *testing.T) {
	for name, c := range map[string]struct {
		after          string
		moved          bool
		tacked, welded finding.Status
	}{
		"hung":              {"hung", false, finding.NotKnown, finding.NotKnown},
		"tacked":            {"tacked", false, finding.OK, finding.NotKnown},
		"welded":            {"welded", false, finding.OK, finding.OK},
		"welded, but moved": {"welded", true, finding.NotKnown, finding.NotKnown},
	} {
		t.Run(name, func(t *testing.T) {
			g := readIn(build(t, file("", read("powertrain", "4.4 deg", "rear", "after = \""+c.after+"\""))))
			facts := g.Facts([]End{{"powertrain", "powertrain", c.moved}})
			require.Len(t, facts, 2)
			assert.Equal(t, []finding.Status{c.tacked, c.welded}, []finding.Status{facts[0].Status, facts[1].Status})
			more := g.Facts([]End{{"powertrain", "powertrain", c.moved}, {"line.rear.pinion", "pinion", false}})
			assert.Equal(t, finding.NotKnown, more[0].Status, "the pinion was never read")
			assert.Contains(t, more[0].Text, "pinion")
		})
	}
	bolted := readIn(build(t, "format = 3\n[powertrain]\nfixing = \"bolted\"\n")).Facts(nil)
	assert.Contains(t, bolted[1].Text, "nothing to read after welding")
	assert.Equal(t, "readings after bolted", bolted[0].Title)
}

// The values have each reading as it was shown and what it amounts to.
func TestValues(t *testing.T) {
	var l finding.List
	b := build(t, example.TwoEnds+example.ReadAtRest)
	readIn(b).Values(b.Readings, &l)
	got := map[string]float64{}
	for _, v := range l {
		got[v.Name] = v.V
	}
	assert.InDelta(t, 2, deg(got["reading.2.slope"]), 1e-9)
	assert.Contains(t, got, "reading.2.placed.rear")
	assert.NotContains(t, got, "reading.3.placed.rear")
}

// A direction by a tape good for 0.5 mm that strays by 1 mm, over a metre: one reading
// has √2·√(0.5² + 1²)/√3 mm per metre (the spread of several is less than that), four
// have √2·√(0.5² + 1²/4)/√3: the repeat averages and the accuracy does not, over
// whatever length. A ± typed with a reading is all that it is good for.
func TestRepeatsOfADirectionByTape(t *testing.T) {
	of := func(tool string, asides ...string) finding.Number {
		text := "format = 3\n[tool.steel]\n" + tool + "\n[line.rear.pinion]\n"
		for _, a := range asides {
			text += "[[reading]]\nof = \"line.rear.shaft.1\"\naside = \"" + a + "\"\nover = \"1000 mm\"\nwith = \"tool.steel\"\n"
		}
		m := readIn(build(t, text)).Tape("line.rear.shaft.1").Mean
		require.True(t, m.Known, m.Why)
		return m
	}
	const tool = "accuracy = 0.5\nrepeat = 1"
	root := math.Sqrt2 / math.Sqrt(3) / 1000
	assert.InDelta(t, root*math.Hypot(0.5, 1), of(tool, "6 mm right").U(), 1e-8)
	assert.InDelta(t, root*math.Hypot(0.5, 0.5), of(tool, "6 mm right", "6.2 mm right", "5.8 mm right", "6 mm right").U(), 1e-8)
	assert.InDelta(t, root*math.Hypot(0.5, 0.5), of(tool+"\nper_metre = 0.000001", "6 mm right", "6.2 mm right", "5.8 mm right", "6 mm right").U(), 1e-8)
	assert.Greater(t, of(tool, "6 mm right", "6 mm right", "6 mm right", "6 mm right", "6 mm right", "6 mm right", "6 mm right", "6 mm right", "6 mm right").U(), root*0.5)
	assert.InDelta(t, root*math.Hypot(1, 1), of("repeat = 1", "6 mm right").U(), 1e-8, "nothing said of its accuracy: as any tape")
	typed := of(tool, "6 mm ± 0.3 right")
	assert.InDelta(t, 0.3/math.Sqrt(3)/1000, typed.U(), 1e-8)
}

// A length by a tool that is good for 0.5 mm and 0.2 mm in each metre is off by two
// independent errors at 4 m, 0.5 mm and 0.8 mm, bounds (JCGM 100:2008, 4.3.7 and 5.1.2):
// the second is that of the whole tape, which all lengths with it share.
func TestALengthIsAsGoodAsItsTool(t *testing.T) {
	ms, _ := readIn(build(t, "format = 3\n[tool.tape]\naccuracy = \"0.5 mm\"\nper_metre = \"0.2 mm\"\n[[measure]]\nof = \"diagonal\"\nwith = \"tool.tape\"\nlengths = [4000]\n")).Measurements()
	require.Len(t, ms, 1)
	assert.InDelta(t, math.Hypot(0.5, 0.8)/math.Sqrt(3), ms[0].Mean.U(), 1e-9)
}
