package slip

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const deg = math.Pi / 180

var mm, in = Scale{1, "mm"}, Scale{inch, "in"}

// against is a test that a number stands when it is within a standard uncertainty or so
// of what is true.
func against(true_, u float64) func(v float64) (float64, bool) {
	return func(v float64) (float64, bool) { return (v - true_) / u, math.Abs(v-true_) < 3*u }
}

func kinds(all []Try) (out []Kind) {
	for _, t := range all {
		out = append(out, t.Kind)
	}
	return out
}

// Each slip in a length, as it is made by hand, is named for what it is.
func TestLengths(t *testing.T) {
	for _, c := range []struct {
		typed, is float64
		in        Scale
		want      Kind
	}{
		{4121, 4211, mm, Swapped},
		{1523.5, 1532.5, mm, Swapped},
		{1243, 1273.2, mm, Wrong},
		{1843, 1243, mm, Wrong},
		{1343, 1243, mm, Mark}, // of the tape, or of a digit: both are named
		{124.3, 1243, mm, Point},
		{12430, 1243, mm, Point},
		{143, 1243, mm, Miscounts},
		{12243, 1243, mm, Miscounts},
		{1243 * inch, 1243, in, Unit},
		{48.9, 48.9 * inch, mm, Unit},
		{84.25 * inch, 48.25 * inch, in, Swapped},
		{48.25 * inch, 49.25 * inch, in, Mark},
	} {
		t.Run(fmt.Sprint(c.typed, " for ", c.is), func(t *testing.T) {
			got := Likely(Lengths(c.typed, c.in), against(c.is, 0.3))
			require.NotEmpty(t, got)
			assert.Contains(t, kinds(got), c.want)
			assert.LessOrEqual(t, len(got), 2)
			for _, g := range got {
				assert.InDelta(t, c.is, g.Value, 0.9)
			}
		})
	}
}

func TestShown(t *testing.T) {
	for _, c := range []struct {
		typed, is float64
		want      Kind
	}{
		{4.2, 2.4, Swapped}, {85.2, 88.2, Wrong}, {0.42, 4.2, Point}, {42, 4.2, Point}, {4.24, 4.4, Minutes}, {3.4, 33.4, Miscounts},
	} {
		assert.Contains(t, kinds(Likely(Shown(c.typed*deg), against(c.is*deg, 0.02*deg))), c.want, "%v for %v", c.typed, c.is)
	}
}

// What no slip explains is not explained, and where a measurement is so rough that any
// digit would do, none is named.
func TestNothingIsMadeUp(t *testing.T) {
	assert.Empty(t, Likely(Lengths(1243, mm), against(1269.7, 0.2)))
	assert.Empty(t, Likely(Lengths(1243, mm), against(1246, 2)))
	assert.Empty(t, Likely(Lengths(1243, mm), func(float64) (float64, bool) { return 0, false }))
	assert.Empty(t, Text(nil, nil))
	got := Likely(Lengths(4121, mm), against(4211, 0.5))
	assert.Equal(t, "Likely two digits stand in each other's place: 4211.", Text(got[:1], func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }))
}

// Two digits of a number swapped, one replaced or one left out: among what is tried is
// the number that it was made of.
func TestADigitSlipIsAmongWhatIsTried(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		was := strconv.FormatFloat(float64(rapid.IntRange(100, 99999).Draw(t, "tenths"))/10, 'f', -1, 64)
		i := rapid.IntRange(0, len(was)-1).Draw(t, "at")
		b := []byte(was)
		switch rapid.IntRange(0, 2).Draw(t, "how") {
		case 0:
			if i+1 < len(b) && b[i] != '.' && b[i+1] != '.' {
				b[i], b[i+1] = b[i+1], b[i]
			}
		case 1:
			if b[i] != '.' {
				b[i] = byte('0' + rapid.IntRange(0, 9).Draw(t, "digit"))
			}
		default:
			if b[i] != '.' && strings.Trim(was, ".0") != string(b[i]) {
				b = append(b[:i:i], b[i+1:]...)
			}
		}
		typed, err := strconv.ParseFloat(string(b), 64)
		want, _ := strconv.ParseFloat(was, 64)
		if err != nil || typed == want || typed == 0 {
			return
		}
		for _, x := range Lengths(typed, mm) {
			if math.Abs(x.Value-want) < 1e-9 {
				return
			}
		}
		// A zero that stood at an end is not written any more.
		if string(b) == strconv.FormatFloat(typed, 'f', -1, 64) {
			t.Fatalf("%s for %s is not among what is tried", b, was)
		}
	})
}
