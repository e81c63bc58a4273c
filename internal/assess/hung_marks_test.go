package assess

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/assess/hung"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var manySlips = flag.Int("slips", 0, "powertrains with a slip in one reading or measurement, instead of a few")

// markedBuild is the powertrain with marks as it hangs at a pose, read and measured by
// errors that dice make: what a gauge shows to a tenth, lengths to half a millimetre.
type markedBuild struct {
	is     geom.Pose
	rails  map[string]r3.Vec // where they are: the file has them within its ±
	pinion r3.Vec
	slopes [2]float64 // of the powertrain and the shaft as they are, rad
	dice   *rand.Rand
	parts  []string // the readings and measurements
	shown  []string // the number of each as it is written
	signed []bool   // whether a wrong sign can be written
}

var (
	ownMarks = map[string]r3.Vec{"pulley": {X: -150}, "flange": {X: 1400}, "head_left": {X: 300, Y: -180, Z: 380}, "head_right": {X: 300, Y: 180, Z: 380}}
	railsAt  = map[string]r3.Vec{"rail_l": {X: 600, Y: -400, Z: -20}, "rail_r": {X: 600, Y: 400, Z: -20}}
	pinionAt = r3.Vec{X: 2900, Z: -230}
)

func (m *markedBuild) off(half float64) float64 { return half * (2*m.dice.Float64() - 1) }

func (m *markedBuild) reading(of, on string, slope float64) {
	shown := slope
	if on == "square face" {
		shown = 90 - math.Abs(slope)
	}
	text := strconv.FormatFloat(math.Round(10*math.Abs(shown+m.off(0.05)))/10, 'f', -1, 64)
	m.parts = append(m.parts, fmt.Sprintf("[[reading]]\nof = %q\non = %q\nshown = \"%%s deg\"\nlower = %q\n", of, on, map[bool]string{true: "rear", false: "front"}[slope > 0]))
	m.shown, m.signed = append(m.shown, text), append(m.signed, true)
}

func (m *markedBuild) measure(from, to, as string) {
	d := r3.Sub(m.is.Point(ownMarks[to]), m.rails[from])
	v, line := r3.Norm(d), ""
	if as == "height" {
		v, line = d.Z, "as = \"height\"\n"
	}
	text := strconv.FormatFloat(math.Round(2*(v+m.off(0.25)))/2, 'f', -1, 64)
	m.parts = append(m.parts, fmt.Sprintf("[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\n%swith = \"tool.tape\"\nlengths = [%%s]\n", from, to, line))
	m.shown, m.signed = append(m.shown, text), append(m.signed, as == "height")
}

// withMarks draws one.
func withMarks(seed uint64) *markedBuild {
	m := &markedBuild{dice: rand.New(rand.NewPCG(seed, 116))}
	m.rails = map[string]r3.Vec{}
	for _, name := range []string{"rail_l", "rail_r"} {
		m.rails[name] = r3.Add(railsAt[name], r3.Vec{X: m.off(0.5), Y: m.off(0.5), Z: m.off(0.5)})
	}
	m.pinion = r3.Add(pinionAt, r3.Vec{X: m.off(1), Y: m.off(1), Z: m.off(1)})
	slope, roll, heading := m.off(3)+5, m.off(2), m.off(2)
	m.is = geom.Orient(geom.Angle(slope)*geom.Deg, geom.Angle(heading)*geom.Deg, geom.Angle(roll)*geom.Deg, r3.Vec{X: 253 + m.off(20), Y: m.off(15), Z: m.off(20)})
	end := r3.Sub(m.pinion, m.is.Point(r3.Vec{X: 1400}))
	m.reading("powertrain", "square face", slope)
	shaft := math.Atan2(-end.Z, math.Hypot(end.X, end.Y))
	m.slopes = [2]float64{slope * geom.Deg.Rad(), shaft}
	m.reading("line.rear.shaft.1", "along", shaft/geom.Deg.Rad())
	for _, mark := range []string{"pulley", "flange", "head_left", "head_right"} {
		m.measure("rail_l", mark, "height")
		m.measure("rail_l", mark, "")
		m.measure("rail_r", mark, "")
	}
	return m
}

