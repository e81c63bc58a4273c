package ui

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// badTape is something wrong that is measured of a frame, once written into the file and
// once typed into the form key by key.
type badTape struct {
	name    string
	base    string // the file without it
	of      string // between which points, as the form has it
	shows   string // what the tape shows, in the file and in the form
	refused string // what is said where it is not taken
	says    string // what the survey's fit says where it is
	suspect string // the only measurement that is named
	asks    string // of the unit
}

func frameFile(survey string, points []string, tapes ...string) string {
	var out strings.Builder
	out.WriteString("format = 3\n")
	for _, p := range points {
		fmt.Fprintf(&out, "[point.%s]\n", p)
	}
	out.WriteString("[survey]\n" + survey + "\n")
	for _, l := range tapes {
		of, shows, _ := strings.Cut(l, "=")
		out.WriteString(tapeRow(of, shows))
	}
	return out.String()
}

func tapeRow(of, shows string) string {
	from, to, _ := strings.Cut(of, " to ")
	return fmt.Sprintf("[[measure]]\nfrom = \"point.%s\"\nto = \"point.%s\"\nwith = \"tape\"\nlengths = [%s]\nafter = \"hung\"\n", from, to, shows)
}

const fourRails = "left = [\"point.lf\", \"point.lr\"]\nright = [\"point.rf\", \"point.rr\"]"

func badTapes() []badTape {
	four := []string{"lf", "rf", "lr", "rr"}
	sides := []string{"lf to rf=700", "lf to lr=2500", "rf to rr=2500", "lr to rr=700"}
	five := frameFile(fourRails, four, append(sides[:4:4], "rf to lr=2596.2")...)
	loose := frameFile(fourRails, four, sides...)
	ruler := make([]string, 500)
	var along []string
	for i := range ruler {
		if ruler[i] = fmt.Sprintf("p%d", i); 0 < i && i < 499 {
			along = append(along, fmt.Sprintf("p%d to p%d=60", i-1, i))
		}
	}
	held := "format = 3\n[point.lf]\nstation = 0\noffset = -350\nheight = 400\n[point.rf]\nstation = 0\noffset = 350\nheight = 400\n[point.a]\n[survey]\ndatum = \"points\"\npoints = [\"point.lf\", \"point.rf\"]\n"
	return []badTape{
		{name: "longer than the way by two others, one tape more than it takes", base: five, of: "lf to rr", shows: "4000", says: "lf to rr reads 1403.9 mm more", suspect: "lf to rr"},
		{name: "longer than the way by two others, no tape to spare", base: loose, of: "lf to rr", shows: "4000",
			says: "lf to rr reads 4000.0 mm, and the way by rf is only 3200.0 mm", suspect: "lf to rr"},
		{name: "longer than the way by two others, of three", base: frameFile("datum = \"free\"", []string{"a", "b", "c"}, "a to b=700", "b to c=2500"),
			of: "a to c", shows: "3206", says: "one of them is wrong, so measure a to c, a to b and b to c again"},
		{name: "ten times as long", base: five, of: "lf to rr", shows: "25962", says: "lf to rr reads 23365", suspect: "lf to rr", asks: "Likely it was typed ten times as long, in mm where the tape reads cm: 2596.2 mm"},
		{name: "a tenth as long", base: five, of: "lf to rr", shows: "259.6", says: "lf to rr reads 2336.", suspect: "lf to rr", asks: "Likely it was typed a tenth as long, in cm: 2596.0 mm"},
		{name: "ten times as long, no tape to spare", base: loose, of: "lf to rr", shows: "25962", says: "a tenth of it would fit at lf to rr", suspect: "lf to rr"},
		{name: "zero", base: five, of: "lf to rr", shows: "0", refused: "above zero"},
		{name: "negative", base: five, of: "lf to rr", shows: "-5", refused: "above zero"},
		{name: "not a length", base: five, of: "lf to rr", shows: `"3 deg"`, refused: "3 deg"},
		{name: "to itself", base: five, of: "lf to lf", shows: "5", refused: "nothing is measured from point.lf to itself"},
		{name: "a point that there is not", base: five, of: "lf to rx", shows: "2596.2", refused: "no [point.rx]"},
		{name: "two points for a plane", base: held + tapeRow("lf to a", "900"), of: "rf to a", shows: "900", says: "nothing checks"},
		{name: "five hundred points on one line", base: frameFile("datum = \"free\"", ruler, along...), of: "p498 to p499", shows: "60", says: "measure how far p"},
	}
}

