package driveline

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/example"
	"fitup/internal/project/starter"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// threeJoints is a line given by points, its first shaft with crossed yokes, with
// nothing said about its suspension, and a line of which hardly anything is known.
const threeJoints = `format = 1
[line.rear]
speed = "3000 rpm"
[line.rear.first]
slope = "4 deg down to the rear"
[[line.rear.joint]]
at = [0, 0, 0]
[[line.rear.joint]]
at = [600, 0, -20]
[[line.rear.joint]]
at = [1500, 0, -60]
[[line.rear.shaft]]
phase = "crossed"
[line.rear.pinion]
slope = "1 deg down to the rear"
[line.front]
toward = "front"
[line.front.pinion]
`

func view(t *testing.T, text string) pane.View {
	t.Helper()
	f, err := project.Parse("build.toml", []byte(text))
	require.NoError(t, err)
	th, err := theme.New("plain", theme.Unicode())
	require.NoError(t, err)
	return pane.View{A: assess.Run(f.Build), Theme: th, Focused: true}
}

func builds() map[string]string {
	return map[string]string{"demo": string(starter.Demo()), "starter": string(starter.New()), "three joints": threeJoints, "bare": "format = 1\n"}
}

// Every row can be reached and is then on show, and nothing is drawn beyond the
// pane, down to 36 columns and 6 rows.
func TestEveryRowIsReachedAtEverySize(t *testing.T) {
	for name, text := range builds() {
		v := view(t, text)
		for leaf := range leaves {
			for _, s := range [][2]int{{36, 6}, {36, 22}, {44, 10}, {58, 14}, {78, 10}, {138, 40}, {200, 7}} {
				t.Run(fmt.Sprintf("%s %s %dx%d", name, New().Pages[leaf].Name, s[0], s[1]), func(t *testing.T) {
					p := New()
					p.Show(leaf)
					var stops []int
					if len(v.A.Lines) > 0 {
						stops = pane.Stops(p.Pages[leaf].Items(s[0], v))
					}
					for i := range max(len(stops), 1) {
						f := p.Draw(s[0], s[1], v)
						require.LessOrEqual(t, len(f.Text), s[1])
						marks := 0
						for _, l := range f.Text {
							require.LessOrEqual(t, theme.Width(l), s[0], l)
							if strings.HasPrefix(l, v.Theme.Pointer()) {
								marks++
							}
						}
						require.Equal(t, min(len(stops), 1), marks, "row %d:\n%s", i, strings.Join(f.Text, "\n"))
						p.Key(pane.Down, v)
					}
				})
			}
		}
	}
}

func TestTitleFitsItsPane(t *testing.T) {
	one, two := view(t, string(starter.Demo())), view(t, threeJoints)
	for _, c := range []struct {
		v           pane.View
		w           int
		title, note string
	}{
		{one, 36, "Driveline: [angles] travel shaft", ""},
		{one, 35, "Driveline: angles (1 of 3)", ""},
		{one, 10, "Driveline: angles (1 of 3)", ""},
		{two, 56, "Driveline: [angles] travel shaft", "rear line, 1 of 2"},
		{two, 52, "Driveline: [angles] travel shaft", "rear, 1 of 2"},
		{two, 46, "Driveline: [angles] travel shaft", "1 of 2"},
		{two, 39, "Driveline: angles (1 of 3)", "1 of 2"},
		{two, 36, "Driveline: angles", "rear, 1 of 2"},
	} {
		p := New()
		title, note := p.Title(c.w, c.v)
		assert.Equal(t, c.title, title, c.w)
		assert.Equal(t, c.note, note, c.w)
		if c.w >= 36 {
			bar := c.v.Theme.Bar(c.w+2, "3 "+title, note, true)
			assert.Contains(t, bar, "3 "+c.title+" ")
			assert.Contains(t, bar, note)
		}
	}
}

// Two joints of which nothing is asked together have no row, and so no verdict.
func TestNoRowWithoutAFinding(t *testing.T) {
	v := view(t, threeJoints)
	p := New()
	text := strings.Join(p.Draw(60, 60, v).Text, "\n")
	assert.NotContains(t, text, "1 less 2")
	assert.Contains(t, text, "2 less 3")
	for _, name := range []string{"joint 1", "joint 2", "joint 3", "at the axle", "1 driving", "2 coasting"} {
		assert.Contains(t, text, "\n  "+name)
	}
}