// build is its file with the numbers as they are written.
func (m *markedBuild) build(t *testing.T, shown []string) *project.Build {
	t.Helper()
	b, err := m.parsed(shown)
	require.NoError(t, err)
	return b
}

func (m *markedBuild) parsed(shown []string) (*project.Build, error) {
	text, _, _ := strings.Cut(example.Marked, "[[reading]]")
	for i, p := range m.parts {
		text += fmt.Sprintf(p, shown[i])
	}
	text += "[[reading]]\nof = \"line.rear.pinion\"\non = \"along\"\nshown = \"3.5 deg\"\nlower = \"rear\"\n"
	f, err := project.Parse("x.toml", []byte(text))
	if err != nil {
		return nil, err
	}
	return f.Build, nil
}

// wrong is a number as somebody writes it down wrong; false where that changes nothing.
func (m *markedBuild) wrong(i int) (text, says string, ok bool) {
	was := m.shown[i]
	digits := strings.TrimPrefix(was, "-")
	sign := strings.TrimSuffix(was, digits)
	b := []byte(digits)
	k := m.dice.IntN(len(b))
	switch how := m.dice.IntN(3); {
	case how == 0 && m.signed[i]:
		if i < 2 { // a reading says which end was lower
			m.parts[i] = strings.NewReplacer("lower = \"rear\"", "lower = \"front\"", "lower = \"front\"", "lower = \"rear\"").Replace(m.parts[i])
			return was, "the other end was lower", true
		}
		if sign != "" {
			return digits, "over and under", true
		}
		return "-" + digits, "over and under", true
	case b[k] == '.':
		return was, "", false
	case how == 1:
		b[k] = '0' + (b[k]-'0'+byte(1+m.dice.IntN(9)))%10
	default:
		if k+1 == len(b) || b[k+1] == '.' || b[k] == b[k+1] {
			return was, "", false
		}
		b[k], b[k+1] = b[k+1], b[k]
	}
	return sign + string(b), "digit", true
}

// Of what the gauge showed, of the heights and of the tapes to marks on the powertrain one
// is written down wrong: the other end lower, over for under, a digit wrong or two
// swapped. Where all else checks it well enough it is named, with what was done wrong, and
// nothing is ok by a reading that it was; where it does not, that such a slip stays unseen
// is what is said.
func TestASlipOfThePowertrainIsNamed(t *testing.T) {
	n := 12
	if *manySlips > 0 {
		n = *manySlips
	}
	seen, alike, named, large, explained, hidden := 0, 0, 0, 0, 0, 0
	for k := range n {
		m := withMarks(uint64(k))
		sound := Run(m.build(t, m.shown))
		good := sound.Hung
		if len(good.Suspects) > 0 || good.Why != "" {
			continue
		}
		i := m.dice.IntN(len(m.parts))
		text, says, ok := m.wrong(i)
		shown := append([]string(nil), m.shown...)
		shown[i] = text
		b, err := m.parsed(shown)
		if !ok || err != nil { // such as a length of nothing, which is refused at once
			continue
		}
		a := Run(b)
		bad := a.Hung
		at := -1
		for j, x := range good.All {
			if i < 2 && x.Reading == i || i >= 2 && x.Index == i-2 {
				at = j
			}
		}
		require.GreaterOrEqual(t, at, 0)
		size := math.Abs(observedIn(t, a, i) - observedIn(t, sound, i))
		if size < 1.5*good.All[at].Detectable {
			hidden++
			if f, _ := sound.Finding(finding.PowertrainHidden); i >= 2 && f.HasValue {
				assert.GreaterOrEqual(t, 1.5*f.Value, size, "draw %d", k)
			}
			continue
		}
		seen++
		fit, _ := a.Finding(finding.PowertrainFit)
		require.Equal(t, finding.Over, fit.Status, "draw %d: %s for %s", k, text, m.shown[i])
		if i < 2 { // a reading that does not fit: nothing stands on it
			for _, id := range []string{finding.JointMax("rear", 1), finding.JointMin("rear", 1), "line.rear.residual"} {
				f, _ := a.Finding(id)
				assert.NotEqual(t, finding.OK, f.Status, "draw %d: %s", k, id)
			}
		}
		if slices.ContainsFunc(bad.Suspects, func(s hung.Suspect) bool { return s.Name == good.All[at].Name && len(s.Alike) > 0 }) {
			alike++ // and that it cannot be told from those is what is said
			continue
		}
		if len(bad.Suspects) != 1 || bad.Suspects[0].Name != good.All[at].Name {
			t.Logf("draw %d: %s for %s in %s: %s", k, text, m.shown[i], good.All[at].Name, fit.Advice())
			continue
		}
		named++
		if i >= 2 && size < 10 || i < 2 && size < geom.Deg.Rad() { // any number would do
			continue
		}
		large++
		if is := bad.Suspects[0].Likely; strings.Contains(is, says) || says == "digit" && strings.Contains(is, "mark") {
			explained++
		} else {
			t.Logf("draw %d: %s for %s in %s: %q", k, text, m.shown[i], good.All[at].Name, is)
		}
	}
	say := fmt.Sprintf("%d of %d named, %d among those it looks like; of %d that are large %d with what was done wrong; %d too small to show", named, seen, alike, large, explained, hidden)
	t.Log(say)
	require.Greater(t, seen, n/4)
	assert.GreaterOrEqual(t, float64(named), 0.95*float64(seen-alike), say)
	assert.LessOrEqual(t, float64(alike), 0.15*float64(seen), say)
	assert.GreaterOrEqual(t, float64(explained), 0.9*float64(large), say)
}

