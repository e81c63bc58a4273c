package assess

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stated is a build whose numbers were typed with a ±, in the places of capital
// letters: the value and its half width.
const stated = `format = 3
[powertrain]
output = [1250, 0, "A"]
[powertrain.pads]
left_front = [0, -300, "B"]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[[powertrain.part]]
name = "sump"
from = [100, -100, "C"]
to = [400, 100, -50]
[placement]
left_front = 0
right_front = 0
rear = "D"
setback = 0
[[chassis]]
name = "crossmember"
from = [0, -400, -320]
to = [500, 400, "E"]
[line.rear]
speed = "3000 rpm"
[line.rear.pinion]
at = [2500, 40, "F"]
slope = "G down to the rear"
`

// typedIn are the values of stated and their half widths, by letter.
var typedIn = []struct {
	letter  string
	v, half float64
	unit    string
}{
	{"A", -20, 2, "mm"}, {"B", 1, 0.5, "mm"}, {"C", -200, 3, "mm"}, {"D", -30, 1.5, "mm"},
	{"E", -260, 2, "mm"}, {"F", -90, 2, "mm"}, {"G", 4.8, 0.2, "deg"},
}

// statedBuild is stated with the values off by so much, each with its ± where pm
// says so.
func statedBuild(t *testing.T, off map[string]float64, pm bool) *Assessment {
	t.Helper()
	text := stated
	for _, x := range typedIn {
		value := fmt.Sprintf("%.9f %s", x.v+off[x.letter], x.unit)
		if pm {
			value += fmt.Sprintf(" ± %g", x.half)
		}
		if x.letter == "G" {
			text = strings.Replace(text, "\"G ", "\""+value+" ", 1)
		} else {
			text = strings.Replace(text, "\""+x.letter+"\"", "\""+value+"\"", 1)
		}
	}
	return Run(build(t, text))
}

// plannedNumbers are numbers that rest on what was typed.
func plannedNumbers(t *testing.T, a *Assessment) map[string]Number {
	t.Helper()
	l := &a.Lines[0]
	require.True(t, l.Planned.Known, l.Planned.Why)
	out := map[string]Number{"joint 1": l.Joints[0].Planned, "joint 2": l.Joints[1].Planned, "difference": l.Shafts[0].MismatchPlanned,
		"length": l.Shafts[0].Length, "residual": l.Planned.Residual, "drive": l.Planned.Drive[0], "room": a.Clearances[0].Gap}
	for _, r := range a.Rows {
		out[r.Name] = r.Now
	}
	return out
}

// Every ± that is typed reaches what is planned from it: against the build with
// each value a little off, the squares of what that changes added up (JCGM
// 100:2008, 5.1.3, note 2).
func TestTypedBoundsReachThePlan(t *testing.T) {
	square := map[string]float64{}
	for _, x := range typedIn {
		const step = 1e-3
		up, down := plannedNumbers(t, statedBuild(t, map[string]float64{x.letter: step}, false)), plannedNumbers(t, statedBuild(t, map[string]float64{x.letter: -step}, false))
		for name := range up {
			square[name] += math.Pow((up[name].V-down[name].V)/(2*step)*x.half/math.Sqrt(3), 2)
		}
	}
	plain := plannedNumbers(t, statedBuild(t, nil, false))
	for name, n := range plannedNumbers(t, statedBuild(t, nil, true)) {
		want := math.Sqrt(square[name])
		assert.InDelta(t, plain[name].V, n.V, 1e-9*max(1, math.Abs(n.V)), name)
		assert.Zero(t, plain[name].Expanded(), "%s: where no ± is typed none is claimed", name)
		assert.GreaterOrEqual(t, n.U(), 0.98*want, name)
		if name != "drive" { // its joint is nearly straight, and what straight lines leave out is as much again
			assert.LessOrEqual(t, n.U(), 1.4*want+1e-12, name)
		}
	}
}

// A plan with a ± is judged by it, says where it is from, and that the rest of
// the plan claims none; a step from where it stands makes nobody surer of where that is.
func TestPlanWithItsBounds(t *testing.T) {
	a := statedBuild(t, nil, true)
	f := findingOf(t, a, finding.JointMax("rear", 2))
	assert.Equal(t, Planned, f.Basis)
	assert.Positive(t, f.Uncertainty)
	assert.Contains(t, f.MostlyFrom(), "the ± typed of ")
	assert.Contains(t, f.Assumes, "of the plan only the ± typed in the file")
	room := findingOf(t, a, "clearance.crossmember")
	assert.Positive(t, room.Uncertainty)
	m, err := a.Build.MovableNamed("placement.rear")
	require.NoError(t, err)
	before, err := a.ready.At(nil, Everything)
	require.NoError(t, err)
	after, err := a.ready.At([]project.Move{{Of: m, To: -25}}, Everything)
	require.NoError(t, err)
	was := findingOf(t, before, "clearance.crossmember").Uncertainty
	assert.InDelta(t, was, findingOf(t, after, "clearance.crossmember").Uncertainty, 0.02*was)
}
