package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// surveyedPoint is a point of a survey and where it is in truth.
type surveyedPoint struct {
	name string
	at   r3.Vec
	held bool // its own coordinates hold the survey
}

// demoPoints are the points of the demo that its file gives by numbers, as it does.
func demoPoints() []surveyedPoint {
	return []surveyedPoint{
		{"l1", r3.Vec{X: -450, Y: -380}, true}, {"r1", r3.Vec{X: -450, Y: 380}, true},
		{"l3", r3.Vec{X: 4300, Y: -389, Z: 12}, true},
		{"l2", r3.Vec{X: 1500, Y: -380}, false}, {"r2", r3.Vec{X: 1500, Y: 382, Z: -1}, false}, {"r3", r3.Vec{X: 4300, Y: 381, Z: 10}, false},
		{"pinion", r3.Vec{X: 3110, Y: 18, Z: -250}, false}, {"eye", r3.Vec{X: 2830, Y: 480, Z: -185}, false},
		{"cross", r3.Vec{X: 1440, Y: -380, Z: -450}, false},
	}
}

// surveyOf writes a survey of points: every distance and all heights over the first.
// off is what each measurement is off by.
func surveyOf(points []surveyedPoint, off func() float64) string {
	var b strings.Builder
	b.WriteString("\n[tool.rule]\naccuracy = \"1 mm\"\nsource = \"invented\"\n\n[survey]\ndatum = \"points\"\npoints = [\"point.l1\", \"point.r1\", \"point.l3\"]\n")
	for _, p := range points {
		fmt.Fprintf(&b, "\n[point.%s]\n", p.name)
		if p.held {
			fmt.Fprintf(&b, "station = %g\noffset = %g\nheight = %g\n", p.at.X, p.at.Y, p.at.Z)
		}
	}
	line := func(from, to, as string, v float64) {
		fmt.Fprintf(&b, "\n[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\nas = \"%s\"\nwith = \"tool.rule\"\nlengths = [%.9f]\nafter = \"hung\"\n", from, to, as, v)
	}
	for j, p := range points {
		for _, q := range points[:j] {
			if !p.held || !q.held {
				line(q.name, p.name, "distance", r3.Norm(r3.Sub(p.at, q.at))+off())
			}
		}
		if !p.held {
			line(points[0].name, p.name, "height", p.at.Z-points[0].at.Z+off())
		}
	}
	return b.String()
}

func none() float64 { return 0 }

// unsurveyed is the demo without its own survey, and without what the survey places or
// the tests of other things put in its place.
func unsurveyed(t testing.TB) string {
	t.Helper()
	before, rest, ok := strings.Cut(string(starter.Demo()), "# The frame by tape.")
	require.True(t, ok)
	_, after, ok := strings.Cut(rest, "# The weld map.")
	require.True(t, ok)
	return without(before+"# The weld map."+after, "steering", "pickup", "subframe")
}

// without is a text without the tables of those names and all that is in them.
func without(text string, tables ...string) string {
	var out []string
	gone := false
	for _, line := range strings.Split(text, "\n") {
		if strings.HasPrefix(line, "[") {
			name := strings.TrimLeft(line, "[")
			name = name[:strings.IndexAny(name, ".]")]
			gone = slices.Contains(tables, name)
		}
		if !gone {
			out = append(out, line)
		}
	}
	return strings.Join(out, "\n")
}

// bySurvey is the demo with points that it gives by numbers named instead.
func bySurvey(t testing.TB) string {
	t.Helper()
	text := unsurveyed(t)
	for _, r := range [][2]string{
		{"points = [[-450, -380, 0], [1500, -380, 0], [4300, -389, 12]]", `points = ["point.l1", "point.l2", "point.l3"]`},
		{"points = [[-450, 380, 0], [1500, 382, -1], [4300, 381, 10]]", `points = ["point.r1", "point.r2", "point.r3"]`},
		{"at = [3110, 18, -250]", `at = "point.pinion"`},
		{"fixed_eye = [2830, 480, -185]", `fixed_eye = "point.eye"`},
		{"from = [1440, -380, -450]", `from = "point.cross"`},
	} {
		require.Contains(t, text, r[0])
		text = strings.Replace(text, r[0], r[1], 1)
	}
	return text
}

