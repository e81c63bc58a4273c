package meant

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/starter"
	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"github.com/stretchr/testify/require"
)

// without are the lengths, points and angles that nothing is drawn of, and why.
var without = map[string]string{
	"gauge.accuracy": figureOfAnInstrument, "gauge.repeat": figureOfAnInstrument, "gauge.resolution": figureOfAnInstrument, "gauge.zero": figureOfAnInstrument,
	"tool.*.accuracy": figureOfAnInstrument, "tool.*.per_metre": figureOfAnInstrument, "tool.*.repeat": figureOfAnInstrument,
	"reading.plus_minus": figureOfAnInstrument, "measure.plus_minus": figureOfAnInstrument, "measure.angle_plus_minus": figureOfAnInstrument,
}

const figureOfAnInstrument = "what an instrument is good for, and nothing on the vehicle"

// drawn reports whether a value is one that lies somewhere: a length, a point, an angle or
// a section.
func drawn(path string) bool {
	f, _ := project.FieldAt(path)
	if project.IsPoint(path) || project.IsPoint(path+"[0]") || f.Offers == "sections" {
		return true
	}
	k, ok := project.KindAt(path)
	if !ok {
		k, ok = project.KindAt(path + "[0]")
	}
	return ok && slices.Contains([]quantity.Kind{quantity.Length, quantity.Angle, quantity.Offset, quantity.Slope, quantity.Heading}, k)
}

// all are the values that a table of the schema can hold, with those below it.
func all(path string) []string {
	var out []string
	dot := path
	if dot != "" {
		dot += "."
	}
	for _, f := range project.FieldsOf(path) {
		if !f.Written {
			out = append(out, dot+f.Key)
		}
	}
	for _, key := range project.TablesOf(path) {
		at := dot + key
		switch project.ShapeAt(at) {
		case project.TablesShape:
			at += "[0]"
		case project.NamedTablesShape:
			at += ".other"
			if key == "mount" {
				out = append(out, all("mount.left_front")...)
			}
		}
		if key != "limits" && key != "loads" { // figures of their own, and no places
			out = append(out, all(at)...)
		}
	}
	return out
}

type build struct {
	f *project.File
	a *assess.Assessment
	s *scene.Scene
}

func buildOf(t *testing.T, text []byte) build {
	t.Helper()
	f, err := project.Parse("build.toml", text)
	require.NoError(t, err)
	a := assess.Run(f.Build)
	return build{f, a, scene.Of(a)}
}

func example(t *testing.T) []byte {
	t.Helper()
	text, err := os.ReadFile("../../../testdata/example.toml")
	require.NoError(t, err)
	return text
}

// Whatever is a length, a point, an angle or a section has a drawing, also before anything
// is typed; what is neither has none.
func TestEveryLengthPointAngleAndSectionHasADrawing(t *testing.T) {
	builds := map[string]build{"empty": buildOf(t, []byte("format = 3\n")), "demo": buildOf(t, starter.Demo()), "example": buildOf(t, example(t))}
	used := map[string]bool{}
	n := 0
	var faults []string
	for _, path := range all("") {
		for name, b := range builds {
			_, none := without[starred(path)]
			if none {
				used[starred(path)] = true
			}
			d, ok := Of(b.f, b.a, b.s, path)
			switch want := !none && (drawn(path) || strings.Contains(path, ".rate_")); {
			case ok != want:
				faults = append(faults, fmt.Sprintf("%s: %s is drawn: %v", name, path, ok))
			case ok:
				_, some := d.Scene.Selection(d.Lit)
				if n++; !some || len(d.Views) == 0 {
					faults = append(faults, fmt.Sprintf("%s: what %s means is not marked", name, path))
				}
			}
		}
	}
	require.Empty(t, faults)
	require.Len(t, used, len(without))
	require.Greater(t, n, 400)
}

func starred(path string) string {
	r := row{path: path}
	return r.starred()
}

