package drawing

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/golden"
	"fitup/internal/project"
	"fitup/internal/project/grown"
	"fitup/internal/project/starter"
	"fitup/internal/scene"
	"fitup/internal/scene/view"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// builds are those of the golden sketches: an engine along, one with two lines,
// one across.
func builds(t testing.TB) map[string][]byte {
	out := map[string][]byte{"demo": starter.Demo()}
	for _, name := range []string{"four-by-four", "across"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "..", "scene", "testdata", "builds", name+".toml"))
		require.NoError(t, err)
		out[name] = text
	}
	return out
}

func viewOf(t testing.TB, text []byte, ascii bool) pane.View {
	f, err := project.Parse("build.toml", text)
	require.NoError(t, err)
	g := theme.Unicode()
	if ascii {
		g = theme.ASCII()
	}
	th, err := theme.New("plain", g)
	require.NoError(t, err)
	v := pane.View{A: assess.Run(f.Build), Theme: th}
	if ids := v.A.Watchable(); len(ids) > 0 {
		v.Watch, v.HasW = v.A.Finding(ids[0])
	}
	return v
}

// The sketches of three builds in their views, dot by dot: each view alone on a
// large pane, all together, and on panes as small as they come.
func TestGoldenSketches(t *testing.T) {
	for name, text := range builds(t) {
		var b strings.Builder
		show := func(title string, p *Pane, w, h int, v pane.View) {
			f := p.Draw(w, h, v)
			fmt.Fprintf(&b, "== %s %dx%d: %s | %s\n", title, w, h, f.Title, f.Note)
			for _, l := range f.Text {
				b.WriteString(strings.TrimRight(l, " ") + "\n")
			}
		}
		v := viewOf(t, text, false)
		v.Subject = "placement.left_front"
		for _, x := range view.Named() {
			show("view", &Pane{stand: stand{view: x}}, 110, 34, v)
		}
		show("strip", &Pane{}, 138, 15, v)
		show("strip", &Pane{}, 78, 5, v)
		show("side", &Pane{}, 78, 16, v)
		show("ascii", &Pane{}, 78, 16, viewOf(t, text, true))
		golden.Same(t, name+".txt", b.String())
	}
}

// Rails are drawn before anything is placed, also where there is little room and where
// only the driveline is asked for.
func TestRailsAloneAreDrawn(t *testing.T) {
	text := string(starter.New()) + `
[rails.left]
points = [[0, -380, 0], [3000, -380, 0]]
[rails.right]
points = [[0, 380, 0], [3000, 380, 0]]
`
	v := viewOf(t, []byte(text), false)
	for _, h := range []int{5, 15} {
		require.NotContains(t, strings.Join((&Pane{}).Draw(78, h, v).Text, " "), "Nothing to draw")
	}
	f := (&Pane{stand: stand{close: true}}).Draw(78, 15, v)
	require.NotContains(t, strings.Join(f.Text, " "), "Nothing to draw")
	require.Empty(t, f.Note, "it is not the driveline")
	require.Contains(t, strings.Join((&Pane{}).Draw(78, 5, viewOf(t, starter.New(), false)).Text, " "), "Nothing to draw")
}

// Whatever is pressed, in whatever pane, the sketch is exactly as large as it is
// asked to be.
func TestEverySizeAndKey(t *testing.T) {
	v := viewOf(t, starter.Demo(), false)
	ids := append(Actions(), pane.Up, pane.Down, pane.Less, pane.More, pane.Enter, action.ID("something.else"))
	rapid.Check(t, func(t *rapid.T) {
		p := &Pane{}
		v.Subject = rapid.SampledFrom([]string{"", "placement.tilt", "clearance.firewall", "line.rear.joint.1.max"}).Draw(t, "subject")
		w, h := rapid.IntRange(1, 180).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		for range rapid.IntRange(0, 12).Draw(t, "keys") {
			p.Draw(w, h, v)
			p.Key(rapid.SampledFrom(ids).Draw(t, "key"), v)
		}
		f := p.Draw(w, h, v)
		require.Len(t, f.Text, h)
		for _, l := range f.Text {
			require.Equal(t, w, theme.Width(l), "%q", l)
		}
	})
}

func TestViewsGoRoundAndTurnInSteps(t *testing.T) {
	v := viewOf(t, starter.Demo(), false)
	p := &Pane{}
	for _, want := range []view.View{view.FromAbove, view.FromBehind, view.ThreeQuarter, view.FromLeft} {
		p.Key(NextView, v)
		assert.Equal(t, want, p.view)
	}
	p.Key(pane.Less, v)
	assert.Equal(t, view.ThreeQuarter, p.view)
	p.Key(TurnRight, v)
	p.Key(TurnUp, v)
	assert.Equal(t, view.ThreeQuarter.Turned(1, 1), p.view)
	p.Key(TurnLeft, v)
	p.Key(TurnDown, v)
	assert.Equal(t, view.ThreeQuarter, p.view)
}