// A build whose points the survey places is judged as one with the same numbers typed;
// only the ± are larger, and never is a verdict better for it.
func TestPointsByTheSurveyAreJudgedAsTyped(t *testing.T) {
	typed := Run(build(t, unsurveyed(t)))
	a := Run(build(t, bySurvey(t)+surveyOf(demoPoints(), none)))
	assert.Empty(t, a.Build.Unplaced())
	wider := map[finding.Trade]int{}
	for _, f := range typed.Findings {
		g, ok := a.Finding(f.ID)
		require.True(t, ok, f.ID)
		if !assert.Equal(t, f.HasValue, g.HasValue, "%s: %s", f.ID, g.Missing) || !f.HasValue {
			continue
		}
		assert.InDelta(t, f.Value, g.Value, 1e-5*(1+math.Abs(f.Value)), f.ID)
		assert.GreaterOrEqual(t, g.Uncertainty, f.Uncertainty-1e-6*(1+f.Uncertainty), f.ID)
		assert.GreaterOrEqual(t, g.Status, f.Status, f.ID)
		if g.Uncertainty > f.Uncertainty+1e-6 {
			wider[g.By]++
		}
	}
	for _, by := range []finding.Trade{finding.LineTrade, finding.TravelTrade, finding.ClearTrade, finding.BracketTrade} {
		assert.Positive(t, wider[by], "no finding of %v is less sure", by)
	}
}

// What two points share drops out: a survey that as a whole is shifted by a datum
// that is not sure leaves the gap between two of its points as sure as it was.
func TestWhatPlacesShareDropsOut(t *testing.T) {
	text := bySurvey(t) + surveyOf(demoPoints(), none)
	loose := text
	for _, s := range []string{"height = 0\n", "height = 12\n"} {
		loose = strings.ReplaceAll(loose, "\n"+s, "\n"+strings.TrimSpace(strings.Replace(s, "= ", "= \"", 1))+" mm ± 4\"\n")
	}
	require.NotEqual(t, text, loose)
	sure, open := Run(build(t, text)), Run(build(t, loose))
	at := func(a *Assessment, name string) (z, gap float64) {
		p, q := a.Build.PointsBySurvey()["line.rear.pinion.at"], a.Build.PointsBySurvey()["line.rear.suspension.fixed_eye"]
		_, _, zp := a.ready.places.shifts.Open(p)
		_, _, zq := a.ready.places.shifts.Open(q)
		return zp.U(), zp.Minus(zq).U()
	}
	z1, gap1 := at(sure, "")
	z2, gap2 := at(open, "")
	assert.Greater(t, z2, z1+1, "the datum's ± moves the point")
	assert.Less(t, gap2, gap1+1, "and both of them together: %g %g", gap1, gap2)
}

// A survey that places nothing, or does not fit, places nothing for anybody else: what
// rests on its points is not known, with the reason.
func TestASurveyThatDoesNotHoldPlacesNothing(t *testing.T) {
	text := bySurvey(t)
	whole := surveyOf(demoPoints(), none)
	before, _, _ := strings.Cut(whole, "\n[[measure]]")
	loose := before + "\n[[measure]]\nfrom = \"point.l1\"\nto = \"point.pinion\"\nlengths = [3590]\n" +
		"\n[[measure]]\nfrom = \"point.l1\"\nto = \"point.l2\"\nlengths = [1950]\n\n[[measure]]\nfrom = \"point.l1\"\nto = \"point.r2\"\nlengths = [2094]\n" +
		"\n[[measure]]\nfrom = \"point.l1\"\nto = \"point.r3\"\nlengths = [4811]\n\n[[measure]]\nfrom = \"point.l1\"\nto = \"point.eye\"\nlengths = [3395]\n" +
		"\n[[measure]]\nfrom = \"point.l1\"\nto = \"point.cross\"\nlengths = [1943]\n"
	r := rand.New(rand.NewPCG(1, 2))
	scattered := surveyOf(demoPoints(), func() float64 { return 3 * r.NormFloat64() })
	for name, c := range map[string]struct{ survey, why string }{
		"loose":     {loose, "do not fix"},
		"scattered": {scattered, "survey"},
	} {
		a := Run(build(t, text+c.survey))
		judged := 0
		for _, f := range a.Findings {
			planned := f.By == finding.LineTrade && f.Basis == finding.Planned
			if f.By == finding.TravelTrade || f.By == finding.BracketTrade || planned && strings.HasPrefix(f.ID, "line.rear.") {
				assert.Equal(t, NotKnown, f.Status, "%s: %s", name, f.ID)
				assert.False(t, f.HasValue, "%s: %s", name, f.ID)
				if strings.Contains(f.Missing, "has no place") {
					judged++
					assert.Contains(t, f.Missing, c.why, name)
				}
			}
		}
		assert.Greater(t, judged, 5, name)
	}
}

