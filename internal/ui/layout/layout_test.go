package layout

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// Panes after the sketch.
const (
	second Slot = Sketch + 1 + iota
	third
	fourth
	fifth
)

func TestModes(t *testing.T) {
	for _, c := range []struct {
		w, h int
		want Mode
	}{
		{0, 0, Refused}, {1, 1, Refused}, {59, 40, Refused}, {200, 19, Refused}, {-3, -3, Refused},
		{60, 20, Single}, {79, 60, Single}, {300, 23, Single},
		{80, 24, Stacked}, {119, 60, Stacked}, {300, 35, Stacked},
		{120, 36, Wide}, {300, 120, Wide},
	} {
		require.Equal(t, c.want, Compute(c.w, c.h, 3, second, false, Edges{}).Mode, "%d x %d", c.w, c.h)
	}
}

func TestStackedAt80x24(t *testing.T) {
	p := Compute(80, 24, 3, third, false, Edges{})
	require.Equal(t, Rect{0, 0, 80, 1}, p.Title)
	require.Equal(t, map[Slot]Rect{Sketch: {0, 1, 80, 7}, third: {0, 9, 80, 12}}, p.Panes)
	require.Equal(t, map[Slot]Rect{second: {0, 8, 80, 1}, fourth: {0, 21, 80, 1}}, p.Collapsed)
	require.Equal(t, Rect{0, 22, 80, 1}, p.Message)
	require.Equal(t, Rect{0, 23, 80, 1}, p.Footer)
}

func TestStackedSketchFocusedTakesTheRoom(t *testing.T) {
	p := Compute(80, 24, 3, Sketch, false, Edges{})
	require.Equal(t, Rect{0, 1, 80, 18}, p.Panes[Sketch])
	require.Len(t, p.Collapsed, 3)
}

func TestWideKeepsPanesWide(t *testing.T) {
	p := Compute(120, 36, 4, fourth, false, Edges{})
	require.NotEqual(t, p.Panes[second].Y, p.Panes[fourth].Y, "four panes at 120 columns take two rows")
	require.Greater(t, p.Panes[fourth].H, p.Panes[second].H)
	p = Compute(200, 50, 4, fourth, false, Edges{})
	require.Equal(t, p.Panes[second].Y, p.Panes[fifth].Y)
	require.Greater(t, p.Panes[fourth].W, p.Panes[second].W)
}

func TestWideSketchGrowsWhereItHasTheFocus(t *testing.T) {
	for n := 1; n < 5; n++ {
		other, own := Compute(140, 45, n, second, false, Edges{}), Compute(140, 45, n, Sketch, false, Edges{})
		require.Greater(t, own.Panes[Sketch].H, other.Panes[Sketch].H+5)
	}
}

func TestSingleAndZoom(t *testing.T) {
	p := Compute(60, 20, 3, Sketch, false, Edges{})
	require.Equal(t, Rect{0, 1, 60, 1}, p.Strip)
	require.Equal(t, map[Slot]Rect{Sketch: {0, 2, 60, 16}}, p.Panes)
	for _, size := range [][2]int{{60, 20}, {80, 24}, {140, 50}} {
		p = Compute(size[0], size[1], 3, fourth, true, Edges{})
		require.Equal(t, map[Slot]Rect{fourth: {0, 1, size[0], size[1] - 3}}, p.Panes)
		require.Empty(t, p.Collapsed)
		require.True(t, p.Strip.Empty())
	}
}

func TestOddNumbers(t *testing.T) {
	p := Compute(80, 24, 0, second, false, Edges{})
	require.Equal(t, Sketch, p.Focus)
	require.Equal(t, map[Slot]Rect{Sketch: {0, 1, 80, 21}}, p.Panes)
	require.Equal(t, p, Compute(80, 24, -1, -1, false, Edges{}))
	for _, focus := range []Slot{fourth, 99, -1} {
		p = Compute(130, 40, 2, focus, false, Edges{})
		require.Equal(t, second, p.Focus)
		require.Len(t, p.Panes, 3)
	}
}

// Every size a terminal may report, some of the large ones, every set of panes, every focus.
func TestEverySize(t *testing.T) {
	for w := 0; w <= 300; w += 1 + w/160*6 { // all that the layout changes at are smaller
		for h := 0; h <= 120; h += 1 + h/60*4 {
			for n := range 5 {
				for f := Sketch - 1; f <= fifth+1; f++ {
					for _, zoomed := range []bool{false, true} {
						p := Compute(w, h, n, f, zoomed, Edges{})
						if msg := fault(p, w, h, n); msg != "" {
							t.Fatalf("%d x %d, panes %d, focus %d, zoomed %v: %s", w, h, n, f, zoomed, msg)
						}
					}
				}
			}
		}
	}
}

// fault names the first thing wrong with a plan.
func fault(p Plan, w, h, n int) string {
	if p.Mode == Refused {
		if p.Message != (Rect{W: w, H: h}) || len(p.Panes)+len(p.Collapsed) != 0 {
			return "a refused screen shows only its message"
		}
		return ""
	}
	if p.Title.Empty() || p.Message.Empty() || p.Footer.Empty() {
		return "title, message and footer must show"
	}
	if p.Panes[p.Focus].Empty() || p.Panes[p.Focus].H < 5 {
		return "the focused pane must be open"
	}
	if p.Mode == Wide && !p.Zoomed {
		for q := range Slot(n + 1) {
			if r := p.Panes[q]; r.W < minPaneW || r.H < 5 {
				return fmt.Sprintf("%v is cramped: %+v", q, r)
			}
		}
	}
	all := []Rect{p.Title, p.Strip, p.Message, p.Footer}
	for _, r := range p.Panes {
		all = append(all, r)
	}
	for _, r := range p.Collapsed {
		if r.H != 1 || r.W != w {
			return "a collapsed pane is one full line"
		}
		all = append(all, r)
	}
	area := 0
	for i, r := range all {
		if r.X < 0 || r.Y < 0 || r.W < 0 || r.H < 0 || r.X+r.W > w || r.Y+r.H > h {
			return fmt.Sprintf("outside or negative: %+v", r)
		}
		area += r.W * r.H
		for _, s := range all[:i] {
			if min(r.X+r.W, s.X+s.W) > max(r.X, s.X) && min(r.Y+r.H, s.Y+s.H) > max(r.Y, s.Y) {
				return fmt.Sprintf("overlap: %+v and %+v", r, s)
			}
		}
	}
	if area != w*h {
		return fmt.Sprintf("covers %d of %d cells", area, w*h)
	}
	return ""
}
