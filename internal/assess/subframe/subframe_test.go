package subframe

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// bench is a subframe as it lay on the bench: four corners, two wheel centres.
var bench = []struct {
	name   string
	at     r3.Vec
	corner bool
}{
	{"lf", r3.Vec{Y: -390}, true},
	{"rf", r3.Vec{Y: 390}, true},
	{"lr", r3.Vec{X: 620, Y: -400, Z: 30}, true},
	{"rr", r3.Vec{X: 620, Y: 400, Z: 30}, true},
	{"wl", r3.Vec{X: 300, Y: -740, Z: -120}, false},
	{"wr", r3.Vec{X: 300, Y: 740, Z: -120}, false},
}

// rails are marks on the frame.
var rails = map[string]r3.Vec{
	"point.a": {X: -450, Y: -380}, "point.b": {X: -450, Y: 380}, "point.c": {X: 1500, Y: -380}, "point.d": {X: 1500, Y: 382, Z: -1},
}

// file is a file of that subframe, without what is named.
func file(without ...string) string {
	text := "format = 3\n[vehicle]\nwheelbase = 3400\nfront_axle = 0\naxle_height = -260\n"
	for name := range rails {
		text += "[" + name + "]\n"
	}
	for _, p := range bench {
		text += "[point." + p.name + "]\n"
	}
	text += "[subframe.front]\nwheels = [\"point.wl\", \"point.wr\"]\n"
	for _, p := range bench {
		text += fmt.Sprintf("[[subframe.front.point]]\nat = \"point.%s\"\nbench = [%g, %g, %g] # %s\n", p.name, p.at.X, p.at.Y, p.at.Z, p.name)
		if p.corner {
			text += "corner = true\n"
		}
	}
	lines := strings.Split(text, "\n")
	for _, w := range without {
		for i, l := range lines {
			if strings.Contains(l, w) {
				lines[i] = ""
			}
		}
	}
	return strings.Join(lines, "\n")
}

// stand is where a subframe hangs: how far its wheel centres' middle is to the rear, to
// the right and up of where it is to be, and turned by heading (rear to the right), slope
// (rear down) and roll (right side up), rad, in that order about its own axes.
type stand struct{ back, right, up, heading, slope, roll float64 }

// place is where a point of the bench hangs, by three turns about the vehicle's axes.
func (s stand) place(p r3.Vec) r3.Vec {
	p = r3.Sub(p, r3.Vec{X: 300, Z: -120})
	sin, cos := math.Sincos(s.roll)
	p.Y, p.Z = cos*p.Y-sin*p.Z, sin*p.Y+cos*p.Z
	sin, cos = math.Sincos(s.slope)
	p.X, p.Z = cos*p.X+sin*p.Z, cos*p.Z-sin*p.X
	sin, cos = math.Sincos(s.heading)
	p.X, p.Y = cos*p.X-sin*p.Y, sin*p.X+cos*p.Y
	return r3.Add(p, r3.Vec{X: s.back, Y: s.right, Z: s.up - 260})
}

// taped is what tape and level say of a subframe that hangs so: every mark to every corner
// and the height of each corner over one mark.
func (s stand) taped(t *testing.T, from *uncertain.Sources) (out []Line) {
	put := func(as project.SurveyLine, a, b string, v float64) {
		n, err := from.With(v, uncertain.Half(fmt.Sprint(as, a, b), 0.5))
		require.NoError(t, err)
		out = append(out, Line{Name: strings.TrimSpace(fmt.Sprint(as, " ", a, " to ", b)), As: as, From: a, To: b, Value: finding.Of(n), Index: len(out)})
	}
	for _, p := range bench[:4] {
		at := s.place(p.at)
		for _, name := range []string{"point.a", "point.b", "point.c", "point.d"} {
			put("", name, "point."+p.name, r3.Norm(r3.Sub(at, rails[name])))
		}
		put(project.HeightLine, "point.a", "point."+p.name, at.Z-rails["point.a"].Z)
	}
	return out
}

// hung is the subframe of a file by what was taped to it, which change may alter.
func hung(t *testing.T, text string, s stand, change func([]Line) []Line) *Subframe {
	t.Helper()
	f, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	from := &uncertain.Sources{}
	lines := s.taped(t, from)
	if change != nil {
		lines = change(lines)
	}
	r := Of(f.Build, Input{Lines: lines, From: from, Place: func(path string) [3]finding.Number {
		at := rails[path]
		return [3]finding.Number{finding.Exact(at.X), finding.Exact(at.Y), finding.Exact(at.Z)}
	}})
	require.Len(t, r.Each, 1)
	return r.Each[0]
}

func judged(t *testing.T, s *Subframe, id string) finding.Finding {
	t.Helper()
	for _, f := range (&Result{Each: []*Subframe{s}}).Findings() {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "no finding "+id)
	return finding.Finding{}
}

const deg = math.Pi / 180

