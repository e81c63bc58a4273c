package sheet_test

import (
	"strings"
	"testing"

	"fitup/internal/project/sheet"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A sheet that takes over what an edit left alone is the one of the whole file: after a
// value, a spelling, an entry or a name was changed, and back again.
func TestAfterAnEdit(t *testing.T) {
	demo := string(starter.Demo())
	was := sheet.Of(parse(t, demo))
	for _, c := range []struct{ old, new string }{
		{"rear = -289.5", "rear = -290"},
		{"rear = -289.5", "rear = -289.50"},
		{"[gauge]", "[gauge] # as bought"},
		{"[mount.rear]", "[mount.back]\nat = [500, 0, -60]\n[mount.rear]"},
		{"[line.rear]", "[line.front]\n[line.rear]"},
		{"[[reading]]", "[[reading]]\nof = \"powertrain\"\nshown = \"3 deg\"\non = \"along\"\nlower = \"rear\"\n[[reading]]"},
		{"[gauge]", "[tool.rod]\naccuracy = \"1 mm\"\n[gauge]"},
		{"joint_max = { value = \"2.5 deg\"", "joint_max = { value = \"4 deg\""},
	} {
		text := strings.Replace(demo, c.old, c.new, 1)
		require.NotEqual(t, demo, text, c.old)
		f := parse(t, text)
		got := sheet.After(was, f, "mount.other")
		assert.Equal(t, sheet.Of(f, "mount.other").Sections, got.Sections, c.new)
		back := parse(t, demo)
		assert.Equal(t, was.Sections, sheet.After(got, back).Sections, c.new)
	}
}
