package pane

import (
	"fmt"
	"testing"

	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What is drawn of a list is the part of all its lines in which the cursor stands.
func TestPartIsOfAllRows(t *testing.T) {
	look, err := theme.New("plain", theme.Unicode())
	require.NoError(t, err)
	v := View{Theme: look}
	rapid.Check(t, func(t *rapid.T) {
		var items []Item
		texts := func(what string, i, least int) []string {
			var out []string
			for k := range rapid.IntRange(least, 3).Draw(t, what) {
				out = append(out, fmt.Sprintf("%s %d.%d", what, i, k))
			}
			return out
		}
		for i := range rapid.IntRange(0, 12).Draw(t, "items") {
			it := Item{Text: texts("line", i, 0), More: texts("more", i, 0)}
			if rapid.Bool().Draw(t, "painted") {
				it.Paint = func(mark string, _ theme.Role) string { return mark + fmt.Sprintf("painted %d", i) }
			}
			items = append(items, it)
		}
		cursor := rapid.IntRange(-1, len(items)-1).Draw(t, "cursor")
		h := rapid.IntRange(-1, 40).Draw(t, "h")
		all, at := Rows(40, items, cursor, v)
		top := Window(at, len(all), h)
		want := all[top:min(len(all), top+max(h, 0))]
		got := Part(40, items, cursor, h, v)
		require.Len(t, got, len(want))
		for i := range want {
			require.Equal(t, want[i], got[i])
		}
	})
}
