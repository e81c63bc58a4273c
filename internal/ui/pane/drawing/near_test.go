package drawing

import (
	"strings"
	"testing"

	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/require"
)

// Each thing is shown in a view in which it can be told from its like, with the dimension
// that is typed; what has no place is not drawn, and a second thing is drawn anew.
func TestNear(t *testing.T) {
	v := viewOf(t, starter.Demo(), false)
	row := func(name string) string {
		for _, r := range v.A.Rows {
			if r.Name == name {
				return v.Number(r.Kind, r.Now, v.Digits(r.Kind))
			}
		}
		return "no row"
	}
	n := &Near{}
	for range 2 {
		for _, c := range []struct{ subject, view, shows string }{
			{"placement.left_front", "front view, from behind", row("placement.left_front") + " from zero"},
			{"placement.rear", "front view, from behind", row("placement.rear") + " from zero"},
			{"placement.setback", "plan view, from above", row("placement.setback") + " setback"},
			{"placement.tilt", "side view, from the left", ""},
			{"mount.right_front.pad", "plan view, from above", "▸ RF"},
			{"rails.left", "plan view, from above", "▸ left rail"},
		} {
			lines := n.Draw(50, 17, v, []string{"nothing.here", c.subject})
			require.Len(t, lines, 17, c.subject)
			require.Equal(t, c.view, lines[0], c.subject)
			text := strings.Join(lines[1:], "\n")
			require.Contains(t, text, c.shows, c.subject)
			require.NotContains(t, text, "over rail")
			for _, l := range lines[1:] {
				require.Equal(t, 50, theme.Width(l))
			}
		}
	}
	require.NotContains(t, strings.Join(n.Draw(50, 17, v, []string{"mount.left_front.pad"}), "\n"), "from zero",
		"a pad is typed in the powertrain's own frame")
	require.Nil(t, n.Draw(50, 17, v, []string{"rails.middle"}))
	require.Nil(t, n.Draw(50, 17, v, nil))
	require.Nil(t, (&Near{}).Draw(50, 17, viewOf(t, starter.New(), false), []string{"placement.rear"}), "it is not placed yet")
}
