package bracket

import (
	"testing"

	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A section by its sizes, as a builder in inches writes it.
func TestSectionBySizes(t *testing.T) {
	s, err := shapeOf("leg", project.Leg{Section: "2x2x3/16"}, quantity.Inch())
	require.NoError(t, err)
	assert.Equal(t, section.RectTube, s.Kind)
	assert.InDelta(t, 50.8, s.H, 1e-9)
	assert.InDelta(t, 50.8, s.B, 1e-9)
	assert.InDelta(t, 4.7625, s.T, 1e-9)
	s, err = shapeOf("leg", project.Leg{Section: "1 3/4 x .120", Kind: project.RoundTube}, quantity.Inch())
	require.NoError(t, err)
	assert.Equal(t, section.RoundTube, s.Kind)
	assert.InDelta(t, 44.45, s.H, 1e-9)
	assert.InDelta(t, 3.048, s.T, 1e-9)
	assert.Zero(t, s.B)
	s, err = shapeOf("leg", project.Leg{Section: "2 x 1/4", Kind: project.FlatBar}, quantity.Inch())
	require.NoError(t, err)
	assert.InDelta(t, 6.35, s.B, 1e-9)

	for section, want := range map[string]string{
		"1 3/4 x .120": "a round tube or a flat bar",
		"2x2":          "a round tube or a flat bar",
		"2x2x2x2":      "there is no section",
		"SHS 50x51x3":  "there is no section",
	} {
		_, err := shapeOf("leg", project.Leg{Section: section}, quantity.Inch())
		assert.ErrorContains(t, err, want, section)
	}
	_, err = shapeOf("leg", project.Leg{Section: "2x2x3/16"}, quantity.Metric())
	assert.ErrorContains(t, err, "read off a rule in inches", "2 mm is no tube")
	s, err = shapeOf("leg", project.Leg{Section: "SHS 60x60x4 cold"}, quantity.Inch())
	require.NoError(t, err)
	assert.InDelta(t, 60, s.H, 1e-9, "the table's names are in mm in every file")

	// The same tube by its sizes and by its name weighs the same: EN 10219-2 rounds
	// the corners of both.
	named, err := shapeOf("leg", project.Leg{Section: "SHS 60x60x4 cold"}, quantity.Metric())
	require.NoError(t, err)
	sized, err := shapeOf("leg", project.Leg{Section: "60x60x4"}, quantity.Metric())
	require.NoError(t, err)
	np, err := named.Properties()
	require.NoError(t, err)
	sp, err := sized.Properties()
	require.NoError(t, err)
	assert.InDelta(t, np.Mass, sp.Mass, 1e-12)
	assert.InDelta(t, np.Wy, sp.Wy, 1e-9)

	boxed, err := shapeOf("leg", project.Leg{Section: "60x60x4", Kind: project.BoxTube}, quantity.Metric())
	require.NoError(t, err)
	assert.Equal(t, sized, boxed)
	_, err = shapeOf("leg", project.Leg{Section: "60x60x4", Kind: project.RoundTube}, quantity.Metric())
	require.ErrorContains(t, err, "height of the leg's section")

	// A section of one's own is called by its sizes, or as the file calls it.
	own := project.Leg{Kind: project.FlatBar, Height: quantity.MM(60), Width: quantity.MM(12)}
	s, err = shapeOf("leg", own, quantity.Metric())
	require.NoError(t, err)
	assert.Equal(t, "flat bar 60x12", s.Name)
	own.Section = "scrap"
	s, err = shapeOf("leg", own, quantity.Metric())
	require.NoError(t, err)
	assert.Equal(t, "scrap", s.Name)
}