// The ± of a room to a piece that hangs on the survey holds the truth about 95 times in
// 100 over surveys that were taped anew: JCGM 101, with the errors a tape is said to
// have. The crossmember lies under the gearbox, so the room is that of a height.
func TestTheRoomToAPieceOfTheSurveyHolds(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	text := unsurveyed(t)
	text = strings.Replace(text, "from = [1440, -380, -450]\nto = [1560, 380, -385]", "from = [1440, -380, -450]\nto = \"point.cross\"", 1)
	require.Contains(t, text, "point.cross")
	points := demoPoints()[:3]
	points = append(points, surveyedPoint{"cross", r3.Vec{X: 1560, Y: 380, Z: -385}, false})
	const id = "clearance.gearbox_crossmember"
	want := findingOf(t, Run(build(t, unsurveyed(t))), id).Value
	const runs = 120
	inside, all := 0, 0
	for range runs {
		b := build(t, text+surveyOf(points, func() float64 { return r.NormFloat64() / math.Sqrt(3) })) // as a tape good for ± 1 mm
		a, err := Prepare(b).At(nil, OfRoom)
		require.NoError(t, err)
		f := findingOf(t, a, id)
		if !f.HasValue {
			continue // a sound measurement was accused: 1 in 1,000
		}
		all++
		require.Positive(t, f.Uncertainty)
		if math.Abs(f.Value-want) <= f.Uncertainty {
			inside++
		}
	}
	assert.Greater(t, all, runs*95/100)
	assert.InDelta(t, 0.954, float64(inside)/float64(all), 0.045)
}

// The file takes a point that only the survey places where a point is wanted, and
// refuses one that nothing leads to.
func TestANamedPointWaitsForTheSurvey(t *testing.T) {
	_, err := project.Parse("x", []byte("format = 3\n[rails.left]\npoints = [\"point.a\", [100, 0, 0]]\n[point.a]\n"))
	require.ErrorContains(t, err, "nothing of point.a is measured yet")
	f, err := project.Parse("x", []byte("format = 3\n[rails.left]\npoints = [\"point.a\", [100, 0, 0]]\n[point.a]\n[point.b]\n[[measure]]\nfrom = \"point.a\"\nto = \"point.b\"\nlengths = [5]\n"))
	require.NoError(t, err)
	require.Len(t, f.Build.Unplaced(), 1)
	assert.Equal(t, "rails.left.points[0]", f.Build.Unplaced()[0].Path)
}

// A bearing that stands where the survey places it, or where it was measured to stand, is
// moved with its ±: what is tried is what the file says once it is written, where the
// bearing stands at a point so far from that one; and all of it is as open as before, but
// for what the move does to it, and more than with the same place typed.
func TestABearingIsMovedWithThePlusMinusOfItsPoint(t *testing.T) {
	text := strings.Replace(example.Rare()["rated line"], "[[line.rear.joint]]\n", "[[line.rear.joint]]\nat = [700, 0, 20]\n[[line.rear.joint]]\n", 1)
	points := append(demoPoints()[:3], surveyedPoint{"bearing", r3.Vec{X: 1500}, false})
	const at = "at = [1500, 0, 0]"
	require.Contains(t, text, at)
	named := strings.Replace(text, at, `at = "point.bearing"`, 1)
	for name, c := range map[string]string{
		"surveyed": named + surveyOf(points, none),
		"measured": named + "[rails.left]\npoints = [[-500, -400, \"0 mm ± 1\"], [3000, -400, \"0 mm ± 1\"]]\n[point.bearing]\nfrom = \"rails.left.top\"\nstation = \"1500 mm ± 1\"\noffset = \"400 mm ± 2 right\"\nheight = \"0 mm ± 1.5\"\n",
	} {
		t.Run(name, func(t *testing.T) {
			f, err := project.Parse("x.toml", []byte(c))
			require.NoError(t, err)
			var moves []project.Move
			for of, to := range map[string]float64{"line.rear.joint.2.at.height": 6, "line.rear.joint.2.at.offset": -4} {
				m, err := f.Build.MovableNamed(of)
				require.NoError(t, err)
				moves = append(moves, project.Move{Of: m, To: to})
			}
			tried, err := Prepare(f.Build).At(moves, Everything)
			require.NoError(t, err)
			edits, _, err := edit.Moves(f, Placed, moves...)
			require.NoError(t, err)
			g, err := edit.Apply(f, edits...)
			require.NoError(t, err)
			_, moved := g.Build.PointNamed("point.bearing_moved")
			require.True(t, moved)
			require.Len(t, g.Build.Points, len(f.Build.Points)+1, "the second move is of the same point")
			written := Run(g.Build)
			sameFindings(t, tried, written)
			typed := Run(build(t, strings.Replace(text, at, "at = [1500, -4, 6]", 1)))
			opened := 0
			for _, x := range typed.Findings {
				if y, ok := tried.Finding(x.ID); ok && x.HasValue && y.Uncertainty > x.Uncertainty+1e-9 {
					opened++
				}
			}
			require.Greater(t, opened, 3)
		})
	}
}

// sameFindings holds two assessments against each other: values, ± and verdicts.
func sameFindings(t *testing.T, a, b *Assessment) {
	t.Helper()
	require.Len(t, b.Findings, len(a.Findings))
	for _, f := range a.Findings {
		g := findingOf(t, b, f.ID)
		require.Equal(t, f.Status, g.Status, f.ID)
		require.InDelta(t, f.Value, g.Value, 1e-7*max(1, math.Abs(f.Value)), f.ID)
		require.InDelta(t, f.Uncertainty, g.Uncertainty, 1e-6*max(1e-3, f.Uncertainty), f.ID)
	}
}
