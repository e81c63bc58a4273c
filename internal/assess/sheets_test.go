package assess

import (
	"os"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A ± on how thick a plate or a sheet is leaves it the plate that is cut from that sheet.
func TestAThicknessWithAPlusMinusIsCutFromItsSheet(t *testing.T) {
	text, err := os.ReadFile("../../testdata/mounts/inclined_leg.toml")
	require.NoError(t, err)
	const plates, sheet = "pad_plate]\nthickness = 10", "\n[[sheet]]\nthickness = 10\nlength = 1000\nwidth = 500\n"
	require.Contains(t, string(text), plates)
	for _, c := range [][2]string{{plates, sheet}, {strings.Replace(plates, "10", "\"10 mm ± 0.3\"", 1), sheet},
		{plates, strings.Replace(sheet, "10\n", "\"10 mm ± 0.3\"\n", 1)}} {
		f := found(t, Run(file(t, strings.Replace(string(text), plates, c[0], 1)+c[1]).Build), "cuts.plate_10_mm.stock")
		assert.Equal(t, finding.OK, f.Status, f.Missing)
		assert.InDelta(t, 1, f.Value, 0)
	}
	f := found(t, Run(file(t, strings.Replace(string(text), plates, "pad_plate]\nthickness = \"10.5 mm ± 0.6\"", 1)+sheet).Build), "cuts.plate_10_5_mm.stock")
	assert.Equal(t, finding.NotKnown, f.Status, "it is planned from no sheet")
}