// One reading of the powertrain, of a shaft or of the pinion has a slip in it: the other end
// lower, the other face, a digit. Where places, marks and the other readings check it, it is
// named, with what was done wrong; of the pinion's, which nothing checks, it is said that
// such a slip would not be seen.
func TestASlipInALineIsNamed(t *testing.T) {
	n := 10
	if *manySlips > 0 {
		n = *manySlips
	}
	block := regexp.MustCompile(`(?s)\[\[reading\]\]\nof = "([^"]+)".*?lower = "\w+"\n`)
	seen, named, alike, explained, unseen, small, refused := 0, 0, 0, 0, 0, 0, 0
	for k := range n {
		dice := rand.New(rand.NewPCG(uint64(k), 77))
		text := byMarks()(dice).read(dice)
		text = regexp.MustCompile(`shown = "([\d.]+) deg"`).ReplaceAllStringFunc(text, func(s string) string { // as it is read
			v, _ := strconv.ParseFloat(strings.TrimSuffix(strings.TrimPrefix(s, `shown = "`), ` deg"`), 64)
			return fmt.Sprintf("shown = \"%.2f deg\"", v)
		})
		sound := Run(parsedBuild(t, text))
		if len(sound.Hung.Suspects) > 0 || sound.Hung.Why != "" {
			continue
		}
		all := block.FindAllStringSubmatchIndex(text, -1)
		require.Len(t, all, 4)
		i := dice.IntN(len(all))
		was := text[all[i][0]:all[i][1]]
		var wrong, says string
		switch dice.IntN(3) {
		case 0:
			wrong, says = strings.NewReplacer(`"rear"`, `"front"`, `"front"`, `"rear"`).Replace(was), "other end"
		case 1:
			wrong, says = strings.Replace(was, "along", "square face", 1), "face"
		default:
			at := strings.Index(was, "shown = \"") + len("shown = \"")
			d := was[at] - '0'
			wrong, says = was[:at]+string('0'+(d+byte(2+dice.IntN(4)))%10)+was[at+1:], "digit"
		}
		a := Run(parsedBuild(t, text[:all[i][0]]+wrong+text[all[i][1]:]))
		if !a.ready.readings.Slopes[i].Known { // a face that no gauge shows so is refused at once
			refused++
			f, _ := a.Finding(finding.JointMax("rear", max(1, min(i, 3))))
			assert.Equal(t, "face", says)
			assert.NotEqual(t, finding.OK, f.Status)
			continue
		}
		if i == 3 {
			unseen++
			assert.Empty(t, a.Hung.Suspects)
			read, _ := a.Finding(finding.AxisRead("line.rear.pinion"))
			assert.Contains(t, strings.Join(read.Assumes, "; "), "a slip in it would not be seen")
			continue
		}
		at := slices.IndexFunc(sound.Hung.All, func(x hung.Taken) bool { return x.Reading == i })
		require.GreaterOrEqual(t, at, 0)
		read, _ := sound.Finding(finding.AxisRead(map[int]string{0: "line.rear.powertrain", 1: "line.rear.shaft.1", 2: "line.rear.shaft.2"}[i]))
		assert.NotContains(t, strings.Join(read.Assumes, "; "), "would not be seen")
		if size := math.Abs(a.ready.readings.Slopes[i].V - sound.ready.readings.Slopes[i].V); size < 1.5*sound.Hung.All[at].Detectable {
			small++
			continue
		}
		seen++
		fit, _ := a.Finding(finding.PowertrainFit)
		require.Equal(t, finding.Over, fit.Status, "draw %d: %s", k, wrong)
		bad := a.Hung.Suspects
		switch mine := slices.IndexFunc(bad, func(s hung.Suspect) bool { return s.Reading == i }); {
		case mine < 0:
			t.Logf("draw %d: %s for %s: %s", k, wrong, was, fit.Advice())
		case len(bad) > 1 || len(bad[mine].Alike) > 0:
			alike++
		default:
			named++
			if strings.Contains(bad[mine].Likely, says) {
				explained++
			} else {
				t.Logf("draw %d: %s for %s: %s", k, wrong, was, bad[mine].Likely)
			}
		}
	}
	say := fmt.Sprintf("%d of %d named, %d among those it looks like; %d with what was done wrong; %d of the pinion said to be unseen, %d too small to show, %d refused at once", named, seen, alike, explained, unseen, small, refused)
	t.Log(say)
	require.Greater(t, seen, n/5)
	assert.GreaterOrEqual(t, float64(named), 0.95*float64(seen-alike), say)
	assert.LessOrEqual(t, float64(alike), 0.15*float64(seen), say)
	assert.GreaterOrEqual(t, float64(explained), 0.9*float64(named), say)
}

