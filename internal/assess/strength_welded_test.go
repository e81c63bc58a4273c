package assess_test

import (
	"testing"

	"fitup/internal/assess"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The weld that is planned is judged as planned all along, so that tacking and
// welding can wait for it; the weld as it is counts what is finished.
func TestOnlyFinishedSidesCarryTheBracket(t *testing.T) {
	// Each run is as long as the flat of SHS 50x50x3: 50 less two corners of 6.
	const planned = "weld = { size = 3, runs = \"top and bottom\" }"
	const room = "[limits]\nscreening_use = 0.8\n"
	side := func(top, bottom string) string {
		return "[[weld]]\nbracket = \"Left front\"\nat = \"foot\"\nside.top = { " + top + " }\nside.bottom = { " + bottom + " }\n"
	}
	const id = "bracket.left_front.welded"
	for name, c := range map[string]struct {
		more    string
		status  assess.Status
		missing []string
	}{
		"tacked":    {side(`state = "tacked", length = 38`, "length = 38"), assess.NotKnown, []string{"only finished sides carry", "0.0 mm of 76.0 mm carry", "(top tacked, bottom "}},
		"part":      {side(`state = "inspected", length = 38`, `state = "tacked", length = 38`), assess.NotKnown, []string{"foot: 38.0 mm of 76.0 mm carry (bottom tacked)"}},
		"no length": {side(`state = "finished"`, `state = "tacked"`), assess.NotKnown, []string{"1 of 2 sides carry, and not all have a length"}},
		"no word":   {side(`state = "finished"`, `state = "finished"`), assess.NotKnown, []string{"not all have a length in the file"}},
		"short":     {side(`state = "finished", length = 38`, `state = "finished", length = 28`), assess.NotKnown, []string{"66.0 mm of 66.0 mm carry; 76.0 mm are planned"}},
		"finished":  {side(`state = "finished", length = 38`, `state = "inspected", length = 38`), assess.OK, nil},
		"another":   {side(`state = "finished", length = 38`, `state = "finished", length = 38`) + "[[weld]]\nbracket = \"left front\"\nat = \"pad\"\n", assess.NotKnown, []string{"pad: 0.0 mm of 0.0 mm carry (no sides in the file yet)"}},
	} {
		a := strong(t, planned, c.more+room)
		f, ok := a.Finding(id)
		require.True(t, ok, name)
		assert.Equal(t, c.status, f.Status, "%s: %s", name, f.Missing)
		for _, want := range c.missing {
			assert.Contains(t, f.Advice(), want, name)
		}
		plan, ok := a.Finding("bracket.left_front.weld")
		require.True(t, ok)
		assert.Equal(t, assess.OK, plan.Status, name)
		if c.status == assess.OK {
			assert.InDelta(t, plan.Value, f.Value, 1e-12, name)
			assert.Contains(t, f.Advice(), "licensed engineer")
		}
	}
	// Weaker than it has to be, and finished.
	a := strong(t, "weld = { size = 0.5, runs = \"top and bottom\" }", side(`state = "finished", length = 38`, `state = "finished", length = 38`))
	f, _ := a.Finding(id)
	assert.Equal(t, assess.Over, f.Status)

	for name, text := range map[string]string{
		"nothing is welded":  side("length = 38", "length = 38"),
		"no map":             "",
		"of another bracket": "[[weld]]\nbracket = \"rear\"\nat = \"foot\"\nside.top = { state = \"tacked\" }\n",
	} {
		a := strong(t, planned, text)
		_, ok := a.Finding(id)
		assert.False(t, ok, name)
	}
	// A weld on the map without a fillet in the file is not known.
	a = strong(t, "", side(`state = "finished"`, `state = "finished"`))
	f, ok := a.Finding(id)
	require.True(t, ok)
	assert.Equal(t, assess.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "mount.left_front.leg.weld.size")
}
