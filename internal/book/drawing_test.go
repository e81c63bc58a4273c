package book

import (
	"regexp"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each view of the demo fits its page at a scale of the series; what it says is
// what the bench says; no number is drawn that is no value.
func TestDrawings(t *testing.T) {
	f, err := project.Parse("demo.toml", starter.Demo())
	require.NoError(t, err)
	a := assess.Run(f.Build)
	for view, want := range map[string]struct {
		scale string
		says  []string
	}{
		"side":          {"1:20", []string{"106.0 mm below rail", "-289.5 mm from zero", "260.0 mm setback", "4.30° down to the rear", "J1 2.05° ok", "J2 2.54° over", "1458.7 mm", "block and head"}},
		"plan":          {"1:20", []string{"260.0 mm setback", "gearbox", "left rail"}},
		"front":         {"1:10", []string{"106.0 mm below rail", "164.4 mm overall"}},
		"three-quarter": {"1:20", []string{"firewall", "gearbox crossmember"}},
	} {
		doc, err := Drawing(a, view)
		require.NoError(t, err)
		assert.Contains(t, doc, `width="297.000mm" height="210.000mm"`, "A4 across, ISO 216")
		assert.Contains(t, doc, want.scale+" on A4", view)
		for _, s := range want.says {
			assert.Contains(t, doc, ">"+s+"<", view)
		}
		for _, m := range regexp.MustCompile(`<text x="([-0-9.]+)" y="([-0-9.]+)"`).FindAllStringSubmatch(doc, -1) {
			assert.False(t, strings.HasPrefix(m[1], "-") || strings.HasPrefix(m[2], "-"), "off the page: %s", m[0])
		}
	}
	_, err = Drawing(a, "back")
	assert.ErrorContains(t, err, "a drawing is of side, plan, front, three-quarter")
	empty, err := project.Parse("empty.toml", []byte("format = 3\n"))
	require.NoError(t, err)
	_, err = Drawing(assess.Run(empty.Build), "side")
	assert.ErrorContains(t, err, "nothing to draw yet")
}