// observedIn is what reading or measurement i says: rad or mm.
func observedIn(t *testing.T, a *Assessment, i int) float64 {
	t.Helper()
	if i < 2 {
		return a.ready.readings.Slopes[i].V
	}
	return a.Build.Measurements[i-2].Lengths[0].V()
}

// Marks to which too little is measured to say how the powertrain lies leave readings as
// they were, value and ±; marks that say something make the slope surer, and how sure is
// the weighted mean of both.
func TestTheOneFitAgreesWithTheGauge(t *testing.T) {
	m := withMarks(1)
	plain := func(of ...int) *Assessment { // the readings, and those measurements
		c := *m
		c.parts, c.shown = m.parts[:2:2], m.shown[:2:2]
		for _, i := range of {
			c.parts, c.shown = append(c.parts, m.parts[i]), append(c.shown, m.shown[i])
		}
		return Run(c.build(t, c.shown))
	}
	gauge := plain()
	for _, of := range [][]int{{2}, {3}, {3, 4}, {2, 6}} { // one mark, or two beside each other
		a := plain(of...)
		require.Empty(t, a.Hung.Why, "%v", of)
		fit, _ := a.Finding(finding.PowertrainFit)
		if len(of) < 2 || of[0] == 3 {
			assert.InDelta(t, gauge.Lines[0].Axes[0].Read.V, a.Lines[0].Axes[0].Read.V, 1e-9, "%v", of)
			assert.InDelta(t, gauge.Lines[0].Axes[0].Read.Expanded(), a.Lines[0].Axes[0].Read.Expanded(), 1e-9, "%v", of)
			assert.Equal(t, finding.NotKnown, fit.Status, "%v", of)
			assert.Contains(t, fit.Missing, "nothing checks", "%v", of)
		}
	}
	// Without the shaft, the heights of two marks 1550 mm apart along the axis: the rest is
	// the weighted mean of what the gauge says and of what they say.
	c := *m
	c.parts, c.shown = []string{m.parts[0], m.parts[2], m.parts[5]}, []string{m.shown[0], m.shown[2], m.shown[5]}
	a := Run(c.build(t, c.shown))
	read := a.Lines[0].Axes[0].Read
	was := gauge.Lines[0].Axes[0].Read
	v := func(i int) float64 { x, _ := strconv.ParseFloat(m.shown[i], 64); return x }
	rise := math.Asin((v(2) - v(5)) / 1550)
	half := 0.5 / math.Sqrt(3) // standard uncertainty of a tape that is good to 0.5 mm
	u := math.Sqrt2 * half / (1550 * math.Cos(rise))
	w := was.U() * was.U() / (was.U()*was.U() + u*u)
	assert.InDelta(t, was.V+w*(rise-was.V), read.V, 2e-5)
	assert.InDelta(t, was.U()*u/math.Hypot(was.U(), u), read.U(), 2e-5)
}

