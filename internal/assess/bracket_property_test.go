package assess_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever numbers stand in the file, every value is a number, every finding on
// a bracket that is not ok says why, and the other side never panics.
func TestBracketsOfAnyNumbers(t *testing.T) {
	num := rapid.OneOf(rapid.Float64Range(-500, 500), rapid.SampledFrom([]float64{0, 1e-7, 1e5, -1e5, 380, -380, -75}))
	positive := rapid.OneOf(rapid.Float64Range(0, 200), rapid.SampledFrom([]float64{0, 1e-9, 1e5}))
	cut, refused := 0, 0
	defer func() {
		require.Greater(t, cut, 5, "hardly any of the legs could be cut; %d files were refused", refused)
	}()
	rapid.Check(t, func(t *rapid.T) {
		point := func(name string) string {
			return fmt.Sprintf("[%g, %g, %g]", num.Draw(t, name), num.Draw(t, name), num.Draw(t, name))
		}
		var leg []string
		maybe := func(line string) {
			if rapid.IntRange(0, 4).Draw(t, "has") == 0 {
				leg = append(leg, line)
			}
		}
		close := func(name string, x, y, z float64) string {
			off := rapid.Float64Range(-100, 100)
			return fmt.Sprintf("[%g, %g, %g]", x+off.Draw(t, name), y+off.Draw(t, name), z+off.Draw(t, name))
		}
		maybe("pad = " + close("pad", 300, -250, -75))
		maybe("foot = " + close("foot", 300, -380, -75))
		maybe("pad_normal = " + point("normal"))
		maybe("rail_normal = " + point("rail normal"))
		maybe("mark = " + point("mark"))
		maybe("up = " + point("up"))
		maybe(fmt.Sprintf("foot_drop = %g", positive.Draw(t, "drop")))
		maybe(fmt.Sprintf("header = %g\nheader_from = %s\nheader_to = %s", 1+positive.Draw(t, "header"), point("from"), point("to")))
		maybe(fmt.Sprintf("rail_plate = { thickness = %g, width = %g, height = %g, flange = %g, hole = %g, across = %g, pitch_across = %g, pitch_high = %g }",
			positive.Draw(t, "t"), positive.Draw(t, "w"), positive.Draw(t, "h"), positive.Draw(t, "f"), positive.Draw(t, "d"),
			math.Floor(positive.Draw(t, "n")/20), positive.Draw(t, "p"), positive.Draw(t, "q")))
		maybe("bolts = { thread = \"M10\", class = \"8.8\" }")
		maybe(fmt.Sprintf("weld = { size = %g }", positive.Draw(t, "weld")))
		section := rapid.SampledFrom([]string{"SHS 50x50x3 cold", "CHS 48.3x3", "PFC 100x50x10"}).Draw(t, "section")
		text := strings.Replace(example.Legs(example.Weighs+"\ntorque = 300\ngears = [4]\nreverse = 4", strings.Join(leg, "\n"),
			example.OtherLeg+"[mount.right_front.built]\npad = "+close("built", 300, 200, -75)+"\nfoot = "+point("built foot")+"\n[[stock]]\nsection = \"CHS 48.3x3\"\nlength = 500\n"),
			"SHS 50x50x3 cold", section, 1)
		f, err := project.Parse("any.toml", []byte(text))
		if err != nil {
			refused++
			return // refused at the edge
		}
		a := assess.Run(f.Build)
		for _, v := range a.Values() {
			require.False(t, math.IsNaN(v.V) || math.IsInf(v.V, 0), v.Name)
		}
		for _, f := range a.Findings {
			if f.Status != assess.OK {
				require.NotEmpty(t, f.Advice(), f.ID)
			}
		}
		for i := range a.Brackets {
			if a.Brackets[i].HasCut {
				cut++
			}
			_, _ = a.Brackets[i].Wraps(24)
			require.Equal(t, a.Brackets[i].HasCut, a.Brackets[i].Why == "")
		}
	})
}
