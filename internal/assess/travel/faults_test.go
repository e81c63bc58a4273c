package travel

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBindingIsReported(t *testing.T) {
	for name, text := range map[string]string{
		"leaf":          leafText,
		"trailing arms": armText,
		"links":         linkText,
	} {
		t.Run(name, func(t *testing.T) {
			a, tr := moved(t, strings.Replace(text, "bump = 80", "bump = 1500", 1))
			require.Empty(t, tr.Why)
			f := findingOf(t, a, "line.rear.travel.reach")
			assert.Equal(t, finding.Over, f.Status)
			require.NotEmpty(t, tr.Reach.Binds)
			assert.Less(t, tr.Reach.Bump, 1500.0)
			assert.Greater(t, tr.Reach.Bump, 80.0)
			assert.InDelta(t, tr.Reach.Bump+tr.Reach.Droop, f.Value, 1e-9)
			assert.Contains(t, f.Advice(), fmt.Sprintf("%.1f mm of bump", tr.Reach.Bump))
			assert.Less(t, len(tr.Points), travelSteps)
		})
	}
}

// Five links that do not agree strain their bushes.
func TestStrainOfLinks(t *testing.T) {
	text := linkText + `
[[line.rear.suspension.link]]
name = "lateral"
chassis = [3100, -420, -20]
axle = [3100, 400, -60]
`
	a, tr := moved(t, strings.Replace(text, "droop = 100", "droop = 100\ngive = 40", 1))
	require.Empty(t, tr.Why)
	f := findingOf(t, a, "line.rear.travel.strain")
	assert.Equal(t, finding.OK, f.Status)
	assert.Greater(t, f.Value, 1.0)
	assert.Equal(t, 40.0, f.Limit)

	a, tr = moved(t, strings.Replace(text, "droop = 100", "droop = 100\ngive = 1", 1))
	require.Empty(t, tr.Why)
	assert.Equal(t, finding.Over, findingOf(t, a, "line.rear.travel.reach").Status, "more than the give binds")
}

func TestMissingKeysOfTheTravelAreNamed(t *testing.T) {
	for text, keys := range map[string][]string{
		leafText: {"kind", "bump", "droop", "axle", "fixed_eye", "seat", "shackle_eye", "shackle_pivot", "clamped", "leaves"},
		armText:  {"kind", "bump", "droop", "axle", "at"},
		linkText: {"kind", "bump", "droop", "axle", "chassis"},
	} {
		for _, key := range keys {
			a, tr := moved(t, without(text, key))
			var want string
			switch key {
			case "at":
				want = "line.rear.suspension.pivot.2.at"
			case "chassis":
				want = "line.rear.suspension.link.1.chassis"
			default:
				want = "line.rear.suspension." + key
			}
			assert.Contains(t, tr.Why, want)
			assert.Contains(t, tr.Why, "not in the file yet")
			require.Equal(t, axleFindings, ids(a), key)
			for _, f := range a.Findings {
				assert.Equal(t, finding.NotKnown, f.Status, f.ID)
				assert.Equal(t, tr.Why, f.Missing, f.ID)
				assert.False(t, f.HasValue, f.ID)
			}
		}
	}
	a, tr := moved(t, without(leafText, "slip_open"))
	assert.Empty(t, tr.Why)
	assert.Equal(t, finding.OK, findingOf(t, a, "line.rear.travel.slip.bottom").Status)
	f := findingOf(t, a, "line.rear.travel.slip.pull")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, "line.rear.shaft.1.slip_open is not in the file yet", f.Missing)
}

func TestNoSuspensionHasNoTravel(t *testing.T) {
	a, tr := moved(t, slipLengths)
	assert.Nil(t, tr)
	assert.Empty(t, a.Findings)
	var l finding.List
	tr.Values("line.rear", &l)
	assert.Empty(t, l)
}

func TestALineThatIsNotPlannedYet(t *testing.T) {
	b, l := lineOf(t, leafText)
	why := "line.rear.pinion.at is not in the file yet"
	a := Prepare(b, l, finding.Maybe[End]{}, finding.Estimate{}, nil).At(Place{PlanWhy: why})
	assert.Equal(t, axleFindings, ids(a))
	for _, f := range a.Findings {
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Equal(t, why, f.Missing)
	}
}

func TestSuspensionThatCannotBe(t *testing.T) {
	for text, want := range map[string]string{
		strings.Replace(leafText, "seat = [3050", "seat = [3900", 1):                                                                                                  "between the eyes",
		strings.Replace(strings.Replace(armText, "bump = 80", "bump = 0", 1), "droop = 120", "droop = 0", 1):                                                          "no travel",
		strings.Replace(armText, "at = [2250, 450, -30]", "at = [2250, 450, -30]\n[[line.rear.suspension.pivot]]\nname = \"mid\\u001b[31m\"\nat = [2300, 0, -30]", 1): "mid·[31m",
	} {
		a, tr := moved(t, text)
		assert.Contains(t, tr.Why, want)
		for _, f := range a.Findings {
			assert.Equal(t, finding.NotKnown, f.Status, f.ID)
		}
	}
}

func TestExtreme(t *testing.T) {
	e := Extreme{Value: 2, Rise: -30}
	e.Most(Extreme{Value: 2, Rise: 10, Under: "coasting"})
	assert.Equal(t, "at 30.0 mm of droop", e.Where(quantity.Metric()), "of two alike the first stays")
	e.Most(Extreme{Value: 2.1, Rise: 10, Under: "coasting"})
	assert.Equal(t, "at 10.0 mm of bump, coasting", e.Where(quantity.Metric()))
}