// Each way that it can hang off has its own sign and words.
func TestSignsOfWhereItHangs(t *testing.T) {
	for _, c := range []struct {
		stand stand
		id    string
		says  string
	}{
		{stand{back: 9}, finding.SubframeWheelbase("front"), "too far back"},
		{stand{back: -9}, finding.SubframeWheelbase("front"), "too far forward"},
		{stand{right: 9}, finding.SubframeCentre("front"), "to the right"},
		{stand{right: -9}, finding.SubframeCentre("front"), "to the left"},
		{stand{up: 9}, finding.SubframeHeight("front"), "too high"},
		{stand{up: -9}, finding.SubframeHeight("front"), "too low"},
		{stand{heading: 1.5 * deg}, finding.SubframeSquare("front"), "rear to the right"},
		{stand{heading: -1.5 * deg}, finding.SubframeSquare("front"), "rear to the left"},
		{stand{slope: 1.5 * deg}, finding.SubframeRake("front"), "rear low"},
		{stand{slope: -1.5 * deg}, finding.SubframeRake("front"), "rear high"},
		{stand{roll: 1.5 * deg}, finding.SubframeLevel("front"), "left side low"},
		{stand{roll: -1.5 * deg}, finding.SubframeLevel("front"), "right side low"},
	} {
		s := hung(t, file(), c.stand, nil)
		require.Empty(t, s.Why)
		for _, id := range []string{finding.SubframeWheelbase("front"), finding.SubframeCentre("front"), finding.SubframeHeight("front"), finding.SubframeSquare("front"), finding.SubframeRake("front"), finding.SubframeLevel("front")} {
			f := judged(t, s, id)
			if id == c.id {
				assert.Equal(t, finding.Over, f.Status, "%+v", c.stand)
				assert.Contains(t, f.Advice(), c.says)
			} else {
				assert.Less(t, f.Value, 1e-4, "%+v %s", c.stand, id)
			}
		}
	}
}

// Where it hangs off in all six ways at once, each corner moves from where it is to where
// it is to be, and where it hangs comes out as it was put.
func TestCornersMoveToWhereTheyAreToBe(t *testing.T) {
	is := stand{4, -3, 2, 0.3 * deg, -0.4 * deg, 0.5 * deg}
	s := hung(t, file(), is, nil)
	require.Empty(t, s.Why)
	assert.Equal(t, 20-6, s.DoF)
	for i, c := range []struct {
		want float64
		is   finding.Number
	}{{is.back, s.Out.Station}, {is.right, s.Out.Right}, {is.up, s.Out.Height}, {is.heading, s.Out.Heading}, {is.slope, s.Out.Slope}, {is.roll, s.Out.Roll}} {
		assert.InDelta(t, c.want, c.is.V, 1e-5, "%d", i)
		assert.Positive(t, c.is.Expanded(), "%d", i)
	}
	require.Len(t, s.Points, len(bench))
	for i, p := range bench {
		now, to := is.place(p.at), stand{}.place(p.at)
		d := r3.Sub(to, now)
		for axis, want := range [3]float64{d.X, d.Y, d.Z} {
			assert.InDelta(t, want, s.Points[i].Move[axis].V, 1e-4, "%s %d", p.name, axis)
		}
		assert.InDelta(t, r3.Norm(d), s.Points[i].Far.V, 1e-4)
	}
	assert.Equal(t, "5.0 mm back, 2.0 mm to the left", s.Moves(Point{Move: [3]finding.Number{finding.Exact(5), finding.Exact(-2), finding.Exact(0.01)}}))
}

// A slip in one tape is named with its size and way; a slip in two ends in no place.
func TestMisfit(t *testing.T) {
	slip := func(by float64, of ...int) func([]Line) []Line {
		return func(ls []Line) []Line {
			for _, i := range of {
				ls[i].Value.V += by
			}
			return ls
		}
	}
	good := hung(t, file(), stand{}, nil)
	assert.Equal(t, finding.OK, judged(t, good, finding.SubframeFit("front")).Status)
	assert.Equal(t, finding.OK, judged(t, good, finding.SubframeCorner("front", "point.lf")).Status)

	one := hung(t, file(), stand{}, slip(-15, 7))
	require.Len(t, one.Suspects, 1)
	assert.InDelta(t, -15, one.Suspects[0].Off, 0.5)
	assert.InDelta(t, one.Suspects[0].Off/(0.5/math.Sqrt(3)), one.Suspects[0].W, 0.5, "a slip in standard uncertainties of an evenly likely half-width")
	fit := judged(t, one, finding.SubframeFit("front"))
	assert.Equal(t, finding.Over, fit.Status)
	assert.Contains(t, fit.Advice(), "less than the others say")

	many := hung(t, file(), stand{}, slip(40, 1, 4, 8, 12, 15))
	for _, f := range (&Result{Each: []*Subframe{many}}).Findings() {
		assert.NotEqual(t, finding.OK, f.Status, f.ID)
	}
}

// A wheel centre that was not measured on the bench leaves open what is put on the axle
// line: nothing else is put there in its place.
func TestWheelCentresThatAreNotOnTheBench(t *testing.T) {
	s := hung(t, file("# wl"), stand{}, nil)
	require.Empty(t, s.Why)
	for _, id := range []string{finding.SubframeWheelbase("front"), finding.SubframeHeight("front"), finding.SubframeCorner("front", "point.lf")} {
		f := judged(t, s, id)
		assert.Equal(t, finding.NotKnown, f.Status, id)
		assert.Contains(t, f.Missing, "where wl is on the bench is not in the file yet")
	}
}