// Whatever is wrong with a tape, it is refused where it stands, or it is named, and nothing
// that rests on it is called ok or given a place: from the file and from the form alike.
func TestBadTapesFromFileAndForm(t *testing.T) {
	t.Parallel()
	for _, c := range badTapes() {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			f, err := project.Parse("frame.toml", []byte(c.base+tapeRow(c.of, c.shows)))
			d := drive(t, []byte(c.base), 110, 60)
			d.keys("4", "z", "m", "text:"+c.of, "down", "down", "down", "text:"+strings.Trim(c.shows, `"`), "enter")
			if c.refused != "" {
				require.Error(t, err)
				assert.Contains(t, err.Error(), c.refused)
				assert.Regexp(t, `^frame\.toml:\d+:\d+: measure\.\d`, err.Error(), "where it stands")
				assert.Contains(t, d.m.message.text, c.refused)
				assert.Contains(t, d.screen(), "A measurement")
				require.Len(t, d.m.dialogs, 1, "what was typed stands there still")
				same(t, c.base, d.bytes())
				return
			}
			require.NoError(t, err)
			require.Empty(t, d.m.dialogs, d.m.message.text)
			c.found(t, assess.Run(f.Build))
			c.found(t, d.m.now)
			if c.asks != "" {
				assert.Contains(t, d.m.message.text, c.asks, "at once")
			}
			assert.Contains(t, flat(d), "survey")
		})
	}
}

func (c badTape) found(t *testing.T, a *assess.Assessment) {
	t.Helper()
	fit, ok := a.Finding(finding.SurveyFit)
	require.True(t, ok)
	text := fit.Advice()
	assert.Contains(t, text, c.says)
	assert.Contains(t, text, c.asks)
	var named []string
	for _, s := range a.Frame.Now.Suspects {
		named = append(named, s.Line.Name)
	}
	if c.suspect != "" {
		assert.Equal(t, []string{c.suspect}, named)
	}
	for _, f := range a.Findings {
		if f.By == finding.FrameTrade {
			assert.NotEqual(t, assess.OK, f.Status, f.ID)
			assert.NotEqual(t, assess.Tight, f.Status, f.ID)
		}
	}
	for _, p := range a.Frame.Now.Points() { // none stands where the bad tape put it
		for k, m := range p.Place {
			if truth, known := trueFrame[p.Name]; m.Known && known && k < 2 {
				assert.InDelta(t, truth[k], m.V, 2, "%s %d", p.Name, k)
			}
		}
	}
}

// trueFrame is where the points lie in truth, station and offset.
var trueFrame = map[string][2]float64{"lf": {0, -350}, "rf": {0, 350}, "lr": {2500, -350}, "rr": {2500, 350}}

// A point of a rail that no measurement names is said, and the rails are not judged by it,
// whether the file says so or the data page.
func TestAPointInNoMeasurement(t *testing.T) {
	t.Parallel()
	base := frameFile(fourRails, []string{"lf", "rf", "lr", "rr", "lx", "rx"}, "lf to rf=700", "lf to lr=2500", "rf to rr=2500", "lr to rr=700", "rf to lr=2596.2", "lf to rr=2596.2")
	d := drive(t, []byte(base), 110, 60)
	for _, side := range []string{"left", "right"} {
		d.keys("d")
		require.True(t, d.m.data.Go("survey."+side))
		d.keys("enter", "ctrl+u", "type:point."+side[:1]+"f; point."+side[:1]+"x; point."+side[:1]+"r", "enter")
		if d.m.data != nil {
			d.keys("d")
		}
	}
	require.Len(t, d.m.now.Build.Survey.Left, 3, d.m.message.text+d.bytes())
	f, err := project.Parse("frame.toml", []byte(d.bytes()))
	require.NoError(t, err)
	for _, a := range []*assess.Assessment{assess.Run(f.Build), d.m.now} {
		square, _ := a.Finding(finding.FrameSquare)
		assert.Equal(t, assess.NotKnown, square.Status)
		assert.Contains(t, square.Missing, "nothing is measured to lx")
		assert.Contains(t, strings.Join(a.Frame.Now.Assumes, "\n"), "lx and rx have no place by this survey: no measurement names them")
	}
}
