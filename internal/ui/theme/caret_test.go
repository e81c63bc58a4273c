package theme

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWhereTheCursorBelongs(t *testing.T) {
	g := Unicode()
	for _, c := range []struct {
		what  string
		lines []string
		x, y  int
		ok    bool
	}{
		{"nowhere", []string{"a", "b"}, 0, 0, false},
		{"on the row", []string{"a", "│  " + g.Pointer() + "row"}, 3, 1, true},
		{"in the text", []string{"a", "> \x1b[1mab" + Caret + "c"}, 4, 1, true},
		{"on the row although text stands elsewhere", []string{"> x" + Caret, g.Pointer() + "row", "> y" + Caret}, 0, 1, true},
		{"in the text of the row", []string{"> x" + Caret, g.Pointer() + "> äx" + Caret, "> y" + Caret}, 6, 1, true},
	} {
		x, y, ok := Spot(c.lines)
		assert.Equal(t, [3]any{c.x, c.y, c.ok}, [3]any{x, y, ok}, c.what)
	}
}

func TestMarksTakeNoRoomAndGo(t *testing.T) {
	g := Unicode()
	assert.Equal(t, 2, Width(g.Pointer()))
	lines := []string{"plain", "a" + Caret + "b" + g.Pointer(), "│" + Hit(7) + g.Pointer() + "x" + Hit(0)}
	assert.Equal(t, []Target{{1, 2, 7}, {4, 2, 0}}, Targets(lines))
	Unmarked(lines)
	assert.Equal(t, []string{"plain", "ab▸ ", "│▸ x"}, lines)
	assert.Equal(t, "ab", Clean("a"+Caret+Point+"b"), "no text from outside moves the cursor")
}
