package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A key that names another thing of the file is refused where there is no such thing,
// with the nearest name; none is passed over in silence.
func TestWhatIsNamedHasToBeThere(t *testing.T) {
	const tape = "[tool.tape]\naccuracy = \"1 mm\"\n"
	for name, c := range map[string]struct{ text, want string }{
		"tool of a measurement": {tape + "[[measure]]\nof = \"d\"\nwith = \"tool.tap\"\nlengths = [1]\n", `measure.1.with: there is no [tool.tap] in this file; did you mean "tool.tape"?`},
		"tool of a point":       {tape + "[point.a]\nwith = \"tape\"\nstation = 1\noffset = 0\nheight = 1\n", `point.a.with: read the text "tape"; want a tool of this file, such as "tool.tape"; did you mean "tool.tape"?`},
		"tool of a reading":     {tape + "[[reading]]\nof = \"powertrain\"\naside = \"1 mm right\"\nover = 100\nwith = \"tape\"\n", `reading.1.with: read the text "tape"; want a tool of this file, such as "tool.tape"; did you mean "tool.tape"?`},
		"line carried":          {"[line.rear.pinion]\n[[chassis]]\ncarries = [\"raer\"]\n", `the line "raer", which is not in this file; want the name of a line, such as rear; did you mean "rear"?`},
		"point of the survey":   {"[point.a]\n[point.bb]\n[[measure]]\nfrom = \"point.a\"\nto = \"point.b\"\nlengths = [5]\n", `measure.1.to: there is no [point.b] in this file; did you mean "point.`},
		"leg mirrored":          {"[mount.left_front.leg]\nsection = \"SHS 50x50x3 cold\"\n[mount.right_front.leg]\nmatch = \"left_fornt\"\n", `did you mean "left_front"?`},
		"measured from":         {"[point.a]\nfrom = \"rails.lft.top\"\nstation = 0\noffset = 0\nheight = 0\n", `did you mean "rails.left.top"?`},
	} {
		_, err := Parse("x", []byte("format = 3\n"+c.text))
		assert.ErrorContains(t, err, c.want, name)
	}
}

// A measurement by "tape" is one by the file's own tape, where it has one.
func TestATapeIsTheTapeOfTheFile(t *testing.T) {
	f, err := Parse("x", []byte("format = 3\n[tool.tape]\naccuracy = \"0.4 mm\"\n[[measure]]\nof = \"d\"\nwith = \"tape\"\nlengths = [1]\n"))
	require.NoError(t, err)
	tool, ok := f.Build.ToolNamed(string(f.Build.Measurements[0].With))
	assert.True(t, ok)
	assert.Equal(t, 0.4, tool.Accuracy.V())
	_, ok = f.Build.ToolNamed("")
	assert.False(t, ok)
	_, ok = f.Build.ToolNamed("plumb")
	assert.False(t, ok)
}
