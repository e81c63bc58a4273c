package travel

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// strapAt is a strap of the line rear from above its axle, 500 mm off the middle.
func strapAt(name string, y float64, length string) string {
	s := fmt.Sprintf("[[line.rear.suspension.strap]]\nname = %q\nchassis = [3040, %g, 250]\naxle = [3060, %g, -60]\n", name, y, y)
	if length != "" {
		s += "length = " + length + "\n"
	}
	return s
}

func withStraps(text, length string) string {
	return text + strapAt("left", -500, length) + strapAt("right", 500, length)
}

// With the longest strap that is said to do, every joint and the slip joint keep their
// limits at droop, on any of the suspensions, and with one that is longer by 2 mm one of
// them does not: by moving the axle with straps of either length.
func TestTheLongestStrapHoldsTheShaft(t *testing.T) {
	by := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		kinds := map[string]string{"leaf": leafText, "links": linkText, "arms": armText}
		kind := rapid.SampledFrom([]string{"leaf", "links", "arms"}).Draw(t, "kind")
		text := strings.Replace(kinds[kind], "slip_open = 1340", fmt.Sprintf("slip_open = %g", rapid.Float64Range(1313, 1330).Draw(t, "open")), 1)
		text = fmt.Sprintf("[[line.rear.joint]]\nmax_angle = \"%g deg\"\n[[line.rear.joint]]\nmax_angle = \"%g deg\"\n",
			rapid.Float64Range(5, 9).Draw(t, "first"), rapid.Float64Range(3, 9).Draw(t, "second")) + text
		text = strings.Replace(text, "bump = 80", "bump = 0", 1) // what is worst is then below
		b, l := parsedLine(t, withStraps(text, ""))
		s := judged(b, l, chainAt()).Travel.Straps
		require.Len(t, s, 2)
		if !s[0].Longest.Known {
			return // a joint is past its angle at ride height, as it is said
		}
		longest := s[0].Longest.V
		holds := func(length float64) bool {
			b, l := parsedLine(t, withStraps(text, fmt.Sprintf("%.4f", length)))
			r := judged(b, l, chainAt())
			require.Empty(t, r.Travel.Why)
			for _, id := range []string{finding.TravelJoint("rear", 1), finding.TravelJoint("rear", 2), finding.SlipPull("rear"), finding.SlipBottom("rear")} {
				for _, f := range r.Findings {
					if f.ID == id && f.Status == finding.Over {
						return false
					}
				}
			}
			return true
		}
		if longest-0.02 < s[0].Ride.V {
			return
		}
		assert.True(t, holds(longest-0.02), "%s: %v does", kind, longest)
		switch {
		case s[0].Free:
			by["free"]++
			assert.True(t, holds(longest+30), "no strap is needed")
		default:
			by[kind]++
			assert.False(t, holds(longest+2), "%s: 2 mm more than %v does not: %s", kind, longest, s[0].By)
		}
	})
	t.Log(by)
}

func parsedLine(t require.TestingT, text string) (*project.Build, project.Line) {
	f, err := project.Parse("test.toml", []byte("format = 3\n"+text))
	require.NoError(t, err)
	return f.Build, f.Build.Lines[0]
}

// A strap in the file ends the droop: what is said of joints is said to where it holds.
func TestAStrapEndsTheDroop(t *testing.T) {
	free, _ := moved(t, armText)
	r, tr := moved(t, withStraps(armText, "370"))
	require.Equal(t, "its straps", tr.Held)
	assert.InDelta(t, -tr.Straps[0].Taut.V, tr.Points[0].Rise, 1e-9)
	assert.InDelta(t, 60, tr.Straps[0].Taut.V, 5, "a strap of 370 mm on eyes 311 mm apart, nearly upright")
	assert.Less(t, findingOf(t, r, finding.TravelJoint("rear", 2)).Value, findingOf(t, free, finding.TravelJoint("rear", 2)).Value)
	reach := findingOf(t, r, finding.TravelReach("rear"))
	assert.Equal(t, finding.OK, reach.Status)
	assert.InDelta(t, 80+tr.Straps[0].Taut.V, reach.Limit, 1e-9, "what it is to reach is what the strap leaves")
	f := findingOf(t, r, finding.StrapLength("rear", "left"))
	assert.Contains(t, f.Advice(), "Strap 370.0 mm between its eyes: taut")
	assert.Contains(t, f.Advice(), "of 15.0°")
	assert.Contains(t, f.Advice(), "nothing is lifted or lashed by it")
	assert.Contains(t, f.Advice(), "Brake hoses")
	assert.Contains(t, f.Advice(), "on stands")
	assert.Contains(t, strings.Join(f.Assumes, "; "), "it does not stretch: line.rear.suspension.strap.1.stretch is not in the file")
	assert.Equal(t, finding.OK, findingOf(t, r, finding.StrapsEven("rear")).Status)
	assert.Equal(t, finding.OK, findingOf(t, r, finding.StrapSlack("rear", "left")).Status)
}

