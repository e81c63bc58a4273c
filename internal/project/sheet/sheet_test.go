package sheet_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/sheet"

	"github.com/stretchr/testify/require"
)

func example(t *testing.T) *project.File {
	t.Helper()
	src, err := os.ReadFile("../../../testdata/example.toml")
	require.NoError(t, err)
	return parse(t, string(src))
}

func parse(t *testing.T, src string) *project.File {
	t.Helper()
	f, err := project.Parse("build.toml", []byte(src))
	require.NoError(t, err)
	return f
}

// Every value that the annotated example has is a row, spelled as it stands there, but
// for what the program writes.
func TestEveryValueOfTheExampleIsARow(t *testing.T) {
	f := example(t)
	s := sheet.Of(f)
	n := 0
	for _, path := range f.Paths() {
		at := f.Resolve(path)
		if !f.Has(at) || strings.Contains(at, ".placed") || strings.Contains(at, ".relied") || strings.HasSuffix(at, "done_on") {
			continue
		}
		_, r, ok := s.Row(strings.TrimSuffix(at, ".value"))
		require.True(t, ok, at)
		require.True(t, r.Given, at)
		require.NotEmpty(t, r.Label, at)
		n++
	}
	require.Greater(t, n, 300)
}

// A value of the schema has one row in the sheet of any file, whatever it has.
func TestEveryFieldHasOneRow(t *testing.T) {
	for name, f := range map[string]*project.File{"example": example(t), "empty": parse(t, "format = 3\n")} {
		seen := map[string]int{}
		for _, sec := range sheet.Of(f, "mount.other", "line.front").Sections {
			require.Less(t, sec.Chapter, len(sheet.Chapters()))
			for _, r := range sec.Rows {
				seen[r.Path]++
				require.Equal(t, 1, seen[r.Path], "%s: %s is there twice", name, r.Path)
				if r.Shape != sheet.Name && !strings.HasPrefix(r.Path, "units.") {
					require.True(t, project.IsPath(r.Path), "%s: %s", name, r.Path)
				}
			}
		}
		for _, path := range project.SchemaPaths() {
			if f, ok := project.FieldAt(path); ok && f.Written {
				continue
			}
			require.Equal(t, 1, seen[path], "%s: %s has no row", name, path)
		}
	}
}

// What is measured says how, and from where; what is picked or named needs no more than
// its words.
func TestWhatIsMeasuredSaysHow(t *testing.T) {
	for _, sec := range sheet.Of(example(t), "mount.other", "line.front").Sections {
		for _, r := range sec.Rows {
			require.NotEmpty(t, r.About+r.How, r.Path)
			require.False(t, strings.HasSuffix(r.About, "."), r.Path)
			switch r.Shape {
			case sheet.Quantity, sheet.Point, sheet.Points, sheet.Quantities:
				require.NotEmpty(t, r.How, "%s does not say how it is measured", r.Path)
				require.NotEmpty(t, r.From, "%s does not say what it is measured from", r.Path)
				require.True(t, strings.HasSuffix(r.How, "."), r.Path)
			}
			if r.Shape == sheet.Words {
				require.NotEmpty(t, r.Choices, r.Path)
			}
		}
	}
}

// What a tag offers and puts under another head has to be known.
func TestEveryTableIsInAChapter(t *testing.T) {
	var tops []string
	for _, sec := range sheet.Of(parse(t, "format = 3\n")).Sections {
		top, _, _ := strings.Cut(sec.Path, ".")
		top, _, _ = strings.Cut(top, "[")
		if !slices.Contains(tops, top) {
			tops = append(tops, top)
		}
	}
	for _, key := range project.TablesOf("") {
		require.Contains(t, tops, key)
	}
}

func TestTheOtherSide(t *testing.T) {
	s := sheet.Of(parse(t, `format = 3
[powertrain.pads]
left_front = [0, -250, -60]
[rails.right]
points = [[-450, 380, 0], ["1500 mm", "381.5 ± 0.5", 0]]
[line.rear.suspension]
kind = "links"
[[line.rear.suspension.link]]
name = "upper left"
chassis = [2800, -450, 50]
[[line.rear.suspension.link]]
name = "upper right"
[mount.left_front.built]
pad = [1, 2, 3]
[placement]
offset = "12 mm right"
left_front = 50
`))
	for path, want := range map[string]string{
		"powertrain.pads.right_front":          "0, 250, -60",
		"rails.left.points":                    "-450, -380, 0; 1500 mm, -381.5, 0",
		"line.rear.suspension.link[1].chassis": "2800, 450, 50",
		"placement.right_front":                "50",
		"mount.right_front.built.pad":          "",
		"powertrain.pads.left_front":           "",
		"line.rear.suspension.link[1].axle":    "",
		"placement.offset":                     "",
		"powertrain.centre_of_mass":            "",
	} {
		_, text, ok := s.Mirror(path)
		require.Equal(t, want, text, path)
		require.Equal(t, want != "", ok, path)
	}
}

func TestWhereAnIDIsTyped(t *testing.T) {
	s := sheet.Of(example(t))
	for id, want := range map[string]string{
		"placement.rear":             "placement.rear",
		"placement.lift":             "placement",
		"mount.rear.sag":             "mount.rear",
		"bracket.left_front.use":     "mount.left_front",
		"line.rear.joint.1.max":      "line.rear",
		"line.rear.shaft.1.mismatch": "line.rear.shaft[0]",
		"line.rear.pinion.read":      "line.rear.pinion",
		"line.rear.travel.reach":     "line.rear.suspension",
		"clearance.steering_shaft":   "chassis[0]",
		"clearance.steering":         "steering",
		"clearance.steering.rocked":  "steering",
		"clearance.front_left_tower": "pickup.front.left.tower",
		"clearance.powertrain":       "powertrain",

		"clearance.front_right_tension_rod.moving": "pickup.front.right.rod[0]",
		"clearance.front_anti_roll_bar":            "pickup.front.bar",
		"clearance.rear_left_damper":               "pickup.rear.left.damper",
		"exhaust.down_pipe.rocked":                 "powertrain.exhaust[0]",
		"powertrain":                               "powertrain",
		"rail.left.splice.1.bending":               "rails.left",

		"steering.ripple":               "steering",
		"steering.joint.2.max":          "steering.joint[1]",
		"pickup.front.left.spring.bind": "pickup.front.left.spring",
		"pickup.front.right.rod.1.give": "pickup.front.right.rod[0]",
		"pickup.front.rod.1.length":     "pickup.front.left.rod[0]",
		"pickup.front.right.stop":       "pickup.front.right.damper",
		"pickup.front.right.caster":     "pickup.front.right",
		"pickup.front.wheels":           "pickup.front.left",
		"pickup.front.spring.sides":     "pickup.front.left.spring",
		"pickup.front.bar.square":       "pickup.front.bar",
		"pickup.front.right.bar.link":   "pickup.front.bar.right",
		"pickup.rear.left.damper.droop": "pickup.rear.left.damper",
	} {
		got, ok := s.About(id)
		require.True(t, ok, id)
		require.Equal(t, want, got, id)
	}
	_, ok := s.About("")
	require.False(t, ok)
}

// What a section is below is its own chapter's, also where that has no section of its
// own for the whole table.
func TestSectionsAreNamedByTheirChapter(t *testing.T) {
	f, err := project.Parse("b.toml", []byte("format = 3\n[rails.left]\nheight = 150\n"))
	require.NoError(t, err)
	sec, _, ok := sheet.Of(f).Row("rails.left.height")
	require.True(t, ok)
	require.Equal(t, "Rails, left", sec.Full)
}
