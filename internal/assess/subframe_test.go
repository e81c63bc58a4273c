package assess

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/rigid"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func hungIn(t *testing.T, text string) *Assessment {
	t.Helper()
	f, err := project.Parse("subframe", []byte(text))
	require.NoError(t, err)
	return Run(f.Build)
}

func judgedAs(t *testing.T, a *Assessment, id string) Finding {
	t.Helper()
	f, ok := a.Finding(id)
	require.True(t, ok, id)
	return f
}

// replaced is a text with one of its lines changed, which must be there.
func replaced(t *testing.T, text, old, with string) string {
	t.Helper()
	require.Contains(t, text, old)
	return strings.Replace(text, old, with, 1)
}

// The example hangs as it says, within its ±; each finding says which way.
func TestSubframeHangsAsItDoes(t *testing.T) {
	a := hungIn(t, example.Subframe)
	require.Len(t, a.Subframes, 1)
	s := a.Subframes[0]
	require.Empty(t, s.Why)
	deg := math.Pi / 180
	for i, c := range []struct {
		is         Number
		want, most float64
	}{{s.Out.Station, 4, 1}, {s.Out.Right, 3, 1.5}, {s.Out.Height, -2, 1}, {s.Out.Heading, 0.3 * deg, 0.1 * deg}, {s.Out.Slope, 0.4 * deg, 0.1 * deg}, {s.Out.Roll, 0.2 * deg, 0.1 * deg}} {
		require.True(t, c.is.Known, c.is.Why)
		assert.InDelta(t, c.want, c.is.V, c.is.Expanded(), "%d", i)
		assert.Positive(t, c.is.Expanded(), "%d", i)
		assert.Less(t, c.is.Expanded(), c.most, "%d", i)
	}
	assert.Equal(t, 10, s.DoF)
	assert.Equal(t, finding.OK, judgedAs(t, a, finding.SubframeFit("front")).Status)
	corner := judgedAs(t, a, finding.SubframeCorner("front", "point.sub_lr"))
	assert.Equal(t, finding.Over, corner.Status)
	assert.Contains(t, corner.Advice(), "mm forward, 5.6 mm up, 4.4 mm to the left")
	assert.Contains(t, judgedAs(t, a, finding.SubframeSquare("front")).Advice(), "rear to the right")
	assert.Contains(t, judgedAs(t, a, finding.SubframeRake("front")).Advice(), "rear low")
	assert.Contains(t, judgedAs(t, a, finding.SubframeWheelbase("front")).Advice(), "too far back")
}

// Moved as its corners say, it hangs where it is to: laid on their places by another
// method, from where it is, the pose that is wanted comes out.
func TestCornerMovesLeadToWhereItIsToBe(t *testing.T) {
	a := hungIn(t, example.Subframe)
	s := a.Subframes[0]
	var own, at []r3.Vec
	for i, p := range s.Points {
		own = append(own, a.Build.Subframes[0].Points[i].Bench.At)
		at = append(at, r3.Vec{X: p.Now[0].V + p.Move[0].V, Y: p.Now[1].V + p.Move[1].V, Z: p.Now[2].V + p.Move[2].V})
	}
	pose, left, err := rigid.Lay(own, at)
	require.NoError(t, err)
	assert.InDelta(t, 0, left, 1e-9)
	ref := pose.Point(r3.Vec{X: 300, Z: -120})
	assert.InDelta(t, 0, r3.Norm(r3.Sub(ref, r3.Vec{Z: -260})), 1e-6)
	assert.InDelta(t, 0, pose.Heading().Rad(), 1e-9)
	assert.InDelta(t, 0, pose.Slope().Rad(), 1e-9)
	assert.InDelta(t, 0, pose.Roll().Rad(), 1e-9)
}

