package project

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// unsure spoils what a file says of how sure a value is.
func unsure(add func(string, string, ...any)) {
	const reading = "format = 3\n[[reading]]\nof = \"line.a.pinion\"\nshown = \"85.2 deg\"\nlower = \"rear\"\n%s\n[line.a]\n"
	for name, lines := range map[string]string{
		"up-along": "on = \"along\"\ngauge_end = \"up\"", "up-nowhere": "gauge_end = \"down\"", "face-along": "on = \"along\"\nface = \"rear\"",
		"face-left": "on = \"square face\"\nface = \"left\"", "face-up": "on = \"square face\"\nface = \"up\"", "lower-up": "on = \"square face\"\nlower = \"up\"",
		"end-word": "gauge_end = \"top\"", "with-shown": "on = \"along\"\nwith = \"tool.tape\"", "with-type": "with = 3",
	} {
		if name == "lower-up" {
			add("unsure-"+name, "format = 3\n[[reading]]\nof = \"powertrain\"\nshown = 3\n%s\n", lines)
			continue
		}
		add("unsure-"+name, reading, lines)
	}
	const tape = "format = 3\n[[reading]]\nof = \"powertrain\"\naside = \"4 mm ± 1 right\"\nover = 1000\n%s\n[tool.tape]\naccuracy = 0.5\n"
	add("unsure-twice", tape, "plus_minus = \"0.1 deg\"")
	add("unsure-tool-near", tape, "with = \"tool.tpe\"")
	add("unsure-tool-word", tape, "with = \"tape\"")
	add("unsure-tool-none", "format = 3\n[[measure]]\nof = \"diagonal\"\nwith = \"tool.tape\"\nlengths = [4212]\n")
	add("unsure-tool-far", "format = 3\n[[measure]]\nof = \"diagonal\"\nwith = \"tool.stick\"\nlengths = [4212]\n")
	add("unsure-tool-angles", "format = 3\n[[measure]]\nof = \"plate\"\nwith = \"tool.tape\"\nangles = [\"0.2 deg\"]\n[tool.tape]\naccuracy = 1\n")
	add("unsure-with", "format = 3\n[[measure]]\nof = \"diagonal\"\nwith = \"tpe\"\nlengths = [4212]\n")
	add("unsure-tool-empty", "format = 3\n[tool.rule]\n")
	add("unsure-tool-exact", "format = 3\n[tool.tape]\naccuracy = 0\n")
	add("unsure-gauge-exact", "format = 3\n[gauge]\nrepeat = 0\n")
	for name, line := range map[string]string{
		"zero": "wheelbase = \"3300 ± 0\"", "minus": "wheelbase = \"3300 mm ± -2\"", "far": "wheelbase = \"3300 mm ± 2 m\"", "unit": "wheelbase = \"3300 mm ± 2 kg\"",
		"before": "wheelbase = \"± 2 mm\"", "behind": "wheelbase = \"3300 mm ±\"", "bare": "wheelbase = 3300 ± 2", "load": "front_load = \"700 kg ± 900\"", "count": "driven_km = \"50 ± 1\"",
	} {
		add("unsure-value-"+name, "format = 3\n[vehicle]\n%s\n", line)
	}
	add("unsure-value-direction", "format = 3\n[line.a.pinion]\nslope = \"4.8 deg down to the rear ± 0.2\"\n")
	const point = "format = 3\n[tool.tape]\naccuracy = 1\n[[chassis]]\nname = \"bonnet\"\non = [0, 0, 680]\nfacing = \"down\"\n[point.a]\n%s\n[point.b]\nfrom = \"point.a\"\nstation = 1\noffset = 2\nheight = 3\n"
	for name, lines := range map[string]string{
		"loop": "from = \"point.b\"\nstation = 1\noffset = 2\nheight = 3", "itself": "from = \"point.a\"", "datum-near": "from = \"point.bb\"", "datum-far": "from = \"the big bolt\"",
		"datum-rail": "from = \"rail.left.top\"", "datum-face": "from = \"chassis.bonnet.top\"", "tool": "with = \"tool.tpae\"", "list": "station = []", "list-sure": "station = [\"1 ± 1\", 2]", "key": "stations = 3",
		"side": "offset = \"3 mm up\"",
	} {
		add("unsure-point-"+name, point, lines)
	}
	add("unsure-point-unplaced", "format = 3\n[mount.rear.leg]\npad = \"point.a\"\n[point.a]\nfrom = \"point.b\"\nstation = 1\noffset = 2\nheight = 3\n[point.b]\nstation = 4\n")
	add("unsure-point-past", "format = 3\n[line.a.pinion]\nat = \"point.a\"\n[rails.left]\npoints = [[0, 0, 0], [900, 0, 0]]\n[point.a]\nfrom = \"rails.left.top\"\nstation = 1000\noffset = 2\nheight = 3\n")
	add("unsure-point-loop-rail", "format = 3\n[rails.left]\npoints = [[0, 0, 0], \"point.a\"]\n[point.a]\nfrom = \"rails.left.top\"\nstation = 1\noffset = 2\nheight = 3\n")
	for name, line := range map[string]string{
		"own": "powertrain.output = \"point.a\"", "direction": "mount.rear.leg.up = \"point.a\"", "none": "line.a.pinion.at = \"point.aa\"", "nowhere": "line.a.pinion.at = \"point.zzzzzz\"", "word": "line.a.pinion.at = \"pinion\"",
	} {
		add("unsure-point-named-"+name, "format = 3\n%s\n[point.a]\n", line)
	}
	add("unsure-value-limit", "format = 3\n[limits]\njoint_max = \"3 deg ± 0.2\"\n")
	add("unsure-value-list", "format = 3\n[[measure]]\nof = \"diagonal\"\nlengths = [\"4212 mm ± 1\"]\n")
	add("unsure-value-point", "format = 3\n[line.a.pinion]\nat = [\"3010 ± 0\", 0, -52]\n")
}

