package scene

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/golden"
	"fitup/internal/scene/view"

	"github.com/stretchr/testify/require"
)

// The drawings of three builds, command by command: what is drawn from where to
// where, to the millimetre, and every text with its place.
func TestGoldenDrawings(t *testing.T) {
	for name, a := range builds(t) {
		s := Of(a)
		var b strings.Builder
		for _, v := range view.Named() {
			look, ok := sheetOf(s, v, 110, 32)
			require.True(t, ok)
			look.Lit = "placement.left_front"
			var p recorder
			s.Draw(&p, look, plain(a))
			fmt.Fprintf(&b, "== %s\n", v)
			for _, l := range p.lines {
				fmt.Fprintf(&b, "%s", l.style)
				for _, q := range l.points {
					fmt.Fprintf(&b, " %.0f,%.0f", q.X+0, q.Y+0)
				}
				b.WriteString("\n")
			}
			for _, n := range p.notes {
				col, row := math.Floor((n.At.X-look.Window.Min.X)/look.Letter.X), math.Floor((look.Window.Max.Y-n.At.Y)/look.Letter.Y)
				fmt.Fprintf(&b, "text %.0f:%.0f %s\n", col, row, n.Text)
			}
		}
		golden.Same(t, name+".txt", strings.ReplaceAll(b.String(), "-0,", "0,"))
	}
}

// String names a style in a golden drawing.
func (s Style) String() string {
	out := fmt.Sprintf("role%d", s.Role)
	if s.Kind != Continuous {
		out += fmt.Sprintf(" kind%d", s.Kind)
	}
	if s.Lit {
		out += " lit"
	}
	if s.Judged {
		out += " " + s.Status.String()
	}
	return out
}
