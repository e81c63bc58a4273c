package assess

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var triple = regexp.MustCompile(`\[(-?[\d.]+), (-?[\d.]+), (-?[\d.]+)\]`)

// allBySurvey is a file with every point in vehicle axes named, and a survey of them all.
func allBySurvey(t *testing.T, text string) string {
	t.Helper()
	points := []surveyedPoint{
		{"l1", r3.Vec{X: -500, Y: -300}, true}, {"r1", r3.Vec{X: -500, Y: 300}, true}, {"l3", r3.Vec{X: 4400, Y: -300, Z: 12}, true},
	}
	lines := strings.Split(text, "\n")
	table := ""
	for i, line := range lines {
		if strings.HasPrefix(line, "[") {
			table = line
		}
		key, _, ok := strings.Cut(line, " =")
		if !ok || strings.HasPrefix(table, "[powertrain") || strings.HasPrefix(table, "[[powertrain") || strings.HasPrefix(table, "[old_powertrain") || key == "normal" || key == "lengths" || key == "output" && strings.Contains(table, "half_shaft") {
			continue
		}
		lines[i] = triple.ReplaceAllStringFunc(line, func(s string) string {
			var at [3]float64
			for k, v := range triple.FindStringSubmatch(s)[1:] {
				at[k], _ = strconv.ParseFloat(v, 64)
			}
			name := fmt.Sprintf("p%d", len(points))
			for _, p := range points {
				if p.at == (r3.Vec{X: at[0], Y: at[1], Z: at[2]}) {
					return `"point.` + p.name + `"`
				}
			}
			points = append(points, surveyedPoint{name, r3.Vec{X: at[0], Y: at[1], Z: at[2]}, false})
			return `"point.` + name + `"`
		})
	}
	return strings.Join(lines, "\n") + surveyOf(points, none)
}

// What the survey leaves open of its points reaches every finding: each of its errors
// at either end changes none by more than its ±, and that is not much more than all of
// them together.
func TestEveryErrorOfTheSurveyReachesEveryFinding(t *testing.T) {
	wider := map[string]int{}
	for name, text := range map[string]string{"demo": unsurveyed(t), "across": example.Rare()["across"], "rated line": example.Rare()["rated line"]} {
		f, err := project.Parse(name, []byte(allBySurvey(t, text)))
		require.NoError(t, err, name)
		ready := Prepare(f.Build)
		require.Empty(t, ready.Build.Unplaced(), name)
		require.NotEmpty(t, ready.places.shifts, name)
		a := ready.at(ready.Build, Everything)
		plain := ready.besideNothing().at(ready.Build, Everything)
		square := map[string]float64{}
		for i, s := range ready.places.shifts {
			if !inturn.Try(t, i, 8) {
				continue
			}
			for _, end := range []float64{-2, 2} {
				moved := ready.prepareBeside(ready.Build.WithPlaces(ready.places.moved(s, end)), reach{parts: judged, axes: true})
				at := moved.at(moved.Build, Everything)
				for _, f := range plain.Findings {
					g, ok := at.Finding(f.ID)
					if !ok || !f.HasValue || !g.HasValue {
						continue
					}
					by := math.Abs(g.Value - f.Value)
					if f.HasLimit { // a size near zero is open to one side only
						by = max(0, f.Margin-g.Margin)
					}
					square[f.ID] += by * by / 2
					opened, _ := a.Finding(f.ID)
					if by > 1e-6*max(1, math.Abs(f.Value)) {
						assert.GreaterOrEqual(t, opened.Uncertainty, 0.9*by, "%s: %s: %g becomes %g", name, f.ID, f.Value, g.Value)
					}
				}
			}
		}
		for _, f := range a.Findings {
			was, _ := plain.Finding(f.ID)
			if all := math.Sqrt(square[f.ID]); all > 1e-6 && f.Uncertainty > was.Uncertainty {
				wider[fmt.Sprint(f.By)+" "+moving(f.ID)]++
				if !inturn.Whole() {
					continue
				}
				assert.LessOrEqual(t, f.Uncertainty, 1.5*math.Hypot(all, was.Uncertainty), "%s: %s", name, f.ID)
			}
		}
	}
	for _, what := range []finding.Trade{finding.LineTrade, finding.TravelTrade, finding.ClearTrade, finding.BracketTrade} {
		assert.Positive(t, wider[fmt.Sprint(what)+" "], what)
	}
	assert.Positive(t, wider[fmt.Sprint(finding.ClearTrade)+" moving"])
}

func moving(id string) string {
	if finding.Matches(finding.Moving(finding.Clearance("*")), id) {
		return "moving"
	}
	return ""
}