// Where no gauge was put on the powertrain its slope is read by its marks: usable, with its
// ±, joint angles with it, and said to be so; it is carried along where the powertrain
// moved, as a reading is.
func TestASlopeByMarksAlone(t *testing.T) {
	m := withMarks(1)
	c := *m
	c.parts, c.shown = m.parts[2:], m.shown[2:]
	b := c.build(t, c.shown)
	a := Run(b)
	l := a.Lines[0]
	for i, is := range m.slopes { // of the powertrain, and of the shaft between flange and pinion
		x := l.Axes[i]
		require.True(t, x.Read.Known, x.Read.Why)
		assert.Equal(t, -1, x.Reading)
		assert.InDelta(t, is, x.Read.V, x.Read.Expanded())
	}
	assert.True(t, l.Joints[0].Read.Known)
	f, _ := a.Finding(finding.AxisRead("line.rear.powertrain"))
	assert.Equal(t, finding.OK, f.Status)
	assert.Equal(t, finding.Read, f.Basis)
	assert.Contains(t, f.Source, "tape and level")
	assert.Contains(t, f.Advice(), "no gauge was put on it")

	for i := range b.Measurements {
		b.Measurements[i].Placed = b.Placement
	}
	b.Placement.Rear.SetV(b.Placement.Rear.V() + 8)
	moved, _ := Run(b).Finding(finding.AxisRead("line.rear.powertrain"))
	assert.Equal(t, finding.Planned, moved.Basis)
	assert.True(t, moved.Moved)
}

// Where it hangs by its marks is held against the plan: the same with the plan as it is,
// lower where the plan is raised, and a caution with the findings that come out otherwise
// where there are such. The plan never moves what was measured.
func TestMeasuredAgainstPlanned(t *testing.T) {
	b := parsedBuild(t, example.Marked)
	a := Run(b)
	f, ok := a.Finding(finding.PowertrainPlaced)
	require.True(t, ok)
	assert.Equal(t, finding.OK, f.Status, f.Advice())
	measured := func(a *Assessment) float64 {
		for _, v := range a.Values() {
			if v.Name == "powertrain.measured.rear" {
				return v.V
			}
		}
		return math.NaN()
	}
	is := measured(a)
	assert.InDelta(t, -184, is, 4)

	for _, c := range []struct {
		up     float64
		status finding.Status
		says   string
	}{{1.5, finding.OK, "lower at the rear mount"}, {15, finding.Tight, "come out otherwise than as planned: rear joint 1, largest angle (ok)"}} {
		c1 := *b
		c1.Placement.Rear.SetV(b.Placement.Rear.V() + c.up)
		d := Again(a, &c1) // no iron moved: what was measured says where it hung
		f, _ = d.Finding(finding.PowertrainPlaced)
		assert.Equal(t, c.status, f.Status, f.Advice())
		assert.Contains(t, f.Advice(), c.says)
		assert.InDelta(t, b.Placement.Rear.V()+c.up-is, f.Value, 0.01)
		assert.InDelta(t, is, measured(d), 1e-5)
	}
}

// What was measured to marks where the powertrain hung before it was moved is no witness
// of where it hangs now.
func TestMarksOfBeforeAMove(t *testing.T) {
	m := withMarks(2)
	b := m.build(t, m.shown)
	for i := range b.Readings {
		b.Readings[i].Placed = b.Placement
	}
	for i := range b.Measurements {
		b.Measurements[i].Placed = b.Placement
		b.Measurements[i].Placed.Rear.SetV(b.Placement.Rear.V() + 8)
	}
	a := Run(b)
	assert.NotEmpty(t, a.Hung.Why)
	fit, _ := a.Finding(finding.PowertrainFit)
	assert.Equal(t, finding.NotKnown, fit.Status)
	assert.Contains(t, fit.Missing, "with the powertrain or the vehicle standing otherwise")
}