// Stretch lets the axle down further, and what is longest is said of the strap pulled
// straight by hand.
func TestAStrapThatStretches(t *testing.T) {
	_, stiff := moved(t, withStraps(armText, "370"))
	_, soft := moved(t, strings.ReplaceAll(withStraps(armText, "360"), "length = 360", "length = 360\nstretch = 10"))
	assert.InDelta(t, stiff.Straps[0].Taut.V, soft.Straps[0].Taut.V, 1e-9)
	assert.InDelta(t, stiff.Straps[0].Longest.V-10, soft.Straps[0].Longest.V, 1e-9)
}

// What straps do not hold is not taken to be held.
func TestWhatStrapsDoNotHold(t *testing.T) {
	whole := func(text string) *Travel {
		_, tr := moved(t, text)
		return tr
	}
	for name, text := range map[string]string{
		"no length":    withStraps(armText, ""),
		"one length":   armText + strapAt("left", -500, "370") + strapAt("right", 500, ""),
		"one side":     armText + strapAt("left", -500, "370"),
		"too long":     withStraps(armText, "600"),
		"one too long": armText + strapAt("left", -500, "370") + strapAt("right", 500, "600"),
		"no point":     armText + strings.Replace(withStraps("", "370"), "chassis = [3040, -500, 250]\n", "", 1),
	} {
		tr := whole(text)
		assert.InDelta(t, -120, tr.Points[0].Rise, 1e-9, name)
		assert.Empty(t, tr.Held, name)
	}
	r, _ := moved(t, armText+strapAt("left", -500, "370"))
	assert.Equal(t, "all straps of line.rear are on one side of the axle's middle, and the other side drops on: begin line.rear.suspension.strap.2 there",
		findingOf(t, r, finding.StrapsEven("rear")).Missing)
	r, _ = moved(t, withStraps(armText, ""))
	f := findingOf(t, r, finding.StrapLength("rear", "left"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, []string{"line.rear.suspension.strap[0].length"}, f.Lacks())
	r, _ = moved(t, armText+strings.Replace(withStraps("", "370"), "chassis = [3040, -500, 250]\n", "", 1))
	assert.Equal(t, []string{"line.rear.suspension.strap[0].chassis"}, findingOf(t, r, finding.StrapLength("rear", "left")).Lacks())

	// The longer of two straps is what the droop counts to, and that they differ is said.
	r, tr := moved(t, armText+strapAt("left", -500, "370")+strapAt("right", 500, "380"))
	assert.InDelta(t, -tr.Straps[1].Taut.V, tr.Points[0].Rise, 1e-9)
	assert.Equal(t, finding.Over, findingOf(t, r, finding.StrapsEven("rear")).Status)

	// One at the middle holds both sides.
	_, tr = moved(t, armText+strapAt("middle", 20, "370"))
	assert.Equal(t, "the middle strap", tr.Held)
}

// The longest strap rests on the slip joint, and does not go without it.
func TestTheLongestStrapWantsTheSlipJoint(t *testing.T) {
	r, tr := moved(t, withStraps(strings.Replace(armText, "slip_open = 1340\n", "", 1), "370"))
	assert.Equal(t, "line.rear.shaft.1.slip_open is not in the file yet", tr.Straps[0].Longest.Why)
	assert.Equal(t, finding.NotKnown, findingOf(t, r, finding.StrapLength("rear", "left")).Status)
}

// Dampers that are drawn out before a strap is taut end the droop.
func TestDampersThatComeFirst(t *testing.T) {
	damper := "[pickup.rear]\ncarried = \"axle\"\nline = \"rear\"\n"
	for _, side := range []string{"left", "right"} {
		y := map[string]string{"left": "-600", "right": "600"}[side]
		damper += "[pickup.rear." + side + ".damper]\nlower = [3060, " + y + ", -60]\nupper = [3040, " + y + ", 250]\nopen = 340\n"
	}
	_, tr := moved(t, withStraps(armText, "370")+damper)
	assert.Contains(t, tr.Held, "dampers")
	assert.InDelta(t, 30, -tr.Points[0].Rise, 3)
	_, tr = moved(t, withStraps(armText, "330")+damper)
	assert.Equal(t, "its straps", tr.Held)
	_, tr = moved(t, armText+damper)
	assert.InDelta(t, -120, tr.Points[0].Rise, 1e-9, "without straps the droop is what was measured")
}

// The droop that straps are to leave.
func TestTheDroopThatStrapsLeave(t *testing.T) {
	text := strings.Replace(withStraps(armText, "370"), "droop = 120", "droop = 120\nleast_droop = 70", 1)
	r, _ := moved(t, text)
	f := findingOf(t, r, finding.StrapsDroop("rear"))
	assert.Equal(t, finding.Over, f.Status)
	assert.Equal(t, quantity.Length, f.Kind)
	r, _ = moved(t, strings.Replace(text, "length = 370", "length = 400", 2))
	assert.Equal(t, finding.OK, findingOf(t, r, finding.StrapsDroop("rear")).Status)
}

// A joint that is past its angle at ride height already is mended by no strap.
func TestNoStrapMendsRideHeight(t *testing.T) {
	_, tr := moved(t, "[[line.rear.joint]]\nmax_angle = \"1 deg\"\n[[line.rear.joint]]\n"+withStraps(armText, "370"))
	assert.Equal(t, "joint 1 is at 2.6° of 1.0° at ride height already, which no strap mends", tr.Straps[0].Longest.Why)
}
