package drawing

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/golden"
	"fitup/internal/project"
	"fitup/internal/project/starter"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/require"
)

func nearOf(t *testing.T, text []byte) (pane.View, *project.File) {
	t.Helper()
	f, err := project.Parse("build.toml", text)
	require.NoError(t, err)
	return viewOf(t, text, false), f
}

// Each thing is shown in a view in which it can be told from its like, with the dimension
// that is typed; what has no place is not drawn, and a second thing is drawn anew.
func TestNear(t *testing.T) {
	v, f := nearOf(t, starter.Demo())
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
		for _, c := range []struct{ path, view, shows string }{
			{"placement.left_front", "seen from behind", row("placement.left_front") + " from zero"},
			{"placement.rear", "seen from behind", row("placement.rear") + " from zero"},
			{"placement.setback", "plan view, from above", row("placement.setback") + " setback"},
			{"powertrain.pads.right_front", "side view, from the left", "▸ right front"},
			{"rails.left.points", "side view, from the left", "station"},
			{"rails.left.height", "the rail's section", "mm height"},
			{"mount.rear.thickness", "the rubber between its plates, unloaded", "free height"},
			{"line.rear.shaft[0].outside", "the tube, seen from its end", "mm outside"},
		} {
			lines := n.Draw(60, 17, v, f, c.path)
			require.Len(t, lines, 17, c.path)
			require.Contains(t, lines[0], c.view, c.path)
			text := strings.Join(lines[1:], "\n")
			require.Contains(t, text, c.shows, c.path)
			require.NotContains(t, text, "over rail")
			for _, l := range lines[1:] {
				require.Equal(t, 60, theme.Width(l))
			}
		}
	}
	require.Nil(t, n.Draw(60, 17, v, f, "powertrain.mass"))
	require.Nil(t, n.Draw(60, 17, v, f, "powertrain.pads"))
	empty, none := nearOf(t, starter.New())
	require.Contains(t, strings.Join((&Near{}).Draw(60, 17, empty, none, "placement.rear"), "\n"), "rear, not typed yet", "it is not placed yet")
}

// The drawings beside rows of every kind, as they are typed in the annotated example and as
// they are before that.
func TestGoldenFigures(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "..", "testdata", "example.toml"))
	require.NoError(t, err)
	var b strings.Builder
	v, f := nearOf(t, text)
	empty, none := nearOf(t, []byte("format = 3\n"))
	n, m := &Near{}, &Near{}
	show := func(name string, lines []string) {
		fmt.Fprintf(&b, "== %s\n", name)
		for _, l := range lines {
			b.WriteString(strings.TrimRight(l, " ") + "\n")
		}
	}
	for _, path := range []string{
		"vehicle.wheelbase", "vehicle.front_track", "vehicle.axle_height", "rails.left.points", "rails.left.height",
		"powertrain.pads.left_front", "powertrain.centre_of_mass", "powertrain.part[1].to", "placement.left_front", "placement.heading",
		"mount.rear.thickness", "mount.rear.length", "mount.rear.rate_axis", "mount.left_front.rate_across", "mount.left_front.leg.section",
		"mount.left_front.leg.wall", "mount.left_front.leg.standing", "mount.left_front.leg.foot_drop", "mount.left_front.leg.up",
		"mount.left_front.leg.header", "mount.left_front.leg.rail_plate.pitch_high", "mount.left_front.leg.rail_plate.flange",
		"mount.left_front.leg.rail_plate.gap", "mount.left_front.leg.weld.size", "mount.left_front.built.pad_points",
		"line.rear.output", "line.rear.joint[0].run_angle", "line.rear.shaft[0].outside", "line.rear.shaft[0].slip_open", "line.rear.shaft[0].yoke_offset",
		"line.rear.pinion.at", "line.rear.pinion.slope", "line.rear.suspension.shackle_pivot", "line.rear.suspension.wind_up", "line.rear.suspension.droop",
		"line.rear.suspension.link[0].axle", "line.rear.suspension.half_shaft[0].ball", "line.rear.suspension.half_shaft[0].lock", "line.rear.suspension.half_shaft[0].plunge_open",
		"chassis[0].from", "chassis[0].gap", "chassis[0].radius", "shop.mitre", "shop.kerf", "stock[0].length", "weld[0].side.front.length",
		"point.rear_hanger.offset", "reading[0].shown", "reading[3].aside", "measure[0].lengths",
	} {
		show(path, n.Draw(52, 16, v, f, path))
		if d := m.Draw(52, 16, empty, none, path); strings.Join(d, "") != strings.Join(n.lines, "") {
			show(path+", not typed", d)
		}
	}
	golden.Same(t, "figures.txt", b.String())
}