// A tape that is taken again counts in place of the first, and the corners follow.
func TestATapeTakenAgainCounts(t *testing.T) {
	before := hungIn(t, example.Subframe).Subframes[0]
	again := example.Subframe + "\n[[measure]]\nfrom = \"point.sub_lf\"\nto = \"point.rail_lf\"\nwith = \"tool.tape\"\nlengths = [210.5]\nafter = \"hung\"\n"
	a := hungIn(t, again)
	s := a.Subframes[0]
	require.Empty(t, s.Why)
	assert.Contains(t, strings.Join(s.Assumes, "; "), "rail lf to sub lf was taken again, and the last counts")
	assert.Equal(t, before.DoF, s.DoF)
	assert.NotEqual(t, before.Points[0].Move[0].V, s.Points[0].Move[0].V)
}

// A slip of 12 mm in one tape is named, left out, and changes nothing that is beyond the ±.
func TestASlipToASubframeIsNamed(t *testing.T) {
	clean := hungIn(t, example.Subframe).Subframes[0]
	line := regexp.MustCompile(`from = "point.rail_rf"\nto = "point.sub_rr"\nwith = "tool.tape"\nlengths = \[([0-9.]+)\]`).FindStringSubmatch(example.Subframe)
	require.Len(t, line, 2)
	var v float64
	_, err := fmt.Sscan(line[1], &v)
	require.NoError(t, err)
	a := hungIn(t, replaced(t, example.Subframe, line[0], strings.Replace(line[0], "["+line[1]+"]", fmt.Sprintf("[%g]", v+12), 1)))
	s := a.Subframes[0]
	require.Len(t, s.Suspects, 1)
	assert.Equal(t, "rail rf to sub rr", s.Suspects[0].Line.Name)
	assert.True(t, s.Suspects[0].Out)
	assert.InDelta(t, 12, s.Suspects[0].Off, 2)
	fit := judgedAs(t, a, finding.SubframeFit("front"))
	assert.Equal(t, finding.Over, fit.Status)
	assert.Contains(t, fit.Advice(), "rail rf to sub rr reads")
	assert.InDelta(t, clean.Out.Right.V, s.Out.Right.V, clean.Out.Right.Expanded())
}

// What cannot be told is said, and is never ok.
func TestSubframesThatCannotBePlaced(t *testing.T) {
	_, after, _ := strings.Cut(example.Subframe, "\n[[measure]]")
	measures := "\n[[measure]]" + after
	head := strings.TrimSuffix(example.Subframe, measures)
	points := regexp.MustCompile(`(?s)\n\[\[subframe\.front\.point\]\].*`).FindString(head)
	bare := strings.TrimSuffix(head, points)
	bare = replaced(t, bare, "wheels = [\"point.sub_wl\", \"point.sub_wr\"]\n", "")
	bare += "\n[subframe.front.wanted]\nstation = 0\nheight = -260\n"
	point := func(name, at string) string {
		return "\n[[subframe.front.point]]\nat = \"point." + name + "\"\nbench = " + at + "\n"
	}
	heights := regexp.MustCompile(`(?m)\n\[\[measure\]\]\nfrom = "[^"]*"\nto = "[^"]*"\nwith = [^\n]*\nlengths = [^\n]*\nafter = "hung"\n`).ReplaceAllString(measures, "")
	noGauge := func(s string) string {
		return regexp.MustCompile(`(?m)^(slope|across|lower) = .*\n`).ReplaceAllString(s, "")
	}
	swapped := strings.NewReplacer("0, -390", "0, 390 ", "bench = [\"0 mm ± 0.3\", \"-390", "bench = [\"0 mm ± 0.3\", \"390", "bench = [\"0 mm ± 0.3\", \"390", "bench = [\"0 mm ± 0.3\", \"-390",
		"bench = [\"620 mm ± 0.3\", \"-400", "bench = [\"620 mm ± 0.3\", \"400", "bench = [\"620 mm ± 0.3\", \"400", "bench = [\"620 mm ± 0.3\", \"-400").Replace(example.Subframe)
	require.NotEqual(t, example.Subframe, swapped)
	for name, c := range map[string]struct{ text, why string }{
		"two points":       {bare + point("sub_lf", "[0, -390, 0]") + point("sub_rf", "[0, 390, 0]") + measures, "three points at least"},
		"on one line":      {bare + point("sub_lf", "[0, -390, 0]") + point("sub_rf", "[0, 390, 0]") + point("sub_lr", "[0, 0, 0]") + measures, "lie on one line"},
		"nothing measured": {head, "leave it free up and down"},
		"heights alone":    {head + heights, "leave it free"},
		"mirrored":         {swapped, "left and right were taken for each other"},
		"no far point":     {noGauge(regexp.MustCompile(`(?s)\[point\.rail_(lf|rf|lr|rr)\]\nstation[^\n]*\noffset[^\n]*\nheight[^\n]*\n`).ReplaceAllString(example.Subframe, "[point.rail_$1]\n")), "cannot be used"},
	} {
		a := hungIn(t, c.text)
		require.Len(t, a.Subframes, 1, name)
		s := a.Subframes[0]
		assert.Contains(t, s.Why, c.why, name)
		assert.False(t, s.Pose.Known, name)
		for _, f := range a.Findings {
			if strings.HasPrefix(f.ID, "subframe.") {
				assert.NotEqual(t, finding.OK, f.Status, "%s: %s", name, f.ID)
			}
		}
	}
}

