package sheet

import (
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A mount of a ready kind has the rows of its own questions alone, and those that the file
// has whatever it asks; without a kind it has all.
func TestAKindHasItsOwnQuestions(t *testing.T) {
	of := func(kind, more string) *Sheet {
		f, err := project.Parse("b.toml", []byte("format = 3\n[mount.left_front.bracket]\n"+kind+more))
		require.NoError(t, err)
		return Of(f)
	}
	const at = "mount.left_front.bracket."
	keys := map[string]struct{ has, not []string }{
		"": {[]string{"section", "past", "gap", "plate.radius", "plate.foot_depth", "clamp.tube", "pin.hole", "rail_plate.hole"}, nil},
		"kind = \"boxed plate\"\n": {[]string{"past", "pad", "plate.thickness", "plate.width", "plate.foot_depth", "plate.seam", "pad_plate.hole", "weld.size"},
			[]string{"section", "brace", "gap", "plate.radius", "plate.foot_bend", "plate.pad_bend", "clamp.tube", "pin.hole", "rail_plate.hole", "bolts.thread", "pad_plate.thickness", "gusset.along", "perch", "foot_drop"}},
		"kind = \"clamp-on tab\"\n": {[]string{"past", "pad", "plate.thickness", "clamp.tube", "clamp.friction", "bolts.thread", "weld.size", "pad_plate.hole"},
			[]string{"plate.foot_depth", "plate.radius", "plate.foot_end", "rail", "rail_plate.across", "foot_facing", "onto"}},
		"kind = \"folded angle plate\"\n": {[]string{"plate.radius", "plate.foot_bend", "plate.foot_end", "rail_plate.hole", "bolts.thread", "weld.size", "onto"},
			[]string{"plate.pad_bend", "plate.seam", "clamp.wall", "foot_in", "section"}},
		"kind = \"folded Z plate\"\n": {[]string{"plate.pad_bend", "plate.k", "foot_in"}, []string{"plate.inset", "section"}},
		"kind = \"bolted tab\"\n":     {[]string{"plate.foot_end", "rail_plate.pitch_high", "bolts.class"}, []string{"plate.radius", "plate.foot_toward", "weld.size"}},
		"kind = \"twin ears\"\n":      {[]string{"gap", "pin.hole", "section"}, []string{"plate.width", "pad_plate.hole", "between"}},
	}
	for kind, c := range keys {
		s := of(kind, "")
		for _, key := range c.has {
			_, _, ok := s.Row(at + key)
			assert.True(t, ok, "%s asks %s", kind, key)
		}
		for _, key := range c.not {
			_, _, ok := s.Row(at + key)
			assert.False(t, ok, "%s does not ask %s", kind, key)
		}
	}
	// What the file has is shown, so that it can be taken out: of a kind that nobody knows all.
	_, row, ok := of("kind = \"level arm with perch\"\n", "[mount.left_front.bracket.gusset]\nthickness = 6\n").Row(at + "gusset.thickness")
	require.True(t, ok)
	assert.True(t, row.Given)
}
