package edit

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/project"
	builds "fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Moves written into a file read back as what the build is with them, and what was read
// of a pinion that is turned is not in it any more.
func TestMovesWrittenAreTheMovesTried(t *testing.T) {
	f, err := project.Parse("build.toml", starter.Demo())
	require.NoError(t, err)
	var moves []project.Move
	for _, of := range []string{"placement.rear", "placement.offset", "line.rear.pinion.slope", "line.rear.shaft.1.yoke_offset"} {
		m, err := f.Build.MovableNamed(of)
		require.NoError(t, err)
		now, err := f.Build.Reads(m)
		require.NoError(t, err)
		moves = append(moves, project.Move{Of: m, To: now + 0.01})
	}
	edits, gone, err := Moves(f, nil, moves...)
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	want, err := f.Build.With(moves...)
	require.NoError(t, err)
	for _, m := range moves {
		at, err := g.Build.Reads(m.Of)
		require.NoError(t, err)
		assert.InDelta(t, m.To, at, 1e-8, m.Of.Path())
	}
	assert.Len(t, g.Build.Readings, len(want.Readings))
	assert.Equal(t, len(want.Readings) < len(f.Build.Readings), len(gone) > 0)
	for _, r := range g.Build.Readings {
		assert.NotContains(t, gone, r.Of)
	}
}

// A shaft that is made longer takes both ends of its slip joint along, a spacer is begun
// where there was none, and a strap has its length in its own entry.
func TestLengthsOfALineAreMoved(t *testing.T) {
	f, err := project.Parse("build.toml", []byte(strings.Replace(builds.Lifted, "slip_open = 850", "slip_open = \"850 mm ± 1 mm\"", 1)))
	require.NoError(t, err)
	var moves []project.Move
	for of, to := range map[string]float64{"line.front.shaft.1.slip_closed": 777, "line.rear.pinion.spacer": 12, "line.front.output_spacer": 5, "line.front.suspension.strap.2.length": 412} {
		m, err := f.Build.MovableNamed(of)
		require.NoError(t, err)
		moves = append(moves, project.Move{Of: m, To: to})
	}
	edits, _, err := Moves(f, nil, moves...)
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	want, err := f.Build.With(moves...)
	require.NoError(t, err)
	for _, b := range []*project.Build{g.Build, want} {
		front, rear := &b.Lines[0], &b.Lines[1]
		assert.InDelta(t, 777, front.Shafts[0].SlipClosed.V(), 1e-9)
		assert.InDelta(t, 857, front.Shafts[0].SlipOpen.V(), 1e-9)
		half, _ := front.Shafts[0].SlipOpen.HalfWidth()
		assert.InDelta(t, 1, half, 1e-9, "as sure as it was")
		assert.InDelta(t, 12, rear.Pinion.Spacer.V(), 1e-9)
		assert.InDelta(t, 5, front.OutSpacer.V(), 1e-9)
		assert.InDelta(t, 412, front.Suspension.Strap[1].Length.V(), 1e-9)
		assert.InDelta(t, 420, front.Suspension.Strap[0].Length.V(), 1e-9)
	}
	assert.InDelta(t, 770, f.Build.Lines[0].Shafts[0].SlipClosed.V(), 1e-9)
	for of, to := range map[string]float64{"line.rear.pinion.spacer": -1, "line.front.suspension.strap.1.length": 300} {
		m, err := f.Build.MovableNamed(of)
		require.NoError(t, err)
		_, err = f.Build.With(project.Move{Of: m, To: to})
		require.Error(t, err, of)
	}
}

// What is moved goes by steps from where it stands, so nobody knows better than before
// where that is: each ± stays, of what is moved and of what is not, in the build as it is
// tried and in the file.
func TestMovesKeepThePlusMinus(t *testing.T) {
	for _, c := range []struct{ rear, slope, moved, turned string }{
		{`"-95.9 mm ± 1"`, `"4.8 deg ± 0.15 down to the rear"`, `"-90.5 mm ± 1"`, `"5.5 deg ± 0.15 down to the rear"`},
		{`"-95.9 ± 1 mm"`, `"4.8 ± 0.15 deg down to the rear"`, `"-90.5 mm ± 1"`, `"5.5 deg ± 0.15 down to the rear"`},
		{`"-95.9 +- 1.5 mm"`, `"4.8 deg +/- 0.2 down to the rear"`, `"-90.5 mm ± 1.5"`, `"5.5 deg ± 0.2 down to the rear"`},
		{`-95.9`, `"4.8 deg down to the rear"`, `-90.5`, `"5.5 deg down to the rear"`},
	} {
		f, err := project.Parse("build.toml", []byte("format = 3\n[powertrain]\noutput = [1395, 0, 0]\n[powertrain.pads]\nleft_front = [0, -250, -60]\nright_front = [0, 250, -60]\nrear = [1250, 0, -110]\n"+
			"[placement]\nleft_front = \"52 mm ± 1\"\nright_front = 52\nrear = "+c.rear+"\nsetback = \"140 mm ± 1.5\"\n[line.rear.pinion]\nat = [3010, 0, -52]\nslope = "+c.slope+"\n"))
		require.NoError(t, err)
		var moves []project.Move
		for of, to := range map[string]float64{"placement.rear": -90.5, "line.rear.pinion.slope": 5.5 * math.Pi / 180} {
			m, err := f.Build.MovableNamed(of)
			require.NoError(t, err)
			moves = append(moves, project.Move{Of: m, To: to})
		}
		edits, _, err := Moves(f, nil, moves...)
		require.NoError(t, err)
		g, err := Apply(f, edits...)
		require.NoError(t, err)
		rear, _ := g.Raw("placement.rear")
		slope, _ := g.Raw("line.rear.pinion.slope")
		assert.Equal(t, c.moved, rear)
		assert.Equal(t, c.turned, slope)
		tried, err := f.Build.With(moves...)
		require.NoError(t, err)
		for _, b := range []*project.Build{g.Build, tried} {
			before, after := f.Build.StatedValues(), b.StatedValues()
			require.Len(t, after, len(before))
			for i := range before {
				assert.Equal(t, before[i].Path, after[i].Path)
				assert.InDelta(t, before[i].Half, after[i].Half, 1e-12)
			}
		}
	}
}

