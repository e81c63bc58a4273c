package line

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// hangsTyped is a line of two shafts on an output of its own, twisted; what may have a ±
// stands in angle brackets.
const hangsTyped = `format = 3
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[placement]
left_front = 4
right_front = 0
rear = -30
setback = 0
[line.rear]
output = ["<1250 mm>", "<10 mm>", "<-20 mm>"]
output_slope = "<1.5 deg> down to the rear"
speed = "3000 rpm"
[line.rear.pinion]
at = ["<2900 mm>", "<60 mm>", "<-130 mm>"]
slope = "<5 deg> down to the rear"
heading = "<1 deg> rear to the right"
[[line.rear.joint]]
[[line.rear.joint]]
at = ["<2000 mm>", "<20 mm>", "<-40 mm>"]
[[line.rear.joint]]
[[line.rear.shaft]]
phase = "in phase"
[[line.rear.shaft]]
phase = "in phase"
`

// standsTyped begins at a case that stands by itself.
const standsTyped = `format = 3
[line.rear]
speed = "3000 rpm"
[line.rear.first]
slope = "<2 deg> down to the rear"
heading = "<1 deg> rear to the left"
[line.rear.pinion]
at = ["<2900 mm>", "<60 mm>", "<-130 mm>"]
slope = "<6 deg> down to the rear"
heading = "<1.5 deg> rear to the right"
[[line.rear.joint]]
at = ["<1400 mm>", "<20 mm>", "<-40 mm>"]
[[line.rear.joint]]
[[line.rear.shaft]]
phase = "in phase"
`

var mayHave = regexp.MustCompile(`<([^ >]+) (mm|deg)>`)

// withHalf is a text without its brackets, and with a ± on the value of that number.
func withHalf(text string, number int, half float64) string {
	n := -1
	return mayHave.ReplaceAllStringFunc(text, func(s string) string {
		m := mayHave.FindStringSubmatch(s)
		if n++; n == number {
			return fmt.Sprintf("%s %s ± %g", m[1], m[2], half)
		}
		return m[1] + " " + m[2]
	})
}

// plannedIn are the numbers of a planned line.
func plannedIn(l *Line) map[string]finding.Number {
	out := map[string]finding.Number{"residual": l.Planned.Residual, "equivalent": l.Planned.Equivalent}
	for i, x := range l.Axes {
		out[fmt.Sprint("slope ", i)], out[fmt.Sprint("heading ", i)] = x.Planned, x.Heading
	}
	for i := range l.Joints {
		out[fmt.Sprint("joint ", i)] = l.Joints[i].Planned
	}
	for i := range l.Shafts {
		out[fmt.Sprint("length ", i)] = l.Shafts[i].Length
		out[fmt.Sprint("mismatch ", i)] = l.Shafts[i].MismatchPlanned
	}
	return out
}

// Every ± of what a line is planned from reaches each of its numbers by what the number
// moves between lines that differ by a little, and by no more (JCGM 100:2008, 5.1.3,
// note 2). Each one by itself.
func TestEachStatedValueReachesThePlannedLine(t *testing.T) {
	for name, text := range map[string]string{"hangs": hangsTyped, "stands": standsTyped} {
		for i := range mayHave.FindAllString(text, -1) {
			b := build(t, withHalf(text, i, 0.01))
			stated := finding.StatedIn(b, new(uncertain.Sources))
			require.Len(t, stated.Each, 1)
			v := stated.Each[0]
			in := inputOf(b)
			in.Stated = stated
			open := Judge(in, placeOf(b), b.Lines[0])
			beside := func(by float64) map[string]finding.Number {
				c, err := b.Varied(v.Path, by)
				require.NoError(t, err)
				r := Judge(inputOf(c), placeOf(c), c.Lines[0])
				return plannedIn(&r.Line)
			}
			comparePlanned(t, name+" "+v.Path, plannedIn(&open.Line), beside(v.Half), beside(-v.Half), v.Half)
		}
	}
}

// comparePlanned holds what numbers make of a ± against what they are at its ends.
func comparePlanned(t *testing.T, of string, open, up, down map[string]finding.Number, half float64) {
	t.Helper()
	for what, n := range open {
		require.True(t, n.Known && up[what].Known && down[what].Known, "%s %s: %s", of, what, n.Why)
		want := math.Abs(up[what].V-down[what].V) / 2 / math.Sqrt(3)
		assert.InDelta(t, want, n.Number.U(), 0.02*want+1e-4*half, "%s of %s", what, of)
	}
}

// A line that hangs on the powertrain takes what is open of where that stands.
func TestWhereThePowertrainStandsReachesThePlannedLine(t *testing.T) {
	b := build(t, withHalf(hangsTyped, -1, 0))
	at := placeOf(b)
	by, err := new(uncertain.Sources).With(0, uncertain.Half("a row", 0.5))
	require.NoError(t, err)
	moved := func(mm float64) finding.Maybe[geom.Pose] {
		supports, placed, err := b.Seat()
		require.NoError(t, err)
		placed.Rear += mm
		pose, err := supports.Pose(placed)
		require.NoError(t, err)
		return finding.Maybe[geom.Pose]{V: pose, Known: true}
	}
	at.Beside = []finding.Beside[geom.Pose]{{V: moved(by.U()).V, By: by}}
	open := Judge(inputOf(b), at, b.Lines[0])
	end := func(mm float64) map[string]finding.Number {
		r := Judge(inputOf(b), Place{Build: b, Pose: moved(mm)}, b.Lines[0])
		return plannedIn(&r.Line)
	}
	comparePlanned(t, "the powertrain", plannedIn(&open.Line), end(0.5), end(-0.5), 0.5)
}

// An error of the survey moves every joint that it is behind, together.
func TestAnErrorOfTheSurveyReachesThePlannedLine(t *testing.T) {
	b := build(t, withHalf(standsTyped, -1, 0))
	l := &b.Lines[0]
	term := func(name string) []project.Term {
		return []project.Term{{Path: "point." + name + ".height", Dir: r3.Vec{Z: 1}, Survey: true}}
	}
	l.Pinion.At.By, l.Joints[0].At.By = term("pinion"), term("first")
	sources := new(uncertain.Sources)
	id, err := sources.Add(uncertain.Source{Label: "the survey", U: 1})
	require.NoError(t, err)
	s := finding.ShiftBy(sources, id)
	s.At["point.pinion"], s.At["point.first"] = r3.Vec{Z: 0.3}, r3.Vec{Z: -0.1}
	in := inputOf(b)
	in.Survey = finding.Shifts{s}
	open := Judge(in, placeOf(b), *l)
	end := func(by float64) map[string]finding.Number {
		m := *l
		m.Joints = slices.Clone(l.Joints)
		m.Pinion.At.At.Z += 0.3 * by
		m.Joints[0].At.At.Z -= 0.1 * by
		r := Judge(inputOf(b), placeOf(b), m)
		return plannedIn(&r.Line)
	}
	comparePlanned(t, "the survey", plannedIn(&open.Line), end(math.Sqrt(3)), end(-math.Sqrt(3)), 1)
}