// A reading that contradicts the model says what was likely done wrong where that would
// make the two agree, and nothing of it where it would not.
func TestAContradictionSaysWhatWasLikelyDone(t *testing.T) {
	text, _, _ := strings.Cut(example.Marked, "[[measure]]")
	for _, c := range []struct{ to, says string }{
		{"shown = \"86 deg\"\nlower = \"front\"", "Likely the other end was lower: 4.00° down to the rear. If not: check"},
		{"shown = \"68 deg\"\nlower = \"rear\"", "Likely two digits stand in each other's place: 4.00° down to the rear."},
		{"shown = \"79.3 deg\"\nlower = \"rear\"", "The reading contradicts the model: check"},
	} {
		f, err := project.Parse("x.toml", []byte(strings.Replace(text, "shown = \"86 deg\"\nlower = \"rear\"", c.to, 1)))
		require.NoError(t, err)
		got, ok := Run(f.Build).Finding(finding.AxisAgree("line.rear.powertrain"))
		require.True(t, ok)
		assert.Equal(t, finding.Over, got.Status)
		assert.Contains(t, got.Advice(), c.says)
	}
}

// The ± that the one fit leaves of a slope holds what is true: of the powertrain and of
// the shaft, with errors of the gauge, of the tape and of the points that were measured
// from. It is narrower than the gauge's alone by far.
func TestTheOneFitHoldsTheTruth(t *testing.T) {
	n := 15
	if *manySlips > 0 {
		n = *manySlips
	}
	held, all, width := [2]int{}, 0, [2]float64{}
	for k := range n {
		m := withMarks(uint64(1000 + k))
		a := Run(m.build(t, m.shown))
		if len(a.Hung.Suspects) > 0 || a.Hung.Why != "" {
			continue
		}
		all++
		for i := range held {
			read := a.Lines[0].Axes[i].Read
			if math.Abs(read.V-m.slopes[i]) <= read.Expanded() {
				held[i]++
			}
			width[i] += read.Expanded() / float64(n)
		}
	}
	t.Logf("of %d: the powertrain's slope is held in %d, the shaft's in %d; ± %.3f and %.3f deg", all, held[0], held[1], width[0]/geom.Deg.Rad(), width[1]/geom.Deg.Rad())
	require.Greater(t, all, n*9/10)
	for i := range held {
		assert.GreaterOrEqual(t, float64(held[i]), 0.93*float64(all)-2)
		assert.Less(t, width[i], 0.08*geom.Deg.Rad(), "a gauge that is good to 0.1 leaves 0.115")
	}
}

// A tape that does not fit is left out, and what rests on the rest says so; the slope is
// that of the others.
func TestATapeThatDoesNotFitIsLeftOut(t *testing.T) {
	sound := Run(parsedBuild(t, example.Marked))
	a := Run(parsedBuild(t, strings.Replace(example.Marked, "lengths = [-78.5]", "lengths = [78.5]", 1)))
	fit, _ := a.Finding(finding.PowertrainFit)
	assert.Equal(t, finding.Over, fit.Status)
	assert.Contains(t, fit.Advice(), "over and under were taken for each other: -78.5 mm")
	read, _ := a.Finding(finding.AxisRead("line.rear.powertrain"))
	require.Equal(t, finding.OK, read.Status)
	assert.Contains(t, strings.Join(read.Assumes, "; "), "flange over rail l is left out, because it does not fit the others")
	assert.InDelta(t, sound.Lines[0].Axes[0].Read.V, a.Lines[0].Axes[0].Read.V, 2*sound.Lines[0].Axes[0].Read.Expanded())
	assert.Greater(t, a.Lines[0].Axes[0].Read.U(), sound.Lines[0].Axes[0].Read.U(), "without it less is known")
}

func parsedBuild(t *testing.T, text string) *project.Build {
	t.Helper()
	f, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	return f.Build
}
