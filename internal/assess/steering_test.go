package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// steeringText is a steering shaft of two joints at equal angles in one plane, so that
// it turns nearly evenly, its places a little off by the vectors of off.
func steeringText(half float64, off [4]r3.Vec) string {
	pm := ""
	if half > 0 {
		pm = fmt.Sprintf(" mm ± %g", half)
	}
	at := func(v, off r3.Vec) string {
		v = r3.Add(v, off)
		if pm == "" {
			return fmt.Sprintf("[%.9f, %.9f, %.9f]", v.X, v.Y, v.Z)
		}
		return fmt.Sprintf("[\"%.9f%s\", \"%.9f%s\", \"%.9f%s\"]", v.X, pm, v.Y, pm, v.Z, pm)
	}
	return "[steering]\ncolumn = " + at(r3.Vec{X: 900, Y: -300, Z: 400}, off[0]) + "\ncolumn_axis = [-1, 0, 0]\ninput = " + at(r3.Vec{X: 400, Y: -300, Z: 218}, off[1]) +
		"\ninput_axis = [-0.76604444, 0, -0.64278761]\n[[steering.joint]]\n[[steering.joint]]\n[[steering.shaft]]\nphase = \"in phase\"\nslip_closed = 480\n"
}

func steered(t testing.TB, text string) *Assessment {
	t.Helper()
	f, err := project.Parse("x.toml", []byte("format = 3\n"+text))
	require.NoError(t, err)
	return Run(f.Build)
}

// A joint's angle by hand: tan β = 182/500 in the plane, so it moves by cos β/L for each
// mm square to the shaft, at both of its ends; a ± is a rectangle, and k = 2.
func TestSteeringCarriesTheTypedPlusMinus(t *testing.T) {
	a := steered(t, steeringText(2, [4]r3.Vec{}))
	j := a.Steering.Joints[0].Angle
	long := math.Hypot(500, 182)
	assert.InDelta(t, math.Atan2(182, 500), j.V, 1e-9)
	u := 2 / math.Sqrt(3) / long * math.Sqrt2
	assert.InDelta(t, 2*u, j.Expanded(), 0.02*u)
	f, ok := a.Finding(finding.SteeringJoint(1))
	require.True(t, ok)
	assert.InDelta(t, j.Expanded(), f.Uncertainty, 1e-12, "once, not twice")
	x := a.Steering.Shafts[0].Length
	assert.InDelta(t, long, x.V, 1e-6)
	assert.InDelta(t, 2*2/math.Sqrt(3)*math.Sqrt2, x.Expanded(), 1e-3)
}

// Near zero the ripple is judged by its upper limit. It holds what is true: files that
// have the places as somebody measured them, each off by chance within its ±.
func TestUpperLimitOfTheRipple(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 5))
	const half, draws = 6, 300
	a := steered(t, steeringText(half, [4]r3.Vec{}))
	m := a.Steering.Ripple
	assert.InDelta(t, 0, m.V, 0.01)
	require.Greater(t, m.Expanded(), 0.5)
	limit := m.V + m.Expanded()
	for _, truth := range []r3.Vec{{}, {Z: 8}, {Z: 20}, {Y: 25, Z: -8}} {
		is := steered(t, steeringText(0, [4]r3.Vec{{}, truth})).Steering.Ripple.V
		in := 0
		for range draws {
			off := [4]r3.Vec{{}, truth}
			for k := range 2 {
				off[k] = r3.Add(off[k], r3.Vec{X: half * (2*dice.Float64() - 1), Y: half * (2*dice.Float64() - 1), Z: half * (2*dice.Float64() - 1)})
			}
			f, err := project.Parse("x.toml", []byte("format = 3\n"+steeringText(half, off)))
			require.NoError(t, err)
			if m := Prepare(f.Build).steering.Ripple; is <= m.V+m.Expanded() {
				in++
			}
		}
		assert.GreaterOrEqual(t, float64(in)/draws, 0.96, "%v", truth)
	}
	// One that keeps its limit by less than that is tight.
	tight := steered(t, steeringText(half, [4]r3.Vec{})+fmt.Sprintf("[limits]\nsteering_ripple = %.6f\n", limit*0.8))
	f, _ := tight.Finding(finding.SteeringRipple)
	assert.Equal(t, finding.Tight, f.Status)
}

// A place that the survey finds carries the survey's ±, and one that it does not find
// leaves all of it not known.
func TestSteeringBySurvey(t *testing.T) {
	points := append(demoPoints(), surveyedPoint{"column", r3.Vec{X: 900, Y: -300, Z: 400}, false})
	text := strings.Replace(steeringText(0, [4]r3.Vec{}), "[900.000000000, -300.000000000, 400.000000000]", `"point.column"`, 1)
	require.Contains(t, text, "point.column")
	f, err := project.Parse("demo.toml", []byte(bySurvey(t)+surveyOf(points, none)+text))
	require.NoError(t, err)
	a := Run(f.Build)
	j := a.Steering.Joints[0].Angle
	require.True(t, j.Known, "%s", a.Steering.Why)
	assert.InDelta(t, math.Atan2(182, 500), j.V, 1e-6)
	assert.Greater(t, j.Expanded(), 1e-5)
	got, _ := a.Finding(finding.SteeringJoint(1))
	assert.Equal(t, finding.OK, got.Status)
	assert.InDelta(t, j.Expanded(), got.Uncertainty, 1e-12)
	loose, err := project.Parse("demo.toml", []byte(unsurveyed(t)+strings.Replace(surveyOf(points, none), "datum = \"points\"\npoints = [\"point.l1\", \"point.r1\", \"point.l3\"]", "datum = \"free\"", 1)+text))
	require.NoError(t, err)
	seen := 0
	for _, f := range Run(loose.Build).Findings {
		if f.By == finding.SteerTrade {
			assert.Equal(t, finding.NotKnown, f.Status, f.ID)
			assert.Contains(t, f.Missing, "point.column")
			seen++
		}
	}
	for _, f := range a.Findings {
		if f.By == finding.SteerTrade {
			seen--
		}
	}
	assert.Zero(t, seen, "what is not known is none the fewer")
}
