package clear

import (
	"errors"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// levelHead is a powertrain that stands level with its own frame the vehicle's:
// front pads 600 mm apart, the rear one 1200 mm behind them.
const levelHead = example.Level

// frontAxleText is a front axle on trailing arms under levelHead's powertrain,
// driven by a shaft from a transfer case that hangs on it; made up for these
// tests. The arms turn about a line across the vehicle at (900, -250).
const frontAxleText = example.FrontAxle

const axleTube = example.AxleTube

const frontSump = example.FrontSump

func parts(text string) string { return "[[powertrain.part]]\nname = \"sump\"\n" + text + "\n" }

func chassisPart(text string) string { return "[[chassis]]\nname = \"steering shaft\"\n" + text + "\n" }

// judged is a build with the room round its powertrain.
type judged struct {
	*Result
	Values finding.List
}

// inputOf is a build that stands as built. Its lines run from an output to a
// pinion, their axles on trailing arms.
func inputOf(t require.TestingT, text string) (*project.Build, Input) {
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	b := f.Build
	in := Input{}
	s, p, err := b.Seat()
	if err == nil {
		in.Pose.V, err = s.Pose(p)
	}
	if in.Pose.Known = err == nil; err != nil {
		in.Pose.Why = err.Error()
	} else {
		in.Stands, in.StandsAssume = []seat.Stand{{Name: "as built", Pose: in.Pose.V}}, []string{"the powertrain as built"}
	}
	for _, l := range b.Lines {
		line := Line{Shafts: 1, Planned: true, Joints: func(pose geom.Pose) ([]r3.Vec, error) {
			if !l.Output.Known || !l.Pinion.At.Known {
				return nil, errors.New("an end is not in the file yet")
			}
			return []r3.Vec{pose.Point(l.Output.At), l.Pinion.At.At}, nil
		}}
		if l.Suspension.Kind == project.TrailingArms {
			line.Travel = armsOf(t, l)
		}
		in.Lines = append(in.Lines, line)
	}
	return b, in
}

func armsOf(t require.TestingT, l project.Line) *Travel {
	s := l.Suspension
	var pivots []travel.ArmPivot
	for _, p := range s.Pivot {
		pivots = append(pivots, travel.ArmPivot{Name: p.Name, At: p.At.At})
	}
	arms, err := travel.NewTrailingArms(travel.Axle{Centre: s.Axle.At, Pinion: l.Pinion.At.At,
		PinionAxis: geom.Direction(geom.Angle(l.Pinion.Slope.V()), 0)}, pivots...)
	require.NoError(t, err)
	points, err := travel.Sweep(arms, s.Droop.V(), s.Bump.V(), 41)
	require.NoError(t, err)
	return &Travel{Cases: []TravelCase{{Suspension: arms, Points: points}}}
}

func run(b *project.Build, in Input) *judged {
	j := &judged{Result: Prepare(b, finding.Estimate{}, nil).At(in)}
	for _, c := range j.Clearances {
		c.Values(&j.Values)
	}
	j.Moving.Values("clearance.powertrain.moving", &j.Values)
	return j
}

// levelBuild is levelHead with what else a build has.
func levelBuild(t testing.TB, more ...string) *judged {
	t.Helper()
	return run(inputOf(t, levelHead+strings.Join(more, "\n")))
}

func frontAxle(t testing.TB, more ...string) *judged {
	t.Helper()
	return levelBuild(t, append([]string{frontAxleText}, more...)...)
}

func (j *judged) Finding(id string) (finding.Finding, bool) {
	for _, f := range j.Findings {
		if f.ID == id {
			return f, true
		}
	}
	return finding.Finding{}, false
}

func findingOf(t testing.TB, j *judged, id string) finding.Finding {
	t.Helper()
	f, ok := j.Finding(id)
	require.True(t, ok, id)
	return f
}
