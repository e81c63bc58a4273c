package scene

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/starter"
	"fitup/internal/scene/view"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// recorder is a pen that keeps what it is asked to draw.
type recorder struct {
	lines []line
	signs []Style
	notes []Note
	order []string
}

type line struct {
	points []r2.Vec
	style  Style
}

func (p *recorder) Line(points []r2.Vec, s Style) {
	p.lines, p.order = append(p.lines, line{points, s}), append(p.order, "line")
}
func (p *recorder) Polygon(points []r2.Vec, s Style)             { p.Line(append(points, points[0]), s) }
func (p *recorder) Arc(r2.Vec, float64, float64, float64, Style) { p.order = append(p.order, "arc") }
func (p *recorder) Sign(_ r2.Vec, s Style) {
	p.signs, p.order = append(p.signs, s), append(p.order, "sign")
}
func (p *recorder) Text(n Note) { p.notes, p.order = append(p.notes, n), append(p.order, n.Text) }

func (p *recorder) text(t testing.TB, s string) Note {
	t.Helper()
	for _, n := range p.notes {
		if n.Text == s {
			return n
		}
	}
	require.Fail(t, "no text", "%s in %v", s, p.notes)
	return Note{}
}

// plain are words without a screen.
func plain(a *assess.Assessment) Words {
	return Words{
		Joint: func(m Mark) []string {
			return []string{fmt.Sprintf("%s %.2f deg %s", m.Label, m.Angle.V*180/math.Pi, m.Status), m.Label}
		},
		Figure: func(d Dimension) []string {
			return []string{strings.TrimSpace(quantity.Format(d.Kind, d.Value.V, a.Build.Units, 1) + " " + d.Of)}
		},
		Name:  func(s string) string { return s },
		Lit:   func(s string) string { return "> " + s },
		Width: func(s string) int { return len([]rune(s)) },
		Unit:  "mm", Size: 1,
	}
}

// sheetOf looks at a scene on a sheet of so many letters, one of them 2 dots by 4.
func sheetOf(s *Scene, v view.View, cols, rows int) (Look, bool) {
	b, ok := s.Bounds(v, Whole)
	if !ok {
		return Look{}, false
	}
	k := max((b.Max.X-b.Min.X)/float64(2*cols-16), (b.Max.Y-b.Min.Y)/float64(4*rows-24))
	middle, half := r2.Scale(0.5, r2.Add(b.Min, b.Max)), r2.Vec{X: float64(cols) * k, Y: 2 * float64(rows) * k}
	return Look{View: v, Window: r2.Box{Min: r2.Sub(middle, half), Max: r2.Add(middle, half)}, Letter: r2.Vec{X: 2 * k, Y: 4 * k}, Dot: k, Bar: true}, true
}

// builds are those that the drawings are held with: an engine along on a ladder
// frame, one with two lines, and one across without a frame.
func builds(t testing.TB) map[string]*assess.Assessment {
	t.Helper()
	out := map[string]*assess.Assessment{}
	texts := map[string][]byte{"demo": starter.Demo()}
	for _, name := range []string{"four-by-four", "across"} {
		text, err := os.ReadFile(filepath.Join("testdata", "builds", name+".toml"))
		require.NoError(t, err)
		texts[name] = text
	}
	for name, text := range texts {
		f, err := project.Parse(name+".toml", text)
		require.NoError(t, err)
		out[name] = assess.Run(f.Build)
	}
	return out
}

// On every sheet, from every side and with the cursor on anything: texts stand
// within the sheet, none over another; signs come before texts; nothing is drawn
// where no number is.
func TestTextsNeverCollide(t *testing.T) {
	all := builds(t)
	rapid.Check(t, func(t *rapid.T) {
		a := all[rapid.SampledFrom([]string{"demo", "four-by-four", "across"}).Draw(t, "build")]
		s := Of(a)
		v := view.FromLeft.Turned(rapid.IntRange(0, 23).Draw(t, "round"), rapid.IntRange(-6, 6).Draw(t, "up"))
		look, ok := sheetOf(s, v, rapid.IntRange(14, 160).Draw(t, "cols"), rapid.IntRange(7, 50).Draw(t, "rows"))
		require.True(t, ok)
		look.Lit = rapid.SampledFrom([]string{"", "placement.tilt", "placement.rear", "clearance.steering", "line.rear.joint.2.max", "bracket.left_front"}).Draw(t, "lit")
		look.Title = rapid.SampledFrom([]string{"", "side"}).Draw(t, "title")
		var p recorder
		w := plain(a)
		s.Draw(&p, look, w)
		type box struct {
			col, row, n int
			text        string
		}
		var texts []box
		size := r2.Sub(look.Window.Max, look.Window.Min)
		for _, n := range p.notes {
			b := box{int(math.Floor((n.At.X - look.Window.Min.X) / look.Letter.X)), int(math.Floor((look.Window.Max.Y - n.At.Y) / look.Letter.Y)), w.Width(n.Text), n.Text}
			require.True(t, b.col >= 0 && b.row >= 0 && float64(b.col+b.n) <= size.X/look.Letter.X+0.01 && float64(b.row) < size.Y/look.Letter.Y, "%+v", b)
			for _, o := range texts {
				require.False(t, o.row == b.row && b.col < o.col+o.n && o.col < b.col+b.n, "%+v and %+v", o, b)
			}
			texts = append(texts, b)
		}
		for _, l := range p.lines {
			for _, q := range l.points {
				require.False(t, math.IsNaN(q.X+q.Y) || math.IsInf(q.X+q.Y, 0))
			}
		}
	})
}

