package book

import (
	"strings"
	"testing"
	"unicode"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// legs are two legs 180 mm from pad to rail that rise 75 mm, the right rail 6 mm
// farther out. Made up for these tests.
const legs = `
format = 1
name = "shed\u001b[2J build"
[vehicle]
name = "flat\u202ebed"
[rails.left]
points = [[-500, -380, 0], [2000, -380, 0]]
height = 150
[rails.right]
points = [[-500, 386, 0], [2000, 386, 0]]
height = 150
[powertrain.pads]
left_front = [0, -200, 0]
right_front = [0, 200, 0]
rear = [1200, 0, 0]
[placement]
left_front = -35
right_front = -35
rear = -35
setback = 300
[mount.left_front.leg]
section = "SHS 50x50x3 cold"
standing = 40
foot_drop = 0
[mount.right_front.leg]
match = "left_front"
[mount.right_front.built]
pad = [300.3, 200.4, -75]
[[stock]]
section = "SHS 50x50x3 cold"
length = 500
[shop]
kerf = 2
`

// round is a round leg on a round crossmember, cut square at neither end.
const round = `
format = 1
[mount.left_front.leg]
section = "CHS 42.4x2.6"
pad = [300, -200, -75]
pad_facing = "down"
header = 60.3
header_from = [300, -300, -400]
header_to = [300, 300, -400]
foot = [300, -100, -400]
`

func assessed(t testing.TB, text string) *assess.Assessment {
	t.Helper()
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	return assess.Run(f.Build)
}

// row finds a row of any table of a sheet by its first cell.
func row(t *testing.T, s Sheet, head, label string) []string {
	t.Helper()
	for _, sec := range s.Sections {
		for _, it := range sec.Items {
			if sec.Head != head || it.Table == nil {
				continue
			}
			for _, r := range it.Table.Rows {
				if strings.TrimSpace(r[0]) == label {
					return r
				}
			}
		}
	}
	require.Fail(t, "no such row", "%s under %q", label, head)
	return nil
}

// 180 mm across and 75 mm up are 195 mm on the axis and 22.62 degrees from
// square at both ends, by Pythagoras; 6 mm more across are 200.55 mm.
func TestCutSheetByHand(t *testing.T) {
	s, err := Cuts(assessed(t, legs))
	require.NoError(t, err)
	const left = "Left front leg, SHS 50x50x3 cold"
	assert.Equal(t, "195.0 mm", row(t, s, left, "on the axis")[1])
	assert.Equal(t, "22.62°", row(t, s, left, "pad mitre")[1])
	assert.Equal(t, "200.6 mm", row(t, s, "Right front leg, SHS 50x50x3 cold", "on the axis")[1])
	last := s.Sections[len(s.Sections)-1]
	assert.Equal(t, "Stock of SHS 50x50x3 cold", last.Head)
	assert.Len(t, last.Items, 2, "one bar, and what is bought")
}

func TestMatchSheetByHand(t *testing.T) {
	s, err := Match(assessed(t, legs), "left_front", "right_front")
	require.NoError(t, err)
	assert.Equal(t, []string{"foot offset", "380.0 mm", "386.0 mm", "+6.0 mm"}, row(t, s, "", "foot offset"))
	assert.Equal(t, "0.5 mm", row(t, s, "As built", "pad off its place")[1], "0.3 along and 0.4 out")
	assert.Equal(t, "not measured", row(t, s, "As built", "lean of the pad")[1])
}

func TestSheetsThatCannotBe(t *testing.T) {
	a := assessed(t, "format = 1\n")
	_, err := Cuts(a)
	assert.ErrorContains(t, err, "no leg is in the file yet")
	_, err = Match(a, "left_front", "right_front")
	assert.ErrorContains(t, err, "has no leg in the file")
	_, err = Template(a, "left_front", 24)
	assert.ErrorContains(t, err, "there is no leg [mount.left_front.leg]")
	_, err = Template(assessed(t, round), "left_front", 5)
	assert.ErrorContains(t, err, "12 to 360 places")
	_, err = TemplateSVG(assessed(t, legs), "left_front", "pad")
	assert.ErrorContains(t, err, "is cut on the saw")
}

// Nothing from a file reaches a document with control characters in it, nor
// with signs that turn its direction.
func TestSheetsAreFitForADocument(t *testing.T) {
	line := "[line.rear.first]\nslope = \"0 deg level\"\n[[line.rear.joint]]\nat = [0, 0, 0]\n[[line.rear.joint]]\nat = [1000, 0, 0]\n"
	a := assessed(t, strings.Replace(legs, "[[stock]]", line+"[[stock]]", 1))
	require.Contains(t, a.Build.Name, "\x1b")
	cuts, err := Cuts(a)
	require.NoError(t, err)
	match, err := Match(a, "left_front", "right_front")
	require.NoError(t, err)
	order := Order(a, &a.Lines[0], "odd\x1bname\n.toml")
	assert.Equal(t, "odd·name .toml", row(t, order, "", "file")[1])
	for _, s := range []Sheet{cuts, match, order} {
		for _, text := range allText(s) {
			assert.False(t, strings.ContainsFunc(strings.ReplaceAll(text, "\n", ""), func(r rune) bool {
				return unicode.IsControl(r) || unicode.Is(unicode.Cf, r)
			}), "%q", text)
		}
	}
}

func allText(s Sheet) []string {
	out := []string{s.Title}
	for _, sec := range s.Sections {
		out = append(out, sec.Head)
		for _, it := range sec.Items {
			out = append(out, it.Text)
			if it.Table != nil {
				for _, r := range it.Table.Rows {
					out = append(out, r...)
				}
			}
		}
	}
	return out
}

// What the file does not say is said to be not known.
func TestOrderSaysWhatIsNotKnown(t *testing.T) {
	a := assessed(t, string(starter.Demo()))
	s := Order(a, &a.Lines[0], "demo.toml")
	assert.Equal(t, "Shaft order sheet, rear line", s.Title)
	for _, text := range allText(s) {
		assert.NotContains(t, text, "not known")
	}
	a = assessed(t, "format = 1\n[line.rear.first]\nslope = \"0 deg level\"\n[line.rear.pinion]\nslope = \"2 deg up to the rear\"\n")
	s = Order(a, &a.Lines[0], "bare.toml")
	assert.Equal(t, "not known: no name in the file", row(t, s, "", "build")[1])
	assert.Equal(t, "not known: powertrain.torque is not in the file yet", row(t, s, "", "largest torque")[1])
}