// An axis read by tape shows that the tape disagrees with the model, also where
// its slope agrees.
func TestTapeThatDisagreesIsShown(t *testing.T) {
	text := strings.ReplaceAll(example.TwoEnds, "format = 1", "format = 3") + `[[reading]]
of = "line.rear.shaft.1"
on = "along"
shown = "0 deg"
[[reading]]
of = "line.rear.shaft.1"
aside = "%s"
over = "1000 mm"
`
	for aside, want := range map[string]string{"60 mm right": "the tape contradicts the model", "1 mm right": "near each other"} {
		v := view(t, fmt.Sprintf(text, aside))
		l := &v.A.Lines[0]
		it := slope(60, l.Axes[1].Target, l.Axes[1], v)
		assert.Contains(t, strings.Join(it.Advice, "\n"), want)
		assert.Equal(t, strings.Contains(want, "contradicts"), strings.Contains(it.Text[0], "disagrees"), "%s: %s", aside, it.Text[0])
	}
}

// A label too long for the pane runs over several lines and is whole.
func TestSheetKeepsLabelsWhole(t *testing.T) {
	v := view(t, string(starter.Demo()))
	for w := 34; w < 100; w++ {
		p := New()
		p.Show(shaft)
		text := strings.Join(strings.Fields(strings.Join(p.List(w, 1000, p.Pages[shaft].Items(w, v), v), " ")), " ")
		for _, r := range v.A.Lines[0].Order() {
			label := strings.Join(strings.Fields(r.Label), " ")
			require.Contains(t, text, label, "%d wide", w)
		}
		require.NotContains(t, text, v.Theme.Ellipsis, "%d wide", w)
	}
}

func TestFootSaysThatItIsCut(t *testing.T) {
	v := view(t, "format = 1\n")
	long := []string{strings.Repeat("word ", 40)}
	for w := 10; w < 60; w++ {
		for room := range 5 {
			out := pane.Foot{}.Draw(w, room, long, v)
			require.LessOrEqual(t, len(out), room)
			for i, l := range out {
				require.LessOrEqual(t, theme.Width(l), w)
				require.Equal(t, i == len(out)-1, strings.HasSuffix(l, v.Theme.Ellipsis), "%q", out)
			}
		}
	}
	assert.Equal(t, []string{"  short"}, pane.Foot{}.Draw(20, 2, []string{"short"}, v))
}

// The best yoke offset is shown only where it would bring the line within its
// limit.
func TestBestYokeIsShownWhereItHelps(t *testing.T) {
	v := view(t, threeJoints)
	l := &v.A.Lines[0]
	f, ok := v.A.Finding("line.rear.residual")
	require.True(t, ok)
	require.NotEmpty(t, l.Planned.Best)
	f.Limit = 1e9
	assert.Len(t, bestYokes(60, l, f, v), len(l.Planned.Best))
	f.Limit = -1
	assert.Empty(t, bestYokes(60, l, f, v))
}

// One line says how planned and measured agree: by the worst of them, and whether marks
// bear the readings out.
func TestOneLineSaysHowPlannedAndReadAgree(t *testing.T) {
	text := func(src string) string {
		v := view(t, src)
		out := ""
		for _, it := range anglesItems(60, &v.A.Lines[0], v) {
			out += strings.Join(it.Text, " ") + "\n"
		}
		return out
	}
	assert.Contains(t, text(example.Marked), "planned and read agree within 0.")
	assert.Contains(t, text(example.Marked), "marks bear it out")
	assert.Contains(t, text(example.Marked), "it hangs where planned, as measured")
	raised := text(strings.Replace(example.Marked, "rear = -184", "rear = -150", 1))
	assert.Contains(t, strings.Join(strings.Fields(raised), " "), "° more down to the rear than planned")
	plain, _, _ := strings.Cut(example.Marked, "[[measure]]")
	assert.NotContains(t, text(plain), "marks")
	wrong := strings.Replace(plain, "shown = \"86.5 deg\"\nlower = \"rear\"", "shown = \"86.5 deg\"\nlower = \"front\"", 1)
	assert.Contains(t, text(wrong), "planned and read disagree: 7.00° at pinion")
	assert.Contains(t, text(strings.Replace(example.Marked, "shown = \"86 deg\"\nlower = \"rear\"", "shown = \"86 deg\"\nlower = \"front\"", 1)), "readings and marks do not fit each other")
	assert.NotContains(t, text(threeJoints), "planned and read")
}