// What is named is named alike in every view, and every name is that of a part.
func TestNamesAreTheSameInEveryView(t *testing.T) {
	for build, a := range builds(t) {
		s := Of(a)
		names := map[string]bool{"rear": true, "right": true, "up": true}
		for _, p := range s.Parts {
			names[p.Name] = true
		}
		for _, m := range s.Marks {
			names[m.Label] = true
		}
		for _, v := range view.Named() {
			look, _ := sheetOf(s, v, 140, 45)
			var p recorder
			w := plain(a)
			w.Joint = func(m Mark) []string { return []string{m.Label} }
			s.Draw(&p, look, w)
			seen := map[string]bool{}
			for _, n := range p.notes {
				if n.Style.Role == RoleDimension || strings.HasSuffix(n.Text, " mm") {
					continue
				}
				assert.True(t, names[n.Text], "%s, %s: %q", build, v, n.Text)
				seen[n.Text] = true
			}
			if build == "demo" && v != view.FromBehind {
				assert.True(t, seen["block and head"] && seen["gearbox"], "%s: %v", v, seen)
			}
		}
	}
}

// Seen from the left, the near rail is drawn across the powertrain as what
// stands before it, and beside the powertrain as itself; the powertrain is not
// hidden by it.
func TestTheNearRailIsSeenThrough(t *testing.T) {
	a := builds(t)["demo"]
	s := Of(a)
	look, _ := sheetOf(s, view.FromLeft, 140, 45)
	var p recorder
	s.Draw(&p, look, plain(a))
	var whole, across, body float64
	for _, l := range p.lines {
		n := 0.0
		for i := 1; i < len(l.points); i++ {
			n += r2.Norm(r2.Sub(l.points[i], l.points[i-1]))
		}
		switch {
		case l.style.Role == RoleRail && l.style.Kind == Phantom:
			across += n
		case l.style.Role == RoleRail:
			whole += n
		case l.style.Role == RoleBody:
			body += n
		}
	}
	assert.Greater(t, across, 1500.0, "two edges over block, bell housing and gearbox")
	assert.Greater(t, whole, 5000.0)
	assert.Greater(t, body, 5000.0)
}

// The figure of the pad over its rail, with its verdictless dimension line as
// long as it says, in the views where that is upright.
func TestPadOverRailIsDrawnTrue(t *testing.T) {
	a := builds(t)["demo"]
	s := Of(a)
	edge, over := a.PadOverRail("left_front")
	require.True(t, over.Known)
	assert.InDelta(t, -106, over.V, 1e-9, "the rail's inner edge lies at 0 there")
	assert.InDelta(t, 0, edge.Z, 1e-9)
	for v, want := range map[view.View]bool{view.FromLeft: true, view.FromBehind: true, view.FromAbove: false} {
		look, _ := sheetOf(s, v, 140, 45)
		look.Lit = "placement.left_front"
		var p recorder
		s.Draw(&p, look, plain(a))
		found := false
		for _, l := range p.lines {
			if l.style.Role == RoleDimension && len(l.points) == 2 && math.Abs(r2.Norm(r2.Sub(l.points[1], l.points[0]))-106) < 1e-6 {
				found = true
			}
		}
		assert.Equal(t, want, found, v)
		if want {
			assert.True(t, p.text(t, "106.0 mm below rail").Style.Lit)
		}
	}
}