// A wanted place that the file does not give leaves where it is to go unknown, and
// where it hangs known.
func TestASubframeWithoutAPlaceToGo(t *testing.T) {
	a := hungIn(t, replaced(t, example.Subframe, "front_axle = 0\n", ""))
	s := a.Subframes[0]
	assert.True(t, s.Now.Station.Known)
	assert.False(t, s.Out.Station.Known)
	f := judgedAs(t, a, finding.SubframeWheelbase("front"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Lacks(), "vehicle.front_axle")
}

// The corners of a subframe are held by mounts of the powertrain's kind: their pads are
// where the corners are to be, their legs are cut and screened under what the wheels put
// on them, the other side's made after them, and nothing of the powertrain stands on them.
func TestMountsOfASubframe(t *testing.T) {
	t.Parallel()
	text := example.SubframeMounts()
	a := hungIn(t, text)
	assert.Equal(t, []string{"left_front", "right_front", "rear"}, a.Build.CarryingNames())
	require.Len(t, a.Brackets, 4)
	for _, c := range []struct {
		name  string
		at, y float64
	}{{"sub_left_front", -250, -300}, {"sub_right_front", -250, 300}, {"sub_left_rear", 300, -300}, {"sub_right_rear", 300, 300}} {
		b, ok := a.Bracket(c.name)
		require.True(t, ok && b.HasCut, "%s %s", c.name, b.Why)
		assert.InDelta(t, c.at, b.Leg.Pad.Point.X, 1e-9)
		assert.InDelta(t, c.y, b.Leg.Pad.Point.Y, 1e-9)
		assert.InDelta(t, -80, b.Leg.Pad.Point.Z, 1e-9)
		assert.InDelta(t, 75, b.FootDrop.V, 1e-6, "straight across to the middle of the rail")
		for _, id := range []string{finding.BracketBending(c.name), finding.BracketWeld(c.name)} {
			f := judgedAs(t, a, id)
			assert.Equal(t, finding.OK, f.Status, id)
			assert.Positive(t, f.Uncertainty, "a corner may be 3 mm off")
			all := strings.Join(f.Assumes, " ")
			assert.Contains(t, all, "is to be: nothing proves yet that it hangs there")
			assert.Contains(t, all, "shared by all corners")
			assert.NotContains(t, all, "mounts")
		}
		room := judgedAs(t, a, finding.Clearance(c.name+"_bracket"))
		assert.Equal(t, finding.RoomSubframe, room.Group)
		assert.Greater(t, room.Value, 145.0)
		assert.Equal(t, finding.OK, factAs(t, a, finding.BracketGiven(c.name)).Status)
	}
	// What is missing of the wheels leaves the strength not known, and its path is named.
	for _, c := range [][2]string{
		{"load = \"380 kg\"\n", "pickup.front.left.load"}, {"tyre_diameter = 680\n", "vehicle.tyre_diameter"}, {"lower = [0, -590, -100]\n", "pickup.front.left.spring.lower"},
		{"bench = [600, 300, -80]\n", "sub rr is on the bench"}, {"axle_height = -40\n", "subframe.front.wanted.height"},
	} {
		f := judgedAs(t, hungIn(t, replaced(t, text, c[0], "")), finding.BracketFits("sub_left_front"))
		g, ok := hungIn(t, replaced(t, text, c[0], "")).Finding(finding.BracketBending("sub_left_front"))
		if ok {
			assert.Equal(t, finding.NotKnown, g.Status, c[0])
			assert.Contains(t, g.Missing, c[1])
		} else {
			assert.Equal(t, finding.NotKnown, f.Status, c[0])
			assert.Contains(t, f.Missing, c[1])
		}
	}
	none := judgedAs(t, hungIn(t, replaced(t, text, "[subframe.front]\n", "[subframe.front]\npickup = \"front\"\n")), finding.BracketBending("sub_left_front"))
	assert.Equal(t, finding.OK, none.Status)
	other, _, ok := strings.Cut(text, "[pickup.front]")
	require.True(t, ok)
	f := judgedAs(t, hungIn(t, other), finding.BracketBending("sub_left_front"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "pickup.front is not in the file yet")
	// A heavier wheel loads them more, and what its mass may be off by is in the ±.
	heavy := judgedAs(t, hungIn(t, strings.ReplaceAll(text, "380 kg", "760 kg")), finding.BracketBending("sub_left_front"))
	light := judgedAs(t, a, finding.BracketBending("sub_left_front"))
	assert.InEpsilon(t, 2, heavy.Value/light.Value, 1e-6)
	unsure := judgedAs(t, hungIn(t, strings.ReplaceAll(text, "380 kg", "380 kg ± 40")), finding.BracketBending("sub_left_front"))
	assert.Greater(t, unsure.Uncertainty, light.Uncertainty*1.2)
}

// What goes past a subframe has room to it, with ids of its own. By hand: a shaft 110 over
// its beam; a rod that is held on it is looked at from 60 mm beyond its joint on.
func TestWhatGoesPastASubframe(t *testing.T) {
	t.Parallel()
	text := example.SubframeMounts()
	beam := finding.Clearance("front_beam__where_it_is_to_be")
	a := hungIn(t, text)
	f := judgedAs(t, a, finding.ToSteering(beam))
	assert.InDelta(t, 110, f.Value, 1e-6)
	assert.Equal(t, finding.OK, f.Status)
	assert.Equal(t, finding.RoomSubframe, f.Group)
	assert.Positive(t, f.Uncertainty, "a corner of it may be off its place")
	near := judgedAs(t, hungIn(t, strings.Replace(text, "-400, -100]\nto = [-250, 0, -100]", "-400, -215]\nto = [-250, 0, -215]", 1)), finding.ToSteering(beam))
	assert.Equal(t, finding.Over, near.Status)
	assert.InDelta(t, -5, near.Value, 1e-6)
	assert.Contains(t, near.Advice(), "intermediate shaft runs into it by 5.0 mm")
	none := judgedAs(t, hungIn(t, strings.Replace(text, "radius = 10\n", "", 1)), finding.ToSteering(beam))
	assert.NotEqual(t, finding.NotKnown, none.Status, "a box from its two ends")
	lacking := judgedAs(t, hungIn(t, strings.Replace(text, "to = [-250, 0, -100]\n", "", 1)), finding.ToSteering(beam))
	assert.Equal(t, finding.NotKnown, lacking.Status)
	_, some := hungIn(t, strings.Replace(text, "of = \"steering\"\n", "", 1)).Finding(finding.ToSteering(beam))
	assert.False(t, some, "the file has no steering")

	// A pipe along the frame, 30 thick to either side: the beam's corner lies beside it.
	_, any := a.Finding(finding.ToExhaust(beam))
	assert.False(t, any, "the file has no exhaust")
	piped := hungIn(t, text+example.SubframePipe)
	heat := judgedAs(t, piped, finding.ToExhaust(beam))
	require.True(t, heat.HasValue, heat.Missing)
	assert.Equal(t, finding.RoomSubframe, heat.Group)
	assert.Equal(t, piped.Build.Limit("heat_gap").Value, heat.Limit)
	lower := judgedAs(t, hungIn(t, text+strings.ReplaceAll(example.SubframePipe, "-200]", "-150]")), finding.ToExhaust(beam))
	assert.Greater(t, math.Abs(lower.Value-heat.Value), 1.0)
	unsized := judgedAs(t, hungIn(t, text+strings.Replace(example.SubframePipe, "diameter = 60\n", "", 1)), finding.ToExhaust(beam))
	assert.Equal(t, finding.NotKnown, unsized.Status)
	assert.Contains(t, unsized.Missing, "exhaust.1.diameter is not in the file yet")
	wide := judgedAs(t, hungIn(t, text+example.SubframePipe+"heat_gap = 5000\n"), finding.ToExhaust(beam))
	assert.Equal(t, finding.Over, wide.Status)
	assert.Contains(t, wide.Advice(), "pipe past the beam comes nearer to it than is wanted")

	// A block round the joint of the tension rod on the frame, (470, -450, -76).
	held := strings.Replace(text, "[mount.sub_left_front]", "[[subframe.front.part]]\nname = \"horn\"\nfrom = [765, -460, -90]\nto = [785, -440, -60]\n[mount.sub_left_front]", 1)
	horn := judgedAs(t, hungIn(t, held), finding.ToSuspension(finding.Clearance("horn__where_it_is_to_be")))
	require.True(t, horn.HasValue, horn.Missing)
	assert.Contains(t, strings.Join(horn.Assumes, " "), "tyres and wheels, at lock above all, are not in it")
	assert.Contains(t, strings.Join(horn.Assumes, " "), "front left tension rod is held on it, and its first 60 mm from there are not in it")
	// The rod goes from there to (20, -650, -124): what is left of it begins 60 mm and its
	// own thickness along it, and its round end reaches back by that thickness.
	assert.InDelta(t, 60-10, horn.Value, 6)
	assert.Equal(t, finding.OK, horn.Status)
}

// The weld of a subframe waits for its brackets and for each corner, measured again where it
// is tacked.
func TestTheWeldOfASubframeWaitsForIt(t *testing.T) {
	t.Parallel()
	a := hungIn(t, example.SubframeMounts()+"[[job]]\nid = \"weld\"\ntitle = \"weld it\"\nfrom = \"subframe-weld\"\n[[job]]\nid = \"fit\"\ntitle = \"fit them\"\nfrom = \"subframe-brackets\"\n")
	of := map[string][]string{}
	for _, j := range a.Jobs {
		for _, h := range j.Holds {
			of[j.ID] = append(of[j.ID], h.ID)
		}
		assert.Equal(t, j.ID == "weld", j.Finish, j.ID)
	}
	for _, name := range a.Build.CornerNames() {
		assert.Contains(t, of["weld"], finding.BracketBending(name))
		assert.Contains(t, of["fit"], finding.BracketFits(name))
		assert.Contains(t, of["fit"], finding.Clearance(name+"_bracket"))
	}
	for _, at := range []string{"sub_lf", "sub_rf", "sub_lr", "sub_rr"} {
		assert.Contains(t, of["weld"], finding.SubframeCorner("front", "point."+at))
	}
}

func factAs(t *testing.T, a *Assessment, id string) Fact {
	t.Helper()
	for _, f := range a.Facts {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "no fact "+id)
	return Fact{}
}