// Two steps nearer show things twice as large, and the middle stays; going over
// the drawing moves it; one key leads back.
func TestZoomAndPan(t *testing.T) {
	v := viewOf(t, starter.Demo(), false)
	p := &Pane{}
	whole := p.Draw(120, 30, v)
	p.Key(ZoomIn, v)
	p.Key(ZoomIn, v)
	near := p.Draw(120, 30, v)
	assert.NotEqual(t, whole.Text, near.Text)
	assert.Contains(t, near.Note, "zoomed")
	assert.Contains(t, strings.Join(whole.Text, ""), "500 mm")
	assert.Contains(t, strings.Join(near.Text, ""), "200 mm", "the bar is true to scale")
	p.Key(PanRight, v)
	p.Key(PanUp, v)
	assert.NotEqual(t, near.Text, p.Draw(120, 30, v).Text)
	p.Key(PanLeft, v)
	p.Key(PanDown, v)
	back := p.Draw(120, 30, v)
	assert.Equal(t, near.Text, back.Text)
	p.Key(FitAll, v)
	assert.Equal(t, whole.Text, p.Draw(120, 30, v).Text)
}

// What the cursor is on is shown in the middle, larger; what has no place is said
// to have none.
func TestFitToTheSelection(t *testing.T) {
	v := viewOf(t, starter.Demo(), false)
	p := &Pane{}
	p.Draw(120, 30, v)
	v.Subject = "clearance.steering"
	assert.Nil(t, p.Key(FitThis, v))
	assert.Positive(t, p.zoom)
	assert.Contains(t, strings.Join(p.Draw(120, 30, v).Text, "\n"), "59.2 mm gap")
	v.Subject = "bracket.left_front"
	assert.Nil(t, p.Key(FitThis, v))
	assert.Equal(t, view.FromBehind, p.view, "where the leg is as long as it is")
	lines := strings.Join(p.Draw(120, 30, v).Text, "\n")
	assert.Contains(t, lines, "164.4 mm overall")
	assert.Contains(t, lines, "75.0 mm below rail")
	v.Subject = "placement.heading"
	assert.Nil(t, p.Key(FitThis, v))
	assert.Equal(t, view.FromAbove, p.view)
	v.Subject = "limits"
	assert.IsType(t, pane.Say{}, p.Key(FitThis, v))
}

// Another view stands beside the first only where there is room, at the same
// scale, and never over it.
func TestArrangement(t *testing.T) {
	box := func(w, h float64) r2.Box { return r2.Box{Max: r2.Vec{X: w, Y: h}} }
	views := []place{{view: view.FromLeft, box: box(4800, 1100)}, {view: view.FromAbove, box: box(4800, 1700)}, {view: view.FromBehind, box: box(1700, 1100)}, {view: view.ThreeQuarter, box: box(4400, 2500)}}
	for _, c := range []struct{ w, h, want int }{{78, 5, 1}, {78, 16, 1}, {138, 15, 2}, {138, 40, 2}, {138, 100, 2}, {200, 52, 3}, {300, 60, 4}} {
		places, k := arrange(c.w, c.h, views)
		assert.Len(t, places, c.want, "%d x %d", c.w, c.h)
		assert.Equal(t, view.FromLeft, places[0].view)
		assert.Positive(t, k)
	}
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(1, 9000)
		vs := views[:rapid.IntRange(1, 4).Draw(t, "n")]
		for i := range vs {
			vs[i].box = box(size.Draw(t, "w"), size.Draw(t, "h"))
		}
		w, h := rapid.IntRange(1, 300).Draw(t, "cols"), rapid.IntRange(1, 120).Draw(t, "rows")
		places, k := arrange(w, h, vs)
		require.Greater(t, k, 0.0)
		for i, p := range places {
			require.True(t, p.w > 0 && p.h > 0 && p.x >= 0 && p.y >= 0 && p.x+p.w <= w && p.y+p.h <= h, "%+v", p)
			for _, q := range places[:i] {
				require.True(t, p.x >= q.x+q.w || q.x >= p.x+p.w || p.y >= q.y+q.h || q.y >= p.y+p.h, "%+v over %+v", p, q)
			}
		}
	})
}

// An empty build says what it lacks.
func TestNothingToDraw(t *testing.T) {
	f := (&Pane{}).Draw(60, 8, viewOf(t, []byte("format = 3\n"), false))
	assert.Contains(t, f.Text[0], "Nothing to draw yet")
	assert.NotNil(t, scene.Of(viewOf(t, []byte("format = 3\n"), false).A))
}

// The sketch as the bench draws it after every nudge, with the scene made anew.
func BenchmarkSketch(b *testing.B) {
	texts := builds(b)
	texts["large"] = []byte(grown.Large())
	for name, text := range texts {
		v := viewOf(b, text, false)
		v.Subject = "placement.rear"
		again := *v.A
		both := [2]*assess.Assessment{v.A, &again}
		for _, size := range [][2]int{{138, 15}, {138, 40}, {78, 5}} {
			b.Run(fmt.Sprintf("%s/%dx%d", name, size[0], size[1]), func(b *testing.B) {
				p := &Pane{}
				b.ReportAllocs()
				for i := 0; b.Loop(); i++ {
					v.A = both[i%2]
					p.Draw(size[0], size[1], v)
				}
			})
		}
	}
}