// A gap that is too small is drawn wherever the cursor is, with its size.
func TestAGapTooSmallIsDrawn(t *testing.T) {
	text := strings.Replace(string(starter.Demo()), "gap = 25 ", "gap = 99 ", 1)
	f, err := project.Parse("gap.toml", []byte(text))
	require.NoError(t, err)
	a := assess.Run(f.Build)
	s := Of(a)
	look, _ := sheetOf(s, view.FromLeft, 140, 45)
	look.Lit = "placement.rear"
	var p recorder
	s.Draw(&p, look, plain(a))
	n := p.text(t, "59.2 mm gap")
	assert.Equal(t, assess.Over, n.Style.Status)
	assert.True(t, n.Style.Judged)
	p.text(t, "-289.5 mm from zero")
}

// The angle of the powertrain is drawn as it is: the sides of the dimension
// stand at 4.30° to each other.
func TestTiltIsDrawnTrue(t *testing.T) {
	a := builds(t)["demo"]
	s := Of(a)
	look, _ := sheetOf(s, view.FromLeft, 140, 45)
	look.Lit = "placement.tilt"
	var p recorder
	s.Draw(&p, look, plain(a))
	var sides []r2.Vec
	for _, l := range p.lines {
		if l.style.Role == RoleDimension && len(l.points) == 2 && len(sides) < 2 {
			sides = append(sides, r2.Sub(l.points[1], l.points[0]))
		}
	}
	require.Len(t, sides, 2)
	assert.InDelta(t, a.Pose.V.Slope().Degrees(), math.Abs(math.Atan2(r2.Cross(sides[0], sides[1]), r2.Dot(sides[0], sides[1])))*180/math.Pi, 1e-9)
}

// Where it stood before is drawn faintly, once it can be told from where it
// stands.
func TestWhereItStoodBefore(t *testing.T) {
	before := Of(builds(t)["demo"])
	ghosts := func(rear string) (n int) {
		f, err := project.Parse("x.toml", []byte(strings.Replace(string(starter.Demo()), "rear = -289.5 ", "rear = "+rear+" ", 1)))
		require.NoError(t, err)
		a := assess.Run(f.Build)
		s := Of(a)
		look, _ := sheetOf(s, view.FromLeft, 140, 45)
		look.Before = before
		var p recorder
		s.Draw(&p, look, plain(a))
		for _, l := range p.lines {
			if l.style.Role == RoleGhost {
				n++
			}
		}
		return n
	}
	assert.Zero(t, ghosts("-289.4"))
	assert.Positive(t, ghosts("-240"))
}

func TestLit(t *testing.T) {
	for _, c := range []struct {
		thing, subject string
		want           bool
	}{
		{"mount.left_front", "placement.left_front", true}, {"mount.left_front", "mount.left_front.lifts", true},
		{"mount.left_front", "placement.rear", false}, {"bracket.left_front", "match.left_front.place", true},
		{"line.rear.joint.1", "line.rear.joint.1.max", true}, {"line.rear.joint.1", "line.rear.travel.joint.1.max", true},
		{"line.rear.joint.1", "line.rear.joint.12.max", false}, {"part.0", "placement.tilt", false}, {"", "x", false}, {"x", "", false},
		{"clearance.steering_shaft", "clearance.steering_shaft.rocked", true},
	} {
		assert.Equal(t, c.want, under(c.thing, Subject(c.subject)), "%s, %s", c.thing, c.subject)
	}
}

// What an id means is found in space, to be shown as large as it goes.
func TestSelection(t *testing.T) {
	a := builds(t)["demo"]
	s := Of(a)
	c := a.Clearances[slices.IndexFunc(a.Clearances, func(c assess.Clearance) bool { return c.ID == "clearance.steering" })]
	b, ok := s.Selection(c.ID)
	require.True(t, ok)
	for _, p := range []r3.Vec{c.From, c.To} {
		assert.True(t, p.X >= b.Min.X && p.X <= b.Max.X && p.Z >= b.Min.Z && p.Z <= b.Max.Z)
	}
	_, ok = s.Selection("placement.heading")
	assert.True(t, ok)
	for _, id := range []string{"", "line.rear.joint.9", "limits"} {
		_, ok = s.Selection(id)
		assert.False(t, ok, id)
	}
}

// The whole sketch of a build as the bench draws it most: two views of it.
func BenchmarkSketch(b *testing.B) {
	for name, a := range builds(b) {
		b.Run(name, func(b *testing.B) { sketch(b, a) })
	}
}

func sketch(b *testing.B, a *assess.Assessment) {
	w := plain(a)
	b.ReportAllocs()
	for b.Loop() {
		s := Of(a)
		for _, v := range []view.View{view.FromLeft, view.FromBehind} {
			look, _ := sheetOf(s, v, 70, 16)
			look.Lit = "placement.left_front"
			var p recorder
			s.Draw(&p, look, w)
		}
	}
}