// A corner that was not measured on the bench is judged as not known, and not passed over.
func TestACornerThatIsNotOnTheBench(t *testing.T) {
	s := hung(t, file("# rr"), stand{}, nil)
	require.Empty(t, s.Why)
	assert.Equal(t, finding.OK, judged(t, s, finding.SubframeCorner("front", "point.lf")).Status)
	f := judged(t, s, finding.SubframeCorner("front", "point.rr"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "where rr is on the bench")
	s = hung(t, file("# rr", "corner = true"), stand{}, nil)
	assert.Equal(t, finding.NotKnown, judged(t, s, finding.SubframeCorner("front", "point.rr")).Status, "where none is a corner all are")
}

// A gauge that nothing checks hides a slip of any size.
func TestAGaugeThatNothingChecks(t *testing.T) {
	text := strings.Replace(file(), "[subframe.front]\n", "[subframe.front]\nacross = \"0 deg ± 0.1\"\nlower = \"left\"\n", 1)
	s := hung(t, text, stand{}, nil)
	assert.NotContains(t, judged(t, s, finding.SubframeHidden("front")).Missing, "gauge", "checked by heights left and right")
	// Without the right side's corners heights nothing but the gauge says how it leans.
	s = hung(t, text, stand{}, func(ls []Line) (out []Line) {
		for _, l := range ls {
			left := l.To == "point.lf" || l.To == "point.lr"
			if left && (l.As == project.HeightLine || l.From == "point.a" || l.From == "point.c") || l.To == "point.lf" && l.From == "point.b" {
				out = append(out, l)
			}
		}
		return out
	})
	require.Empty(t, s.Why)
	f := judged(t, s, finding.SubframeHidden("front"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "gauge across the subframe")
}

// A slip of the gauge counts by what it makes of the two points that are farthest apart:
// with coarse tapes and heights it is the largest that could hide.
func TestASlipOfTheGaugeCounts(t *testing.T) {
	text := strings.Replace(file(), "[subframe.front]\n", "[subframe.front]\nacross = \"0 deg ± 2\"\nlower = \"left\"\n", 1)
	s := hung(t, text, stand{}, nil)
	var slip, tapes float64
	for _, l := range s.Lines {
		if l.Angle {
			slip = l.Detectable
		} else {
			tapes = max(tapes, l.Detectable)
		}
	}
	const far = 1480 // from wheel centre to wheel centre
	require.Positive(t, slip)
	require.Greater(t, slip*far, tapes)
	f := judged(t, s, finding.SubframeHidden("front"))
	assert.InEpsilon(t, slip*far, f.Value, 1e-6)
	assert.Contains(t, f.Advice(), "gauge across the subframe")
	fine := hung(t, strings.Replace(text, "± 2", "± 0.01", 1), stand{}, nil)
	assert.InEpsilon(t, tapes, judged(t, fine, finding.SubframeHidden("front")).Value, 0.01, "a gauge that is checked well hides less than a tape does")
}

// A height reads the same from either end, with its sign turned.
func TestAHeightTheOtherWayRound(t *testing.T) {
	is := stand{up: 3, slope: 0.2 * deg}
	s := hung(t, file(), is, func(ls []Line) []Line {
		for i, l := range ls {
			if l.As == project.HeightLine {
				ls[i].From, ls[i].To, ls[i].Value = l.To, l.From, finding.Of(l.Value.Times(-1))
			}
		}
		return ls
	})
	require.Empty(t, s.Why)
	assert.Empty(t, s.Suspects)
	assert.InDelta(t, 3, s.Out.Height.V, 1e-5)
}

// The gauge across says how it leans where it alone does: with its left side lower the
// right one is high.
func TestTheGaugeAcross(t *testing.T) {
	for lower, roll := range map[string]float64{"left": 1, "right": -1} {
		text := strings.Replace(file(), "[subframe.front]\n", "[subframe.front]\nacross = \"1 deg ± 0.1\"\nlower = \""+lower+"\"\n", 1)
		is := stand{roll: roll * deg}
		s := hung(t, text, is, nil)
		require.Empty(t, s.Why, lower)
		assert.Empty(t, s.Suspects, lower)
		assert.InDelta(t, is.roll, s.Out.Roll.V, 1e-5, lower)
	}
}

// How far a point stands over its rail is above zero where it does.
func TestOverTheRail(t *testing.T) {
	text := file() + "\n[rails.left]\npoints = [[-450, -380, -300], [1500, -380, -300]]\nheight = 150\nwidth = 60\n"
	s := hung(t, text, stand{up: 5}, nil)
	require.Empty(t, s.Why)
	assert.InDelta(t, -260+120+5+300, s.Points[0].Over.V, 1e-4)
	assert.InDelta(t, -260+120+300, s.Points[0].Set.V, 1e-4)
	assert.False(t, s.Points[1].Over.Known, "of the right rail the file has nothing")
}
