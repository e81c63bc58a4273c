package bracket

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// The weld as it is has the planned figure once all of it carries and is as long
// as planned: 76 mm, two flats of SHS 50x50x3, less a twentieth.
func TestTheWeldAsItIs(t *testing.T) {
	weld := func(carries, all float64, open ...string) MadeWeld {
		return MadeWeld{Bracket: "Left front", At: "foot", Begun: true, Sides: 2, Carrying: 2 - len(open), Open: open,
			Carries: finding.Exact(carries), AllSides: finding.Exact(all)}
	}
	unsaid := weld(0, 0)
	unsaid.Carries = finding.Missing("the top side has no length in the file yet")
	none := MadeWeld{Bracket: "left front", At: "pad"}
	const planned = "weld = { size = 3, runs = \"top and bottom\" }"
	at := r3.Vec{X: 300, Y: -200, Z: -75}
	judge := func(leg string, welds ...MadeWeld) (finding.Finding, bool) {
		return welding(t, example.LegsAtPads("", leg, "[limits]\nscreening_use = 0.8\n"), welds, bumped("left_front", at)).Finding("bracket.left_front.welded")
	}
	for name, c := range map[string]struct {
		welds []MadeWeld
		want  finding.Status
		says  string
	}{
		"all of it":       {[]MadeWeld{weld(76, 76)}, finding.OK, "Governed by bump"},
		"nearly":          {[]MadeWeld{weld(73, 73)}, finding.OK, "Governed by bump"},
		"short":           {[]MadeWeld{weld(72, 72)}, finding.NotKnown, "72.0 mm of 72.0 mm carry; 76.0 mm are planned"},
		"a side is open":  {[]MadeWeld{weld(38, 76, "bottom tacked")}, finding.NotKnown, "38.0 mm of 76.0 mm carry (bottom tacked)"},
		"no length":       {[]MadeWeld{unsaid}, finding.NotKnown, "2 of 2 sides carry, and not all have a length"},
		"no sides beside": {[]MadeWeld{weld(76, 76), none}, finding.NotKnown, "no sides in the file yet"},
		"two, both short": {[]MadeWeld{weld(50, 50), weld(50, 50)}, finding.NotKnown, "76.0 mm are planned"},
		"two, one unsaid": {[]MadeWeld{weld(76, 76), unsaid}, finding.NotKnown, "not all have a length"},
		"two":             {[]MadeWeld{weld(50, 50), weld(76, 76)}, finding.OK, "Governed by bump"},
		"of another too":  {[]MadeWeld{weld(76, 76), {Bracket: "rear", Begun: true, Open: []string{"top"}}}, finding.OK, "Governed by bump"},
	} {
		f, ok := judge(planned, c.welds...)
		require.True(t, ok, name)
		assert.Equal(t, c.want, f.Status, name)
		assert.Contains(t, f.Advice(), c.says, name)
		assert.True(t, f.OfFinished)
		assert.Equal(t, len(c.welds) == 2 && c.welds[1].At == "foot" && f.HasValue, strings.Contains(strings.Join(f.Assumes, "; "), "one of its welds on the map"), name)
		assert.Contains(t, f.Assumes, railHolds, name)
	}
	f, _ := judge("weld = { size = 0.5, runs = \"top and bottom\" }", weld(76, 76))
	assert.Equal(t, finding.Over, f.Status)
	f, _ = judge("", weld(76, 76))
	assert.Contains(t, f.Missing, "weld.size")
	for name, w := range map[string]MadeWeld{"not begun": {Bracket: "left_front"}, "another's": {Bracket: "rear", Begun: true}} {
		_, ok := judge(planned, w)
		assert.False(t, ok, name)
	}
}

// A weld whose planned figure is open is open as well.
func TestTheWeldAsItIsWaitsForWhatIsMissing(t *testing.T) {
	at := r3.Vec{X: 300, Y: -200, Z: -75}
	made := []MadeWeld{{Bracket: "left front", At: "foot", Begun: true, Sides: 1, Carrying: 1, Carries: finding.Exact(200), AllSides: finding.Exact(200)}}
	f, err := project.Parse("legs.toml", []byte(example.LegsAtPads("", "weld = { size = 3 }", "")))
	require.NoError(t, err)
	supports, placed, err := f.Build.Seat()
	require.NoError(t, err)
	pose, err := supports.Pose(placed)
	require.NoError(t, err)
	welds := func(l Loads) Result {
		return Prepare(f.Build, made).At(finding.Maybe[geom.Pose]{V: pose, Known: true}, l)
	}
	a := welds(Loads{Open: "powertrain.torque is not in the file yet", Mounts: []MountLoad{bumped("left_front", at)}})
	for _, f := range a.Findings {
		if f.ID == "bracket.left_front.welded" || f.ID == "bracket.left_front.weld" {
			assert.Equal(t, finding.NotKnown, f.Status, f.ID)
			assert.Contains(t, f.Missing, "powertrain.torque", f.ID)
		}
	}
	reverse := Loads{Mounts: []MountLoad{bumped("left_front", at)}, Assumes: []string{"steady gear torque"},
		InReverse: func(_ string, ratio float64, open bool) (MountLoad, bool) {
			if ratio >= 5 {
				return MountLoad{}, false
			}
			of := func(share float64) []Case { return []Case{{"reverse", r3.Vec{Z: -bump * ratio * share}}} }
			l := MountLoad{Cases: of(1)}
			if open { // one mount takes up to a tenth more, another a fifth
				l.Swings = [][2][]Case{{of(0.9), of(1.1)}, {of(1.2), of(0.8)}}
			}
			return l, true
		},
		WithoutReverse: func(f *finding.Finding, at func(float64, bool) (finding.Number, bool)) {
			v, over := at(1, false)
			assert.Zero(t, v.Expanded())
			w, _ := at(1, true)
			assert.InDelta(t, v.V, w.V, 1e-9)
			assert.InDelta(t, v.V*math.Hypot(0.1, 0.2)*2/math.Sqrt(3), w.Expanded(), 1e-9*v.V, "estimated rates leave it open")
			assert.InDelta(t, f.Value, v.V, 1e-9, "as much as the bump")
			assert.False(t, over)
			v, over = at(100, true)
			assert.True(t, over)
			assert.False(t, v.Known, "it does not stay up")
			v, over = at(4.9, false)
			assert.True(t, v.Known)
			assert.Equal(t, v.V > 0.5, over)
			f.Unknown("powertrain.reverse is not in the file yet")
		}}
	a = welds(reverse)
	n := 0
	for _, f := range a.Findings {
		if f.ID == "bracket.left_front.welded" || f.ID == "bracket.left_front.weld" {
			n++
			assert.Equal(t, finding.NotKnown, f.Status, f.ID)
			assert.Contains(t, f.Missing, "powertrain.reverse", f.ID)
		}
	}
	assert.Equal(t, 2, n)
}