// What is drawn of a row is what is typed: its dimension runs as far as the number says.
func TestDimensionsRunAsFarAsTheyAreTyped(t *testing.T) {
	b := buildOf(t, example(t))
	for _, path := range []string{
		"vehicle.wheelbase", "vehicle.tyre_diameter", "vehicle.rear_track", "vehicle.axle_height",
		"rails.left.height", "rails.right.width", "mount.rear.thickness", "mount.rear.diameter",
		"mount.left_front.leg.standing", "mount.left_front.leg.rail_plate.width", "mount.left_front.leg.rail_plate.flange",
		"mount.left_front.leg.rail_plate.pitch_high", "mount.left_front.leg.rail_plate.radius", "mount.left_front.leg.pad_plate.thickness",
		"mount.left_front.leg.weld.size", "line.rear.shaft[0].outside", "line.rear.shaft[0].wall", "line.rear.suspension.bump",
		"line.rear.suspension.droop", "line.rear.suspension.part[0].radius", "shop.kerf", "shop.trim", "stock[0].length",
	} {
		d, ok := Of(b.f, b.a, b.s, path)
		require.True(t, ok, path)
		want, ok := b.f.QuantityAt(path, quantity.Length)
		require.True(t, ok, path)
		n := 0
		for _, x := range d.Scene.Dimensions {
			if x.ID != d.Lit {
				continue
			}
			n++
			require.InDelta(t, want, x.Value.V, 1e-9, path)
			long := view.FromLeft.Sight().At(x.To).X - view.FromLeft.Sight().At(x.From).X
			high := view.FromLeft.Sight().At(x.To).Y - view.FromLeft.Sight().At(x.From).Y
			require.InDelta(t, want*want, long*long+high*high, 1e-6, path)
		}
		require.Equal(t, 1, n, path)
	}
}

// A point has the three lengths to it from what it is measured from, in the axes it is
// typed in.
func TestPointsHaveTheirThreeLengths(t *testing.T) {
	b := buildOf(t, example(t))
	for path, want := range map[string][3]float64{
		"powertrain.pads.rear":           {1250, 0, -110},
		"powertrain.part[1].from":        {60, -140, -230},
		"line.rear.pinion.at":            {3010, 0, -52},
		"line.rear.suspension.fixed_eye": {2740, 500, -125},
		"mount.left_front.built.pad":     {140.2, -250.1, 7.1},
		"chassis[0].to":                  {860, -260, 480},
		"old_powertrain.centre_of_mass":  {120, 0, 150},
	} {
		d, ok := Of(b.f, b.a, b.s, path)
		require.True(t, ok, path)
		require.Empty(t, d.Title, path)
		var got []float64
		for _, x := range d.Scene.Dimensions {
			if x.ID == d.Lit {
				got = append(got, x.Value.V)
			}
		}
		require.Equal(t, want[:], got, path)
	}
	d, ok := Of(b.f, b.a, b.s, "point.rear_hanger.offset")
	require.True(t, ok)
	last := d.Scene.Dimensions[len(d.Scene.Dimensions)-1]
	require.InDelta(t, 885.5, last.Value.V, 1e-9, "from the edge of the left rail, the mean of both repeats")
	require.InDelta(t, 885.5, last.To.Y-last.From.Y, 1e-9)
}

// A table as a whole is the thing that it describes, where the build has it.
func TestATableIsTheThingThatItDescribes(t *testing.T) {
	b := buildOf(t, example(t))
	for path, want := range map[string]string{
		"rails.left": "rails.left", "mount.left_front": "mount.left_front.pad", "mount.left_front.leg": "bracket.left_front",
		"powertrain.part[1]": "part.1", "chassis[0]": "clearance.steering_shaft", "line.rear": "line.rear", "line.rear.shaft[0]": "line.rear.shaft.1",
		"line.rear.pinion": "line.rear.pinion", "line.rear.suspension": "line.rear.axle",
		"mount.rear.leg": "bracket.rear", "powertrain.part[7]": "", "chassis[9]": "", "units": "", "job[0]": "", "reading": "", "": "",
	} {
		d, ok := Of(b.f, b.a, b.s, path)
		require.Equal(t, want != "", ok, path)
		require.Equal(t, want, d.Lit, path)
	}
}
