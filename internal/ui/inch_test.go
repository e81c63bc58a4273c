package ui

import (
	"regexp"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inchDemo is the demo as a build in inches.
func inchDemo(t *testing.T) []byte {
	t.Helper()
	f, err := project.Parse("demo", starter.Demo())
	require.NoError(t, err)
	edits, err := edit.SetUnits(f, "inch")
	require.NoError(t, err)
	f, err = edit.Apply(f, edits...)
	require.NoError(t, err)
	return f.Bytes()
}

var bareMM = regexp.MustCompile(`\d ?mm\b`)

// A builder who works in inches reads no mm, on any page.
func TestNoMillimetresInAnInchBuild(t *testing.T) {
	t.Parallel()
	d := drive(t, inchDemo(t), 160, 50)
	look := func(where string) {
		for _, l := range strings.Split(d.screen(), "\n") {
			assert.False(t, bareMM.MatchString(l), "%s: %s", where, l)
		}
	}
	for _, p := range []string{"1", "2", "3", "5"} {
		d.keys(p)
		for range 4 {
			look("pane " + p)
			d.keys("]")
		}
	}
	d.keys("f")
	for range 12 {
		look("findings")
		d.keys("pgdown")
	}
	d.keys("esc", "2", "right", ",", ".")
	look("after an edit")
}

// A bare number typed over a spelling in mm is the number that was typed.
func TestTypedOverAForeignSpelling(t *testing.T) {
	t.Parallel()
	d := drive(t, inchDemo(t), 120, 36).toRow(5).keys("enter", "text:10.5", "enter")
	assert.Empty(t, d.m.dialogs, d.screen())
	assert.Equal(t, `"10.5 in"`, d.raw("placement.setback"))
	v, _ := d.m.now.Build.Placement.Setback.Get()
	assert.InDelta(t, 10.5*25.4, v, 1e-9)
}

// A number ten times what stands there is asked about, a fraction in a metric
// file is not taken for mm.
func TestOddNumbersAreAskedAbout(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).toRow(5).keys("enter", "text:2600", "enter")
	require.Len(t, d.m.dialogs, 2)
	assert.Contains(t, d.screen(), "2600.0 mm is 10 times what stands there now, 260.0 mm")
	assert.Equal(t, "260", d.raw("placement.setback"))
	d.keys("esc")
	assert.Equal(t, "260", d.raw("placement.setback"))
	assert.Contains(t, d.screen(), "> 2600", "it stays typed")
	d.keys("enter", "y")
	assert.Empty(t, d.m.dialogs)
	assert.Equal(t, "2600", d.raw("placement.setback"))
	d.keys("u", "enter", "text:16 3/8", "enter")
	assert.Contains(t, d.screen(), `which, as in "16 3/8 in"`)
	assert.Equal(t, "260", d.raw("placement.setback"))
}

// Who writes fractions of an inch reads them, wherever a length stands on the rule;
// who writes decimals reads decimals.
func TestFractionsOfAnInchWhereTheBuilderUsesThem(t *testing.T) {
	t.Parallel()
	src := string(inchDemo(t))
	decimals := drive(t, []byte(src), 100, 40)
	assert.NotRegexp(t, `\d/\d+ in`, decimals.screen())
	src = regexp.MustCompile(`(?m)^rear = "?-.*$`).ReplaceAllString(src, `rear = "-11-3/8"`)
	d := drive(t, []byte(src), 100, 40).keys("2")
	assert.Contains(t, d.screen(), "-11-3/8 in")
	assert.Contains(t, d.screen(), "step 1/32 in")
	d.keys("down", "down", "right")
	assert.Contains(t, d.screen(), "-11-11/32 in")
	assert.Contains(t, d.m.message.text, "-11-3/8 in → -11-11/32 in")
}

// A length is written with a fraction or it is not, whatever else has a stroke.
func TestFractionsInAFile(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		"": false,
		"[vehicle]\nwheelbase = \"101-3/4\"\nname = \"x\"\n":      true,
		"rear = \"-11 3/8 in\"":                                   true,
		"offset = \"1/2 left\"\n":                                 true,
		"# half = \"1/2\"\nname = \"on/off\"\nnote = \"1/3\"\n":   false,
		"name = \"1/2 of it\"\nat = [1, 2, \"7/16\"]\n":           true,
		"name = \"x\" # \"1/2\"\ntyre = \"31/10.5\"\nb = \"3\"\n": false,
		"a/b\n\"1/2\"\n=\"":                                       false,
		"a = \"8\"\n=\n\"1/2\"":                                   false,
	} {
		assert.Equal(t, want, WritesFractions(text), text)
	}
}