// The sign of the zero by turning a gauge in the hand: base on the surface,
// marked end along m, it turns by its error about the outward normal times m.
// Worked out here by vectors, in the table of the code by words.
func TestZeroSense(t *testing.T) {
	way := map[string]r3.Vec{"front": {X: -1}, "rear": {X: 1}, "up": {Z: 1}, "down": {Z: -1}, "left": {Y: -1}, "right": {Y: 1}}
	for _, c := range []struct{ on, end, face, axis string }{
		{"along", "front", "", "along"}, {"along", "rear", "", "along"},
		{"square face", "up", "rear", "along"}, {"square face", "down", "rear", "along"}, {"square face", "up", "front", "along"}, {"square face", "down", "front", "along"},
		{"along", "left", "", "across"}, {"along", "right", "", "across"},
		{"square face", "up", "left", "across"}, {"square face", "down", "left", "across"}, {"square face", "up", "right", "across"}, {"square face", "down", "right", "across"},
	} {
		text := fmt.Sprintf("format = 3\n[powertrain]\nlayout = \"transaxle\"\n[[reading]]\nof = \"powertrain.across\"\non = %q\ngauge_end = %q\nshown = \"85 deg\"\nlower = \"left\"\n", c.on, c.end)
		axis := r3.Vec{Y: 1} // falls to the right
		if c.axis == "along" {
			text = fmt.Sprintf("format = 3\n[[reading]]\nof = \"powertrain\"\non = %q\ngauge_end = %q\nshown = \"85 deg\"\nlower = \"rear\"\n", c.on, c.end)
			axis = r3.Vec{X: 1} // falls to the rear
		}
		normal := r3.Vec{Z: 1}
		if c.face != "" {
			text += fmt.Sprintf("face = %q\n", c.face)
			normal = way[c.face]
		}
		f, err := Parse("b.toml", []byte(text))
		require.NoError(t, err, text)
		got, known := f.Build.Readings[0].ZeroSense()
		require.True(t, known, text)
		turn := r3.Cross(normal, way[c.end])
		falling := r3.Cross(axis, r3.Vec{Z: -1}) // about it the axis goes down
		assert.Equal(t, r3.Dot(turn, falling), got, text)
	}
	for _, r := range []Reading{
		{On: SquareFace, GaugeEnd: MarkedUp}, {On: SquareFace, GaugeEnd: MarkedRear, Face: RearEnd}, {On: Along}, {On: SquareFace, Face: RearEnd}, {GaugeEnd: MarkedUp, Face: RearEnd},
	} {
		_, known := r.ZeroSense()
		assert.False(t, known, "%+v", r)
	}
}

// A tool's figures are its own; what is not said is not known, and common tools
// are an offer.
func TestTools(t *testing.T) {
	f, err := Parse("b.toml", []byte(`format = 3
[tool.tape]
accuracy = "0.5 mm"
per_metre = "0.2 mm"
[tool.rule]
repeat = "0.3 mm"
[[measure]]
of = "diagonal"
with = "tool.tape"
lengths = [4212]
`))
	require.NoError(t, err)
	b := f.Build
	tape, ok := b.ToolNamed(string(b.Measurements[0].With))
	require.True(t, ok)
	assert.Equal(t, "tool.tape", tape.Path())
	half, known := tape.Shared(4212)
	assert.True(t, known)
	assert.InDelta(t, 0.5+0.2*4.212, half, 1e-12)
	_, known = tape.Repeat.Get()
	assert.False(t, known)
	rule, ok := b.ToolNamed("tool.rule")
	require.True(t, ok)
	_, known = rule.Shared(1000)
	assert.False(t, known, "how true it is was not said")
	_, ok = b.ToolNamed("tape")
	assert.True(t, ok, "the tape is that of the file")
	_, ok = b.ToolNamed("tool.plumb")
	assert.False(t, ok, "a common tool is not assumed")
	for _, c := range CommonTools() {
		assert.True(t, PlainName(c.Name) && c.Words != "" && c.Accuracy.V() > 0 && c.Repeat.V() > 0, c.Name)
		got, ok := CommonToolNamed(c.Name)
		assert.True(t, ok && got.Words == c.Words)
	}
}
