package propose_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/uncertain/coverage"

	"gonum.org/v1/gonum/spatial/r3"
)

// aimedKind is a kind of build in which proposals are looked for.
type aimedKind struct {
	name  string
	draw  func(dice *rand.Rand) (truth string, read func(dice *rand.Rand) string, err error)
	moves map[string][2]float64 // how far to either side, and in which steps
	hold  [][2]string           // findings that may be held, each with the key of its limit
}

// few is the same with a ± on fewer numbers: what counts a case is a search, and that takes
// as long as there are of them.
var few = regexp.MustCompile(`"<(-?[\d.]+) ± [\d.]+ mm>"`).ReplaceAllStringFunc(onThreePads, func() func(string) string {
	n := 0
	return func(s string) string {
		if n++; n%3 == 0 {
			return s
		}
		return coverage.InBrackets.ReplaceAllString(s, "$1$3")
	}
}())

// twoShafts is a line with a bearing between its two shafts.
var twoShafts = strings.Replace(few, "[[line.rear.shaft]]\nphase = \"in phase\"\n", `[[line.rear.joint]]
[[line.rear.joint]]
at = BEARING
[[line.rear.joint]]
[[line.rear.shaft]]
phase = "in phase"
[[line.rear.shaft]]
phase = "in phase"
`, 1)

func aimedKinds() []aimedKind {
	const degree = math.Pi / 180
	moves := map[string][2]float64{"placement.rear": {4, 4}, "line.rear.pinion.slope": {degree / 2, degree / 2}}
	return []aimedKind{
		{"by numbers", func(dice *rand.Rand) (string, func(*rand.Rand) string, error) {
			truth, read := coverage.Marked(few)(dice)
			return truth, read, nil
		}, moves, holdable},
		{"by readings", byReadings, moves, holdable},
		{"a bearing by the survey", bearingBySurvey, map[string][2]float64{"placement.rear": {4, 4}, "line.rear.joint.2.at.height": {5, 5}},
			append([][2]string{{"line.rear.joint.3.max", "joint_max"}, {"line.rear.joint.3.min", "joint_min"}, {"line.rear.shaft.2.mismatch", "mismatch"}}, holdable...)},
	}
}

// byReadings are the same numbers, with the slopes of powertrain, shaft and pinion read by
// a gauge that is off by as much as it says.
func byReadings(dice *rand.Rand) (string, func(*rand.Rand) string, error) {
	truth, numbers := coverage.Marked(few)(dice)
	b, err := built(truth, nil)
	if err != nil {
		return "", nil, err
	}
	is := assess.Run(b)
	accuracy, repeat := 0.05+0.15*dice.Float64(), 0.03+0.07*dice.Float64()
	return truth, func(dice *rand.Rand) string {
		text := numbers(dice)
		as, err := built(text, nil)
		if err != nil {
			return text
		}
		p := &as.Placement
		var s strings.Builder
		fmt.Fprintf(&s, "%s[gauge]\naccuracy = \"%g deg\"\nrepeat = \"%g deg\"\n", text, accuracy, repeat)
		for i, of := range []string{"powertrain", "line.rear.shaft.1", "line.rear.pinion"} {
			v := is.Lines[0].Axes[i].Planned.V*180/math.Pi + coverage.Either(dice, accuracy) + coverage.Either(dice, repeat)
			lower := "rear"
			if v < 0 {
				lower = "front"
			}
			fmt.Fprintf(&s, "[[reading]]\nof = %q\non = \"along\"\nshown = \"%.9f deg\"\nlower = %q\nafter = \"hung\"\nplaced = { left_front = %.9f, right_front = %.9f, rear = %.9f, setback = %.9f }\n",
				of, math.Abs(v), lower, p.LeftFront.Or(0), p.RightFront.Or(0), p.Rear.Or(0), p.Setback.Or(0))
		}
		return s.String()
	}, nil
}

// bearingBySurvey is a line whose bearing stands where a survey finds it, by tapes that are
// off by as much as their tool says.
func bearingBySurvey(dice *rand.Rand) (string, func(*rand.Rand) string, error) {
	text, numbers := coverage.Marked(twoShafts)(dice)
	at := r3.Vec{X: 2250 + coverage.Either(dice, 5), Y: coverage.Either(dice, 5), Z: 10 + coverage.Either(dice, 15)}
	held := []r3.Vec{{X: -450, Y: -380}, {X: -450, Y: 380}, {X: 4300, Y: -389, Z: 12}}
	truth := strings.Replace(text, "BEARING", fmt.Sprintf("[%.9f, %.9f, %.9f]", at.X, at.Y, at.Z), 1)
	half := 0.5 + dice.Float64()
	return truth, func(dice *rand.Rand) string {
		var s strings.Builder
		fmt.Fprintf(&s, "%s[tool.rule]\naccuracy = \"%g mm\"\n[survey]\ndatum = \"points\"\npoints = [\"point.a\", \"point.b\", \"point.c\"]\n[point.bearing]\n", strings.Replace(numbers(dice), "BEARING", `"point.bearing"`, 1), half)
		for i, p := range held {
			fmt.Fprintf(&s, "[point.%c]\nstation = %g\noffset = %g\nheight = %g\n", 'a'+i, p.X, p.Y, p.Z)
		}
		for i, p := range held {
			fmt.Fprintf(&s, "[[measure]]\nfrom = \"point.%c\"\nto = \"point.bearing\"\nas = \"distance\"\nwith = \"tool.rule\"\nlengths = [%.9f]\nafter = \"hung\"\n", 'a'+i, r3.Norm(r3.Sub(at, p))+coverage.Either(dice, half))
		}
		fmt.Fprintf(&s, "[[measure]]\nfrom = \"point.a\"\nto = \"point.bearing\"\nas = \"height\"\nwith = \"tool.rule\"\nlengths = [%.9f]\nafter = \"hung\"\n", at.Z-held[0].Z+coverage.Either(dice, half))
		return s.String()
	}, nil
}