// A bearing at a point is moved to another point, so far from that one; a point that was
// made so and is of nothing else goes along, and one that anything else is at stays. The
// point that was measured never moves.
func TestWhatStandsAtAPointIsMovedFromIt(t *testing.T) {
	const text = "format = 3\n[units]\nlength = \"in\"\n[point.hanger]\nstation = \"1500 mm\"\noffset = \"10 mm ± 2 left\"\nheight = \"20 mm ± 1\"\n" +
		"[line.rear.pinion]\nat = [3000, 0, 0]\n[[line.rear.joint]]\n[[line.rear.joint]]\nat = \"point.hanger\"\n[[line.rear.joint]]\n[[line.rear.shaft]]\n[[line.rear.shaft]]\n"
	f, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	move := func(f *project.File, of string, to float64) *project.File {
		m, err := f.Build.MovableNamed(of)
		require.NoError(t, err)
		edits, _, err := Moves(f, nil, project.Move{Of: m, To: to})
		require.NoError(t, err)
		g, err := Apply(f, edits...)
		require.NoError(t, err)
		now, err := g.Build.Reads(m)
		require.NoError(t, err)
		assert.InDelta(t, to, now, 1e-4)
		return g
	}
	at := func(f *project.File) string {
		name, _ := f.Text("line.rear.joint[1].at")
		return name
	}
	const height, offset = "line.rear.joint.2.at.height", "line.rear.joint.2.at.offset"
	g := move(f, height, 25.4)
	assert.Equal(t, "point.hanger_moved", at(g))
	from, _ := g.Text("point.hanger_moved.from")
	assert.Equal(t, "point.hanger", from)
	g = move(move(g, offset, 3), height, 30)
	assert.Equal(t, "point.hanger_moved", at(g))
	assert.Len(t, g.Build.Points, 2)
	assert.Contains(t, g.Doc().Text(), "[point.hanger]\nstation = \"1500 mm\"\noffset = \"10 mm ± 2 left\"\nheight = \"20 mm ± 1\"\n")
	p, _ := g.Build.PointNamed("point.hanger_moved")
	assert.Contains(t, p.Terms, project.Term{Path: "point.hanger.offset", Dir: r3.Vec{Y: 1}, Value: -10, Half: 2})

	for _, also := range []string{
		"[[chassis]]\nname = \"clip\"\nat = \"point.hanger_moved\"\n", // something else stands at it
		"[point.x]\nfrom = 'point.hanger_moved'\nstation = 0\noffset = 0\nheight = 0\n",
	} {
		h, err := project.Parse("x.toml", []byte(g.Doc().Text()+also))
		require.NoError(t, err)
		h = move(h, height, 40)
		assert.Equal(t, "point.hanger_moved_moved", at(h))
	}
	for _, c := range [][2]string{{"station = \"0 in\"", "station = \"0 in ± 0.1\""}, {"from = \"point.hanger\"", "from = \"point.hanger\"\nwith = \"tool.tape\""}} {
		own := strings.Replace(g.Doc().Text(), c[0], c[1], 1)
		if strings.Contains(c[1], "tape") {
			own += "[tool.tape]\naccuracy = \"1 mm\"\n"
		}
		require.NotEqual(t, g.Doc().Text(), own)
		h, err := project.Parse("x.toml", []byte(own))
		require.NoError(t, err)
		h = move(h, height, 40)
		assert.Equal(t, "point.hanger_moved_moved", at(h), "a point that was measured itself stays")
	}
	long := strings.Repeat("a", 40)
	h, err := project.Parse("x.toml", []byte(strings.ReplaceAll(text, "hanger", long)+"[point."+strings.Repeat("a", 30)+"_moved]\nstation = 0\noffset = 0\nheight = 0\n"))
	require.NoError(t, err)
	assert.Equal(t, "point."+strings.Repeat("a", 30)+"_moved_2", at(move(h, height, 1)))

	// As a trial says it, too.
	h, err = project.Parse("x.toml", []byte(text+"[[trial.higher.change]]\nof = \""+height+"\"\nto = \"31 mm\"\n"))
	require.NoError(t, err)
	edits, _, err := Trial(h, nil, &h.Build.Trials[0], nil)
	require.NoError(t, err)
	h, err = Apply(h, edits...)
	require.NoError(t, err)
	assert.InDelta(t, 31, h.Build.Lines[0].Joints[1].At.At.Z, 1e-4)
	assert.Equal(t, "point.hanger_moved", h.Build.Lines[0].Joints[1].At.Ref)
}
